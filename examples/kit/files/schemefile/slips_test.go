package schemefile_test

import (
	"errors"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/schemefile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// texts returns the schemes in testdata.
func texts(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("testdata/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	list := make([]string, len(files))
	for i, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		list[i] = string(src)
	}
	return list
}

// sizes returns every size of a scheme in the order of its lists.
func sizes(s *grading.Scheme) []units.LengthInterval {
	var list []units.LengthInterval
	for _, codes := range [][]grading.Code{s.Housing, s.Journal} {
		for _, c := range codes {
			if !c.Size.IsEmpty() {
				list = append(list, c.Size)
			}
		}
	}
	for _, sh := range s.Shells {
		list = append(list, sh.Wall)
	}
	for _, f := range s.Families {
		list = append(list, units.Exactly(f.Undersize))
	}
	if !s.Limits.IsEmpty() {
		list = append(list, s.Limits)
	}
	if s.Wanted != nil {
		list = append(list, units.Exactly(*s.Wanted))
	}
	return list
}

// One wrong key in a number leaves it near what was meant, or is found: no size of a
// scheme that is read and valid is a hundred times what was meant, or a hundredth.
func TestNoSizeIsFarFromWhatWasMeant(t *testing.T) {
	hundred := big.NewRat(100, 1)
	far := func(a, b units.Length) bool {
		return a.Sign() > 0 && b.Sign() > 0 && (a.MulRat(hundred).Cmp(b) <= 0 || b.MulRat(hundred).Cmp(a) <= 0)
	}
	number := regexp.MustCompile(`[0-9][0-9.]*[0-9]`)
	for _, text := range texts(t) {
		meant, err := schemefile.Read("meant", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		want := sizes(meant)
		for _, span := range number.FindAllStringIndex(text, -1) {
			for i := span[0]; i < span[1]; i++ {
				c := text[i : i+1]
				for _, typed := range []string{"", ",", " ", "..", c + c, c + ".", "." + c, "O", "-"} {
					got, err := schemefile.Read("spoilt", []byte(text[:i]+typed+text[i+1:]))
					if err != nil || got.Validate() != nil {
						continue
					}
					for k, size := range sizes(got) {
						if k < len(want) && size.Bounded() && (far(size.Lo(), want[k].Lo()) || far(size.Hi(), want[k].Hi())) {
							t.Errorf("%q for %q in %q is valid: %s, meant %s", typed, c, text[span[0]:span[1]], size, want[k])
						}
					}
				}
			}
		}
	}
}

// Whoever mistypes a size, and follows the advice to its end, gets what was meant, or
// is asked for it in full.
func TestAdviceOnASizeLeadsToIt(t *testing.T) {
	quoted := regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)
	size := regexp.MustCompile(`"[0-9.]+ mm"`)
	all := texts(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom(all).Draw(t, "scheme")
		spans := size.FindAllStringIndex(text, -1)
		if len(spans) == 0 {
			t.Skip("no size in millimetres")
		}
		span := rapid.SampledFrom(spans).Draw(t, "size")
		meant := strings.Trim(text[span[0]:span[1]], `"`)
		lo, hi, two := strings.Cut(strings.TrimSuffix(meant, " mm"), "..")
		typed := `"` + meant + `"`
		switch rapid.SampledFrom([]string{"commas", "no unit", "a bare number", "the wrong way round", "the letter O"}).Draw(t, "slip") {
		case "commas":
			typed = strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(typed, "..", "…"), ".", ","), "…", "..")
		case "no unit":
			typed = strings.TrimSuffix(typed, ` mm"`) + `"`
		case "a bare number":
			if !two {
				typed = lo
			}
		case "the wrong way round":
			if two {
				typed = `"` + hi + ".." + lo + ` mm"`
			}
		case "the letter O":
			typed = strings.ReplaceAll(typed, "0.0", "O.O")
		}
		was := units.MustParseLengthInterval(meant)
		got, err := schemefile.Read("typed.toml", []byte(text[:span[0]]+typed+text[span[1]:]))
		if err == nil {
			if err = got.Validate(); err == nil && !slices.ContainsFunc(sizes(got), was.Equal) {
				t.Fatalf("%s for %q is taken for something else", typed, meant)
			}
			return
		}
		// The decoder does not say where a bare number stands.
		line := strings.Count(text[:span[0]], "\n") + 1
		if e, ok := errors.AsType[*tomlfile.Error](err); !ok || e.Line != line && (typed[0] == '"' || e.Line != 0) {
			t.Fatalf("%s: %v: not of line %d", typed, err, line)
		}
		_, advice, _ := strings.Cut(err.Error(), "write ")
		any, right := false, false
		for _, q := range quoted.FindAllString(advice, -1) {
			offer, err := strconv.Unquote(q)
			if err != nil {
				continue
			}
			if o, err := units.ParseLengthInterval(offer); err == nil {
				any, right = true, right || o.Equal(was)
			}
		}
		if any && !right {
			t.Fatalf("%s, meant as %q, is answered with %v", typed, meant, err)
		}
	})
}

// Whatever is read comes back as it was through writing, nothing makes reading or
// checking panic, and an error names the file.
func FuzzRead(f *testing.F) {
	for _, text := range texts(f) {
		f.Add(text)
	}
	f.Add("name = 'x'\nground = '0.25'\n[[housing]]\ncode = '1'\nnumber = 9223372036854775807\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := schemefile.Read("fuzzed.toml", []byte(text))
		if err != nil {
			if !strings.HasPrefix(err.Error(), "fuzzed.toml") {
				t.Errorf("error without its file: %v", err)
			}
			return
		}
		valid := s.Validate() == nil
		var again strings.Builder
		if err := schemefile.Write(&again, s); err != nil {
			t.Fatal(err)
		}
		back, err := schemefile.Read("written", []byte(again.String()))
		if err != nil || (back.Validate() == nil) != valid {
			t.Errorf("written and read again: %v\n%s", err, again.String())
		}
		if valid && !s.Limits.IsEmpty() && len(s.Shells) > 0 && len(s.Shells) < 20 {
			s.Audit()
		}
	})
}
