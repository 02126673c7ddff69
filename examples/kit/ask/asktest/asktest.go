// Package asktest holds questions for the tests of all that asks them: natively, from node and
// from a browser. Every figure in them is invented.
package asktest

import (
	"encoding/json"
	"fmt"

	"example.com/closefit/examples/kit/job"
)

// A Case is one question.
type Case struct {
	Name     string // "judge, undecided"
	Question string
	With     string // JSON
}

// Document returns the whole document.
func (c Case) Document() []byte {
	return fmt.Appendf(nil, `{"closefit":1,"question":%q,"with":%s}`, c.Question, c.With)
}

const instruments = `[
	{"kind": "setting piece", "name": "ring 62", "uncertainty": "0.001 mm", "k": "2", "freedom": null},
	{"kind": "gauge", "name": "micrometer", "uncertainty": "0.004 mm", "repeats": "0.002 mm", "common": null, "k": null, "freedom": 9, "limit_of_error": null, "set_on": null},
	{"kind": "gauge", "name": "bore gauge", "uncertainty": "0.003 mm", "repeats": "0.002 mm", "common": null, "k": null, "freedom": null, "limit_of_error": null, "set_on": "micrometer"},
	{"kind": "gauge", "name": "dial", "uncertainty": null, "repeats": null, "common": null, "k": null, "freedom": null, "limit_of_error": "0.01 mm", "set_on": "ring 62"},
	{"kind": "gauge", "name": "dial on a base", "uncertainty": "0.01 mm", "repeats": null, "common": null, "k": null, "freedom": null, "limit_of_error": null, "set_on": null},
	{"kind": "crush strip", "name": "strip", "prints": ["0.025 mm", "0.038 mm", "0.051 mm", "0.076 mm"], "tolerance": "0.004 mm", "batch": "green box"},
	{"kind": "feeler blades", "name": "blades", "blades": ["0.15 mm", "0.20 mm", "0.25 mm", "0.30 mm"], "tolerance": null}]`

const scheme = `{"name": "winch", "source": "invented", "interchangeable": false,
	"housing": [{"code": "A", "shell": "red", "number": null, "size": "66.000..66.006 mm"}, {"code": "B", "shell": "blue", "number": null, "size": "66.006..66.012 mm"}],
	"journal": [{"code": "1", "shell": "red", "number": null, "size": "61.966..61.972 mm"}, {"code": "2", "shell": "blue", "number": null, "size": "61.960..61.966 mm"}],
	"matrix": [], "sum": [], "ground": "", "mix": 1, "family": [],
	"shell": [{"grade": "red", "half": "upper", "family": "", "wall": "1.998..2.000 mm"}, {"grade": "red", "half": "lower", "family": "", "wall": "1.998..2.000 mm"},
		{"grade": "blue", "half": "upper", "family": "", "wall": "2.001..2.003 mm"}, {"grade": "blue", "half": "lower", "family": "", "wall": "2.001..2.003 mm"}],
	"limits": "0.020..0.050 mm", "wanted": null}`

const mains = `[{"bolt": "1L", "x": "0 mm", "y": "0 mm", "part": "cap 1"}, {"bolt": "1R", "x": "70 mm", "y": "0 mm", "part": "cap 1"},
	{"bolt": "2L", "x": "0 mm", "y": "90 mm", "part": "cap 2"}, {"bolt": "2R", "x": "70 mm", "y": "90 mm", "part": "cap 2"}]`

// Library returns questions for what every module answers: some with an answer, some without.
func Library() []Case {
	return []Case{
		{"judge, one instrument sets the other", "judge", `{"name": "main 3, running clearance", "limits": "0.024..0.048 mm", "unit": null, "instruments": ` + instruments + `, "non_negative": true, "at_worst": false, "direct": null, "wanted": [], "terms": [
			{"symbol": "D", "name": "housing bore", "times": "1", "with": "bore gauge", "read": ["66.012 mm"], "how": "shown", "stated": [], "needs": []},
			{"symbol": "t1", "name": "upper wall", "times": "-1", "with": null, "read": ["2.000 ±0.001 mm"], "how": "shown", "stated": [], "needs": []},
			{"symbol": "t2", "name": "lower wall", "times": "-1", "with": null, "read": ["1.9990..2.0005 mm"], "how": "shown", "stated": [], "needs": []},
			{"symbol": "d", "name": "journal", "times": "-1", "with": "micrometer", "read": ["61.974 mm", "61.975 mm", "61.976 mm"], "how": "shown", "stated": [], "needs": []}]}`},
		{"judge, a strip", "judge", `{"name": "rod 2", "limits": "0.030..0.045 mm", "unit": "µm", "instruments": ` + instruments + `, "non_negative": true, "at_worst": false, "direct": null, "wanted": [], "terms": [
			{"symbol": "C", "name": "clearance", "times": "1", "with": "strip", "read": ["0.038..0.051 mm"], "how": "shown", "stated": [], "needs": []}]}`},
		{"judge, blades", "judge", `{"name": "end play", "limits": "0.008..0.012 in", "unit": "in", "instruments": ` + instruments + `, "non_negative": true, "at_worst": false, "direct": null, "wanted": [], "terms": [
			{"symbol": "E", "name": "end play", "times": "1", "with": "blades", "read": [">= 0.25 mm"], "how": "shown", "stated": [], "needs": []}]}`},
		{"judge, a pressure", "judge", `{"name": "jet 1", "limits": ">= 1.8 bar", "unit": null, "non_negative": false, "at_worst": true, "direct": null, "wanted": [],
			"instruments": [{"kind": "gauge", "name": "pressure gauge", "uncertainty": "0.1 bar", "repeats": null, "common": null, "k": null, "freedom": null, "limit_of_error": null, "set_on": null}],
			"terms": [{"symbol": "p", "name": "opening pressure", "times": "1", "with": "pressure gauge", "read": ["1.6 bar"], "how": "shown", "stated": [], "needs": []}]}`},
		{"judge, a travel", "judge", `{"name": "end play", "limits": "0.10..0.20 mm", "unit": null, "instruments": ` + instruments + `, "non_negative": true, "at_worst": false, "direct": null, "wanted": [], "terms": [
			{"symbol": "E", "name": "end play", "times": "1", "with": "dial on a base", "how": "travel", "read": ["0.13 mm", "-0.02 mm"], "stated": [], "needs": []}]}`},
		{"judge, an opening", "judge", `{"name": "jet 2", "limits": "1.8..2.6 bar", "unit": null, "non_negative": true, "at_worst": false, "direct": null, "wanted": [],
			"instruments": [{"kind": "gauge", "name": "pressure gauge", "uncertainty": "0.1 bar", "repeats": null, "common": null, "k": null, "freedom": null, "limit_of_error": null, "set_on": null}],
			"terms": [{"symbol": "p", "name": "opening pressure", "times": "1", "with": "pressure gauge", "how": "opening", "read": ["2.1..2.4 bar"], "stated": [], "needs": []}]}`},
		{"judge, a condition met", "judge", conditional("tightened to 60 N·m")},
		{"judge, a condition not met", "judge", conditional("loose")},
		{"judge, the strip agrees", "judge", beside("0.038..0.051 mm")},
		{"judge, the strip does not agree", "judge", beside("0.051..0.076 mm")},
		{"judge, common and repeats", "judge", parts(`"uncertainty": null, "repeats": "0.003 mm", "common": "0.004 mm"`)},
		{"judge, uncertainty and repeats", "judge", parts(`"uncertainty": "0.005 mm", "repeats": "0.003 mm", "common": null`)},
		{"judge, said twice", "judge", parts(`"uncertainty": "0.005 mm", "repeats": "0.003 mm", "common": "0.004 mm"`)},
		{"judge, without the instrument", "judge", `{"name": "", "limits": "0.03..0.05 mm", "unit": null, "instruments": [], "non_negative": false, "at_worst": false, "direct": null, "wanted": [], "terms": [
			{"symbol": "d", "name": "journal", "times": "1", "with": "micrometer", "read": ["0.04 mm"], "how": "shown", "stated": [], "needs": []}]}`},
		{"assign, by codes", "assign", `{"scheme": ` + scheme + `, "family": null, "unit": "mm", "sites": [],
			"codes": {"locations": ["1", "2", "3"], "housing": {"text": "ABB", "from": "1", "mark": null, "mark_at": null, "upright": false, "ground": null}, "journal": {"text": "1 2 ?", "from": "1", "mark": null, "mark_at": null, "upright": false, "ground": null}}}`},
		{"assign, by sizes", "assign", `{"scheme": ` + scheme + `, "family": null, "unit": "mm", "codes": null, "sites": [
			{"location": "1", "housing": "66.002..66.004 mm", "journal": "61.967..61.969 mm", "room": null, "end_play": null, "fitted": []},
			{"location": "2", "housing": "66.400..66.404 mm", "journal": "61.967..61.969 mm", "room": null, "end_play": null, "fitted": []}]}`},
		{"assign, by both", "assign", `{"scheme": ` + scheme + `, "family": null, "unit": "mm",
			"codes": {"locations": ["1", "2"], "housing": {"text": "AB", "from": "1", "mark": null, "mark_at": null, "upright": false, "ground": null}, "journal": {"text": "12", "from": "1", "mark": null, "mark_at": null, "upright": false, "ground": null}},
			"sites": [{"location": "1", "housing": "66.002..66.004 mm", "journal": "61.967..61.969 mm", "room": null, "end_play": null, "fitted": []},
				{"location": "2", "housing": "66.007..66.009 mm", "journal": "61.961..61.963 mm", "room": null, "end_play": null, "fitted": []}]}`},
		{"assign, nothing", "assign", `{"scheme": ` + scheme + `, "family": null, "unit": "mm", "codes": null, "sites": []}`},
		{"buy", "buy", `{"trades": 0, "stock": [{"part": "red upper", "n": 1}],
			"needs": [{"name": "red upper", "n": 3, "alternatives": [{"parts": ["red upper"], "distance": "0 mm"}]}, {"name": "blue lower", "n": 2, "alternatives": [{"parts": ["blue lower"], "distance": "0 mm"}]}],
			"packs": [{"name": "R2", "parts": [{"part": "red upper", "n": 2}], "price": "17.00", "limit": null}, {"name": "B1", "parts": [{"part": "blue lower", "n": 1}], "price": "9.50", "limit": 3},
				{"name": "M2", "parts": [{"part": "red upper", "n": 1}, {"part": "blue lower", "n": 1}], "price": "16.40", "limit": null}]}`},
		{"buy, with trades", "buy", `{"trades": 5, "stock": [],
			"needs": [{"name": "main 1", "n": 1, "alternatives": [{"parts": ["red", "blue"], "distance": "0.001 mm"}, {"parts": ["red", "red"], "distance": "0.004 mm"}]}],
			"packs": [{"name": "red pair", "parts": [{"part": "red", "n": 2}], "price": "12", "limit": null}, {"name": "blue", "parts": [{"part": "blue", "n": 1}], "price": "8", "limit": null}]}`},
		{"buy, what nobody sells", "buy", `{"trades": 0, "stock": [], "packs": [], "needs": [{"name": "main 1", "n": 2, "alternatives": [{"parts": ["red"], "distance": "0 mm"}]}]}`},
		{"stack", "stack", `{"name": "end play", "limits": "0.10..0.30 mm", "unit": "mm", "inflation": "1.5", "quantiles": [0.001, 0.5, 0.999], "histogram": false, "correlations": null, "simulation": null, "contributors": [
			{"name": "housing", "times": "1", "limits": "30.00..30.20 mm", "distribution": {"kind": "normal", "k": 3, "mean": null}, "exact": false, "sources": []},
			{"name": "washer", "times": "-1", "limits": "2.30..2.34 mm", "distribution": {"kind": "uniform"}, "exact": false, "sources": []},
			{"name": "journal", "times": "-1", "limits": "27.55..27.61 mm", "distribution": {"kind": "triangular"}, "exact": false, "sources": []}]}`},
		{"stack, every kind", "stack", `{"name": "side play", "limits": "0.05..0.60 mm", "unit": "mm", "inflation": null, "quantiles": [0.01, 0.99], "histogram": false, "correlations": null, "simulation": null, "contributors": [
			{"name": "a", "times": "1", "limits": "10.00..10.20 mm", "distribution": {"kind": "normal within limits", "k": 2.5, "mean": "10.08 mm"}, "exact": false, "sources": []},
			{"name": "b", "times": "-1", "limits": "4.00..4.12 mm", "distribution": {"kind": "arcsine"}, "exact": false, "sources": []},
			{"name": "c", "times": "-1", "limits": "3.00..3.05 mm", "distribution": {"kind": "trapezoidal", "top": 0.5}, "exact": false, "sources": []},
			{"name": "d", "times": "-1/2", "limits": "5.30..5.36 mm", "distribution": {"kind": "sample", "values": ["5.31 mm", "5.34 mm", "5.33 mm", "5.36 mm"]}, "exact": false, "sources": []}]}`},
		{"stack, without distributions", "stack", `{"name": "deck", "limits": null, "unit": "in", "inflation": null, "quantiles": [], "histogram": false, "correlations": null, "simulation": null, "contributors": [
			{"name": "block", "times": "1", "limits": "9.000..9.004 in", "distribution": null, "exact": false, "sources": []},
			{"name": "stroke", "times": "-1/2", "limits": "3.999..4.001 in", "distribution": null, "exact": false, "sources": []}]}`},
		{"stack, sources", "stack", pair(`[{"name": "setting", "part": 0.8}]`, `[{"name": "setting", "part": 0.75}]`, "null", true)},
		{"stack, correlations", "stack", pair("[]", "[]", "[[1, 0.6], [0.6, 1]]", true)},
		{"stack, how far is not known", "stack", pair(`[{"name": "setting", "part": null}]`, `[{"name": "setting", "part": null}]`, "null", false)},
		{"stack, that cannot be", "stack", pair("[]", "[]", "[[1, 0.6], [0.5, 1]]", true)},
		{"stack, by chance alone", "stack", `{"name": "tower", "limits": ">= 0.05 mm", "unit": "mm", "inflation": null, "quantiles": [0.5], "histogram": true, "correlations": null, "simulation": {"trials": 20000, "seed": 7}, "contributors": [
			{"name": "block", "times": "1", "limits": "20 ±0.1 mm", "distribution": {"kind": "uniform"}, "exact": false, "sources": [{"name": "fixture", "part": 1}]},
			{"name": "plate", "times": "1", "limits": "5 ±0.1 mm", "distribution": {"kind": "triangular"}, "exact": false, "sources": [{"name": "fixture", "part": 1}]},
			{"name": "gauge block", "times": "-1", "limits": "24.8 mm", "distribution": null, "exact": true, "sources": []}]}`},
		{"stack, a missing bound", "stack", `{"name": "deck", "limits": null, "unit": "mm", "inflation": null, "quantiles": [], "histogram": false, "correlations": null, "simulation": null, "contributors": [{"name": "block", "times": "1", "limits": ">= 9 mm", "distribution": null, "exact": false, "sources": []}]}`},
		{"plan", "plan", `{"name": "winch", "groups": [{"name": "main cap bolts", "pattern": ` + mains + `, "order": null, "use": "single use", "on": "block",
			"first": [{"kind": "check", "ask": "are the threads oiled?", "within": null, "in": "mm", "if_not": ""}],
			"stages": [{"pull": {"kind": "tighten", "to": "20 N·m", "within": null, "in": "N·m", "high": false}, "order": null, "during": null, "then": []},
				{"pull": {"kind": "turn", "by": "55 °", "within": "50..60 °", "beyond": false}, "order": null, "during": null, "then": [{"kind": "check", "ask": "does the crank turn freely by hand?", "within": null, "in": "mm", "if_not": "take the caps off again"}]}]}]}`},
		{"plan, every kind", "plan", `{"name": "winch", "groups": [{"name": "cap bolts", "pattern": ` + mains + `, "order": "outside in", "use": "reusable", "on": "", "first": [],
			"stages": [{"pull": {"kind": "tighten", "to": "15 lbf·ft", "within": "14..16 lbf·ft", "in": "lbf·ft", "high": false}, "order": ["2R", "2L", "1R", "1L"], "during": null, "then": [{"kind": "wait", "for": "10m0s", "why": "the sealant settles"}]},
				{"pull": {"kind": "back off", "by": null}, "order": "rows", "during": null, "then": []},
				{"pull": {"kind": "tighten", "to": "24 N·m", "within": null, "in": "N·m", "high": false}, "order": null, "during": null, "then": [{"kind": "check", "ask": "what end play has the crank?", "within": "0.08..0.24 mm", "in": "mm", "if_not": ""}]}]},
			{"name": "side bolts", "pattern": [{"bolt": "s1", "x": "0 mm", "y": "80 mm", "part": ""}, {"bolt": "s2", "x": "70 mm", "y": "80 mm", "part": ""}], "order": "cross", "use": "not said", "on": "", "first": [],
			"stages": [{"pull": {"kind": "tighten", "to": "9 N·m", "within": null, "in": "N·m", "high": false}, "order": null, "during": {"group": "cap bolts", "stage": 3}, "then": []}]}]}`},
		{"plan, a turn without a torque", "plan", `{"name": "winch", "groups": [{"name": "main cap bolts", "pattern": ` + mains + `, "order": null, "use": "single use", "on": "", "first": [],
			"stages": [{"pull": {"kind": "turn", "by": "55 °", "within": null, "beyond": false}, "order": null, "during": null, "then": []}]}]}`},
		{"convert, limits", "convert", `{"value": "1.8740..1.8747 in", "to": "mm", "round": "inward", "places": null}`},
		{"convert, a reading", "convert", `{"value": "0.0385 mm", "to": "thou", "round": "outward", "places": 3}`},
		{"convert, exactly", "convert", `{"value": "<= 0.5 mm", "to": "in", "round": "exact", "places": null}`},
		{"convert, a temperature", "convert", `{"value": "-40..100 °C", "to": "°F", "round": "nearest", "places": 0}`},
		{"convert, another dimension", "convert", `{"value": "45 lbf·ft", "to": "mm", "round": "exact", "places": null}`},
		{"convert, a missing key", "convert", `{"value": "45 lbf·ft", "to": "N·m", "round": "exact"}`},
		{"convert, an unknown key", "convert", `{"value": "45 lbf·ft", "to": "N·m", "round": "exact", "places": null, "scale": 1}`},
		{"no such question", "weigh", `{}`},
	}
}

// conditional is a housing bore that needs its bolts tightened, read with them in some state.
func conditional(bolts string) string {
	return `{"name": "main 1, bore", "limits": "66.000..66.020 mm", "unit": null, "instruments": ` + instruments + `, "non_negative": true, "at_worst": false, "direct": null, "wanted": [], "terms": [
		{"symbol": "D", "name": "housing bore", "times": "1", "with": "bore gauge", "how": "shown", "read": ["66.010 mm"],
			"stated": [{"what": "bolts", "is": "` + bolts + `"}, {"what": "shells", "is": "out"}], "needs": [{"what": "bolts", "is": "tightened to 60 N·m"}]}]}`
}

// beside is a bearing of sizes that are given, with a strip that was read between two prints.
func beside(strip string) string {
	return `{"name": "main 2, running clearance", "limits": "0.030..0.050 mm", "unit": null, "instruments": ` + instruments + `, "non_negative": true, "at_worst": false, "wanted": ["t1", "t2"],
		"direct": {"name": "crush strip", "with": "strip", "how": "shown", "read": ["` + strip + `"], "stated": []}, "terms": [
		{"symbol": "D", "name": "housing bore", "times": "1", "with": null, "how": "shown", "read": ["66.010..66.012 mm"], "stated": [], "needs": []},
		{"symbol": "t1", "name": "upper wall", "times": "-1", "with": null, "how": "shown", "read": ["1.999..2.000 mm"], "stated": [], "needs": []},
		{"symbol": "t2", "name": "lower wall", "times": "-1", "with": null, "how": "shown", "read": ["1.999..2.000 mm"], "stated": [], "needs": []},
		{"symbol": "d", "name": "journal", "times": "-1", "with": null, "how": "shown", "read": ["61.970..61.972 mm"], "stated": [], "needs": []}]}`
}

// parts is a length between two readings of one gauge.
func parts(of string) string {
	return `{"name": "step", "limits": "0.9..1.1 mm", "unit": null, "non_negative": false, "at_worst": false, "direct": null, "wanted": [],
		"instruments": [{"kind": "gauge", "name": "height gauge", ` + of + `, "k": null, "freedom": null, "limit_of_error": null, "set_on": null}], "terms": [
		{"symbol": "a", "name": "upper face", "times": "1", "with": "height gauge", "how": "shown", "read": ["31.000 mm"], "stated": [], "needs": []},
		{"symbol": "b", "name": "lower face", "times": "-1", "with": "height gauge", "how": "shown", "read": ["30.000 mm"], "stated": [], "needs": []}]}`
}

// pair is a stack of two normal sizes, with deviations of 10 and 6 µm.
func pair(bore, shaft, correlations string, histogram bool) string {
	return fmt.Sprintf(`{"name": "bush", "limits": "<= 0.13 mm", "unit": "mm", "inflation": null, "quantiles": [], "histogram": %v, "correlations": %s, "simulation": null, "contributors": [
		{"name": "bore", "times": "1", "limits": "40 ±0.03 mm", "distribution": {"kind": "normal", "k": 3, "mean": null}, "exact": false, "sources": %s},
		{"name": "shaft", "times": "-1", "limits": "39.9 ±0.012 mm", "distribution": {"kind": "normal", "k": 2, "mean": null}, "exact": false, "sources": %s}]}`, histogram, correlations, bore, shaft)
}

// Records returns the records of all demonstrations, in every form.
func Records() (cases []Case) {
	for _, name := range job.Demonstrations() {
		source, err := job.Demonstration(name)
		if err != nil {
			panic(err)
		}
		for _, format := range []string{"text", "json", "html"} {
			with, err := json.Marshal(map[string]any{"name": name + ".toml", "source": string(source), "format": format, "film": false})
			if err != nil {
				panic(err)
			}
			cases = append(cases, Case{"record, " + name + ", " + format, "record", string(with)})
		}
	}
	return append(cases,
		Case{"record, no job", "record", `{"name": "x.toml", "source": "title = 3", "format": "text", "film": false}`},
		Case{"record, no form", "record", `{"name": "x.toml", "source": "", "format": "pdf", "film": false}`})
}
