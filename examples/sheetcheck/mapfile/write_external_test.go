package mapfile_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/sheetcheck/mapfile"
)

// TestText: a map that is written is read again as the same.
func TestText(t *testing.T) {
	places := 3
	m := &mapfile.Map{
		Title: "pump \"engine\"",
		CSV:   mapfile.CSV{Separator: "\t", Decimal: ","},
		Tables: []mapfile.Table{{
			Name: "rods", Sheet: "Pleuel\\Lager", Rows: "3..6, 9..11", Location: "A", Spans: []mapfile.Span{{First: 3, Last: 6}, {First: 9, Last: 11}},
			Columns: map[string]mapfile.Column{
				"bore":        {At: "B", Unit: "mm", Uncertainty: "0.002 mm", Instrument: "bore gauge", Nominal: "60.000 mm", Role: "bore", Reason: "its heading, \"Bohrung\"\nin two lines"},
				"clearance 2": {At: "E", Unit: "µm", Places: &places},
			},
			Checks: []mapfile.Check{{Claim: "clearance 2", By: mapfile.ByFormula, Formula: `IF(B3>"a b",1,2)`}},
		}, {
			Name: "crank", Across: "C..E", Spans: []mapfile.Span{{First: 3, Last: 5}},
			Columns: map[string]mapfile.Column{"x": {At: "4"}},
			Checks:  []mapfile.Check{{Claim: "x", By: mapfile.ByFormula, Formula: "C5"}},
		}},
		Cells: []mapfile.Cell{{Sheet: "Pleuel\\Lager", At: "F15", Formula: "AVERAGE(F8:F14)", Role: "average", Unit: "mm", Reason: "its formula"}},
	}
	got, _, err := mapfile.Read("m.toml", []byte(m.Text()))
	if err != nil {
		t.Fatalf("%v in\n%s", err, m.Text())
	}
	if diff := cmp.Diff(m, got); diff != "" {
		t.Errorf("read again, it is another (-written +read):\n%s", diff)
	}
}
