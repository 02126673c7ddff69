package ledger

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// plain is the work as somebody tells it who stands beside it: what was done to each bolt, act
// by act, and what the words of PEOPLE.md make of it. It is slow, shares no rule with the code
// and looks nothing up in its table.
type plain struct {
	plan    *torque.Plan
	status  map[int]Status
	bolts   map[string]*plainBolt
	open    int
	began   time.Time
	slipped bool
}

// plainBolt is a bolt, as it was fitted last.
type plainBolt struct {
	acts                          []act
	inTrouble, scrap, stays, used bool // used: single use, and spent
}

// An act is something done to a bolt.
type act struct {
	what   string // "tighten", "turn", "back off", "free" or "?"
	step   int    // of the bolt's own that it did whole; 0 for any other
	torque units.Torque
}

func newPlain(p *torque.Plan) *plain {
	m := &plain{plan: p, status: map[int]Status{}, bolts: map[string]*plainBolt{}}
	for _, g := range p.Groups() {
		for _, at := range g.Pattern {
			m.bolts[at.Bolt] = &plainBolt{}
		}
	}
	return m
}

func (m *plain) step(n int) torque.Step { s, _ := m.plan.Step(n); return s }

func (m *plain) groupOf(bolt string) torque.Group {
	for _, g := range m.plan.Groups() {
		for _, at := range g.Pattern {
			if at.Bolt == bolt {
				return g
			}
		}
	}
	panic("no group")
}

func (m *plain) underOneCap(bolt string) (others []string) {
	part := ""
	for _, at := range m.groupOf(bolt).Pattern {
		if at.Bolt == bolt {
			part = at.Part
		}
	}
	for _, at := range m.groupOf(bolt).Pattern {
		if part != "" && at.Part == part && at.Bolt != bolt {
			others = append(others, at.Bolt)
		}
	}
	return others
}

// what a step does, in a word.
func what(s torque.Step) (word string, to units.Torque, by units.Angle) {
	if t, ok := torque.As[torque.Tighten](s.Do); ok {
		return "tighten", t.To, by
	}
	if t, ok := torque.As[torque.Turn](s.Do); ok {
		return "turn", to, t.By
	}
	if b, ok := torque.As[torque.BackOff](s.Do); ok {
		if b.By.IsZero() {
			return "free", to, by
		}
		return "back off", to, by
	}
	if _, ok := torque.As[torque.Wait](s.Do); ok {
		return "wait", to, by
	}
	return "check", to, by
}

// own returns a bolt's steps.
func (m *plain) own(bolt string) (own []torque.Step) {
	for _, s := range m.plan.Steps() {
		if s.Bolt == bolt {
			own = append(own, s)
		}
	}
	return own
}

// since returns what was done to a bolt since it was free.
func (b *plainBolt) since() []act {
	for i := len(b.acts) - 1; i >= 0; i-- {
		if b.acts[i].what == "free" {
			return b.acts[i+1:]
		}
	}
	return b.acts
}

func (b *plainBolt) pulled() bool {
	return slices.ContainsFunc(b.since(), func(a act) bool { return a.what == "tighten" || a.what == "turn" || a.what == "?" })
}

func (b *plainBolt) turned() bool {
	return slices.ContainsFunc(b.since(), func(a act) bool { return a.what == "turn" })
}

// torque is the most that it has certainly had and still holds.
func (b *plainBolt) torque() (most units.Torque) {
	for _, a := range b.since() {
		if a.what == "back off" {
			most = units.Torque{}
		}
		if a.what == "tighten" && most.Less(a.torque) {
			most = a.torque
		}
	}
	return most
}

// spent: single use, and a pull that spends it was done, perhaps in part.
func (m *plain) spent(name string) bool {
	b := m.bolts[name]
	for _, a := range b.acts {
		if a.step != 0 && m.step(a.step).Spends {
			return true
		}
	}
	return b.used
}

// greatest is the most that its plan tightens it to.
func (m *plain) greatest(name string) (most units.Torque) {
	for _, s := range m.own(name) {
		if _, to, _ := what(s); most.Less(to) {
			most = to
		}
	}
	return most
}

func (m *plain) turns(name string) bool {
	return slices.ContainsFunc(m.own(name), func(s torque.Step) bool { w, _, _ := what(s); return w == "turn" })
}

func (m *plain) singleUse(name string) bool { return m.groupOf(name).Use == torque.SingleUse }

// spends says whether a torque spends a bolt: one of single use by torque alone, at its
// greatest.
func (m *plain) spends(name string, to units.Torque) bool {
	return m.singleUse(name) && !m.turns(name) && !to.Less(m.greatest(name))
}

func (m *plain) nextOf(name string) (s torque.Step, ok bool) {
	for _, s := range m.own(name) {
		if m.status[s.Number] != Done {
			return s, true
		}
	}
	return s, false
}

// next is the first step that is not done.
func (m *plain) next() int {
	for _, s := range m.plan.Steps() {
		if st := m.status[s.Number]; st != Done && st != Skipped {
			return s.Number
		}
	}
	return 0
}

func (m *plain) anyTrouble() bool {
	for _, b := range m.bolts {
		if b.inTrouble {
			return true
		}
	}
	return m.slipped
}

// put puts a bolt in trouble.
func (m *plain) put(name string, scrap, stays bool) {
	b := m.bolts[name]
	b.acts = append(b.acts, act{what: "?"})
	b.used = b.used || scrap
	b.stays = stays && (b.stays || !b.inTrouble)
	b.scrap = scrap || b.scrap && b.inTrouble
	b.inTrouble = true
}

func (m *plain) pausesAfter(n int) {
	for _, s := range m.plan.Steps() {
		if s.Number > n && s.IsPause() {
			m.status[s.Number] = Pending
		}
	}
}

// did adds the act of a whole step.
func (m *plain) did(s torque.Step) {
	m.status[s.Number] = Done
	if s.Bolt != "" {
		word, to, _ := what(s)
		b := m.bolts[s.Bolt]
		b.acts = append(b.acts, act{word, s.Number, to})
	}
}

var errNo = errors.New("refused")

// happen makes h happen, or returns why it cannot and changes nothing.
func (m *plain) happen(h happening, now time.Time) error {
	if mishap, ok := h.event.mishap(); ok {
		var o other
		if h.detail != "" {
			o, _ = detailOf[other](h)
		}
		return m.mishap(mishap, h.step, o)
	}
	b := m.bolts[h.bolt]
	switch h.event {
	case replace, loosen:
		if b == nil {
			return ErrNotInPlan
		}
		if m.open != 0 && m.step(m.open).Bolt != h.bolt {
			return errNo
		}
		begun := m.open != 0
		if h.event == loosen && (b.scrap && b.inTrouble || m.spent(h.bolt) || begun && m.step(m.open).Spends) {
			return errNo
		}
		m.mend(h.bolt, h.event == replace)
		return nil
	case keep:
		if b == nil {
			return ErrNotInPlan
		}
		if m.open != 0 && m.step(m.open).Bolt != h.bolt || !b.inTrouble || !b.stays {
			return errNo
		}
		b.inTrouble, b.scrap, b.stays = false, false, false
		return nil
	case doubt:
		if b == nil {
			return ErrNotInPlan
		}
		if m.open != 0 && m.step(m.open).Bolt == h.bolt {
			m.status[m.open] = Pending
			m.open = 0
		}
		m.put(h.bolt, m.spent(h.bolt) || m.singleUse(h.bolt), false)
		return nil
	case useTool:
		m.slipped = false
		return nil
	case note:
		return nil
	}
	s, ok := m.plan.Step(h.step)
	if !ok {
		return ErrNotInPlan
	}
	st := m.status[h.step]
	if h.event == begin {
		switch {
		case st == Done, st == Skipped, st == Begun, m.open != 0:
			return errNo
		case m.anyTrouble():
			return ErrInDoubt
		case m.next() != h.step:
			return errNo
		}
		m.status[h.step], m.open, m.began = Begun, h.step, now
		return nil
	}
	word, _, _ := what(s)
	wait, _ := torque.As[torque.Wait](s.Do)
	switch {
	case st != Begun, h.event == skip && word != "wait", h.event == answerNo && word != "check":
		return errNo
	case h.event == finish && word == "wait" && now.Sub(m.began) < wait.For:
		return ErrTooSoon
	}
	m.open = 0
	switch h.event {
	case finish:
		m.did(s)
	case skip:
		m.status[h.step] = Skipped
	case answerNo:
		m.status[h.step] = Failed
	}
	return nil
}

// mend makes a bolt free, or new.
func (m *plain) mend(name string, isNew bool) {
	b := m.bolts[name]
	pulled := b.pulled()
	own := m.own(name)
	for _, s := range own {
		pulled = pulled || m.status[s.Number] == Done || m.status[s.Number] == Begun
		m.status[s.Number] = Pending
	}
	if m.open != 0 && m.step(m.open).Bolt == name {
		m.open = 0
	}
	m.bolts[name] = &plainBolt{}
	if isNew {
		for _, s := range m.plan.Steps() {
			if w, _, _ := what(s); s.Group == m.groupOf(name).Name && s.Stage == 0 && w == "check" {
				m.status[s.Number] = Pending
			}
		}
	}
	if !pulled {
		return
	}
	m.pausesAfter(own[0].Number)
	for _, other := range m.underOneCap(name) {
		if m.bolts[other].pulled() {
			m.put(other, m.spent(other), true)
		}
	}
}

// given is what becomes of a bolt that was given a pull not meant for it.
func (m *plain) given(name string, s torque.Step) {
	b := m.bolts[name]
	word, to, by := what(s)
	switch word {
	case "tighten":
		next, more := m.nextOf(name)
		_, its, _ := what(next)
		var most units.Torque // that its plan gives it, until it is spent
		for _, s := range m.own(name) {
			if _, to, _ := what(s); most.Less(to) {
				most = to
			}
			if s.Spends {
				break
			}
		}
		switch {
		case b.turned():
			m.put(name, m.spent(name) || m.spends(name, to), false)
		case !b.torque().Less(to), more && !its.Less(to):
			b.acts = append(b.acts, act{what: "tighten", torque: to})
			b.used = b.used || m.spends(name, b.torque())
		case most.Less(to):
			m.put(name, true, false)
		default:
			m.put(name, m.spent(name) || m.spends(name, to), false)
		}
	case "turn":
		var ahead units.Angle
		for _, s := range m.own(name) {
			word, _, by := what(s)
			if m.status[s.Number] == Done {
				continue
			}
			if word == "free" || word == "back off" {
				break
			}
			ahead = ahead.Add(by)
		}
		tooFar := b.turned() || ahead.Less(by)
		m.put(name, tooFar || m.singleUse(name) || m.spent(name), false)
	default:
		if b.pulled() {
			m.put(name, m.spent(name), false)
		}
	}
}

func (m *plain) mishap(mishap Mishap, n int, o other) error {
	s, ok := m.plan.Step(n)
	if !ok {
		return ErrNotInPlan
	}
	word, _, _ := what(s)
	pause := s.Bolt == ""
	if (o.Bolt != "") != (mishap == WrongBolt) || (o.Instead != 0) != (mishap == WrongStep) {
		return errNo
	}
	if mishap == TooSoonNotMoved || mishap == TooSoonPartWay {
		return m.tooSoon(mishap, s)
	}
	if m.status[n] != Begun {
		return errNo
	}
	switch mishap {
	case PartWay:
		if word == "check" {
			return errNo
		}
	case Slipped:
		if pause {
			return errNo
		}
		m.slipped = true
	case TooFar:
		switch word {
		case "tighten", "turn":
			m.put(s.Bolt, true, false)
		case "back off":
			m.put(s.Bolt, m.spent(s.Bolt), false)
		default:
			return errNo
		}
	case WrongBolt:
		if m.bolts[o.Bolt] == nil {
			return ErrNotInPlan
		}
		if o.Bolt == s.Bolt || pause {
			return errNo
		}
		m.given(o.Bolt, s)
	case WrongStep:
		did, ok := m.plan.Step(o.Instead)
		if !ok {
			return ErrNotInPlan
		}
		if o.Instead == n || did.Bolt == "" {
			return errNo
		}
		if next, more := m.nextOf(did.Bolt); more && next.Number == o.Instead {
			m.did(did)
		} else {
			m.given(did.Bolt, did)
		}
	}
	m.status[n], m.open = Pending, 0
	if mishap == PartWay || mishap == Slipped {
		m.partWay(s)
	}
	return nil
}

// partWay is what becomes of a bolt that was pulled part-way in its own step.
func (m *plain) partWay(s torque.Step) {
	b := m.bolts[s.Bolt]
	switch word, _, _ := what(s); word {
	case "tighten":
		b.acts = append(b.acts, act{what: "?"})
		b.used = b.used || s.Spends
	case "turn":
		m.put(s.Bolt, m.singleUse(s.Bolt) || m.spent(s.Bolt), false)
	case "back off":
		m.put(s.Bolt, m.spent(s.Bolt), false)
	}
}

func (m *plain) tooSoon(mishap Mishap, s torque.Step) error {
	word, _, _ := what(s)
	if st := m.status[s.Number]; st != Done && st != Skipped || m.open != 0 || mishap == TooSoonPartWay && word == "check" {
		return errNo
	}
	if s.Bolt == "" {
		m.status[s.Number] = Pending
		m.pausesAfter(s.Number)
		return nil
	}
	b := m.bolts[s.Bolt]
	later := slices.ContainsFunc(m.own(s.Bolt), func(o torque.Step) bool { return o.Number > s.Number && m.status[o.Number] == Done })
	wasSpent := m.spent(s.Bolt)
	switch partWay := mishap == TooSoonPartWay; {
	case later:
		m.put(s.Bolt, wasSpent, false)
	case partWay && (word == "turn" || word == "back off"):
		m.put(s.Bolt, wasSpent, false)
	default:
		m.status[s.Number] = Pending
		i := slices.IndexFunc(b.acts, func(a act) bool { return a.step == s.Number })
		b.acts = slices.Delete(b.acts, i, i+1)
		if word == "free" || word == "back off" {
			b.acts = append(b.acts, act{what: "?"})
		}
		if partWay {
			m.partWay(s)
		}
		m.pausesAfter(s.Number)
	}
	for _, other := range m.underOneCap(s.Bolt) {
		if slices.ContainsFunc(m.own(other), func(o torque.Step) bool { return o.Stage > s.Stage && m.status[o.Number] == Done }) && m.bolts[other].pulled() {
			m.put(other, m.spent(other), true)
		}
	}
	return nil
}

// compare returns what of p is not as the model has it.
func (m *plain) compare(p *progress) error {
	done, skipped := 0, 0
	for _, s := range m.plan.Steps() {
		if got, want := p.status[s.Number-1], m.status[s.Number]; got != want {
			return fmt.Errorf("step %v is %v, want %v", s, got, want)
		}
		switch m.status[s.Number] {
		case Done:
			done++
		case Skipped:
			skipped++
		}
	}
	if p.done != done || p.skips != skipped || p.open != m.open {
		return fmt.Errorf("%d done, %d skipped, %d open; want %d, %d, %d", p.done, p.skips, p.open, done, skipped, m.open)
	}
	if next := m.next(); next != 0 {
		if s, ok := p.nextStep(); !ok || s.Number != next {
			return fmt.Errorf("next is %v %v, want %d", s, ok, next)
		}
	}
	seen := map[string]bool{}
	tool := false
	for _, t := range p.troubles() {
		if t.Why == "" || t.Advice == "" {
			return fmt.Errorf("%+v says too little", t)
		}
		if t.Bolt == "" {
			tool = true
			continue
		}
		seen[t.Bolt] = true
		if b := m.bolts[t.Bolt]; !b.inTrouble || b.scrap != t.Scrap || b.stays != t.Stays {
			return fmt.Errorf("%+v, want %+v", t, *b)
		}
	}
	for name, b := range m.bolts {
		if b.inTrouble != seen[name] {
			return fmt.Errorf("%s is in trouble: %v, want %v", name, seen[name], b.inTrouble)
		}
		at := p.standOf(name)
		if at.spent != m.spent(name) || at.touched != b.pulled() || !b.inTrouble && (at.turned != b.turned() || !at.torque.Equal(b.torque())) {
			return fmt.Errorf("%s: %+v, want spent %v pulled %v turned %v torque %v", name, at, m.spent(name), b.pulled(), b.turned(), b.torque())
		}
	}
	if tool != m.slipped {
		return fmt.Errorf("the tool slipped: %v, want %v", tool, m.slipped)
	}
	return nil
}
