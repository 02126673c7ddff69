package demo_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/pelletier/go-toml/v2"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/internal/thorough"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

var update = flag.Bool("update", false, "write into the pages what follows from their figures")

// The walker's demonstration is the tightening of this engine.
const walked = "ferry-winch"

var walkerFile = filepath.Join("..", "..", "..", "torquewalk", "demonstration.toml")

// figures are what a design states. All else follows.
type figures struct {
	Engine      engineFigures         `toml:"engine"`
	Instruments map[string]instrument `toml:"instruments"`
	Jets        *jetFigures           `toml:"jets"`
	Bearings    []bearingFigures      `toml:"bearings"`
	Sizes       []sizeFigures         `toml:"sizes"`
	Plays       []playFigures         `toml:"plays"`
	Fits        []ownFit              `toml:"fits"`
	Warm        *warmFigures          `toml:"warm"`
	Masses      []massFigures         `toml:"masses"`
	Volumes     *volumeFigures        `toml:"volumes"`

	RingPositions *positionFigures `toml:"ring_positions"`

	Fasteners []fastenerFigures `toml:"fasteners"`
	Film      *filmFigures      `toml:"film"`
	Accepted  []any             `toml:"accepted"`
	LeftOut   []any             `toml:"left_out"`
}

// A design is what was worked out of figures so far.
type design struct {
	figures
	lines   map[string]string // of the job, by their whole keys
	follows []string          // what the page says that follows
	truths  map[string]truth  // by the names of verdicts
	plain   map[string]plainTruth
}

// A truth is what a reading is of, as it was built, and its limits. What has several sizes
// was built from the smallest to the largest.
type truth struct{ built, limits units.LengthInterval }

// workOut works everything out of the figures; the error says what cannot be.
func workOut(f figures) (d *design, err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case error:
			err = r
		default:
			panic(r)
		}
	}()
	d = &design{figures: f, lines: map[string]string{}, truths: map[string]truth{}, plain: map[string]plainTruth{}}
	d.engine()
	d.instruments()
	d.jets()
	for _, b := range d.Bearings {
		d.bearings(b)
	}
	d.sizes()
	d.plays()
	d.ownFits()
	d.warm()
	d.masses()
	d.volumes()
	d.positions()
	d.fasteners()
	d.film()
	d.verbatim("accepted", d.Accepted)
	d.verbatim("left_out", d.LeftOut)
	return d, nil
}

// followf adds a line to what follows.
func (d *design) followf(format string, args ...any) {
	d.follows = append(d.follows, fmt.Sprintf(format, args...))
}

// line adds a line of the job; an empty text is a key left out.
func (d *design) line(key, text string) {
	if text != "" {
		d.lines[key] = text
	}
}

// verbatim adds lines that the design states as the job does.
func (d *design) verbatim(key string, v any) { flatten(d.lines, key, v) }

// flatten writes a tree of TOML as lines.
func flatten(lines map[string]string, key string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			if key != "" {
				k = key + "." + k
			}
			flatten(lines, k, x)
		}
	case []any:
		for i, x := range v {
			flatten(lines, fmt.Sprintf("%s[%d]", key, i), x)
		}
	default:
		lines[key] = fmt.Sprint(v)
	}
}

// figuresOf reads the figures of a page.
func figuresOf(t *testing.T, name, page string) figures {
	t.Helper()
	var f figures
	if _, err := tomlfile.Decode(name+".md", []byte(block(t, page, "toml")), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// TestDesigns works out every demonstration from its design, and compares it line by
// line with the job, and with what the page says.
func TestDesigns(t *testing.T) {
	for _, name := range job.Demonstrations() {
		t.Run(name, func(t *testing.T) {
			page := read(t, name+".md")
			d, err := workOut(figuresOf(t, name, page))
			if err != nil {
				t.Fatal(err)
			}
			said := strings.Join(d.follows, "\n") + "\n"
			if *update {
				page = strings.Replace(page, "\n```text\n"+block(t, page, "text"), "\n```text\n"+said, 1)
				if err := os.WriteFile(name+".md", []byte(page), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(said, block(t, page, "text")); diff != "" {
				t.Errorf("what follows from the figures (-worked out +page); read it, then go test -update:\n%s", diff)
			}
			compare(t, name+".toml", d.lines)
			if name == walked {
				tightening := maps.Clone(d.lines)
				maps.DeleteFunc(tightening, func(key, _ string) bool { return !strings.HasPrefix(key, "tightening") })
				compare(t, walkerFile, tightening)
			}
		})
	}
}

// TestVerdictsAreTrue: a demonstration's reading holds what was built, and none of its
// verdicts says what is not so.
func TestVerdictsAreTrue(t *testing.T) {
	t.Parallel()
	for _, name := range job.Demonstrations() {
		d, err := workOut(figuresOf(t, name, read(t, name+".md")))
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read(name+".toml", []byte(read(t, name+".toml")))
		if err != nil {
			t.Fatal(err)
		}
		a, err := j.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		met := 0
		for _, f := range a.Verdicts() {
			x, ok := d.truths[f.Name()]
			if !ok || !f.Taken {
				continue
			}
			met++
			if f.Measured.Lo != nil && x.built.Lo().Less(length(*f.Measured.Lo)) || f.Measured.Hi != nil && length(*f.Measured.Hi).Less(x.built.Hi()) {
				t.Errorf("%s: %s reads %s, and was built to %s", name, f.Name(), f.Measured.Text, x.built)
			}
			wrong := false
			switch f.Verdict {
			case measure.Conforming:
				wrong = !x.built.Within(x.limits)
			case measure.BelowLimit:
				wrong = !x.limits.HasLo() || !x.built.Lo().Less(x.limits.Lo())
			case measure.AboveLimit:
				wrong = !x.limits.Hi().Less(x.built.Hi())
			}
			if wrong {
				t.Errorf("%s: %s was built to %s, and is called %s", name, f.Name(), x.built, f.Verdict)
			}
		}
		if met != len(d.truths) {
			t.Errorf("%s: %d verdicts compared with what was built, want %d", name, met, len(d.truths))
		}
	}
}

// prose are the keys of a job whose texts hold no figure of an engine.
var prose = regexp.MustCompile(`^(title|note|date|by|build|engine(\.name)?)$|^show\.|^engine\.passages|^measure\.(passage|\w+ condition)\.|^(accepted|left_out)\[\d+\]\.(by|reason)$|\.(check|if_not)$|\.first\[\d+\]$`)

// linesOf reads the lines of a job, without its prose.
func linesOf(src string) (map[string]string, error) {
	var tree map[string]any
	if err := toml.Unmarshal([]byte(src), &tree); err != nil {
		return nil, err
	}
	lines := map[string]string{}
	flatten(lines, "", tree)
	maps.DeleteFunc(lines, func(key, _ string) bool { return prose.MatchString(key) })
	return lines, nil
}

// differences says where the lines of a job are not those that the design gives.
func differences(job, design map[string]string) []string {
	var found []string
	for _, k := range slices.Sorted(maps.Keys(design)) {
		if text, there := job[k]; !there {
			found = append(found, fmt.Sprintf("%s is missing; the design gives %q", k, design[k]))
		} else if text != design[k] {
			found = append(found, fmt.Sprintf("%s is %q; the design gives %q", k, text, design[k]))
		}
	}
	for _, k := range slices.Sorted(maps.Keys(job)) {
		if _, there := design[k]; !there {
			found = append(found, fmt.Sprintf("%s = %q does not follow from the design", k, job[k]))
		}
	}
	return found
}

// compare compares a job's file with the design's lines.
func compare(t *testing.T, file string, design map[string]string) {
	t.Helper()
	lines, err := linesOf(read(t, file))
	if err != nil {
		t.Fatal(err)
	}
	for _, difference := range differences(lines, design) {
		t.Errorf("%s: %s", file, difference)
	}
}

func read(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// block returns the page's block of the kind: there is one of each.
func block(t *testing.T, page, kind string) string {
	t.Helper()
	parts := strings.Split(page, "\n```"+kind+"\n")
	if len(parts) != 2 {
		t.Fatalf("the page has %d blocks of %s, want 1", len(parts)-1, kind)
	}
	text, _, closed := strings.Cut(parts[1], "```\n")
	if !closed {
		t.Fatalf("the block of %s has no end", kind)
	}
	return text
}

// TestNoFigureInProse: a figure outside the blocks would follow from nothing.
func TestNoFigureInProse(t *testing.T) {
	for _, name := range job.Demonstrations() {
		page := read(t, name+".md")
		for _, kind := range []string{"toml", "text"} {
			page = strings.Replace(page, block(t, page, kind), "", 1)
		}
		if at := strings.IndexAny(page, "0123456789"); at >= 0 {
			t.Errorf("%s.md: %q stands outside the blocks", name, page[at:min(at+20, len(page))])
		}
	}
}

// figure is a text or a bare number with a digit in it, and digit the last of them.
var (
	figure = regexp.MustCompile(`"[^"\n]*\d[^"\n]*"|= \d+`)
	digit  = regexp.MustCompile(`\d\D*$`)
)

// spoilt calls f with the text, one digit of which is another, for every figure in it.
func spoilt(src string, f func(src, was, is string)) {
	for _, at := range figure.FindAllStringIndex(src, -1) {
		was := src[at[0]:at[1]]
		is := digit.ReplaceAllStringFunc(was, func(s string) string { return string('0'+(s[0]-'0'+1)%10) + s[1:] })
		f(src[:at[0]]+is+src[at[1]:], was, is)
	}
}

// TestEveryFigureCounts spoils one figure of a design after another. Each must change
// what follows or be refused; one that does neither is not used. Where TESTS is not whole it
// spoils one in eleven.
func TestEveryFigureCounts(t *testing.T) {
	t.Parallel()
	for _, name := range job.Demonstrations() {
		page := read(t, name+".md")
		whole, err := workOut(figuresOf(t, name, page))
		if err != nil {
			t.Fatal(err)
		}
		n, at, every := 0, 0, thorough.Every(11)
		spoilt(block(t, page, "toml"), func(src, was, is string) {
			if at++; at%every != 0 {
				return
			}
			var f figures
			if err := toml.Unmarshal([]byte(src), &f); err != nil {
				t.Errorf("%s.md: with %s for %s: %v", name, is, was, err)
				return
			}
			n++
			d, err := workOut(f)
			if err == nil && maps.Equal(d.lines, whole.lines) && slices.Equal(d.follows, whole.follows) {
				t.Errorf("%s.md: nothing changes with %s for %s", name, is, was)
			}
		})
		if n < 100/every {
			t.Errorf("%s.md: %d figures spoilt, want %d or more", name, n, 100/every)
		}
	}
}

// TestEveryFigureOfAJobIsCompared spoils one figure of a job after another. Each must be
// found to differ from the design, unless it stands in prose.
func TestEveryFigureOfAJobIsCompared(t *testing.T) {
	t.Parallel()
	for _, name := range job.Demonstrations() {
		src := read(t, name+".toml")
		whole, err := linesOf(src)
		if err != nil {
			t.Fatal(err)
		}
		d, err := workOut(figuresOf(t, name, read(t, name+".md")))
		if err != nil {
			t.Fatal(err)
		}
		n, at, every := 0, 0, thorough.Every(7)
		spoilt(src, func(src, was, is string) {
			if at++; at%every != 0 {
				return
			}
			lines, err := linesOf(src)
			if err != nil || maps.Equal(lines, whole) {
				return // a key given twice, or prose
			}
			n++
			if len(differences(lines, d.lines)) == 0 {
				t.Errorf("%s.toml: %s for %s goes unseen", name, is, was)
			}
		})
		if n < 50/every {
			t.Errorf("%s.toml: %d figures spoilt, want %d or more", name, n, 50/every)
		}
	}
}
