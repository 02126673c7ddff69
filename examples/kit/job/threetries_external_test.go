package job_test

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
)

// filled is a new file with everything written over that is asked for: what somebody means
// to write. No line of it is longer or shorter in number than the file's.
func filled(t *rapid.T, src string) []string {
	lines := strings.Split(src, "\n")
	line, group := "", "" // the table that a line stands in
	once := regexp.MustCompile(`once it was so: (.*)$`)
	for i, l := range lines {
		uncovered := strings.Replace(l, "#", "", 1)
		switch text := strings.TrimPrefix(l, "#"); {
		case l == "" || strings.HasPrefix(l, "# "):
			line, group = "", ""
		case strings.HasPrefix(text, "["):
			line, group = "", ""
			if name, ok := strings.CutPrefix(l, "[measure."); ok {
				line = strings.Trim(strings.TrimSuffix(name, "]"), `"`)
			}
			if strings.HasPrefix(l, "#[instruments]") || strings.HasPrefix(l, "#[[tightening]]") || strings.HasPrefix(l, "#[bolts.") {
				group = l
				lines[i] = uncovered
			}
		case line == "passage":
			lines[i] = strings.ReplaceAll(l, `"?"`, `"clean"`)
		case line == "oil jet opening pressure":
			lines[i] = strings.ReplaceAll(strings.Replace(l, `limits = "?"`, `limits = "2.0..3.0 bar"`, 1), `"?"`, `"2.4..2.6 bar"`)
		case line != "" && strings.HasPrefix(l, "limits"):
			lines[i] = `limits = "0.10..0.40 mm"`
			if strings.Contains(line, "bearing") {
				lines[i] = `limits = "0.030..0.080 mm"`
			}
		case line != "" && strings.HasPrefix(l, "#with") && !strings.Contains(line, "bearing"):
			lines[i] = `with = "blades"`
		case line != "" && strings.HasPrefix(l, "conditions"):
			lines[i] = "conditions = { " + once.FindStringSubmatch(l)[1] + " }"
		case line != "" && strings.HasPrefix(l, "reading"):
			value := `"0.20..0.25 mm"`
			if strings.Contains(line, "bearing") {
				value = `"0.050 mm"`
			}
			l, _, _ = strings.Cut(l, " #")
			lines[i] = strings.ReplaceAll(l, `"?"`, value)
		case strings.HasPrefix(group, "#[instruments]") && strings.HasPrefix(l, "#"):
			lines[i] = strings.NewReplacer(`uncertainty = "?"`, `uncertainty = "0.004 mm"`, "widths = []", `widths = ["0.030 mm", "0.050 mm", "0.080 mm"]`, "blades = []", `blades = ["0.20 mm", "0.25 mm"]`).Replace(uncovered)
			if strings.Contains(l, "pressure gauge") {
				lines[i] = strings.ReplaceAll(lines[i], "0.004 mm", "0.05 bar")
			}
		case strings.HasPrefix(group, "#[[tightening]]") && strings.HasPrefix(l, "#"):
			uncovered, _, _ = strings.Cut(uncovered, " #")
			lines[i] = strings.NewReplacer(`torque = "?"`, `torque = "30 N·m"`, `turn = "?"`, `turn = "60°"`).Replace(uncovered)
		case strings.HasPrefix(group, "#[bolts.") && strings.HasPrefix(l, "#new"):
			lines[i] = `new = "all"`
		}
	}
	return lines
}

// A mistake is what a person in haste makes of a line; nothing where the line is not one
// for it.
type mistake struct {
	name string
	make func(line string) string
}

var (
	quantity = regexp.MustCompile(`"[0-9.]+ mm"`)
	textOf   = regexp.MustCompile(`^(\w+) = "([^"]*)"$`)
)

// replaced replaces the first of a text, or returns nothing if there is none.
func replaced(line, old, new string) string {
	if !strings.Contains(line, old) {
		return ""
	}
	return strings.Replace(line, old, new, 1)
}

var mistakes = []mistake{
	{"no closing quotation mark", func(l string) string {
		if m := textOf.FindStringSubmatch(l); m != nil {
			return m[1] + ` = "` + m[2]
		}
		return ""
	}},
	{"no quotation marks", func(l string) string {
		if m := textOf.FindStringSubmatch(l); m != nil {
			return m[1] + " = " + m[2]
		}
		return ""
	}},
	{"quotation marks of print", func(l string) string {
		if m := textOf.FindStringSubmatch(l); m != nil {
			return m[1] + " = “" + m[2] + "”"
		}
		return ""
	}},
	{"a colon", func(l string) string {
		if m := textOf.FindStringSubmatch(l); m != nil {
			return m[1] + `: "` + m[2] + `"`
		}
		return ""
	}},
	{"a list", func(l string) string {
		if m := textOf.FindStringSubmatch(l); m != nil {
			return m[1] + ` = ["` + m[2] + `"]`
		}
		return ""
	}},
	{"a decimal comma", func(l string) string { return replaced(l, "0.2", "0,2") }},
	{"no unit", func(l string) string { return replaced(l, ` mm"`, `"`) }},
	{"a unit that is none", func(l string) string { return replaced(l, ` mm"`, ` mn"`) }},
	{"a dash", func(l string) string { return replaced(l, "..", "-") }},
	{"the wrong way round", func(l string) string { return replaced(l, "0.10..0.40", "0.40..0.10") }},
	{"a bare number", func(l string) string {
		if q := quantity.FindString(l); q != "" {
			return replaced(l, q, strings.TrimSuffix(q[1:], ` mm"`))
		}
		return ""
	}},
	{"a key misspelt", func(l string) string { return replaced(l, "limits =", "limit =") }},
	{"another key misspelt", func(l string) string { return replaced(l, "readings =", "readngs =") }},
	{"a heading without quotes", func(l string) string {
		if strings.HasPrefix(l, `[measure."`) {
			return strings.ReplaceAll(l, `"`, "")
		}
		return ""
	}},
	{"a heading misspelt", func(l string) string {
		if strings.HasPrefix(l, "[measure.") {
			return replaced(l, "bearing", "baering")
		}
		return ""
	}},
	{"an instrument misspelt", func(l string) string { return replaced(l, `with = "blades"`, `with = "blade"`) }},
	{"a condition misspelt", func(l string) string { return replaced(l, `"not turned"`, `"not turnd"`) }},
	{"conditions in one text", func(l string) string {
		if strings.HasPrefix(l, "conditions = { ring") {
			return `conditions = "ring square"`
		}
		return ""
	}},
	{"a condition of another name", func(l string) string { return replaced(l, "oil =", "oill =") }},
	{"a state in other words", func(l string) string { return replaced(l, `"clean"`, `"cleen"`) }},
	{"a number of a main in no quotes", func(l string) string {
		if strings.HasPrefix(l, `thrust = "`) {
			return strings.NewReplacer(`"`, "").Replace(strings.Split(l, " #")[0])
		}
		return ""
	}},
	{"a count in quotes", func(l string) string {
		if strings.HasPrefix(l, "mains = ") && !strings.Contains(l, "[") {
			return `mains = "` + strings.TrimPrefix(l, "mains = ") + `"`
		}
		return ""
	}},
	{"rings in one text", func(l string) string {
		if strings.HasPrefix(l, "rings = ") {
			return `rings = "` + strings.NewReplacer(`"`, "", "[", "", "]", "").Replace(strings.TrimPrefix(l, "rings = ")) + `"`
		}
		return ""
	}},
	{"a place that is not there", func(l string) string {
		if strings.HasPrefix(l, "readings = { 1 = ") {
			return replaced(l, "{ 1 =", "{ 99 =")
		}
		return ""
	}},
	{"two places with one name", func(l string) string {
		if strings.HasPrefix(l, "readings = { 1 = ") {
			return replaced(l, ", 2 =", ", 1 =")
		}
		return ""
	}},
	{"a comma forgotten", func(l string) string {
		if strings.HasPrefix(l, "readings = { 1 = ") {
			return replaced(l, ", 2 =", " 2 =")
		}
		return ""
	}},
	{"yes for true", func(l string) string { return replaced(l, "single_use = true", `single_use = "yes"`) }},
	{"a bolt that is not there", func(l string) string { return replaced(l, `new = "all"`, `new = ["9z"]`) }},
	{"all in a list", func(l string) string { return replaced(l, `new = "all"`, `new = "al"`) }},
	{"a torque as a length", func(l string) string { return replaced(l, "30 N·m", "30 Nm.") }},
}

// advice is what an error says to write.
var (
	wholeLine = regexp.MustCompile(`write ((?:[A-Za-z_]+|"[^"]+") = (?:"[^"]*[^".]"|\[.*\]|[0-9]+|true|false))`)
	newHead   = regexp.MustCompile(`write (\[+[^\]]+\]+)$`)
	newKey    = regexp.MustCompile(`unknown key "([^"]+)".*; write (\w+)$`)
	newName   = regexp.MustCompile(`\w+ "([^"]+)": unknown name; write ("[^"]+")$`)
	newText   = regexp.MustCompile(`: "([^"]+)", column \d+: .*write ("[^"]+ mm")$`)
)

// follow writes what an error says to write for the line that it names; what it does not
// say in letters, the person does as it was meant from the beginning.
func follow(e *tomlfile.Error, line, meant string) (next string, toTheLetter bool) {
	say := e.What
	next = meant
	switch {
	case newKey.MatchString(say):
		m := newKey.FindStringSubmatch(say)
		next = strings.Replace(line, m[1], m[2], 1)
	case newName.MatchString(say):
		m := newName.FindStringSubmatch(say)
		next = strings.Replace(line, `"`+m[1]+`"`, m[2], 1)
	case newText.MatchString(": " + say):
		m := newText.FindStringSubmatch(": " + say)
		next = strings.Replace(line, `"`+m[1]+`"`, m[2], 1)
	case newHead.MatchString(say):
		next = newHead.FindStringSubmatch(say)[1]
	case wholeLine.MatchString(say) && !strings.Contains(line, "{"):
		next = wholeLine.FindStringSubmatch(say)[1]
	}
	if next == line || next == meant && !strings.Contains(say, "write ") {
		return meant, false
	}
	return next, next != meant || newKey.MatchString(say) || newName.MatchString(say) || newText.MatchString(": "+say) || newHead.MatchString(say) || wholeLine.MatchString(say)
}

// TestThreeTries plays a person who fills a new file in haste, with up to six typical
// mistakes, and does what each message says: the third try gives a record, and it is the
// one that was meant.
func TestThreeTries(t *testing.T) {
	made := map[string]int{}
	tries, letter, sense := [4]int{}, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBeginning(t)
		b.Inches, b.Inspect, b.Rings, b.Passages, b.Decks = false, "", "top ring, second ring", "main gallery, drillings", ""
		src, err := b.File()
		if err != nil {
			t.Fatal(err)
		}
		meant := filled(t, string(src))
		want := assessed(t, strings.Join(meant, "\n"))
		for _, i := range want.Items {
			if i.Standing != job.Proven {
				t.Fatalf("as meant, %s is %s: %s\n%s", i.Name, i.Standing, i.Why, strings.Join(meant, "\n"))
			}
		}
		typed := append([]string{}, meant...)
		var names []string
		for range rapid.IntRange(1, 6).Draw(t, "mistakes") {
			m := rapid.SampledFrom(mistakes).Draw(t, "mistake")
			var at []int
			for i, l := range meant {
				if typed[i] == l && !strings.HasPrefix(l, "#") && m.make(l) != "" {
					at = append(at, i)
				}
			}
			if len(at) == 0 {
				continue
			}
			i := rapid.SampledFrom(at).Draw(t, "line")
			typed[i] = m.make(meant[i])
			names = append(names, m.name)
			made[m.name]++
		}
		for try := 1; ; try++ {
			text := strings.Join(typed, "\n")
			j, err := job.Read("job.toml", []byte(text))
			if err == nil {
				a, err := j.Assess(t.Context())
				if err != nil {
					t.Fatal(err)
				}
				for i := range want.Items {
					if len(a.Items) != len(want.Items) || a.Items[i].Name != want.Items[i].Name || a.Items[i].Standing != want.Items[i].Standing {
						t.Fatalf("%q: another record than was meant, at %s\n%s", names, want.Items[i].Name, text)
					}
				}
				tries[try]++
				return
			}
			if try == 3 {
				t.Fatalf("%q: no record at the third try:\n%v\n%s", names, err, text)
			}
			var errs tomlfile.Errors
			if !errors.As(err, &errs) {
				t.Fatalf("%T", err)
			}
			right := append([]string{}, typed...)
			for _, e := range errs {
				if e.Line < 1 || e.Line > len(typed) {
					t.Fatalf("%q: an error without its line: %v", names, e)
				}
				if typed[e.Line-1] == meant[e.Line-1] && right[e.Line-1] == meant[e.Line-1] && !relates(e, typed, meant) {
					t.Fatalf("%q: an error about a line that is right: %v\n%s", names, e, typed[e.Line-1])
				}
				next, toTheLetter := follow(e, right[e.Line-1], meant[e.Line-1])
				if right[e.Line-1] = next; toTheLetter {
					letter++
				} else {
					sense++
				}
			}
			typed = right
		}
	})
	t.Logf("a record at the first try %d times, at the second %d, at the third %d; %d messages followed to the letter, %d by their sense; mistakes %v", tries[1], tries[2], tries[3], letter, sense, made)
}

// relates reports whether an error about a line that is right may come of one that is not:
// of a heading that it stands under, or of what it names.
func relates(e *tomlfile.Error, typed, meant []string) bool {
	for i := e.Line - 2; i >= 0; i-- {
		if typed[i] != meant[i] {
			return true
		}
		if strings.HasPrefix(typed[i], "[") {
			break
		}
	}
	return strings.Contains(fmt.Sprint(e.What), "not closed")
}
