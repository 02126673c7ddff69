// Answers each line of standard input with a line: node lines.mjs PACKAGE
import { createInterface } from "node:readline";
import { readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const folder = resolve(process.argv[2]);
const { open } = await import(pathToFileURL(join(folder, "loader.js")));
const library = await open(readFile(join(folder, "closefit.wasm")));
for await (const line of createInterface({ input: process.stdin })) process.stdout.write(library.ask(line) + "\n");
