package record

import (
	_ "embed"
	"encoding/base64"
	"html/template"
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

//go:embed page.html
var pageHTML string

//go:embed page.css
var pageCSS string

// pageTemplate is the page, read once.
var pageTemplate = sync.OnceValues(func() (*template.Template, error) {
	return template.New("page").Funcs(template.FuncMap{
		"style":    func() template.CSS { return template.CSS(page.Style + pageCSS) }, // built in
		"heading":  heading,
		"title":    title,
		"measured": measured,
		"stages":   stages,
		"shut":     shut,
		"named":    stage.heading,
		"steps":    stepsHTML,
		"judged":   judgedHTML,
		"workings": workingsHTML,
		"standing": standingMark,
		"seat":     seatStanding,
		"shell":    shell,
		// In an image an SVG can run nothing and ask for nothing, whoever wrote it.
		"picture": func(p job.Picture) template.URL {
			return template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString([]byte(p.SVG)))
		},
		"piece":   func(p piece) template.HTML { return template.HTML(pieceHTML(p)) },
		"order":   func(p job.Pulls) template.HTML { return template.HTML(orderHTML(p)) }, // escapes the names
		"worked":  worked,
		"fits":    fits,
		"upper":   func(k job.ActionKind) string { return strings.ToUpper(k.String()) },
		"kind":    kindMark,
		"passing": passing, "known": known, "against": against, "word": word,
		"again": again, "pullsTitle": pullsTitle, "pullsLine": pullsLine, "orders": orders,
	}).Parse(pageHTML)
})

// view is what the page is made from.
type view struct {
	*job.Assessment
	Card      job.Card
	Rows      []row
	Shells    bool // whether any are chosen
	HeldBack  string
	When      []checksAt
	TrialGate job.Gate
	FinalGate job.Gate
	Worked    bool
	Dense     bool // whether the card is printed smaller, so that it stays on one sheet
	Purchases []job.Shells
	Films     []filmView
}

// checksAt are the checks of one time.
type checksAt struct {
	When string
	What []string
}

// writeHTML writes the record as one page without anything from outside, to keep
// or to print. Its first page in print is the bench card alone.
func writeHTML(w io.Writer, a *job.Assessment) error {
	t, err := pageTemplate()
	if err != nil {
		return err
	}
	c := a.Card()
	v := view{Assessment: a, Card: c, Rows: rows(c), Shells: hasShells(c), HeldBack: heldBack(c), TrialGate: a.Gate(job.Trial), FinalGate: a.Gate(job.Final),
		Worked: slices.ContainsFunc(a.Groups, worked), Purchases: a.Shells, Films: filmViews(a.Films)}
	v.Dense = dense(v.Rows, c)
	for _, x := range c.Checks {
		if n := len(v.When); n > 0 && v.When[n-1].When == title(x.When) {
			v.When[n-1].What = append(v.When[n-1].What, x.What)
		} else {
			v.When = append(v.When, checksAt{title(x.When), []string{x.What}})
		}
	}
	return t.Execute(w, v)
}

// The long tables are written here and not by the template, whose calls for each cell take
// most of the time. Every text goes through escaped.

// judgedHTML are the rows of findings.
func judgedHTML(findings []job.Finding) template.HTML {
	var b strings.Builder
	for i := range findings {
		f := &findings[i]
		b.WriteString(`<tr><th scope="row">` + escaped(f.Location) + `</th><td><span class="reading"><span class="figure">` + escaped(f.Measured.Text) + `</span>`)
		if d := f.Drawing; d != nil {
			b.WriteString(page.OnLimits(d.LimitsFrom, d.LimitsWide, d.ReadingFrom, d.ReadingWide).String())
		}
		if f.How != "" {
			b.WriteString(`<span class="how">` + escaped(f.How) + `</span>`)
		}
		b.WriteString(`</span></td><td><span class="mark ` + mark(f.Verdict) + `">` + escaped(f.Verdict.String()) + "</span></td></tr>\n")
	}
	return template.HTML(b.String())
}

// stepsHTML are the rows of steps.
func stepsHTML(s stage) template.HTML {
	var b strings.Builder
	for _, x := range s {
		held := ""
		if x.Hold != "" {
			held = ` class="hold"`
		}
		b.WriteString(`<tr><td><span class="box"></span></td><td>` + strconv.Itoa(x.Number) + `</td><td>` + escaped(x.Bolt) + `</td><td` + held + `>` + escaped(instruction(x)) + "</td></tr>\n")
	}
	return template.HTML(b.String())
}

// workingsHTML are the workings of findings, which escape their texts.
func workingsHTML(findings []job.Finding) template.HTML {
	var b strings.Builder
	for i := range findings {
		if w := findings[i].Working; w != nil {
			b.WriteString(w.HTML())
		}
	}
	return template.HTML(b.String())
}

// escaped is a text as the template writes it.
func escaped(text string) string { return escapes.Replace(text) }

var escapes = strings.NewReplacer("\x00", "\uFFFD", `"`, "&#34;", "&", "&amp;", "'", "&#39;", "+", "&#43;", "<", "&lt;", ">", "&gt;")

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
