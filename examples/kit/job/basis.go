package job

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/clearance"
	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
	"example.com/closefit/torque"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// A Basis is what a purchase rests on, for somebody who works it out again. It is made when
// it is written, because a record on paper does not show it, and is kept as it was written
// when it is read. The zero Basis is null.
type Basis struct {
	make    func() any
	written json.RawMessage
}

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

// Grounds are what the verdicts of a record rest on, for somebody who works them out again:
// each reading once, by its name. By which formula its lines make each verdict is not said: who
// works it out knows that, and believes nobody about it.
type Grounds struct {
	Instruments measure.Lines `json:"instruments"` // what was read with, as the job states it
	Stated      measure.Lines `json:"stated"`      // what else the job states that they rest on, word for word
	Readings    measure.Lines `json:"readings"`    // what was read, word for word
	Limits      measure.Lines `json:"limits"`      // of each finding, in their order, with every digit
}

// Grounds returns what the findings rest on: made anew, or as it was read.
func (a *Assessment) Grounds() Grounds {
	if a.Read != nil {
		return *a.Read
	}
	w := groundsWriter{with: map[string]bool{}}
	w.grounds.Readings = make(measure.Lines, 0, 1<<18) // as those of a large engine
	if a.typed != nil {
		a.typed(&w)
	}
	for i := range a.Groups {
		for k := range a.Groups[i].Findings {
			w.text = a.Groups[i].Findings[k].limits(w.text)
			w.end(&w.grounds.Limits)
		}
	}
	return w.grounds
}

// A groundsWriter writes each line of the grounds by appending to one text. Encoding them by
// reflection took three times as long as all the rest of a record.
type groundsWriter struct {
	grounds Grounds
	text    []byte          // of the line that is being written
	with    map[string]bool // the instruments of the readings that were written
}

// end ends a line and adds it to a list.
func (w *groundsWriter) end(list *measure.Lines) {
	list.Add(w.text)
	w.text = w.text[:0]
}

func (w *groundsWriter) add(text string) { w.text = append(w.text, text...) }

// addText appends a name and a text as JSON, addTruth a name and true or false.
func (w *groundsWriter) addText(name, text string) {
	w.text = units.AppendJSON(append(w.text, name...), text)
}

func (w *groundsWriter) addTruth(name string, is bool) {
	w.text = strconv.AppendBool(append(w.text, name...), is)
}

// addList appends a name and a list of so many elements, null for none.
func (w *groundsWriter) addList(name string, n int, element func(i int)) {
	w.add(name)
	for i := range n {
		w.add([]string{"[", ","}[min(i, 1)])
		element(i)
	}
	w.add([]string{"null", "]"}[min(n, 1)])
}

// addTyped writes what a job says of a quantity, word for word, and the readings that it is, by
// plane and direction. Sure is what was read again, and stands; with is the instrument, empty for
// what was given. What is corrected to 20 °C stands as it was read.
//
//	{"name", "text", "sure", "with", "stations"}
func addTyped[S, D units.Dimension](w *groundsWriter, called string, e entry, along [][]measure.Reading[S], whole measure.Reading[D]) {
	w.addText(`{"name":`, called)
	w.addText(`,"text":`, e.text)
	w.addTruth(`,"sure":`, e.sure)
	w.addText(`,"with":`, e.with)
	if e.with != "" {
		w.with[e.with] = true
	}
	w.add(`,"stations":`)
	switch {
	case e.cold != nil:
		addAlong(w, e.cold.along)
	case len(along) > 0:
		addAlong(w, along)
	default:
		addAlong(w, [][]measure.Reading[D]{{whole}})
	}
	w.add("}")
	w.end(&w.grounds.Readings)
}

// addAlong appends readings by plane and direction.
func addAlong[D units.Dimension](w *groundsWriter, along [][]measure.Reading[D]) {
	w.addList("", len(along), func(i int) {
		w.addList("", len(along[i]), func(k int) { w.text = measure.AppendReading(w.text, along[i][k]) })
	})
}

// typed writes everything that was read, what it was read with, and what else the job states.
//
//	stated: {"key", "text"}
func (j *Job) typed(w *groundsWriter) {
	for _, s := range j.stated {
		w.addText(`{"key":`, s[0])
		w.addText(`,"text":`, s[1])
		w.add("}")
		w.end(&w.grounds.Stated)
	}
	var one [][]measure.LengthReading
	for _, m := range j.lines {
		for _, location := range m.at {
			e, there := m.taken[location]
			called := itemName(m.group, location, m.quantity)
			switch {
			case !there:
			case m.form == pressure:
				addTyped(w, called, e, one, e.pressure)
			case m.form == mass:
				addTyped(w, called, e, one, e.mass)
			case m.form == slope && e.reading.Taken():
				addTyped(w, called, e, [][]measure.LengthReading{{e.reading.With(m.states...)}}, e.ratio)
			case m.form == slope:
				addTyped(w, called, e, one, e.ratio)
			case m.form != state && m.form != layout:
				addTyped(w, called, e, e.along, e.whole(m.states))
			}
		}
	}
	for _, set := range j.bolts {
		for _, c := range set.bolts {
			if c.entry.reading.Taken() {
				addTyped(w, itemName(set.group, c.bolt, "")+", length", c.entry, one, c.entry.reading)
			}
			if !c.whenNew.IsEmpty() {
				whole := measure.Given(c.whenNew, "length when new")
				addTyped(w, itemName(set.group, c.bolt, "")+", length when new", entry{text: c.whenNew.Exact()}, one, whole)
			}
		}
	}
	j.used(w)
}

// A usedInstrument is an instrument as the job states it, its quantities in their exact form.
type usedInstrument struct {
	Name         string   `json:"name"`
	Kind         string   `json:"kind"`
	Uncertainty  string   `json:"uncertainty"`
	Repeats      string   `json:"repeats"`
	LimitOfError string   `json:"limit_of_error"`
	K            string   `json:"k"`
	Freedom      int      `json:"freedom"`
	SetOn        string   `json:"set_on"`
	Marks        []string `json:"marks"` // of a strip its printed clearances, of blades their thicknesses
	Tolerance    string   `json:"tolerance"`
}

// used writes the instruments that something was read with, and those that they were set on.
func (j *Job) used(w *groundsWriter) {
	for name := range maps.Clone(w.with) {
		for ; name != ""; name = j.reader.declared[name].SetOn {
			w.with[name] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(w.with)) {
		t := j.reader.declared[name]
		u := usedInstrument{Name: name, Kind: t.Kind, Uncertainty: exactText(t.Uncertainty), Repeats: exactText(t.Repeats), LimitOfError: exactText(t.LimitOfError),
			SetOn: t.SetOn, Marks: []string{}, Tolerance: exactText(t.Tolerance)}
		if t.K != nil {
			u.K = decimal.NewFromFloat(*t.K).String()
		}
		if t.Freedom != nil {
			u.Freedom = *t.Freedom
		}
		for _, mark := range j.instruments[name].marks {
			u.Marks = append(u.Marks, mark.Exact())
		}
		text, err := json.Marshal(&u)
		if err != nil {
			panic(err) // texts, and a whole number
		}
		w.text = append(w.text, text...)
		w.end(&w.grounds.Instruments)
	}
}

// exactText is a quantity of any dimension that an instrument may have, in its exact form;
// empty for none.
func exactText(text string) string {
	if q, err := units.ParseLength(text); err == nil {
		return q.Exact()
	}
	if q, err := units.ParsePressure(text); err == nil {
		return q.Exact()
	}
	if q, err := units.Parse[units.Mass](text); err == nil {
		return q.Exact()
	}
	return text
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

// A boughtBasis is what a purchase rests on: what was asked for, which alternatives serve it,
// and what shows that nothing cheaper serves. The figures that follow from these are left out.
type boughtBasis struct {
	Request    request          `json:"request"`
	Served     []servedBasis    `json:"served"`
	Components []componentBasis `json:"components"`
}

type servedBasis struct {
	Need        int `json:"need"`
	Alternative int `json:"alternative"`
	N           int `json:"n"`
}

// A componentBasis is a component of a proof, of which package purchase says how it is checked.
// One without cases has a table, which whoever checks it makes again: of the part counted.
type componentBasis struct {
	Unit    decimal.Decimal                        `json:"unit"`
	Least   int64                                  `json:"least"`
	Parts   []grading.Part                         `json:"parts"`
	Lines   [][]string                             `json:"lines"`
	Choices [][]purchase.Alternative[grading.Part] `json:"choices"`
	Counted int                                    `json:"counted"`
	Cases   []caseBasis                            `json:"cases"`
}

type caseBasis struct {
	Of     int     `json:"of"`
	AtMost *int64  `json:"at_most"`
	Scale  int64   `json:"scale"`
	Worth  []int64 `json:"worth"`
	Sum    int64   `json:"sum"`
}

// purchaseBasis is what a purchase rests on.
func purchaseBasis(o request, p *purchase.Purchase[grading.Part]) Basis {
	return Basis{make: func() any {
		b := boughtBasis{Request: o}
		for _, s := range p.Served {
			b.Served = append(b.Served, servedBasis{s.Need, s.Alternative, s.N})
		}
		for _, c := range p.Proof.Components {
			k := componentBasis{Unit: c.Unit, Least: c.Least, Parts: c.Parts, Lines: c.Lines, Counted: c.Counted}
			for _, n := range c.Choices {
				k.Choices = append(k.Choices, n.Alternatives)
			}
			for _, x := range c.Cases {
				k.Cases = append(k.Cases, caseBasis{x.Of, x.AtMost, x.Scale, x.Worth, x.Sum})
			}
			b.Components = append(b.Components, k)
		}
		return b
	}}
}

// A siteBasis is what shells rest on that are chosen by the sizes of their location.
type siteBasis struct {
	Location string       `json:"location"`
	Wanted   units.Length `json:"wanted"`
	Mix      int          `json:"mix"`
	Walls    []wallBasis  `json:"walls"`
}

type wallBasis struct {
	Grade string `json:"grade"`
	Half  string `json:"half"` // empty for either
}

// sitesBasis is what the shells of a set rest on that are chosen by sizes.
func (j *Job) sitesBasis(set *shellSet, list []chosen) Basis {
	var sites []siteBasis
	for i := range list {
		c := &list[i]
		s, ok := j.limited(set, set.at(c.location))
		if c.by != bySizes || !ok || len(c.sized) == 0 {
			continue
		}
		b := siteBasis{Location: c.location, Mix: s.Mix}
		if s.Wanted != nil {
			b.Wanted = *s.Wanted
		} else {
			b.Wanted = s.Limits.Mid()
		}
		for _, sh := range s.Shells {
			if sh.Family == "" {
				w := wallBasis{Grade: sh.Grade}
				if sh.Half != grading.Either {
					w.Half = sh.Half.String()
				}
				b.Walls = append(b.Walls, w)
			}
		}
		sites = append(sites, b)
	}
	if sites == nil {
		return Basis{}
	}
	return Basis{make: func() any { return sites }}
}

// gapsBasis is what is judged of where the gaps of rings stand.
func gapsBasis(rules clearance.RingLayout, at []units.Angle) Basis {
	return Basis{make: func() any {
		return struct {
			Rules clearance.RingLayout `json:"rules"`
			At    []units.Angle        `json:"at"`
		}{rules, at}
	}}
}
