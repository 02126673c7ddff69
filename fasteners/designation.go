package fasteners

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// maxDesignation bounds the text of a designation.
const maxDesignation = 40

var (
	metricForm  = regexp.MustCompile(`^M ?(\d{1,4}(?:\.\d{1,4})?)(?: ?[x×X] ?(\d{1,3}(?:\.\d{1,4})?))?$`)
	unifiedForm = regexp.MustCompile(`^(?:(#|No\. ?)(\d{1,2})|(?:(\d{1,2})[ -])?(\d{1,2})/(\d{1,2})|(\d{0,2}\.\d{1,4}|\d{1,2}))` +
		` ?(?:in|")? ?- ?(\d{1,2}(?:\.\d{1,2})?|4 1/2|4-1/2)(?: ?(?:-? ?)(UNC|UNF|UNEF|UNS|(?:\d{1,2} ?)?UN))?$`)
)

// ParseThread reads a thread's designation:
//
//	M10  M10x1.5  M10×1.25            ISO metric; without a pitch, the coarse one
//	3/8-24 UNF  #10-32 UNF  1-1/8-8 UN  1/4-20   unified; without a series, the one that has the pitch
//	10-32  .190-32                    number sizes without their sign, and in decimals
//
// A whole number that may be a number size as well as inches, as in "8-18", is refused.
// A tolerance class is not part of the thread and is read by ParseClass. The error is a
// *ThreadError, which wraps ErrThread; it says what to write instead.
func ParseThread(s string) (Thread, error) {
	if len(s) > maxDesignation {
		return Thread{}, threadError(strings.ToValidUTF8(s[:maxDesignation], "")+"…", "too long a text", designationHelp)
	}
	text := strings.TrimSpace(s)
	if text == "" {
		return Thread{}, threadError(s, "no text", designationHelp)
	}
	if text[0] == 'M' {
		return parseMetric(text)
	}
	return parseUnified(text)
}

const designationHelp = `write "M10x1.5", "M10" or "3/8-24 UNF"`

// MustParseThread is ParseThread for literals; it panics on an error.
func MustParseThread(s string) Thread {
	t, err := ParseThread(s)
	if err != nil {
		panic(err)
	}
	return t
}

func parseMetric(s string) (Thread, error) {
	m := metricForm.FindStringSubmatch(s)
	if m == nil {
		return Thread{}, threadError(s, notMetric(s), `write "M10x1.5", or "M10" for the coarse pitch`)
	}
	diameter := units.Millimetre.OfRat(ratio(m[1]))
	if m[2] != "" {
		return MetricThread(diameter, units.Millimetre.OfRat(ratio(m[2])))
	}
	pitch, ok := coarsePitch(diameter)
	if !ok {
		return Thread{}, threadError(s, "a diameter for which ISO 261 has no coarse pitch", `write its pitch too, as in "M10x1.25"`)
	}
	return MetricThread(diameter, pitch)
}

// notMetric says what is wrong with a text that begins with M.
func notMetric(s string) string {
	switch {
	case strings.Contains(s, ","):
		return "a decimal comma"
	case strings.ContainsAny(s, "gGhHfe") && strings.Contains(s, "-"):
		return "a tolerance class, which is given apart"
	}
	return "no metric thread"
}

func parseUnified(s string) (Thread, error) {
	m := unifiedForm.FindStringSubmatch(s)
	if m == nil {
		what, fix := notUnified(s)
		return Thread{}, threadError(s, what, fix)
	}
	tpi := ratio(strings.NewReplacer("4 1/2", "4.5", "4-1/2", "4.5").Replace(m[7]))
	series := strings.ReplaceAll(m[8], " ", "")
	if number, ok := strings.CutSuffix(series, "UN"); ok && number != "" {
		if ratio(number).Cmp(tpi) != 0 {
			return Thread{}, threadError(s, fmt.Sprintf("a series %s with %s threads per inch", series, tpi.RatString()), fmt.Sprintf("write %q", "1-1/8-"+number+" UN"))
		}
		series = "UN"
	}

	var size string
	var inches *big.Rat
	switch {
	case m[1] != "":
		size = "#" + m[2]
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
		if number := numberOf(inches); standardSeries("#"+number, tpi) != UNS {
			size = "#" + number // ".190-32" is the decimal form of "#10-32"
		}
	case len(m[6]) > 1 && m[6][0] == '0':
		return Thread{}, threadError(s, "a size that begins with zero", `write "#0-80 UNF", "#8-32 UNC" or ".190-32 UNF"`)
	default:
		inches = ratio(m[6])
		size = inches.RatString()
		numbered := numberSize(size)
		switch {
		case numbered != nil && standardSeries("#"+size, tpi) != UNS:
			inches, size = numbered, "#"+size // "10-32" is a number size, "1-8" an inch
		case (series == "" || series == "UNS") && mayBeNumber(size, tpi):
			rest := "-" + numberText(tpi) + " UNS"
			return Thread{}, threadError(s, "a size that may be a number or inches", fmt.Sprintf("write %q or %q", "#"+size+rest, size+".0"+rest))
		}
	}
	return unifiedThread(s, size, inches, tpi, Series(series))
}

// notUnified says what is wrong with a text that does not begin with M, and what to write
// instead.
func notUnified(s string) (what, fix string) {
	const help = `write "3/8-24 UNF", "#10-32 UNF" or "1-1/8-8 UN"`
	if pitch, ok := pitchLeftOut(s); ok {
		return "no threads per inch", fmt.Sprintf("write %q", pitch)
	}
	if capitals := strings.ToUpper(s); capitals != s {
		if t, err := ParseThread(capitals); err == nil {
			return "small letters", fmt.Sprintf("write %q", t)
		}
	}
	switch {
	case strings.Contains(s, ","):
		return "a decimal comma", help
	case strings.HasSuffix(s, "A") || strings.HasSuffix(s, "B"):
		return "a tolerance class, which is given apart", help
	}
	return "no thread", help
}

// pitchLeftOut returns the whole designation of a size and a series that fix the pitch
// between them: of "3/8 UNF", "3/8-24 UNF".
func pitchLeftOut(s string) (designation string, ok bool) {
	for series, pitches := range unifiedPitches {
		size, found := strings.CutSuffix(s, " "+string(series))
		if !found {
			continue
		}
		for _, known := range []string{size, strings.Replace(size, " ", "-", 1), "#" + size} {
			if tpi, found := pitches[known]; found {
				return known + "-" + tpi + " " + string(series), true
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

// mayBeNumber reports whether a size in whole inches is as well a number size of which so
// many threads per inch leave a core, while no series has them for the inches. The sizes of
// ASME B1.1 end at 6 in.
func mayBeNumber(size string, tpi *big.Rat) bool {
	number := numberSize(size)
	if number == nil {
		return false
	}
	series := standardSeries(size, tpi)
	listed := series == UN && ratio(size).Cmp(big.NewRat(6, 1)) <= 0
	if series != UNS && series != UN || listed {
		return false
	}
	sharp := product(triangle, big.NewRat(3, 2)) // what a sharp thread takes of the diameter, in pitches
	return product(number, tpi).Cmp(sharp) > 0
}

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

// standardSeries returns the series that has a size with so many threads per inch, or
// UNS.
func standardSeries(size string, tpi *big.Rat) Series {
	for _, s := range []Series{UNC, UNF, UNEF} {
		if unifiedPitches[s][size] == numberText(tpi) {
			return s
		}
	}
	if isConstant(tpi) && !strings.HasPrefix(size, "#") {
		return UN
	}
	return UNS
}

// isConstant reports whether there is a constant pitch series of so many threads per inch.
func isConstant(tpi *big.Rat) bool {
	return slices.Contains(constantPitches, numberText(tpi))
}

func unifiedThread(text, size string, inches, tpi *big.Rat, series Series) (Thread, error) {
	if tpi.Sign() <= 0 || inches.Sign() <= 0 {
		return Thread{}, threadError(text, "a zero", `write "3/8-24 UNF"`)
	}
	switch series {
	case "":
		series = standardSeries(size, tpi)
	case UNC, UNF, UNEF:
		n, ok := unifiedPitches[series][size]
		if !ok {
			return Thread{}, threadError(text, fmt.Sprintf("a size that the series %s does not have", series), fmt.Sprintf("write UNS for a special thread: %q", size+"-"+numberText(tpi)+" UNS"))
		}
		if n != numberText(tpi) {
			return Thread{}, threadError(text, fmt.Sprintf("%s threads per inch, where %s %s has %s", numberText(tpi), size, series, n),
				fmt.Sprintf("write %q or %q", size+"-"+n+" "+string(series), size+"-"+numberText(tpi)+" "+string(standardSeries(size, tpi))))
		}
	case UN:
		if !isConstant(tpi) {
			return Thread{}, threadError(text, numberText(tpi)+" threads per inch, which no constant pitch series has", "the constant pitch series have "+strings.Join(constantPitches, ", ")+"; leave the series off, or write UNS for a special thread")
		}
		if known := standardSeries(size, tpi); known != UNS {
			series = known // 1-8 is UNC, though the series of 8 to the inch has it too
		}
	}
	if series == UNS && mayBeNumber(size, tpi) {
		size += ".0" // so that the designation reads as inches
	}
	t := Thread{
		form: unified, major: units.Inch.OfRat(inches), pitch: units.Inch.OfRat(new(big.Rat).Inv(tpi)),
		series: series, size: size, tpi: tpi,
	}
	if t.RootDiameter().Sign() <= 0 || t.below(3, 2).Sign() <= 0 {
		return Thread{}, threadError(text, "a pitch too coarse for the diameter: no core is left", `write the diameter, then the threads per inch, as in "3/8-24 UNF"`)
	}
	return t, nil
}

// String returns the designation, which ParseThread reads again: "M10", "M10x1.25",
// "3/8-24 UNF". Of the zero Thread it is "no thread".
func (t Thread) String() string {
	switch {
	case t.form == unified:
		return t.size + "-" + numberText(t.tpi) + " " + string(t.series)
	case t.form == noForm:
		return "no thread"
	case t.series == MetricCoarse:
		return "M" + t.size
	}
	return "M" + t.size + "x" + bare(t.pitch)
}

// MarshalText returns String.
func (t Thread) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

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
