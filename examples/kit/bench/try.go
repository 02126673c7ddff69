package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// A Verdict is what a text would lead to, before it is stored.
type Verdict struct {
	HTML    string   `json:"html"`    // the verdict in words, with its picture
	Problem string   `json:"problem"` // why it cannot be stored; empty if it can be
	Slips   []string `json:"slips"`   // what it may have been meant as: whoever typed it is asked first
	Says    string   `json:"says"`    // all of it in a sentence, for who hears it
}

// try judges what an edit would lead to. Only a reading has a verdict; of all else it says whether the job
// takes it.
func (b *benchJob) try(s Source, e Edit) Verdict {
	j, v := b.Job, Verdict{Slips: []string{}}
	if e.Key == Codes {
		return b.tryCodes(e)
	}
	if e.Key != Reading {
		if text, _, err := Set(s, e); err != nil {
			v.Problem = capital(InWords(err))
		} else if e.Key == Instrument {
			if after, err := (Source{s.Name, text, s.Beside}).Read(); err == nil && after.AskedOf(e.Line) != "" {
				v.Slips = append(v.Slips, after.AskedOf(e.Line))
			}
		} else if others, all := toName(s, j, e.Line, e.Was); e.Key == BoltState && all {
			v.Says = fmt.Sprintf("The job says %s = \"all\" of the %s. Stored, it names the other %d, and %s is %s.", e.Was, e.Line, len(others)-1, e.Place, saidOf(e.Now))
			return v.shown([]page.Part{page.El("p", page.Text(v.Says))})
		}
		return v.shown(nil)
	}
	t := j.Try(e.Line, e.Place, strings.TrimSpace(e.Now), e.Sure)
	v.Problem, v.Slips = t.Problem, append(v.Slips, t.Slips...)
	if t.Problem != "" {
		return v.shown(nil)
	}
	var parts []page.Part
	for _, l := range t.Looked {
		k := isWrong
		if l.Good {
			k = isProven
		}
		parts = append(parts, page.El("p", page.El("b", page.Text(capital(l.State)+" ")), k.mark()))
		v.Says = l.Name() + ": " + l.State
	}
	for i, f := range t.Findings {
		parts = append(parts, judged(i, f))
		if f.Taken || len(t.Findings) == 1 {
			v.Says += f.Name() + " " + f.Measured.Text + ": " + verdictWord(f) + ". "
		}
	}
	if len(t.Looked)+len(t.Findings) == 0 {
		v.Says = "It can be read. Nothing is judged by it yet."
		parts = append(parts, page.El("p", page.Text(v.Says)))
	}
	return v.shown(parts)
}

// shown writes what is to be shown.
func (v Verdict) shown(parts []page.Part) Verdict {
	switch {
	case v.Problem != "":
		parts = []page.Part{page.El("p", page.Class("problem"), page.Text(v.Problem))}
		v.Says = v.Problem
	case len(parts) == 0:
		parts = []page.Part{page.El("p", page.Text("It can be stored."))}
		v.Says = "It can be stored."
	}
	for _, slip := range v.Slips {
		v.Says = "Is it right? " + slip
		parts = append([]page.Part{page.El("p", page.Class("slip"), page.El("b", page.Text("Is it right? ")), page.Text(capital(slip)+"."))}, parts...)
	}
	v.HTML = page.Join(parts...).String()
	return v
}

// saidOf is a bolt's state in words.
func saidOf(state string) string {
	if state == open || state == "" {
		return "open"
	}
	return state
}

func verdictWord(f job.Finding) string {
	switch {
	case !f.Taken:
		return "not known yet"
	case f.Tolerance.Lo == nil && f.Tolerance.Hi == nil:
		return "no limits"
	}
	return f.Verdict.String()
}

// judged is a finding in words, with its picture.
func judged(i int, f job.Finding) page.Markup {
	k := known{"?", verdictWord(f), "open", 0}
	switch {
	case f.Taken && f.Verdict.Outside():
		k.sign, k.class = "✕", "bad"
	case f.Taken && k.word == "conforming":
		k.sign, k.class = "✓", "good"
	case !f.Taken:
		k.sign = "○"
	}
	var figure page.Part
	if f.Taken {
		c := page.Intervals{ID: "verdict-" + strconv.Itoa(i), Title: f.Name(), Desc: f.Name() + " " + f.Measured.Text + ", limits " + f.Tolerance.Text, X: page.Axis{},
			Rows: []page.Interval{{Name: "read", Reading: spanOf(f.Measured), Limits: spanOf(f.Tolerance), Reads: f.Measured.Text, Limited: "limits " + f.Tolerance.Text}}}
		if f.Tolerance.Lo == nil && f.Tolerance.Hi == nil {
			c.Rows[0].Limits = page.Span{}
		}
		figure = c.SVG()
	}
	said := "limits " + f.Tolerance.Text
	if f.Taken {
		said = f.Measured.Text + ", " + said
	}
	return page.El("div", page.Class("finding"), page.El("p", page.El("b", page.Text(capital(f.Name())+" ")), k.mark()), page.El("p", page.Text(said)), figure,
		page.If(f.Advice != "", page.El("p", page.Class("note"), page.Text(capital(f.Advice)+"."))))
}

// spanOf is a range as a picture has it.
func spanOf(r job.Range) page.Span {
	s := page.Span{From: math.Inf(-1), To: math.Inf(1)}
	if r.Lo != nil {
		s.From = number(*r.Lo)
	}
	if r.Hi != nil {
		s.To = number(*r.Hi)
	}
	return s
}
