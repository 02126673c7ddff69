package whole

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/units"
)

// A Record asks for the build record of a job.
type Record struct {
	Name   string `json:"name"`   // of the job's file, for errors: "engine.toml"
	Source string `json:"source"` // the file's text
	Format Format `json:"format"`
	Film   bool   `json:"film"` // with the model of the oil film too, of which the job says what it needs
}

// A Format is a form that a record is written in.
type Format record.Format

// Words are the forms.
func (Format) Words() []string {
	var words []string
	for _, f := range record.Formats() {
		words = append(words, string(f))
	}
	return words
}

// UnmarshalText reads one of the words.
func (f *Format) UnmarshalText(text []byte) error {
	read, err := record.ParseFormat(string(text))
	if err != nil {
		return &units.Error{Kind: units.ErrNotWritten, Where: "format", Found: fmt.Sprintf("%.40q", text), Fix: `write "` + strings.Join(Format("").Words(), `" or "`) + `"`}
	}
	*f = Format(read)
	return nil
}

// Recorded is the answer to Record.
type Recorded struct {
	Title  string `json:"title"`
	Proven bool   `json:"proven"` // everything that the engine asks for is proven right
	Format Format `json:"format"`
	Record string `json:"record"` // the text of the record; of the format json, a text to be parsed
}

// work is how many cases the search for what to buy may look at, in all.
const work = 10_000

func recording(ctx context.Context, q Record) (r Recorded, err error) {
	j, err := job.Read(q.Name, []byte(q.Source))
	if err != nil {
		return r, err
	}
	a, err := j.Assess(ask.WithWork(ctx, work))
	if err != nil {
		return r, err
	}
	if q.Film {
		if a.Films, err = j.Films(ctx, a); err != nil {
			return r, err
		}
	}
	var b bytes.Buffer
	if err := record.Write(&b, record.Format(q.Format), a); err != nil {
		return r, err
	}
	return Recorded{Title: j.Title(), Proven: a.Proven(), Format: q.Format, Record: b.String()}, nil
}
