package measure

import (
	"fmt"
	"math/big"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// An Instrument is a measuring instrument: its name, how far its readings can be trusted,
// and which part of their doubt they share. Micrometers and bore gauges are length
// instruments, pressure gauges are pressure instruments. Two readings are by one
// instrument when it has one name.
//
// State how far it can be trusted in one of two ways. Uncertainty is one figure, and
// nothing else is known: readings by one instrument may then share any of it, with either
// sign, and it is added at its worst. Common and Repeats are its two parts: the error
// that is the same in every reading, and the error that is new in each. [Split] makes the
// two of an uncertainty and a repeatability.
type Instrument[D units.Dimension] struct {
	// Name is what the record calls it: "outside micrometer 50-75 mm". Readings by
	// instruments without a name may share any of their doubts.
	Name string `json:"name"`

	// Graduation is its smallest step; zero if unknown.
	Graduation units.Quantity[D] `json:"graduation"`

	// Uncertainty is the expanded uncertainty of one reading, graduation and handling
	// included, as a calibration certificate states it.
	Uncertainty units.Quantity[D] `json:"uncertainty"`

	// Common and Repeats are expanded uncertainties too, in place of Uncertainty. Of
	// an instrument that is set, Common is what remains after setting.
	Common  units.Quantity[D] `json:"common"`
	Repeats units.Quantity[D] `json:"repeats"`

	// K is the coverage factor of the three; zero for 2.
	K decimal.Decimal `json:"k"`

	// Freedom is the degrees of freedom behind them, where the certificate states
	// it; zero for unlimited ones, as is usual. Intervals are then widened by
	// Student's t (JCGM 100:2008, G.3).
	Freedom int `json:"freedom"`

	// LimitOfError is the largest error that the maker promises: a bracket of each
	// reading, which no difference cancels.
	LimitOfError units.Quantity[D] `json:"limit_of_error"`

	// SetOn is the reading that it was set by: of a ring or a rod, or of another
	// instrument that it was set in. Every later reading has the doubts of the setting,
	// and [Instrument.Indicate] counts from it. If SetOn is a bracket, the instrument was
	// set to show its middle. With the zero Reading the instrument is not set; check that
	// the master of a set instrument was read.
	SetOn Reading[D] `json:"set_on"`

	// Setting tells one setting from another where it was set more than once:
	// "after lunch".
	Setting string `json:"setting"`
}

// A LengthInstrument measures lengths.
type LengthInstrument = Instrument[units.LengthDim]

// Split returns the part of an uncertainty that is common to all readings of an
// instrument, from the whole and the part that repeats: the rest, by squares, rounded up.
// The error is of kind ErrOrder if the part is above the whole.
func Split[D units.Dimension](uncertainty, repeats units.Quantity[D]) (common units.Quantity[D], err error) {
	const first = 0
	if repeats.Sign() < 0 || uncertainty.Less(repeats) {
		return common, &units.Error{Kind: ErrOrder, Where: "repeatability", Found: repeats.String() + " of an uncertainty of " + uncertainty.String(),
			Fix: "give the part of the uncertainty that differs from reading to reading, at most the whole"}
	}
	u, r := uncertainty.Rat(first), repeats.Rat(first)
	return rootOfSquare[D](u.Sub(u.Mul(u, u), r.Mul(r, r))), nil
}

// rootOfSquare returns the root of a square in the dimension's first unit, rounded
// up to a step.
func rootOfSquare[D units.Dimension](square *big.Rat) units.Quantity[D] {
	const first = 0
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(2*places), nil)
	scaled := new(big.Rat).Mul(square, new(big.Rat).SetInt(scale))
	n := new(big.Int).Sqrt(new(big.Int).Quo(scaled.Num(), scaled.Denom()))
	if new(big.Rat).SetInt(new(big.Int).Mul(n, n)).Cmp(scaled) < 0 {
		n.Add(n, big.NewInt(1))
	}
	return units.Unit[D](first).OfRat(new(big.Rat).SetFrac(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(places), nil)))
}

// Check returns an error of kind ErrNoUncertainty if the instrument states no
// uncertainty, or states it twice; ErrNotPositive for a figure or degrees of freedom
// below zero; ErrProbability for a coverage factor of zero or less, or one above 3
// without the degrees of freedom that would explain it; ErrNotMeasured if it is set on a
// reading that proves nothing, that lacks a bound, or that is the largest, the smallest
// or a range of stations.
func (in *Instrument[D]) Check() error {
	if in.plain() {
		return nil
	}
	if in.Uncertainty.Sign() < 0 || in.Common.Sign() < 0 || in.Repeats.Sign() < 0 || in.LimitOfError.Sign() < 0 || in.Graduation.Sign() < 0 {
		return in.negative()
	}
	split := in.Common.Sign() > 0 || in.Repeats.Sign() > 0
	switch {
	case split && in.Uncertainty.Sign() > 0:
		return &units.Error{Kind: ErrNoUncertainty, Where: in.label(), Found: "an uncertainty beside its parts", Fix: "give the uncertainty, or its common part and its repeatability"}
	case !split && in.Uncertainty.IsZero() && in.LimitOfError.IsZero():
		fix := "give its expanded uncertainty (k = 2), as its certificate states it"
		if in.Graduation.Sign() > 0 {
			fix += "; the graduation alone accounts for half of " + in.Graduation.String()
		}
		return &units.Error{Kind: ErrNoUncertainty, Where: in.label(), Fix: fix}
	case in.Freedom < 0:
		return negativeFreedom(in.label(), in.Freedom)
	case in.K.Sign() < 0:
		return &units.Error{Kind: ErrProbability, Where: in.label(), Found: "k = " + in.K.String(), Fix: "give one above zero, such as 2"}
	case in.Freedom == 0 && in.K.Sign() > 0 && in.K.Cmp(decimal.NewFromInt(3)) > 0:
		return &units.Error{Kind: ErrProbability, Where: in.label(), Found: "k = " + in.K.String(), Fix: "a factor above 3 comes from few degrees of freedom: give them, as the certificate states them"}
	}
	return in.checkSetting()
}

// plain reports whether the instrument states one uncertainty at k = 2, and nothing else
// that widens its readings.
func (in *Instrument[D]) plain() bool {
	return in.Uncertainty.Sign() > 0 && in.Common.IsZero() && in.Repeats.IsZero() && in.LimitOfError.IsZero() && in.Freedom == 0 &&
		in.K.IsZero() && in.Graduation.Sign() >= 0 && !in.SetOn.Taken()
}

// checkSetting returns an error if the instrument is set on something that is no size.
func (in *Instrument[D]) checkSetting() error {
	if !in.SetOn.Taken() {
		return nil
	}
	why := in.SetOn.Problem()
	if b := in.SetOn.bracket(); why == "" && !b.Bounded() {
		why = "it lacks a bound: " + b.String()
	}
	if in.SetOn.of != nil && in.SetOn.of.spread {
		why = "it is what several stations show"
	}
	if why == "" {
		return nil
	}
	return &units.Error{Kind: ErrNotMeasured, Where: in.label() + ", set on " + in.SetOn.label(), Found: why,
		Fix: "set it on a size with both its bounds, or on the mean of the stations"}
}

// negativeFreedom returns the error of degrees of freedom below zero.
func negativeFreedom(where string, n int) error {
	return &units.Error{Kind: ErrNotPositive, Where: where + ", degrees of freedom", Found: fmt.Sprint(n), Fix: "give one or more, or none for unlimited ones"}
}

// negative returns the error of a figure below zero.
func (in *Instrument[D]) negative() error {
	for _, f := range []struct {
		name string
		q    units.Quantity[D]
	}{
		{"uncertainty", in.Uncertainty}, {"common part", in.Common}, {"repeatability", in.Repeats},
		{"limit of error", in.LimitOfError}, {"graduation", in.Graduation},
	} {
		if f.q.Sign() < 0 {
			return &units.Error{Kind: ErrNotPositive, Where: in.label() + ", " + f.name, Found: f.q.String(), Fix: "give one above zero, or none"}
		}
	}
	return nil
}

// label names the instrument also if the caller did not.
func (in *Instrument[D]) label() string {
	if in.Name == "" {
		return "an instrument without a name"
	}
	return in.Name
}

// unlimited is how many degrees of freedom count as unlimited: Student's t is then
// normal to six places.
const unlimited = 1_000_000

// limited returns degrees of freedom as a doubt keeps them: 0 for unlimited ones.
func limited(n int) int32 {
	if n >= unlimited {
		return 0
	}
	return int32(n)
}

// twice returns an uncertainty stated at the instrument's factor as that at k = 2.
func (in *Instrument[D]) twice(q units.Quantity[D]) units.Quantity[D] {
	if in.K.IsZero() || q.IsZero() {
		return q
	}
	return q.MulRat(new(big.Rat).Quo(big.NewRat(2, 1), in.K.Rat()))
}

// made returns the reading of an act with the instrument: what was seen, so many times,
// with the instrument's doubts.
func (in *Instrument[D]) made(a act[D], seen [2]units.Quantity[D], count int) Reading[D] {
	a.by, a.more = in.Name, &more[D]{setting: in.settingName(), seen: seen, count: int32(count)}
	if a.stated = in.twice(in.Uncertainty); !a.stated.IsZero() {
		a.freedom = limited(in.Freedom)
	}
	if !in.LimitOfError.IsZero() {
		a.bracket = a.bracket.Add(units.PlusMinus(units.Quantity[D]{}, in.LimitOfError))
	}
	add := func(s source, q units.Quantity[D]) {
		if !q.IsZero() {
			a.more.doubts = append(a.more.doubts, doubt[D]{s, q, q, limited(in.Freedom)})
		}
	}
	add(source{common, in.Name, ""}, in.twice(in.Common))
	add(source{repeat, in.Name, a.id()}, in.twice(in.Repeats))
	a.more.doubts = append(a.more.doubts, in.setting()...)
	return Reading[D]{act: a, atWorst: in.SetOn.atWorst}
}

// setting returns the doubts that every reading has from the setting: those of the
// reading that the instrument was set by, and one act of the instrument itself.
func (in *Instrument[D]) setting() []doubt[D] {
	if !in.SetOn.Taken() {
		return nil
	}
	doubts := in.SetOn.standing()
	name := in.settingName()
	if q := in.twice(in.Repeats); !q.IsZero() {
		doubts = append(doubts, doubt[D]{source{repeat, in.Name, name}, q, q, limited(in.Freedom)})
	}
	if q := in.twice(in.Uncertainty); !q.IsZero() {
		doubts = append(doubts, doubt[D]{source{whole, in.Name, name}, q, q, limited(in.Freedom)})
	}
	// What is certain of the setting beyond a value, a ring's tolerance, is a piece
	// that every reading after it shares. Another instrument's ring may be another one,
	// whatever it is called.
	if b := in.SetOn.ownBracket(); b.Bounded() && !b.IsPoint() {
		half := b.Radius()
		doubts = append(doubts, doubt[D]{source{piece, in.Name, name}, half, half, 0})
	}
	return doubts
}

// settingName names the act of setting the instrument: on what, and what that
// measured. It is empty for an instrument that is not set.
func (in *Instrument[D]) settingName() string {
	if !in.SetOn.Taken() {
		return ""
	}
	name := setOn + in.SetOn.label()
	if b := in.SetOn.ownBracket(); b.Bounded() {
		name += ", " + b.Lo().Exact()
		if !b.IsPoint() {
			name += " to " + b.Hi().Exact()
		}
	}
	if in.Setting != "" {
		name += ", " + in.Setting
	}
	return name
}

// ownBracket returns the bracket of a reading without the pieces among its doubts.
func (r *Reading[D]) ownBracket() units.Interval[D] {
	var room [1]part[D]
	sum := units.Exactly(units.Quantity[D]{})
	for _, p := range r.parts(&room) {
		sum = sum.Add(p.act.bracket.Times(p.factor))
	}
	return sum
}

// Read returns the reading of a size: the value with the instrument's doubts. at says
// what was read, "main 3, journal": two readings of one name and one value are one act,
// with one error. Without a name the repeats of the instrument are taken at their worst.
//
// A size that was read several times is read as the mean, with the scatter of the
// readings as a doubt of its own beside the instrument's,
//
//	s²/n, with n - 1 degrees of freedom
//
// where s is their experimental standard deviation and n their number (JCGM 100:2008,
// 4.2.3). The instrument's own stated repeatability counts beside that: readings may be
// equal by chance, or by a coarse scale, though the instrument scatters.
//
// The error is what Check returns; ErrEmpty without a value, ErrNotPositive for one of
// zero or less.
func (in *Instrument[D]) Read(at string, values ...units.Quantity[D]) (r Reading[D], err error) {
	if len(values) == 1 && values[0].Sign() > 0 && in.plain() {
		r.act.by, r.act.at, r.act.means = in.Name, at, value
		r.act.bracket, r.act.stated = units.Exactly(values[0]), in.Uncertainty
		return r, nil
	}
	return in.read(at, values)
}

// read is Read of any instrument and of several values.
func (in *Instrument[D]) read(at string, values Series[D]) (r Reading[D], err error) {
	if err := in.Check(); err != nil {
		return r, err
	}
	if len(values) == 0 {
		return r, &units.Error{Kind: ErrEmpty, Where: in.label() + ", " + at, Found: "no value", Fix: "give the value of each reading"}
	}
	for _, v := range values {
		if v.Sign() <= 0 {
			return r, positive(in.label(), v)
		}
	}
	m := values.Mean()
	if len(values) == 1 {
		return in.made(act[D]{means: value, at: at, bracket: units.Exactly(m)}, [2]units.Quantity[D]{m}, 0), nil
	}
	const first = 0
	square := values.Variance(first)
	q := rootOfSquare[D](square.Mul(square, big.NewRat(4, int64(len(values)))))
	r = in.made(act[D]{means: mean, at: at, bracket: units.Exactly(m)}, [2]units.Quantity[D]{m, q}, len(values))
	if !q.IsZero() {
		r.act.more.doubts = append(r.act.more.doubts, doubt[D]{source{scatter, in.Name, r.act.id()}, q, q, limited(len(values) - 1)})
	}
	return r, nil
}

// Indicate returns the reading of a comparator: the size that it was set on, or zero if
// it was not set, plus the signed figure that it shows. The error is what Check returns.
func (in *Instrument[D]) Indicate(at string, shown units.Quantity[D]) (Reading[D], error) {
	if err := in.Check(); err != nil {
		return Reading[D]{}, err
	}
	v := shown
	if in.SetOn.Taken() {
		v = v.Add(in.SetOn.ownBracket().Mid())
	}
	return in.made(act[D]{means: indication, at: at, bracket: units.Exactly(v)}, [2]units.Quantity[D]{shown}, 0), nil
}

// Travel returns the reading of the travel from one indication to another, as a dial
// shows end play: |to - from|, which cannot be negative. Indications may have either
// sign. The instrument's uncertainty is that of the travel, as certificates of dials
// state it; if yours is that of one indication, give √2 times it. The error is what Check
// returns.
func (in *Instrument[D]) Travel(at string, from, to units.Quantity[D]) (Reading[D], error) {
	unset := *in
	unset.SetOn = Reading[D]{} // a difference does not depend on the setting
	if err := unset.Check(); err != nil {
		return Reading[D]{}, err
	}
	return unset.made(act[D]{means: travel, at: at, bracket: units.Exactly(to.Sub(from).Abs())}, [2]units.Quantity[D]{from, to}, 0).NonNegative(), nil
}
