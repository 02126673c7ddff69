// Package mutation changes the library in small ways, one at a time, and asks whether
// its tests notice. A mutant that no test notices is a line that nothing checks, or one
// that changes nothing: each is to be looked at.
package mutation

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

var (
	mutants  = flag.Int("mutants", 0, "how many mutants to try; 0 tries none")
	seed     = flag.Uint64("seed", 1, "which sample of them")
	packages = flag.String("packages", "units,units/measure,clearance,grading,grading/purchase,torque,torque/ledger,torque/preload,torque/examination", "the packages to change, with commas")
	only     = flag.String("only", "", "lines to change, as units/root.go:20 with commas, each in every way there is, in place of a sample")
	limit    = flag.Duration("limit", 3*time.Minute, "how long the tests of one mutant may take; more is noticed")
)

const root = "../.."

// A site is a place in a file that can be changed: the nth one there.
type site struct {
	folder, file string
	nth, line    int
}

// name is how survivors and -only name a line.
func (s site) name() string {
	return fmt.Sprintf("%s:%d", filepath.ToSlash(strings.TrimPrefix(s.file, root+string(filepath.Separator))), s.line)
}

// TestMutants draws a sample of mutants and reports those that survive the tests of
// their package, the evidence and the exchange form.
func TestMutants(t *testing.T) {
	if *mutants == 0 && *only == "" {
		t.Skip("no mutants are asked for; use -mutants 200")
	}
	var sites []site
	for _, folder := range strings.Split(*packages, ",") {
		files, err := filepath.Glob(filepath.Join(root, folder, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no Go file, %v", folder, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") || strings.HasSuffix(file, "doc.go") {
				continue
			}
			for n, line := range lines(t, file) {
				sites = append(sites, site{folder, file, n, line})
			}
		}
	}
	rnd := rand.New(rand.NewPCG(*seed, 0))
	rnd.Shuffle(len(sites), func(i, j int) { sites[i], sites[j] = sites[j], sites[i] })
	sample := sites[:min(*mutants, len(sites))]
	if *only != "" {
		named := strings.Split(*only, ",")
		sample = slices.DeleteFunc(sites, func(s site) bool { return !slices.Contains(named, s.name()) })
		for _, name := range named {
			if !slices.ContainsFunc(sample, func(s site) bool { return s.name() == name }) {
				t.Fatalf("-only %s: nothing there can be changed", name)
			}
		}
	}
	t.Logf("%d mutants of %d places that can be changed", len(sample), len(sites))
	killed := 0
	for i, s := range sample {
		what, survives := try(t, s)
		if !survives {
			killed++
		} else {
			t.Logf("survives: %s", what)
		}
		fmt.Fprintf(os.Stderr, "\r%d of %d tried, %d noticed ", i+1, len(sample), killed)
	}
	fmt.Fprintln(os.Stderr)
	t.Logf("%d of %d mutants noticed, %.1f %%", killed, len(sample), 100*float64(killed)/float64(len(sample)))
}

// try builds the mutant in an overlay and runs the tests on it.
func try(t *testing.T, s site) (what string, survives bool) {
	t.Helper()
	set := token.NewFileSet()
	parsed, err := parser.ParseFile(set, s.file, nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	c := changesOf(parsed)[s.nth]
	what = s.name() + ": " + c.what
	c.apply()
	var text bytes.Buffer
	if err := format.Node(&text, set, parsed); err != nil {
		return what, false
	}
	folder := t.TempDir()
	changed := filepath.Join(folder, "changed.go")
	if err := os.WriteFile(changed, text.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	absolute, err := filepath.Abs(s.file)
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {absolute: changed}})
	if err != nil {
		t.Fatal(err)
	}
	list := filepath.Join(folder, "overlay.json")
	if err := os.WriteFile(list, overlay, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, tests := range [][]string{{"./" + s.folder}, {"./" + s.folder + "/...", "./internal/evidence", "./internal/exchange"}} {
		ctx, cancel := context.WithTimeout(context.Background(), *limit)
		run := exec.CommandContext(ctx, "go", append([]string{"test", "-failfast", "-vet=off", "-overlay", list, "-timeout", limit.String()}, tests...)...)
		run.Dir = root
		err := run.Run()
		cancel()
		if err != nil {
			return what, false
		}
	}
	return what, true
}

// A change is one way to alter a file.
type change struct {
	at    token.Pos
	what  string
	apply func()
}

// lines are those of the changes of a file.
func lines(t *testing.T, file string) (list []int) {
	t.Helper()
	set := token.NewFileSet()
	parsed, err := parser.ParseFile(set, file, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range changesOf(parsed) {
		list = append(list, set.Position(c.at).Line)
	}
	return list
}

// swaps are the operators that are exchanged for others.
var swaps = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR}, token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL}, token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD}, token.MUL: {token.QUO}, token.QUO: {token.MUL},
}

// methods are calls that are exchanged for their opposite.
var methods = map[string]string{
	"Add": "Sub", "Sub": "Add", "Lo": "Hi", "Hi": "Lo", "HasLo": "HasHi", "HasHi": "HasLo", "Below": "Within",
}

// changesOf lists the changes of a file, in the order of the source.
func changesOf(file *ast.File) []change {
	var found []change
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			return n.Tok != token.IMPORT && n.Tok != token.CONST
		case *ast.BinaryExpr:
			if _, text := n.X.(*ast.BasicLit); text && n.Op == token.ADD && n.X.(*ast.BasicLit).Kind == token.STRING {
				return true // a sum of texts
			}
			if lit, ok := n.Y.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				return true
			}
			for _, op := range swaps[n.Op] {
				was := n.Op
				found = append(found, change{n.OpPos, was.String() + " becomes " + op.String(), func() { n.Op = op }})
			}
		case *ast.IfStmt:
			found = append(found, change{n.If, "the condition is turned round", func() {
				n.Cond = &ast.UnaryExpr{Op: token.NOT, X: &ast.ParenExpr{X: n.Cond}}
			}})
		case *ast.CallExpr:
			if sel, ok := n.Fun.(*ast.SelectorExpr); ok {
				if to, ok := methods[sel.Sel.Name]; ok {
					was := sel.Sel.Name
					found = append(found, change{sel.Sel.Pos(), was + " becomes " + to, func() { sel.Sel = ast.NewIdent(to) }})
				}
			}
		case *ast.BasicLit:
			if n.Kind == token.INT && (n.Value == "0" || n.Value == "1" || n.Value == "2") {
				was := n.Value
				to := map[string]string{"0": "1", "1": "2", "2": "3"}[was]
				found = append(found, change{n.Pos(), was + " becomes " + to, func() { n.Value = to }})
			}
		}
		return true
	})
	slices.SortStableFunc(found, func(a, b change) int { return int(a.at) - int(b.at) })
	return found
}
