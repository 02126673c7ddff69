package conform

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/big"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/units"
)

// An answer is the object that answers a question.
type answer = map[string]any

// an answerer answers the questions of one kind.
type answerer func(q json.RawMessage) (answer, error)

// kind makes an answerer of a function that takes the question's own type.
func kind[Q any](of func(Q) (answer, error)) answerer {
	return func(text json.RawMessage) (answer, error) {
		var q Q
		d := json.NewDecoder(bytes.NewReader(text))
		d.DisallowUnknownFields()
		if err := d.Decode(&q); err != nil {
			return nil, err
		}
		return of(q)
	}
}

// remembered keeps the answers of a kind that takes long: several facts ask the same of one case.
func remembered(of answerer) answerer {
	const most = 32
	known := map[string]answer{}
	return func(text json.RawMessage) (answer, error) {
		if a, is := known[string(text)]; is {
			return a, nil
		}
		a, err := of(text)
		if err == nil {
			if len(known) == most {
				clear(known)
			}
			known[string(text)] = a
		}
		return a, err
	}
}

// answerers are all kinds, by topic.
func answerers() map[string]map[string]answerer {
	return map[string]map[string]answerer{
		"convert": convertKinds(),
		"combine": combineKinds(),
		"judge":   judgeKinds(),
		"assign":  assignKinds(),
		"buy":     {"buy": kind(buyCheapest)},
		"stack":   stackKinds(),
		"threads": threadKinds(),
		"isofit":  isofitKinds(),
		"torque":  torqueKinds(),
		"plan":    planKinds(),
		"film":    filmKinds(),
	}
}

// Answer reads questions and writes the library's answers, until the questions or the context end.
func Answer(ctx context.Context, from io.Reader, to io.Writer) error {
	lines := bufio.NewScanner(from)
	lines.Buffer(nil, MaxLine)
	out := bufio.NewWriter(to)
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	all := answerers()
	for ctx.Err() == nil && lines.Scan() {
		var q struct {
			ID       string          `json:"id"`
			Topic    string          `json:"topic"`
			Kind     string          `json:"kind"`
			Question json.RawMessage `json:"question"`
		}
		if err := json.Unmarshal(lines.Bytes(), &q); err != nil {
			return fmt.Errorf("this is no question: %w", err)
		}
		reply := answer{"id": q.ID}
		if a, err := answered(all[q.Topic][q.Kind], q.Question); err != nil {
			reply["cannot"] = err.Error()
		} else {
			reply["answer"] = a
		}
		if err := errors.Join(e.Encode(reply), out.Flush()); err != nil {
			return err
		}
	}
	return lines.Err()
}

func answered(by answerer, question json.RawMessage) (answer, error) {
	if by == nil {
		return nil, errors.New("no such kind of question")
	}
	return by(question)
}

// none is the answer where nothing fits.
func none() answer { return answer{"none": true} }

// digits writes a number with all its digits, or as a ratio.
func digits(r *big.Rat) string {
	if n, exact := r.FloatPrec(); exact && n <= 60 {
		return r.FloatString(n)
	}
	return r.RatString()
}

// in is a quantity's number in a unit.
func in[D, E units.Dimension](q units.Value[D, E], u units.Scale[D, E]) string {
	return digits(q.Rat(u))
}

// named is an answer of one quantity in the unit that the question names.
func named[D units.Dimension](key string, q units.Quantity[D], unit string) (answer, error) {
	u, err := units.Parse[units.Unit[D]](unit)
	if err != nil {
		return nil, err
	}
	return answer{key: in(q, u)}, nil
}

// ends are both ends of an interval in a unit.
func ends[D units.Dimension](a units.Interval[D], u units.Unit[D]) answer {
	lo, hi := bounds(a, u)
	return answer{"lo": lo, "hi": hi}
}

func bounds[D units.Dimension](a units.Interval[D], u units.Unit[D]) (lo, hi any) {
	if a.HasLo() {
		lo = in(a.Lo(), u)
	}
	if a.HasHi() {
		hi = in(a.Hi(), u)
	}
	return lo, hi
}

// asked is what package ask answers, as an object.
func asked(name string, with any) (map[string]any, error) {
	text, err := json.Marshal(map[string]any{"closefit": 1, "question": name, "with": with})
	if err != nil {
		return nil, err
	}
	var reply struct {
		Answer map[string]any `json:"answer"`
		Error  *ask.Refusal   `json:"error"`
	}
	d := json.NewDecoder(bytes.NewReader(ask.Library().Answer(context.Background(), text)))
	d.UseNumber()
	if err := d.Decode(&reply); err != nil {
		return nil, err
	}
	if reply.Error != nil {
		return nil, &refused{*reply.Error}
	}
	return reply.Answer, nil
}

// refused is an error of package ask.
type refused struct{ ask.Refusal }

func (r *refused) Error() string { return r.Message }

// is reports whether the refusal is of a kind.
func (r *refused) is(kind error) bool { return r.Kind != nil && *r.Kind == kind.Error() }
