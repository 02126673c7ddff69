package units_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/internal/thorough"
)

// TestAlone makes a module outside this one that imports units alone, builds and
// runs it, and looks at what came with it: the decimal type and nothing else, in
// its go.sum and among the packages it is linked from.
func TestAlone(t *testing.T) {
	thorough.Long(t) // it runs the go command
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("main.go", `package main

import (
	"fmt"

	"example.com/closefit/units"
)

func main() {
	bore := units.MustParseLengthInterval("60 +0.019/0 mm")
	fmt.Println(bore.Sub(units.MustParseLengthInterval("2.3600..2.3604 in")).FormatOutward(units.Micrometre, 0))
}
`)
	write("go.mod", "module alone.example\n\ngo 1.26\n\nrequire example.com/closefit v0.0.0\n\nreplace example.com/closefit => "+root+"\n")
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	var known strings.Builder // so that nobody is asked over the network
	for line := range strings.Lines(string(sums)) {
		if strings.HasPrefix(line, "github.com/shopspring/decimal ") {
			known.WriteString(line)
		}
	}
	write("go.sum", known.String())
	command := func(args ...string) string {
		cmd := exec.CommandContext(t.Context(), "go", args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("go %s: %v\n%s", strings.Join(args, " "), err, out)
		}
		return string(out)
	}

	// 2.3600 in = 59.944 mm and 2.3604 in = 59.95416 mm: 60 - 59.95416 = 0.04584,
	// 60.019 - 59.944 = 0.075, outward.
	if got := command("run", "."); !strings.HasSuffix(got, "45..75 µm\n") {
		t.Errorf("it prints %q", got)
	}
	sum, err := os.ReadFile(filepath.Join(dir, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(sum)) {
		if module, _, _ := strings.Cut(line, " "); module != "github.com/shopspring/decimal" {
			t.Errorf("go.sum names %s", module)
		}
	}
	for name := range strings.FieldsSeq(command("list", "-deps", "-f", "{{if not .Standard}}{{.ImportPath}}{{end}}", ".")) {
		switch name {
		case "alone.example", "example.com/closefit/units", "github.com/shopspring/decimal":
		default:
			t.Errorf("it is linked from %s", name)
		}
	}
}
