package lesson

import (
	"errors"
	"strconv"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

// ErrNoSuch is the kind of error for a lesson, an exercise or a place of a control that there is not.
var ErrNoSuch = errors.New("no such thing in the lessons")

// A Lesson is one page of the course.
type Lesson struct {
	Key      string // its name in addresses and questions
	Title    string
	Question string   // that it opens with
	Reads    []string // paragraphs; they hold no number
	Try      []string // what to move and look for
	Caution  string   // where the work can hurt somebody or wreck the engine
	Controls []Control

	show      func(at []int64) (view, error)
	exercises [2]func(d *draws) setter
}

// view is what a lesson shows.
type view struct {
	said    []string // sentences, the verdict first
	charts  []page.Chart
	working func() ([]units.Working, error) // nil where there is none
}

// All are the lessons in their order.
func All() []*Lesson {
	return []*Lesson{interval(), exact(), doubts(), stacking(), selective(), deciding(), tightening(), oilFilm()}
}

// Find returns a lesson by its key; the error is of kind ErrNoSuch.
func Find(key string) (*Lesson, error) { return find(All(), key) }

func find(lessons []*Lesson, key string) (*Lesson, error) {
	keys := ""
	for _, l := range lessons {
		if l.Key == key {
			return l, nil
		}
		keys += ", " + l.Key
	}
	return nil, &units.Error{Kind: ErrNoSuch, Where: "lesson", Found: key, Fix: "one of " + keys[2:]}
}

// Start is where the controls begin.
func (l *Lesson) Start() (at []int64) {
	for _, c := range l.Controls {
		at = append(at, c.Start)
	}
	return at
}

// Shown is a lesson with its controls at one place. All but Values is HTML that package page made.
type Shown struct {
	Values           []string // what each control says
	Said             string
	Drawings, Tables []string // one of each for a chart
	Working          string
}

// At shows the lesson. The error is of kind ErrNoSuch for places where its controls cannot stand.
func (l *Lesson) At(at []int64) (Shown, error) { return l.shownAt(at, false) }

// shownAt is At; moving leaves the working and the tables out, which take as long as the rest and are read when
// the controls stand still.
func (l *Lesson) shownAt(at []int64, moving bool) (Shown, error) {
	if len(at) != len(l.Controls) {
		return Shown{}, &units.Error{Kind: ErrNoSuch, Where: "at", Found: strconv.Itoa(len(at)) + " numbers", Fix: "one for each of the " + strconv.Itoa(len(l.Controls)) + " controls"}
	}
	s := Shown{}
	for i, c := range l.Controls {
		if err := c.check(at[i]); err != nil {
			return Shown{}, err
		}
		s.Values = append(s.Values, c.Says(at[i]))
	}
	v, err := l.show(at)
	if err != nil {
		return Shown{}, err
	}
	s.Said = v.sentences().String()
	for _, c := range v.charts {
		s.Drawings = append(s.Drawings, page.Drawing(c).String())
	}
	if moving {
		return s, nil
	}
	for _, c := range v.charts {
		s.Tables = append(s.Tables, c.Table().String())
	}
	working, err := v.workings()
	s.Working = working.String()
	return s, err
}

func (v view) sentences() page.Markup {
	return page.Each(v.said, func(text string) page.Markup { return page.El("p", page.Text(text)) })
}

func (v view) workings() (page.Markup, error) {
	if v.working == nil {
		return page.Markup{}, nil
	}
	workings, err := v.working()
	return page.Each(workings, func(w units.Working) page.Markup { return page.Working(&w) }), err
}
