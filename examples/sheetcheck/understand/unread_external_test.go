package understand_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/examples/sheetcheck/understand"
)

// TestUnread: what nobody looks at is named, and nothing else is.
func TestUnread(t *testing.T) {
	u, _ := fill(t, []string{"Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Stress area (mm²)", "Remark", "Sum (mm)"}, func(row int) map[string]string {
		return map[string]string{"F": fmt.Sprintf("=B%d-C%[1]d-D%[1]d-E%[1]d", row), "G": "58", "H": "a remark", "I": fmt.Sprintf("=SUM(F$2:F%d)", row)}
	})
	var got []string
	for _, v := range u.Values {
		got = append(got, fmt.Sprintf("%s!%s %d %s", v.Sheet, v.Cells, v.Count, v.Why))
	}
	if want := `Sheet1!G2:G6 5 headed "Stress area (mm²)"; no formula reads or gives it`; strings.Join(got, "\n") != want {
		t.Errorf("%s\nwant %s", strings.Join(got, "\n"), want)
	}
}

// TestUnreadSheets: a sheet that nothing reads is named as a whole, and one that is looked
// up in is not.
func TestUnreadSheets(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for _, name := range []string{"Grades", "Codes"} {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
	}
	for i, grade := range []string{"P", "Q", "R"} {
		for at, v := range map[string]any{
			fmt.Sprintf("Sheet1!A%d", i+2): grade, fmt.Sprintf("Sheet1!B%d", i+2): fmt.Sprintf("=VLOOKUP(A%d,Grades!$A$2:$B$9,2,FALSE)", i+2),
			fmt.Sprintf("Grades!A%d", i+2): grade, fmt.Sprintf("Grades!B%d", i+2): 2.001,
			fmt.Sprintf("Codes!A%d", i+2): grade, fmt.Sprintf("Codes!B%d", i+2): i,
		} {
			name, at, _ := strings.Cut(at, "!")
			if text, ok := v.(string); ok && text[0] == '=' {
				if err := f.SetCellFormula(name, at, text[1:]); err != nil {
					t.Fatal(err)
				}
				continue
			}
			if err := f.SetCellValue(name, at, v); err != nil {
				t.Fatal(err)
			}
		}
	}
	u, r := readBack(t, f)
	if len(u.Values) != 1 || u.Values[0].Sheet != "Codes" || u.Values[0].Count != 6 || u.Values[0].Cells.String() != "A2:B4" {
		t.Errorf("%+v", u.Values)
	}
	if r.Coverage.Cells != 3 || r.Coverage.Checked+len(r.Unchecked) != r.Coverage.Cells {
		t.Errorf("%+v, %d not checked", r.Coverage, len(r.Unchecked))
	}
}

// TestUnreadText: in a text file as well, where nothing at all is understood.
func TestUnreadText(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(name, []byte("Pump,Speed\n1,120\n2,125\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := sheet.Open(name, sheet.Dialect{}, sheet.DefaultBounds())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	book, err := f.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	u, err := understand.Read(t.Context(), book)
	if err != nil || len(u.Values) != 1 || u.Values[0].Count != 4 {
		t.Errorf("%+v, %v", u.Values, err)
	}
}
