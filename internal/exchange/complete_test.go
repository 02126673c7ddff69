package exchange

import (
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const root = "../.."

const notYetFile = "testdata/notyet.txt"

// notYetMost is how long that list may be. It is lowered with the list and never
// raised: a new type is registered when it is made.
const notYetMost = 0

var update = flag.Bool("update", false, "take out of "+notYetFile+" what is registered or gone; nothing is ever added")

// A library package's types: those registered, and those that are no values, each
// with the reason.
type registered struct {
	forms      []form
	exceptions map[string]string
}

// packages has an entry for each library package of which types are registered: one
// line here and one file beside this one.
func packages() map[string]registered {
	return map[string]registered{
		"units":              {unitsForms(), unitsExceptions()},
		"clearance":          {clearanceForms(), nil},
		"units/measure":      {measureForms(), measureExceptions()},
		"clearance/isofit":   {isofitForms(), nil},
		"clearance/stack":    {stackForms(), stackExceptions()},
		"clearance/film":     {filmForms(), filmExceptions()},
		"fasteners":          {fastenersForms(), nil},
		"grading":            {gradingForms(), nil},
		"grading/purchase":   {purchaseForms(), nil},
		"torque":             {torqueForms(), torqueExceptions()},
		"torque/ledger":      {ledgerForms(), ledgerExceptions()},
		"torque/preload":     {preloadForms(), preloadExceptions()},
		"torque/examination": {examinationForms(), nil},
	}
}

// TestForms checks every registered type.
func TestForms(t *testing.T) {
	for dir, p := range packages() {
		for _, f := range p.forms {
			t.Run(dir+"."+f.name, f.check)
		}
	}
}

// TestEveryTypeIsRegistered reads the library's source and fails for an exported type
// that is neither registered nor excepted nor on the list of those still to do, and
// for a name on these lists that is no such type.
func TestEveryTypeIsRegistered(t *testing.T) {
	declared := map[string]bool{}
	for _, dir := range libraryFolders(t) {
		for _, name := range exportedTypes(t, filepath.Join(root, dir)) {
			declared[dir+"."+name] = true
		}
	}
	if len(declared) < 50 {
		t.Fatalf("only %d exported types were found", len(declared))
	}
	known := map[string]bool{}
	for dir, p := range packages() {
		for _, f := range p.forms {
			of, _, more := strings.Cut(f.name, " of ") // the second form of a generic type
			name := dir + "." + of
			if known[name] != more {
				t.Errorf("%s is registered twice", name)
			}
			known[name] = true
		}
		for name, reason := range p.exceptions {
			if known[dir+"."+name] || reason == "" {
				t.Errorf("%s.%s is an exception without a reason, or registered too", dir, name)
			}
			known[dir+"."+name] = true
		}
	}
	for name := range known {
		if !declared[name] {
			t.Errorf("%s is listed and is no exported type any more: take it off the list", name)
		}
	}
	text, err := os.ReadFile(notYetFile)
	if err != nil {
		t.Fatal(err)
	}
	var still []string
	for line := range strings.Lines(string(text)) {
		name := strings.TrimSpace(line)
		switch {
		case known[name], !declared[name]:
			if !*update {
				t.Errorf("%s is registered or gone: take it out of %s, or run go test ./internal/exchange -update", name, notYetFile)
			}
		case slices.Contains(still, name):
			t.Errorf("%s stands twice in %s", name, notYetFile)
		default:
			still = append(still, name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(declared)) {
		if !known[name] && !slices.Contains(still, name) {
			t.Errorf("%s is new: register it in the file of its package here, or except it with a reason", name)
		}
	}
	if len(still) > notYetMost {
		t.Errorf("%d types stand in %s, at most %d may", len(still), notYetFile, notYetMost)
	}
	if *update {
		lines := strings.Join(still, "\n") + "\n"
		if len(still) == 0 {
			lines = ""
		}
		if err := os.WriteFile(notYetFile, []byte(lines), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d exported types: %d registered or excepted, %d not yet", len(declared), len(known), len(still))
}

// libraryFolders returns the folders of the library's packages.
func libraryFolders(t *testing.T) (dirs []string) {
	t.Helper()
	for _, top := range []string{"units", "clearance", "grading", "fasteners", "torque"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d os.DirEntry, err error) error {
			if err != nil || !d.IsDir() {
				return err
			}
			if d.Name() == "testdata" {
				return filepath.SkipDir
			}
			dir, err := filepath.Rel(root, path)
			dirs = append(dirs, filepath.ToSlash(dir))
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return dirs
}

// exportedTypes returns the names of the exported types that a folder's package
// declares outside its tests: not interfaces and functions, which are no values, and
// not other names of declared types.
func exportedTypes(t *testing.T, dir string) (names []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(set, file, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok {
				continue
			}
			for _, s := range g.Specs {
				ts, ok := s.(*ast.TypeSpec)
				if !ok || !ts.Name.IsExported() || ts.Assign.IsValid() {
					continue
				}
				switch ts.Type.(type) {
				case *ast.InterfaceType, *ast.FuncType:
				default:
					names = append(names, ts.Name.Name)
				}
			}
		}
	}
	return names
}

// The source is read as it is written: a type, a generic one, one of a group; no
// interface, function, alias or name of small letters.
func TestExportedTypes(t *testing.T) {
	dir := t.TempDir()
	const source = `package p
type A struct{}
type B[T any] struct{ v T }
type (
	C uint8
	d int
)
type E interface{ F() }
type F func()
type G = A
`
	for name, text := range map[string]string{"p.go": source, "p_test.go": "package p\ntype T struct{}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got := exportedTypes(t, dir); !slices.Equal(got, []string{"A", "B", "C"}) {
		t.Errorf("%v", got)
	}
}
