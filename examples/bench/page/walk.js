// The tightening, on the ledger that the program keeps. Every act is one fact; nothing is recorded that nobody said.

let walked = null; // shows the tightening anew, once it is shown at all

function walking(keeper, tell) {
  const box = document.getElementById("in-walk");
  let phase = "final assembly";
  const show = (state) => {
    box.innerHTML = state.html;
    if (state.said) {
      const said = document.createElement("p");
      said.className = "said";
      said.setAttribute("role", "status");
      said.textContent = state.said;
      box.prepend(said);
    }
  };
  // acted shows what an act led to, and goes there: the button that had the focus is gone.
  const acted = (state) => {
    show(state);
    const at = box.querySelector(".said, .stop, .big") ?? document.getElementById("walk-heading");
    at.tabIndex = -1;
    at.focus({ preventScroll: true });
    at.scrollIntoView({ block: "nearest" });
  };
  walked = async () => {
    if (box.querySelector("details[open]") || box.contains(document.activeElement) && document.activeElement.tagName === "INPUT") return; // somebody is saying something
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
      try {
        acted(await asked("walk?phase=" + encodeURIComponent(phase)));
      } catch (e) {
        tell(e.message);
      }
      return;
    }
    if (!b.dataset.act) return;
    const of = (name) => b.closest(".form")?.querySelector(`input[name=${name}]`)?.value.trim() ?? "";
    b.disabled = true; // one act, once
    try {
      acted(await asked("walk", { act: b.dataset.act, phase, step: +b.dataset.step, text: b.dataset.text ?? of("text"), by: of("by"), reason: of("reason"), seen: b.dataset.seen === "true" }));
    } catch (e) {
      tell(e.message);
    }
    b.disabled = false;
  });
  walked();
}
