package hardware

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/units"
)

// ErrPrice is the kind of error for a price or a number of builds that cannot be.
var ErrPrice = errors.New("not a possible price list")

func priceError(where, found, fix string) error {
	return &units.Error{Kind: ErrPrice, Where: where, Found: found, Fix: fix}
}

// Hardware is a set of fasteners with what it costs. Prices are plain numbers of one
// currency, whichever it is.
type Hardware struct {
	Name     string
	Set      decimal.Decimal // price of one set
	Uses     int             // builds that one set serves: 1 for single-use bolts
	Once     decimal.Decimal // paid once, before the first build: a stretch gauge, boring in line anew for other bolts
	PerBuild decimal.Decimal // paid at each build: measuring and crack testing what goes back
}

// String returns what the hardware costs in words.
func (h Hardware) String() string {
	s := fmt.Sprintf("%s: %v a set for each build", h.Name, h.Set)
	if h.Uses > 1 {
		s = fmt.Sprintf("%s: %v a set for %d builds", h.Name, h.Set, h.Uses)
	}
	if !h.Once.IsZero() {
		s += fmt.Sprintf(", %v once", h.Once)
	}
	if !h.PerBuild.IsZero() {
		s += fmt.Sprintf(", %v a build", h.PerBuild)
	}
	return s
}

// maxBuilds bounds the builds that a comparison counts one by one.
const maxBuilds = 10_000

func (h Hardware) check() error {
	where := "hardware " + strconv.Quote(h.Name)
	for _, price := range []struct {
		what   string
		amount decimal.Decimal
	}{{"price of a set", h.Set}, {"price paid once", h.Once}, {"price of each build", h.PerBuild}} {
		if price.amount.IsNegative() {
			return priceError(where+", "+price.what, price.amount.String(), "write zero or more")
		}
	}
	switch {
	case h.Set.IsZero():
		return priceError(where+", price of a set", "none", "write the price of one set")
	case h.Uses < 1:
		return priceError(where+", builds that a set serves", fmt.Sprint(h.Uses), "write 1 for single-use hardware")
	}
	return nil
}

// Cost returns what so many builds cost, exactly:
//
//	C = once + per build · n + set · ⌈n / uses⌉
//
// n is the number of builds; for none at all the cost is zero. The error is of kind
// ErrPrice for a price below zero, a set without a price or that serves no build, or builds
// below zero or above 10000.
func (h Hardware) Cost(builds int) (decimal.Decimal, error) {
	if err := h.check(); err != nil {
		return decimal.Decimal{}, err
	}
	if builds < 0 || builds > maxBuilds {
		return decimal.Decimal{}, priceError("builds", fmt.Sprint(builds), fmt.Sprintf("write 0 to %d", maxBuilds))
	}
	return h.cost(builds), nil
}

func (h Hardware) cost(builds int) decimal.Decimal {
	if builds == 0 {
		return decimal.Decimal{}
	}
	sets := (builds + h.Uses - 1) / h.Uses
	c := h.Once.Add(h.PerBuild.Mul(decimal.NewFromInt(int64(builds))))
	return c.Add(h.Set.Mul(decimal.NewFromInt(int64(sets))))
}

// A Year is one line of a comparison: what has been paid by the end of the year.
type Year struct {
	Year      int // from 1
	Builds    int // in this year
	Total     int // builds up to and with this year
	SingleUse decimal.Decimal
	Reusable  decimal.Decimal
	Saved     decimal.Decimal // SingleUse less Reusable; below zero while the reusable set has cost more
}

// A Comparison sets two kinds of hardware side by side.
type Comparison struct {
	SingleUse, Reusable Hardware
	Years               []Year
	// BreakEven is the build from which on the reusable hardware has never cost more
	// than the single-use one, up to the last build compared; 0 if there is none.
	BreakEven int
}

// Compare returns what single-use and reusable hardware cost year by year, with so
// many builds in each year.
//
// The error is that of Cost, or of kind ErrPrice for a year with fewer than zero builds.
func Compare(singleUse, reusable Hardware, buildsPerYear []int) (Comparison, error) {
	for _, h := range []Hardware{singleUse, reusable} {
		if err := h.check(); err != nil {
			return Comparison{}, err
		}
	}
	c := Comparison{SingleUse: singleUse, Reusable: reusable}
	total := 0
	for i, builds := range buildsPerYear {
		if builds < 0 || builds > maxBuilds-total {
			return Comparison{}, priceError(fmt.Sprintf("builds in year %d", i+1), fmt.Sprint(builds), fmt.Sprintf("write zero or more, %d in all at the most", maxBuilds))
		}
		total += builds
		a, b := singleUse.cost(total), reusable.cost(total)
		c.Years = append(c.Years, Year{Year: i + 1, Builds: builds, Total: total, SingleUse: a, Reusable: b, Saved: a.Sub(b)})
	}
	for n := total; n > 0 && reusable.cost(n).Cmp(singleUse.cost(n)) <= 0; n-- {
		c.BreakEven = n
	}
	return c, nil
}

// Working returns the comparison year by year, for checking by hand.
func (c Comparison) Working() units.Working {
	w := units.Working{
		Name:    "single-use against reusable hardware",
		Formula: "C = once + per build · n + set · ⌈n / uses⌉",
		Numbers: c.SingleUse.String() + "; " + c.Reusable.String(),
		Result:  "reusable hardware costs less or the same from build " + fmt.Sprint(c.BreakEven) + " on",
		Source:  "sum of the prices",
		Notes:   []string{"hardware that the engine was not designed for may need bores machined again; a bolt that the maker calls single use is replaced whatever it costs"},
	}
	if c.BreakEven == 0 {
		w.Result = "reusable hardware costs more throughout"
	}
	for _, y := range c.Years {
		w.Steps = append(w.Steps, units.Working{
			Name:   fmt.Sprintf("year %d, %d builds in all", y.Year, y.Total),
			Result: fmt.Sprintf("%v against %v, saved %v", y.SingleUse, y.Reusable, y.Saved),
		})
	}
	return w
}
