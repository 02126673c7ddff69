package bench

import (
	"slices"
	"strings"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// A known is what is known of a place, as a shape, a word and a class.
type known struct {
	sign, word, class string
	rank              int // the larger, the more there is to do
}

// The signs differ by their shape, and each stands beside its word.
var (
	isProven    = known{"✓", job.Proven.String(), "good", 0}
	isRead      = known{"•", "read", "good", 1}
	isToOrder   = known{"+", job.ToOrder.String(), "open", 2}
	isUndecided = known{"?", job.Undecided.String(), "open", 4}
	isOpen      = known{"○", job.NotMeasured.String(), "open", 3}
	isWrong     = known{"✕", job.Wrong.String(), "bad", 5}
)

func knownAs(s job.Standing) known {
	return [...]known{job.Proven: isProven, job.ToOrder: isToOrder, job.Undecided: isUndecided, job.NotMeasured: isOpen, job.Wrong: isWrong}[s]
}

// mark shows what is known.
func (k known) mark() page.Markup {
	return page.El("span", page.Class("mark "+k.class), page.El("span", page.Attr("aria-hidden", "true"), page.Text(k.sign+" ")), page.Text(k.word))
}

// A benchJob is a job with what follows from it.
type benchJob struct {
	*job.Job
	assessed    *job.Assessment
	measurables []job.Measurable
	bolts       []job.BoltPlace
	items       map[string]job.Item
}

// of returns what is known of a line at a place: of what is asked for the worst of its items, of a size
// whether it was read.
func (b *benchJob) of(m job.Measurable, p job.Place) known {
	if !m.Asked {
		if p.Text == open {
			return isOpen
		}
		return isRead
	}
	worst, found := isProven, false
	for _, i := range b.itemsOf(m, p) {
		if k := knownAs(i.Standing); !found || k.rank > worst.rank {
			worst, found = k, true
		}
	}
	if !found {
		return isOpen
	}
	return worst
}

// itemsOf are the items that a line is asked for at a place.
func (b *benchJob) itemsOf(m job.Measurable, p job.Place) (all []job.Item) {
	names := []string{p.Name}
	for _, l := range m.LimitKeys {
		if l.Quantity != m.Quantity {
			names = append(names, p.Name+" "+l.Quantity)
		}
	}
	for _, name := range names {
		if i, there := b.items[name]; there {
			all = append(all, i)
		}
	}
	return all
}

// missing reports whether a place is still to be read: it is asked for and nothing is known of it, or it is a
// size that nothing but the measuring sheet asks for.
func (b *benchJob) missing(m job.Measurable, p job.Place, sheet map[string]bool) bool {
	return p.Text == open && sheet[p.Name]
}

// onSheet are the readings that the measuring sheet still has open.
func (b *benchJob) onSheet() map[string]bool {
	names := map[string]bool{}
	for _, part := range b.Sheet().Parts {
		for _, l := range part.Lines {
			for _, r := range l.Readings {
				names[r] = true
			}
		}
	}
	return names
}

// A spot is a place of the engine's drawing, and what is measured there.
type spot struct {
	at     string // "main 3"
	title  string
	places []measuredAt
}

type measuredAt struct {
	job.Measurable
	job.Place
}

// spotOf says where on the drawing a place is: "main 3", "rod 1", "pin 1-4", "cylinder 2", or the part of the
// engine that it belongs to.
func (b *benchJob) spotOf(m job.Measurable, location string) string {
	e := b.Engine()
	words := strings.Fields(m.Group)
	has := func(word string) bool { return slices.Contains(words, word) }
	switch {
	case words[0] == "main" && slices.Contains(e.Mains, location):
		return "main " + location
	case words[0] == "rod" && slices.Contains(e.Cylinders, location):
		return "rod " + location
	case words[0] == "rod" || words[0] == "crankpin":
		for _, pin := range e.Pins {
			if pin.Name == location && len(pin.Rods) == 1 {
				return "rod " + location
			} else if pin.Name == location {
				return "pin " + location
			}
		}
	case slices.Contains(e.Cylinders, location) && (has("cylinder") || has("piston") || has("ring") || m.Part == "pistons"):
		return "cylinder " + location
	}
	return m.Part
}

// spots are all places of the drawing, by where they are.
func (b *benchJob) spots() map[string]*spot {
	all := map[string]*spot{}
	for _, m := range b.measurables {
		for _, p := range m.Places {
			at := b.spotOf(m, p.Location)
			if all[at] == nil {
				all[at] = &spot{at: at, title: capital(at)}
			}
			all[at].places = append(all[at].places, measuredAt{m, p})
		}
	}
	return all
}

// worst is what there is most to do about at a spot.
func (b *benchJob) worst(s *spot) known {
	worst := isProven
	for _, p := range s.places {
		if k := b.of(p.Measurable, p.Place); p.Asked && k.rank > worst.rank {
			worst = k
		}
	}
	return worst
}

func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
