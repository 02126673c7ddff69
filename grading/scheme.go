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
	Housing Side = iota + 1 // the block or the rod
	Journal                 // the crank
)

// String returns "housing" or "journal", or that neither was said.
func (s Side) String() string {
	switch s {
	case Housing:
		return "housing"
	case Journal:
		return "journal"
	}
	return "neither housing nor journal"
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
	Ground   string   `toml:"ground,omitempty"` // the undersize family that the crank is ground to, as InFamily sets it; empty if it is not ground
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
	switch side {
	case Housing:
		return s.Housing
	case Journal:
		return s.Journal
	}
	return nil
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
// ErrHole, where the scheme gives no shell. Of a scheme with undersize families the
// shells are the standard ones.
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
	Housing, Journal Stamp    // with every code that is still possible
	Pairs            []Pair   // one; several where codes leave them possible
	Why              []string // which codes leave several pairs, and what would tell; empty if there is one
}

// Pair returns the one pair; ok is false if there are several.
func (a Assignment) Pair() (p Pair, ok bool) {
	if len(a.Pairs) != 1 {
		return Pair{}, false
	}
	return a.Pairs[0], true
}

// Assign returns the shells for every location, from the codes of both sides. The
// two must name the same locations in the same order: a rod the location of its
// crank pin. A location keeps every pair that an illegible code, or a row that can
// be read in another way, leaves possible.
//
// Errors: *RowError, which wraps ErrSide for the codes of one side given as those
// of the other, ErrNoCodes for a reading or a location without codes, or
// ErrOldStamps for journal codes that are older or newer than the grinding of the
// crank; *SchemeError, which wraps ErrNotGround, for a scheme with undersize
// families of which none, nor Standard, was chosen by InFamily; *LocationsError
// for other locations; and those of Pair.
func (s *Scheme) Assign(housing, journal Reading) ([]Assignment, error) {
	if err := s.assignable(housing, journal); err != nil {
		return nil, err
	}
	list := make([]Assignment, len(housing.Stamps))
	bores, journals := housing.merged(), journal.merged()
	for i := range list {
		a := Assignment{Location: bores[i].Location, Housing: bores[i], Journal: journals[i]}
		pairs := make([][]Pair, len(a.Housing.Possible)) // by housing code, then by journal code
		for k, h := range a.Housing.Possible {
			for _, j := range a.Journal.Possible {
				p, err := s.Pair(h, j)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", a.Location, err)
				}
				pairs[k] = append(pairs[k], p)
				if !slices.Contains(a.Pairs, p) {
					a.Pairs = append(a.Pairs, p)
				}
			}
		}
		if slices.ContainsFunc(pairs, func(of []Pair) bool { return !slices.Equal(of, pairs[0]) }) {
			a.Why = append(a.Why, housing.why(i)...)
		}
		if slices.ContainsFunc(pairs, func(of []Pair) bool { return len(slices.Compact(slices.Clone(of))) > 1 }) {
			a.Why = append(a.Why, journal.why(i)...)
		}
		list[i] = a
	}
	return list, nil
}

// assignable returns an error unless the readings are codes of both sides for this
// scheme.
func (s *Scheme) assignable(housing, journal Reading) error {
	if len(s.Families) > 0 {
		names := make([]string, len(s.Families))
		for i, f := range s.Families {
			names[i] = f.Name
		}
		return s.errorf(ErrNotGround, "journal", "choose %s, or %s for a crank that was never ground, by InFamily", strings.Join(names, ", "), Standard)
	}
	if err := housing.check(Housing); err != nil {
		return err
	}
	if err := journal.check(Journal); err != nil {
		return err
	}
	if housing.Row.Ground != "" {
		return housing.Row.errorf(ErrOldStamps, "a housing is not ground to an undersize; leave %q out", housing.Row.Ground)
	}
	if got := journal.Row.Ground; got != s.Ground {
		if got == "" {
			return journal.Row.errorf(ErrOldStamps, "the crank is ground to %s, and its codes are of the sizes before; say that they were stamped for %[1]s, or measure and select from sizes", s.Ground)
		}
		return journal.Row.errorf(ErrOldStamps, "they were stamped for %s, and the crank is %s; choose the scheme of %[1]s by InFamily", got, orStandard(s.Ground))
	}
	return sameLocations(housing.Stamps, journal.Stamps)
}

func orStandard(ground string) string {
	if ground == "" {
		return Standard
	}
	return "ground to " + ground
}

// why says what leaves several codes possible at the location of that index.
func (r Reading) why(i int) []string {
	var why []string
	if s := r.Stamps[i]; len(s.Possible) > 1 {
		why = append(why, fmt.Sprintf("%s code %s is not legible: find it, or measure and select from sizes", r.Row.Side, s.Code))
	}
	for _, a := range r.Others {
		if !slices.Equal(a.Stamps[i].Possible, r.Stamps[i].Possible) {
			return append(why, r.Question())
		}
	}
	return why
}

func sameLocations(housing, journal []Stamp) error {
	names, codes := locationsOf(housing), locationsOf(journal)
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
			return nil, &UndecidedError{Location: a.Location, Pairs: a.Pairs, Why: a.Why}
		}
		demand = append(demand, Count{Part: p.Upper, N: 1}, Count{Part: p.Lower, N: 1})
	}
	return total(demand), nil
}

// number returns the number that a code counts for in a sum.
func (s *Scheme) number(side Side, c Code) (int, error) {
	if c.Number == nil {
		n, err := strconv.Atoi(c.Code)
		if err != nil {
			return 0, s.errorf(ErrHole, side.String()+" "+c.Code, "no number to add; write one")
		}
		c.Number = &n
	}
	if n := *c.Number; n > maxNumber || n < -maxNumber {
		return 0, s.errorf(ErrTooLarge, side.String()+" "+c.Code, "%d counts for more than any code; write a number within ±%d", n, maxNumber)
	}
	return *c.Number, nil
}
