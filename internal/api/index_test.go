package api

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask/whole"
)

// known is what a page may name.
type known struct {
	calls     map[string]bool            // "measure.Judge", "measure.Strip.Read"
	questions map[string]bool            // "judge"
	programs  map[string]map[string]bool // options by program
}

// TestIndex: what the table of examples/README.md names is there.
func TestIndex(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the go command for every package")
	}
	page, err := os.ReadFile("../../examples/README.md")
	if err != nil {
		t.Fatal(err)
	}
	k := known{calls(face(t)), map[string]bool{}, map[string]map[string]bool{}}
	for _, q := range whole.Questions() {
		k.questions[q.Name] = true
	}
	mains, err := filepath.Glob("../../examples/*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range mains {
		if !strings.HasSuffix(file, "_test.go") {
			k.options(t, file)
		}
	}
	rows := table(string(page))
	if len(rows) < 20 {
		t.Fatalf("%d rows of the table were read: it is not where it was, or not of five columns", len(rows))
	}
	asked := map[string]bool{}
	for _, row := range rows {
		for _, fault := range k.faults(row) {
			t.Errorf("examples/README.md, %q: %s", row[0], fault)
		}
		for _, name := range quoted(row[3]) {
			asked[name] = true
		}
	}
	for name := range k.questions {
		if !asked[name] {
			t.Errorf("examples/README.md: no row leads to the question %s", name)
		}
	}
	for _, name := range programs {
		if !slices.ContainsFunc(rows, func(row []string) bool { return strings.Contains(row[4], "`"+name) }) {
			t.Errorf("examples/README.md: no row leads to the program %s", name)
		}
	}
}

// TestReadme: README.md has a row for each package of the library, and says how each program is run.
func TestReadme(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the go command for every package")
	}
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	packages := map[string]bool{}
	for _, line := range face(t) {
		name, _, _ := strings.Cut(line, ": ")
		packages[name] = true
	}
	if len(packages) < 10 {
		t.Fatalf("%d packages were found", len(packages))
	}
	for name := range packages {
		if !strings.Contains(string(page), "\n| `"+name+"` |") {
			t.Errorf("README.md: no row for the package %s", name)
		}
	}
	for _, name := range programs {
		if !strings.Contains(string(page), "\n    go run ./examples/"+name+" ") {
			t.Errorf("README.md: nothing says how to run %s", name)
		}
	}
}

// programs are those of examples that people run.
var programs = []string{"shortblock", "torquewalk", "sheetcheck", "bench", "lessons", "serve", "wasm", "conformance"}

func TestIndexFaults(t *testing.T) {
	k := known{
		calls(strings.Split("units/measure: func Judge[D units.Dimension](a, b) Verdict\nunits/measure: type Strip struct\nunits/measure: type Strip struct, Widths []int\nunits/measure: method (Strip) Read(string) int\nunits/measure: method (*Sum[D]) Reading() int\nunits/measure: const NineInTen float64 = 0.9", "\n")),
		map[string]bool{"judge": true},
		map[string]map[string]bool{"bench": {"o": true}},
	}
	tests := []struct{ name, calls, question, program, fault string }{
		{"all there", "`measure.Judge` `measure.Strip.Read` `measure.Strip.Widths` `measure.Sum.Reading` `measure.NineInTen`", "`judge`", "`bench -o`", ""},
		{"a dash", "—", "`judge`", "—", ""},
		{"no such function", "`measure.Guess`", "—", "—", "no Go call measure.Guess"},
		{"no such method", "`measure.Strip.Write`", "—", "—", "no Go call measure.Strip.Write"},
		{"no such package", "`units.Judge`", "—", "—", "no Go call units.Judge"},
		{"no such question", "—", "`guess`", "—", "no question guess"},
		{"no such program", "—", "—", "`couch`", "no program couch"},
		{"no such option", "—", "—", "`bench -oo`", "bench has no option -oo"},
		{"nothing to call", "—", "—", "—", "nothing to call"},
		{"without quotes", "measure.Guess", "`judge`", "—", "write `name` or —"},
		{"an empty cell", "", "`judge`", "—", "write `name` or —"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			found := k.faults([]string{"a strip", "a verdict", test.calls, test.question, test.program})
			switch {
			case test.fault == "" && len(found) > 0:
				t.Errorf("faults %q, want none", found)
			case test.fault != "" && (len(found) != 1 || !strings.Contains(found[0], test.fault)):
				t.Errorf("faults %q, want one: %q", found, test.fault)
			}
		})
	}
}

// faults says what a row names that is not there.
func (k known) faults(row []string) (found []string) {
	for i, cell := range row[2:] {
		if rest := strings.TrimSpace(ticks.ReplaceAllString(cell, "")); len(quoted(cell)) > 0 && rest != "" || len(quoted(cell)) == 0 && rest != "—" {
			found = append(found, "column "+strconv.Itoa(i+3)+": write `name` or —")
		}
	}
	for _, name := range quoted(row[2]) {
		if !k.calls[name] {
			found = append(found, "there is no Go call "+name)
		}
	}
	for _, name := range quoted(row[3]) {
		if !k.questions[name] {
			found = append(found, "there is no question "+name)
		}
	}
	for _, text := range quoted(row[4]) {
		words := strings.Fields(text)
		options, is := k.programs[words[0]]
		if !is {
			found = append(found, "there is no program "+words[0])
			continue
		}
		for _, o := range words[1:] {
			if !options[strings.TrimPrefix(o, "-")] {
				found = append(found, words[0]+" has no option "+o)
			}
		}
	}
	if len(slices.Concat(quoted(row[2]), quoted(row[3]), quoted(row[4]))) == 0 {
		found = append(found, "there is nothing to call")
	}
	return found
}

var ticks = regexp.MustCompile("`([^`]+)`")

// quoted are the names between backquotes.
func quoted(cell string) (names []string) {
	for _, m := range ticks.FindAllStringSubmatch(cell, -1) {
		names = append(names, m[1])
	}
	return names
}

// table returns the rows of the page's first table, without its head.
func table(page string) (rows [][]string) {
	for line := range strings.Lines(page) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		if !strings.HasPrefix(line, "|") {
			if len(rows) > 0 {
				break
			}
			continue
		}
		if len(cells) != 5 {
			return nil
		}
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		rows = append(rows, cells)
	}
	return rows[min(2, len(rows)):]
}

// declared are the parts of a line of face: its folder, and the name with that of its receiver or struct.
var declared = regexp.MustCompile(`^(?:\w+/)*(\w+): (?:(?:func|const|var|type) (\w+)|method \(\*?(\w+)[^)]*\) (\w+))(?:.* struct, (\w+) )?`)

// calls are the names of the declarations.
func calls(face []string) map[string]bool {
	found := map[string]bool{}
	for _, line := range face {
		m := declared.FindStringSubmatch(line)
		switch {
		case m == nil:
		case m[3] != "":
			found[m[1]+"."+m[3]+"."+m[4]] = true
		case m[5] != "":
			found[m[1]+"."+m[2]+"."+m[5]] = true
		default:
			found[m[1]+"."+m[2]] = true
		}
	}
	return found
}

// options adds the options that a file of a program declares: texts that a call has as its first or
// second argument, as flags.String("o", …) and flags.BoolVar(&b, "film", …) have, and first texts of the rows
// of a table that says options.
func (k known) options(t *testing.T, file string) {
	t.Helper()
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Base(filepath.Dir(file))
	if k.programs[program] == nil {
		k.programs[program] = map[string]bool{}
	}
	add := func(of []ast.Expr) {
		for _, e := range of {
			if text, is := e.(*ast.BasicLit); is && text.Kind == token.STRING {
				if name, err := strconv.Unquote(text.Value); err == nil {
					k.programs[program][name] = true
				}
			}
		}
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			switch f := n.Fun.(type) {
			case *ast.SelectorExpr:
				if on, is := f.X.(*ast.Ident); is && (on.Name == "flags" || on.Name == "flag") {
					add(n.Args[:min(2, len(n.Args))])
				}
			case *ast.Ident: // a function of the program that declares one
				if f.Name == "single" {
					add(n.Args[:min(1, len(n.Args))])
				}
			}
		case *ast.CompositeLit:
			add(n.Elts[:min(1, len(n.Elts))])
			for _, e := range n.Elts {
				if pair, is := e.(*ast.KeyValueExpr); is {
					if key, is := pair.Key.(*ast.Ident); is && key.Name == "name" {
						add([]ast.Expr{pair.Value})
					}
				}
			}
		}
		return true
	})
}
