package conform

import (
	"cmp"
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	"example.com/closefit/internal/evidence"
)

// iso370Places are the places of ISO 370:1975, tables 1 and 2, by comparing the width with
// each row; ok is false outside the tables.
func iso370Places(width *big.Rat, from string) (places int, ok bool) {
	switch from {
	case "in", "thou":
		inches := over(width, map[string]*big.Rat{"in": rat("1"), "thou": rat("1000")}[from])
		for _, row := range []struct {
			from, to string
			places   int
		}{{"0.00001", "0.0001", 5}, {"0.0001", "0.001", 4}, {"0.001", "0.01", 3}, {"0.01", "0.1", 2}, {"0.1", "1", 1}} {
			if inches.Cmp(rat(row.from)) >= 0 && inches.Cmp(rat(row.to)) < 0 {
				return row.places, true
			}
		}
	case "mm", "µm":
		mm := over(width, map[string]*big.Rat{"mm": rat("1"), "µm": rat("1000")}[from])
		for _, row := range []struct {
			from   string
			places int
		}{{"0.5", 2}, {"0.05", 3}, {"0.005", 4}, {"0.0005", 5}} {
			if mm.Cmp(rat(row.from)) >= 0 {
				return row.places, true
			}
		}
	}
	return 0, false
}

// workedPlaces are limits that nobody gives places for: ISO 370 does, or nobody can say.
func workedPlaces(b *bench) {
	si := inSI()
	ask := func(edge, value, from, to, round string, lo, hi *big.Rat) {
		question := obj{"value": value, "to": to, "round": round, "places": nil}
		unsaid := func(why string) {
			b.add("convert", "convert", edge, question, obj{"unsaid": true}, nil, "", why)
		}
		switch {
		case round != "inward":
			unsaid("ISO 370 has places for limits that are rounded inward; the question gives none")
			return
		case lo == nil || hi == nil || lo.Cmp(hi) == 0:
			unsaid("ISO 370 gives places by the width of the tolerance, and there is no width")
			return
		}
		places, ok := iso370Places(minus(hi, lo), from)
		if !ok {
			unsaid(fmt.Sprintf("a width of %s %s is outside the tables of ISO 370", dec(minus(hi, lo)), from))
			return
		}
		factor := over(si[from], si[to])
		l, h := rounded(times(lo, factor), places, "up"), rounded(times(hi, factor), places, "down")
		want := obj{"lo": digits(l), "hi": digits(h)}
		if l.Cmp(h) > 0 {
			want = obj{"none": true}
		}
		b.add("convert", "convert", edge, question, want, nil, "", fmt.Sprintf("ISO 370:1975, tables 1 and 2: a width of %s %s has %d places; then the lower end up and the upper end down (method B)", dec(minus(hi, lo)), from, places))
	}
	// Every border of the tables: just below, at, and just above.
	for _, x := range []struct{ from, to, start, last string }{
		{"in", "mm", "1.934", "0.000001"}, {"in", "mm", "-0.00205", "0.000001"}, {"thou", "mm", "76.5", "0.001"},
		{"mm", "in", "49.1236", "0.0001"}, {"mm", "in", "-0.0127", "0.0001"}, {"µm", "in", "19050", "0.1"},
	} {
		borders := map[string][]string{"in": {"0.00001", "0.0001", "0.001", "0.01", "0.1", "1"}, "thou": {"0.01", "0.1", "1", "10", "100", "1000"},
			"mm": {"0.0005", "0.005", "0.05", "0.5", "5"}, "µm": {"0.5", "5", "50", "500", "5000"}}[x.from]
		for _, border := range borders {
			for _, off := range []int64{-1, 0, 1} {
				lo := rat(x.start)
				hi := plus(plus(lo, rat(border)), times(rat(x.last), big.NewRat(off, 1)))
				ask("iso-370", fmt.Sprintf("%s..%s %s", dec(lo), dec(hi), x.from), x.from, x.to, "inward", lo, hi)
			}
		}
	}
	// The tolerances of a drawing, in both directions.
	for _, x := range [][4]string{{"1.950 ±0.016 in", "1.934", "1.966", "in"}, {"0.8125 +0.0005/0 in", "0.8125", "0.813", "in"}, {"2.0000 0/-0.0008 in", "1.9992", "2", "in"},
		{"40 +0.025/0 mm", "40", "40.025", "mm"}, {"40 -0.009/-0.025 mm", "39.975", "39.991", "mm"}, {"2.5 ±0.002 mm", "2.498", "2.502", "mm"}, {"0.05 ±0.0004 mm", "0.0496", "0.0504", "mm"}, {"127 0/-0.5 mm", "126.5", "127", "mm"}} {
		ask("iso-370-written", x[0], x[3], map[string]string{"in": "mm", "mm": "in"}[x[3]], "inward", rat(x[1]), rat(x[2]))
	}
	// What ISO 370 says nothing of.
	for _, x := range []struct{ value, lo, hi, from, to, round string }{
		{">= 2.5 in", "2.5", "", "in", "mm", "inward"}, {"<= 0.0028 in", "", "0.0028", "in", "mm", "inward"}, {">= 0.05 mm", "0.05", "", "mm", "in", "inward"},
		{"2.5 in", "2.5", "2.5", "in", "mm", "inward"}, {"2.5..2.5 in", "2.5", "2.5", "in", "mm", "inward"}, {"0 mm", "0", "0", "mm", "in", "inward"},
		{"0.0005..0.0028 in", "0.0005", "0.0028", "in", "mm", "nearest"}, {"0.0005..0.0028 in", "0.0005", "0.0028", "in", "mm", "outward"}, {"0.013..0.071 mm", "0.013", "0.071", "mm", "in", "nearest"},
	} {
		var lo, hi *big.Rat
		if x.lo != "" {
			lo = rat(x.lo)
		}
		if x.hi != "" {
			hi = rat(x.hi)
		}
		ask("unsaid", x.value, x.from, x.to, x.round, lo, hi)
	}
	for _, x := range [][2]string{{"40..45 lbf·ft", "N·m"}, {"10..12 bar", "psi"}, {"60..90 °F", "°C"}} {
		b.add("convert", "convert", "unsaid", obj{"value": x[0], "to": x[1], "round": "inward", "places": nil}, obj{"unsaid": true}, nil, "", "ISO 370 is about lengths")
	}
}

// A zone is where a tolerance class of ISO 286 lies in one range of sizes, in µm.
type zone struct{ lower, upper *big.Rat }

// zones are those whose two deviations were both read in print, by range and class.
func zones() map[[2]string]map[string]zone {
	all := map[[2]string]map[string]zone{}
	for _, p := range evidence.Packages("../../..") {
		if p.Name != "clearance/isofit" {
			continue
		}
		rows, err := evidence.Load(p.Dir + "/deviations.csv")
		if err != nil {
			panic(err)
		}
		for i := range rows {
			r := &rows[i]
			from, err := r.Input("over")
			if err != nil || r.Provenance == evidence.FromMemory {
				continue
			}
			to, _ := r.Input("up_to")
			class, _ := r.Input("class")
			if to == from {
				continue // a single size
			}
			span := [2]string{strings.TrimSuffix(from, " mm"), strings.TrimSuffix(to, " mm")}
			if all[span] == nil {
				all[span] = map[string]zone{}
			}
			z := all[span][class]
			if r.Check == "lower deviation" {
				z.lower = rat(r.Want)
			} else {
				z.upper = rat(r.Want)
			}
			all[span][class] = z
		}
	}
	for _, classes := range all {
		maps.DeleteFunc(classes, func(_ string, z zone) bool { return z.lower == nil || z.upper == nil })
	}
	return all
}

// workedDesignations are fits of printed zones at sizes with four decimals, where a program that
// rounds to whole micrometres, or takes the neighbouring range, is wrong in the last digit.
func workedDesignations(b *bench) {
	spans := zones()
	micro := rat("1000")
	for _, span := range slices.SortedFunc(maps.Keys(spans), func(a, b [2]string) int {
		return cmp.Or(rat(a[0]).Cmp(rat(b[0])), rat(a[1]).Cmp(rat(b[1])))
	}) {
		classes := spans[span]
		names := slices.Sorted(maps.Keys(classes)) // capitals, which are holes, come first
		for i, hole := range names {
			for j, shaft := range names {
				if strings.ToLower(hole) == hole || strings.ToLower(shaft) != shaft {
					continue
				}
				if (i+j)%2 == 1 && hole != "H7" {
					continue // enough
				}
				d := []*big.Rat{plus(rat(span[0]), rat("0.0001")), rat(span[1]), minus(rat(span[1]), rat("0.0005"))}[(i+j)%3]
				h, s := classes[hole], classes[shaft]
				limits := [4]*big.Rat{plus(d, over(h.lower, micro)), plus(d, over(h.upper, micro)), plus(d, over(s.lower, micro)), plus(d, over(s.upper, micro))}
				b.add("isofit", "fit", "designation", obj{"fit": dec(d) + " " + hole + "/" + shaft}, obj{"hole_min": dec(limits[0]), "hole_max": dec(limits[1]), "shaft_min": dec(limits[2]), "shaft_max": dec(limits[3]),
					"smallest_clearance": dec(minus(limits[0], limits[3])), "largest_clearance": dec(minus(limits[1], limits[2]))}, nil, "",
					fmt.Sprintf("ISO 286-2:2010, deviations printed for sizes above %s up to %s mm: %s %s and %s, %s %s and %s µm", span[0], span[1], hole, dec(h.lower), dec(h.upper), shaft, dec(s.lower), dec(s.upper)))
			}
		}
	}
}
