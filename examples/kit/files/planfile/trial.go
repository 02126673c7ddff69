package planfile

import (
	"fmt"

	"example.com/closefit/torque"
)

// trial checks what a group says of a trial assembly. Bolts that are used once, and a turn of
// them, have to be meant: they cost a set of bolts, or may break one.
func (r *reader) trial(path string, g torque.Group, t Group) {
	if r.key != Trial {
		if t.OldBolts != nil {
			r.fail(path+".old_bolts", "old_bolts outside a trial assembly: %w; take it out: only what comes off again may go in with old bolts", ErrMisplaced)
		}
		if t.TrialTurn {
			r.fail(path+".turn_in_trial", "turn_in_trial outside a trial assembly: %w; take it out", ErrMisplaced)
		}
		return
	}
	turn := -1
	for i, s := range t.Stages {
		if s.Turn != "" && turn < 0 {
			turn = i
		}
	}
	spends := g.Use == torque.SingleUse && turn >= 0
	switch {
	case g.Use == torque.SingleUse && t.OldBolts == nil:
		r.fail(path+".group", "bolts that are used once, in a trial assembly, and nothing says which ones: %w; "+
			"write old_bolts = true if the manual lets the old ones be used for it, or old_bolts = false for new ones, of which another %d are then needed", ErrMissing, len(g.Pattern))
	case spends && !t.TrialTurn:
		cost := fmt.Sprintf("%d new bolts would be scrap when they come off again, and be bought twice", len(g.Pattern))
		if *t.OldBolts {
			cost = fmt.Sprintf("%d old bolts would be taken past yield a second time, and one may break", len(g.Pattern))
		}
		r.fail(fmt.Sprintf("%s.stages[%d].turn", path, turn), "a turn of bolts that are used once, in a trial assembly: %s: %w; "+
			"leave the turn out if the manual lets strips be read without it, or write turn_in_trial = true in the group", cost, ErrMissing)
	case t.TrialTurn && !spends:
		r.fail(path+".turn_in_trial", "turn_in_trial, and no turn of bolts that are used once: %w; take it out", ErrMisplaced)
	}
}
