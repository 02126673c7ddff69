package layout

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const (
	root   = "../.."
	module = "example.com/closefit"
)

// arrows is the package map: every library package, and the packages of this module
// that it may import. A package that is not in the map is not part of the library's
// design; one that is added to the design is added here.
func arrows() map[string][]string {
	return map[string][]string{
		"units":              {},
		"units/measure":      {"units"},
		"clearance":          {"units", "units/measure"},
		"clearance/isofit":   {"units", "units/measure"},
		"clearance/stack":    {"units", "units/measure"},
		"clearance/film":     {"units"},
		"grading":            {"units", "units/measure", "clearance", "grading/purchase"},
		"grading/purchase":   {"units"},
		"fasteners":          {"units", "units/measure"},
		"torque":             {"units", "units/measure", "fasteners"},
		"torque/ledger":      {"units", "torque"},
		"torque/preload":     {"units", "units/measure", "fasteners"},
		"torque/examination": {"units", "units/measure", "fasteners", "torque", "torque/preload"},
	}
}

// imports is what the packages of this module import outside their tests: importer
// by its folder, imported by import path, and a file that does it.
type imports map[string]map[string]string

// TestImports reads every Go file of the tree, for whatever system it is built.
func TestImports(t *testing.T) {
	got, err := readImports(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(got) == 0 {
		t.Fatal("no Go file was read")
	}
	for _, fault := range importFaults(got) {
		t.Error(fault)
	}
}

// TestDependencies asks the go command for all that each library package pulls in.
// What it answers follows from the files that TestImports reads, and from go.mod,
// read here so that the test's cached result goes when it changes.
func TestDependencies(t *testing.T) {
	if _, err := os.ReadFile(filepath.Join(root, "go.mod")); err != nil {
		t.Fatal(err)
	}
	for _, dir := range slices.Sorted(maps.Keys(arrows())) {
		if files, _ := filepath.Glob(filepath.Join(root, dir, "*.go")); len(files) == 0 {
			continue // TestFolders tells of a missing one
		}
		t.Run(dir, func(t *testing.T) {
			deps, err := dependencies(t, "./"+dir)
			if err != nil {
				t.Fatal(err)
			}
			for _, fault := range dependencyFaults(dir, deps) {
				t.Error(fault)
			}
		})
	}
}

// TestLight: what runs in a browser pulls in nothing that makes its module many times as large. Templates
// call methods by name, for which the linker keeps every exported method of every type; html holds the
// names of two thousand characters. The lessons have a smaller module, and sign nothing: crypto tests
// itself whenever it is linked in.
func TestLight(t *testing.T) {
	heavy := []string{"html", "html/template", "text/template", "encoding/xml", "net/http", "gonum.org/v1/gonum/mat", "gonum.org/v1/gonum/stat", "gonum.org/v1/gonum/lapack/gonum"}
	for _, dir := range []string{"examples/kit/job", "examples/kit/record", "examples/kit/measuring", "torque/examination", "examples/kit/lesson"} {
		deps, err := dependencies(t, "./"+dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range deps {
			if slices.Contains(heavy, d.ImportPath) || dir == "examples/kit/lesson" && d.ImportPath == "crypto/sha256" {
				t.Errorf("%s pulls in %s: write pages with examples/kit/page, and take mathext or a few lines in place of a matrix; what the lessons need stays apart from what hashes", dir, d.ImportPath)
			}
		}
	}
}

func TestImportFaults(t *testing.T) {
	tests := []struct {
		name     string
		importer string
		imported string
		fault    string // "" for an import that is allowed
	}{
		{"std", "units", "math/big", ""},
		{"std of a new major version", "units", "math/rand/v2", ""},
		{"decimal", "units", "github.com/shopspring/decimal", ""},
		{"gonum", "clearance/stack", "gonum.org/v1/gonum/stat/distuv", ""},
		{"along an arrow", "torque", module + "/fasteners", ""},
		{"from a subpackage to units", "clearance/isofit", module + "/units", ""},
		{"programs know the library", "examples/kit/job", module + "/torque", ""},
		{"programs know other modules", "examples/kit/job", "github.com/pelletier/go-toml/v2", ""},
		{"evidence knows decimal", "internal/evidence", "github.com/shopspring/decimal", ""},
		{"evidence knows the library", "internal/evidence", module + "/clearance/isofit", ""},

		{"units knows nothing here", "units", module + "/clearance", "units may import nothing of this module"},
		{"against an arrow", "fasteners", module + "/torque", "fasteners may import only units, units/measure of this module"},
		{"grading stays off subpackages", "grading", module + "/clearance/stack", "grading may import only units, units/measure, clearance, grading/purchase of this module"},
		{"a package stays off its subpackages", "clearance", module + "/clearance/stack", "only units, units/measure of this module"},
		{"a subpackage stays off its parent", "clearance/film", module + "/clearance", "only units of this module"},
		{"the library knows no program", "torque", module + "/examples/kit/job", "only units, units/measure, fasteners"},
		{"the library knows no test helper", "units", module + "/internal/evidence", "nothing of this module"},
		{"another module", "grading", "github.com/pelletier/go-toml/v2", "only the standard library, decimal and gonum"},
		{"a module whose name begins like gonum's", "units", "gonum.org/v1/gonumerous", "only the standard library, decimal and gonum"},
		{"gonum's plotting", "clearance/stack", "gonum.org/v1/plot", "only the standard library, decimal and gonum"},
		{"C", "units", "C", "only the standard library, decimal and gonum"},
		{"a package outside the map", "torque/journal", module + "/units", "torque/journal is not in the package map"},
		{"a package at the top", ".", "fmt", ". is not in the package map"},
		{"programs know no test helper", "examples/embed", module + "/internal/evidence", "helps tests alone"},
		{"helpers of the programs' tests know those of all", "examples/kit/page/pagetest", module + "/internal/thorough", ""},
		{"evidence knows no program", "internal/evidence", module + "/examples/kit/job", "imports examples/kit/job outside its tests"},
		{"other test helpers know no package outside tests", "internal/exchange", module + "/units", "imports units outside its tests"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			faults := importFaults(imports{test.importer: {test.imported: "f.go"}})
			switch {
			case test.fault == "" && len(faults) > 0:
				t.Errorf("faults %q, want none", faults)
			case test.fault != "" && (len(faults) != 1 || !strings.Contains(faults[0], test.fault)):
				t.Errorf("faults %q, want one that says %q", faults, test.fault)
			}
		})
	}
}

func TestDependencyFaults(t *testing.T) {
	allowed := []dependency{
		{ImportPath: "math/big", Standard: true},
		{ImportPath: "vendor/golang.org/x/text/unicode/norm", Standard: true},
		{ImportPath: "github.com/shopspring/decimal"},
		{ImportPath: "gonum.org/v1/gonum/mathext"},
		{ImportPath: module + "/units"},
		{ImportPath: module + "/torque"},
	}
	if faults := dependencyFaults("torque", allowed); len(faults) > 0 {
		t.Errorf("faults %q, want none", faults)
	}
	for _, bad := range []string{"golang.org/x/exp/rand", module + "/clearance", module + "/internal/evidence", "C"} {
		faults := dependencyFaults("torque", append(slices.Clone(allowed), dependency{ImportPath: bad}))
		if len(faults) != 1 || !strings.Contains(faults[0], bad) {
			t.Errorf("faults %q, want one about %s", faults, bad)
		}
	}
}

// TestReadImports makes a tree whose only faults are in files that a careless reader
// would skip.
func TestReadImports(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"units/length.go":           "package units\n\nimport \"math/big\"\n",
		"units/length_plan9.go":     "//go:build plan9\n\npackage units\n\nimport _ \"example.com/closefit/torque\"\n",
		"units/length_test.go":      "package units\n\nimport \"testing\"\n",
		"units/testdata/x.go":       "package x\n\nimport \"example.org/x\"\n",
		"torque/plan.go":            "package torque\n\nimport (\n\tu \"example.com/closefit/units\"\n)\n",
		".git/hooks/x.go":           "package x\n",
		"examples/_old/x.go":        "package x\n",
		"examples/shortblock/go.md": "not Go\n",
	} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755), os.WriteFile(file, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	got, err := readImports(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := imports{
		"units":  {"math/big": "units/length.go", module + "/torque": "units/length_plan9.go"},
		"torque": {module + "/units": "torque/plan.go"},
	}
	if !maps.EqualFunc(got, want, maps.Equal) {
		t.Errorf("read %v, want %v", got, want)
	}
	if faults := importFaults(got); len(faults) != 1 || !strings.HasPrefix(faults[0], "units/length_plan9.go: ") {
		t.Errorf("faults %q, want one in units/length_plan9.go", faults)
	}
}

// importFaults returns a sentence for each import that the package map does not allow.
func importFaults(got imports) []string {
	var faults []string
	for _, importer := range slices.Sorted(maps.Keys(got)) {
		for _, imported := range slices.Sorted(maps.Keys(got[importer])) {
			if fault := importFault(importer, imported); fault != "" {
				faults = append(faults, got[importer][imported]+": "+fault)
			}
		}
	}
	return faults
}

func importFault(importer, imported string) string {
	local, isLocal := strings.CutPrefix(imported, module+"/")
	top, _, _ := strings.Cut(importer, "/")
	switch top {
	case "examples":
		// pagetest and the like are for tests, as net/http/httptest is.
		if isLocal && strings.HasPrefix(local, "internal/") && !strings.HasSuffix(importer, "test") {
			return fmt.Sprintf("%s imports %s, which helps tests alone", importer, local)
		}
		return ""
	case "internal":
		// The checks of evidence use the library as a program does.
		_, isLibrary := arrows()[local]
		if isLocal && !strings.HasPrefix(local, "internal/") && !(importer == "internal/evidence" && isLibrary) {
			return fmt.Sprintf("%s imports %s outside its tests", importer, local)
		}
		return ""
	}
	known, inMap := arrows()[importer]
	switch {
	case !inMap:
		return fmt.Sprintf("%s is not in the package map (arrows in internal/layout)", importer)
	case isLocal && len(known) == 0:
		return fmt.Sprintf("imports %s: %s may import nothing of this module", local, importer)
	case isLocal && !slices.Contains(known, local):
		return fmt.Sprintf("imports %s: %s may import only %s of this module", local, importer, strings.Join(known, ", "))
	case !isLocal && !standard(imported) && !allowedModule(imported):
		return fmt.Sprintf("imports %s: outside tests a library package imports only the standard library, decimal and gonum", imported)
	}
	return ""
}

// standard tells a package of the standard library: no dot in the first element of
// its path.
func standard(imported string) bool {
	first, _, _ := strings.Cut(imported, "/")
	return imported != "C" && !strings.Contains(first, ".")
}

// allowedModule tells a package of the two modules that the library is built on.
func allowedModule(imported string) bool {
	for _, m := range []string{"github.com/shopspring/decimal", "gonum.org/v1/gonum"} {
		if imported == m || strings.HasPrefix(imported, m+"/") {
			return true
		}
	}
	return false
}

// readImports reads the imports of every Go file below dir that is not a test and
// that the go command would see on some system.
func readImports(dir string) (imports, error) {
	got := imports{}
	err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		hidden := strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_")
		if d.IsDir() {
			if file != dir && (hidden || name == "testdata") {
				return fs.SkipDir
			}
			return nil
		}
		if hidden || path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		relative, err := filepath.Rel(dir, file)
		if err != nil {
			return err
		}
		relative = filepath.ToSlash(relative)
		importer := path.Dir(relative)
		if got[importer] == nil {
			got[importer] = map[string]string{}
		}
		for _, spec := range parsed.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			got[importer][imported] = cmp.Or(got[importer][imported], relative)
		}
		return nil
	})
	return got, err
}

// dependency is a package as go list -deps prints it.
type dependency struct {
	ImportPath string
	Standard   bool
}

func dependencies(t *testing.T, pattern string) ([]dependency, error) {
	cmd := exec.CommandContext(t.Context(), "go", "list", "-deps", "-json=ImportPath,Standard", pattern)
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		if exit, ok := errors.AsType[*exec.ExitError](err); ok {
			return nil, fmt.Errorf("%v: %s", cmd, exit.Stderr)
		}
		return nil, err
	}
	var deps []dependency
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var d dependency
		if err := decoder.Decode(&d); err == io.EOF {
			return deps, nil
		} else if err != nil {
			return nil, err
		}
		deps = append(deps, d)
	}
}

// dependencyFaults returns a sentence for each package that a library package must
// not pull in, however indirectly.
func dependencyFaults(dir string, deps []dependency) []string {
	var faults []string
	for _, d := range deps {
		local, isLocal := strings.CutPrefix(d.ImportPath, module+"/")
		switch {
		case d.Standard, allowedModule(d.ImportPath):
		case isLocal && (local == dir || slices.Contains(arrows()[dir], local)):
		default:
			faults = append(faults, fmt.Sprintf("%s pulls in %s", dir, d.ImportPath))
		}
	}
	return faults
}
