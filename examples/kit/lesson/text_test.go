//go:build !nobrowser

package lesson

import (
	"bytes"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

var update = flag.Bool("update", false, "write the texts of the pages anew")

// What stands still holds no number.
func TestTextsHoldNoNumber(t *testing.T) {
	for _, l := range All() {
		texts := append([]string{l.Title, l.Question}, l.Reads...)
		for _, text := range append(texts, l.Try...) {
			if strings.ContainsAny(text, "0123456789") {
				t.Errorf("%s: a number stands in %q", l.Key, text)
			}
		}
	}
}

// No sentence in the source holds a number either: figures in sentences are computed. What is left are
// formulas, standards and names of figures, which hold no sentence.
func TestSentencesHoldNoNumber(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	allowed := []string{"JCGM", "ISO", "VDI", "25 mm", "h = c/2", "c/2", "d2", "M ω", "parts of c", " / 2", "- 2 · ", "x1", "J/cm³", "2π", "10⁻", "kN/mm", "t1", "2 t", "1/k", "from 0 to", `{"closefit": 1`, "write 1, the version"}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			lit, is := n.(*ast.BasicLit)
			if !is || lit.Kind != token.STRING {
				return true
			}
			text, err := strconv.Unquote(lit.Value)
			if err != nil || !strings.Contains(text, " ") || !strings.ContainsAny(text, "0123456789") {
				return true
			}
			for _, a := range allowed {
				if strings.Contains(text, a) {
					return true
				}
			}
			t.Errorf("%s: a number is typed into %q", name, text)
			return true
		})
	}
}

// The pages say what they said before, and their texts stand apart and are whole at every width without a script.
func TestPagesStandStill(t *testing.T) {
	browser, lessons := pagetest.Open(t), All()
	for n := 0; n < len(lessons); n += thorough.Every(len(lessons)) {
		l := lessons[n]
		var b bytes.Buffer
		if err := (Site{}).Write(&b, l); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(b.String(), "<script") {
			t.Errorf("%s: a page without a module has a script", l.Key)
		}
		for _, fault := range browser.Texts(t, b.String()) {
			t.Errorf("%s: %s", l.Key, fault)
		}
	}
}

// golden is the text of a page for reading: its paragraphs, what is said, and its exercises.
func golden(t *testing.T, l *Lesson) string {
	t.Helper()
	v, err := l.show(l.Start())
	if err != nil {
		t.Fatal(err)
	}
	both, err := l.Exercises(FirstSeed)
	if err != nil {
		t.Fatal(err)
	}
	lines := append([]string{"# " + l.Title, l.Question}, l.Reads...)
	for i, c := range l.Controls {
		lines = append(lines, c.Name+": "+c.Says(l.Start()[i]))
	}
	lines = append(lines, v.said...)
	workings, err := v.working()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range workings {
		lines = append(lines, w.Text())
	}
	lines = append(lines, l.Try...)
	lines = append(lines, l.Caution)
	for i := range both {
		e := &both[i]
		lines = append(lines, "## "+e.Task)
		for _, g := range e.Given {
			lines = append(lines, g[0]+": "+g[1])
		}
		lines = append(lines, e.Write, "right: "+e.Right)
		for _, m := range e.Usual {
			lines = append(lines, "wrong: "+m.Answer+": "+m.Why)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

func TestTexts(t *testing.T) {
	for _, l := range All() {
		name := filepath.Join("testdata", l.Key+".txt")
		got := golden(t, l)
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s is not what %s holds; look at the change, and write it with -update:\n%s", l.Key, name, got)
		}
	}
}
