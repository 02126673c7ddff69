package understand_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/understand"
)

// fill writes a workbook for a test: headings, and five lines of readings whose clearances
// are 0.031, 0.042, 0.050, 0.025 and 0.036 mm, by hand.
func fill(t *testing.T, headings []string, line func(row int) map[string]string) (*understand.Understanding, *check.Result) {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	put := func(at string, value any) {
		if err := f.SetCellValue("Sheet1", at, value); err != nil {
			t.Fatal(err)
		}
	}
	for i, h := range headings {
		put(fmt.Sprintf("%c1", 'A'+i), h)
	}
	for i, clearance := range []float64{0.031, 0.042, 0.050, 0.025, 0.036} {
		row := i + 2
		put(fmt.Sprintf("A%d", row), fmt.Sprint("main ", i+1))
		put(fmt.Sprintf("B%d", row), 60.0)
		put(fmt.Sprintf("C%d", row), 2.001)
		put(fmt.Sprintf("D%d", row), 2.003)
		put(fmt.Sprintf("E%d", row), 60-4.004-clearance)
		for column, text := range line(row) {
			at := column + fmt.Sprint(row)
			if formula, ok := strings.CutPrefix(text, "="); ok {
				if err := f.SetCellFormula("Sheet1", at, formula); err != nil {
					t.Fatal(err)
				}
				continue
			}
			var n float64
			if _, err := fmt.Sscan(text, &n); err == nil {
				put(at, n)
			} else {
				put(at, text)
			}
		}
	}
	return readBack(t, f)
}

// readBack saves a workbook, understands it and checks it.
func readBack(t *testing.T, f *excelize.File) (*understand.Understanding, *check.Result) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "a.xlsx")
	if err := f.SaveAs(name); err != nil {
		t.Fatal(err)
	}
	return readFile(t, name)
}

// short lists findings as "F2 mistake".
func short(all []check.Finding) string {
	var parts []string
	for _, f := range all {
		parts = append(parts, f.Cells[0].At.String()+" "+f.Cause.Mistake)
	}
	return strings.Join(parts, "; ")
}

func five(column, mistake string) string {
	var parts []string
	for row := 2; row < 7; row++ {
		parts = append(parts, fmt.Sprintf("%s%d %s", column, row, mistake))
	}
	return strings.Join(parts, "; ")
}

// TestWholeColumns: faults that every line of a column has, where no neighbour shows them.
func TestWholeColumns(t *testing.T) {
	bearing := []string{"Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "min (mm)", "max (mm)", "Verdict"}
	for _, test := range []struct {
		name                  string
		headings              []string
		clearance, verdict    string // in row 2
		more                  string // in column J of row 2
		shows, latent, follow string
	}{
		{"right", bearing, "=B2-C2-D2-E2", `=IF(AND(ROUND(F2,6)>=G2,ROUND(F2,6)<=H2),"OK","no")`, "", "", "", ""},
		// In binary64 60 - 2.001 - 2.003 - 55.946 is 0.05000000000000426, above the limit of 0.050.
		{"a verdict on the last bit", bearing, "=B2-C2-D2-E2", `=IF(AND(F2>=G2,F2<=H2),"OK","no")`, "", "I4 " + check.Residue, "", ""},
		{"the least is not compared", bearing, "=B2-C2-D2-E2", `=IF(ROUND(F2,6)<=H2,"OK","no")`, "", "I5 " + check.OneLimit, // 0.025 is below 0.030
			"I2 " + check.OneLimit + "; I3 " + check.OneLimit + "; I4 " + check.OneLimit + "; I6 " + check.OneLimit, ""},
		{"limits refused", bearing, "=B2-C2-D2-E2", `=IF(AND(F2>G2,F2<H2),"OK","no")`, "", "I4 " + check.Strict, // 0.050 is the limit itself
			"I2 " + check.Strict + "; I3 " + check.Strict + "; I5 " + check.Strict + "; I6 " + check.Strict, ""},
		{"limits counted as out", bearing, "=B2-C2-D2-E2", `=IF(OR(F2<=G2,F2>=H2),"no","OK")`, "", "I4 " + check.Strict,
			"I2 " + check.Strict + "; I3 " + check.Strict + "; I5 " + check.Strict + "; I6 " + check.Strict, ""},
		{"a wall left out", bearing, "=B2-C2-E2", `=IF(AND(F2>=G2,F2<=H2),"OK","no")`, "", five("F", check.OneWall), "", "I2 " + check.Follows + "; I3 " + check.Follows + "; I4 " + check.Follows + "; I6 " + check.Follows},
		{"a reference fixed", bearing, "=B2-C2-D2-$E$2", "", "", "F3 " + check.Absolute + "; F4 " + check.Absolute + "; F5 " + check.Absolute + "; F6 " + check.Absolute, "F2 " + check.Absolute, ""},
		{"a wrong factor", append(bearing, "Clearance (in)"), "=B2-C2-D2-E2", "", "=F2/25", five("J", check.Factor), "", ""},
		{"a factor of another unit", append(bearing, "Clearance (µm)"), "=B2-C2-D2-E2", "", "=F2/25.4", five("J", check.MixedUnits), "", ""},
		{"a factor that is short", append(bearing, "Clearance (in)"), "=B2-C2-D2-E2", "", "=F2*0.03937", "", "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, r := fill(t, test.headings, func(row int) map[string]string {
				cells := map[string]string{"G": "0.030", "H": "0.050"}
				for column, text := range map[string]string{"F": test.clearance, "I": test.verdict, "J": test.more} {
					if text != "" {
						text = strings.ReplaceAll(text, "25.4", "twenty-five")
						for _, c := range "BCDEFGH" {
							text = strings.ReplaceAll(text, fmt.Sprintf("%c2", c), fmt.Sprintf("%c%d", c, row))
						}
						cells[column] = strings.ReplaceAll(text, "twenty-five", "25.4")
					}
				}
				return cells
			})
			for _, list := range []struct {
				name, want string
				got        []check.Finding
			}{{"findings", test.shows, r.Findings}, {"latent", test.latent, r.Latent}, {"follows", test.follow, r.Follows}} {
				if got := short(list.got); got != list.want {
					t.Errorf("%s are %q, want %q", list.name, got, list.want)
				}
			}
		})
	}
}

// TestSaid: what is not understood is said, cell by cell.
func TestSaid(t *testing.T) {
	u, r := fill(t, []string{"Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Verdict"}, func(row int) map[string]string {
		cells := map[string]string{"F": fmt.Sprintf("=B%d-C%[1]d-D%[1]d-E%[1]d", row), "G": "looks good"}
		if row == 3 {
			cells["M"] = "=B2*C3^2"
		}
		return cells
	})
	unknown := map[string]string{}
	for _, x := range u.Unknown {
		unknown[x.At.String()] = x.Why
	}
	if len(unknown) != 6 || !strings.Contains(unknown["M3"], "a formula alone") || !strings.Contains(unknown["G4"], "no limits were found") {
		t.Errorf("not understood: %v", unknown)
	}
	if r.Coverage.Cells != 6 || r.Coverage.Checked != 5 || len(r.Unchecked) != 1 || r.Unchecked[0].At.String() != "M3" {
		t.Errorf("%+v, %+v", r.Coverage, r.Unchecked)
	}
}

// TestNoAlarm: what a sheet may do on purpose is no fault.
func TestNoAlarm(t *testing.T) {
	headings := []string{"Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Sum so far (mm)", "note"}
	for _, test := range []struct {
		name    string
		column  func(row int) string // G
		unknown int
	}{
		{"a sum that goes on", func(row int) string {
			if row == 2 {
				return "=F2"
			}
			return fmt.Sprintf("=G%d+F%d", row-1, row)
		}, 1},
		{"a sum that grows", func(row int) string { return fmt.Sprintf("=SUM(F$2:F%d)", row) }, 0},
		{"a difference from the line before", func(row int) string {
			if row == 2 {
				return ""
			}
			return fmt.Sprintf("=F%d-F%d", row, row-1)
		}, 0},
		{"two kinds of lines", func(row int) string {
			if row%2 == 0 {
				return fmt.Sprintf("=F%d*2", row)
			}
			return fmt.Sprintf("=F%d+B%d", row, row)
		}, 5},
		{"a share of the total", func(row int) string { return fmt.Sprintf("=F%d/SUM(F$2:F$6)", row) }, 0},
		{"the greatest so far", func(row int) string { return fmt.Sprintf("=MAX(F$2:F%d)", row) }, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			u, r := fill(t, headings, func(row int) map[string]string {
				cells := map[string]string{"F": fmt.Sprintf("=B%d-C%[1]d-D%[1]d-E%[1]d", row)}
				if text := test.column(row); text != "" {
					cells["G"] = text
				}
				return cells
			})
			if got := short(r.Findings) + short(r.Latent) + short(r.Follows); got != "" {
				t.Errorf("said %q", got)
			}
			if len(u.Unknown) != test.unknown || len(r.Unchecked) != test.unknown {
				t.Errorf("%d cells are not understood, %d not checked; want %d: %v", len(u.Unknown), len(r.Unchecked), test.unknown, u.Unknown)
			}
		})
	}
}
