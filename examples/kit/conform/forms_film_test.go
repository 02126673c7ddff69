package conform

import "strings"

func filmForms() map[string]form {
	numbers := map[string]string{"S": "sommerfeld", "h0/c": "least", "attitude": "attitude", "(r/c)f": "friction", "Q/(rcNL)": "flow", "Qs/Q": "side_share", "P/pmax": "peak_share"}
	shaped := func(get input, q obj) {
		q["eccentricity"], q["ratio"], q["grooves"] = jsonNumber(get("eccentricity")), nil, nil
		if ratio := get("ratio"); ratio != "" {
			q["ratio"] = jsonNumber(ratio)
		}
		if reach := get("reach"); reach != "" {
			q["grooves"] = reach
		}
	}
	film := form{topic: "film", kind: "bearing", also: shaped, want: "{quantity}", names: numbers}
	journal := func(units obj) func(get input, q obj) {
		return func(get input, q obj) {
			q["clearance"], q["units"] = get("cd"), units
			if c := get("c"); c != "" { // the radial one
				q["clearance"] = dec(times(rat("2"), rat(strings.TrimSuffix(c, " in")))) + " in"
			}
		}
	}
	const sizes = "diameter=D width=L load=W speed=N viscosity=mu"
	working := map[string]string{"h0": "least_film", "torque": "torque", "power": "power", "Q": "flow_rate", "Qs": "side_flow_rate", "pmax": "peak_pressure"}
	for key, name := range numbers {
		working[key] = name
	}
	return map[string]form{
		"solve": film, "long": film, "two_grooves": film,
		"full_long": {topic: "film", kind: "full film", want: "{quantity}", names: numbers, also: func(get input, q obj) { q["eccentricity"] = jsonNumber(get("eccentricity")) }},
		"short": {topic: "film", kind: "short", want: "{quantity}", names: numbers,
			also: func(get input, q obj) {
				q["ratio"], q["eccentricity"] = jsonNumber(get("ratio")), jsonNumber(get("eccentricity"))
			}},
		"working_point": {topic: "film", kind: "carry", keys: sizes, want: "{quantity}", names: working,
			also: journal(obj{"length": "in", "torque": "lbf·in", "power": "hp", "flow": "in3/s", "pressure": "psi"})},
		"petroff": {topic: "film", kind: "petroff", keys: sizes, want: "{quantity}", names: map[string]string{"f": "coefficient", "force": "force", "torque": "torque", "power": "power"},
			also: journal(obj{"force": "lbf", "torque": "lbf·in", "power": "hp"})},
		"viscosity": {topic: "film", kind: "viscosity", keys: "at", want: "viscosity", also: func(get input, q obj) {
			q["points"] = []any{obj{"at": get("cool_t"), "viscosity": get("cool_v")}, obj{"at": get("warm_t"), "viscosity": get("warm_v")}}
		}},
		"j300": {topic: "film", kind: "grade", keys: "grade", want: "viscosity", also: func(get input, q obj) {
			q["limit"], q["at"], _ = strings.Cut(get("limit"), " at ")
		}},
	}
}
