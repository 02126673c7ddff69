// Package pagetest looks at a page as a person would, in a browser without a window: whether
// two texts stand on one another, whether anything is cut off, what is asked for from outside,
// what a reader with a screen reader meets, and what lies on each printed sheet.
//
// It runs the Chromium that CHROMIUM names, or chromium in the path; a test is skipped where
// there is none. AXE_CORE names the file axe.min.js of the accessibility checks; without it
// they are skipped. .ci/run has both, and sets PAGETEST=whole, so that nothing is skipped there.
package pagetest

import (
	"context"
	_ "embed"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"example.com/closefit/internal/thorough"
)

// A Browser shows pages.
type Browser struct {
	ctx context.Context
}

// shared is the browser of all tests of a package whose TestMain calls Share.
var shared struct {
	wanted bool
	once   sync.Once
	*Browser
	end func()
	err error
}

// Share runs the tests of a package with one browser, which begins with the first that opens it and ends with the last: to
// start one takes longer than most tests look at it.
func Share(m *testing.M) (status int) {
	shared.wanted = true
	defer func() {
		if shared.end != nil {
			shared.end()
		}
	}()
	return m.Run()
}

// Open gives a test a browser that remembers nothing, and forgets with the test what it is shown: one of its own or, in a package
// whose TestMain calls Share, a profile of its own in the one browser.
func Open(t testing.TB) *Browser {
	t.Helper()
	path := os.Getenv("CHROMIUM")
	if path == "" {
		path = "chromium"
	}
	path = thorough.Program(t, path)
	if !shared.wanted {
		b, end, err := start(path)
		t.Cleanup(end)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	shared.once.Do(func() { shared.Browser, shared.end, shared.err = start(path) })
	if shared.err != nil {
		t.Fatal(shared.err)
	}
	ctx, close := chromedp.NewContext(shared.ctx, chromedp.WithNewBrowserContext())
	t.Cleanup(close)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return &Browser{ctx}
}

// start starts a browser.
func start(path string) (b *Browser, end func(), err error) {
	// Chromium has no sandbox for root, nor in many a container; the pages are our own. Its language is not that of
	// whoever runs the test.
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path), chromedp.DisableGPU, chromedp.NoSandbox,
		chromedp.WSURLReadTimeout(thorough.Patience), chromedp.Env("LANGUAGE=en_US", "LC_ALL=en_US.UTF-8"),
		// Without a window nobody types an address, and what would suggest some costs as much as a page.
		chromedp.Flag("disable-features", "Translate,BlinkGenPropertyTrees,WebUIOmniboxPopup,WebUIOmniboxAimPopup"))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, close := chromedp.NewContext(allocator)
	end = func() { close(); stop() }
	if err := chromedp.Do(ctx); err != nil {
		return nil, end, fmt.Errorf("%s does not start: %w", path, err)
	}
	return &Browser{ctx}, end, nil
}

// Widths are those of phones, a tablet and a desk, in pixels.
func Widths() []int64 { return []int64{360, 390, 768, 1280} }

// A tab is one page being looked at.
type tab struct {
	ctx   context.Context
	mu    sync.Mutex
	asked []string // from outside the page
}

// show opens a page in a tab of its own.
func (b *Browser) show(t *testing.T, html string) *tab {
	t.Helper()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/" {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		fmt.Fprint(w, html)
	}))
	t.Cleanup(server.Close)
	p := &tab{}
	ctx, close := chromedp.NewContext(b.ctx, chromedp.WithListener(func(event any) {
		if e, is := event.(*network.EventRequestWillBeSent); is {
			if url := e.Request.URL; url != server.URL+"/" && !strings.HasPrefix(url, "data:") && url != "about:blank" && !strings.HasSuffix(url, "/favicon.ico") {
				p.mu.Lock()
				p.asked = append(p.asked, url)
				p.mu.Unlock()
			}
		}
	}))
	t.Cleanup(close)
	p.ctx = ctx
	do(t, p, call(network.Enable, network.EnableParams{}), chromedp.Navigate(server.URL+"/"))
	return p
}

// do takes the steps in a tab.
func do(t testing.TB, p *tab, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	run(t, p, chromedp.Steps(steps...))
}

// run takes a step that has an answer.
func run[T any](t testing.TB, p *tab, step chromedp.Action[T]) T {
	t.Helper()
	return within(t, p, thorough.Patience, step)
}

// within is run with so much time.
func within[T any](t testing.TB, p *tab, most time.Duration, step chromedp.Action[T]) T {
	t.Helper()
	if err := chromedp.Do(p.ctx); err != nil { // a tab lives as long as the context of its first call
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(p.ctx, most)
	defer stop()
	v, err := chromedp.Run(ctx, step)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// evaluate runs a script without an answer.
func evaluate(script string) chromedp.Action[chromedp.Void] {
	return chromedp.Evaluate[chromedp.Void](script)
}

// call is a command of the protocol as a step.
func call[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (none chromedp.Void, err error) {
		_, err = cdp.Call(ctx, t, c, params)
		return none, err
	}
}

// as shows the page so wide, in light or in dark.
func (p *tab) as(t *testing.T, width int64, scheme string) {
	t.Helper()
	media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}
	do(t, p, chromedp.EmulateViewport(width, 800), call(emulation.SetEmulatedMedia, media))
}

//go:embed texts.js
var textsJS string

// found is what texts.js finds.
type found struct {
	Texts int
	On    []string // pairs of texts that stand on one another
	Out   []string // texts that are cut off by the edge of the page
}

// Texts returns the texts that stand on one another or are cut off, at any of the widths, and
// whatever the page asks for from outside.
func (b *Browser) Texts(t *testing.T, html string) (faults []string) {
	t.Helper()
	p := b.show(t, html)
	for _, width := range Widths() {
		p.as(t, width, "light")
		faults = append(faults, p.texts(t, fmt.Sprintf("%d px", width))...)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, url := range p.asked {
		faults = append(faults, "the page asks for "+url)
	}
	return faults
}

func (p *tab) texts(t *testing.T, how string) (faults []string) {
	t.Helper()
	f := run(t, p, chromedp.Evaluate[found](textsJS))
	if f.Texts == 0 {
		faults = append(faults, how+": no text")
	}
	for _, fault := range append(f.On, f.Out...) {
		faults = append(faults, how+": "+fault)
	}
	return faults
}

// Picture returns the texts of an SVG picture that stand on one another.
func (b *Browser) Picture(t *testing.T, svg string) []string {
	t.Helper()
	p := b.show(t, "<!DOCTYPE html><html lang=en><title>picture</title><body style='margin: 0; width: max-content'>"+svg)
	p.as(t, 2400, "light")
	return p.texts(t, "picture")
}

// Dark returns whether the page is not light where light is asked for, or not dark where dark is.
func (b *Browser) Dark(t *testing.T, html string) (faults []string) {
	t.Helper()
	p := b.show(t, html)
	for scheme, dark := range map[string]bool{"light": false, "dark": true} {
		p.as(t, 390, scheme)
		sum := run(t, p, chromedp.Evaluate[float64](`getComputedStyle(document.body).backgroundColor.match(/\d+/g).slice(0, 3).reduce((a, b) => a + +b, 0)`)) // of red, green and blue, to 765
		if (sum < 382) != dark {
			faults = append(faults, fmt.Sprintf("%s: the paper has %.0f of 765", scheme, sum))
		}
	}
	return faults
}

// Accessible returns the rules of axe-core that the page breaks, in light on a phone and in
// dark on a desk.
func (b *Browser) Accessible(t *testing.T, html string) (faults []string) {
	t.Helper()
	axe := axeCore(t)
	p := b.show(t, html)
	for scheme, width := range map[string]int64{"light": 390, "dark": 1280} {
		p.as(t, width, scheme)
		faults = append(faults, p.broken(t, axe, fmt.Sprintf("%s, %d px", scheme, width))...)
	}
	return faults
}

// axeCore is the text of axe.min.js.
func axeCore(t *testing.T) string {
	t.Helper()
	path := os.Getenv("AXE_CORE")
	if path == "" {
		thorough.Missing(t, "AXE_CORE does not name axe.min.js")
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// broken are the rules of axe-core that the page breaks as it is now.
func (p *tab) broken(t *testing.T, axe, how string) (faults []string) {
	t.Helper()
	do(t, p, evaluate(axe))
	const broken = `axe.run().then(r => r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes[0].html))`
	for _, rule := range run(t, p, chromedp.Evaluate[[]string](broken, chromedp.EvalAwaitPromise)) {
		faults = append(faults, how+": "+rule)
	}
	return faults
}

// A Paper is a size of paper, in inches.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are A4 and letter.
func Papers() []Paper {
	return []Paper{{"A4", 210 / 25.4, 297 / 25.4}, {"letter", 8.5, 11}}
}

// sheet begins a page object of a PDF.
var sheet = regexp.MustCompile(`/Type\s*/Page\b`)

// sheets prints the page and counts the sheets.
func (p *tab) sheets(t *testing.T, paper Paper) int {
	t.Helper()
	pdf := run(t, p, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperSize{Width: paper.Width, Height: paper.Height}), chromedp.PDFPrintBackground()))
	return len(sheet.FindAll(pdf, -1))
}

// onPaper shows the page as it is laid out on a paper, between margins of 12 mm.
func onPaper(t *testing.T, p *tab, paper Paper) {
	t.Helper()
	const pixels, margin = 96, 2 * 12 / 25.4
	do(t, p, chromedp.EmulateViewport(int64((paper.Width-margin)*pixels), 1000), call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
}

// Alone returns how what the selector names is not the first printed sheet, all of it and
// nothing else, and which of its texts stand on one another there. What follows it and the next
// section is left out, since it moves neither.
func (b *Browser) Alone(t *testing.T, html, selector string) (faults []string) {
	t.Helper()
	const rest = " ~ section ~ section { display: none !important; } "
	p := b.show(t, html)
	hide := func(css string) {
		do(t, p, evaluate(fmt.Sprintf(`{
			const old = document.getElementById("alone");
			if (old) old.remove();
			const style = document.createElement("style");
			style.id = "alone";
			style.textContent = %q;
			document.head.append(style);
		}`, css)))
	}
	for _, paper := range Papers() {
		hide(selector + rest)
		both := p.sheets(t, paper)
		hide(selector + rest + selector + " { display: none !important; }")
		next := p.sheets(t, paper)
		hide(selector + rest + selector + " ~ * { display: none !important; } " + selector + " { break-after: auto !important; }")
		alone := p.sheets(t, paper)
		if alone != 1 {
			faults = append(faults, fmt.Sprintf("%s: %s alone takes %d sheets", paper.Name, selector, alone))
		} else if both != next+1 {
			faults = append(faults, fmt.Sprintf("%s: %d sheets with %s and %d without: it shares one", paper.Name, both, selector, next))
		}
		onPaper(t, p, paper)
		faults = append(faults, p.texts(t, paper.Name)...)
		do(t, p, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}))
	}
	return faults
}
