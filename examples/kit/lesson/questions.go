package lesson

import (
	"context"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/page"
)

// Redraw asks a lesson to show itself with its controls at these places.
type Redraw struct {
	Lesson string  `json:"lesson"`
	At     []int64 `json:"at"` // one for each control, in the lesson's order
}

// Tasks asks for the exercises of a lesson.
type Tasks struct {
	Lesson string `json:"lesson"`
	Seed   int64  `json:"seed"` // from 0 to MaxSeed
}

// Set is the exercises of a lesson, as HTML.
type Set struct {
	Tasks []string `json:"tasks"`
}

// Try asks what to think of an answer.
type Try struct {
	Lesson   string `json:"lesson"`
	Seed     int64  `json:"seed"`
	Exercise int64  `json:"exercise"` // 1 or 2
	Typed    string `json:"typed"`
}

// Tried is the judgement. Working is HTML, and empty for an answer that is wrong.
type Tried struct {
	Right   bool   `json:"right"`
	Reason  string `json:"reason"`
	Working string `json:"working"`
}

// Sheet asks for the teacher's key.
type Sheet struct {
	Seed int64 `json:"seed"`
}

// Keys is the teacher's key, as HTML.
type Keys struct {
	HTML string `json:"html"`
}

// Questions are those of the pages, for package ask.
func Questions() ask.Set {
	return ask.Set{
		ask.New("lesson", "What a lesson shows with its controls at these places.", func(_ context.Context, q Redraw) (Shown, error) {
			l, err := Find(q.Lesson)
			if err != nil {
				return Shown{}, err
			}
			return l.At(q.At)
		}),
		ask.New("exercises", "The exercises of a lesson for a seed.", func(_ context.Context, q Tasks) (Set, error) {
			l, err := Find(q.Lesson)
			if err != nil {
				return Set{}, err
			}
			both, err := l.Exercises(q.Seed)
			if err != nil {
				return Set{}, err
			}
			return Set{[]string{both[0].markup().String(), both[1].markup().String()}}, nil
		}),
		ask.New("answer", "Whether a student's answer is right, and if not, why.", func(_ context.Context, q Try) (Tried, error) {
			l, err := Find(q.Lesson)
			if err != nil {
				return Tried{}, err
			}
			both, err := l.Exercises(q.Seed)
			if err != nil {
				return Tried{}, err
			}
			if err := (Control{Name: "exercise", From: 1, To: 2, Step: 1}).check(q.Exercise); err != nil {
				return Tried{}, err
			}
			e := &both[q.Exercise-1]
			a := e.Judge(q.Typed)
			tried := Tried{Right: a.Right, Reason: a.Reason}
			if a.Right {
				tried.Working = page.Working(&e.Working).String()
			}
			return tried, nil
		}),
		ask.New("key", "The right answers of all lessons for a seed, and the usual mistakes.", func(_ context.Context, q Sheet) (Keys, error) {
			m, err := key(q.Seed)
			return Keys{m.String()}, err
		}),
	}
}
