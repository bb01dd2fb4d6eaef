// What was typed and isn't in the file yet: kept in this browser, so that neither a lost server nor a reload loses it.

export class Drafts {
  constructor(job) {
    this.key = "drivewright drafts " + job;
  }

  all() {
    try {
      return JSON.parse(localStorage.getItem(this.key)) ?? {};
    } catch {
      return {};
    }
  }

  get(path) {
    return this.all()[path];
  }

  // put keeps the text typed at the path, in the control with the id (a value may stand in two places). token is that of the file when the typing began, so that the server can tell
  // whether anybody changed the same value meanwhile; ready is true once the user has taken the value (Enter, or leaving it).
  put(path, id, text, token, ready) {
    const all = this.all();
    all[path] = { id, text, token: all[path]?.token ?? token, ready };
    this.#write(all);
  }

  // rebase says that the text still being typed at the path now stands on the file with the token.
  rebase(path, token) {
    const all = this.all();
    if (all[path]) all[path].token = token;
    this.#write(all);
  }

  drop(path) {
    const all = this.all();
    delete all[path];
    this.#write(all);
  }

  #write(all) {
    try {
      if (Object.keys(all).length) localStorage.setItem(this.key, JSON.stringify(all));
      else localStorage.removeItem(this.key);
    } catch {
      // no room or not allowed: the text still stands in its field
    }
  }
}
