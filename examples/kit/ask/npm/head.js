// closefit: the arithmetic of assembling an engine's bottom end. index.d.ts says what each function takes and returns.
import { open, Refused, Broken } from "./loader.js";

export { Refused, Broken };

let library = null; // the promise of the opened module

// load opens the module from elsewhere than beside this file.
export async function load(source) {
  library = open(source);
  await library;
}

// beside is the module beside this file. Node cannot fetch files.
async function beside() {
  const url = new URL("./closefit.wasm", import.meta.url);
  if (url.protocol !== "file:" || typeof process === "undefined") return fetch(url);
  const { readFile } = await import(/* @vite-ignore */ /* webpackIgnore: true */ "node:fs/promises");
  return readFile(url);
}

// call asks a question by its name. One that the module could not survive closes it, and the next question opens it anew.
export async function call(question, asked) {
  library ??= open(beside());
  const opened = library;
  try {
    return (await opened).call(question, asked);
  } catch (e) {
    if (!(e instanceof Refused) && library === opened) library = null;
    throw e;
  }
}
