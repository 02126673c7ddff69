package demo_test

import (
	"regexp"
	"strings"
	"testing"

	"example.com/closefit/units"
)

var (
	// typedReadings are the places of a job where somebody typed what an instrument showed.
	typedReadings = regexp.MustCompile(`^measure\..*\.(readings\.[^.]+|reading)$|^bolts\..*\.lengths\.[^.]+$`)

	// number is a number in a text.
	number = regexp.MustCompile(`\d+(\.\d+)?`)
)

// slipsOf are what a person may have typed in place of a number: its point a place to either
// side, two neighbouring digits exchanged.
func slipsOf(n string) (list []string) {
	whole, part, _ := strings.Cut(n, ".")
	if part != "" {
		list = append(list, strings.TrimSuffix(whole+part[:1]+"."+part[1:], "."))
	}
	list = append(list, "0"+whole[:len(whole)-1]+"."+whole[len(whole)-1:]+part)
	for i := range len(n) - 1 {
		k := i + 1
		if n[k] == '.' && k+1 < len(n) {
			k++
		}
		if n[i] == '.' || n[k] == '.' || n[i] == n[k] {
			continue
		}
		b := []byte(n)
		b[i], b[k] = b[k], b[i]
		list = append(list, string(b))
	}
	return list
}

// travel is what a text that was read says of a length: what a dial moved by, or the number
// that begins at the place.
func travel(text string, at int) units.Length {
	_, unit, _ := cutLast(text, " ")
	if from, to, ok := strings.Cut(strings.TrimSuffix(text, " "+unit), " to "); ok {
		return length(to + " " + unit).Sub(length(from + " " + unit)).Abs()
	}
	return length(number.FindString(text[at:]) + " " + unit)
}

// TestSlipsOfThePen puts every slip into every number of every reading of the job of which
// all is proven, one at a time: a point in the wrong place, exchanged digits, another unit.
// None stays proven that moves what was read by more than the limits are wide, or, where it
// has but one limit, by more than its likes are apart. Nobody could notice one that moves
// it by less: there are three, of a dial's first figure, and what they make of the travel
// is as likely as the travel itself.
func TestSlipsOfThePen(t *testing.T) {
	t.Parallel()
	root := treeOf(t, read(t, proven+".toml"))
	width := func(line string) units.Length {
		table, _ := root["measure"].(map[string]any)[line].(map[string]any)
		text, _ := table["limits"].(string)
		if iv, err := units.ParseLengthInterval(text); err == nil && iv.Bounded() {
			return iv.Width()
		}
		return units.Length{} // a term of a fit, or a single limit: whatever is silent is too much
	}
	var n tally
	for _, p := range root.places() {
		text, ok := p.value.(string)
		if !ok || !typedReadings.MatchString(p.path) || !number.MatchString(text) {
			continue
		}
		try := func(typed string, moved units.Length) {
			p.put(p.key, typed)
			got, _, _ := outcomeOf(t, root.String())
			p.restore()
			n[got]++
			line := strings.Split(p.path, ".")[1]
			if got == silent && width(line).Less(moved) {
				t.Errorf("%s: %q for %q moves it by %s, and all is proven", p.path, typed, text, moved)
			}
		}
		for _, at := range number.FindAllStringIndex(text, -1) {
			for _, s := range slipsOf(text[at[0]:at[1]]) {
				typed := text[:at[0]] + s + text[at[1]:]
				try(typed, travel(typed, at[0]).Sub(travel(text, at[0])).Abs())
			}
		}
		if body, unit, _ := cutLast(text, " "); unit == "mm" {
			try(body+" in", units.Metre.OfInt(1)) // of anything here, more than its limits are wide
		}
	}
	t.Logf("slips of the pen: %s", n)
	if n[refused]+n[unproven] < 500 || n[silent] > 3 {
		t.Errorf("%s: want at least 500 that are noticed, and at most 3 that nobody could", n)
	}
}
