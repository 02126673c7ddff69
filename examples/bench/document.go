package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"

	"example.com/closefit/examples/kit/bench"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/record"
)

//go:embed page/*.js
var scripts embed.FS

//go:embed page/page.css
var style string

// started is what a page begins with.
type started struct {
	Served   bool              `json:"served"`
	Kept     bool              `json:"kept"`     // in a file, by the program
	Identity string            `json:"identity"` // under which a browser keeps what belongs to this job
	Name     string            `json:"name"`
	Text     string            `json:"text"`
	Beside   map[string]string `json:"beside"`
	View     *bench.View       `json:"view"` // of that text, seen before the library is open; null if it is to be asked for
}

// identityOf tells the state of one page from that of others: by what the page began with.
func identityOf(s bench.Source, path string) string {
	sum := sha256.Sum256([]byte(s.Name + "\x00" + path + "\x00" + string(s.Text)))
	return hex.EncodeToString(sum[:8])
}

// section is one of the page's, whose content the library makes.
func section(id, heading string, more ...page.Part) page.Markup {
	return page.Join(page.El("section", page.ID(id), page.Attr("aria-labelledby", id+"-heading"),
		page.El("h2", page.ID(id+"-heading"), page.Text(heading)), page.Join(more...), page.El("div", page.ID("in-"+id))), page.Line)
}

// jumps lead to the sections, which on a phone are far below.
func jumps() page.Markup {
	to := [][2]string{{"engine", "Engine"}, {"missing", "To measure"}, {"gates", "Gates"}, {"shopping", "Shopping"}, {"instruments", "Instruments"}, {"walk", "Tightening"}, {"card", "Card"}}
	return page.El("nav", page.Class("jump"), page.Attr("aria-label", "sections of the page"), page.Each(to, func(x [2]string) page.Markup {
		return page.El("a", page.Attr("href", "#"+x[0]), page.Text(x[1]))
	}))
}

func plainButton(id, text string) page.Markup {
	return page.El("button", page.Attr("type", "button"), page.ID(id), page.Text(text))
}

// document is the page of a job.
func document(k started, blocks ...page.Block) (page.Document, error) {
	begin, err := json.Marshal(k)
	if err != nil {
		return page.Document{}, err
	}
	kept := "A demonstration of an invented engine. Nothing of it is kept."
	var files page.Part
	walk := page.Part(page.El("section", page.ID("walk"), page.Attr("aria-labelledby", "walk-heading"), page.El("h2", page.ID("walk-heading"), page.Text("Tightening")), page.El("div", page.ID("in-walk"))))
	switch {
	case !k.Served:
		kept = "This page stands alone: it keeps what is typed in this browser, where the browser lets it. Export the job file to keep it for good."
		files = page.El("div", page.Class("files"), plainButton("export", "Export the job file"),
			page.El("label", page.Class("file"), page.Text("Import a job file"), page.El("input", page.Attr("type", "file"), page.ID("import"), page.Attr("accept", ".toml"))))
		walk = page.El("section", page.ID("walk"), page.Attr("aria-labelledby", "walk-heading"), page.El("h2", page.ID("walk-heading"), page.Text("Tightening")),
			page.El("p", page.Text("Bolts are not pulled by this page: a browser keeps nothing that a bolt may hang on. Walk the tightening with the program, bench or torquewalk, which keep its ledger twice on the disk.")))
	case k.Kept:
		kept = "Readings are kept in " + k.Name + " as they are stored."
	}
	head := page.El("header", page.Line,
		page.El("h1", page.ID("job"), page.Text("Bench")), page.Line,
		page.El("p", page.ID("count"), page.Class("note")), page.Line,
		page.El("p", page.Class("note"), page.Text(kept)), page.Line,
		page.El("p", page.ID("status"), page.Attr("role", "status"), page.Attr("hidden", "")), page.Line,
		page.El("p", page.ID("stored"), page.Class("hidden"), page.Attr("role", "status")), page.Line,
		files, page.Line,
		page.El("section", page.ID("about"), page.Attr("aria-label", "what is this engine, who builds it"),
			page.El("details", page.El("summary", page.Text("What is this engine, who builds it?")), page.El("div", page.ID("in-about")))), page.Line)
	// Undo stays where a thumb reaches it, however far the page is scrolled.
	thumb := page.El("div", page.Class("thumb"), page.El("p", page.ID("undone"), page.Attr("role", "status")), page.El("button", page.Attr("type", "button"), page.ID("undo"), page.Attr("disabled", ""), page.Text("Undo")))
	sheet := page.El("dialog", page.ID("sheet"), page.Attr("aria-labelledby", "sheet-title"), page.Line,
		page.El("div", page.ID("sheet-body")), page.Line,
		page.El("p", page.ID("says"), page.Class("hidden"), page.Attr("role", "status"), page.Attr("aria-live", "polite")), page.Line,
		page.El("div", page.ID("verdict"), page.Attr("tabindex", "0"), page.Attr("role", "group"), page.Attr("aria-label", "verdict")), page.Line,
		page.El("div", page.ID("sheet-foot"), plainButton("close", "Close"),
			page.El("button", page.Attr("type", "button"), page.ID("store"), page.Attr("disabled", ""), page.Text("Store")),
			page.El("button", page.Attr("type", "button"), page.ID("stands"), page.Attr("hidden", ""), page.Text("Read again, it stands: store"))), page.Line)
	main := page.El("main", page.Line, head,
		page.El("div", page.Class("columns"), page.El("div",
			section("next", "Next"), jumps(), section("engine", "Engine")),
			page.El("div", section("missing", "Still to measure"), section("gates", "Gates"), section("shopping", "Shopping list"), section("instruments", "Instruments"), walk)), page.Line,
		section("card", "Bench card", plainButton("print", "Print the card")),
		page.El("p", page.Class("note caution"), page.Text("The engine maker's manual and licensed practice come first. closefit holds no limits of its own.")), page.Line, thumb, page.Line)
	d := page.Document{Title: "Bench", Style: record.Style() + style, Body: page.Join(main, page.Line, sheet, page.Line), Hash: sha256.Sum256, WebAssembly: true, Connect: k.Served,
		Scripts: []page.Script{page.LoaderScript(), page.ScriptOf(scripts, "page/keep.js"), page.ScriptOf(scripts, "page/type.js"), page.ScriptOf(scripts, "page/walk.js"), page.ScriptOf(scripts, "page/bench.js")},
		Blocks:  append([]page.Block{{ID: "started", Data: begin}}, blocks...)}
	return d, nil
}

// alone is the page as one file, with the job and the packed library in it.
func alone(k *keeper, packed []byte) ([]byte, error) {
	s, err := k.now()
	if err != nil {
		return nil, err
	}
	begin := started{Name: s.Name, Text: string(s.Text), Beside: s.Beside, Identity: identityOf(s, "")}
	if v, err := new(bench.Session).Open(context.Background(), bench.OpenQuestion{Name: s.Name, Text: begin.Text, Beside: s.Beside}); err == nil {
		begin.View = &v // else the page says what is wrong when it opens the job
	}
	d, err := document(begin, page.Block{ID: "module", Data: packed})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = d.Write(&b)
	return b.Bytes(), err
}
