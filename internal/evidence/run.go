package evidence

import (
	"errors"
	"fmt"
	"maps"
	"math/big"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
)

// Package is the evidence of one library package and the checks that run it.
type Package struct {
	Name    string // its import path within the module: "clearance/isofit"
	Dir     string // where its evidence files are
	Checks  map[string]Check
	Lookups []string // the checks that only read a table of the library
}

// Outcome is what became of one row.
type Outcome struct {
	Row       *Row
	Misprint  bool // the row was expected to disagree
	Standing  Standing
	Got       Result
	Deviation *big.Rat // |got - want|; nil for a text
	Allowed   *big.Rat // the largest deviation that agrees; nil for a text
	Err       error    // nil when the row agrees, or disagrees as a misprint should
}

// Report is what became of the evidence of one package, in the order of its files.
type Report struct {
	Package  string
	Outcomes []Outcome
}

// Run evaluates a package's evidence and reports each row as a subtest, named
// package/id. All rows are evaluated whichever subtests are asked for, so the
// returned report is always whole.
func Run(t *testing.T, p Package) Report {
	t.Helper()
	report, err := Evaluate(p)
	if err != nil {
		t.Errorf("%s: %v", p.Name, err)
	}
	t.Run(p.Name, func(t *testing.T) {
		for _, o := range report.Outcomes {
			t.Run(o.Row.ID, func(t *testing.T) {
				if o.Err != nil {
					t.Error(o.Err)
				}
			})
		}
	})
	return report
}

// Evaluate runs every row of a package's evidence files. The error is about the
// package: a file that cannot be loaded, an id used in two files, a registered check
// without a row, a lookup that is no check. What is wrong with a single row stands in its [Outcome].
func Evaluate(p Package) (Report, error) {
	report := Report{Package: p.Name}
	files, err := filepath.Glob(filepath.Join(p.Dir, "*.csv"))
	if err != nil {
		return report, err
	}
	if len(files) == 0 {
		return report, &Error{File: p.Dir, Kind: ErrEmpty, Detail: "the folder has no .csv file"}
	}
	slices.Sort(files)

	var bad []error
	unused := maps.Clone(p.Checks)
	place := map[string]*Row{}
	facts := tally{lookups: p.Lookups, seen: map[string]bool{}}
	for _, file := range files {
		rows, err := Load(file)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		misprints := strings.Contains(filepath.Base(file), "misprints")
		for i := range rows {
			row := &rows[i]
			if first, twice := place[row.ID]; twice {
				bad = append(bad, row.errorf(ErrDuplicate, "first used in %s:%d", first.File, first.Line))
				continue
			}
			place[row.ID] = row
			o := evaluate(row, p.Checks[row.Check])
			if misprints {
				o = expectMisprint(o)
			} else {
				delete(unused, row.Check)
				o.Standing = facts.standing(row)
			}
			report.Outcomes = append(report.Outcomes, o)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(unused)) {
		bad = append(bad, &Error{File: p.Dir, Kind: ErrUnused, Detail: fmt.Sprintf("%q; a misprint does not count as one", name)})
	}
	for _, name := range p.Lookups {
		if p.Checks[name] == nil {
			bad = append(bad, &Error{File: p.Dir, Kind: ErrUnregistered, Detail: fmt.Sprintf("%q, which is said to read a table", name)})
		}
	}
	return report, errors.Join(bad...)
}

// evaluate runs one row.
func evaluate(row *Row, check Check) Outcome {
	o := Outcome{Row: row}
	if check == nil {
		o.Err = row.errorf(ErrUnregistered, "%q", row.Check)
		return o
	}
	row.forget()
	got, err := call(check, row)
	if err != nil {
		if _, placed := errors.AsType[*Error](err); placed {
			o.Err = err
			return o
		}
		e := row.errorf(ErrCheck, "")
		e.Cause = err
		o.Err = e
		return o
	}
	if unread := row.Unread(); len(unread) > 0 {
		o.Err = row.errorf(ErrUnread, "%s", list(unread))
		return o
	}
	o.Got = got
	o.Deviation, o.Allowed, o.Err = compare(row, got)
	return o
}

// call keeps a check that panics, for instance on a text that a Must function
// refuses, from hiding the rows after it.
func call(check Check, row *Row) (got Result, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("panic: %v\n%s", v, debug.Stack())
		}
	}()
	return check(row)
}

// compare returns how far got lies from what the row wants and how far it may. The
// error is nil when they agree and has the kind ErrDisagrees when they do not.
func compare(row *Row, got Result) (deviation, allowed *big.Rat, err error) {
	switch {
	case got.kind == noResult:
		return nil, nil, row.errorf(ErrCheck, "it returned no result and no error")
	case got.kind == textual && !row.Tolerance.Exact():
		return nil, nil, row.errorf(ErrKind, "the check gives the text %q, which has the tolerance 0 and not %s", got.text, row.Tolerance)
	case got.kind == textual && got.text != row.Want:
		return nil, nil, row.errorf(ErrDisagrees, "computed %q, the source has %q", got.text, row.Want)
	case got.kind == textual:
		return nil, nil, nil
	case got.kind == floatNumber && row.Tolerance.Exact():
		return nil, nil, row.errorf(ErrKind, "a float64 proves no exact value: give the row a tolerance")
	case got.number == nil:
		return nil, nil, row.errorf(ErrCheck, "it computed %s", got)
	}
	want, err := parseNumber(row.Want)
	if err != nil {
		return nil, nil, row.errorf(ErrKind, "the check gives the number %s; want %v", got, err)
	}
	allowed = row.Tolerance.Allowed(want)
	deviation = new(big.Rat).Sub(got.number, want.Rat())
	deviation.Abs(deviation)
	if deviation.Cmp(allowed) > 0 {
		err := row.errorf(ErrDisagrees, "computed %s, the source has %s %s; off by %s where %s allows %s",
			got, row.Want, row.unit, twoDigits(deviation), row.Tolerance, plain(allowed, 12))
		return deviation, allowed, err
	}
	return deviation, allowed, nil
}

// expectMisprint turns an outcome round: agreeing is the failure. A row that could
// not be run stays one.
func expectMisprint(o Outcome) Outcome {
	o.Misprint = true
	switch {
	case o.Err == nil:
		o.Err = o.Row.errorf(ErrAgrees, "computed %s, the source has %s %s; move the row to the other files", o.Got, o.Row.Want, o.Row.unit)
	case errors.Is(o.Err, ErrDisagrees):
		o.Err = nil
	}
	return o
}
