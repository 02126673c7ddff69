package job

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
)

// shellsOf finds the shells of a set of bearings and what to buy for them; nil if nothing
// is known of them. Locations that are proven outside with the shells that the codes or the
// sizes call for are held back until somebody chooses others. Those that are open are left
// out, and hide no others.
func (j *Job) shellsOf(ctx context.Context, set *shellSet, inside, outside []string) (*Shells, []chosen, error) {
	if set.scheme == nil {
		return nil, nil, nil
	}
	s := &Shells{Bearings: set.name(), Choices: []Choice{}, Locations: []ShellsAt{}, HeldBack: []string{}}
	list := j.choices(set, inside)
	for i := range list {
		c := &list[i]
		if c.by != byHand && slices.Contains(outside, c.location) {
			c.wrong = "the clearance with these shells is proven wrong"
			if c.open = j.doubts(set, c.location); c.open == nil && len(c.assigned.Pairs) == 1 {
				c.parts = partsOf(c.assigned.Pairs[0])
			}
		} else if len(c.open) == 0 {
			c.wrong = j.wrongBySizes(set, c)
		}
		if c.by == asFitted && len(c.open) == 0 {
			c.parts = j.changed(set, c, nil) // what the walls measure as
		}
		if c.wrong != "" {
			s.HeldBack = append(s.HeldBack, c.location)
		}
	}
	b := basket{set: set, lacking: map[string]string{}}
	if err := b.fill(ctx, list); err != nil {
		return nil, nil, fmt.Errorf("%s shells: %w", set.name(), err)
	}
	if b.bought != nil {
		s.Purchase = j.purchase(b.bought, b.asked)
	}
	var err error
	if s.Offer, err = j.offer(ctx, set, list, outside, &b); err != nil {
		return nil, nil, fmt.Errorf("%s shells, with others where they are proven wrong: %w", set.name(), err)
	}
	s.Basis = j.sitesBasis(set, list)
	left := newStock(set.order.Stock)
	for i := range list {
		s.Choices = append(s.Choices, list[i].choice("upper"), list[i].choice("lower"))
		s.Locations = append(s.Locations, j.shellsAt(set, &list[i], &b, left))
	}
	return s, list, nil
}

// said is a question with the bearings that it is about.
func (set *shellSet) said(question string) string {
	if strings.HasPrefix(question, set.part+" ") {
		return question
	}
	return set.name() + " shells: " + question
}

// choice is the shell, or the shells still possible, for one half.
func (c *chosen) choice(half string) Choice {
	choice := Choice{Location: c.location, Half: half, Code: c.assigned.Housing.Code}
	if half == "lower" {
		choice.Code = c.assigned.Journal.Code
	}
	var grades []string
	add := func(parts []partAt) {
		for _, p := range parts {
			if p.half == half && !slices.Contains(grades, p.part.Grade) {
				grades = append(grades, p.part.Grade)
			}
		}
	}
	if add(c.parts); c.parts == nil {
		for _, p := range c.assigned.Pairs {
			add(partsOf(p))
		}
	}
	choice.Grade = strings.Join(grades, " or ")
	return choice
}

// shellsAt says what is known of the shells of a location. What is on hand goes to the
// locations in their order.
func (j *Job) shellsAt(set *shellSet, c *chosen, b *basket, left stock) ShellsAt {
	at := ShellsAt{Location: c.location, Codes: c.byTheCodes(), Sizes: j.byTheSizes(c), Notes: c.notes, Standing: Undecided, Do: []Action{}}
	if at.Notes == nil {
		at.Notes = []string{}
	}
	name := itemName(set.name(), c.location, "shells")
	lacking := b.lacking[c.location]
	if lacking != "" {
		lacking += " is not on hand, and no pack that is listed holds it"
		at.Do = append(at.Do, Action{Order, name + ": " + lacking + "."})
	}
	if len(c.open) > 0 {
		if c.blank {
			at.Standing = NotMeasured
		}
		at.Why = strings.TrimPrefix(strings.TrimSuffix(strings.Join(c.open, " "), "."), name+": ")
		for _, text := range c.open {
			at.Do = append(at.Do, Action{Measure, set.said(text)})
		}
		return at
	}
	if c.wrong == "" || c.by == byHand {
		at.By = strings.TrimPrefix(c.by, "by ")
	}
	if c.wrong != "" {
		at.Standing, at.Why = Wrong, c.wrong
		if strings.HasPrefix(c.wrong, "by its sizes") {
			at.Do = append(at.Do, Action{Stop, fmt.Sprintf("%s: %s. Choose others: write fit, under %s.", name, c.wrong, set.path())})
		}
		return at
	}
	switch {
	case lacking != "":
		at.Standing, at.Why = ToOrder, lacking
		return at
	case c.by == asFitted:
		for _, p := range c.parts {
			left.take(p.part)
		}
		at.By, at.Standing, at.Why = "fitted", Proven, "those that were in when the clearance was measured"
		return at
	}
	var buy []partAt
	for _, p := range c.parts {
		if !left.take(p.part) {
			buy = append(buy, p)
		}
	}
	if at.Standing = Proven; len(buy) > 0 {
		at.Standing, at.Why = ToOrder, "to buy: "+fitText(buy)
		return at
	}
	at.Why = "on hand: " + fitText(c.parts)
	return at
}

// A stock is how many of each shell are left.
type stock map[grading.Part]int

func newStock(counts []purchase.Count[grading.Part]) stock {
	left := stock{}
	for _, c := range counts {
		left[c.Part] += c.N
	}
	return left
}

// take takes one of a part, if there is one.
func (left stock) take(p grading.Part) bool {
	if left[p] == 0 {
		return false
	}
	left[p]--
	return true
}

// A basket is what the locations of a set need, and how it is bought.
type basket struct {
	set     *shellSet
	parts   []grading.Part    // needed
	lacking map[string]string // by location, a shell that cannot be had
	asked   request           // what was bought for
	bought  *purchase.Purchase[grading.Part]
}

// sold reports whether a pack on sale holds a part.
func (b *basket) sold(p grading.Part) bool {
	return slices.ContainsFunc(b.set.order.Packs, func(pack purchase.Pack[grading.Part]) bool {
		return slices.ContainsFunc(pack.Parts, func(c purchase.Count[grading.Part]) bool { return c.Part == p })
	})
}

// fill finds what to buy for all locations that are neither open nor held back, and
// chooses the shells of those that are chosen by their sizes: what costs least to buy, and
// of that what is nearest to the clearance aimed at.
func (b *basket) fill(ctx context.Context, list []chosen) error {
	left := newStock(b.set.order.Stock)
	var bySize []*chosen
	var places [][]grading.PairFit
	for i := range list {
		c := &list[i]
		switch {
		case len(c.open) > 0 || c.wrong != "":
		case c.by == asFitted: // they are there, and for no other location
			for _, p := range c.parts {
				if left.take(p.part) {
					b.parts = append(b.parts, p.part)
				}
			}
		case c.parts != nil:
			b.add(c, left)
		default:
			if fits := slices.DeleteFunc(slices.Clone(c.sized), func(f grading.PairFit) bool { return !b.had(f.Pair) }); len(fits) > 0 {
				bySize, places = append(bySize, c), append(places, fits)
			} else {
				c.parts = partsOf(c.sized[0].Pair)
				b.add(c, left)
			}
		}
	}
	order := b.order(b.parts)
	if len(places) > 0 {
		plan, err := grading.Choose(ctx, places, order)
		switch {
		case errors.Is(err, purchase.ErrUnserved): // what is on hand runs out
			alike, err := grading.Alike(places)
			if err != nil {
				return err
			}
			for i, c := range bySize {
				c.parts = partsOf(alike[i].Pair)
				b.add(c, left)
			}
			order = b.order(b.parts)
		case err != nil && (plan == nil || !errors.Is(err, context.DeadlineExceeded)):
			return err
		default:
			for i, c := range bySize {
				c.parts = partsOf(plan.Choices[i].Pair)
				for _, p := range c.parts {
					b.parts = append(b.parts, p.part)
				}
			}
			b.bought, b.asked = plan.Purchase, withPlaces(order, places)
			return nil
		}
	}
	if len(b.parts) == 0 {
		return nil
	}
	bought, err := cheapest(ctx, order)
	b.bought, b.asked = bought, order
	return err
}

// withPlaces is the request that grading.Choose makes of a request and the fits of places.
func withPlaces(order request, places [][]grading.PairFit) request {
	order.Needs = slices.Clone(order.Needs)
	for _, fits := range places {
		need := purchase.Need[grading.Part]{Name: fits[0].Location, N: 1}
		for _, f := range fits {
			need.Alternatives = append(need.Alternatives, purchase.Alternative[grading.Part]{Parts: []grading.Part{f.Pair.Upper, f.Pair.Lower}, Distance: f.Off})
		}
		order.Needs = append(order.Needs, need)
	}
	return order
}

// had reports whether both shells of a pair are on sale or on hand.
func (b *basket) had(pair grading.Pair) bool {
	left := newStock(b.set.order.Stock)
	for _, p := range partsOf(pair) {
		if !left.take(p.part) && !b.sold(p.part) {
			return false
		}
	}
	return true
}

// add adds what a location needs, or notes what of it cannot be had.
func (b *basket) add(c *chosen, left stock) {
	var taken []grading.Part
	for _, p := range c.parts {
		switch {
		case left.take(p.part):
			taken = append(taken, p.part)
		case !b.sold(p.part):
			for _, back := range taken {
				left[back]++
			}
			b.lacking[c.location] = p.half + " " + p.part.Grade
			return
		}
	}
	for _, p := range c.parts {
		b.parts = append(b.parts, p.part)
	}
}

// order is the request for parts.
func (b *basket) order(parts []grading.Part) request {
	var demand []purchase.Count[grading.Part]
	for _, p := range parts {
		demand = append(demand, purchase.Count[grading.Part]{Part: p, N: 1})
	}
	order := b.set.order
	order.Needs = grading.Needs(demand, nil)
	return order
}

// cheapest is purchase.Cheapest, with the best that was found where the time is over.
func cheapest(ctx context.Context, order request) (*purchase.Purchase[grading.Part], error) {
	bought, err := purchase.Cheapest(ctx, order)
	if err != nil && (bought == nil || !errors.Is(err, context.DeadlineExceeded)) {
		return nil, err
	}
	return bought, nil
}

// offer finds, for the locations whose clearance is proven outside, the smallest changes of
// shells that can be had and bring them inside, and what to buy with them; nil if there are
// none.
func (j *Job) offer(ctx context.Context, set *shellSet, list []chosen, outside []string, b *basket) (*Offer, error) {
	m := j.line(set.name() + " clearance")
	if len(outside) == 0 || m == nil {
		return nil, nil
	}
	o := &Offer{}
	parts := slices.Clone(b.parts)
	left := newStock(set.order.Stock)
	for _, p := range parts {
		left.take(p)
	}
	for _, location := range m.at {
		x := j.fittingAt(m, m.quantity, location)
		c := &list[slices.IndexFunc(list, func(c chosen) bool { return c.location == x.location })]
		if !slices.Contains(outside, x.location) || c.by == byHand {
			continue
		}
		remedies, _ := j.remedies(m, x)
		for i, r := range remedies {
			fit := j.changed(set, c, changesOf(r))
			one := basket{set: set, lacking: map[string]string{}}
			one.add(&chosen{location: x.location, parts: fit}, left)
			lacking := one.lacking[x.location]
			if lacking == "" {
				parts = append(parts, one.parts...)
				o.Fit = append(o.Fit, FitAt{x.location, fitText(fit)})
				delete(b.lacking, x.location)
				break
			}
			if i == 0 {
				b.lacking[x.location] = fmt.Sprintf("%s, which the smallest change that brings it inside needs (%s)", lacking, fitText(fit))
			}
		}
	}
	if len(o.Fit) == 0 {
		return nil, nil
	}
	order := b.order(parts)
	bought, err := cheapest(ctx, order)
	if err != nil {
		return nil, err
	}
	o.Purchase = *j.purchase(bought, order)
	return o, nil
}

// changed are the shells of a location with those of a remedy in place of those that its
// codes call for, or that its walls measure as.
func (j *Job) changed(set *shellSet, c *chosen, by map[string]string) []partAt {
	var parts []partAt
	for _, half := range []string{"upper", "lower"} {
		grade := by[half]
		for _, p := range c.parts {
			if grade == "" && p.half == half {
				grade = p.part.Grade
			}
		}
		if m := j.line(set.part + " " + half + " wall thickness"); grade == "" && m != nil {
			grade = set.gradeThatIs(c.location, half, m.taken[c.location].whole(m.states))
		}
		if grade != "" {
			parts = append(parts, partAt{half, partOf(set.at(c.location), grade, half)})
		}
	}
	return parts
}

// purchase makes a purchase into lines.
func (j *Job) purchase(b *purchase.Purchase[grading.Part], o request) *Purchase {
	p := &Purchase{Lines: []PurchaseLine{}, Total: j.price(b.Price), LeftOver: parts(b.Leftover), Basis: purchaseBasis(o, b)}
	for _, x := range b.Packs {
		p.Lines = append(p.Lines, PurchaseLine{
			Count: x.N, Pack: x.Pack.Name, Each: j.price(*x.Pack.Price),
			Sum: j.price(x.Pack.Price.Mul(decimal.NewFromInt(int64(x.N)))),
		})
	}
	p.OnHand = parts(o.Stock)
	p.Proof = fmt.Sprintf("Proven: nothing on sale serves for less than %s.", j.price(b.Proof.Least))
	if b.Gap.Sign() > 0 {
		p.Proof = fmt.Sprintf("Not proven the cheapest: at most %s dearer than the cheapest there can be.", j.price(b.Gap))
	}
	return p
}

// price writes an amount in the job's currency, with two places or as many as it
// has.
func (j *Job) price(d decimal.Decimal) string {
	return strings.TrimSpace(d.StringFixed(max(2, -d.Exponent())) + " " + j.show.currency)
}

func parts(counts []purchase.Count[grading.Part]) []Parts {
	list := []Parts{}
	for _, c := range counts {
		list = append(list, Parts{c.N, c.Part.String()})
	}
	return list
}
