package api

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/importer"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// release is given when a version is released: go test ./internal/api -release v0.2.0 writes
// its list beside those of the versions before it.
var release = flag.String("release", "", "the version whose list is to be written, as v0.2.0")

const module = "example.com/closefit"

// library are the patterns of the packages that promise something. The examples are programs,
// and what they share is not for others.
func library() []string {
	return []string{"./units/...", "./clearance/...", "./grading/...", "./fasteners/...", "./torque/..."}
}

// TestPromised compares the library with the newest release.
func TestPromised(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the go command for every package")
	}
	face := face(t)
	for _, designed := range []string{
		"units: func ParseLength(string) (Length, error)",
		"units: func MustParseLength(string) Length",
		"units/measure: const Conforming Verdict = 1",
		"clearance: type Bearing struct, HousingBore units.LengthInterval",
		"clearance: method (Bearing) Clearance() units.LengthInterval",
	} {
		if !slices.Contains(face, designed) {
			t.Errorf("%q is not in the list, so the list is not whole", designed)
		}
	}
	if *release != "" {
		writeRelease(t, *release, face)
	}
	lists, err := filepath.Glob("testdata/v*.txt")
	if err != nil {
		t.Fatal(err)
	}
	if len(lists) == 0 {
		t.Skip("nothing is released yet: go test ./internal/api -release v0.1.0 begins")
	}
	newest := slices.MaxFunc(lists, byVersion)
	for _, fault := range faults(readLines(t, newest), face, readLines(t, "testdata/broken.txt")) {
		t.Errorf("%s: %s", filepath.Base(newest), fault)
	}
}

func TestFaults(t *testing.T) {
	was := []string{"units: func A(int) string", "units: func B()", "units: type C struct{ D int }"}
	tests := []struct {
		name   string
		now    []string
		broken []string
		want   []string
	}{
		{"the same", was, nil, nil},
		{"one more", append(slices.Clone(was), "units: func E()"), nil, nil},
		{"one less", was[:2], nil, []string{`"units: type C struct{ D int }" is gone`}},
		{"one less, with its reason", was[:2], []string{was[2] + " # D was never read"}, nil},
		{"one less, without a reason", was[:2], []string{was[2]}, []string{`broken.txt: "units: type C struct{ D int }" has no reason`, `"units: type C struct{ D int }" is gone`}},
		{"another result", []string{"units: func A(int) error", was[1], was[2]}, nil, []string{`"units: func A(int) string" is gone`}},
		{"a reason for what is there", was, []string{was[1] + " # it goes"}, []string{`broken.txt: "units: func B()" is still there`}},
		{"nothing at all", nil, nil, []string{"nothing is exported any more"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			found := faults(was, test.now, test.broken)
			if !slices.EqualFunc(found, test.want, strings.HasPrefix) {
				t.Errorf("faults %q, want %q", found, test.want)
			}
		})
	}
}

// faults says what of a release is no longer there without a reason.
func faults(was, now, broken []string) (found []string) {
	if len(now) == 0 {
		return []string{"nothing is exported any more: the list was not made"}
	}
	excused := make(map[string]bool)
	for _, line := range broken {
		declaration, reason, _ := strings.Cut(line, " # ")
		switch {
		case strings.TrimSpace(reason) == "":
			found = append(found, fmt.Sprintf("broken.txt: %q has no reason; write it behind \" # \"", declaration))
		case slices.Contains(now, declaration):
			found = append(found, fmt.Sprintf("broken.txt: %q is still there; take the line out", declaration))
		default:
			excused[declaration] = true
		}
	}
	for _, declaration := range was {
		if !slices.Contains(now, declaration) && !excused[declaration] {
			found = append(found, fmt.Sprintf("%q is gone or is another: bring it back, or write it with its reason in testdata/broken.txt and in CHANGELOG.md", declaration))
		}
	}
	return found
}

// face lists every exported declaration of the library, sorted.
func face(t *testing.T) []string {
	t.Helper()
	list := exec.Command("go", append([]string{"list", "-export", "-deps", "-json=ImportPath,Export,DepOnly"}, library()...)...)
	list.Dir = "../.."
	var stderr bytes.Buffer
	list.Stderr = &stderr
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	exports := make(map[string]string)
	var paths []string
	for decoder := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath, Export string
			DepOnly            bool
		}
		if err := decoder.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			paths = append(paths, p.ImportPath)
		}
	}
	compiled := importer.ForCompiler(token.NewFileSet(), "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var lines []string
	for _, path := range paths {
		p, err := compiled.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, declaration := range declarations(p) {
			lines = append(lines, strings.TrimPrefix(path, module+"/")+": "+declaration)
		}
	}
	slices.Sort(lines)
	return lines
}

// declarations are those of one package: each constant with its value, each function, each field
// and each method a line of its own.
func declarations(p *types.Package) (list []string) {
	qualified := func(other *types.Package) string {
		if other == p {
			return ""
		}
		return strings.TrimPrefix(other.Path(), module+"/")
	}
	text := func(t types.Type) string { return types.TypeString(nameless(t), qualified) }
	add := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	for _, name := range p.Scope().Names() {
		object := p.Scope().Lookup(name)
		if !object.Exported() {
			continue
		}
		switch object := object.(type) {
		case *types.Const:
			add("const %s %s = %s", name, text(object.Type()), object.Val().ExactString())
		case *types.Var:
			add("var %s %s", name, text(object.Type()))
		case *types.Func:
			add("func %s%s", name, strings.TrimPrefix(text(object.Type()), "func"))
		case *types.TypeName:
			if object.IsAlias() {
				add("type %s = %s", name, text(types.Unalias(object.Type())))
				continue
			}
			switch under := object.Type().Underlying().(type) {
			case *types.Struct:
				add("type %s%s struct", name, parameters(object.Type(), text))
				for field := range under.Fields() {
					if field.Exported() {
						add("type %s struct, %s %s", name, field.Name(), text(field.Type()))
					}
				}
			default:
				add("type %s%s %s", name, parameters(object.Type(), text), text(under))
			}
			for selection := range types.NewMethodSet(types.NewPointer(object.Type())).Methods() {
				method := selection.Obj()
				if !method.Exported() || types.IsInterface(object.Type()) {
					continue
				}
				receiver := name
				if types.NewMethodSet(object.Type()).Lookup(p, method.Name()) == nil {
					receiver = "*" + name
				}
				add("method (%s) %s%s", receiver, method.Name(), strings.TrimPrefix(text(selection.Type()), "func"))
			}
		}
	}
	return list
}

// parameters are those of a generic type, with their constraints.
func parameters(t types.Type, text func(types.Type) string) string {
	named, ok := t.(*types.Named)
	if !ok || named.TypeParams().Len() == 0 {
		return ""
	}
	var list []string
	for parameter := range named.TypeParams().TypeParams() {
		list = append(list, parameter.Obj().Name()+" "+text(parameter.Constraint()))
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// nameless is a function's type without the names of its parameters, which promise nothing.
func nameless(t types.Type) types.Type {
	f, ok := t.(*types.Signature)
	if !ok {
		return t
	}
	tuple := func(from *types.Tuple) *types.Tuple {
		var vars []*types.Var
		for v := range from.Variables() {
			vars = append(vars, types.NewParam(token.NoPos, v.Pkg(), "", nameless(v.Type())))
		}
		return types.NewTuple(vars...)
	}
	if f.TypeParams().Len() > 0 {
		return f // a parameter's type belongs to one signature alone
	}
	return types.NewSignatureType(nil, nil, nil, tuple(f.Params()), tuple(f.Results()), f.Variadic())
}

// writeRelease keeps the list of a version. One that is there is never written again.
func writeRelease(t *testing.T, version string, face []string) {
	t.Helper()
	if !regexp.MustCompile(`^v\d+\.\d+\.\d+$`).MatchString(version) {
		t.Fatalf("-release %q: want a version, as v0.2.0", version)
	}
	file, err := os.OpenFile(filepath.Join("testdata", version+".txt"), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := file.WriteString(strings.Join(face, "\n") + "\n"); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// byVersion orders the lists of versions, v0.10.0 behind v0.9.0.
func byVersion(a, b string) int {
	number := func(path string) (parts [3]int) {
		// The lists are written by writeRelease, which takes no other names.
		_, _ = fmt.Sscanf(filepath.Base(path), "v%d.%d.%d.txt", &parts[0], &parts[1], &parts[2])
		return parts
	}
	x, y := number(a), number(b)
	return slices.Compare(x[:], y[:])
}

func TestByVersion(t *testing.T) {
	list := []string{"testdata/v0.10.0.txt", "testdata/v0.9.1.txt", "testdata/v1.0.0.txt", "testdata/v0.9.0.txt"}
	slices.SortFunc(list, byVersion)
	if want := []string{"testdata/v0.9.0.txt", "testdata/v0.9.1.txt", "testdata/v0.10.0.txt", "testdata/v1.0.0.txt"}; !slices.Equal(list, want) {
		t.Errorf("sorted %q, want %q", list, want)
	}
}

// readLines reads a list. A line that begins with # is a comment.
func readLines(t *testing.T, path string) []string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(strings.Split(string(text), "\n"), func(line string) bool {
		return strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#")
	})
}
