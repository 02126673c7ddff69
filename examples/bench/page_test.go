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

func init() { runs = pagetest.Share }

// a bench is a page that somebody works on.
type atBench struct {
	*pagetest.Visit
	t *testing.T
}

// onSmallPhone opens a demonstration, as it stands in one file, on a phone of 360 by 640.
func onSmallPhone(t *testing.T, name string) atBench {
	t.Helper()
	v := pagetest.Open(t).Visit(t, file(t, demonstration(t, name)))
	v.As(t, 360, "light")
	v.Window(t, 360, 640)
	return opened(t, v)
}

// opened waits until a page shows its job.
func opened(t *testing.T, v *pagetest.Visit) atBench {
	t.Helper()
	v.Is(t, `document.body.dataset.ready`)
	return atBench{v, t}
}

func (b atBench) tap(selector string) { b.t.Helper(); b.Tap(b.t, selector) }
func (b atBench) is(condition string) { b.t.Helper(); b.Is(b.t, condition) }

// types touches the keys of a text.
func (b atBench) types(text string) {
	b.t.Helper()
	for len(text) > 0 {
		key := text[:1]
		for _, long := range []string{"; ", "..", " to ", "<= ", ">= "} {
			if strings.HasPrefix(text, long) {
				key = long
			}
		}
		b.tap(fmt.Sprintf(`#sheet-body [data-type="%s"]`, key))
		text = text[len(key):]
	}
}

// stores touches Store, and waits until it is.
func (b atBench) stores() {
	b.t.Helper()
	before := b.Run(b.t, `document.body.dataset.ready`)
	b.is(`!document.getElementById("store").disabled && !document.getElementById("store").hidden`)
	b.tap("#store")
	b.is(`document.body.dataset.ready !== ` + before + ` && !document.getElementById("sheet").open`)
}

func (b atBench) opens(within, key, line, place string) {
	b.t.Helper()
	b.tap(fmt.Sprintf(`%s [data-key="%s"][data-line="%s"][data-place="%s"]`, within, key, line, place))
}

// file writes the page that stands alone, and returns its address.
func file(t *testing.T, text []byte) string {
	t.Helper()
	packed, err := library()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "engine.toml")
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	k, err := newKeeper(path)
	if err != nil {
		t.Fatal(err)
	}
	html, err := alone(k, packed)
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "bench.html")
	if err := os.WriteFile(out, html, 0o600); err != nil {
		t.Fatal(err)
	}
	return "file://" + out
}

// A whole engine is measured from nothing to its card, by touch alone, with a glove, on a phone; only the
// tightening, which the manual gives, is not in it.
func TestWholeEngine(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	packed, err := library()
	if err != nil {
		t.Fatal(err)
	}
	s := serving(t, begun(t), packed)
	v := browser.Visit(t, s.address())
	v.As(t, 360, "light")
	b := opened(t, v)
	add := func(kind, text string) {
		t.Helper()
		b.opens("#instruments", "instrument", kind, kind)
		b.types(text)
		b.stores()
	}
	add("crush strip", "0.045; 0.060; 0.080")
	add("feeler blades", "0.10; 0.15; 0.20")
	limits := func(line, text string) {
		t.Helper()
		b.opens("#missing", "limits", line, "")
		b.types(text)
		b.stores()
	}
	limits("main bearing clearance", "0.040..0.090")
	limits("rod bearing clearance", "0.040..0.090")
	limits("crankshaft end play", "0.08..0.22")
	limits("rod side play", "0.08..0.22")
	limits("top ring end gap", "0.08..0.22")
	says := func(line, place string, facts ...string) {
		t.Helper()
		b.opens("#missing", "reading", line, place)
		for _, fact := range facts {
			what, is, _ := strings.Cut(fact, "=")
			button := fmt.Sprintf(`#sheet-body [data-fact="%s"][data-fact-now="%s"]`, what, is)
			b.tap(button)
			b.is(fmt.Sprintf(`document.querySelector('%s')?.ariaPressed === "true"`, button))
		}
	}
	strip := []string{"bolts=tightened as for assembly", "crankshaft=not turned", "oil=wiped off"}
	for _, r := range []struct {
		line, place string
		facts       []string
	}{{"main bearing clearance", "1", strip}, {"main bearing clearance", "2", nil}, {"rod bearing clearance", "1", strip}} {
		says(r.line, r.place, r.facts...)
		b.tap(`#sheet-body [data-text="0.060 mm"]`)
		b.is(`document.querySelector("#verdict .good")`)
		b.stores()
	}
	for _, r := range []struct {
		line, place string
		facts       []string
	}{{"crankshaft end play", "crankshaft", []string{"crankshaft=levered to its stops"}}, {"rod side play", "1", nil}, {"top ring end gap", "1", []string{"ring=square in its own bore", "depth=as the manual says"}}} {
		says(r.line, r.place, r.facts...)
		b.tap(`#sheet-body [data-blade="0.10"][data-goes=true]`)
		b.tap(`#sheet-body [data-blade="0.15"][data-goes=false]`)
		b.is(`document.querySelector("#verdict .good")`)
		b.stores()
	}
	says("passage", "main gallery")
	b.tap(`#sheet-body [data-text=clean]`)
	b.stores()
	if got := v.Run(t, `document.getElementById("in-missing").textContent`); !strings.Contains(got, "Nothing that is asked for is left to read") {
		t.Errorf("still missing: %s", got)
	}
	if got := v.Run(t, `document.getElementById("in-card").textContent`); !strings.Contains(got, "main 2") || strings.Count(got, "proven") < 3 {
		t.Errorf("the card does not have what was read: %.300s", got)
	}
	now, err := s.keeper.now()
	if err != nil {
		t.Fatal(err)
	}
	j, err := now.Read()
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range a.Items {
		if i.Standing != job.Proven && i.Name != "tightening plan" {
			t.Errorf("%s: %s, %s", i.Name, i.Standing, i.Why)
		}
	}
	// Everything is taken back again, one after another, to the file that was begun.
	for range 40 {
		before := v.Run(t, `document.body.dataset.ready`)
		if v.Run(t, `document.getElementById("undo").disabled`) == "true" {
			break
		}
		v.Run(t, `document.getElementById("undo").click()`) // a tap that follows another at once counts as the same one
		b.is(`document.body.dataset.ready !== ` + before)
	}
	if after, err := os.ReadFile(s.keeper.path); err != nil || string(after) != string(begun(t)) {
		t.Errorf("all undone, the file is not what it was: %v", err)
	}
}

// Two tabs on one job: what one stores the other shows, and the second of two who type the same is told.
func TestTwoTabs(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	packed, err := library()
	if err != nil {
		t.Fatal(err)
	}
	s := serving(t, demonstration(t, "lock-gate"), packed)
	one, two := opened(t, browser.Visit(t, s.address())), opened(t, browser.Visit(t, s.address()))
	for _, b := range []atBench{one, two} {
		b.opens("#missing", "reading", "passage", "feed to the jets")
	}
	one.tap(`#sheet-body [data-text=clean]`)
	one.stores()
	want := one.Run(t, `document.body.dataset.ready`)
	two.is(`document.body.dataset.ready === ` + want)
	two.is(`document.getElementById("in-missing").textContent.includes("Passage") === false`)
	if got := two.Run(t, `document.querySelector("#sheet-body [data-text=clean]").ariaPressed`); got != `"true"` {
		t.Errorf("the sheet of the other tab is old: %s", got)
	}
}

// A double knock on an act is one act: what comes under the finger meanwhile is not said. An act that is
// refused says why where it was asked, with what was typed.
func TestWalkedByTouch(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	s := serving(t, demonstration(t, "all-proven"), must(library()))
	if _, got := s.ask(t, "POST", "walk", act{Act: "start", Phase: job.Final, Text: "none"}); got["refused"] != false {
		t.Fatal(got)
	}
	b := opened(t, browser.Visit(t, s.address()))
	const idle = `document.getElementById("in-walk").ariaBusy !== "true"`
	b.is(`document.querySelector("#in-walk [data-act=begin]")`)
	b.Run(t, `{
		const box = document.getElementById("in-walk");
		new MutationObserver((_, o) => {
			const done = box.querySelector("[data-act=done]");
			if (!done) return;
			o.disconnect();
			done.click();
			box.dataset.knocked = "twice";
		}).observe(box, { childList: true });
		box.querySelector("[data-act=begin]").click();
	}`)
	b.is(`document.getElementById("in-walk").dataset.knocked === "twice"`)
	b.is(idle)
	if got := b.Run(t, `document.getElementById("in-walk").textContent`); !strings.Contains(got, "0 of ") || !strings.Contains(got, "BEGUN") {
		t.Errorf("the second half of a double knock was taken: %s", got)
	}

	b.tap(`#in-walk summary:has(+ .form [data-act="wrong bolt"])`)
	b.Run(t, `document.querySelector('#in-walk .form:has([data-act="wrong bolt"]) input').value = "cap 99"`)
	b.tap(`#in-walk [data-act="wrong bolt"]`)
	b.is(idle)
	const form = `document.querySelector('#in-walk .form:has([data-act="wrong bolt"])')`
	said := b.Run(t, form+`.querySelector(".said")?.textContent ?? ""`)
	if !strings.Contains(said, "cap 99") || b.Run(t, form+`.querySelector("input").value`) != `"cap 99"` || b.Run(t, form+`.checkVisibility()`) != "true" {
		t.Errorf("a refused act says %s, beside %s", said, b.Run(t, form+`.innerHTML`))
	}
}

// The page that stands alone loses no more than the number being typed.
func TestBattery(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	url := file(t, demonstration(t, "lock-gate"))
	v := browser.Visit(t, url)
	v.As(t, 360, "dark")
	b := opened(t, v)
	b.opens("#missing", "reading", "passage", "feed to the jets")
	b.tap(`#sheet-body [data-text=clean]`)
	b.stores()
	stored := b.Run(t, `document.body.dataset.ready`)
	b.opens("#missing", "reading", "main journal", "4")
	b.types("58.3")
	v.Kill(t)
	b = opened(t, browser.Visit(t, url))
	if got := b.Run(t, `document.body.dataset.ready`); got != stored {
		t.Errorf("what was stored is lost: %s, %s", got, stored)
	}
	b.tap("#undo")
	b.is(`document.getElementById("in-missing").textContent.includes("Passage")`)
	if got := b.Run(t, `document.getElementById("walk").textContent`); !strings.Contains(got, "Bolts are not pulled by this page") {
		t.Errorf("it does not say that it walks no tightening: %s", got)
	}
}

// The page that stands alone shows its job before the library is open, and says that it is being opened; what is
// touched meanwhile is opened then. A job that was changed since the page was written is not shown as it was.
func TestEarlyTouch(t *testing.T) {
	browser := pagetest.Open(t)
	url := file(t, demonstration(t, "lock-gate"))
	v := browser.Visit(t, "about:blank")
	v.First(t, `{
		const compile = WebAssembly.compileStreaming;
		const held = new Promise((done) => { window.release = done; });
		WebAssembly.compileStreaming = async (...source) => (await held, compile(...source));
	}`)
	v.Go(t, url)
	v.Is(t, `document.querySelector('[data-at="main 3"]')`)
	if got := v.Run(t, `[document.body.dataset.ready ?? "", document.querySelector("main").ariaBusy, document.getElementById("undone").textContent.includes("being opened")].join()`); got != `",true,true"` {
		t.Errorf("ready, busy, said so: %s", got)
	}
	v.Run(t, `document.querySelector('[data-at="main 3"]').click(); window.release()`)
	b := opened(t, v)
	b.is(`document.getElementById("sheet").open && document.getElementById("sheet-title").textContent === "Main 3"`)
	if got := b.Run(t, `document.querySelector("main").ariaBusy + document.getElementById("undone").textContent`); got != `"false"` {
		t.Errorf("busy once it is open, and what it says: %s", got)
	}
	b.tap("#close")
	b.opens("#missing", "reading", "passage", "feed to the jets")
	b.tap(`#sheet-body [data-text=clean]`)
	b.stores()
	stored := b.Run(t, `document.body.dataset.ready`)

	v.Go(t, url)
	v.Is(t, `document.querySelector("main")?.ariaBusy === "true"`)
	if got := v.Run(t, `document.querySelectorAll("main [data-at], main [data-key]").length`); got != "0" {
		t.Errorf("%s buttons of an older text are shown", got)
	}
	v.Run(t, `window.release()`)
	if opened(t, v); v.Run(t, `document.body.dataset.ready`) != stored {
		t.Error("what was stored is not what is shown")
	}
}

// A job whose every text is a script shows texts.
func TestHostileJob(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	const script = `<img src=x onerror='window.hit=1'><script>window.hit=1</script>`
	hostile := strconv.Quote(script)
	text := strings.NewReplacer(`"Lock gate, four-cylinder engine"`, hostile, `"feed to the jets"`, hostile, `"the lock keeper's fitter"`, hostile, `"main cap bolts"`, hostile, `"crush strip"]`, hostile+"]",
		`"pair, birch"`, hostile, `"lock gate engine 4711"`, hostile).Replace(string(demonstration(t, "lock-gate")))
	if _, err := job.Read("j", []byte(text)); err != nil {
		t.Fatal(err)
	}
	b := opened(t, browser.Visit(t, file(t, []byte(text))))
	for _, at := range []string{"main 4", "oil", "bolts"} {
		b.tap(`[data-at="` + at + `"]`)
		b.tap("#close")
	}
	if got := b.Run(t, `[window.hit ?? 0, document.querySelectorAll("main img, dialog img, main b[onclick]").length, document.getElementById("job").textContent.includes("<script>")].join()`); got != `"0,0,true"` {
		t.Errorf("hit, elements, shown as text: %s", got)
	}
}

// The numbers of the page, with a processor slowed four times; NUMBERS=1 measures them.
func TestNumbers(t *testing.T) {
	if os.Getenv("NUMBERS") == "" {
		t.Skip("NUMBERS is not set")
	}
	browser := pagetest.Open(t)
	url := file(t, demonstration(t, "lock-gate"))
	info, err := os.Stat(strings.TrimPrefix(url, "file://"))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("the page that stands alone: %.2f MB", float64(info.Size())/1e6)
	v := browser.Visit(t, "about:blank")
	v.As(t, 360, "light")
	v.Slowed(t, 4)
	for range 3 {
		v.Go(t, url)
		b := opened(t, v)
		t.Logf("usable after %s ms", b.Run(t, `Math.round(performance.getEntriesByName("usable")[0].startTime)`))
	}
	b := atBench{v, t}
	b.tap(`[data-at="main 3"]`)
	b.tap(`#sheet-body [data-line="main journal"]`)
	took := b.Run(t, `(async () => {
		const took = [];
		for (const key of ["back", "0", "back", "1", "back", "2", "back", "3", "back", "4"]) {
			const began = performance.now();
			document.querySelector('#sheet-body [data-type="' + key + '"]').click();
			await new Promise(requestAnimationFrame);
			const judged = Math.round(performance.now() - began);
			await new Promise((done) => { const c = new MessageChannel(); c.port1.onmessage = done; c.port2.postMessage(0); });
			took.push(judged + "/" + Math.round(performance.now() - began));
			await new Promise((done) => setTimeout(done, 100));
		}
		return took.join(" ");
	})()`)
	t.Logf("from key to verdict in the page / painted, ms: %s", took)
	var painted []int
	for _, pair := range strings.Fields(strings.Trim(took, `"`)) {
		_, ms, _ := strings.Cut(pair, "/")
		n, err := strconv.Atoi(ms)
		if err != nil {
			t.Fatal(err)
		}
		painted = append(painted, n)
	}
	slices.Sort(painted)
	t.Logf("painted, the middle of them: %d ms; the slowest: %d ms", painted[len(painted)/2], painted[len(painted)-1])
}
