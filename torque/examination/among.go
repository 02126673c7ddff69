package examination

import (
	"fmt"
	"math"
	"slices"

	"example.com/closefit/torque"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// Expect returns what to expect of a step's bolt after its pull: as Follow, but with what
// its neighbours took from it since its pull before. pull is what was done, where that is not quite
// what the step asks; a turn that was longer takes more torque.
//
// The error is of kind ErrImpossible for a step that is no pull of the plan, for a bolt whose
// neighbours stand on one part with it if only the stiffness of the whole joint is known, and as
// Follow says.
func (b Installed) Expect(plan *torque.Plan, step torque.Step, pull torque.Action) (preload.State, error) {
	if real, ok := plan.Step(step.Number); !ok || real.Bolt != step.Bolt || real.Group != step.Group || real.Stage != step.Stage || step.IsPause() {
		return preload.State{}, impossible("step", step.String(), "give a pull of the plan")
	}
	groups := plan.Groups()
	g := groups[slices.IndexFunc(groups, func(g torque.Group) bool { return g.Name == step.Group })]
	a, err := b.among(plan, g)
	if err != nil {
		return preload.State{}, err
	}
	if a.unknown != "" {
		return preload.State{}, impossible("neighbours of "+step.Bolt, a.unknown, "give the stiffness of the bolt and that of the parts, or say that the neighbours feel nothing of each other")
	}
	pulls := pullsOf(g.Stages[:step.Stage])
	pulls[len(pulls)-1] = pull
	states, err := follow(a.bolt, pulls, func(i int) units.RatioInterval { return a.kept(step.Bolt, i) })
	if err != nil {
		return preload.State{}, err
	}
	return states[len(states)-1], nil
}

func pullsOf(stages []torque.Stage) []torque.Action {
	var pulls []torque.Action
	for _, s := range stages {
		pulls = append(pulls, s.Pull)
	}
	return pulls
}

// among is a group's bolt among its neighbours.
type among struct {
	bolt        preload.YieldBolt // as stiff as its neighbours make it
	interaction *Interaction      // nil if each bolt stands alone, or nothing is known
	unknown     string            // why nothing is known of how neighbours feel each other; empty if it is, or there are none
	again       units.RatioInterval
	alone       []preload.State // after each stage, of a bolt without neighbours
}

// among lays the group's pulls out among the neighbours, in the plan's order.
func (b Installed) among(plan *torque.Plan, g torque.Group) (among, error) {
	a := among{bolt: b.Bolt}
	together, near := map[string]int{}, false
	for _, p := range g.Pattern {
		together[p.Part]++
		near = near || together[p.Part] > 1
	}
	share := b.Share
	if share.IsEmpty() {
		share = units.MustInterval(units.Ratio{}, units.One.OfInt(1))
	}
	apart := share.IsPoint() && share.Lo().IsZero()
	if !near || apart && b.Joint == nil {
		return a, nil
	}
	if b.Joint == nil {
		a.unknown = "only the stiffness of the whole joint is given"
		return a, nil
	}
	alone, err := Follow(b.Bolt, pullsOf(g.Stages)...)
	if err != nil {
		return a, err
	}
	var pulls, last []BoltPull
	for _, s := range plan.Steps() {
		if s.Group != g.Name || s.IsPause() {
			continue
		}
		pull := BoltPull{Bolt: s.Bolt, To: alone[s.Stage-1].Preload.Mid()}
		pulls = append(pulls, pull)
		if s.Stage == len(g.Stages) {
			last = append(last, pull)
		}
	}
	if len(g.Pattern) > maxNeighbours || len(pulls)+len(last) > maxNeighbourPulls {
		a.unknown = fmt.Sprintf("%d bolts and %d pulls are more than the %d and %d that are worked out", len(g.Pattern), len(pulls)+len(last), maxNeighbours, maxNeighbourPulls)
		return a, nil
	}
	n := Neighbours{Joint: *b.Joint, Pattern: g.Pattern, Share: share}
	i, err := n.Tighten(pulls...)
	if err != nil {
		return a, err
	}
	a.interaction, a.alone = &i, alone
	if _, tightens := torque.As[torque.Tighten](g.Stages[len(g.Stages)-1].Pull); tightens {
		i, err := n.Tighten(slices.Concat(pulls, last)...)
		if err != nil {
			return a, err
		}
		passes := i.Passes()
		a.again = passes[len(passes)-1]
	}
	stiffer := nearly(units.One, math.Ceil(n.stiffening()*1e6)/1e6, 6)
	a.bolt.Stiffness = units.MustInterval(b.Bolt.Stiffness.Lo(), b.Bolt.Stiffness.Hi().MulRat(stiffer.Rat(units.One)))
	return a, nil
}

// kept returns what part a bolt has left of the preload of its pull before, when a pull begins that is
// counted from 0.
func (a among) kept(bolt string, pull int) units.RatioInterval {
	whole := units.Exactly(units.One.OfInt(1))
	if a.interaction == nil || pull == 0 {
		return whole
	}
	at := slices.IndexFunc(a.interaction.Neighbours.Pattern, func(p torque.Position) bool { return p.Bolt == bolt })
	var aim units.Force
	given := 0
	for k, p := range a.interaction.Pulls {
		if p.Bolt != bolt {
			continue
		}
		if given == pull {
			if aim.Sign() <= 0 {
				return whole
			}
			f := a.interaction.Preloads[k-1][at]
			return unlike(units.MustInterval(units.One.OfRat(f.Lo().Ratio(aim)), units.One.OfRat(f.Hi().Ratio(aim))), a.alone[pull-1].Preload)
		}
		aim = p.To
		given++
	}
	return whole
}

// unlike returns what part a bolt keeps where the part is for bolts of one preload, and bolts may have
// any within a range: the slackest loses to the tightest.
func unlike(kept units.RatioInterval, preload units.ForceInterval) units.RatioInterval {
	one := units.One.OfInt(1)
	lo := kept.Lo()
	if lost := one.Sub(lo); lost.Sign() > 0 && preload.Lo().Sign() > 0 {
		lo = units.Max(units.Ratio{}, one.Sub(lost.MulRat(preload.Hi().Ratio(preload.Lo()))))
	}
	return units.MustInterval(lo, units.Max(lo, kept.Hi())).Outward(units.One, 9)
}

// keptByStage is kept of every bolt together.
func (a among) keptByStage(stage int) units.RatioInterval {
	if a.interaction == nil {
		return units.Exactly(units.One.OfInt(1))
	}
	var all units.RatioInterval
	for _, p := range a.interaction.Neighbours.Pattern {
		kept := a.kept(p.Bolt, stage)
		if all.IsEmpty() {
			all = kept
		}
		all = all.Hull(kept)
	}
	return all
}
