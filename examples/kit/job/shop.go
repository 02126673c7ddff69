package job

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/grading"
	"example.com/closefit/grading/purchase"
)

// shellsOf finds the shells of a set of bearings and what to buy for them; nil if nothing
// is known of them. Locations that are proven outside with the shells that the codes or the
// sizes call for are held back until somebody chooses others. Those that are open are left
// out, and hide no others.
func (j *Job) shellsOf(ctx context.Context, set *shellSet, outside []string) (*Shells, []chosen, error) {
	if set.scheme == nil {
		return nil, nil, nil
	}
	s := &Shells{Bearings: set.name(), Choices: []Choice{}, Locations: []ShellsAt{}, HeldBack: []string{}, Open: []Action{}}
	list := j.choices(set)
	for i := range list {
		if c := &list[i]; c.by != "fit" && slices.Contains(outside, c.location) {
			s.HeldBack = append(s.HeldBack, c.location)
			if c.open = j.doubts(set, c.location); c.open == nil && len(c.assigned.Pairs) == 1 {
				c.parts = partsOf(c.assigned.Pairs[0])
			}
		}
	}
	b := basket{set: set, held: s.HeldBack}
	if err := b.fill(ctx, list); err != nil {
		return nil, nil, fmt.Errorf("%s shells: %w", set.name(), err)
	}
	if b.bought != nil {
		s.Purchase = j.purchase(b.bought, set.order)
	}
	offer, err := j.offer(ctx, set, list, &b)
	if err != nil {
		return nil, nil, fmt.Errorf("%s shells, with others where they are proven wrong: %w", set.name(), err)
	}
	s.Offer = offer
	left := newStock(set.order.Stock)
	for i := range list {
		c := &list[i]
		s.Choices = append(s.Choices, c.choice("upper"), c.choice("lower"))
		at := j.shellsAt(set, c, &b, left)
		s.Locations = append(s.Locations, at)
		for _, text := range c.open {
			if a := (Action{Measure, set.said(text)}); !slices.Contains(s.Open, a) {
				s.Open = append(s.Open, a)
			}
		}
		if lacking := b.lacking[c.location]; lacking != "" {
			s.Open = append(s.Open, Action{Order, fmt.Sprintf("%s: %s is not on hand, and no pack that is listed holds it.", itemName(set.name(), c.location, "shells"), lacking)})
		}
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
	at := ShellsAt{Location: c.location, Codes: c.byTheCodes(), Sizes: j.byTheSizes(c), Notes: c.notes, Standing: Undecided}
	if at.Notes == nil {
		at.Notes = []string{}
	}
	name := itemName(set.name(), c.location, "shells")
	switch {
	case len(c.open) > 0:
		if c.blank {
			at.Standing = NotMeasured
		}
		at.Why = strings.TrimPrefix(strings.TrimSuffix(strings.Join(c.open, " "), "."), name+": ")
		return at
	case slices.Contains(b.held, c.location):
		at.Standing, at.Why = Wrong, "the clearance with these shells is proven wrong"
		return at
	}
	at.By = strings.TrimPrefix(c.by, "by ")
	if wrong := j.wrongBySizes(set, c); wrong != "" {
		at.Standing, at.Why = Wrong, wrong
		return at
	}
	if lacking := b.lacking[c.location]; lacking != "" {
		at.Standing, at.Why = ToOrder, lacking+" is not on hand, and no pack that is listed holds it"
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
	held    []string
	parts   []grading.Part    // needed
	lacking map[string]string // by location, a shell that cannot be had
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
	b.lacking = map[string]string{}
	left := newStock(b.set.order.Stock)
	var bySize []*chosen
	var places [][]grading.PairFit
	for i := range list {
		c := &list[i]
		switch {
		case len(c.open) > 0 || slices.Contains(b.held, c.location):
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
			b.bought = plan.Purchase
			return nil
		}
	}
	if len(b.parts) == 0 {
		return nil
	}
	bought, err := cheapest(ctx, order)
	b.bought = bought
	return err
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

// offer finds, for the locations that are held back, the smallest changes of shells that
// can be had and bring them inside, and what to buy with them; nil if there are none.
func (j *Job) offer(ctx context.Context, set *shellSet, list []chosen, b *basket) (*Offer, error) {
	m := j.line(set.name() + " clearance")
	if len(b.held) == 0 || m == nil {
		return nil, nil
	}
	o := &Offer{}
	parts := slices.Clone(b.parts)
	left := newStock(set.order.Stock)
	for _, p := range parts {
		left.take(p)
	}
	for _, x := range j.fittings(m, m.quantity) {
		if !slices.Contains(b.held, x.location) {
			continue
		}
		c := &list[slices.IndexFunc(list, func(c chosen) bool { return c.location == x.location })]
		remedies, _ := j.remedies(m, x)
		for i, r := range remedies {
			fit := set.changed(c, changesOf(r))
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

// changed are the shells of a location with those of a remedy in place of what its codes
// call for.
func (set *shellSet) changed(c *chosen, by map[string]string) []partAt {
	var parts []partAt
	for _, half := range []string{"upper", "lower"} {
		if grade := by[half]; grade != "" {
			parts = append(parts, partAt{half, partOf(set.at(c.location), grade, half)})
			continue
		}
		for _, p := range c.parts {
			if p.half == half {
				parts = append(parts, p)
			}
		}
	}
	return parts
}
