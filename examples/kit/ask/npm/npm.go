// Package npm makes the library into a package for JavaScript: a folder that npm, node and
// bundlers take as it is, with the module, the loader, a function for each question, their types
// and schema, and the licences of all that is compiled in.
package npm

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/schema"
	"example.com/closefit/examples/kit/ask/whole"
	"example.com/closefit/examples/kit/files/wholefile"
	"example.com/closefit/examples/kit/page"
	"example.com/closefit/examples/kit/page/module"
)

//go:embed README.md
var readme []byte

//go:embed package.json
var description []byte

//go:embed head.js
var head string

// Write writes the package into the folder, which it makes if it is not there. It needs the go
// command, and the tree.
func Write(ctx context.Context, folder string) error {
	text, err := module.Build(ctx, module.Whole)
	if err != nil {
		return err
	}
	own, others, err := module.Licences(ctx, module.Whole)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for name, content := range map[string][]byte{
		"package.json":           description,
		"README.md":              readme,
		"LICENSE":                own,
		"LICENSES-OF-OTHERS.txt": others,
		"closefit.wasm":          text,
		"closefit.schema.json":   schema.JSON,
		"loader.js":              []byte(page.Loader),
		"loader.d.ts":            loaderTypes,
		"index.js":               functions(whole.Questions()),
		"index.d.ts":             declarations(whole.Questions()),
	} {
		if err := wholefile.Write(filepath.Join(folder, name), content); err != nil {
			return err
		}
	}
	return nil
}

//go:embed loader.d.ts
var loaderTypes []byte

// functions returns index.js.
func functions(set ask.Set) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for _, q := range set {
		fmt.Fprintf(&b, "\n// %s\nexport async function %s(asked) {\n  return call(%q, asked);\n}\n", q.Does, function(q), q.Name)
	}
	return b.Bytes()
}

// function is the name of a question's function: "bench view" is benchView.
func function(q ask.Question) string {
	words := strings.Fields(q.Name)
	for i := range words {
		if i > 0 {
			words[i] = strings.ToUpper(words[i][:1]) + words[i][1:]
		}
	}
	return strings.Join(words, "")
}

// declarations returns index.d.ts.
func declarations(set ask.Set) []byte {
	var b bytes.Buffer
	b.Write(schema.TypeScript)
	b.WriteString(`
import type { Source as ModuleSource } from "./loader.js"; // a Source of a question is another thing
export { Refused, Broken } from "./loader.js";

/** Opens the module from elsewhere than beside this file. Without it the first question opens it. */
export function load(source: ModuleSource): Promise<void>;

/** Asks a question by its name. */
export function call<Q extends keyof Questions>(question: Q, asked: Questions[Q]["with"]): Promise<Questions[Q]["answer"]>;
`)
	for _, q := range set {
		fmt.Fprintf(&b, "\n/** %s */\nexport function %s(asked: Questions[%q][\"with\"]): Promise<Questions[%[3]q][\"answer\"]>;\n", q.Does, function(q), q.Name)
	}
	return b.Bytes()
}
