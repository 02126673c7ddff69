package conform

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
)

// A Report says what a program answered.
type Report struct {
	Closefit    int      `json:"closefit"`
	Command     []string `json:"command"`
	Interrupted bool     `json:"interrupted"`
	Passed      bool     `json:"passed"` // everything that was asked is answered right, and there is no fault
	Topics      []Count  `json:"topics"`
	Wrong       []Wrong  `json:"wrong"`
	Unanswered  []Silent `json:"unanswered"`
	Faults      []Fault  `json:"faults"`

	vectors map[string]Vector
	order   []Vector
	state   map[string]*result
	waiting int
}

// A Count is how a topic was answered.
type Count struct {
	Topic       string `json:"topic"`
	Asked       int    `json:"asked"`
	Right       int    `json:"right"`
	Exact       int    `json:"exact"` // of these without needing a tolerance
	Wrong       int    `json:"wrong"`
	NotAnswered int    `json:"not_answered"`
}

// A Wrong is an answer that is not right.
type Wrong struct {
	ID        string            `json:"id"`
	Topic     string            `json:"topic"`
	Kind      string            `json:"kind"`
	Question  map[string]any    `json:"question"`
	Want      map[string]any    `json:"want"`
	Tolerance map[string]string `json:"tolerance,omitempty"`
	Got       string            `json:"got"` // as the program wrote it, shortened
	Why       string            `json:"why"`
	Source    string            `json:"source"`
	Harm      string            `json:"harm"`
}

// A Silent is a question without an answer.
type Silent struct {
	ID    string `json:"id"`
	Topic string `json:"topic"`
	Why   string `json:"why"` // what the program said, or that it said nothing
}

// A Fault is what a program did besides answering.
type Fault struct {
	Kind  string `json:"kind"` // "garbage", "unknown id", "answered twice", "stopped", "died", "left early"
	What  string `json:"what"`
	Wrote string `json:"wrote"` // shortened
}

// result is what became of one question.
type result struct {
	answered bool
	cannot   string
	wrong    string
	got      string
	exact    bool
}

func newReport(command []string, vectors []Vector) *Report {
	r := &Report{Closefit: 1, Command: command, Wrong: []Wrong{}, Unanswered: []Silent{}, Faults: []Fault{},
		vectors: map[string]Vector{}, order: vectors, state: map[string]*result{}, waiting: len(vectors)}
	for _, v := range vectors {
		r.vectors[v.ID] = v
		r.state[v.ID] = &result{}
	}
	return r
}

func (r *Report) answered() int { return len(r.order) - r.waiting }

func (r *Report) fault(kind, what, wrote string) {
	r.Faults = append(r.Faults, Fault{kind, what, wrote})
}

// noAnswer says why a line is no answer, and what to write instead.
func noAnswer(err error) string {
	var wrong *json.UnmarshalTypeError
	switch {
	case !errors.As(err, &wrong):
		return "no JSON object in one line: " + shortened(err.Error())
	case wrong.Field == "":
		return fmt.Sprintf("no JSON object: it is of the kind %q; write {\"id\": …, \"answer\": {…}}", wrong.Value)
	case wrong.Field == "answer":
		return fmt.Sprintf("\"answer\" is of the kind %q; write an object with the keys that are wanted", wrong.Value)
	}
	return fmt.Sprintf("%q is of the kind %q; write a text", wrong.Field, wrong.Value)
}

// take takes one line of a program.
func (r *Report) take(line []byte) {
	if len(bytes.TrimSpace(line)) == 0 {
		return
	}
	var a struct {
		ID     *string        `json:"id"`
		Answer map[string]any `json:"answer"`
		Cannot *string        `json:"cannot"`
	}
	d := json.NewDecoder(bytes.NewReader(line))
	d.UseNumber()
	wrote := shortened(string(line))
	switch err := d.Decode(&a); {
	case err != nil:
		r.fault("garbage", noAnswer(err), wrote)
		return
	case d.More():
		r.fault("garbage", "more than one JSON value in a line", wrote)
		return
	case a.ID == nil:
		r.fault("garbage", "no id", wrote)
		return
	}
	at, asked := r.state[*a.ID]
	switch {
	case !asked:
		r.fault("unknown id", shown(*a.ID)+" was not asked", wrote)
		return
	case at.answered || at.cannot != "":
		r.fault("answered twice", shown(*a.ID), wrote)
		at.answered, at.wrong, at.got = true, "answered twice", wrote
		return
	}
	r.waiting--
	switch {
	case a.Cannot != nil && a.Answer == nil:
		at.cannot = "cannot: " + shortened(*a.Cannot)
	case a.Answer == nil || a.Cannot != nil:
		at.answered, at.wrong, at.got = true, `neither one "answer" nor one "cannot"`, wrote
	default:
		at.answered, at.got = true, wrote
		at.wrong, at.exact = r.vectors[*a.ID].compare(a.Answer)
	}
}

// finish counts.
func (r *Report) finish() {
	counts := map[string]*Count{}
	for _, topic := range Topics() {
		counts[topic] = &Count{Topic: topic}
	}
	for _, v := range r.order {
		c, at := counts[v.Topic], r.state[v.ID]
		c.Asked++
		switch {
		case at.wrong != "":
			c.Wrong++
			r.Wrong = append(r.Wrong, Wrong{v.ID, v.Topic, v.Kind, v.Question, v.Want, v.Tolerance, at.got, at.wrong, v.Source, v.Harm})
		case at.answered:
			c.Right++
			if at.exact {
				c.Exact++
			}
		default:
			c.NotAnswered++
			why := at.cannot
			if why == "" {
				why = "no answer"
			}
			r.Unanswered = append(r.Unanswered, Silent{v.ID, v.Topic, why})
		}
	}
	r.Topics = []Count{}
	for _, topic := range Topics() {
		if counts[topic].Asked > 0 {
			r.Topics = append(r.Topics, *counts[topic])
		}
	}
	r.Passed = len(r.order) > 0 && !r.Interrupted && len(r.Wrong) == 0 && len(r.Unanswered) == 0 && len(r.Faults) == 0
}

// JSON writes the report for other programs.
func (r *Report) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(r)
}

// Text writes the report for a person.
func (r *Report) Text(w io.Writer) error {
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "topic\tasked\tright\tof these exact\twrong\tnot answered\t")
	var all Count
	for _, c := range r.Topics {
		fmt.Fprintf(t, "%s\t%d\t%d\t%d\t%d\t%d\t\n", c.Topic, c.Asked, c.Right, c.Exact, c.Wrong, c.NotAnswered)
		all.Asked, all.Right, all.Exact, all.Wrong, all.NotAnswered = all.Asked+c.Asked, all.Right+c.Right, all.Exact+c.Exact, all.Wrong+c.Wrong, all.NotAnswered+c.NotAnswered
	}
	fmt.Fprintf(t, "all\t%d\t%d\t%d\t%d\t%d\t\n", all.Asked, all.Right, all.Exact, all.Wrong, all.NotAnswered)
	t.Flush()
	faults, wrong := r.writeFaults(&b), r.writeWrong(&b)
	if faults || wrong {
		fmt.Fprintf(&b, "\nOf more than %d of a kind some are shown; -format json gives all.\n", examples)
	}
	silent := map[[2]string]int{}
	var reasons [][2]string
	for _, s := range r.Unanswered {
		key := [2]string{s.Topic, s.Why}
		if silent[key]++; silent[key] == 1 {
			reasons = append(reasons, key)
		}
	}
	if len(reasons) > 0 {
		fmt.Fprintln(&b, "\nNot answered:")
	}
	const most = 50
	for _, key := range reasons[:min(most, len(reasons))] {
		fmt.Fprintf(&b, "  %-8s  %5d  %s\n", key[0], silent[key], printable(key[1]))
	}
	if len(reasons) > most {
		fmt.Fprintf(&b, "  and for %d other reasons\n", len(reasons)-most)
	}
	switch {
	case r.Interrupted:
		fmt.Fprintln(&b, "\nInterrupted: this is what there was.")
	case r.Passed:
		fmt.Fprintln(&b, "\nPassed: all that was asked is answered right.")
	default:
		fmt.Fprintln(&b, "\nNot passed.")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// examples is how many wrong answers, or faults, of one kind the text shows.
const examples = 3

// shownOf are the places of the examples among n of a kind: all of a few, else the first, the middle and the last,
// because neighbours are mostly wrong in one way.
func shownOf(n int) []int {
	if n > examples {
		return []int{0, n / 2, n - 1}
	}
	return []int{0, 1, 2}[:n]
}

// writeFaults writes what the program did besides answering, and reports whether it left some out.
func (r *Report) writeFaults(b *strings.Builder) (left bool) {
	byKind := map[string][]Fault{}
	var kinds []string
	for _, f := range r.Faults {
		if byKind[f.Kind] == nil {
			kinds = append(kinds, f.Kind)
		}
		byKind[f.Kind] = append(byKind[f.Kind], f)
	}
	for _, kind := range kinds {
		of := byKind[kind]
		if len(of) > examples {
			left = true
			fmt.Fprintf(b, "\n%s, %d times:\n", kind, len(of))
		}
		for _, i := range shownOf(len(of)) {
			fmt.Fprintf(b, "\n%s: %s\n", kind, printable(of[i].What))
			if of[i].Wrote != "" {
				fmt.Fprintf(b, "  it wrote  %s\n", printable(of[i].Wrote))
			}
		}
	}
	return left
}

// writeWrong writes, for each kind of question, how many answers are wrong, what that does to an engine, and some of
// them. It reports whether it left some out.
func (r *Report) writeWrong(b *strings.Builder) (left bool) {
	type kind struct{ topic, kind string }
	asked := map[kind]int{}
	for _, v := range r.order {
		asked[kind{v.Topic, v.Kind}]++
	}
	byKind := map[kind][]Wrong{}
	var kinds []kind
	for _, x := range r.Wrong {
		k := kind{x.Topic, x.Kind}
		if byKind[k] == nil {
			kinds = append(kinds, k)
		}
		byKind[k] = append(byKind[k], x)
	}
	for _, k := range kinds {
		of := byKind[k]
		left = left || len(of) > examples
		fmt.Fprintf(b, "\n%s, %s: %d of %d wrong\n  harm      %s\n", k.topic, k.kind, len(of), asked[k], printable(of[0].Harm))
		for _, i := range shownOf(len(of)) {
			x := of[i]
			fmt.Fprintf(b, "\n  %s\n", x.ID)
			for _, line := range [][2]string{{"question", shortenedTo(mostShown, whole(x.Question))}, {"wanted", whole(x.Want)}, {"got", x.Got}, {"wrong", x.Why}, {"source", x.Source}} {
				fmt.Fprintf(b, "    %-8s  %s\n", line[0], printable(line[1]))
			}
		}
	}
	return left
}

func whole(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return "what cannot be shown"
	}
	return string(b)
}

// printable leaves out of a foreign text what a terminal would obey.
func printable(text string) string {
	return strings.Map(func(c rune) rune {
		if c < ' ' || c >= 0x7f && c < 0xa0 {
			return '·'
		}
		return c
	}, text)
}
