package record

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/closefit/clearance/film"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

// A filmColumn is one result of a film over clearance.
type filmColumn struct {
	name, unit, short string
	places            int32
	value             func(s *film.State, places int32) (float64, string, bool)
	span              func(r film.Range, places int32) string // empty where a reading has no range of it
}

// inUnit is a column's value of a quantity.
func inUnit[D, E units.Dimension](u units.Scale[D, E], of func(s *film.State) (units.Value[D, E], bool)) func(*film.State, int32) (float64, string, bool) {
	return func(s *film.State, places int32) (float64, string, bool) {
		q, ok := of(s)
		return q.Float64(u), q.In(u, places).StringFixed(places), ok
	}
}

// spanIn writes a range, rounded outward.
func spanIn[D, E units.Dimension](u units.Scale[D, E], of func(r film.Range) units.ClosedInterval[D, E]) func(film.Range, int32) string {
	return func(r film.Range, places int32) string {
		a := of(r)
		if a.IsEmpty() {
			return ""
		}
		number := func(q units.Value[D, E], m units.Rounding) string {
			return strings.TrimSpace(strings.TrimSuffix(q.Format(u, places, m), u.String()))
		}
		return number(a.Lo(), units.Floor) + ".." + number(a.Hi(), units.Ceiling)
	}
}

// filmColumns are the results, in the order of charts and tables.
func filmColumns() []filmColumn {
	return []filmColumn{
		{"Least film", "µm", "film", 1, inUnit(units.Micrometre, func(s *film.State) (units.Length, bool) { return s.Work.Film.Least, true }),
			spanIn(units.Micrometre, func(r film.Range) units.LengthInterval { return r.Least })},
		{"Least film over roughness", "", "λ", 1, func(s *film.State, places int32) (float64, string, bool) {
			return s.Lambda, fmt.Sprintf("%.*f", places, s.Lambda), s.Lambda > 0
		}, nil},
		{"Temperature of the film", "°C", "temp.", 0, inUnit(units.Celsius, func(s *film.State) (units.Temperature, bool) { return s.Work.Temperature, true }),
			spanIn(units.Celsius, func(r film.Range) units.TemperatureInterval { return r.Temperature })},
		{"Oil that a bearing loses", "L/min", "flow", 2, inUnit(units.LitrePerMinute, func(s *film.State) (units.VolumeFlow, bool) { return s.Work.Film.SideFlow, true }),
			spanIn(units.LitrePerMinute, func(r film.Range) units.VolumeFlowInterval { return r.SideFlow })},
		{"Pressure at the last bearing", "bar", "pump", 1, inUnit(units.Bar, func(s *film.State) (units.Pressure, bool) {
			if s.Pressure == nil {
				return units.Pressure{}, false
			}
			return *s.Pressure, true
		}), spanIn(units.Bar, func(r film.Range) units.PressureInterval { return r.Pressure })},
		{"Friction", "W", "friction", 0, inUnit(units.Watt, func(s *film.State) (units.Power, bool) { return s.Work.Film.Power, true }),
			spanIn(units.Watt, func(r film.Range) units.PowerInterval { return r.Power })},
		{"Largest pressure in the film", "MPa", "peak", 0, inUnit(units.Megapascal, func(s *film.State) (units.Pressure, bool) { return s.Work.Film.PeakPressure, true }),
			spanIn(units.Megapascal, func(r film.Range) units.PressureInterval { return r.PeakPressure })},
	}
}

// columnsOf are those that a film has anything of.
func filmColumnsOf(f job.Film) []filmColumn {
	return slices.DeleteFunc(filmColumns(), func(c filmColumn) bool {
		for _, curve := range f.Curves {
			for _, p := range curve.Points {
				if p.State != nil {
					if _, _, ok := c.value(p.State, c.places); ok {
						return false
					}
				}
			}
		}
		return true
	})
}

// head names a column with its unit.
func (c filmColumn) head() string {
	if c.unit == "" {
		return c.name
	}
	return c.name + ", " + c.unit
}

// filmGiven says what a film was worked out from.
func filmGiven(f job.Film) string {
	c := f.Curves[0].Case
	var oils []string
	for _, x := range f.Curves {
		oils = append(oils, x.Case.Oil.Name)
	}
	text := fmt.Sprintf("One bearing of %v by %v under a steady %s at %v, oil at %v: %s.", c.Bearing.Diameter, c.Bearing.Width, plainly(c.Duty.Load, units.Kilonewton), c.Duty.Speed, degrees(c.Duty.Inlet), strings.Join(oils, " and "))
	switch s := c.Bearing.Supply; s.Groove {
	case film.Circumferential:
		text += fmt.Sprintf(" A groove of %v runs round it, at %s.", s.Width, plainly(s.Pressure, units.Bar))
	default:
		text += " No groove: oil is there where the film begins, as much as it draws."
	}
	if p := c.Pump; p != nil {
		text += fmt.Sprintf(" The pump delivers %v at the most to all %d, and opens at %v; each is taken to lose the same, in proportion to the pressure.", p.Delivery, p.Bearings, plainly(p.Relief, units.Bar))
	}
	return text
}

// plainly is a quantity in a unit, with as many places as it needs, up to four.
func plainly[D, E units.Dimension](q units.Value[D, E], u units.Scale[D, E]) string {
	return q.In(u, 4).String() + " " + u.String()
}

// degrees is a temperature in the unit of the film's table, marked where a tenth of a degree
// rounds it, as one that was typed in °F.
func degrees(t units.Temperature) string {
	rounded := t.In(units.Celsius, 1)
	if units.Celsius.Of(rounded).Equal(t) {
		return rounded.String() + " " + units.Celsius.String()
	}
	return "≈" + rounded.StringFixed(1) + " " + units.Celsius.String()
}

// A filmDoubt is one doubt over all clearances at which it stands.
type filmDoubt struct {
	film.Doubt
	least, most float64 // its number
	from, to    units.Length
}

// doubtsOf gathers the doubts of a film.
func doubtsOf(f job.Film) (list []filmDoubt) {
	for _, curve := range f.Curves {
		for _, p := range curve.Points {
			if p.State == nil {
				continue
			}
			for _, d := range p.State.Doubts {
				i := slices.IndexFunc(list, func(x filmDoubt) bool { return x.About == d.About })
				if i < 0 {
					list = append(list, filmDoubt{d, d.Number, d.Number, p.Clearance, p.Clearance})
					continue
				}
				x := &list[i]
				x.least, x.most = min(x.least, d.Number), max(x.most, d.Number)
				x.from, x.to = units.Min(x.from, p.Clearance), units.Max(x.to, p.Clearance)
			}
		}
	}
	return list
}

// numbers are those of a doubt, against its threshold.
func (d filmDoubt) numbers() string {
	least, most := fmt.Sprintf("%.3g", d.least), fmt.Sprintf("%.3g", d.most)
	if least != most {
		least += ".." + most
	}
	return fmt.Sprintf("%s, threshold %.3g", least, d.Threshold)
}

// brief is a doubt beside a chart.
func (d filmDoubt) brief() string {
	about, _, _ := strings.Cut(d.About, ":")
	return fmt.Sprintf("%s (%s)", about, d.numbers())
}

// whole is a doubt with all that is known of it.
func (d filmDoubt) whole(u units.LengthUnit, places int32) string {
	return fmt.Sprintf("%s. The %s is %s, at clearances from %s to %s. Source: %s.", title(d.About), d.Quantity, d.numbers(),
		d.from.In(u, places).StringFixed(places), d.to.Format(u, places, units.HalfEven), d.Source)
}

// filmRows are the rows of a film's table: every fifth point, both limits among them.
func filmRows(f job.Film, curve job.FilmCurve) (heads []string, rows [][]string) {
	columns := filmColumnsOf(f)
	u, places := f.Unit, f.Places
	heads = []string{u.String()}
	for _, c := range columns {
		heads = append(heads, strings.TrimSpace(c.short+" "+c.unit))
	}
	heads = append(heads, "")
	for i, p := range curve.Points {
		if (i-curve.Lower)%5 != 0 {
			continue
		}
		row := []string{p.Clearance.In(u, places).StringFixed(places)}
		for _, c := range columns {
			text := "-"
			if p.State != nil {
				if _, said, ok := c.value(p.State, c.places); ok {
					text = said
				}
			}
			row = append(row, text)
		}
		switch note := ""; {
		case p.State == nil:
			rows = append(rows, append(row, noFilm+p.Reason))
		default:
			if i == curve.Lower {
				note = "lower limit"
			}
			if i == curve.Upper {
				note = "upper limit"
			}
			rows = append(rows, append(row, note))
		}
	}
	return heads, rows
}

const noFilm = "no film: "

// filmReadings say what each reading leads to, of all oils together.
func filmReadings(f job.Film) (lines []string) {
	u, places := f.Unit, f.Places
	for _, x := range f.Readings {
		if x.Reason != "" {
			lines = append(lines, fmt.Sprintf("%s: %s", x.Location, x.Reason))
			continue
		}
		for i, r := range x.Ranges {
			var parts []string
			for _, c := range filmColumnsOf(f) {
				if c.span == nil {
					continue
				}
				if text := c.span(r, c.places); text != "" {
					parts = append(parts, fmt.Sprintf("%s %s %s", c.short, text, c.unit))
				}
			}
			with := ""
			if len(x.Ranges) > 1 {
				with = ", " + f.Curves[i].Case.Oil.Name
			}
			lines = append(lines, fmt.Sprintf("%s, %s..%s%s: %s", x.Location, x.Clearance.Lo().Rounded(u, places, units.Floor).StringFixed(places),
				x.Clearance.Hi().Format(u, places, units.Ceiling), with, strings.Join(parts, ", ")))
		}
	}
	return lines
}

// aboutRanges says what the ranges of readings are.
const aboutRanges = "Bounds of the model's computed curve over each reading, with the estimate of its error added. The estimate is no bound."

// films writes the films as text.
func (p sheet) films(list []job.Film) {
	for _, f := range list {
		p.section("Oil film, " + f.Bearings + ": a model")
		p.wrapped("", f.Caution)
		p.wrapped("", filmGiven(f))
		for _, curve := range f.Curves {
			p.line("")
			p.wrapped("", "Over clearance, "+curve.Case.Oil.Name)
			p.states(filmRows(f, curve))
		}
		if lines := filmReadings(f); lines != nil {
			p.line("")
			p.wrapped("", "What the readings lead to. "+aboutRanges)
			for _, l := range lines {
				p.wrapped("  ", l)
			}
		}
		p.line("")
		p.doubts(f)
	}
}

// states writes a table of states in columns as wide as their numbers, what each is called over two lines.
func (p sheet) states(heads []string, rows [][]string) {
	last := len(heads) - 1
	var wide []int
	upper, lower := "", ""
	for i, h := range heads[:last] {
		name, unit, _ := strings.Cut(h, " ")
		w := max(utf8.RuneCountInString(name), utf8.RuneCountInString(unit))
		for _, r := range rows {
			w = max(w, utf8.RuneCountInString(r[i]))
		}
		wide = append(wide, w)
		upper, lower = upper+fmt.Sprintf("  %*s", w, name), lower+fmt.Sprintf("  %*s", w, unit)
	}
	p.line(upper)
	p.line(strings.TrimRight(lower, " "))
	for _, r := range rows {
		line := ""
		for i, w := range wide {
			line += fmt.Sprintf("  %*s", w, r[i])
		}
		if strings.HasPrefix(r[last], noFilm) { // as long as it is
			p.wrapped(fmt.Sprintf("  %*s  ", wide[0], r[0]), r[last])
			continue
		}
		p.line(strings.TrimRight(line+"  "+r[last], " "))
	}
}

func (p sheet) doubts(f job.Film) {
	list := doubtsOf(f)
	if list == nil {
		p.wrapped("", noDoubt)
		return
	}
	p.wrapped("", "What it leaves out, with the number that tells")
	u, places := f.Unit, f.Places
	p.wrapped("  - ", swings)
	for _, d := range list {
		p.wrapped("  - ", d.whole(u, places))
	}
}

// noDoubt is said where no number tells of one, and swings always.
const (
	swings  = "The load of a running engine swings; the model's stands still."
	noDoubt = "No number of it passes a threshold; that proves nothing. " + swings
)

// filmID names the section of a film in the page.
func filmID(i int) string { return "film" + strconv.Itoa(i+1) }

// filmSection is a film in the page.
func filmSection(id string, f job.Film) page.Markup {
	u, places := f.Unit, f.Places
	var brief []string
	doubts := page.El("p", page.Text(noDoubt))
	if list := doubtsOf(f); list != nil {
		doubts = page.El("li", page.Text(swings))
		for _, d := range list {
			doubts = page.Join(doubts, page.El("li", page.Text(d.whole(u, places))))
			brief = append(brief, d.brief())
		}
		doubts = page.El("ul", doubts)
	}
	caption := f.Caution + " In doubt: " + strings.Join(brief, "; ") + "."
	if brief == nil {
		caption = f.Caution + " No number passes a threshold of doubt."
	}
	legend := fmt.Sprintf("Over clearance in %s; shaded: the limits, and darker the readings.", u)
	if len(f.Curves) > 1 {
		legend += fmt.Sprintf(" Line a: %s; dashes, b: %s.", f.Curves[0].Case.Oil.Name, f.Curves[1].Case.Oil.Name)
	}
	var lines page.Part
	if list := filmReadings(f); list != nil {
		lines = page.Join(page.El("h3", page.Text("What the readings lead to")), page.Line, page.El("p", page.Class("note"), page.Text(aboutRanges)), page.Line,
			page.El("ul", page.Each(list, item)), page.Line)
	}
	return page.Join(page.El("section", page.Class("film"), page.Attr("aria-labelledby", id), page.Line,
		page.El("h2", page.ID(id), page.Text("Oil film, "+f.Bearings+": a model")), page.Line,
		page.El("p", page.Class("hold"), page.Text(f.Caution)), page.Line,
		page.El("p", page.Text(filmGiven(f))), page.Line,
		page.El("p", page.Class("note"), page.Text(legend)), page.Line,
		page.El("div", page.Class("charts"), page.Line, page.Each(filmColumnsOf(f), func(c filmColumn) page.Markup {
			return page.Join(page.El("figure", page.El("h3", page.Text(c.head())), chartOf(f, c).SVG(), page.El("figcaption", page.Text(caption))), page.Line)
		})), page.Line,
		page.Each(f.Curves, func(curve job.FilmCurve) page.Markup {
			heads, rows := filmRows(f, curve)
			return page.Join(page.Table("states", "Over clearance, "+curve.Case.Oil.Name, heads, rows), page.Line)
		}),
		lines,
		page.El("h3", page.Text("What it leaves out, with the number that tells")), page.Line,
		doubts, page.Line), page.Line, page.Line)
}

// chartOf is the chart of one result. The table of states behind them all has their numbers.
func chartOf(f job.Film, c filmColumn) page.Lines {
	u, places := f.Unit, f.Places
	lo, hi := f.Limits.Lo(), f.Limits.Hi()
	chart := page.Lines{
		Title: c.head(), Empty: "no film anywhere", Limits: page.Span{From: lo.Float64(u), To: hi.Float64(u)},
		X: page.Axis{Ticks: []page.Tick{{At: lo.Float64(u), Text: lo.In(u, places).StringFixed(places)}, {At: hi.Float64(u), Text: hi.In(u, places).StringFixed(places)}}},
	}
	said := [2]string{"-", "-"}
	for _, curve := range f.Curves {
		line := page.Series{Name: curve.Case.Oil.Name}
		for i, p := range curve.Points {
			y := math.NaN()
			if p.State != nil {
				if v, text, ok := c.value(p.State, c.places); ok {
					y = v
					switch {
					case i == curve.Lower && said[0] == "-":
						said[0] = text
					case i == curve.Upper && said[1] == "-":
						said[1] = text
					}
				}
			}
			line.X, line.Y = append(line.X, p.Clearance.Float64(u)), append(line.Y, y)
		}
		chart.Lines = append(chart.Lines, line)
	}
	for _, r := range f.Readings {
		if r.Clearance.HasLo() && r.Clearance.HasHi() {
			chart.Readings = append(chart.Readings, page.Span{From: r.Clearance.Lo().Float64(u), To: r.Clearance.Hi().Float64(u)})
		}
	}
	chart.Desc = fmt.Sprintf("Over clearance: %s at the lower limit of %s, %s at the upper one of %s", said[0], chart.X.Ticks[0].Text, said[1], chart.X.Ticks[1].Text)
	return chart
}
