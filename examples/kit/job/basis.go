package job

import (
	"bytes"
	"encoding/json"
	"slices"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/torque"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Basis is what a claim of the record rests on, for somebody who works it out again. It
// is made when it is written, because a record on paper does not show it, and is kept as it
// was written when it is read. The zero Basis is null.
type Basis struct {
	make    func() any
	written json.RawMessage
}

func restsOn(make func() any) Basis { return Basis{make: make} }

// MarshalJSON writes what there is.
func (b Basis) MarshalJSON() ([]byte, error) {
	switch {
	case b.make != nil:
		return json.Marshal(b.make())
	case b.written != nil:
		return b.written, nil
	}
	return []byte("null"), nil
}

// UnmarshalJSON keeps the text. Whether the claim follows from it is for the reader to find.
func (b *Basis) UnmarshalJSON(data []byte) error {
	var text bytes.Buffer
	if err := json.Compact(&text, data); err != nil {
		return err
	}
	*b = Basis{written: text.Bytes()}
	return nil
}

// A verdictBasis is what a verdict rests on. Reading is judged: the one read where it is,
// Direct, if that states what it Needs, or what the Sum comes to. Where both prove something
// they have to agree, and the closer one stands. Of several stations, the Direct reading or
// the one term of the sum is what they show.
type verdictBasis[D units.Dimension] struct {
	Reading  measure.Reading[D]  `json:"reading"`
	Limits   exactBounds[D]      `json:"limits"`
	Needs    []measure.Condition `json:"needs"`
	Direct   measure.Reading[D]  `json:"direct"`
	Sum      *measure.Sum[D]     `json:"sum"`
	Stations *stationsBasis[D]   `json:"stations"`
	End      *endBasis[D]        `json:"end"`
}

// exactBounds are limits with every digit, null where there are none.
type exactBounds[D units.Dimension] struct {
	Lo *units.Quantity[D] `json:"lo"`
	Hi *units.Quantity[D] `json:"hi"`
}

func boundsOf[D units.Dimension](a units.Interval[D]) (b exactBounds[D]) {
	if a.HasLo() {
		b.Lo = new(a.Lo())
	}
	if a.HasHi() {
		b.Hi = new(a.Hi())
	}
	return b
}

// A stationsBasis says which stations a reading is made from: those of one reading that was
// taken at several, the only ones of several readings, or a sum at each. Claims are made of
// them together and share the level; Shows are those that the reading lies between.
type stationsBasis[D units.Dimension] struct {
	Of     []string           `json:"of"`
	Sums   [][]measure.Sum[D] `json:"sums"`
	Claims []measure.Claim    `json:"claims"`
	Shows  []measure.Claim    `json:"shows"`
}

// endBasis is the smallest or the largest of several stations, which alone is proven outside.
type endBasis[D units.Dimension] struct {
	Which   string             `json:"which"`
	Reading measure.Reading[D] `json:"reading"`
}

// valueBasis is the basis of a verdict on a reading that no fitting made.
func valueBasis[D units.Dimension](r measure.Reading[D], limits units.Interval[D], v value[D]) Basis {
	return restsOn(func() any {
		b := verdictBasis[D]{Reading: r, Limits: boundsOf(limits), Sum: v.sum, Stations: v.stations}
		if v.sum == nil {
			b.Direct = r
		}
		return b
	})
}

// basis is what the verdict on a quantity rests on.
func (j *Job) basis(m *measured, quantity string, x fitting, a measure.Assessment[units.LengthDim]) Basis {
	return restsOn(func() any {
		b := verdictBasis[units.LengthDim]{Reading: a.Reading, Limits: boundsOf(a.Tolerance), Direct: x.direct}
		if m.form == direct {
			b.Needs = m.conditions()
		}
		if x.computed.Taken() {
			b.Sum = &x.final.Sum
		}
		name := itemName(m.group, x.location, m.quantity)
		const smallest, largest = measure.Smallest, measure.Largest
		switch {
		case len(x.stations.sums) > 0:
			b.Stations = &stationsBasis[units.LengthDim]{Sums: x.stations.sums, Claims: []measure.Claim{largest, smallest}, Shows: []measure.Claim{smallest, largest}}
		case m.form != size && x.ends == nil || len(slices.Concat(x.entry.along...)) < 2:
		default:
			b.Stations = &stationsBasis[units.LengthDim]{Of: []string{name}, Claims: m.claims(), Shows: []measure.Claim{smallest, largest}}
			switch quantity {
			case taper:
				b.Stations.Shows = []measure.Claim{measure.Taper}
			case outOfRound:
				b.Stations.Shows = []measure.Claim{measure.OutOfRound}
			}
		}
		if end, which, ok := x.outside(a); ok {
			b.End = &endBasis[units.LengthDim]{which, end.Reading}
		}
		return b
	})
}

// A typedReading is what a job says of a quantity, word for word, and the readings that it
// is: by plane and direction, and of the whole part, as sums take it.
type typedReading struct {
	Name     string `json:"name"`
	Text     string `json:"text"`
	Sure     bool   `json:"sure"` // it was read again, and stands
	Stations any    `json:"stations"`
	Whole    any    `json:"whole"`
}

func typedOf[D units.Dimension](name string, e entry, along [][]measure.Reading[D], whole measure.Reading[D]) typedReading {
	if len(along) == 0 {
		along = [][]measure.Reading[D]{{whole}}
	}
	return typedReading{name, e.text, e.sure, along, whole}
}

// typed is the basis of everything that was read.
func (j *Job) typed() Basis {
	return restsOn(func() any {
		list := []typedReading{}
		for _, m := range j.lines {
			for _, location := range m.at {
				e, there := m.taken[location]
				name := itemName(m.group, location, m.quantity)
				switch {
				case !there:
				case m.form == pressure:
					list = append(list, typedOf(name, e, nil, e.pressure))
				case m.form == mass:
					list = append(list, typedOf(name, e, nil, e.mass))
				case m.form == slope:
					list = append(list, typedOf(name, e, nil, e.ratio))
				case m.form != state && m.form != layout:
					list = append(list, typedOf(name, e, e.along, e.whole(m.states)))
				}
			}
		}
		for _, set := range j.bolts {
			for _, c := range set.bolts {
				if c.entry.reading.Taken() {
					list = append(list, typedOf(itemName(set.group, c.bolt, "")+", length", c.entry, nil, c.entry.reading))
				}
				if !c.whenNew.IsEmpty() {
					whole := measure.Given(c.whenNew, "length when new")
					list = append(list, typedOf(itemName(set.group, c.bolt, "")+", length when new", entry{text: c.whenNew.Exact()}, nil, whole))
				}
			}
		}
		return list
	})
}

// A SaidBolt is what is known of a bolt, beside its length.
type SaidBolt struct {
	Group     string `json:"group"`
	Bolt      string `json:"bolt"`
	Said      string `json:"said"` // new, sound or scrap; empty where nothing is said
	Measured  bool   `json:"measured"`
	SingleUse bool   `json:"single_use"`
	Judged    string `json:"judged"` // the quantity that its group has a limit for: length, stretch; empty for none
}

// boltsSaid are what is known of every bolt.
func (j *Job) boltsSaid() []SaidBolt {
	var list []SaidBolt
	for _, set := range j.bolts {
		for _, c := range set.bolts {
			list = append(list, SaidBolt{set.group, c.bolt, c.state, c.entry.reading.Taken(), set.use == torque.SingleUse, set.quantity})
		}
	}
	return list
}

// purchaseBasis is what a purchase rests on: what was asked for, and what shows that nothing
// cheaper serves.
func purchaseBasis(o request, b *purchase.Purchase[grading.Part]) Basis {
	return restsOn(func() any {
		return struct {
			Request  request                          `json:"request"`
			Purchase *purchase.Purchase[grading.Part] `json:"purchase"`
		}{o, b}
	})
}
