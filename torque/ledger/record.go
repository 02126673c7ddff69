package ledger

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash/crc32"
	"strconv"
	"time"

	"example.com/closefit/torque"
)

// title begins every ledger.
const title = "closefit ledger 1"

// headerLine returns the first line of a plan's ledger, and its checksum.
func headerLine(p *torque.Plan, now time.Time) ([]byte, uint32) {
	return seal(fmt.Appendf(nil, "%s\t%s\t%s\t%s\t", title, p.Digest(), p.Name(), stamp(now)), 0)
}

// recordLine returns the line of a happening, and its checksum, which covers that of
// the line before.
func recordLine(number int, now time.Time, h happening, before uint32) ([]byte, uint32) {
	step, bolt := "-", "-"
	if h.step != 0 {
		step = strconv.Itoa(h.step)
	}
	switch {
	case h.event == note:
		bolt = h.detail
	case h.bolt != "":
		bolt = h.bolt
	}
	return seal(fmt.Appendf(nil, "%d\t%s\t%s\t%s\t%s\t", number, stamp(now), h.event, step, bolt), before)
}

func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339) }

// seal ends a line with its checksum.
func seal(line []byte, before uint32) ([]byte, uint32) {
	sum := checksum(line, before)
	return append(appendSum(line, sum), '\n'), sum
}

// checksum returns the CRC-32 (Castagnoli) of the checksum before and the line.
func checksum(line []byte, before uint32) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	first := binary.BigEndian.AppendUint32(nil, before)
	return crc32.Update(crc32.Update(0, table, first), table, line)
}

// appendSum appends a checksum in eight hexadecimal digits.
func appendSum(line []byte, sum uint32) []byte {
	var b [4]byte
	binary.BigEndian.PutUint32(b[:], sum)
	return hex.AppendEncode(line, b[:])
}

// sumLen is the length of a checksum at the end of a line.
const sumLen = len("00000000\n")

// add takes in the next line of the file, which ends with its newline. The error is
// without a path, and h is then as it was.
func (h *history) add(line []byte) error {
	if h.lines == 0 {
		return h.addHeader(line)
	}
	fields, sum, err := h.open(line, 5)
	if err != nil {
		return err
	}
	if n, ok := number(fields[0]); !ok || n != h.lines {
		return h.damage("its number is %q and should be %d: a line was taken out or put in", fields[0], h.lines)
	}
	what := happening{event: parseEvent(fields[2])}
	if what.event == noEvent {
		return h.damage("%q is nothing that a ledger records", fields[2])
	}
	switch last := string(fields[4]); {
	case what.event == note:
		what.detail = last
	case last != "-":
		what.bolt = last
	}
	if string(fields[3]) != "-" {
		n, ok := number(fields[3])
		step, known := h.progress.plan.Step(n)
		if !ok || !known || step.Bolt != what.bolt {
			return h.damage("step %q on bolt %q is none of the plan", fields[3], fields[4])
		}
		what.step = n
	}
	if err := h.progress.check(what); err != nil {
		return h.damage("it cannot follow the lines before it: %v", err)
	}
	at, err := time.Parse(time.RFC3339, string(fields[1]))
	if err != nil {
		return h.damage("its time is %q: %v", fields[1], err)
	}
	what.at, what.late = at, time.Second
	if h.keep != nil {
		h.keep(Entry{Line: h.lines + 1, Time: at, What: what.event.String(), Step: what.step, Bolt: what.bolt, Text: what.detail})
	}
	h.progress.apply(what)
	h.sum = sum
	return nil
}

// addHeader takes in the first line.
func (h *history) addHeader(line []byte) error {
	if !bytes.HasPrefix(line, []byte(title+"\t")) {
		return notLedger()
	}
	fields, sum, err := h.open(line, 4)
	if err != nil {
		return err
	}
	if digest := h.progress.plan.Digest(); string(fields[1]) != digest {
		return fault{kind: ErrOtherPlan, line: 1,
			found: fmt.Sprintf("it belongs to the plan %q (%.12s), and this is %q (%.12s)", fields[2], fields[1], h.progress.plan.Name(), digest),
			fix:   "give the plan that it was begun with, or begin a new ledger in another file"}.err()
	}
	h.sum = sum
	return nil
}

// open checks a line's checksum and returns its fields without it.
func (h *history) open(line []byte, want int) (fields [][]byte, sum uint32, err error) {
	if len(line) < sumLen {
		return nil, 0, h.damage("it has no checksum")
	}
	body, tail := line[:len(line)-sumLen], line[len(line)-sumLen:len(line)-1]
	sum = checksum(body, h.sum)
	var room [8]byte
	if !bytes.Equal(appendSum(room[:0], sum), tail) {
		return nil, 0, h.damage("its checksum is %q and should be %08x: the line was altered, or one before it taken out", tail, sum)
	}
	fields = bytes.Split(body, []byte("\t"))
	if len(fields) != want+1 {
		return nil, 0, h.damage("it has %d fields and should have %d", len(fields), want+1)
	}
	return fields, sum, nil
}

// number reads a count as the ledger writes it.
func number(b []byte) (int, bool) {
	n, err := strconv.Atoi(string(b))
	return n, err == nil && n > 0
}

// end takes in what follows the last complete line, and notes a step that was begun
// and of which nobody will say the end.
//
// A file of which that is all is refused unless it is the beginning of this plan's
// ledger: only then is nothing else lost with it.
func (h *history) end(torn []byte) error {
	whole := []byte(title + "\t" + h.progress.plan.Digest() + "\t")
	begun := bytes.TrimRight(torn, "\x00\n")
	n := min(len(whole), len(begun))
	if h.lines == 0 && !bytes.Equal(whole[:n], begun[:n]) {
		return notLedger()
	}
	h.torn = bytes.Clone(torn)
	return nil
}

func (h *history) damage(format string, args ...any) error {
	return fault{kind: ErrDamaged, line: h.lines + 1, found: fmt.Sprintf(format, args...),
		fix: "nothing was changed: keep a copy of the file, put back an unharmed one, or check the bolts by their marks and begin a new ledger"}.err()
}

func notLedger() error {
	return fault{kind: ErrDamaged, line: 1, found: "it does not begin as a ledger does", fix: "name another file; this one was not touched"}.err()
}
