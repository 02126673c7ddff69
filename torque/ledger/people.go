package ledger

// What people's mistakes lead to stands in one table, rules, and nowhere else. PEOPLE.md
// prints it. None of it has a source: it is common practice, the safer where practice
// differs.

// An effect is what a mishap leads to.
type effect uint8

const (
	nothing effect = iota // the bolt is as it was, as far as its steps go
	again                 // the step is to be done again
	counts                // the step that was done instead counts as done
	backOff               // the bolt is backed off until it turns freely, and its stages begin again
	scrap                 // the bolt is replaced, and the stages of the new one begin
	refused               // it cannot have happened so
)

var effectWords = [...]string{nothing: "nothing", again: "do the step again", counts: "the other step counts as done", backOff: "back it off until it turns freely",
	scrap: "replace it", refused: "refused"}

// A cause is a mishap, or what else puts a bolt in trouble.
type cause = Mishap

const (
	partner cause = mishaps + iota // a bolt under the same cap was loosened or replaced, or missed a stage
	unknown                        // nobody knows what the bolt has had
	causes
)

func causeWords(c cause) string {
	switch c {
	case partner:
		return "partner under the same cap loosened, replaced, or found loose after a later stage of this one"
	case unknown:
		return "nobody knows what it has had"
	}
	return c.String()
}

// pullKinds are kinds of what a step does, a bit each.
type pullKinds uint8

const (
	tightens pullKinds = 1 << iota
	turns
	backsOffBy // by an angle
	frees      // backs off until it turns freely
	waits
	checks
	noPull // no step is concerned

	anyPull = tightens | turns | backsOffBy | frees
	anyStep = anyPull | waits | checks
)

var pullWords = []string{"tighten", "turn", "back off by an angle", "back off until free", "wait", "check"}

// standing is where the bolt stands of which a row asks, before the pull.
type standing uint8

const (
	anywhere  standing = iota
	noFurther          // no turn since it was free, and no more torque than it has had, or is to have next
	further            // no turn since it was free, and more torque than that; not more than its plan gives it, before it is spent
	beyond             // more torque or turn than its plan gives it from there
	within             // no turn since it was free, and no more than the turns its plan still gives it
	turned             // a turn since it was free
	untouched          // not pulled since it was free
	pulled             // pulled since it was free
	isNext             // the step done instead is its bolt's next
	notNext            // and is not
	latest             // nothing was done to the bolt after the step
	followed           // something was done to the bolt after the step
)

var standingWords = [...]string{
	anywhere:  "",
	noFurther: "no turn since it was free; no more torque than it has had, or is to have next",
	further:   "no turn since it was free; more torque than that, and no more than its plan gives it before it is spent",
	beyond:    "more than its plan gives it from there",
	within:    "no turn since it was free; no more than its plan still turns it",
	turned:    "a turn since it was free",
	untouched: "not pulled since it was free",
	pulled:    "pulled since it was free",
	isNext:    "the other step is its bolt's next pull",
	notNext:   "the other step is not its bolt's next pull",
	latest:    "nothing done to it since",
	followed:  "later pulls done to it since",
}

// A reuse is whether the bolt may be used again once it is loosened now.
type reuse uint8

const (
	eitherWay reuse = iota
	reusable        // it may
	spent           // it may not: single use, and the pull that spends it was given to it, perhaps in part
)

var reuseWords = [...]string{eitherWay: "", reusable: "may be used again", spent: "single use, and spent"}

// A rule is a row of the table.
type rule struct {
	cause cause
	pull  pullKinds // what was, or should have been, done to the bolt
	bolt  standing
	use   reuse
	then  effect
	tool  bool // no step begins until the tool was checked or changed
	asFor cause
	why   string
}

// rules is the table. Exactly one row is for each case; the bolt is the one that the pull was
// given to.
var rules = []rule{
	{cause: NotMoved, pull: anyStep, then: again, why: "nothing has moved, so nothing is used up"},

	{cause: PartWay, pull: tightens, then: again, why: "the wrench takes it on to the same torque"},
	{cause: PartWay, pull: turns, use: reusable, then: backOff, why: "nobody knows how far it was turned, and turning it again may take it too far"},
	{cause: PartWay, pull: turns, use: spent, then: scrap, why: "nobody knows how far it was turned, and a bolt that may have yielded is scrap once it is loosened"},
	{cause: PartWay, pull: backsOffBy, then: backOff, why: "nobody knows how far it was backed off; free, it is known; a plan backs off no spent bolt"},
	{cause: PartWay, pull: frees, then: again, why: "it goes on until the bolt turns freely"},
	{cause: PartWay, pull: waits, then: again, why: "the wait begins again"},
	{cause: PartWay, pull: checks, then: refused, why: "a check is answered yes or no"},

	{cause: Slipped, pull: tightens, then: again, tool: true, why: "the wrench takes it on to the same torque, once it is a good one"},
	{cause: Slipped, pull: turns, use: reusable, then: backOff, tool: true, why: "nobody knows how far it was turned, and turning it again may take it too far"},
	{cause: Slipped, pull: turns, use: spent, then: scrap, tool: true, why: "nobody knows how far it was turned, and a bolt that may have yielded is scrap once it is loosened"},
	{cause: Slipped, pull: backsOffBy, then: backOff, tool: true, why: "nobody knows how far it was backed off; free, it is known; a plan backs off no spent bolt"},
	{cause: Slipped, pull: frees, then: again, tool: true, why: "it goes on until the bolt turns freely"},
	{cause: Slipped, pull: waits | checks, then: refused, why: "no tool is used in it"},

	{cause: TooFar, pull: tightens | turns, then: scrap, why: "nobody knows how far it went: it may have yielded, whatever is said of its use, and its thread may be harmed; look at that too"},
	{cause: TooFar, pull: backsOffBy, then: backOff, why: "nobody knows how far it was backed off; free, it is known; a plan backs off no spent bolt"},
	{cause: TooFar, pull: frees | waits | checks, then: refused, why: "it has no end that a bolt could be taken past"},

	{cause: WrongBolt, pull: tightens, bolt: noFurther, then: nothing, why: "its own next pull takes it at least as far"},
	{cause: WrongBolt, pull: tightens, bolt: further, use: reusable, then: backOff, why: "it has more torque than it should have yet"},
	{cause: WrongBolt, pull: tightens, bolt: further, use: spent, then: scrap, why: "it has the torque that spends it before its turn, and a single-use bolt that was loosened is scrap"},
	{cause: WrongBolt, pull: tightens, bolt: beyond, then: scrap, why: "it has more torque than its plan ever gives it: it may have yielded, and its thread may be harmed; look at that too"},
	{cause: WrongBolt, pull: tightens, bolt: turned, use: reusable, then: backOff, why: "if it moved, nobody knows how far it was turned in all"},
	{cause: WrongBolt, pull: tightens, bolt: turned, use: spent, then: scrap, why: "if it moved, nobody knows how far it was turned in all, and it has been taken past yield"},
	{cause: WrongBolt, pull: turns, bolt: within, use: reusable, then: backOff, why: "it was turned from where its plan does not turn it"},
	{cause: WrongBolt, pull: turns, bolt: within, use: spent, then: scrap, why: "it was turned from where its plan does not turn it, and a bolt that may have yielded is scrap once it is loosened"},
	{cause: WrongBolt, pull: turns, bolt: beyond, then: scrap, why: "it was turned further than its plan ever turns it from there: it may have yielded, whatever is said of its use"},
	{cause: WrongBolt, pull: backsOffBy | frees, bolt: untouched, then: nothing, why: "it was free already"},
	{cause: WrongBolt, pull: backsOffBy | frees, bolt: pulled, use: reusable, then: backOff, why: "it is loose, or nobody knows how much it holds"},
	{cause: WrongBolt, pull: backsOffBy | frees, bolt: pulled, use: spent, then: scrap, why: "a single-use bolt that was loosened is scrap"},
	{cause: WrongBolt, pull: waits | checks, then: refused, why: "there is no pull in it that a bolt could be given"},

	{cause: WrongStep, pull: anyPull, bolt: isNext, then: counts, why: "its bolt was ready for it; the step that was begun is still to be done, and so are the pauses between"},
	{cause: WrongStep, pull: anyPull, bolt: notNext, asFor: WrongBolt, why: "its bolt had a pull for which it was not ready"},
	{cause: WrongStep, pull: waits | checks, then: refused, why: "only a pull can be given by mistake"},

	{cause: TooSoonNotMoved, pull: anyStep, bolt: latest, then: again, why: "nothing has moved, so nothing is used up; the pauses since are made again"},
	{cause: TooSoonNotMoved, pull: anyPull, bolt: followed, use: reusable, then: backOff, why: "its later pulls began from where they should not"},
	{cause: TooSoonNotMoved, pull: anyPull, bolt: followed, use: spent, then: scrap, why: "its later pulls began from where they should not, and a single-use bolt that was loosened is scrap"},

	{cause: TooSoonPartWay, pull: tightens, bolt: latest, then: again, why: "the wrench takes it on to the same torque; the pauses since are made again"},
	{cause: TooSoonPartWay, pull: turns, bolt: latest, use: reusable, then: backOff, why: "nobody knows how far it was turned, and turning it again may take it too far"},
	{cause: TooSoonPartWay, pull: turns, bolt: latest, use: spent, then: scrap, why: "nobody knows how far it was turned, and a bolt that may have yielded is scrap once it is loosened"},
	{cause: TooSoonPartWay, pull: backsOffBy, bolt: latest, then: backOff, why: "nobody knows how far it was backed off; free, it is known; a plan backs off no spent bolt"},
	{cause: TooSoonPartWay, pull: frees, bolt: latest, then: again, why: "it goes on until the bolt turns freely; the pauses since are made again"},
	{cause: TooSoonPartWay, pull: anyPull, bolt: followed, use: reusable, then: backOff, why: "its later pulls began from where they should not"},
	{cause: TooSoonPartWay, pull: anyPull, bolt: followed, use: spent, then: scrap, why: "its later pulls began from where they should not, and a single-use bolt that was loosened is scrap"},
	{cause: TooSoonPartWay, pull: waits, bolt: latest, then: again, why: "the wait begins again"},
	{cause: TooSoonPartWay, pull: checks, bolt: latest, then: refused, why: "a check is answered yes or no"},

	{cause: partner, pull: noPull, bolt: untouched, then: nothing, why: "it holds nothing yet"},
	{cause: partner, pull: noPull, bolt: pulled, use: reusable, then: backOff, why: "the cap has moved under it, so what it holds is not known; it stays only on somebody's word that the manual allows it"},
	{cause: partner, pull: noPull, bolt: pulled, use: spent, then: scrap, why: "the cap has moved under it, and a bolt taken past yield cannot be tightened anew; it stays only on somebody's word that the manual allows it"},

	{cause: unknown, pull: noPull, use: reusable, then: backOff, why: "nobody knows what it has had; free, it is known"},
	{cause: unknown, pull: noPull, use: spent, then: scrap, why: "it may have been spent"},
}

// ruleFor returns the row for a case.
func ruleFor(c cause, pull pullKinds, bolt standing, use reuse) rule {
	for _, r := range rules {
		if r.cause == c && r.pull&pull != 0 && (r.bolt == anywhere || r.bolt == bolt) && (r.use == eitherWay || r.use == use) {
			return r
		}
	}
	panic("ledger: no rule for " + causeWords(c) + ", " + standingWords[bolt]) // the table is complete, which is tested
}
