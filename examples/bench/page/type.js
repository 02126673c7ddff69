// How one reading is typed: a sheet with keys, whose verdict answers each of them.

const commas = (1.5).toLocaleString()[1] === ","; // the user's habit; a job is written with points

// typing returns the sheet's own part of the page. act does what a sheet asks for.
function typing(act) {
  const dialog = document.getElementById("sheet");
  const body = document.getElementById("sheet-body");
  const verdict = document.getElementById("verdict");
  const says = document.getElementById("says");
  const store = document.getElementById("store");
  const stands = document.getElementById("stands");
  let edit = null, sheet = null, frame = 0, waits = false, last = null, from = null, begun = "", chosen = "", unit = "";

  const field = () => document.getElementById("typed");

  // text is what is typed, as a job has it.
  function text() {
    const chosen = body.querySelector("[data-text][aria-pressed=true]");
    const input = field();
    if (sheet.plain) return input.value.trim();
    let typed = input ? input.value.trim().replace(/(\d),(?=\d)/g, "$1.").replace(/−/g, "-") : chosen ? chosen.dataset.text : "";
    if (typed === "" || typed === "?") return typed;
    if (input && unit && /\d$/.test(typed)) typed += " " + unit;
    return (typed.includes("±") ? "" : sheet.with) + typed;
  }

  // habit is the unit that was chosen last for what is read so, for as long as the browser keeps it.
  const habits = new Map();
  function habit(by, now = null) {
    const name = `unit ${by}`;
    if (now !== null) habits.set(name, now);
    try {
      if (now !== null) localStorage.setItem(name, now);
      return habits.get(name) ?? localStorage.getItem(name);
    } catch {
      return habits.get(name) ?? null; // a browser that keeps nothing
    }
  }

  // inUnit types numbers in a unit from now on. What is typed already stays as it is: nothing is converted.
  function inUnit(now) {
    unit = now;
    const beside = document.getElementById("unit");
    if (beside?.tagName !== "BUTTON") return;
    beside.textContent = now;
    beside.ariaLabel = `unit: ${now}`;
    for (const b of body.querySelectorAll("[data-unit-is]")) b.ariaPressed = String(b.dataset.unitIs === now);
  }

  // choosing shows or hides the units.
  function choosing(open) {
    document.getElementById("units").hidden = !open;
    document.getElementById("unit").ariaExpanded = String(open);
    if (open) body.querySelector("[data-unit-is][aria-pressed=true]").focus();
    else field().focus({ preventScroll: true });
    reach();
  }

  // judge shows what the text would lead to: at once, so that the next frame has it, and not twice for one frame.
  // Until then nothing of it can be stored.
  function judge() {
    last = null;
    waits = true;
    if (!frame) judgeNow();
  }

  function judgeNow() {
    waits = false;
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(() => {
      frame = 0;
      if (waits) judgeNow();
    });
    if (!edit) return;
    station();
    const now = text();
    if (now === "") {
      if (sheet.was !== "?") {
        last = { now: "?", slips: [] };
        verdict.textContent = "Store it empty: it was not read.";
      } else verdict.textContent = "";
      say(verdict.textContent);
      foot("Store");
      return;
    }
    if (now === sheet.was) {
      const tried = edit.key === "reading" || edit.key === "codes" ? act.call("bench try", { edit: { ...edit, was: sheet.was, now, sure: true } }) : { html: "", says: "" };
      verdict.innerHTML = tried.html || `<p class="note">This is what the job says.</p>`;
      foot("Stored");
      say(`This is what the job says. ${tried.says}`);
      return;
    }
    try {
      const tried = act.call("bench try", { edit: { ...edit, was: sheet.was, now, sure: false } });
      verdict.innerHTML = tried.html;
      say(tried.says);
      if (tried.problem === "") last = { now, slips: tried.slips };
    } catch (e) {
      verdict.textContent = e.message;
      say(e.message);
    }
    foot("Store");
  }

  // foot offers to store the last text, if there is one that can be. What stays as it is, is not touched: the browser
  // would lay it out again.
  function foot(text) {
    const asks = last !== null && last.slips.length > 0;
    if (store.textContent !== text) store.textContent = text;
    if (store.disabled !== (last === null)) store.disabled = last === null;
    if (store.hidden !== asks) store.hidden = asks;
    if (stands.hidden === asks) stands.hidden = !asks;
  }

  // say is what somebody hears who does not see the verdict. Typing quickly, only the last is said.
  let saying = 0;
  function say(sentence) {
    clearTimeout(saying);
    saying = setTimeout(() => {
      says.textContent = sentence;
    }, 400);
  }

  function press(key) {
    const input = field();
    if (!input) return;
    const start = input.selectionStart ?? input.value.length, end = input.selectionEnd ?? start;
    if (key === "all") input.value = "";
    else if (key === "back") input.setRangeText("", start === end ? Math.max(0, start - 1) : start, end, "end");
    else input.setRangeText(key, start, end, "end");
    if (key === "all") for (const b of body.querySelectorAll("[data-blade][aria-pressed=true]")) b.ariaPressed = "false";
    judge();
    if (input.selectionStart === input.value.length) input.scrollLeft = input.scrollWidth; // the last is seen
  }

  // code types a code of a row: in the place of one that was chosen, and then the next is, or behind all.
  function code(word) {
    const input = field(), { value, selectionStart: start, selectionEnd: end } = input;
    if (start !== end) {
      if (word === "back") word = "?"; // taken away, the others would be of other places
      input.value = value.slice(0, start) + word + value.slice(end);
      const next = /\S+/g;
      next.lastIndex = start + word.length;
      const found = next.exec(input.value);
      if (found) input.setSelectionRange(found.index, found.index + found[0].length);
    } else {
      input.value = word === "back" ? value.replace(/\s*\S+\s*$/, "") : `${value.trimEnd()} ${word}`.trimStart();
    }
    judge();
  }

  // again chooses a word of a row, to be typed again.
  function again(n) {
    const found = [...field().value.matchAll(/\S+/g)][n];
    if (!found) return;
    field().focus({ preventScroll: true });
    field().setSelectionRange(found.index, found.index + found[0].length);
    for (const b of verdict.querySelectorAll("[data-word]")) b.ariaPressed = String(+b.dataset.word === n);
  }

  // station says of which plane and direction the next figure is.
  function station() {
    const now = document.getElementById("station");
    if (!now) return;
    const names = (of) => (now.dataset[of] ? now.dataset[of].split(";") : []);
    const planes = field().value.split(";"), ended = / $/.test(planes.at(-1));
    const figures = planes.at(-1).trim().split(/\s+/).filter(Boolean).length;
    const at = [[names("planes"), planes.length - 1], [names("directions"), Math.max(0, figures - (ended ? 0 : 1))]].filter(([all]) => all.length > 0);
    const said = "Now: " + (at.every(([all, n]) => n < all.length) ? at.map(([all, n]) => all[n]).join(", ") : "one too many");
    if (now.textContent !== said) now.textContent = said;
  }

  // blades makes a text of the blades that go and those that do not.
  function blades(pressed) {
    const was = pressed.ariaPressed;
    for (const b of body.querySelectorAll(`[data-blade="${CSS.escape(pressed.dataset.blade)}"]`)) b.ariaPressed = "false";
    pressed.ariaPressed = was === "true" ? "false" : "true";
    let goes = null, not = null;
    for (const b of body.querySelectorAll("[data-blade][aria-pressed=true]")) {
      const n = b.dataset.blade;
      if (b.dataset.goes === "true" && (goes === null || +n > +goes)) goes = n;
      if (b.dataset.goes === "false" && (not === null || +n < +not)) not = n;
    }
    const unit = " " + pressed.dataset.unit;
    field().value = goes !== null && not !== null ? goes + ".." + not + unit : goes !== null ? ">= " + goes + unit : not !== null ? "<= " + not + unit : "";
    judge();
  }

  function choose(button) {
    const input = field(), mark = button.dataset.text;
    if (!input) {
      for (const b of body.querySelectorAll("[data-text]")) b.ariaPressed = String(b === button);
    } else {
      const along = input.value.lastIndexOf(";");
      input.value = along >= 0 ? input.value.slice(0, along + 1) + " " + mark : mark;
      for (const b of body.querySelectorAll("[data-text]")) b.ariaPressed = String(b === button);
    }
    judge();
  }

  async function keep(sure) {
    if (waits) judgeNow(); // a key and Enter within one frame
    if (!last || last.slips.length > 0 && !sure) return;
    const done = { ...edit, was: sheet.was, now: last.now, sure };
    const tried = last;
    last = null; // pressed twice, it is stored once
    store.disabled = true;
    if (await act.store(done, document.getElementById("sheet-title").textContent)) return back();
    sheet.was = act.call("bench sheet", { ...edit, with: "" }).was; // somebody else's: it was said, and Store puts this in its place
    last = tried;
    store.disabled = false;
  }

  // back goes to the sheet that this one was opened from, or closes it.
  function back() {
    const to = from;
    from = null;
    if (!to) return dialog.close();
    show(to.edit, to.with);
    retype(to);
  }

  // asIs is what is typed into the sheet that is open, and retype types it again.
  const asIs = () => ({ edit, with: chosen, typed: field()?.value, unit });
  function retype(is) {
    if (is.typed === undefined || !field() || field().value === is.typed && unit === is.unit) return;
    field().value = is.typed;
    if (sheet.units.includes(is.unit)) inUnit(is.unit);
    judge();
  }

  // show opens the sheet of one thing.
  function show(of, withInstrument = "", opener = null) {
    edit = { key: of.key, line: of.line, place: of.place };
    from = opener;
    chosen = withInstrument;
    sheet = act.call("bench sheet", { ...edit, with: withInstrument });
    body.innerHTML = sheet.html;
    dialog.className = `types-${edit.key}`; // a name of its own: the page has a class "reading"
    station();
    verdict.hidden = false;
    verdict.innerHTML = "";
    says.textContent = "";
    stands.hidden = true;
    store.hidden = false;
    store.disabled = true;
    store.textContent = "Store";
    for (const b of body.querySelectorAll(".decimal")) if (commas) b.textContent = ",";
    if (!dialog.open) dialog.showModal();
    const input = field(), usual = sheet.units.length > 1 && sheet.text === "" ? habit(document.getElementById("unit").dataset.by) : null;
    inUnit(sheet.units.includes(usual) ? usual : sheet.unit);
    body.scrollTop = 0;
    if (input) {
      if (commas && !sheet.plain) input.value = input.value.replace(/(\d)\.(?=\d)/g, "$1,");
      input.setSelectionRange(input.value.length, input.value.length);
      input.focus({ preventScroll: true });
    } else document.getElementById("sheet-title").focus({ preventScroll: true });
    begun = text();
    if (sheet.text) judge();
    reach();
    body.querySelector("[data-blade][aria-pressed=true]")?.scrollIntoView({ block: "center" }); // what was said of the blades is seen
  }

  // reach scrolls a sheet that is longer than its window so far that all keys can be touched, if they and what is
  // typed have room in it at once; a longer list begins at its top.
  function reach() {
    const pad = body.querySelector(".pad"), top = body.querySelector(".field") ?? pad;
    if (!pad) return;
    const room = body.getBoundingClientRect(), end = pad.getBoundingClientRect().bottom;
    if (end - top.getBoundingClientRect().top < room.height) body.scrollTop = Math.max(0, end - room.bottom + 4);
  }

  // more shows by the lower edge whether a list goes on below it.
  const more = () => dialog.toggleAttribute("data-more", body.scrollHeight - body.scrollTop - body.clientHeight > 8);
  body.addEventListener("scroll", more, { passive: true });
  addEventListener("resize", more);

  // places shows what is measured at one place of the drawing.
  function places(at) {
    sheet = act.call("bench spot", { at });
    edit = from = null;
    dialog.className = "";
    body.innerHTML = sheet.html;
    verdict.innerHTML = "";
    verdict.hidden = store.hidden = stands.hidden = true;
    if (!dialog.open) dialog.showModal();
    body.scrollTop = 0;
    document.getElementById("sheet-title").focus({ preventScroll: true });
    more();
  }

  // fact stores how a thing was read, and goes on with what is typed.
  async function fact(b) {
    const d = b.dataset, is = asIs();
    const said = { key: d.factKey ?? "condition", line: edit.line, place: d.factKey ? edit.place : d.fact, was: d.factWas, now: b.ariaPressed === "true" ? "?" : d.factNow, sure: false };
    if (!(await act.store(said, `${document.getElementById("sheet-title").textContent}, ${d.fact}`))) return;
    show(edit, is.with, from);
    retype(is);
    body.querySelector(`[data-fact="${CSS.escape(d.fact)}"][data-fact-now="${CSS.escape(d.factNow)}"]`)?.focus({ preventScroll: true });
  }

  body.addEventListener("click", async (event) => {
    const b = event.target.closest("button");
    if (!b) return;
    const d = b.dataset;
    if (b.id === "unit") choosing(b.ariaExpanded !== "true");
    else if (d.unitIs !== undefined) {
      inUnit(d.unitIs);
      habit(document.getElementById("unit").dataset.by, d.unitIs);
      choosing(false);
      judge();
    } else if (d.type !== undefined) press(d.type === "." && commas ? "," : d.type);
    else if (d.code !== undefined) code(d.code);
    else if (d.name !== undefined) {
      const typed = field().value.trim().replace(/;$/, "");
      field().value = typed === "" || typed === "?" ? d.name : `${typed}; ${d.name}`;
      judge();
    } else if (d.text !== undefined) choose(b);
    else if (d.blade !== undefined) blades(b);
    else if (d.with !== undefined) show(edit, d.with, from);
    else if (d.fact !== undefined) await fact(b);
    else if (d.key !== undefined) show(d, "", edit ? asIs() : null);
  });
  verdict.addEventListener("click", async (event) => {
    const b = event.target.closest("[data-word], [data-fact]");
    if (b?.dataset.word) again(+b.dataset.word);
    else if (b) await fact(b);
  });
  body.addEventListener("input", judge);
  // Enter stores when it is let go: else its press would go on to the button that has the focus by then.
  let entered = false;
  body.addEventListener("keydown", (event) => {
    entered = event.key === "Enter" && event.target === field();
    if (entered) event.preventDefault();
  });
  body.addEventListener("keyup", (event) => {
    if (entered && event.key === "Enter" && event.target === field()) keep(false);
    entered = false;
  });
  store.addEventListener("click", () => keep(false));
  stands.addEventListener("click", () => keep(true));
  document.getElementById("close").addEventListener("click", () => dialog.close());
  return { show, places, close: () => dialog.close(), open: () => dialog.open, again: () => dialog.open && edit && text() === begun && show(edit, chosen, from) };
}
