package bench

import (
	"context"
	"errors"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/job"
)

// A Session holds the job that a page shows, so that each key costs a place of it and not all of it. One page
// asks it, one question after another.
type Session struct {
	source   Source
	taken    *job.Job
	revision string    // of the source
	worked   *benchJob // what follows from it, once it was asked for
}

// work is how many cases the search for what to buy may look at, in all.
const work = 10_000

// ErrNotOpen is the error of a question about a job that the session does not hold, or about another text of it.
var ErrNotOpen = errors.New("the job is not open; open it again")

// at returns the job of a revision.
func (s *Session) at(ctx context.Context, revision string) (*benchJob, error) {
	if s.taken == nil || s.revision != revision {
		return nil, ErrNotOpen
	}
	if s.worked == nil {
		b, err := read(ask.WithWork(ctx, work), s.taken)
		if err != nil {
			return nil, err
		}
		s.worked = b
	}
	return s.worked, nil
}

// OpenQuestion opens a job.
type OpenQuestion struct {
	Name   string            `json:"name"`   // of the job's file, for errors
	Text   string            `json:"text"`   // of the job's file
	Beside map[string]string `json:"beside"` // the texts of the files that the job names, such as a plan, by their names as it says them
}

// Open takes a job's text, and shows it.
func (s *Session) Open(ctx context.Context, q OpenQuestion) (View, error) {
	source := Source{q.Name, []byte(q.Text), q.Beside}
	j, err := source.Read()
	if err != nil {
		return View{}, refusal{err}
	}
	b, err := read(ask.WithWork(ctx, work), j)
	if err != nil {
		return View{}, err
	}
	*s = Session{source, j, source.Revision(), b}
	return b.view(s.revision), nil
}

// Taken is what the other questions name a job by that was taken.
type Taken struct {
	Revision string `json:"revision"` // as a View has it
}

// take takes a job's text for a page that has its view already.
func (s *Session) take(_ context.Context, q OpenQuestion) (Taken, error) {
	source := Source{q.Name, []byte(q.Text), q.Beside}
	j, err := source.Read()
	if err != nil {
		return Taken{}, err
	}
	*s = Session{source, j, source.Revision(), nil}
	return Taken{s.revision}, nil
}

// SpotQuestion asks what is measured at a place of the drawing.
type SpotQuestion struct {
	Revision string `json:"revision"` // that of the last view: what is asked is about that text
	At       string `json:"at"`       // as the drawing's buttons have it: "main 3"
}

// SheetQuestion asks for the sheet of one thing.
type SheetQuestion struct {
	Revision string `json:"revision"`
	Key      Key    `json:"key"`
	Line     string `json:"line"`  // as an Edit has it
	Place    string `json:"place"` // likewise
	With     string `json:"with"`  // the instrument that was chosen; empty for the usual one
}

// EditQuestion asks what an edit leads to, or makes it.
type EditQuestion struct {
	Revision string `json:"revision"`
	Edit     Edit   `json:"edit"`
}

// UndoQuestion takes a change back.
type UndoQuestion struct {
	Revision string `json:"revision"`
	Change   Change `json:"change"`
}

// Changed is a job's text after a change, as the page shows it.
type Changed struct {
	Text   string `json:"text"`
	Change Change `json:"change"`
	View   View   `json:"view"`
}

// Questions are those that a page asks. They share one session.
func Questions() ask.Set {
	s := &Session{}
	return ask.Set{
		ask.New("bench open", "opens a job, and shows it as a bench has it", s.Open),
		ask.New("bench take", "takes a job whose view the page has already", s.take),
		ask.New("bench spot", "what is measured at a place of the engine's drawing", func(ctx context.Context, q SpotQuestion) (Sheet, error) {
			b, err := s.at(ctx, q.Revision)
			if err != nil {
				return Sheet{}, err
			}
			html, there := b.spotSheet(q.At)
			if !there {
				return Sheet{}, ErrNoPlace
			}
			return Sheet{HTML: html.String()}, nil
		}),
		ask.New("bench sheet", "how one reading is typed, and what is known of it", func(ctx context.Context, q SheetQuestion) (Sheet, error) {
			b, err := s.at(ctx, q.Revision)
			if err != nil {
				return Sheet{}, err
			}
			return b.sheet(Edit{Key: q.Key, Line: q.Line, Place: q.Place}, q.With)
		}),
		ask.New("bench try", "what a text would lead to, before it is stored", func(ctx context.Context, q EditQuestion) (Verdict, error) {
			b, err := s.at(ctx, q.Revision)
			if err != nil {
				return Verdict{}, err
			}
			return b.try(s.source, q.Edit), nil
		}),
		ask.New("bench set", "stores one reading in the job's text", func(ctx context.Context, q EditQuestion) (Changed, error) {
			if _, err := s.at(ctx, q.Revision); err != nil {
				return Changed{}, err
			}
			return s.changed(ctx)(Set(s.source, q.Edit))
		}),
		ask.New("bench undo", "takes a change of the job's text back", func(ctx context.Context, q UndoQuestion) (Changed, error) {
			if _, err := s.at(ctx, q.Revision); err != nil {
				return Changed{}, err
			}
			return s.changed(ctx)(Undo(s.source, q.Change))
		}),
	}
}

// changed opens what a change made of the job.
func (s *Session) changed(ctx context.Context) func([]byte, Change, error) (Changed, error) {
	return func(text []byte, c Change, err error) (Changed, error) {
		if err != nil {
			return Changed{}, err
		}
		v, err := s.Open(ctx, OpenQuestion{s.source.Name, string(text), s.source.Beside})
		return Changed{string(text), c, v}, err
	}
}
