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
    const library = await open(one("#module").textContent);
    one("#module").remove();
    status.textContent = "";
    return library;
  } catch (e) {
    status.textContent = `The library does not run in this browser (${e.message}). The page shows the numbers that the sliders began at.`;
    return null;
  }
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
  const ask = (moving) => library.call("lesson", { lesson: name, at: controls.map((c) => Number(c.value)), moving });
  let spoken = 0, rested = 0, drawn = 0;
  const draw = () => {
    const shown = ask(true);
    controls.forEach((c, i) => {
      if (outputs[i].textContent === shown.values[i]) return;
      outputs[i].textContent = shown.values[i];
      if (c.type === "range") c.setAttribute("aria-valuetext", shown.values[i]);
    });
    put(said, shown.said);
    put(charts, shown.charts);
    main.dataset.drawn = ++drawn;
    // The working is read when the slider stands still. Until then the old one is hidden, for its numbers are those of another place.
    if (working.ariaBusy !== "true") working.ariaBusy = "true";
    clearTimeout(rested);
    rested = setTimeout(() => tried(() => {
      put(working, ask(false).working);
      working.ariaBusy = null;
    }), 150);
    clearTimeout(spoken);
    spoken = setTimeout(() => { one("#spoken").textContent = said.textContent; }, 700);
  };
  // A redraw that is slow leaves time for the slider between two of them.
  let asked = false, took = 0;
  const redraw = () => {
    asked = false;
    const from = performance.now();
    tried(draw);
    took = performance.now() - from;
  };
  const soon = () => {
    if (asked) return;
    asked = true;
    if (took > 100) setTimeout(redraw, took);
    else requestAnimationFrame(redraw);
  };
  for (const c of controls) c.addEventListener("input", soon);
  if (controls.some((c) => c.value !== c.dataset.start)) redraw(); // a browser may keep where sliders stood

  const exercises = all("[data-exercise]");
  const set = (seed) => {
    const tasks = library.call("exercises", { lesson: name, seed }).tasks;
    exercises.forEach((x, i) => {
      one(".task", x).innerHTML = tasks[i];
      one(".reason", x).textContent = "";
      one("input", x).value = "";
    });
    carry(seed);
  };
  seeds(set);
  for (const x of exercises) {
    one("form", x).addEventListener("submit", (event) => {
      event.preventDefault();
      const reason = one(".reason", x);
      const tried = library.call("answer", { lesson: name, seed: Number(seedField.value), exercise: Number(x.dataset.exercise), typed: one("input", x).value.slice(0, 200) });
      reason.className = tried.right ? "reason right" : "reason wrong";
      reason.textContent = "";
      const text = document.createElement("p");
      text.textContent = tried.reason;
      reason.append(text);
      if (tried.right) {
        const working = document.createElement("div");
        working.innerHTML = tried.working;
        reason.append(working);
      }
    });
  }
  main.dataset.ready = "yes";
}

// tried does something, and says what went wrong.
function tried(something) {
  try {
    something();
    if (status.textContent !== "") status.textContent = "";
  } catch (e) {
    status.textContent = e.message;
  }
}

// pieces are those of the HTML that a place shows, cut before each "<", with the element that each begins.
const pieces = new WeakMap();

// put shows HTML at a place. Where its elements are those that stand there, only what differs is changed: a browser then
// lays out little anew. Else all of it is replaced, and tables that were open stay open. The library writes each end and each quotation mark.
function put(place, html) {
  const now = html.split("<");
  const before = pieces.get(place);
  if (before?.text.length === now.length && now.every((piece, i) => piece === before.text[i] || change(before.elements[i], before.text[i], piece))) {
    before.text = now;
    return;
  }
  const open = all("details", place).map((d) => d.open);
  place.innerHTML = html;
  all("details", place).forEach((d, i) => { if (i < open.length) d.open = open[i]; });
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

// seeds calls set with the seed, now and when another is typed.
function seeds(set) {
  const take = () => tried(() => set(Number(seedField.value)));
  seedField.value = seedOf();
  seedField.addEventListener("change", take);
  take();
}

const library = await begin();
if (library) {
  document.documentElement.classList.add("live");
  if (main.dataset.page === "lesson") lesson(library);
  else {
    seeds((seed) => {
      put(one("#key"), library.call("key", { seed }).html);
      carry(seed);
    });
    main.dataset.ready = "yes";
  }
}
