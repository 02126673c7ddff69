// Package record shows what a job's assessment found, in one model and four forms: text for a
// terminal and the bench wall, an HTML page to print, JSON for other programs, and the bench
// card alone as an SVG picture. Text and page begin with the card. Nothing is computed here,
// and Read makes the assessment of a record in JSON again.
//
// # JSON
//
// A document begins "closefit": 1; another number is refused. A key that is missing or unknown
// is an error. Bounds are texts with a unit, or null where there is none.
//
//	title, note, date, by    as typed in the job
//	proven                   everything that the engine asks for is proven right
//	engine                   cylinders, mains, pins with their rods, thrust, rings, passages, jets, decks
//	gates                    before each phase: open, how many items are proven, what keeps it shut,
//	                         what opens it on somebody's word
//	next                     what to do, worst first: kind (stop, measure, order, go on) and text
//	verdicts                 each fit judged: group, location, quantity, measured and tolerance (lo,
//	                         hi), verdict
//	groups                   those judged against the same limits, with what else is known of each
//	                         verdict, in their order: how it was read, advice, working
//	items                    everything that has to be known, and how it stands: proven, to order,
//	                         undecided, not measured, wrong
//	looked                   what was looked at
//	shells                   the shell for each half of each location, and what to buy
//	trial, plan              the steps of the trial assembly and of the final one
//	tightening               the groups of bolts: stages, order, and where each bolt stands
//	pictures                 SVG: where the gaps of the rings are to stand
//	films                    where they were asked for, the oil film of each kind of bearing over its
//	                         clearance: limits, curves (case, points), readings (ranges), caution
//	cautions
//	readings                 what was read, word for word, and the readings that it is by station
//	bolts                    what is known of each bolt, beside its length
//	digest                   SHA-256 of the text before it, without blanks between its words
package record
