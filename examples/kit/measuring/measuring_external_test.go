package measuring_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/measuring"
	"example.com/closefit/examples/kit/record"
)

// sheets are sheets of jobs in which much, some and nothing is open.
func sheets(t *testing.T) map[string]*job.Sheet {
	t.Helper()
	all := map[string]*job.Sheet{}
	read := func(name string, src []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read(name, src)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = j.Sheet()
	}
	for _, name := range job.Demonstrations() {
		src, err := job.Demonstration(name)
		read(name, src, err)
	}
	six := job.Beginning{Cylinders: "6", Mains: "front bearing of the crankshaft, centre, rear", Pins: "1-4 2-5 3-6", Rings: "top ring, second ring", Passages: "main gallery", Jets: "6", Inspect: "all", Inches: true}
	src, err := six.File()
	read("six", src, err)
	return all
}

// TestText: 80 columns, and every open reading with room to write.
func TestText(t *testing.T) {
	for name, s := range sheets(t) {
		var b strings.Builder
		if err := measuring.Write(&b, record.Text, s); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(b.String(), "\n")
		for _, l := range lines {
			if len([]rune(l)) > 80 || strings.TrimRight(l, " ") != l {
				t.Errorf("%s: %q", name, l)
			}
		}
		for _, p := range s.Parts {
			for _, l := range p.Lines {
				for _, r := range l.Readings {
					if n := strings.Count(b.String(), "  [ ] "+r+"  ") + strings.Count(b.String(), "  [ ] "+r+"\n"); n != 1 {
						t.Errorf("%s: %s stands %d times", name, r, n)
					}
				}
			}
		}
	}
}

// TestHTML: one page by itself, with a place to write for every station.
func TestHTML(t *testing.T) {
	outside := regexp.MustCompile(`(?:src|href)=|url\(|@import|<script`)
	for name, s := range sheets(t) {
		var b strings.Builder
		if err := measuring.Write(&b, record.HTML, s); err != nil {
			t.Fatal(err)
		}
		if found := outside.FindString(b.String()); found != "" {
			t.Errorf("%s: %s", name, found)
		}
		readings, rooms := 0, 0
		for _, p := range s.Parts {
			for _, l := range p.Lines {
				readings += len(l.Readings)
				rooms += len(l.Readings) * l.Planes * l.Stations
			}
		}
		if n := strings.Count(b.String(), "<li>"); n != readings {
			t.Errorf("%s: %d rows, want %d", name, n, readings)
		}
		if n := strings.Count(b.String(), "<i>") + strings.Count(b.String(), "<i class=\"alone\">") - 2; n != rooms { // two for date and name
			t.Errorf("%s: %d places to write, want %d", name, n, rooms)
		}
	}
	if err := measuring.Write(&strings.Builder{}, record.JSON, &job.Sheet{}); err == nil || !strings.Contains(fmt.Sprint(err), "write text or html") {
		t.Errorf("%v", err)
	}
}
