// The page: it opens the job in the library, and shows each section as the library makes it.

const started = JSON.parse(new TextDecoder().decode(bytesOf(document.getElementById("started").textContent)));
const status = document.getElementById("status");

// tell says something that is not about one reading.
function tell(text) {
  status.textContent = text;
  status.hidden = text === "";
}

async function begin() {
  const keeper = keeperOf(started);
  const [library] = await Promise.all([open(started.served ? fetch("closefit.wasm") : document.getElementById("module").textContent), keeper.load()]);
  let view = null;

  const show = (shown) => {
    view = shown;
    document.title = view.title + " - bench";
    document.getElementById("job").textContent = view.title;
    document.getElementById("count").textContent = `${view.proven} of ${view.asked} proven`;
    for (const section of ["engine", "next", "missing", "gates", "shopping", "instruments", "card"]) document.getElementById("in-" + section).innerHTML = view[section];
    document.getElementById("undo").disabled = keeper.changes.length === 0;
    if (!document.body.dataset.ready) performance.mark("usable");
    document.body.dataset.ready = view.revision;
  };
  const read = () => show(library.call("bench open", { name: keeper.name, text: keeper.text, beside: keeper.beside }));

  // did shows what a change made of the job: a text in the program's file, or the view itself.
  const did = (made) => (typeof made === "string" ? read() : show(made));
  const act = {
    call: (question, asked) => library.call(question, { revision: view.revision, ...asked }),
    async store(edit) {
      try {
        did(await keeper.change(edit, library, view.revision));
        tell(keeper.works === false ? notKept : "");
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
  const notKept = "This browser keeps nothing for this page. Export the job file before you close it.";

  document.getElementById("undo").addEventListener("click", async () => {
    const change = keeper.changes.at(-1);
    if (!change) return;
    try {
      did(await keeper.undo(change, library, view.revision));
      tell(`Taken back: ${change.in.trim() || "nothing"} is ${change.out.trim() || "gone"} now.`);
    } catch (e) {
      keeper.changes.pop();
      tell(e.message);
    }
    document.getElementById("undo").disabled = keeper.changes.length === 0;
  });
  document.addEventListener("click", (event) => {
    const b = event.target.closest("button");
    if (!b || b.closest("#sheet")) return;
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
    });
    document.getElementById("import").addEventListener("change", async (event) => {
      const [file] = event.target.files;
      if (!file) return;
      const text = await file.text();
      try {
        show(library.call("bench open", { name: file.name, text, beside: keeper.beside }));
        keeper.replace(file.name, text);
        document.getElementById("undo").disabled = true;
        tell(`${file.name} is open.` + (keeper.works ? "" : " " + notKept));
      } catch (e) {
        tell(`${file.name} is not taken, and nothing has changed. ${e.message}`);
      }
      event.target.value = "";
    });
    tell(keeper.works ? "" : notKept);
  }
  try {
    read();
  } catch (e) {
    tell(e.message);
    document.body.dataset.ready = "wrong";
  }
  keeper.follow((text) => {
    if (text === undefined) return tell("The program does not answer. What is stored is in its file; start it again to go on.");
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

begin().catch((e) => tell(`It cannot be opened: ${e.message}`));
