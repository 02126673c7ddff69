package pagetest_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// has fails unless there is one fault or more, and each word stands in one of them.
func has(t *testing.T, what string, faults []string, words ...string) {
	t.Helper()
	if len(faults) == 0 {
		t.Errorf("%s: no fault", what)
	}
	for _, w := range words {
		if !strings.Contains(strings.Join(faults, "\n"), w) {
			t.Errorf("%s: no %q in %q", what, w, faults)
		}
	}
}

// TestFaultsAreFound: a page that is bad in each way is found to be, and a plain one is not.
func TestFaultsAreFound(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	const head = `<!DOCTYPE html><html lang="en"><meta name="viewport" content="width=device-width"><title>t</title>`
	const plain = head + `<style>@media print { .card { break-after: page; } @page { margin: 12mm; } } body { background: #fff; } @media (prefers-color-scheme: dark) { body { background: #111; color: #eee; } }</style>` +
		`<main><section class="card"><h1>card</h1><p>one</p></section><section><h2>two</h2><p>three</p></section></main>`
	for what, faults := range map[string][]string{"texts": b.Texts(t, plain), "sheets": b.Alone(t, plain, ".card"), "dark": b.Dark(t, plain), "picture": b.Picture(t, `<svg viewBox="0 0 100 100"><text y="20">a</text></svg>`)} {
		if len(faults) > 0 {
			t.Errorf("a plain page, %s: %q", what, faults)
		}
	}
	has(t, "texts on one another", b.Texts(t, head+`<main><p style="position: absolute; top: 0">first</p><p style="position: absolute; top: 5px">second</p></main>`), `"first" stands on "second"`, "360 px", "1280 px")
	const under = `<main><p style="position: absolute; top: 0">below</p></main><dialog style="margin: 0; padding: 0; border: 0; inset: 0"><p style="height: 1.2em; overflow: auto"><span>first</span><br>out of sight</p>`
	const opens = `</dialog><script>document.querySelector("dialog").showModal()</script>`
	if faults := b.Texts(t, head+under+opens); len(faults) > 0 {
		t.Errorf("a dialog over a page: %q", faults)
	}
	has(t, "texts on one another in a dialog", b.Texts(t, head+under+`<p style="position: absolute; top: 5px">second</p>`+opens), `"first" stands on "second"`)
	has(t, "a wide page", b.Texts(t, head+`<main><p style="white-space: nowrap">`+strings.Repeat("wide ", 90)+`</p></main>`), "ends at", "390 px")
	has(t, "a picture from outside", b.Texts(t, head+`<main><p>text</p><img alt="" src="http://127.0.0.1:9/picture.png"></main>`), "the page asks for http://127.0.0.1:9/picture.png")
	has(t, "no text", b.Texts(t, head), "no text")
	has(t, "no dark colours", b.Dark(t, head+`<style>body { background: #fff; }</style><p>text`), "dark")
	has(t, "a card that shares its sheet", b.Alone(t, strings.Replace(plain, "break-after: page;", "", 1), ".card"), "A4", "letter", "shares")
	has(t, "a card of more sheets than one", b.Alone(t, strings.Replace(plain, "<p>one</p>", strings.Repeat("<p>one</p>", 60), 1), ".card"), "alone takes")
}
