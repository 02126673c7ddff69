package pagetest

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"example.com/closefit/internal/thorough"
)

// A Visit is a page that runs scripts, looked at and touched as by a person.
type Visit struct{ p *tab }

// Visit opens an address in a tab of its own.
func (b *Browser) Visit(t *testing.T, url string) *Visit {
	t.Helper()
	p := &tab{}
	ctx, stop := chromedp.NewContext(b.ctx)
	t.Cleanup(stop)
	p.ctx = ctx
	do(t, p, chromedp.Navigate(url))
	return &Visit{p}
}

// As shows the page so wide, in light or in dark, as on a phone.
func (v *Visit) As(t *testing.T, width int64, scheme string) {
	t.Helper()
	v.p.as(t, width, scheme)
	do(t, v.p, call(emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: 1}))
}

// Window gives the page a window of a size.
func (v *Visit) Window(t *testing.T, width, height int64) {
	t.Helper()
	do(t, v.p, chromedp.EmulateViewport(width, height))
}

// Slowed makes the page's processor so many times slower.
func (v *Visit) Slowed(t *testing.T, times float64) {
	t.Helper()
	do(t, v.p, call(emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times}))
}

// Go opens an address in the tab, or the same once more.
func (v *Visit) Go(t *testing.T, url string) {
	t.Helper()
	do(t, v.p, chromedp.Navigate(url))
}

// Run runs a script in the page, which may be a promise, and returns what it comes to as JSON.
func (v *Visit) Run(t *testing.T, script string) string {
	t.Helper()
	return string(run(t, v.p, chromedp.Evaluate[json.RawMessage](script, chromedp.EvalAwaitPromise)))
}

// Is waits until a condition of the page holds.
func (v *Visit) Is(t *testing.T, condition string) {
	t.Helper()
	for end := time.Now().Add(thorough.Patience); ; time.Sleep(20 * time.Millisecond) {
		if v.Run(t, "!!("+condition+")") == "true" {
			return
		}
		if time.Now().After(end) {
			t.Fatalf("never: %s\n%s", condition, v.Run(t, `document.getElementById("verdict")?.textContent + " / " + document.getElementById("typed")?.value`))
		}
	}
}

// Tap touches the middle of an element, once it is seen, can be touched there and stands still, and returns when the
// page has had the click. An element that is smaller than a finger in a glove is a fault.
func (v *Visit) Tap(t *testing.T, selector string) {
	t.Helper()
	const least = 47.5
	// A person touches what stands still: over two frames, for between two looks a busy machine may have drawn none.
	where := chromedp.Evaluate[[]float64](fmt.Sprintf(`(async () => {
		const find = () => [...document.querySelectorAll(%q)].find(e => e.getClientRects().length && !e.disabled);
		find()?.scrollIntoView({ block: "center", behavior: "instant" });
		await Promise.allSettled(document.getAnimations().filter(a => a.playState === "running" && a.effect.getComputedTiming().endTime < Infinity).map(a => a.finished));
		for (const _ of [1, 2]) await new Promise(done => document.hidden ? setTimeout(done, 50) : requestAnimationFrame(done));
		const e = find();
		if (!e) return [];
		const r = e.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2;
		const on = document.elementFromPoint(x, y);
		return [x, y, r.width, r.height, on && (e.contains(on) || on.contains(e)) ? 1 : 0];
	})()`, selector), chromedp.EvalAwaitPromise)
	var at []float64
	for end := time.Now().Add(thorough.Patience); ; {
		before := at
		at = run(t, v.p, where)
		if len(at) > 0 && at[4] == 1 && slices.Equal(at, before) {
			break
		}
		switch late := time.Now().After(end); {
		case late && len(at) == 0:
			t.Fatalf("there is nothing to touch: %s", selector)
		case late && at[4] == 0:
			t.Fatalf("something lies over %s", selector)
		case late:
			t.Fatalf("%s never stands still", selector)
		}
	}
	if at[2] < least || at[3] < least {
		t.Fatalf("%s is %.0f by %.0f px", selector, at[2], at[3])
	}
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) chromedp.Action[chromedp.Void] {
		return call(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, points...)})
	}
	do(t, v.p, evaluate(`window.untouched = true; addEventListener("click", () => { delete window.untouched; }, { capture: true, once: true })`),
		touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: at[0], Y: at[1]}), touch(input.DispatchTouchEventTypeTouchEnd))
	v.Is(t, `!window.untouched`) // the browser makes a click of a touch in its own time
}

// Press presses keys: those of a text, and kb's for those without a sign.
func (v *Visit) Press(t *testing.T, keys string) {
	t.Helper()
	do(t, v.p, chromedp.KeyEvent(keys))
}

// In takes the habits of a language, such as "de-DE", from the next page on.
func (v *Visit) In(t *testing.T, locale string) {
	t.Helper()
	do(t, v.p, call(emulation.SetLocaleOverride, emulation.SetLocaleOverrideParams{Locale: locale}))
}

// First runs a script before any of each page's own, from the next page on.
func (v *Visit) First(t *testing.T, script string) {
	t.Helper()
	do(t, v.p, call(page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script}))
}

// Downloads lets the page write files into a folder.
func (v *Visit) Downloads(t *testing.T, folder string) {
	t.Helper()
	do(t, v.p, call(browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{BrowserContextID: chromedp.FromContext(v.p.ctx).BrowserContextID, Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder}))
}

// A Print is what comes out of the printer.
type Print struct {
	Text   string // of all its sheets, as it is seen
	Sheets int
	Faults []string // the texts that stand on one another or are cut off, and the charts and tables that are
	Closed []string // the summaries whose details stay closed
}

// cut finds charts and tables that are wider than the paper, what would have to be scrolled, and texts that are squeezed
// to a letter or two a line.
const cut = `(() => {
	const out = [], edge = document.documentElement.clientWidth;
	for (const e of document.querySelectorAll("body *")) {
		if (e.closest(".hidden") || !e.checkVisibility()) continue;
		const named = e.tagName.toLowerCase() + " " + (e.className.baseVal ?? e.className), r = e.getBoundingClientRect();
		if (/^(svg|table|img) /.test(named) && (r.right > edge + 1 || r.left < -1)) out.push(named + " ends at " + Math.round(r.right) + " of " + edge);
		if (e instanceof HTMLElement && getComputedStyle(e).overflowY !== "visible" && (e.scrollHeight > e.clientHeight + 1 || e.scrollWidth > e.clientWidth + 1))
			out.push(named + " shows " + e.clientHeight + " of " + e.scrollHeight);
		if (e instanceof HTMLElement && !e.children.length && e.textContent.trim().length > 8 && r.height > 3 * r.width)
			out.push(named + " is squeezed: " + e.textContent.trim().slice(0, 40));
	}
	return out.slice(0, 5);
})()`

// Prints prints the page as it is now.
func (v *Visit) Prints(t *testing.T, paper Paper) Print {
	t.Helper()
	sheets := v.p.sheets(t, paper)
	onPaper(t, v.p, paper)
	defer do(t, v.p, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}))
	faults := v.p.texts(t, paper.Name)
	for _, c := range run(t, v.p, chromedp.Evaluate[[]string](cut)) {
		faults = append(faults, paper.Name+": "+c)
	}
	closed := run(t, v.p, chromedp.Evaluate[[]string](`[...document.querySelectorAll("details")].filter(d => d.checkVisibility() && ![...d.children].every(c => c.checkVisibility())).map(d => d.firstElementChild.textContent)`))
	return Print{run(t, v.p, chromedp.Evaluate[string](`document.body.innerText`)), sheets, faults, closed}
}

// Faults returns the texts that stand on one another or are cut off, as the page is now.
func (v *Visit) Faults(t *testing.T, how string) []string {
	t.Helper()
	return v.p.texts(t, how)
}

// Broken returns the rules of axe-core that the page breaks as it is now.
func (v *Visit) Broken(t *testing.T, how string) (faults []string) {
	t.Helper()
	axe := axeCore(t)
	return v.p.broken(t, axe, how)
}

// Picture writes the page to a file as PNG: all of it, or, under a dialog, what is seen in the window.
func (v *Visit) Picture(t *testing.T, file string) {
	t.Helper()
	var shot page.CaptureScreenshotParams
	if size := run(t, v.p, chromedp.Evaluate[[]float64](`document.querySelector("dialog[open]") ? [] : [innerWidth, document.documentElement.scrollHeight]`)); len(size) == 2 {
		beyond := true
		shot = page.CaptureScreenshotParams{CaptureBeyondViewport: &beyond, Clip: &page.Viewport{Width: size[0], Height: size[1], Scale: 1}}
	}
	png := run(t, v.p, chromedp.Action[[]byte](func(ctx context.Context, t *chromedp.Target) ([]byte, error) {
		r, err := cdp.Call(ctx, t, page.CaptureScreenshot, shot)
		return r.Data, err
	}))
	if err := os.WriteFile(file, png, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Kill ends the tab at once, as a battery does.
func (v *Visit) Kill(t *testing.T) {
	t.Helper()
	_ = chromedp.Cancel(v.p.ctx)
}
