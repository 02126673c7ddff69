package fasteners

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// expressions are the forms as regular expressions, which package regexp reads in its own way.
var expressions = []struct {
	name, text string
	is         pattern
	parts      int
	ending     bool // looked for at the end of a text
}{
	{"metric", `^M ?(\d{1,4}(?:\.\d{1,4})?)(?: ?[x×X] ?(\d{1,3}(?:\.\d{1,4})?))?$`, metricForm(), 2, false},
	{"unified", `^(?:(#|No\. ?)(\d{1,2})|(?:(\d{1,2})[ -])?(\d{1,2})/(\d{1,2})|(\d{0,2}\.\d{1,4}|\d{1,2}))` +
		` ?(?:in|")? ?- ?(\d{1,2}(?:\.\d{1,2})?|4 1/2|4-1/2)(?: ?(?:-? ?)(UNC|UNF|UNEF|UNS|(?:\d{1,2} ?)?UN))?$`, unifiedForm(), 8, false},
	{"metric class", `[ -]+\d[E-He-h](\d[E-He-h])?(/\d[E-He-h](\d[E-He-h])?)?$`, metricClass(), 0, true},
	{"unified class", `[ -]*[123][ABab]$`, unifiedClass(), 0, true},
	{"decimal commas", `^[^.,]*(?:,\d{1,4}(?:[^.,\d][^.,]*)?)+$`, decimalCommas(), 0, false},
	{"another sign", `^[Mm]? ?(\d{1,3}(?:\.\d{1,2})?)(?: ?[x×X*/-] ?| )(\d(?:\.\d{1,3})?)$`, otherSign(), 2, false},
	{"another dash", `^(\S*[/#.]\S*?)(?: ?[x×X*–—] ?| )(\d{1,2}(?:\.\d)?)((?: ?-? ?UN\S*)?)$`, otherDash(), 3, false},
}

// Each form reads what the regular expression reads, with the same parts, in texts made of what
// designations are made of.
func TestForms(t *testing.T) {
	pieces := []string{"M", "m", " ", "-", ".", ",", "/", "#", "x", "×", "*", "–", "0", "1", "2", "3", "4", "8", "10", "24", "1/2", "No.", "in", `"`, "UN", "UNC", "UNF", "UNEF", "UNS", "A", "b", "6g", "5H6H", "\xff", "\n", "\u00a0", "é"}
	read := make(map[string]int)
	check := func(t interface{ Errorf(string, ...any) }, s string) {
		for _, x := range expressions {
			expression := regexp.MustCompile(x.text)
			if x.ending {
				want := expression.ReplaceAllString(s, "")
				if got, ok := x.is.without(s); got != want || ok != expression.MatchString(s) {
					t.Errorf("%s: %q is %q, %v; want %q", x.name, s, got, ok, want)
				} else if ok {
					read[x.name]++
				}
				continue
			}
			want := expression.FindStringSubmatch(s)
			got, ok := x.is.read(s)
			if ok != (want != nil) || ok && (!slices.Equal(got[1:1+x.parts], want[1:1+x.parts])) {
				t.Errorf("%s: %q is %q, %v; want %q", x.name, s, got, ok, want)
			} else if ok {
				read[x.name]++
			}
		}
	}
	for _, s := range []string{"M10", "M10x1.5", "M 10 × 1.25", "3/8-24 UNF", "#10-32 UNF", "No. 10-32", "1-1/8-8 UN", "1 1/8-8UN", "1/4-20", ".190-32", `1"-8`, "1 in - 8", "2-4 1/2", "2-4-1/2 UNC", "1-8-8 UN", "M10-6g", "M10x1.5-5g6g/6H", "1/4-20-2A", "1/4-20 UNC 2B", "M10x1,5", "10,5,25", "10-1.25", "M10*1.25", "10 1.25", "#10x32", "1/4–20 UNC", "1/4 20", ".25x20-UNC", "1/4x20 - UNF", ""} {
		check(t, s)
	}
	for _, x := range expressions {
		if read[x.name] == 0 {
			t.Errorf("no example reads a %s", x.name)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 9).Draw(t, "pieces"), ""))
	})
}
