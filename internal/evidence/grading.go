package evidence

import (
	"errors"
	"slices"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// gradingChecks are the checks of package grading.
func gradingChecks() map[string]Check {
	checks := map[string]Check{"washer": washer}
	for name, end := range map[string]func(units.LengthInterval) units.Length{
		"low": units.LengthInterval.Lo, "high": units.LengthInterval.Hi,
	} {
		for check, of := range map[string]func(*Row) (units.LengthInterval, error){
			"wall": grownWall, "journal": groundJournal, "inside": fittedInside, "clearance": runningClearance, "left by two": leftByTwo,
		} {
			checks[check+" "+name] = func(r *Row) (Result, error) {
				size, err := of(r)
				if err != nil {
					return Result{}, err
				}
				return inUnit(r, end(size))
			}
		}
	}
	return checks
}

// inFamily returns a scheme of one housing, one journal and one shell, ground to
// the undersize of the row. An empty size is left out.
func inFamily(r *Row, housing, journal, wall units.LengthInterval) (*grading.Scheme, error) {
	undersize, err := Parse(r, "undersize", units.ParseLength)
	if err != nil {
		return nil, err
	}
	s := &grading.Scheme{
		Name: "one of each", Housing: []grading.Code{{Code: "H", Shell: "S", Size: housing}},
		Journal:  []grading.Code{{Code: "J", Shell: "S", Size: journal}},
		Families: []grading.Family{{Name: "ground", Undersize: undersize}},
	}
	if !wall.IsEmpty() {
		s.Shells = []grading.Shell{{Grade: "S", Wall: wall}}
	}
	ground, err := s.InFamily("ground")
	if err != nil {
		return nil, err
	}
	return ground, ground.Validate()
}

func grownWall(r *Row) (units.LengthInterval, error) {
	standard, err := Parse(r, "standard", units.ParseLengthInterval)
	if err != nil {
		return standard, err
	}
	s, err := inFamily(r, units.LengthInterval{}, units.LengthInterval{}, standard)
	if err != nil {
		return standard, err
	}
	return s.Shells[0].Wall, nil
}

func groundJournal(r *Row) (units.LengthInterval, error) {
	standard, err := Parse(r, "standard", units.ParseLengthInterval)
	if err != nil {
		return standard, err
	}
	s, err := inFamily(r, units.LengthInterval{}, standard, units.LengthInterval{})
	if err != nil {
		return standard, err
	}
	return s.Journal[0].Size, nil
}

// fittedInside is the inside diameter of a bearing whose housing is as large as
// the standard one needs.
func fittedInside(r *Row) (units.LengthInterval, error) {
	standard, errStandard := Parse(r, "standard", units.ParseLengthInterval)
	wall, errWall := Parse(r, "wall", units.ParseLengthInterval)
	if err := errors.Join(errStandard, errWall); err != nil {
		return standard, err
	}
	housing := standard.Add(wall).Add(wall)
	s, err := inFamily(r, housing, standard, wall)
	if err != nil {
		return standard, err
	}
	return s.Housing[0].Size.Sub(s.Shells[0].Wall).Sub(s.Shells[0].Wall), nil
}

func runningClearance(r *Row) (units.LengthInterval, error) {
	bore, errBore := Parse(r, "bore", units.ParseLengthInterval)
	wall, errWall := Parse(r, "wall", units.ParseLengthInterval)
	journal, errJournal := Parse(r, "journal", units.ParseLengthInterval)
	if err := errors.Join(errBore, errWall, errJournal); err != nil {
		return bore, err
	}
	s := &grading.Scheme{
		Name: "one of each", Housing: []grading.Code{{Code: "H", Shell: "S", Size: bore}},
		Journal: []grading.Code{{Code: "J", Shell: "S", Size: journal}},
		Shells:  []grading.Shell{{Grade: "S", Wall: wall}},
		Limits:  units.MustParseLengthInterval("0..0.1 mm"), // any will do
	}
	a, err := s.Audit()
	if a == nil {
		return bore, err
	}
	return a.AsTyped, nil
}

// leftByTwo is what two parts alike leave of a space.
func leftByTwo(r *Row) (units.LengthInterval, error) {
	space, errSpace := Parse(r, "space", units.ParseLengthInterval)
	part, errPart := Parse(r, "part", units.ParseLengthInterval)
	if err := errors.Join(errSpace, errPart); err != nil {
		return space, err
	}
	w := grading.Scheme{Limits: units.MustParseLengthInterval("0..1 m"), Shells: []grading.Shell{{Grade: "one", Wall: part}}}
	places, err := w.Fits([]grading.Site{{Location: "space", Room: space}})
	if err != nil {
		return space, err
	}
	return places[0][0].Clearance, nil
}

// washer names the step of which a pair brings the end play inside the limits.
// Every input but those it names is a step with its thickness.
func washer(r *Row) (Result, error) {
	endPlay, errPlay := Parse(r, "end_play", units.ParseLengthInterval)
	fitted, errFitted := Parse(r, "fitted", units.ParseLengthInterval)
	limits, errLimits := Parse(r, "limits", units.ParseLengthInterval)
	if err := errors.Join(errPlay, errFitted, errLimits); err != nil {
		return Result{}, err
	}
	w := grading.Scheme{Name: "thrust washers", Limits: limits}
	for _, step := range r.Keys() {
		if slices.Contains([]string{"end_play", "fitted", "limits"}, step) {
			continue
		}
		thickness, err := Parse(r, step, units.ParseLengthInterval)
		if err != nil {
			return Result{}, err
		}
		w.Shells = append(w.Shells, grading.Shell{Grade: step, Wall: thickness})
	}
	// Both washers that were fitted are exchanged: what they and the end play fill is room.
	places, err := w.Fits([]grading.Site{{Location: "crankshaft", Room: endPlay.Add(fitted)}})
	switch {
	case errors.Is(err, grading.ErrNoFit):
		return Text("none"), nil
	case err != nil:
		return Result{}, err
	case len(places[0]) != 1:
		return Result{}, errors.New("more than one step is inside the limits")
	}
	return Text(places[0][0].Pair.Upper.Grade), nil
}
