// Where the job is kept: in the file that the program keeps, or in what the browser lets this page keep.

// keeperOf returns what keeps a job: {text, name, beside, change(edit), undo(change), says, follow(changed)}.
function keeperOf(started) {
  return started.served ? servedKeeper(started) : ownKeeper(started);
}

const silent = "The program does not answer, so nothing is stored now. What was stored is in its file: start it again, and open the address that it prints.";

async function asked(path, body) {
  const answer = await fetch(path, body === undefined ? {} : { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }).catch(() => {
    throw Object.assign(new Error(silent), { lost: true });
  });
  const document = await answer.json();
  if (!answer.ok) throw Object.assign(new Error(document.message), { status: answer.status });
  return document;
}

function servedKeeper(started) {
  const undone = kept("undo " + started.identity, []);
  return {
    ...started,
    changes: undone.value,
    async load() {
      Object.assign(this, await asked("job"));
    },
    async change(edit, library, revision, of) {
      return this.take(await asked("edit", edit), (change) => this.changes.push({ ...change, of }));
    },
    async undo({ of, ...change }) {
      return this.take(await asked("undo", change), () => this.changes.pop());
    },
    take(done, note) {
      Object.assign(this, { text: done.text, revision: done.revision });
      note(done.change);
      this.changes.splice(0, this.changes.length - 200);
      undone.keep(this.changes);
      return this.text;
    },
    follow(changed) {
      const events = new EventSource("events");
      let lost = false;
      events.addEventListener("job", async (event) => {
        if (!lost && event.data === this.revision) return;
        lost = false;
        await this.load();
        changed(this.text);
      });
      events.addEventListener("walk", () => changed(null));
      events.onerror = () => {
        lost = true;
        changed(undefined);
      };
    },
  };
}

// kept is what the browser keeps under a name. If it keeps nothing, works says so.
function kept(name, otherwise) {
  let value = otherwise, works = false;
  try {
    localStorage.setItem("closefit try", name);
    works = localStorage.getItem("closefit try") === name;
    localStorage.removeItem("closefit try");
    value = JSON.parse(localStorage.getItem(name)) ?? otherwise;
  } catch {
    // what cannot be kept is said
  }
  return {
    value,
    works,
    now() {
      try {
        return JSON.parse(localStorage.getItem(name));
      } catch {
        return null;
      }
    },
    keep(now) {
      try {
        localStorage.setItem(name, JSON.stringify(now));
        return works;
      } catch {
        return false;
      }
    },
  };
}

function ownKeeper(started) {
  const at = "closefit bench " + started.identity;
  const state = kept(at, { text: started.text, name: started.name, beside: started.beside, changes: [] });
  let seen = state.value.text; // what the browser keeps, as far as this tab knows
  const keep = (keeper) => {
    keeper.works = state.keep({ text: keeper.text, name: keeper.name, beside: keeper.beside, changes: keeper.changes });
    if (keeper.works) seen = keeper.text;
  };
  return {
    ...started,
    ...state.value,
    works: state.works,
    async load() {},
    async change(edit, library, revision, of) {
      this.together();
      const done = library.call("bench set", { revision, edit });
      this.text = done.text;
      this.changes.push({ ...done.change, of });
      this.changes.splice(0, this.changes.length - 200);
      keep(this);
      return done.view;
    },
    async undo({ of, job, ...change }, library, revision) {
      this.together();
      if (job) {
        Object.assign(this, job);
        keep(this);
        return this.text;
      }
      const done = library.call("bench undo", { revision, change });
      this.text = done.text;
      this.changes.pop();
      keep(this);
      return done.view;
    },
    // replace takes another job, whole, and keeps the one before it to be taken back to.
    replace(name, text) {
      const job = { name: this.name, text: this.text, changes: this.changes.filter((c) => !c.job) };
      Object.assign(this, { name, text, changes: [{ job, of: { what: "the import", was: job.name } }] });
      keep(this);
    },
    // together takes what another tab stored while this one slept and heard nothing of it, and says so.
    together() {
      const stored = state.now();
      if (!stored || stored.text === seen) return;
      Object.assign(this, stored);
      seen = stored.text;
      throw Object.assign(new Error("Another tab stored something meanwhile, and it is shown now. Look at it before you go on."), { status: 409 });
    },
    // follow takes what another tab of this page stored.
    follow(changed) {
      addEventListener("storage", (event) => {
        if (event.key !== at || !event.newValue) return;
        Object.assign(this, JSON.parse(event.newValue));
        seen = this.text;
        changed(this.text);
      });
    },
  };
}
