package preload

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Load says how a joint is loaded in service, which decides how far its surfaces embed. The
// zero Load says nothing and is refused.
type Load string

const (
	Tension Load = "tension" // along the bolt, tension or compression
	Shear   Load = "shear"   // across the bolt
)

func (l Load) check() error {
	if l != Tension && l != Shear {
		return impossible("load of the joint", fmt.Sprintf("%q", string(l)), fmt.Sprintf("say %q, along the bolt, or %q, across it", Tension, Shear))
	}
	return nil
}

// MarshalText writes the word; the error is for a Load that is none of the constants.
func (l Load) MarshalText() ([]byte, error) { return []byte(l), l.check() }

// UnmarshalText reads "tension" or "shear".
func (l *Load) UnmarshalText(text []byte) error {
	if err := Load(text).check(); err != nil {
		return err
	}
	*l = Load(text)
	return nil
}

// The places at which a joint embeds, as EmbeddingOf names them.
const (
	inThread   = "thread"
	underHead  = "head or nut"
	innerJoint = "inner joint"
)

// embedded is the table of guide values of embedding, in tenths of a micrometre, from a roughness
// Rz of so many micrometres up to that of the next row.
//
// Source: VDI 2230-1:2003, table 5, from memory.
var embedded = []struct {
	from           int64
	tension, shear [3]int64 // thread, head or nut, inner joint
}{
	{0, [3]int64{30, 25, 15}, [3]int64{30, 30, 20}},
	{10, [3]int64{30, 30, 20}, [3]int64{30, 45, 25}},
	{40, [3]int64{30, 40, 30}, [3]int64{30, 65, 35}},
}

const roughest = 160 // µm, where the table ends

// EmbeddingOf returns the guide value of how far the surfaces at one place of a joint embed in
// service. The place is "thread", "head or nut" (for each bearing face) or "inner joint" (for each
// joint between clamped parts). roughness is Rz; where its range reaches over several rows of the
// table, so does the result.
//
// The error is of kind ErrImpossible for a place or a load that the table does not have, and for
// a roughness that is not above zero and below 160 µm.
//
// Source: VDI 2230-1:2003, table 5, from memory. They are mean values of solid steel parts with
// no soft layers, and not limits: a single joint may embed less or more.
func EmbeddingOf(place string, load Load, roughness units.LengthInterval) (units.LengthInterval, error) {
	places := []string{inThread, underHead, innerJoint}
	column := slices.Index(places, place)
	if column < 0 {
		return units.LengthInterval{}, impossible("place that embeds", fmt.Sprintf("%q", place), `write "`+strings.Join(places, `", "`)+`"`)
	}
	if err := load.check(); err != nil {
		return units.LengthInterval{}, err
	}
	micrometres := func(n int64) units.Length { return units.Micrometre.OfInt(n) }
	if !roughness.Bounded() || roughness.Lo().Sign() <= 0 || !roughness.Hi().Less(micrometres(roughest)) {
		return units.LengthInterval{}, impossible("roughness Rz, "+place, roughness.String(), fmt.Sprintf(`write both bounds, above zero and below %d µm, as in "4..10 µm"`, roughest))
	}
	var found units.LengthInterval
	for i, row := range embedded {
		to := micrometres(roughest)
		if i+1 < len(embedded) {
			to = micrometres(embedded[i+1].from)
		}
		if roughness.Hi().Less(micrometres(row.from)) || !roughness.Lo().Less(to) {
			continue
		}
		tenths := row.tension[column]
		if load == Shear {
			tenths = row.shear[column]
		}
		found = with(found, units.Exactly(micrometres(tenths).MulRat(big.NewRat(1, 10))))
	}
	return found, nil
}

// with returns the smallest interval that holds both; the empty one adds nothing.
func with[D units.Dimension](a, b units.Interval[D]) units.Interval[D] {
	if a.IsEmpty() {
		return b
	}
	return a.Hull(b)
}

// An Embedding is what embeds in a joint once it is in service: the flanks of the thread, each
// face that a head or nut bears on, and each joint between clamped parts, with their roughness Rz.
type Embedding struct {
	Load   Load                   `json:"load"`
	Thread units.LengthInterval   `json:"thread"`
	Faces  []units.LengthInterval `json:"faces"` // under the head, and under the nut if there is one
	Inner  []units.LengthInterval `json:"inner"` // of the rougher side of each inner joint; none for a single clamped part
}

// UnmarshalJSON reads what encoding/json writes of an Embedding.
func (e *Embedding) UnmarshalJSON(data []byte) error {
	type embedding Embedding
	return units.DecodeObject(data, (*embedding)(e))
}

// Amount returns how far the joint embeds in all, fZ, the sum of EmbeddingOf over its places.
//
// The error is of kind ErrImpossible if no face is given, or more than a head and a nut have, and
// as EmbeddingOf says.
func (e Embedding) Amount() (units.LengthInterval, error) {
	w, err := e.steps()
	if err != nil {
		return units.LengthInterval{}, err
	}
	return w.sum, nil
}

// embeddedPlaces are the amounts of an Embedding place by place.
type embeddedPlaces struct {
	sum   units.LengthInterval
	steps []units.Working
}

func (e Embedding) steps() (embeddedPlaces, error) {
	if len(e.Faces) < 1 || len(e.Faces) > 2 {
		return embeddedPlaces{}, impossible("faces that a head or nut bears on", fmt.Sprint(len(e.Faces)), "give the roughness of the face under the head, and of the one under the nut if there is one")
	}
	all := embeddedPlaces{sum: units.Exactly(units.Length{})}
	add := func(place string, roughness units.LengthInterval) error {
		fz, err := EmbeddingOf(place, e.Load, roughness)
		if err != nil {
			return err
		}
		all.sum = all.sum.Add(fz)
		all.steps = append(all.steps, units.Working{Name: fmt.Sprintf("%s, Rz %s", place, roughness.Written(units.Micrometre)), Result: fz.Written(units.Micrometre)})
		return nil
	}
	if err := add(inThread, e.Thread); err != nil {
		return embeddedPlaces{}, err
	}
	for _, r := range e.Faces {
		if err := add(underHead, r); err != nil {
			return embeddedPlaces{}, err
		}
	}
	for _, r := range e.Inner {
		if err := add(innerJoint, r); err != nil {
			return embeddedPlaces{}, err
		}
	}
	return all, nil
}

// Loss returns the preload that a joint loses by embedding, exactly but for the guide values:
//
//	FZ = fZ / (δS + δP) = fZ k
//
// fZ is the Amount in mm; δS and δP are the compliances of bolt and clamped parts in mm/N, and k
// is the stiffness of both in series in N/mm, fasteners.Joint.Tightening. It is rounded outward to
// 1 µN. A stiff joint, short and thick, loses the most.
//
// The error is of kind ErrImpossible for a stiffness without two bounds above zero, and as Amount
// says.
//
// Source: VDI 2230-1:2015, 5.4.2.1.
func (e Embedding) Loss(k units.StiffnessInterval) (units.ForceInterval, error) {
	fz, err := e.Amount()
	if err != nil {
		return units.ForceInterval{}, err
	}
	if err := positive("stiffness of the joint", k, "write both bounds above zero, as in units.PlusMinus of fasteners.Joint.Tightening and a tenth of it"); err != nil {
		return units.ForceInterval{}, err
	}
	force := func(k units.Stiffness, l units.Length) units.Force {
		f := k.Rat(units.NewtonPerMillimetre)
		return units.Newton.OfRat(f.Mul(f, l.Rat(units.Millimetre)))
	}
	return units.MustInterval(force(k.Lo(), fz.Lo()), force(k.Hi(), fz.Hi())).Outward(units.Newton, 6), nil
}

// Working shows the loss by embedding, place by place, with the force in the unit to so many
// places. The errors are those of Loss.
func (e Embedding) Working(k units.StiffnessInterval, force units.ForceUnit, places int32) (units.Working, error) {
	loss, err := e.Loss(k)
	if err != nil {
		return units.Working{}, err
	}
	all, err := e.steps()
	if err != nil {
		return units.Working{}, err
	}
	return units.Working{
		Name:    fmt.Sprintf("preload lost by embedding, load in %s", e.Load),
		Formula: "FZ = fZ / (δS + δP) = fZ k",
		Numbers: fmt.Sprintf("fZ = %s, k = %s", all.sum.Written(units.Micrometre), k.FormatOutward(units.KilonewtonPerMillimetre, 1)),
		Result:  loss.FormatOutward(force, places),
		Source:  "VDI 2230-1:2003, table 5, from memory; VDI 2230-1:2015, 5.4.2.1",
		Notes:   []string{"guide values of solid steel parts: a single joint may embed less or more, and paint, gaskets and burrs embed far more"},
		Steps:   all.steps,
	}, nil
}
