package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// TestMessagesThatLedAstray: what a stranger wrote who filled in a job from paper, and what to
// write in its stead. What is offered is right as it stands.
func TestMessagesThatLedAstray(t *testing.T) {
	b := job.Beginning{Cylinders: "2", Mains: "3", Rings: "top ring", Passages: "gallery", Jets: "2"}
	src, err := b.File()
	if err != nil {
		t.Fatal(err)
	}
	const (
		instruments = "#[instruments]\n"
		clearance   = "[measure.\"main bearing clearance\"]\nlimits = \"?\"\n"
		play        = "[measure.\"rod side play\"]\nlimits = \"?\"\n"
		jet         = "[measure.\"oil jet opening pressure\"]\nlimits = \"?\"\n"
		tools       = "[instruments]\ndial = { kind = \"dial\", uncertainty = \"0.01 mm\" }\nblades = { kind = \"feeler blades\", blades = [\"0.20 mm\", \"0.25 mm\"] }\n"
	)
	for _, test := range []struct{ name, old, new, at, says string }{
		{"a list for limits", clearance, strings.Replace(clearance, `"?"`, `["0.030", "0.070"]`, 1), "limits", `write both in it and their unit, as in limits = "0.030..0.070 mm"`},
		{"numbers for limits", clearance, strings.Replace(clearance, `"?"`, `[0.030, 0.070]`, 1), "limits", `as in limits = "0.030..0.070 mm"`},
		{"limits with their unit", play, strings.Replace(play, `"?"`, `["0.006 in", "0.014 in"]`, 1), "limits", `limits = "0.006..0.014 in"`},
		{"a dash and no unit", clearance, strings.Replace(clearance, `"?"`, `"0.030-0.070"`, 1), "limits", `write "0.030..0.070 mm"`},
		{"a dash between pressures", jet, strings.Replace(jet, `"?"`, `"2.0-3.0"`, 1), "limits", `write "2.0..3.0 bar"`},
		{"two numbers", clearance, strings.Replace(clearance, `"?"`, `"0.030 0.070"`, 1), "limits", `write "0.030..0.070 mm"`},
		{"limits in words", clearance, strings.Replace(clearance, `"?"`, `"min 0.030 mm, max 0.070 mm"`, 1), "limits", `write "0.030..0.070 mm"`},
		{"one figure for limits", play, strings.Replace(play, `"?"`, `"0.15 mm"`, 1), "limits", `write "<= 0.15 mm" for the largest, ">= 0.15 mm" for the smallest`},
		{"one pressure for limits", jet, strings.Replace(jet, `"?"`, `"2.5 bar"`, 1), "limits", `write "<= 2.5 bar" for the largest`},
		{"blades in words", instruments, tools, "0.20 goes", `write "0.20..0.25 mm"`},
		{"a travel without its word", instruments, tools, "0.02 0.20", `write "0.02 to 0.20 mm"`},
		{"an instrument misspelt", instruments, tools, "bladse", `write "blades"`},
		{"reading and instrument exchanged", instruments, tools, `with = "0.02 to 0.20 mm"`, `"0.02 to 0.20 mm" is what was read, and no instrument`},
		{"an instrument that there is not", instruments, tools, "tape", `add [instruments."tape"]`},
	} {
		t.Run(test.name, func(t *testing.T) {
			file := strings.Replace(string(src), test.old, test.new, 1)
			read := func(line, with, reading string) {
				table := "[measure.\"" + line + "\"]\nlimits = \"?\"\n"
				head, rest, found := strings.Cut(file, table)
				if !found {
					t.Fatalf("no table %q", line)
				}
				rest = strings.Replace(rest, "#with = \"?\"", "with = \""+with+"\"", 1)
				if strings.Contains(line, "side play") {
					rest = strings.Replace(rest, `1 = "?"`, `1 = "`+reading+`"`, 1)
				} else {
					rest = strings.Replace(rest, `reading = "?"`, `reading = "`+reading+`"`, 1)
				}
				file = head + table + rest
			}
			switch test.name {
			case "blades in words":
				read("rod side play", "blades", "0.20 goes 0.25 not")
			case "an instrument misspelt":
				read("rod side play", "bladse", "0.20..0.25 mm")
			case "an instrument that there is not":
				read("rod side play", "tape", "0.20..0.25 mm")
			case "a travel without its word":
				read("crankshaft end play", "dial", "0.02 0.20 mm")
			case "reading and instrument exchanged":
				read("crankshaft end play", "0.02 to 0.20 mm", "dial")
			}
			refusing(t, file, test.says, test.at)
		})
	}
}

// TestUnitForAnotherIsNamed: of two journals one was written in millimetres and meant in
// inches; beside the other it is asked whether inches were meant.
func TestUnitForAnotherIsNamed(t *testing.T) {
	src := bench(`"main journal"`) + measuring("main journal", "with = \"fine\"\nreadings = { 1 = \"1.7500 mm\", 2 = \"1.7498 in\" }\nlimits = \"1.7490..1.7510 in\"")
	a := assess(t, src)
	for _, f := range a.Verdicts() {
		if f.Name() == "main journal 1 diameter" {
			if !strings.Contains(f.Slip, "1.7500 in") && !strings.Contains(f.Slip, "number in in") {
				t.Errorf("slip %q", f.Slip)
			}
			return
		}
	}
	t.Error("main journal 1 is not judged")
}
