package fasteners_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

func TestParseThread(t *testing.T) {
	tests := []struct {
		text  string
		major string
		pitch string
		print string // its series, too
	}{
		{"M10", "10 mm", "1.5 mm", "M10"},
		{"M10x1.5", "10 mm", "1.5 mm", "M10"},
		{"M10×1.25", "10 mm", "1.25 mm", "M10x1.25"},
		{" M 3.5 x 0.6 ", "3.5 mm", "0.6 mm", "M3.5"},
		{"M11.25x0.9", "11.25 mm", "0.9 mm", "M11.25x0.9"},
		{"3/8-24 UNF", "0.375 in", "(1/24) in", "3/8-24 UNF"},
		{"3/8-24", "0.375 in", "(1/24) in", "3/8-24 UNF"},
		{"3/8 - 16UNC", "0.375 in", "(1/16) in", "3/8-16 UNC"},
		{"#10-32 UNF", "0.190 in", "(1/32) in", "#10-32 UNF"},
		{"10-32", "0.190 in", "(1/32) in", "#10-32 UNF"},
		{"No. 4-40", "0.112 in", "(1/40) in", "#4-40 UNC"},
		{"12-32", "0.216 in", "(1/32) in", "#12-32 UNEF"},
		{"1-8", "1 in", "(1/8) in", "1-8 UNC"},
		{"1-1/8-8 UN", "1.125 in", "(1/8) in", "1-1/8-8 UN"},
		{"1 1/8-8 8UN", "1.125 in", "(1/8) in", "1-1/8-8 UN"},
		{"1-8 UN", "1 in", "(1/8) in", "1-8 UNC"},
		{"13/32-20", "13/32 in", "(1/20) in", "13/32-20 UNS"},
		{"1/2-12", "0.5 in", "(1/12) in", "1/2-12 UNS"}, // 12-UN begins at 9/16
		{"3/4-8", "0.75 in", "(1/8) in", "3/4-8 UNS"},   // 8-UN begins at 1
		{"7/8-8", "0.875 in", "(1/8) in", "7/8-8 UNS"},
		{"15/16-12", "0.9375 in", "(1/12) in", "15/16-12 UN"},
		{"3-1/8-20", "3.125 in", "(1/20) in", "3-1/8-20 UNS"}, // 20-UN ends at 3
		{`7/16"-20`, "0.4375 in", "(1/20) in", "7/16-20 UNF"},
		{"0.4375-20 UNF", "0.4375 in", "(1/20) in", "7/16-20 UNF"},
		{"2-4.5", "2 in", "(2/9) in", "2-4.5 UNC"},
		{"2-4 1/2 UNC", "2 in", "(2/9) in", "2-4.5 UNC"},
		{"7/16-24", "0.4375 in", "(1/24) in", "7/16-24 UNS"},
		{"7/16-24 UNS", "0.4375 in", "(1/24) in", "7/16-24 UNS"},
		{"M68", "68 mm", "6 mm", "M68"},
		{".190-32 UNF", "0.190 in", "(1/32) in", "#10-32 UNF"}, // the decimal form of a number size
		{"0.125-40", "0.125 in", "(1/40) in", "#5-40 UNC"},
		{"0.190-36 UNS", "0.190 in", "(1/36) in", "0.1900-36 UNS"},
		{"#8-18 UNS", "0.164 in", "(1/18) in", "#8-18 UNS"},
		{"8.0-18", "8 in", "(1/18) in", "8.0-18 UNS"}, // else "8-18" might be a number size
		{"8.0-12", "8 in", "(1/12) in", "8.0-12 UNS"},
		{"6-12", "6 in", "(1/12) in", "6-12 UN"},
		{"1-14", "1 in", "(1/14) in", "1-14 UNS"}, // #1 has no core at that pitch
	}
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			got, err := fasteners.ParseThread(test.text)
			if err != nil {
				t.Fatal(err)
			}
			if !got.Major().Equal(units.MustParseLength(test.major)) || !got.Pitch().Equal(units.MustParseLength(test.pitch)) {
				t.Errorf("%v x %v, want %s x %s", got.Major(), got.Pitch(), test.major, test.pitch)
			}
			if got.String() != test.print {
				t.Errorf("%v, want %v", got, test.print)
			}
		})
	}
}

func TestParseThreadErrors(t *testing.T) {
	const metric, unified = `write it as in "M10x1.5", or "M10" for the coarse pitch`, `write it as in "3/8-24 UNF", "#10-32 UNF" or "1-1/8-8 UN"`
	tests := []struct{ text, what, fix string }{
		{"", "no text", `write it as in "M10x1.5", "M10" or "3/8-24 UNF"`},
		{"a thread described in far too many words", "no thread", unified},
		{"M10x1,25", "a decimal comma", `write "M10x1.25"`},
		{"M10,1.5", "a decimal comma", metric}, // a comma between size and pitch?
		{"M10-1.25", "no metric thread", `write "M10x1.25"`},
		{"M10 1.25", "no metric thread", `write "M10x1.25"`},
		{"M10-8", "no metric thread", metric}, // a nut of class 8
		{"10x1.25", "no thread", `write "M10x1.25"`},
		{"10x30", "no thread", unified},
		{"M10x30", "a pitch too coarse for a thread of that diameter", `write the diameter, then the pitch and not the bolt's length, as in "M10x1.5"`},
		{"M48x16", "a pitch too coarse for a thread of that diameter", `write the diameter, then the pitch and not the bolt's length, as in "M10x1.5"`},
		{"M10x8", "a pitch too coarse for a thread of that diameter", `write the diameter, then the pitch and not the bolt's length, as in "M10x1.5"`},
		{"m10", "small letters", `write "M10"`},
		{"m10x1.25", "small letters", `write "M10x1.25"`},
		{"3/8-24 unf", "small letters", `write "3/8-24 UNF"`},
		{"M10x1.5-6g", "a tolerance class, which is given apart", `write "M10"`},
		{"M12x1.25-6H/6g", "a tolerance class, which is given apart", `write "M12x1.25"`},
		{"M13", "a diameter for which ISO 261 has no coarse pitch", `write its pitch too, as in "M10x1.25"`},
		{"M1.7", "a diameter for which ISO 261 has no coarse pitch", `write its pitch too, as in "M10x1.25"`},
		{"M10x0", "a pitch that is not above zero", `write the pitch in millimetres, as in "M10x1.5"`},
		{"M1.5x10", "a pitch too coarse for a thread of that diameter", `write the diameter, then the pitch and not the bolt's length, as in "M10x1.5"`},
		{"3/8-24 UNC", "24 threads per inch, where 3/8 UNC has 16", `write "3/8-16 UNC" or "3/8-24 UNF"`},
		{"13/32-20 UNF", "a size that the series UNF does not have", `write "13/32-20 UNS"`},
		{"1/2-12 UN", "12 threads per inch, which no constant pitch series has at 1/2", `write "1/2-12 UNS"`},
		{"3/8-24 UNS", "a standard thread named a special one", `write "3/8-24 UNF"`},
		{"3/8-24 UNF-2A", "a tolerance class, which is given apart", `write "3/8-24 UNF"`},
		{"3/8x24", "no thread", `write "3/8-24 UNF"`},
		{"0,375-24 UNF", "a decimal comma", `write "3/8-24 UNF"`},
		{"8-18", "a size that may be a number or inches", `write "#8-18 UNS" or "8.0-18 UNS"`},
		{"10-28 UNS", "a size that may be a number or inches", `write "#10-28 UNS" or "10.0-28 UNS"`},
		{"25-20", "a size of 25 in, beyond the 6 in where ASME B1.1 ends", `write "1/4-20 UNC" or "25.0-20 UNS"`},
		{"12.7-13", "a size that no unified thread has", `ASME B1.1 has sizes in inches up to 6 in: write it as in "3/8-24 UNF"`},
		{"#00-90", "a number size that does not exist", "number sizes are #0 to #6, #8, #10 and #12"},
		{"08-32", "a size that begins with zero", `write "#8-32 UNC"`},
		{"3/8 UNF", "no threads per inch", `write "3/8-24 UNF"`},
		{"#10 UNC", "no threads per inch", `write "#10-24 UNC"`},
		{"10 UNF", "no threads per inch", `write "#10-32 UNF"`},
		{"1 1/8 UNC", "no threads per inch", `write "1-1/8-7 UNC"`},
		{"#7-32", "a number size that does not exist", "number sizes are #0 to #6, #8, #10 and #12"},
		{"9/8-7", "the fraction 9/8", `write a proper fraction, as in "3/8-24 UNF" or "1-1/8-8 UN"`},
		{"3/0-7", "the fraction 3/0", `write a proper fraction, as in "3/8-24 UNF" or "1-1/8-8 UN"`},
		{"2-12 8UN", "a series 8UN with 12 threads per inch", `write "2-8 UN" or "2-12 UN"`},
		{"1-1/8-9 UN", "9 threads per inch, which no constant pitch series has at 1-1/8", `write "1-1/8-9 UNS"`},
		{"1/4-4 UNS", "a pitch too coarse for the diameter", `write the diameter, then the threads per inch, as in "3/8-24 UNF"`},
		{"3/8-0", "0 threads per inch, fewer than a unified thread has", unified},
		{"10-1.25", "1.25 threads per inch, fewer than a unified thread has", `write "M10x1.25"`},
		{"4-0.7", "0.7 threads per inch, fewer than a unified thread has", `write "M4"`},
		{"6-1", "1 threads per inch, fewer than a unified thread has", `write "M6"`},
		{"24-3", "a size of 24 in, beyond the 6 in where ASME B1.1 ends", `write "M24" or "24.0-3 UNS"`},
		{"M2,5x0,35", "a decimal comma", `write "M2.5x0.35"`},
	}
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			_, err := fasteners.ParseThread(test.text)
			var got *units.Error
			if !errors.Is(err, fasteners.ErrImpossible) || !errors.As(err, &got) {
				t.Fatalf("error %v, want one of kind ErrImpossible", err)
			}
			if d := cmp.Diff([2]string{test.what, test.fix}, [2]string{got.Found, got.Fix}); d != "" {
				t.Error(d)
			}
		})
	}
}

// anyThread draws a metric or a unified thread.
func anyThread() *rapid.Generator[fasteners.Thread] {
	return rapid.Custom(func(t *rapid.T) fasteners.Thread {
		if rapid.Bool().Draw(t, "unified") {
			return fasteners.MustParseThread(rapid.SampledFrom([]string{
				"#0-80 UNF", "#6-32 UNC", "1/4-20 UNC", "3/8-24 UNF", "7/16-28 UNEF", "1-8 UNC", "1-1/8-8 UN", "2-4.5 UNC", "7/16-24 UNS",
			}).Draw(t, "thread"))
		}
		pitch := rapid.Int64Range(20, 600).Draw(t, "pitch in hundredths")
		diameter := rapid.Int64Range((5*pitch+1)/2, 3*pitch+30_000).Draw(t, "diameter in hundredths")
		thread, err := fasteners.ParseThread(fmt.Sprintf("M%d.%02dx%d.%02d", diameter/100, diameter%100, pitch/100, pitch%100))
		if err != nil {
			t.Fatal(err)
		}
		return thread
	})
}

func TestThreadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread := anyThread().Draw(t, "thread")
		if again, err := fasteners.ParseThread(thread.String()); err != nil || !again.Equal(thread) || again.String() != thread.String() {
			t.Fatalf("%v parses as %v, %v", thread, again, err)
		}
		root, minor, pitch, major := thread.RootDiameter(), thread.MinorDiameter(), thread.PitchDiameter(), thread.Major()
		if !(root.Less(minor) && minor.Less(pitch) && pitch.Less(major)) {
			t.Fatalf("%v: root %v, minor %v, pitch %v, major %v", thread, root, minor, pitch, major)
		}
		if area := thread.StressArea(); !(thread.MinorArea().Less(area) && area.Less(thread.ShankArea())) {
			t.Fatalf("%v: areas %v, %v, %v", thread, thread.MinorArea(), area, thread.ShankArea())
		}
	})
}

// A nut always goes onto a bolt: no limit of the nut lies inside one of the bolt.
func TestLimitsLeaveRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread := anyThread().Draw(t, "thread")
		external, internal := "6g", "6H"
		if thread.IsUnified() {
			external, internal = "2A", "2B"
		}
		bolt, err := thread.Limits(external)
		if !thread.IsUnified() && thread.Major().Cmp(units.MustParseLength("0.99 mm")) <= 0 {
			t.Skip("below the ranges of the standard")
		}
		if err != nil {
			t.Fatal(err)
		}
		nut, err := thread.Limits(internal)
		if err != nil {
			t.Fatal(err)
		}
		if nut.Pitch.Lo().Less(bolt.Pitch.Hi()) || nut.Major.Lo().Less(bolt.Major.Hi()) || nut.Minor.Lo().Less(bolt.Minor.Hi()) {
			t.Fatalf("%v: bolt %+v, nut %+v", thread, bolt, nut)
		}
	})
}

func TestLimitErrors(t *testing.T) {
	tests := []struct {
		thread string
		class  string
		want   [3]string // where, found, fix
	}{
		{"M10", "6h", [3]string{"tolerance class for M10", `"6h"`, "a metric thread has the classes 6g (bolt) and 6H (nut)"}},
		{"M10", "", [3]string{"tolerance class for M10", `""`, "a metric thread has the classes 6g (bolt) and 6H (nut)"}},
		{"M10", "2A", [3]string{"tolerance class for M10", `"2A"`, "a metric thread has the classes 6g (bolt) and 6H (nut)"}},
		{"3/8-24", "6H", [3]string{"tolerance class for 3/8-24 UNF", `"6H"`, "a unified thread has the classes 2A (bolt) and 2B (nut)"}},
		{"3/8-24", "2a", [3]string{"tolerance class for 3/8-24 UNF", `"2a"`, `write "2A"`}},
		{"3/8-24", "2b", [3]string{"tolerance class for 3/8-24 UNF", `"2b"`, `write "2B"`}},
	}
	for _, test := range tests {
		_, err := fasteners.MustParseThread(test.thread).Limits(test.class)
		var got *units.Error
		if !errors.Is(err, fasteners.ErrImpossible) || !errors.As(err, &got) {
			t.Fatalf("%s %s: error %v, want one of kind ErrImpossible", test.thread, test.class, err)
		}
		if d := cmp.Diff(test.want, [3]string{got.Where, got.Found, got.Fix}); d != "" {
			t.Error(d)
		}
	}
	for _, outside := range []string{"M400x6", "M0.9x0.2", "M8x0.1"} {
		if _, err := fasteners.MustParseThread(outside).Limits("6g"); !errors.Is(err, fasteners.ErrImpossible) {
			t.Errorf("%s: error %v, want ErrImpossible", outside, err)
		}
	}
	if _, err := (fasteners.Thread{}).Limits("6g"); !errors.Is(err, fasteners.ErrImpossible) {
		t.Errorf("the zero thread: error %v, want ErrImpossible", err)
	}
}

func TestZeroThread(t *testing.T) {
	var none fasteners.Thread
	if none.String() != "no thread" || !none.PitchDiameter().IsZero() || !none.StressArea().IsZero() ||
		none.IsUnified() || len(none.Working().Steps) != 0 {
		t.Errorf("the zero thread is %v with %v, %v", none, none.PitchDiameter(), none.StressArea())
	}
}

// M20's lead angle: arctan(2.5 / (π 18.376)) = arctan(0.043305) = 2.4796°.
func TestLeadAngle(t *testing.T) {
	steps := fasteners.MustParseThread("M20").Working().Steps
	if got := steps[len(steps)-1]; got.Name != "lead angle" || got.Result != "2.4796 °" {
		t.Errorf("%s %s, want lead angle 2.4796 °", got.Name, got.Result)
	}
}

// Whether the standard's tables cover a thread: ISO 965-1, tables 1 and 3 to 6, have 3 mm from
// 22.4 mm up, no 1.12 mm, and no grade 6 of a nut for 0.25 mm; the table of ASME B1.1 was read
// up to 4 in, of class 2B for the coarse and fine series.
func TestTabulated(t *testing.T) {
	tests := []struct {
		thread string
		class  string
		want   bool
	}{
		{"M10", "6g", true},
		{"M10", "6H", true},
		{"M24", "6g", true},
		{"M22x3", "6g", false},
		{"M10x1.12", "6H", false},
		{"M1.2", "6g", true},
		{"M1.2", "6H", false},
		{"M300x8", "6H", true},
		{"3/8-24 UNF", "2A", true},
		{"4-8 UN", "2A", true},
		{"4-8 UN", "2B", false},
		{"4-4 UNC", "2B", true},
		{"4-1/8-8 UN", "2A", false},
		{"7/16-24 UNS", "2A", false},
	}
	for _, test := range tests {
		l, err := fasteners.MustParseThread(test.thread).Limits(test.class)
		if err != nil || l.Tabulated != test.want {
			t.Errorf("%s %s: tabulated %v, %v; want %v", test.thread, test.class, l.Tabulated, err, test.want)
		}
	}
}

// Above 180 mm table 5 of ISO 965-1 prints 335, 375, 425 and 475 µm for 3, 4, 6 and 8 mm (read
// in Machinery's Handbook, 31st edition, page 2025), where the rounded formula gives 315 for
// the first; and table 1 prints a deviation of 100 µm for g at 8 mm. 198.051 + 0.335 = 198.386.
func TestLimitsAbove180(t *testing.T) {
	tests := []struct {
		thread   string
		internal string // TD2
		greatest string // D2
		least    string // es
	}{
		{"M190x3", "0.335 mm", "188.386 mm", "0.048 mm"},
		{"M200x3", "0.335 mm", "198.386 mm", "0.048 mm"},
		{"M200x4", "0.375 mm", "197.777 mm", "0.060 mm"},
		{"M200x6", "0.425 mm", "196.528 mm", "0.080 mm"},
		{"M200x8", "0.475 mm", "195.279 mm", "0.100 mm"},
	}
	for _, test := range tests {
		thread := fasteners.MustParseThread(test.thread)
		nut, errNut := thread.Limits("6H")
		bolt, errBolt := thread.Limits("6g")
		if err := errors.Join(errNut, errBolt); err != nil {
			t.Fatal(err)
		}
		if mm := units.MustParseLength; !nut.Pitch.Width().Equal(mm(test.internal)) || !nut.Pitch.Hi().Equal(mm(test.greatest)) ||
			!thread.Major().Sub(bolt.Major.Hi()).Equal(mm(test.least)) {
			t.Errorf("%s: pitch diameter %v of the nut, major diameter %v of the bolt; want %+v", test.thread, nut.Pitch, bolt.Major, test)
		}
	}
}

// A thread of numbers is the one of the designation, coarse or fine, and is refused where that is.
func TestMetricThread(t *testing.T) {
	for _, tt := range []struct{ diameter, pitch, want string }{
		{"10 mm", "1.5 mm", "M10"}, {"10 mm", "1.25 mm", "M10x1.25"}, {"9 mm", "1 mm", "M9x1"}, {"3.5 mm", "600 µm", "M3.5"},
		{"1.5 mm", "10 mm", ""}, {"10 mm", "0 mm", ""}, {"10 mm", "-1 mm", ""}, {"-10 mm", "1 mm", ""}, {"1001 mm", "6 mm", ""}, {"300 mm", "8.5 mm", ""},
	} {
		got, err := fasteners.MetricThread(units.MustParseLength(tt.diameter), units.MustParseLength(tt.pitch))
		switch {
		case tt.want == "":
			if !errors.Is(err, fasteners.ErrImpossible) || got.Major().Sign() != 0 {
				t.Errorf("%s by %s: %v, %v, want it refused", tt.diameter, tt.pitch, got, err)
			}
		case err != nil || !got.Equal(fasteners.MustParseThread(tt.want)) || got.String() != tt.want:
			t.Errorf("%s by %s: %v, %v, want %s", tt.diameter, tt.pitch, got, err, tt.want)
		}
	}
}
