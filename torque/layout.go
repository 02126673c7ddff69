package torque

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// A node is one stage of one group, by index.
type node struct{ group, stage int }

// layout puts the stages of a plan's groups in order, and their steps into the plan.
//
// Ties make trees: a stage with the stages done during it, those with the stages
// done during them, and so on. The stages of a tree follow one another without a
// break, so it is whole trees that are put in order.
type layout struct {
	plan   *Plan
	orders map[node][]string // the bolts of each stage, as they are pulled
	tied   map[node][]node   // the stages done during each
	done   map[node]bool     // by the root of each tree: whether it is laid out, false while it waits
}

// run lays out every stage.
func (l *layout) run() error {
	if err := errors.Join(l.arrangeAll(), l.findTies()); err != nil {
		return err
	}
	l.makeRoom()
	for g := range l.plan.groups {
		for s := range l.plan.groups[g].Stages {
			root, err := l.root(node{g, s})
			if err != nil {
				return err
			}
			if err := l.visit(root); err != nil {
				return err
			}
		}
	}
	return nil
}

// makeRoom makes room for every step, so that adding them moves none.
func (l *layout) makeRoom() {
	p := l.plan
	steps, pulls := 0, 0
	for _, g := range p.groups {
		pulls += len(g.Pattern) * len(g.Stages)
		steps += len(g.First)
		for _, stage := range g.Stages {
			steps += len(stage.Then)
		}
	}
	p.steps = make([]Step, 0, steps+pulls)
	numbers := make([]int, pulls)
	for _, g := range p.groups {
		for _, place := range g.Pattern {
			n := len(g.Stages)
			p.ofBolt[place.Bolt] = numbers[:0:n]
			numbers = numbers[n:]
		}
	}
}

// root returns the stage that n is done during at the last, which is tied to none.
func (l *layout) root(n node) (node, error) {
	seen := map[node]bool{}
	for at := n; ; {
		host, tied := l.host(at)
		if !tied {
			return at, nil
		}
		if seen[at] {
			return node{}, l.cycle(n)
		}
		seen[at] = true
		at = host
	}
}

// host returns the stage that n is tied to.
func (l *layout) host(n node) (host node, tied bool) {
	stage := l.plan.groups[n.group].Stages[n.stage]
	return node{l.plan.group[stage.DuringGroup], stage.DuringStage - 1}, stage.tied()
}

func (l *layout) cycle(n node) error {
	return (&fault{group: l.plan.groups[n.group].Name, stage: n.stage + 1,
		found: "by the ties and the order of the stages it would have to come before itself", fix: "tie it to another stage, or take a tie out"}).err()
}

// visit lays out a tree after the trees that hold the earlier stages of its groups.
// Only through a tie can a tree come before itself, so the one it finds waiting has
// a tied stage to name.
func (l *layout) visit(root node) error {
	switch done, seen := l.done[root]; {
	case done:
		return nil
	case seen:
		return l.cycle(l.tree(root)[1])
	}
	l.done[root] = false
	before := map[node]bool{}
	for _, n := range l.tree(root) {
		earlier := node{n.group, n.stage - 1}
		if n.stage > 0 && !before[earlier] {
			r, err := l.root(earlier)
			if err != nil {
				return err
			}
			if r == root {
				return l.cycle(n)
			}
			if err := l.visit(r); err != nil {
				return err
			}
		}
		before[n] = true
	}
	l.emit(root)
	l.done[root] = true
	return nil
}

// tree returns n and the stages done during it, in the order they are done.
func (l *layout) tree(n node) []node {
	all := []node{n}
	for _, t := range l.tied[n] {
		all = append(all, l.tree(t)...)
	}
	return all
}

// emit adds the steps of a stage and of what is done during it. With the first stage of a
// group that is done cap by cap it adds all of its stages.
func (l *layout) emit(n node) {
	group := l.plan.groups[n.group]
	if n.stage == 0 {
		for _, pause := range group.First {
			l.add(Step{Group: group.Name, Do: pause})
		}
	}
	if group.Order != CapByCap {
		l.emitStage(n, l.orders[n])
		return
	}
	if n.stage > 0 {
		return
	}
	for _, bolts := range group.caps() {
		for s := range group.Stages {
			n := node{n.group, s}
			l.emitStage(n, slices.DeleteFunc(slices.Clone(l.orders[n]), func(bolt string) bool { return !slices.Contains(bolts, bolt) }))
		}
	}
}

// emitStage adds the pulls of a stage on some of its bolts, and what follows them.
func (l *layout) emitStage(n node, bolts []string) {
	group := l.plan.groups[n.group]
	stage := group.Stages[n.stage]
	spends := group.spends(n.stage + 1)
	for _, bolt := range bolts {
		l.add(Step{Group: group.Name, Stage: n.stage + 1, Bolt: bolt, Do: stage.Pull, Mark: is[Turn](stage.Pull), Spends: spends})
	}
	for _, t := range l.tied[n] {
		l.emit(t)
	}
	for _, pause := range stage.Then {
		l.add(Step{Group: group.Name, Stage: n.stage + 1, Do: pause})
	}
}

// add numbers a step and puts it at the end of the plan.
func (l *layout) add(s Step) {
	p := l.plan
	s.Number = len(p.steps) + 1
	p.steps = append(p.steps, s)
	if !s.IsPause() {
		p.ofBolt[s.Bolt] = append(p.ofBolt[s.Bolt], s.Number)
	}
}

// arrangeAll finds the order of the bolts in each stage.
func (l *layout) arrangeAll() error {
	var bad []error
	for g, group := range l.plan.groups {
		usual, err := arrange(group, group.Order)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		for s, stage := range group.Stages {
			own := usual
			if stage.Order == CapByCap {
				bad = append(bad, (&fault{stage: s + 1, found: "its order is cap by cap, which goes through all stages", fix: "make it the order of the group"}).in(group))
				continue
			}
			if stage.Order != nil {
				own, err = arrange(group, stage.Order)
				bad = append(bad, err)
			}
			l.orders[node{g, s}] = own
		}
	}
	return errors.Join(bad...)
}

// arrange puts a group's bolts in an order and checks that each is there once.
func arrange(g Group, order Sequence) ([]string, error) {
	switch order.(type) {
	case Arrangement, Given:
	default:
		return nil, (&fault{part: "Order", found: fmt.Sprintf("its order is a %T", order), fix: "give it an Arrangement or a Given, or leave it out"}).in(g)
	}
	bolts := order.arrange(g.Pattern)
	names := namesOf(g.Pattern)
	left := map[string]int{}
	for _, b := range names {
		left[b] = 1
	}
	var bad []error
	fail := func(bolt, found, fix string) {
		bad = append(bad, (&fault{part: "Order", bolt: bolt, found: found, fix: fix}).in(g))
	}
	for _, b := range bolts {
		n, known := left[b]
		switch {
		case !known:
			fail(b, "its order names a bolt that the group does not have", meant(b, names, "name only its bolts: "+some(names)))
		case n == 0:
			fail(b, "its order names the bolt twice, which would pull it twice", "name it once")
		default:
			left[b] = 0
		}
	}
	for _, b := range names {
		if left[b] == 1 {
			fail(b, "its order leaves the bolt out, so nobody would tighten it", "name every bolt of the group")
		}
	}
	return bolts, errors.Join(bad...)
}

// some returns the first few names of a list.
func some(names []string) string {
	const few = 12
	if len(names) > few {
		names = append(slices.Clone(names[:few]), "…")
	}
	return strings.Join(names, ", ")
}

// findTies finds the stage that each tie names.
func (l *layout) findTies() error {
	var bad []error
	for g, group := range l.plan.groups {
		for s, stage := range group.Stages {
			if !stage.tied() {
				continue
			}
			host, found := l.plan.group[stage.DuringGroup]
			if !found {
				bad = append(bad, (&fault{stage: s + 1, found: fmt.Sprintf("tied to group %q, which does not exist", stage.DuringGroup),
					fix: meant(stage.DuringGroup, l.groupNames(), "name one of the plan's groups: "+some(l.groupNames()))}).in(group))
				continue
			}
			if stages := len(l.plan.groups[host].Stages); stage.DuringStage < 1 || stage.DuringStage > stages {
				bad = append(bad, (&fault{stage: s + 1, found: fmt.Sprintf("tied to stage %d of %q, which does not exist", stage.DuringStage, stage.DuringGroup),
					fix: fmt.Sprintf("write a stage from 1 to %d", stages)}).in(group))
				continue
			}
			if group.Order == CapByCap || l.plan.groups[host].Order == CapByCap {
				bad = append(bad, (&fault{stage: s + 1, found: fmt.Sprintf("tied to stage %d of %q, and one of the two groups is done cap by cap, so that each of its stages is done more than once", stage.DuringStage, stage.DuringGroup),
					fix: "take the tie out, or give the group another order"}).in(group))
				continue
			}
			at := node{host, stage.DuringStage - 1}
			l.tied[at] = append(l.tied[at], node{g, s})
		}
	}
	return errors.Join(bad...)
}

func (l *layout) groupNames() []string {
	var names []string
	for _, g := range l.plan.groups {
		names = append(names, g.Name)
	}
	return names
}
