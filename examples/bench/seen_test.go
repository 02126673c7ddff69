//go:build !nobrowser

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// sheets are a sheet of each kind that the page has, by name, each as the data of the button that opens it.
func sheets(t *testing.T, text []byte) (all [][2]string) {
	t.Helper()
	j, err := job.Read("j", text)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	add := func(name, data string) {
		if !seen[name] {
			seen[name] = true
			all = append(all, [2]string{name, data})
		}
	}
	reading := func(key, line, place string) string {
		return fmt.Sprintf("data-key=%q data-line=%q data-place=%q", key, line, place)
	}
	add("a place", `data-at="main 4"`)
	add("bolts", `data-at="bolts"`)
	for _, m := range j.Measurables() {
		name := "looked at"
		if len(m.Instruments) > 0 {
			name = m.Instruments[0].Kind
		} else if m.Words == nil {
			name = "without an instrument, " + m.Unit
		}
		at := m.Places[0]
		if i := slices.IndexFunc(m.Places, func(p job.Place) bool { return p.Text != "?" }); i >= 0 {
			at = m.Places[i]
			name += ", read"
		}
		add(name, reading("reading", m.Name, at.Location))
		if len(m.LimitKeys) > 0 {
			add("limits", reading(m.LimitKeys[0].Key, m.Name, ""))
		}
	}
	for _, b := range j.BoltPlaces() {
		add("a bolt", reading("bolt", b.Group, b.Bolt))
		if b.Judged != "" {
			add("a bolt's length", reading("length", b.Group, b.Bolt))
		}
	}
	add("codes", `data-at="codes"`)
	for _, r := range j.CodeRows() {
		name := "a row of codes"
		if r.Open {
			name += ", not read"
		}
		add(name, reading("codes", r.Part, r.Half))
	}
	add("the title", reading("about", "", "title"))
	for _, m := range j.Measurables() {
		if m.Stations {
			named := map[bool]string{true: ", named"}
			add("planes"+named[len(m.Planes) > 0], reading("planes", m.Name, ""))
			add("directions"+named[len(m.Directions) > 0], reading("directions", m.Name, ""))
			if len(m.Planes) > 0 {
				add("a reading of stations", reading("reading", m.Name, m.Places[0].Location))
			}
		}
	}
	for _, kind := range []string{"dial", "crush strip"} {
		add("a new "+kind, reading("instrument", kind+" 9", kind))
	}
	return all
}

// small are the things to touch that are smaller than a finger in a glove, as the page is now.
const small = `[...(document.querySelector("dialog[open]") ?? document).querySelectorAll("button, input, summary, .file, nav a")].filter(e => e.checkVisibility() && !e.closest(".file > *")).
	map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width < 47.5 || r.height < 47.5).map(([e, r]) => (e.textContent || e.id) + " " + Math.round(r.width) + " by " + Math.round(r.height))`

// No text stands on another, nothing is cut off, all is large enough for gloves, and axe-core finds no fault: the
// page, each kind of sheet, and the tightening, in light and in dark, on a phone and on a desk. LOOK=FOLDER
// writes a picture of each.
func TestSeenAndHeard(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	text := demonstration(t, "lock-gate")
	v := browser.Visit(t, file(t, text))
	b := opened(t, v)
	look := func(v *pagetest.Visit, view string, width int64, scheme string) {
		t.Helper()
		how := fmt.Sprintf("%s, %d px, %s", view, width, scheme)
		faults := append(v.Faults(t, how), v.Broken(t, how)...)
		if got := v.Run(t, small); got != "[]" {
			faults = append(faults, how+": too small: "+got)
		}
		for _, fault := range faults {
			t.Error(fault)
		}
		if folder := os.Getenv("LOOK"); folder != "" {
			v.Picture(t, filepath.Join(folder, fmt.Sprintf("bench2-%s-%d-%s.png", strings.NewReplacer(" ", "-", ",", "", "'", "", "°", "deg").Replace(view), width, scheme)))
		}
	}
	all := sheets(t, text)
	step := thorough.Step(4, 4) // each sheet in one of the four ways, or in all
	for w, width := range []int64{360, 1280} {
		for s, scheme := range []string{"light", "dark"} {
			v.As(t, width, scheme)
			look(v, "page", width, scheme)
			for i, sheet := range all {
				if (i+2*w+s)%step != 0 && os.Getenv("LOOK") == "" {
					continue
				}
				v.Run(t, `{
					const at = document.createElement("div");
					at.innerHTML = `+strconv.Quote("<button type=button id=opens "+sheet[1]+">")+`;
					document.getElementById("engine").append(at);
					at.firstChild.click();
					at.remove();
				}`)
				if got := v.Run(t, `document.getElementById("sheet").open && document.activeElement.closest("#sheet") !== null`); got != "true" {
					t.Errorf("%s: it is not open, or has not the focus", sheet)
				}
				b.is(`!document.getElementById("sheet").getAnimations().length`)
				look(v, sheet[0], width, scheme)
				b.tap("#close")
			}
		}
	}
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	s := serving(t, demonstration(t, "all-proven"), must(library()))
	w := opened(t, browser.Visit(t, s.address()))
	walks := []act{{}, {Act: "start", Text: "none"}, {Act: "begin", Step: 1}, {Act: "slipped", Step: 1}}
	for i, a := range walks {
		if a.Act != "" {
			a.Phase = job.Final
			s.ask(t, "POST", "walk", a)
		}
		w.is([]string{`document.querySelector("#in-walk [data-act=start]")`, `document.querySelector("#in-walk [data-act=begin]")`, `document.querySelector("#in-walk [data-act=done]")`, `document.querySelector("#in-walk .stop")`}[i])
		for k, width := range []int64{360, 1280} {
			if (i+k)%thorough.Every(2) != 0 && os.Getenv("LOOK") == "" {
				continue
			}
			scheme := []string{"light", "dark"}[(i/2+k)%2]
			w.As(t, width, scheme)
			look(w.Visit, fmt.Sprintf("walk %d", i), width, scheme)
		}
	}
}

// On a small phone all keys of a number, what is typed, its verdict and Store are in sight at once, whatever is
// known above them.
func TestSmallPhone(t *testing.T) {
	thorough.Long(t)
	b := onSmallPhone(t, "lock-gate")
	for _, at := range [][2]string{{"main 4", "main journal"}, {"oil", "oil jet opening pressure"}} {
		b.tap(`[data-at="` + at[0] + `"]`)
		b.tap(`#sheet-body [data-line="` + at[1] + `"]`)
		if got := b.Run(t, `(() => {
			const room = document.getElementById("sheet-body").getBoundingClientRect();
			return [...document.querySelectorAll("#sheet-body .key, #typed"), ...document.querySelectorAll("#store, #verdict")].map(e => [e, e.getBoundingClientRect()]).
				filter(([e, r]) => e.closest("#sheet-body") ? r.top < room.top || r.bottom > room.bottom + 1 : r.bottom > innerHeight).map(([e]) => e.id || e.textContent);
		})()`); got != "[]" {
			t.Errorf("%s: out of sight: %s", at[1], got)
		}
		b.tap("#close")
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
