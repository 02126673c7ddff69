package fasteners

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// maxDesignation bounds the text of a designation.
const maxDesignation = 40

// metricForm is the form of a metric designation, with the size and the pitch. The forms are functions,
// so that a program that reads no designations does not carry them.
func metricForm() pattern {
	return seq(word("M"), space(), part(1, digits(1, 4), maybe(word("."), digits(1, 4))),
		maybe(space(), of("x×X"), space(), part(2, digits(1, 3), maybe(word("."), digits(1, 4)))))
}

// unifiedForm is the form of a unified designation, with the sign and the number of a number size, the
// whole, the numerator and the denominator of a fraction, another size in inches, the threads per
// inch, and the series.
func unifiedForm() pattern {
	return seq(
		either(
			seq(part(1, either(word("#"), seq(word("No."), space()))), part(2, digits(1, 2))),
			seq(maybe(part(3, digits(1, 2)), of(" -")), part(4, digits(1, 2)), word("/"), part(5, digits(1, 2))),
			part(6, either(seq(digits(0, 2), word("."), digits(1, 4)), digits(1, 2)))),
		space(), maybe(either(word("in"), word(`"`))), space(), word("-"), space(),
		part(7, either(seq(digits(1, 2), maybe(word("."), digits(1, 2))), word("4 1/2"), word("4-1/2"))),
		maybe(space(), maybe(word("-")), space(),
			part(8, either(word("UNC"), word("UNF"), word("UNEF"), word("UNS"), seq(maybe(digits(1, 2), space()), word("UN"))))))
}

func space() pattern { return many(word(" "), 0, 1) }

// ParseThread reads a thread's designation:
//
//	M10  M10x1.5  M10×1.25            ISO metric, in ISO 261 or not; without a pitch, the coarse one
//	3/8-24 UNF  #10-32 UNF  1-1/8-8 UN  1/4-20   unified; without a series, the one that has the pitch
//	10-32  .190-32                    number sizes without their sign, and in decimals
//
// A whole number that may be a number size as well as inches, as in "8-18", is refused, and
// so is one above 6, where ASME B1.1 ends: "8.0-18" is 8 inches. A tolerance class is not part
// of the thread; [Thread.Limits] takes it. A metric pitch above 8 mm or above two fifths of the
// diameter is refused, and a diameter above 1 m: the number is more likely the length of a bolt.
//
// The error is of kind ErrImpossible.
// Its advice quotes either what to write instead, or an example, which follows "as in".
func ParseThread(s string) (Thread, error) {
	if len(s) > maxDesignation {
		return Thread{}, threadError(s, "too long a text", designationHelp)
	}
	text := strings.TrimSpace(s)
	if text == "" {
		return Thread{}, threadError(s, "no text", designationHelp)
	}
	t, matched, err := parseDesignation(text)
	if matched {
		return t, err
	}
	what := whatIsWrong(text)
	if meant := repaired(text); len(meant) > 0 {
		return Thread{}, threadError(text, what, writeOneOf(meant))
	}
	help := unifiedHelp
	if text[0] == 'M' || text[0] == 'm' {
		help = metricHelp
	}
	return Thread{}, threadError(text, what, help)
}

const (
	designationHelp = `write it as in "M10x1.5", "M10" or "3/8-24 UNF"`
	metricHelp      = `write it as in "M10x1.5", or "M10" for the coarse pitch`
	unifiedHelp     = `write it as in "3/8-24 UNF", "#10-32 UNF" or "1-1/8-8 UN"`
)

// MustParseThread is ParseThread for literals; it panics on an error.
func MustParseThread(s string) Thread {
	t, err := ParseThread(s)
	if err != nil {
		panic(err)
	}
	return t
}

// parseDesignation reads a text that has the form of a designation. Where it has none,
// matched is false.
func parseDesignation(s string) (t Thread, matched bool, err error) {
	if strings.HasPrefix(s, "M") {
		if m, ok := metricForm().read(s); ok {
			t, err = parseMetric(s, m[1], m[2])
			return t, true, err
		}
		return Thread{}, false, nil
	}
	if m, ok := unifiedForm().read(s); ok {
		t, err = parseUnified(s, m)
		return t, true, err
	}
	return Thread{}, false, nil
}

// writeOneOf is the advice to write one of some designations.
func writeOneOf(designations []string) string {
	quoted := make([]string, len(designations))
	for i, d := range designations {
		quoted[i] = fmt.Sprintf("%q", d)
	}
	return "write " + strings.Join(quoted, " or ")
}

// accepted returns those designations that ParseThread takes, each once, as it prints them.
func accepted(designations ...string) []string {
	var taken []string
	for _, d := range designations {
		if t, matched, err := parseDesignation(d); matched && err == nil && !slices.Contains(taken, t.String()) {
			taken = append(taken, t.String())
		}
	}
	return taken
}

// advise returns the advice to write one of the designations that are accepted, or the help if
// none is.
func advise(help string, designations ...string) string {
	if taken := accepted(designations...); len(taken) > 0 {
		return writeOneOf(taken)
	}
	return help
}

func parseMetric(s, size, pitchText string) (Thread, error) {
	diameter := units.Millimetre.OfRat(ratio(size))
	if pitchText != "" {
		return MetricThread(diameter, units.Millimetre.OfRat(ratio(pitchText)))
	}
	pitch, ok := coarsePitch(diameter)
	if !ok {
		return Thread{}, threadError(s, "a diameter for which ISO 261 has no coarse pitch", `write its pitch too, as in "M10x1.25"`)
	}
	return MetricThread(diameter, pitch)
}

// The forms of usual slips. A class is a tolerance class at the end of a designation; the other
// ones hold a size, a pitch and a series.

func metricClass() pattern {
	ofOne := seq(digits(1, 1), of("EFGHefgh"))
	return seq(many(of(" -"), 1, 0), ofOne, maybe(ofOne), maybe(word("/"), ofOne, maybe(ofOne)))
}

func unifiedClass() pattern { return seq(many(of(" -"), 0, 0), of("123"), of("ABab")) }

func decimalCommas() pattern {
	noPoints := many(one(func(r rune) bool { return r != '.' && r != ',' }), 0, 0)
	noPointOrDigit := one(func(r rune) bool { return r != '.' && r != ',' && (r < '0' || r > '9') })
	return seq(noPoints, many(seq(word(","), digits(1, 4), maybe(noPointOrDigit, noPoints)), 1, 0))
}

func otherSign() pattern {
	return seq(maybe(of("Mm")), space(), part(1, digits(1, 3), maybe(word("."), digits(1, 2))),
		either(seq(space(), of("x×X*/-"), space()), word(" ")), part(2, digits(1, 1), maybe(word("."), digits(1, 3))))
}

func otherDash() pattern {
	noSpace := one(func(r rune) bool { return !strings.ContainsRune(" \t\n\f\r", r) })
	return seq(part(1, many(noSpace, 0, 0), of("/#."), few(noSpace)), either(seq(space(), of("x×X*–—"), space()), word(" ")),
		part(2, digits(1, 2), maybe(word("."), digits(1, 1))), part(3, maybe(space(), maybe(word("-")), space(), word("UN"), many(noSpace, 0, 0))))
}

// isIn reports whether a text ends with a pattern.
func isIn(f pattern, s string) bool {
	_, ok := f.without(s)
	return ok
}

// whatIsWrong says what is wrong with a text that has no form of a designation.
func whatIsWrong(s string) string {
	if _, ok := pitchLeftOut(s); ok {
		return "no threads per inch"
	}
	if capitals := strings.ToUpper(s); capitals != s && len(accepted(capitals)) > 0 {
		return "small letters"
	}
	isMetric := s[0] == 'M' || s[0] == 'm'
	switch {
	case isMetric && isIn(metricClass(), s), !isMetric && isIn(unifiedClass(), s):
		return "a tolerance class, which is given apart"
	case strings.Contains(s, ","):
		return "a decimal comma"
	case isMetric:
		return "no metric thread"
	}
	return "no thread"
}

// repaired returns what a text means that differs from a designation by a usual slip: small
// letters, a decimal comma, a tolerance class, another sign between size and pitch, no M. None
// if that is not plain.
func repaired(s string) []string {
	if d, ok := pitchLeftOut(s); ok {
		return []string{d}
	}
	if _, ok := decimalCommas().read(s); ok {
		s = strings.ReplaceAll(s, ",", ".")
	}
	s, _ = metricClass().without(s)
	s, _ = unifiedClass().without(s)
	s = strings.ToUpper(s)
	if meant := accepted(s); len(meant) > 0 {
		return meant
	}
	if meant := metricMeant(s); len(meant) > 0 {
		return accepted(meant...)
	}
	if m, ok := otherDash().read(s); ok {
		return accepted(m[1] + "-" + m[2] + m[3])
	}
	return nil
}

// metricMeant returns the metric designation that a size and a pitch with another sign between
// them mean: "M10-1.25", "10x1.25", "10-1.25". A pitch coarser than the coarse one is no pitch:
// "M20-8" is a nut of class 8, "10x8" a bolt 8 mm long.
func metricMeant(s string) []string {
	m, ok := otherSign().read(s)
	if !ok {
		return nil
	}
	coarse, ok := coarsePitch(units.Millimetre.OfRat(ratio(m[1])))
	if !ok || coarse.Less(units.Millimetre.OfRat(ratio(m[2]))) {
		return nil
	}
	return []string{"M" + m[1] + "x" + m[2]}
}

// fewestPerInch bounds the threads per inch: the coarsest series of ASME B1.1-2003 has 4.
var fewestPerInch = big.NewRat(3, 1)

func parseUnified(s string, m []string) (Thread, error) {
	tpi := ratio(strings.NewReplacer("4 1/2", "4.5", "4-1/2", "4.5").Replace(m[7]))
	if tpi.Cmp(fewestPerInch) < 0 {
		return Thread{}, threadError(s, numberText(tpi)+" threads per inch, fewer than a unified thread has", advise(unifiedHelp, metricMeant(s)...))
	}
	rest := "-" + numberText(tpi) // of the designation, after the size
	named := strings.ReplaceAll(m[8], " ", "")
	seriesTPI := "" // the threads per inch that the series names
	if number, ok := strings.CutSuffix(named, "UN"); ok && number != "" {
		seriesTPI, named = numberText(ratio(number)), "UN"
	}

	var size string
	var inches *big.Rat
	switch {
	case m[1] != "":
		size = "#" + numberText(ratio(m[2]))
		inches = numberSize(m[2])
		if inches == nil {
			return Thread{}, threadError(s, "a number size that does not exist", "number sizes are #0 to #6, #8, #10 and #12")
		}
	case m[4] != "":
		numerator, denominator := ratio(m[4]), ratio(m[5])
		if denominator.Sign() == 0 || numerator.Cmp(denominator) >= 0 || numerator.Sign() == 0 {
			return Thread{}, threadError(s, fmt.Sprintf("the fraction %s/%s", m[4], m[5]), `write a proper fraction, as in "3/8-24 UNF" or "1-1/8-8 UN"`)
		}
		inches = numerator.Quo(numerator, denominator)
		size = inches.RatString()
		if m[3] != "" && m[3] != "0" {
			whole := ratio(m[3])
			size = whole.RatString() + "-" + size
			inches.Add(inches, whole)
		}
	case strings.Contains(m[6], "."):
		inches = ratio(m[6])
		size = inchText(inches)
		if number := numberOf(inches); number != "" && namedSeries("#"+number, tpi) != uns {
			size = "#" + number // ".190-32" is the decimal form of "#10-32"
		}
	case len(m[6]) > 1 && m[6][0] == '0':
		return Thread{}, threadError(s, "a size that begins with zero", advise(unifiedHelp, "#"+strings.TrimLeft(m[6], "0")+rest))
	default:
		inches = ratio(m[6])
		size = inches.RatString()
		numbered := numberSize(size)
		inInches, inNumber := size+".0"+rest, "#"+size+rest
		switch {
		case numbered != nil && namedSeries("#"+size, tpi) != uns:
			inches, size = numbered, "#"+size // "10-32" is a number size, "1-8" an inch
		case (named == "" || named == "UNS") && mayBeNumber(size, inches, tpi):
			return Thread{}, threadError(s, "a size that may be a number or inches", advise(unifiedHelp, inNumber, inInches))
		case inches.Cmp(largestInch) > 0:
			return Thread{}, threadError(s, "a size of "+size+" in, beyond the 6 in where ASME B1.1 ends", advise(unifiedHelp, append(metricMeant(s), "."+size+rest, inInches)...))
		}
	}
	if seriesTPI != "" && seriesTPI != numberText(tpi) {
		return Thread{}, threadError(s, fmt.Sprintf("a series %sUN with %s threads per inch", seriesTPI, numberText(tpi)),
			advise(unifiedHelp, size+"-"+seriesTPI, size+rest))
	}
	return unifiedThread(s, size, inches, tpi, series(named))
}

// largestInch is the largest size of ASME B1.1-2003, table 1.
var largestInch = big.NewRat(6, 1)

// pitchLeftOut returns the whole designation of a size and a series that fix the pitch
// between them: of "3/8 UNF", "3/8-24 UNF".
func pitchLeftOut(s string) (designation string, ok bool) {
	for _, named := range []series{unc, unf, unef} {
		size, found := strings.CutSuffix(s, " "+string(named))
		if !found {
			continue
		}
		for _, known := range []string{size, strings.Replace(size, " ", "-", 1), "#" + size} {
			if tpi, found := perInch(named, known); found {
				return known + "-" + tpi + " " + string(named), true
			}
		}
	}
	return "", false
}

// numberSizes are the number sizes of ASME B1.1-2003, table 1.
var numberSizes = []string{"0", "1", "2", "3", "4", "5", "6", "8", "10", "12"}

// numberSize returns the major diameter of a number size in inches, 0.060 + 0.013 n
// (ASME B1.1-2003, table 1), or nil.
func numberSize(number string) *big.Rat {
	if !slices.Contains(numberSizes, number) {
		return nil
	}
	n := ratio(number)
	n.Mul(n, big.NewRat(13, 1000))
	return n.Add(n, big.NewRat(60, 1000))
}

// numberOf returns the number size of so many inches; empty if there is none.
func numberOf(inches *big.Rat) string {
	for _, number := range numberSizes {
		if numberSize(number).Cmp(inches) == 0 {
			return number
		}
	}
	return ""
}

// mayBeNumber reports whether a size in whole inches is as well a number size that could have
// so many threads per inch, while no series has them for the inches.
func mayBeNumber(size string, inches, tpi *big.Rat) bool {
	number := numberSize(size)
	return number != nil && standardSeries(size, inches, tpi) == uns && !tooCoarse(number, new(big.Rat).Inv(tpi))
}

// tooCoarse reports whether a pitch is too coarse for a diameter to be a thread's: above two
// fifths of it. The coarsest in use is a quarter of the diameter, that of M1.
func tooCoarse(diameter, pitch *big.Rat) bool { return times(5, pitch).Cmp(times(2, diameter)) > 0 }

// inchText returns a diameter in inches as a fraction where it is one of sixteenths,
// and as a decimal where it is not.
func inchText(inches *big.Rat) string {
	if den := inches.Denom(); den.IsInt64() && den.Int64() <= 16 {
		whole := new(big.Int).Quo(inches.Num(), inches.Denom())
		rest := new(big.Rat).Sub(inches, new(big.Rat).SetInt(whole))
		switch {
		case rest.Sign() == 0:
			return whole.String()
		case whole.Sign() == 0:
			return rest.RatString()
		}
		return whole.String() + "-" + rest.RatString()
	}
	return inches.FloatString(4)
}

// namedSeries returns the one of UNC, UNF and UNEF that has a size with so many threads per
// inch, or UNS.
func namedSeries(size string, tpi *big.Rat) series {
	for _, s := range []series{unc, unf, unef} {
		if n, ok := perInch(s, size); ok && n == numberText(tpi) {
			return s
		}
	}
	return uns
}

// standardSeries returns the series that has a size with so many threads per inch, or
// UNS.
func standardSeries(size string, inches, tpi *big.Rat) series {
	if s := namedSeries(size, tpi); s != uns {
		return s
	}
	if isConstant(inches, tpi) && !strings.HasPrefix(size, "#") {
		return un
	}
	return uns
}

func unifiedThread(text, size string, inches, tpi *big.Rat, named series) (Thread, error) {
	known := standardSeries(size, inches, tpi)
	if inches.Sign() <= 0 || inches.Cmp(largestInch) > 0 && !inches.IsInt() {
		return Thread{}, threadError(text, "a size that no unified thread has", `ASME B1.1 has sizes in inches up to 6 in: write it as in "3/8-24 UNF"`)
	}
	pitch := new(big.Rat).Inv(tpi)
	if tooCoarse(inches, pitch) {
		return Thread{}, threadError(text, "a pitch too coarse for the diameter", `write the diameter, then the threads per inch, as in "3/8-24 UNF"`)
	}
	if known == uns && !strings.ContainsAny(size, "#/.") && (inches.Cmp(largestInch) > 0 || mayBeNumber(size, inches, tpi)) {
		size += ".0" // so that the designation reads as inches
	}
	rest := "-" + numberText(tpi)
	switch named {
	case "":
		named = known
	case unc, unf, unef:
		n, ok := perInch(named, size)
		if !ok {
			return Thread{}, threadError(text, fmt.Sprintf("a size that the series %s does not have", named), advise(unifiedHelp, size+rest))
		}
		if n != numberText(tpi) {
			return Thread{}, threadError(text, fmt.Sprintf("%s threads per inch, where %s %s has %s", numberText(tpi), size, named, n),
				advise(unifiedHelp, size+"-"+n, size+rest))
		}
	case un:
		if known == uns {
			return Thread{}, threadError(text, fmt.Sprintf("%s threads per inch, which no constant pitch series has at %s", numberText(tpi), size), advise(unifiedHelp, size+rest+" UNS"))
		}
		named = known // 1-8 is UNC, though the series of 8 to the inch has it too
	case uns:
		if known != uns {
			return Thread{}, threadError(text, "a standard thread named a special one", advise(unifiedHelp, size+rest))
		}
	}
	return Thread{
		form: unified, major: units.Inch.OfRat(inches), pitch: units.Inch.OfRat(pitch),
		series: named, size: size, tpi: tpi,
	}, nil
}

// String returns the designation, which ParseThread reads again: "M10", "M10x1.25",
// "3/8-24 UNF". The zero Thread is "no thread".
func (t Thread) String() string {
	switch {
	case t.form == unified:
		return t.size + "-" + numberText(t.tpi) + " " + string(t.series)
	case t.form == noForm:
		return "no thread"
	case t.series == metricCoarse:
		return "M" + t.size
	}
	return "M" + t.size + "x" + bare(t.pitch)
}

// MarshalText writes the designation. The zero Thread has none, and is an error of kind
// ErrImpossible.
func (t Thread) MarshalText() ([]byte, error) {
	if t.form == noForm {
		return nil, threadError("", "no thread to write", "set it first, by ParseThread")
	}
	return []byte(t.String()), nil
}

// UnmarshalText parses text as ParseThread does.
func (t *Thread) UnmarshalText(text []byte) error {
	parsed, err := ParseThread(string(text))
	if err != nil {
		return err
	}
	*t = parsed
	return nil
}

// bare returns a length in millimetres without its unit.
func bare(l units.Length) string { return numberText(l.Rat(units.Millimetre)) }

// numberText returns a number as a decimal without trailing zeros, to six places at the
// most.
func numberText(r *big.Rat) string {
	places, exact := r.FloatPrec()
	if !exact || places > 6 {
		places = 6
	}
	return r.FloatString(places)
}
