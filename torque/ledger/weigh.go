package ledger

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// A found is what was found of a work: its ledger, the witness of it, and the new witness that
// Start and TakeOver write before anything else, and that then takes the witness's place.
type found struct {
	ledger, witness, fresh chain
}

// A verdict is what is to be made of it.
type verdict struct {
	text   []byte // what the ledger and the witness have to hold
	flaws  []flaw
	finish bool // the new witness takes the place of the witness
	retire bool // the new witness is of no use
}

// A flaw is something that a crash, or a program without a lock, may leave.
type flaw struct {
	what string // what is there
	done string // what is done about it
}

// weigh compares the files and returns what they have to hold. The error is of kind
// ErrNotStarted, ErrDamaged or ErrUnsure, and without a path.
func (f *found) weigh() (verdict, error) {
	fresh := &f.fresh
	if !fresh.clean() {
		v, err := compare(&f.ledger, &f.witness)
		v.retire = fresh.there
		return v, err
	}
	taken := fresh.lastEvent() == takeOver
	v, err := compare(&f.ledger, &f.witness)
	inPart := f.ledger.there && isPiece(f.ledger.data, fresh.text)
	switch {
	case !taken && f.witness.there:
		// Start refuses while there is a witness: this is left of two programs at once.
		v.retire = true
		return v, err
	case !taken && !f.ledger.there:
		// Nothing was acknowledged, and Start may begin again.
		return verdict{}, notStarted()
	case inPart, taken && !f.ledger.there && f.witness.there:
		what := "it was being started when the program ended"
		if taken {
			what = "it was being taken over when the program ended"
		}
		return verdict{text: fresh.text, finish: true, flaws: []flaw{{what, "that was finished now"}}}, nil
	case f.witness.there:
		v.retire = err == nil
		return v, err
	}
	v, err = compare(&f.ledger, fresh)
	v.finish = true
	return v, err
}

func notStarted() error {
	return fault{kind: ErrNotStarted, found: "there is no ledger of this work here, and no witness of one",
		fix: "start one, and say which bolts have been turned already"}.err()
}

// compare weighs a ledger against its witness.
func compare(l, w *chain) (v verdict, err error) {
	unsure := func(format string, args ...any) (verdict, error) {
		return verdict{}, fault{kind: ErrUnsure, found: fmt.Sprintf(format, args...)}.err()
	}
	switch {
	case !l.there && !w.there:
		return v, notStarted()
	case !l.whole() && !w.whole():
		if !l.there {
			return v, fault{kind: ErrDamaged, found: "the ledger is not there, and its witness is of no use: " + why(w)}.err()
		}
		return v, fault{kind: ErrDamaged, found: why(l) + "; and its witness is of no use: " + why(w)}.err()
	case !l.there:
		return unsure("the ledger is not there, and its witness is, with %s: the file was removed or renamed, or this is another folder", records(w.lines-1))
	case !l.whole():
		return unsure("the ledger was altered: %s; its witness is whole, with %s", why(l), records(w.lines-1))
	case !w.there:
		return unsure("the ledger's witness is not there: it was removed, or this is another machine or another user, for whom there is none; nothing shows whether the ledger is older than the work")
	case !w.whole():
		return unsure("the ledger's witness was altered (%s): nothing shows whether the ledger is older than the work", why(w))
	case !bytes.HasPrefix(l.text, w.text) && !bytes.HasPrefix(w.text, l.text):
		return unsure("the ledger and its witness part in line %d: one of them is another file, or was altered or put back", lineOf(l.text, commonPrefix(l.text, w.text)))
	case l.lines < w.lines:
		return unsure("the ledger lacks %s that its witness has: it is older, or was altered", records(w.lines-l.lines))
	case l.lines > w.lines+1:
		return unsure("the witness lacks %s that the ledger has: it is older, or was altered", records(l.lines-w.lines))
	case len(w.torn) > 0 && !(l.lines > w.lines && isPiece(w.torn, l.lastLine())):
		return unsure("the witness ends in a piece of a line that the ledger does not have: one of them is older, or was altered")
	}
	v.text = l.text
	say := func(what, done string) { v.flaws = append(v.flaws, flaw{what, done}) }
	if !l.ended {
		say("its last line lacked its newline, and its checksum was right", "the newline was put back: "+shown(l.lastLine()))
	}
	if len(l.siblings) > 0 {
		var lines []string
		for line := range bytes.Lines(l.siblings) {
			lines = append(lines, shown(line))
		}
		say("another program wrote to it at the same time, and was not told that it was recorded: "+strings.Join(lines, ", "), "that was moved to ")
	}
	if len(l.torn) > 0 {
		say("its last line was torn, and nobody had been told that it was recorded", "it was moved to ")
	}
	switch {
	case l.lines > w.lines:
		say("its witness lacked the last record, which was being written: "+shown(l.lastLine()), "it was added there")
	case !w.ended:
		say("the last line of its witness lacked its newline", "it was put back")
	case len(w.siblings) > 0:
		say("its witness had a line twice, or of another program", "it was cut off there")
	}
	return v, nil
}

// why says what is wrong with a file that is not whole.
func why(c *chain) string {
	if !c.there {
		return "it is not there"
	}
	e := c.damage.(*units.Error)
	return e.Where + ": " + e.Found
}

// records says how many there are.
func records(n int) string {
	if n == 1 {
		return "1 record"
	}
	return fmt.Sprintf("%d records", n)
}

// lineOf returns the number of the line that the byte at an offset is in.
func lineOf(text []byte, offset int) int { return bytes.Count(text[:offset], []byte("\n")) + 1 }

// mayBeTurned says which bolts may have been turned: all that anything readable shows as begun
// with a turn. p, which may be nil, tells turns from other pulls where it is the only plan that the
// records were made by.
func (f *found) mayBeTurned(p *torque.Plan) string {
	planJSON, _ := json.Marshal(p)
	var bolts []string
	seen := map[string]bool{}
	begun := fmt.Appendf(nil, "\t%s\t", begin)
	revisedHere := fmt.Appendf(nil, "\t%s\t", revise)
	for _, c := range []*chain{&f.witness, &f.fresh, &f.ledger} {
		p := p
		if !bytes.Contains(c.data, planJSON) || bytes.Contains(c.data, revisedHere) {
			p = nil // its steps have other numbers
		}
		for line := range bytes.Lines(c.data) {
			if !bytes.Contains(line, begun) {
				continue
			}
			var fields [7][]byte
			if splitTabs(line, fields[:]) < 6 || parseEvent(fields[2]) != begin {
				continue
			}
			if bolt := string(fields[4]); bolt != "-" && !seen[bolt] && mayTurn(p, fields[3], bolt) {
				seen[bolt] = true
				bolts = append(bolts, bolt)
			}
		}
	}
	if !f.witness.whole() && !f.fresh.clean() {
		bolts = append(bolts, "any that comes after the last record")
	}
	if len(bolts) == 1 && f.witness.lines+f.fresh.lines+f.ledger.lines == 0 {
		return "any, for no record can be read"
	}
	if len(bolts) == 0 {
		return "none that they show"
	}
	return strings.Join(bolts, ", ")
}

// mayTurn reports whether the step of a number, as it is written, may be a turn of the bolt: unless
// the plan has it as another pull of the bolt.
func mayTurn(p *torque.Plan, of []byte, bolt string) bool {
	n, ok := number(of)
	if p == nil || !ok {
		return true
	}
	step, ok := p.Step(n)
	if !ok || step.Bolt != bolt {
		return true
	}
	_, turns := torque.As[torque.Turn](step.Do)
	return turns || step.Spends
}
