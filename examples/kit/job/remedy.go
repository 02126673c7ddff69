package job

import "example.com/closefit/units/measure"

// A Remedy says what can be done about a finding of a group that is outside its
// limits.
type Remedy struct {
	Kind  ActionKind `json:"kind"`  // Stop, or Order where the part is simply replaced
	Below string     `json:"below"` // what to do about what is below its limits
	Above string     `json:"above"`
}

// For returns what can be done about the verdict.
func (r Remedy) For(v measure.Verdict) string {
	if v == measure.BelowLimit {
		return r.Below
	}
	return r.Above
}

// The remedies of the trade (common practice, no source).
var (
	shopRemedy = Remedy{Stop, "Ask a machine shop.", "Ask a machine shop."}

	bearingRemedy = Remedy{Stop,
		"Do not run it: too tight a bearing seizes. Check seating, cap and size, then fit thinner shells, or ask a machine shop.",
		"Do not run it: too wide a bearing loses its oil. Measure the journal for wear, then fit thicker or undersize shells, or ask a machine shop."}
	boreRemedy = Remedy{Stop,
		"Look for dirt between cap and block, and for a cap in the wrong place or the wrong way round; then ask a machine shop.",
		"The housing is stretched or out of shape: ask a machine shop."}
	journalRemedy = Remedy{Stop,
		"The journal is worn: ask a machine shop whether it can be ground to an undersize.",
		"Measure again: a journal does not grow. Look whether it is the right crankshaft."}
	wallRemedy = Remedy{Order,
		"The shell is thinner than it should be: fit another.",
		"The shell is thicker than it should be: look at its grade, or fit another."}
	jetRemedy = Remedy{Order,
		"It opens too early and takes oil from the bearings: replace the jet.",
		"It opens too late and leaves the piston uncooled: replace the jet."}
	endPlayRemedy = Remedy{Stop,
		"Fit thinner thrust washers, or seat the caps again.",
		"Fit thicker thrust washers; if none bring it inside, the crankshaft goes to a machine shop."}
	sidePlayRemedy = Remedy{Stop,
		"The rod binds: find out whether rod and journal belong together, or ask a machine shop.",
		"The rod or the journal's cheeks are worn: ask a machine shop."}
	ringGapRemedy = Remedy{Stop,
		"The ends would meet when hot and break the ring: file the gap, square and free of burrs, and measure again.",
		"Fit another ring, or look whether the bore is worn or the ring is for another bore."}
	boltRemedy = Remedy{Order, "",
		"It is scrap: order a new one, and keep the old one apart so that it cannot go back."}
	cylinderRemedy = Remedy{Stop,
		"It is too tight: have it honed, or look whether the piston is the right one.",
		"It is worn: ask a machine shop for an oversize, or fit another piston."}
)
