package lesson

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

// Questions answers the questions of the pages. It keeps what the next slider does not change.
type Questions struct{ lessons []*Lesson }

// NewQuestions returns the questions of all lessons.
func NewQuestions() *Questions { return &Questions{All()} }

// asked is what a question may say. A question says all that it needs, and nothing else.
type asked struct {
	lesson   string
	at       []int64 // one for each control, in the lesson's order
	moving   bool    // whether a control is being moved: then tables and working are left for later
	seed     int64   // from 0 to MaxSeed
	exercise int64   // 1 or 2
	typed    string
}

// A question has a name, the keys that it needs, and a func that writes the answer.
type question struct {
	name   string
	keys   []string
	answer func(q *Questions, a asked) (object, error)
}

func questions() []question {
	return []question{
		{"lesson", []string{"at", "lesson", "moving"}, (*Questions).lesson},
		{"exercises", []string{"lesson", "seed"}, (*Questions).exercises},
		{"answer", []string{"exercise", "lesson", "seed", "typed"}, (*Questions).judge},
		{"key", []string{"seed"}, (*Questions).key},
	}
}

// Answer answers a document with a document, in the form of package ask, which is read and written here
// without reflection: that would be a tenth of the module. It never fails and never panics.
func (q *Questions) Answer(_ context.Context, doc []byte) (reply []byte) {
	defer func() {
		if v := recover(); v != nil {
			reply = refusal(&units.Error{Kind: errBroken, Found: fmt.Sprint(v), Fix: "this is a defect of closefit: report it with the question"})
		}
	}()
	asking, a, err := readQuestion(doc)
	if err != nil {
		return refusal(err)
	}
	o, err := asking.answer(q, a)
	if err != nil {
		return refusal(err)
	}
	return object(nil).number("closefit", 1).raw("answer", o.text()).text()
}

// readQuestion reads which question a document asks, and what it says.
func readQuestion(doc []byte) (question, asked, error) {
	name, a, said, err := readDocument(doc)
	if err != nil {
		return question{}, a, err
	}
	var names []string
	for _, x := range questions() {
		if x.name != name {
			names = append(names, x.name)
			continue
		}
		if slices.Sort(said); !slices.Equal(said, x.keys) {
			return x, a, notRead(`document, "with"`, strings.Join(said, ", "), "say each of "+strings.Join(x.keys, ", "))
		}
		return x, a, nil
	}
	return question{}, a, notRead(`document, "question"`, fmt.Sprintf("%.40q", name), "ask one of: "+strings.Join(names, ", "))
}

func (q *Questions) lesson(a asked) (object, error) {
	l, err := find(q.lessons, a.lesson)
	if err != nil {
		return nil, err
	}
	shown, err := l.shownAt(a.at, a.moving)
	if err != nil {
		return nil, err
	}
	return object(nil).list("values", shown.Values).words("said", shown.Said).list("drawings", shown.Drawings).list("tables", shown.Tables).words("working", shown.Working), nil
}

func (q *Questions) exercises(a asked) (object, error) {
	both, err := q.both(a)
	if err != nil {
		return nil, err
	}
	return object(nil).list("tasks", []string{both[0].markup().String(), both[1].markup().String()}), nil
}

func (q *Questions) both(a asked) ([2]Exercise, error) {
	l, err := find(q.lessons, a.lesson)
	if err != nil {
		return [2]Exercise{}, err
	}
	return l.Exercises(a.seed)
}

// judge says whether an answer is right, and why not; the working is HTML, and empty for an answer that
// is wrong.
func (q *Questions) judge(a asked) (object, error) {
	both, err := q.both(a)
	if err != nil {
		return nil, err
	}
	if err := (Control{Name: "exercise", From: 1, To: 2, Step: 1}).check(a.exercise); err != nil {
		return nil, err
	}
	e := &both[a.exercise-1]
	judged, working := e.Judge(a.typed), ""
	if judged.Right {
		working = page.Working(&e.Working).String()
	}
	return object(nil).raw("right", strconv.AppendBool(nil, judged.Right)).words("reason", judged.Reason).words("working", working), nil
}

func (q *Questions) key(a asked) (object, error) {
	m, err := key(a.seed)
	return object(nil).words("html", m.String()), err
}
