package planfile_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/fasteners"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

const caps = `title = "pump engine, caps"

[[tightening]]
group = "cap bolts"
caps = [["1L", "1R"], ["2L", "2R"]]
single_use = true
stages = [{ torque = "20 N·m" }, { turn = "60°" }]

[tightening.bolt]
thread = "M8x1.25"
class = "10.9"
friction = "0.10..0.14"
head_friction = "B"
face = "13.2 mm"
hole = "9 mm"
clamped = "38 mm"
shank = "20 mm"
outside = "24 mm"
modulus = "110 GPa"
seat = "tapped hole"
seating = "8 kN"
neighbours = "0.2..0.5"
engagement = "16..17 mm"
hole_strength = "250..320 MPa"
key = "6 mm"
roughness = "6..16 µm"
load = "shear"
joints = 1
`

func readBolt(t *testing.T, text string) examination.Installed {
	t.Helper()
	file, err := planfile.Read("caps.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	b, ok := file.Bolts["cap bolts"]
	if !ok || len(file.Bolts) != 1 {
		t.Fatalf("%v", file.Bolts)
	}
	return b
}

func TestBolt(t *testing.T) {
	b := readBolt(t, caps)
	for _, tt := range []struct{ name, got, want string }{
		{"thread", b.Bolt.Screw.Thread.String(), "M8"},
		{"class", b.Strength.Class, "10.9"},
		{"friction in the thread", b.Bolt.Friction.Thread.String(), "0.1..0.14"},
		{"friction under the head", b.Bolt.Friction.Bearing.String(), "0.08..0.16"},
		{"face", b.Bolt.Screw.Face.String(), "13.2 mm"},
		{"hole", b.Bolt.Screw.Hole.String(), "9 mm"},
		{"yield", b.Bolt.Yield.Written(units.Megapascal), "940..1248 MPa"}, // Rp0.2 and 1.2 · 1040
		{"seating", b.Seating.Format(units.Kilonewton, 0, units.HalfEven), "8 kN"},
		{"neighbours", b.Share.String(), "0.2..0.5"},
		{"engagement", b.Engagement.Length.String(), "16..17 mm"},
		{"strength of the bolt", b.Engagement.Bolt.Written(units.Megapascal), "1040..1248 MPa"},
		{"strength of the hole", b.Engagement.Hole.Written(units.Megapascal), "250..320 MPa"},
		{"shear strength", b.Engagement.HoleShear.String(), "0.577..0.65"},
		{"flats", b.Engagement.Flats.String(), "0 mm"},
		{"key", b.Key.String(), "6 mm"},
		{"load", string(b.Embedding.Load), "shear"},
		{"roughness of the joint", b.Embedding.Inner[0].Written(units.Micrometre), "6..16 µm"},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, tt.got, tt.want)
		}
	}
	if len(b.Embedding.Faces) != 1 || len(b.Embedding.Inner) != 1 {
		t.Errorf("%d faces and %d joints, want the head's and one", len(b.Embedding.Faces), len(b.Embedding.Inner))
	}
	// By hand, VDI 2230: with A = 50.265, A3 = 32.841 mm², E = 205 and 110 GPa, the bolt gives 3.2/(205 A) +
	// 20/(205 A) + 18/(205 A3) + 4/(205 A3) + 2.64/(110 A) per kN/mm².
	wantBolt := 1 / (3.2/(205*50.2655) + 20/(205*50.2655) + 18/(205*32.841) + 4/(205*32.841) + 2.64/(110*50.2655))
	if got := b.Joint.Bolt.Float64(units.KilonewtonPerMillimetre); math.Abs(got-wantBolt) > 0.01*wantBolt {
		t.Errorf("bolt %.1f kN/mm, want %.1f", got, wantBolt)
	}
	k, err := b.Joint.Tightening()
	if err != nil || !b.Bolt.Stiffness.Contains(k) || math.Abs(b.Bolt.Stiffness.Width().Float64(units.KilonewtonPerMillimetre)/k.Float64(units.KilonewtonPerMillimetre)-0.2) > 1e-9 {
		t.Errorf("%v for %v, want 10 %% to both sides", b.Bolt.Stiffness, k)
	}
}

// What a file may leave out, and what then stands.
func TestBoltLeastSaid(t *testing.T) {
	b := readBolt(t, strings.Split(caps, "[tightening.bolt]")[0]+`bolt = { thread = "M10", class = "8.8", friction = "0.12", stiffness = "150..180 kN/mm" }`+"\n")
	hex, err := preload.HexScrew(fasteners.MustParseThread("M10"))
	if err != nil {
		t.Fatal(err)
	}
	if !b.Bolt.Screw.Face.Equal(hex.Face) || !b.Bolt.Screw.Hole.Equal(hex.Hole) {
		t.Errorf("face %v and hole %v, want those of a plain hexagon head", b.Bolt.Screw.Face, b.Bolt.Screw.Hole)
	}
	if b.Joint != nil || b.Engagement != nil || b.Embedding != nil || !b.Share.IsEmpty() || !b.Seating.IsZero() || !b.Key.IsZero() {
		t.Errorf("%+v, and none of it was said", b)
	}
	none, err := planfile.Read("caps.toml", []byte(strings.Split(caps, "[tightening.bolt]")[0]))
	if err != nil || len(none.Bolts) != 0 {
		t.Errorf("%v, %v, and nothing was said of the bolts", none, err)
	}
}

// What is said of the bolts changes nothing of the plan.
func TestBoltLeavesThePlan(t *testing.T) {
	with, err := planfile.Read("caps.toml", []byte(caps))
	if err != nil {
		t.Fatal(err)
	}
	without, err := planfile.Read("caps.toml", []byte(strings.Split(caps, "[tightening.bolt]")[0]))
	if err != nil {
		t.Fatal(err)
	}
	if with.Plan.Digest() != without.Plan.Digest() {
		t.Errorf("digest %s with the bolts and %s without", with.Plan.Digest(), without.Plan.Digest())
	}
}

func TestBoltErrors(t *testing.T) {
	for _, tt := range []struct {
		name     string
		old, new string
		line     int
		want     string // in the error
	}{
		{"an unknown key", `class = `, `clas = `, 11, "class"},
		{"no thread", "thread = \"M8x1.25\"\n", "", 9, "write thread ="},
		{"no class", "class = \"10.9\"\n", "", 9, "class: missing"},
		{"no friction", "friction = \"0.10..0.14\"\nhead_", "head_", 9, "write friction ="},
		{"a thread that is none", `"M8x1.25"`, `"8 mm"`, 10, "no thread; write it as in"},
		{"a class that is none", `"10.9"`, `"10,9"`, 11, "10"},
		{"friction in percent", `"0.10..0.14"`, `"10..14"`, 12, `write "0.1..0.14"`},
		{"friction under the head of class E", `"B"`, `"E"`, 13, `write "A"`},
		{"a face without a hole", "hole = \"9 mm\"\n", "", 14, "face and hole"},
		{"a hole wider than the face", `hole = "9 mm"`, `hole = "13.3 mm"`, 14, "larger than the hole"},
		{"a hole without a unit", `hole = "9 mm"`, `hole = "9"`, 15, "unit"},
		{"no stiffness", "clamped = \"38 mm\"\n", "", 9, "write stiffness"},
		{"stiffness twice", `clamped = "38 mm"`, "clamped = \"38 mm\"\nstiffness = \"150..180 kN/mm\"", 16, "keep one of them"},
		{"a shank longer than what is clamped", `shank = "20 mm"`, `shank = "40 mm"`, 16, "free thread"},
		{"a waist of no length", `shank = "20 mm"`, `waist = "6.5 mm"`, 17, "write shank"},
		{"no width", "outside = \"24 mm\"\n", "", 9, "write outside ="},
		{"parts narrower than the hole", `"24 mm"`, `"8 mm"`, 18, "outside diameter"},
		{"no modulus", "modulus = \"110 GPa\"\n", "", 9, "write modulus ="},
		{"no seat", "seat = \"tapped hole\"\n", "", 9, `seat = "nut"`},
		{"another seat", `"tapped hole"`, `"blind hole"`, 20, `"blind hole"`},
		{"a seating force in kilograms", `"8 kN"`, `"8 kg"`, 21, "kg"},
		{"a seating force of nothing", `"8 kN"`, `"0 kN"`, 21, "seats nothing"},
		{"a share of more than all", `"0.2..0.5"`, `"0.2..1.5"`, 22, "from 0 to 1"},
		{"no engagement", "engagement = \"16..17 mm\"\n", "", 9, "write engagement"},
		{"an engagement of no whole thread", `"16..17 mm"`, `"0.5..1 mm"`, 23, "0.8 pitches"},
		{"no strength of the hole", "hole_strength = \"250..320 MPa\"\n", "", 9, "write hole_strength ="},
		{"a nut that is too wide", `key = "6 mm"`, "key = \"6 mm\"\nnut = \"19 mm\"", 23, "1.9 diameters"},
		{"a nut of no unit", `key = "6 mm"`, "key = \"6 mm\"\nnut = \"13\"", 26, "unit"},
		{"a key that there is not", `key = "6 mm"`, `key = "6.5 mm"`, 25, "6.5 mm"},
		{"a roughness in millimetres", `"6..16 µm"`, `"6..16 mm"`, 26, "below 160 µm"},
		{"no roughness", "roughness = \"6..16 µm\"\n", "", 9, "write the roughness"},
		{"no load", "load = \"shear\"\n", "", 9, `"tension"`},
		{"no number of joints", "joints = 1\n", "", 9, "joints = 1"},
		{"fewer joints than none", `joints = 1`, `joints = -1`, 28, "joints"},
		{"a number of joints in words", `joints = 1`, `joints = "one"`, 28, "joints"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(caps, tt.old) {
				t.Fatalf("%q is not in the file", tt.old)
			}
			text := []byte(strings.Replace(caps, tt.old, tt.new, 1))
			_, err := planfile.Read("caps.toml", text)
			var e *tomlfile.Error
			if !errors.As(err, &e) || e.Line != tt.line || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%v, want line %d with %q", err, tt.line, tt.want)
			}
		})
	}
}
