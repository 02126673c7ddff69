package shrink

import (
	"fmt"
	"slices"
)

// The instructions that are looked at or written here.
const (
	block     = 0x02
	loop      = 0x03
	ifOp      = 0x04
	endOp     = 0x0b
	br        = 0x0c
	brIf      = 0x0d
	brTable   = 0x0e
	returnOp  = 0x0f
	localGet  = 0x20
	localSet  = 0x21
	localTee  = 0x22
	i32Store  = 0x36
	i32Load   = 0x28
	i32Load8U = 0x2d
	i32Const  = 0x41
	i64Const  = 0x42
	i32Eqz    = 0x45
	i32LtU    = 0x49
	i32Add    = 0x6a
	i32And    = 0x71
	i32Mul    = 0x6c
	i32DivU   = 0x6e
	i64Add    = 0x7c
	wrap      = 0xa7
	extendU   = 0xad
)

// An instruction is an operation with the number that follows it: a constant, a depth, a local.
// What an operation of memory adds to its address is its number; align stands before that.
// Whatever else follows is in rest.
type instruction struct {
	op     byte
	number int64
	align  int
	rest   []byte
}

// rewriteAll rewrites the body of each function.
func rewriteAll(code []byte) ([]byte, error) {
	r := reader{text: code}
	n := r.unsigned()
	out := appendUnsigned(nil, n)
	for i := range n {
		body := r.bytes(r.unsigned())
		if r.short {
			return nil, fmt.Errorf("%w: code that ends before its functions", ErrLayout)
		}
		locals, list, err := decode(body)
		if err != nil {
			return nil, fmt.Errorf("function %d: %w", i, err)
		}
		out = appendBytes(out, encode(locals, offsets(branches(list))))
	}
	if len(r.text) > 0 {
		return nil, fmt.Errorf("%w: code behind its functions", ErrLayout)
	}
	return out, nil
}

// decode returns the locals of a function, as they stand, and its instructions.
func decode(body []byte) (locals []byte, list []instruction, err error) {
	r := reader{text: body}
	for n := r.unsigned(); n > 0 && !r.short; n-- {
		r.unsigned()
		r.byte()
	}
	locals = body[:len(body)-len(r.text)]
	for len(r.text) > 0 {
		before := r.text
		in := instruction{op: r.byte()}
		switch op := in.op; {
		case op == br, op == brIf, op == 0x10, op >= localGet && op <= 0x24:
			in.number = int64(r.unsigned())
		case op == i32Const, op == i64Const:
			in.number = r.signed()
		case op >= i32Load && op <= 0x3e:
			in.align, in.number = r.unsigned(), int64(r.unsigned())
		case op >= block && op <= ifOp, op == 0x3f, op == 0x40: // a type; a memory
			in.rest = r.bytes(1)
		case op == brTable:
			for n := r.unsigned(); n >= 0 && !r.short; n-- {
				r.unsigned()
			}
			in.rest = before[1 : len(before)-len(r.text)]
		case op == 0x11: // call_indirect
			r.unsigned()
			r.unsigned()
			in.rest = before[1 : len(before)-len(r.text)]
		case op == 0x43: // f32.const
			in.rest = r.bytes(4)
		case op == 0x44: // f64.const
			in.rest = r.bytes(8)
		case op == 0xfc: // truncation that saturates; memory.copy, memory.fill
			switch more := r.unsigned(); {
			case more == 10:
				r.bytes(2)
			case more == 11:
				r.bytes(1)
			case more > 7:
				return nil, nil, fmt.Errorf("%w: instruction 0xfc %d", ErrLayout, more)
			}
			in.rest = before[1 : len(before)-len(r.text)]
		case op <= 0x01, op == 0x05, op == endOp, op == returnOp, op == 0x1a, op == 0x1b, op >= 0x45 && op <= 0xc4:
		default:
			return nil, nil, fmt.Errorf("%w: instruction %#x", ErrLayout, op)
		}
		list = append(list, in)
	}
	if r.short {
		return nil, nil, fmt.Errorf("%w: a function that ends within an instruction", ErrLayout)
	}
	return locals, list, nil
}

func encode(locals []byte, list []instruction) []byte {
	out := slices.Clone(locals)
	for _, in := range list {
		out = append(out, in.op)
		switch op := in.op; {
		case op == br, op == brIf, op == 0x10, op >= localGet && op <= 0x24:
			out = appendUnsigned(out, int(in.number))
		case op == i32Const, op == i64Const:
			out = appendSigned(out, in.number)
		case op >= i32Load && op <= 0x3e:
			out = appendUnsigned(appendUnsigned(out, in.align), int(in.number))
		default:
			out = append(out, in.rest...)
		}
	}
	return out
}

// A dispatch is the head of a function of Go: blocks within a loop, and in the innermost the
// table that leaves the block of the number that local 0 holds. loop and targets are the places of
// the instructions that open them.
type dispatch struct {
	loop    int
	targets []int
}

// target is the block that the table leaves for a number.
func (d dispatch) target(number int64) int {
	return d.targets[min(uint64(number), uint64(len(d.targets)-1))]
}

// headOf finds the dispatch. There is none where local 0 serves for more than its number.
func headOf(list []instruction) (dispatch, bool) {
	at := slices.IndexFunc(list, func(in instruction) bool { return in.op == brTable })
	if at < 1 || list[at-1].op != localGet || list[at-1].number != 0 {
		return dispatch{}, false
	}
	for i, in := range list {
		// A call by address keeps the address in it for the next two instructions.
		kept := i > 1 && list[i-1].op == i32Const && list[i-2].op == localSet && list[i-2].number == 0
		if in.op == localTee && in.number == 0 || in.op == localGet && in.number == 0 && i != at-1 && !kept {
			return dispatch{}, false
		}
	}
	first := at - 1 // of the blocks about the table
	for first > 0 && list[first-1].op == block {
		first--
	}
	if first == 0 || list[first-1].op != loop {
		return dispatch{}, false
	}
	d := dispatch{loop: first - 1}
	r := reader{text: list[at].rest}
	for n := r.unsigned(); n >= 0; n-- {
		opener := at - 2 - r.unsigned()
		if opener < first {
			return dispatch{}, false
		}
		d.targets = append(d.targets, opener)
	}
	return d, true
}

// branches makes the branches of a function direct. In
//
//	block; loop; block… local.get 0; br_table …; end …
//	    i32.const 7; local.set 0; br LOOP     →  br BLOCK, where block 7 is open
//	    if; (the same); end                   →  br_if BLOCK
//	    br_if OUTERMOST                       →  if; i32.const 1; return; end
//	end; unreachable; end; i32.const 1; end
//
// the last is what follows each call: a goroutine stops, and its function returns 1. What took the
// depth of the outermost block, another one after each call, is then the same everywhere.
func branches(list []instruction) []instruction {
	head, dispatched := headOf(list)
	n := len(list)
	stops := outermost(list)
	var open []int // what is open, by the places of the instructions that open it
	var out []instruction
	for i := 0; i < n; i++ {
		in := list[i]
		switch in.op {
		case block, loop, ifOp:
			open = append(open, i)
		case endOp:
			if len(open) > 0 {
				open = open[:len(open)-1]
			}
		case brIf:
			if int(in.number) == len(open)-1 && open[0] == stops {
				out = append(out, instruction{op: ifOp, rest: []byte{0x40}}, instruction{op: i32Const, number: 1},
					instruction{op: returnOp}, instruction{op: endOp})
				continue
			}
		case i32Const:
			if !dispatched || i+3 >= n || list[i+1].op != localSet || list[i+1].number != 0 || list[i+2].op != br {
				break
			}
			if loop := len(open) - 1 - int(list[i+2].number); loop < 0 || open[loop] != head.loop {
				break
			}
			target := slices.Index(open, head.target(in.number))
			if target < 0 {
				break // it lies behind
			}
			depth := int64(len(open) - 1 - target)
			if list[i-1].op == ifOp && list[i+3].op == endOp {
				open = open[:len(open)-1]
				out[len(out)-1] = instruction{op: brIf, number: depth - 1}
				i += 3
			} else {
				out = append(out, instruction{op: br, number: depth})
				i += 2
			}
			continue
		}
		out = append(out, in)
	}
	return out
}

// outermost returns the place of the block behind whose end a function returns 1, and does
// nothing else; -1 if there is none.
func outermost(list []instruction) int {
	n := len(list)
	if n < 3 || list[n-3].op != endOp || list[n-2].op != i32Const || list[n-2].number != 1 || list[n-1].op != endOp {
		return -1
	}
	depth := 0
	for i := n - 3; i >= 0; i-- {
		switch list[i].op {
		case endOp:
			depth++
		case block, loop, ifOp:
			if depth--; depth == 0 && list[i].op == block {
				return i
			} else if depth == 0 {
				return -1
			}
		}
	}
	return -1
}

// offsets puts what is added to an address into the load or store that uses it:
//
//	i64.const 24; i64.add; i32.wrap_i64; …; i64.store 8  →  i32.wrap_i64; …; i64.store 32
//
// The two differ only for addresses that go round at 4 GiB, which nothing of Go's is laid across; the
// compiler does the same where it sees both.
func offsets(list []instruction) []instruction {
	gone := make([]bool, len(list))
	for i := 0; i+3 < len(list); i++ {
		added := list[i].number
		if list[i].op != i64Const || added < 0 || added > maxOffset || list[i+1].op != i64Add || list[i+2].op != wrap {
			continue
		}
		user := userOf(list, i+3)
		if user < 0 || list[user].number+added > maxOffset {
			continue
		}
		list[user].number += added
		gone[i], gone[i+1] = true, true
		if i > 0 && list[i-1].op == extendU {
			gone[i-1], gone[i+2] = true, true
		}
	}
	out := list[:0]
	for i, in := range list {
		if !gone[i] {
			out = append(out, in)
		}
	}
	return out
}

const maxOffset = 1<<31 - 1

// userOf returns the load or store whose address is what stood uppermost before a place, or -1.
func userOf(list []instruction, from int) int {
	for i, height := from, 1; i < len(list); i++ {
		takes, gives := effect(list[i].op)
		if takes < 0 {
			return -1
		}
		if height == takes {
			switch op := list[i].op; {
			case op >= i32Load && op <= 0x35 && height == 1, op >= i32Store && op <= 0x3e && height == 2:
				return i
			}
		}
		if height <= takes {
			return -1
		}
		height += gives - takes
	}
	return -1
}

// effect returns how many values an instruction takes and gives; takes is -1 if it may go
// elsewhere, or is not known.
func effect(op byte) (takes, gives int) {
	switch {
	case op == localGet, op == 0x23, op >= i32Const && op <= 0x44:
		return 0, 1
	case op == localSet, op == 0x24, op == 0x1a:
		return 1, 0
	case op == 0x1b: // select
		return 3, 1
	case op >= i32Store && op <= 0x3e:
		return 2, 0
	case op == localTee, op >= i32Load && op <= 0x35, op == 0x45, op == 0x50, // loads; eqz
		op >= 0x67 && op <= 0x69, op >= 0x79 && op <= 0x7b, op >= 0x8b && op <= 0x91, op >= 0x99 && op <= 0x9f, // of one number
		op >= wrap && op <= 0xc4: // conversions
		return 1, 1
	case op >= 0x46 && op <= 0xa6: // comparisons and arithmetic, of two numbers
		return 2, 1
	}
	return -1, 0
}
