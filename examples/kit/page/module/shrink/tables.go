package shrink

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
)

// tables are those that the linker writes about functions, in the memory as it is when a
// module begins: see pcHeader, moduledata, functab and findfuncbucket in runtime/symtab.go, and _func
// in runtime/runtime2.go. Places are places in memory, which begins at the address at.
type tables struct {
	memory []byte
	at     int

	names, units, files, steps, functions part  // funcnametab, cutab, filetab, pctab, pclntable
	count                                 int   // of functions
	buckets                               part  // findfunctab
	entries                               []int // the place of each function's _func
}

// A part of the memory, from a place on.
type part struct{ from, length int }

// What stands in a _func, by its distance from the beginning.
const (
	entryField     = 0
	nameField      = 4
	stackField     = 16 // pcsp
	fileField      = 20
	lineField      = 24
	stepsField     = 28 // npcdata
	unitField      = 32
	startField     = 36 // startLine
	specialField   = 40 // funcID
	dataField      = 43 // nfuncdata, a byte
	functionLength = 44

	// Of the tables of steps and of the data behind it, only traces and preemption by signals read
	// these, and WebAssembly has no signals: PCDATA_UnsafePoint and _ArgLiveIndex, FUNCDATA_ArgInfo and
	// _ArgLiveInfo in internal/abi/symtab.go.
	unsafeSteps, argumentSteps       = 0, 3
	argumentsData, argumentsLiveData = 5, 6
	noData                           = -1 // all of its 32 bits

	bucketLength = 20
	bucketsEach  = 16 // a function has 1<<16 addresses, a bucket 1<<12
)

// header is how the table of functions has begun since Go 1.20, on a machine whose pointers take
// eight bytes and whose instructions take one.
var header = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

func find(memory []byte, at int) (*tables, error) {
	t := &tables{memory: memory, at: at}
	begin := bytes.Index(memory, header)
	if begin < 0 {
		return nil, fmt.Errorf("%w: no table of functions", ErrLayout)
	}
	// The moduledata point to the header and then to the names, whose distance the header tells.
	pointers := binary.LittleEndian.AppendUint64(nil, uint64(at+begin))
	pointers = binary.LittleEndian.AppendUint64(pointers, uint64(at+begin+t.word(begin+32)))
	data := bytes.Index(memory, pointers)
	if data < 0 {
		return nil, fmt.Errorf("%w: no moduledata", ErrLayout)
	}
	for i, p := range []*part{&t.names, &t.units, &t.files, &t.steps, &t.functions} {
		*p = part{t.word(data+8+24*i) - at, t.word(data + 16 + 24*i)}
	}
	t.units.length *= 4
	t.count = t.word(begin + 8)
	first, last := t.word(data+160), t.word(data+168)
	t.buckets = part{t.word(data+152) - at, (last - first + 1<<12 - 1) >> 12 * bucketLength}
	list := part{t.word(data+128) - at, 8*t.count + 4}
	for _, p := range []part{t.names, t.units, t.files, t.steps, t.functions, t.buckets, list} {
		if p.from < 0 || p.length < 0 || p.length > len(memory) || p.from > len(memory)-p.length {
			return nil, fmt.Errorf("%w: a table of functions outside the memory", ErrLayout)
		}
	}
	if t.word(data+136) != t.count+1 || list.from != t.functions.from {
		return nil, fmt.Errorf("%w: moduledata that do not agree with their header", ErrLayout)
	}
	return t, nil
}

// enter finds the functions, each with what follows it, behind their list and behind one another: what is changed in one is
// then in no other.
func (t *tables) enter() error {
	list, end := t.functions.from, t.functions.from+t.functions.length
	free := list + 8*t.count + 4
	for i := range t.count {
		f := list + t.half(list+8*i+4)
		if f < free || f > end-functionLength || t.end(f) > end {
			return fmt.Errorf("%w: function %d outside its table, or in another", ErrLayout, i)
		}
		t.entries, free = append(t.entries, f), t.end(f)
	}
	return nil
}

// word and half read numbers of 64 and 32 bits; outside the memory they are -1.
func (t *tables) word(place int) int {
	if place < 0 || place > len(t.memory)-8 {
		return -1
	}
	return int(binary.LittleEndian.Uint64(t.memory[place:]))
}

func (t *tables) half(place int) int {
	if place < 0 || place > len(t.memory)-4 {
		return -1
	}
	return int(binary.LittleEndian.Uint32(t.memory[place:]))
}

// set writes a number of 32 bits, but not outside the memory.
func (t *tables) set(place, n int) {
	if place >= 0 && place <= len(t.memory)-4 {
		binary.LittleEndian.PutUint32(t.memory[place:], uint32(n))
	}
}

func (t *tables) clear(p part) { clear(t.memory[p.from : p.from+p.length]) }

// end is where a _func ends, with what follows it.
func (t *tables) end(f int) int {
	return f + functionLength + 4*t.half(f+stepsField) + 4*int(t.memory[f+dataField])
}

// forget takes out what only traces read: names, files and lines. Three kinds of names stay, since
// the runtime decides by them: that a function is the runtime's, the stubs of reflect, and those
// of wrappers, which panic with their names.
func (t *tables) forget() error {
	names := []byte{0}
	places := map[string]int{"": 0}
	for _, f := range t.entries {
		name := t.name(t.half(f + nameField))
		switch {
		case t.memory[f+specialField] != 0, strings.HasPrefix(name, "reflect."):
		case strings.HasPrefix(name, "runtime."):
			name = "runtime."
		default:
			name = ""
		}
		place, known := places[name]
		if !known {
			place = len(names)
			places[name] = place
			names = append(append(names, name...), 0)
		}
		t.set(f+nameField, place)
		for _, field := range []int{fileField, lineField, unitField, startField} {
			t.set(f+field, 0)
		}
		count := t.half(f + stepsField)
		for _, i := range []int{unsafeSteps, argumentSteps} {
			if i < count {
				t.set(f+functionLength+4*i, 0)
			}
		}
		for _, i := range []int{argumentsData, argumentsLiveData} {
			if i < int(t.memory[f+dataField]) {
				t.set(f+functionLength+4*count+4*i, noData)
			}
		}
	}
	if len(names) > t.names.length {
		return fmt.Errorf("%w: names of functions that share their text", ErrLayout)
	}
	t.clear(t.names)
	copy(t.memory[t.names.from:], names)
	t.clear(t.units)
	t.clear(t.files)
	return t.layOut()
}

// stepsOf returns the places where a _func names its tables of steps.
func (t *tables) stepsOf(f int) []int {
	places := []int{f + stackField}
	for i := range t.half(f + stepsField) {
		places = append(places, f+functionLength+4*i)
	}
	return places
}

// layOut keeps the tables of steps that functions name, each where the one before ends, in the order
// in which they are first named.
func (t *tables) layOut() error {
	kept := []byte{0} // at place 0 is none
	moved := map[int]int{0: 0}
	for _, f := range t.entries {
		for _, place := range t.stepsOf(f) {
			from := t.half(place)
			to, known := moved[from]
			if !known {
				table, err := t.stepsAt(from)
				if err != nil {
					return err
				}
				to = len(kept)
				moved[from] = to
				if kept = append(kept, table...); len(kept) > t.steps.length {
					return fmt.Errorf("%w: tables of steps that share their text", ErrLayout)
				}
			}
			t.set(place, to)
		}
	}
	t.clear(t.steps)
	copy(t.memory[t.steps.from:], kept)
	return nil
}

func (t *tables) name(place int) string {
	if place < 0 || place >= t.names.length {
		return ""
	}
	name, _, _ := bytes.Cut(t.memory[t.names.from+place:t.names.from+t.names.length], []byte{0})
	return string(name)
}

// stepsAt returns a table of steps: pairs of a difference of the value and one of the address, until a
// difference of the value is 0 that is not the first.
func (t *tables) stepsAt(from int) ([]byte, error) {
	if from < 0 || from > t.steps.length {
		return nil, fmt.Errorf("%w: steps outside their table", ErrLayout)
	}
	text := t.memory[t.steps.from+from : t.steps.from+t.steps.length]
	r := reader{text: text}
	for first := true; !r.short; first = false {
		if r.unsigned() == 0 && !first {
			return text[:len(text)-len(r.text)], nil
		}
		r.unsigned()
	}
	return nil, fmt.Errorf("%w: steps that do not end", ErrLayout)
}

// derive takes out what a function writes that runs before all others:
//
//	for i := range count {
//		list[i] = {first + i, place}; place.entry = first + i
//		for steps named at place { if steps > 0 { last += steps - 1; steps = last } }
//		place += its length, to the next multiple of 8
//	}
//	for i := range buckets { bucket[i].index = i / 16 } // but for those of the last function
//
// What a function names of the tables of steps is mostly the one behind the last that was named, so that the distance
// between the two packs better than its place; one more than that, for 0 is none, and no table is as short as
// one byte. It is an error if that is not what stands there.
func (t *tables) derive(sections map[byte][]byte) error {
	if t.count < 2 || sections[startSection] != nil {
		return fmt.Errorf("%w: a module that starts by itself, or has no functions", ErrLayout)
	}
	list := t.functions.from
	first := t.half(list)
	for i, f := range t.entries {
		next := list + (t.end(f)-list+7)&^7
		if t.half(list+8*i) != first+i || t.half(f+entryField) != first+i || i+1 < t.count && t.entries[i+1] != next {
			return fmt.Errorf("%w: function %d in another place than it follows", ErrLayout, i)
		}
	}
	buckets := part{t.buckets.from, (t.count - 1) * bucketsEach * bucketLength}
	if buckets.length > t.buckets.length {
		return fmt.Errorf("%w: fewer buckets than functions need", ErrLayout)
	}
	want := make([]byte, buckets.length)
	for i := range (t.count - 1) * bucketsEach {
		binary.LittleEndian.PutUint32(want[i*bucketLength:], uint32(i/bucketsEach))
	}
	if !bytes.Equal(want, t.memory[buckets.from:buckets.from+buckets.length]) {
		return fmt.Errorf("%w: buckets of another content than follows", ErrLayout)
	}
	t.clear(buckets)
	last := 0
	for i, f := range t.entries {
		for _, place := range t.stepsOf(f) {
			if steps := t.half(place); steps > 0 {
				t.set(place, steps-last+1)
				last = steps
			}
		}
		t.set(list+8*i, 0)
		t.set(list+8*i+4, 0)
		t.set(f+entryField, 0)
	}
	return t.start(sections, first)
}

// start adds the function that derive describes, and has it run first.
func (t *tables) start(sections map[byte][]byte, first int) error {
	const i, place, last, at, end = 0, 1, 2, 3, 4 // its locals
	get := func(local int64) instruction { return instruction{op: localGet, number: local} }
	number := func(n int) instruction { return instruction{op: i32Const, number: int64(n)} }
	do := func(op byte) instruction { return instruction{op: op} }
	load := func(op byte, n int) instruction {
		return instruction{op: op, number: int64(t.at + t.functions.from + n)}
	}
	save := func(at int) instruction { return instruction{op: i32Store, number: int64(t.at + at)} }
	again := func(body []instruction, count int) []instruction { // and i++
		return slices.Concat([]instruction{{op: loop, rest: []byte{0x40}}}, body, []instruction{
			get(i), number(1), do(i32Add), {op: localTee, number: i}, number(count), do(i32LtU), {op: brIf}, do(endOp),
		})
	}
	list := t.functions.from
	// undo makes the distance that stands at an offset from what local 3 holds a place again.
	undo := func(offset int) []instruction {
		return []instruction{
			get(at), load(i32Load, offset), {op: ifOp, rest: []byte{0x40}},
			get(at), get(last), get(at), load(i32Load, offset), do(i32Add), number(-1), do(i32Add), {op: localTee, number: last}, save(list + offset),
			do(endOp),
		}
	}
	body := slices.Concat(
		[]instruction{number(t.entries[0] - list), {op: localSet, number: place}},
		again(slices.Concat([]instruction{
			get(i), number(8), do(i32Mul), get(i), number(first), do(i32Add), save(list),
			get(i), number(8), do(i32Mul), get(place), save(list + 4),
			get(place), get(i), number(first), do(i32Add), save(list + entryField),
			get(place), {op: localSet, number: at},
		}, undo(stackField), []instruction{
			get(place), load(i32Load, stepsField), number(4), do(i32Mul), get(place), do(i32Add), {op: localSet, number: end},
			{op: block, rest: []byte{0x40}}, {op: loop, rest: []byte{0x40}},
			get(at), get(end), do(i32LtU), do(i32Eqz), {op: brIf, number: 1},
		}, undo(functionLength), []instruction{
			get(at), number(4), do(i32Add), {op: localSet, number: at}, {op: br}, do(endOp), do(endOp),
			get(end), get(place), load(i32Load8U, dataField), number(4), do(i32Mul), do(i32Add), number(functionLength + 7), do(i32Add),
			number(-8), do(i32And), {op: localSet, number: place},
		}), t.count),
		[]instruction{number(0), {op: localSet, number: i}},
		again([]instruction{
			get(i), number(bucketLength), do(i32Mul), get(i), number(bucketsEach), do(i32DivU), save(t.buckets.from),
		}, (t.count-1)*bucketsEach),
		[]instruction{do(endOp)},
	)
	function := encode([]byte{1, 5, 0x7f}, body) // five locals of 32 bits

	imports, err := functionsIn(sections[importSection])
	if err != nil {
		return err
	}
	kinds, err := added(sections, typeSection, []byte{0x60, 0, 0}) // nothing in, nothing out
	if err != nil {
		return err
	}
	functions, err := added(sections, functionSection, appendUnsigned(nil, kinds))
	if err != nil {
		return err
	}
	if _, err := added(sections, codeSection, appendBytes(nil, function)); err != nil {
		return err
	}
	sections[startSection] = appendUnsigned(nil, imports+functions)
	return nil
}

// functionsIn returns how many functions the section of imports has. Anything else in it is an error.
func functionsIn(section []byte) (int, error) {
	r := reader{text: section}
	n := r.unsigned()
	for i := 0; i < n && !r.short; i++ {
		r.bytes(r.unsigned())
		r.bytes(r.unsigned())
		kind := r.byte()
		r.unsigned()
		if kind != 0 {
			return 0, fmt.Errorf("%w: an import that is no function", ErrLayout)
		}
	}
	if r.short || len(r.text) > 0 {
		return 0, fmt.Errorf("%w: imports that do not end with their section", ErrLayout)
	}
	return n, nil
}

// added adds an element to a section that counts its elements, and returns its number.
func added(sections map[byte][]byte, section byte, element []byte) (int, error) {
	r := reader{text: sections[section]}
	n := r.unsigned()
	if r.short {
		return 0, fmt.Errorf("%w: section %d is without a count", ErrLayout, section)
	}
	sections[section] = slices.Concat(appendUnsigned(nil, n+1), r.text, element)
	return n, nil
}
