package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"example.com/closefit/examples/kit/lesson"
	"example.com/closefit/examples/kit/page/module"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

func TestMain(m *testing.M) { os.Exit(pagetest.Share(m)) }

// library is the module, built and packed once for all tests.
var library = sync.OnceValues(func() ([]byte, error) {
	text, err := module.Build(context.Background(), module.Lessons)
	if err != nil {
		return nil, err
	}
	return module.Packed(text)
})

// served serves the lessons for a test, with their module, and returns the address.
func served(t *testing.T) string {
	t.Helper()
	packed, err := library()
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("the module has %d bytes packed", len(packed))
	all, err := pages(packed)
	if err != nil {
		t.Fatal(err)
	}
	s := &site{pages: all, path: "/secret/"}
	server := httptest.NewServer(s)
	t.Cleanup(server.Close)
	s.host = strings.TrimPrefix(server.URL, "http://")
	return server.URL + s.path
}

// open opens an address and waits until its script is ready.
func open(t *testing.T, v *pagetest.Visit, url string) {
	t.Helper()
	v.Go(t, url)
	v.Is(t, `document.querySelector("main").dataset.ready === "yes"`)
}

// moved sets a control and waits until it is drawn, with the working that follows when it rests.
func moved(t *testing.T, v *pagetest.Visit, i int, to int64) {
	t.Helper()
	v.Run(t, fmt.Sprintf(`(async () => {
		const c = document.querySelectorAll("[data-control]")[%d];
		const seen = new Promise((done) => new MutationObserver(done).observe(document.querySelector("main"), { attributeFilter: ["data-drawn"] }));
		c.value = %d;
		c.dispatchEvent(new Event("input", { bubbles: true }));
		await seen;
		if (getComputedStyle(document.getElementById("working")).visibility !== "hidden") throw new Error("the working of another place is shown");
		while (document.getElementById("working").ariaBusy) await new Promise(requestAnimationFrame);
	})()`, i, to))
}

// The page shows what the library computes natively, at every place that its sliders are moved to; its exercises
// judge; and axe-core finds nothing, in light and in dark.
func TestPagesLive(t *testing.T) {
	at := served(t)
	p := pagetest.Open(t).Visit(t, at)
	look := os.Getenv("LOOK")
	// In go test one lesson is driven, and each control is moved once; with TESTS=most twice.
	lessons := lesson.All()
	for n := 0; n < len(lessons); n += thorough.Every(len(lessons)) {
		l := lessons[n]
		if !thorough.Whole() && l.Key == "tightening" {
			continue
		}
		open(t, p, at+l.File()+"?seed=7")
		places := l.Start()
		for i, c := range l.Controls {
			all := []int64{c.To, c.From, c.Start + c.Step*((c.To-c.Start)/c.Step/2)}
			for k := 0; k < len(all); k += thorough.Step(len(all), 2) {
				to := all[k]
				if to == places[i] {
					continue
				}
				before := p.Run(t, `document.getElementById("said").innerHTML + document.getElementById("charts").innerHTML`)
				moved(t, p, i, to)
				places[i] = to
				after := p.Run(t, `document.getElementById("said").innerHTML + document.getElementById("charts").innerHTML`)
				if before == after {
					t.Errorf("%s: %q moves nothing", l.Key, c.Name)
				}
				says(t, p, l, places)
			}
		}
		both, err := l.Exercises(7)
		if err != nil {
			t.Fatal(err)
		}
		for i := range both {
			for typed, class := range map[string]string{both[i].Right: "reason right", both[i].Usual[0].Answer: "reason wrong"} {
				text, _ := json.Marshal(typed)
				got := p.Run(t, fmt.Sprintf(`(async () => {
					const x = document.querySelector("[data-exercise='%d']");
					const judged = new Promise((done) => new MutationObserver(done).observe(x.querySelector(".reason"), { childList: true }));
					x.querySelector("input").value = %s;
					x.querySelector("button").click();
					await judged;
					return x.querySelector(".reason").className + "|" + x.querySelector(".reason p").textContent;
				})()`, i+1, text))
				var said string
				if err := json.Unmarshal([]byte(got), &said); err != nil || said != class+"|"+both[i].Judge(typed).Reason {
					t.Errorf("%s %d: to %s the page says %s", l.Key, i+1, typed, got)
				}
			}
		}
		clean(t, p, l.Key)
		open(t, p, at+l.File()+"?seed=7")
		prints(t, p, l.Key)
		if look != "" {
			open(t, p, at+l.File())
			for _, width := range []int64{360, 1280} {
				p.As(t, width, "light")
				p.Picture(t, fmt.Sprintf("%s/lesson-%s-%d.png", look, l.Key, width))
			}
			p.As(t, 1280, "dark")
			p.Picture(t, fmt.Sprintf("%s/lesson-%s-dark.png", look, l.Key))
		}
	}
	open(t, p, at+keyFile+"?seed=7")
	both, err := lesson.All()[0].Exercises(7)
	if err != nil {
		t.Fatal(err)
	}
	if text := p.Run(t, `document.getElementById("key").textContent`); !strings.Contains(text, both[0].Right) {
		t.Errorf("the key does not hold %s", both[0].Right)
	}
	clean(t, p, "key")
	prints(t, p, "key")
}

// says fails where the page does not show what the library says natively.
func says(t *testing.T, v *pagetest.Visit, l *lesson.Lesson, at []int64) {
	t.Helper()
	want, err := l.At(at)
	if err != nil {
		t.Fatal(l.Key, at, err)
	}
	for where, html := range map[string][]string{"#said": {want.Said}, "#charts .drawing": want.Drawings, "#charts .scroll": want.Tables, "#working": {want.Working}, ".controls output": want.Values} {
		text, _ := json.Marshal(html)
		if got := v.Run(t, `(() => {
			const want = `+string(text)+`, shown = [...document.querySelectorAll("`+where+`")].map((x) => x.innerHTML);
			const written = want.map((html) => { const d = document.createElement("div"); d.innerHTML = html; return d.innerHTML; });
			return JSON.stringify(shown) === JSON.stringify(written) ? "" : JSON.stringify(shown);
		})()`); got != `""` {
			t.Errorf("%s at %v: %s is not what the library says natively: %s, want %s", l.Key, at, where, got, text)
		}
	}
}

// TestWorker: the library answers from a worker or, where a browser gives a page none, in the page.
func TestWorker(t *testing.T) {
	at := served(t)
	for name, c := range map[string]struct{ first, answered string }{
		"a worker":                {`globalThis.answered = 0; globalThis.Worker = class extends Worker { constructor(script) { super(script); this.addEventListener("message", () => answered++); } };`, "answered > 3"},
		"none":                    {`delete globalThis.Worker`, `!("Worker" in globalThis)`},
		"one that breaks":         {`globalThis.broke = 0; globalThis.Worker = class extends Worker { constructor() { super("data:text/javascript,throw 1"); this.addEventListener("error", () => broke++); } };`, "broke === 1"},
		"one that cannot be made": {`globalThis.asked = 0; globalThis.Worker = class { constructor() { asked++; throw new Error("not here"); } };`, "asked === 1"},
	} {
		t.Run(name, func(t *testing.T) {
			p := pagetest.Open(t).Visit(t, at)
			p.First(t, c.first)
			l := lesson.All()[0]
			open(t, p, at+l.File())
			places := l.Start()
			for i, to := range []int64{l.Controls[0].To, l.Controls[1].To} {
				moved(t, p, i, to)
				places[i] = to
				says(t, p, l, places)
			}
			if p.Run(t, c.answered) != "true" {
				t.Errorf("not %s", c.answered)
			}
		})
	}
}

// tooSmall are the things to touch that are smaller than a finger, or whose text is cut off.
const tooSmall = `[...document.querySelectorAll("a, button, input, select, summary")].filter(e => e.checkVisibility() && (e.getBoundingClientRect().height < 43.5 || e.getBoundingClientRect().width < 43.5)).map(e => e.textContent || e.id).
	concat([...document.querySelectorAll("select")].filter(e => {
		const c = document.createElement("canvas").getContext("2d"), s = getComputedStyle(e);
		c.font = s.font;
		return [...e.options].some(o => c.measureText(o.text).width + 32 > e.clientWidth);
	}).map(e => "cut off: " + e.options[e.selectedIndex].text))`

// clean fails for rules of axe-core that the page breaks.
func clean(t *testing.T, v *pagetest.Visit, name string) {
	t.Helper()
	for scheme, width := range map[string]int64{"light": 360, "dark": 1280} {
		v.As(t, width, scheme)
		t.Run(fmt.Sprintf("%s %s %d px", name, scheme, width), func(t *testing.T) {
			for _, rule := range v.Broken(t, "axe-core") {
				t.Error(rule)
			}
			if small := v.Run(t, tooSmall); small != "[]" {
				t.Errorf("smaller than a finger: %s", small)
			}
		})
	}
}

// prints fails if the printed page has a text, a chart or a table that is cut off or stands on another, if what is closed on
// the screen is missing, or what only a screen can use is not.
func prints(t *testing.T, v *pagetest.Visit, name string) {
	t.Helper()
	v.As(t, 1280, "dark") // on paper all is light
	for _, paper := range pagetest.Papers() {
		p := v.Prints(t, paper)
		for _, f := range p.Faults {
			t.Errorf("%s: %s", name, f)
		}
		for _, c := range p.Closed {
			t.Errorf("%s on %s: what is behind %q is missing", name, paper.Name, c)
		}
		if !strings.Contains(p.Text, "Seed of the exercises") {
			t.Errorf("%s on %s: whose numbers are these?", name, paper.Name)
		}
		if strings.Contains(p.Text, "Judge it") || p.Sheets > 12 {
			t.Errorf("%s on %s: a button, or %d sheets", name, paper.Name, p.Sheets)
		}
	}
}

// TestRedraws measures, for the lesson that MEASURE names or for all of them, how often a slider is drawn in a second with
// the processor slowed four times.
func TestRedraws(t *testing.T) {
	if os.Getenv("MEASURE") == "" {
		t.Skip("MEASURE is not set")
	}
	at := served(t)
	p := pagetest.Open(t).Visit(t, at)
	for _, l := range lesson.All() {
		if key := os.Getenv("MEASURE"); key != "all" && key != l.Key {
			continue
		}
		open(t, p, at+l.File())
		p.Run(t, `new Promise((done) => setTimeout(done, 3000))`) // the browser compiles the module once more, and better
		p.Slowed(t, 4)
		slowest := math.Inf(1)
		for i, c := range l.Controls {
			if c.Choices != nil {
				continue
			}
			got := p.Run(t, fmt.Sprintf(`(async () => {
				const c = document.querySelectorAll("[data-control]")[%d];
				let drawn = 0;
				new MutationObserver(() => drawn++).observe(document.querySelector("main"), { attributeFilter: ["data-drawn"] });
				const from = performance.now();
				for (let n = 0; performance.now() - from < 3000; n++) {
					c.value = %d + %d * (n %% %d);
					c.dispatchEvent(new Event("input", { bubbles: true }));
					await new Promise(requestAnimationFrame);
				}
				return drawn / (performance.now() - from) * 1000;
			})()`, i, c.From, c.Step, (c.To-c.From)/c.Step+1))
			t.Logf("%s, %s: %s redraws a second", l.Key, c.Name, got)
			n, err := strconv.ParseFloat(got, 64)
			if err != nil {
				t.Fatal(err)
			}
			slowest = min(slowest, n)
		}
		t.Logf("%s, the slowest slider: %.1f redraws a second", l.Key, slowest)
		p.Slowed(t, 1)
	}
}
