package fasteners

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// An Answer is what someone looking at a bolt says. The zero value is no answer.
type Answer int

const (
	Unanswered Answer = iota
	Yes
	No
)

// A Question is one thing to look at before a used bolt goes back.
type Question struct {
	Key  string // how an answer refers to it
	Ask  string // the question, answered by yes or no
	Good Answer // the answer of a bolt that can go back
	Else Reuse  // what the other answer proves
	Why  string // what the other answer means
}

// Questions returns what is asked of a used bolt, in the order in which it is best
// looked at. They are common practice, no source; the engine maker's manual may ask more.
func Questions() []Question {
	return []Question{
		{"single-use", "Does the manual call the bolt single use, or was it ever tightened by angle into yield?", No, Replace,
			"a yielded bolt is scrap: it has used up stretch that it needs next time"},
		{"mark", "Does the head's mark show the class that the manual asks for?", Yes, Undecided,
			"nobody knows what the bolt bears; find out or replace it"},
		{"runs", "Cleaned and oiled, does it run the whole length of a good mating thread by the fingers?", Yes, Replace,
			"the thread is stretched or damaged"},
		{"pitch", "Laid thread in thread against a new one, does light show anywhere between them?", No, Replace,
			"the pitch has stretched"},
		{"waist", "Does a straight edge along it show a waist?", No, Replace,
			"the bolt has necked down and is near breaking"},
		{"thread", "Are there nicks, torn or flattened crests, or signs of galling in the thread?", No, Replace,
			"the torque would go into the thread and not into preload"},
		{"pits", "Are there rust pits in the thread, on the shank or under the head?", No, Replace,
			"cracks start at pits"},
		{"cracks", "Does a crack test, or a magnifier where none is at hand, show a crack under the head or in the thread?", No, Replace,
			"a cracked bolt breaks in service"},
		{"straight", "Rolled on a flat plate, does it run straight?", Yes, Replace,
			"a bent bolt bends further when it is tightened"},
		{"seat", "Are the bearing face and the flats or socket of the head whole?", Yes, Replace,
			"friction under the head is unknown, and the socket may slip"},
	}
}

// A Condition is what the answers about a bolt prove.
type Condition struct {
	Outcome  Reuse
	Findings []string // what speaks against the bolt or is still to be answered, in the order of Questions
}

// JudgeCondition returns what the answers to Questions prove, by their keys: Replace if
// one condemns the bolt; Undecided if one leaves it open or is missing; else Reusable as
// far as looking goes.
//
// The error wraps ErrQuestion for a key that no question has.
func JudgeCondition(answers map[string]Answer) (Condition, error) {
	questions := Questions()
	for _, key := range slices.Sorted(maps.Keys(answers)) {
		if !slices.ContainsFunc(questions, func(q Question) bool { return q.Key == key }) {
			return Condition{}, fmt.Errorf("%q: %w; the questions are %s", key, ErrQuestion, strings.Join(questionKeys(questions), ", "))
		}
	}
	var c Condition
	var outcomes []Reuse
	for _, q := range questions {
		outcome := Reusable
		switch answers[q.Key] {
		case q.Good:
		case Yes, No:
			outcome = q.Else
			c.Findings = append(c.Findings, q.Key+": "+q.Else.String()+": "+q.Why)
		default:
			outcome = Undecided
			c.Findings = append(c.Findings, q.Key+": not answered: "+q.Ask)
		}
		outcomes = append(outcomes, outcome)
	}
	c.Outcome = Together(outcomes...)
	return c, nil
}

func questionKeys(questions []Question) []string {
	keys := make([]string, len(questions))
	for i, q := range questions {
		keys[i] = q.Key
	}
	return keys
}
