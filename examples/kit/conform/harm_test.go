package conform

// harm says what a wrong answer does to an engine.
func harm(topic, kind string) string { return harms[topic+"/"+kind] }

var harms = map[string]string{
	"convert/convert":                "a limit in the other unit is not the manual's: parts that are wrong are taken, or good ones refused",
	"convert/temperature difference": "thermal growth is worked out with a wrong difference, and a clearance with it",
	"convert/per fahrenheit":         "a part is taken to grow by the wrong amount: a running clearance closes, or an interference lets go",

	"convert/half away": "a printed figure is taken for a mistake, or a mistake for a printed figure",
	"convert/fineness":  "a limit is rounded so coarsely that parts outside of it pass, or so finely that nobody can measure it",
	"convert/warmed":    "a size is judged as if it were cold: a running clearance closes when the engine is hot",
	"convert/ring gap":  "a ring's gap is taken to say another wear of the bore than it does, and a worn bore stays, or a good one is bored out",

	"combine/combine":  "the doubt of a clearance is too small, and a bearing that nobody has proven is closed; or too large, and good shells are sent back",
	"combine/rss":      "the doubt of a sum is wrong, and the verdict with it",
	"combine/coverage": "few readings are trusted like many, so that an interval is too narrow for what it claims",
	"combine/stations": "a journal is called round, or within its limit, by readings that scatter as much as it is out",
	"combine/welch":    "a few readings are trusted like many, so that an interval is too narrow for what it claims",
	"combine/strip":    "a strip that lies between two prints is read as the nearer one, and a bearing is closed that nobody has proven",
	"combine/series":   "the scatter of a tightening method is wrong, and with it the least preload that holds a cap",

	"judge/judge":        "a bearing outside its limits is taken for good and seizes or knocks; or a good one is taken apart",
	"judge/conformity":   "somebody goes on at odds that they would not have taken",
	"judge/guard factor": "the guard band is too narrow, and bad parts pass more often than agreed",
	"judge/risk":         "more bad parts are fitted, or more good ones scrapped, than the shop believes",

	"assign/assign":    "a wrong shell goes into a bearing: its clearance is a grade or more too small or too large",
	"assign/sizes":     "a pair of shells or washers is fitted that leaves the clearance outside its limits, or one that fits is not found",
	"assign/undersize": "a crank is ground, or a shell ordered, to a size that does not run with its partner",

	"buy/buy": "more is paid than need be, or an engine waits because a shell is missing",

	"stack/worst case":    "parts that are all within their limits meet without clearance, or with too much",
	"stack/rss":           "a series of engines is given a spread that its parts do not have",
	"stack/first exceeds": "a gap is taken to need more parts than it does before it closes, or fewer",
	"stack/model":         "a straight line stands for a curve, and the doubt of a result is far from what it is",
	"stack/law":           "the share of engines out of limits is wrong by as much: too many come back, or limits are tightened at a cost for nothing",

	"threads/sizes":    "a bolt is loaded on an area that it does not have: it stretches, or it holds less than it could",
	"threads/limits":   "a worn or a wrongly cut thread is taken for good: it strips or jams in the block",
	"threads/strength": "a bolt is taken for stronger than it is and is torn off, or for weaker and leaves a cap loose",
	"threads/load":     "a bolt is taken for stronger than it is and is torn off, or for weaker and leaves a cap loose",

	"threads/series": "a tap of another series is ordered: it cuts a thread that the bolt binds in, or strips out of",

	"isofit/tolerance":  "a part is made to the wrong tolerance: it does not go together, or it is loose",
	"isofit/deviations": "a bore or a shaft lies elsewhere than drawn: a press fit turns in its seat, or a running fit does not run",
	"isofit/fit":        "a pin or a bush is pressed into a bore that it splits, or turns in one that ought to hold it",
	"isofit/pair":       "a pin or a bush is pressed into a bore that it splits, or turns in one that ought to hold it",
	"isofit/centres":    "a cover or a cap goes onto its dowels by force, or does not go on at all",
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

	"torque/setting":         "the wrench on its adapter is set wrong, and every bolt gets too much or too little while it clicks as always",
	"torque/least preload":   "the loosest bolt of a set holds less than was reckoned with, and its cap lets go",
	"torque/mean nut factor": "a rule of thumb is taken for truer than it is, and bolts get another preload than was meant",
	"torque/strip":           "a thread is pulled out of the block by a torque that was believed to be safe",
	"torque/embedding":       "a joint settles farther than was reckoned with, and its bolts come loose in service",
	"torque/embedding loss":  "a joint settles farther than was reckoned with, and its bolts come loose in service",
	"torque/friction class":  "bolts get another preload than was meant: a cap lets go, or a bolt yields",
	"torque/method":          "a way of tightening is trusted to scatter less than it does: the loosest bolt lets go, or the tightest yields",
	"torque/accuracy":        "a way of tightening is trusted to scatter less than it does: the loosest bolt lets go, or the tightest yields",
	"torque/surface":         "bolts get another preload than was meant: a cap lets go, or a bolt yields",
	"torque/key":             "a key twists off or rounds its socket before the torque is reached, and the screw has to be drilled out",
	"torque/cones":           "the bolt is reckoned to feel less of each firing stroke than it does, and breaks in fatigue",
	"torque/loaded bolt":     "the bolt bears more under load than was reckoned, and yields or breaks",
	"torque/heating":         "a stud is heated too little to stretch as wanted, or so far that it loses its temper",

	"plan/order":     "a cap or a head is drawn down from one end: it tilts, warps, or crushes its gasket on one side",
	"plan/star":      "a flange is drawn down on one side and leaks, or warps the bore that it holds",
	"plan/steps":     "a bolt is missed, or one is pulled to its last stage while its neighbours are loose",
	"plan/actions":   "a bolt is turned twice or not at all, with no mark on it to tell, or a check that the manual asks for is left out",
	"plan/stage":     "a stage is pulled to another torque or angle than the manual has, or a part is judged by another limit",
	"plan/turned":    "bolts are turned too far into yield, or not far enough to hold",
	"film/bearing":   "a bearing is given a clearance or a load at which its film is thinner than was reckoned, and it wipes",
	"film/full film": "a film is credited with suction that no oil bears, and a bearing carries less than was reckoned",
	"film/short":     "a narrow bearing is credited with more load than it carries",
	"film/carry":     "the least film, the heat or the oil that a bearing needs is wrong: it runs dry, hot, or robs the others of pressure",
	"film/petroff":   "the heat of a bearing is wrong, and the oil is cooled too little",
	"film/viscosity": "the oil is taken for thicker than it is when hot, and the film is thinner than was reckoned",
	"film/grade":     "an oil is chosen that does not reach the bearings in the cold, or that is too thin when hot",
	"plan/tied":      "bolts that press a cap sideways are pulled before it is seated, or after it can no longer move",
}
