package ledger

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"example.com/closefit/units"
)

// An event is what may happen to a plan's progress.
type event uint8

// The events. Those of the mishaps follow in the order of the mishaps, from NotMoved on.
const (
	noEvent     event = iota
	begin             // a step is begun
	finish            // a step is done; the detail is what was reached
	answerNo          // a check is answered no
	skip              // a wait is cut short knowingly
	replace           // a new bolt is fitted
	loosen            // a bolt is backed off until it turns freely
	keep              // a bolt stays on somebody's word although its partner was loosened; the detail is the word
	doubt             // nobody knows what a bolt had; the detail is why
	useTool           // the tool from now on; the detail is the tool
	revise            // another plan from now on; the detail is the plan, the choices and the word
	takeOver          // what was found was taken over; the detail is the word and what was found
	note              // something to remember, which changes nothing; the detail is its text
	firstPlan         // the plan at the beginning, and nowhere else; the detail is the plan
	firstMishap       // the event of NotMoved
	events      = firstMishap + event(mishaps) - event(NotMoved)
)

// eventWords are the events as the ledger writes them.
var eventWords = func() [events]string {
	words := [events]string{begin: "begin", finish: "done", answerNo: "no", skip: "skipped", replace: "replaced", loosen: "loosened", keep: "kept",
		doubt: "doubt", useTool: "tool", revise: "revised", takeOver: "taken over", note: "note", firstPlan: "plan"}
	for m := NotMoved; m < mishaps; m++ {
		words[m.event()] = m.String()
	}
	return words
}()

func (e event) String() string { return eventWords[e] }

// eventsByWord finds an event by its word.
var eventsByWord = func() map[string]event {
	all := make(map[string]event, events)
	for e := begin; e < events; e++ {
		all[eventWords[e]] = e
	}
	return all
}()

// parseEvent returns the event of a word, or noEvent.
func parseEvent(word []byte) event { return eventsByWord[string(word)] }

// event returns the event of a mishap.
func (m Mishap) event() event { return firstMishap + event(m-NotMoved) }

// mishap returns the mishap of an event; ok is false if it is none.
func (e event) mishap() (m Mishap, ok bool) {
	return NotMoved + Mishap(e-firstMishap), e >= firstMishap && e < events
}

// A happening is an event with the step or the bolt that it concerns. It is made by the
// functions below, or read from a line of the ledger.
type happening struct {
	event  event
	step   int    // 0 where no step is concerned
	bolt   string // of the step, or by itself; empty for a pause and where none is concerned
	detail string // compact JSON, or the text of a note or of a doubt; empty if there is none

	at   time.Time     // when; the zero time while a line is read and checked, for then no clock is asked
	late time.Duration // by how much later it may have been: 0 for what this program does, and for what is read the last digit of its time
	up   uptime        // of the machine; nothing for what is read
}

// hasText reports whether the detail of an event is text and not JSON.
func (e event) hasText() bool { return e == note || e == doubt }

// on returns an event of a step, with its bolt.
func (p *progress) on(e event, number int) happening {
	h := happening{event: e, step: number}
	if step, ok := p.plan.Step(number); ok {
		h.bolt = step.Bolt
	}
	return h
}

// begins returns the beginning of a step. That of a wait keeps the machine's uptime.
func (p *progress) begins(number int, up uptime) happening {
	h := p.on(begin, number)
	if _, waits := p.waitOf(number); waits && up.Boot != "" {
		h.detail = compact(up)
	}
	return h
}

// ends returns the end of a step, with what was reached.
func (p *progress) ends(number int, r Reached) happening {
	h := p.on(finish, number)
	if !r.none() {
		h.detail = compact(r)
	}
	return h
}

// goesWrong returns a mishap as it happens.
func (p *progress) goesWrong(w What) happening {
	h := p.on(w.Mishap.event(), w.Step)
	switch {
	case w.Mishap < NotMoved || w.Mishap >= mishaps:
		h.event = noEvent
	case w.Bolt != "" || w.Instead != 0:
		h.detail = compact(other{w.Bolt, w.Instead})
	}
	return h
}

// other is the detail of a mishap: the bolt that was pulled, or the step that was done,
// instead.
type other struct {
	Bolt    string `json:"bolt"`
	Instead int    `json:"instead"`
}

func keeps(bolt string, w Word) happening {
	return happening{event: keep, bolt: bolt, detail: compact(w)}
}

func usesTool(t Tool) happening { return happening{event: useTool, detail: compact(t)} }

// doubts puts a bolt in doubt: "it was turned before the ledger began".
func doubts(bolt, why string) happening { return happening{event: doubt, bolt: bolt, detail: why} }

// takesOver is the record of what was found and taken over.
func takesOver(w Word, found string) happening {
	return happening{event: takeOver, detail: compact(takenOver{w.By, w.Reason, found})}
}

// takenOver is the detail of takeOver.
type takenOver struct {
	By     string `json:"by"`
	Reason string `json:"reason"`
	Found  string `json:"found"`
}

// compact returns the JSON of a detail on one line, which json.Marshal writes without blanks
// and without a raw control character.
func compact(detail any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(detail); err != nil {
		panic("ledger: " + err.Error()) // every detail is of this package
	}
	return string(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
}

// detailOf reads a detail. One that is not written as this package writes it is an error,
// so that one fact has one line.
func detailOf[T any](h happening) (detail T, err error) {
	fail := func(found string) (T, error) {
		return detail, fault{kind: ErrRefused, step: h.step, bolt: h.bolt, found: found, fix: fmt.Sprintf("write what a ledger keeps of %q", h.event)}.err()
	}
	var read T
	if err := units.DecodeObject([]byte(h.detail), &read); err != nil {
		return fail(err.Error())
	}
	if compact(read) != h.detail {
		return fail(fmt.Sprintf("%.80q, which is not how it is written", h.detail))
	}
	return read, nil
}
