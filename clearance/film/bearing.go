package film

import (
	"fmt"
	"math"

	"example.com/closefit/units"
)

// A Bearing is a plain round journal bearing whose journal runs parallel to it, and how
// oil gets into it.
type Bearing struct {
	Diameter  units.Length `json:"diameter"`  // of the journal
	Width     units.Length `json:"width"`     // along the axis, without chamfers and with the groove
	Clearance units.Length `json:"clearance"` // on the diameter, running, at temperature
	Supply    Supply       `json:"supply"`
}

// A Supply is how oil gets into a bearing. The zero Supply is that of the published
// solutions: oil without pressure where the film is thickest, as much as is drawn in.
type Supply struct {
	Groove Groove `json:"groove"`
	// Pressure is that of the oil in the groove above ambient. Without a groove it must be zero.
	Pressure units.Pressure `json:"pressure"`
	// Width is that of the groove along the axis: of a circumferential groove, which runs round
	// in the middle, or of the pockets.
	Width units.Length `json:"width"`
	// Pockets are where the middles of pockets stand, from the line of the load, with the
	// rotation, and Reach how far each goes round in all. A hole is a pocket as wide as it is long.
	Pockets []units.Angle `json:"pockets"`
	Reach   units.Angle   `json:"reach"`
}

// A Groove is a kind of groove.
type Groove uint8

// The kinds of grooves.
const (
	NoGroove        Groove = iota
	Circumferential        // round the whole bearing in the middle of its width
	Pockets                // axial grooves or holes, in the middle of the width
)

var grooveWords = [...]string{NoGroove: "none", Circumferential: "circumferential", Pockets: "pockets"}

// String returns the kind in words.
func (g Groove) String() string {
	if int(g) < len(grooveWords) {
		return grooveWords[g]
	}
	return fmt.Sprintf("groove %d", uint8(g))
}

// Running returns the clearance on the diameter of a bearing from its sizes: the bore of the
// housing, less the walls of both halves, less the journal. The error is of kind ErrWall
// where walls and journal fill the bore.
func Running(bore, upper, lower, journal units.Length) (units.Length, error) {
	for _, s := range []struct {
		name string
		size units.Length
	}{{"bore", bore}, {"journal", journal}} {
		if s.size.Sign() <= 0 {
			return units.Length{}, wrong(ErrBearing, s.name, s.size.String(), "write a diameter above zero")
		}
	}
	if upper.Sign() < 0 || lower.Sign() < 0 {
		return units.Length{}, wrong(ErrWall, "walls", fmt.Sprintf("%v and %v", upper, lower), "write thicknesses of zero or more")
	}
	walls := upper.Add(lower)
	if !walls.Less(bore) {
		return units.Length{}, wrong(ErrWall, "walls", fmt.Sprintf("%v and %v in a bore of %v", upper, lower, bore), "write the thickness of one wall each, and the bore of the housing without shells")
	}
	c := bore.Sub(walls).Sub(journal)
	if c.Sign() <= 0 {
		return units.Length{}, wrong(ErrWall, "walls", fmt.Sprintf("%v and %v leave %v for a journal of %v", upper, lower, bore.Sub(walls), journal), "write sizes that leave a clearance")
	}
	return c, nil
}

// Bounds on a bearing: beyond them the equation of a thin film has nothing to say, or the
// grid too little.
const (
	mostClearance = 0.02 // of the diameter
	leastRatio    = 0.02 // width over diameter
	mostRatio     = 20
	mostGrooved   = 3 // width over diameter, of a bearing with a groove
)

// setting is all that the dimensionless film of a bearing depends on, beside its
// eccentricity and the pressure of its supply.
type setting struct {
	groove Groove
	kappa  float64
	share  float64   // of the width that carries
	at     []float64 // pockets, from the line of the load; rad
	half   float64   // their reach, half of it; rad
	z      float64   // half their width over half that of the bearing
}

// setting checks the bearing.
func (b Bearing) setting() (setting, error) {
	none := setting{}
	for _, s := range []struct {
		name string
		size units.Length
	}{{"diameter", b.Diameter}, {"width", b.Width}, {"clearance", b.Clearance}} {
		if s.size.Sign() <= 0 {
			return none, wrong(ErrBearing, s.name, s.size.String(), "write a length above zero")
		}
	}
	d, w, c := b.Diameter.Float64(units.Millimetre), b.Width.Float64(units.Millimetre), b.Clearance.Float64(units.Millimetre)
	if c > mostClearance*d {
		return none, wrong(ErrBearing, "clearance", fmt.Sprintf("%v on a diameter of %v", b.Clearance, b.Diameter), "write the clearance on the diameter, at most a fiftieth of it")
	}
	switch ratio := w / d; {
	case !(ratio >= leastRatio && ratio <= mostRatio):
		return none, wrong(ErrBearing, "width", fmt.Sprintf("%v on a diameter of %v", b.Width, b.Diameter), "write a width between a fiftieth of the diameter and twenty of it")
	case b.Supply.Groove != NoGroove && ratio > mostGrooved:
		return none, wrong(ErrBearing, "width", fmt.Sprintf("%v on a diameter of %v with a groove", b.Width, b.Diameter), "write at most three diameters: beyond that the grid does not find the film")
	}
	st := setting{groove: b.Supply.Groove, kappa: d / w, share: 1}
	s := b.Supply
	if s.Pressure.Sign() < 0 {
		return none, wrong(ErrBearing, "supply pressure", s.Pressure.String(), "write the pressure above ambient, zero or more")
	}
	groove := s.Width.Float64(units.Millimetre)
	switch s.Groove {
	case NoGroove:
		if s.Pressure.Sign() != 0 || s.Width.Sign() != 0 || len(s.Pockets) != 0 || s.Reach.Sign() != 0 {
			return none, wrong(ErrBearing, "supply", "a pressure or a size, and no groove", "name the groove that the oil comes through, or leave both away")
		}
	case Circumferential:
		if len(s.Pockets) != 0 || s.Reach.Sign() != 0 {
			return none, wrong(ErrBearing, "supply", "pockets with a circumferential groove", "write one of them")
		}
		if !(groove > 0 && groove < 0.9*w) {
			return none, wrong(ErrBearing, "groove", fmt.Sprintf("%v in a width of %v", s.Width, b.Width), "write a width above zero and below nine tenths of the bearing's")
		}
		st.share = (w - groove) / w
		st.kappa = d / (w - groove) // R over the width of one land
	case Pockets:
		if len(s.Pockets) == 0 || len(s.Pockets) > mostPockets {
			return none, wrong(ErrBearing, "pockets", fmt.Sprint(len(s.Pockets)), fmt.Sprintf("write where from 1 to %d of them stand", mostPockets))
		}
		reach := s.Reach.Float64(units.Degree)
		if !(groove > 0 && groove <= w) || !(reach > 0 && reach <= mostReach) {
			return none, wrong(ErrBearing, "pockets", fmt.Sprintf("%v wide, reaching %v", s.Width, s.Reach), fmt.Sprintf("write a width above zero and up to the bearing's, and a reach above zero and up to %d°", mostReach))
		}
		st.z, st.half = groove/w, reach/2*math.Pi/180
		for _, a := range s.Pockets {
			st.at = append(st.at, a.Float64(units.Degree)*math.Pi/180)
		}
	default:
		return none, wrong(ErrBearing, "groove", s.Groove.String(), "write one of the kinds")
	}
	return st, nil
}

// Bounds on pockets.
const (
	mostPockets = 8
	mostReach   = 90 // degrees
)

// problem is the equation at an eccentricity, with the supply's pressure in 6 µω(R/c)² and
// the attitude in rad, which says where the pockets stand.
func (st setting) problem(e, pressure, attitude float64) problem {
	q := problem{e: e, kappa: st.kappa, turning: 1}
	switch st.groove {
	case Circumferential:
		q.land, q.inner = true, pressure
	case Pockets:
		for _, at := range st.at {
			q.patches = append(q.patches, patch{at: math.Pi - attitude + at, half: st.half, z: st.z, pressure: pressure})
		}
	default:
		q.starts = true
	}
	return q
}
