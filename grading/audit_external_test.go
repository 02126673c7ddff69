package grading_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// By hand, with bores of 64.000..64.006 (A) and 64.006..64.012 (B), journals of
// 59.970..59.976 (1) and 59.964..59.970 (2), red walls of 1.997..1.999 and blue ones
// of 2.001..2.003:
//
//	A 1: 64.000 - 59.976 - 2 × 1.999 = 0.026, 64.006 - 59.970 - 2 × 1.997 = 0.042
//	A 2: red and blue, 64.000 - 59.970 - 1.999 - 2.003 = 0.028, 64.006 - 59.964 - 1.997 - 2.001 = 0.044
//	B 1: blue and red, 64.006 - 59.976 - 2.003 - 1.999 = 0.028, up to 0.044
//	B 2: 64.006 - 59.970 - 2 × 2.003 = 0.030, 64.012 - 59.964 - 2 × 2.001 = 0.046: outside 0.044
func TestAudit(t *testing.T) {
	a, err := stepped().Audit()
	if a == nil {
		t.Fatal(err)
	}
	e, ok := errors.AsType[*units.Error](err)
	if !ok || !errors.Is(err, grading.ErrNoFit) || e.Where != `scheme "stepped", housing B, journal 2` || strings.Contains(err.Error(), "\n") {
		t.Errorf("%v", err)
	}
	want := []string{"0.026..0.042 mm", "0.028..0.044 mm", "0.028..0.044 mm", "0.03..0.046 mm"}
	for i, c := range a.Cells {
		if got := c.Coded[0].Clearance.String(); got != want[i] {
			t.Errorf("%s: %s, want %s", c.Site.Location, got, want[i])
		}
	}
	if c := a.Cells[1]; c.Assigned.Housing.Code != "A" || c.Assigned.Journal.Code != "2" || len(c.Assigned.Pairs) != 1 {
		t.Errorf("second cell is %v", c.Assigned)
	}
	if a.Cells[1].Site.Location != "housing A, journal 2" || a.Cells[1].Coded[0].Pair.String() != "red upper + blue lower" {
		t.Errorf("second cell is %s with %s", a.Cells[1].Site.Location, a.Cells[1].Coded[0].Pair)
	}
	for i, c := range a.Cells { // all but the last as typed, and each with some pair
		if typed := c.Coded[0].Verdict == measure.Conforming; typed != (i < 3) || c.Agree != typed || len(c.Sized) == 0 {
			t.Errorf("%s: %s as typed, %d pairs possible", c.Site.Location, c.Coded[0].Verdict, len(c.Sized))
		}
	}
	// Every cell is 6 + 6 + 2 + 2 µm wide. In steps of 4 µm of two walls, A 1 can begin
	// at 0.026, 0.022, 0.018, …, A 2 and B 1 at 0.032, 0.028, 0.024, 0.020, …, and B 2 at
	// 0.038, …, 0.026, 0.022: never all at one place, but within 2 µm, lowest at 0.020
	// and 0.022. One pair everywhere has 12 + 12 + 2 + 2 µm.
	if got := a.Widest.String(); got != "0.016 mm" {
		t.Errorf("widest %s", got)
	}
	if a.AsTyped.String() != "0.026..0.046 mm" || a.Best.String() != "0.02..0.038 mm" || a.Ungraded.Width().String() != "0.028 mm" {
		t.Errorf("spread as typed %s, best %s, ungraded %s", a.AsTyped, a.Best, a.Ungraded)
	}
}

func TestAuditNeedsSizes(t *testing.T) {
	for _, test := range []struct {
		change func(*grading.Scheme)
		kind   error
		says   string
	}{
		{func(s *grading.Scheme) { s.Journal[1].Size = units.LengthInterval{} }, grading.ErrScheme, "journal 2"},
		{func(s *grading.Scheme) { s.Limits, s.Wanted = units.LengthInterval{}, nil }, grading.ErrScheme, "limits"},
		{func(s *grading.Scheme) { s.Shells = nil }, grading.ErrScheme, "shell red upper"},
		{func(s *grading.Scheme) { s.Housing[0].Shell = "" }, grading.ErrScheme, "housing A"},
	} {
		s := stepped()
		test.change(s)
		if a, err := s.Audit(); a != nil || !errors.Is(err, test.kind) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("error %v; want kind %v saying %q", err, test.kind, test.says)
		}
	}
}

func TestAuditIsBounded(t *testing.T) {
	s := stepped()
	s.Mix = 1000
	for i := range 710 {
		s.Shells = append(s.Shells, grading.Shell{Grade: fmt.Sprint("step ", i), Wall: size("2 mm")})
	}
	if a, err := s.Audit(); a != nil || !errors.Is(err, grading.ErrScheme) || !strings.Contains(err.Error(), "4 pairs of codes, each with 508369 pairs of shells") {
		t.Errorf("%v", err)
	}
}

// Best is checked against every choice of a pair for every cell.
func TestBestSpreadAgainstEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := stepped()
		s.Mix = 99
		s.Shells = s.Shells[:4]   // red and blue: few enough to try all
		for i := range s.Shells { // some made closer than others
			s.Shells[i].Wall = units.PlusMinus(s.Shells[i].Wall.Mid(), units.Micrometre.OfInt(rapid.Int64Range(0, 3).Draw(t, "wall ±")))
		}
		at := int64(64_000)
		for i := range s.Housing {
			next := at + rapid.Int64Range(1, 9).Draw(t, "bore")
			s.Housing[i].Size = units.MustInterval(units.Micrometre.OfInt(at), units.Micrometre.OfInt(next))
			at = next
		}
		at = 59_980
		for i := range s.Journal {
			next := at - rapid.Int64Range(1, 9).Draw(t, "journal")
			s.Journal[i].Size = units.MustInterval(units.Micrometre.OfInt(next), units.Micrometre.OfInt(at))
			at = next
		}
		a, err := s.Audit()
		if a == nil {
			t.Fatal(err)
		}
		// The widest of the pairs of codes, each with the shells that make it narrowest.
		var widest units.Length
		for cell := range a.Cells {
			var narrowest *units.Length
			for _, u := range s.Shells {
				for _, l := range s.Shells {
					if u.Half != grading.Upper || l.Half != grading.Lower {
						continue
					}
					w := units.Sum(s.Housing[cell/2].Size.Width(), s.Journal[cell%2].Size.Width(), u.Wall.Width(), l.Wall.Width())
					if narrowest == nil || w.Less(*narrowest) {
						narrowest = &w
					}
				}
			}
			widest = units.Max(widest, *narrowest)
		}
		if !a.Widest.Equal(widest) {
			t.Errorf("widest %s; every choice leaves %s", a.Widest, widest)
		}
		var least, off *units.Length
		var try func(cell int, hull units.LengthInterval)
		try = func(cell int, hull units.LengthInterval) {
			if cell == len(a.Cells) {
				w, o := hull.Width(), hull.Mid().Sub(units.MustParseLength("0.030 mm")).Abs()
				if least == nil || w.Less(*least) || w.Equal(*least) && o.Less(*off) {
					least, off = &w, &o
				}
				return
			}
			h, j := s.Housing[cell/2], s.Journal[cell%2]
			for _, u := range s.Shells {
				for _, l := range s.Shells {
					if u.Half != grading.Upper || l.Half != grading.Lower {
						continue
					}
					c := clearance.Bearing{HousingBore: h.Size, UpperWall: u.Wall, LowerWall: l.Wall, Journal: j.Size}.Clearance()
					if cell > 0 {
						c = hull.Hull(c)
					}
					try(cell+1, c)
				}
			}
		}
		try(0, units.LengthInterval{})
		if !a.Best.Width().Equal(*least) {
			t.Errorf("best spread %s, every choice gives %s", a.Best.Width(), *least)
		}
		if o := a.Best.Mid().Sub(units.MustParseLength("0.030 mm")).Abs(); !o.Equal(*off) {
			t.Errorf("best spread %s, %s from what is wanted; as narrow a one is %s", a.Best, o, *off)
		}
		if a.AsTyped.Width().Less(a.Best.Width()) || a.Best.Width().Less(a.Widest) {
			t.Errorf("as typed %s, best %s, widest cell %s", a.AsTyped.Width(), a.Best.Width(), a.Widest)
		}
	})
}

func TestCellWorking(t *testing.T) {
	s := stepped()
	a, err := s.Audit()
	if a == nil {
		t.Fatal(err)
	}
	w, err := s.Working(a.Cells[3].Site, a.Cells[3].Coded[0].Pair, units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"housing B, journal 2, blue upper + blue lower", "C = D - t1 - t2 - d", "64.006 - 2.003 - 2.003 - 59.97", "0.03..0.046 mm", "undecided"} {
		if !strings.Contains(w.Text(), line) {
			t.Errorf("working lacks %q:\n%s", line, w.Text())
		}
	}
}
