package understand_test

import (
	"fmt"
	"strings"
	"testing"
)

// TestDimensions: units along a formula. Column G and what stands right of it have the
// headings and formulas of each case; the numbers are of no account.
func TestDimensions(t *testing.T) {
	for _, test := range []struct {
		name     string
		journal  string // heading of E
		headings string // of G, H and so on
		formulas string // of the same; a number is typed
		mixed    string // columns at fault
		says     string
	}{
		{name: "all in mm", headings: "Sum (mm)", formulas: "=C2+D2"},
		{name: "inch among mm", journal: "Journal (in)", mixed: "F", says: `E2 is in in (heading "Journal (in)")`},
		{name: "an inch made a mm", journal: "Journal (in)", headings: "Sum (mm)", formulas: "=B2-E2*25.4", mixed: "F"},
		{name: "nothing said of the journal", journal: "Journal"},
		{name: "µm with mm", headings: "Wear (µm)|Worn (mm)", formulas: "7|=F2+G2", mixed: "H", says: `G2 is in µm`},
		{name: "µm made mm", headings: "Wear (µm)|Worn (mm)", formulas: "7|=F2+G2/1000"},
		{name: "mm made µm", headings: "Wear (µm)|Worn (µm)", formulas: "7|=F2*1000+G2"},
		{name: "mm made µm under mm", headings: "Wear (µm)|Worn (mm)", formulas: "7|=F2*1000+G2", mixed: "H", says: "gives µm"},
		{name: "no unit said of the one", headings: "Wear|Worn (mm)", formulas: "7|=F2+G2"},
		{name: "torque against a limit in other units", headings: "Torque (N·m)|At most (lbf·ft)|Good", formulas: `95|74|=IF(G2<=H2,"OK","no")`, mixed: "I", says: "compares G2, in N·m, and H2, in lbf·ft"},
		{name: "torque against its limit", headings: "Torque (N·m)|At most (lbf·ft)|Good", formulas: `95|74|=IF(G2<=H2*1.3558,"OK","no")`},
		{name: "torque converted", headings: "Torque (N·m)|Torque (lbf·ft)|Torque (lbf·in)|Torque (kgf·m)", formulas: "95|=G2*0.73756|=G2*0.73756*12|=G2*0.101972"},
		{name: "torque for a length", headings: "Torque (N·m)|Odd (mm)", formulas: "95|=F2+G2", mixed: "H"},
		{name: "force by length", headings: "Force (N)|Arm (mm)|Torque (N·m)", formulas: "95|300|=G2*H2/1000"},
		{name: "force by length, not made metres", headings: "Force (N)|Arm (mm)|Torque (N·m)", formulas: "95|300|=G2*H2", mixed: "I"},
		{name: "pressures", headings: "Oil (bar)|Oil (psi)|Oil (kPa)|Again (psi)", formulas: "4|=G2*14.5038|=G2*100|=I2/6.894757"},
		{name: "an area", headings: "Area (mm²)|Root (mm)", formulas: "=PI()/4*B2^2|=SQRT(4*G2)"},
		{name: "an area called a length", headings: "Area (mm)", formulas: "=B2*C2", mixed: "G", says: `gives mm²`},
		{name: "a rule of the trade", headings: "Rule (mm)|Gap (mm)|Share", formulas: "=E2*0.001|=B2*0.0045|=F2/B2"},
		{name: "a choice of units", headings: "Unit|Shown", formulas: `mm|=IF(G2="in",F2/25.4,F2)`},
		{name: "two units by size", headings: "Shown (mm)", formulas: `=IF(F2>0.04,F2/25.4,F2)`, mixed: "G", says: "gives either"},
		{name: "least of unlike", headings: "Wear (µm)|Least (mm)", formulas: "7|=MIN(F2,G2)", mixed: "H"},
		{name: "a range of unlike", headings: "Wear (µm)|Least (mm)", formulas: "7|=MAX(F2:G2)", mixed: "H", says: "gathers"},
		{name: "CONVERT", headings: "Inch (in)|Back (mm)|Wrong (mm)", formulas: `=CONVERT(F2,"mm","in")|=CONVERT(G2,"in","mm")|=B2-CONVERT(F2,"in","mm")`, mixed: "I", says: `converts F2 from "in"`},
		{name: "a turn of a thread", headings: "Pitch (mm)|Angle (°)|Moved (mm)", formulas: "1.5|90|=G2*H2/360"},
		{name: "so much for each", headings: "Load (N)|Stiffness N/mm|Give (mm)", formulas: "95|40|=G2/H2"},
		{name: "rounded", headings: "Wear (µm)|Worn (mm)", formulas: "7|=ROUND(ABS(F2-G2/1000),3)"},
		{name: "a guarded sum", headings: "Wear (µm)|Worn (mm)", formulas: `7|=IF(G2="","",IFERROR(F2+G2,""))`, mixed: "H"},
	} {
		t.Run(test.name, func(t *testing.T) {
			everyWay(t, func(t *testing.T, d *draft) {
				journal := "Journal (mm)"
				if test.journal != "" {
					journal = test.journal
				}
				headings := []string{"Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", journal, "Clearance (mm)"}
				if test.headings != "" {
					headings = append(headings, strings.Split(test.headings, "|")...)
				}
				d.bearings(headings...)
				d.column("F", "=B2-C2-D2-E2")
				for i, formula := range strings.Split(test.formulas, "|") {
					letter := string(rune('G' + i))
					var n float64
					switch {
					case formula == "":
					case formula[0] == '=':
						d.column(letter, formula)
					default:
						for row := 2; row <= 6; row++ {
							if _, err := fmt.Sscan(formula, &n); err == nil {
								d.put(fmt.Sprintf("%s%d", letter, row), n+float64(row)/5)
							} else {
								d.put(fmt.Sprintf("%s%d", letter, row), formula)
							}
						}
					}
				}
				_, r := d.read(t)
				want := ""
				if test.mixed != "" {
					for row := 2; row <= 6; row++ {
						want += fmt.Sprintf("%s%d ", test.mixed, row)
					}
					want += "units mixed"
				}
				if got := d.turned(r.Latent); got != want {
					t.Errorf("latent is %q, want %q", got, want)
				}
				for _, f := range r.Findings {
					t.Errorf("%v is a finding: %s %s", f.Cells[0].At, f.Cause.Mistake, f.Cause.Says)
				}
				for _, f := range r.Latent {
					if !strings.Contains(f.Cause.Says, d.name(test.says)) {
						t.Errorf("said %q, want %q in it", f.Cause.Says, d.name(test.says))
					}
				}
			})
		})
	}
}
