// The tightening, on the ledger that the program keeps. Every act is one fact; nothing is recorded that nobody said.

let walked = null; // shows the tightening anew, once it is shown at all

function walking(keeper, tell) {
  const box = document.getElementById("in-walk");
  let phase = "final assembly";
  let said = ""; // of the last act, until the next
  const note = () => {
    const p = document.createElement("p");
    p.className = "said";
    p.setAttribute("role", "status");
    p.textContent = said;
    return p;
  };
  const show = (state) => {
    box.innerHTML = state.html;
    if (said) box.prepend(note());
  };
  const go = (at) => {
    at.tabIndex = -1;
    at.focus({ preventScroll: true });
    at.scrollIntoView({ block: "nearest" });
  };
  // acted shows what an act led to, and goes there: the button that had the focus is gone.
  const acted = (state) => {
    said = state.said;
    show(state);
    go(box.querySelector(".said, .stop, .big") ?? document.getElementById("walk-heading"));
  };
  // refused shows why an act was not recorded, where it was asked, with what was typed.
  const refused = (state, button) => {
    const typed = [...button.closest(".form")?.querySelectorAll("input") ?? []].map((i) => [i.name, i.value]);
    said = "";
    show(state);
    const form = [...box.querySelectorAll("button[data-act]")].find((b) => b.dataset.act === button.dataset.act && b.textContent === button.textContent)?.closest(".form");
    said = state.said;
    const why = note();
    if (form) {
      form.prepend(why);
      if (form.parentElement.matches("details")) form.parentElement.open = true;
      for (const [name, value] of typed) form.querySelector(`input[name=${name}]`).value = value;
    } else {
      box.prepend(why);
    }
    go(why);
  };
  walked = async () => {
    if (box.querySelector("details[open]") || [...box.querySelectorAll("input")].some((i) => i.value || i === document.activeElement)) return; // somebody is saying something
    try {
      show(await asked("walk?phase=" + encodeURIComponent(phase)));
    } catch (e) {
      tell(e.message);
    }
  };
  box.addEventListener("click", async (event) => {
    const b = event.target.closest("button");
    if (!b) return;
    if (b.dataset.phase) {
      phase = b.dataset.phase;
      said = "";
      try {
        acted(await asked("walk?phase=" + encodeURIComponent(phase)));
      } catch (e) {
        tell(e.message);
      }
      return;
    }
    if (!b.dataset.act || box.ariaBusy === "true") return;
    const of = (name) => b.closest(".form")?.querySelector(`input[name=${name}]`)?.value.trim() ?? "";
    box.ariaBusy = "true"; // one act, once
    try {
      const state = await asked("walk", { act: b.dataset.act, phase, step: +b.dataset.step, text: b.dataset.text ?? of("text"), by: of("by"), reason: of("reason"), seen: b.dataset.seen === "true" });
      if (state.refused) refused(state, b);
      else acted(state);
    } catch (e) {
      tell(e.message);
    }
    // A double knock is one: its second half would say something of what has only now come under the finger.
    setTimeout(() => { box.ariaBusy = "false"; }, 500);
  });
  walked();
}
