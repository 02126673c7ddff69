package check

import (
	"fmt"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// shells checks the shells that a sheet chooses by the stamped codes.
type shells struct {
	spot
	name             string
	housing, journal spot
	scheme           *grading.Scheme
}

func (s *shells) check(w *window, t *tally) {
	cell := w.at(s.spot)
	if cell.Blank() {
		return
	}
	pair, err := s.pair(w)
	if err != nil {
		if !w.at(s.housing).Blank() || !w.at(s.journal).Blank() {
			t.claims++
			t.observe(w, s.spot, observation{severity: NotProven, claimed: cell.Text, causes: []explanation{{mistake: NoAnswer, says: err.Error()}}})
		}
		return
	}
	t.claims++
	if names(cell.Text, pair) {
		return
	}
	t.observe(w, s.spot, observation{severity: WrongValue, claimed: cell.Text, right: pair.String(), causes: s.diagnose(w, cell),
		working: func() units.Working {
			return units.Working{Name: s.name, Formula: "scheme " + s.scheme.Name,
				Numbers: "housing " + w.at(s.housing).Text + ", journal " + w.at(s.journal).Text, Result: pair.String(), Source: s.scheme.Source}
		}})
}

func (s *shells) pair(w *window) (grading.Pair, error) {
	return s.scheme.Pair(strings.TrimSpace(w.at(s.housing).Text), strings.TrimSpace(w.at(s.journal).Text))
}

// names reports whether a text means the pair: "B/C" is a B upper and a C lower,
// "B" is B for both. Between the halves may stand / or +, and the words upper and
// lower after them.
func names(text string, pair grading.Pair) bool {
	halves := strings.FieldsFunc(text, func(r rune) bool { return r == '/' || r == '+' })
	grade := func(half, place string) string {
		fields := strings.Fields(half)
		if n := len(fields); n > 1 && strings.EqualFold(fields[n-1], place) {
			fields = fields[:n-1]
		}
		return strings.Join(fields, " ")
	}
	switch len(halves) {
	case 1:
		one := grade(halves[0], "")
		return strings.EqualFold(one, pair.Upper.Grade) && strings.EqualFold(one, pair.Lower.Grade)
	case 2:
		return strings.EqualFold(grade(halves[0], "upper"), pair.Upper.Grade) && strings.EqualFold(grade(halves[1], "lower"), pair.Lower.Grade)
	}
	return false
}

func (s *shells) diagnose(w *window, cell *sheet.Cell) []explanation {
	var found []explanation
	try := func(pair grading.Pair, err error, mistake, says string, uses ...sheet.Place) {
		if err == nil && names(cell.Text, pair) {
			found = append(found, explanation{mistake: mistake, says: says, uses: uses})
		}
	}
	pair, err := s.pair(w)
	try(grading.Pair{Upper: pair.Lower, Lower: pair.Upper}, err, WrongWay, "upper and lower shell are exchanged")
	pair, err = s.scheme.Pair(strings.TrimSpace(w.at(s.journal).Text), strings.TrimSpace(w.at(s.housing).Text))
	try(pair, err, WrongWay, "the housing's code is taken for the journal's, and the journal's for the housing's")
	for _, row := range []*sheet.Row{w.previous, w.next} {
		if row == nil {
			continue
		}
		there := w.seenFrom(row)
		for _, from := range []struct {
			housing, journal *window
			says             string
			uses             []sheet.Place
		}{
			{there, w, fmt.Sprintf("the housing's code is that of %s", there.place(s.housing)), []sheet.Place{there.place(s.housing)}},
			{w, there, fmt.Sprintf("the journal's code is that of %s", there.place(s.journal)), []sheet.Place{there.place(s.journal)}},
			{there, there, fmt.Sprintf("both codes are those of %s and %s", there.place(s.housing), there.place(s.journal)), []sheet.Place{there.place(s.housing), there.place(s.journal)}},
		} {
			pair, err := s.scheme.Pair(strings.TrimSpace(from.housing.at(s.housing).Text), strings.TrimSpace(from.journal.at(s.journal).Text))
			try(pair, err, Neighbour, from.says, from.uses...)
		}
	}
	return ranked(found, cell.Formula)
}
