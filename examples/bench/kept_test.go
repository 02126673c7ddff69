//go:build !nobrowser

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// exported touches the button, and returns the file that is written.
func (b atBench) exported(folder, button string) []byte {
	b.t.Helper()
	b.tap(button)
	var all []string
	thorough.Until(b.t, "a file is written", func() bool {
		all, _ = filepath.Glob(filepath.Join(folder, "*"))
		if len(all) != 1 || filepath.Ext(all[0]) != ".toml" {
			return false
		}
		info, err := os.Stat(all[0])
		return err == nil && info.Size() > 0 // the browser first takes the name, with an empty file
	})
	text, err := os.ReadFile(all[0])
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.Remove(all[0]); err != nil {
		b.t.Fatal(err)
	}
	return text
}

// imports gives the page a file of bytes.
func (b atBench) imports(name string, text []byte) {
	b.t.Helper()
	var numbers []string
	for _, c := range text {
		numbers = append(numbers, strconv.Itoa(int(c)))
	}
	b.Run(b.t, `{
		const given = new DataTransfer(), input = document.getElementById("import");
		given.items.add(new File([new Uint8Array([`+strings.Join(numbers, ",")+`])], "`+name+`"));
		input.files = given.files;
		input.dispatchEvent(new Event("change"));
	}`)
	b.is(`document.getElementById("status").textContent.includes("` + name + `")`)
}

// cleaned stores that one passage is clean.
func (b atBench) cleaned() {
	b.t.Helper()
	b.opens("#missing", "reading", "passage", "feed to the jets")
	b.tap(`#sheet-body [data-text=clean]`)
	b.stores()
}

// The job goes out of the page that stands alone and into it byte for byte; what is no job changes nothing; and
// loaded again the page has what was stored.
func TestExports(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	first := demonstration(t, "lock-gate")
	url, folder := file(t, first), t.TempDir()
	v := browser.Visit(t, url)
	v.As(t, 360, "light")
	v.Downloads(t, folder)
	b := opened(t, v)
	if got := b.exported(folder, "#export"); !bytes.Equal(got, first) {
		t.Errorf("nothing was typed, and of %d bytes there are %d others", len(first), len(got))
	}
	b.cleaned()
	want := bytes.Replace(first, []byte(`"feed to the jets" = "?"`), []byte(`"feed to the jets" = "clean"`), 1)
	if bytes.Equal(want, first) {
		t.Fatal("the demonstration has no such line")
	}
	if got := b.exported(folder, "#export"); !bytes.Equal(got, want) {
		t.Error("what is exported is not the job with the reading in its place")
	}
	v.Go(t, url)
	b = opened(t, v)
	if got := b.exported(folder, "#export"); !bytes.Equal(got, want) {
		t.Error("loaded again it has lost the reading")
	}
	// Another job: with a byte order mark and lines with returns.
	other := append([]byte("\ufeff"), bytes.ReplaceAll(begun(t), []byte("\n"), []byte("\r\n"))...)
	b.imports("other.toml", other)
	b.is(`document.getElementById("job").textContent === "An engine of one cylinder"`)
	if got := b.exported(folder, "#export"); !bytes.Equal(got, other) {
		t.Errorf("of %d bytes taken in %d came out", len(other), len(got))
	}
	// What the import replaced is not lost: undone, the job before it is open again, with its own changes to take back.
	b.tap("#undo")
	b.is(`document.getElementById("undone").textContent.includes("engine.toml is open again")`)
	if got := b.exported(folder, "#export"); !bytes.Equal(got, want) {
		t.Error("the import undone, the job before it is another one")
	}
	b.imports("other.toml", other)
	b.is(`document.getElementById("job").textContent === "An engine of one cylinder"`)
	b.Run(t, `{
		const given = new DataTransfer(), input = document.getElementById("import");
		given.items.add(new File(["# ".repeat(600000)], "huge.toml"));
		input.files = given.files;
		input.dispatchEvent(new Event("change"));
	}`)
	b.is(`document.getElementById("status").textContent.includes("huge.toml is not taken, and nothing has changed. It has 2 MB")`)
	for name, text := range map[string]string{"syntax.toml": "title = \n", "bytes.toml": "title = \"\xff\"\n", "empty.toml": ""} {
		b.imports(name, []byte(text))
		if got := b.Run(t, `document.getElementById("status").textContent`); !strings.Contains(got, "is not taken, and nothing has changed") {
			t.Errorf("%s: %s", name, got)
		}
	}
	v.Go(t, url)
	b = opened(t, v)
	if got := b.exported(folder, "#export"); !bytes.Equal(got, other) {
		t.Error("loaded again it has not the job that was imported last")
	}
}

// What is taken back is said beside the button, in words of the bench; a second knock of the same finger takes nothing
// more; and a tab that slept takes what another one stored, and puts nothing of its own over it.
func TestTakenBack(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	url := file(t, demonstration(t, "lock-gate"))
	v := browser.Visit(t, url)
	v.As(t, 360, "light")
	b := opened(t, v)
	b.Run(t, `localStorage.clear()`)
	v.Go(t, url)
	b = opened(t, v)
	b.cleaned()
	b.opens("#missing", "reading", "main journal", "4")
	b.types("58.36")
	b.stores()
	b.Run(t, `{ const undo = document.getElementById("undo"); undo.dispatchEvent(new MouseEvent("click", { bubbles: true, detail: 1 })); undo.dispatchEvent(new MouseEvent("click", { bubbles: true, detail: 2 })); }`)
	b.is(`document.getElementById("undone").textContent === "Taken back: Main journal 4 is open again."`)
	if got := b.Run(t, `(() => { const r = document.getElementById("undone").getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight && !document.getElementById("undo").disabled; })()`); got != "true" {
		t.Error("what was taken back is not seen, or the second knock took more")
	}
	const kept = `JSON.parse(localStorage.getItem(Object.keys(localStorage).find(k => k.startsWith("closefit bench")))).text`
	// Another tab stores, and this one hears nothing of it.
	b.Run(t, `{
		const key = Object.keys(localStorage).find(k => k.startsWith("closefit bench")), job = JSON.parse(localStorage.getItem(key));
		job.text = job.text.replace("title = ", "# another tab\ntitle = ");
		localStorage.setItem(key, JSON.stringify(job));
	}`)
	b.opens("#missing", "reading", "main journal", "4")
	b.types("58.37")
	b.is(`!document.getElementById("store").disabled`)
	b.tap("#store")
	b.is(`document.getElementById("verdict").textContent.includes("Another tab")`)
	if got := b.Run(t, kept+`.includes("another tab") && !`+kept+`.includes("58.37")`); got != "true" {
		t.Error("what the other tab stored is gone")
	}
	b.stores()
	if got := b.Run(t, kept+`.includes("another tab") && `+kept+`.includes('4 = "58.37 mm"')`); got != "true" {
		t.Error("both readings are not there")
	}
}

// A browser whose room runs out keeps what it kept, and what is stored after that stays on the page.
func TestNoRoom(t *testing.T) {
	thorough.Long(t)
	v := pagetest.Open(t).Visit(t, file(t, demonstration(t, "lock-gate")))
	v.As(t, 360, "light")
	b := opened(t, v)
	b.cleaned()
	b.Run(t, `{ Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; }`)
	for i, line := range []string{"main upper wall thickness", "main lower wall thickness"} {
		b.opens("#missing", "reading", line, "4")
		b.types("2")
		b.is(`document.getElementById("stands").checkVisibility() || !document.getElementById("store").disabled`)
		b.Run(t, `document.getElementById(document.getElementById("stands").checkVisibility() ? "stands" : "store").click()`)
		b.is(`!document.getElementById("sheet").open && document.getElementById("status").textContent.includes("keeps nothing")`)
		b.is(`document.querySelectorAll("#missing [data-key=reading]").length === ` + strconv.Itoa(4-i))
	}
}

// A browser that keeps nothing is said at once, with the offer to export; all else works.
func TestKeepsNothing(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	first := demonstration(t, "lock-gate")
	url := file(t, first)
	for name, script := range map[string]string{ // sampled: one of them, whichever comes
		"denied":  `Object.defineProperty(window, "localStorage", { get() { throw new DOMException("denied", "SecurityError"); } });`,
		"full":    `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };`,
		"forgets": `Storage.prototype.setItem = () => {};`,
	} {
		v := browser.Visit(t, "about:blank")
		v.As(t, 360, "light")
		v.First(t, script)
		v.Go(t, url)
		b := opened(t, v)
		const said = `document.getElementById("status").checkVisibility() && document.getElementById("status").textContent`
		for _, when := range []string{"at once", "after a reading"} {
			if got := b.Run(t, said); !strings.Contains(got, "keeps nothing") {
				t.Errorf("%s, %s: %s", name, when, got)
			}
			if when == "at once" {
				b.cleaned()
			}
		}
		folder := t.TempDir()
		v.Downloads(t, folder)
		if got := b.exported(folder, "#status button"); !strings.Contains(string(got), `"feed to the jets" = "clean"`) {
			t.Errorf("%s: the reading is not in what is exported", name)
		}
		if !thorough.Whole() {
			break
		}
	}
}

// Printed, the page is its card, on one sheet.
func TestPrints(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	v := browser.Visit(t, file(t, demonstration(t, "lock-gate")))
	v.As(t, 360, "dark")
	b := opened(t, v)
	words := func(text string) string { return strings.Join(strings.Fields(text), " ") }
	for _, paper := range pagetest.Papers() {
		p := v.Prints(t, paper)
		b.Run(t, `{ const s = document.createElement("style"); s.id = "bare"; s.textContent = "body > *, main > *, #card > * { display: none !important } main, #card, #in-card { display: block !important }"; document.head.append(s); }`)
		card := v.Prints(t, paper)
		b.Run(t, `document.getElementById("bare").remove()`)
		if p.Sheets != 1 || words(p.Text) != words(card.Text) || !strings.Contains(p.Text, "main 4") && !strings.Contains(p.Text, "Main 4") {
			t.Errorf("%s: %d sheets: %.400s", paper.Name, p.Sheets, words(p.Text))
		}
		for _, fault := range p.Faults {
			t.Error(fault)
		}
	}
}

// A reading is typed by the keyboard alone, from the top of the page, its verdict is heard, and what is typed next is
// at hand; with a comma where the language has one.
func TestKeyboard(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	url := file(t, demonstration(t, "lock-gate"))
	for locale, typed := range map[string]string{"en-GB": "58.3605", "de-DE": "58,3605"} {
		v := browser.Visit(t, "about:blank")
		v.In(t, locale)
		v.Go(t, url)
		b := opened(t, v)
		b.Run(t, `localStorage.clear()`)
		v.Go(t, url)
		b = opened(t, v)
		until := func(condition string) {
			t.Helper()
			for range 200 {
				v.Press(t, kb.Tab)
				if b.Run(t, condition) == "true" {
					return
				}
			}
			t.Fatalf("%s: Tab never comes to %s", locale, condition)
		}
		until(`document.activeElement.matches("#engine [data-at='main 3']") && document.activeElement.matches(":focus-visible")`)
		v.Press(t, kb.Enter)
		until(`document.activeElement.matches("#sheet [data-line='main journal']")`)
		v.Press(t, kb.Enter)
		b.is(`document.activeElement.id === "typed"`)
		for range 20 {
			v.Press(t, kb.Backspace)
		}
		v.Press(t, typed)
		b.is(`!document.getElementById("store").disabled`)
		if got := b.Run(t, `document.getElementById("typed").value`); got != strconv.Quote(typed) {
			t.Errorf("%s: it shows %s", locale, got)
		}
		heard := b.Run(t, `[document.getElementById("says").getAttribute("role"), document.getElementById("says").getAttribute("aria-live"), document.getElementById("says").closest("dialog").id].join()`)
		if heard != `"status,polite,sheet"` {
			t.Errorf("%s: the verdict is not heard: %s", locale, heard)
		}
		b.is(`document.getElementById("says").textContent.startsWith("main bearing 3 clearance") && document.getElementById("says").textContent.includes("above limit")`)
		v.Press(t, kb.Enter)
		b.is(`!document.getElementById("sheet").open`)
		b.is(`document.getElementById("stored").textContent.startsWith("Stored")`)
		if got := b.Run(t, `document.activeElement.dataset.at ?? document.activeElement.tagName`); got != `"main 3"` {
			t.Errorf("%s: the focus is on %s", locale, got)
		}
		if got := b.Run(t, `JSON.parse(localStorage.getItem(Object.keys(localStorage).find(k => k.startsWith("closefit bench")))).text.includes('3 = "58.3605 mm"')`); got != "true" {
			t.Errorf("%s: %s is not stored", locale, typed)
		}
		// A key and Enter within one frame store what is seen, and nothing that was judged before it.
		b.Run(t, `document.querySelector("#engine [data-at='main 3']").click(); document.querySelector("#sheet [data-line='main journal']").click()`)
		b.is(`document.activeElement.id === "typed"`)
		b.Run(t, `{
			const field = document.getElementById("typed");
			field.value = field.value.replace(/\d$/, "7");
			field.dispatchEvent(new Event("input", { bubbles: true }));
			for (const press of ["keydown", "keyup"]) field.dispatchEvent(new KeyboardEvent(press, { key: "Enter", bubbles: true }));
		}`)
		b.is(`localStorage.getItem(Object.keys(localStorage).find(k => k.startsWith("closefit bench"))).includes("58.3607 mm")`)
	}
}
