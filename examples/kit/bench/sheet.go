package bench

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// A Sheet is what the page shows to type one thing: what is expected, what is known, and the keys for it.
type Sheet struct {
	HTML string `json:"html"`
	Was  string `json:"was"`  // what the job says now
	Text string `json:"text"` // the same without its instrument, to begin from; empty while it is open
	Unit string `json:"unit"` // what follows a number that is typed
	With string `json:"with"` // what a text begins with: "dial: ", or nothing

	Units []string `json:"units"` // those that a number may be typed in; none where there is no choice

	Plain bool `json:"plain"` // a text that is no number: it is stored as it is typed
}

// sheet makes the sheet of what an edit may be of. with is the instrument that was chosen; empty for the usual one.
func (b *benchJob) sheet(e Edit, with string) (s Sheet, err error) {
	was, err := present(b.Job, e)
	if err != nil {
		return Sheet{}, err
	}
	s.Was, s.Units = was, []string{}
	if was != open {
		s.Text = was
	}
	defer func() { s.Text = strings.TrimSuffix(s.Text, " "+s.Unit) }()
	var parts page.Markup
	switch e.Key {
	case BoltState:
		parts = page.Join(title(e.Place, e.Line), wordsPad(states, was))
		if j := b.boltOf(e); j.Judged != "" {
			parts = page.Join(parts, opener("wide", BoltLength, e.Line, e.Place, page.Text("Type its length instead")))
		}
	case BoltLength:
		s.Unit = b.boltOf(e).Unit
		s.choose(false)
		parts = page.Join(title(e.Place, e.Line+": its whole length"), field(s, "length of "+e.Place, string(BoltLength)), keypad("number", "±"),
			opener("wide", BoltState, e.Line, e.Place, page.Text("Say that it is new, sound or scrap instead")))
	case Codes:
		parts = b.codesSheet(&s, e)
	case About:
		parts = b.aboutSheet(&s, e)
	case Begins, Upright:
		return Sheet{}, ErrNoPlace // they are said on the sheet of the row
	case Instrument:
		s.Unit = b.unitOf(e.Place)
		s.choose(true)
		more, note := "", "How far it may be off to either side, as its certificate or its maker says."
		switch kinds[e.Place] {
		case "":
			return Sheet{}, ErrNoPlace
		case "widths":
			more, note = "; ", "The clearances that are printed beside its widths, from the least, with ; between."
		case "blades":
			more, note = "; ", "Its blades, from the thinnest, with ; between."
		}
		parts = page.Join(title("A new "+e.Place, "The job will call it "+e.Line+"."), page.El("p", page.Text(note)), field(s, note, "a new "+e.Place), keypad("number", more))
	default:
		m, err := measurable(b.Job, e.Line)
		if err != nil {
			return Sheet{}, err
		}
		if e.Key == Planes || e.Key == Directions {
			parts = b.stationsSheet(&s, m, e)
		} else if e.Key == Reading {
			parts = b.readingSheet(&s, m, e, with)
		} else {
			s.Unit = m.Unit
			s.choose(!m.Stations)
			name := "Limits of " + m.Name
			if e.Key != Limits {
				name = capital(strings.ReplaceAll(string(e.Key), "_", "-")) + " of " + m.Name
			}
			parts = page.Join(title(name, "As the engine maker's manual has them: both with .. between, or one after ≤ or ≥."), field(s, name, "limits"), keypad("number", "..", "<= ", ">= "))
		}
	}
	s.HTML = parts.String()
	return s, nil
}

// boltOf is the bolt of an edit.
func (b *benchJob) boltOf(e Edit) (p job.BoltPlace) {
	for _, p := range b.bolts {
		if p.Group == e.Line && p.Bolt == e.Place {
			return p
		}
	}
	return p
}

// unitOf is the unit in which instruments of a kind are good to something.
func (b *benchJob) unitOf(kind string) string {
	switch kind {
	case "pressure gauge":
		return b.Units().Pressure
	case "scale":
		return b.Units().Mass
	}
	return b.Units().Length
}

func title(text, note string) page.Markup {
	return page.Join(page.El("h2", page.ID("sheet-title"), page.Attr("tabindex", "-1"), page.Text(capital(text))), page.If(note != "", page.El("p", page.Class("note"), page.Text(note))))
}

// readingSheet is the sheet of one reading.
func (b *benchJob) readingSheet(s *Sheet, m job.Measurable, e Edit, with string) page.Markup {
	i := slices.IndexFunc(m.Places, func(p job.Place) bool { return p.Location == e.Place })
	p := m.Places[i]
	in, named := b.instrumentOf(m, p, with)
	s.Unit = m.Unit
	if s.Text != "" {
		if name, body, ok := strings.Cut(s.Text, ":"); ok && m.Words == nil {
			if s.Text = strings.TrimSpace(body); strings.TrimSpace(name) != in.Name {
				s.Text = "" // it was read with another
			}
		}
	}
	if named {
		s.With = in.Name + ": "
	}
	parts := []page.Part{title(p.Name, "")}
	var rows [][2]page.Part
	row := func(name string, what page.Part) { rows = append(rows, [2]page.Part{page.Text(name), what}) }
	if m.Asked {
		var texts []page.Part
		for _, l := range m.LimitKeys {
			name := l.Quantity
			if l.Key == string(Limits) {
				name = "limits"
			}
			texts = append(texts, opener("small", Key(l.Key), m.Name, "", page.Text(name+" "+l.Text)))
		}
		if len(texts) > 0 {
			row("Expected", page.El("span", page.Class("ats"), page.Join(texts...)))
		}
	} else if m.For != "" {
		row("For", page.Text(m.For))
	}
	row("Known", page.Join(b.of(m, p).mark(), page.If(p.Text != open, page.Text(" "+p.Text)), page.If(p.Sure, page.Text(", read again, and it stands"))))
	if len(m.Instruments) > 0 {
		row("With", page.Text(in.Name))
	} else if m.Words == nil && len(m.Kinds) > 0 {
		var add []page.Part
		for _, kind := range m.Kinds {
			if kinds[kind] != "" {
				add = append(add, opener("small", Instrument, b.freeName(kind), kind, page.Text("add "+kind)))
			}
		}
		row("With", page.Join(page.El("span", page.Text("The job has no instrument for it yet. ")), page.El("span", page.Class("ats"), page.Join(add...))))
	}
	parts = append(parts, table(rows))
	switch {
	case m.Words != nil:
		parts = append(parts, wordsPad(m.Words, p.Text))
	case in.Kind == "crush strip":
		s.Unit = "" // it is in the marks
		parts = append(parts, field(*s, p.Name, ""), stripPad(in, s.Text))
	case in.Kind == "feeler blades":
		s.Unit = ""
		parts = append(parts, field(*s, p.Name, ""), bladesPad(in, s.Text))
	default:
		s.choose(!m.Stations)
		parts = append(parts, field(*s, p.Name, "with "+in.Name), stationNow(m), keypad("number", keysFor(m, in)...))
	}
	rows = nil
	if m.Stations {
		for _, way := range []Key{Planes, Directions} {
			now, _ := present(b.Job, Edit{Key: way, Line: m.Name})
			if now == open {
				now = "name them"
			}
			row(capital(string(way)), opener("small", way, m.Name, "", page.Text(now)))
		}
	}
	var others []page.Part
	for _, x := range m.Instruments {
		if x.Name != in.Name {
			others = append(others, page.El("button", page.Attr("type", "button"), page.Class("small choice"), page.Attr("data-with", x.Name), page.Text(x.Name)))
		}
	}
	if len(others) > 0 {
		row("Or with", page.El("span", page.Class("ats"), page.Attr("role", "group"), page.Attr("aria-label", "with another instrument"), page.Join(others...)))
	}
	for _, f := range m.Facts {
		var choices []page.Part
		for _, is := range f.Is {
			choices = append(choices, page.El("button", page.Attr("type", "button"), page.Class("small choice"), page.Attr("data-fact", f.What), page.Attr("data-fact-was", f.Said), page.Attr("data-fact-now", is),
				page.Attr("aria-pressed", strconv.FormatBool(f.Said == is)), page.Text(is)))
		}
		if len(f.Is) == 0 || f.Said != open && !slices.Contains(f.Is, f.Said) {
			choices = append(choices, page.Text(f.Said))
		}
		row(capital(f.What), page.El("span", page.Class("ats"), page.Attr("role", "group"), page.Attr("aria-label", f.What), page.Join(choices...)))
	}
	if m.How != "" {
		row("How", page.Text(m.How))
	}
	return page.Join(append(parts, table(rows))...)
}

// table is what is known, by its names.
func table(rows [][2]page.Part) page.Markup {
	if len(rows) == 0 {
		return page.Markup{}
	}
	return page.El("dl", page.Class("known"), page.Each(rows, func(r [2]page.Part) page.Markup {
		return page.El("div", page.El("dt", r[0]), page.El("dd", r[1]))
	}))
}

// keysFor are the keys beside the digits with which a line is typed.
func keysFor(m job.Measurable, in job.Instrument) (more []string) {
	switch {
	case in.Kind == "pressure gauge":
		return []string{"..", "<= ", ">= "}
	case m.Unit == "°":
		return []string{"° "}
	case in.Kind == "dial":
		more = append(more, " to ")
	case in.Kind == "":
		more = append(more, "..")
	}
	if m.Negative {
		more = append(more, "-")
	}
	if more = append(more, "±"); m.Several {
		more = append(more, "; ", " ")
	}
	return more
}

// instrumentOf is the instrument that a place is read with: the one chosen, else that of the reading there, else
// the line's. named says that a text has to begin with its name.
func (b *benchJob) instrumentOf(m job.Measurable, p job.Place, with string) (in job.Instrument, named bool) {
	if with == "" && p.Text != open && m.Words == nil {
		if name, _, ok := strings.Cut(p.Text, ":"); ok {
			with = strings.TrimSpace(name)
		}
	}
	if i := slices.IndexFunc(m.Instruments, func(in job.Instrument) bool { return in.Name == with }); i >= 0 {
		in = m.Instruments[i]
	} else if len(m.Instruments) > 0 {
		in = m.Instruments[0]
	}
	asItIs := with == "" && p.Text != open // read without a name, by what the job takes for it
	return in, in.Name != "" && in.Name != m.Named && !asItIs
}

// besides are the units of each dimension in which something may be read at a bench, those of large and small things first.
var besides = []struct{ large, small []string }{
	{[]string{"mm", "in"}, []string{"mm", "µm", "in", "thou"}},
	{[]string{"bar", "psi", "kPa"}, nil},
	{[]string{"g", "oz"}, nil},
}

// choose gives a sheet the units that its number may be typed in, the job's own first. What is typed already keeps its own. small
// says that it is of a size for which there are finer units.
func (s *Sheet) choose(small bool) {
	for _, d := range besides {
		all := d.large
		if small && d.small != nil {
			all = d.small
		}
		if !slices.Contains(slices.Concat(d.large, d.small), s.Unit) {
			continue
		}
		s.Units = append([]string{s.Unit}, slices.DeleteFunc(slices.Clone(all), func(u string) bool { return u == s.Unit })...)
		for _, u := range s.Units {
			if strings.HasSuffix(s.Text, " "+u) {
				s.Unit = u
			}
		}
		return
	}
}

// field is where what is typed stands, with its unit beside it. by is what a unit that is chosen stays with: the instrument,
// or what is typed.
func field(s Sheet, name, by string) page.Markup {
	unit := page.If(s.Unit != "", page.El("span", page.ID("unit"), page.Class("unit"), page.Text(s.Unit)))
	var choices page.Part
	if len(s.Units) > 1 {
		unit = page.El("button", page.Attr("type", "button"), page.ID("unit"), page.Class("unit"), page.Attr("data-by", by), page.Attr("aria-expanded", "false"), page.Attr("aria-controls", "units"),
			page.Attr("aria-label", "unit: "+s.Unit), page.Text(s.Unit))
		choices = page.El("div", page.ID("units"), page.Class("units"), page.Attr("role", "group"), page.Attr("aria-label", "the unit of your instrument"), page.Attr("hidden", ""), page.Each(s.Units, func(u string) page.Markup {
			return page.El("button", page.Attr("type", "button"), page.Attr("data-unit-is", u), page.Attr("aria-pressed", strconv.FormatBool(u == s.Unit)), page.Text(u))
		}))
	}
	return page.Join(page.El("div", page.Class("field"),
		page.El("input", page.ID("typed"), page.Attr("type", "text"), page.Attr("inputmode", "none"), page.Attr("autocomplete", "off"), page.Attr("autocapitalize", "off"), page.Attr("spellcheck", "false"),
			page.Attr("maxlength", "1000"), page.Attr("aria-label", name), page.If(s.Unit != "", page.Attr("aria-describedby", "unit")), page.Attr("value", strings.TrimSuffix(s.Text, " "+s.Unit))),
		unit), choices)
}

// textField is where a text of words is typed, with the keyboard that the device has.
func textField(s Sheet, name string) page.Markup {
	return page.El("div", page.Class("field text"), page.El("input", page.ID("typed"), page.Attr("type", "text"), page.Attr("autocomplete", "off"), page.Attr("maxlength", "1000"), page.Attr("aria-label", name), page.Attr("value", s.Text)))
}

// stationNow is where the page says which station the next figure is of, by the names of planes and directions.
func stationNow(m job.Measurable) page.Part {
	if len(m.Planes)+len(m.Directions) == 0 {
		return nil
	}
	return page.El("p", page.ID("station"), page.Class("note"), page.Attr("data-planes", strings.Join(m.Planes, ";")), page.Attr("data-directions", strings.Join(m.Directions, ";")))
}

// key is a key of the keypad.
func key(class, types, name, says string) page.Markup {
	return page.El("button", page.Attr("type", "button"), page.Class("key "+class), page.Attr("data-type", types), page.If(says != "", page.Attr("aria-label", says)), page.Text(name))
}

// keyNames say what a key that is no digit means.
var keyNames = map[string][2]string{
	"..": {"..", "to, between two limits"}, " to ": {"to", "from stop to stop: to"}, "<= ": {"≤", "at most"}, ">= ": {"≥", "at least"}, "±": {"±", "plus or minus"},
	"; ": {";", "next plane, place or mark"}, " ": {"next ↔", "next direction"}, "-": {"−", "below zero"}, "° ": {"°", "degrees, next ring"},
}

// keypad is the digits, and what else a text may need.
func keypad(class string, more ...string) page.Markup {
	var keys []page.Part
	for _, d := range []string{"7", "8", "9", "4", "5", "6", "1", "2", "3"} {
		keys = append(keys, key("", d, d, ""))
	}
	keys = append(keys, key("decimal", ".", ".", "decimal sign"), key("", "0", "0", ""), key("", "back", "⌫", "take the last away"))
	var beside []page.Part
	for _, k := range more {
		if n, there := keyNames[k]; there {
			beside = append(beside, key("beside", k, n[0], n[1]))
		}
	}
	return page.El("div", page.Class("pad "+class), page.Attr("role", "group"), page.Attr("aria-label", "keypad"), page.El("div", page.Class("digits"), page.Join(keys...)),
		page.If(len(beside) > 0, page.El("div", page.Class("besides"), page.Join(beside...))))
}

// wordsPad are the words for what is looked at.
func wordsPad(words []string, was string) page.Markup {
	return page.El("div", page.Class("pad words"), page.Attr("role", "group"), page.Attr("aria-label", "what you found"), page.Each(words, func(w string) page.Markup {
		return page.El("button", page.Attr("type", "button"), page.Class("mark-button"), page.Attr("data-text", w), page.Attr("aria-pressed", strconv.FormatBool(w == was)), page.Text(w))
	}))
}

// stripPad are the prints of a strip, each as wide as a strip that was crushed to its clearance is beside the others:
// what is printed beside the widest is the least.
func stripPad(in job.Instrument, now string) page.Markup {
	var marks []page.Part
	least := number(in.Marks[0])
	mark := func(text, says string, c float64) {
		wide := 100.0
		if c > 0 {
			wide = math.Max(4, 100*least/c)
		}
		marks = append(marks, page.El("button", page.Attr("type", "button"), page.Class("mark-button"), page.Attr("data-text", text), page.Attr("aria-pressed", strconv.FormatBool(text == now)),
			page.El("svg", page.Attr("viewBox", "0 0 100 10"), page.Attr("preserveAspectRatio", "none"), page.Attr("aria-hidden", "true"), rect("crushed", 50-wide/2, 0, wide, 10)),
			page.El("span", page.Text(says))))
	}
	last := len(in.Marks) - 1
	mark("<= "+in.Marks[0], "wider than "+in.Marks[0], least)
	for i, m := range in.Marks {
		mark(m, m, number(m))
		if i < last {
			mark(span(m, in.Marks[i+1]), span(m, in.Marks[i+1]), (number(m)+number(in.Marks[i+1]))/2)
		}
	}
	mark(">= "+in.Marks[last], "narrower than "+in.Marks[last], number(in.Marks[last])*1.3)
	marks = append(marks, page.El("button", page.Attr("type", "button"), page.Class("wide"), page.Attr("data-type", "; "), page.Text("another place along the strip")),
		page.El("button", page.Attr("type", "button"), page.Class("wide"), page.Attr("data-type", "all"), page.Text("take it all away")))
	return page.El("div", page.Class("pad strip"), page.Attr("role", "group"), page.Attr("aria-label", "the strip's prints, widest first"), page.Join(marks...))
}

// span is the text of what lies between two marks.
func span(from, to string) string {
	if number, unit, ok := strings.Cut(from, " "); ok && strings.HasSuffix(to, " "+unit) {
		from = number
	}
	return from + ".." + to
}

// number is what stands before a text's unit, for a drawing.
func number(text string) float64 {
	n, _, _ := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(n, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// bladesPad asks of each blade whether it goes; now is what was found of it.
func bladesPad(in job.Instrument, now string) page.Markup {
	goes, not, between := strings.Cut(now, "..")
	switch {
	case strings.HasPrefix(now, ">="):
		goes, not = strings.TrimPrefix(now, ">="), ""
	case strings.HasPrefix(now, "<="):
		goes, not = "", strings.TrimPrefix(now, "<=")
	case !between:
		goes = ""
	}
	bare := func(text string) string {
		n, _, _ := strings.Cut(strings.TrimSpace(text), " ")
		return n
	}
	return page.El("div", page.Class("pad blades"), page.Attr("role", "group"), page.Attr("aria-label", "blades"), page.Each(in.Marks, func(m string) page.Markup {
		n, unit, _ := strings.Cut(m, " ")
		say := func(goes, found bool, text string) page.Markup {
			return page.El("button", page.Attr("type", "button"), page.Class("small choice"), page.Attr("data-blade", n), page.Attr("data-unit", unit), page.Attr("data-goes", strconv.FormatBool(goes)), page.Attr("aria-pressed", strconv.FormatBool(found)),
				page.Attr("aria-label", m+" "+text), page.Text(text))
		}
		return page.El("div", page.Class("blade"), page.El("span", page.Text(m)), say(true, bare(goes) == n, "goes"), say(false, bare(not) == n, "does not go"))
	}), page.El("button", page.Attr("type", "button"), page.Class("wide"), page.Attr("data-type", "all"), page.Text("take it all away")))
}
