package shrink

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"testing"
)

// small is a module of some functions, laid out as the go command lays one out: code that jumps by the number of its
// target, and a memory with the tables of functions and what they name.
func small(functions int) []byte {
	const at, headerPlace, moduledata, tables = 4096, 0, 128, 512
	memory := make([]byte, tables)
	word := func(place, n int) { binary.LittleEndian.PutUint64(memory[place:], uint64(n)) }
	half := func(place, n int) { binary.LittleEndian.PutUint32(memory[place:], uint32(n)) }
	grow := func(text []byte) part {
		for len(memory)%8 != 0 {
			memory = append(memory, 0)
		}
		from := len(memory)
		memory = append(memory, text...)
		return part{from, len(text)}
	}
	copy(memory, header)
	word(headerPlace+8, functions)
	names := grow([]byte("\x00runtime.stop\x00reflect.call\x00main.add\x00"))
	units := grow(make([]byte, 8))
	files := grow([]byte("a.go\x00"))
	steps := grow([]byte{0, 2, 4, 1, 3, 0, 2, 5, 0}) // at 1 a table of two steps, at 6 one of one
	const each = functionLength + 4*4 + 4*7          // with four tables of steps and seven data
	stride := (each + 7) &^ 7
	list := (8*functions + 4 + 7) &^ 7
	code := grow(make([]byte, list+stride*functions))
	for i := range functions {
		f := code.from + list + stride*i
		half(code.from+8*i, i)
		half(code.from+8*i+4, f-code.from)
		half(f+entryField, i)
		half(f+nameField, []int{1, 14, 27}[i%3])
		half(f+stackField, 1)
		half(f+lineField, 6)
		half(f+stepsField, 4)
		memory[f+dataField] = 7
		half(f+functionLength, 6)
		half(f+functionLength+4, 1)
	}
	var index []byte
	for i := range functions * bucketsEach {
		index = append(binary.LittleEndian.AppendUint32(index, uint32(i/bucketsEach)), make([]byte, bucketLength-4)...)
	}
	buckets := grow(index)
	word(headerPlace+32, names.from-headerPlace)
	word(moduledata, at+headerPlace)
	for i, p := range []part{names, units, files, steps, code} {
		word(moduledata+8+24*i, at+p.from)
		word(moduledata+16+24*i, p.length)
	}
	word(moduledata+16+24, units.length/4)
	word(moduledata+128, at+code.from)
	word(moduledata+136, functions+1)
	word(moduledata+152, at+buckets.from)
	word(moduledata+160, 1<<16)
	word(moduledata+168, 1<<16+functions<<16)

	op := func(op byte, n int64) instruction { return instruction{op: op, number: n} }
	open := func(op byte) instruction { return instruction{op: op, rest: []byte{0x40}} }
	body := encode([]byte{1, 1, 0x7f}, []instruction{
		open(block), open(loop), open(block), open(block), op(localGet, 0), {op: brTable, rest: []byte{1, 0, 1}}, op(endOp, 0),
		op(i32Const, 1), op(localSet, 0), op(br, 1), op(endOp, 0),
		op(localGet, 1), op(extendU, 0), op(i64Const, 24), op(i64Add, 0), op(wrap, 0), {op: i32Load, align: 2, number: 8}, op(brIf, 1),
		op(endOp, 0), op(0, 0), op(endOp, 0), op(i32Const, 1), op(endOp, 0),
	})
	bodies := appendUnsigned(nil, functions)
	types := appendUnsigned(nil, functions)
	for range functions {
		bodies, types = appendBytes(bodies, body), append(types, 0)
	}
	return join(map[byte][]byte{
		typeSection: {1, 0x60, 1, 0x7f, 1, 0x7f}, importSection: {1, 1, 'm', 1, 'f', 0, 0}, functionSection: types,
		codeSection: bodies, dataSection: store(at, memory),
	})
}

// fault says what keeps a module from being one that a machine reads: sections in order and to their ends, one body for
// each type of a function, each of known instructions whose blocks end, and data that lie apart. It is empty if nothing does.
func fault(module []byte) string {
	sections, err := split(module)
	if err != nil {
		return err.Error()
	}
	if _, _, err := load(sections[dataSection]); err != nil {
		return err.Error()
	}
	bodies := reader{text: sections[codeSection]}
	types := reader{text: sections[functionSection]}
	n := bodies.unsigned()
	if m := types.unsigned(); m != n {
		return fmt.Sprintf("%d functions have %d bodies", m, n)
	}
	for i := range n {
		_, list, err := decode(bodies.bytes(bodies.unsigned()))
		if err != nil || bodies.short {
			return fmt.Sprintf("function %d ends early, %v", i, err)
		}
		depth := 1
		for k, in := range list {
			switch in.op {
			case block, loop, ifOp:
				depth++
			case endOp:
				depth--
			case br, brIf:
				if int(in.number) >= depth {
					return fmt.Sprintf("function %d, instruction %d leaves %d of %d blocks", i, k, in.number, depth)
				}
			}
			if (depth == 0) != (k == len(list)-1) {
				return fmt.Sprintf("function %d stands %d blocks deep at instruction %d of %d", i, depth, k, len(list))
			}
		}
		if depth != 0 {
			return fmt.Sprintf("function %d has no end", i)
		}
	}
	return ""
}

func sound(t *testing.T, module []byte) {
	t.Helper()
	if f := fault(module); f != "" {
		t.Fatal(f)
	}
}

func TestSmallModule(t *testing.T) {
	module := small(5)
	sound(t, module)
	got, err := Module(bytes.Clone(module))
	if err != nil {
		t.Fatal(err)
	}
	sound(t, got)
	sections, err := split(got)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(sections[startSection], []byte{6}) { // behind one import and five functions
		t.Errorf("the module starts with %v", sections[startSection])
	}
	if _, ok := sections[elementSection]; ok {
		t.Error("the module has got elements")
	}
	at, memory, err := load(sections[dataSection])
	if err != nil {
		t.Fatal(err)
	}
	tables, err := find(memory, at)
	if err != nil {
		t.Fatal(err)
	}
	// Each function names the steps at 1 as those of its stack and as the second of its other tables: in all, once and
	// again nine times. What it names is 1 + the distance from the one before.
	stride := (functionLength + 4*4 + 4*7 + 7) &^ 7
	first := tables.functions.from + (8*5+4+7)&^7
	for i := range 5 {
		f := first + stride*i
		want := []int{1, 0, 1, 0, 0}
		if i == 0 {
			want[0] = 2
		}
		for k, place := range []int{f + stackField, f + functionLength, f + functionLength + 4, f + functionLength + 8, f + functionLength + 12} {
			if got := tables.half(place); got != want[k] {
				t.Errorf("function %d, table %d of steps: distance %d, want %d", i, k, got, want[k])
			}
		}
	}
	for _, gone := range []string{"main.add", "a.go", "stop"} {
		if bytes.Contains(memory, []byte(gone)) {
			t.Errorf("%q is still there", gone)
		}
	}
	for _, kept := range []string{"runtime.\x00", "reflect.call\x00", "\x00\x02\x04\x01\x03\x00"} { // and the steps at 1, but not those at 6
		if !bytes.Contains(memory, []byte(kept)) {
			t.Errorf("%q is gone", kept)
		}
	}
}

// Whatever bytes it is given, Module returns ErrLayout or a module; and one that was sound before stays so.
func FuzzModule(f *testing.F) {
	f.Add([]byte(nil), 0, []byte(nil))
	f.Add([]byte("\x00asm\x01\x00\x00\x00\x0b\x05\x01\x00A\x08\x0b"), 0, []byte(nil))
	for _, n := range []int{1, 2, 5} {
		f.Add(small(n), 0, []byte(nil))
	}
	f.Add(small(3), 700, []byte{0xff, 0xff, 0xff, 0x7f})
	f.Fuzz(func(t *testing.T, module []byte, at int, piece []byte) {
		if at >= 0 && at <= len(module)-len(piece) { // so that one place changes at a time
			module = slices.Concat(module[:at], piece, module[at+len(piece):])
		}
		neverWorse(t, module)
	})
}

// neverWorse fails unless Module returns ErrLayout or a module that is sound if this one is.
func neverWorse(t *testing.T, module []byte) {
	t.Helper()
	got, err := Module(bytes.Clone(module))
	if err != nil {
		if !errors.Is(err, ErrLayout) || got != nil {
			t.Fatalf("%d bytes and %v", len(got), err)
		}
		return
	}
	if fault(module) == "" {
		sound(t, got)
	}
}

// TestEachByte changes each byte of a module.
func TestEachByte(t *testing.T) {
	module := small(2)
	for i, was := range module {
		for _, now := range []byte{0, 1, 0x7f, 0x80, 0xff, was + 1, was ^ 0x40} {
			module[i] = now
			neverWorse(t, module)
		}
		module[i] = was
	}
}
