package shrink

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
)

// ErrLayout is the error of a module that is not laid out as the go command does.
var ErrLayout = errors.New("no module of Go as it is known here")

var preamble = []byte("\x00asm\x01\x00\x00\x00")

// The sections that are read or written here, by their numbers.
const (
	typeSection     = 1
	importSection   = 2
	functionSection = 3
	startSection    = 8
	elementSection  = 9
	codeSection     = 10
	dataSection     = 11
)

// Module returns the module smaller. Its error is ErrLayout, with what is not known in it.
func Module(module []byte) ([]byte, error) {
	sections, err := split(module)
	if err != nil {
		return nil, err
	}
	at, memory, err := load(sections[dataSection])
	if err != nil {
		return nil, err
	}
	tables, err := find(memory, at)
	if err != nil {
		return nil, err
	}
	if err := tables.enter(); err != nil {
		return nil, err
	}
	if err := tables.forget(); err != nil {
		return nil, err
	}
	code, err := rewriteAll(sections[codeSection])
	if err != nil {
		return nil, err
	}
	sections[codeSection] = code
	if err := tables.derive(sections); err != nil {
		return nil, err
	}
	if elements, ok := sections[elementSection]; ok {
		sections[elementSection] = widened(elements)
	}
	sections[dataSection] = store(at, memory)
	return join(sections), nil
}

// split returns the sections by their numbers. Of the sections without one, which say nothing to
// a machine, none is kept.
func split(module []byte) (map[byte][]byte, error) {
	rest, ok := bytes.CutPrefix(module, preamble)
	if !ok {
		return nil, fmt.Errorf("%w: no WebAssembly", ErrLayout)
	}
	sections := map[byte][]byte{}
	last := byte(0)
	for r := (reader{text: rest}); len(r.text) > 0; {
		number, body := r.byte(), r.bytes(r.unsigned())
		if r.short || number != 0 && number <= last || number > dataSection {
			return nil, fmt.Errorf("%w: section %d after %d", ErrLayout, number, last)
		}
		if number != 0 {
			sections[number], last = body, number
		}
	}
	return sections, nil
}

func join(sections map[byte][]byte) []byte {
	module := slices.Clone(preamble)
	for number := byte(1); number <= dataSection; number++ {
		if body, ok := sections[number]; ok {
			module = appendBytes(append(module, number), body)
		}
	}
	return module
}

// widened returns a section of elements with each number in five bytes, the most that it may take. The
// numbers go up by one, and in two bytes each, most of which differ, they pack worse than where one differs
// and four do not. A section of another form stays as it is.
func widened(section []byte) []byte {
	r := reader{text: section}
	if r.unsigned() != 1 || r.unsigned() != 0 || r.byte() != i32Const {
		return section
	}
	r.signed()
	end, n := r.byte(), r.unsigned()
	if end != endOp || n > len(r.text) {
		return section
	}
	out := slices.Clone(section[:len(section)-len(r.text)])
	for range n {
		v := r.unsigned()
		out = append(out, byte(v)|0x80, byte(v>>7)|0x80, byte(v>>14)|0x80, byte(v>>21)|0x80, byte(v>>28))
	}
	if r.short || len(r.text) > 0 {
		return section
	}
	return out
}

// mostMemory is more than the data of any module take.
const mostMemory = 1 << 26

// load returns the memory as it is when a module begins, from the first address that is said.
func load(data []byte) (at int, memory []byte, err error) {
	type run struct {
		address int
		bytes   []byte
	}
	var runs []run
	r := reader{text: data}
	for n := r.unsigned(); n > 0 && !r.short; n-- {
		memoryIndex, op, address, end := r.unsigned(), r.byte(), int(r.signed()), r.byte()
		if memoryIndex != 0 || op != i32Const || end != endOp || address < 0 || address > mostMemory {
			return 0, nil, fmt.Errorf("%w: data at %d", ErrLayout, address)
		}
		runs = append(runs, run{address, r.bytes(r.unsigned())})
	}
	if r.short || len(r.text) > 0 || len(runs) == 0 {
		return 0, nil, fmt.Errorf("%w: data that do not end with their section", ErrLayout)
	}
	slices.SortStableFunc(runs, func(a, b run) int { return a.address - b.address })
	at = runs[0].address
	for _, r := range runs {
		gap := r.address - at - len(memory)
		if gap < 0 {
			return 0, nil, fmt.Errorf("%w: data twice at %d", ErrLayout, r.address)
		}
		memory = append(append(memory, make([]byte, gap)...), r.bytes...)
	}
	return at, memory, nil
}

// fewestZeros is how many zeros it takes to begin another run. gzip packs fewer into less than
// the beginning of a run takes.
const fewestZeros = 1 << 10

// store is the inverse of load.
func store(at int, memory []byte) []byte {
	var runs []byte
	n := 0
	zeros := make([]byte, fewestZeros)
	for len(memory) > 0 {
		run := memory
		if i := bytes.Index(memory, zeros); i >= 0 {
			run = memory[:i]
		}
		if len(run) > 0 {
			runs = appendSigned(append(runs, 0, i32Const), int64(at))
			runs = appendBytes(append(runs, endOp), run)
			n++
		}
		rest := bytes.TrimLeft(memory[len(run):], "\x00")
		at += len(memory) - len(rest)
		memory = rest
	}
	return append(appendUnsigned(nil, n), runs...)
}
