package record

import (
	_ "embed"
	"io"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units/measure"
)

//go:embed page.css
var pageCSS string

// checksAt are the checks of one time.
type checksAt struct {
	When string
	What []string
}

// writeHTML writes the record as one page without anything from outside, to keep
// or to print. Its first page in print is the bench card alone.
func writeHTML(w io.Writer, a *job.Assessment) error {
	var judged page.Markup
	var beside sync.WaitGroup // the verdicts are half of the page, and no other part asks for them
	beside.Go(func() { judged = verdicts(a) })
	card, steps, worked := cardSection(a), page.Join(plan("trial", "Trial assembly", a.Trial, a.Gate(job.Trial)), plan("plan", "Tightening plan", a.Plan, a.Gate(job.Final))), workings(a)
	beside.Wait()
	body := page.El("main", page.Line,
		card, page.Line, page.Line,
		contents(a), page.Line, page.Line,
		section("next", "What to do next, worst first",
			page.El("ol", page.Class("next"), page.Line, page.Each(a.Next, func(x job.Action) page.Markup {
				return page.Join(page.El("li", page.El("span", marked(kindMark(x.Kind), strings.ToUpper(x.Kind.String()))), page.El("span", page.Text(x.Text))), page.Line)
			})), page.Line), page.Line,
		judged,
		looked(a),
		pictures(a),
		shells(a),
		steps,
		films(a),
		worked,
		page.El("section", page.Class("cautions"), page.Attr("aria-labelledby", "cautions"), page.Line,
			page.El("h2", page.ID("cautions"), page.Text("Cautions")), page.Line,
			page.El("ul", page.Line, page.Each(a.Cautions, func(x string) page.Markup { return page.Join(item(x), page.Line) })), page.Line), page.Line)
	return page.Document{Title: "Build record: " + a.Title, Style: pageCSS, Body: page.Join(body, page.Line)}.Write(w)
}

// section is a section under its heading, which the contents lead to.
func section(id, heading string, parts ...page.Part) page.Markup {
	return page.Join(page.El("section", page.Attr("aria-labelledby", id), page.Line, page.El("h2", page.ID(id), page.Text(heading)), page.Line, page.Join(parts...)), page.Line)
}

// item is a line of a list.
func item(text string) page.Markup { return page.El("li", page.Text(text)) }

// marked is a word that says how something stands.
func marked(class, word string) page.Markup {
	return page.El("span", page.Class("mark "+class), page.Text(word))
}

// heads are those of a table's columns.
func heads(names ...string) page.Markup {
	return page.El("thead", page.El("tr", page.Each(names, func(name string) page.Markup { return page.El("th", page.Attr("scope", "col"), page.Text(name)) })))
}

func cardSection(a *job.Assessment) page.Markup {
	c := a.Card()
	list := rows(c)
	class := "card"
	if dense(list, c) {
		class += " dense"
	}
	note := func(text string) page.Part {
		return page.If(text != "", page.El("p", page.Class("note"), page.Text(text)))
	}
	var when []checksAt
	for _, x := range c.Checks {
		if n := len(when); n > 0 && when[n-1].When == title(x.When) {
			when[n-1].What = append(when[n-1].What, x.What)
		} else {
			when = append(when, checksAt{title(x.When), []string{x.What}})
		}
	}
	var words, torques page.Part
	if len(c.Words) > 0 {
		words = page.Join(page.El("h2", page.Text("Accepted or left out, and not proven")), page.Line, page.El("ul", page.Each(c.Words, func(w job.Word) page.Markup { return item(word(w)) })), page.Line)
	}
	if len(c.Pulls) > 0 {
		torques = page.El("div", page.Class("torques"), page.Line, page.El("h2", page.Text("Torques")), page.Line, page.Each(c.Pulls, func(p job.Pulls) page.Markup { return pullsOf(c, p) }))
	}
	return page.El("section", page.Class(class), page.Attr("aria-labelledby", "card"), page.Line,
		page.El("p", page.Class("kind"), page.Text("Bench card")), page.Line,
		page.El("h1", page.ID("card"), page.Text(a.Title)), page.Line,
		note(a.Note), page.Line,
		note(measured(a)), page.Line,
		page.Each(c.Warnings, func(x string) page.Markup { return page.El("p", page.Text(x)) }), page.Line,
		page.El("h2", page.Text("Gates")), page.Line,
		page.El("ol", page.Class("gates"), page.Line, page.Each(c.Gates, gate)), page.Line,
		words,
		page.El("div", page.Class("parts"), page.Line,
			crankshaft(c, list), page.Line,
			torques, page.Line,
			page.El("div", page.Class("checks"), page.Line, page.El("h2", page.Text("Checks")), page.Line, page.Each(when, func(x checksAt) page.Markup {
				return page.Join(page.El("div", page.El("h3", page.Text(x.When)), page.El("ul", page.Each(x.What, func(what string) page.Markup {
					return page.El("li", box, page.El("span", page.Text(what)))
				}))), page.Line)
			})), page.Line), page.Line)
}

// box is one to tick.
var box = page.El("span", page.Class("box"))

// gate is a line of the card's gates.
func gate(g job.CardGate) page.Markup {
	class, says := bad, page.El("ul", page.Each(against(g), item))
	if g.Open {
		class, says = good, page.El("span", page.Text(known(g)))
	}
	return page.Join(page.El("li", page.El("span", page.Text(title(g.Before.String()))), page.El("span", marked(class, passing(g))), says), page.Line)
}

// crankshaft is the table of bearings, from the front.
func crankshaft(c job.Card, list []row) page.Markup {
	col, chosen := page.Attr("scope", "col"), hasShells(c)
	shellOf := func(r row, grade string) page.Markup {
		return page.El("td", page.Text(shell(grade)), page.If(r.HeldBack, page.Text(" ×")))
	}
	body := page.Each(list, func(r row) page.Markup {
		var shells, figure page.Part
		if chosen {
			shells = page.Join(shellOf(r, r.Upper), shellOf(r, r.Lower))
		}
		if r.Clearance != "" {
			figure = page.El("span", page.Text(r.Clearance))
		}
		return page.Join(page.El("tr", page.El("td", page.Class("line"), r.Piece.alone()), page.El("th", page.Class("bearing"), page.Attr("scope", "row"), page.Text(r.Name)), shells,
			page.El("td", page.El("span", page.Class("clearance"), figure, marked(standingMark(r.Seat.Standing), seatStanding(r.Seat))))), page.Line)
	})
	var columns page.Part
	if chosen {
		columns = page.Join(page.El("th", col, page.Text("upper")), page.El("th", col, page.Text("lower")))
	}
	held := heldBack(c)
	return page.El("div", page.Line, page.El("h2", page.Text("The crankshaft, from the front")), page.Line,
		page.El("table", page.Class("crankshaft"), page.Line,
			page.El("thead", page.El("tr", page.El("th", col, page.El("span", page.Class("hidden"), page.Text("drawing"))), page.El("th", col, page.Text("bearing")), columns, page.El("th", col, page.Text("clearance")))), page.Line,
			page.El("tbody", body), page.Line), page.Line,
		page.If(held != "", page.El("p", page.Class("hold"), page.Text(held))), page.Line)
}

// pullsOf is a group of bolts on the card.
func pullsOf(c job.Card, p job.Pulls) page.Markup {
	order := page.El("p", page.Text("In the order of the final assembly, below."))
	if !again(c, p) {
		order = orderAlone(p)
	}
	var differing page.Part
	if !p.SameOrder() {
		differing = page.Each(orders(p), func(x string) page.Markup { return page.El("p", page.Text(x)) })
	}
	return page.Join(page.El("div", page.Class("pulls"), page.Line,
		page.El("h3", page.Text(pullsTitle(p))), page.Line,
		page.El("p", page.Text(pullsLine(p))), page.Line,
		order, page.Line, differing, page.Line,
		page.Each(p.Held, func(h job.Held) page.Markup {
			return page.El("p", page.El("span", page.Class("hold"), page.Text(h.Names()+" HOLD:")), page.Text(" "+h.Why))
		}), page.Line), page.Line)
}

// contents lead to the sections that there are.
func contents(a *job.Assessment) page.Markup {
	var links []page.Part
	link := func(there bool, id, name string) {
		if there {
			links = append(links, page.El("li", page.El("a", page.Attr("href", "#"+id), page.Text(name))))
		}
	}
	link(true, "next", "What to do next")
	link(len(a.Groups) > 0, "verdicts", "Verdicts")
	link(len(a.Looked) > 0, "looked", "Looked at")
	link(len(a.Shells) > 0, "shells", "Shells")
	link(len(a.Trial) > 0, "trial", "Trial assembly")
	link(len(a.Plan) > 0, "plan", "Tightening")
	for i, f := range a.Films {
		link(true, filmID(i), "Oil film, "+f.Bearings)
	}
	link(slices.ContainsFunc(a.Groups, worked), "working", "Working")
	link(true, "cautions", "Cautions")
	return page.El("nav", page.Attr("aria-label", "the record"), page.Line, page.El("ul", links...), page.Line)
}

func verdicts(a *job.Assessment) page.Markup {
	if len(a.Groups) == 0 {
		return page.Join(page.Line, page.Line)
	}
	return page.Join(section("verdicts", "Verdicts", page.Each(a.Groups, func(g job.Group) page.Markup {
		return page.Join(page.El("h3", page.Text(heading(g))), page.Line,
			page.El("table", page.Class("verdicts"), page.Line, heads("location", "reading", "verdict"), page.Line, page.El("tbody", page.Each(g.Findings, judged)), page.Line), page.Line)
	})), page.Line)
}

// What the many rows of findings have, made once.
var ofRow, classReading, classFigure, classHow page.Part = page.Attr("scope", "row"), page.Class("reading"), page.Class("figure"), page.Class("how")

// judged is a row of a finding.
func judged(f job.Finding) page.Markup {
	var drawn, how page.Part
	if d := f.Drawing; d != nil {
		drawn = page.OnLimits(d.LimitsFrom, d.LimitsWide, d.ReadingFrom, d.ReadingWide)
	}
	if f.How != "" {
		how = page.El("span", classHow, page.Text(f.How))
	}
	return page.Join(page.El("tr", page.El("th", ofRow, page.Text(f.Location)),
		page.El("td", page.El("span", classReading, page.El("span", classFigure, page.Text(f.Measured.Text)), drawn, how)),
		page.El("td", marked(mark(f.Verdict), f.Verdict.String()))), page.Line)
}

func looked(a *job.Assessment) page.Markup {
	if len(a.Looked) == 0 {
		return page.Join(page.Line, page.Line)
	}
	rows := page.Each(a.Looked, func(l job.Looked) page.Markup {
		return page.Join(page.El("tr", page.El("th", page.Attr("scope", "row"), page.Text(l.Name())), page.El("td", page.Text(l.State))), page.Line)
	})
	return page.Join(section("looked", "Looked at", page.El("table", page.Line, heads("what", "found"), page.Line, page.El("tbody", rows), page.Line), page.Line), page.Line)
}

func pictures(a *job.Assessment) page.Markup {
	if len(a.Pictures) == 0 {
		return page.Join(page.Line, page.Line)
	}
	return page.Join(section("pictures", "Drawings", page.Each(a.Pictures, func(p job.Picture) page.Markup {
		return page.Join(page.El("figure", page.Image(p.On, p.SVG), page.El("figcaption", page.Text(p.On))), page.Line)
	})), page.Line)
}

func shells(a *job.Assessment) page.Markup {
	if len(a.Shells) == 0 {
		return page.Join(page.Line, page.Line)
	}
	return page.Join(section("shells", "Shells", page.Each(a.Shells, func(s job.Shells) page.Markup {
		choices := page.Each(s.Choices, func(c job.Choice) page.Markup {
			return page.Join(page.El("tr", page.El("th", page.Attr("scope", "row"), page.Text(c.Location)), page.El("td", page.Text(c.Half)), page.El("td", page.Text(c.Code)), page.El("td", page.Text(c.Grade))), page.Line)
		})
		known := page.Each(s.Locations, func(l job.ShellsAt) page.Markup {
			var open page.Part
			if l.Standing != 0 {
				open = page.El("p", page.Text(l.Location+": "+l.Standing.String()+", "+l.Why+"."))
			}
			return page.Join(open, page.Each(l.Notes, func(n string) page.Markup { return page.El("p", page.Text(l.Location+": "+n+".")) }))
		})
		var bought, offered page.Part
		if s.Purchase != nil {
			bought = page.Join(page.El("h4", page.Text("Shopping list")), page.Line, purchase(*s.Purchase))
		}
		if s.Offer != nil {
			offered = page.Join(page.El("h4", page.Text("Shopping list with other shells: "+fits(s.Offer))), page.Line, purchase(s.Offer.Purchase), page.Line)
		}
		return page.Join(page.El("h3", page.Text(title(s.Bearings))), page.Line,
			page.El("table", page.Line, heads("location", "half", "code", "shell"), page.Line, page.El("tbody", choices), page.Line), page.Line,
			known, page.Line, bought, page.Line, offered)
	})), page.Line)
}

// purchase is what to buy, and what is on hand and left over.
func purchase(p job.Purchase) page.Markup {
	list := page.El("p", page.Text("Nothing to buy."))
	if len(p.Lines) > 0 {
		rows := page.Each(p.Lines, func(l job.PurchaseLine) page.Markup {
			return page.Join(page.El("tr", page.El("td", page.Text(strconv.Itoa(l.Count))), page.El("th", page.Attr("scope", "row"), page.Text(l.Pack)), page.El("td", page.Text(l.Each)), page.El("td", page.Text(l.Sum))), page.Line)
		})
		total := page.El("tr", page.El("td"), page.El("th", page.Attr("scope", "row"), page.Text("total")), page.El("td"), page.El("td", page.Text(p.Total)))
		list = page.El("table", page.Line, heads("number", "pack", "each", "sum"), page.Line, page.El("tbody", rows, total), page.Line)
	}
	counted := func(what string, parts []job.Parts) page.Part {
		var texts []string
		for _, x := range parts {
			texts = append(texts, strconv.Itoa(x.Count)+" "+x.Part)
		}
		return page.If(len(parts) > 0, page.El("p", page.Text(what+": "+strings.Join(texts, ", ")+".")))
	}
	return page.Join(list, page.Line, counted("On hand", p.OnHand), page.Line, counted("Left over", p.LeftOver), page.Line,
		page.If(p.Proof != "", page.El("p", page.Class("note"), page.Text(p.Proof))))
}

// plan is a plan's steps, under what stands against beginning.
func plan(id, heading string, steps []job.PlanStep, g job.Gate) page.Markup {
	if len(steps) == 0 {
		return page.Join(page.Line, page.Line)
	}
	against, held := shut(g), holdsOf(steps)
	step := func(x job.PlanStep) page.Markup { return step(x, held.instruction(x)) }
	return page.Join(section(id, heading, page.If(against != "", page.El("p", page.Class("hold"), page.Text(against))), page.Line, page.Each(stages(steps), func(s stage) page.Markup {
		col := page.Attr("scope", "col")
		return page.Join(page.El("h3", page.Text(s.heading())), page.Line,
			page.El("table", page.Class("steps"), page.Line,
				page.El("thead", page.El("tr", page.El("th", col, page.El("span", page.Class("hidden"), page.Text("done"))), page.El("th", col, page.Text("step")), page.El("th", col, page.Text("bolt")), page.El("th", col, page.Text("do")))), page.Line,
				page.El("tbody", page.Each(s, step)), page.Line), page.Line)
	})), page.Line)
}

// step is a row of a plan, with its instruction.
func step(x job.PlanStep, do string) page.Markup {
	return page.Join(page.El("tr", page.El("td", box), page.El("td", page.Text(strconv.Itoa(x.Number))), page.El("td", page.Text(x.Bolt)),
		page.El("td", page.If(x.Hold != "", page.Class("hold")), page.Text(do))), page.Line)
}

func films(a *job.Assessment) page.Markup {
	var sections []page.Part
	for i, f := range a.Films {
		sections = append(sections, filmSection(filmID(i), f))
	}
	return page.Join(sections...)
}

func workings(a *job.Assessment) page.Markup {
	if !slices.ContainsFunc(a.Groups, worked) {
		return page.Join(page.Line, page.Line)
	}
	return page.Join(section("working", "Working", page.Each(a.Groups, func(g job.Group) page.Markup {
		if !worked(g) {
			return page.Markup{}
		}
		return page.Join(page.El("h3", page.Text(heading(g))), page.Line, page.Each(g.Findings, func(f job.Finding) page.Markup {
			if f.Working == nil {
				return page.Markup{}
			}
			return page.Working(f.Working)
		}))
	})), page.Line)
}

// dense reports whether a card has more than a sheet holds in letters of the usual size.
func dense(rows []row, c job.Card) bool {
	const roomy, letters = 24, 14 // lines of the crankshaft's table; letters of a shell's name in a line
	lines := len(c.Words)
	for _, r := range rows {
		lines += 1 + max(utf8.RuneCountInString(r.Upper), utf8.RuneCountInString(r.Lower), utf8.RuneCountInString(r.Name)-4)/letters
	}
	pulls := 0
	for _, p := range c.Pulls {
		pulls += 3 + 2*len(p.Held)
		if again(c, p) {
			continue
		}
		list, _, _ := spots(p)
		low := 0.0
		for _, s := range list {
			low = max(low, s.y)
		}
		pulls += int(low / 12)
	}
	return lines > roomy || pulls > 2*roomy
}

// worked reports whether any finding of a group has a working to show.
func worked(g job.Group) bool {
	return slices.ContainsFunc(g.Findings, func(f job.Finding) bool { return f.Working != nil })
}

// The classes of what is good, open or bad.
const good, open, bad = "good", "open", "bad"

// mark is the class of a verdict.
func mark(v measure.Verdict) string {
	switch {
	case v.Outside():
		return bad
	case v == measure.Conforming:
		return good
	}
	return open
}

// standingMark is the class of a standing.
func standingMark(s job.Standing) string {
	switch s {
	case job.Proven:
		return good
	case job.Wrong:
		return bad
	}
	return open
}

// kindMark is the class of an action.
func kindMark(k job.ActionKind) string {
	switch k {
	case job.Stop:
		return bad
	case job.GoOn:
		return good
	}
	return open
}
