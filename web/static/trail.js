// What the form held, change by change, so that it can be undone and done again.
const MOST = 200;

export class Trail {
  states = [];
  at = -1; // which of them the form holds

  constructor(kept) { Object.assign(this, kept); }

  get back() { return this.at > 0; }
  get forth() { return this.at < this.states.length - 1; }

  note(state) {
    if (this.states[this.at] === state) return;
    this.states = [...this.states.slice(0, this.at + 1), state].slice(-MOST);
    this.at = this.states.length - 1;
  }

  // The server filled in what it proposes: the last entry is now this.
  settle(state) {
    if (this.at >= 0) this.states[this.at] = state;
  }

  undo(now) {
    this.note(now);
    return this.back ? this.states[--this.at] : "";
  }

  redo() {
    return this.forth ? this.states[++this.at] : "";
  }
}
