// Package examination holds an examination of a plan: what its numbers mean for the bolts that it
// tightens.
//
// [Installed] is all that is known of the bolts of a group. [Installed.Examine] puts it beside a plan, and
// returns an [Examination]: what to expect after each stage, what is lost again, and each [Question]
// that has to be answered before the plan is carried out. [Installed.Expect] says the same of a
// single step, so that what a wrench showed can be held against it. [Follow] takes one bolt through
// the stages of its group. [Neighbours] are the bolts that take preload from each other as they are
// tightened.
//
// What a torque and a turn do to a bolt is worked out by package preload.
//
// # Everything is a range
//
// What is known goes in as intervals, and what to expect of a bolt that stands alone is an interval that
// holds for every value in them. Neighbours work in float64, and their springs are a model: what they
// leave is an estimate and not a bound, and says so.
//
// # Errors
//
// Every error is a [*units.Error] of kind [ErrImpossible] or, where a bolt cannot be, of kind
// preload.ErrImpossible.
//
// # Left out
//
// A question does not say that a plan is wrong: the engine maker's manual comes first. What was not
// compared is named. Creep and gaskets are left out.
package examination
