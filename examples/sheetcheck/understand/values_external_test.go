package understand_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/sheetcheck/sheet"
	"example.com/closefit/internal/thorough"
)

// rows puts lines of a table without formulas, from a cell on. Cells are apart by "|".
func (d *draft) rows(at string, lines ...string) {
	p, err := sheet.ParsePlace(at)
	if err != nil {
		panic(err)
	}
	for i, line := range lines {
		for j, text := range strings.Split(line, "|") {
			place := sheet.Place{Row: p.Row + i, Column: p.Column + j}.String()
			var n float64
			switch rest := ""; {
			case text == "":
			default:
				if k, _ := fmt.Sscanf(text, "%g%s", &n, &rest); k == 1 {
					d.put(place, n)
				} else {
					d.put(place, text)
				}
			}
		}
	}
}

// TestValues: tables in which nothing is computed. Sums are worked out by hand: bore less
// walls and journal, and so on.
func TestValues(t *testing.T) {
	mains := []string{
		"Main|Bore (mm)|Upper (mm)|Lower (mm)|Journal (mm)|Clearance (mm)|Verdict",
		"1|60.012|2.006|2.004|55.971|0.031|OK",
		"2|60.015|2.004|2.003|55.966|0.042|OK",
		"3|60.008|2.005|2.001|55.940|0.062|loose",
		"4|60.021|2.002|2.006|55.978|0.035|OK",
		"5|60.010|2.003|2.002|55.969|0.036|OK",
	}
	rods := []string{
		"Rod|Bore (mm)|Wall (mm)|Pin (mm)|Clearance (µm)",
		"1|50.011|1.496|46.986|33",
		"2|50.006|1.500|46.965|41",
		"3|50.017|1.492|47.005|28",
	}
	for _, test := range []struct {
		name    string
		put     func(d *draft)
		rows    bool // for sheets whose locations are rows alone
		checked int
		wrong   map[string]any // cells and what is typed there instead
		shows   string         // what is found then
	}{
		{name: "a table with limits in its heading", put: func(d *draft) {
			d.rows("A1", mains...)
			d.put("G1", "Verdict (0.020 to 0.060 mm)")
		}, rows: true, checked: 10, wrong: map[string]any{"F3": 0.024, "G6": "loose"}, shows: "F3 ; G6 "},
		{name: "limits in columns", put: func(d *draft) {
			d.rows("A1", mains...)
			for row := 1; row <= 6; row++ {
				d.rows(fmt.Sprintf("H%d", row), map[bool]string{true: "Least (mm)|Most (mm)", false: "0.020|0.060"}[row == 1])
			}
		}, checked: 10, wrong: map[string]any{"F3": 2.045, "G4": "OK"}, shows: "F3 one wall; G4 "},
		{name: "walls as one, in µm", put: func(d *draft) { d.rows("A1", rods...) }, checked: 3, wrong: map[string]any{"E3": 1541}, shows: "E3 one wall"},
		{name: "a line of units", put: func(d *draft) {
			d.rows("A1", "Main|Bore|Upper|Lower|Journal|Clearance", "|mm|mm|mm|mm|mm")
			d.rows("A3", "1|60.012|2.006|2.004|55.971|0.031", "2|60.015|2.004|2.003|55.966|0.042", "3|60.008|2.005|2.001|55.940|0.062")
		}, checked: 3, wrong: map[string]any{"F4": 0.42}, shows: "F4 decimal"},
		{name: "side by side", put: func(d *draft) {
			d.rows("A3", mains[:1]...)
			d.rows("A4", mains[1:]...)
			d.rows("I3", rods...)
			d.put("H3", nil)
			for row := 3; row <= 8; row++ {
				d.put(fmt.Sprintf("G%d", row), nil)
			}
		}, checked: 8, wrong: map[string]any{"F5": 0.024, "M5": 410.0}, shows: "F5 ; M5 decimal"},
		{name: "one below the other", put: func(d *draft) {
			d.put("A1", "Mains")
			d.rows("A2", mains...)
			for row := 2; row <= 7; row++ {
				d.put(fmt.Sprintf("G%d", row), nil)
			}
			d.put("A10", "Rods")
			d.rows("A11", rods...)
		}, checked: 8, wrong: map[string]any{"F4": 0.024, "E13": 410.0}, shows: "F4 ; E13 decimal"},
		{name: "an average below", put: func(d *draft) {
			d.rows("A1", rods...)
			d.rows("A5", "Average||||34")
		}, checked: 4, wrong: map[string]any{"E3": 14.0}, shows: "E3 "},
		{name: "an average below that is wrong", put: func(d *draft) { // (33+41+28)/3 = 34
			d.rows("A1", rods...)
			d.rows("A5", "Average||||34")
		}, checked: 4, wrong: map[string]any{"E5": 30.0}, shows: "E5 "},
		{name: "extremes below, one of them wrong", put: func(d *draft) {
			d.rows("A1", rods...)
			d.rows("A5", "Min||||28", "Max||||41")
		}, checked: 5, wrong: map[string]any{"E6": 33.0}, shows: "E6 "},
		{name: "limits below", put: func(d *draft) {
			d.rows("A1", mains...)
			d.rows("A8", "Min|0.020", "Max|0.060")
		}, rows: true, checked: 10, wrong: map[string]any{"G4": "OK"}, shows: "G4 "},
		{name: "an average and limits below", put: func(d *draft) { // 0.206/5 = 0.0412
			d.rows("A1", mains...)
			d.rows("A7", "Average|||||0.041")
			d.rows("A9", "Min|||||0.020", "Max|||||0.060")
		}, rows: true, checked: 11, wrong: map[string]any{"G4": "OK"}, shows: "G4 "},
		{name: "one location", put: func(d *draft) { d.rows("A1", rods[0], rods[1]) }, checked: 1, wrong: map[string]any{"E2": 1529.0}, shows: "E2 one wall"},
		{name: "no words of the trade over the parts", put: func(d *draft) {
			d.rows("A1", append([]string{"No|Hole (mm)|Strip one (mm)|Strip two (mm)|Bar (mm)|Clearance (mm)|Taper (mm)"}, "1|60.012|2.006|2.004|55.971|0.031|0.004", "2|60.015|2.004|2.003|55.966|0.042|0.006",
				"3|60.008|2.005|2.001|55.940|0.062|0.001", "4|60.021|2.002|2.006|55.978|0.035|0.002", "5|60.010|2.003|2.002|55.969|0.036|0.003")...)
		}, checked: 5, wrong: map[string]any{"F5": 0.053}, shows: "F5 "},
		{name: "German", put: func(d *draft) {
			d.rows("A1", "Lager|Bohrung [mm]|Schale oben [mm]|Schale unten [mm]|Zapfen [mm]|Spiel [µm]", "1|60.012|2.006|2.004|55.971|31", "2|60.015|2.004|2.003|55.966|42", "3|60.008|2.005|2.001|55.940|62")
		}, checked: 3, wrong: map[string]any{"F3": 4.2}, shows: "F3 decimal"},
		{name: "end play", put: func(d *draft) {
			d.rows("A1", "Engine|Journal length (mm)|Housing width (mm)|Washer front (mm)|Washer rear (mm)|End play (mm)", "A|31.162|26.004|2.510|2.495|0.153", "B|30.987|25.871|2.485|2.500|0.131", "C|31.204|26.100|2.505|2.515|0.084")
		}, checked: 3, wrong: map[string]any{"F3": 2.631}, shows: "F3 "},
		{name: "side play in two units", put: func(d *draft) {
			d.rows("A1", "Pin|Pin width (mm)|Rod 1 (mm)|Rod 2 (mm)|Side play (mm)|Side play (in)", "1|44.25|21.93|21.95|0.37|0.0146", "2|44.31|21.97|21.92|0.42|0.0165", "3|44.28|21.95|21.94|0.39|0.0154")
		}, checked: 6, wrong: map[string]any{"F3": 0.165}, shows: "F3 decimal"},
		{name: "taper of readings", put: func(d *draft) {
			d.rows("A1", "Main|Journal front (mm)|Journal middle (mm)|Journal rear (mm)|Taper (mm)", "1|55.972|55.978|55.968|0.010", "2|55.966|55.970|55.969|0.004", "3|55.981|55.975|55.979|0.006")
		}, checked: 3, wrong: map[string]any{"E3": 0.003}, shows: "E3 "},
		{name: "stretch", put: func(d *draft) {
			d.rows("A1", "Bolt|Free length (mm)|Tightened (mm)|Stretch (mm)", "1|62.412|62.554|0.142", "2|62.405|62.556|0.151", "3|62.418|62.557|0.139")
		}, checked: 3, wrong: map[string]any{"D3": 62.556}, shows: "D3 "},
		{name: "ring gaps", put: func(d *draft) {
			d.rows("A1", "Cylinder|Bore (mm)|Least gap (mm)|Gap (mm)|To file (mm)", "1|88.512|0.354|0.310|0.044", "2|88.497|0.354|0.420|0", "3|92.530|0.370|0.275|0.095")
		}, checked: 6, wrong: map[string]any{"E4": 0.905}, shows: "E4 "},
		{name: "packs", put: func(d *draft) {
			d.rows("A1", "Part|Needed|In stock|In a pack|Packs|Price|Cost", "bolt|30|4|10|3|18.50|55.50", "dowel|12|0|6|2|3.90|7.80", "seal|3|0|1|3|14.30|42.90", "plug|15|1|5|3|4.20|12.60")
		}, checked: 8, wrong: map[string]any{"E5": 2.0}, shows: "E5 "},
		{name: "torques", put: func(d *draft) {
			d.rows("A1", "Bolt|Torque (N·m)|Torque (lbf·ft)", "main|98.1|72.4", "rod|46|33.9", "sump|9.5|7.0")
		}, checked: 3, wrong: map[string]any{"C3": 62.4}, shows: "C3 "},
		{name: "a form", put: func(d *draft) {
			d.rows("A1", "Main bearing 3|")
			d.rows("A3", "Bore|60.012|mm", "Upper shell|2.006|mm", "Lower shell|2.004|mm", "Journal|55.971|mm", "Clearance|0.031|mm", "Lower limit|0.020|mm", "Upper limit|0.060|mm", "Verdict|OK")
		}, rows: true, checked: 2, wrong: map[string]any{"B7": 0.31}, shows: "B7 decimal"},
		{name: "a form with a verdict that is wrong", put: func(d *draft) {
			d.rows("A3", "Bore (mm)|60.052", "Upper shell (mm)|2.006", "Lower shell (mm)|2.004", "Journal (mm)|55.941", "Clearance (mm)|0.101", "Lower limit (mm)|0.020", "Upper limit (mm)|0.110", "Verdict|OK")
		}, rows: true, checked: 2, wrong: map[string]any{"B9": 0.060}, shows: "B10 "},
		{name: "two forms", put: func(d *draft) {
			d.rows("A1", "Main 1")
			d.rows("A2", "Bore (mm)|60.012", "Upper (mm)|2.006", "Lower (mm)|2.004", "Journal (mm)|55.971", "Clearance (mm)|0.031")
			d.rows("A8", "Main 2")
			d.rows("A9", "Bore (mm)|60.015", "Upper (mm)|2.004", "Lower (mm)|2.003", "Journal (mm)|55.966", "Clearance (mm)|0.042")
		}, rows: true, checked: 2, wrong: map[string]any{"B13": 4.2}, shows: "B13 decimal"},
		{name: "numbers that prove nothing", put: func(d *draft) {
			d.rows("A1", "Main|Bore (mm)|Upper (mm)|Lower (mm)|Journal (mm)|Clearance (mm)", "1|60.012|2.006|2.004|55.971|0.131", "2|60.015|2.004|2.003|55.966|0.012", "3|60.008|2.005|2.001|55.940|0.090", "4|60.021|2.002|2.006|55.978|0.015")
		}, checked: 0},
		{name: "an empty reading with a verdict beside it", put: func(d *draft) {
			d.rows("A1", mains...)
			for row := 1; row <= 6; row++ {
				d.rows(fmt.Sprintf("H%d", row), map[bool]string{true: "Least (mm)|Most (mm)", false: "0.020|0.060"}[row == 1])
			}
		}, checked: 10, wrong: map[string]any{"E5": nil, "F5": nil}, shows: "G5 no reading"},
	} {
		t.Run(test.name, func(t *testing.T) {
			everyWay(t, func(t *testing.T, d *draft) {
				if test.rows && d.across {
					return
				}
				test.put(d)
				u, r := d.read(t)
				if got := shown(r.Findings) + shown(r.Latent) + shown(r.Follows); got != "" {
					t.Errorf("the right sheet: %s", got)
				}
				if r.Coverage.Checked != test.checked {
					t.Errorf("%d checked, want %d; not understood %v; tables %+v", r.Coverage.Checked, test.checked, u.Unknown, u.Tables)
				}
				if test.wrong == nil {
					return
				}
				for at, value := range test.wrong {
					d.put(at, value)
				}
				_, r = d.read(t)
				got := d.turned(r.Findings)
				follows := d.turned(r.Follows)
				if follows != "" {
					got += "; " + follows
				}
				for i, want := range strings.Split(test.shows, "; ") {
					cell, words, _ := strings.Cut(want, " ")
					if !strings.Contains(got, cell) || !strings.Contains(got, words) {
						t.Errorf("found %q, want %q in it (%d)", got, want, i)
					}
				}
			})
		})
	}
}

// TestCoincidence: numbers that have nothing to do with one another prove nothing, whatever
// their headings. Of 300 tables of such, none has a finding.
func TestCoincidence(t *testing.T) {
	random := rand.New(rand.NewPCG(17, 4))
	headings := []string{"Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Clearance (µm)", "Taper (mm)", "Journal front (mm)", "Journal rear (mm)", "End play (mm)", "Washer (mm)",
		"Stretch (mm)", "Free length (mm)", "Tightened (mm)", "Least gap (mm)", "Gap (mm)", "To file (mm)", "Needed", "In stock", "In a pack", "Packs", "Cost", "Price", "Torque (N·m)", "Torque (lbf·ft)", "Strip", "x (mm)"}
	for range 300 / thorough.Every(3) {
		var b strings.Builder
		b.WriteString("Main")
		var sizes []float64
		order := random.Perm(len(headings))[:5+random.IntN(6)]
		for _, i := range order {
			b.WriteString("," + headings[i])
			sizes = append(sizes, []float64{60, 2, 0.05, 30}[random.IntN(4)])
		}
		for line := range 3 + random.IntN(6) {
			fmt.Fprintf(&b, "\nmain %d", line+1)
			for i, size := range sizes {
				if whole := order[i] >= 17 && order[i] <= 20; whole {
					fmt.Fprintf(&b, ",%d", random.IntN(40))
				} else {
					fmt.Fprintf(&b, ",%.3f", size+0.1*random.Float64())
				}
			}
		}
		name := filepath.Join(t.TempDir(), "a.csv")
		if err := os.WriteFile(name, []byte(b.String()+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, r := readFile(t, name); len(r.Findings)+len(r.Latent) > 0 {
			t.Errorf("%s %s in\n%s", shown(r.Findings), shown(r.Latent), b.String())
		}
	}
}
