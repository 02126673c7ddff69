// The loader of closefit.wasm. It needs nothing else, and runs in browsers (from file:// too) and in node 18 and later.
//
//   const library = await open(source);
//   library.call("judge", {…})       the answer, or throws Refused
//   library.ask(document)            a whole document, as text, answered with one, as text
//   library.size                     bytes of the memory that it holds
//
// source is a Response or the promise of one, an ArrayBuffer or a view of one, a WebAssembly.Module, or a text: the base64 of the module, with gzip or without.

// Refused is thrown for a question that has no answer. kind, where, column, found and write are null where there is nothing to say.
export class Refused extends Error {
  constructor(error) {
    super(error.message);
    this.name = "Refused";
    for (const key of ["kind", "where", "column", "found", "write"]) this[key] = error[key] ?? null;
  }
}

// Broken is thrown by a module that ended, and from then on by every call. Open it again.
export class Broken extends Error {
  constructor(message) {
    super(message);
    this.name = "Broken";
  }
}

export async function open(source) {
  const module = await compile(await source);
  let memory;
  const view = () => new DataView(memory.buffer); // the buffer is another one whenever the memory grew
  const none = (count, size) => (view().setUint32(count, 0, true), view().setUint32(size, 0, true), 0);
  const lines = ["", "", ""];
  const unknown = 52; // ENOSYS
  const system = {
    args_get: () => 0,
    args_sizes_get: none,
    environ_get: () => 0,
    environ_sizes_get: none,
    sched_yield: () => 0,
    fd_prestat_get: () => 8, // EBADF: there are no folders
    random_get(at, n) {
      for (let done = 0; done < n; done += 65536) crypto.getRandomValues(new Uint8Array(memory.buffer, at + done, Math.min(65536, n - done)));
      return 0;
    },
    clock_time_get(clock, precision, at) {
      view().setBigUint64(at, BigInt(Math.round((clock === 0 ? Date.now() : performance.now()) * 1e6)), true);
      return 0;
    },
    fd_write(file, vectors, n, written) {
      if (file !== 1 && file !== 2) return 8;
      let total = 0;
      for (let i = 0; i < n; i++) {
        const at = view().getUint32(vectors + 8 * i, true);
        const length = view().getUint32(vectors + 8 * i + 4, true);
        lines[file] += new TextDecoder().decode(new Uint8Array(memory.buffer, at, length));
        total += length;
      }
      const whole = lines[file].split("\n");
      lines[file] = whole.pop();
      for (const line of whole) console.error(line);
      view().setUint32(written, total, true);
      return 0;
    },
    // The scheduler asks to be woken later. Nobody can sleep here: all clocks are said to have rung, and it looks at the time itself.
    poll_oneoff(asked, rung, n, count) {
      for (let i = 0; i < n; i++) {
        for (let b = 0; b < 32; b++) view().setUint8(rung + 32 * i + b, 0);
        view().setBigUint64(rung + 32 * i, view().getBigUint64(asked + 48 * i, true), true);
        view().setUint8(rung + 32 * i + 10, view().getUint8(asked + 48 * i + 8));
      }
      view().setUint32(count, n, true);
      return 0;
    },
    proc_exit(status) {
      throw new Broken(`the module ended with status ${status}`);
    },
  };
  const imports = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = (from === "wasi_snapshot_preview1" && system[name]) || (() => unknown);
  }
  const { exports } = await WebAssembly.instantiate(module, imports);
  memory = exports.memory;
  exports._initialize();

  let broken = null;
  const encoder = new TextEncoder();
  const decoder = new TextDecoder();
  const ask = (document) => {
    if (broken) throw broken;
    try {
      const text = encoder.encode(document);
      const at = exports.take(text.length) >>> 0;
      if (at === 0) throw new Refused({ message: `the document has ${text.length} bytes, which is too long`, kind: "too much to answer" });
      new Uint8Array(memory.buffer, at, text.length).set(text);
      const answer = BigInt.asUintN(64, exports.call(at, text.length));
      return decoder.decode(new Uint8Array(memory.buffer, Number(answer >> 32n), Number(answer & 0xffffffffn)));
    } catch (e) {
      if (e instanceof Refused) throw e;
      broken = e instanceof Broken ? e : new Broken(`the module broke: ${e.message}`);
      throw broken;
    }
  };
  return {
    ask,
    call(question, asked) {
      const document = JSON.parse(ask(JSON.stringify({ closefit: 1, question, with: asked })));
      if (document.error) throw new Refused(document.error);
      return document.answer;
    },
    get size() {
      return memory.buffer.byteLength;
    },
  };
}

async function compile(source) {
  if (source instanceof WebAssembly.Module) return source;
  if (typeof source === "string") return compiled(bytesOf(source));
  if (typeof Response !== "undefined" && source instanceof Response) {
    if (!source.ok) throw new Error(`${source.url}: status ${source.status}`);
    if (WebAssembly.compileStreaming && source.headers.get("Content-Type") === "application/wasm") return WebAssembly.compileStreaming(source);
    source = await source.arrayBuffer();
  }
  return compiled(source instanceof ArrayBuffer ? new Uint8Array(source) : new Uint8Array(source.buffer, source.byteOffset, source.byteLength));
}

function bytesOf(base64) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
  const text = atob(base64.trim());
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}

// compiled compiles bytes, or what gzip packed: where the platform can, while it is unpacked.
async function compiled(bytes) {
  if (bytes[0] !== 0x1f || bytes[1] !== 0x8b) return WebAssembly.compile(bytes);
  const unpacked = new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": "application/wasm" } });
  return WebAssembly.compileStreaming ? WebAssembly.compileStreaming(unpacked) : WebAssembly.compile(await unpacked.arrayBuffer());
}
