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
  let spoken = 0;
  const draw = () => {
    const shown = library.call("lesson", { lesson: name, at: controls.map((c) => Number(c.value)) });
    controls.forEach((c, i) => {
      one("output", c.parentElement).textContent = shown.values[i];
      if (c.type === "range") c.setAttribute("aria-valuetext", shown.values[i]);
    });
    for (const part of ["said", "charts", "working"]) put(one(`#${part}`), shown[part]);
    clearTimeout(spoken);
    spoken = setTimeout(() => { one("#spoken").textContent = one("#said").textContent; }, 700);
  };
  // A redraw that is slow leaves time for the slider between two of them.
  let asked = false, took = 0;
  const redraw = () => {
    asked = false;
    const from = performance.now();
    try {
      draw();
      status.textContent = "";
    } catch (e) {
      status.textContent = e.message;
    }
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

// put replaces what is shown, and leaves the tables open that were.
function put(place, html) {
  const open = all("details", place).map((d) => d.open);
  place.innerHTML = html;
  all("details", place).forEach((d, i) => { if (i < open.length) d.open = open[i]; });
}

// seeds calls set with the seed, now and when another is typed.
function seeds(set) {
  const take = () => {
    try {
      set(Number(seedField.value));
      status.textContent = "";
    } catch (e) {
      status.textContent = e.message;
    }
  };
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
