package ledger

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"strconv"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// title begins every ledger and every witness.
const title = "closefit ledger 2"

// longest bounds a line.
const longest = 16 << 20

// headerLine returns the first line of a work's ledger, and its checksum. The id tells two
// ledgers of the same work apart.
func headerLine(id string, w Work, now time.Time) ([]byte, uint32) {
	return seal(fmt.Appendf(nil, "%s\t%s\t%s\t%s\t", title, id, w.json(), stamp(now)), 0)
}

// recordLine returns the line of a happening, and its checksum, which covers that of
// the line before.
func recordLine(number int, h happening, before uint32) ([]byte, uint32) {
	step := "-"
	if h.step != 0 {
		step = strconv.Itoa(h.step)
	}
	return seal(fmt.Appendf(nil, "%d\t%s\t%s\t%s\t%s\t%s\t", number, stamp(h.at), h.event, step, orDash(h.bolt), orDash(h.detail)), before)
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// stamp writes a time to the microsecond, so that two programs that record the same at once do not
// write the same line.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000000Z07:00") }

// seal ends a line with its checksum.
func seal(line []byte, before uint32) ([]byte, uint32) {
	sum := checksum(line, before)
	return append(appendSum(line, sum), '\n'), sum
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// checksum returns the CRC-32 (Castagnoli) of the checksum before and the line.
func checksum(line []byte, before uint32) uint32 {
	var first [4]byte
	binary.BigEndian.PutUint32(first[:], before)
	return crc32.Update(crc32.Update(0, castagnoli, first[:]), castagnoli, line)
}

// appendSum appends a checksum in eight hexadecimal digits.
func appendSum(line []byte, sum uint32) []byte {
	var b [4]byte
	binary.BigEndian.PutUint32(b[:], sum)
	return hex.AppendEncode(line, b[:])
}

// sumLen is the length of a checksum at the end of a line.
const sumLen = len("00000000\n")

// unseal returns a line, which ends with its newline, without its checksum. The checksum must
// be the line's, after that of the line before; the sums that are wanted and found are returned
// in any case.
func unseal(line []byte, before uint32) (body []byte, sum uint32, ok bool) {
	if len(line) < sumLen {
		return nil, 0, false
	}
	body, tail := line[:len(line)-sumLen], line[len(line)-sumLen:len(line)-1]
	sum = checksum(body, before)
	var room [8]byte
	return body, sum, line[len(line)-1] == '\n' && bytes.Equal(appendSum(room[:0], sum), tail)
}

// A header is what a ledger's first line says.
type header struct {
	id   string
	work Work
	at   time.Time
}

// readHeader reads a first line without its checksum.
func readHeader(body []byte) (header, error) {
	var h header
	fields := bytes.Split(body, []byte("\t"))
	if len(fields) != 5 || string(fields[0]) != title {
		return h, damage(1, "it does not begin as a ledger does")
	}
	if id, err := hex.DecodeString(string(fields[1])); err != nil || len(id) != idLen {
		return h, damage(1, "its identity is %q", fields[1])
	}
	h.id = string(fields[1])
	type work Work // its checksum is right, so that it need not be read as what a person wrote
	if err := json.Unmarshal(fields[2], (*work)(&h.work)); err != nil {
		return h, damage(1, "the work that it belongs to cannot be read: %v", err)
	}
	if err := h.work.check(); err != nil {
		return h, damage(1, "the work that it belongs to cannot be read: %v", err)
	}
	at, err := time.Parse(time.RFC3339, string(fields[3]))
	if err != nil {
		return h, damage(1, "its time is %q: %v", fields[3], err)
	}
	h.at = at
	return h, nil
}

// idLen is the length of a ledger's identity, in bytes.
const idLen = 16

// history is what replay makes of a ledger's lines.
type history struct {
	header   header
	progress *progress
	first    []byte // the plan of the beginning, as JSON
	lines    int
	sum      uint32 // of the last line

	plan     *torque.Plan // what the caller gives for the plan of the beginning; may be nil
	planJSON []byte       // the same, as JSON

	keep func(Entry) // is given each record, if not nil
}

// replay reads the whole lines of a chain, whose checksums are right. Each line must be one that
// could have been written where it stands.
func (h *history) replay(text []byte) error {
	for len(text) > 0 {
		n := bytes.IndexByte(text, '\n') + 1
		body, sum := text[:n-sumLen], text[n-sumLen:n-1]
		if err := h.add(body); err != nil {
			return err
		}
		h.lines++
		if text = text[n:]; len(text) == 0 {
			var last [4]byte
			hex.Decode(last[:], sum) // it was compared
			h.sum = binary.BigEndian.Uint32(last[:])
		}
	}
	return nil
}

// add takes in the next line, without its checksum.
func (h *history) add(body []byte) error {
	if h.lines == 0 {
		var err error
		h.header, err = readHeader(body)
		return err
	}
	line := h.lines + 1
	var fields [7][]byte
	if n := splitTabs(body, fields[:]); n != len(fields) {
		return damage(line, "it has %d fields and should have %d", n, len(fields))
	}
	if n, ok := number(fields[0]); !ok || n != h.lines {
		return damage(line, "its number is %q and should be %d: a line was taken out or put in", fields[0], h.lines)
	}
	at, err := time.Parse(time.RFC3339, string(fields[1]))
	if err != nil {
		return damage(line, "its time is %q: %v", fields[1], err)
	}
	what := happening{event: parseEvent(fields[2])}
	switch {
	case what.event == noEvent:
		return damage(line, "%q is nothing that a ledger records", fields[2])
	case (what.event == firstPlan) != (h.progress == nil):
		return damage(line, "%q cannot stand here: the plan is the first record, and no other", fields[2])
	}
	if string(fields[5]) != "-" || what.event.hasText() {
		what.detail = string(fields[5])
	}
	if what.event == firstPlan {
		if err := h.begin(what.detail); err != nil {
			return damage(line, "its plan cannot be read: %v", err)
		}
		h.tell(what, at)
		return nil
	}
	if string(fields[3]) == "-" {
		if string(fields[4]) != "-" || what.event.hasBolt() {
			what.bolt = string(fields[4])
		}
	} else {
		n, ok := number(fields[3])
		step, known := h.progress.plan.Step(n)
		if !ok || !known || orDash(step.Bolt) != string(fields[4]) {
			return damage(line, "step %q on bolt %q is none of the plan", fields[3], fields[4])
		}
		what.step, what.bolt = n, step.Bolt
	}
	if err := h.progress.check(what); err != nil {
		return damage(line, "it cannot follow the lines before it: %v", err)
	}
	what.at, what.late = at, time.Microsecond
	h.tell(what, at)
	h.progress.apply(what)
	return nil
}

// tell gives the caller a record.
func (h *history) tell(what happening, at time.Time) {
	if h.keep != nil {
		h.keep(Entry{Line: h.lines + 1, Time: at, What: what.event.String(), Step: what.step, Bolt: what.bolt, Detail: what.detail})
	}
}

// begin makes the progress of the plan that stands in the first record.
func (h *history) begin(planJSON string) error {
	h.first = []byte(planJSON)
	plan := h.plan
	if plan == nil || planJSON != string(h.planJSON) {
		plan = new(torque.Plan)
		if err := json.Unmarshal(h.first, plan); err != nil {
			return err
		}
	}
	h.progress = newProgress(plan)
	return nil
}

// hasBolt reports whether the event is of a bolt and of no step.
func (e event) hasBolt() bool { return e == replace || e == loosen || e == keep || e == doubt }

// splitTabs puts the fields between tabs into fields, and returns how many there are.
func splitTabs(body []byte, fields [][]byte) int {
	n := 0
	for {
		i := bytes.IndexByte(body, '\t')
		if n < len(fields) {
			fields[n] = body
			if i >= 0 {
				fields[n] = body[:i]
			}
		}
		n++
		if i < 0 {
			return n
		}
		body = body[i+1:]
	}
}

// number reads a count as the ledger writes it.
func number(b []byte) (int, bool) {
	n, err := strconv.Atoi(string(b))
	return n, err == nil && n > 0
}

// damage returns the error for a line that a ledger cannot have.
func damage(line int, format string, args ...any) error {
	return fault{kind: ErrDamaged, line: line, found: fmt.Sprintf(format, args...),
		fix: "put back an unharmed copy of the file, if there is one"}.err()
}

// An Entry is one record of a ledger: what happened, when.
type Entry struct {
	Line   int       `json:"line"`   // in the file, from 1; the first record stands in line 2
	Time   time.Time `json:"time"`   // to the microsecond, as the clock of the machine said
	What   string    `json:"what"`   // "plan", "begin", "done", "replaced", "note" and so on, or a Mishap
	Step   int       `json:"step"`   // 0 where no step is concerned
	Bolt   string    `json:"bolt"`   // empty for a pause, and where no bolt is concerned
	Detail string    `json:"detail"` // the text of a note or a doubt, else JSON; empty where there is none
}

// UnmarshalJSON reads {"line":…,"time":"2026-02-03T14:05:06Z","what":"begin","step":…,"bolt":…,"detail":…}.
func (e *Entry) UnmarshalJSON(data []byte) error {
	type entry Entry
	read := entry{}
	if err := units.DecodeObject(data, &read); err != nil {
		return err
	}
	if parseEvent([]byte(read.What)) == noEvent {
		return &units.Error{Kind: units.ErrNotWritten, Where: "entry", Found: fmt.Sprintf("%.40q happened", read.What), Fix: fmt.Sprintf("write one of %q", eventWords[begin:])}
	}
	*e = Entry(read)
	return nil
}
