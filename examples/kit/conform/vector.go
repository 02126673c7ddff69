package conform

import (
	"bufio"
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"slices"
)

// A Vector is one question and its answer.
type Vector struct {
	ID       string         `json:"id"`
	Topic    string         `json:"topic"`
	Kind     string         `json:"kind"` // of the topic's questions: QUESTIONS.md lists them
	Question map[string]any `json:"question"`
	Want     map[string]any `json:"want"`

	// Tolerance is how far a number of the answer may be off, by its key; a number without one
	// must be exact. Why gives the reason.
	Tolerance map[string]string `json:"tolerance,omitempty"`
	Why       string            `json:"why,omitempty"`

	Basis      Basis  `json:"basis"`
	Provenance string `json:"provenance,omitempty"` // of a published answer, as EVIDENCE.md defines it
	Evidence   string `json:"evidence,omitempty"`   // the row, "units/inch"
	Source     string `json:"source"`               // the document and place, or the derivation
	Harm       string `json:"harm"`                 // what a wrong answer does to an engine
}

// A Basis says what an answer rests on.
type Basis string

const (
	Fact       Basis = "fact"       // published, and asserted by no other row of evidence
	Table      Basis = "table"      // published, in a table that a program can only hold or look up
	Arithmetic Basis = "arithmetic" // it follows exactly from the question
)

// Topics returns the topics in the order of the page of questions.
func Topics() []string {
	return []string{"convert", "combine", "judge", "assign", "buy", "stack", "threads", "isofit", "torque", "plan", "film"}
}

//go:embed vectors/*.jsonl
var files embed.FS

// Vectors returns the vectors of some topics in the order of Topics, or all if none is named.
func Vectors(topics ...string) ([]Vector, error) {
	var all []Vector
	for _, topic := range Topics() {
		if len(topics) > 0 && !slices.Contains(topics, topic) {
			continue
		}
		text, err := files.ReadFile("vectors/" + topic + ".jsonl")
		if err != nil {
			return nil, err
		}
		lines := bufio.NewScanner(bytes.NewReader(text))
		lines.Buffer(nil, MaxLine)
		for n := 1; lines.Scan(); n++ {
			var v Vector
			if err := json.Unmarshal(lines.Bytes(), &v); err != nil {
				return nil, fmt.Errorf("vectors/%s.jsonl:%d: %w", topic, n, err)
			}
			all = append(all, v)
		}
		if err := lines.Err(); err != nil {
			return nil, fmt.Errorf("vectors/%s.jsonl: %w", topic, err)
		}
	}
	return all, nil
}

// A question is what a program is sent.
type question struct {
	ID       string         `json:"id"`
	Topic    string         `json:"topic"`
	Kind     string         `json:"kind"`
	Question map[string]any `json:"question"`
}

func (v Vector) asked() question { return question{v.ID, v.Topic, v.Kind, v.Question} }
