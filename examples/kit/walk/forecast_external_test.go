package walk_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/walk"
	"example.com/closefit/fasteners"
	"example.com/closefit/torque"
	"example.com/closefit/units"
)

// Two groups of an invented engine: of one the bolts are known to a value each, so that what they do
// follows by hand, and of the other nothing is.
const knownCaps = `title = "pump engine"

[[tightening]]
group = "caps"
caps = [["1L", "1R"]]
single_use = true
stages = [{ torque = "20 N·m" }, { torque = "30 ±1 N·m", check = "Are the caps down?" }, { turn = "40 ±2 °" }]
bolt = { thread = "M9x1", class = "10.9", friction = "0.1", face = "15.3 mm", hole = "9.5 mm", stiffness = "165.9 kN/mm", neighbours = "0", yield = "940..1080 MPa" }

[[tightening]]
group = "pan"
bolts = ["p1"]
stages = [{ torque = "8..10 N·m" }]
`

func knownPlan(t testing.TB) (*torque.Plan, walk.Bolts) {
	t.Helper()
	file, err := planfile.Read("caps.toml", []byte(knownCaps))
	if err != nil {
		t.Fatal(err)
	}
	return file.Plan, file.Bolts
}

// stepOf returns the step of a bolt's stage.
func stepOf(t testing.TB, plan *torque.Plan, bolt string, stage int) torque.Step {
	t.Helper()
	for _, s := range plan.Steps() {
		if s.Bolt == bolt && s.Stage == stage {
			return s
		}
	}
	t.Fatalf("no stage %d of %s", stage, bolt)
	return torque.Step{}
}

// The numbers by hand: the lever is 1/2π + 0.577 · 8.350481 · 0.1 + 6.2 · 0.1 = 1.260977 mm. From 20 N·m to
// 30 N·m the preload rises by 10 N·m/1.260977 mm = 7930 N, which takes 7930 N · 360°/165900 N = 17.21°;
// with 29.5 N·m reached, 16.35°. A turn of 40° adds 165900 N · 40/360 = 18433 N, and 23.24 N·m to the 30 ±1
// of the torque before: 52.2 to 54.3 N·m, and with 41° measured 52.8 to 54.9.
func TestCompare(t *testing.T) {
	plan, bolts := knownPlan(t)
	for _, tt := range []struct {
		name   string
		bolt   string
		stage  int
		torque string
		turn   string
		want   []string // in the sentences, one each
	}{
		{"a torque that fits", "1L", 2, "30 N·m", "17 ±1 °", nil},
		{"what was reached moves what is expected", "1L", 2, "29.5 N·m", "16.2..16.5 °", nil},
		{"too little turn", "1L", 2, "30 N·m", "9..10 °", []string{"9.0..10.0 °, less than the 17.2..17.3 °"}},
		{"too much turn", "1R", 2, "30 N·m", "25 °", []string{"1R came to its torque after 25.0 °, more than the 17.2..17.3 °"}},
		{"too little torque for the plan", "1L", 2, "28..28.9 N·m", "14.5 °", []string{"less than the plan's 29.0..31.0 N·m"}},
		{"too much torque for the plan", "1L", 2, "31.5 N·m", "19.7..19.9 °", []string{"more than the plan's 29.0..31.0 N·m"}},
		{"both wrong", "1L", 2, "31.5 N·m", "5 °", []string{"more than the plan's", "less than the 19.7..19.8 °"}},
		{"no turn noted", "1L", 2, "30 N·m", "", []string{"Not compared with what the bolt should do: the turn of 1L"}},
		{"no torque noted", "1L", 2, "", "17.2 °", []string{"Not compared with the plan: the torque of 1L"}},
		{"nothing noted", "1L", 2, "", "", []string{"neither torque nor turn of 1L"}},
		{"the first torque", "1L", 1, "20 N·m", "100 °", []string{"no smaller torque goes right before"}},
		{"the first torque, short of a plan without tolerance", "1L", 1, "19 N·m", "", []string{"STOP. 19.0 N·m is less than 19.2..20.9 N·m, and the plan states no tolerance (taken: ±4 %, as ISO 6789-1", "Not compared with what"}},
		{"the first torque, as near to it as a tool comes", "1L", 1, "19.3 N·m", "", []string{"no smaller torque goes right before"}},
		{"the first torque, too far", "1L", 1, "20.9 N·m", "", []string{"STOP. 20.9 N·m is more than 19.2..20.9 N·m", "Not compared with what"}},
		{"a turn that fits", "1L", 3, "53 N·m", "40 °", nil},
		{"a turn that was longer", "1L", 3, "54.8 N·m", "41 °", nil},
		{"a turn with too little torque", "1L", 3, "45..51 N·m", "40 °", []string{"1L took 45.0..51.0 N·m at the end of its turn, less than the 52.2..54.3 N·m"}},
		{"a turn with too much torque", "1L", 3, "60 N·m", "40 °", []string{"more than the 52.2..54.3 N·m"}},
		{"a turn that was too short", "1L", 3, "51.5 N·m", "37..37.9 °", []string{"37.0..37.9 ° is less than the plan's 38.0..42.0 °"}},
		{"a turn that was too long", "1L", 3, "55.5 N·m", "42.5 °", []string{"42.5 ° is more than the plan's"}},
		{"a turn whose torque was not noted", "1L", 3, "", "40 °", []string{"the torque at the end of the turn of 1L"}},
		{"a bolt of which nothing is known", "p1", 1, "9 N·m", "", []string{"nothing is known of the bolts of pan"}},
		{"a bolt of which nothing is known, too tight", "p1", 1, "12 N·m", "", []string{"more than the plan's 8.0..10.0 N·m", "nothing is known"}},
		{"a torque without an end", "1L", 2, ">= 29 N·m", "", []string{"no two bounds"}},
		{"a turn below zero", "1L", 3, "53 N·m", "-40..40 °", []string{"no two bounds"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var torqued units.TorqueInterval
			var turned units.AngleInterval
			if tt.torque != "" {
				torqued = units.MustParse[units.TorqueInterval](tt.torque)
			}
			if tt.turn != "" {
				turned = units.MustParse[units.AngleInterval](tt.turn)
			}
			said := bolts.Compare(plan, stepOf(t, plan, tt.bolt, tt.stage), torqued, turned)
			fits := len(said) == len(tt.want)
			for i := range min(len(said), len(tt.want)) {
				fits = fits && strings.Contains(said[i], tt.want[i])
			}
			if !fits {
				t.Errorf("%q, want %q", said, tt.want)
			}
		})
	}
}

// Where bolts share a cap, the partner's pull takes from the bolt, so that its next torque takes more
// turn than it would alone. By hand with kb = 210, km = 790 kN/mm and all of the settling felt: Φ = 0.21,
// so that of 15861 N at 20 N·m 3331 N are lost, and 30 N·m take (23791 - 12530) N · 360°/165900 N = 24.4°.
func TestCompareAmongNeighbours(t *testing.T) {
	plan, bolts := knownPlan(t)
	known := bolts["caps"]
	joint := fasteners.Joint{Bolt: units.MustParse[units.Stiffness]("210 kN/mm"), Members: units.MustParse[units.Stiffness]("790 kN/mm")}
	known.Joint, known.Share = &joint, units.MustParse[units.RatioInterval]("1")
	felt := walk.Bolts{"caps": known}
	// The first that was pulled at stage 1 has lost; the second was pulled after it and has not.
	first := stepOf(t, plan, "1L", 2)
	torqued, turned := units.MustParse[units.TorqueInterval]("30 N·m"), units.MustParse[units.AngleInterval]("24.3 °")
	if said := felt.Compare(plan, first, torqued, turned); len(said) != 0 {
		t.Errorf("%q, and its partner took of its preload", said)
	}
	if said := bolts.Compare(plan, first, torqued, turned); len(said) != 1 || !strings.Contains(said[0], "more than the 17.2") {
		t.Errorf("%q, and the bolts feel nothing of each other", said)
	}
	if said := felt.Compare(plan, stepOf(t, plan, "1L", 2), torqued, units.MustParse[units.AngleInterval]("17.2 °")); len(said) != 1 || !strings.Contains(said[0], "less than the") {
		t.Errorf("%q, and the bolt had to regain what its partner took", said)
	}
	known.Joint, known.Share = nil, units.RatioInterval{}
	if said := (walk.Bolts{"caps": known}).Compare(plan, first, torqued, turned); len(said) != 1 || !strings.Contains(said[0], "Not compared with what the bolt should do: neighbours of 1L") {
		t.Errorf("%q, and nothing is known of how the neighbours feel each other", said)
	}
}

// A misfit names what it may be, and stops.
func TestCompareSaysWhatItMayBe(t *testing.T) {
	plan, bolts := knownPlan(t)
	exactly := func(s string) units.TorqueInterval { return units.MustParse[units.TorqueInterval](s) }
	angle := func(s string) units.AngleInterval { return units.MustParse[units.AngleInterval](s) }
	for _, tt := range []struct {
		said []string
		want []string
	}{
		{bolts.Compare(plan, stepOf(t, plan, "1L", 3), exactly("30 N·m"), angle("40°")), []string{"yields early", "strips", "slicker", "lie flat"}},
		{bolts.Compare(plan, stepOf(t, plan, "1L", 3), exactly("90 N·m"), angle("40°")), []string{"binds", "bottom of its hole", "drier"}},
		{bolts.Compare(plan, stepOf(t, plan, "1L", 2), exactly("30 N·m"), angle("2°")), []string{"binds", "bottom of its hole", "not seated", "drier"}},
		{bolts.Compare(plan, stepOf(t, plan, "1L", 2), exactly("30 N·m"), angle("90°")), []string{"not seated", "yields", "strips", "slicker"}},
	} {
		if len(tt.said) != 1 || !strings.HasPrefix(tt.said[0], "STOP.") {
			t.Errorf("%q, want one sentence that stops", tt.said)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(tt.said[0], want) {
				t.Errorf("%q, want %q in it", tt.said[0], want)
			}
		}
	}
}

// Pauses and back-offs are not compared, and nothing is said of them.
func TestComparePauses(t *testing.T) {
	plan, bolts := knownPlan(t)
	for _, s := range plan.Steps() {
		if s.IsPause() {
			if said := bolts.Compare(plan, s, units.TorqueInterval{}, units.AngleInterval{}); said != nil {
				t.Errorf("%v: %q", s, said)
			}
		}
	}
}

// What the plan means says of each group what was compared, and of the one that is not known that
// nothing was.
func TestMeaning(t *testing.T) {
	plan, bolts := knownPlan(t)
	all := bolts.Meaning(plan)
	if len(all) != 2 {
		t.Fatalf("%d groups, want 2", len(all))
	}
	known, unknown := all[0].Text(), all[1].Text()
	// By hand, 9 to 11 N·m more take 15.5 to 18.9°; 29 to 31 N·m give 22998 to 24584 N, and 38 to 42° add
	// 17512 to 19355 N. The proof load is 51.0 mm² · 830 MPa = 42.3 kN.
	for _, want := range []string{"caps: what", "stage 3: turn 40° further", "40.5..44.0 kN", "it takes a turn of 15..19 °", "not compared: stripping", "maker's manual"} {
		if !strings.Contains(known, want) {
			t.Errorf("no %q in\n%s", want, known)
		}
	}
	if !strings.Contains(unknown, "pan") || !strings.Contains(unknown, "not compared: nothing is known of these bolts") {
		t.Errorf("of bolts that are not known it says\n%s", unknown)
	}
	questions, notCompared := bolts.Questions(plan)
	if len(questions) != 1 || !strings.Contains(questions[0], "proof load of 42.3 kN") || len(notCompared) < 4 || !strings.HasPrefix(notCompared[len(notCompared)-1], "pan: ") {
		t.Errorf("questions %q, not compared %q", questions, notCompared)
	}
	none := walk.Bolts(nil).Meaning(plan)
	if len(none) != 2 || !strings.Contains(none[0].Text(), "not compared") {
		t.Errorf("%v", none)
	}
}

// A question of the plan is asked by its group.
func TestQuestions(t *testing.T) {
	text := strings.Replace(knownCaps, `stiffness = "165.9 kN/mm"`, `seating = "30 kN", stiffness = "165.9 kN/mm"`, 1)
	file, err := planfile.Read("caps.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	questions, _ := walk.Bolts(file.Bolts).Questions(file.Plan)
	if len(questions) != 2 || !strings.HasPrefix(questions[0], "caps: the torque of stage 2 leaves") || !strings.Contains(questions[0], "30.0 kN that seats the cap") {
		t.Errorf("%q", questions)
	}
}

// The hand arithmetic of TestCompare, in the digits that it states.
func TestCompareArithmetic(t *testing.T) {
	const lever = 1/(2*math.Pi) + 0.577*8.350481*0.1 + 6.2*0.1
	for _, tt := range []struct{ got, want float64 }{
		{lever, 1.260977}, {10_000 / lever / 165_900 * 360, 17.21}, {9_500 / lever / 165_900 * 360, 16.35}, {165_900 * 40 / 360 * lever / 1000, 23.24},
	} {
		if math.Abs(tt.got-tt.want) > 0.01 {
			t.Errorf("%g, want %g", tt.got, tt.want)
		}
	}
}

func ExampleBolts_Compare() {
	file, err := planfile.Read("caps.toml", []byte(knownCaps))
	if err != nil {
		fmt.Println(err)
		return
	}
	step, _ := file.Plan.Step(6) // 1L, turn 40° further
	for _, line := range walk.Bolts(file.Bolts).Compare(file.Plan, step, units.MustParse[units.TorqueInterval]("44 ±1 N·m"), units.MustParse[units.AngleInterval]("40 ±1 °")) {
		fmt.Println(line)
	}
	// Output:
	// STOP. 1L took 43.0..45.0 N·m at the end of its turn, less than the 51.6..54.9 N·m that it should. It may be that the bolt yields early (a wrong class, a bolt that was used before), that the thread strips, that the threads or the head are slicker than was given, that the parts did not lie flat when the turn began; or that a figure was misread. Do not go on with 1L before it is known.
}

// TestCompareWithoutTolerance: where the plan states none, a torque is held against what ISO 6789-1 allows
// a torque tool, a part of the torque that is given: by hand 9/1.06 = 8.491 to 9/0.94 = 9.574 N·m,
// 10/1.06 = 9.434 to 10.638, 11/1.04 = 10.577 to 11/0.96 = 11.458. A turn is held against 2° to each side.
func TestCompareWithoutTolerance(t *testing.T) {
	file, err := planfile.Read("pan.toml", []byte(`title = "pan"
[[tightening]]
group = "pan"
bolts = ["p1", "p2"]
single_use = false
stages = [{ torque = "9 N·m" }, { torque = "10 N·m" }, { torque = "11 N·m" }, { turn = "40°" }]
`))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		stage        int
		torque, turn string
		want         string // nothing if it fits
	}{
		{1, "9.1 N·m", "", ""},
		{1, "8.5 N·m", "", ""},
		{1, "9.57 N·m", "", ""},
		{1, "8.48 N·m", "", "less than 8.4..9.6 N·m, and the plan states no tolerance (taken: ±6 %, as ISO 6789-1"},
		{1, "9.58 N·m", "", "more than 8.4..9.6 N·m, and the plan states no tolerance (taken: ±6 %, as ISO 6789-1"},
		{2, "10.63 N·m", "", ""},
		{2, "10.65 N·m", "", "more than 9.4..10.7 N·m"},
		{3, "11.45 N·m", "", ""},
		{3, "11.47 N·m", "", "more than 10.5..11.5 N·m, and the plan states no tolerance (taken: ±4 %, as ISO 6789-1"},
		{3, "10.56 N·m", "", "less than 10.5..11.5 N·m"},
		{4, "", "38°", ""},
		{4, "", "42°", ""},
		{4, "", "42.1°", "42.1 ° is more than 38.0..42.0 °, and the plan states no tolerance (taken: ±2°"},
		{4, "", "37.9°", "37.9 ° is less than 38.0..42.0 °"},
	} {
		var reached units.TorqueInterval
		var turned units.AngleInterval
		if tt.torque != "" {
			reached = units.MustParse[units.TorqueInterval](tt.torque)
		}
		if tt.turn != "" {
			turned = units.MustParse[units.AngleInterval](tt.turn)
		}
		said := strings.Join(walk.Bolts(file.Bolts).Compare(file.Plan, stepOf(t, file.Plan, "p2", tt.stage), reached, turned), "\n")
		if strings.Contains(said, "STOP.") != (tt.want != "") || !strings.Contains(said, tt.want) {
			t.Errorf("stage %d, %s%s: %q, want %q", tt.stage, tt.torque, tt.turn, said, tt.want)
		}
	}
}
