package job

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/grading"
)

// A CodeRow is a row of grade codes as somebody reads it off the engine: where it stands, and where the job's file
// has it.
type CodeRow struct {
	Part      string   // of the shells that it chooses: "main" or "rod"
	Half      string   // of the shells that it chooses, or helps to: "upper" by the housings, "lower" by the journals
	Name      string   // "main journal codes"
	On        string   // what it is stamped on
	Locations []string // in the engine's order
	Codes     []string // that the scheme has for it, as it lists them
	Text      string   // as the file has it; "?" where it has none
	Open      bool     // nothing of it was read
	Begins    string   // the location to which its first code belongs; "?" where it is not said
	Upright   bool     // it is known to stand the right way up
	Mark      string   // a mark beside the codes; may be empty
	MarkAt    string   // the location beside which it stands
	Keys      []string // of the table of codes in the file, as tomlfile.SetText takes them
}

// stampedOn says what the codes of a half are stamped on, as most manuals have it (common practice, no source).
var stampedOn = map[string]map[string]string{
	"main": {"upper": "the block", "lower": "the crankshaft"},
	"rod":  {"upper": "the rods", "lower": "the crankshaft"},
}

// CodeRows are the rows of codes that choose the job's shells; none where no table of them is known.
func (j *Job) CodeRows() []CodeRow {
	var all []CodeRow
	for i := range j.shells {
		set := &j.shells[i]
		if set.scheme == nil {
			continue
		}
		for _, half := range []string{"upper", "lower"} {
			text, how, side := set.codes.row(half)
			row := CodeRow{Part: set.part, Half: half, Name: set.line(side) + " codes", On: stampedOn[set.part][half], Locations: set.stampedAt(j, half), Codes: set.scheme.Codes(side),
				Text: or(text, open), Open: text == "" || rowOpen(text), Begins: open, Keys: []string{"shells", set.part, "codes"}}
			if how != nil {
				row.Begins, row.Upright, row.Mark, row.MarkAt = or(how.Begins, open), how.Upright, how.Mark, how.MarkAt
			}
			if len(row.Codes) > 0 {
				all = append(all, row)
			}
		}
	}
	return all
}

// row is one of the rows, how it is read, and whose codes it has.
func (t codesTable) row(half string) (string, *rowTable, grading.Side) {
	if half == "upper" {
		return t.Upper, t.UpperRow, grading.Housing
	}
	return t.Lower, t.LowerRow, grading.Journal
}

// Backwards reports whether a text of the row begins at the last of its locations.
func (c CodeRow) Backwards(text string) bool {
	last := c.Locations[len(c.Locations)-1]
	switch {
	case c.Begins != open:
		return c.Begins == last
	case c.Mark == "":
		return false
	case strings.HasPrefix(text, c.Mark):
		return c.MarkAt == last
	}
	return strings.HasSuffix(text, c.Mark) && c.MarkAt != last
}

// CodesTried is what a row of codes would lead to, before it is written into the job.
type CodesTried struct {
	Problem    string // why the text is no row, and what to write instead; empty if it is one
	EitherEnd  bool   // it reads as validly from its other end, and the shells depend on which is meant
	UpsideDown bool   // likewise the other way up
	At         []CodeAt
}

// CodeAt is a code of a row, and the shells that its location gets.
type CodeAt struct {
	Location string
	Code     string
	Shells   []ShellsFor // of its bearing; of each rod on a pin
}

// ShellsFor is which shells a location gets.
type ShellsFor struct {
	Location string
	Shells   string // "upper oak, lower elm"; several grades where it is open between them; empty if nothing is known
	Chosen   bool   // they are chosen, by what the job says now
	Why      string // why none are, or why others than the codes call for
}

// TryCodes reads a text as a row of codes, and says which shells each location gets with it. Codes of the other row
// that were not read count as illegible. a is the job's assessment as it stands: shells that are in, and proven, stay.
// The job stays as it is.
func (j *Job) TryCodes(a *Assessment, part, half, text string) CodesTried {
	i := slices.IndexFunc(j.shells, func(s shellSet) bool { return s.part == part })
	if i < 0 || j.shells[i].scheme == nil || half != "upper" && half != "lower" {
		return CodesTried{Problem: "The job has no such row of codes."}
	}
	set := j.shells[i]
	set.rows, set.coded, set.unread = nil, nil, false
	illegible := func(half string) string {
		return strings.TrimSpace(strings.Repeat(open+" ", len(set.stampedAt(j, half))))
	}
	if half == "upper" {
		set.codes.Upper = text
	} else {
		set.codes.Lower = text
	}
	for half, row := range map[string]*string{"upper": &set.codes.Upper, "lower": &set.codes.Lower} {
		if *row == "" || rowOpen(*row) {
			*row = illegible(half)
		}
	}
	r := *j.reader
	r.errs = nil
	if r.assignRows(j, &set, set.codes); len(r.errs) > 0 || set.coded == nil {
		return CodesTried{Problem: problem(r.errs)}
	}
	_, _, side := set.codes.row(half)
	var t CodesTried
	list := j.choices(&set, a.inside(set.name()))
	unsure := slices.ContainsFunc(list, func(c chosen) bool { return len(c.assigned.Pairs) > 1 })
	for _, other := range set.rows[side].reading.Others {
		t.EitherEnd, t.UpsideDown = t.EitherEnd || other.Reversed && unsure, t.UpsideDown || other.UpsideDown && unsure
	}
	at := set.stampedAt(j, half)
	for _, location := range at {
		x := CodeAt{Location: location}
		for _, c := range list {
			if c.location != location && j.placeOfRod(c.location, at) != location {
				continue
			}
			if x.Code = c.assigned.Housing.Code; half == "lower" {
				x.Code = c.assigned.Journal.Code
			}
			if len(c.open) == 0 {
				c.wrong = j.wrongBySizes(&set, &c)
			}
			x.Shells = append(x.Shells, c.shells(&set))
		}
		t.At = append(t.At, x)
	}
	return t
}

// placeOfRod is the pin that a rod is on, where codes are of pins.
func (j *Job) placeOfRod(rod string, at []string) string {
	if pin := j.engine.pinOf(rod); slices.Contains(at, pin) {
		return pin
	}
	return rod
}

// shells are which shells a location gets, in words.
func (c *chosen) shells(set *shellSet) ShellsFor {
	s := ShellsFor{Location: c.location}
	switch {
	case c.wrong != "":
		s.Shells, s.Why = fitText(c.parts), c.wrong
	case len(c.parts) == 2 && len(c.open) == 0:
		s.Shells, s.Chosen = fitText(c.parts), true
		if c.by == byHand {
			s.Why = "as the job says in fit"
		}
	case c.by == asFitted && len(c.open) == 0:
		s.Shells, s.Chosen = "those that are fitted", true
	case len(c.open) == 0 && c.by == bySizes:
		s.Shells, s.Chosen = "by the sizes", true
	default:
		if upper, lower := c.choice("upper").Grade, c.choice("lower").Grade; upper != "" {
			s.Shells = fmt.Sprintf("upper %s, lower %s", upper, lower)
		}
		s.Why = c.whyOpen(set)
	}
	return s
}

// whyOpen is why the shells of a location are not known, in few words.
func (c *chosen) whyOpen(set *shellSet) string {
	switch {
	case set.ground[c.location] != nil:
		return "its journal was ground, so that its code no longer counts"
	case len(c.assigned.Why) > 0 && len(c.assigned.Pairs) > 1:
		var all []string
		for _, why := range c.assigned.Why {
			for _, row := range set.rows {
				if strings.HasPrefix(why, fmt.Sprintf("%s codes %q", row.reading.Row.Side, row.reading.Row.Text)) {
					why = fmt.Sprintf("open until it is said how the row of %s codes is read", row.reading.Row.Side)
				}
			}
			all = append(all, why)
		}
		return strings.Join(all, "; ")
	case len(c.open) > 0:
		why, _, _ := strings.Cut(strings.TrimPrefix(c.open[0], itemName(set.name(), c.location, "shells")+": "), ". ")
		return why
	}
	return "not known"
}
