package understand_test

import (
	"testing"
)

// TestFaults: faults that do not show, in sheets with their locations as rows and as columns,
// in either file format. Each is found, and the right sheet is silent.
func TestFaults(t *testing.T) {
	right := func(d *draft) {
		d.bearings("Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Least (mm)", "Most (mm)", "Verdict")
		d.column("F", "=B2-C2-D2-E2")
		for row := '2'; row <= '6'; row++ {
			d.put("G"+string(row), 0.020)
			d.put("H"+string(row), 0.060)
		}
		d.column("I", `=IF(AND(F2>=G2,F2<=H2),"OK","no")`)
		d.put("A8", "Average")
		d.put("F8", "=AVERAGE(F2:F6)")
		d.put("A9", "Most")
		d.put("F9", "=MAX(F2:F6)")
		d.put("A10", "OK")
		d.put("I10", `=COUNTIF(I2:I6,"OK")`)
	}
	for _, test := range []struct {
		name  string
		spoil func(d *draft)
		shows string
		fault string
	}{
		{name: "right", spoil: func(*draft) {}},
		{name: "a hidden line counts", spoil: func(d *draft) { d.hidden = []int{4} }, fault: "F8 F9 I10 hidden row counts"},
		{name: "a hidden line that a partial sum leaves out", spoil: func(d *draft) {
			d.hidden = []int{4}
			d.put("F8", "=F2*1")
			d.put("F9", "=F2*1")
			d.put("I10", "=F2*1")
		}},
		{name: "a hidden line in the middle of nothing", spoil: func(d *draft) { d.hidden = []int{7} }},
		{name: "a range a line short", spoil: func(d *draft) { d.put("F9", "=MAX(F2:F5)") }, fault: "F9 range a row short or long"},
		{name: "a range a line short at its beginning", spoil: func(d *draft) { d.put("F9", "=MAX(F3:F6)") }, fault: "F9 range a row short or long"},
		{name: "a range a line long", spoil: func(d *draft) {
			d.put("F8", "=AVERAGE(F2:F7)")
		}, fault: "F8 range a row short or long"},
		{name: "a range into the line below", spoil: func(d *draft) { d.put("F9", "=MAX(F2:F8)") }, fault: "F9 range a row short or long"},
		{name: "a count a line short", spoil: func(d *draft) { d.put("I10", `=COUNTIF(I2:I5,"OK")`) }, shows: "I10 range a row short or long"},
		{name: "the upper limit left out of one line", spoil: func(d *draft) { d.put("I4", `=IF(F4>=G4,"OK","no")`) }, fault: "I4 one limit not compared"},
		{name: "the lower limit left out of one line", spoil: func(d *draft) { d.put("I4", `=IF(F4<=H4,"OK","no")`) }, fault: "I4 one limit not compared"},
		{name: "the upper limit left out of all lines", spoil: func(d *draft) { d.column("I", `=IF(F2>=G2,"OK","no")`) }, fault: "I2 I3 I4 I5 I6 one limit not compared"},
		{name: "the lower limit left out of all lines", spoil: func(d *draft) { d.column("I", `=IF(F2<=H2,"OK","no")`) }, fault: "I2 I3 I4 I5 I6 one limit not compared"},
		{name: "a limit refused", spoil: func(d *draft) { d.put("I4", `=IF(AND(F4>=G4,F4<H4),"OK","no")`) }, fault: "I4 the limit itself refused"},
		{name: "protected", spoil: func(d *draft) {
			d.protected = true
			d.free = []string{"B2", "B3", "B4", "B5", "B6"}
		}},
		{name: "a locked cell overwritten", spoil: func(d *draft) {
			d.protected = true
			d.put("F4", 0.050)
		}, fault: "F4 protected cell overwritten"},
		{name: "a free cell overwritten", spoil: func(d *draft) {
			d.protected = true
			d.free = []string{"F4"}
			d.put("F4", 0.050)
		}, fault: "F4 a number typed over a formula"},
		{name: "a cell overwritten where nothing is protected", spoil: func(d *draft) { d.put("F4", 0.050) }, fault: "F4 a number typed over a formula"},
		{name: "a reference left fixed", spoil: func(d *draft) { d.put("F4", "=B4-C4-D4-$E$4") }, fault: "F4 absolute reference copied down"},
		{name: "text for a number", spoil: func(d *draft) { d.put("C3", "2.001 mm") }, shows: "C3 text where a number belongs"},
	} {
		t.Run(test.name, func(t *testing.T) {
			everyWay(t, func(t *testing.T, d *draft) {
				right(d)
				test.spoil(d)
				_, r := d.read(t)
				if got := d.turned(r.Findings); got != test.shows {
					t.Errorf("findings are %q, want %q", got, test.shows)
				}
				if got := d.turned(r.Latent); got != test.fault {
					t.Errorf("latent is %q, want %q", got, test.fault)
				}
			})
		})
	}
}

// TestSubtotal: SUBTOTAL above 100 leaves hidden rows out and counts hidden columns; below, it
// counts rows that are hidden by hand.
func TestSubtotal(t *testing.T) {
	everyWay(t, func(t *testing.T, d *draft) {
		d.bearings("Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)")
		d.column("F", "=B2-C2-D2-E2")
		d.put("A8", "Average")
		d.put("F8", "=SUBTOTAL(101,F2:F6)")
		d.put("A9", "Most")
		d.put("F9", "=SUBTOTAL(4,F2:F6)")
		d.hidden = []int{4}
		_, r := d.read(t)
		want := "F9 hidden row counts"
		if d.across {
			want = "F8 F9 hidden row counts"
		}
		if got := shown(r.Findings) + d.turned(r.Latent); got != want {
			t.Errorf("said %q, want %q; not checked %v", got, want, r.Unchecked)
		}
	})
}
