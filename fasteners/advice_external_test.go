package fasteners_test

import (
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// toWrite finds what an error says to write: the texts quoted after "write", and none after
// "as in", which is an example.
var (
	toWrite = regexp.MustCompile(`write ("[^"]+"(?: or "[^"]+")*)`)
	quoted  = regexp.MustCompile(`"[^"]+"`)
)

func advised(err error) []string {
	var texts []string
	m := toWrite.FindString(err.Error()[strings.LastIndex(err.Error(), ";")+1:])
	for _, text := range quoted.FindAllString(m, -1) {
		texts = append(texts, strings.Trim(text, `"`))
	}
	return texts
}

// A slip changes how a person writes a designation.
type slip struct {
	name string
	of   func(string) string
}

var slips = []slip{
	{"none", func(s string) string { return s }},
	{"small letters", strings.ToLower},
	{"a decimal comma", func(s string) string { return strings.Replace(s, ".", ",", 1) }},
	{"decimal commas", func(s string) string { return strings.ReplaceAll(s, ".", ",") }},
	{"no M and a dash", func(s string) string { return strings.Replace(strings.TrimPrefix(s, "M"), "x", "-", 1) }},
	{"a dash for the x", func(s string) string { return strings.Replace(s, "x", "-", 1) }},
	{"a slash for the x", func(s string) string { return strings.Replace(s, "x", "/", 1) }},
	{"a space for the x", func(s string) string { return strings.Replace(s, "x", " ", 1) }},
	{"no M", func(s string) string { return strings.TrimPrefix(s, "M") }},
	{"an x for the dash", func(s string) string {
		if i := strings.LastIndex(s, "-"); i > 0 {
			return s[:i] + "x" + s[i+1:]
		}
		return s
	}},
	{"a space for the dash", func(s string) string {
		if i := strings.LastIndex(s, "-"); i > 0 {
			return s[:i] + " " + s[i+1:]
		}
		return s
	}},
	{"no sign before a number size", func(s string) string { return strings.TrimPrefix(s, "#") }},
	{"no series", func(s string) string { before, _, _ := strings.Cut(s, " UN"); return before }},
	{"no threads per inch", func(s string) string {
		dash, space := strings.LastIndex(s, "-"), strings.LastIndex(s, " ")
		if dash > 0 && space > dash {
			return s[:dash] + s[space:]
		}
		return s
	}},
	{"another series", func(s string) string {
		before, series, ok := strings.Cut(s, " ")
		if !ok {
			return s
		}
		return before + " " + map[string]string{"UNC": "UNF", "UNF": "UNC", "UNEF": "UNF", "UN": "UNS", "UNS": "UN"}[series]
	}},
	{"a bolt's class", func(s string) string {
		if s[0] == 'M' {
			return s + "-6g"
		}
		return s + "-2A"
	}},
	{"a nut's class after a blank", func(s string) string {
		if s[0] == 'M' {
			return s + " 6H"
		}
		return s + " 2B"
	}},
	{"the length of the bolt", func(s string) string { return s + "x40" }},
	{"the length for the pitch", func(s string) string { before, _, _ := strings.Cut(s, "x"); return before + "x40" }},
	{"a comma between size and pitch", func(s string) string { return strings.Replace(s, "x", ",", 1) }},
	{"a pitch without its point", func(s string) string {
		before, pitch, _ := strings.Cut(s, "x")
		return before + "x" + strings.ReplaceAll(pitch, ".", "")
	}},
	{"a size without its point", func(s string) string {
		return map[string]string{"1/4-20 UNC": "25-20", "1/2-13 UNC": "50-13", "3/4-16 UNF": "75-16"}[s] + ""
	}},
}

var meant = []string{
	"M1.6", "M1.6x0.2", "M2.5x0.35", "M3", "M3.5", "M6x0.75", "M8x1", "M10x1.25", "M12x1.75", "M14x1.5", "M36x3", "M64x4",
	"#0-80 UNF", "#4-40 UNC", "#10-32 UNF", "#12-28 UNF", "1/4-20 UNC", "1/2-13 UNC", "1/2-12 UNS", "3/4-16 UNF", "7/16-28 UNEF",
	"1-8 UNC", "1-1/8-8 UN", "1-1/8-12 UNF", "2-4.5 UNC", "3-12 UN", "6-16 UN", "13/32-20 UNS", "#8-18 UNS", "8.0-18 UNS",
}

// Whatever a slip makes of a designation, it is read as what was meant or refused; and each
// text that the refusal says to write is accepted, with what was meant among them. Where
// the refusal only shows an example, it asks for the whole designation.
func TestAdviceLeadsToWhatWasMeant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := fasteners.MustParseThread(rapid.SampledFrom(meant).Draw(t, "meant"))
		s := rapid.SampledFrom(slips).Draw(t, "slip")
		full := want.String()
		if !want.IsUnified() && rapid.Bool().Draw(t, "with its pitch") && !strings.Contains(full, "x") {
			full += "x" + strings.TrimSuffix(want.Pitch().String(), " mm")
		}
		text := s.of(full)
		if text == "" {
			t.Skip("the slip cannot happen here")
		}
		got, err := fasteners.ParseThread(text)
		if err == nil {
			// Without its sign or dash a number may be read as another thread that has that very
			// designation, and nothing could tell; it is then as long as what was meant.
			if !got.Equal(want) && text != got.String() && !strings.HasPrefix(got.String(), text) {
				t.Fatalf("%q, meant as %v, is read as %v", text, want, got)
			}
			return
		}
		var found []fasteners.Thread
		for _, write := range advised(err) {
			thread, again := fasteners.ParseThread(write)
			if again != nil {
				t.Fatalf("%q: %v; following it: %v", text, err, again)
			}
			found = append(found, thread)
		}
		if len(found) > 0 && !slices.ContainsFunc(found, want.Equal) {
			t.Fatalf("%q, meant as %v: %v", text, want, err)
		}
	})
}

var firstNumber = regexp.MustCompile(`\d*\.?\d+`)

// A text that is read is not a hundred times away from what a person would take it for, the
// first number in millimetres or inches (a number size is at most 56 times smaller than its
// number); its pitch is a thread's; and it reads again as it prints.
func FuzzParseThread(f *testing.F) {
	for _, s := range meant {
		f.Add(s)
		for _, slip := range slips {
			f.Add(slip.of(s))
		}
	}
	for _, s := range []string{"M10x1.5", "2-4 1/2", "0.4375-20", "M1,5", `1/4"-20`, "No. 4-40", "00-90", "0-72", "99-99", "M1000x8", "6.0-20", "7-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		thread, err := fasteners.ParseThread(s)
		if err != nil {
			if !errors.Is(err, fasteners.ErrImpossible) {
				t.Fatalf("%q: error %v", s, err)
			}
			var what *units.Error
			if !errors.As(err, &what) || what.Found == "" || what.Fix == "" {
				t.Fatalf("%q: error %#v", s, err)
			}
			for _, write := range advised(err) {
				if _, err := fasteners.ParseThread(write); err != nil {
					t.Fatalf("%q: following the advice %q: %v", s, write, err)
				}
			}
			return
		}
		again, err := fasteners.ParseThread(thread.String())
		if err != nil || !again.Equal(thread) || again.String() != thread.String() {
			t.Fatalf("%q is %v, which parses as %v, %v", s, thread, again, err)
		}
		unit := units.Millimetre
		if thread.IsUnified() {
			unit = units.Inch
		}
		first, err := strconv.ParseFloat(firstNumber.FindString(s), 64)
		if off := thread.Major().Float64(unit) / first; err != nil || first > 0 && (off < 0.01 || off > 100) {
			t.Fatalf("%q is %v, %g times its first number %g, %v", s, thread, off, first, err)
		}
		pitch, _ := thread.Pitch().Ratio(thread.Major()).Float64()
		if pitch <= 0 || pitch > 0.4 {
			t.Fatalf("%q is %v, whose pitch is %g of the diameter", s, thread, pitch)
		}
	})
}

// A class is itself or refused; following the advice gives the class with the same letters.
func FuzzToleranceClass(f *testing.F) {
	for _, s := range []string{"6g", "6H", "2A", "2B", "2a", "6h", "6G", " 2b ", "", "8.8", strings.Repeat("6g", 40)} {
		f.Add(s)
	}
	limits := func(class string) (l fasteners.Limits, err error) {
		for _, thread := range []string{"M10", "3/8-24 UNF"} {
			if l, err = fasteners.MustParseThread(thread).Limits(class); err == nil {
				return l, nil
			}
		}
		return l, err
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := limits(s)
		if err == nil {
			if l.Class != strings.TrimSpace(s) {
				t.Fatalf("%q is read as %q", s, l.Class)
			}
			return
		}
		if !errors.Is(err, fasteners.ErrImpossible) {
			t.Fatalf("%q: error %v", s, err)
		}
		for _, write := range advised(err) {
			if got, err := limits(write); err != nil || !strings.EqualFold(got.Class, strings.TrimSpace(s)) {
				t.Fatalf("%q: following the advice %q: %q, %v", s, write, got.Class, err)
			}
		}
	})
}

// A property class or grade is itself or refused; following the advice gives one with the same
// digits.
func FuzzPropertyClass(f *testing.F) {
	for _, s := range []string{"8.8", "10.9", "12,9", "109", "88", "class 8.8", "Grade 5", "5.2", "52", "8", "A2-70", "", "9.8 ", "8.80", "-8.8"} {
		f.Add(s)
	}
	digits := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, s)
	}
	m10, half := fasteners.MustParseThread("M10"), fasteners.MustParseThread("1/2-13")
	f.Fuzz(func(t *testing.T, s string) {
		for _, thread := range []fasteners.Thread{m10, half} {
			got, err := fasteners.StrengthOf(s, thread)
			if err == nil {
				if got.Class != strings.TrimSpace(s) {
					t.Fatalf("%q is read as %q", s, got.Class)
				}
				continue
			}
			if !errors.Is(err, fasteners.ErrImpossible) {
				t.Fatalf("%q: error %v", s, err)
			}
			for _, write := range advised(err) {
				got, err := fasteners.StrengthOf(write, thread)
				if err != nil || digits(got.Class) != digits(s) {
					t.Fatalf("%q: following the advice %q: %q, %v", s, write, got.Class, err)
				}
			}
		}
	})
}
