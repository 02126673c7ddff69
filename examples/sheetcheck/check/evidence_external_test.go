package check_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"example.com/closefit/examples/sheetcheck/check"
)

// workbookOf checks a workbook of one sheet by a map of its rows from the first on. A cell
// that begins with "=" is a formula, without a stored value.
func workbookOf(t *testing.T, table string, rows ...string) *check.Result {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for i, row := range rows {
		for j, text := range strings.Split(row, ";") {
			at := fmt.Sprintf("%c%d", 'A'+j, i+1)
			var n float64
			_, err := fmt.Sscan(text, &n)
			switch {
			case strings.HasPrefix(text, "="):
				err = f.SetCellFormula("Sheet1", at, text[1:])
			case err == nil:
				err = f.SetCellValue("Sheet1", at, n)
			default:
				err = f.SetCellValue("Sheet1", at, text)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	name := filepath.Join(t.TempDir(), "a.xlsx")
	if err := f.SaveAs(name); err != nil {
		t.Fatal(err)
	}
	return run(t, name, "[[table]]\nrows = \"1..\"\nlocation = \"A\"\n"+table, check.Options{})
}

// said is what a result says of its cells, in short.
func said(r *check.Result) string {
	var all []string
	for _, list := range []struct {
		name     string
		findings []check.Finding
	}{{"shows", r.Findings}, {"latent", r.Latent}, {"follows", r.Follows}} {
		for _, f := range list.findings {
			all = append(all, fmt.Sprintf("%s %s %s by %s", list.name, f.Cells[0].At, f.Cause.Mistake, f.Cause.Evidence))
		}
	}
	slices.Sort(all)
	return strings.Join(all, "; ")
}

// TestEvidence: a map that calls its checks by name reads the formula in the cell as well. The
// clearances are 31, 37, 27 and 48 µm, by hand.
func TestEvidence(t *testing.T) {
	clearances := strings.Split(bearing, "[[table.check]]\nclaim = \"verdict\"")[0]
	lines := func(formulas ...string) []string {
		readings := []string{"1;60.012;2.006;2.004;55.971", "2;60.007;2.003;2.005;55.962", "3;60.016;2.005;2.001;55.983", "4;60.011;2.002;2.004;55.957"}
		for i, f := range formulas {
			readings[i] += ";" + f
		}
		return readings
	}
	for _, test := range []struct {
		name, table string
		rows        []string
		want        string
		says        string
	}{
		{"right", clearances, lines("=B1-C1-D1-E1", "=B2-C2-D2-E2", "=B3-C3-D3-E3", "=B4-C4-D4-E4"), "", ""},
		{"right in another way", clearances, lines("=B1-(C1+D1)-E1", "=B2-(C2+D2)-E2", "=B3-(C3+D3)-E3", "=B4-(C4+D4)-E4"), "", ""},
		{"right, each in its own way", clearances, lines("=B1-SUM(C1:E1)", "=B2-C2-D2-E2", "=ROUND(B3-C3-D3-E3,3)", "=B4-(C4+D4)-E4"), "", ""},
		// 60.007 - 2.003 - 2.005 - 55.983 is 0.016: the number alone would fit many mistakes.
		{"the line below", clearances, lines("=B1-C1-D1-E1", "=B2-C2-D2-E3", "=B3-C3-D3-E3", "=B4-C4-D4-E4"), "shows F2 " + check.Neighbour + " by formula", "the formula is =B2-C2-D2-E3 and should read =B2-C2-D2-E2"},
		// Half of 37 µm would be a radius, but the formula takes 18.5 µm off.
		{"a cause that the formula contradicts", clearances, lines("=B1-C1-D1-E1", "=B2-C2-D2-E2-0.0185", "=B3-C3-D3-E3", "=B4-C4-D4-E4"), "shows F2 " + check.Odd + " by formula", "should read =B2-C2-D2-E2"},
		{"a number typed over a formula", clearances, lines("=B1-C1-D1-E1", "0.037", "=B3-C3-D3-E3", "=B4-C4-D4-E4"), "latent F2 " + check.Typed + " by formula", "where =B2-C2-D2-E2 should stand"},
		{"one that is wrong", clearances, lines("=B1-C1-D1-E1", "0.37", "=B3-C3-D3-E3", "=B4-C4-D4-E4"), "shows F2 " + check.DecimalPoint + " by fits", "this number would also fit"},
		{"one that nothing explains", clearances, lines("=B1-C1-D1-E1", "0.043", "=B3-C3-D3-E3", "=B4-C4-D4-E4"), "shows F2 " + check.Typed + " by formula", "where =B2-C2-D2-E2 should stand"},
		{"two causes, each in its own cell", clearances, lines("=B1-C1-E1", "=B2-C2-D2-E2", "=B3+C3-D3-E3", "=B4-C4-D4-E4"), "shows F1 " + check.OneWall + " by formula; shows F3 " + check.Added + " by formula", "=B3+C3-D3-E3 and should read =B3-C3-D3-E3"},
		{"every line by one wall", clearances, lines("=B1-C1-E1", "=B2-C2-E2", "=B3-C3-E3", "=B4-C4-E4"),
			"shows F1 " + check.OneWall + " by formula; shows F2 " + check.OneWall + " by formula; shows F3 " + check.OneWall + " by formula; shows F4 " + check.OneWall + " by formula", "the map says that clearance should be =B1-C1-D1-E1 in Sheet1!F1, and no formula of that column reads so"},
		{"a verdict that follows", bearing, lines("=B1-C1-D1-E1;OK", "=B2-C2-E2;high", "=B3-C3-D3-E3;OK", "=B4-C4-D4-E4;OK"), "follows G2 " + check.Follows + " by formula; shows F2 " + check.OneWall + " by formula", "it is right for what it stands on: Sheet1!F2"},
		// 60.011 - 2.002 - 2.004 - 55.957 is the limit of 0.048 itself; in binary64 it is 0.04800000000000182.
		{"a verdict on the last bit", bearing, lines("=B1-C1-D1-E1;OK", "=B2-C2-D2-E2;OK", "=B3-C3-D3-E3;OK", `=B4-C4-D4-E4;=IF(F4>0.048,"high",IF(F4<0.024,"low","OK"))`), "shows G4 " + check.Residue + " by formula", "a last bit of binary arithmetic decides"},
		{"limits in cells", strings.Replace(bearing, "0.024..0.048 mm", "I1..I2", 1), lines("=B1-C1-D1-E1;OK;;0.024", "=B2-C2-D2-E2;OK;;0.036", "=B3-C3-D3-E3;OK", "=B4-C4-D4-E4;high"), "shows G2  by ", "above limit: 0.037 mm against 0.024..0.036 mm"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := workbookOf(t, test.table, test.rows...)
			if got := said(r); got != test.want {
				t.Errorf("it says %q, want %q", got, test.want)
			}
			var words []string
			for _, f := range slices.Concat(r.Findings, r.Latent, r.Follows) {
				words = append(words, f.Cause.Says, f.Cells[0].Right)
			}
			if text := strings.Join(append(words, r.Notes...), "\n"); !strings.Contains(text, test.says) {
				t.Errorf("it says\n%s\nwant %q", text, test.says)
			}
		})
	}
}

// TestStreamed: rows that stream by are judged as a file is that is held whole. The second
// table, of one cell's formula, makes the whole file be held.
func TestStreamed(t *testing.T) {
	var rows strings.Builder
	for i := range 400 {
		gap := 20 + (i*7)%30
		shown, verdict := gap, "OK"
		if gap < 24 {
			verdict = "low"
		} else if gap > 48 {
			verdict = "high"
		}
		switch i % 23 {
		case 5:
			shown = gap * 10
		case 11:
			verdict = "OK"
		case 17:
			shown = gap + 2004
		}
		fmt.Fprintf(&rows, "%d,60.012,2.006,2.004,%.3f,%.3f,%s\n", i, float64(56_002-gap)/1000, float64(shown)/1000, verdict)
	}
	near := checkText(t, bearing, rows.String())
	whole := checkText(t, bearing+"\n[[cell]]\nat = \"F401\"\nformula = \"SUM(F1:F400)\"\n", rows.String())
	words := func(r *check.Result) (all []string) {
		for _, f := range slices.Concat(r.Findings, r.Follows) {
			all = append(all, fmt.Sprint(f.Severity, f.Cells, f.Cause, f.Others))
		}
		return all
	}
	a, b := words(near), words(whole)
	if !slices.Equal(a, b) || len(a) < 30 {
		t.Errorf("streamed, %d findings; whole, %d: %v", len(a), len(b), firstUnlike(a, b))
	}
	if near.Claims != whole.Claims || near.Claims != 800 || near.Rows != whole.Rows {
		t.Errorf("streamed, %d claims in %d rows; whole, %d in %d", near.Claims, near.Rows, whole.Claims, whole.Rows)
	}
}

func firstUnlike(a, b []string) string {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return a[i] + " and " + b[i]
		}
	}
	return "one is longer"
}
