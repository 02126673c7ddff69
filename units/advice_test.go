package units

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A meaning is what a person takes a text for: the bounds in the unit written, or
// several of them where the person would have to ask. The tests write the text from
// the meaning, so the meaning owes nothing to the parser.
type meaning struct {
	text  string
	means [][2]string // decimals in the unit; several where the text is ambiguous
	unit  string
	size  *big.Rat // of the unit in the first unit of its dimension
}

// digitsOf draws the digits of a number between 0.001 and 999.999 as people write
// it, without a sign, with so many decimals.
func digitsOf(t *rapid.T, decimals int, label string) string {
	whole := rapid.IntRange(0, 999).Draw(t, label)
	if decimals == 0 {
		return fmt.Sprint(whole)
	}
	scale := 1
	for range decimals {
		scale *= 10
	}
	return fmt.Sprintf("%d.%0*d", whole, decimals, rapid.IntRange(0, scale-1).Draw(t, label+": decimals"))
}

// written draws a text that somebody may write, and what is meant by it.
func written[D Dimension](t *rapid.T) meaning {
	u := drawUnit[D](t)
	unit := u.String()
	m := meaning{unit: unit, size: new(big.Rat).Quo(slowFactor(u), slowFactor(Unit[D](0)))}
	decimals := rapid.IntRange(0, 4).Draw(t, "places")
	a, b := digitsOf(t, decimals, "a"), digitsOf(t, decimals, "b")
	if slowRat(a).Cmp(slowRat(b)) > 0 {
		a, b = b, a
	}
	comma := func(s string) string { return strings.Replace(s, ".", ",", 1) }
	exact := func(s string) [2]string { return [2]string{s, s} }
	sum := func(x string, y string, sign int) string {
		r := slowRat(y)
		if sign < 0 {
			r = r.Neg(r)
		}
		return new(big.Rat).Add(slowRat(x), r).FloatString(decimals)
	}
	end := rapid.SampledFrom([]string{" ", ""}).Draw(t, "space") + unit
	switch rapid.SampledFrom([]string{"point", "comma", "thousands", "thousands and comma", "range", "range in commas", "dash", "to", "stroke",
		"deviations", "swapped", "zero first", "lone deviation", "short range", "exchanged", "limit", "O", "plus minus", "two numbers"}).Draw(t, "form") {
	case "point":
		m.text, m.means = a+end, [][2]string{exact(a)}
	case "comma":
		m.text, m.means = comma(a)+end, [][2]string{exact(a)}
		if whole, rest, ok := strings.Cut(a, "."); ok && len(rest) == 3 {
			m.means = append(m.means, exact(whole+rest)) // 60,012 may be sixty thousand
		}
	case "thousands":
		mark := rapid.SampledFrom([]string{"'", "_", " ", "\u00a0"}).Draw(t, "mark")
		n := rapid.IntRange(1000, 999_999).Draw(t, "thousands")
		m.text = fmt.Sprintf("%d%s%03d%s", n/1000, mark, n%1000, end)
		m.means = [][2]string{exact(fmt.Sprint(n))}
	case "thousands and comma":
		n := rapid.IntRange(1000, 999_999).Draw(t, "thousands")
		m.text = fmt.Sprintf("%d.%03d,%d%s", n/1000, n%1000, 25, end)
		m.means = [][2]string{exact(fmt.Sprintf("%d.25", n))}
	case "range":
		m.text, m.means = a+".."+b+end, [][2]string{{a, b}}
	case "range in commas":
		m.text, m.means = comma(a)+".."+comma(b)+end, [][2]string{{a, b}}
		if decimals == 3 { // both may part thousands
			m.means = append(m.means, [2]string{strings.Replace(a, ".", "", 1), strings.Replace(b, ".", "", 1)})
		}
	case "dash":
		dash := rapid.SampledFrom([]string{"-", " - ", "–", " – ", "—"}).Draw(t, "dash")
		m.text, m.means = a+dash+b+end, [][2]string{{a, b}}
	case "to":
		m.text, m.means = a+" to "+b+end, [][2]string{{a, b}}
	case "stroke":
		m.text, m.means = a+"/"+b+end, [][2]string{{a, b}}
		if den := slowRat(b); decimals == 0 && den.Sign() != 0 && (unit == "in" || unit == "ft" || unit == "turn" || unit == "") {
			m.means = append(m.means, exact(new(big.Rat).Quo(slowRat(a), den).RatString())) // 3/8 in
		}
	case "deviations":
		m.text, m.means = b+" +"+a+"/-"+a+end, [][2]string{{sum(b, a, -1), sum(b, a, +1)}}
	case "swapped":
		m.text, m.means = b+" -"+a+"/+"+a+end, [][2]string{{sum(b, a, -1), sum(b, a, +1)}}
	case "zero first":
		m.text, m.means = b+" 0/+"+a+end, [][2]string{{b, sum(b, a, +1)}}
	case "lone deviation":
		m.text, m.means = b+" -"+a+end, [][2]string{{sum(b, a, -1), b}} // 60 -0.019
	case "short range":
		// 2.1255-65: the last digits alone are written again.
		tail := fmt.Sprint(rapid.IntRange(10, 99).Draw(t, "tail"))
		if len(a) < 3 || strings.Contains(a[len(a)-2:], ".") || a[len(a)-2:] >= tail {
			t.Skip("no shorter form")
		}
		m.text, m.means = a+"-"+tail+end, [][2]string{{a, a[:len(a)-2] + tail}}
		if decimals == 0 {
			m.means = append(m.means, [2]string{a, tail}, [2]string{tail, a})
		}
	case "exchanged":
		m.text, m.means = b+".."+a+end, [][2]string{{a, b}}
	case "limit":
		words := rapid.SampledFrom([]string{"max ", "max. ", "< ", "=< ", "≤ "}).Draw(t, "limit")
		m.text, m.means = words+a+end, [][2]string{{"", a}}
	case "O":
		m.text, m.means = strings.ReplaceAll(a, "0", "O")+end, [][2]string{exact(a)}
	case "plus minus":
		m.text, m.means = comma(b)+" ±"+comma(a)+end, [][2]string{{sum(b, a, -1), sum(b, a, +1)}}
		if decimals == 3 {
			n, u := strings.Replace(b, ".", "", 1), strings.Replace(a, ".", "", 1)
			m.means = append(m.means, [2]string{sum(n, u, -1), sum(n, u, +1)})
		}
	case "two numbers":
		if decimals == 0 || decimals == 3 {
			t.Skip("one number with a decimal comma, or with thousands")
		}
		m.text, m.means = comma(a)+","+b+end, nil // 2,5,0.002: nobody can tell
	}
	return m
}

// holds reports whether the interval is one that the text may mean.
func holds[D Dimension](m meaning, a Interval[D]) bool {
	is := func(has bool, bound func() Quantity[D], want string) bool {
		if !has || want == "" {
			return !has && want == ""
		}
		r, ok := new(big.Rat).SetString(want)
		return ok && bound().Rat(Unit[D](0)).Cmp(r.Mul(r, m.size)) == 0
	}
	for _, want := range m.means {
		if is(a.HasLo(), a.Lo, want[0]) && is(a.HasHi(), a.Hi, want[1]) {
			return true
		}
	}
	return false
}

var offers = regexp.MustCompile(`(?:write|or) "((?:[^"\\]|\\.)*)"`)

// offered returns the texts that the error says to write; none if it asks for it
// in full or shows another size as an example.
func offered(fix string) (texts []string) {
	fix, _, _ = strings.Cut(fix, "; write a fraction")
	if strings.Contains(fix, "as in") {
		return nil
	}
	for _, m := range offers.FindAllStringSubmatch(fix, -1) {
		if text, err := strconv.Unquote(`"` + m[1] + `"`); err == nil {
			texts = append(texts, text)
		}
	}
	return texts
}

// checkAdvice follows every advice of both parsers until it is accepted, and fails
// if that is not what was meant or if it leads nowhere.
func checkAdvice[D Dimension](t *rapid.T, m meaning) {
	follow(t, m, Parse[Interval[D]])
	follow(t, m, func(text string) (Interval[D], error) {
		q, err := Parse[Quantity[D]](text)
		if err != nil {
			return Interval[D]{}, err
		}
		return Exactly(q), nil
	})
}

func follow[D Dimension](t *rapid.T, m meaning, parse func(string) (Interval[D], error)) {
	type step struct {
		text  string
		trail []string
	}
	untried := []step{{m.text, nil}}
	for len(untried) > 0 {
		s := untried[0]
		untried = untried[1:]
		a, err := parse(s.text)
		if err == nil {
			if !holds(m, a) {
				t.Fatalf("%q, meant as %v %s, is read as %s by way of %q", m.text, m.means, m.unit, a.Exact(), s.trail)
			}
			continue
		}
		e, ok := errors.AsType[*Error](err)
		if !ok || len(s.trail) > 5 {
			t.Fatalf("%q: %v after %q", m.text, err, s.trail)
		}
		for _, text := range offered(e.Fix) {
			untried = append(untried, step{text, append(s.trail[:len(s.trail):len(s.trail)], s.text)})
		}
	}
}

// TestAdviceLeadsToWhatWasMeant: whatever is written, it is read as what was meant,
// or refused, and an advice that is followed to acceptance gives what was meant.
func TestAdviceLeadsToWhatWasMeant(t *testing.T) {
	t.Run("length", leads[LengthDim])
	t.Run("angle", leads[AngleDim])
	t.Run("torque", leads[TorqueDim])
	t.Run("force", leads[ForceDim])
	t.Run("pressure", leads[PressureDim])
	t.Run("temperature difference", leads[temperatureDifferenceDim])
	t.Run("rotational speed", leads[rotationalSpeedDim])
	t.Run("dynamic viscosity", leads[dynamicViscosityDim])
	t.Run("area", leads[AreaDim])
	t.Run("volume", leads[VolumeDim])
	t.Run("stiffness", leads[stiffnessDim])
	t.Run("mass", leads[MassDim])
	t.Run("volume flow", leads[volumeFlowDim])
	t.Run("power", leads[powerDim])
	t.Run("kinematic viscosity", leads[kinematicViscosityDim])
	t.Run("density", leads[densityDim])
	t.Run("pure number", leads[RatioDim])
}

func leads[D Dimension](t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { checkAdvice[D](t, written[D](t)) })
}

// A temperature in degrees Celsius is read by the same parser, with an offset.
func TestAdviceOnTemperatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := written[temperatureDifferenceDim](t)
		if m.unit != "°C" {
			t.Skip("no offset to take away")
		}
		follow(t, m, func(text string) (Interval[temperatureDifferenceDim], error) {
			a, err := Parse[TemperatureInterval](text)
			if err != nil {
				return Interval[temperatureDifferenceDim]{}, err
			}
			zero := MustParse[TemperatureInterval]("273.15 K")
			if !a.HasLo() {
				return AtMost(a.Hi().Sub(zero.Lo())), nil
			}
			return a.Sub(zero), nil
		})
	})
}

func FuzzLengthAdvice(f *testing.F) {
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) { checkAdvice[LengthDim](t, written[LengthDim](t)) }))
}

func FuzzAngleAdvice(f *testing.F) {
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) { checkAdvice[AngleDim](t, written[AngleDim](t)) }))
}

// Advice that led to nonsense when it was followed. What is meant is plain from each
// text, or nothing may be offered.
func TestAdviceOnOldTraps(t *testing.T) {
	for _, m := range []meaning{
		{text: "60 -0.019 mm", means: [][2]string{{"59.981", "60"}}, unit: "mm", size: slowRat("1")},
		{text: "54.000-.012 mm", means: [][2]string{{"53.988", "54"}}, unit: "mm", size: slowRat("1")},
		{text: "2.1255-65 in", means: [][2]string{{"2.1255", "2.1265"}}, unit: "in", size: slowRat("25.4")},
		{text: "2.5,0.002 mm", unit: "mm", size: slowRat("1")},
		{text: "60.012..24 mm", means: [][2]string{{"60.012", "60.024"}}, unit: "mm", size: slowRat("1")},
		{text: "60 0/+0.019 mm", means: [][2]string{{"60", "60.019"}}, unit: "mm", size: slowRat("1")},
		{text: "60 +0.019/0.030 mm", means: [][2]string{{"59.970", "60.019"}}, unit: "mm", size: slowRat("1")},
		{text: "5Inch", means: [][2]string{{"5", "5"}}, unit: "in", size: slowRat("25.4")},
		{text: "20/25 µm", means: [][2]string{{"20", "25"}}, unit: "µm", size: slowRat("0.001")},
		{text: "0.024/0.048 mm", means: [][2]string{{"0.024", "0.048"}}, unit: "mm", size: slowRat("1")},
	} {
		rapid.Check(t, func(t *rapid.T) { checkAdvice[LengthDim](t, m) })
	}
	for text, want := range map[string]string{
		"60 0/+0.019 mm":       `write "60 +0.019/0 mm"`,
		"60 0.000 / +0.019 mm": `write "60 +0.019/0.000 mm"`,
		"0.024/0.048 mm":       `write "0.024..0.048 mm"`,
		"20-25 mm":             `write "20..25 mm"`,
	} {
		_, err := ParseLengthInterval(text)
		if e, ok := errors.AsType[*Error](err); !ok || e.Fix != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}

// A stroke makes a fraction of inches, feet and turns alone.
func TestStrokes(t *testing.T) {
	readsAs(t, ParseLength, "9.525 mm", "3/8 in", `3/8"`, "1/32 ft")
	readsAs(t, ParseLength, "0.1984375 mm", "1/128 in")                                  // 25.4 / 128
	readsAs(t, ParseAngle, "60 °", "1/6 turn")                                           // one flat of a hexagon
	readsAs(t, ParseAngle, "450 °", "1 1/4 turns", "1-1/4 turn")                         // 1.25 × 360
	readsAs(t, ParseLengthInterval, "26.590625..27.384375 mm", "1 3/64 in .. 1 5/64 in") // 67/64 and 69/64 × 25.4
	interval := func(parse func(string) error, text, offer string) {
		t.Helper()
		err := parse(text)
		if e, ok := errors.AsType[*Error](err); !ok || !errors.Is(err, ErrSyntax) || !strings.Contains(e.Fix, offer) {
			t.Errorf("%s: %v, want it to offer %s", text, err, offer)
		}
	}
	torque := func(s string) error { _, err := Parse[TorqueInterval](s); return err }
	one := func(s string) error { _, err := ParseTorque(s); return err }
	pressure := func(s string) error { _, err := Parse[PressureInterval](s); return err }
	temperature := func(s string) error { _, err := Parse[TemperatureInterval](s); return err }
	length := func(s string) error { _, err := ParseLengthInterval(s); return err }
	angle := func(s string) error { _, err := Parse[AngleInterval](s); return err }
	interval(torque, "20/25 N·m", `"20..25 N·m" for a range`)
	interval(torque, "20/25", `"20..25 N·m" for a range`)
	interval(one, "20/25 N·m", `"20..25 N·m" for a range`)
	interval(pressure, "45/55 psi", `"45..55 psi" for a range`)
	interval(temperature, "20/30 °C", `"20..30 °C" for a range`)
	interval(length, "20/30 µm", `"20..30 µm" for a range`)
	interval(length, "20/25 in", `"20..25 in" for a range`)
	interval(length, "1/256 in", `"1..256 in" for a range`)
	interval(length, "1 20/25 mm", "both bounds")
	interval(length, "-20/25 mm", "both bounds")
	interval(angle, "5/4 turn", `"4..5 turn" for a range`)
	interval(angle, "85/95 °", `"85..95 °" for a range`)
	// A fraction without a unit is one of a turn, of an inch, or of nothing.
	bare := func(parse func(string) error, text string, kind error, offer string) {
		t.Helper()
		if e, ok := errors.AsType[*Error](parse(text)); !ok || !errors.Is(e, kind) || !strings.Contains(e.Fix, offer) {
			t.Errorf("%s: %v, want it to offer %s", text, e, offer)
		}
	}
	bare(angle, "1/3", ErrNoUnit, `"1/3 turn"`)
	bare(angle, "3/4", ErrNoUnit, `"3/4 turn"`)
	bare(angle, "2/3", ErrNoUnit, `"2/3 turn"`)
	bare(length, "3/8", ErrNoUnit, `"3/8 in"`)
	bare(length, "1/3", ErrSyntax, `"1..3 mm" for a range`)
	bare(length, "2/4", ErrSyntax, `"2..4 mm" for a range`)
	bare(torque, "3/8", ErrSyntax, `"3..8 N·m" for a range`)
	bare(func(s string) error { _, err := ParseLength(s); return err }, "1/6O in", ErrSyntax, `"1/60 in"`)
	bare(func(s string) error { _, err := ParseLength(s); return err }, "1 3/6O in", ErrSyntax, `"1 3/60 in"`)
}

// No advice on a unit leads a hundred times away from what was typed: the sizes of
// what people mistype are written here.
func TestUnitAdvice(t *testing.T) {
	for _, test := range []struct {
		parse func(string) error
		unit  string
		not   string // what must not be offered
	}{
		{func(s string) error { _, err := ParsePressure(s); return err }, "mbars", "write bar"},
		{func(s string) error { _, err := ParseForce(s); return err }, "mN", "write MN"},
		{func(s string) error { _, err := ParseForce(s); return err }, "g", "write N"},
		{func(s string) error { _, err := ParseForce(s); return err }, "t", "write kN"},
		{func(s string) error { _, err := ParseTorque(s); return err }, "mN·m", "write N·m"},
		{func(s string) error { _, err := ParseTorque(s); return err }, "kN·mm", "write kN·m"},
		{func(s string) error { _, err := ParsePressure(s); return err }, "ksf", "write ksi"},
		{func(s string) error { _, err := ParseLength(s); return err }, "Mm", "write mm"},
		{func(s string) error { _, err := ParseLength(s); return err }, "NM", "write nm"},
	} {
		err := test.parse("5 " + test.unit)
		e, ok := errors.AsType[*Error](err)
		if !ok || e.Fix == test.not || strings.HasSuffix(e.Fix, "; "+test.not) {
			t.Errorf("5 %s: %v", test.unit, err)
		}
	}
	if _, err := ParseForce("2 ton"); err == nil || !strings.Contains(err.Error(), "2000 lbf in the US, 2240 lbf elsewhere") {
		t.Errorf("2 ton: %v", err)
	}
}

// Units that are read, with their sizes from NIST SP 811 (2008), B.6 and B.8 (a
// reproduction was read for the yard and the pound-force; from memory for the rest).
func TestFurtherUnits(t *testing.T) {
	readsAs(t, ParseLength, "914.4 mm", "1 yd", "1 yard", "3 ft")
	readsAs(t, ParseForce, "0.00980665 N", "1 gf", "0.001 kgf")
	readsAs(t, ParseForce, "8896.443230521 N", "1 US tonf", "1 short ton-force", "2000 lbf")
	readsAs(t, ParsePressure, "1000000 psi", "1 Mpsi", "1000 ksi", "1000 kpsi")
	readsAs(t, ParsePressure, "0.24908891 kPa", "1 inH2O", "1 inH₂O", "1 in H2O", "249.08891 Pa")
}

// Texts that nearly say something are refused with what they are and where.
func TestNearlyNumbers(t *testing.T) {
	length := func(s string) error { _, err := ParseLength(s); return err }
	lengths := func(s string) error { _, err := ParseLengthInterval(s); return err }
	const noRatio = "a parenthesis that holds no ratio"
	for _, test := range []struct {
		parse func(string) error
		text  string
		at    string // where what was found begins
		what  string
		fix   string
	}{
		{length, "(1/0) mm", "(1/0) mm", noRatio, `an exact ratio as in "(1/3) mm"`},
		{length, "(1/00) mm", "(1/00) mm", noRatio, ""},
		{length, "(/3) mm", "(/3) mm", noRatio, ""},
		{length, "(1/) mm", "(1/) mm", noRatio, ""},
		{length, "(13) mm", "(13) mm", noRatio, ""},
		{length, "(1/3 mm", "(1/3 mm", noRatio, ""},
		{length, "() mm", "() mm", noRatio, ""},
		{length, "(1.5/3) mm", "(1.5/3) mm", noRatio, ""},
		{length, "1 5/4 in", "4 in", "a mixed number whose fraction is one or more", `"1 3/64"`},
		{length, "1-4/4 in", "4 in", "a mixed number whose fraction is one or more", ""},
		{length, "3/0 in", "0 in", "a fraction over zero", "a denominator such as 64"},
		{length, "3/8.5 in", ".5 in", "a stroke and a point in one number", "both bounds of a range in full"},
		{lengths, "100/20 µm", "100/20 µm", "a stroke, which does not make a fraction of µm", "both bounds of a range in full"},
		{lengths, "30/20 µm", "30/20 µm", "a stroke, which does not make a fraction of µm", `write "20..30 µm" for a range`},
	} {
		err := test.parse(test.text)
		e, ok := errors.AsType[*Error](err)
		if column := len([]rune(test.text[:len(test.text)-len(test.at)])) + 1; !ok || !strings.Contains(e.Found, test.what) || !strings.Contains(e.Fix, test.fix) || e.Column != column {
			t.Errorf("%s: %v, column %d, want %s at column %d, and to write %s", test.text, err, e.Column, test.what, column, test.fix)
		}
	}
	readsAs(t, ParseLength, "0.5 mm", "(1/2) mm", "(01/02) mm")
	readsAs(t, ParseLength, "-0.5 mm", "(-1/2) mm", "(−1/2) mm")
}

// Limits that no number of places leaves room between are written in full, and what has no
// bounds is not known.
func TestLimitsThatAreHardToWrite(t *testing.T) {
	third := Exactly(Millimetre.OfRat(big.NewRat(1, 3)))
	if got := third.FormatInward(Millimetre, 3); got != "(1/3) mm" {
		t.Errorf("a third of a millimetre is written %s", got)
	}
	narrow := MustParseLengthInterval("0.0241..0.0249 mm")
	if got := narrow.FormatInward(Millimetre, 3); got != "0.0241..0.0249 mm" {
		t.Errorf("between two thousandths: %s", got)
	}
	if got := narrow.FormatOutward(Millimetre, 3); got != "0.024..0.025 mm" {
		t.Errorf("outward: %s", got)
	}
	everything := AtMost(Length{}).Hull(AtLeast(Length{}))
	for a, want := range map[*LengthInterval]string{{}: "not known", &everything: "not known", &narrow: "0.0241..0.0249 mm"} {
		if got := a.Written(Millimetre); got != want {
			t.Errorf("%s is written %s, want %s", a, got, want)
		}
	}
}
