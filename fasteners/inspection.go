package fasteners

import (
	"maps"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// A Question is one thing to look at before a used bolt goes back.
type Question struct {
	Key  string `json:"key"`  // how an answer refers to it
	Ask  string `json:"ask"`  // the question, answered by yes or no
	Good bool   `json:"good"` // the answer of a bolt that can go back: true for yes
	Else Reuse  `json:"else"` // what the other answer proves
	Why  string `json:"why"`  // what the other answer means
}

// UnmarshalJSON reads the exchange form; a missing key is an error.
func (q *Question) UnmarshalJSON(data []byte) error {
	type question Question
	return units.DecodeObject(data, (*question)(q))
}

// Questions returns what is asked of a used bolt, in the order in which it is best
// looked at. They are common practice, no source; the engine maker's manual may ask more.
func Questions() []Question {
	const yes, no = true, false
	return []Question{
		{"single-use", "Does the manual call the bolt single use, or was it ever tightened by angle into yield?", no, Replace,
			"a yielded bolt is scrap: it has used up stretch that it needs next time"},
		{"mark", "Does the head's mark show the class that the manual asks for?", yes, Undecided,
			"nobody knows what the bolt bears; find out or replace it"},
		{"runs", "Cleaned and oiled, does it run the whole length of a good mating thread by the fingers?", yes, Replace,
			"the thread is stretched or damaged"},
		{"pitch", "Laid thread in thread against a new one, does light show anywhere between them?", no, Replace,
			"the pitch has stretched"},
		{"waist", "Does a straight edge along it show a waist?", no, Replace,
			"the bolt has necked down and is near breaking"},
		{"thread", "Are there nicks, torn or flattened crests, or signs of galling in the thread?", no, Replace,
			"the torque would go into the thread and not into preload"},
		{"pits", "Are there rust pits in the thread, on the shank or under the head?", no, Replace,
			"cracks start at pits"},
		{"cracks", "Does a crack test, or a magnifier where none is at hand, show a crack under the head or in the thread?", no, Replace,
			"a cracked bolt breaks in service"},
		{"straight", "Rolled on a flat plate, does it run straight?", yes, Replace,
			"a bent bolt bends further when it is tightened"},
		{"seat", "Are the bearing face and the flats or socket of the head whole?", yes, Replace,
			"friction under the head is unknown, and the socket may slip"},
	}
}

// Inspect returns what the answers to Questions prove, by their keys, true for yes: Replace
// if one condemns the bolt; Undecided if one leaves it open or is missing; else Reusable as
// far as looking goes. The findings are what speaks against the bolt or is still to be
// answered, in the order of Questions.
//
// The error is of kind units.ErrNotWritten for a key that no question has.
func Inspect(answers map[string]bool) (outcome Reuse, findings []string, err error) {
	questions := Questions()
	var keys []string
	for _, q := range questions {
		keys = append(keys, q.Key)
	}
	for _, key := range slices.Sorted(maps.Keys(answers)) {
		if !slices.Contains(keys, key) {
			return Undecided, nil, notWritten("answers about a bolt", "an unknown question "+quoted(key), "the questions are "+strings.Join(keys, ", "))
		}
	}
	var outcomes []Reuse
	for _, q := range questions {
		answer, answered := answers[q.Key]
		switch {
		case !answered:
			outcomes = append(outcomes, Undecided)
			findings = append(findings, q.Key+": not answered: "+q.Ask)
		case answer == q.Good:
			outcomes = append(outcomes, Reusable)
		default:
			outcomes = append(outcomes, q.Else)
			findings = append(findings, q.Key+": "+q.Else.String()+": "+q.Why)
		}
	}
	return Together(outcomes...), findings, nil
}
