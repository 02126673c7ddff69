package understand_test

import (
	"os"
	"path/filepath"
	"testing"

	"example.com/closefit/examples/sheetcheck/check"
)

// TestHabits: sheets without formulas as owners type them, written by hand: right, with something wrong
// in a cell, and with numbers that prove nothing. Sums are by hand: 63.511 - 2.241 - 2.238 - 58.995 is 0.037.
func TestHabits(t *testing.T) {
	units := "main;bore;upper;lower;journal;clearance\n1;63,511 mm;2,241 mm;2,238mm;58,995 mm;37 µm\n2;63,518 mm;2,239 mm;2,243mm;58,984 mm;52 µm\n"
	marks := "clearance from 0.020 to 0.060 mm\n\nmain,bore mm,upper mm,lower mm,journal mm,clearance mm,tight,OK,loose\n" +
		"1,60.012,2.006,2.004,55.971,0.031,,x,\n2,60.015,2.004,2.003,55.966,0.042,,x,\n3,60.008,2.005,2.001,55.940,0.062,,,x\n4,60.021,2.002,2.006,56.001,0.012,x,,\n"
	crossed := "clearance\n,mm,20.994,20.990,20.997\n1,21.013,0.019,0.023,0.016\n2,21.008,0.014,0.018,0.011\n3,21.016,0.022,0.026,0.019\n"
	for _, test := range []struct {
		name, lines string
		checked     int
		shows       string
	}{
		{"units behind numbers", units + "3;63,507 mm;2,244 mm;2,240mm;58,994 mm;29 µm\n", 3, ""},
		{"one of them in another unit", units + "3;63,507 mm;2,244 mm;2,240mm;58,994 mm;0,029 mm\n", 3, ""},
		{"a reading of them in another unit", units + "3;6,3507 cm;2,244 mm;2,240mm;58,994 mm;29 µm\n", 3, ""},
		{"units behind numbers, and one that is wrong", units + "3;63,507 mm;2,244 mm;2,240mm;58,994 mm;92 µm\n", 3, "F4 " + check.Digits},
		{"marks", marks, 8, ""},
		{"a mark too many", marks + "5,60.010,2.003,2.002,55.969,0.036,,x,X\n", 11, "I8 " + check.TypedText},
		{"a mark on the wrong side", marks + "5,60.010,2.003,2.002,55.940,0.065,x,,\n", 10, "G8 " + check.TypedText},
		{"every part against every other", crossed, 9, ""},
		{"every part against every other, in thousandths", "play (µm)\n,mm,20.994,20.990,20.997\n1,21.013,19,23,16\n2,21.008,14,18,11\n3,21.016,22,26,19\n", 9, ""},
		{"the rows taken from the columns", "play\n,mm,21.013,21.008,21.016\n1,20.994,0.019,0.014,0.022\n2,20.990,0.023,0.018,0.026\n3,20.997,0.016,0.011,0.019\n", 9, ""},
		{"one of them wrong", crossed + "4,21.010,0.061,0.020,0.013\n", 12, "C6 " + check.Digits},
		{"numbers that happen to lie so", "play\n,mm,20.994,20.990,20.997\n1,21.013,0.015,0.017,0.012\n2,21.008,0.024,0.013,0.021\n3,21.016,0.011,0.019,0.026\n", 0, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "a.csv")
			if err := os.WriteFile(path, []byte(test.lines), 0o600); err != nil {
				t.Fatal(err)
			}
			u, r := readFile(t, path)
			if got := short(r.Findings) + short(r.Latent) + short(r.Follows); got != test.shows || r.Coverage.Checked != test.checked {
				t.Errorf("it shows %q and checks %d; want %q and %d; not understood: %v", got, r.Coverage.Checked, test.shows, test.checked, u.Unknown)
			}
		})
	}
}
