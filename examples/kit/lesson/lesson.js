// What moves on a lesson's page, and on the teacher's: it puts questions to the module and shows the answers. It computes nothing.
const one = (selector, of = document) => of.querySelector(selector);
const all = (selector, of = document) => [...of.querySelectorAll(selector)];
const main = one("main");
const status = one("#status");
const seedField = one("#seed");

// begin opens the module, or says why the page stands still.
async function begin() {
  status.textContent = "The library is being unpacked.";
  try {
    const module = await compile(one("#module").textContent);
    one("#module").remove();
    const library = await apart(module).catch(() => beside(module));
    status.textContent = "";
    return library;
  } catch (e) {
    status.textContent = `The library does not run in this browser (${e.message}). The page shows the numbers that the sliders began at.`;
    return null;
  }
}

// apart opens the module in a worker, so that it works the next answer out while the page draws this one.
async function apart(module) {
  const script = URL.createObjectURL(new Blob([bytesOf(one("#apart").textContent)], { type: "text/javascript" }));
  const worker = new Worker(script);
  const waiting = []; // for answers, which come in the order of the questions
  const sent = (message) => new Promise((done, failed) => {
    waiting.push({ done, failed });
    worker.postMessage(message);
  });
  worker.onmessage = ({ data }) => {
    const { done, failed } = waiting.shift();
    if (data.error === undefined) done(data.answer);
    else failed(new Error(data.error));
  };
  worker.onerror = (e) => {
    for (const { failed } of waiting.splice(0)) failed(new Error(e.message ?? "the worker broke"));
  };
  await sent({ module });
  URL.revokeObjectURL(script);
  return { call: (question, asked) => sent({ question, asked }) };
}

// beside opens it in the page itself, where a browser lets a page have no worker.
async function beside(module) {
  const library = await open(module);
  return { call: async (question, asked) => library.call(question, asked) };
}

// seedOf returns the seed that the address names, or that of the field.
function seedOf() {
  const asked = new URLSearchParams(location.search).get("seed");
  return asked !== null && /^\d{1,6}$/.test(asked) ? Number(asked) : Number(seedField.value);
}

// carry keeps the seed in the address and in the links to the other lessons.
function carry(seed) {
  const search = `?seed=${seed}`;
  for (const a of all("nav a")) a.href = a.getAttribute("href").replace(/\?.*/, "") + search;
  try {
    history.replaceState(null, "", search + location.hash);
  } catch {
    // a file's address stays as it is in some browsers
  }
}

function lesson(library) {
  const name = main.dataset.lesson;
  const controls = all("[data-control]");
  const outputs = controls.map((c) => one("output", c.parentElement));
  const said = one("#said"), charts = one("#charts"), working = one("#working");
  const drawings = all(".drawing", charts), tables = all(".scroll", charts);
  const ask = (moving) => library.call("lesson", { lesson: name, at: controls.map((c) => Number(c.value)), moving });
  let spoken = 0, rested = 0, drawn = 0, running = false, moved = false;
  const draw = (shown) => {
    controls.forEach((c, i) => {
      if (outputs[i].textContent === shown.values[i]) return;
      outputs[i].textContent = shown.values[i];
      if (c.type === "range") c.setAttribute("aria-valuetext", shown.values[i]);
    });
    put(said, shown.said);
    drawings.forEach((d, i) => put(d, shown.drawings[i]));
    main.dataset.drawn = ++drawn;
    // Tables and working are read when the slider stands still. Until then the old ones are hidden, for their numbers are those of another place.
    if (working.ariaBusy !== "true") for (const late of [working, ...tables]) late.ariaBusy = "true";
    clearTimeout(rested);
    rested = setTimeout(() => tried(async () => {
      const place = drawn, still = await ask(false);
      if (running || drawn !== place) return;
      tables.forEach((t, i) => put(t, still.tables[i]));
      put(working, still.working);
      for (const late of [working, ...tables]) late.ariaBusy = null;
    }), 150);
    clearTimeout(spoken);
    spoken = setTimeout(() => { one("#spoken").textContent = said.textContent; }, 700);
  };
  // follow draws where the controls stand until they stand still. While one place is drawn the library is at the next.
  const follow = async () => {
    if (running) {
      moved = true;
      return;
    }
    running = true;
    try {
      for (let next = ask(true); next;) {
        const shown = await next;
        next = null;
        const on = () => {
          if (!moved || next) return;
          moved = false;
          next = ask(true);
        };
        on();
        await new Promise(requestAnimationFrame);
        draw(shown);
        on();
      }
    } finally {
      running = false;
    }
  };
  for (const c of controls) c.addEventListener("input", () => tried(follow));
  if (controls.some((c) => c.value !== c.dataset.start)) tried(follow); // a browser may keep where sliders stood

  const exercises = all("[data-exercise]");
  const set = async (seed) => {
    const { tasks } = await library.call("exercises", { lesson: name, seed });
    exercises.forEach((x, i) => {
      one(".task", x).innerHTML = tasks[i];
      one(".reason", x).textContent = "";
      one("input", x).value = "";
    });
    carry(seed);
  };
  const begun = seeds(set);
  for (const x of exercises) {
    one("form", x).addEventListener("submit", (event) => tried(async () => {
      event.preventDefault();
      const reason = one(".reason", x);
      const judged = await library.call("answer", { lesson: name, seed: Number(seedField.value), exercise: Number(x.dataset.exercise), typed: one("input", x).value.slice(0, 200) });
      reason.className = judged.right ? "reason right" : "reason wrong";
      reason.textContent = "";
      const text = document.createElement("p");
      text.textContent = judged.reason;
      reason.append(text);
      if (judged.right) {
        const working = document.createElement("div");
        working.innerHTML = judged.working;
        reason.append(working);
      }
    }));
  }
  return begun;
}

// tried does something, and says what went wrong.
async function tried(something) {
  try {
    await something();
    if (status.textContent !== "") status.textContent = "";
  } catch (e) {
    status.textContent = e.message;
  }
}

// pieces are those of the HTML that a place shows, cut before each "<", with the element that each begins.
const pieces = new WeakMap();

// put shows HTML at a place. Where its elements are those that stand there, only what differs is changed: a browser then
// lays out little anew. Else all of it is replaced. The library writes each end and each quotation mark.
function put(place, html) {
  const now = html.split("<");
  const before = pieces.get(place);
  if (before?.text.length === now.length && now.every((piece, i) => piece === before.text[i] || change(before.elements[i], before.text[i], piece))) {
    before.text = now;
    return;
  }
  place.innerHTML = html;
  const elements = all("*", place);
  let n = 0;
  pieces.set(place, { text: now, elements: now.map((piece) => (/^[a-z]/i.test(piece) ? elements[n++] : null)) });
}

// change makes an element what a piece says that was another one; it returns false if that is not a matter of its attributes and of the text that it begins with.
function change(element, before, now) {
  const [, nameBefore, attributesBefore, textBefore] = parts(before), [, name, attributes, text] = parts(now);
  if (!element || name !== nameBefore || (text === "") !== (textBefore === "")) return false;
  if (attributes !== attributesBefore) {
    const old = new Map(pairs(attributesBefore));
    for (const [key, value] of pairs(attributes)) {
      if (old.get(key) !== value) element.setAttribute(key, value);
      old.delete(key);
    }
    for (const key of old.keys()) element.removeAttribute(key);
  }
  if (text !== textBefore) element.firstChild.data = plain(text);
  return true;
}

const parts = (piece) => /^([^\s>/]*)([^>]*)>?(.*)$/s.exec(piece);
const pairs = (attributes) => [...attributes.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, key, value]) => [key, plain(value)]);
const signs = { "&lt;": "<", "&gt;": ">", "&amp;": "&", "&#34;": '"', "&#39;": "'", "&#13;": "\r" };
const plain = (text) => text.replace(/&(?:lt|gt|amp|#34|#39|#13);/g, (sign) => signs[sign]);

// seeds calls set with the seed, now and when another is typed. It returns the promise of the first.
function seeds(set) {
  const take = () => tried(() => set(Number(seedField.value)));
  seedField.value = seedOf();
  seedField.addEventListener("change", take);
  return take();
}

const library = await begin();
if (library) {
  document.documentElement.classList.add("live");
  if (main.dataset.page === "lesson") await lesson(library);
  else {
    await seeds(async (seed) => {
      put(one("#key"), (await library.call("key", { seed })).html);
      carry(seed);
    });
  }
  main.dataset.ready = "yes";
}
