package understand_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// lay puts lines of a sheet from A1 on. Cells are apart by "|"; what begins with = is a formula.
func (d *draft) lay(lines []string) {
	for i, line := range lines {
		for j, text := range strings.Split(line, "|") {
			at := sheet.Place{Row: i + 1, Column: j + 1}.String()
			if strings.HasPrefix(text, "=") {
				d.put(at, text)
			} else if text != "" {
				d.rows(at, text)
			}
		}
	}
}

// TestCards: one location in two or three columns of words, value and unit, in which formulas read values wherever
// they stand. Sums are by hand: 60.012 - 2.006 - 2.004 - 55.971 = 0.031, and so on.
func TestCards(t *testing.T) {
	main3 := []string{
		"Main 3",
		"Housing bore|60.012|mm||Journal, front|55.971|mm",
		"Upper shell|2.006|mm||Journal, rear|55.975|mm",
		"Lower shell|2.004|mm||Journal taper|=MAX(F2:F3)-MIN(F2:F3)|mm",
		"Lower limit|0.020|mm||Clearance|=B2-B3-B4-F3|mm",
		`Upper limit|0.060|mm||Verdict|=IF(AND(F5>=B5,F5<=B6),"OK","no")`,
	}
	german := []string{
		"Hauptlager 2|||||||Kurbelgehäuse 4",
		"Bohrung|60.012|mm|Zapfen|55.971|mm|Kleinstspiel|20|µm",
		"Schale oben|2.006|mm|Spiel|=(B2-B3-B4-E2)*1000|µm|Größtspiel|60|µm",
		"Schale unten|2.004|mm||||Befund|=IF(AND(E3>=H2,E3<=H3),\"i.O.\",\"n.i.O.\")",
	}
	pair := []string{
		"Main 1",
		"Bore (mm)|60.012||Journal (mm)|55.971",
		"Wall (mm)|2.005||Clearance (mm)|=B2-2*B3-E2",
		`||Verdict||=IF(OR(E3<0.020,E3>0.060),"no","OK")`,
		"",
		"Main 2",
		"Bore (mm)|60.015||Journal (mm)|55.966",
		"Wall (mm)|2.004||Clearance (mm)|=B7-2*B8-E7",
		`||Verdict||=IF(OR(E8<0.020,E8>0.060),"no","OK")`,
		"",
		"Thrust",
		"Journal length (mm)|31.162||End play (mm)|=B12-B13",
		"Housing width (mm)|31.009||End play (in)|=E12/25.4",
		"",
		"Largest clearance (mm)|=MAX(E3,E8)",
	}
	rings := []string{ // the same words twice: 83.650 * 0.0037 = 0.31, 83.650 * 0.0046 = 0.38, which is 0.02 more than 0.36
		"Cylinder 2",
		"Bore|83.650|mm||Gap, top ring|0.33|mm",
		"Factor, top|0.0037|||Least gap|=ROUND(B2*B3,2)|mm",
		"Factor, second|0.0046|||To file|=ROUND(MAX(0,F3-F2),2)|mm",
		"||||Gap, second ring|0.36|mm",
		"||||Least gap|=ROUND(B2*B4,2)|mm",
		"||||To file|=ROUND(MAX(0,F6-F5),2)|mm",
		`||||Verdict|=IF(AND(F4=0,F7=0),"OK","file")`,
	}
	thrust := []string{ // the right part is longer; the unit stands before the value
		"Journal length|mm|31.162||Washer, front|mm|2.510",
		"Housing width|mm|26.004||Washer, rear|mm|2.495",
		"||||End play|mm|=C1-C2-G1-G2",
		"||||At least|mm|0.080",
		"||||At most|mm|0.200",
		`||||Verdict||=IF(G3<G4,"tight",IF(G3>G5,"loose","good"))`,
	}
	torque := []string{
		"Bolt|M10||Torque|98.1|N·m",
		"Free length|62.412|mm|Torque|=E1*0.737562|lbf·ft",
		"Tightened|62.554|mm|Stretch|=B3-B2|mm",
	}
	typed := []string{
		"Main 3",
		"Bore|60.012|mm||Journal|55.971|mm",
		"Upper shell|2.006|mm||Clearance|0.031|mm",
		"Lower shell|2.004|mm||Lower limit|0.020|mm",
		"Verdict|OK|||Upper limit|0.060|mm",
	}
	shared := []string{ // limits of all cards stand once
		"Least|0.020|mm||Most|0.060|mm",
		"",
		"Rod 1||||Rod 2",
		"Bore|51.010|mm||Bore|51.014|mm",
		"Shell|1.502|mm||Shell|1.500|mm",
		"Crankpin|47.970|mm||Crankpin|47.961|mm",
		"Clearance|=B4-2*B5-B6|mm||Clearance|=F4-2*F5-F6|mm",
		`Verdict|=IF(AND(B7>=$B$1,B7<=$F$1),"OK","no")|||Verdict|=IF(AND(F7>=$B$1,F7<=$F$1),"OK","no")`,
	}
	for _, test := range []struct {
		name    string
		lines   []string
		roles   string // of some cells
		checked int
		wrong   map[string]any // cells, and what is put there instead
		shows   string         // what is found then
	}{
		{"formulas in the right column", main3, "B2 bore mm; B3 upper mm; B4 lower mm; F3 journal mm; F4 taper mm; F5 clearance mm; F6 verdict; B5 limit low mm; B6 limit high mm", 3,
			map[string]any{"F5": "=B2-B3-F3"}, "F5 something left out; F6 "},
		{"a verdict with one limit", main3, "", 3, map[string]any{"F6": `=IF(F5>=B5,"OK","no")`}, "F6 one limit not compared"},
		{"words that come twice", rings, "B2 bore mm; F2 gap mm; F5 gap mm; F4 to file mm; F7 to file mm", 5, nil, ""},
		{"three columns without gaps, in German", german, "B2 bore mm; E2 journal mm; E3 clearance µm; H2 limit low µm; H3 limit high µm; H4 verdict", 2,
			map[string]any{"E3": "=(B2-B3-B4-E2)*100"}, "E3 wrong or short factor"},
		{"several below one another", pair, "B2 bore mm; E3 clearance mm; E12 end play mm; E13 conversion in; B15 maximum mm", 7,
			map[string]any{"E8": "=B7-B8-E7", "E13": "=E12/25"}, "E8 one wall instead of two; E9 ; E13 wrong or short factor"},
		{"units before the values", thrust, "C1 journal length mm; C2 housing width mm; G1 washer mm; G3 end play mm; G4 limit low mm; G5 limit high mm; G6 verdict", 2,
			nil, ""},
		{"one word with two units", torque, "E1 torque N·m; E2 torque lbf·ft|conversion lbf·ft; E3 stretch mm", 2, map[string]any{"E2": "=E1*0.7356"}, "E2 wrong or short factor"},
		{"without formulas", typed, "B2 bore mm; F2 journal mm; F3 clearance mm; B5 verdict", 2, map[string]any{"F3": 0.31}, "F3 decimal point moved"},
		{"limits of all cards stand once", shared, "B4 bore mm; B5 wall mm; F7 clearance mm; B1 limit low mm; F1 limit high mm", 4, map[string]any{"F7": "=F4-F5-F6"}, "F7 one wall instead of two; F8 "},
	} {
		t.Run(test.name, func(t *testing.T) {
			d := &draft{}
			d.lay(test.lines)
			u, r := d.read(t)
			if got := shown(r.Findings) + shown(r.Latent) + shown(r.Follows); got != "" {
				t.Errorf("the right sheet: %s", got)
			}
			if r.Coverage.Checked != test.checked {
				t.Errorf("%d checked, want %d; not understood %v", r.Coverage.Checked, test.checked, u.Unknown)
			}
			for _, want := range strings.Split(test.roles, "; ") {
				cell, is, ok := strings.Cut(want, " ")
				if !ok {
					continue
				}
				at, err := sheet.ParsePlace(cell)
				if err != nil {
					t.Fatal(err)
				}
				m, _ := u.Meaning("Sheet1", at)
				if got := strings.TrimSpace(fmt.Sprintf("%s %s", m.Role, m.Unit)); !fair(is, got) {
					t.Errorf("%s is %q (%s), want %q", cell, got, m.Reason, is)
				}
			}
			if test.wrong == nil {
				return
			}
			for at, value := range test.wrong {
				d.put(at, value)
			}
			_, r = d.read(t)
			got := shown(r.Findings) + "; " + shown(r.Latent) + "; " + shown(r.Follows)
			for _, want := range strings.Split(test.shows, "; ") {
				cell, words, _ := strings.Cut(want, " ")
				if !strings.Contains(got, cell) || !strings.Contains(got, words) {
					t.Errorf("found %q, want %q in it", got, want)
				}
			}
		})
	}
}
