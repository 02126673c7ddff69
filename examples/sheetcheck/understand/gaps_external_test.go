package understand_test

import (
	"fmt"
	"strings"
	"testing"
)

// TestGaps: layouts whose claims a table alone does not show. Cells are apart by "|"; what begins with = is
// a formula. Sums are by hand.
func TestGaps(t *testing.T) {

	card := []string{"Main 3", "Bore (mm)|60.012|Journal (mm)|55.971", "Upper shell (mm)|2.006|Lower limit (mm)|0.020", "Lower shell (mm)|2.004|Upper limit (mm)|0.060", "Clearance (mm)|0.031|Verdict|OK"}
	mains := []string{
		"Main|Bore (mm)|Upper (mm)|Lower (mm)|Journal (mm)|Clearance (mm)|Least (mm)|Most (mm)|Verdict",
		`1|60.012|2.006|2.004|55.971|0.031|0.020|0.060|=IF(AND(F2>=G2,F2<=H2),"OK","no")`,
		`2|60.015|2.004|2.003|55.966|0.042|0.020|0.060|=IF(AND(F3>=G3,F3<=H3),"OK","no")`,
		`3|60.008|2.005|2.001|55.940|0.062|0.020|0.060|=IF(AND(F4>=G4,F4<=H4),"OK","no")`,
		`4|60.021|2.002|2.006|55.978|0.035|0.020|0.060|=IF(AND(F5>=G5,F5<=H5),"OK","no")`,
	}
	line := []string{"Pump body (mm)|Rotor (mm)|End clearance (mm)|Max (mm)|Good?", `18.046|17.998|0.048|0.090|=IF(C2<=D2,"yes","no")`}
	across := []string{"Main|1|2|3|4", "Bore (mm)|60.012|60.015|60.008|60.021", "Upper (mm)|2.006|2.004|2.005|2.002", "Lower (mm)|2.004|2.003|2.001|2.006",
		"Journal (mm)|55.971|55.966|55.940|55.978", "Clearance (mm)|0.031|0.042|0.062|0.035", "Verdict|OK|OK|loose|OK"}
	packs := []string{"Part|Needed|In a pack|Packs|Price|Cost", "bolt|30|10|3|18.50|55.50", "dowel|12|6|2|3.90|7.80", "seal|3|1|3|14.30|42.90"}
	for _, test := range []struct {
		name    string
		rows    []string
		checked int
		wrong   map[string]any // cells, and what is typed there instead
		shows   string         // what is found then
		latent  string         // what is said before
	}{
		{"a card in two columns", card, 2, map[string]any{"B5": 0.31, "D4": 0.030}, "B5 decimal point moved; D5 ", ""},
		{"two cards side by side", []string{"Main 1|||Main 2", "Bore (mm)|60.012||Bore (mm)|60.015", "Upper (mm)|2.006||Upper (mm)|2.004", "Lower (mm)|2.004||Lower (mm)|2.003", "Journal (mm)|55.971||Journal (mm)|55.966", "Clearance (mm)|0.031||Clearance (mm)|0.042"}, 2,
			map[string]any{"E6": 0.42}, "E6 decimal point moved", ""},
		{"two cards side by side without a gap", []string{"Main 1||Main 2", "Bore (mm)|60.012|Bore (mm)|60.015", "Upper (mm)|2.006|Upper (mm)|2.004", "Lower (mm)|2.004|Lower (mm)|2.003", "Journal (mm)|55.971|Journal (mm)|55.966", "Clearance (mm)|0.031|Clearance (mm)|0.042"}, 2,
			map[string]any{"D6": 0.42}, "D6 decimal point moved", ""},
		{"clearances typed beside verdicts by formula", mains, 8, map[string]any{"F3": 2.045}, "F3 one wall instead of two; I3 ", ""},
		{"a clearance typed in a table of one line", line, 2, map[string]any{"C2": 0.48}, "C2 decimal point moved", "C2 a number typed over a formula"},
		{"limits below a table across", append(across[:7:7], "", "Min|0.020", "Max|0.060"), 8, map[string]any{"D7": "OK"}, "D7 ", ""},
		{"a line of limits below each column", append(across[:7:7], "", "Min (mm)|0.020|0.020|0.020|0.020", "Max (mm)|0.060|0.060|0.061|0.060"), 8, map[string]any{"D7": "OK"}, "D7 ", ""},
		{"a line of limits under the columns of a table down", []string{"Main|Bore (mm)|Upper (mm)|Lower (mm)|Journal (mm)|Clearance (mm)|Verdict", "1|60.012|2.006|2.004|55.971|0.031|OK", "2|60.015|2.004|2.003|55.966|0.042|OK", "3|60.008|2.005|2.001|55.940|0.062|loose", "", "min|60.000|2.000|2.000|55.930|0.020", "max|60.030|2.010|2.010|55.980|0.060"}, 6,
			map[string]any{"G4": "OK"}, "G4 ", ""},
		{"costs summed", append(packs[:4:4], "Total|||||106.20"), 7, map[string]any{"F5": 98.40}, "F5 ", ""},
		{"costs summed, after a line", append(packs[:4:4], "", "total of all|||||106.20"), 7, map[string]any{"F6": 63.30}, "F6 ", ""},
		{"costs summed, with postage", append(packs[:4:4], "Subtotal|||||106.20", "Postage|||||6.90", "Total|||||113.10"), 8, map[string]any{"F7": 106.20}, "F7 ", ""},
		{"costs summed by a formula", append(packs[:4:4], "Total|||||=SUM(F2:F4)"), 7, map[string]any{"F5": "=SUM(F2:F3)"}, "F5 range a row short or long", ""},
		{"costs summed by additions", append(packs[:4:4], "Total|||||=F2+F3+F4"), 7, map[string]any{"F5": "=F2+F4"}, "F5 something left out", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			d := &draft{}
			for i, row := range test.rows {
				for j, text := range strings.Split(row, "|") {
					at := fmt.Sprintf("%c%d", 'A'+j, i+1)
					if strings.HasPrefix(text, "=") {
						d.put(at, text)
					} else if text != "" {
						d.rows(at, text)
					}
				}
			}
			u, r := d.read(t)
			if got := shown(r.Findings) + shown(r.Latent) + shown(r.Follows); got != test.latent {
				t.Errorf("the right sheet: %q, want %q", got, test.latent)
			}
			if r.Coverage.Checked != test.checked {
				t.Errorf("%d checked, want %d; not understood %v", r.Coverage.Checked, test.checked, u.Unknown)
			}
			for at, value := range test.wrong {
				d.put(at, value)
			}
			_, r = d.read(t)
			got := d.turned(r.Findings) + "; " + d.turned(r.Follows)
			for _, want := range strings.Split(test.shows, "; ") {
				cell, words, _ := strings.Cut(want, " ")
				if !strings.Contains(got, cell) || !strings.Contains(got, words) {
					t.Errorf("found %q, want %q in it", got, want)
				}
			}
		})
	}
}
