package walk

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
)

// start asks which bolts were turned already, and starts the ledger; it is nil if the user
// leaves. The gate is asked before.
func (w *walker) start() (*ledger.Ledger, error) {
	word, goesOn, err := w.gateBefore()
	if err != nil || !goesOn {
		return nil, err
	}
	for {
		w.wipe()
		w.say("%s", w.Work)
		w.say("There is no ledger of this work: no %s, and no witness in %s.\n", w.Home.Path, w.Home.Witness)
		w.tellSaid()
		w.say("If any of this was tightened before, by another machine, or with a ledger that was moved or renamed: leave, and bring that ledger here.\n")
		w.say("HAS ANY OF THESE BOLTS BEEN TURNED ALREADY?")
		for _, group := range w.Plan.Groups() {
			var names []string
			for _, p := range group.Pattern {
				names = append(names, p.Bolt)
			}
			w.hang("  ", group.Name+": "+strings.Join(names, ", "))
		}
		w.print("\n")
		answer, ok := w.ask(choice{"none", "none of them has been turned"}, choice{"BOLT, BOLT", "these have: each is in doubt from the start"}, choice{"all", "all have"}, choice{"q", "leave; nothing is started"})
		switch {
		case !ok || answer == "q":
			return nil, nil
		case answer == "":
			w.said = "It has to be said: none, or their names."
			continue
		}
		turned, err := Turned(w.Plan, answer)
		if err != nil {
			w.said = err.Error()
			continue
		}
		l, err := ledger.Start(w.Home, w.Work, w.Plan, turned)
		if err != nil || word == nil {
			return l, err
		}
		gate, err := w.Gate.Ask(l, torque.Step{})
		if err == nil && !gate.Gate.Open { // else it was opened since
			err = gate.GoAgainst(l, *word)
		}
		if err != nil {
			return nil, errors.Join(err, l.Close())
		}
		return l, nil
	}
}

// gateBefore asks the gate until it lets a ledger be started, or somebody goes on against it,
// which the ledger records as soon as it is there; goesOn is false if the user leaves.
func (w *walker) gateBefore() (word *ledger.Word, goesOn bool, err error) {
	if w.Gate == nil {
		return nil, true, nil
	}
	for {
		gate, unread := w.Gate.Ask(nil, torque.Step{})
		if unread == nil && gate.Starts() {
			return nil, true, nil
		}
		w.wipe()
		w.say("%s\n", w.Work)
		w.tellSaid()
		w.big("Stop", 1)
		choices := []choice{{"Return", "ask the job again"}, {"q", "leave; nothing is started"}}
		if unread != nil {
			w.say("The gate cannot be asked, so no ledger is started.\n%v\n", unread)
		} else {
			w.say("No ledger is started yet.\n%s\n", gate.Why(torque.Step{}))
			choices = append(choices, choice{"against NAME: REASON", "go on all the same, which is recorded; not with a bolt that is held"})
		}
		answer, ok := w.ask(choices...)
		command, rest, _ := strings.Cut(answer, " ")
		switch {
		case !ok || answer == "q":
			return nil, false, unread
		case answer == "":
		case command == "against" && unread == nil:
			given, bad := ledger.ParseWord(rest)
			if bad == nil {
				return &given, true, nil
			}
			w.said = bad.Error()
		default:
			w.said = fmt.Sprintf("%q is not an answer.", answer)
		}
	}
}

// Turned reads which bolts of a plan were turned before its ledger is started: "none", "all", or
// their names with commas between. It never returns nil without an error: none is an answer.
func Turned(plan *torque.Plan, text string) ([]string, error) {
	var all []string
	for _, group := range plan.Groups() {
		for _, p := range group.Pattern {
			all = append(all, p.Bolt)
		}
	}
	if is := func(name string) bool { return torque.Folded(name) == torque.Folded(text) }; !slices.ContainsFunc(all, is) {
		switch torque.Folded(text) {
		case torque.Folded("no"), torque.Folded("none"):
			return []string{}, nil
		case torque.Folded("all"):
			return all, nil
		}
	}
	turned := []string{}
	parts := strings.Split(text, ",")
	for len(parts) > 0 {
		n := len(parts)
		for ; n > 0; n-- { // a name may hold a comma
			if bolt := Bolt(plan, strings.Join(parts[:n], ",")); slices.Contains(all, bolt) {
				if !slices.Contains(turned, bolt) {
					turned = append(turned, bolt)
				}
				break
			}
		}
		if n == 0 {
			return nil, fmt.Errorf("%q is no bolt of the plan; write none, all, or names with commas between: %s", strings.TrimSpace(parts[0]), strings.Join(all, ", "))
		}
		parts = parts[n:]
	}
	return turned, nil
}

// Bolt returns the name of the plan's bolt that is meant, whose name differs from what was typed
// by case or blanks alone at the most; else what was typed.
func Bolt(plan *torque.Plan, typed string) string {
	for _, group := range plan.Groups() {
		for _, p := range group.Pattern {
			if torque.Folded(p.Bolt) == torque.Folded(typed) {
				return p.Bolt
			}
		}
	}
	return strings.TrimSpace(typed)
}

// WitnessOf returns the folder that keeps the witness of a file's ledgers: the one that the file says, from its
// own folder, else the user's.
func WitnessOf(file string, id planfile.Identity) (folder string, err error) {
	switch {
	case id.Witness == "":
		return ledger.WitnessFolder()
	case filepath.IsAbs(id.Witness):
		return id.Witness, nil
	}
	return filepath.Join(filepath.Dir(file), id.Witness), nil
}

// Usual returns where the ledger of a file usually lies: beside it, under its name.
func Usual(file string, p job.Phase) string {
	ending := ".ledger"
	if p == job.Trial {
		ending = ".trial.ledger"
	}
	return strings.TrimSuffix(file, filepath.Ext(file)) + ending
}

// Locate finds the ledger of a work: at its usual path, or under another name in the same folder,
// which is then said. Two of one work are an error, for only one of them can be right.
func Locate(usual string, work ledger.Work) (path, said string, err error) {
	folder := filepath.Dir(usual)
	found, err := ledger.Find(folder, work)
	if err != nil {
		return "", "", err
	}
	switch {
	case len(found) > 1:
		return "", "", fmt.Errorf("%w: %d ledgers of %s: %s; only one of them can be right: compare them with -history -ledger FILE, and move the others to another folder",
			ledger.ErrRefused, len(found), work, strings.Join(found, ", "))
	case len(found) == 1 && filepath.Base(found[0]) != filepath.Base(usual):
		return found[0], fmt.Sprintf("The ledger was found by its work under another name: %s", found[0]), nil
	}
	return usual, "", nil
}
