package lesson

import (
	"strconv"

	"github.com/shopspring/decimal"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/units"
)

// A Control is what a reader moves: a slider over whole numbers, each of which is a quantity, or
// a choice of words.
type Control struct {
	Name    string
	Choices []string // of a choice; where there are none it is a slider

	// From, To and Step are in units of the last place; Start is where it begins.
	From, To, Step, Start int64
	places                int32
	unit                  string
}

func slider(name string, from, to, step, start int64, places int32, unit string) Control {
	return Control{Name: name, From: from, To: to, Step: step, Start: start, places: places, unit: unit}
}

func choice(name string, words ...string) Control {
	return Control{Name: name, Choices: words, To: int64(len(words) - 1), Step: 1}
}

// number is where a slider stands.
func (c Control) number(at int64) decimal.Decimal { return decimal.New(at, -c.places) }

// Says is where the control stands, in words.
func (c Control) Says(at int64) string {
	if c.Choices != nil {
		return c.Choices[at]
	}
	text := c.number(at).StringFixed(c.places)
	if c.unit != "" {
		text += " " + c.unit
	}
	return text
}

// check refuses a place where the control cannot stand.
func (c Control) check(at int64) error {
	if at < c.From || at > c.To || (at-c.From)%c.Step != 0 {
		return &units.Error{Kind: ErrNoSuch, Where: c.Name, Found: strconv.FormatInt(at, 10),
			Fix: "a whole number from " + strconv.FormatInt(c.From, 10) + " to " + strconv.FormatInt(c.To, 10) + " in steps of " + strconv.FormatInt(c.Step, 10)}
	}
	return nil
}

func (c Control) markup(id string) page.Markup {
	label := page.El("label", page.Attr("for", id), page.Text(c.Name))
	said := page.El("output", page.Attr("for", id), page.Attr("aria-hidden", "true"), page.Text(c.Says(c.Start)))
	if c.Choices != nil {
		var options []page.Part
		for i, text := range c.Choices {
			options = append(options, page.El("option", page.Attr("value", strconv.Itoa(i)), page.If(int64(i) == c.Start, page.Attr("selected", "")), page.Text(text)))
		}
		return page.El("div", page.Class("control"), label, said, page.El("select", append([]page.Part{page.ID(id), page.Attr("data-control", ""), page.Attr("data-start", strconv.FormatInt(c.Start, 10)), page.Attr("autocomplete", "off")}, options...)...))
	}
	n := func(v int64) string { return strconv.FormatInt(v, 10) }
	return page.El("div", page.Class("control"), label, said,
		page.El("input", page.ID(id), page.Attr("data-control", ""), page.Attr("data-start", n(c.Start)), page.Attr("type", "range"), page.Attr("min", n(c.From)), page.Attr("max", n(c.To)),
			page.Attr("step", n(c.Step)), page.Attr("value", n(c.Start)), page.Attr("aria-valuetext", c.Says(c.Start)), page.Attr("autocomplete", "off")))
}

// quantity is a whole number of the unit's last place as a quantity.
func quantity[D units.Dimension](u units.Unit[D], n int64, places int32) units.Quantity[D] {
	return u.Of(decimal.New(n, -places))
}

func millimetres(n int64, places int32) units.Length { return quantity(units.Millimetre, n, places) }

// around is n ± t, both in the last place of a millimetre.
func around(n, t int64, places int32) units.LengthInterval {
	return units.PlusMinus(millimetres(n, places), millimetres(t, places))
}
