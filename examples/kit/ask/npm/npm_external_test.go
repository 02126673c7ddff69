package npm_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/closefit/examples/kit/ask/asktest"
	"example.com/closefit/examples/kit/ask/npm"
	"example.com/closefit/examples/kit/ask/whole"
	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

var once struct {
	sync.Once
	folder string
	err    error
}

// written returns a folder that has the package in its node_modules.
func written(t testing.TB) string {
	t.Helper()
	once.Do(func() {
		if once.folder, once.err = os.MkdirTemp("", "closefit-"); once.err == nil {
			once.err = npm.Write(t.Context(), filepath.Join(once.folder, "node_modules", "closefit"))
		}
	})
	if once.err != nil {
		t.Fatal(once.err)
	}
	return once.folder
}

func TestMain(m *testing.M) {
	status := pagetest.Share(m)
	os.RemoveAll(once.folder)
	os.Exit(status)
}

// run runs a command in the folder of the package and returns what it says.
func run(t testing.TB, env []string, name string, args ...string) string {
	t.Helper()
	c := exec.CommandContext(t.Context(), name, args...)
	c.Dir, c.Env = written(t), append(os.Environ(), env...)
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", filepath.Base(name), err, out)
	}
	return string(out)
}

// put writes a file into the folder of the package.
func put(t testing.TB, name string, text []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(written(t), name), text, 0o644); err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// answerOf is the answer of the library compiled for this machine.
func answerOf(t testing.TB, document []byte) string {
	return string(slices.Concat(whole.Questions(), bench.Questions()).Answer(t.Context(), document)) // the module's questions
}

func native(t testing.TB, c asktest.Case) string { return answerOf(t, c.Document()) }

// cases are the questions of asktest, with the answers of the library, worked out once for node and the browser. Of
// the records, which take most of the time, they are a sample unless everything is tried.
func cases(t testing.TB) []byte {
	t.Helper()
	if allCases != nil {
		return allCases
	}
	type asked struct {
		Name     string `json:"name"`
		Document string `json:"document"`
		Reply    string `json:"reply"`
	}
	var list []asked
	chosen := asktest.Library()
	for i, c := range asktest.Records() {
		if i%thorough.Step(7, 5) == 0 {
			chosen = append(chosen, c)
		}
	}
	for _, c := range chosen {
		list = append(list, asked{c.Name, string(c.Document()), native(t, c)})
	}
	text, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	allCases = text
	return text
}

var allCases []byte

// TestNode runs testdata/package.test.mjs: node's answers are those of the library compiled for
// this machine, byte for byte, and what else a module has to stand.
func TestNode(t *testing.T) {
	if !thorough.Whole() {
		t.Skip("asks every question in node, and thousands: TESTS=whole")
	}
	node := thorough.Program(t, "node")
	put(t, "cases.json", cases(t))
	put(t, "package.test.mjs", read(t, "testdata/package.test.mjs"))
	out := run(t, []string{fmt.Sprint("CALLS=", 2000/thorough.Step(4, 4))}, node, "--test", "--test-reporter=tap", "package.test.mjs")
	if !regexp.MustCompile(`(?m)^# pass 6$`).MatchString(out) {
		t.Error("not every test passed")
	}
	t.Log(out)
}

// blocks are the programs in the README, and the line that each prints.
var blocks = regexp.MustCompile("(?s)```js\n(.*?)```")

// TestReadme runs every example: it prints what stands behind it.
func TestReadme(t *testing.T) {
	node := thorough.Program(t, "node")
	var functions []string
	for _, block := range blocks.FindAllStringSubmatch(string(read(t, "README.md")), -1) {
		lines := strings.Split(strings.TrimSpace(block[1]), "\n")
		if want := strings.TrimPrefix(lines[len(lines)-1], "// "); len(functions)%thorough.Every(6) == 0 {
			put(t, "example.mjs", []byte(block[1]))
			if got := strings.TrimSpace(run(t, nil, node, "example.mjs")); got != want {
				t.Errorf("it prints\n%s\nand not\n%s\n%s", got, want, block[1])
			}
		}
		functions = append(functions, regexp.MustCompile(`import { (\w+) }`).FindStringSubmatch(lines[0])[1])
	}
	for i, q := range whole.Questions() {
		if i >= len(functions) || functions[i] != q.Name {
			t.Fatalf("examples of %q; want one of each question, %q next", functions, q.Name)
		}
	}
}

// TestTypes: the compiler of TypeScript takes testdata/example.ts, which names what it must not
// take. TYPESCRIPT is the path of its tsc.js.
func TestTypes(t *testing.T) {
	node, tsc := thorough.Program(t, "node"), os.Getenv("TYPESCRIPT")
	if tsc == "" {
		thorough.Missing(t, "TYPESCRIPT does not name lib/tsc.js")
	}
	put(t, "example.ts", read(t, "testdata/example.ts"))
	put(t, "package.json", []byte(`{"type":"module"}`))
	run(t, nil, node, tsc, "--noEmit", "--strict", "--target", "es2022", "--module", "nodenext", "--lib", "es2022,dom", "example.ts")
}

// TestLicences: the package has our licence, and that of each module which is compiled in.
func TestLicences(t *testing.T) {
	folder := filepath.Join(written(t), "node_modules", "closefit")
	if own := string(read(t, filepath.Join(folder, "LICENSE"))); own != string(read(t, "../../../../LICENSE")) {
		t.Errorf("LICENSE: %s", own)
	}
	others := string(read(t, filepath.Join(folder, "LICENSES-OF-OTHERS.txt")))
	for _, words := range []string{"github.com/shopspring/decimal v", "github.com/pelletier/go-toml/v2 v", "gonum.org/v1/gonum v", "Go, its runtime and its library go1", "The MIT License", "Redistribution and use in source and binary forms"} {
		if !strings.Contains(others, words) {
			t.Errorf("LICENSES-OF-OTHERS.txt has no %q", words)
		}
	}
}
