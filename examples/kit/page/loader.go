package page

import _ "embed"

// Loader is the loader of the library's module, an ES module without imports, for a browser
// and for node:
//
//	import { open } from "./loader.js";
//	const library = await open(fetch("closefit.wasm"));
//	const answer = library.call("convert", { … });
//
// Its first lines say what open takes.
//
//go:embed loader.js
var Loader string

// LoaderScript is Loader as a script of a Document.
func LoaderScript() Script { return Script{Loader} }
