// What the form held, change by change, so that it can be undone and done again.
const MOST = 200;

export class Trail {
  #done;
  #undone;

  constructor(kept) {
    [this.#done, this.#undone] = kept ?? [[], []];
  }

  toJSON() { return [this.#done, this.#undone]; }
  get back() { return this.#done.length > 1; }
  get forth() { return this.#undone.length > 0; }

  note(state) {
    if (this.#done.at(-1) === state) return;
    this.#done.push(state);
    if (this.#done.length > MOST) this.#done.shift();
    this.#undone = [];
  }

  // The server filled in what it proposes: the last entry is now this.
  settle(state) {
    if (this.#done.length) this.#done[this.#done.length - 1] = state;
  }

  undo(now) {
    this.note(now);
    if (!this.back) return "";
    this.#undone.push(this.#done.pop());
    return this.#done.at(-1);
  }

  redo() {
    const state = this.#undone.pop();
    if (state) this.#done.push(state);
    return state ?? "";
  }
}
