package fasteners

import (
	"math"
	"math/big"

	"example.com/closefit/units"
)

// A Thread is a screw thread of the 60° profile that ISO 68-1 and ASME B1.1 share:
// ISO metric or unified inch, right hand, single start. It is an immutable value; the
// zero Thread is no thread, and its dimensions are zero.
//
// Dimensions are those of the basic profile, exact in the sense of the standard: the
// height of the fundamental triangle is 0.866025404 pitches, as ISO 68-1 writes √3/2, and
// every other dimension is a whole fraction of it. The difference from √3/2 itself is
// 0.25 parts in 10⁹: 0.000002 µm for the coarsest thread in use. The tables of the
// standards print these dimensions rounded to 0.001 mm or 0.0001 in.
type Thread struct {
	form   form
	major  units.Length
	pitch  units.Length
	series series
	size   string   // the nominal size as its designation has it: "10", "3/8", "#10"
	tpi    *big.Rat // unified: threads per inch
}

type form int

const (
	noForm form = iota
	metric
	unified
)

// MetricThread returns the ISO metric thread of a nominal diameter and a pitch, which ParseThread reads
// as well. The error is of kind ErrImpossible for a pitch not above zero, above 8 mm or above two
// fifths of the diameter, and for a diameter above 1 m: no such thread is in use, and the number is
// more likely the length of a bolt.
func MetricThread(diameter, pitch units.Length) (Thread, error) {
	t := Thread{form: metric, major: diameter, pitch: pitch, series: metricFine}
	text := "M" + bare(diameter) + "x" + bare(pitch)
	switch {
	case pitch.Sign() <= 0:
		return Thread{}, threadError(text, "a pitch that is not above zero", `write the pitch in millimetres, as in "M10x1.5"`)
	case diameter.Cmp(largestMetric) > 0:
		return Thread{}, threadError(text, "a diameter above 1 m", `write the diameter in millimetres, as in "M10x1.5"`)
	case coarsestMetric.Less(pitch), tooCoarse(diameter.Rat(units.Millimetre), pitch.Rat(units.Millimetre)):
		return Thread{}, threadError(text, "a pitch too coarse for a thread of that diameter", `write the diameter, then the pitch and not the bolt's length, as in "M10x1.5"`)
	}
	t.size = bare(diameter)
	if coarse, ok := coarsePitch(diameter); ok && coarse.Equal(pitch) {
		t.series = metricCoarse
	}
	return t, nil
}

// largestMetric and coarsestMetric bound what is in use: ISO 261 ends at 300 mm and 8 mm, the
// tables of larger threads at 1 m and 8 mm.
var (
	largestMetric  = units.Metre.OfInt(1)
	coarsestMetric = units.Millimetre.OfInt(8)
)

// IsUnified reports whether the thread is unified inch; any other but the zero Thread is ISO
// metric.
func (t Thread) IsUnified() bool { return t.form == unified }

// Written returns a length in the unit of the thread's standard: in inches to four places for a
// unified thread, else in millimetres to three.
func (t Thread) Written(l units.Length) string {
	if t.IsUnified() {
		return l.Format(units.Inch, 4, units.HalfEven)
	}
	return l.Format(units.Millimetre, 3, units.HalfEven)
}

// Major returns the basic major diameter, the nominal size: d of the bolt and D of the
// nut.
func (t Thread) Major() units.Length { return t.major }

// Pitch returns the distance from one thread to the next, which is the advance of one
// turn.
func (t Thread) Pitch() units.Length { return t.pitch }

// triangle is the height of the fundamental triangle in pitches, √3/2 with the digits
// of ISO 68-1:1998.
var triangle = big.NewRat(866_025_404, 1_000_000_000)

// height returns the height of the fundamental triangle, H = 0.866025404 P.
func (t Thread) height() units.Length { return t.pitch.MulRat(triangle) }

// below returns the diameter that lies num/den of the triangle's height below the major.
func (t Thread) below(num, den int64) units.Length {
	return t.major.Sub(t.height().MulRat(big.NewRat(num, den)))
}

// PitchDiameter returns the basic pitch diameter, where thread and groove are equally
// wide:
//
//	d2 = D2 = d - 2·(3/8) H = d - 0.649519053 P
//
// d is the major diameter, H the height of the fundamental triangle, P the pitch.
// Source: ISO 724:1993; ASME B1.1-2003, basic profile.
func (t Thread) PitchDiameter() units.Length { return t.below(3, 4) }

// MinorDiameter returns the basic minor diameter, that of the nut's bore:
//
//	d1 = D1 = d - 2·(5/8) H = d - 1.082531755 P
//
// d is the major diameter, H the height of the fundamental triangle, P the pitch.
// Source: ISO 724:1993; ASME B1.1-2003, basic profile.
func (t Thread) MinorDiameter() units.Length { return t.below(5, 4) }

// RootDiameter returns the diameter over the bottom of the bolt's rounded root:
//
//	metric:   d3 = d1 - H/6 = d - 1.226869 P
//	unified:  d3 = D1 - H/8 = d - 1.190785 P
//
// d is the major diameter, d1 the basic minor diameter, H the height of the fundamental
// triangle, P the pitch. For a unified thread D1 is first rounded to 0.0001 in, as in the
// tables, whose last digits follow from that.
//
// Source: ISO 898-1:2013, 9.1.6.1; ASME B1.1-2003, tables of the UNR root.
func (t Thread) RootDiameter() units.Length {
	if t.form == unified {
		return t.tabulated(t.MinorDiameter()).Sub(t.height().MulRat(big.NewRat(1, 8)))
	}
	return t.below(17, 12)
}

// StressArea returns the nominal stress area, the section of a plain rod of the same
// strength in tension:
//
//	metric:   As = π/4 ((d2 + d3)/2)²
//	unified:  As = π/4 (E - 3H/8)²
//
// d2 is the basic pitch diameter, d3 the root diameter d1 - H/6, E the basic pitch
// diameter rounded to 0.0001 in as the tables have it, H the height of the fundamental
// triangle. π has 35 places, the root no more than the profile. The tables print it rounded,
// to three significant digits of a square millimetre; [Thread.Working] shows it so, and
// [Strength.Load] takes it so.
//
// Source: ISO 898-1:2013, 9.1.6.1; ASME B1.1-2003, appendix B.
func (t Thread) StressArea() units.Area {
	switch t.form {
	case metric:
		return circle(t.below(13, 12)) // the mean of 3/4 and 17/12
	case unified:
		return circle(t.tabulated(t.PitchDiameter()).Sub(t.height().MulRat(big.NewRat(3, 8))))
	}
	return units.Area{}
}

// MinorArea returns the smallest section of the bolt's thread:
//
//	metric:   A3 = π/4 d3²
//	unified:  A = π/4 (d - 3/2 H)²
//
// d3 is the root diameter, d the major diameter, H the height of the fundamental
// triangle: the unified tables take a sharp root.
//
// Source: DIN 13-28:1975; ASME B1.1-2003, appendix B.
func (t Thread) MinorArea() units.Area {
	if t.form == unified {
		return circle(t.below(3, 2))
	}
	return circle(t.RootDiameter())
}

// ShankArea returns the section of a full shank of the nominal size, π/4 d².
func (t Thread) ShankArea() units.Area { return circle(t.major) }

// leadAngle returns the slope of the thread at the pitch diameter, worked out in float64 and
// rounded to 10⁻⁹ rad:
//
//	φ = arctan(P / (π d2))
//
// P is the pitch and the lead of a single start, d2 the basic pitch diameter.
//
// Source: definition of the lead angle; ASME B1.1-2003, basic dimensions.
func (t Thread) leadAngle() units.Angle {
	slope, _ := t.pitch.Ratio(t.PitchDiameter()).Float64()
	angle, err := units.Radian.OfFloat64(math.Atan(slope/math.Pi), 9)
	if err != nil {
		panic("fasteners: lead angle of " + t.String() + ": " + err.Error()) // a pitch is finite
	}
	return angle
}

// tabulated returns a length as the standard's tables print it: rounded half to even to
// 0.001 mm (ISO 724) or to 0.0001 in (ASME B1.1).
func (t Thread) tabulated(l units.Length) units.Length {
	u, places := t.table()
	return u.Of(l.In(u, places))
}

// table returns the unit of the standard's tables and their decimal places.
func (t Thread) table() (units.LengthUnit, int32) {
	if t.form == unified {
		return units.Inch, 4
	}
	return units.Millimetre, 3
}

// Equal reports whether t and o have the same form, diameter and pitch.
func (t Thread) Equal(o Thread) bool {
	return t.form == o.form && t.major.Equal(o.major) && t.pitch.Equal(o.pitch)
}

// circle returns the area of a circle.
func circle(diameter units.Length) units.Area {
	d := diameter.Rat(units.Millimetre)
	a := new(big.Rat).Mul(d, d)
	return units.SquareMillimetre.OfRat(a.Mul(a, quarterPi))
}

// quarterPi is π/4 to 35 decimal places. Source: OEIS A003881.
var quarterPi = ratio("0.78539816339744830961566084581987572")

// Working shows the thread's dimensions as the standard's tables print them. It is empty
// for the zero Thread.
func (t Thread) Working() units.Working {
	if t.form == noForm {
		return units.Working{}
	}
	u, places := t.table()
	show := func(l units.Length) string { return l.Format(u, places, units.HalfEven) }
	precise := func(l units.Length) string { return l.Format(u, places+2, units.HalfEven) }
	basic, areas := "ISO 724:1993", "ISO 898-1:2013, 9.1.6.1"
	root, rootOf, area := "d3 = d - 17/12 H", show(t.major)+" - 17/12 · "+precise(t.height()), "As = π/4 ((d2 + d3)/2)²"
	if t.form == unified {
		basic, areas = "ASME B1.1-2003", "ASME B1.1-2003, appendix B"
		root, rootOf, area = "d3 = D1 - H/8", show(t.MinorDiameter())+" - 1/8 · "+precise(t.height()), "As = π/4 (d2 - 3/8 H)²"
	}
	areaNumbers := "d2 = " + show(t.PitchDiameter()) + ", d3 = " + show(t.below(17, 12))
	if t.form == unified {
		areaNumbers = "d2 = " + show(t.PitchDiameter()) + ", H = " + precise(t.height())
	}
	areaUnit, areaPlaces := t.areaTable()
	return units.Working{
		Name: t.String(),
		Steps: []units.Working{
			{Name: "height of the triangle", Formula: "H = 0.866025404 P", Numbers: "0.866025404 · " + precise(t.pitch), Result: precise(t.height()), Source: "ISO 68-1:1998"},
			{Name: "pitch diameter", Formula: "d2 = d - 3/4 H", Numbers: show(t.major) + " - 3/4 · " + precise(t.height()), Result: show(t.PitchDiameter()), Source: basic},
			{Name: "minor diameter of the nut", Formula: "D1 = d - 5/4 H", Numbers: show(t.major) + " - 5/4 · " + precise(t.height()), Result: show(t.MinorDiameter()), Source: basic},
			{Name: "root diameter of the bolt", Formula: root, Numbers: rootOf, Result: show(t.RootDiameter()), Source: areas},
			{Name: "stress area", Formula: area, Numbers: areaNumbers, Result: t.StressArea().Format(areaUnit, areaPlaces, units.HalfEven), Source: areas},
			{Name: "lead angle", Formula: "φ = arctan(P / (π d2))", Numbers: "arctan(" + precise(t.pitch) + " / (π · " + show(t.PitchDiameter()) + "))", Result: t.leadAngle().Format(units.Degree, 4, units.HalfEven), Source: "definition of the lead angle"},
		},
	}
}
