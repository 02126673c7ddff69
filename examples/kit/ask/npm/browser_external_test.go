package npm_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/ask/asktest"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/page/module"
	"example.com/closefit/examples/kit/page/pagetest"
	"example.com/closefit/internal/thorough"
)

// site serves the package and the cases, with an empty page before them.
func site(t testing.TB) http.Handler {
	files := http.NewServeMux()
	files.Handle("/", http.FileServer(http.Dir(filepath.Join(written(t), "node_modules", "closefit"))))
	files.HandleFunc("/{$}", func(w http.ResponseWriter, _ *http.Request) {
		io.WriteString(w, `<!DOCTYPE html><meta charset="utf-8"><title>closefit</title>`)
	})
	files.HandleFunc("/cases.json", func(w http.ResponseWriter, _ *http.Request) { w.Write(cases(t)) })
	return files
}

// TestBrowser: a browser's answers are those of the library compiled for this machine, byte for
// byte; the functions find the module beside them.
func TestBrowser(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	wrong := pagetest.Served[[]string](t, b, site(t), 1, `(async () => {
		const { open } = await import("/loader.js");
		const library = await open(fetch("/closefit.wasm"));
		const wrong = [];
		for (const c of await (await fetch("/cases.json")).json()) {
			const reply = library.ask(c.document);
			if (reply !== c.reply) wrong.push(c.name + ": " + reply.slice(0, 500));
		}
		const { convert, Refused } = await import("/index.js");
		if ((await convert({ value: "1 in", to: "mm", round: "exact", places: null })).value !== "25.4 mm") wrong.push("convert");
		try { await convert({}); wrong.push("not refused"); } catch (e) { if (!(e instanceof Refused)) wrong.push(String(e)); }
		return wrong;
	})()`)
	for _, w := range wrong {
		t.Error(w)
	}
}

// TestStandsAlone: a page in a file, with loader and module inside, answers without a server.
func TestStandsAlone(t *testing.T) {
	thorough.Long(t)
	b := pagetest.Open(t)
	text, err := module.Text(read(t, filepath.Join(written(t), "node_modules", "closefit", "closefit.wasm")))
	if err != nil {
		t.Fatal(err)
	}
	c := asktest.Library()[0]
	name := filepath.Join(t.TempDir(), "page.html")
	html := fmt.Sprintf("<!DOCTYPE html><meta charset=\"utf-8\"><title>alone</title><script id=module type=text/plain>%s</script><script type=module>\n%s\nglobalThis.library = open(document.getElementById(\"module\").textContent);\n</script>", text, page.Loader)
	if err := os.WriteFile(name, []byte(html), 0o644); err != nil {
		t.Fatal(err)
	}
	document, err := json.Marshal(string(c.Document()))
	if err != nil {
		t.Fatal(err)
	}
	reply := pagetest.At[string](t, b, "file://"+filepath.ToSlash(name), 1, fmt.Sprintf("library.then((l) => l.ask(%s))", document))
	if want := native(t, c); reply != want {
		t.Errorf("%s", reply)
	}
}

// measuring times what a page or a program has to wait for, in milliseconds.
const measuring = `async (open, bytes, document) => {
	const best = async (n, f) => {
		let least = Infinity;
		for (let i = 0; i < n; i++) { const t = performance.now(); await f(); least = Math.min(least, performance.now() - t); }
		return least;
	};
	const whole = await best(3, () => open(bytes));
	let library;
	const first = await best(3, async () => { library = await open(bytes); const t = performance.now(); library.ask(document); return performance.now() - t; }) - whole;
	const ask = await best(50, () => library.ask(document));
	return { open: whole, first: Math.max(0, first), ask };
}`

type waits struct{ Open, First, Ask float64 }

func (w waits) report(b *testing.B, where string) {
	b.ReportMetric(w.Open, where+"-open-ms")
	b.ReportMetric(w.First, where+"-first-ms")
	b.ReportMetric(w.Ask, where+"-judge-ms")
}

// BenchmarkJudge measures the library compiled for this machine beside node, Chromium, and a Chromium
// whose processor is slowed down four times: the time to open the module, of the first judge, and of
// one judge after that. The nanoseconds of an operation are those of the native judge. No instrument
// of it states degrees of freedom, whose probabilities take many times as long.
func BenchmarkJudge(b *testing.B) {
	c := asktest.Library()[slices.IndexFunc(asktest.Library(), func(c asktest.Case) bool { return c.Name == "judge, a pressure" })]
	doc := c.Document()
	for b.Loop() {
		answerOf(b, doc)
	}
	document, err := json.Marshal(string(doc))
	if err != nil {
		b.Fatal(err)
	}
	text := read(b, filepath.Join(written(b), "node_modules", "closefit", "closefit.wasm"))
	packed, err := module.Packed(text)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(packed))/1e6, "gzip-MB")
	put(b, "measure.mjs", fmt.Appendf(nil, `import { open } from "closefit/loader.js"; import fs from "node:fs";
console.log(JSON.stringify(await (%s)(open, fs.readFileSync("node_modules/closefit/closefit.wasm"), %s)));`, measuring, document))
	var w waits
	if err := json.Unmarshal([]byte(strings.TrimSpace(run(b, nil, thorough.Program(b, "node"), "measure.mjs"))), &w); err != nil {
		b.Fatal(err)
	}
	w.report(b, "node")
	browser := pagetest.Open(b)
	for name, slow := range map[string]float64{"chromium": 1, "chromium/4": 4} {
		pagetest.Served[waits](b, browser, site(b), slow, fmt.Sprintf(`(async () => {
			const { open } = await import("/loader.js");
			const bytes = await (await fetch("/closefit.wasm")).arrayBuffer();
			return (%s)(open, bytes, %s);
		})()`, measuring, document)).report(b, name)
	}
}
