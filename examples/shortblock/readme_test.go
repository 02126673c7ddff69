package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The code that the README shows, with what it prints.
func Example_readme() {
	bearing := clearance.Bearing{
		HousingBore: units.MustParseLengthInterval("39.270 ±0.005 mm"),
		UpperWall:   units.MustParseLengthInterval("1.516 ±0.003 mm"),
		LowerWall:   units.MustParseLengthInterval("1.515 ±0.003 mm"),
		Journal:     units.MustParseLengthInterval("36.197 ±0.004 mm"),
	}
	measured := bearing.Clearance()
	limits := units.MustParseLengthInterval("0.029..0.057 mm")

	fmt.Println(measured, measure.Judge(measured, limits))
	// Output: 0.027..0.057 mm undecided
}

// TestReadmeCode: the README shows the example above, line by line.
func TestReadmeCode(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	source, err := os.ReadFile("readme_test.go")
	if err != nil {
		t.Fatal(err)
	}
	_, shown, _ := strings.Cut(string(page), "```go\n")
	shown, _, found := strings.Cut(shown, "```")
	if !found {
		t.Fatal("the README shows no Go")
	}
	_, body, _ := strings.Cut(string(source), "func Example_readme() {\n")
	body, _, _ = strings.Cut(body, "\n}\n")
	var lines strings.Builder
	for line := range strings.Lines(body + "\n") {
		lines.WriteString(strings.TrimPrefix(line, "\t"))
	}
	// A comment of the example begins with a capital, as package testing wants it.
	if want := strings.Replace(lines.String(), "// Output: ", "// ", 1); shown != want {
		t.Errorf("the README shows\n%s\nand the example has\n%s", shown, want)
	}
}
