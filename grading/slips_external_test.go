package grading_test

import (
	"errors"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// sumText is an invented scheme by sums, with a family.
const sumText = `scheme,mill
interchangeable
limits,0.030..0.062 mm
wanted,0.044 mm
housing,1,,,84.000..84.008 mm
housing,2,,,84.008..84.016 mm
journal,A,,1,79.980..79.988 mm
journal,B,,3,79.972..79.980 mm
sum,2,3,thin
sum,4,5,thin/thick
shell,thin,,1.984..1.988 mm
shell,thick,,1.992..1.996 mm
family,0.25,0.25 mm
`

// offered returns what an error says to write, in quotes, and in their order.
func offered(err error) []string {
	var texts []string
	_, advice, found := strings.Cut(err.Error(), "write ")
	if !found {
		return nil
	}
	for _, quoted := range regexp.MustCompile(`"(?:[^"\\]|\\.)*"`).FindAllString(advice, -1) {
		if text, err := strconv.Unquote(quoted); err == nil {
			texts = append(texts, text)
		}
	}
	return texts
}

// Whoever mistypes a size in a scheme, and follows the advice to its end, gets what
// was meant, or is asked for the size in full, or finds what was meant among what is
// offered.
func TestAdviceOnASizeLeadsToIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := strings.Split(strings.TrimSuffix(rapid.SampledFrom([]string{stepsText, sumText}).Draw(t, "scheme"), "\n"), "\n")
		at := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
		fields := strings.Split(lines[at], ",")
		column := slices.IndexFunc(fields, func(f string) bool { return strings.HasSuffix(f, " mm") })
		if column < 0 {
			t.Skip("no size in the line")
		}
		meant := fields[column]
		wanted, err := grading.ReadCSV(strings.NewReader(strings.Join(lines, "\n")))
		if err != nil {
			t.Fatal(err)
		}
		quote := func(text string) string { return `"` + text + `"` }
		slip := rapid.SampledFrom([]string{"decimal commas", "a decimal comma", "quoted decimal commas", "no unit", "a column forgotten", "another dash", "the wrong way round", "a letter O", "spaces"}).Draw(t, "slip")
		typed := meant
		switch slip {
		case "decimal commas":
			typed = strings.NewReplacer("..", "..", ".", ",").Replace(meant)
		case "a decimal comma":
			i := strings.LastIndex(meant, ".")
			typed = meant[:i] + "," + meant[i+1:]
		case "quoted decimal commas":
			typed = quote(strings.NewReplacer("..", "..", ".", ",").Replace(meant))
		case "no unit":
			typed = strings.TrimSuffix(meant, " mm")
		case "another dash":
			typed = strings.Replace(meant, "..", "–", 1)
		case "the wrong way round":
			lo, hi, two := strings.Cut(strings.TrimSuffix(meant, " mm"), "..")
			if two {
				typed = hi + ".." + lo + " mm"
			}
		case "a letter O":
			typed = strings.ReplaceAll(meant, "0.0", "O.O")
		case "spaces":
			typed = " " + strings.Replace(meant, " mm", "  mm ", 1)
		}
		spoilt := slices.Clone(fields)
		spoilt[column] = typed
		if slip == "a column forgotten" && column > 2 {
			spoilt = slices.Delete(spoilt, column-1, column)
		}
		text := func(fields []string) string {
			l := slices.Clone(lines)
			l[at] = strings.Join(fields, ",")
			return strings.Join(l, "\n")
		}
		for range 5 {
			got, err := grading.ReadCSV(strings.NewReader(text(spoilt)))
			if err == nil {
				err = got.Validate()
				if diff := cmp.Diff(wanted, got, sameSizes); err == nil && diff != "" {
					t.Fatalf("%s: %q is taken for something else:\n%s", slip, strings.Join(spoilt, ","), diff)
				}
				return
			}
			var texts []string
			for _, o := range offered(err) {
				if _, err := units.ParseLengthInterval(o); err == nil {
					texts = append(texts, o)
				}
			}
			if len(texts) == 0 {
				return // asked for in full
			}
			was, _ := units.ParseLengthInterval(meant)
			if !slices.ContainsFunc(texts, func(o string) bool { return units.MustParseLengthInterval(o).Equal(was) }) {
				t.Fatalf("%s: %q is answered with %q: %v", slip, strings.Join(spoilt, ","), texts, err)
			}
			spoilt = slices.Clone(fields)
			spoilt[column] = meant
		}
		t.Fatalf("%s: the advice has no end", slip)
	})
}

// One wrong key in a number leaves it near what was meant, or is found: no size of a
// scheme that is read and valid is a hundred times what was meant, or a hundredth.
func TestNoSizeIsFarFromWhatWasMeant(t *testing.T) {
	checkOneKeySlips(t, []string{stepsText, sumText}, func(text string) (*grading.Scheme, error) {
		return grading.ReadCSV(strings.NewReader(text))
	})
}

// checkOneKeySlips tries each slip of one key in each place of the texts.
func checkOneKeySlips(t *testing.T, texts []string, parse func(string) (*grading.Scheme, error)) {
	t.Helper()
	for _, text := range texts {
		meant, err := parse(text)
		if err != nil {
			t.Fatal(err)
		}
		for i := range len(text) {
			c := text[i]
			slips := []string{""} // left out
			switch {
			case c == '.':
				slips = append(slips, ",", "..", " ", "-")
			case '0' <= c && c <= '9':
				slips = append(slips, string([]byte{c, c}), string([]byte{c, '.'}), string([]byte{c, ','}), "O")
			case c == ',':
				slips = append(slips, ".", ",,", ";")
			case c == ' ':
				slips = append(slips, "  ", ",")
			}
			if i+1 < len(text) {
				slips = append(slips, string([]byte{text[i+1], c}))
			}
			for k, s := range slips {
				spoilt := text[:i] + s + text[i+1:]
				if k > 0 && k == len(slips)-1 {
					spoilt = text[:i] + s + text[i+2:]
				}
				got, err := parse(spoilt)
				if err != nil || got.Validate() != nil {
					continue
				}
				if far := farFrom(got, meant); far != "" {
					t.Errorf("%q for %q at %d is valid: %s", s, c, i, far)
				}
			}
		}
	}
}

// farFrom says which size of a scheme is far from what was meant, if one is.
func farFrom(got, meant *grading.Scheme) string {
	far := func(a, b units.Length) bool {
		hundred := big.NewRat(100, 1)
		a, b = a.Abs(), b.Abs()
		return a.Sign() > 0 && b.Sign() > 0 && (a.MulRat(hundred).Cmp(b) <= 0 || b.MulRat(hundred).Cmp(a) <= 0)
	}
	check := func(what string, a, b units.LengthInterval) string {
		if !a.Bounded() || !b.Bounded() {
			return ""
		}
		if far(a.Lo(), b.Lo()) || far(a.Hi(), b.Hi()) {
			return what + " " + a.String() + ", meant " + b.String()
		}
		return ""
	}
	if s := check("limits", got.Limits, meant.Limits); s != "" {
		return s
	}
	if got.Wanted != nil && meant.Wanted != nil && far(*got.Wanted, *meant.Wanted) {
		return "wanted " + got.Wanted.String()
	}
	for k := range min(len(got.Housing), len(meant.Housing)) {
		if s := check("housing", got.Housing[k].Size, meant.Housing[k].Size); s != "" {
			return s
		}
	}
	for k := range min(len(got.Journal), len(meant.Journal)) {
		if s := check("journal", got.Journal[k].Size, meant.Journal[k].Size); s != "" {
			return s
		}
	}
	for k := range min(len(got.Shells), len(meant.Shells)) {
		if s := check("wall", got.Shells[k].Wall, meant.Shells[k].Wall); s != "" {
			return s
		}
	}
	for k := range min(len(got.Families), len(meant.Families)) {
		if far(got.Families[k].Undersize, meant.Families[k].Undersize) {
			return "undersize " + got.Families[k].Undersize.String()
		}
	}
	return ""
}

// Whoever writes a row of codes with a slip in one place, and follows the advice,
// gets a row in which every code that was meant is possible at its location; or the
// row is refused.
func TestAdviceOnARowLeadsToIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		codes := rapid.SampledFrom([][]string{{"A", "B", "C"}, {"1", "2", "11", "12", "21"}, {"6", "8", "9"}, {"A-1", "A-2", "B-1"}}).Draw(t, "codes")
		n := rapid.IntRange(2, 7).Draw(t, "locations")
		meant := make([]string, n)
		for i := range meant {
			meant[i] = rapid.SampledFrom(codes).Draw(t, "code")
		}
		words := slices.Clone(meant)
		at := rapid.IntRange(0, n-1).Draw(t, "at")
		slip := rapid.SampledFrom([]string{"none", "left out", "no such code", "a mark"}).Draw(t, "slip")
		switch slip {
		case "left out":
			words = slices.Delete(words, at, at+1)
		case "no such code":
			words[at] = "Z"
		case "a mark":
			words = append(words, "*")
		}
		separator := rapid.SampledFrom([]string{" ", ", ", ""}).Draw(t, "separator")
		begins := rapid.SampledFrom([]string{"", firstEnd, lastEnd}).Draw(t, "from")
		row := grading.Row{Side: grading.Journal, Locations: mainsOf(n), Codes: codes, From: begins}
		truth := slices.Clone(meant)
		if begins == lastEnd {
			slices.Reverse(truth)
		}
		for range 4 {
			row.Text = strings.Join(words, separator)
			got, err := placed(row).Read()
			if err == nil {
				for i, s := range got.Stamps {
					if !slices.Contains(s.Possible, truth[i]) {
						t.Fatalf("%q, meant as %q, is read as %q", row.Text, truth, codesOf(got.Stamps))
					}
				}
				return
			}
			says := err.Error()
			switch {
			case errors.Is(err, grading.ErrCodes) && strings.Contains(says, "with spaces between"):
				separator = " "
				if len(words) < n {
					words = slices.Insert(words, at, "?")
				}
			case errors.Is(err, grading.ErrCodes) && strings.Contains(says, "the scheme does not hold Z: write the code as it is stamped, or ?"):
				words[at] = "?"
			case errors.Is(err, grading.ErrCodes) && strings.Contains(says, "in the place of each code"):
				words = slices.Insert(words, at, "?")
			case errors.Is(err, grading.ErrCodes) && strings.Contains(says, "leave out what is no code"):
				words = words[:n]
			case errors.Is(err, grading.ErrCodes) && strings.Contains(says, "it holds "+strings.Join(codes, ", ")):
				words[at] = meant[at]
			case errors.Is(err, grading.ErrCodes) && strings.Contains(says, "write the codes as they are stamped, and ? in the place"):
				words = []string{"?"}
			default:
				t.Fatalf("%q: %v: no advice to follow", row.Text, err)
			}
		}
		t.Fatalf("%q: the advice has no end", row.Text)
	})
}
