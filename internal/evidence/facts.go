package evidence

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Standing says whether a row asserts something that no other row of its package does,
// and that the library could get wrong.
type Standing string

const (
	Fact       Standing = "fact"        // none of the following
	Follows    Standing = "derived"     // its provenance or its note: it follows from another value
	Repeat     Standing = "repeat"      // a row before it asserts the same, perhaps from another source
	LookedUp   Standing = "looked up"   // its check reads the library's own table: the row shows that the table was typed right
	HandedBack Standing = "handed back" // the value wanted is one of the inputs
)

// Standings returns every standing.
func Standings() []Standing { return []Standing{Fact, Follows, Repeat, LookedUp, HandedBack} }

// sameAs begins the note of a row that puts the value of another package's row through
// this package: "the value of clearance/shell-0.010-lo".
const sameAs = "the value of "

// followsFrom begins the note of a recalled value that adds nothing to another: the other
// end of a tolerance interval of known width.
const followsFrom = "follows from "

// original returns the package and the id of the row whose value a row repeats by its
// own note, or "", "".
func (r *Row) original() (pkg, id string) {
	rest, repeats := strings.CutPrefix(r.Note, sameAs)
	if !repeats {
		return "", ""
	}
	name, _, _ := strings.Cut(rest, ";")
	name, _, _ = strings.Cut(name, ",")
	i := strings.LastIndex(name, "/")
	if i < 0 {
		return "", strings.TrimSpace(name)
	}
	return strings.TrimSpace(name[:i]), strings.TrimSpace(name[i+1:])
}

// A tally gives the rows of a package their standing, in the order of its files.
type tally struct {
	lookups []string
	seen    map[string]bool
}

func (t tally) standing(r *Row) Standing {
	claim := r.claim()
	repeats := t.seen[claim]
	_, repeated := r.original()
	follows := r.Provenance == Derived || strings.HasPrefix(r.Note, followsFrom)
	if !follows {
		t.seen[claim] = true
	}
	switch {
	case follows:
		return Follows
	case repeats, repeated != "":
		return Repeat
	case slices.Contains(t.lookups, r.Check):
		return LookedUp
	case r.handsBack():
		return HandedBack
	}
	return Fact
}

var quantityForm = regexp.MustCompile(`^([+-]?(?:\d+(?:\.\d+)?|\.\d+)) ?([^\d\s.;].*)$`)

// claim is a text that two rows share if they assert the same: one check, inputs and
// unit. Where one quantity goes in and another comes out, as in a conversion, the way
// back asserts the same as the way there.
func (r *Row) claim() string {
	var all, rest, ends []string
	out := quantityText(r.Want, r.unit)
	for _, in := range r.inputs {
		text := in.key + "=" + in.value
		all = append(all, text)
		m := quantityForm.FindStringSubmatch(in.value)
		switch {
		case in.key == "from" && m == nil: // a factor, from one unit to another
			ends, out = append(ends, in.value), r.unit
		case m != nil:
			ends = append(ends, quantityText(m[1], m[2]))
		default:
			rest = append(rest, text)
		}
	}
	if len(ends) != 1 {
		return strings.Join(append([]string{r.Check, r.unit}, all...), "; ")
	}
	ends = append(ends, out)
	slices.Sort(ends)
	return strings.Join(slices.Concat([]string{r.Check}, ends, rest), "; ")
}

// quantityText writes a number without its closing zeros, and a unit.
func quantityText(number, unit string) string {
	if d, err := parseNumber(number); err == nil {
		number = d.String()
	}
	return number + " " + unit
}

// handsBack tells a row whose value stands among its inputs with its unit: "70 lbf·ft"
// of "tighten 70..75 lbf·ft".
func (r *Row) handsBack() bool {
	want, err := parseNumber(r.Want)
	if err != nil || r.unit == "" {
		return false
	}
	const number = `[+-]?(?:\d+(?:\.\d+)?|\.\d+)`
	form := regexp.MustCompile(`(?:(` + number + `)\.\.)?(` + number + `) ?` + regexp.QuoteMeta(r.unit) + `(?:$|[\s;,])`)
	for _, in := range r.inputs {
		for _, m := range form.FindAllStringSubmatch(in.value, -1) {
			for _, text := range m[1:] {
				if d, err := parseNumber(text); err == nil && d.Equal(want) {
					return true
				}
			}
		}
	}
	return false
}

// CheckOriginals returns an error for the first row whose note says that it has the value
// of a row that is not there, or that wants something else.
func CheckOriginals(reports []Report) error {
	rows := map[string]*Row{}
	for _, report := range reports {
		for _, o := range report.Outcomes {
			rows[report.Package+"/"+o.Row.ID] = o.Row
		}
	}
	for _, report := range reports {
		for _, o := range report.Outcomes {
			pkg, id := o.Row.original()
			if id == "" {
				continue
			}
			name := fmt.Sprintf("%s/%s", pkg, id)
			first, there := rows[name]
			switch {
			case !there:
				return o.Row.errorf(ErrOriginal, "no row %s; write %sPACKAGE/ID", name, sameAs)
			case first.Document() != o.Row.Document() || !sameSize(first, o.Row):
				return o.Row.errorf(ErrOriginal, "%s wants %s %s of %s, and this row %s %s of %s",
					name, first.Want, first.unit, first.Document(), o.Row.Want, o.Row.unit, o.Row.Document())
			}
		}
	}
	return nil
}

// sameSize tells rows that want the same, or one an interference and the other the
// clearance of it.
func sameSize(a, b *Row) bool {
	x, errX := parseNumber(a.Want)
	y, errY := parseNumber(b.Want)
	if errX != nil || errY != nil {
		return a.Want == b.Want
	}
	return x.Abs().Equal(y.Abs()) && a.unit == b.unit
}
