package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet/sheettest"
	"example.com/closefit/internal/thorough"
)

// coverageOf is what the JSON report says of how much was looked at.
type coverageOf struct {
	Coverage  struct{ Cells, Checked, Values int }
	Findings  []struct{ Sheet, Cell string }
	Unchecked []struct {
		Sheet, Cell, To, Why string
		Values               int
	}
}

func covered(t *testing.T, name string) (c coverageOf) {
	t.Helper()
	status, out, errs := try("-format", "json", name)
	if status != checked {
		t.Fatalf("%s: status %d: %s", name, status, errs)
	}
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestCoverageAdds: the cells with formulas or verdicts are those checked and those not
// checked, each with its reason; and the values that nobody looked at are named beside them. Where TESTS is
// not whole it looks at one workbook in four.
func TestCoverageAdds(t *testing.T) {
	var names []string
	for _, pattern := range []string{"*.xlsx", "*.xlsm", "*.ods", "*/*.xlsx", "*/*.ods"} {
		some, err := filepath.Glob(filepath.Join("testdata/layouts", pattern))
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, some...)
	}
	if len(names) < 100 {
		t.Fatalf("%d workbooks", len(names))
	}
	for i := 0; i < len(names); i += thorough.Every(4) {
		c := covered(t, names[i])
		cells, values := 0, 0
		for _, u := range c.Unchecked {
			if u.Why == "" {
				t.Errorf("%s: %s!%s is not checked, and nothing says why", names[i], u.Sheet, u.Cell)
			}
			if u.Values == 0 {
				cells++
			}
			values += u.Values
		}
		if c.Coverage.Checked+cells != c.Coverage.Cells || values != c.Coverage.Values {
			t.Errorf("%s: %d checked and %d not, of %d; %d values in the list, of %d", names[i], c.Coverage.Checked, cells, c.Coverage.Cells, values, c.Coverage.Values)
		}
	}
}

// TestNobodyLooked: a sheet of codes that no formula reads, and a column of sizes beside
// formulas, are named.
func TestNobodyLooked(t *testing.T) {
	c := covered(t, "testdata/metric.xlsx")
	wanted := map[string]string{"Shells!A2": "nothing on this sheet is computed or judged", "Mains!Q6": `headed "stress area (mm²)"`}
	for _, u := range c.Unchecked {
		if why, ok := wanted[u.Sheet+"!"+u.Cell]; ok && strings.Contains(u.Why, why) && u.Values > 0 && u.To != "" {
			delete(wanted, u.Sheet+"!"+u.Cell)
		}
	}
	if len(wanted) > 0 {
		t.Errorf("not named: %v in %+v", wanted, c.Unchecked)
	}
}

// TestNothingChecked: where nothing was compared that is the answer, and -strict says so.
func TestNothingChecked(t *testing.T) {
	name := file(t, "a.csv", "Pump,Speed\n1,120\n2,125\n")
	status, out, errs := try("-strict", name)
	if status != findings || !strings.Contains(out, "nothing was checked") || !strings.Contains(out, "nobody looked at 4 values") {
		t.Errorf("status %d: %s%s", status, out, errs)
	}
}

// TestFunctionNamed: what is not evaluated is not checked, and the function is named.
func TestFunctionNamed(t *testing.T) {
	rows := ""
	for n, text := range []string{"", "", "0.031", "0.031", "0.031"} {
		if text != "" {
			rows += row(n, `B%d-C%d-D%d-E%d+INDIRECT("Z1")`, text)
		}
	}
	for _, n := range []string{"2", "3", "4"} {
		rows = strings.Replace(rows, "B%d-C%d-D%d-E%d", "B"+n+"-C"+n+"-D"+n+"-E"+n, 1)
	}
	rows = strings.ReplaceAll(rows, `"Z1"`, "&quot;Z1&quot;")
	c := covered(t, bookOf(t, rows))
	named := 0
	for _, u := range c.Unchecked {
		if strings.Contains(u.Why, "INDIRECT") {
			named++
		}
	}
	if named != 3 || c.Coverage.Checked != 0 {
		t.Errorf("%+v", c)
	}
}

func bookOf(t *testing.T, rows string) string {
	t.Helper()
	return sheettest.Pack(t, "book.xlsx", workbook(rows))
}
