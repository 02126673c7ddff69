package fasteners

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
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

// Questions returns the questions about a used bolt, in the best order to look at it.
// They are common practice, no source; the engine maker's manual may ask more.
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

// Inspect returns whether a used bolt can go back, from the answers to Questions, by their keys
// and true for yes, and from its sizes: its [Stretch], its [NeckDown], or a length or diameter
// that the manual limits by itself, each judged against the manual's limits.
//
// It is Replace if one answer condemns the bolt, or one size lies outside its limits;
// else Undecided if an answer leaves it open or is missing, or if a size is undecided,
// was not measured, or has no limits; else Reusable, as far as looking and measuring go.
// The findings list each point against the bolt and each open one, the answers in the
// order of Questions and then the sizes.
//
// The error is of kind ErrImpossible for an unknown key.
func Inspect(answers map[string]bool, sizes ...measure.Assessment[units.LengthDim]) (outcome Reuse, findings []string, err error) {
	questions := Questions()
	for _, key := range slices.Sorted(maps.Keys(answers)) {
		if !slices.ContainsFunc(questions, func(q Question) bool { return q.Key == key }) {
			var keys []string
			for _, q := range questions {
				keys = append(keys, q.Key)
			}
			return Undecided, nil, impossible("answers about a bolt", "an unknown question "+quoted(key), "the questions are "+strings.Join(keys, ", "))
		}
	}
	outcome = Reusable
	for _, q := range questions {
		answer, answered := answers[q.Key]
		switch {
		case !answered:
			outcome = outcome.and(Undecided)
			findings = append(findings, q.Key+": not answered: "+q.Ask)
		case answer != q.Good:
			outcome = outcome.and(q.Else)
			findings = append(findings, q.Key+": "+q.Else.String()+": "+q.Why)
		}
	}
	for i, a := range sizes {
		if of := ofSize(a); of != Reusable {
			outcome = outcome.and(of)
			findings = append(findings, fmt.Sprintf("size %d: %v: %v, limits %v", i+1, of, a.Reading.Interval(), a.Tolerance))
		}
	}
	return outcome, findings, nil
}
