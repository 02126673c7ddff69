//go:build !nobrowser

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// The codes of a block are tapped on a phone, one of them once more; each location says at once which shells it gets;
// the file has the row, and undone it is what it was. The engine's build is typed, and directions are chosen.
func TestCodesByTouch(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	text := demonstration(t, "all-proven")
	s := serving(t, text, must(library()))
	v := browser.Visit(t, s.address())
	v.As(t, 360, "light")
	b := opened(t, v)
	picture := func(name string) {
		if folder := os.Getenv("LOOK"); folder != "" {
			v.Picture(t, filepath.Join(folder, "bench3-"+name+".png"))
		}
	}
	b.tap(`[data-at="codes"]`)
	b.opens("#sheet-body", "codes", "main", "upper")
	for range 5 {
		b.tap(`#sheet-body [data-code="back"]`)
	}
	for _, code := range []string{"L", "K", "M", "L"} {
		b.tap(`#sheet-body [data-code="` + code + `"]`)
	}
	b.is(`document.getElementById("store").disabled && document.getElementById("verdict").textContent.includes("1 more")`)
	b.tap(`#sheet-body [data-code="?"]`)
	b.is(`document.getElementById("verdict").textContent.includes("not legible")`)
	picture("codes")
	b.tap(`#verdict [data-word="2"]`)
	b.tap(`#sheet-body [data-code="K"]`)
	b.is(`document.getElementById("typed").value === "L K K L ?"`)
	b.stores()
	now, err := s.keeper.now()
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(string(text), `upper = "L K M L K"`, `upper = "L K K L ?"`, 1); string(now.Text) != want {
		t.Error("the file has not the row alone changed")
	}
	b.tap("#undo")
	b.is(`document.getElementById("undo").disabled`)
	if now, err = s.keeper.now(); err != nil || string(now.Text) != string(text) {
		t.Errorf("undone, the file is not what it was: %v", err)
	}
	b.tap("#about summary")
	picture("page")
	b.opens("#about", "about", "", "build")
	v.Run(t, `{ const typed = document.getElementById("typed"); typed.value = "rebuild 1,5"; typed.dispatchEvent(new Event("input", { bubbles: true })); }`)
	b.stores()
	if now, err = s.keeper.now(); err != nil || !strings.Contains(string(now.Text), `build = "rebuild 1,5"`) {
		t.Errorf("the build is not in the file: %v", err)
	}
	if got := v.Run(t, `(() => { scrollTo(0, 0); const r = document.getElementById("undo").getBoundingClientRect(); return r.bottom <= innerHeight && r.height >= 48; })()`); got != "true" {
		t.Error("Undo is out of sight, or small")
	}
}

// A cylinder is read in three planes and two directions, each figure by the keypad; the page says which is next. Then
// its planes get another name, on the spot.
func TestStationsByTouch(t *testing.T) {
	thorough.Long(t)
	browser := pagetest.Open(t)
	const reading = `  3 = "74.617 74.616; 74.616 74.615; 74.614 74.614 mm"`
	before, after, ok := strings.Cut(string(demonstration(t, "all-proven")), reading)
	if !ok {
		t.Fatal("the demonstration has another cylinder 3")
	}
	s := serving(t, []byte(before+`  3 = "?"`+after), must(library()))
	v := browser.Visit(t, s.address())
	v.As(t, 360, "light")
	b := opened(t, v)
	next := func(want string) {
		t.Helper()
		b.is(`document.getElementById("station").textContent === "Now: ` + want + `"`)
	}
	b.tap(`[data-at="cylinder 3"]`)
	b.opens("#sheet-body", "reading", "cylinder", "3")
	next("top, along the crank")
	b.types("74.617")
	next("top, along the crank")
	b.types(" ")
	next("top, across it")
	b.types("74.616; ")
	next("middle, along the crank")
	b.types("74.616 74.615; 74.614 ")
	next("foot, across it")
	if got := v.Run(t, `(() => { const f = document.getElementById("typed"); return f.scrollWidth > f.clientWidth && f.scrollLeft > f.scrollWidth - f.clientWidth - 2; })()`); got != "true" {
		t.Error("what was typed last is out of sight")
	}
	if folder := os.Getenv("LOOK"); folder != "" {
		v.Picture(t, filepath.Join(folder, "bench4-stations.png"))
	}
	b.types("74.614 ")
	next("one too many")
	b.tap(`#sheet-body [data-type="back"]`)
	b.stores()
	now, err := s.keeper.now()
	if err != nil {
		t.Fatal(err)
	}
	if string(now.Text) != before+reading+after {
		t.Error("the file has not what was typed, and nothing else")
	}
	b.tap(`[data-at="cylinder 3"]`)
	b.opens("#sheet-body", "reading", "cylinder", "3")
	b.opens("#sheet-body", "planes", "cylinder", "")
	v.Run(t, `{ const typed = document.getElementById("typed"); typed.value = "top; middle; skirt"; typed.dispatchEvent(new Event("input", { bubbles: true })); }`)
	b.stores()
	if now, err = s.keeper.now(); err != nil || !strings.Contains(string(now.Text), `planes = ["top", "middle", "skirt"]`) {
		t.Errorf("the planes have not their new names: %v", err)
	}
}
