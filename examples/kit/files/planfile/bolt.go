package planfile

import (
	"fmt"
	"math/big"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/fasteners"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// A Bolt is what a file says of the bolts of a group; see the package's own words.
type Bolt struct {
	Thread       string `toml:"thread"`
	Class        string `toml:"class"`
	Friction     string `toml:"friction"`
	HeadFriction string `toml:"head_friction"`
	Face         string `toml:"face"`
	Hole         string `toml:"hole"`
	Yield        string `toml:"yield"`
	Waist        string `toml:"waist"`

	Stiffness   string `toml:"stiffness"`
	Clamped     string `toml:"clamped"`
	Shank       string `toml:"shank"`
	Outside     string `toml:"outside"`
	Modulus     string `toml:"modulus"`
	Seat        string `toml:"seat"`
	HoleModulus string `toml:"hole_modulus"`

	Seating      string `toml:"seating"`
	Neighbours   string `toml:"neighbours"`
	Engagement   string `toml:"engagement"`
	HoleStrength string `toml:"hole_strength"`
	HoleShear    string `toml:"hole_shear"`
	Nut          string `toml:"nut"`
	Key          string `toml:"key"`
	Roughness    string `toml:"roughness"`
	Load         string `toml:"load"`
	Joints       *int   `toml:"joints"`
}

// Bolts returns what the groups that a file lists under the key say of their bolts, by the
// name of the group. A group that says nothing is not in it.
func Bolts(key string, groups []Group, places *tomlfile.Places) (map[string]examination.Installed, tomlfile.Errors) {
	r := &reader{places: places, key: key, index: map[string]int{}}
	found := map[string]examination.Installed{}
	for i, t := range groups {
		if b, ok := r.bolt(fmt.Sprintf("%s[%d].bolt", key, i), t.Bolt); ok {
			found[t.Group] = b
		}
	}
	if len(r.errs) > 0 {
		return nil, r.errs
	}
	return found, nil
}

// What a file need not say, because a class of bolts says it or a standard does.
var (
	steel      = units.MustParsePressure("205 GPa")                  // every class is one of steel
	strongest  = big.NewRat(12, 10)                                  // of the least tensile strength (VDI 2230, from memory)
	shearRatio = units.MustParse[units.RatioInterval]("0.577..0.65") // von Mises; quenched and tempered steel (VDI 2230, from memory)
	stiffDoubt = big.NewRat(1, 10)                                   // of a stiffness by cones of pressure
)

// boltReader reads the bolt of one group.
type boltReader struct {
	*reader
	path string
	t    *Bolt
}

// bolt reads what a group says of its bolts; ok is false if it says nothing, or something wrong.
func (r *reader) bolt(path string, t *Bolt) (b examination.Installed, ok bool) {
	if t == nil {
		return b, false
	}
	errs := len(r.errs)
	br := boltReader{r, path, t}
	br.screw(&b)
	if len(r.errs) == errs { // the rest stands on thread, class and screw
		br.stiffness(&b)
		br.losses(&b)
		br.limits(&b)
	}
	return b, len(r.errs) == errs
}

// optional reads a text where there is one.
func optional[T any](r boltReader, key, text string, read func(string) (T, error)) (v T) {
	if text == "" {
		return v
	}
	return parse(r.reader, r.path+"."+key, text, read)
}

// needed reads a text that must be there.
func needed[T any](r boltReader, key, text, example string, read func(string) (T, error)) (v T) {
	if text == "" {
		r.fail(r.path+"."+key, "%s: %w; write %s = %q", key, ErrMissing, key, example)
		return v
	}
	return optional(r, key, text, read)
}

func (r boltReader) wrong(key string, err error) {
	r.errs = append(r.errs, r.places.Wrap(r.path+"."+key, err))
}

// screw reads thread, class, friction and bearing face.
func (r boltReader) screw(b *examination.Installed) {
	t, errs := r.t, len(r.errs)
	thread := needed(r, "thread", t.Thread, "M8x1.25", fasteners.ParseThread)
	friction := needed(r, "friction", t.Friction, "0.10..0.14", preload.ParseFriction)
	if t.Class == "" {
		r.fail(r.path+".class", "class: %w; write the class on the bolt's head, as in \"10.9\"", ErrMissing)
	}
	b.Bolt.Friction = preload.Friction{Thread: friction, Bearing: friction}
	if t.HeadFriction != "" {
		b.Bolt.Friction.Bearing = optional(r, "head_friction", t.HeadFriction, preload.ParseFriction)
	}
	if len(r.errs) > errs {
		return
	}
	var err error
	if b.Strength, err = fasteners.StrengthOf(t.Class, thread); err != nil {
		r.wrong("class", err)
		return
	}
	switch {
	case t.Face == "" && t.Hole == "" && t.Key == "":
		if b.Bolt.Screw, err = preload.HexScrew(thread); err != nil {
			r.fail(r.path+".face", "%w; write face and hole", err)
		}
	case t.Face == "" || t.Hole == "":
		r.fail(r.path+".face", "face and hole: %w; write the outside of the bearing face and the hole under it; only a plain hexagon head on a medium hole needs neither", ErrMissing)
	default:
		b.Bolt.Screw = preload.Screw{Thread: thread, Face: optional(r, "face", t.Face, units.ParseLength), Hole: optional(r, "hole", t.Hole, units.ParseLength)}
	}
	b.Bolt.Yield = units.MustInterval(b.Strength.Yield, b.Strength.Tensile.MulRat(strongest))
	if t.Yield != "" {
		b.Bolt.Yield = optional(r, "yield", t.Yield, units.Parse[units.PressureInterval])
	}
	b.Bolt.Section = optional(r, "waist", t.Waist, units.ParseLength)
	if len(r.errs) > errs {
		return
	}
	if _, err := b.Bolt.Screw.Preload(units.Exactly(units.Torque{}), b.Bolt.Friction); err != nil {
		r.wrong("face", err)
	} else if _, err := b.Bolt.Screw.YieldPreload(b.Bolt.Yield, units.One.OfInt(1), b.Bolt.Section, b.Bolt.Friction.Thread); err != nil {
		key := "yield"
		if t.Yield == "" {
			key = "waist"
		}
		r.wrong(key, err)
	}
}

// stiffness reads that of the joint, or what it is worked out from.
func (r boltReader) stiffness(b *examination.Installed) {
	t, errs := r.t, len(r.errs)
	if t.Stiffness != "" {
		for _, also := range []struct{ key, text string }{{"clamped", t.Clamped}, {"shank", t.Shank}, {"outside", t.Outside}, {"modulus", t.Modulus}, {"seat", t.Seat}, {"hole_modulus", t.HoleModulus}} {
			if also.text != "" {
				r.fail(r.path+"."+also.key, "stiffness, and %s from which it is worked out: %w; keep one of them", also.key, ErrAmbiguous)
			}
		}
		b.Bolt.Stiffness = optional(r, "stiffness", t.Stiffness, units.Parse[units.StiffnessInterval])
		if len(r.errs) == errs && (!b.Bolt.Stiffness.Bounded() || b.Bolt.Stiffness.Lo().Sign() <= 0) {
			r.fail(r.path+".stiffness", "%s is no stiffness of a joint; write both bounds above zero, as in \"140..170 kN/mm\"", t.Stiffness)
		}
		return
	}
	if t.Clamped == "" {
		r.fail(r.path+".stiffness", "nothing says how stiff the joint is: %w; write stiffness, as in \"140..170 kN/mm\", or clamped, outside and modulus", ErrMissing)
		return
	}
	grip := optional(r, "clamped", t.Clamped, units.ParseLength)
	shank := optional(r, "shank", t.Shank, units.ParseLength)
	outside := needed(r, "outside", t.Outside, "24 mm", units.ParseLength)
	modulus := needed(r, "modulus", t.Modulus, "110 GPa", units.ParsePressure)
	seat := r.seat()
	head := fasteners.HexHead
	if t.Key != "" {
		head = fasteners.SocketHead
	}
	under := modulus
	if seat == fasteners.Nut {
		under = steel
	}
	if t.HoleModulus != "" {
		under = optional(r, "hole_modulus", t.HoleModulus, units.ParsePressure)
	}
	if t.Waist != "" && t.Shank == "" {
		r.fail(r.path+".waist", "a waist of no length: %w; write shank, the length without thread", ErrMissing)
	}
	if len(r.errs) > errs {
		return
	}
	thread := b.Bolt.Screw.Thread
	shape := fasteners.BoltShape{Thread: thread, Head: head, Seat: seat, Grip: grip, FreeThread: grip.Sub(shank), Modulus: steel, SeatModulus: under}
	if !shank.IsZero() {
		area := thread.ShankArea()
		if d := b.Bolt.Section; !d.IsZero() {
			area = area.MulRat(d.Ratio(thread.Major())).MulRat(d.Ratio(thread.Major()))
		}
		shape.Shank = []fasteners.Segment{{Name: "shank", Length: shank, Area: area, Modulus: steel}}
	}
	var joint fasteners.Joint
	var err error
	if joint.Bolt, err = shape.Stiffness(); err != nil {
		r.wrong("clamped", err)
		return
	}
	parts := fasteners.ClampedParts{Seat: seat, Hole: b.Bolt.Screw.Hole, Face: b.Bolt.Screw.Face, Outside: outside,
		Layers: []fasteners.Layer{{Name: "clamped", Thickness: grip, Modulus: modulus}}}
	if joint.Members, err = parts.Stiffness(); err != nil {
		r.wrong("outside", err)
		return
	}
	k, err := joint.Tightening()
	if err != nil {
		r.wrong("clamped", err)
		return
	}
	b.Joint, b.Bolt.Stiffness = &joint, units.PlusMinus(k, k.MulRat(stiffDoubt))
}

// seat reads what the bolt is screwed into, where nut does not say it.
func (r boltReader) seat() fasteners.End {
	switch {
	case r.t.Seat == "" && r.t.Nut != "":
		return fasteners.Nut
	case r.t.Seat == string(fasteners.Nut), r.t.Seat == string(fasteners.TappedHole):
		return fasteners.End(r.t.Seat)
	}
	r.fail(r.path+".seat", `%q does not say what the bolt is screwed into; write seat = "tapped hole" or seat = "nut"`, r.t.Seat)
	return ""
}

// losses reads what the joint loses again.
func (r boltReader) losses(b *examination.Installed) {
	t, errs := r.t, len(r.errs)
	if t.Neighbours != "" {
		b.Share = optional(r, "neighbours", t.Neighbours, units.Parse[units.RatioInterval])
		one := units.One.OfInt(1)
		if len(r.errs) == errs && (!b.Share.Bounded() || b.Share.Lo().Sign() < 0 || one.Less(b.Share.Hi())) {
			r.fail(r.path+".neighbours", "%s is no share of the settling that a neighbour feels; write both bounds from 0 to 1, as in \"0.2..0.5\"", t.Neighbours)
		}
		if b.Joint == nil && len(r.errs) == errs && b.Share.Hi().Sign() > 0 {
			r.fail(r.path+".neighbours", "neighbours, and only the stiffness of the whole joint: %w; write clamped, outside and modulus in place of stiffness, or neighbours = \"0\" if they feel nothing of each other", ErrMissing)
		}
	}
	if t.Roughness == "" {
		if t.Load != "" || t.Joints != nil {
			r.fail(r.path+".roughness", "load or joints, and no roughness: %w; write the roughness Rz with them, as in \"4..10 µm\"", ErrMissing)
		}
		return
	}
	errs = len(r.errs)
	rz := optional(r, "roughness", t.Roughness, units.ParseLengthInterval)
	load := preload.Load(t.Load)
	if _, err := load.MarshalText(); err != nil {
		r.wrong("load", err)
	}
	if t.Joints == nil || *t.Joints < 0 || *t.Joints > 20 {
		r.fail(r.path+".joints", "roughness, and no number of joints between the clamped parts: %w; write joints = 1 for a cap on a block, 0 for a single part, at most 20", ErrMissing)
	}
	if len(r.errs) > errs {
		return
	}
	e := preload.Embedding{Load: load, Thread: rz, Faces: []units.LengthInterval{rz}, Inner: []units.LengthInterval{}}
	joints := *t.Joints
	if t.Nut != "" || t.Seat == string(fasteners.Nut) {
		e.Faces = append(e.Faces, rz)
	}
	for range joints {
		e.Inner = append(e.Inner, rz)
	}
	if _, err := e.Amount(); err != nil {
		r.wrong("roughness", err)
		return
	}
	b.Embedding = &e
}

// limits reads what the parts around the bolt stand.
func (r boltReader) limits(b *examination.Installed) {
	t, errs := r.t, len(r.errs)
	if t.Seating != "" {
		b.Seating = optional(r, "seating", t.Seating, units.ParseForce)
		if len(r.errs) == errs && b.Seating.Sign() <= 0 {
			r.fail(r.path+".seating", "%s seats nothing; write a force above zero, as in \"12 kN\"", t.Seating)
		}
	}
	if t.Key != "" {
		b.Key = optional(r, "key", t.Key, units.ParseLength)
		if _, err := preload.KeyTorque(b.Key); err != nil && len(r.errs) == errs {
			r.wrong("key", err)
		}
	}
	flats := optional(r, "nut", t.Nut, units.ParseLength)
	if t.Engagement == "" {
		if t.HoleStrength != "" || t.HoleShear != "" {
			r.fail(r.path+".engagement", "the strength of the hole, and no length of engagement: %w; write engagement with it, as in \"15..16 mm\"", ErrMissing)
		}
		return
	}
	errs = len(r.errs)
	e := preload.Engagement{Thread: b.Bolt.Screw.Thread, BoltShear: shearRatio, HoleShear: shearRatio,
		Bolt: units.MustInterval(b.Strength.Tensile, b.Strength.Tensile.MulRat(strongest))}
	e.Length = optional(r, "engagement", t.Engagement, units.ParseLengthInterval)
	e.Hole = needed(r, "hole_strength", t.HoleStrength, "250..320 MPa", units.Parse[units.PressureInterval])
	if t.HoleShear != "" {
		e.HoleShear = optional(r, "hole_shear", t.HoleShear, units.Parse[units.RatioInterval])
	}
	e.Flats = flats
	if len(r.errs) > errs {
		return
	}
	if _, err := e.Stripping(); err != nil {
		r.wrong("engagement", err)
		return
	}
	b.Engagement = &e
}
