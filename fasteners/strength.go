package fasteners

import (
	"math/big"
	"slices"
	"strings"
	"unicode"

	"example.com/closefit/units"
)

// A Strength is what a property class or grade promises of a bolt of one thread. Stresses
// are minimum values and refer to the nominal stress area. It comes from ISO898 or SAEJ429 and
// knows the thread it was asked for; the zero Strength promises nothing.
type Strength struct {
	Thread     Thread         // the thread that it holds for, and no other
	Class      string         // "10.9", "8" of SAE J429
	Standard   string         // "ISO 898-1:2013"
	Proof      units.Pressure // the stress of the proof load, which must leave no stretch: Sp
	Yield      units.Pressure // ReL, Rp0.2 or, of 4.8 to 6.8, Rpf: where permanent stretch begins
	Tensile    units.Pressure // Rm, where it breaks
	Elongation *big.Rat       // after fracture, of a machined test piece, as a fraction: 9/100; nil if the standard gives none
	Hardness   [2]int         // least and most Vickers hardness HV; zeros if the standard gives none
}

// ISO898 returns what ISO 898-1 promises of a metric bolt of a property class: "8.8",
// "10.9", "12.9" and so on.
//
// The error wraps ErrClass for a class that the standard does not hold, or not for that
// diameter, and for a thread that is not metric.
//
// Source: ISO 898-1:2013, tables 3 to 7; sizes M1.6 to M39.
func ISO898(class string, t Thread) (Strength, error) {
	class = shortened(strings.TrimSpace(class))
	if !t.IsMetric() {
		return Strength{}, &ClassError{Class: class, What: "property class", For: t.String(), Fix: "ISO 898-1 is for metric threads; ask SAEJ429 for a unified one"}
	}
	if t.major.Less(tenthsOfMillimetre(16)) || tenthsOfMillimetre(390).Less(t.major) {
		return Strength{}, &ClassError{Class: class, What: "property class", For: t.String(), Fix: "ISO 898-1 is for M1.6 to M39"}
	}
	i := slices.IndexFunc(iso898, func(p iso898Class) bool { return p.class == class && p.holds(t.major) })
	if i < 0 {
		known := slices.ContainsFunc(iso898, func(p iso898Class) bool { return p.class == class })
		if known {
			return Strength{}, &ClassError{Class: class, What: "property class", For: t.String(), Fix: "class 9.8 ends at M16: read the mark on the head again"}
		}
		return Strength{}, &ClassError{Class: class, What: "property class", Fix: classAdvice(class, iso898Names())}
	}
	p := iso898[i]
	s := Strength{
		Thread: t, Class: p.class, Standard: "ISO 898-1:2013",
		Proof: units.Megapascal.OfInt(p.proof), Yield: units.Megapascal.OfInt(p.yield), Tensile: units.Megapascal.OfInt(p.tensile),
		Hardness: p.hardness,
	}
	if p.elongation != 0 {
		s.Elongation = big.NewRat(p.elongation, 100)
	}
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
	hardness              [2]int // HV, F >= 98 N
}

func (p iso898Class) holds(d units.Length) bool {
	return (p.above == 0 || tenthsOfMillimetre(p.above).Less(d)) && (p.upTo == 0 || !tenthsOfMillimetre(p.upTo).Less(d))
}

var iso898 = []iso898Class{
	{class: "4.6", tensile: 400, yield: 240, proof: 225, elongation: 22, hardness: [2]int{120, 220}},
	{class: "4.8", tensile: 420, yield: 340, proof: 310, hardness: [2]int{130, 220}},
	{class: "5.6", tensile: 500, yield: 300, proof: 280, elongation: 20, hardness: [2]int{155, 220}},
	{class: "5.8", tensile: 520, yield: 420, proof: 380, hardness: [2]int{160, 220}},
	{class: "6.8", tensile: 600, yield: 480, proof: 440, hardness: [2]int{190, 250}},
	{class: "8.8", upTo: 160, tensile: 800, yield: 640, proof: 580, elongation: 12, hardness: [2]int{250, 320}},
	{class: "8.8", above: 160, tensile: 830, yield: 660, proof: 600, elongation: 12, hardness: [2]int{255, 335}},
	{class: "9.8", upTo: 160, tensile: 900, yield: 720, proof: 650, elongation: 10, hardness: [2]int{290, 360}},
	{class: "10.9", tensile: 1040, yield: 940, proof: 830, elongation: 9, hardness: [2]int{320, 380}},
	{class: "12.9", tensile: 1220, yield: 1100, proof: 970, elongation: 8, hardness: [2]int{385, 435}},
}

// SAEJ429 returns what SAE J429 promises of a unified bolt of a grade: "5", "8" and so on.
//
// The error wraps ErrClass for a grade that the standard does not hold, or not for that
// diameter, and for a thread that is not unified.
//
// Grades 5.1 and 8.1, of screws with captive washers and of studs, are left out.
//
// Source: SAE J429:2014, table 1; sizes 1/4 to 1-1/2 in.
func SAEJ429(grade string, t Thread) (Strength, error) {
	grade = shortened(strings.TrimSpace(grade))
	if !t.IsUnified() {
		return Strength{}, &ClassError{Class: grade, What: "grade", For: t.String(), Fix: "SAE J429 is for unified threads; ask ISO898 for a metric one"}
	}
	i := slices.IndexFunc(j429, func(g j429Grade) bool { return g.grade == grade && g.holds(t.major) })
	if i < 0 {
		known := slices.ContainsFunc(j429, func(g j429Grade) bool { return g.grade == grade })
		if known {
			return Strength{}, &ClassError{Class: grade, What: "grade", For: t.String(), Fix: "the standard has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in"}
		}
		return Strength{}, &ClassError{Class: grade, What: "grade", Fix: classAdvice(grade, j429Names())}
	}
	g := j429[i]
	s := Strength{
		Thread: t, Class: g.grade, Standard: "SAE J429:2014",
		Proof: units.KipPerSquareInch.OfInt(g.proof), Yield: units.KipPerSquareInch.OfInt(g.yield), Tensile: units.KipPerSquareInch.OfInt(g.tensile),
	}
	if g.elongation != 0 {
		s.Elongation = big.NewRat(g.elongation, 100)
	}
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

func tenthsOfMillimetre(n int64) units.Length { return units.Micrometre.OfInt(100 * n) }
func sixteenths(n int64) units.Length         { return units.Inch.OfRat(big.NewRat(n, 16)) }

// ProofLoad returns the load that a bolt of the thread must bear without permanent
// stretch, As Sp, exactly; As is rounded to three significant digits, as the tables of
// loads are worked out.
//
// The error wraps ErrClass for a Strength that ISO898 or SAEJ429 does not give for its Thread:
// one that was set by hand, or whose Thread was changed to one that is promised other stresses.
//
// Source: ISO 898-1:2013, tables 5 and 7.
func (s Strength) ProofLoad() (units.Force, error) { return s.load(s.Proof) }

// YieldLoad returns the load at which permanent stretch begins in pure tension, As Re,
// with As and the error as in ProofLoad. Tightening adds torsion and reaches yield earlier.
func (s Strength) YieldLoad() (units.Force, error) { return s.load(s.Yield) }

// UltimateLoad returns the least load that breaks a bolt of the thread, As Rm, with As and
// the error as in ProofLoad.
//
// Source: ISO 898-1:2013, tables 4 and 6.
func (s Strength) UltimateLoad() (units.Force, error) { return s.load(s.Tensile) }

func (s Strength) load(stress units.Pressure) (units.Force, error) {
	if err := s.check(); err != nil {
		return units.Force{}, err
	}
	return Load(TabulatedStressArea(s.Thread), stress), nil
}

// check refuses a Strength that ISO898 or SAEJ429 does not give for its thread.
func (s Strength) check() error {
	of := ISO898
	if s.Thread.IsUnified() {
		of = SAEJ429
	}
	if s.Thread.form == noForm {
		return &ClassError{Class: s.Class, What: "strength", For: s.Thread.String(), Fix: "ask ISO898 or SAEJ429 for the bolt's thread"}
	}
	promised, err := of(s.Class, s.Thread)
	if err != nil {
		return err
	}
	if !promised.Proof.Equal(s.Proof) || !promised.Yield.Equal(s.Yield) || !promised.Tensile.Equal(s.Tensile) {
		return &ClassError{Class: s.Class, What: "strength", For: s.Thread.String(), Fix: "ask ISO898 or SAEJ429 for this thread: the stresses are those of another"}
	}
	return nil
}

// Load returns the force of a stress on an area, exactly.
func Load(a units.Area, stress units.Pressure) units.Force {
	return units.Newton.OfRat(product(a.Rat(units.SquareMillimetre), stress.Rat(units.Megapascal)))
}

// TabulatedStressArea returns the stress area as the tables print it: rounded half to
// even to three significant digits of a square millimetre (ISO 898-1); for unified
// threads to 0.00001 in² below 1/4 in, to 0.0001 in² below 9/16 in, and to 0.001 in² from
// there (ASME B1.1).
func TabulatedStressArea(t Thread) units.Area {
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

// Working returns the loads that a bolt of the thread bears for checking by hand, in the
// unit, rounded half to even to three significant digits as in the tables. It is empty for a
// Strength whose loads are an error.
func (s Strength) Working(u units.ForceUnit) units.Working {
	t := s.Thread
	if s.check() != nil {
		return units.Working{}
	}
	area, stressUnit := TabulatedStressArea(t), units.Megapascal
	areaText := area.Format(units.SquareMillimetre, areaPlaces(t), units.HalfEven)
	if t.IsUnified() {
		stressUnit, areaText = units.KipPerSquareInch, area.Format(units.SquareInch, areaPlaces(t), units.HalfEven)
	}
	load := func(name, formula string, stress units.Pressure) units.Working {
		f := Load(area, stress)
		return units.Working{
			Name: name, Formula: formula, Numbers: areaText + " · " + stress.Format(stressUnit, 0, units.HalfEven),
			Result: f.Format(u, significantPlaces(f.Rat(u), 3), units.HalfEven),
		}
	}
	return units.Working{
		Name: t.String() + " of class " + s.Class, Source: s.Standard,
		Steps: []units.Working{
			load("proof load", "Fp = As Sp", s.Proof),
			load("yield, without torsion", "Fy = As Re", s.Yield),
			load("ultimate load", "Fm = As Rm", s.Tensile),
		},
		Notes: []string{"least values, of a new bolt that bears the mark; tightening twists the bolt as well and reaches yield earlier"},
	}
}
