// Package record shows what a job's assessment found, in one model and four forms: text for a
// terminal and the bench wall, an HTML page to print, JSON for other programs, and the bench
// card alone as an SVG picture. Text and page begin with the card. Nothing is computed here,
// and Read makes the assessment of a record in JSON again.
//
// # JSON
//
// A document begins "closefit": 2; another number is refused. A key that is missing or unknown
// is an error. Bounds are texts with a unit, or null where there is none.
//
//	title, note, date, by    as typed in the job
//	proven                   everything that the engine asks for is proven right
//	engine                   cylinders, mains, pins with their rods, thrust, rings, passages, jets, decks
//	gates                    before each phase: open, how many items are proven, the names of those
//	                         that keep it shut and of those that open it on somebody's word. A gate
//	                         asks for the items of its own phase and of those before it
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
//	bolts                    what is known of each bolt, beside its length
//	instruments              what was read with, as the job states it
//	readings                 what was read, word for word, and the readings that it is by station, in
//	                         their exchange form: acts, and their doubts by source
//	limits                   what each verdict was judged by, in their order, with every digit
//	digest                   SHA-256 of the text before it, without blanks between its words
//
// Each field begins a line, and so does each element of its list: a line break is the only
// blank between words.
//
// # Checked from outside
//
// Each verdict rests on readings, on its limits and on what else the job states. The readings stand
// under their names, the limits at its number. What else is stated stands word for word, by its key in
// the job: temperatures, materials, volumes, walls, the formulas of its own fits. What follows from
// these is left out, and so is the formula of each line: whoever works a verdict out knows it, and
// believes no record about it. A purchase has its request and the figures of its proof beside it.
// examples/shortblock/checkrecord.py, which is plain Python and shares no code with this module,
// knows the formula and the conditions of every line, and works all of it out in fractions: each
// reading from what was typed, each sum from its line, each verdict from its readings, each item from
// its verdict, each gate from its items, each purchase from its proof. It holds to the same rules, so
// it finds a wrong sum and an altered record, and no wrong rule. What it does not work out, it names:
// studentized factors of limited degrees of freedom.
//
// The digest tells an accident, or an alteration by somebody who did not make a new digest.
// It proves nothing else: anyone can make one. testdata/free.txt beside the checker lists what
// the digest alone binds, with reasons.
package record
