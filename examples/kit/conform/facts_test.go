package conform

import (
	"fmt"
	"math/big"
	"os"
	"strings"
	"testing"

	"example.com/closefit/internal/evidence"
	"example.com/closefit/internal/thorough"
)

// facts are the vectors of published values, how many values of evidence that are facts or stand in
// a table are not asked, by the reason, and how many facts there are.
func facts(t *testing.T) (vectors []Vector, left map[string]int, of counted) {
	t.Helper()
	left = map[string]int{}
	for _, p := range evidence.Packages("../../..") {
		report, err := evidence.Evaluate(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range report.Outcomes {
			if o.Standing == evidence.Fact && !o.Misprint {
				of.facts++
				if p.Name == "clearance/film" {
					of.films++
				}
			}
		}
		if p.Name == "clearance/film" {
			continue // no topic asks for oil films
		}
		for _, o := range report.Outcomes {
			if o.Misprint || o.Standing != evidence.Fact && o.Standing != evidence.LookedUp {
				continue
			}
			v, reason := factOf(o.Row)
			if reason != "" {
				left[p.Name+", "+o.Row.Check+": "+reason]++
				continue
			}
			v.Basis = Fact
			if o.Standing == evidence.LookedUp {
				v.Basis = Table
			}
			v.Evidence = p.Name + "/" + o.Row.ID
			v.ID = v.Topic + "-" + strings.ReplaceAll(v.Evidence, "/", "-")
			v.Provenance, v.Source = string(o.Row.Provenance), o.Row.Source
			v.Why = whyTolerant(o.Row, len(v.Tolerance) > 0)
			vectors = append(vectors, v)
		}
	}
	return vectors, left, of
}

// counted is how many independent facts EVIDENCE.md has, and how many of them are about oil films.
type counted struct{ facts, films int }

// TestFactsSaid: QUESTIONS.md says how many of the facts are asked.
func TestFactsSaid(t *testing.T) {
	thorough.SkipRaced(t)
	vectors, _, of := facts(t)
	asked := 0
	for _, v := range vectors {
		if v.Basis == Fact {
			asked++
		}
	}
	page, err := os.ReadFile("../../conformance/QUESTIONS.md")
	if err != nil {
		t.Fatal(err)
	}
	says := fmt.Sprintf("Of the %d independent facts of EVIDENCE.md %d are asked. No topic asks for the %d about oil films, and no kind of\nquestion for %d others",
		of.facts, asked, of.films, of.facts-of.films-asked)
	if !strings.Contains(string(page), says) {
		t.Errorf("QUESTIONS.md does not say %q", says)
	}
}

// whyTolerant is the reason of a tolerance, which is that of the row.
func whyTolerant(r *evidence.Row, any bool) string {
	switch text := r.Tolerance.String(); {
	case !any:
		return ""
	case text == "places":
		return "the source prints a rounded value: half a unit of its last place"
	case strings.HasSuffix(text, "%"):
		return "the source computes in floating point, or rounds on the way: " + text
	default:
		return "the source rounds: " + text
	}
}

// one is a question with one wanted value and the row's tolerance.
func one(r *evidence.Row, topic, kind string, question map[string]any, keys ...string) (Vector, string) {
	v := Vector{Topic: topic, Kind: kind, Question: question, Want: map[string]any{}}
	for _, key := range keys {
		v.Want[key] = r.Want
		want, ok := number(r.Want)
		if !ok {
			return v, "the value is no number"
		}
		if allowed := allowedOf(r, want); allowed.Sign() > 0 {
			if v.Tolerance == nil {
				v.Tolerance = map[string]string{}
			}
			v.Tolerance[key] = digits(allowed)
		}
	}
	return v, ""
}

// allowedOf is how far a row's value may be off.
func allowedOf(r *evidence.Row, want *big.Rat) *big.Rat {
	text := r.Tolerance.String()
	if text == "places" {
		mantissa, exponent, _ := strings.Cut(strings.ToLower(r.Want), "e")
		_, after, _ := strings.Cut(mantissa, ".")
		half := new(big.Rat).Quo(big.NewRat(1, 2), tenTo(len(after)))
		if exponent != "" {
			scale, _ := number("1e" + exponent)
			half.Mul(half, scale)
		}
		return half
	}
	if percent, is := strings.CutSuffix(text, "%"); is {
		p, _ := number(percent)
		return p.Mul(p, new(big.Rat).Abs(want)).Mul(p, big.NewRat(1, 100))
	}
	a, _ := number(text)
	return a
}

func tenTo(n int) *big.Rat {
	return new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil))
}

// factOf makes the question of a row, or says why it is not asked.
func factOf(r *evidence.Row) (Vector, string) {
	get := func(key string) string {
		text, err := r.Input(key)
		if err != nil {
			return ""
		}
		return text
	}
	unit := r.Unit()
	type q = map[string]any
	switch r.Check {
	case "factor":
		if get("quantity") == "temperature difference" {
			return one(r, "convert", "temperature difference", q{"value": "1", "from": get("from"), "to": unit}, "value")
		}
		return one(r, "convert", "convert", q{"value": "1 " + get("from"), "to": unit, "round": "exact", "places": nil}, "lo", "hi")
	case "convert":
		if r.Has("rounding") {
			return Vector{}, "the source rounds halves away from zero, which no question asks for"
		}
		return one(r, "convert", "convert", q{"value": get("value"), "to": unit, "round": "nearest", "places": placesOf(r.Want)}, "lo", "hi")
	case "limit", "nearest", "inward":
		if r.Has("thread") {
			return one(r, "threads", "limits", q{"thread": get("thread"), "class": get("class")}, get("limit"))
		}
		key := map[string]string{"lower": "lo", "upper": "hi"}[get("bound")]
		if r.Check == "limit" {
			return one(r, "convert", "convert", q{"value": get("limits"), "to": unit, "round": "exact", "places": nil}, key)
		}
		return one(r, "convert", "convert", q{"value": get("limits"), "to": unit, "round": r.Check, "places": placesOf(r.Want)}, key)
	case "round":
		return one(r, "convert", "convert", q{"value": get("value") + " mm", "to": "mm", "round": "nearest", "places": placesOf(r.Want)}, "lo", "hi")
	case "temperature":
		return one(r, "convert", "convert", q{"value": get("at"), "to": unit, "round": "exact", "places": nil}, "lo", "hi")
	case "coefficient per fahrenheit":
		v, reason := one(r, "convert", "per fahrenheit", q{"per_kelvin": get("per_kelvin") + "e-6"}, "per_fahrenheit")
		v.Want["per_fahrenheit"] = r.Want + "e-6"
		for key, text := range v.Tolerance {
			off, _ := number(text)
			v.Tolerance[key] = digits(off.Mul(off, big.NewRat(1, 1_000_000)))
		}
		return v, reason

	case "expanded uncertainty of a sum":
		return one(r, "combine", "combine", sumOf(get("instruments"), get("terms")), "uncertainty")
	case "root sum square":
		if r.Tolerance.Exact() {
			return Vector{}, "the source rounds up in its own way"
		}
		var parts []string
		for _, key := range r.Keys() {
			parts = append(parts, get(key))
		}
		return one(r, "combine", "rss", q{"parts": parts}, "value")
	case "coverage factor":
		n, _ := number(get("freedom"))
		return one(r, "combine", "coverage", q{"probability": get("probability"), "freedom": n.Num().Int64()}, "k")
	case "mean", "deviation":
		if r.Has("kilonewtons") {
			var values []string
			for _, f := range strings.Fields(get("kilonewtons")) {
				values = append(values, f+" kN")
			}
			return one(r, "combine", "series", q{"values": values, "unit": "kN"}, r.Check)
		}
	case "conformity probability":
		return one(r, "judge", "conformity", q{"value": get("value"), "standard_uncertainty": get("standard_uncertainty"), "limits": get("limits")}, "probability")
	case "guard factor":
		return one(r, "judge", "guard factor", q{"risk": get("risk")}, "factor")
	case "consumer risk", "producer risk":
		limit, _ := number(get("limit"))
		ratio, _ := number(get("ratio"))
		guard, _ := number(get("guard"))
		return one(r, "judge", "risk", q{"limit": get("limit"), "uncertainty": digits(new(big.Rat).Quo(limit, ratio)),
			"accept": digits(new(big.Rat).Mul(limit, guard))}, strings.TrimSuffix(r.Check, " risk"))

	case "smallest clearance", "largest clearance":
		key := map[string]string{"smallest clearance": "lo", "largest clearance": "hi"}[r.Check]
		var c []any
		for _, name := range r.Keys() {
			times := "1"
			switch {
			case strings.HasPrefix(name, "shaft"):
				times = "-1"
			case strings.HasPrefix(name, "two_shells"):
				times = "-2"
			}
			c = append(c, q{"times": times, "limits": get(name)})
		}
		return one(r, "stack", "worst case", q{"contributors": c, "unit": unit, "limits": nil}, key)
	case "end play after washers":
		return one(r, "stack", "worst case", q{"unit": unit, "limits": nil, "contributors": []any{q{"times": "1", "limits": get("play")},
			q{"times": "1", "limits": get("fitted")}, q{"times": "-1", "limits": get("instead")}}}, "lo")
	case "smallest gap", "largest gap":
		key := map[string]string{"smallest gap": "lo", "largest gap": "hi"}[r.Check]
		return one(r, "stack", "worst case", q{"contributors": signed(r, get), "unit": unit, "limits": nil}, key)
	case "proven probability above":
		parts, ok := partsOf(get("parts"))
		if !ok {
			return Vector{}, "a distribution that no question has"
		}
		return one(r, "stack", "law", q{"contributors": parts, "unit": "mm", "limits": "<= " + get("above")}, "above")

	case "undersize wall", "undersize journal", "undersize bore":
		return one(r, "assign", "undersize", q{"part": strings.TrimPrefix(r.Check, "undersize "), "standard": get("standard"), "undersize": get("step"), "unit": unit}, "lo")
	case "oversize":
		return one(r, "assign", "undersize", q{"part": "size", "standard": get("standard"), "oversize": get("step"), "unit": unit}, "lo")
	case "wall low", "wall high", "journal low", "journal high":
		part, end, _ := strings.Cut(r.Check, " ")
		return one(r, "assign", "undersize", q{"part": part, "standard": get("standard"), "undersize": get("undersize"), "unit": unit}, map[string]string{"low": "lo", "high": "hi"}[end])
	case "washer":
		return washers(r, get)

	case "tolerance":
		return one(r, "isofit", "tolerance", q{"grade": get("grade"), "nominal": get("up_to")}, "tolerance")
	case "lower deviation", "upper deviation":
		return one(r, "isofit", "deviations", q{"class": get("class"), "nominal": get("up_to")}, strings.TrimSuffix(r.Check, " deviation"))

	case "pitch_diameter", "minor_diameter", "root_diameter", "stress_area", "minor_area":
		return one(r, "threads", "sizes", q{"thread": get("thread")}, r.Check)
	case "pitch_tolerance":
		return one(r, "threads", "limits", q{"thread": get("thread"), "class": get("class")}, "pitch_tolerance")
	case "strength", "grade":
		key := map[string]string{"strength": "class", "grade": "grade"}[r.Check]
		if of := get("of"); of == "proof" || of == "yield" || of == "tensile" {
			return one(r, "threads", "strength", q{"thread": get("thread"), key: get(key)}, of)
		}
		return Vector{}, "elongation is not asked for"
	case "proof_load", "ultimate_load":
		return one(r, "threads", "load", q{"thread": get("thread"), "class": get("class")}, r.Check)

	case "load_factor":
		return one(r, "torque", "load factor", q{"bolt": get("bolt"), "members": get("members")}, "factor")
	case "assembly_preload":
		return one(r, "torque", "yield", q{"thread": get("thread"), "class": get("class"), "friction": get("friction"), "share": "0.9"}, "preload")
	case "assembly_torque":
		return one(r, "torque", "yield", q{"thread": get("thread"), "class": get("class"), "friction": get("friction"), "share": "0.9",
			"face": get("face"), "hole": get("hole")}, "torque")
	case "nut_factor_torque":
		return one(r, "torque", "nut factor", q{"factor": get("factor"), "thread": get("thread"), "area": get("area"), "stress": get("stress"), "share": get("share"), "unit": unit}, "torque")
	case "breaking_torque":
		return one(r, "torque", "breaking", q{"thread": get("thread"), "class": get("class")}, "torque")
	case "extension_torque":
		return one(r, "torque", "extension", q{"set": get("set"), "lever": get("lever"), "offset": get("offset"), "angle": get("angle"), "unit": unit}, "torque")
	case "shear_area":
		return one(r, "torque", "shear area", q{"thread": get("thread"), "of": get("of")}, "area")
	case "run_on":
		return one(r, "torque", "run on", q{"torque": get("torque"), "run_on": get("run_on"), "unit": unit}, get("value"))
	}
	for _, prefix := range []string{"pair ", "fit ", "hole basis ", "shaft basis "} {
		key, is := strings.CutPrefix(r.Check, prefix)
		if !is {
			continue
		}
		question := q{}
		kind := strings.TrimSpace(prefix)
		if base, is := strings.CutSuffix(kind, " basis"); is {
			kind = "basis"
			question["basis"] = base
		}
		for _, name := range r.Keys() {
			question[name] = get(name)
		}
		key = strings.ReplaceAll(key, " ", "_")
		negative := false
		if strings.HasSuffix(key, "tolerance") {
			return Vector{}, "the width of the limits that it gives"
		}
		if end, is := strings.CutSuffix(key, "_interference"); is { // a negative clearance
			key, negative = map[string]string{"smallest": "largest_clearance", "largest": "smallest_clearance"}[end], true
		}
		v, reason := one(r, "isofit", kind, question, key)
		if negative && reason == "" {
			v.Want[key] = "-" + r.Want
		}
		return v, reason
	}
	return Vector{}, "no kind of question asks for it"
}

func placesOf(want string) int {
	_, after, _ := strings.Cut(want, ".")
	return len(after)
}

// signed are the contributors of a row with signs.
func signed(r *evidence.Row, get func(string) string) (c []any) {
	for i, key := range r.Keys() {
		if key == "signs" {
			continue
		}
		times := "1"
		if get("signs")[i] == '-' {
			times = "-1"
		}
		c = append(c, map[string]any{"times": times, "limits": get(key)})
	}
	return c
}

// sumOf writes "A 0.9 0.9, C 3.6 0.6 on A" and "-1 A, -3 C" as a question.
func sumOf(instruments, terms string) map[string]any {
	var all, sums []any
	for _, text := range strings.Split(instruments, ", ") {
		w := strings.Fields(text)
		g := map[string]any{"kind": "gauge", "name": w[0], "common": w[1] + " µm", "repeats": w[2] + " µm", "set_on": nil}
		if len(w) == 5 {
			g["set_on"] = w[4]
		}
		all = append(all, g)
	}
	for _, text := range strings.Split(terms, ", ") {
		times, name, _ := strings.Cut(text, " ")
		sums = append(sums, map[string]any{"times": strings.TrimPrefix(times, "+"), "with": name, "read": []string{"50 mm"}})
	}
	return map[string]any{"unit": "µm", "instruments": all, "terms": sums, "non_negative": false, "at_worst": false}
}

// partsOf reads "trapezoidal 0.4 ±0.3 mm + normal 3 ±0.1 mm".
func partsOf(text string) (c []any, ok bool) {
	for _, part := range strings.Split(text, " + ") {
		words, limits, _ := strings.Cut(part, " ±")
		if strings.Contains(limits, "about") || strings.HasPrefix(words, "arcsine") {
			return nil, false
		}
		var d map[string]any
		name, figure, _ := strings.Cut(words, " ")
		switch {
		case strings.HasPrefix(words, "cut-off normal"):
			d = map[string]any{"kind": "normal within limits", "k": jsonNumber(strings.TrimPrefix(words, "cut-off normal "))}
		case name == "normal":
			d = map[string]any{"kind": "normal", "k": jsonNumber(figure)}
		case name == "trapezoidal":
			d = map[string]any{"kind": "trapezoidal", "top": jsonNumber(figure)}
		default:
			d = map[string]any{"kind": name}
		}
		c = append(c, map[string]any{"times": "1", "limits": "0 ±" + limits, "distribution": d})
	}
	return c, true
}

func jsonNumber(text string) float64 {
	var f float64
	fmt.Sscan(text, &f)
	return f
}

// washers asks which pair of thrust washers, both alike, brings the end play within its limits.
func washers(r *evidence.Row, get func(string) string) (Vector, string) {
	var shells []any
	for _, key := range r.Keys() {
		if key != "end_play" && key != "fitted" && key != "limits" {
			shells = append(shells, map[string]any{"grade": key, "wall": get(key)})
		}
	}
	play, fitted := mustInterval(get("end_play")), mustInterval(get("fitted"))
	room := fmt.Sprintf("%s..%s in", digits(new(big.Rat).Add(play[0], fitted[0])), digits(new(big.Rat).Add(play[1], fitted[1])))
	fits := []any{}
	if r.Want != "none" {
		fits = append(fits, []any{r.Want, r.Want})
	}
	return Vector{Topic: "assign", Kind: "sizes", Question: map[string]any{"scheme": map[string]any{"shell": shells, "limits": get("limits"), "mix": 0}, "room": room},
		Want: map[string]any{"fits": fits}}, ""
}

// mustInterval reads "0.007..0.016 in" and "0.244 in".
func mustInterval(text string) [2]*big.Rat {
	text = strings.TrimSuffix(text, " in")
	lo, hi, two := strings.Cut(text, "..")
	if !two {
		hi = lo
	}
	a, ok := number(lo)
	b, ok2 := number(hi)
	if !ok || !ok2 {
		panic("not an interval in inches: " + text)
	}
	return [2]*big.Rat{a, b}
}
