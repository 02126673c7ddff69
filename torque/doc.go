// Package torque holds the plan of a tightening: which bolt to pull when, and how far.
//
// A [Plan] is made from groups of bolts. A [Group] has a pattern (which bolts there are
// and where each stands), a [Sequence] to pull them in, and stages. Each [Stage] gives
// one pull to every bolt of the group once: a [Tighten], a [Turn] or a [BackOff]. A stage
// may be tied to a stage of another group, so that both are done together. It may be
// followed by pauses: a [Wait], or an [Inspection] such as "does the crank turn freely?".
// Pulls and pauses are both an [Action], which [Do] makes.
//
//	plan, err := torque.NewPlan("short block",
//		torque.Group{
//			Name:    "main cap bolts",
//			Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}, []string{"3L", "3R"}),
//			Order:   torque.InsideOut,
//			Stages: []torque.Stage{
//				{Pull: torque.Do(torque.Tighten{To: units.MustParseTorque("23 N·m")})},
//				{Pull: torque.Do(torque.Turn{By: units.MustParseAngle("55°")})},
//			},
//			Use: torque.SingleUse,
//		})
//
// The plan's steps are numbered from 1. Its digest names it, so that a ledger knows which
// plan it belongs to. [Plan.Text] prints it, and JSON carries it from one program to another.
//
// # Said by name
//
// A plan has to state everything that can hurt: whether the bolts of a group with a turn
// are used once ([BoltUse]), a torque above 1000 N·m (High), a turn that takes a bolt
// more than a full turn past snug (Beyond). If one is missing, the plan is refused, or
// the worse case is assumed.
//
// # Exactness
//
// The quantities of a plan are exact. Only printed numbers are rounded, and those are marked
// "≈". The positions of bolts are rounded to the nearest micrometre.
//
// # Errors
//
// NewPlan reports all faults of a plan at once, joined. Each is a [*PlanError], which knows
// the group, the stage and the bolt, and wraps a [*units.Error] that says what to write
// instead. JSON that cannot be read is an error of kind units.ErrNotWritten.
//
// # Left out
//
// The package holds no maker's torques or angles: they come from the engine maker's
// manual, which comes first. [Plan.Cautions] returns the warnings to print with every
// plan. Package ledger records the pulls that were made, package preload works out the
// effect of a torque and a turn on a bolt, package examination what a plan means for its bolts,
// and programs draw plans.
package torque
