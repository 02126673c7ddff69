package conform

// harm says what a wrong answer does to an engine.
func harm(topic, kind string) string { return harms[topic+"/"+kind] }

var harms = map[string]string{
	"convert/convert":                "a limit in the other unit is not the manual's: parts that are wrong are taken, or good ones refused",
	"convert/temperature difference": "thermal growth is worked out with a wrong difference, and a clearance with it",
	"convert/per fahrenheit":         "a part is taken to grow by the wrong amount: a running clearance closes, or an interference lets go",

	"combine/combine":  "the doubt of a clearance is too small, and a bearing that nobody has proven is closed; or too large, and good shells are sent back",
	"combine/rss":      "the doubt of a sum is wrong, and the verdict with it",
	"combine/coverage": "few readings are trusted like many, so that an interval is too narrow for what it claims",
	"combine/series":   "the scatter of a tightening method is wrong, and with it the least preload that holds a cap",

	"judge/judge":        "a bearing outside its limits is taken for good and seizes or knocks; or a good one is taken apart",
	"judge/conformity":   "somebody goes on at odds that they would not have taken",
	"judge/guard factor": "the guard band is too narrow, and bad parts pass more often than agreed",
	"judge/risk":         "more bad parts are fitted, or more good ones scrapped, than the shop believes",

	"assign/assign":    "a wrong shell goes into a bearing: its clearance is a grade or more too small or too large",
	"assign/sizes":     "a pair of shells or washers is fitted that leaves the clearance outside its limits, or one that fits is not found",
	"assign/undersize": "a crank is ground, or a shell ordered, to a size that does not run with its partner",

	"buy/buy": "more is paid than need be, or an engine waits because a shell is missing",

	"stack/worst case": "parts that are all within their limits meet without clearance, or with too much",
	"stack/rss":        "a series of engines is given a spread that its parts do not have",
	"stack/law":        "the share of engines out of limits is wrong by as much: too many come back, or limits are tightened at a cost for nothing",

	"threads/sizes":    "a bolt is loaded on an area that it does not have: it stretches, or it holds less than it could",
	"threads/limits":   "a worn or a wrongly cut thread is taken for good: it strips or jams in the block",
	"threads/strength": "a bolt is taken for stronger than it is and is torn off, or for weaker and leaves a cap loose",
	"threads/load":     "a bolt is taken for stronger than it is and is torn off, or for weaker and leaves a cap loose",

	"isofit/tolerance":  "a part is made to the wrong tolerance: it does not go together, or it is loose",
	"isofit/deviations": "a bore or a shaft lies elsewhere than drawn: a press fit turns in its seat, or a running fit does not run",
	"isofit/fit":        "a pin or a bush is pressed into a bore that it splits, or turns in one that ought to hold it",
	"isofit/pair":       "a pin or a bush is pressed into a bore that it splits, or turns in one that ought to hold it",
	"isofit/basis":      "both parts are made to drawings that do not leave the clearance asked for",

	"torque/nut factor":  "bolts get another preload than was meant: a cap lets go, or a bolt yields",
	"torque/tighten":     "bolts get another preload than was meant: a cap lets go, or a bolt yields",
	"torque/yield":       "a bolt is pulled past its yield, or holds a cap with less than it could",
	"torque/run on":      "a self-locking nut takes the torque, and the bolt never gets its preload",
	"torque/extension":   "an adapter changes the lever, and the bolt is overtightened or left loose while the wrench clicks as always",
	"torque/turn":        "an angle gives another force than was meant: a bolt yields too far, or holds too little",
	"torque/load factor": "the bolt feels more of each firing stroke than it can bear for long, and breaks in fatigue",
	"torque/shear area":  "a thread strips before the bolt gives way, in the block, where it is dearest",
	"torque/breaking":    "a bolt that binds is twisted off, or one that is bad passes its test",

	"plan/order": "a cap or a head is drawn down from one end: it tilts, warps, or crushes its gasket on one side",
	"plan/star":  "a flange is drawn down on one side and leaks, or warps the bore that it holds",
	"plan/steps": "a bolt is missed, or one is pulled to its last stage while its neighbours are loose",
}
