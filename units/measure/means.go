package measure

import (
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/units"
)

// means is how an act of reading came by what it says.
type means uint8

const (
	notTaken     means = iota
	given              // by has the words
	value              // the value seen[0]
	indication         // seen[0] more than what the instrument was set on, with its sign
	travel             // from seen[0] to seen[1]
	mean               // the mean seen[0] of count values
	stripBetween       // between the prints seen[0] and seen[1]
	stripNearest       // nearest the print seen[0], with neighbours on both sides
	stripFirst         // nearest the first print, seen[0]; seen[1] is the next
	stripLast          // nearest the last print, seen[0]; seen[1] is the one before
	stripTighter       // past the first print, seen[0]
	stripLooser        // past the last print, seen[0]
	bladeBetween       // blade seen[0] goes, blade seen[1] does not
	bladeGoes          // blade seen[0] goes; no thicker one was tried
	bladeRefused       // blade seen[0] does not go; no thinner one was tried
	stepBetween        // shut at seen[0], open at seen[1]
	stepShut           // still shut at seen[0]
	stepOpen           // already open at seen[0]
)

// meansWords hold, for each means, its word in the exchange form and what it says
// for a record: {by} is the instrument, {a} and {b} what was seen, {n} how many
// readings, {U} the uncertainty.
var meansWords = [...]struct{ word, says string }{
	notTaken:     {"not taken", "not measured"},
	given:        {"given", "{by}{U}"},
	value:        {"value", "{by}, {a}{U}"},
	indication:   {"indication", "{by}, showing {a}{U}"},
	travel:       {"travel", "{by} from {a} to {b}{U}"},
	mean:         {"mean", "{by}, mean {a} of {n} readings{U}"},
	stripBetween: {"between prints", "{by} between its {a} and {b} prints{U}"},
	stripNearest: {"nearest print", "{by} nearest its {a} print{U}"},
	stripFirst:   {"nearest first print", "{by} nearest its first print, {a}; no lower mark{U}"},
	stripLast:    {"nearest last print", "{by} nearest its last print, {a}; no higher mark{U}"},
	stripTighter: {"wider than the first print", "{by} wider than its first print, {a}: less clearance, and no lower mark{U}"},
	stripLooser:  {"narrower than the last print", "{by} narrower than its last print, {a}: more clearance, and no higher mark{U}"},
	bladeBetween: {"blade goes, next does not", "{by}: {a} goes, {b} does not{U}"},
	bladeGoes:    {"blade goes", "{by}: {a} goes; no thicker one was tried{U}"},
	bladeRefused: {"blade does not go", "{by}: {a} does not go; no thinner one was tried{U}"},
	stepBetween:  {"shut, then open", "{by}: shut at {a}, open at {b}{U}"},
	stepShut:     {"shut", "{by}: still shut at {a}; no higher one was tried{U}"},
	stepOpen:     {"open", "{by}: already open at {a}; no lower one was tried{U}"},
}

// How says in words how the reading was made, with its numbers in the unit:
// "crush strip between its 0.025 mm and 0.038 mm prints".
func (r Reading[D]) How(u units.Unit[D]) string {
	if r.of != nil {
		return r.of.words
	}
	a, m := &r.act, r.act.rest()
	var b strings.Builder
	for rest := meansWords[a.means].says; rest != ""; {
		words, name, found := strings.Cut(rest, "{")
		b.WriteString(words)
		if !found {
			break
		}
		name, rest, _ = strings.Cut(name, "}")
		switch name {
		case "by":
			b.WriteString(a.by)
		case "n":
			fmt.Fprint(&b, m.count)
		case "a":
			b.WriteString(m.seen[0].Written(u))
		case "b":
			b.WriteString(m.seen[1].Written(u))
		case "U":
			b.WriteString(r.doubtWords(u))
		}
	}
	return b.String()
}

// doubtWords says how far an act can be trusted, beyond what it saw: " ±0.003 mm
// (k = 2)", and what is certain of it, by a limit of error or the tolerance of a blade,
// a scale or a ring: ", ±0.002 mm at most".
func (r *Reading[D]) doubtWords(u units.Unit[D]) string {
	a := &r.act
	var words string
	if q := r.expanded(coverage{}); !q.IsZero() {
		sure := "k = 2"
		if a.freedom > 0 || slices.ContainsFunc(a.doubts(), func(d doubt[D]) bool { return d.freedom > 0 }) {
			sure = "95.45 %"
		}
		words = " ±" + q.Written(u) + " (" + sure + ")"
	}
	var lower, upper units.Quantity[D]
	for _, d := range a.doubts() {
		if d.kind == piece {
			lower, upper = lower.Add(d.lo.Abs()), upper.Add(d.hi.Abs())
		}
	}
	most := units.Max(lower, upper)
	if a.means.isValue() && a.bracket.Bounded() {
		most = most.Add(a.bracket.Radius())
	}
	if !most.IsZero() {
		words += ", ±" + most.Written(u) + " at most"
	}
	return words
}

// isValue reports whether an act saw one value, which its instrument's limit of error
// alone makes a bracket.
func (m means) isValue() bool { return m == value || m == indication || m == travel || m == mean }

// String returns the interval and how it was made, in the dimension's first unit.
func (r Reading[D]) String() string {
	const first = 0
	return r.Supposed().Written(first) + ", " + r.How(first)
}
