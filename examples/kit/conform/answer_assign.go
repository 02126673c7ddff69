package conform

import (
	"errors"
	"slices"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

func assignKinds() map[string]answerer {
	return map[string]answerer{"assign": kind(assign), "sizes": kind(sizes), "undersize": kind(undersize)}
}

// A scheme is the part of a grading.Scheme that the questions use.
type scheme struct {
	Housing []code     `json:"housing"`
	Journal []code     `json:"journal"`
	Matrix  [][]string `json:"matrix"`
	Sums    []struct {
		From, To int
		Shells   string
	} `json:"sum"`
	Shells []struct{ Grade, Wall string } `json:"shell"`
	Limits string                         `json:"limits"`
	Mix    int                            `json:"mix"`
}

type code struct {
	Code   string `json:"code"`
	Shell  string `json:"shell"`
	Number *int   `json:"number"`
}

func (s scheme) made() (*grading.Scheme, error) {
	made := &grading.Scheme{Name: "scheme", Matrix: s.Matrix, Mix: s.Mix}
	for _, c := range s.Housing {
		made.Housing = append(made.Housing, grading.Code{Code: c.Code, Shell: c.Shell, Number: c.Number})
	}
	for _, c := range s.Journal {
		made.Journal = append(made.Journal, grading.Code{Code: c.Code, Shell: c.Shell, Number: c.Number})
	}
	for _, row := range s.Sums {
		made.Sums = append(made.Sums, grading.SumRow(row))
	}
	for _, sh := range s.Shells {
		wall, err := units.ParseLengthInterval(sh.Wall)
		if err != nil {
			return nil, err
		}
		made.Shells = append(made.Shells, grading.Shell{Grade: sh.Grade, Wall: wall})
	}
	if s.Limits != "" {
		var err error
		if made.Limits, err = units.ParseLengthInterval(s.Limits); err != nil {
			return nil, err
		}
	}
	return made, nil
}

func assign(q struct {
	Scheme scheme
	Codes  struct {
		Locations        []string
		Housing, Journal struct{ Text string }
	}
}) (answer, error) {
	s, err := q.Scheme.made()
	if err != nil {
		return nil, err
	}
	read := func(side grading.Side, text string) (grading.RowReading, error) {
		// The page says that codes stand in the order of the locations.
		at := q.Codes.Locations
		return grading.Row{Text: text, Side: side, Locations: at, From: at[0], Upright: true, Codes: s.Codes(side)}.Read()
	}
	housing, err := read(grading.Housing, q.Codes.Housing.Text)
	if err != nil {
		return nil, err
	}
	journal, err := read(grading.Journal, q.Codes.Journal.Text)
	if err != nil {
		return nil, err
	}
	assigned, err := s.Assign(housing, journal)
	if e, is := errors.AsType[*units.Error](err); is && errors.Is(e, grading.ErrScheme) && len(q.Scheme.Sums) > 0 {
		return none(), nil
	}
	if err != nil {
		return nil, err
	}
	pairs := []any{}
	for _, a := range assigned {
		if len(a.Pairs) == 1 {
			pairs = append(pairs, []any{a.Pairs[0].Upper.Grade, a.Pairs[0].Lower.Grade})
		} else {
			pairs = append(pairs, nil)
		}
	}
	return answer{"pairs": pairs}, nil
}

func sizes(q struct {
	Scheme scheme
	Room   string
}) (answer, error) {
	s, err := q.Scheme.made()
	if err != nil {
		return nil, err
	}
	room, err := units.ParseLengthInterval(q.Room)
	if err != nil {
		return nil, err
	}
	found, err := s.Fits([]grading.Site{{Location: "1", Room: room}})
	switch {
	case errors.Is(err, grading.ErrNoFit):
		return answer{"fits": []any{}}, nil
	case err != nil:
		return nil, err
	}
	place := func(grade string) int {
		return slices.IndexFunc(s.Shells, func(sh grading.Shell) bool { return sh.Grade == grade })
	}
	slices.SortFunc(found[0], func(a, b grading.PairFit) int {
		if d := place(a.Pair.Upper.Grade) - place(b.Pair.Upper.Grade); d != 0 {
			return d
		}
		return place(a.Pair.Lower.Grade) - place(b.Pair.Lower.Grade)
	})
	fits := []any{}
	for _, f := range found[0] {
		fits = append(fits, []any{f.Pair.Upper.Grade, f.Pair.Lower.Grade})
	}
	return answer{"fits": fits}, nil
}

func undersize(q struct{ Part, Standard, Undersize, Oversize, Unit string }) (answer, error) {
	standard, err := units.ParseLengthInterval(q.Standard)
	if err != nil {
		return nil, err
	}
	u, err := units.Parse[units.LengthUnit](q.Unit)
	if err != nil {
		return nil, err
	}
	if q.Oversize != "" {
		by, err := units.ParseLength(q.Oversize)
		return ends(standard.Shift(by), u), err
	}
	by, err := units.ParseLength(q.Undersize)
	if err != nil {
		return nil, err
	}
	none := units.Exactly(units.Length{})
	switch q.Part {
	case "wall":
		return ends(clearance.Bearing{UpperWall: standard}.Undersized(by).UpperWall, u), nil
	case "journal":
		return ends(clearance.Bearing{Journal: standard}.Undersized(by).Journal, u), nil
	case "bore": // within the shells
		b := clearance.Bearing{HousingBore: standard, UpperWall: none, LowerWall: none}.Undersized(by)
		return ends(b.HousingBore.Sub(b.UpperWall).Sub(b.LowerWall), u), nil
	}
	return nil, errors.New("no such part")
}
