package understand_test

import (
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// TestPartsOfUnits: what is written in hundredths of a millimetre is not in millimetres. 48.22 - 48.06 = 0.16, which is 16
// hundredths.
func TestPartsOfUnits(t *testing.T) {
	for _, test := range []struct{ unit, is string }{
		{"1/100 mm", "0.01 mm"}, {"1/100", "0.01 mm"}, {"0.01 mm", "0.01 mm"}, {"0,01 mm", "0.01 mm"}, {"Hundertstel", "0.01 mm"}, {"centièmes", "0.01 mm"}, {"1/10 mm", "0.1 mm"},
		{"mm/100", ""}, {"10^-2 mm", ""}, {"x 0.01 mm", "0.01 mm"},
	} {
		t.Run(test.unit, func(t *testing.T) {
			everyWay(t, func(t *testing.T, d *draft) {
				factor := "100"
				if test.is == "0.1 mm" {
					factor = "10"
				}
				d.rows("A1", "Bolt|free (mm)|tight (mm)|Stretch ("+test.unit+")|Verdict", "1|48.06|48.22", "2|48.07|48.24", "3|48.05|48.18", "4|48.09|48.25")
				for _, row := range []string{"2", "3", "4", "5"} {
					d.put("D"+row, "=ROUND((C"+row+"-B"+row+")*"+factor+",1)")
					d.put("E"+row, `=IF(AND(D`+row+`>=1.2,D`+row+`<=19),"OK","no")`)
				}
				u, r := d.read(t)
				if got := shown(r.Findings) + shown(r.Latent) + shown(r.Follows); got != "" {
					t.Errorf("the right sheet: %s", got)
				}
				m, _ := u.Meaning("Sheet1", d.turn(sheet.Place{Row: 3, Column: 4}))
				if m.Role != "stretch" || test.is != "" && m.Unit != test.is {
					t.Errorf("D3 is %q in %q (%s), want stretch in %q", m.Role, m.Unit, m.Reason, test.is)
				}
				d.put("D3", "=ROUND((C3-B3)*1000,1)")
				_, r = d.read(t)
				if got := d.turned(r.Findings) + d.turned(r.Latent); got == "" {
					t.Error("another factor in one row is not found")
				}
			})
		})
	}
}
