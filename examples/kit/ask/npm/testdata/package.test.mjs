// Run by npm_external_test.go, in a folder where closefit stands in node_modules and cases.json holds questions with the answers
// of the library itself.
import test from "node:test";
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { gzipSync } from "node:zlib";
import { createRequire } from "node:module";
import * as closefit from "closefit";
import { open, Refused, Broken } from "closefit/loader.js";

const file = createRequire(import.meta.url).resolve("closefit/closefit.wasm");
const bytes = await readFile(file);
const cases = JSON.parse(await readFile("cases.json", "utf8"));

test("the answers are those of the library, byte for byte", async () => {
  const library = await open(bytes);
  for (const c of cases) assert.equal(library.ask(c.document), c.reply, c.name);
});

test("the functions answer what the module does, and throw what it refuses", async () => {
  for (const c of cases.filter((c) => c.document.length < 4000)) {
    const { question, with: asked } = JSON.parse(c.document);
    const { answer, error } = JSON.parse(c.reply);
    const ask = closefit[question] ? () => closefit[question](asked) : () => closefit.call(question, asked);
    if (answer !== undefined) {
      assert.deepEqual(await ask(), answer, c.name);
    } else {
      await assert.rejects(ask, (e) => {
        assert.ok(e instanceof Refused, c.name);
        assert.equal(e.message, error.message);
        for (const key of ["kind", "where", "column", "found", "write"]) assert.equal(e[key], error[key], c.name);
        return true;
      });
    }
  }
});

test("a document that is cut short, is no JSON or is too long is answered with an error", async () => {
  const library = await open(bytes);
  const whole = cases[0].document;
  for (const document of ["", "{", "null", "x", whole.slice(0, -1), whole.slice(0, 50), "\u0000", "\ud800"]) {
    assert.ok(JSON.parse(library.ask(document)).error.message, document);
  }
  assert.throws(() => library.ask(" ".repeat(3_000_000)), (e) => e instanceof Refused && e.kind === "too much to answer");
  assert.equal(library.ask(whole), cases[0].reply);
});

test("memory is given back", async () => {
  const library = await open(bytes);
  const light = cases.filter((c) => c.document.length < 4000);
  const ask = (n) => {
    for (let i = 0; i < n; i++) library.ask(light[i % light.length].document);
    return library.size;
  };
  const calls = Number(process.env.CALLS);
  const after = ask(calls / 5);
  assert.ok(ask(calls - calls / 5) <= after * 1.25 + 2 ** 20, `${after} bytes after ${calls / 5} calls, ${library.size} after ${calls}`);
});

test("the module opens from each kind of source", async () => {
  const packed = gzipSync(bytes);
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength);
  const response = (type) => new Response(bytes, { headers: { "Content-Type": type } });
  for (const source of [buffer, packed, packed.toString("base64"), response("application/wasm"), Promise.resolve(response("text/plain"))]) {
    assert.equal((await open(source)).ask(cases[0].document), cases[0].reply);
  }
  await assert.rejects(open(new Response("", { status: 404 })), /404/);
  await assert.rejects(open("bm8gbW9kdWxl"));
});

// A module that is written by hand:
//   (module (memory (export "memory") 1)
//     (func (export "take") (param i32) (result i32) i32.const 8)
//     (func (export "call") (param i32 i32) (result i64) unreachable)
//     (func (export "_initialize")))
const trap = "AGFzbQEAAAABDwNgAX8Bf2ACf38BfmAAAAMEAwABAgUDAQABByYEBm1lbW9yeQIABHRha2UAAARjYWxsAAELX2luaXRpYWxpemUAAgoNAwQAQQgLAwAACwIACw==";

test("a module that broke says so, and stays broken until it is opened again", async () => {
  const library = await open(trap);
  assert.throws(() => library.call("judge", {}), (e) => e instanceof Broken && /unreachable/.test(e.message));
  assert.throws(() => library.ask("{}"), Broken);
  await closefit.load(trap);
  await assert.rejects(closefit.convert({}), Broken);
  assert.equal((await closefit.convert({ value: "1 in", to: "mm", round: "exact", places: null })).value, "25.4 mm");
});
