package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// isUnread is what is known of a row of codes of which nothing was read.
var isUnread = known{"○", "not read", "open", 3}

// ofRow is what is known of a row of codes.
func ofRow(r job.CodeRow) known {
	switch {
	case r.Open:
		return isUnread
	case slices.Contains(stamps(r, r.Text), open):
		return known{"?", "read in part", "open", 2}
	}
	return isRead
}

// stamps are the codes of a text as they stand apart, without the row's mark.
func stamps(r job.CodeRow, text string) []string {
	text = strings.TrimSpace(text)
	if r.Mark != "" {
		rest, front := strings.CutPrefix(text, r.Mark)
		if text = rest; !front {
			text = strings.TrimSuffix(text, r.Mark)
		}
	}
	return strings.Fields(text)
}

// codesSpot is the sheet of all rows of codes.
func (b *benchJob) codesSpot() page.Markup {
	return page.Join(title("Grade codes", "As they are stamped. Choose the row that you read."), page.El("div", page.Class("places"), page.Each(b.CodeRows(), func(r job.CodeRow) page.Markup {
		return opener("place reading", Codes, r.Part, r.Half, page.El("b", page.Text(capital(r.Name)+", on "+r.On)), page.Text(" "), ofRow(r).mark(),
			page.If(!r.Open, page.El("span", page.Class("figure"), page.Text(r.Text))))
	})))
}

// codesSheet is the sheet of a row of codes: the scheme's own codes as keys, and which end it begins at.
func (b *benchJob) codesSheet(s *Sheet, e Edit) page.Markup {
	r, _ := codeRow(b.Job, e)
	s.Plain = true
	if r.Open {
		s.Text = ""
	}
	from, to := r.Locations[0], r.Locations[len(r.Locations)-1]
	note := fmt.Sprintf("As stamped on %s, in their order. ? is one that cannot be read.", r.On)
	var keys []page.Part
	for _, code := range append(slices.Clone(r.Codes), open) {
		says := ""
		if code == open {
			says = "cannot be read"
		}
		keys = append(keys, page.El("button", page.Attr("type", "button"), page.Class("key"), page.Attr("data-code", code), page.If(says != "", page.Attr("aria-label", says)), page.Text(code)))
	}
	if r.Mark != "" && !slices.Contains(r.Codes, r.Mark) {
		keys = append(keys, page.El("button", page.Attr("type", "button"), page.Class("key"), page.Attr("data-code", r.Mark), page.Attr("aria-label", "the mark "+r.Mark), page.Text(r.Mark)))
	}
	keys = append(keys, page.El("button", page.Attr("type", "button"), page.Class("key"), page.Attr("data-code", "back"), page.Attr("aria-label", "take the last away"), page.Text("⌫")))
	parts := []page.Part{title(r.Name, note), field(*s, r.Name, ""), page.El("div", page.Class("pad codes"), page.Attr("role", "group"), page.Attr("aria-label", "codes"), page.Join(keys...))}
	var rows [][2]page.Part
	if len(r.Locations) > 1 {
		var ends []page.Part
		for _, end := range []string{from, to} {
			ends = append(ends, rowFact(Begins, r.Begins, end, "at "+end))
		}
		rows = append(rows, [2]page.Part{page.Text("It begins"), page.El("span", page.Class("ats"), page.Attr("role", "group"), page.Attr("aria-label", "the row begins at"), page.Join(ends...))})
	}
	if r.Upright {
		rows = append(rows, [2]page.Part{page.Text("It stands"), rowFact(Upright, "yes", "yes", "the right way up")})
	}
	if r.Mark != "" {
		rows = append(rows, [2]page.Part{page.Text("Its mark"), page.Text(fmt.Sprintf("%s, beside %s: type it where it stands", r.Mark, r.MarkAt))})
	}
	return page.Join(append(parts, table(rows))...)
}

// rowFact is a choice of how a row is read, beside its codes. Touched where it is chosen, it is taken back.
func rowFact(key Key, was, now, says string) page.Markup {
	return page.El("button", page.Attr("type", "button"), page.Class("small choice"), page.Attr("data-fact", string(key)), page.Attr("data-fact-key", string(key)), page.Attr("data-fact-was", was), page.Attr("data-fact-now", now),
		page.Attr("aria-pressed", strconv.FormatBool(was == now)), page.Text(says))
}

// tryCodes says which shells each location gets with a row of codes. While codes are still to be typed, they count
// as illegible, and the row cannot be stored.
func (b *benchJob) tryCodes(e Edit) Verdict {
	v := Verdict{Slips: []string{}}
	r, there := codeRow(b.Job, e)
	if !there {
		v.Problem = "The job has no such row of codes."
		return v.shown(nil)
	}
	text := strings.TrimSpace(e.Now)
	words := stamps(r, text)
	typed := text
	lacking := len(r.Locations) - len(words)
	if lacking > 0 && !slices.ContainsFunc(words, func(w string) bool { return w != open && !slices.Contains(r.Codes, w) }) {
		text += strings.Repeat(" "+open, lacking)
	}
	t := b.TryCodes(b.assessed, e.Line, e.Place, text)
	if t.Problem != "" {
		v.Problem = t.Problem
		return v.shown(nil)
	}
	var parts []page.Part
	say := func(class, sentence string) {
		v.Says += sentence + " "
		parts = append(parts, page.El("p", page.Class(class), page.Text(sentence)))
	}
	switch {
	case text != typed:
		v.Problem = fmt.Sprintf("%d more: touch each code, or ? for one that cannot be read.", lacking)
		say("problem", v.Problem)
	case t.EitherEnd:
		say("slip", "The row reads from either end. Look in the manual where it begins, and choose it above.")
	case t.UpsideDown:
		say("slip", "The row reads upside down as well. Look at the block and the manual, and say so once it is known to stand upright.")
		parts = append(parts, rowFact(Upright, open, "yes", "It stands the right way up"))
	}
	first := 0 // word of the text that is a code
	if r.Mark != "" && strings.HasPrefix(typed, r.Mark) && len(strings.Fields(typed)) > len(words) {
		first = 1
	}
	if r.Backwards(typed) {
		slices.Reverse(t.At)
	}
	apart := lacking >= 0 && len(words)+max(lacking, 0) == len(r.Locations) && (lacking == 0 || text != typed)
	chosen := 0
	rows := page.Markup{}
	for i, at := range t.At {
		line := []page.Part{page.El("b", page.Text(at.Location)), page.Text(" "), page.El("span", page.Class("code"), page.Text(at.Code)), page.Text(" "), b.shellsAt(at)}
		for _, s := range at.Shells {
			if s.Chosen {
				chosen++
			}
		}
		if apart && i < len(words) { // it can be touched, to type it again
			line = append([]page.Part{page.Attr("type", "button"), page.Class("slot"), page.Attr("data-word", strconv.Itoa(first+i))}, line...)
			rows = page.Join(rows, page.El("button", line...))
		} else {
			rows = page.Join(rows, page.El("div", append([]page.Part{page.Class("slot")}, line...)...))
		}
	}
	parts = append(parts, page.El("div", page.Class("slots"), rows))
	n := 0
	for _, at := range t.At {
		n += len(at.Shells)
	}
	v.Says += fmt.Sprintf("%d of %d have their shells.", chosen, n)
	v.HTML = page.Join(parts...).String()
	return v
}

// shellsAt are the shells of a location, and why they are not known.
func (b *benchJob) shellsAt(at job.CodeAt) page.Markup {
	return page.El("span", page.Class("shells"), page.Each(at.Shells, func(s job.ShellsFor) page.Markup {
		k := known{"?", "open", "open", 0}
		if s.Chosen {
			k = known{"✓", "chosen", "good", 0}
		}
		name := ""
		if s.Location != at.Location {
			name = s.Location + ": "
		}
		return page.El("span", page.Text(name+s.Shells+" "), k.mark(), page.If(s.Why != "", page.El("span", page.Class("note"), page.Text(s.Why))))
	}))
}

// openRows are the rows of codes that are still to be read.
func (b *benchJob) openRows() (open []page.Part) {
	for _, r := range b.CodeRows() {
		if r.Open {
			open = append(open, opener("small", Codes, r.Part, r.Half, page.Text(r.Name)))
		}
	}
	return open
}

// about is what the job says of itself.
func (b *benchJob) about() page.Markup {
	return page.El("div", page.Class("places"), page.Each(b.About(), func(s job.Said) page.Markup {
		k := page.El("span", page.Class("figure"), page.Text(s.Text))
		if s.Text == open {
			k = known{"○", "open", "open", 0}.mark()
		}
		return opener("place reading", About, "", s.Name, page.El("b", page.Text(capital(aboutNames[s.Name]))), page.Text(" "), k)
	}))
}

// aboutNames say in words what a job says of itself.
var aboutNames = map[string]string{"title": "title", "engine": "engine", "build": "build", "by": "built by", "date": "date"}

// suggested are names that planes and directions often have.
var suggested = map[Key][]string{
	Planes:     {"top", "middle", "foot", "front", "rear"},
	Directions: {"crown", "30° from the joint", "along the crank", "across it"},
}

// stationsSheet is the sheet of the names of planes or of directions.
func (b *benchJob) stationsSheet(s *Sheet, m job.Measurable, e Edit) page.Markup {
	s.Plain = true
	names := slices.Clone(suggested[e.Key])
	for _, other := range b.measurables { // those that the job uses come first
		used := other.Planes
		if e.Key == Directions {
			used = other.Directions
		}
		names = slices.DeleteFunc(names, func(name string) bool { return slices.Contains(used, name) })
		names = append(slices.Clone(used), names...)
	}
	note := "The names of the planes that it is read in, one after another along the part, with ; between. A reading then has one figure or one row of directions for each."
	if e.Key == Directions {
		note = "The names of the directions that each plane is read in, with ; between. A reading then has one figure for each, with a blank between."
	}
	return page.Join(title(string(e.Key)+" of "+m.Name, note), textField(*s, string(e.Key)), page.El("div", page.Class("ats"), page.Attr("role", "group"), page.Attr("aria-label", "names that are often used"), page.Each(names, func(name string) page.Markup {
		return page.El("button", page.Attr("type", "button"), page.Class("small"), page.Attr("data-name", name), page.Text(name))
	}), page.El("button", page.Attr("type", "button"), page.Class("small"), page.Attr("data-type", "all"), page.Text("take it all away"))))
}

// aboutSheet is the sheet of one thing that the job says of itself.
func (b *benchJob) aboutSheet(s *Sheet, e Edit) page.Markup {
	s.Plain = true
	all := b.About()
	said := all[slices.IndexFunc(all, func(x job.Said) bool { return x.Name == e.Place })]
	note := capital(said.What) + "."
	if e.Place == "engine" || e.Place == "build" {
		note += " Do not change it once a bolt is pulled."
	}
	return page.Join(title(aboutNames[e.Place], note), textField(*s, aboutNames[e.Place]))
}
