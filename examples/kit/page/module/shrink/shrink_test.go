package shrink

import (
	"bytes"
	"errors"
	"reflect"
	"testing"
)

// TestBranches rewrites a function of the form that the compiler writes: a jump ahead, alone and
// under a condition, one back, and what follows a call.
func TestBranches(t *testing.T) {
	op := func(op byte, n int64) instruction { return instruction{op: op, number: n} }
	open := func(op byte) instruction { return instruction{op: op, rest: []byte{0x40}} }
	end := op(endOp, 0)
	tail := []instruction{end, op(0, 0), end, op(i32Const, 1), end}
	list := append([]instruction{
		open(block), open(loop), open(block), open(block), open(block),
		op(localGet, 0), {op: brTable, rest: []byte{2, 0, 1, 2}}, end,
		open(ifOp), op(i32Const, 2), op(localSet, 0), op(br, 3), end, // to the outer of two blocks
		op(i32Const, 1), op(localSet, 0), op(br, 2), // to the inner
		end,
		op(i32Const, 0), op(localSet, 0), op(br, 1), // back
		end,
		op(brIf, 1), // out of loop and block
	}, tail...)
	want := append([]instruction{
		open(block), open(loop), open(block), open(block), open(block),
		op(localGet, 0), {op: brTable, rest: []byte{2, 0, 1, 2}}, end,
		op(brIf, 1),
		op(br, 0),
		end,
		op(i32Const, 0), op(localSet, 0), op(br, 1),
		end,
		open(ifOp), op(i32Const, 1), op(returnOp, 0), end,
	}, tail...)
	if got := branches(list); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
	// Where local 0 is read elsewhere too, what a jump sets must stay set.
	other := append([]instruction{op(localGet, 0), op(0x1a, 0)}, list...)
	if got := branches(other); len(got) != len(other)+3 { // what follows the call is as before
		t.Errorf("a function that reads its local 0 has become %v", got)
	}
}

func TestOffsets(t *testing.T) {
	sum := func(n int64, then ...instruction) []instruction {
		return append([]instruction{{op: localGet, number: 1}, {op: extendU}, {op: i64Const, number: n}, {op: i64Add}, {op: wrap}}, then...)
	}
	store := func(n int64) []instruction {
		return []instruction{{op: i64Const, number: 5}, {op: 0x37, align: 3, number: n}}
	}
	for _, test := range []struct {
		name      string
		list, now []instruction
	}{
		{"store", sum(24, store(8)...), append([]instruction{{op: localGet, number: 1}}, store(32)...)},
		{"load", sum(24, instruction{op: i32Load, number: 1}), []instruction{{op: localGet, number: 1}, {op: i32Load, number: 25}}},
		{"back", sum(-8, store(8)...), sum(-8, store(8)...)},
		{"too far", sum(maxOffset, store(1)...), sum(maxOffset, store(1)...)},
		{"a call between", sum(24, append([]instruction{{op: 0x10, number: 3}}, store(8)...)...), sum(24, append([]instruction{{op: 0x10, number: 3}}, store(8)...)...)},
		{"the value stored, not the address", sum(24, instruction{op: i32Store}), sum(24, instruction{op: i32Store})},
	} {
		if got := offsets(append([]instruction{}, test.list...)); !reflect.DeepEqual(got, test.now) {
			t.Errorf("%s: got %v\nwant %v", test.name, got, test.now)
		}
	}
}

func TestMemory(t *testing.T) {
	want := append(append([]byte{1, 0, 0, 0, 0, 0, 0, 0, 0, 2}, make([]byte, 3*fewestZeros)...), 3)
	at, got, err := load(store(70000, want))
	if err != nil || at != 70000 || !bytes.Equal(got, want) {
		t.Errorf("%d bytes at %d, %v; want %d at 70000", len(got), at, err, len(want))
	}
	if n := len(store(70000, want)); n > 40 {
		t.Errorf("two runs take %d bytes", n)
	}
}

func TestWidened(t *testing.T) {
	// Two functions, 5 and 300 (0x12c, which is 0xac 0x02 in LEB128), from place 1 of the table.
	section := []byte{1, 0, i32Const, 1, endOp, 2, 5, 0xac, 0x02}
	want := []byte{1, 0, i32Const, 1, endOp, 2, 0x85, 0x80, 0x80, 0x80, 0, 0xac, 0x82, 0x80, 0x80, 0}
	if got := widened(section); !bytes.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	for name, other := range map[string][]byte{
		"none": nil, "two segments": {2, 0, i32Const, 1, endOp, 0, 0, i32Const, 2, endOp, 0}, "another kind": {1, 1, 0, 1, 5},
		"cut short": section[:8], "more behind": append(bytes.Clone(section), 0), "too many": {1, 0, i32Const, 1, endOp, 0xff, 0xff, 0xff, 0xff, 0x0f, 5},
	} {
		if got := widened(other); !bytes.Equal(got, other) {
			t.Errorf("%s: %v has become %v", name, other, got)
		}
	}
}

func TestNumbers(t *testing.T) {
	for _, n := range []int64{0, 63, 64, -64, -65, 1 << 31, -1 << 63, 1<<63 - 1} {
		r := reader{text: appendSigned(nil, n)}
		if got := r.signed(); got != n || r.short || len(r.text) > 0 {
			t.Errorf("%d is read as %d", n, got)
		}
	}
}

func TestOtherLayout(t *testing.T) {
	for name, module := range map[string][]byte{
		"nothing":       nil,
		"text":          []byte("no module"),
		"no sections":   preamble,
		"cut short":     append(bytes.Clone(preamble), dataSection, 9, 1),
		"no functions":  append(bytes.Clone(preamble), dataSection, 7, 1, 0, i32Const, 8, endOp, 1, 5),
		"out of order":  append(bytes.Clone(preamble), codeSection, 1, 0, typeSection, 1, 0),
		"other section": append(bytes.Clone(preamble), 12, 0),
	} {
		if got, err := Module(module); !errors.Is(err, ErrLayout) || got != nil {
			t.Errorf("%s: %v, %v; want ErrLayout", name, got, err)
		}
	}
}
