package fasteners_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// Errors say what was found and what to write instead.
func TestErrorsReadWell(t *testing.T) {
	tests := []struct {
		err  error
		want string
	}{
		{second(fasteners.ParseThread("M10x1,5")), `thread "M10x1,5": a decimal comma; write "M10"`},
		{second(fasteners.ParseThread("M10 by 1.5, as I remember it from the other engine")), `thread "M10 by 1.5, as I remember it from the ot…": too long a text; write it as in "M10x1.5", "M10" or "3/8-24 UNF"`},
		{second(fasteners.ParseThread("0.375x24")), `thread "0.375x24": no thread; write "3/8-24 UNF"`},
		{second(fasteners.ParseThread("three eighths")), `thread "three eighths": no thread; write it as in "3/8-24 UNF", "#10-32 UNF" or "1-1/8-8 UN"`},
		{second(fasteners.ParseThread("3/8-24 UNC")), `thread "3/8-24 UNC": 24 threads per inch, where 3/8 UNC has 16; write "3/8-16 UNC" or "3/8-24 UNF"`},
		{second(fasteners.ParseClass("6h")), `tolerance class "6h": no such class; the choice is 6g and 6H for a metric thread, 2A and 2B for a unified one`},
		{second(fasteners.MustParseThread("M10").Limits(fasteners.Class2A)), `tolerance class "2A" for M10: no such class; a metric thread has the classes 6g (bolt) and 6H (nut)`},
		{second(fasteners.NewJoint(units.Stiffness{}, units.MustParseStiffness("1 N/mm"))), "stiffness of the bolt 0 N/mm: not a possible joint; write a stiffness above zero"},
		{second(fasteners.CheckLength(units.Exactly(units.Length{}), units.MustParseLength("60 mm"))), "length now 0 mm: not a possible reading; write a length above zero"},
		{second(fasteners.JudgeCondition(map[string]fasteners.Answer{"colour": fasteners.Yes})),
			`"colour": no such question; the questions are single-use, mark, runs, pitch, waist, thread, pits, cracks, straight, seat`},
		{second(fasteners.Hardware{Name: "plain", Set: number("5")}.Cost(1)), "plain: a set that serves 0 builds: not a possible price list; write 1 for single-use hardware"},
	}
	for _, test := range tests {
		if test.err == nil || test.err.Error() != test.want {
			t.Errorf("got  %v\nwant %s", test.err, test.want)
		}
	}
}

// Threads and outcomes pass through text encodings.
func TestTextEncoding(t *testing.T) {
	type record struct {
		Thread  fasteners.Thread
		Outcome fasteners.Reuse
	}
	data, err := json.Marshal(record{fasteners.MustParseThread("1-1/8-12"), fasteners.Replace})
	if err != nil || string(data) != `{"Thread":"1-1/8-12 UNF","Outcome":"replace"}` {
		t.Errorf("%s, %v", data, err)
	}
	var back struct{ Thread fasteners.Thread }
	if err := json.Unmarshal([]byte(`{"Thread":"M8x1"}`), &back); err != nil || back.Thread.String() != "M8x1" {
		t.Errorf("%v, %v", back.Thread, err)
	}
	if err := json.Unmarshal([]byte(`{"Thread":"8 by 1"}`), &back); err == nil {
		t.Error("no error for a thread that is none")
	}
	if data, err := json.Marshal(record{Outcome: fasteners.Reusable}); err == nil {
		t.Errorf("a thread that nobody set is written as %s", data)
	}
	for _, want := range []fasteners.Reuse{fasteners.Undecided, fasteners.Reusable, fasteners.Replace} {
		var got fasteners.Reuse
		text, err := want.MarshalText()
		if err := errors.Join(err, got.UnmarshalText(text)); err != nil || got != want {
			t.Errorf("%v comes back as %v, %v", want, got, err)
		}
	}
	var outcome fasteners.Reuse
	if err := json.Unmarshal([]byte(`"good"`), &outcome); !errors.Is(err, fasteners.ErrReading) || outcome != fasteners.Undecided {
		t.Errorf("an outcome that is none: %v, %v", outcome, err)
	}
}

// Heating by hand: 0.12 mm on 80 mm of steel at 11.5e-6 per kelvin takes 0.12/(80·11.5e-6) =
// 130.43 K.
func TestRiseForStretch(t *testing.T) {
	rise, err := fasteners.RiseForStretch(units.MustParseLength("0.12 mm"), units.MustParseLength("80 mm"), number("0.0000115"))
	if got := rise.Format(units.KelvinDifference, 2, units.HalfEven); err != nil || got != "130.43 K" {
		t.Errorf("%s, %v; want 130.43 K", got, err)
	}
}
