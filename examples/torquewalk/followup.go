package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"example.com/closefit/torque/ledger"
)

// A followUp is a call that may follow, as text and JSON both say it.
type followUp struct {
	Flag  string `json:"flag"`  // "-begin"
	Value string `json:"value"` // that it takes; words in capitals are for the caller to put in
	Means string `json:"means"`
}

// String returns the call as it is typed, and what it means.
func (c followUp) String() string {
	value := c.Value
	if strings.ContainsFunc(value, func(r rune) bool { return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		value = fmt.Sprintf("%q", value)
	}
	return fmt.Sprintf("%s %s: %s", c.Flag, value, c.Means)
}

// callOf returns the call of an act that takes a value, by what -help says of it, with what is known
// in the place of one of its words.
func callOf(name, word, known string) followUp {
	all := acts()
	a := all[slices.IndexFunc(all, func(a act) bool { return a.name == name })]
	value := strings.Split(a.usage, "`")[1]
	means, _, _ := strings.Cut(a.usage, ": \"`") // the value's form follows
	means = strings.ReplaceAll(means, "`", "")
	if word != "" {
		value, means = strings.Replace(value, word, known, 1), strings.Replace(means, word, known, 1)
	}
	return followUp{"-" + name, value, means}
}

// aboutStep returns calls that say something of one step.
func aboutStep(step int, names ...string) (all []followUp) {
	for _, name := range names {
		all = append(all, callOf(name, "ID", fmt.Sprint(step)))
	}
	return all
}

// against is the call by which somebody goes on while the gate is shut.
func against() followUp { return callOf("against", "", "") }

// againstAtStart is the same of a ledger that is not started.
func againstAtStart() followUp {
	c := against()
	c.Means += "; it stands beside -start"
	return c
}

// mending returns the calls that record what was done about a trouble.
func mending(t ledger.Trouble) (all []followUp) {
	if t.Bolt == "" {
		return []followUp{callOf("tool", "", "")}
	}
	if !t.Scrap {
		all = append(all, callOf("loosened", "BOLT", t.Bolt))
	}
	all = append(all, callOf("replaced", "BOLT", t.Bolt))
	if t.Stays {
		all = append(all, callOf("kept", "BOLT", t.Bolt))
	}
	return all
}

// remedies name the act by which a person goes on after an error of a kind.
var remedies = []struct {
	kind error
	act  string
}{
	{ledger.ErrNotStarted, "start"},
	{ledger.ErrUnsure, "takeover"},
	{ledger.ErrOtherPlan, "revise"},
}

// after returns the calls by which a person goes on after an error.
func after(err error) (all []followUp) {
	for _, r := range remedies {
		if errors.Is(err, r.kind) {
			all = append(all, callOf(r.act, "", ""))
		}
	}
	return all
}
