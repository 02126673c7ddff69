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
  let edit = null, sheet = null, frame = 0, last = null, from = null, begun = "", chosen = "";

  const field = () => document.getElementById("typed");

  // text is what is typed, as a job has it.
  function text() {
    const chosen = body.querySelector("[data-text][aria-pressed=true]");
    const input = field();
    let typed = input ? input.value.trim().replace(/(\d),(?=\d)/g, "$1.").replace(/−/g, "-") : chosen ? chosen.dataset.text : "";
    if (typed === "" || typed === "?") return typed;
    if (input && sheet.unit && /\d$/.test(typed)) typed += " " + sheet.unit;
    return (typed.includes("±") ? "" : sheet.with) + typed;
  }

  // judge shows what the text would lead to, once a frame. Until then nothing of it can be stored.
  function judge() {
    last = null;
    frame ||= requestAnimationFrame(judgeNow);
  }

  function judgeNow() {
    cancelAnimationFrame(frame);
    frame = 0;
    if (!edit) return;
    const now = text();
    store.disabled = true;
    stands.hidden = true;
    store.hidden = false;
    store.textContent = "Store";
    if (now === "") {
      verdict.innerHTML = "";
      say("");
      if (sheet.was !== "?") {
        last = { now: "?", slips: [] };
        store.disabled = false;
        verdict.textContent = "Store it empty: it was not read.";
        say(verdict.textContent);
      }
      return;
    }
    if (now === sheet.was) {
      const tried = edit.key === "reading" ? act.call("bench try", { edit: { ...edit, was: sheet.was, now, sure: true } }) : { html: "", says: "" };
      verdict.innerHTML = tried.html || `<p class="note">This is what the job says.</p>`;
      store.textContent = "Stored";
      say(`This is what the job says. ${tried.says}`);
      return;
    }
    try {
      const tried = act.call("bench try", { edit: { ...edit, was: sheet.was, now, sure: false } });
      verdict.innerHTML = tried.html;
      say(tried.says);
      if (tried.problem === "") {
        last = { now, slips: tried.slips };
        store.disabled = false;
        store.hidden = tried.slips.length > 0;
        stands.hidden = !store.hidden;
      }
    } catch (e) {
      verdict.textContent = e.message;
      say(e.message);
    }
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
    for (const b of body.querySelectorAll("[data-blade][aria-pressed=true]")) if (key === "all") b.ariaPressed = "false";
    judge();
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
    if (frame) judgeNow(); // a key and Enter within one frame
    if (!last || last.slips.length > 0 && !sure) return;
    const done = { ...edit, was: sheet.was, now: last.now, sure };
    store.disabled = true;
    if (await act.store(done)) return back();
    sheet.was = act.call("bench sheet", { ...edit, with: "" }).was; // somebody else's: it was said, and Store puts this in its place
  }

  // back goes to the sheet that this one was opened from, or closes it.
  function back() {
    const to = from;
    from = null;
    if (!to) return dialog.close();
    show(to.edit, to.with);
    retype(to.typed);
  }

  // asIs is what is typed into the sheet that is open, and retype types it again.
  const asIs = () => ({ edit, with: chosen, typed: field()?.value });
  function retype(typed) {
    if (typed === undefined || !field() || field().value === typed) return;
    field().value = typed;
    judge();
  }

  // show opens the sheet of one thing.
  function show(of, withInstrument = "", opener = null) {
    edit = { key: of.key, line: of.line, place: of.place };
    from = opener;
    chosen = withInstrument;
    sheet = act.call("bench sheet", { ...edit, with: withInstrument });
    body.innerHTML = sheet.html;
    verdict.hidden = false;
    verdict.innerHTML = "";
    says.textContent = "";
    stands.hidden = true;
    store.hidden = false;
    store.disabled = true;
    store.textContent = "Store";
    for (const b of body.querySelectorAll(".decimal")) if (commas) b.textContent = ",";
    if (!dialog.open) dialog.showModal();
    const input = field();
    body.scrollTop = 0;
    if (input) {
      if (commas) input.value = input.value.replace(/(\d)\.(?=\d)/g, "$1,");
      input.setSelectionRange(input.value.length, input.value.length);
      input.focus({ preventScroll: true });
    } else document.getElementById("sheet-title").focus({ preventScroll: true });
    begun = text();
    if (sheet.text) judge();
    reach();
  }

  // reach scrolls a sheet that is longer than its window so far that all keys can be touched, if they and what is
  // typed have room in it at once; a longer list begins at its top.
  function reach() {
    const pad = body.querySelector(".pad"), top = body.querySelector(".field") ?? pad;
    if (!pad) return;
    const room = body.getBoundingClientRect(), end = pad.getBoundingClientRect().bottom;
    if (end - top.getBoundingClientRect().top < room.height) body.scrollTop = Math.max(0, end - room.bottom + 4);
  }

  // places shows what is measured at one place of the drawing.
  function places(at) {
    sheet = act.call("bench spot", { at });
    edit = from = null;
    body.innerHTML = sheet.html;
    verdict.innerHTML = "";
    verdict.hidden = store.hidden = stands.hidden = true;
    if (!dialog.open) dialog.showModal();
    body.scrollTop = 0;
    document.getElementById("sheet-title").focus({ preventScroll: true });
  }

  body.addEventListener("click", async (event) => {
    const b = event.target.closest("button");
    if (!b) return;
    const d = b.dataset;
    if (d.type !== undefined) press(d.type === "." && commas ? "," : d.type);
    else if (d.text !== undefined) choose(b);
    else if (d.blade !== undefined) blades(b);
    else if (d.with !== undefined) show(edit, d.with, from);
    else if (d.fact !== undefined) {
      const said = { key: "condition", line: edit.line, place: d.fact, was: d.factWas, now: b.ariaPressed === "true" ? "?" : d.factNow, sure: false };
      const is = asIs();
      if (await act.store(said)) {
        show(edit, is.with, from);
        retype(is.typed);
        body.querySelector(`[data-fact="${CSS.escape(d.fact)}"][data-fact-now="${CSS.escape(d.factNow)}"]`)?.focus({ preventScroll: true });
      }
    } else if (d.key !== undefined) show(d, "", edit ? asIs() : null);
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
