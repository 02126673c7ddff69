package job

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

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
// each reading once, by its name.
type Grounds struct {
	Instruments measure.Lines `json:"instruments"` // what was read with, as the job states it
	Stated      measure.Lines `json:"stated"`      // what else the job states that they rest on, word for word
	Readings    measure.Lines `json:"readings"`    // what was read, word for word
	RestsOn     measure.Lines `json:"rests_on"`    // one for each finding, in their order
}

// Grounds returns what the findings rest on: made anew, or as it was read.
func (a *Assessment) Grounds() Grounds {
	if a.Read != nil {
		return *a.Read
	}
	w := newGroundsWriter()
	if a.typed != nil {
		a.typed(w)
	}
	for i := range a.Groups {
		for k := range a.Groups[i].Findings {
			f := &a.Groups[i].Findings[k]
			if w.at, w.lines = a.Engine.beside(f.Location), nil; f.basis != nil {
				f.basis(w)
			} else {
				w.add("null")
			}
			w.end(&w.grounds.RestsOn)
		}
	}
	return w.grounds
}

// A groundsWriter writes each line of the grounds by appending to one text. Encoding them by
// reflection took three times as long as all the rest of a record.
type groundsWriter struct {
	grounds Grounds
	text    []byte              // of the line that is being written
	with    map[string]bool     // the instruments of the readings that were written
	names   map[string][]string // of what was read, by its exchange form
	at      []string            // the location that the line is about, and those on the same pin
	lines   []string            // what may be read for it, by name
	form    []byte              // the exchange form that is looked for
}

func newGroundsWriter() *groundsWriter {
	w := &groundsWriter{with: map[string]bool{}, names: map[string][]string{}}
	w.grounds.RestsOn = make(measure.Lines, 0, 1<<19) // as those of a large engine
	w.grounds.Readings = make(measure.Lines, 0, 1<<18)
	return w
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

func (w *groundsWriter) addConditions(name string, list []measure.Condition) {
	w.text = measure.AppendConditions(append(w.text, name...), list)
}

func addBounds[D units.Dimension](w *groundsWriter, name string, a units.Interval[D]) {
	w.text = measure.AppendBounds(append(w.text, name...), a)
}

// name gives what was read a name.
func name[D units.Dimension](w *groundsWriter, r measure.Reading[D], called string) {
	w.form = measure.AppendReading(w.form[:0], r)
	w.names[string(w.form)] = append(w.names[string(w.form)], called)
}

// addReading appends a name and a reading: what it is called where it was read as it is, its
// exchange form where it was made of others, and null where it was not taken.
func addReading[D units.Dimension](w *groundsWriter, key string, r measure.Reading[D], words string) {
	w.form = measure.AppendReading(w.form[:0], r)
	if names := w.names[string(w.form)]; len(names) > 0 && r.Taken() {
		// Sizes that were given, or the spans of several stations, may be all the same: the one of
		// this location stands there, and of two the one with the words of the term.
		here := func(name string) bool {
			return slices.ContainsFunc(w.at, func(at string) bool {
				return strings.Contains(name+" ", " "+at+" ") || strings.Contains(name, " "+at+",")
			})
		}
		listed := func(name string) bool { return slices.Contains(w.lines, name) }
		said := func(name string) bool { return strings.Contains(name, words) }
		i := slices.Index(names, words)
		for _, fits := range []func(string) bool{
			func(name string) bool { return listed(name) && said(name) }, listed,
			func(name string) bool { return here(name) && said(name) }, here,
		} {
			if i < 0 && len(names) > 1 {
				i = slices.IndexFunc(names, fits)
			}
		}
		w.addText(key, names[max(0, i)])
		return
	}
	w.text = append(append(w.text, key...), w.form...)
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

// A basis writes what a verdict rests on: the reading made where it is, Direct, if that states
// what it needs, or what the sum comes to. Where both prove something they have to agree, and the
// closer one stands. What Stations show is the one term of the sum if that is null, else the direct
// reading; End says which of them alone is proven outside. What is made of Volumes is the direct
// reading as well. That of a warm fit is the cold one's, and what its sizes grow by. Within is the
// sum of a bearing by the bore inside its shells, which counts as a direct reading.
//
//	{"limits", "needs", "direct", "non_negative", "cold": {"direct", "needs", "sum"}, "sum", "within", "stations", "end", "volumes"}
type basis func(*groundsWriter)

// addSum appends a name and a sum; nil is null. The bodies are how warm its terms become.
//
//	{"terms": [{"symbol", "factor", "reading", "needs", "body"}], "non_negative", "at_worst"}
func addSum[D units.Dimension](w *groundsWriter, name string, s *measure.Sum[D], bodies map[string]clearance.Body) {
	w.add(name)
	if s == nil {
		w.add("null")
		return
	}
	w.add(`{"terms":[`)
	for i := range s.Terms {
		t := &s.Terms[i]
		if i > 0 {
			w.add(",")
		}
		w.addText(`{"symbol":`, t.Symbol)
		w.add(`,"factor":"`)
		w.text, _ = t.Factor.AppendText(w.text)
		addReading(w, `","reading":`, t.Reading, t.Name)
		w.addConditions(`,"needs":`, t.Needs)
		if b, ok := bodies[t.Symbol]; ok {
			w.addBody(`,"body":`, b)
		} else {
			w.add(`,"body":null`)
		}
		w.add("}")
	}
	w.addTruth(`],"non_negative":`, s.NonNegative)
	w.addTruth(`,"at_worst":`, s.AtWorst)
	w.add("}")
}

// addBody appends a name and a body.
//
//	{"material", "per_kelvin", "with", "temperature": [lowest, highest]}
func (w *groundsWriter) addBody(name string, b clearance.Body) {
	w.add(name)
	w.addText(`{"material":`, b.Material)
	addBounds(w, `,"per_kelvin":`, b.PerKelvin)
	w.addText(`,"with":`, b.With)
	w.add(`,"temperature":["`)
	w.text, _ = b.Temperature.Lo().AppendText(w.text)
	w.add(`","`)
	w.text, _ = b.Temperature.Hi().AppendText(w.text)
	w.add(`"]}`)
}

// A stationsBasis says which stations a reading is made from: those of one reading that was
// taken at several, the only ones of several readings, or a sum at each. Claims are made of
// them together and share the level; Shows are those that the reading lies between.
type stationsBasis[D units.Dimension] struct {
	of     []string
	across bool // planes and directions alike
	sums   [][]measure.Sum[D]
	bodies map[string]clearance.Body // that the terms of the sums become as warm as; nil where they are cold
	claims []measure.Claim
	shows  []measure.Claim
}

// addStations appends a name and stations.
//
//	{"of", "across", "sums", "claims", "shows"}
func addStations[D units.Dimension](w *groundsWriter, name string, s *stationsBasis[D]) {
	w.add(name)
	if s == nil {
		w.add("null")
		return
	}
	w.addList(`{"of":`, len(s.of), func(i int) { w.addText("", s.of[i]) })
	w.addTruth(`,"across":`, s.across)
	w.addList(`,"sums":`, len(s.sums), func(i int) {
		w.addList("", len(s.sums[i]), func(k int) { addSum(w, "", &s.sums[i][k], s.bodies) })
	})
	for _, list := range []struct {
		name string
		of   []measure.Claim
	}{{`,"claims":`, s.claims}, {`,"shows":`, s.shows}} {
		w.addList(list.name, len(list.of), func(i int) { w.addText("", list.of[i].String()) })
	}
	w.add("}")
}

// valueBasis is the basis of a verdict on a reading that no fitting made.
func valueBasis[D units.Dimension](r measure.Reading[D], limits units.Interval[D], v value[D]) basis {
	return func(w *groundsWriter) {
		addBounds(w, `{"limits":`, limits)
		w.addConditions(`,"needs":`, v.needs)
		switch {
		case v.sum != nil || v.stations != nil || v.volumes != nil:
			w.add(`,"direct":null`)
		case v.read.Taken():
			addReading(w, `,"direct":`, v.read, v.called)
		default:
			addReading(w, `,"direct":`, r, v.called)
		}
		addSum(w, `,"non_negative":false,"cold":null,"sum":`, v.sum, nil)
		w.add(`,"within":null`)
		addStations(w, `,"stations":`, v.stations)
		v.volumes.add(w, `,"end":null,"volumes":`)
		w.add("}")
	}
}

// A volumesBasis is what a compression ratio is the quotient of, and from which line the bore, the
// stroke and the height of the deck were taken; empty where the job states them.
type volumesBasis struct {
	of                 clearance.Compression
	bore, stroke, deck string
}

// add appends a name and volumes, null for none.
//
//	{"bore", "stroke", "deck", "gasket_bore", "gasket_thickness", "chamber", "dish", "from": {"bore", "stroke", "deck"}}
func (v *volumesBasis) add(w *groundsWriter, name string) {
	w.add(name)
	if v == nil {
		w.add("null")
		return
	}
	addBounds(w, `{"bore":`, v.of.Bore)
	addBounds(w, `,"stroke":`, v.of.Stroke)
	addBounds(w, `,"deck":`, v.of.Deck)
	addBounds(w, `,"gasket_bore":`, v.of.GasketBore)
	addBounds(w, `,"gasket_thickness":`, v.of.GasketThickness)
	addBounds(w, `,"chamber":`, v.of.Chamber)
	addBounds(w, `,"dish":`, v.of.Dish)
	w.addText(`,"from":{"bore":`, v.bore)
	w.addText(`,"stroke":`, v.stroke)
	w.addText(`,"deck":`, v.deck)
	w.add("}}")
}

// basis is what the verdict on a quantity rests on.
func (j *Job) basis(m *measured, quantity string, x *fitting, a measure.Assessment[units.LengthDim]) basis {
	return func(w *groundsWriter) {
		var sum *measure.Sum[units.LengthDim]
		if x.computed.Taken() {
			sum = &x.final.Sum
		}
		own := itemName(m.group, x.location, m.quantity)
		w.lines = append(w.lines, own)
		for _, name := range slices.Concat(m.terms, m.also) {
			part := j.line(name)
			for _, at := range j.placesOf(part, x.location) {
				w.lines = append(w.lines, itemName(part.group, at, part.quantity))
			}
		}
		stations := j.stationsBasis(m, quantity, x)
		direct, needs := x.direct, m.conditions()
		if x.within != nil {
			direct = x.read
		}
		if stations != nil && len(stations.sums) == 0 && m.across == nil {
			if direct = (measure.LengthReading{}); !x.direct.Taken() {
				stations = nil // one plane has no taper
			}
		}
		if way := wayOf(quantity); way != "" && m.named == way {
			needs = append(needs, measure.Condition{What: way, Is: "named"})
		}
		if stations != nil && sum != nil && (len(stations.sums) > 0 || m.across != nil) {
			shown := *sum
			shown.Terms = slices.Clone(sum.Terms)
			shown.Terms[0].Reading = measure.LengthReading{}
			sum = &shown
		}
		var bodies map[string]clearance.Body
		var cold *fitting
		if m.warm {
			bodies, _ = j.running(m)
			cold, direct = j.line(m.terms[0]).shared[x.location](), measure.LengthReading{}
			switch {
			case x.stations.ends != nil:
				stations.sums, stations.bodies = cold.stations.sums, bodies
			case sum != nil:
				sum = &cold.Sum
			}
		}
		addBounds(w, `{"limits":`, a.Tolerance)
		w.addConditions(`,"needs":`, needs)
		addReading(w, `,"direct":`, direct, own)
		w.addTruth(`,"non_negative":`, m.form == size && quantity != diameter || m.asksAbove())
		if w.add(`,"cold":`); cold != nil && x.direct.Taken() {
			if cold.within != nil {
				addReading(w, `{"direct":`, cold.Direct, j.nameAt(m.terms[0], x.location))
				w.add(`,"needs":null`)
			} else {
				addReading(w, `{"direct":`, cold.direct, j.nameAt(m.terms[0], x.location))
				w.addConditions(`,"needs":`, j.line(m.terms[0]).conditions())
			}
			if x.stations.ends != nil {
				addSum(w, `,"sum":`, &cold.Sum, bodies)
			} else {
				w.add(`,"sum":null`) // it is the one that follows
			}
			w.add("}")
		} else {
			w.add("null")
		}
		if x.stations.ends != nil {
			bodies = nil // of the stations' sums
		}
		addSum(w, `,"sum":`, sum, bodies)
		addSum(w, `,"within":`, x.within, nil)
		addStations(w, `,"stations":`, stations)
		w.add(`,"end":`)
		// The smallest or the largest of several stations, which alone is proven outside.
		if _, which, ok := x.outside(a); ok {
			w.addText("", which)
		} else {
			w.add("null")
		}
		w.add(`,"volumes":null}`)
	}
}

// wayOf is how the stations lie that a form is judged by; empty for what is no form.
func wayOf(quantity string) string {
	switch quantity {
	case taper:
		return byPlane
	case outOfRound:
		return byDirection
	}
	return ""
}

// stationsBasis are the stations of a fitting; nil for one that is made from none.
func (j *Job) stationsBasis(m *measured, quantity string, x *fitting) *stationsBasis[units.LengthDim] {
	const smallest, largest = measure.Smallest, measure.Largest
	ends := []measure.Claim{smallest, largest}
	switch {
	case len(x.stations.sums) > 0:
		return &stationsBasis[units.LengthDim]{sums: x.stations.sums, claims: []measure.Claim{largest, smallest}, shows: ends}
	case m.across != nil:
		return m.across(j, m, x.location)
	case m.form != size && x.ends == nil || x.entry.stationCount() < 2:
		return nil
	}
	s := stationsBasis[units.LengthDim]{of: []string{itemName(m.group, x.location, m.quantity)}, claims: m.claims(), shows: ends}
	switch quantity {
	case taper:
		s.shows = []measure.Claim{measure.Taper}
	case outOfRound:
		s.shows = []measure.Claim{measure.OutOfRound}
	}
	return &s
}

// addTyped writes what a job says of a quantity, word for word, and the readings that it is, by
// plane and direction. Sure is what was read again, and stands; with is the instrument, empty for
// what was given. A slope is a rise over a distance. What is corrected to 20 °C stands as it was
// read, with how warm all was. The whole part, as sums take it, goes by the name alone, and each of
// several stations by it and its place.
//
//	{"name", "text", "sure", "with", "stations", "over", "corrected": {"part", "instrument", "master"}}
func addTyped[S, D units.Dimension](w *groundsWriter, called string, e entry, along [][]measure.Reading[S], whole measure.Reading[D], over units.LengthInterval) {
	w.addText(`{"name":`, called)
	w.addText(`,"text":`, e.text)
	w.addTruth(`,"sure":`, e.sure)
	w.addText(`,"with":`, e.with)
	if e.with != "" {
		w.with[e.with] = true
	}
	name(w, whole, called)
	for i := range along {
		for k := range along[i] {
			name(w, along[i][k], fmt.Sprintf("%s, plane %d, direction %d", called, i+1, k+1))
		}
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
	if w.add(`,"over":`); over.IsEmpty() {
		w.add("null")
	} else {
		addBounds(w, "", over)
	}
	if c := e.cold; c != nil {
		w.addBody(`,"corrected":{"part":`, c.part)
		w.addBody(`,"instrument":`, c.instrument)
		w.addBody(`,"master":`, c.master)
		w.add("}}")
	} else {
		w.add(`,"corrected":null}`)
	}
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
	var over units.LengthInterval
	for _, m := range j.lines {
		for _, location := range m.at {
			e, there := m.taken[location]
			called := itemName(m.group, location, m.quantity)
			switch {
			case !there:
			case m.form == pressure:
				addTyped(w, called, e, one, e.pressure, over)
			case m.form == mass:
				addTyped(w, called, e, one, e.mass, over)
			case m.form == slope && e.reading.Taken():
				addTyped(w, called, e, [][]measure.LengthReading{{e.reading.With(m.states...)}}, e.ratio, e.over)
			case m.form == slope:
				addTyped(w, called, e, one, e.ratio, over)
			case m.form != state && m.form != layout:
				addTyped(w, called, e, e.along, e.whole(m.states), over)
			}
		}
	}
	for _, set := range j.bolts {
		for _, c := range set.bolts {
			if c.entry.reading.Taken() {
				addTyped(w, itemName(set.group, c.bolt, "")+", length", c.entry, one, c.entry.reading, over)
			}
			if !c.whenNew.IsEmpty() {
				whole := measure.Given(c.whenNew, "length when new")
				addTyped(w, itemName(set.group, c.bolt, "")+", length when new", entry{text: c.whenNew.Exact()}, one, whole, over)
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
	Location string              `json:"location"`
	Housing  string              `json:"housing"` // the reading that it is
	Journal  string              `json:"journal"`
	Needs    []measure.Condition `json:"needs"` // what the housing's must state
	Limits   [2]*units.Length    `json:"limits"`
	Wanted   units.Length        `json:"wanted"`
	Mix      int                 `json:"mix"`
	Walls    []wallBasis         `json:"walls"`
}

type wallBasis struct {
	Grade string          `json:"grade"`
	Half  string          `json:"half"` // empty for either
	Wall  [2]units.Length `json:"wall"`
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
		b := siteBasis{Location: c.location, Housing: j.nameAt(set.part+" bore", c.location), Journal: j.nameAt(set.part+" journal", c.location),
			Needs: j.line(set.part + " bore").conditions(), Mix: s.Mix}
		b.Limits[0], b.Limits[1] = bounds(s.Limits)
		if s.Wanted != nil {
			b.Wanted = *s.Wanted
		} else {
			b.Wanted = s.Limits.Mid()
		}
		for _, sh := range s.Shells {
			if sh.Family == "" {
				w := wallBasis{Grade: sh.Grade, Wall: [2]units.Length{sh.Wall.Lo(), sh.Wall.Hi()}}
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
