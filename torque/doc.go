// Package torque holds the tightening of bolts: the plan that says which bolt is
// pulled when and how far, the ledger that keeps what has been done, and what a
// torque or an angle promises in preload.
//
// # The plan
//
// A [Plan] is made from groups of bolts. A [Group] has a [Pattern] (which bolts
// there are and where they stand), an [Order] to pull them in, and stages; each
// [Stage] is one [Pull], made by [PullOf] of a [Tighten], a [Turn] or a [BackOff], given
// to every bolt of the group once. A stage may be tied to a stage of another group, so
// that both are done together, and may be followed by pauses, made by [PauseOf]: a [Wait],
// or a [Check] such as "does the crank turn freely?".
//
//	plan, err := torque.NewPlan("short block",
//		torque.Group{
//			Name:    "main cap bolts",
//			Pattern: torque.Caps([]string{"1L", "1R"}, []string{"2L", "2R"}, []string{"3L", "3R"}),
//			Order:   torque.InsideOut{},
//			Stages: []torque.Stage{
//				{Pull: torque.PullOf(torque.Tighten{To: units.MustParseTorque("23 N·m")})},
//				{Pull: torque.PullOf(torque.Turn{By: units.MustParseAngle("55°")})},
//			},
//			Use: torque.SingleUse,
//		})
//
// What can hurt has to be said by name: whether the bolts of a group with a turn are
// used once ([Use]), a torque above 1000 N·m (High), a turn that takes a bolt more than
// a full turn past snug (Beyond).
//
// The plan's steps are numbered from 1. Its digest names it, so that a ledger
// knows which plan it belongs to. [Plan.Text] prints it, [Plan.Drawings] draws it, and
// JSON carries it from one program to another.
//
// # The ledger
//
// A [Ledger] is a file that records each step as it is begun and as it is done, so that
// no interruption leaves anyone guessing whether a bolt has had its turn:
//
//	ledger, err := torque.OpenLedger("short-block.ledger", plan)
//	step, ok := ledger.Next()
//	err = ledger.Begin(step.Number) // on the disk before the wrench moves
//	err = ledger.Done(step.Number)
//
// A turn that was begun and not finished leaves its bolt in doubt; [Ledger.Trouble]
// says so, and what to do. A wait is done when its time is over, or is recorded as
// skipped.
//
// # What a bolt feels
//
// [Screw] gives the preload of a torque and the torque of a preload over a range of
// friction, [YieldBolt] what each stage of a torque-and-turn tightening does to a bolt,
// and [Wrench] what to set on the tool in the hand.
//
// # What is left out
//
// The package holds no maker's torques or angles: they come from the engine
// maker's manual, which comes first. [Plan.Cautions] says what must be said with
// every plan.
//
// # What a torque and a turn promise
//
// A [Screw] turns torque into preload, and back, over a range of friction, exactly.
// [YieldBolt.Forecast] says what a snug torque and a turn do to a bolt, and where it
// begins to yield. Yield preload, the turn to it, and the spread of many bolts work in
// float64, and say so.
//
// # Errors
//
// What is wrong with a plan is a [*PlanError], what is wrong with a ledger a
// [*LedgerError]. Each wraps one of the package's Err values, for errors.Is, and
// says where, and what to write or do instead. The quantities of a plan are exact;
// nothing is rounded but what is printed, and that is marked "≈".
package torque
