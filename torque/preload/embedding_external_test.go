package preload_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

func lengths(s string) units.LengthInterval { return units.MustParseLengthInterval(s) }

// A cap on a block, both milled, with one joint, and a stiffness of 150 to 180 kN/mm. By hand, in
// micrometres: tension 3 + 3 + 2 = 8, shear 3 + 4.5 + 2.5 = 10; 8 µm · 150 kN/mm = 1.2 kN and
// 10 µm · 180 kN/mm = 1.8 kN.
func TestEmbeddingByHand(t *testing.T) {
	milled := lengths("12..20 µm")
	for load, want := range map[preload.Load]string{preload.Tension: "1.2..1.44 kN", preload.Shear: "1.5..1.8 kN"} {
		e := preload.Embedding{Load: load, Thread: milled, Faces: []units.LengthInterval{milled}, Inner: []units.LengthInterval{milled}}
		got, err := e.Loss(units.MustParse[units.StiffnessInterval]("150..180 kN/mm"))
		if err != nil || got.Written(units.Kilonewton) != want {
			t.Errorf("%s: %s, %v, want %s", load, got.Written(units.Kilonewton), err, want)
		}
	}
}

// At the edges of the table's rows: 10 µm belongs to the rougher one, and a range over an edge takes
// both.
func TestEmbeddingAtTheEdges(t *testing.T) {
	for rz, want := range map[string]string{"9.999 µm": "2.5 µm", "10 µm": "3 µm", "9..10 µm": "2.5..3 µm", "39.9..40 µm": "3..4 µm", "1..159 µm": "2.5..4 µm"} {
		got, err := preload.EmbeddingOf("head or nut", preload.Tension, lengths(rz))
		if err != nil || got.Written(units.Micrometre) != want {
			t.Errorf("Rz %s: %s, %v, want %s", rz, got.Written(units.Micrometre), err, want)
		}
	}
}

// What is known less well embeds within a wider range, and a further place never embeds less.
func TestEmbeddingGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		span := func(name string) (units.LengthInterval, units.LengthInterval) {
			lo := rapid.Int64Range(2, 158_000).Draw(t, name)
			hi := rapid.Int64Range(lo, 159_000).Draw(t, name+" to")
			at := rapid.Int64Range(lo, hi).Draw(t, name+" at")
			nanometres := func(n int64) units.Length {
				return units.Micrometre.OfInt(n).MulRat(units.One.OfInt(1).Ratio(units.One.OfInt(1000)))
			}
			return units.MustInterval(nanometres(lo), nanometres(hi)), units.Exactly(nanometres(at))
		}
		wide, narrow := preload.Embedding{Load: preload.Shear}, preload.Embedding{Load: preload.Shear}
		wide.Thread, narrow.Thread = span("thread")
		for _, name := range []string{"head", "nut"} {
			w, n := span(name)
			wide.Faces, narrow.Faces = append(wide.Faces, w), append(narrow.Faces, n)
		}
		before, err := narrow.Amount()
		if err != nil {
			t.Fatal(err)
		}
		w, n := span("inner")
		wide.Inner, narrow.Inner = append(wide.Inner, w), append(narrow.Inner, n)
		after, err := narrow.Amount()
		if err != nil || !before.Below(after) {
			t.Fatalf("%v with an inner joint and %v without, %v", after, before, err)
		}
		if all, err := wide.Amount(); err != nil || !after.Within(all) {
			t.Fatalf("%v is not within %v, %v", after, all, err)
		}
	})
}

func TestEmbeddingErrors(t *testing.T) {
	fine := lengths("4 µm")
	k := units.MustParse[units.StiffnessInterval]("150 kN/mm")
	good := preload.Embedding{Load: preload.Tension, Thread: fine, Faces: []units.LengthInterval{fine}}
	if _, err := good.Loss(k); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		e    func(*preload.Embedding)
		want string
	}{
		{"no load", func(e *preload.Embedding) { e.Load = "" }, `say "tension"`},
		{"no face", func(e *preload.Embedding) { e.Faces = nil }, "under the head"},
		{"three faces", func(e *preload.Embedding) { e.Faces = []units.LengthInterval{fine, fine, fine} }, "3"},
		{"no roughness", func(e *preload.Embedding) { e.Thread = units.LengthInterval{} }, "Rz, thread"},
		{"polished to nothing", func(e *preload.Embedding) { e.Thread = lengths("0..4 µm") }, "above zero"},
		{"as rough as a file", func(e *preload.Embedding) { e.Inner = []units.LengthInterval{lengths("160 µm")} }, "below 160 µm"},
		{"millimetres", func(e *preload.Embedding) { e.Thread = lengths("4 mm") }, "4 mm"},
	} {
		e := good
		tt.e(&e)
		if _, err := e.Loss(k); !errors.Is(err, preload.ErrImpossible) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
	if _, err := good.Loss(units.StiffnessInterval{}); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("no stiffness: %v", err)
	}
	if _, err := preload.EmbeddingOf("washer", preload.Tension, fine); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("a place that the table does not have: %v", err)
	}
}

// A load is one of its two words.
func TestLoadWords(t *testing.T) {
	for word, want := range map[string]preload.Load{"tension": preload.Tension, "shear": preload.Shear} {
		var l preload.Load
		if err := l.UnmarshalText([]byte(word)); err != nil || l != want {
			t.Errorf("%s reads as %q, %v", word, l, err)
		}
	}
	var l preload.Load
	if err := l.UnmarshalText([]byte("bending")); err == nil || l != "" {
		t.Errorf("bending reads as %q, %v", l, err)
	}
}
