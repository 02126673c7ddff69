package fasteners

import (
	"math/big"
	"slices"
	"strings"
	"unicode"

	"example.com/closefit/units"
)

// A Strength is what a property class or grade promises of a bolt of one thread: least
// values, of a new bolt that bears the mark. Stresses refer to the nominal stress area. It
// comes from ISO898 or SAEJ429 and holds for its Thread alone; the zero Strength promises
// nothing.
type Strength struct {
	Thread   Thread         `json:"thread"`
	Class    string         `json:"class"`    // "10.9", "8" of SAE J429
	Standard string         `json:"standard"` // "ISO 898-1:2013"
	Proof    units.Pressure `json:"proof"`    // the stress of the proof load, which must leave no stretch: Sp
	Yield    units.Pressure `json:"yield"`    // ReL, Rp0.2 or, of 4.8 to 6.8, Rpf: where permanent stretch begins
	Tensile  units.Pressure `json:"tensile"`  // Rm, where it breaks

	Elongation *units.Ratio         `json:"elongation"` // the least after fracture, of a machined test piece; nil if the standard gives none
	Hardness   *units.RatioInterval `json:"hardness"`   // Vickers hardness HV; nil if the standard gives none
}

// UnmarshalJSON reads the exchange form. A strength that is not the one of its standard,
// class and thread is an error.
func (s *Strength) UnmarshalJSON(data []byte) error {
	type strength Strength
	var w strength
	if err := units.DecodeObject(data, &w); err != nil {
		return err
	}
	if err := Strength(w).check(); err != nil {
		return err
	}
	*s = Strength(w)
	return nil
}

// same compares what may be missing.
func same[T interface{ Equal(T) bool }](a, b *T) bool {
	if a == nil || b == nil {
		return a == b
	}
	return (*a).Equal(*b)
}

// check refuses a Strength that ISO898 or SAEJ429 does not give for its thread.
func (s Strength) check() error {
	if s.Thread.form == noForm {
		return classError("strength", s.Class, s.Thread.String(), "ask ISO898 or SAEJ429 for the bolt's thread")
	}
	of := ISO898
	if s.Thread.IsUnified() {
		of = SAEJ429
	}
	promised, err := of(s.Class, s.Thread)
	if err != nil {
		return err
	}
	if !promised.equal(s) {
		return classError("strength", s.Class, s.Thread.String(), "ask ISO898 or SAEJ429 for this thread: the values are those of another")
	}
	return nil
}

func (s Strength) equal(o Strength) bool {
	return s.Thread.Equal(o.Thread) && s.Class == o.Class && s.Standard == o.Standard &&
		s.Proof.Equal(o.Proof) && s.Yield.Equal(o.Yield) && s.Tensile.Equal(o.Tensile) &&
		same(s.Elongation, o.Elongation) && same(s.Hardness, o.Hardness)
}

// ISO898 returns what ISO 898-1 promises of a metric bolt of a property class: "8.8",
// "10.9", "12.9" and so on.
//
// The error is of kind ErrClass for a class that the standard does not hold, or not for that
// diameter, and for a thread that is not metric.
//
// Source: ISO 898-1:2013, tables 3 to 7; sizes M1.6 to M39.
func ISO898(class string, t Thread) (Strength, error) {
	class = strings.TrimSpace(class)
	if !t.IsMetric() {
		return Strength{}, classError("property class", class, t.String(), "ISO 898-1 is for metric threads; ask SAEJ429 for a unified one")
	}
	if t.major.Less(tenthsOfMillimetre(16)) || tenthsOfMillimetre(390).Less(t.major) {
		return Strength{}, classError("property class", class, t.String(), "ISO 898-1 is for M1.6 to M39")
	}
	i := slices.IndexFunc(iso898, func(p iso898Class) bool { return p.class == class && p.holds(t.major) })
	if i < 0 {
		known := slices.ContainsFunc(iso898, func(p iso898Class) bool { return p.class == class })
		if known {
			return Strength{}, classError("property class", class, t.String(), "class 9.8 ends at M16: read the mark on the head again")
		}
		return Strength{}, classError("property class", class, "", classAdvice(class, iso898Names()))
	}
	p := iso898[i]
	s := Strength{
		Thread: t, Class: p.class, Standard: "ISO 898-1:2013",
		Proof: units.Megapascal.OfInt(p.proof), Yield: units.Megapascal.OfInt(p.yield), Tensile: units.Megapascal.OfInt(p.tensile),
	}
	if p.elongation != 0 {
		s.Elongation = percent(p.elongation)
	}
	hardness := units.MustInterval(units.One.OfInt(p.hardness[0]), units.One.OfInt(p.hardness[1]))
	s.Hardness = &hardness
	return s, nil
}

// classAdvice returns what to write for a class or grade that is unknown: the known one that
// differs by a decimal comma, a point left out or a word before it, else the choice.
func classAdvice(found string, known []string) string {
	words := strings.FieldsFunc(found, unicode.IsSpace)
	plain := strings.Join(slices.DeleteFunc(words, func(w string) bool { return !strings.ContainsFunc(w, unicode.IsDigit) }), " ")
	for _, name := range known {
		if plain == name || plain == strings.Replace(name, ".", ",", 1) || len(name) > 1 && plain == strings.Replace(name, ".", "", 1) {
			return `write "` + name + `"`
		}
	}
	return "the choice is " + strings.Join(known, ", ")
}

func iso898Names() []string {
	var names []string
	for _, p := range iso898 {
		names = append(names, p.class)
	}
	return slices.Compact(names)
}

func j429Names() []string {
	var names []string
	for _, g := range j429 {
		names = append(names, g.grade)
	}
	return slices.Compact(names)
}

// iso898Class is a column of ISO 898-1:2013, table 3: minimum values in MPa, and the
// elongation after fracture of a machined test piece in percent (0: none given).
type iso898Class struct {
	class                 string
	above, upTo           int64 // diameters in tenths of a millimetre; 0: no bound
	tensile, yield, proof int64
	elongation            int64
	hardness              [2]int64 // HV, F >= 98 N
}

func (p iso898Class) holds(d units.Length) bool {
	return (p.above == 0 || tenthsOfMillimetre(p.above).Less(d)) && (p.upTo == 0 || !tenthsOfMillimetre(p.upTo).Less(d))
}

var iso898 = []iso898Class{
	{class: "4.6", tensile: 400, yield: 240, proof: 225, elongation: 22, hardness: [2]int64{120, 220}},
	{class: "4.8", tensile: 420, yield: 340, proof: 310, hardness: [2]int64{130, 220}},
	{class: "5.6", tensile: 500, yield: 300, proof: 280, elongation: 20, hardness: [2]int64{155, 220}},
	{class: "5.8", tensile: 520, yield: 420, proof: 380, hardness: [2]int64{160, 220}},
	{class: "6.8", tensile: 600, yield: 480, proof: 440, hardness: [2]int64{190, 250}},
	{class: "8.8", upTo: 160, tensile: 800, yield: 640, proof: 580, elongation: 12, hardness: [2]int64{250, 320}},
	{class: "8.8", above: 160, tensile: 830, yield: 660, proof: 600, elongation: 12, hardness: [2]int64{255, 335}},
	{class: "9.8", upTo: 160, tensile: 900, yield: 720, proof: 650, elongation: 10, hardness: [2]int64{290, 360}},
	{class: "10.9", tensile: 1040, yield: 940, proof: 830, elongation: 9, hardness: [2]int64{320, 380}},
	{class: "12.9", tensile: 1220, yield: 1100, proof: 970, elongation: 8, hardness: [2]int64{385, 435}},
}

// SAEJ429 returns what SAE J429 promises of a unified bolt of a grade: "5", "8" and so on.
//
// The error is of kind ErrClass for a grade that the standard does not hold, or not for that
// diameter, and for a thread that is not unified.
//
// Grades 5.1 and 8.1, of screws with captive washers and of studs, are left out.
//
// Source: SAE J429:2014, table 1; sizes 1/4 to 1-1/2 in.
func SAEJ429(grade string, t Thread) (Strength, error) {
	grade = strings.TrimSpace(grade)
	if !t.IsUnified() {
		return Strength{}, classError("grade", grade, t.String(), "SAE J429 is for unified threads; ask ISO898 for a metric one")
	}
	i := slices.IndexFunc(j429, func(g j429Grade) bool { return g.grade == grade && g.holds(t.major) })
	if i < 0 {
		known := slices.ContainsFunc(j429, func(g j429Grade) bool { return g.grade == grade })
		if known {
			return Strength{}, classError("grade", grade, t.String(), "the standard has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in")
		}
		return Strength{}, classError("grade", grade, "", classAdvice(grade, j429Names()))
	}
	g := j429[i]
	s := Strength{
		Thread: t, Class: g.grade, Standard: "SAE J429:2014",
		Proof: units.KipPerSquareInch.OfInt(g.proof), Yield: units.KipPerSquareInch.OfInt(g.yield), Tensile: units.KipPerSquareInch.OfInt(g.tensile),
	}
	s.Elongation = percent(g.elongation)
	return s, nil
}

// j429Grade is a row of SAE J429:2014, table 1: minimum values in ksi, and the elongation
// of a machined test piece in percent.
type j429Grade struct {
	grade                 string
	above, upTo           int64 // diameters in sixteenths of an inch
	proof, yield, tensile int64
	elongation            int64
}

func (g j429Grade) holds(d units.Length) bool {
	return !d.Less(sixteenths(4)) && sixteenths(g.above).Less(d) && !sixteenths(g.upTo).Less(d)
}

var j429 = []j429Grade{
	{grade: "1", upTo: 24, proof: 33, yield: 36, tensile: 60, elongation: 18},
	{grade: "2", upTo: 12, proof: 55, yield: 57, tensile: 74, elongation: 18},
	{grade: "2", above: 12, upTo: 24, proof: 33, yield: 36, tensile: 60, elongation: 18},
	{grade: "4", upTo: 24, proof: 65, yield: 100, tensile: 115, elongation: 10},
	{grade: "5", upTo: 16, proof: 85, yield: 92, tensile: 120, elongation: 14},
	{grade: "5", above: 16, upTo: 24, proof: 74, yield: 81, tensile: 105, elongation: 14},
	{grade: "5.2", upTo: 16, proof: 85, yield: 92, tensile: 120, elongation: 14},
	{grade: "7", upTo: 24, proof: 105, yield: 115, tensile: 133, elongation: 12},
	{grade: "8", upTo: 24, proof: 120, yield: 130, tensile: 150, elongation: 12},
	{grade: "8.2", upTo: 16, proof: 120, yield: 130, tensile: 150, elongation: 10},
}

func percent(n int64) *units.Ratio {
	r := units.Percent.OfInt(n)
	return &r
}

func tenthsOfMillimetre(n int64) units.Length { return units.Micrometre.OfInt(100 * n) }
func sixteenths(n int64) units.Length         { return units.Inch.OfRat(big.NewRat(n, 16)) }

// Load returns the load of a bolt at one of its stresses, exactly: s.Load(s.Proof) is the
// proof load, s.Load(s.Yield) the load at which permanent stretch begins in pure tension
// (tightening adds torsion and reaches yield earlier), s.Load(s.Tensile) the least load that
// breaks it. The stress area is rounded as the tables of loads round it.
//
// The error is of kind ErrClass for a Strength that ISO898 or SAEJ429 does not give for its
// Thread: one that was set by hand, or whose Thread was changed.
//
// Source: ISO 898-1:2013, tables 4 to 7.
func (s Strength) Load(stress units.Pressure) (units.Force, error) {
	if err := s.check(); err != nil {
		return units.Force{}, err
	}
	return load(s.Thread.TabulatedStressArea(), stress), nil
}

// load returns the force of a stress on an area, exactly.
func load(a units.Area, stress units.Pressure) units.Force {
	return units.Newton.OfRat(product(a.Rat(units.SquareMillimetre), stress.Rat(units.Megapascal)))
}

// TabulatedStressArea returns the stress area as the tables print it: rounded half to
// even to three significant digits of a square millimetre (ISO 898-1); for unified
// threads to 0.00001 in² below 1/4 in, to 0.0001 in² below 9/16 in, and to 0.001 in² from
// there (ASME B1.1).
func (t Thread) TabulatedStressArea() units.Area {
	if t.IsUnified() {
		return units.SquareInch.Of(t.StressArea().In(units.SquareInch, areaPlaces(t)))
	}
	return units.SquareMillimetre.Of(t.StressArea().In(units.SquareMillimetre, areaPlaces(t)))
}

// areaPlaces returns the decimal places that the tables give a stress area, of a square
// inch for a unified thread, else of a square millimetre.
func areaPlaces(t Thread) int32 {
	switch {
	case !t.IsUnified():
		return significantPlaces(t.StressArea().Rat(units.SquareMillimetre), 3)
	case t.major.Less(sixteenths(4)):
		return 5
	case t.major.Less(sixteenths(9)):
		return 4
	}
	return 3
}

// significantPlaces returns the decimal places, below zero for tens, that leave a number of
// zero or more so many significant digits.
func significantPlaces(r *big.Rat, digits int32) int32 {
	if r.Sign() == 0 {
		return digits
	}
	places, size := digits-1, new(big.Rat).Set(r)
	one, ten := big.NewRat(1, 1), big.NewRat(10, 1)
	for size.Cmp(ten) >= 0 {
		size.Quo(size, ten)
		places--
	}
	for size.Cmp(one) < 0 {
		size.Mul(size, ten)
		places++
	}
	return places
}

// Working shows the loads that a bolt of the thread bears, in the unit, rounded half to even
// to three significant digits as in the tables. It is empty for a Strength that neither
// standard gives.
func (s Strength) Working(u units.ForceUnit) units.Working {
	if s.check() != nil {
		return units.Working{}
	}
	t := s.Thread
	area, stressUnit, areaUnit := t.TabulatedStressArea(), units.Megapascal, units.SquareMillimetre
	if t.IsUnified() {
		stressUnit, areaUnit = units.KipPerSquareInch, units.SquareInch
	}
	areaText := area.Format(areaUnit, areaPlaces(t), units.HalfEven)
	step := func(name, formula string, stress units.Pressure) units.Working {
		f := load(area, stress)
		return units.Working{
			Name: name, Formula: formula, Numbers: areaText + " · " + stress.Format(stressUnit, 0, units.HalfEven),
			Result: f.Format(u, significantPlaces(f.Rat(u), 3), units.HalfEven),
		}
	}
	return units.Working{
		Name: t.String() + " of class " + s.Class, Source: s.Standard,
		Steps: []units.Working{
			step("proof load", "Fp = As Sp", s.Proof),
			step("yield, without torsion", "Fy = As Re", s.Yield),
			step("ultimate load", "Fm = As Rm", s.Tensile),
		},
		Notes: []string{"least values, of a new bolt that bears the mark; tightening twists the bolt as well and reaches yield earlier"},
	}
}
