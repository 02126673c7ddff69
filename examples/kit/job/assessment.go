package job

import (
	"fmt"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Assessment is everything that a job's readings and codes lead to, ready to
// be shown: what is proven and what is not, which shells go where and which to
// buy, how to tighten, and what to do next. Package record shows it; nothing in
// it needs further arithmetic.
//
// Quantities are texts in the units that the job asks for. Readings are rounded
// outward, limits inward; the bounds of a Range keep every digit, up to twelve
// places, and are rounded so to nine if they have more.
type Assessment struct {
	Title      string
	Note       string
	Date, By   string // when and by whom it was measured; as typed
	Engine     Engine
	Looked     []Looked
	Groups     []Group
	Shells     []Shells
	Items      []Item // everything that has to be known; the gates ask for these
	Trial      []PlanStep
	Plan       []PlanStep
	Tightening []Tightening // the groups of bolts, of both plans
	Pictures   []Picture    // where the rings' gaps are to stand
	Films      []Film       // the oil films of Job.Films; they judge nothing
	Next       []Action
	Cautions   []string

	Bolts []SaidBolt // what is known of each bolt, beside its length
	Read  *Grounds   // of a record that was read again; nil where they are made when they are asked for

	typed  func(*groundsWriter) // what was read, word for word, and with what
	doubts []string             // what is asked after the instruments
}

// Looked is something that was looked at, not measured: an oil passage, a crankshaft's
// fillets.
type Looked struct {
	Group    string `json:"group"`
	Location string `json:"location"`
	Quantity string `json:"quantity"`
	State    string `json:"state"` // in the words of the job file, or "not looked at"
	Good     bool   `json:"good"`
	GoodIs   string `json:"good_is"`  // the word for what is good
	Basis    Basis  `json:"rests_on"` // where the gaps of rings stand, and by which rules; null for what has a word

	open bool   // nobody looked
	do   string // what is to be done unless it is good
}

// Name is what it is called everywhere.
func (l Looked) Name() string { return itemName(l.Group, l.Location, l.Quantity) }

// A Group is what was judged against the same limits: the running clearances of
// the main bearings.
type Group struct {
	Name     string // "main bearing"
	Quantity string // "running clearance"
	Limits   string // "0.053..0.087 mm"
	Findings []Finding
	Remedy   Remedy // what can be done about what is outside
	before   Phase
	question string   // what is asked after its limits; empty where they are plausible
	from     []string // the lines that it is worked out from; none of one that is read
}

// A Finding is one reading judged against its limits.
type Finding struct {
	Group     string
	Location  string
	Quantity  string
	Measured  Range
	Tolerance Range
	Verdict   measure.Verdict
	Taken     bool           // false if there is no reading
	How       string         // how it was measured
	Advice    string         // what would settle it, or by how much it is outside
	Slip      string         // what an implausible reading may have been meant as
	Remedies  []string       // changes of parts after which it is proven inside, smallest first
	Working   *units.Working // the arithmetic, if there is any to check
	Drawing   *Drawing       // nil if there is nothing to draw

	limits func(text []byte) []byte // appends the exact limits, as the record in JSON has them
}

// A Drawing places a reading and its limits on a scale from 0 to 1 that all
// findings of a group share. What has no bound runs to the end of the scale. It
// is for looking at, not for judging.
type Drawing struct {
	LimitsFrom  float64 `json:"limits_from"`
	LimitsWide  float64 `json:"limits_wide"`
	ReadingFrom float64 `json:"reading_from"`
	ReadingWide float64 `json:"reading_wide"`
}

// A Range is an interval for the record.
type Range struct {
	Lo   *string `json:"lo"` // with every digit; nil if there is no lower bound
	Hi   *string `json:"hi"` // with every digit; nil if there is no upper bound
	Text string  `json:"-"`  // for reading
}

// Shells are the shells of one set of bearings: which go where, and what to buy.
type Shells struct {
	Bearings  string     `json:"bearings"`
	Choices   []Choice   `json:"choices"`
	Locations []ShellsAt `json:"locations"`
	HeldBack  []string   `json:"held_back"` // locations left out of the purchase: their shells are proven wrong
	Purchase  *Purchase  `json:"purchase"`  // for all locations that are neither held back nor open; null if there are none
	Offer     *Offer     `json:"offer"`     // the same with other shells for locations that are held back; null if there are none
	Basis     Basis      `json:"rests_on"`  // what those rest on that are chosen by their sizes; null if there are none
}

// ShellsAt is what is known of the shells of one location.
type ShellsAt struct {
	Location string   `json:"location"`
	By       string   `json:"by"`    // "codes", "sizes" or "fit", by which they are chosen, or "fitted", those that were measured with; empty while they are not
	Codes    string   `json:"codes"` // what the codes call for: "upper oak, lower elm"; empty if no codes count
	Sizes    string   `json:"sizes"` // what the sizes call for, the nearest first; empty if they are not known
	Notes    []string `json:"notes"`
	Standing Standing `json:"standing"`
	Why      string   `json:"why"`
	Do       []Action `json:"do"` // what must be done before they are known, or can be had
}

// An Offer is the smallest change of shells that brings locations inside which are proven
// wrong, with what to buy then.
type Offer struct {
	Fit      []FitAt  `json:"fit"`
	Purchase Purchase `json:"purchase"`
}

// FitAt is the shells to fit at a location, as a job file has them: "upper yew, lower oak".
type FitAt struct {
	Location string `json:"location"`
	Shells   string `json:"shells"`
}

// A Choice is the shell for one half of one location.
type Choice struct {
	Location string `json:"location"`
	Half     string `json:"half"`
	Code     string `json:"code"`
	Grade    string `json:"grade"`
}

// A Purchase is the cheapest way to have the shells that are chosen.
type Purchase struct {
	Lines    []PurchaseLine `json:"lines"`
	Total    string         `json:"total"`
	OnHand   []Parts        `json:"on_hand"`
	LeftOver []Parts        `json:"left_over"`
	Proof    string         `json:"proof"`
	Basis    Basis          `json:"rests_on"` // the request, and the proof in figures
}

// A PurchaseLine is a number of packs of one kind.
type PurchaseLine struct {
	Count int    `json:"count"`
	Pack  string `json:"pack"`
	Each  string `json:"each"`
	Sum   string `json:"sum"`
}

// Parts is a number of shells alike.
type Parts struct {
	Count int    `json:"count"`
	Part  string `json:"part"`
}

// A PlanStep is one thing to do to one bolt, or to wait for or ask between.
type PlanStep struct {
	Number int    `json:"number"`
	Stage  string `json:"stage"` // "side bolts, stage 1 of 1, during stage 3 of inner main cap bolts"
	Group  string `json:"group"`
	Bolt   string `json:"bolt"` // empty for what is done to none
	Do     string `json:"do"`
	Mark   string `json:"mark"` // what to mark before it
	Hold   string `json:"hold"` // why it must not be done yet
}

// A Picture is a drawing of where the gaps of a piston's rings are to stand.
type Picture struct {
	On  string `json:"on"`
	SVG string `json:"svg"`
}

// An Action is something to do next.
type Action struct {
	Kind ActionKind `json:"kind"`
	Text string     `json:"text"`
}

// An ActionKind says how an action stands to going on with the build. The kinds
// are in the order worst first.
type ActionKind uint8

const (
	Stop    ActionKind = iota // something is proven wrong: going on would harm the engine
	Measure                   // something is not proven: a better reading is needed
	Order                     // parts are needed
	GoOn                      // what is proven good
)

var actionKinds = [...]string{Stop: "stop", Measure: "measure", Order: "order", GoOn: "go on"}

// String returns "stop", "measure", "order" or "go on".
func (k ActionKind) String() string { return actionKinds[k] }

// Words are the kinds in words.
func (ActionKind) Words() []string { return actionKinds[:] }

// MarshalText returns String.
func (k ActionKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads the words of String.
func (k *ActionKind) UnmarshalText(text []byte) error {
	for _, kind := range []ActionKind{Stop, Measure, Order, GoOn} {
		if kind.String() == string(text) {
			*k = kind
			return nil
		}
	}
	return fmt.Errorf("action %q: %w; write stop, measure, order or go on", text, ErrUnknown)
}

// Proven reports whether everything that the engine asks for is proven to be right. What
// was accepted or left out is not.
func (a *Assessment) Proven() bool {
	for _, i := range a.Items {
		if i.Standing != Proven {
			return false
		}
	}
	return len(a.Items) > 0
}

// Held are the bolts that must not be tightened for good, and why: those that are not
// known to be fit for use.
func (a *Assessment) Held() map[string]string {
	held := map[string]string{}
	for _, i := range a.Items {
		switch {
		case i.Bolt == "" || i.Passes():
		case i.Standing == Wrong:
			held[i.Bolt] = i.Why
		default:
			held[i.Bolt] = "prove it good first, or replace it (" + i.Why + ")"
		}
	}
	return held
}

// outside returns the locations of a group that are proven outside their limits.
func (a *Assessment) outside(group string) []string {
	return a.locations(group, measure.Verdict.Outside)
}

// inside returns those that are proven inside.
func (a *Assessment) inside(group string) []string {
	return a.locations(group, func(v measure.Verdict) bool { return v == measure.Conforming })
}

func (a *Assessment) locations(group string, of func(measure.Verdict) bool) []string {
	var locations []string
	for _, g := range a.Groups {
		for i := range g.Findings {
			if f := &g.Findings[i]; f.Group == group && of(f.Verdict) {
				locations = append(locations, f.Location)
			}
		}
	}
	return locations
}

// Verdicts returns the findings of all groups, in the order of the record.
func (a *Assessment) Verdicts() []Finding {
	n := 0
	for _, g := range a.Groups {
		n += len(g.Findings)
	}
	all := make([]Finding, 0, n)
	for _, g := range a.Groups {
		all = append(all, g.Findings...)
	}
	return all
}
