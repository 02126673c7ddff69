package understand_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/understand"
	"example.com/closefit/internal/thorough"
)

// TestNoRuleBehind: verdicts that were dealt at random to lines whose sheet does not say which rule is behind them
// are taken for a rule's in fewer than two of a hundred sheets; the coverage says why they are not checked. In
// one kind of sheet the words are not known, in the other nothing says which of two numbers they judge.
func TestNoRuleBehind(t *testing.T) {
	random := rand.New(rand.NewPCG(23, 7))
	trials, counts := 51, []int{4, 10}
	if thorough.Whole() {
		trials, counts = 60, []int{3, 4, 6, 10}
	}
	path := filepath.Join(t.TempDir(), "a.csv")
	bearing := func(words []string) string { // clearances on both sides of 0.030..0.050 mm
		var b strings.Builder
		b.WriteString("main,bore mm,upper mm,lower mm,journal mm,clearance mm,least mm,most mm,verdict\n")
		for i, w := range words {
			c := 20 + random.IntN(41)
			fmt.Fprintf(&b, "m%d,60.%03d,2.001,2.003,%.3f,0.%03d,0.030,0.050,%s\n", i+1, 10+i, 60.010+float64(i)/1000-4.004-float64(c)/1000, c, w)
		}
		return b.String()
	}
	plays := func(words []string) string { // an end play and a stretch
		var b strings.Builder
		b.WriteString("engine,journal length mm,housing width mm,end play mm,free length mm,tightened mm,stretch mm,least mm,most mm,verdict\n")
		for i, w := range words {
			p, s := 80+random.IntN(81), 80+random.IntN(81)
			fmt.Fprintf(&b, "e%d,%.3f,%.3f,0.%03d,%.3f,%.3f,0.%03d,0.100,0.140,%s\n", i+1, 28+float64(p+i)/1000, 28+float64(i)/1000, p, 62+float64(i)/1000, 62+float64(i+s)/1000, s, w)
		}
		return b.String()
	}
	for _, kind := range []struct {
		name  string
		write func([]string) string
		words []string
	}{{"words that are not known", bearing, []string{"blue", "white"}}, {"two numbers that may be judged", plays, []string{"OK", "no"}}} {
		for _, lines := range counts {
			for _, equal := range []bool{false, true} {
				claimed := 0
				for range trials {
					words := make([]string, lines)
					for i := range words {
						if words[i] = kind.words[random.IntN(2)]; equal {
							words[i] = kind.words[0]
						}
					}
					if err := os.WriteFile(path, []byte(kind.write(words)), 0o600); err != nil {
						t.Fatal(err)
					}
					u, _ := readFile(t, path)
					if len(u.Tables) == 0 {
						t.Fatalf("no table is understood of\n%s", kind.write(words))
					}
					last := u.Tables[0].Columns[len(u.Tables[0].Columns)-1]
					if last.Role != "verdict" {
						t.Fatalf("the last column is %+v", last)
					}
					if last.Claim {
						claimed++
					} else if !slices.ContainsFunc(u.Unknown, unsure(last.At)) {
						t.Fatalf("nothing is said of the verdicts; not understood: %v", u.Unknown)
					}
				}
				if 50*claimed >= trials {
					t.Errorf("%s, %d lines, all equal %t: a rule is taken for %d of %d", kind.name, lines, equal, claimed, trials)
				}
			}
		}
	}
	var words []string // twelve lines by the rule itself, in words that are not known
	text := bearing(make([]string, 24))
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		word := ""
		if i > 0 {
			word = "blue"
			if c := strings.Split(line, ",")[5]; c < "0.030" || c > "0.050" {
				word = "white"
			}
		}
		words = append(words, line+word)
	}
	if err := os.WriteFile(path, []byte(strings.Join(words, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, r := readFile(t, path); r.Coverage.Checked != 48 || len(r.Findings) > 0 {
		t.Errorf("of 24 lines by a rule %d cells are checked, want 48; findings %v", r.Coverage.Checked, short(r.Findings))
	}
}

// unsure finds what is said of a column whose rule cannot be told.
func unsure(column string) func(understand.Unknown) bool {
	return func(x understand.Unknown) bool {
		return strings.HasPrefix(x.At.String(), column) && (strings.Contains(x.Why, "too few verdicts of both kinds to tell a rule from chance") || strings.Contains(x.Why, "no limits were found with which its words agree"))
	}
}
