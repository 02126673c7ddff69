package preload

import (
	"example.com/closefit/fasteners"
	"example.com/closefit/units"
)

// hexFaces are the bearing faces of hexagon heads in hundredths of a millimetre, outside and
// hole, by nominal diameter in millimetres. Source: ISO 4014:2022, table 1 (dw, minimum,
// product grade A); ISO 273:1979 (clearance holes, medium).
var hexFaces = map[int64][2]int64{
	5: {688, 550}, 6: {888, 660}, 8: {1163, 900}, 10: {1463, 1100}, 12: {1663, 1350}, 14: {1937, 1550},
	16: {2249, 1750}, 18: {2534, 2000}, 20: {2819, 2200}, 22: {3171, 2400}, 24: {3361, 2600},
}

// HexScrew returns the screw of a metric bolt with a plain hexagon head, or a nut, on a
// medium clearance hole: what VDI 2230's tables of preload and torque are worked out for.
// Flanged and socket heads have other faces: measure theirs.
//
// The error is of kind ErrImpossible for a thread outside M5 to M24 or one that is not metric.
//
// Source: ISO 4014:2022, table 1; ISO 273:1979; as recalled, and borne out by VDI 2230's
// torques.
func HexScrew(t fasteners.Thread) (Screw, error) {
	hundredths := func(n int64) units.Length { return units.Micrometre.OfInt(10 * n) }
	for d, face := range hexFaces {
		if t.Major().Equal(units.Millimetre.OfInt(d)) { // no unified thread has such a diameter
			return Screw{Thread: t, Face: hundredths(face[0]), Hole: hundredths(face[1])}, nil
		}
	}
	return Screw{}, impossible("hexagon head for "+t.String(), "a thread outside M5 to M24", "measure its bearing face and hole, and give them to a Screw")
}
