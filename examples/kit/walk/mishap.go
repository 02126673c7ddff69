package walk

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// ending asks how a pull that is begun ended.
func (w *walker) ending(step torque.Step) (again bool, err error) {
	w.head()
	w.big("Begun", 1)
	switch step.Number {
	case w.earlier:
		w.say("It was begun before this program started. Do not pull. Look at the witness mark on %s, and say only what is sure.\n", step.Bolt)
	case w.pulled:
		w.say("Do not pull again. Look at the witness mark on %s, and say only what is sure.\n", step.Bolt)
	default:
		w.pulled = step.Number
		w.say("Pull now.\n")
		w.big(step.Bolt, 1)
		w.big(step.Brief(), 1)
	}
	w.say("When it has ended, say how:")
	answer, ok := w.ask(
		choice{"d", "done: the whole pull was given"},
		choice{"0", "the bolt has not moved"},
		choice{"p", "it moved part-way"},
		choice{"s", "the tool slipped, or clicked early"},
		choice{"f", "it went too far, or may have"},
		choice{"w", "another bolt was pulled"},
		choice{"o", "another step was done"},
		choice{"?", "I do not know"},
		choice{"q", "leave; it stays begun"})
	switch {
	case !ok || answer == "q":
		return false, nil
	case answer == "d":
		return w.done(step)
	case answer == "?":
		return w.unknown(ledger.What{Mishap: ledger.PartWay, Step: step.Number})
	}
	what := ledger.What{Step: step.Number}
	switch answer {
	case "0":
		what.Mishap = ledger.NotMoved
	case "p":
		what.Mishap = ledger.PartWay
	case "s":
		what.Mishap = ledger.Slipped
	case "f":
		what.Mishap = ledger.TooFar
	case "w":
		what.Mishap = ledger.WrongBolt
		return w.instead(what, "Type its name. Return: none moved, or it is not sure.", func(what *ledger.What, typed string) { what.Bolt = Bolt(w.Plan, typed) })
	case "o":
		what.Mishap = ledger.WrongStep
		return w.instead(what, "Type its number. Return: none was, or it is not sure.", func(what *ledger.What, typed string) { what.Instead, _ = strconv.Atoi(typed) })
	default:
		return w.noAnswer(answer)
	}
	return w.mishap(what)
}

// instead asks which bolt was pulled, or which step was done, in the place of another.
func (w *walker) instead(what ledger.What, prompt string, take func(*ledger.What, string)) (again bool, err error) {
	w.say("\n%s\n%s", what.Mishap.Ask(), prompt)
	typed, ok := w.typed()
	if !ok {
		return false, nil
	}
	if take(&what, typed); typed == "" || what.Bolt == "" && what.Instead == 0 {
		w.said = "Nothing is recorded yet."
		if typed != "" {
			w.said += fmt.Sprintf(" %q is no step: write its number.", typed)
		}
		return true, nil
	}
	if other, ok := w.Plan.Step(what.Instead); ok { // a number is soon typed wrongly
		w.say("\n%s\nWas it this one?", other)
		if answer, ok := w.ask(choice{"y", "yes"}, choice{"n", "no, or it is not sure"}); !ok || answer != "y" {
			w.said = "Nothing is recorded yet."
			return ok, nil
		}
	}
	return w.happened(what)
}

// mishap asks what the witness mark says of a mishap, and records it if that bears it out.
func (w *walker) mishap(what ledger.What) (again bool, err error) {
	w.say("\n%s", what.Mishap.Ask())
	answer, ok := w.ask(choice{"y", "yes"}, choice{"n", "no"}, choice{"?", "I do not know"})
	switch {
	case !ok:
		return false, nil
	case answer == "y":
		return w.happened(what)
	case answer == "n":
		w.said = "Then it was something else. Nothing is recorded yet."
	case answer == "?":
		w.said = "Nothing is recorded yet. If nobody can say, answer ? to how it ended: the worst is then assumed."
	default:
		return w.noAnswer(answer)
	}
	return true, nil
}

// happened records a mishap, and says what it leads to.
func (w *walker) happened(what ledger.What) (again bool, err error) {
	if again, err := w.tell(w.ledger.Mishap(what)); err != nil || w.said != "" {
		return again, err
	}
	w.said = Leads(w.ledger, what)
	return true, nil
}

// unknown records a pull of which nobody knows how it ended as one that ended part-way, which is
// the worst that it can be.
func (w *walker) unknown(what ledger.What) (again bool, err error) {
	if again, err := w.tell(w.ledger.Note(fmt.Sprintf("step %d: nobody knows how it ended; it counts as moved part-way", what.Step))); err != nil || w.said != "" {
		return again, err
	}
	again, err = w.happened(what)
	w.said = "Nobody knows how it ended, so it counts as moved part-way. " + w.said
	return again, err
}

// done asks what was reached, and records that a pull was given to the full.
func (w *walker) done(step torque.Step) (again bool, err error) {
	if step.Number == w.earlier {
		w.say("\nDid somebody see or feel the whole pull: %s? Does the mark on %s bear it out?", step.Do, step.Bolt)
		if answer, ok := w.ask(choice{"y", "yes"}, choice{"n", "no, or I do not know"}); !ok || answer != "y" {
			w.said = "Nothing is recorded yet. If nobody can say, answer ? to how it ended: the worst is then assumed."
			return ok, nil
		}
	}
	var reached ledger.Reached
	if _, back := torque.As[torque.BackOff](step.Do); !back {
		for {
			w.say("\nWhat was reached, as \"95 N·m\" or \"88..92°\", or both with a semicolon? Return: not read. b: back.")
			text, ok := w.typed()
			if !ok {
				return false, nil
			}
			if text == "b" {
				w.said = "Nothing is recorded yet."
				return true, nil
			}
			if reached, err = ParseReached(text); err == nil {
				break
			}
			w.say("%v", err)
		}
	}
	reached.By = w.by
	if again, err := w.tell(w.ledger.Done(step.Number, reached)); err != nil || w.said != "" {
		return again, err
	}
	said, stop, err := w.Bolts.Check(w.ledger, step, reached)
	if again, err := w.tell(err); err != nil {
		return again, err
	}
	if stop {
		return w.misfit(step, said)
	}
	w.said = strings.TrimSpace(w.said + "\n" + strings.Join(said, "\n"))
	return true, nil
}

// misfit shows what was reached at a step and does not fit its bolt, until somebody knows why.
func (w *walker) misfit(step torque.Step, said []string) (again bool, err error) {
	for {
		if err := w.look(); err != nil {
			return false, err
		}
		w.top(true)
		w.big("Stop", 1)
		w.say("%s\n", strings.Join(said, "\n"))
		answer, ok := w.ask(
			choice{"go on", "it is known why, and the bolt is good"},
			choice{"r BOLT", "a new bolt is fitted"},
			choice{"l BOLT", "it was backed off until it turns freely"},
			choice{"u ID", "step ID was said to be done, and was not"},
			choice{"q", "leave"})
		switch {
		case !ok || answer == "q":
			return false, nil
		case answer == "go on":
			return w.tell(w.ledger.Note(knownWhy(step.Number)))
		case len(answer) > 1 && strings.ContainsAny(answer[:1], "rlu"):
			return w.else_(answer)
		}
		w.noAnswer(answer)
	}
}

// ParseReached reads what a pull reached: a torque, an angle or both, with a semicolon between;
// nothing of an empty text. One that is said twice is an error.
func ParseReached(text string) (r ledger.Reached, err error) {
	if strings.TrimSpace(text) == "" {
		return r, nil
	}
	for _, part := range strings.Split(text, ";") {
		part = strings.TrimSpace(part)
		torque, err := units.Parse[units.TorqueInterval](part)
		twice := !r.Torque.IsEmpty()
		if errors.Is(err, units.ErrWrongDimension) {
			twice = !r.Angle.IsEmpty()
			r.Angle, err = units.Parse[units.AngleInterval](part)
		} else {
			r.Torque = torque
		}
		if err == nil && twice {
			err = &units.Error{Kind: units.ErrSyntax, Where: "what was reached", Found: fmt.Sprintf("%.80q, another one", part), Fix: "write one torque, one angle, or one of each"}
		}
		if err != nil {
			return ledger.Reached{}, err
		}
	}
	return r, nil
}

// else_ takes what happened besides the step that is shown.
func (w *walker) else_(answer string) (again bool, err error) {
	if answer == "m" {
		var ok bool
		answer, ok = w.ask(
			choice{"r BOLT", "a new bolt is fitted"},
			choice{"l BOLT", "it was backed off until it turns freely"},
			choice{"u ID", "step ID was said to be done, and was not"},
			choice{"t", "another tool, or this one was checked"},
			choice{"Return", "none of these"})
		if !ok || answer == "" {
			return ok, nil
		}
	}
	switch command, rest, _ := strings.Cut(answer, " "); command {
	case "r":
		return w.mend(rest, fitted)
	case "l":
		return w.mend(rest, loosened)
	case "u":
		return w.tooSoon(rest)
	case "t":
		return w.tool()
	}
	return w.noAnswer(answer)
}

// tooSoon takes back a step that was said to be done.
func (w *walker) tooSoon(id string) (again bool, err error) {
	what := ledger.What{}
	if what.Step, err = strconv.Atoi(id); err != nil {
		w.said = fmt.Sprintf("%q is no step; write its number, as in u 12.", id)
		return true, nil
	}
	step, ok := w.Plan.Step(what.Step)
	if !ok {
		w.said = fmt.Sprintf("The plan has no step %d.", what.Step)
		return true, nil
	}
	if status := w.ledger.Status(what.Step); status != ledger.Done && status != ledger.Skipped {
		w.said = fmt.Sprintf("Step %d is %s, and was not said to be done: there is nothing to take back.", what.Step, status)
		return true, nil
	}
	w.say("\n%s\nIt was said to be done. What is sure?", step)
	answer, ok := w.ask(choice{"0", "the bolt has not moved for it"}, choice{"p", "it moved part-way"}, choice{"?", "I do not know"}, choice{"Return", "it was done"})
	switch {
	case !ok:
		return false, nil
	case answer == "0":
		what.Mishap = ledger.TooSoonNotMoved
	case answer == "p":
		what.Mishap = ledger.TooSoonPartWay
	case answer == "?":
		what.Mishap = ledger.TooSoonPartWay
		return w.unknown(what)
	default:
		w.said = "Nothing is recorded."
		return true, nil
	}
	return w.mishap(what)
}

// fitted and loosened are what mends a bolt.
var (
	fitted   = mending{"a new bolt is fitted: its steps begin again", (*ledger.Ledger).Replace}
	loosened = mending{"it is backed off: its steps begin again", (*ledger.Ledger).Loosen}
)

type mending struct {
	what   string
	record func(l *ledger.Ledger, bolt string) error
}

// mend records that a bolt was replaced or backed off.
func (w *walker) mend(bolt string, m mending) (again bool, err error) {
	bolt = Bolt(w.Plan, bolt)
	if again, err := w.tell(m.record(w.ledger, bolt)); err != nil || w.said != "" {
		return again, err
	}
	w.said = bolt + ": " + m.what + "."
	return true, nil
}

// troubles shows each bolt that holds all else, and takes what was done about it.
func (w *walker) troubles() (again bool, err error) {
	all := w.ledger.Troubles()
	w.head()
	w.big("Stop", 1)
	var bolts, freed, stays, tool bool
	for _, t := range all {
		if t.Bolt == "" {
			tool = true
			w.say("THE TOOL")
		} else {
			bolts = true
			w.say("%s", strings.ToUpper(t.Bolt))
		}
		freed = freed || t.Bolt != "" && !t.Scrap
		stays = stays || t.Stays
		w.hang("  ", t.Why)
		w.hang("  ", t.Advice)
		w.print("\n")
	}
	var choices []choice
	for _, c := range []struct {
		offered bool
		choice
	}{
		{bolts, choice{"r BOLT", "a new bolt is fitted"}},
		{freed, choice{"l BOLT", "it was backed off until it turns freely"}},
		{stays, choice{"k BOLT: NAME: REASON", "it stays as it is, because the maker's manual says so"}},
		{tool, choice{"t", "the tool was checked, or is another"}},
		{true, choice{"u ID", "step ID was said to be done, and was not"}},
		{true, choice{"q", "leave"}},
	} {
		if c.offered {
			choices = append(choices, c.choice)
		}
	}
	answer, ok := w.ask(choices...)
	if !ok || answer == "q" {
		return false, nil
	}
	command, rest, _ := strings.Cut(answer, " ")
	if rest == "" && len(all) == 1 && command != "u" {
		rest = all[0].Bolt
	}
	switch command {
	case "r":
		return w.mend(rest, fitted)
	case "l":
		return w.mend(rest, loosened)
	case "t":
		return w.tool()
	case "u":
		return w.tooSoon(rest)
	case "k":
		bolt, text, _ := strings.Cut(rest, ":")
		word, err := ledger.ParseWord(text)
		if err != nil {
			w.said = err.Error()
			return true, nil
		}
		bolt = Bolt(w.Plan, bolt)
		return w.mend(bolt, mending{"it stays", func(l *ledger.Ledger, bolt string) error { return l.Keep(bolt, word) }})
	}
	return w.noAnswer(answer)
}
