package conform

import (
	"fmt"
	"maps"
	"math"
	"strconv"
	"strings"

	"example.com/closefit/internal/evidence"
)

// A form makes questions of the rows of one check. Its words may hold inputs of the row in braces:
// "hardness_{end}".
type form struct {
	topic, kind string

	// keys are the keys of the question, and the input that each holds: "face" alone, "standard=of";
	// "unit" is the row's.
	keys  string
	also  func(input, obj)        // adds what is not an input as it stands
	want  string                  // the key of the answer, or two of them that are the same: "lo hi"
	names map[string]string       // the answer's keys, if the row has other words for them
	of    func(string, input) any // a wanted value that is no number, of what the source prints
	by    string                  // what the printed number is multiplied with to be in the question's unit
	near  string                  // a tolerance that the source has, and the row has not; "places" for half a unit of the last place
}

// An input gives a row's input by its key, and "" if there is none.
type input func(key string) string

func (f form) vector(r *evidence.Row) (Vector, string) {
	get := func(key string) string {
		text, err := r.Input(key)
		if err != nil {
			return ""
		}
		return text
	}
	filled := func(text string) string {
		for _, key := range r.Keys() {
			text = strings.ReplaceAll(text, "{"+key+"}", get(key))
		}
		return text
	}
	question := obj{}
	for _, key := range strings.Fields(f.keys) {
		key, from, renamed := strings.Cut(key, "=")
		switch {
		case key == "unit", from == "unit":
			question[key] = r.Unit()
		case renamed:
			question[key] = get(from)
		default:
			question[key] = get(key)
		}
	}
	if f.also != nil {
		f.also(get, question)
	}
	wanted := strings.Fields(filled(f.want))
	for i, word := range wanted {
		if name, is := f.names[word]; is {
			wanted[i] = name
		}
	}
	if f.of != nil {
		return Vector{Topic: f.topic, Kind: f.kind, Question: question, Want: obj{wanted[0]: f.of(r.Want, get)}}, ""
	}
	v, reason := one(r, f.topic, f.kind, question, wanted...)
	if reason != "" {
		return v, reason
	}
	for _, key := range wanted {
		if f.near != "" {
			v.Tolerance = map[string]string{key: f.near}
			if f.near == "places" {
				v.Tolerance[key] = digits(halfPlace(r.Want))
			}
		}
		if f.by != "" {
			by := rat(f.by)
			v.Want[key] = digits(times(rat(r.Want), by))
			if off, is := v.Tolerance[key]; is {
				v.Tolerance[key] = digits(times(rat(off), by))
			}
		}
	}
	return v, ""
}

// formOf is the form of a row: that of its check, or of its check with one of its inputs, "plan_order order=cross".
func formOf(r *evidence.Row) (form, bool) {
	all := forms()
	for _, key := range r.Keys() {
		value, err := r.Input(key)
		if f, is := all[r.Check+" "+key+"="+value]; is && err == nil {
			return f, true
		}
	}
	f, is := all[r.Check]
	return f, is
}

// forms are the checks whose rows have a form.
func forms() map[string]form {
	all := map[string]form{}
	for _, some := range []map[string]form{fastenerForms(), fitForms(), torqueForms(), planForms(), sizeForms(), measureForms(), stackForms(), filmForms()} {
		maps.Copy(all, some)
	}
	return all
}

func fastenerForms() map[string]form {
	joint := func(get input, q obj) {
		q["members"] = obj{"hole": get("hole"), "face": get("face"), "half_angle": get("angle"), "layers": layers(get("layers"))}
		q["bolt"] = obj{"diameter": get("bolt_diameter"), "length": get("bolt_length"), "modulus": get("bolt_modulus")}
		q["preload"] = obj{"pressure": get("initial"), "area": get("area")}
	}
	studs := func(get input, q obj) {
		area := times(rat(get("count")), rat(strings.TrimSuffix(get("area"), " in2")))
		stress := times(rat(strings.TrimSuffix(get("stress"), " ksi")), rat(get("share")))
		q["bolt"], q["members"] = dec(area)+" N/mm", get("members")+" N/mm"
		q["preload"] = obj{"pressure": dec(stress) + " ksi", "area": dec(area) + " in2"}
		q["outer"] = obj{"pressure": get("pressure"), "diameter": get("head")}
		q["area"] = nil
	}
	outcome := map[string]string{"reusable": "conforming", "replace": "below limit"}
	return map[string]form{
		"hardness":              {topic: "threads", kind: "strength", keys: "thread class", want: "hardness_{end}"},
		"proof_ratio":           {topic: "threads", kind: "strength", keys: "thread class", want: "proof_ratio"},
		"stress_area_tabulated": {topic: "threads", kind: "sizes", keys: "thread", want: "printed_area"},
		"root_sixth":            {topic: "threads", kind: "sizes", keys: "thread", want: "root_sixth"},
		"deviation":             {topic: "threads", kind: "limits", keys: "thread class", want: "deviation", by: "0.001"},
		"series":                {topic: "threads", kind: "series", keys: "thread", want: "series", of: word},
		"frusta": {topic: "torque", kind: "cones", keys: "hole face half_angle=angle unit", want: "stiffness",
			also: func(get input, q obj) { q["layers"] = layers(get("layers")) }},
		"bolt_stress":      {topic: "torque", kind: "loaded bolt", keys: "bolt members preload outer area unit", want: "stress"},
		"final_stress":     {topic: "torque", kind: "loaded bolt", keys: "outer area unit", also: joint, want: "stress"},
		"studs":            {topic: "torque", kind: "loaded bolt", keys: "unit", also: studs, want: "force"},
		"rise_for_stretch": {topic: "torque", kind: "heating", keys: "stretch length per_kelvin=expansion unit", want: "rise"},
		"diameter_outcome": {topic: "judge", kind: "judge", want: "verdict", of: func(want string, _ input) any { return outcome[want] },
			also: func(get input, q obj) {
				_, unit, _ := strings.Cut(get("least"), " ")
				q["unit"], q["limits"], q["instruments"] = unit, ">= "+get("least"), []any{}
				q["terms"] = []any{obj{"times": "1", "with": nil, "read": []any{get("now")}}}
				q["non_negative"], q["at_worst"] = false, false
			}},
	}
}

func fitForms() map[string]form {
	return map[string]form{
		"largest centre distance":  {topic: "isofit", kind: "centres", keys: "fit centres", want: "largest"},
		"smallest centre distance": {topic: "isofit", kind: "centres", keys: "fit centres", want: "smallest"},
	}
}

func torqueForms() map[string]form {
	tables := map[string]string{"handbook": "Machinery's Handbook", "nsts": "NSTS 08307"}
	scatter := form{topic: "torque", kind: "accuracy", keys: "method", want: "{end}", also: func(get input, q obj) { q["table"] = tables[get("table")] }}
	only := scatter
	only.want = "lo hi" // one figure, which is both ends
	return map[string]form{
		"friction_class":    {topic: "torque", kind: "friction class", keys: "class", want: "{end}"},
		"method":            {topic: "torque", kind: "method", keys: "method", want: "{end}"},
		"accuracy":          scatter,
		"accuracy end=only": only,
		"nut_factor":        {topic: "torque", kind: "surface", keys: "surface", want: "factor"},
		"embedding":         {topic: "torque", kind: "embedding", keys: "place load roughness", want: "embedding"},
		"embedding_loss": {topic: "torque", kind: "embedding loss", keys: "load roughness stiffness unit", want: "loss",
			also: func(get input, q obj) { q["faces"], q["inner"] = wholeOf(get("faces")), wholeOf(get("inner")) }},
		"key_torque": {topic: "torque", kind: "key", keys: "width", want: "torque"},
		"strips": {topic: "torque", kind: "strip", keys: "thread of length bolt hole shear", want: "force",
			also: func(get input, q obj) {
				q["flats"] = nil
				if flats := get("flats"); flats != "" {
					q["flats"] = flats
				}
			}},
		"mean_nut_factor": {topic: "torque", kind: "mean nut factor", keys: "friction", want: "factor",
			also: func(get input, q obj) { q["threads"] = strings.Fields(get("threads")) }},
		"least_preload":     {topic: "torque", kind: "least preload", keys: "largest factor unit", want: "preload"},
		"extension_setting": {topic: "torque", kind: "setting", keys: "torque lever offset angle unit", want: "set"},
		"torque": {topic: "torque", kind: "tighten", keys: "thread preload thread_friction=friction bearing_friction=friction unit", want: "torque",
			also: func(get input, q obj) { // a hole of 3/4 in; the face has the mean diameter that is given
				mean := rat(strings.TrimSuffix(get("bearing"), " in"))
				q["hole"], q["face"] = "0.75 in", dec(minus(times(rat("2"), mean), rat("0.75")))+" in"
			}},
	}
}

func planForms() map[string]form {
	stages := func(get input, q obj) { q["stages"] = strings.Split(get("stages"), " > ") }
	// The rows count pulls, and the question the whole list; 0 is no stage.
	stage := func(get input, q obj) {
		stages(get, q)
		n := wholeOf(get("stage"))
		for i, text := range strings.Split(get("stages"), " > ") {
			if word, _, _ := strings.Cut(text, " "); word != "prepare" && word != "check" {
				if n--; n == 0 {
					q["stage"] = i + 1
				}
			}
		}
	}
	last := func(get input, q obj) {
		stages(get, q)
		q["stage"] = len(strings.Split(get("stages"), " > "))
	}
	return map[string]form{
		"plan_steps": {topic: "plan", kind: "actions", want: "actions", of: listed(", "),
			also: func(get input, q obj) { stages(get, q); q["bolts"] = wholeOf(get("bolts")) }},
		"plan_alternates": {topic: "plan", kind: "steps", want: "steps", of: inTurn,
			also: func(get input, q obj) {
				q["bolts"], q["stages"] = numbered(wholeOf(get("bolts"))), pulls(get("stages"))
			}},
		"plan_tie": {topic: "plan", kind: "tied", want: "steps", of: tied,
			also: func(get input, q obj) {
				q["inner"], q["side"], q["during"] = strings.Split(get("inner"), " > "), strings.Split(get("side"), " > "), wholeOf(get("during"))
			}},
		"plan_torque":        {topic: "plan", kind: "stage", keys: "unit", also: stage, want: "{value}"},
		"plan_angle":         {topic: "plan", kind: "stage", keys: "unit", also: stage, want: "{value}"},
		"plan_angle stage=0": {topic: "plan", kind: "turned", keys: "unit", also: stages, want: "angle"},
		"plan_limit":         {topic: "plan", kind: "stage", keys: "unit", also: last, want: "{value}"},
		"plan_order order=cross": {topic: "plan", kind: "star", want: "order", of: listed(" "),
			also: func(get input, q obj) { q["bolts"] = wholeOf(get("bolts")) }},
		"plan_order": {topic: "plan", kind: "order", keys: "order", want: "order", of: listed(" "),
			also: func(get input, q obj) { q["positions"] = places(wholeOf(get("bolts")), get("shape")) }},
	}
}

// inTurn are the steps of a plan that does every stage on all bolts before the next.
func inTurn(_ string, get input) any {
	var all []any
	for i := range pulls(get("stages")) {
		for _, bolt := range numbered(wholeOf(get("bolts"))) {
			all = append(all, []any{bolt, strconv.Itoa(i + 1)})
		}
	}
	return all
}

// pulls are the stages without what is done before and after them.
func pulls(stages string) (all []string) {
	for text := range strings.SplitSeq(stages, " > ") {
		if word, _, _ := strings.Cut(text, " "); word != "prepare" && word != "check" {
			all = append(all, text)
		}
	}
	return all
}

// tied reads "inner 5 N·m, inner 30 N·m, side 30 N·m": how often each group was named before is its stage.
func tied(want string, _ input) any {
	var all []any
	seen := map[string]int{}
	for text := range strings.SplitSeq(want, ", ") {
		group, _, _ := strings.Cut(text, " ")
		seen[group]++
		all = append(all, []any{group, strconv.Itoa(seen[group])})
	}
	return all
}

// places are bolts 100 mm apart in a row, or evenly on a circle of 100 mm from its top clockwise, to the micrometre.
func places(n int, shape string) (all []any) {
	for i := range n {
		x, y := fmt.Sprint(100*i), "0"
		if shape == "circle" {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			x, y = strconv.FormatFloat(50*sin, 'f', 3, 64), strconv.FormatFloat(-50*cos, 'f', 3, 64)
		}
		all = append(all, obj{"bolt": strconv.Itoa(i + 1), "x": x, "y": y})
	}
	return all
}

// layers reads "0.5 in/30000 ksi + 0.75 in/14500 ksi".
func layers(text string) (all []any) {
	for part := range strings.SplitSeq(text, " + ") {
		thickness, modulus, _ := strings.Cut(part, "/")
		all = append(all, obj{"thickness": thickness, "modulus": modulus})
	}
	return all
}

func word(want string, _ input) any { return want }

// listed reads a list of words.
func listed(by string) func(string, input) any {
	return func(want string, _ input) any {
		var all []any
		for text := range strings.SplitSeq(want, by) {
			all = append(all, text)
		}
		return all
	}
}

func wholeOf(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		panic(err)
	}
	return n
}
