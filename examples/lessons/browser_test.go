package main

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"example.com/closefit/examples/kit/lesson"
	"example.com/closefit/examples/kit/page/module"
	"example.com/closefit/internal/thorough"
)

// served serves the lessons for a test, with their module, and returns the address.
func served(t *testing.T) string {
	t.Helper()
	text, err := module.Build(t.Context(), module.Lessons)
	if err != nil {
		t.Fatal(err)
	}
	packed, err := module.Packed(text)
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

// A tab is one page with its scripts running.
type tab struct{ ctx context.Context }

func browse(t *testing.T) *tab {
	t.Helper()
	path := os.Getenv("CHROMIUM")
	if path == "" {
		path, _ = exec.LookPath("chromium")
	}
	if path == "" {
		if os.Getenv("PAGETEST") == "whole" {
			t.Fatal("there is no chromium")
		}
		t.Skip("there is no chromium: install it, or name it in CHROMIUM")
	}
	options := append([]chromedp.ExecAllocatorOption{}, chromedp.DefaultExecAllocatorOptions[:]...)
	options = append(options, chromedp.ExecPath(path), chromedp.DisableGPU, chromedp.WSURLReadTimeout(time.Minute))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocator, end := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stop := chromedp.NewContext(allocator)
	t.Cleanup(func() { stop(); end() })
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return &tab{ctx}
}

func call[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (none chromedp.Void, err error) {
		_, err = cdp.Call(ctx, t, c, params)
		return none, err
	}
}

func step[T any](t *testing.T, p *tab, s chromedp.Action[T]) T {
	t.Helper()
	ctx, stop := context.WithTimeout(p.ctx, 2*time.Minute)
	defer stop()
	v, err := chromedp.Run(ctx, s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// open opens an address and waits until its script is ready.
func (p *tab) open(t *testing.T, url string) {
	t.Helper()
	step(t, p, chromedp.Navigate(url))
	for end := time.Now().Add(time.Minute); p.js(t, `document.querySelector("main").dataset.ready ?? ""`) != `"yes"`; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal(url, "is never ready:", p.js(t, `document.getElementById("status").textContent`))
		}
	}
}

// js runs a script and returns what it comes to, as JSON.
func (p *tab) js(t *testing.T, script string) string {
	t.Helper()
	return string(step(t, p, chromedp.Evaluate[json.RawMessage](script, chromedp.EvalAwaitPromise)))
}

func (p *tab) as(t *testing.T, width int64, scheme string) {
	t.Helper()
	step(t, p, chromedp.EmulateViewport(width, 900))
	step(t, p, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
}

// picture writes the whole page to a file.
func (p *tab) picture(t *testing.T, width float64, file string) {
	t.Helper()
	png := step(t, p, chromedp.Action[[]byte](func(ctx context.Context, t *chromedp.Target) ([]byte, error) {
		r, err := cdp.Call(ctx, t, page.CaptureScreenshot, page.CaptureScreenshotParams{CaptureBeyondViewport: new(true), Clip: &page.Viewport{Width: width, Height: 3400, Scale: 1}})
		return r.Data, err
	}))
	if err := os.WriteFile(file, png, 0o644); err != nil {
		t.Fatal(err)
	}
}

// moved sets a control and waits until it is drawn.
func (p *tab) moved(t *testing.T, i int, to int64) {
	t.Helper()
	p.js(t, fmt.Sprintf(`(async () => {
		const c = document.querySelectorAll("[data-control]")[%d];
		const seen = new Promise((done) => new MutationObserver(done).observe(document.getElementById("said"), { childList: true }));
		c.value = %d;
		c.dispatchEvent(new Event("input", { bubbles: true }));
		await seen;
	})()`, i, to))
}

// The page shows what the library computes natively, at every place that its sliders are moved to; its exercises
// judge; and axe-core finds nothing, in light and in dark.
func TestPagesLive(t *testing.T) {
	at := served(t)
	p := browse(t)
	axe := ""
	if path := os.Getenv("AXE_CORE"); path != "" {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		axe = string(text)
	} else if os.Getenv("PAGETEST") == "whole" {
		t.Fatal("AXE_CORE does not name axe.min.js")
	}
	look := os.Getenv("LOOK")
	// Without TESTS=whole two lessons are driven, and each control is moved once.
	lessons := lesson.All()
	for n := 0; n < len(lessons); n += thorough.Every(3) {
		l := lessons[n]
		if !thorough.Whole() && l.Key == "tightening" {
			continue
		}
		p.open(t, at+l.File()+"?seed=7")
		places := l.Start()
		for i, c := range l.Controls {
			for _, to := range []int64{c.To, c.From, c.Start + c.Step*((c.To-c.Start)/c.Step/2)} {
				if to == places[i] || !thorough.Whole() && to != c.To {
					continue
				}
				before := p.js(t, `document.getElementById("said").innerHTML + document.getElementById("charts").innerHTML`)
				p.moved(t, i, to)
				places[i] = to
				want, err := l.At(places)
				if err != nil {
					t.Fatal(l.Key, places, err)
				}
				after := p.js(t, `document.getElementById("said").innerHTML + document.getElementById("charts").innerHTML`)
				if before == after {
					t.Errorf("%s: %q moves nothing", l.Key, c.Name)
				}
				for id, html := range map[string]string{"said": want.Said, "charts": want.Charts, "working": want.Working} {
					text, _ := json.Marshal(html)
					if p.js(t, `(() => { const d = document.createElement("div"); d.innerHTML = `+string(text)+`; return d.textContent === document.getElementById("`+id+`").textContent; })()`) != "true" {
						t.Errorf("%s at %v: %s is not what the library says natively: %s", l.Key, places, id, p.js(t, `document.getElementById("`+id+`").textContent`))
					}
				}
			}
		}
		both, err := l.Exercises(7)
		if err != nil {
			t.Fatal(err)
		}
		for i := range both {
			for typed, class := range map[string]string{both[i].Right: "reason right", both[i].Usual[0].Answer: "reason wrong"} {
				text, _ := json.Marshal(typed)
				got := p.js(t, fmt.Sprintf(`(() => {
					const x = document.querySelector("[data-exercise='%d']");
					x.querySelector("input").value = %s;
					x.querySelector("button").click();
					return x.querySelector(".reason").className + "|" + x.querySelector(".reason p").textContent;
				})()`, i+1, text))
				var said string
				if err := json.Unmarshal([]byte(got), &said); err != nil || said != class+"|"+both[i].Judge(typed).Reason {
					t.Errorf("%s %d: to %s the page says %s", l.Key, i+1, typed, got)
				}
			}
		}
		p.clean(t, axe, l.Key)
		if look != "" {
			p.open(t, at+l.File())
			for _, width := range []int64{360, 1280} {
				p.as(t, width, "light")
				p.picture(t, float64(width), fmt.Sprintf("%s/lesson-%s-%d.png", look, l.Key, width))
			}
			p.as(t, 1280, "dark")
			p.picture(t, 1280, fmt.Sprintf("%s/lesson-%s-dark.png", look, l.Key))
		}
	}
	p.open(t, at+keyFile+"?seed=7")
	both, err := lesson.All()[0].Exercises(7)
	if err != nil {
		t.Fatal(err)
	}
	if text := p.js(t, `document.getElementById("key").textContent`); !strings.Contains(text, both[0].Right) {
		t.Errorf("the key does not hold %s", both[0].Right)
	}
	p.clean(t, axe, "key")
}

// clean fails for rules of axe-core that the page breaks.
func (p *tab) clean(t *testing.T, axe, name string) {
	t.Helper()
	if axe == "" {
		return
	}
	step(t, p, chromedp.Evaluate[chromedp.Void](axe))
	for scheme, width := range map[string]int64{"light": 360, "dark": 1280} {
		p.as(t, width, scheme)
		if got := p.js(t, `axe.run().then(r => r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes[0].html))`); got != "[]" {
			t.Errorf("%s, %s, %d px: %s", name, scheme, width, got)
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
	p := browse(t)
	for _, l := range lesson.All() {
		if key := os.Getenv("MEASURE"); key != "all" && key != l.Key {
			continue
		}
		p.open(t, at+l.File())
		p.js(t, `new Promise((done) => setTimeout(done, 3000))`) // the browser compiles the module once more, and better
		step(t, p, call(emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}))
		for i, c := range l.Controls {
			if c.Choices != nil {
				continue
			}
			got := p.js(t, fmt.Sprintf(`(async () => {
				const c = document.querySelectorAll("[data-control]")[%d], said = document.getElementById("said");
				let drawn = 0;
				new MutationObserver(() => drawn++).observe(said, { childList: true });
				const from = performance.now();
				for (let n = 0; performance.now() - from < 3000; n++) {
					c.value = %d + %d * (n %% %d);
					c.dispatchEvent(new Event("input", { bubbles: true }));
					await new Promise(requestAnimationFrame);
				}
				return drawn / (performance.now() - from) * 1000;
			})()`, i, c.From, c.Step, (c.To-c.From)/c.Step+1))
			t.Logf("%s, %s: %s redraws a second", l.Key, c.Name, got)
		}
		step(t, p, call(emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 1}))
	}
}
