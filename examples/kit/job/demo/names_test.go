package demo_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/internal/thorough"
)

// namedKeys and namedValues are the places of a job that hold a name: the keys of a table
// and the texts by which one part of the file speaks of another, or says one of a few words.
var (
	namedKeys = regexp.MustCompile(`^(instruments|measure|bolts|shells)\.[^.]+$|^measure\..*\.(readings|conditions)\.[^.]+$|` +
		`^bolts\..*\.(lengths|new_lengths)\.[^.]+$|^shells\..*\.(grades|walls)\.(upper|lower)\.[^.]+$`)
	namedValues = regexp.MustCompile(`^engine\.[^n]|\.(with|set_on|kind|half|grade|group|begins|mark_at|what)$|\.(sure|new|sound|scrap|bolts|order)(\[\d+\])?$|\.caps\[\d+\]\[\d+\]$|\.places\[\d+\]\.bolt$|` +
		`\.grades\.(upper|lower)\.[^.]+$|\.conditions\.[^.]+$|^measure\.(passage|\w+ condition)\.`)
)

// alone are names that stand nowhere else in their job, so that no other spelling of them
// is wrong.
var alone = []struct {
	where *regexp.Regexp
	why   string
}{
	{regexp.MustCompile(`^instruments\.(crush strip|strip|test gauge|pressure gauge)$`), "the only instrument of its kind is found by that"},
	{regexp.MustCompile(`^shells\.main\.walls\.(upper\.elm|lower\.(elm|yew))$`), "a grade that no code calls for, and nobody has"},
	{regexp.MustCompile(`^shells\.main\.grades\.(upper\.III|lower\.II)$`), "a code that no part is stamped with"},
	{regexp.MustCompile(`^tightening\[\d\]\.(caps|places|circle|bolts)`), "of a group whose bolts are all new or all sound, only the plan names each"},
}

// misspelt are other spellings of a name: a letter more, a letter less, the last two
// exchanged.
func misspelt(name string) []string {
	letters := []rune(name)
	list := []string{name + "x"}
	n := len(letters)
	if n > 1 {
		list = append(list, string(letters[:n-1]))
		if a, b := letters[n-2], letters[n-1]; a != b {
			list = append(list, string(letters[:n-2])+string(b)+string(a))
		}
	}
	return list
}

// namesOf are the names of a job, and how to misspell each.
func namesOf(root tree) (names []misspelling) {
	for _, p := range root.places() {
		if p.named && namedKeys.MatchString(p.path) {
			for _, s := range misspelt(p.key) {
				names = append(names, misspelling{p, s, p.value})
			}
		}
		if text, ok := p.value.(string); ok && namedValues.MatchString(p.path) {
			for _, s := range misspelt(text) {
				names = append(names, misspelling{p, p.key, s})
			}
		}
	}
	return names
}

// A misspelling is a place of a job with another key, or with another name in it.
type misspelling struct {
	place
	key   string
	value any
}

// of writes the job with the misspelling.
func (m misspelling) of(root tree) string {
	m.put(m.key, m.value)
	defer m.restore()
	return root.String()
}

// standsAlone reports whether a name is one of those.
func standsAlone(m misspelling) bool {
	return slices.ContainsFunc(alone, func(a struct {
		where *regexp.Regexp
		why   string
	}) bool {
		return a.where.MatchString(m.path)
	})
}

// TestAMisspeltNameIsAnError misspells every name of the job of which all is proven,
// wherever it stands, one at a time. Where TESTS is not whole it takes one spelling in nine.
func TestAMisspeltNameIsAnError(t *testing.T) {
	t.Parallel()
	root := treeOf(t, read(t, proven+".toml"))
	var n tally
	every := thorough.Every(9)
	for i, m := range namesOf(root) {
		if i%every != 0 {
			continue
		}
		got, _, _ := outcomeOf(t, m.of(root))
		n[got]++
		if got != refused && !(standsAlone(m) && m.named) {
			t.Errorf("%s, misspelt as %q, %v, is no error: outcome %d", m.path, m.key, m.value, got)
		}
	}
	t.Logf("names misspelt: %s", n)
	if n[refused] < 300/every {
		t.Error("too few names were misspelt")
	}
}

// unused reports whether a name is of an instrument that nothing is read with: a drawn job
// names some that it does not use.
func unused(m misspelling, src string) bool {
	return strings.HasPrefix(m.path, "instruments.") && m.named && m.path == "instruments."+m.place.key &&
		!strings.Contains(src, `= "`+m.place.key+`"`) && !strings.Contains(src, m.place.key+": ")
}

// TestAMisspeltNameOfAnyJobIsAnError does the same at random in the other demonstrations,
// and in generated jobs, where a name that nothing can be held against (a grade where no
// walls are known, a place that becomes another's) leaves the job not proven.
func TestAMisspeltNameOfAnyJobIsAnError(t *testing.T) {
	t.Parallel()
	spelt := 0
	rapid.Check(t, func(t *rapid.T) {
		name, src := aJob(t)
		root := treeOf(t, src)
		m := rapid.SampledFrom(namesOf(root)).Draw(t, "name")
		if standsAlone(m) || unused(m, src) {
			return
		}
		a, err := assessed(t, m.of(root))
		if err == nil && (name != "generated" || a.Proven()) {
			t.Fatalf("%s: %s, misspelt as %q, %v, is no error", name, m.path, m.key, m.value)
		}
		spelt++
	})
	t.Logf("%d names misspelt", spelt)
}
