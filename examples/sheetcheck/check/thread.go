package check

import (
	"strings"

	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// ofThread looks a dimension up by the thread that a cell names. slips are the
// dimensions that are taken for it by mistake.
func ofThread[D units.Dimension](at spot, text string, of func(fasteners.Thread) units.Quantity[D], slips ...dimension[D]) formula[D] {
	read := func(w *window) (t fasteners.Thread, ok bool) {
		t, err := fasteners.ParseThread(strings.TrimSpace(w.at(at).Text))
		return t, err == nil
	}
	f := formula[D]{
		text:   text,
		source: "ISO 68-1, ISO 724 and ISO 898-1, or ASME B1.1, as the thread is metric or unified",
		of: func(w *window, _ []units.Quantity[D]) (q units.Quantity[D], ok bool) {
			t, ok := read(w)
			if !ok {
				return q, false
			}
			return of(t), true
		},
	}
	for _, other := range slips {
		f.slips = append(f.slips, slip[D]{mistake: OtherRule, says: "it is the " + other.name, of: func(w *window, _ []units.Quantity[D]) (q units.Quantity[D]) {
			t, ok := read(w)
			if !ok {
				return q
			}
			return other.of(t)
		}})
	}
	return f
}

// A dimension is something that a thread has, and what it is called.
type dimension[D units.Dimension] struct {
	name string
	of   func(fasteners.Thread) units.Quantity[D]
}

// threadLength is a length of a thread's basic profile. ok is false if by names none.
func threadLength(at spot, by string) (f formula[units.LengthDim], ok bool) {
	var wanted *dimension[units.LengthDim]
	var others []dimension[units.LengthDim]
	for _, d := range []dimension[units.LengthDim]{
		{"pitch diameter", fasteners.Thread.PitchDiameter},
		{"minor diameter", fasteners.Thread.MinorDiameter},
		{"root diameter", fasteners.Thread.RootDiameter},
		{"pitch", fasteners.Thread.Pitch},
	} {
		if d.name == by {
			wanted = &d
		} else {
			others = append(others, d)
		}
	}
	if wanted == nil {
		return f, false
	}
	return ofThread(at, by+" of the basic profile", wanted.of, others...), true
}

// stressArea is the tensile stress area of a thread.
func stressArea(at spot) formula[units.AreaDim] {
	return ofThread(at, "As = π/4 · ((d2 + d3)/2)²", fasteners.Thread.StressArea,
		dimension[units.AreaDim]{"area at the minor diameter", fasteners.Thread.MinorArea},
		dimension[units.AreaDim]{"area of the shank", fasteners.Thread.ShankArea})
}
