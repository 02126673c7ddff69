// The page: it opens the job in the library, and shows each section as the library makes it.

const started = JSON.parse(new TextDecoder().decode(bytesOf(document.getElementById("started").textContent)));
const status = document.getElementById("status");

// tell says something that is not about one reading, and may offer the job file with it.
function tell(text, offer = false) {
  status.textContent = text;
  status.hidden = text === "";
  if (!offer) return;
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Export it now";
  button.addEventListener("click", () => document.getElementById("export").click());
  status.append(" ", button);
}

async function begin() {
  const keeper = keeperOf(started);
  let exported = keeper.text; // the text that is safe in a file
  let view = null;

  // draw draws those sections that are not drawn so already.
  const draw = (shown) => {
    const before = view ?? {};
    view = shown;
    document.title = view.title + " - bench";
    document.getElementById("job").textContent = view.title;
    document.getElementById("count").textContent = `${view.proven} of ${view.asked} proven`;
    for (const section of ["about", "engine", "next", "missing", "gates", "shopping", "instruments", "card"]) {
      if (view[section] !== before[section]) document.getElementById("in-" + section).innerHTML = view[section];
    }
  };
  const show = (shown) => {
    draw(shown);
    document.getElementById("undo").disabled = keeper.changes.length === 0;
    if (!document.body.dataset.ready) performance.mark("usable");
    document.body.dataset.ready = view.revision;
  };

  // The job that the page was written with is seen before the library is open, if nothing was stored since. What is
  // touched so early opens as soon as it can.
  const main = document.querySelector("main");
  const undone = document.getElementById("undone"); // where the thumb is: the head of the page may be far above
  let early = null;
  const touched = (event) => {
    early = event.target.closest("button") ?? early;
  };
  main.ariaBusy = "true";
  main.addEventListener("click", touched);
  undone.textContent = "The page is being opened. What you touch now answers in a moment.";
  if (started.view && keeper.text === started.text && JSON.stringify(keeper.beside) === JSON.stringify(started.beside)) draw(started.view);
  await new Promise((drawn) => setTimeout(drawn, 20));
  const [library] = await Promise.all([open(started.served ? fetch("closefit.wasm") : document.getElementById("module").textContent), keeper.load()]);
  const read = () => show(library.call("bench open", { name: keeper.name, text: keeper.text, beside: keeper.beside }));

  // did shows what a change made of the job: a text in the program's file, or the view itself.
  const did = (made) => (typeof made === "string" ? read() : show(made));
  const act = {
    call: (question, asked) => library.call(question, { revision: view.revision, ...asked }),
    async store(edit, what = "") {
      try {
        did(await keeper.change(edit, library, view.revision, { what, was: edit.was }));
        if (keeper.works === false) tell(notKept, true);
        else tell("");
        return true;
      } catch (e) {
        if (e.status === 409) {
          await keeper.load();
          read();
        }
        document.getElementById("verdict").textContent = e.message;
        document.getElementById("says").textContent = e.message;
        return false;
      }
    },
  };
  const sheet = typing(act);

  // Where a sheet was opened from has the focus again when it is closed: the same button, or, once what was
  // read there is no longer missing, the one that took its place.
  let from = null;
  document.getElementById("sheet").addEventListener("close", () => {
    const section = document.getElementById(from?.section);
    if (section && !section.contains(document.activeElement)) {
      const buttons = [...section.querySelectorAll("button")];
      const same = buttons.find((b) => JSON.stringify(b.dataset) === from.data) ?? buttons[Math.min(from.index, buttons.length - 1)] ?? section.querySelector("h2");
      same.tabIndex = same.matches("h2") ? -1 : 0;
      same.focus({ preventScroll: true });
    }
    if (view.revision !== from?.revision) document.getElementById("stored").textContent = `Stored. ${view.proven} of ${view.asked} proven.`;
  });
  const notKept = "This browser keeps nothing for this page. Export the job file before you close it.";

  // What was taken back is said where the thumb is.
  document.getElementById("undo").addEventListener("click", async (event) => {
    const change = keeper.changes.at(-1);
    if (!change || event.detail > 1) return; // a finger that knocks twice takes one thing back
    try {
      did(await keeper.undo(change, library, view.revision));
      const { what, was } = change.of ?? {};
      undone.textContent = "Taken back" + (!what ? "." : was === "?" ? `: ${what} is open again.` : change.job ? `: ${what}. ${was} is open again.` : `: ${what} is ${was} again.`);
    } catch (e) {
      if (e.status === 409 && !started.served) read();
      else if (!e.lost) keeper.changes.pop(); // it cannot be taken back any more; one that was not asked can be later
      undone.textContent = e.message;
    }
    document.getElementById("undo").disabled = keeper.changes.length === 0;
  });
  document.addEventListener("keydown", (event) => {
    if ((event.ctrlKey || event.metaKey) && event.key === "z" && !event.target.closest("input, dialog")) document.getElementById("undo").click();
  });
  document.addEventListener("click", (event) => {
    const b = event.target.closest("button");
    if (!b || b.closest("#sheet")) return;
    const section = b.closest("section");
    if (section) from = { section: section.id, data: JSON.stringify(b.dataset), index: [...section.querySelectorAll("button")].indexOf(b), revision: view?.revision };
    document.getElementById("stored").textContent = "";
    if (b.id !== "undo") undone.textContent = "";
    try {
      if (b.dataset.at !== undefined) sheet.places(b.dataset.at);
      else if (b.dataset.key !== undefined) sheet.show(b.dataset);
    } catch (e) {
      tell(e.message);
    }
  });
  document.getElementById("print").addEventListener("click", () => print());
  if (!started.served) {
    document.getElementById("export").addEventListener("click", () => {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([keeper.text], { type: "application/toml" }));
      link.download = keeper.name;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 60000);
      exported = keeper.text;
    });
    addEventListener("beforeunload", (event) => {
      if (!keeper.works && keeper.text !== exported) event.preventDefault();
    });
    document.getElementById("import").addEventListener("change", async (event) => {
      const [file] = event.target.files;
      if (!file) return;
      try {
        if (file.size > 1e6) throw new Error(`It has ${Math.ceil(file.size / 1e6)} MB, and a job file has at most a quarter of one. Look whether it is the right one.`);
        const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(await file.arrayBuffer()); // each byte, to be exported again
        show(library.call("bench open", { name: file.name, text, beside: keeper.beside }));
        keeper.replace(file.name, text);
        exported = text;
        document.getElementById("undo").disabled = false;
        tell(`${file.name} is open. Undo goes back to the job before it.` + (keeper.works ? "" : " " + notKept), !keeper.works);
      } catch (e) {
        tell(`${file.name} is not taken, and nothing has changed. ${e instanceof TypeError ? "It is not a text file." : e.message}`);
      }
      event.target.value = "";
    });
  }
  main.removeEventListener("click", touched);
  main.ariaBusy = "false";
  undone.textContent = "";
  try {
    if (view && library.call("bench take", { name: keeper.name, text: keeper.text, beside: keeper.beside }).revision === view.revision) show(view);
    else read();
    if (keeper.works === false) tell(notKept, true);
    if (early?.isConnected) early.click();
  } catch (e) {
    tell(e.message);
    document.body.dataset.ready = "wrong";
  }
  keeper.follow((text) => {
    if (text === undefined) return tell(silent);
    if (text === null) return typeof walked === "function" && walked();
    try {
      read();
      sheet.again();
      tell("");
    } catch (e) {
      tell(e.message);
    }
  });
  if (started.served) walking(keeper, tell);
}

begin().catch((e) => {
  document.getElementById("undone").textContent = "";
  tell(`It cannot be opened: ${e.message}`);
});
