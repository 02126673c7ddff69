package understand_test

import (
	"fmt"
	"slices"
	"testing"
)

// TestRunning: a column in which each line adds to the one before it is one check of a table.
func TestRunning(t *testing.T) {
	thick := []float64{0.05, 0.12, 0.08, 0.31, 0.27, 0.11, 0.19} // of shims; their sums are 0.05, 0.17, 0.25, 0.56, 0.83, 0.94, 1.13
	right := func(d *draft) {
		for i, heading := range []string{"Shim", "Thickness (mm)", "Stack (mm)"} {
			d.put(string(rune('A'+i))+"1", heading)
		}
		for i, n := range thick {
			d.put(fmt.Sprint("A", i+2), fmt.Sprint("shim ", i+1))
			d.put(fmt.Sprint("B", i+2), n)
			d.put(fmt.Sprint("C", i+2), fmt.Sprintf("=C%d+B%d", i+1, i+2))
		}
		d.put("C2", "=B2")
	}
	for _, test := range []struct {
		name  string
		spoil func(d *draft)
		shows string
		fault string
	}{
		{name: "right", spoil: func(*draft) {}},
		{name: "a number typed over a sum", spoil: func(d *draft) { d.put("C5", 0.77) }, shows: "C5 a number typed over a formula"},
		{name: "the right number typed over a sum", spoil: func(d *draft) { d.put("C5", 0.56) }, fault: "C5 a number typed over a formula"},
		{name: "a shim left out", spoil: func(d *draft) { d.put("C6", "=C5") }, shows: "C6 something left out"},
		{name: "the sum of another line", spoil: func(d *draft) { d.put("C6", "=C4+B6") }, shows: "C6 neighbour's row or column"},
	} {
		t.Run(test.name, func(t *testing.T) {
			everyWay(t, func(t *testing.T, d *draft) {
				right(d)
				test.spoil(d)
				u, r := d.read(t)
				if shows := d.turned(r.Findings); shows != test.shows {
					t.Errorf("findings %q, want %q", shows, test.shows)
				}
				if fault := d.turned(r.Latent); fault != test.fault {
					t.Errorf("faults %q, want %q", fault, test.fault)
				}
				var claims []string
				for _, m := range u.Map.Tables {
					for _, c := range m.Checks {
						claims = append(claims, d.name(c.Formula))
					}
				}
				if !slices.Equal(claims, []string{"C3+B4"}) || len(u.Map.Cells) > 1 {
					t.Errorf("the map is\n%s\nwant C3+B4 and, alone, no more than what the stack begins with", u.Map.Text())
				}
				if r.Coverage.Cells != len(thick) || r.Coverage.Checked != len(thick)-len(u.Unknown) || r.Coverage.Checked < 5 {
					t.Errorf("checked are %d of %d, want all but what was not understood, %v", r.Coverage.Checked, r.Coverage.Cells, u.Unknown)
				}
			})
		})
	}
}
