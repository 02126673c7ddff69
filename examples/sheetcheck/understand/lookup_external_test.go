package understand_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/check"
)

// shown lists findings as "B2..B5 cause; …", those of one cause together.
func shown(all []check.Finding) string {
	cells := map[string][]string{}
	var order []string
	for _, f := range all {
		if cells[f.Cause.Mistake] == nil {
			order = append(order, f.Cause.Mistake)
		}
		for _, c := range f.Cells {
			cells[f.Cause.Mistake] = append(cells[f.Cause.Mistake], c.At.String())
		}
	}
	var parts []string
	for _, mistake := range order {
		parts = append(parts, strings.Join(cells[mistake], " ")+" "+mistake)
	}
	return strings.Join(parts, "; ")
}

// TestApproximate: look-ups of a whole column that take a neighbour. Four lines look up what
// stands in A, in keys that stand in E with sizes in F.
func TestApproximate(t *testing.T) {
	const near, exact = "VLOOKUP(A%d,$E$2:$F$6,2,TRUE)", "VLOOKUP(A%d,$E$2:$F$6,2,FALSE)"
	for _, test := range []struct {
		name    string
		formula string
		keys    []any // E
		sought  []any // A
		latent  string
		says    string
	}{
		{name: "exact", formula: exact, keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{"Q", "P", "T", "S"}},
		{name: "words in order", formula: near, keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{"Q", "P", "T", "S"},
			latent: "B2 B3 B4 B5 look-up takes a neighbour", says: `"Tx", say, that of "T"`},
		{name: "no fourth argument", formula: "VLOOKUP(A%d,$E$2:$F$6,2)", keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{"Q", "P", "T", "S"},
			latent: "B2 B3 B4 B5 look-up takes a neighbour"},
		{name: "MATCH", formula: "INDEX($F$2:$F$6,MATCH(A%d,$E$2:$E$6))", keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{"Q", "P", "T", "S"},
			latent: "B2 B3 B4 B5 look-up takes a neighbour"},
		{name: "LOOKUP", formula: "LOOKUP(A%d,$E$2:$E$6,$F$2:$F$6)", keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{"Q", "P", "T", "S"},
			latent: "B2 B3 B4 B5 look-up takes a neighbour"},
		{name: "XLOOKUP", formula: "_xlfn.XLOOKUP(A%d,$E$2:$E$6,$F$2:$F$6,,-1)", keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{"Q", "P", "T", "S"},
			latent: "B2 B3 B4 B5 look-up takes a neighbour"},
		{name: "words out of order", formula: near, keys: []any{"P", "R", "Q", "S", "T"}, sought: []any{"Q", "P", "T", "S"},
			latent: "B2 B3 B4 B5 look-up takes a neighbour"},
		{name: "codes that are all there", formula: near, keys: []any{1, 2, 3, 4, 5}, sought: []any{2, 1, 5, 4},
			latent: "B2 B3 B4 B5 look-up takes a neighbour", says: "1.5, say, that of 1"},
		{name: "a scale", formula: near, keys: []any{0, 10, 20, 50, 100}, sought: []any{7, 12, 55, 20}},
		{name: "a scale from 5 on", formula: near, keys: []any{5, 10, 20, 50, 100}, sought: []any{7, 12, 55, 20}},
		{name: "a scale out of order", formula: near, keys: []any{5, 20, 10, 50, 100}, sought: []any{7, 12, 55, 25},
			latent: "B2 B3 B4 B5 look-up takes a neighbour", says: "20 stands before 10"},
		{name: "a scale that falls", formula: "INDEX($F$2:$F$6,MATCH(A%d,$E$2:$E$6,-1))", keys: []any{100, 50, 20, 10, 5}, sought: []any{7, 12, 55, 25}},
		{name: "the last word", formula: "INDEX($F$2:$F$6,MATCH(\"zzz\",$E$2:$E$6))*A%d", keys: []any{"P", "Q", "R", "S", "T"}, sought: []any{1, 2, 3, 4}},
	} {
		t.Run(test.name, func(t *testing.T) {
			f := excelize.NewFile()
			defer f.Close()
			put := func(at string, value any) {
				if err := f.SetCellValue("Sheet1", at, value); err != nil {
					t.Fatal(err)
				}
			}
			for at, heading := range map[string]string{"A1": "grade", "B1": "wall (mm)", "E1": "class", "F1": "wall (mm)"} {
				put(at, heading)
			}
			for i, k := range test.keys {
				put(fmt.Sprintf("E%d", i+2), k)
				put(fmt.Sprintf("F%d", i+2), []float64{2.001, 2.002, 2.003, 2.004, 2.005}[i])
			}
			for i, k := range test.sought {
				put(fmt.Sprintf("A%d", i+2), k)
				at := fmt.Sprintf("B%d", i+2)
				if err := f.SetCellFormula("Sheet1", at, fmt.Sprintf(test.formula, i+2)); err != nil {
					t.Fatal(err)
				}
			}
			_, r := readBack(t, f)
			if got := shown(r.Findings); got != "" {
				t.Errorf("findings are %q, want none", got)
			}
			if got := shown(r.Latent); got != test.latent {
				t.Errorf("latent is %q, want %q", got, test.latent)
			}
			if len(r.Latent) > 0 && !strings.Contains(r.Latent[0].Cause.Says, test.says) {
				t.Errorf("said %q, want %q in it", r.Latent[0].Cause.Says, test.says)
			}
		})
	}
}
