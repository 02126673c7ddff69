package bench

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/record"
)

// A View is a job as the page shows it, each section as HTML.
type View struct {
	Revision    string `json:"revision"`    // of the job's text; the other questions name it
	Title       string `json:"title"`       // as text
	Proven      int    `json:"proven"`      // of so many as are asked
	Asked       int    `json:"asked"`       // what must be known before the engine is closed
	About       string `json:"about"`       // which engine it is, and who builds it
	Engine      string `json:"engine"`      // the drawing, each place a button
	Next        string `json:"next"`        // the next best thing to measure
	Missing     string `json:"missing"`     // what is still to be measured
	Gates       string `json:"gates"`       // and what to do, worst first
	Shopping    string `json:"shopping"`    // shells, and what to buy
	Instruments string `json:"instruments"` // those of the job, and those that can be added
	Card        string `json:"card"`        // the bench card
}

// read makes all that follows from a job.
func read(ctx context.Context, j *job.Job) (*benchJob, error) {
	a, err := j.Assess(ctx)
	if err != nil {
		return nil, err
	}
	b := &benchJob{Job: j, assessed: a, measurables: j.Measurables(), bolts: j.BoltPlaces(), items: map[string]job.Item{}}
	for _, i := range a.Items {
		b.items[i.Name] = i
	}
	return b, nil
}

// view makes the page's sections.
func (b *benchJob) view(revision string) View {
	v := View{Revision: revision, Title: b.Title(), Asked: len(b.assessed.Items)}
	for _, i := range b.assessed.Items {
		if i.Standing == job.Proven {
			v.Proven++
		}
	}
	spots := b.spots()
	v.About = b.about().String()
	v.Engine = page.Join(b.crank(spots), b.parts(spots)).String()
	v.Next, v.Missing = b.next().String(), b.missingList().String()
	v.Gates = b.gates().String()
	v.Shopping = record.Shopping(b.assessed).String()
	if len(b.assessed.Shells) == 0 { // an empty list would say that all is there
		v.Shopping = page.El("p", page.Class("note"), page.Text("This job chooses no shells, so the page knows of nothing to buy.")).String()
	}
	v.Instruments = b.tools().String()
	v.Card = record.Card(b.assessed).String()
	return v
}

// button opens a sheet of the page: a place of the drawing, or a reading.
func button(class string, k known, title string, more ...page.Part) page.Markup {
	parts := append([]page.Part{page.Attr("type", "button"), page.Class("place " + class)}, more...)
	return page.El("button", append(parts, page.El("b", page.Text(title)), page.Text(" "), k.mark())...)
}

// crank is the crankshaft from the front, with its caps, rods and cylinders.
func (b *benchJob) crank(spots map[string]*spot) page.Markup {
	spotButton := func(class, at string) page.Part {
		s := spots[at]
		if s == nil {
			return nil
		}
		return button(class, b.worst(s), s.title, page.Attr("data-at", at))
	}
	rows := page.Each(b.assessed.Card().Crank, func(st job.Station) page.Markup {
		if !st.Pin {
			return page.El("li", page.Class("station main"), mainDrawn(st.Thrust), page.El("div", spotButton("cap", "main "+st.Name)), page.Line)
		}
		var rods []page.Part
		if len(st.Seats) > 1 {
			rods = append(rods, page.El("div", spotButton("pin", "pin "+st.Name)))
		}
		for _, seat := range st.Seats {
			rods = append(rods, page.El("div", page.Class("rod"), spotButton("bigend", "rod "+seat.Location), rodDrawn(), spotButton("piston", "cylinder "+seat.Location)))
		}
		return page.El("li", page.Class("station"), pinDrawn(), page.El("div", rods...), page.Line)
	})
	return page.Join(page.El("p", page.Class("note"), page.Text("The crankshaft from the front, above, to the rear, below. Touch what you measure.")), page.El("ol", page.Class("crank"), page.Attr("aria-label", "the crankshaft from the front to the rear"), rows))
}

// drawn is a part of the drawing, which says nothing that its buttons do not.
func drawn(class string, parts ...page.Part) page.Markup {
	return page.El("svg", append([]page.Part{page.Class("drawn " + class), page.Attr("viewBox", "0 0 60 60"), page.Attr("preserveAspectRatio", "none"), page.Attr("aria-hidden", "true")}, parts...)...)
}

func rect(class string, x, y, w, h float64) page.Markup {
	return page.El("rect", page.Class(class), page.Number("x", x), page.Number("y", y), page.Number("width", w), page.Number("height", h))
}

// mainDrawn is a main journal in its cap; the one with the thrust has its flanges.
func mainDrawn(thrust bool) page.Markup {
	flanges := page.Markup{}
	if thrust {
		flanges = page.Join(rect("flange", 10, 10, 28, 4), rect("flange", 10, 46, 28, 4))
	}
	return drawn("journal", rect("web", 16, 0, 16, 60), rect("shaft", 16, 8, 16, 44), flanges,
		page.El("path", page.Class("capline"), page.Attr("d", "M4 16h6v28h-6M44 16h-6v28h6M44 12h10v36h-10")))
}

// pinDrawn is a pin between its webs.
func pinDrawn() page.Markup {
	return drawn("throw", rect("web", 16, 0, 36, 12), rect("web", 16, 48, 36, 12), rect("shaft", 36, 12, 16, 36))
}

// rodDrawn is the shank of a rod, from its pin to its piston.
func rodDrawn() page.Markup {
	return page.El("svg", page.Class("shank"), page.Attr("viewBox", "0 0 24 24"), page.Attr("preserveAspectRatio", "none"), page.Attr("aria-hidden", "true"),
		page.El("path", page.Attr("d", "M0 6l24 3v6l-24 3z")))
}

// parts are what is measured beside the crankshaft's line: block, oil and bolts.
func (b *benchJob) parts(spots map[string]*spot) page.Markup {
	var buttons []page.Part
	for _, at := range []string{"block", "crankshaft", "shells", "rods", "pistons", "oil"} {
		if s := spots[at]; s != nil {
			buttons = append(buttons, button("part", b.worst(s), s.title, page.Attr("data-at", at)))
		}
	}
	if rows := b.CodeRows(); len(rows) > 0 {
		worst := isRead
		for _, r := range rows {
			if k := ofRow(r); k.rank > worst.rank {
				worst = k
			}
		}
		buttons = append(buttons, button("part", worst, "Codes", page.Attr("data-at", "codes")))
	}
	if len(b.bolts) > 0 {
		worst := isProven
		for _, p := range b.bolts {
			if k := b.ofBolt(p); k.rank > worst.rank {
				worst = k
			}
		}
		buttons = append(buttons, button("part", worst, "Bolts", page.Attr("data-at", "bolts")))
	}
	return page.El("div", append([]page.Part{page.Class("parts"), page.Attr("role", "group"), page.Attr("aria-label", "other parts of the engine")}, buttons...)...)
}

// ofBolt is what is known of a bolt.
func (b *benchJob) ofBolt(p job.BoltPlace) known {
	if i, there := b.items[p.Group+" "+p.Bolt]; there {
		return knownAs(i.Standing)
	}
	return isOpen
}

// boltSpot is the sheet of all bolts.
func (b *benchJob) boltSpot() page.Markup {
	var groups []string
	for _, p := range b.bolts {
		if !slices.Contains(groups, p.Group) {
			groups = append(groups, p.Group)
		}
	}
	return page.Join(page.El("h2", page.ID("sheet-title"), page.Attr("tabindex", "-1"), page.Text("Bolts")), page.Each(groups, func(group string) page.Markup {
		return page.Join(page.El("h3", page.Text(capital(group))), page.El("div", page.Class("places"), page.Each(b.bolts, func(p job.BoltPlace) page.Markup {
			if p.Group != group {
				return page.Markup{}
			}
			key := BoltState
			if p.Judged != "" && p.State == "" {
				key = BoltLength
			}
			return opener("place reading", key, p.Group, p.Bolt, page.El("b", page.Text(p.Bolt)), page.Text(" "), b.ofBolt(p).mark())
		})))
	}))
}

// opener is a button that opens the sheet of a reading.
func opener(class string, key Key, line, place string, parts ...page.Part) page.Markup {
	return page.El("button", append([]page.Part{page.Attr("type", "button"), page.Class(class),
		page.Attr("data-key", string(key)), page.Attr("data-line", line), page.Attr("data-place", place)}, parts...)...)
}

// spotSheet is what is measured at one place of the drawing.
func (b *benchJob) spotSheet(at string) (page.Markup, bool) {
	if at == "bolts" {
		return b.boltSpot(), len(b.bolts) > 0
	}
	if at == "codes" {
		return b.codesSpot(), len(b.CodeRows()) > 0
	}
	s := b.spots()[at]
	if s == nil {
		return page.Markup{}, false
	}
	names := map[string]int{}
	for _, p := range s.places {
		names[p.Measurable.Name]++
	}
	return page.Join(page.El("h2", page.ID("sheet-title"), page.Attr("tabindex", "-1"), page.Text(s.title)), page.El("div", page.Class("places"), page.Each(s.places, func(p measuredAt) page.Markup {
		title, said := p.Measurable.Name, ""
		if names[p.Measurable.Name] > 1 {
			title = p.Place.Name
		}
		if p.Text != open {
			said = p.Text
		}
		return opener("place reading", Reading, p.Measurable.Name, p.Location,
			page.El("b", page.Text(capital(title))), page.Text(" "), b.of(p.Measurable, p.Place).mark(), page.If(said != "", page.El("span", page.Class("figure"), page.Text(said))))
	}))), true
}

// next is the next best thing to measure: what the job says first of what is to be measured, and that a
// reading of its own settles.
func (b *benchJob) next() page.Markup {
	m, p, why, there := b.best()
	if !there {
		return page.El("p", page.Text("Nothing is left to read. What is still open is under what to do, worst first."))
	}
	return page.Join(opener("place next", Reading, m.Name, p.Location, page.El("b", page.Text("Next: "+p.Name)), page.Text(" "), b.of(m, p).mark()), page.El("p", page.Class("note"), page.Text(why)))
}

// best finds the place that is to be read next: of the first gate that is shut the first place that was not
// read, else the first that is undecided.
func (b *benchJob) best() (m job.Measurable, p job.Place, why string, there bool) {
	sheet := b.onSheet()
	for _, phase := range job.Phases() {
		for _, want := range []job.Standing{job.NotMeasured, job.Undecided} {
			for _, m := range b.measurables {
				for _, p := range m.Places {
					for _, i := range b.itemsOf(m, p) {
						if i.Before == phase && i.Standing == want && !i.Passes() && (want == job.Undecided || p.Text == open && sheet[p.Name]) {
							why = i.Standing.String() + ", " + i.Why
							if i.Standing == job.NotMeasured {
								why = i.Why
							}
							return m, p, "The gate before " + phase.String() + " asks for it: " + why + ".", true
						}
					}
				}
			}
		}
	}
	return m, p, "", false
}

// missingList is what is still to be measured.
func (b *benchJob) missingList() page.Markup {
	sheet, n := b.onSheet(), 0
	lines := page.Each(b.measurables, func(m job.Measurable) page.Markup {
		var open []page.Part
		for _, p := range m.Places {
			if b.missing(m, p, sheet) {
				open = append(open, opener("small", Reading, m.Name, p.Location, page.Attr("aria-label", p.Name), page.Text(p.Location)))
			}
		}
		var limits []page.Part
		for _, l := range m.LimitKeys {
			if l.Text == "?" && l.Key == string(Limits) {
				limits = append(limits, opener("small", Limits, m.Name, "", page.Attr("aria-label", "limits of "+m.Name), page.Text("limits")))
			}
		}
		if n += len(open); len(open)+len(limits) == 0 {
			return page.Markup{}
		}
		return page.El("li", page.El("span", page.Text(capital(m.Name))), page.El("span", page.Class("ats"), page.Join(append(limits, open...)...)))
	})
	if rows := b.openRows(); len(rows) > 0 {
		lines = page.Join(page.El("li", page.El("span", page.Text("Grade codes")), page.El("span", page.Class("ats"), page.Join(rows...))), lines)
	}
	if lines.String() == "" {
		return page.El("p", page.Text("Nothing that is asked for is left to read."))
	}
	return page.Join(page.El("p", page.Class("note"), page.Text(strconv.Itoa(n)+" readings are still open.")), page.El("ul", page.Class("missing"), lines))
}

// gates are the gates, and what to do, worst first.
func (b *benchJob) gates() page.Markup {
	gates := page.Each(b.assessed.Card().Gates, func(g job.CardGate) page.Markup {
		k := known{"✕", "shut", "bad", 0}
		if g.Open {
			k = known{"✓", "open", "good", 0}
		}
		said := fmt.Sprintf("%d proven", g.Proven)
		if g.Open && g.Proven == 0 && g.Accepted == 0 {
			said = "nothing is asked for"
		}
		switch { // what keeps it shut comes first
		case g.Open:
		case len(g.Obstacles) == 0:
			said = "until the gate before it is open; " + said
		default:
			first := g.Obstacles[0]
			keeps := first.Standing.String() + ": " + first.What
			if n := len(g.Obstacles) - 1; n > 0 {
				keeps += fmt.Sprintf(", and %d more", n)
			}
			said = keeps + "; " + said
		}
		if g.Accepted > 0 {
			said += fmt.Sprintf(", %d on somebody's word", g.Accepted)
		}
		return page.El("li", page.El("b", page.Text("Before "+g.Before.String())), page.Text(" "), k.mark(), page.Text(" "), page.El("span", page.Class("note"), page.Text(said)), page.Line)
	})
	actions := page.Each(b.assessed.Next, func(x job.Action) page.Markup {
		class := map[job.ActionKind]string{job.Stop: "bad", job.Measure: "open", job.Order: "open", job.GoOn: "good"}[x.Kind]
		return page.El("li", page.El("span", page.Class("mark "+class), page.Text(strings.ToUpper(x.Kind.String()))), page.Text(" "+x.Text), page.Line)
	})
	return page.Join(page.El("ul", page.Class("gatelist"), gates), page.El("h3", page.Text("What to do, worst first")), page.El("ol", page.Class("actions"), actions))
}

// tools are the job's instruments, and those that can be added.
func (b *benchJob) tools() page.Markup {
	there := page.Each(b.Instruments(), func(in job.Instrument) page.Markup {
		var said string
		if in.Kind != in.Name {
			said = in.Kind
		}
		if len(in.Marks) > 0 {
			said = strings.TrimPrefix(said+": "+strings.Join(in.Marks, ", "), ": ")
		}
		if in.Doubt != "" {
			said = strings.TrimPrefix(said+", good to ±"+in.Doubt, ", ")
		}
		return page.El("li", page.El("b", page.Text(in.Name)), page.Text(" "), page.El("span", page.Class("note"), page.Text(said)))
	})
	add := page.Each(sortedNames(kinds), func(kind string) page.Markup {
		return opener("small", Instrument, b.freeName(kind), kind, page.Text("add "+kind))
	})
	return page.Join(page.El("ul", page.Class("tools"), there), page.El("div", page.Class("ats"), add))
}

// freeName is a name for a new instrument of a kind.
func (b *benchJob) freeName(kind string) string {
	name := kind
	for n := 2; slices.ContainsFunc(b.Instruments(), func(in job.Instrument) bool { return in.Name == name }); n++ {
		name = kind + " " + strconv.Itoa(n)
	}
	return name
}
