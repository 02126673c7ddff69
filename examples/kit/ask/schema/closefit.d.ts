// The questions that closefit answers, and their answers. Made from its Go types.

export type GaugeKind = "gauge";

/** a number as text, with every digit: "13.40" */
export type Decimal = string;

/** A Gauge shows a value: a micrometer, a bore gauge, a dial, a caliper, a scale, a pressure gauge. */
export interface Gauge {
  kind: GaugeKind;
  /** readings by one name share its error */
  name: string;
  /** the expanded one, "0.004 mm", as its certificate states it; null if only a limit of error is known */
  uncertainty: string | null;
  /** the part of it that is new in each reading; null if it is not known */
  repeats: string | null;
  /** the part that is the same in every reading, expanded; with repeats in place of uncertainty, or null */
  common: string | null;
  /** the coverage factor, "2"; null for 2 */
  k: Decimal | null;
  /** degrees of freedom; null if none are stated */
  freedom: number | null;
  /** that its maker promises; null if none */
  limit_of_error: string | null;
  /** the name of the instrument or the setting piece that it was set on, or null */
  set_on: string | null;
}

export type PieceKind = "setting piece";

/** A SettingPiece is a ring or a rod that gauges are set on. */
export interface SettingPiece {
  kind: PieceKind;
  name: string;
  /** of its size, expanded */
  uncertainty: string;
  k: Decimal | null;
  freedom: number | null;
}

export type StripKind = "crush strip";

/** A CrushStrip is compared with the printed widths. Prints are the clearances beside them. */
export interface CrushStrip {
  kind: StripKind;
  name: string;
  /** "0.025 mm", smallest first */
  prints: string[];
  /** how far a print may be off; null takes it as exact */
  tolerance: string | null;
  /** of strips that share that error; null if each has its own */
  batch: string | null;
}

export type BladesKind = "feeler blades";

/** FeelerBlades are a set of blades. A set is one instrument wherever its name stands. */
export interface FeelerBlades {
  kind: BladesKind;
  name: string;
  /** thinnest first */
  blades: string[];
  /** how far a blade may be off its mark; null takes it as exact */
  tolerance: string | null;
}

/** An Instrument is what something was read with: one of its kinds, which its key "kind" names. */
export type Instrument = Gauge | SettingPiece | CrushStrip | FeelerBlades;

/** a number as text: "1", "-1/2" */
export type Ratio = string;

export type How = "shown" | "travel" | "opening";

/** A Condition is a fact about how a reading was taken, without which the reading misleads: the cap's bolts tightened to 60 N·m, the shells out. What names the fact and Is its state; two conditions agree when both are equal, letter for letter. */
export interface Condition {
  /** "bolts" */
  what: string;
  /** "tightened to 60 N·m" */
  is: string;
}

/** A JudgeTerm is one reading and how often it counts. */
export interface JudgeTerm {
  /** "D" */
  symbol: string;
  /** "housing bore" */
  name: string;
  /** "1", "-1", "1/2" */
  times: Ratio;
  /** With names the instrument; null for a part's own tolerance, "2.494 ±0.002 mm". */
  with: string | null;
  /** what the texts of "read" mean; "shown" unless a gauge read a travel or an opening */
  how: How;
  /** Read is what was shown. Of a gauge, one or more readings of the same thing. Of a strip one text: "0.050 mm" nearest to that print, "0.050..0.075 mm" between two. Of blades one text: "0.20..0.25 mm", the blade that goes and the one that does not; ">= 0.20 mm". Of a travel two, from and to: "-0.02 mm", "0.13 mm". Of an opening one: "2.1..2.4 bar", shut at the one and open at the other; ">= 2.1 bar" if it never opened, "<= 2.4 bar" if it was never shut. */
  read: string[];
  /** Stated is how it was read; Needs is how it must have been, for the sum to prove anything. A condition is met if it is stated in the same words. Both may be empty. */
  stated: Condition[];
  needs: Condition[];
}

/** A Direct is a reading of the whole quantity. Its keys are as those of a JudgeTerm. */
export interface Direct {
  /** "crush strip" */
  name: string;
  with: string | null;
  how: How;
  read: string[];
  stated: Condition[];
}

/** A Judge asks what readings prove about limits: one reading, or several that are added and subtracted. */
export interface Judge {
  /** "main 3, running clearance" */
  name: string;
  /** "0.024..0.048 mm", "<= 0.05 mm"; its unit says what is judged, a length or another quantity */
  limits: string;
  /** of the answer; null for that of the limits */
  unit: string | null;
  /** what was read with */
  instruments: Instrument[];
  /** the readings, one or more */
  terms: JudgeTerm[];
  /** the quantity cannot be below zero */
  non_negative: boolean;
  /** every doubt at its worst, instead of by root-sum-square */
  at_worst: boolean;
  /** Direct is the same quantity read by itself, beside the sum of the terms: a clearance on a crush strip, an end play on a dial. If the two agree the closer one is judged; if not, one of them is wrong, and neither proves anything. Null if it was not read. */
  direct: Direct | null;
  /** Wanted asks which size would bring a sum of lengths inside its limits: the symbols of the terms that could have another, whose sizes are added if there are several. Empty if nobody asks. */
  wanted: string[];
}

export type Verdict = "undecided" | "conforming" | "below limit" | "above limit";

/** Bounds are the ends of an interval, each a text with a unit, or null where there is none. */
export interface Bounds {
  lo: string | null;
  hi: string | null;
}

/** Probabilities are the least and the greatest that what is not known allows. */
export interface Probabilities {
  least: number;
  greatest: number;
}

/** Compared is what two ways of reading one quantity say. */
export interface Compared {
  /** whether both can be right; null if either proves nothing */
  agree: boolean | null;
  /** of the direct reading */
  direct: Bounds;
  /** of the sum of the terms */
  sum: Bounds;
  /** of direct less sum, without what both share */
  difference: Bounds;
}

/** A Working shows the steps that lead to a result, so that a person can check it by hand: the formula in the trade's symbols, the formula with the numbers in it, the result, the source. Steps are the workings behind its numbers. An empty part is not shown. */
export interface Working {
  /** what is worked out: "main 3, clearance" */
  name: string;
  /** "C = D - t1 - t2 - d" */
  formula: string;
  /** "60.012 - 2.001 - 2.003 - 55.970" */
  numbers: string;
  /** "0.038 mm" */
  result: string;
  /** the standard, or the rule */
  source: string;
  /** what a reader must know */
  notes: string[];
  /** the workings behind the numbers */
  steps: Working[];
}

/** Judged is the answer to Judge. */
export interface Judged {
  verdict: Verdict;
  /** why the readings prove nothing, whatever the limits: a condition that is not stated, a gap below zero; null if they may prove something */
  problem: string | null;
  /** what was judged: "length" */
  kind: string;
  /** what the readings prove, rounded outward to nine places */
  measured: Bounds;
  /** exact */
  limits: Bounds;
  /** proven not to be below the lower limit */
  meets_lower: boolean;
  /** proven not to be above the upper limit */
  meets_upper: boolean;
  /** of what conforms: how far inside at the least */
  margin: string | null;
  /** of what is outside: by how much */
  outside: Bounds | null;
  /** Conforming is the probability that the true value is within the limits (JCGM 106:2012); null where there is none, for a reading without a bound. */
  conforming: Probabilities | null;
  /** the direct reading beside the sum; null without one */
  compared: Compared | null;
  /** Wanted is the size that the wanted terms must have together, for the sum to be proven inside the limits with all else as it is known; null if no size does it, or if it was not asked. */
  wanted: Bounds | null;
  /** Settles is, of what is undecided, the expanded uncertainty (k = 2) of another reading that would decide it nine times in ten; null where no reading is known to. */
  settles: string | null;
  /** of the sum, and of the verdict */
  working: Working[];
}

/** an interval of a length: "0.024..0.048 mm", "60 +0.019/0 mm", "2.5 ±0.002 mm", "<= 0.02 mm" */
export type LengthInterval = string;

/** A Code is one code that can be stamped. */
export interface Code {
  code: string;
  /** the grade for its half, without a matrix or sums */
  shell: string;
  /** with sums; if null, the code itself is the number */
  number: number | null;
  /** the bore or journal diameter that the code stands for */
  size: LengthInterval | null;
}

/** A SumRow gives shells for a range of sums. */
export interface SumRow {
  from: number;
  to: number;
  shells: string;
}

export type Half = "either" | "upper" | "lower" | "front" | "rear";

/** A Shell is one shell that exists, or one thrust washer. */
export interface Shell {
  /** of a washer its step: "standard", "0.10 oversize" */
  grade: string;
  /** Either if both halves are alike */
  half: Half;
  /** the undersize that it is for */
  family: string;
  /** thickness at the middle */
  wall: LengthInterval | null;
}

/** a length with its unit, as text */
export type Length = string;

/** A Family is the shells for a crank that was ground to an undersize. */
export interface Family {
  name: string;
  /** of the journal's diameter */
  undersize: Length;
}

/**
 * A Scheme says which shells belong to which stamped codes. Whoever has the engine's manual types it in: closefit holds none.
 *
 * Each code gives the shell of its own half: the housing's the upper one, the journal's the lower one. Or both codes together give both shells, by a Matrix or by Sums; there "red/blue" is a red upper and a blue lower shell, and "red" is red for both.
 */
export interface Scheme {
  name: string;
  /** the manual and its page */
  source: string;
  /** Interchangeable says that the halves of one grade are the same part. Otherwise upper and lower shells are bought apart. */
  interchangeable: boolean;
  housing: Code[];
  journal: Code[];
  /** Matrix is a table of both codes as a manual prints it: a first row of the journal codes, with an empty corner before them, then for each housing code a row that begins with it and has the shells for each journal code. */
  matrix: string[][];
  /** by the sum of both codes' numbers */
  sum: SumRow[];
  /** the shells that exist, with their walls */
  shell: Shell[];
  /** undersizes */
  family: Family[];
  /** the undersize family that the crank is ground to, as InFamily sets it; empty if it is not ground */
  ground: string;
  /** how many steps apart, in order of wall, the grades in one location may be, in selecting from sizes: 0 for one grade, 1 for neighbours too */
  mix: number;
  /** of the running clearance, or the end play */
  limits: LengthInterval | null;
  /** the clearance to aim at; the middle of the limits if null */
  wanted: Length | null;
}

/** A CodeRow is a row of codes as it is stamped. */
export interface CodeRow {
  /** "ABBAC", "12-11-?-12" */
  text: string;
  /** the first or the last location, to which its first code belongs; null if that is not known */
  from: string | null;
  /** a mark that the manual shows at one end of the row, or null */
  mark: string | null;
  /** the location at that end, or null */
  mark_at: string | null;
  /** known to be read the right way up */
  upright: boolean;
  /** the undersize family of a crank whose codes were stamped after it was ground, or null */
  ground: string | null;
}

/** Codes are the rows of both sides. */
export interface Codes {
  /** in the order in which the engine numbers them */
  locations: string[];
  housing: CodeRow;
  journal: CodeRow;
}

/** A Site is a place for two parts, as measured: a bearing by its bore and its journal; or thrust washers, either by Room or by EndPlay with the two that are Fitted. Each is an interval that holds the true size, empty if not measured. */
export interface Site {
  location: string;
  /** the bore without shells, cap tightened */
  housing: LengthInterval | null;
  journal: LengthInterval | null;
  /** the length for the washers and the end play, without any washer in it */
  room: LengthInterval | null;
  end_play: LengthInterval | null;
  /** for EndPlay the front and the rear washer: the thickness of each as listed, or closer as measured */
  fitted: Shell[];
}

/** An Assign asks which shells belong into each location: by the codes stamped on both sides, by the sizes that were measured, or by both, which are then compared. */
export interface Assign {
  scheme: Scheme;
  /** of a scheme with undersize families: the one that the crank is ground to, "standard" if it is not; null for a scheme without */
  family: string | null;
  /** of the working: "mm" */
  unit: string;
  /** null if there are none */
  codes: Codes | null;
  /** the measured sizes; empty if there are none */
  sites: Site[];
}

/** A Part is one thing that can be bought and fitted: a shell of a grade for one half. Two parts are the same thing if they are ==. */
export type Part = string;

/** A Pair is the two parts of one location: a bearing's upper and lower shell. For a pair of thrust washers Upper is the front one and Lower the rear one. */
export interface Pair {
  upper: Part;
  lower: Part;
}

/** Coded is what the codes of one location call for. */
export interface Coded {
  /** the codes that are possible */
  housing: string[];
  journal: string[];
  /** one; several while a code is open */
  pairs: Pair[];
  /** which codes leave several, and how to tell */
  why: string[];
}

/** A Fit is a pair with the clearance that it gives. */
export interface Fit {
  upper: Part;
  lower: Part;
  clearance: Bounds;
  verdict: Verdict;
  /** from the wanted clearance */
  off: Length;
}

/** A Place is one location. */
export interface Place {
  location: string;
  /** what the codes call for; null without codes */
  coded: Coded | null;
  /** what the sizes allow, proven inside the limits, the nearest to the wanted clearance first; null without sizes */
  sized: Fit[] | null;
  /** codes and sizes say the same; null unless there are both */
  agree: boolean | null;
  notes: string[];
  /** of sizes that nothing is proven to fit: the nearest, which does not */
  nearest: Fit | null;
  /** of the clearance with the pair that is taken; empty without sizes */
  working: Working[];
}

/** A PartCount is a number of one part. */
export interface PartCount {
  part: Part;
  n: number;
}

/** Assigned is the answer to Assign. */
export interface Assigned {
  places: Place[];
  /** what to look at, where a row can be read in more ways than one */
  ask: string[];
  /** Parts is what all locations call for together, as a Buy needs it: by codes, where they leave one pair, else the nearest fit by sizes. It is null while any location is open. */
  parts: PartCount[] | null;
}

/** An Item is the name of a thing that is bought: "B upper", an order number. */
export type Item = string;

/** An Alternative serves one place of a need: these parts, one of each entry, at some distance from the best. */
export interface Alternative {
  parts: Item[];
  /** not below zero */
  distance: Length;
}

/** A Need is a number of places, each to be served by one of its alternatives. */
export interface Need {
  /** "main 3", "B upper" */
  name: string;
  n: number;
  /** the preferred one first */
  alternatives: Alternative[];
}

/** A Count is a number of one part. */
export interface Count {
  part: Item;
  n: number;
}

/** A Pack is a box of fixed contents at a price. */
export interface Pack {
  /** the order number, or its name; unique among the packs on sale */
  name: string;
  /** the contents; any mix of parts */
  parts: Count[];
  /** for one pack, in the caller's currency; null if not stated, which is an error */
  price: Decimal | null;
  /** how many are on sale; null if as many as wanted */
  limit: number | null;
}

/** A Buy asks for the cheapest purchase that, with the stock, serves all needs. */
export interface Buy {
  needs: Need[];
  stock: Count[];
  packs: Pack[];
  /** Trades is how many purchases to list, the cheapest among them, of those that cost more and come nearer (by the distances of the alternatives): 0 for none, else 2 to 20. */
  trades: number;
}

/** A PackCount is a number of one pack. */
export interface PackCount {
  name: string;
  n: number;
  /** of one */
  price: Decimal;
}

/** A Serving is a number of places of a need that are served by one of its alternatives. */
export interface Serving {
  /** of the request, from 0 */
  need: number;
  /** of the need */
  name: string;
  /** of the need, from 0 */
  alternative: number;
  parts: Item[];
  n: number;
}

/**
 * A Case is a set of purchases. It is divided by one number into those with at most AtMost and those with more, or a bound is proven for all of them. Money is in 1/Scale of the component's Unit. Each part has a worth; the missing parts must be bought, so that
 *
 * Scale × price >= Σ Missing × Worth + Σ Served + Σ Bought = Sum
 *
 * holds for any worths. With a Scale of 0 prices count for nothing, and a Sum above zero says that the case holds no purchase at all.
 */
export interface Case {
  /** the number of packs of a line, or, after the lines, of places served by an alternative of a choice */
  of: number;
  /** null if the case is not divided: its bound follows */
  at_most: number | null;
  scale: number;
  /** by part: of one */
  worth: number[];
  /** by part: the parts that needs of one alternative take, less the stock and the packs bought in any case; rounded up to an amount that the open packs can add */
  missing: number[];
  /** by line: by how much the first pack costs more than the worth that it can add; below zero if it costs less */
  dearer: number[];
  /** by line: the price of the packs bought in any case, and, for each other one that costs less than its worth, the difference */
  bought: number[];
  /** by choice: the worth of the cheapest alternatives to serve all its places; with a Scale of 0 also 1 for each place without an alternative left */
  served: number[];
  sum: number;
  /** Sum / Scale, rounded up; 0 with a Scale of 0 */
  least: number;
}

/**
 * A Component has packs, and the figures of the parts that only these packs hold, so the least prices of components add up. It has either Cases or a table of Prices.
 *
 * A line is a list of packs counted by one number, and bought in order. They hold the same of Parts, up to the first pack with a sufficient supply; the packs behind it hold no more and cost no less.
 *
 * Cases divide all purchases. They stand in one list: a divided case comes first, then all cases of its purchases with at most AtMost, then all cases of those with more. The first case is every purchase.
 *
 * The table bounds the price of every shortage of one part up to the actual one; that of the others follows. A shortage is a number of lots. A lot is the largest number that divides each pack's content of the part, so the shortage can be rounded up to whole lots. Prices lists the shortages in order, from none to the whole one.
 *
 * A price of the first stage is that of the cheapest pack to buy first: the pack's price plus the table's price for the rest. A later stage takes in one more pack of a limited number: its price is the least, over all numbers of it, of their price and the price that the stage before gives for the rest. No shortage costs nothing. So each price can be checked from others.
 */
export interface Component {
  /** the amount in which its prices are counted */
  unit: Decimal;
  /** no purchase of its packs costs less than so many units */
  least: number;
  /** those that can be short */
  parts: Item[];
  /** its packs */
  lines: string[][];
  /** needs with several alternatives, taken together if these are the same; needs of one alternative count in Parts alone */
  choices: Need[];
  /** none with a table */
  cases: Case[];
  /** the part of the table, by its place in Parts */
  counted: number;
  /** of that part; 0 without a table */
  lot: number;
  /** of that part, in lots */
  missing: number;
  /** the packs that each takes in */
  stages: string[][];
  /** by stage, by shortage: the least price in units; -1 where nothing serves */
  prices: number[][];
}

/** A Proof shows that no purchase that serves a request costs less than Least. Anyone with the request can check it, with whole numbers, and by hand if it is short; the package documentation says how. */
export interface Proof {
  /** Σ Unit × Least of the components */
  least: Decimal;
  components: Component[];
  /** how many cases the search examined */
  examined: number;
}

/** A Trade is a purchase that costs more and comes nearer. */
export interface Trade {
  packs: PackCount[];
  price: Decimal;
  distance: Length;
}

/** Bought is the answer to Buy. */
export interface Bought {
  /** what to buy */
  packs: PackCount[];
  /** of all of it */
  price: Decimal;
  /** of stock and packs */
  leftover: Count[];
  /** which parts serve which need */
  served: Serving[];
  /** of the alternatives that are taken, together */
  distance: Length;
  /** proven: nothing that serves costs less */
  cheapest: boolean;
  /** by how much it may be dearer than the cheapest; "0" if it is proven */
  gap: Decimal;
  /** the first aim in which another purchase might do better: "price", "distance", "parts left over"; null if none */
  unproven: string | null;
  proof: Proof;
  /** null if they were not asked for */
  trades: Trade[] | null;
  /** whether these are all trades; null if they were not asked for */
  complete: boolean | null;
  working: Working[];
}

export type EvenKind = "uniform" | "triangular" | "arcsine";

/** Even has nothing more to say. */
export interface Even {
  kind: EvenKind;
}

export type NormalKind = "normal" | "normal within limits";

/** A Normal is a normal distribution, or one that is cut off at the limits. */
export interface Normal {
  kind: NormalKind;
  /** how many standard deviations a limit is from the middle: 3 */
  k: number;
  /** null for the middle of the limits */
  mean: Length | null;
}

export type TrapezoidalKind = "trapezoidal";

/** A Trapezoidal lies between a uniform and a triangular one. */
export interface Trapezoidal {
  kind: TrapezoidalKind;
  /** as a part of the width between the limits */
  top: number;
}

export type SampleKind = "sample";

/** A Sample is what was measured of such parts. */
export interface Sample {
  kind: SampleKind;
  values: Length[];
}

/** A Distribution says how the actual sizes lie within their limits: one of its kinds, which its key "kind" names. Who knows nothing more takes the uniform one. */
export type Distribution = Even | Normal | Trapezoidal | Sample;

/** A Source moves several sizes of a stack together: the setting of the machine that made them, the heat of a batch, a size of the fixture that held them all. */
export interface Source {
  name: string;
  /** Part is the correlation of the size with the source, from -1 to 1: the size is its mean plus Part times its standard deviation times the source, a standard normal variable, plus what is its own. Null is a part that is not known. */
  part: number | null;
}

/** A Contributor is one size of a stack. */
export interface Contributor {
  name: string;
  /** "1" opens the gap, "-1" closes it */
  times: Ratio;
  /** both bounds */
  limits: LengthInterval | null;
  /** of its sizes in them; null if it is not known, and then there are no probabilities, or of an exact size */
  distribution: Distribution | null;
  /** it does not vary: its limits are one size, "2.5 mm", and it has no distribution */
  exact: boolean;
  /** Sources move it together with other contributors that name them, such as the setting of a machine. Empty for a size of its own. */
  sources: Source[];
}

/** A Simulation says how to draw. The same seed draws the same. */
export interface Simulation {
  /** 2 to 1000000 */
  trials: number;
  /** 0 or more */
  seed: number;
}

/** A Stack asks how wide a gap can be that is a sum of sizes. */
export interface Stack {
  name: string;
  contributors: Contributor[];
  /** of the gap; null if there are none */
  limits: LengthInterval | null;
  /** of the working: "mm" */
  unit: string;
  /** by how much the root sum of squares is widened, "1.5"; null for not at all */
  inflation: Ratio | null;
  /** probabilities of which to give the gap that so many lie below: 0.001; empty for none */
  quantiles: number[];
  /** with the law, and the simulation, shared out among bins for a chart */
  histogram: boolean;
  /** Correlations are those between the contributors, a row for each in their order, with 1 where it meets itself; null if they are independent, or name sources. What sources say as causes this says as numbers: a stack has one or the other. */
  correlations: number[][] | null;
  /** Simulation draws so many stacks by chance: the only answer for sizes that hang together and are not normal. Null for none. */
  simulation: Simulation | null;
}

/** A Gap is judged where there are limits. */
export interface Gap {
  lo: string | null;
  hi: string | null;
  /** null without limits */
  verdict: Verdict | null;
}

/** A Tail is a probability and how far it may be off. */
export interface Tail {
  value: number;
  error: number;
  /** the error is a bound that follows from a proof, else an estimate */
  proven: boolean;
}

/** A Quantile is the gap that a part of all gaps lie below. */
export interface Quantile {
  p: number;
  /** rounded to the nanometre */
  gap: string;
}

/** A Histogram shares all gaps out among bins: from one edge up to the next, with all that lies below the first edge before them and all that lies above the last one behind. */
export interface Histogram {
  /** ascending, rounded to the nanometre */
  edges: string[];
  /** one more than there are edges; together they are one */
  parts: Tail[];
}

/** A Law is the distribution of the gap. */
export interface Law {
  /** rounded to the nanometre */
  mean: string;
  std_dev: string;
  /** the probability below the lower limit; null without limits */
  below: Tail | null;
  above: Tail | null;
  outside: Tail | null;
  /** null without two limits */
  cp: number | null;
  /** null without limits */
  cpk: number | null;
  quantiles: Quantile[];
  /** null if it was not asked for */
  histogram: Histogram | null;
}

/** Simulated is what the draws show. */
export interface Simulated {
  /** rounded to the nanometre, as the others */
  mean: string;
  std_dev: string;
  /** of all that were drawn */
  least: string;
  greatest: string;
  /** the part of them below the lower limit; null without limits */
  below: number | null;
  above: number | null;
  outside: number | null;
  /** the standard uncertainty of "outside" as an estimate of the probability; null without limits */
  chance: number | null;
  /** each as good as the bins of the simulation, a part of a thousandth of the standard deviation, and chance */
  quantiles: Quantile[];
  /** in the bins of the law's, if there is one; null if it was not asked for */
  histogram: Histogram | null;
}

/** A Share is what one contributor has of the spread. */
export interface Share {
  name: string;
  /** in the worst case, from 0 to 1 */
  of_width: number;
  /** null unless every contributor has a distribution */
  of_variance: number | null;
}

/** Stacked is the answer to Stack. */
export interface Stacked {
  /** every gap that the limits allow */
  worst_case: Gap;
  /** root sum of squares; what is not known of how sizes hang together is taken at its worst */
  rss: Gap;
  /** null unless every contributor has a distribution, and there is a law of such sizes; notes say why */
  law: Law | null;
  /** null unless a simulation was asked for */
  simulated: Simulated | null;
  /** in the order of the contributors */
  shares: Share[];
  notes: string[];
  working: Working[];
}

/** A Position is one bolt and where it stands. The positions of a group's bolts are its pattern. If you know only their arrangement, [Row], [Caps] and [Circle] set them out on a plain scheme; an order and a drawing need no more. Positions are rounded to the nearest micrometre. */
export interface Position {
  /** its name, unique in the plan */
  bolt: string;
  /** to the right, as the pattern is looked at */
  x: Length;
  /** down */
  y: Length;
  /** the cap that it holds down with others; may be empty */
  part: string;
}

export type Arrangement = "inside out" | "outside in" | "spiral" | "cross" | "rows" | "cap by cap";

/** the order in which bolts are pulled: a word, or the bolts in that order; null for inside out, or for what stands above */
export type Sequence = Arrangement | string[];

/** a torque with its unit, as text */
export type Torque = string;

/** an interval of a torque: "22..24 N·m", "15 ±1 lbf·ft" */
export type TorqueInterval = string;

/** a unit of torque */
export type TorqueUnit = string;

/** Tighten pulls a bolt until the wrench shows a torque. */
export interface Tighten {
  kind: "tighten";
  /** the torque to set, above zero; if missing, the middle of Within */
  to: Torque;
  /** the tolerance, with To in it; empty for none */
  within: TorqueInterval | null;
  /** the unit to print in; N·m if left out */
  in: TorqueUnit;
  /** confirms a torque above 1000 N·m */
  high: boolean;
}

/** an angle with its unit, as text */
export type Angle = string;

/** an interval of an angle: "50..60 °", "55 ±5 °" */
export type AngleInterval = string;

/** Turn turns a bolt further by an angle, from its position after the stage before. */
export interface Turn {
  kind: "turn";
  /** how far, above zero; if missing, the middle of Within */
  by: Angle;
  /** the tolerance, with By in it; empty for none */
  within: AngleInterval | null;
  /** confirms a turn that takes the bolt more than a full turn past snug */
  beyond: boolean;
}

/** A BackOff loosens a bolt. */
export interface BackOff {
  kind: "back off";
  /** how far, at most a full turn; null until it turns freely */
  by: Angle | null;
}

/** A Wait lets time pass, for a gasket or a sealant to settle. */
export interface Wait {
  kind: "wait";
  /** "10m", "90s", "1h30m" */
  for: string;
  /** may be empty */
  why: string;
}

/** a unit of length */
export type LengthUnit = string;

/** An Inspection asks someone to look or measure before the work goes on. */
export interface Inspection {
  kind: "check";
  /** "does the crank turn freely by hand?" */
  ask: string;
  /** the limits of a measured length; empty if nothing is measured */
  within: LengthInterval | null;
  /** the unit to print it in; mm if left out */
  in: LengthUnit;
  /** what to do otherwise; "stop and find out why" if empty */
  if_not: string;
}

/** the work of one step, named by its kind: tighten, turn and back off are pulls, each of one bolt; wait and check are pauses between pulls */
export type Action = Tighten | Turn | BackOff | Wait | Inspection;

/** During names the stage of another group. */
export interface During {
  group: string;
  /** from 1 */
  stage: number;
}

/** A Stage pulls every bolt of a group once before the next stage begins; in a group done cap by cap, every bolt of one cap. */
export interface Stage {
  /** a tighten, a turn or a back off */
  pull: Action;
  /** the order to pull the bolts in; null for that of the group */
  order: Sequence | null;
  /** the stage of another group, together with which this one is done; null if it is not tied */
  during: During | null;
  /** the pauses once the stage is done */
  then: Action[];
}

export type BoltUse = "not said" | "single use" | "reusable";

/** A Group is a set of bolts that are tightened alike. */
export interface Group {
  /** unique in the plan, by more than case or blanks */
  name: string;
  /** its bolts */
  pattern: Position[];
  /** the order to pull them in; InsideOut if null */
  order: Sequence | null;
  /** what is done to each bolt, in order */
  stages: Stage[];
  /** whether the bolts may be used again; required if a stage is a Turn */
  use: BoltUse;
  /** the part they stand on; groups on one part share a drawing */
  on: string;
  /** the pauses before the first stage: "are the threads oiled?" */
  first: Action[];
}

/** A Plan asks for a tightening, laid out step by step. */
export interface Plan {
  /** "short block" */
  name: string;
  /** in the order in which they are done */
  groups: Group[];
}

/** A PlannedStep is one pull on one bolt, or a pause. */
export interface PlannedStep {
  number: number;
  group: string;
  /** in its group, from 1; 0 before the first */
  stage: number;
  /** empty for a pause */
  bolt: string;
  do: Action;
  /** mark the bolt and the part under it before the pull */
  mark: boolean;
  /** once this pull has begun, a loosened bolt is scrap */
  spends: boolean;
  /** "12. main 3 left: mark it, then turn 55° further" */
  says: string;
}

/** Planned is the answer to Plan. */
export interface Planned {
  /** names the plan, so that a ledger knows which one it belongs to */
  digest: string;
  /** the first numbered 1 */
  steps: PlannedStep[];
  /** the plan to print, with a heading for each stage */
  text: string;
  /** to be shown with the plan wherever it is shown */
  cautions: string[];
}

export type Rounding = "exact" | "inward" | "outward" | "nearest";

/** A Convert asks for a quantity or an interval in another unit. */
export interface Convert {
  /** "1.8740..1.8747 in", "60 +0.019/0 mm", "45 lbf·ft" */
  value: string;
  /** the unit: "mm" */
  to: string;
  /** which way */
  round: Rounding;
  /** decimal places in that unit; null for exact, and for limits of a length from inches to millimetres or back, which ISO 370 gives places */
  places: number | null;
}

/** Converted is the answer to Convert. */
export interface Converted {
  /** "47.600..47.617 mm"; a number without an end is a ratio, "(5/127) in" */
  value: string;
  /** "length" */
  kind: string;
  /** the number of the lower bound; null if there is none */
  lo: string | null;
  /** that of the upper bound, the same for a single value */
  hi: string | null;
  /** empty for a bare number */
  unit: string;
  /** as it was asked for */
  round: Rounding;
  /** null for exact */
  places: number | null;
  /** whether the value is another one than was given */
  rounded: boolean;
  working: Working;
}

export type Format = "text" | "json" | "html";

/** A Record asks for the build record of a job. */
export interface Record {
  /** of the job's file, for errors: "engine.toml" */
  name: string;
  /** the file's text */
  source: string;
  format: Format;
  /** with the model of the oil film too, of which the job says what it needs */
  film: boolean;
}

/** Recorded is the answer to Record. */
export interface Recorded {
  title: string;
  /** everything that the engine asks for is proven right */
  proven: boolean;
  format: Format;
  /** the text of the record; of the format json, a text to be parsed */
  record: string;
}

/** A Refusal says why a question has no answer. What is not known of it is null. */
export interface Refusal {
  /** all of it, for a person */
  message: string;
  /** "no unit", "not of the exchange form" */
  kind: string | null;
  /** the key, `Judge, "limits"`, or what the value was given for */
  where: string | null;
  /** in a text that was read, from 1 */
  column: number | null;
  found: string | null;
  /** what to write instead */
  write: string | null;
}

/** The questions by name: what each asks with, and its answer. */
export interface Questions {
  /** Judges a reading, or a sum of readings, against limits: what is proven, how probable it is, and what would settle it. */
  judge: { with: Judge; answer: Judged };
  /** Assigns shells to each location by stamped codes, by measured sizes, or by both, which are then compared. */
  assign: { with: Assign; answer: Assigned };
  /** Finds the cheapest packs that serve all needs with the stock, with the proof that nothing costs less. */
  buy: { with: Buy; answer: Bought };
  /** Adds up a tolerance stack: worst case, root sum of squares, and the probabilities of the gap. */
  stack: { with: Stack; answer: Stacked };
  /** Lays out a tightening step by step: order, torques and turns, pauses, marks, and the cautions that belong with it. */
  plan: { with: Plan; answer: Planned };
  /** Converts a quantity or an interval to another unit, exactly or rounded the way that is asked for. */
  convert: { with: Convert; answer: Converted };
  /** Makes the build record of an engine from its job file, as text, HTML or JSON. */
  record: { with: Record; answer: Recorded };
}
