package check

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/fasteners"
	"example.com/closefit/grading"
	"example.com/closefit/units"
)

// A dimension is something that a thread has, and what it is called.
type dimension struct {
	by, name, in string // in its unit
	of           func(fasteners.Thread) *big.Rat
}

func threadLength(by, name string, of func(fasteners.Thread) units.Length) dimension {
	return dimension{by, name, "mm", func(t fasteners.Thread) *big.Rat { return of(t).Rat(units.Millimetre) }}
}

func threadArea(by, name string, of func(fasteners.Thread) units.Area) dimension {
	return dimension{by, name, "mm²", func(t fasteners.Thread) *big.Rat { return of(t).Rat(units.SquareMillimetre) }}
}

func threadDimensions() []dimension {
	return []dimension{
		threadLength("pitch diameter", "pitch diameter", fasteners.Thread.PitchDiameter),
		threadLength("minor diameter", "minor diameter", fasteners.Thread.MinorDiameter),
		threadLength("", "root diameter", fasteners.Thread.RootDiameter),
		threadLength("pitch", "pitch", fasteners.Thread.Pitch),
		threadArea("stress area", "stress area", fasteners.Thread.StressArea),
		threadArea("", "area at the minor diameter", fasteners.Thread.MinorArea),
		threadArea("", "area of the shank", fasteners.Thread.ShankArea),
	}
}

// thread looks a dimension up by the thread that a cell names.
func (r *ruler) thread(m *rule, k *mapfile.Check) error {
	_, names, err := r.choose(k, []string{"thread"})
	if err != nil {
		return err
	}
	var wanted dimension
	var others []dimension
	for _, d := range threadDimensions() {
		if d.by == k.By {
			wanted = d
		}
	}
	for _, d := range threadDimensions() {
		if d.in == wanted.in && d.name != wanted.name {
			others = append(others, d)
		}
	}
	own, err := unitOf(wanted.in)
	to := r.units[k.Claim]
	if err != nil || own.dimension != to.dimension {
		return fmt.Errorf("%s does not give a quantity in %s; look at the unit of %s", k.By, r.table.Columns[k.Claim].Unit, k.Claim)
	}
	into := new(big.Rat).Quo(own.factor, to.factor)
	write := func(d dimension, t fasteners.Thread) string {
		return written(new(big.Rat).Mul(d.of(t), into))
	}
	m.text, m.source = k.By+" of the basic profile", "ISO 68-1, ISO 724 and ISO 898-1, or ASME B1.1, as the thread is metric or unified"
	m.given = &given{from: names,
		find: func(texts []string) (string, bool, error) {
			t, err := fasteners.ParseThread(texts[0])
			if err != nil {
				return "", false, err
			}
			return write(wanted, t), false, nil
		},
		slips: func(texts []string, _ [][]string) (all []found) {
			t, err := fasteners.ParseThread(texts[0])
			for _, d := range others {
				if err == nil {
					all = append(all, found{write(d, t), OtherRule, "it is the " + d.name})
				}
			}
			return all
		},
	}
	return nil
}

// shells looks up the shells that belong to stamped codes.
func (r *ruler) shells(m *rule, k *mapfile.Check) error {
	_, names, err := r.choose(k, []string{"housing", "journal"})
	if err != nil {
		return err
	}
	var scheme *grading.Scheme
	for i := range r.schemes {
		if k.Scheme == r.schemes[i].Name || k.Scheme == "" && len(r.schemes) == 1 {
			scheme = &r.schemes[i]
		}
	}
	if scheme == nil {
		return fmt.Errorf("no scheme is called %q; write [[scheme]] from the engine's manual, and scheme = its name", k.Scheme)
	}
	m.text, m.source = "scheme "+scheme.Name, scheme.Source
	m.given = &given{from: names, same: samePair,
		find: func(texts []string) (string, bool, error) {
			p, err := scheme.Pair(texts[0], texts[1])
			return p.String(), true, err
		},
		slips: func(texts []string, beside [][]string) (all []found) {
			add := func(housing, journal, mistake, says string, turned bool) {
				p, err := scheme.Pair(housing, journal)
				if turned {
					p.Upper, p.Lower = p.Lower, p.Upper
				}
				if err == nil {
					all = append(all, found{p.String(), mistake, says})
				}
			}
			add(texts[0], texts[1], WrongWay, "upper and lower shell are exchanged", true)
			add(texts[1], texts[0], WrongWay, "the housing's code is taken for the journal's, and the journal's for the housing's", false)
			for _, other := range beside {
				add(other[0], texts[1], Neighbour, "the housing's code is that of the line beside", false)
				add(texts[0], other[1], Neighbour, "the journal's code is that of the line beside", false)
			}
			return all
		},
	}
	return nil
}

// samePair reports whether a text means a pair: "B/C" is a B upper and a C lower, "B" is B
// for both. Between the halves may stand / or +, and the words upper and lower after them.
func samePair(claimed, right string) bool {
	halves := func(text string) (upper, lower string) {
		parts := strings.FieldsFunc(text, func(r rune) bool { return r == '/' || r == '+' })
		grade := func(half, place string) string {
			fields := strings.Fields(strings.ToLower(half))
			if n := len(fields); n > 1 && fields[n-1] == place {
				fields = fields[:n-1]
			}
			return strings.Join(fields, " ")
		}
		switch len(parts) {
		case 1:
			return grade(parts[0], ""), grade(parts[0], "")
		case 2:
			return grade(parts[0], "upper"), grade(parts[1], "lower")
		}
		return text, ""
	}
	a, b := halves(claimed)
	c, d := halves(right)
	return a == c && b == d
}
