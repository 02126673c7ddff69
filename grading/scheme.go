package grading

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/units"
)

// A Side is a side of the oil film, and so of the codes.
type Side uint8

const (
	Housing Side = iota // the block or the rod
	Journal             // the crank
)

// String returns "housing" or "journal".
func (s Side) String() string {
	if s == Housing {
		return "housing"
	}
	return "journal"
}

// A Rule is how a scheme gets from codes to shells.
type Rule string

const (
	EachHalf Rule = "each half" // the housing's code gives the upper shell, the journal's the lower
	ByMatrix Rule = "matrix"    // a table of housing code by journal code gives both
	BySum    Rule = "sum"       // the sum of the two codes' numbers gives both
)

// A Scheme says which shells belong to which stamped codes. It is data, typed
// from the engine's manual by whoever has it: closefit holds none.
//
// Where shells are written as one text, as in a cell of a matrix, "red/blue" is
// a red upper and a blue lower shell, and "red" is red for both.
type Scheme struct {
	Name   string `toml:"name"`
	Source string `toml:"source,omitempty"` // the manual and its page
	Rule   Rule   `toml:"rule"`

	// Interchangeable says that the halves of one grade are the same part. If not,
	// upper and lower shells of a grade are bought apart.
	Interchangeable bool `toml:"interchangeable,omitempty"`

	Housing []Code   `toml:"housing"`
	Journal []Code   `toml:"journal"`
	Matrix  *Matrix  `toml:"matrix,omitempty"` // with the rule matrix
	Sums    []SumRow `toml:"sum,omitempty"`    // with the rule sum

	Shells   []Shell  `toml:"shell,omitempty"`  // what exists, with its walls
	Families []Family `toml:"family,omitempty"` // undersizes
	Mix      Mix      `toml:"mix,omitempty"`    // which shells may share a location, in selecting from sizes

	Limits *units.LengthInterval `toml:"limits,omitempty"` // of the running clearance
	Wanted *units.Length         `toml:"wanted,omitempty"` // the clearance aimed at; the middle of the limits if nil
}

// A Code is one code that can be stamped.
type Code struct {
	Code   string                `toml:"code"`
	Shell  string                `toml:"shell,omitempty"`  // with the rule each half: the grade for its half
	Number *int                  `toml:"number,omitempty"` // with the rule sum; if nil, the code itself is the number
	Size   *units.LengthInterval `toml:"size,omitempty"`   // the bore or journal diameter that the code stands for
}

// A Matrix gives shells by housing code and journal code.
type Matrix struct {
	Columns []string    `toml:"columns"` // journal codes
	Rows    []MatrixRow `toml:"row"`
}

// A MatrixRow is the shells for one housing code, in the order of the columns.
type MatrixRow struct {
	Housing string   `toml:"housing"`
	Shells  []string `toml:"shells"`
}

// A SumRow gives shells for a range of sums.
type SumRow struct {
	From   int    `toml:"from"`
	To     int    `toml:"to"`
	Shells string `toml:"shells"`
}

// A Shell is one shell that exists.
type Shell struct {
	Grade  string               `toml:"grade"`
	Half   Half                 `toml:"half,omitempty"` // Either if both halves are alike
	Family string               `toml:"family,omitempty"`
	Wall   units.LengthInterval `toml:"wall"` // thickness at the middle
}

// A Mix says which grades may share a location.
type Mix string

const (
	SameGrade  Mix = ""           // both halves of one grade
	Neighbours Mix = "neighbours" // of one grade, or of two that stand next to one another in order of wall
	AnyGrades  Mix = "any"
)

// Codes returns the codes of a side, in the scheme's order.
func (s *Scheme) Codes(side Side) []string {
	list := s.codes(side)
	codes := make([]string, len(list))
	for i, c := range list {
		codes[i] = c.Code
	}
	return codes
}

func (s *Scheme) codes(side Side) []Code {
	if side == Housing {
		return s.Housing
	}
	return s.Journal
}

// code finds a code.
func (s *Scheme) code(side Side, code string) (Code, error) {
	list := s.codes(side)
	i := slices.IndexFunc(list, func(c Code) bool { return c.Code == code })
	if i < 0 {
		return Code{}, &CodeError{Side: side, Code: code, Known: s.Codes(side)}
	}
	return list[i], nil
}

// Pair returns the shells for a housing code and a journal code. Errors:
// *CodeError for a code that the scheme does not hold; *SchemeError, which wraps
// ErrHole, where the scheme gives no shell.
func (s *Scheme) Pair(housing, journal string) (Pair, error) {
	h, err := s.code(Housing, housing)
	if err != nil {
		return Pair{}, err
	}
	j, err := s.code(Journal, journal)
	if err != nil {
		return Pair{}, err
	}
	switch s.Rule {
	case EachHalf:
		return s.eachHalf(h, j)
	case ByMatrix:
		return s.byMatrix(h, j)
	case BySum:
		return s.bySum(h, j)
	}
	return Pair{}, s.errorf(ErrRule, "rule", "%q; write %q, %q or %q", s.Rule, EachHalf, ByMatrix, BySum)
}

func (s *Scheme) eachHalf(h, j Code) (Pair, error) {
	upper, err := s.shellOf("housing "+h.Code, "upper", h.Shell)
	if err != nil {
		return Pair{}, err
	}
	lower, err := s.shellOf("journal "+j.Code, "lower", j.Shell)
	if err != nil {
		return Pair{}, err
	}
	return s.pairOf(upper, lower), nil
}

// shellOf reads the grade of one half.
func (s *Scheme) shellOf(place, half, text string) (string, error) {
	grade := strings.TrimSpace(text)
	if grade == "" {
		return "", s.errorf(ErrHole, place, "no shell; write the grade of the %s shell", half)
	}
	if strings.Contains(grade, "/") {
		return "", s.errorf(ErrDuplicate, place, "%q gives two shells to one half; write the grade of the %s shell", text, half)
	}
	return grade, nil
}

func (s *Scheme) byMatrix(h, j Code) (Pair, error) {
	place := cell(h.Code, j.Code)
	if s.Matrix == nil {
		return Pair{}, s.errorf(ErrHole, place, "the scheme has no matrix")
	}
	row := slices.IndexFunc(s.Matrix.Rows, func(r MatrixRow) bool { return r.Housing == h.Code })
	if row < 0 {
		return Pair{}, s.errorf(ErrHole, place, "the matrix has no row for housing %s", h.Code)
	}
	column := slices.Index(s.Matrix.Columns, j.Code)
	if column < 0 {
		return Pair{}, s.errorf(ErrHole, place, "the matrix has no column for journal %s", j.Code)
	}
	shells := s.Matrix.Rows[row].Shells
	if column >= len(shells) {
		return Pair{}, s.errorf(ErrHole, place, "the row ends before it; write its shells, as in \"red/blue\"")
	}
	return s.shellsOf(place, shells[column])
}

func (s *Scheme) bySum(h, j Code) (Pair, error) {
	place := cell(h.Code, j.Code)
	a, err := s.number(Housing, h)
	if err != nil {
		return Pair{}, err
	}
	b, err := s.number(Journal, j)
	if err != nil {
		return Pair{}, err
	}
	for _, r := range s.Sums {
		if r.From <= a+b && a+b <= r.To {
			return s.shellsOf(fmt.Sprintf("sum %d to %d", r.From, r.To), r.Shells)
		}
	}
	return Pair{}, s.errorf(ErrHole, place, "no range of sums holds %d + %d = %d", a, b, a+b)
}

// cell names a cell of a table.
func cell(housing, journal string) string { return "housing " + housing + ", journal " + journal }

// shellsOf reads shells written as one text.
func (s *Scheme) shellsOf(place, text string) (Pair, error) {
	grades := strings.Split(text, "/")
	for i, g := range grades {
		grades[i] = strings.TrimSpace(g)
	}
	switch {
	case slices.Contains(grades, ""):
		return Pair{}, s.errorf(ErrHole, place, "%q lacks a shell; write one for both halves, or two as in \"red/blue\"", text)
	case len(grades) > 2:
		return Pair{}, s.errorf(ErrDuplicate, place, "%q gives more than two shells; write one for both halves, or two as in \"red/blue\"", text)
	case len(grades) == 1:
		return s.pairOf(grades[0], grades[0]), nil
	}
	return s.pairOf(grades[0], grades[1]), nil
}

func (s *Scheme) pairOf(upper, lower string) Pair {
	if s.Interchangeable {
		return Pair{Part{upper, Either}, Part{lower, Either}}
	}
	return Pair{Part{upper, Upper}, Part{lower, Lower}}
}

// An Assignment is the shells that the codes of one location call for.
type Assignment struct {
	Location         string
	Housing, Journal Stamp
	Pairs            []Pair // one; several where an illegible code leaves them possible
}

// Pair returns the one pair; ok is false if there are several.
func (a Assignment) Pair() (p Pair, ok bool) {
	if len(a.Pairs) != 1 {
		return Pair{}, false
	}
	return a.Pairs[0], true
}

// Assign returns the shells for every location, from the codes of both sides as
// Row.Read returns them. The two must name the same locations in the same
// order: a rod the location of its crank pin. Errors: *LocationsError if they do
// not, and those of Pair.
func (s *Scheme) Assign(housing, journal []Stamp) ([]Assignment, error) {
	if err := sameLocations(housing, journal); err != nil {
		return nil, err
	}
	list := make([]Assignment, len(housing))
	for i := range housing {
		a := Assignment{Location: housing[i].Location, Housing: housing[i], Journal: journal[i]}
		for _, h := range housing[i].Possible {
			for _, j := range journal[i].Possible {
				p, err := s.Pair(h, j)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", a.Location, err)
				}
				if !slices.Contains(a.Pairs, p) {
					a.Pairs = append(a.Pairs, p)
				}
			}
		}
		list[i] = a
	}
	return list, nil
}

func sameLocations(housing, journal []Stamp) error {
	var names, codes []string
	for _, h := range housing {
		names = append(names, h.Location)
	}
	for _, j := range journal {
		codes = append(codes, j.Location)
	}
	if !slices.Equal(names, codes) {
		return &LocationsError{What: "journal codes", Than: "housing codes", Got: codes, Want: names}
	}
	return nil
}

// Demand counts the parts that the assignments call for, in the order in which
// they first call for them. The error is an *UndecidedError for the first
// location with more than one pair.
func Demand(assignments []Assignment) ([]Count, error) {
	var demand []Count
	for _, a := range assignments {
		p, ok := a.Pair()
		if !ok {
			return nil, &UndecidedError{Location: a.Location, Pairs: a.Pairs}
		}
		demand = append(demand, Count{Part: p.Upper, N: 1}, Count{Part: p.Lower, N: 1})
	}
	return total(demand), nil
}

// number returns the number that a code counts for in a sum.
func (s *Scheme) number(side Side, c Code) (int, error) {
	if c.Number != nil {
		return *c.Number, nil
	}
	n, err := strconv.Atoi(c.Code)
	if err != nil {
		return 0, s.errorf(ErrHole, side.String()+" "+c.Code, "no number to add; write one")
	}
	return n, nil
}
