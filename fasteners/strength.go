package fasteners

import (
	"math/big"
	"slices"
	"strings"
	"unicode"

	"example.com/closefit/units"
)

// A Strength holds the least values that a property class or grade promises for a new
// bolt of one thread that bears its mark. Stresses refer to the nominal stress area. It
// comes from StrengthOf and holds for its Thread alone; the zero Strength promises
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

// UnmarshalJSON reads the exchange form. A strength that contradicts its class and thread
// is an error.
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

// check refuses a Strength that StrengthOf does not give for its thread.
func (s Strength) check() error {
	promised, err := StrengthOf(s.Class, s.Thread)
	if err != nil {
		return err
	}
	if !promised.equal(s) {
		return impossible("strength of "+s.Thread.String(), "values that class "+quoted(s.Class)+" does not have", "write the values that StrengthOf returns for this thread")
	}
	return nil
}

func (s Strength) equal(o Strength) bool {
	return s.Thread.Equal(o.Thread) && s.Class == o.Class && s.Standard == o.Standard &&
		s.Proof.Equal(o.Proof) && s.Yield.Equal(o.Yield) && s.Tensile.Equal(o.Tensile) &&
		same(s.Elongation, o.Elongation) && same(s.Hardness, o.Hardness)
}

// same compares what may be missing.
func same[T interface{ Equal(T) bool }](a, b *T) bool {
	if a == nil || b == nil {
		return a == b
	}
	return (*a).Equal(*b)
}

// StrengthOf returns the values that the standard promises for a bolt of one thread: ISO
// 898-1 for a metric thread, by the property class "8.8", "10.9", "12.9" and so on; SAE
// J429 for a unified one, by the grade "5", "8" and so on. The grades 5.1 and 8.1, of
// screws with captive washers and of studs, are left out.
//
// The error is of kind ErrImpossible for the zero Thread, for a class that is not in the
// standard, and for one that is not there for that diameter.
//
// Source: ISO 898-1:2013, tables 3 to 7, sizes M1.6 to M39; SAE J429:2014, table 1, sizes 1/4 to
// 1-1/2 in.
func StrengthOf(class string, t Thread) (Strength, error) {
	class = strings.TrimSpace(class)
	var std standard
	switch t.form {
	case metric:
		std = iso898
	case unified:
		std = j429
	default:
		return Strength{}, impossible("strength", "a class "+quoted(class)+" without a thread", "set the thread first, by ParseThread")
	}
	ofClass := func(p promise) bool { return p.class == class }
	if !slices.ContainsFunc(std.promises, ofClass) {
		return Strength{}, impossible(std.what+" for "+t.String(), quoted(class), std.advice(class))
	}
	i := slices.IndexFunc(std.promises, func(p promise) bool { return ofClass(p) && std.holds(p, t.major) })
	if i < 0 {
		return Strength{}, impossible(std.what+" for "+t.String(), quoted(class), std.sizes)
	}
	p := std.promises[i]
	s := Strength{
		Thread: t, Class: p.class, Standard: std.name,
		Proof: std.stress.OfInt(p.proof), Yield: std.stress.OfInt(p.yield), Tensile: std.stress.OfInt(p.tensile),
	}
	if p.elongation != 0 {
		elongation := units.Percent.OfInt(p.elongation)
		s.Elongation = &elongation
	}
	if p.hardness != [2]int64{} {
		hardness := units.MustInterval(units.One.OfInt(p.hardness[0]), units.One.OfInt(p.hardness[1]))
		s.Hardness = &hardness
	}
	return s, nil
}

// A standard promises strengths, by class and diameter.
type standard struct {
	name, what  string
	stress      units.Unit[units.PressureDim]
	step        units.Length // what diameters are counted in
	least, most int64        // the diameters that it has
	sizes       string       // the advice for another
	promises    []promise
}

// A promise is a column of ISO 898-1:2013, table 3, or a row of SAE J429:2014, table 1: minimum
// values, and the elongation after fracture of a machined test piece in percent. What is zero is
// not given.
type promise struct {
	class                 string
	above, upTo           int64 // diameters
	proof, yield, tensile int64
	elongation            int64
	hardness              [2]int64 // HV, F >= 98 N
}

func (s standard) holds(p promise, d units.Length) bool {
	least, most, above := s.step.MulInt(s.least), s.step.MulInt(s.most), s.step.MulInt(p.above)
	if p.upTo != 0 {
		most = s.step.MulInt(p.upTo)
	}
	return !d.Less(least) && above.Less(d) && !most.Less(d)
}

// advice returns what to write for a class that is unknown: the known one that differs by a
// decimal comma, a point left out or a word before it, else the choice.
func (s standard) advice(found string) string {
	words := strings.FieldsFunc(found, unicode.IsSpace)
	plain := strings.Join(slices.DeleteFunc(words, func(w string) bool { return !strings.ContainsFunc(w, unicode.IsDigit) }), " ")
	var known []string
	for _, p := range s.promises {
		if plain == p.class || plain == strings.Replace(p.class, ".", ",", 1) || len(p.class) > 1 && plain == strings.Replace(p.class, ".", "", 1) {
			return `write "` + p.class + `"`
		}
		known = append(known, p.class)
	}
	return "the choice is " + strings.Join(slices.Compact(known), ", ")
}

var iso898 = standard{
	name: "ISO 898-1:2013", what: "property class", stress: units.Megapascal,
	step: tenthOfMillimetre, least: 16, most: 390,
	sizes: "ISO 898-1 has sizes from M1.6 to M39, of class 9.8 to M16: read the mark on the head again",
	promises: []promise{
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
	},
}

var j429 = standard{
	name: "SAE J429:2014", what: "grade", stress: units.KipPerSquareInch,
	step: sixteenth, least: 4, most: 24,
	sizes: "SAE J429 has sizes from 1/4 to 1-1/2 in, of grades 5.2 and 8.2 to 1 in",
	promises: []promise{
		{class: "1", proof: 33, yield: 36, tensile: 60, elongation: 18},
		{class: "2", upTo: 12, proof: 55, yield: 57, tensile: 74, elongation: 18},
		{class: "2", above: 12, proof: 33, yield: 36, tensile: 60, elongation: 18},
		{class: "4", proof: 65, yield: 100, tensile: 115, elongation: 10},
		{class: "5", upTo: 16, proof: 85, yield: 92, tensile: 120, elongation: 14},
		{class: "5", above: 16, proof: 74, yield: 81, tensile: 105, elongation: 14},
		{class: "5.2", upTo: 16, proof: 85, yield: 92, tensile: 120, elongation: 14},
		{class: "7", proof: 105, yield: 115, tensile: 133, elongation: 12},
		{class: "8", proof: 120, yield: 130, tensile: 150, elongation: 12},
		{class: "8.2", upTo: 16, proof: 120, yield: 130, tensile: 150, elongation: 10},
	},
}

var (
	tenthOfMillimetre = units.Micrometre.OfInt(100)
	sixteenth         = units.Inch.OfRat(big.NewRat(1, 16))
)

// Load returns the load of a bolt at one of its stresses, exactly: s.Load(s.Proof) is the
// proof load, s.Load(s.Yield) the load at which permanent stretch begins in pure tension
// (tightening adds torsion and reaches yield earlier), s.Load(s.Tensile) the least load that
// breaks it. The stress area is rounded as the tables of loads round it.
//
// The error is of kind ErrImpossible for a Strength that was set by hand, or whose Thread
// was changed.
//
// Source: ISO 898-1:2013, tables 4 to 7.
func (s Strength) Load(stress units.Pressure) (units.Force, error) {
	if err := s.check(); err != nil {
		return units.Force{}, err
	}
	return load(s.Thread.tabulatedStressArea(), stress), nil
}

// load returns the force of a stress on an area, exactly.
func load(a units.Area, stress units.Pressure) units.Force {
	return units.Newton.OfRat(product(a.Rat(units.SquareMillimetre), stress.Rat(units.Megapascal)))
}

// tabulatedStressArea returns the stress area as the tables print it: rounded half to
// even to three significant digits of a square millimetre (ISO 898-1); for unified
// threads to 0.00001 in² below #10, to 0.0001 in² below 9/16 in, and to 0.001 in² from
// there (ASME B1.1, whose one exception that was read is #8-32, to 0.0001 in²).
func (t Thread) tabulatedStressArea() units.Area {
	u, places := t.areaTable()
	return u.Of(t.StressArea().In(u, places))
}

// areaTable returns the unit and the decimal places that the tables give a stress area.
func (t Thread) areaTable() (units.Unit[units.AreaDim], int32) {
	switch {
	case !t.IsUnified():
		return units.SquareMillimetre, significantPlaces(t.StressArea().Rat(units.SquareMillimetre), 3)
	case t.major.Less(units.Inch.OfRat(numberSize("10"))):
		return units.SquareInch, 5
	case t.major.Less(sixteenth.MulInt(9)):
		return units.SquareInch, 4
	}
	return units.SquareInch, 3
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

// Working shows the loads that a bolt of the thread bears, in the unit, rounded half to
// even to three significant digits as in the tables. It is empty for a Strength that was
// set by hand.
func (s Strength) Working(u units.ForceUnit) units.Working {
	if s.check() != nil {
		return units.Working{}
	}
	t := s.Thread
	area, stressUnit := t.tabulatedStressArea(), iso898.stress
	if t.IsUnified() {
		stressUnit = j429.stress
	}
	areaUnit, places := t.areaTable()
	areaText := area.Format(areaUnit, places, units.HalfEven)
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
