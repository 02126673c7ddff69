package planfile_test

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/torque"
	"example.com/closefit/units"
	"pgregory.net/rapid"
)

// advised finds what an error says to write in place of a text; what it only gives as an
// example ("as in …") it does not say to write.
var advised = regexp.MustCompile(`(?:write|or) ("(?:[^"\\]|\\.)*")`)

// A number is a decimal as a person types it, and what it means.
type number struct {
	text string
	is   *big.Rat
}

// numbers draws decimals above zero with up to three places.
func numbers(t *rapid.T, label string, most int64) number {
	coefficient := rapid.Int64Range(1, most).Draw(t, label)
	places := rapid.IntRange(0, 3).Draw(t, label+" places")
	scale := big.NewInt(1)
	for range places {
		scale.Mul(scale, big.NewInt(10))
	}
	is := new(big.Rat).SetFrac(big.NewInt(coefficient), scale)
	return number{is.FloatString(places), is}
}

// follow reads a text; where it is refused, it writes what the error says to write, each
// of its choices, and so on. It returns everything that was read in the end.
func follow(t *rapid.T, text string, read func(text string) (any, error)) (all []any) {
	tried := map[string]bool{}
	var try func(text string, depth int)
	try = func(text string, depth int) {
		if tried[text] {
			return
		}
		tried[text] = true
		v, err := read(text)
		if err == nil {
			all = append(all, v)
			return
		}
		if depth == 6 {
			t.Fatalf("%q: advice without end: %v", text, err)
		}
		for _, found := range advised.FindAllStringSubmatch(err.Error(), -1) {
			var next string
			if _, err := fmt.Sscanf(found[1], "%q", &next); err != nil {
				t.Fatal(err)
			}
			try(next, depth+1)
		}
	}
	try(text, 0)
	return all
}

// stageOf reads a plan with one stage of the text, between a torque and another, and returns
// the stage.
func stageOf(key, text string) (torque.Stage, error) {
	before := `{ torque = "0.0001 N·m" }, `
	if key == "torque" {
		before = ""
	}
	plan, err := planfile.Read("plan.toml", []byte(fmt.Sprintf(
		"title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nsingle_use = false\nstages = [%s{ %s = %q }, { torque = \"999 N·m\" }]\n", before, key, text)))
	if err != nil {
		return torque.Stage{}, err
	}
	stages := plan.Plan.Groups()[0].Stages
	return stages[len(stages)-2], nil
}

// notations are ways in which people write an interval; what they mean is lo to hi.
var notations = []struct {
	name  string
	write func(lo, hi number, unit string) string
}{
	{"dots", func(lo, hi number, unit string) string { return lo.text + ".." + hi.text + " " + unit }},
	{"three dots", func(lo, hi number, unit string) string { return lo.text + "..." + hi.text + " " + unit }},
	{"dash", func(lo, hi number, unit string) string { return lo.text + "-" + hi.text + " " + unit }},
	{"spaced dash", func(lo, hi number, unit string) string { return lo.text + " - " + hi.text + " " + unit }},
	{"en dash", func(lo, hi number, unit string) string { return lo.text + "–" + hi.text + " " + unit }},
	{"to", func(lo, hi number, unit string) string { return lo.text + " to " + hi.text + " " + unit }},
	{"both units", func(lo, hi number, unit string) string { return lo.text + " " + unit + ".." + hi.text + " " + unit }},
	{"stroke", func(lo, hi number, unit string) string { return lo.text + "/" + hi.text + " " + unit }},
	{"spaced stroke", func(lo, hi number, unit string) string { return lo.text + " / " + hi.text + " " + unit }},
	{"no unit", func(lo, hi number, unit string) string { return lo.text + ".." + hi.text }},
	{"commas", func(lo, hi number, unit string) string {
		return strings.ReplaceAll(lo.text+".."+hi.text, "..", "\x00") + " " + unit
	}},
}

// TestAdviceOfTorquesAndTurns: a text is read as what was meant, or the error's advice
// leads there, or it leads nowhere; and never is a number read as one a hundred times away.
func TestAdviceOfTorquesAndTurns(t *testing.T) {
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.SampledFrom([]string{"torque", "turn"}).Draw(t, "key")
		unit, most := rapid.SampledFrom([]string{"N·m", "Nm", "lbf·ft", "lbf·in", "kgf·m"}).Draw(t, "unit"), int64(700)
		if key == "turn" {
			unit, most = rapid.SampledFrom([]string{"°", "deg"}).Draw(t, "unit"), 360
		}
		lo, hi := numbers(t, "lo", most), numbers(t, "hi", most)
		if lo.is.Cmp(hi.is) > 0 {
			lo, hi = hi, lo
		}
		if rapid.Bool().Draw(t, "one number") {
			hi = lo
		}
		notation := rapid.SampledFrom(notations).Draw(t, "notation")
		text := notation.write(lo, hi, unit)
		if lo.text == hi.text {
			text = lo.text + " " + unit
			if notation.name == "no unit" {
				text = lo.text
			}
		}
		if notation.name == "commas" {
			text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ","), "\x00", "..")
		}
		factor := big.NewRat(1, 1)
		if notation.name != "no unit" {
			factor = scaleOf(t, key, unit)
		} else if key == "torque" {
			unit = "N·m" // what the advice puts there
		}
		want := [2]*big.Rat{new(big.Rat).Mul(lo.is, factor), new(big.Rat).Mul(hi.is, factor)}
		results := follow(t, text, func(text string) (any, error) {
			stage, err := stageOf(key, text)
			if errors.Is(err, torque.ErrBeyondTurn) || isKind(err, errPlan) && strings.Contains(err.Error(), "look at") {
				return nil, errors.New("beyond the usual, so the unit is asked about")
			}
			if err != nil {
				return nil, err
			}
			return bounds(stage.Pull), nil
		})
		if len(results) == 0 {
			return
		}
		read++
		meant := false
		for _, r := range results {
			got := r.([2]*big.Rat)
			meant = meant || got[0].Cmp(want[0]) == 0 && got[1].Cmp(want[1]) == 0
			if len(results) == 1 && !meant {
				t.Fatalf("%q is read as %v..%v, and means %v..%v", text, got[0], got[1], want[0], want[1])
			}
		}
		if !meant {
			t.Fatalf("none of the choices for %q is %v..%v: %v", text, want[0], want[1], results)
		}
	})
	if read < 50 {
		t.Errorf("only %d texts were read in the end", read)
	}
}

// scaleOf returns a unit in newton metres or degrees, from its definition.
func scaleOf(t *rapid.T, key, unit string) *big.Rat {
	rat := func(s string) *big.Rat {
		r, ok := new(big.Rat).SetString(s)
		if !ok {
			t.Fatal(s)
		}
		return r
	}
	// The foot is 0.3048 m, the pound 0.45359237 kg, g 9.80665 m/s² (NIST SP 811, B.8).
	pound := new(big.Rat).Mul(rat("0.45359237"), rat("9.80665"))
	switch unit {
	case "lbf·ft":
		return pound.Mul(pound, rat("0.3048"))
	case "lbf·in":
		return pound.Mul(pound, rat("0.0254"))
	case "kgf·m":
		return rat("9.80665")
	}
	return big.NewRat(1, 1)
}

// bounds returns what a pull allows, in newton metres or degrees.
func bounds(p torque.Action) [2]*big.Rat {
	if t, is := torque.As[torque.Tighten](p); is {
		lo, hi := t.To, t.To
		if t.Within.Bounded() && !t.Within.Equal(units.Exactly(units.Torque{})) {
			lo, hi = t.Within.Lo(), t.Within.Hi()
		}
		return [2]*big.Rat{lo.Rat(units.NewtonMetre), hi.Rat(units.NewtonMetre)}
	}
	t, _ := torque.As[torque.Turn](p)
	lo, hi := t.By, t.By
	if t.Within.Bounded() && !t.Within.Equal(units.Exactly(units.Angle{})) {
		lo, hi = t.Within.Lo(), t.Within.Hi()
	}
	return [2]*big.Rat{lo.Rat(units.Degree), hi.Rat(units.Degree)}
}

// TestAdviceOfWaits: a time that people write out is not read, and the advice is that time.
func TestAdviceOfWaits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := numbers(t, "time", 600)
		unit := rapid.SampledFrom([]string{"s", "sec", "seconds", "m", "min", "minutes", "h", "hours", "Min.", ""}).Draw(t, "unit")
		text := n.text + rapid.SampledFrom([]string{"", " "}).Draw(t, "blank") + unit
		if rapid.Bool().Draw(t, "comma") {
			text = strings.ReplaceAll(text, ".", ",")
			text = strings.Replace(text, "Min,", "Min.", 1)
		}
		seconds := map[byte]int64{'s': 1, 'm': 60, 'h': 3600}
		wants := []*big.Rat{}
		for letter, factor := range seconds {
			if unit == "" || strings.ToLower(unit)[0] == letter {
				wants = append(wants, new(big.Rat).Mul(n.is, big.NewRat(factor*int64(time.Second), 1)))
			}
		}
		results := follow(t, text, func(text string) (any, error) {
			plan, err := planfile.Read("plan.toml", []byte(fmt.Sprintf(
				"title = \"x\"\n[[tightening]]\ngroup = \"g\"\nbolts = [\"a\"]\nstages = [{ torque = \"9 N·m\", wait = %q }]\n", text)))
			if err != nil {
				return nil, err
			}
			wait, _ := torque.As[torque.Wait](plan.Plan.Groups()[0].Stages[0].Then[0])
			return wait.For, nil
		})
		for _, r := range results {
			got := big.NewRat(int64(r.(time.Duration)), 1)
			found := false
			for _, want := range wants {
				found = found || got.Cmp(want) == 0
			}
			if !found {
				t.Fatalf("%q is read as %v", text, r)
			}
		}
		inBounds := func(want *big.Rat) bool {
			return want.Cmp(big.NewRat(int64(time.Second), 1)) >= 0 && want.Cmp(big.NewRat(int64(30*24*time.Hour), 1)) <= 0
		}
		reachable := 0
		for _, want := range wants {
			if inBounds(want) {
				reachable++
			}
		}
		if len(results) != reachable {
			t.Fatalf("%q leads to %v, and %d of %v can be waited", text, results, reachable, wants)
		}
	})
}

// TestSaidByName: what has to be said by name, and what an error in a file says to write.
func TestSaidByName(t *testing.T) {
	const file = `title = "x"
[[tightening]]
group = "g"
bolts = ["a", "b"]
single_use = true
stages = [
  { torque = "23 N·m" },
  { turn = "55°" },
]
`
	for _, tt := range []struct {
		name, old, new string
		kind           error // nil for a plan that is right
		line           int
		want           string
	}{
		{"as it stands", "", "", nil, 0, ""},
		{"reusable", "= true", "= false", nil, 0, ""},
		{"nothing said of use", "single_use = true\n", "", errPlan, 3, "write single_use = true, or single_use = false if"},
		{"use in words", "= true", `= "yes"`, nil, 5, "true or false"},
		{"backed off after the turn", `"55°" },`, `"55°" }, { back_off = "free" }, { torque = "23 N·m" },`, errPlan, 8, "scrap"},
		{"9000°", "55°", "9000°", torque.ErrBeyondTurn, 8, "look at its unit"},
		{"400°", "55°", "400°", torque.ErrBeyondTurn, 8, "write beyond_full_turn = true"},
		{"400° that is meant", `"55°"`, `"400°", beyond_full_turn = true`, nil, 0, ""},
		{"55° said to be beyond", `"55°"`, `"55°", beyond_full_turn = true`, errPlan, 8, "take beyond_full_turn out"},
		{"4500 N·m", "23 N·m", "4500 N·m", errPlan, 7, "write high_torque = true"},
		{"4500 N·m that is meant", `"23 N·m"`, `"4500 N·m", high_torque = true`, nil, 0, ""},
		{"23 N·m said to be high", `"23 N·m"`, `"23 N·m", high_torque = true`, errPlan, 7, "take high_torque out"},
		{"high_torque of a turn", `"55°"`, `"55°", high_torque = true`, planfile.ErrMissing, 8, "no torque"},
		{"beyond_full_turn of a torque", `"23 N·m"`, `"23 N·m", beyond_full_turn = true`, planfile.ErrMissing, 7, "no turn"},
		{"backed off by nothing", `{ turn = "55°" }`, `{ back_off = "0°" }, { torque = "23 N·m" }`, nil, 8, `"free"`},
		{"backed off by two turns", `{ turn = "55°" }`, `{ back_off = "2 turn" }, { torque = "23 N·m" }`, torque.ErrBeyondTurn, 8, `write back_off = "free"`},
		{"bolts by case", `"a", "b"`, `"1L", "1l"`, torque.ErrAlike, 4, `"1L"`},
		{"a bolt with a blank", `"a", "b"`, `"1L", "1R "`, errPlan, 4, `write "1R"`},
		{"a wait of milliseconds", `"23 N·m"`, `"23 N·m", wait = "5ms"`, nil, 7, "look at its unit"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := planfile.Read("plan.toml", []byte(strings.Replace(file, tt.old, tt.new, 1)))
			if tt.line == 0 {
				if err != nil {
					t.Error(err)
				}
				return
			}
			if err == nil || tt.kind != nil && !isKind(err, tt.kind) || !strings.Contains(err.Error(), fmt.Sprintf("plan.toml:%d: ", tt.line)) || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%v, want %v in line %d with %q", err, tt.kind, tt.line, tt.want)
			}
		})
	}
}
