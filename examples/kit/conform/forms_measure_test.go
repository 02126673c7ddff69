package conform

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

func sizeForms() map[string]form {
	millionths := func(get input, q obj) { q["per_kelvin"] = get("per_kelvin") + "e-6" }
	return map[string]form{
		"convert rounding=half away from zero": {topic: "convert", kind: "half away", keys: "value to=unit", want: "value",
			also: func(get input, q obj) { q["places"] = map[string]int{"mm": 3, "cm": 4}[q["to"].(string)] }},
		"fineness":   {topic: "convert", kind: "fineness", keys: "width to=unit", want: "fineness"},
		"gap growth": {topic: "convert", kind: "ring gap", keys: "bore unit", want: "growth"},
		"growth": {topic: "convert", kind: "warmed", keys: "size to=temperature unit", want: "growth",
			also: func(get input, q obj) { millionths(get, q); q["from"] = "20 °C" }},
		"warmed from one temperature to another": {topic: "convert", kind: "warmed", keys: "size from to unit", also: millionths, want: "size"},
	}
}

func measureForms() map[string]form {
	data := func(get input, q obj) { q["values"], q["unit"] = dataSet(get("data")), "" }
	stations := func(of string) form {
		return form{topic: "combine", kind: "stations", want: "uncertainty", also: func(get input, q obj) {
			q["of"], q["stations"], q["standard_uncertainty"], q["unit"], q["freedom"] = of, wholeOf(get("stations")), "1 µm", "µm", nil
			if n := wholeOf(get("freedom")); n > 0 {
				q["freedom"] = n
			}
		}}
	}
	parts := func(get input, q obj) {
		var all []any
		for _, key := range []string{"a", "b", "c", "d"} {
			standard, freedom, _ := strings.Cut(get(key), "/")
			all = append(all, obj{"standard": standard, "freedom": wholeOf(freedom)})
		}
		q["parts"], q["probability"] = all, nil
		if p := get("coverage"); p != "" {
			q["probability"] = p
		}
	}
	strip := func(want string) form {
		return form{topic: "combine", kind: "strip", keys: "seen=nearest unit", want: want,
			also: func(get input, q obj) { q["prints"] = strings.Split(get("widths"), ", ") }}
	}
	// A millimetre stands for an ohm; the standard uncertainty of the source is half of what is asked.
	resistors := form{topic: "combine", kind: "combine", want: "uncertainty", by: "2", also: func(get input, q obj) {
		n := wholeOf(get("resistors"))
		var gauges, terms []any
		for i := range n {
			name := "standard"
			if get("shared") == "" {
				name = fmt.Sprint("standard ", i+1)
			}
			if i == 0 || name != "standard" {
				standard := rat(strings.TrimSuffix(get("own")+get("shared"), " mΩ"))
				gauges = append(gauges, obj{"kind": "gauge", "name": name, "common": dec(times(rat("2"), standard)) + " µm", "repeats": "0 mm", "set_on": nil})
			}
			terms = append(terms, obj{"times": "1", "with": name, "read": []any{"1000 mm"}})
		}
		q["unit"], q["instruments"], q["terms"], q["non_negative"], q["at_worst"] = "mm", gauges, terms, false, false
	}}
	return map[string]form{
		"series mean":               {topic: "combine", kind: "series", also: data, want: "mean"},
		"series standard deviation": {topic: "combine", kind: "series", also: data, want: "deviation"},
		"series autocorrelation":    {topic: "combine", kind: "series", also: data, want: "autocorrelation"},
		"largest of stations":       stations("largest"),
		"range of stations":         stations("range"),
		"effective freedom":         {topic: "combine", kind: "welch", also: parts, want: "freedom"},
		"expanded uncertainty":      {topic: "combine", kind: "welch", also: parts, want: "expanded"},
		"strip lower bound":         strip("lo"),
		"strip upper bound":         strip("hi"),
		"resistors in series":       resistors,
		// The source prints whole nanometres; the check rounds up to them.
		"root sum square": {topic: "combine", kind: "rss", want: "value", near: "places", also: func(get input, q obj) {
			q["parts"] = []any{get("a"), get("b"), get("c"), get("d"), get("e"), get("f")}
		}},
	}
}

// dataSet are the numbers of a data set beside the evidence of package units/measure.
func dataSet(name string) (values []any) {
	file, err := os.Open(filepath.Join("../../../units/measure/testdata/strd", name+".txt"))
	if err != nil {
		panic(err)
	}
	defer file.Close()
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if text := strings.TrimSpace(lines.Text()); !strings.HasPrefix(text, "#") {
			values = append(values, text)
		}
	}
	return values
}

func stackForms() map[string]form {
	chain := func(kind, want string) form {
		return form{topic: "stack", kind: kind, keys: "unit", want: want, also: func(get input, q obj) {
			var all []any
			for i, key := range []string{"a", "b", "c", "d", "e", "f", "g"} {
				all = append(all, obj{"times": map[byte]string{'+': "1", '-': "-1"}[get("signs")[i]], "limits": get(key)})
			}
			q["contributors"], q["limits"] = all, nil
		}}
	}
	additive := func(want string) form {
		return form{topic: "stack", kind: "law", want: want, also: func(get input, q obj) {
			var all []any
			for deviation := range strings.FieldsSeq(get("deviations")) {
				half, kind := times(rat(deviation), rat("3")), obj{"kind": "normal", "k": 3}
				if get("distribution") == "rectangular" {
					half, kind = rounded(times(rat(deviation), rootOf(rat("3"))), 12, "nearest"), obj{"kind": "uniform"}
				}
				all = append(all, obj{"times": "1", "limits": "0 ±" + dec(half) + " mm", "distribution": kind})
			}
			q["contributors"], q["unit"], q["limits"], q["coverage"] = all, "mm", nil, 0.95
		}}
	}
	model := func(want, by string, made func(get input) obj) form {
		return form{topic: "stack", kind: "model", want: want, by: by, also: func(get input, q obj) {
			for key, value := range made(get) {
				q[key] = value
			}
		}}
	}
	forms := map[string]form{
		"middle":                    chain("worst case", "middle"),
		"worst case tolerance":      chain("worst case", "tolerance"),
		"root-sum-square tolerance": chain("rss", "tolerance"),
		"standard deviation":        additive("std_dev"),
		"lower end of 95 %":         additive("lo"),
		"upper end of 95 %":         additive("hi"),
		"first exceeds":             {topic: "stack", kind: "first exceeds", keys: "above", want: "probability", also: func(get input, q obj) { q["parts"] = wholeOf(get("parts")) }},
		"proven density": {topic: "stack", kind: "law", keys: "at", want: "density", also: func(get input, q obj) {
			q["contributors"], q["unit"], q["limits"] = partsOf(get("parts")), "mm", nil
		}},
		// Ten normal parts whose deviations are 2 to 11 µm, so √505 µm together.
		"tail of ten normal parts": {topic: "stack", kind: "law", want: "above", also: func(get input, q obj) {
			var all []any
			for i := range 10 {
				all = append(all, obj{"times": "1", "limits": fmt.Sprintf("0 ±0.%03d mm", 6+3*i), "distribution": obj{"kind": "normal", "k": 3}})
			}
			above := rounded(times(rat(get("sigmas")), over(rootOf(rat("505")), rat("1000"))), 20, "nearest")
			q["contributors"], q["unit"], q["limits"] = all, "mm", "<= "+dec(above)+" mm"
		}},
	}
	for check, want := range map[string]string{"mean": "mean", "standard deviation": "std_dev", "width of 95 %": "width"} {
		forms["mass calibration "+check] = model(want, "", massCalibration)
	}
	for check, want := range map[string]string{"mean": "mean", "standard deviation": "std_dev", "lower end of 99 %": "lo", "upper end of 99 %": "hi"} {
		forms["gauge block "+check] = model(want, "", gaugeBlock)
	}
	for check, want := range map[string]string{"first order": "first_order", "second order": "second_order"} {
		forms["mass calibration, "+check] = model(want, "", massCalibration)
		forms["comparison loss, "+check] = model(want, "1e-6", comparisonLoss)
	}
	for check, want := range map[string]string{"simulated": "std_dev", "simulated mean": "mean"} {
		forms["comparison loss, "+check] = model(want, "1e-6", comparisonLoss)
	}
	return forms
}

// massCalibration is the example of JCGM 101:2008, 9.3, with the inputs of its table 5.
func massCalibration(input) obj {
	return obj{"formula": "(mR + dmR) * (1 + (ra - 1.2) * (1/rW - 1/rR)) - 100000", "correlation": nil, "coverage": 0.95, "inputs": []any{
		obj{"name": "mR", "kind": "normal", "mean": 100000, "deviation": 0.05}, obj{"name": "dmR", "kind": "normal", "mean": 1.234, "deviation": 0.02},
		obj{"name": "ra", "kind": "uniform", "lo": 1.1, "hi": 1.3}, obj{"name": "rW", "kind": "uniform", "lo": 7000, "hi": 9000}, obj{"name": "rR", "kind": "uniform", "lo": 7950, "hi": 8050},
	}}
}

// comparisonLoss is the example of 9.4, in which X2 is 0.
func comparisonLoss(get input) obj {
	return obj{"formula": "X1*X1 + X2*X2", "correlation": jsonNumber(get("r")), "coverage": nil, "inputs": []any{
		obj{"name": "X1", "kind": "normal", "mean": jsonNumber(get("x1")), "deviation": 0.005}, obj{"name": "X2", "kind": "normal", "mean": 0, "deviation": 0.005}}}
}

// gaugeBlock is the example of 9.5, with the inputs of its table 10, in nanometres.
func gaugeBlock(input) obj {
	student := func(name string, freedom, mean, scale int) obj {
		return obj{"name": name, "kind": "student", "freedom": freedom, "mean": mean, "scale": scale}
	}
	return obj{"formula": "ls + D + d1 + d2 - ls*(da*(t0 + Delta) + as*dt) - 50000000", "correlation": nil, "coverage": 0.99, "inputs": []any{
		student("ls", 18, 50_000_623, 25), student("D", 24, 215, 6), student("d1", 5, 0, 4), student("d2", 8, 0, 7),
		obj{"name": "as", "kind": "uniform", "lo": 9.5e-6, "hi": 13.5e-6}, obj{"name": "t0", "kind": "normal", "mean": -0.1, "deviation": 0.2},
		obj{"name": "Delta", "kind": "arcsine", "lo": -0.5, "hi": 0.5},
		obj{"name": "da", "kind": "curvilinear trapezoid", "mean": 0, "half": 1e-6, "inexact": 1e-7},
		obj{"name": "dt", "kind": "curvilinear trapezoid", "mean": 0, "half": 0.05, "inexact": 0.025},
	}}
}
