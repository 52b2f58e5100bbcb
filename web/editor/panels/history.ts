// Every step of the plan, newest first.

import { type HistoryStep, server } from "../api";
import { byID, h } from "../dom";
import type { Board } from "../state";

export class History {
  readonly #list = h("ol", { class: "steps" });
  readonly #note = h("p", { class: "hint", role: "status" });
  #asked = 0;
  #rev = -1;

  constructor(
    readonly board: Board,
    readonly visible: () => boolean,
  ) {
    byID("history").append(h("h2", { class: "unseen" }, "History"), this.#note, this.#list);
    board.subscribe("saved", () => this.refresh());
  }

  /** Reads the steps again if they can be seen and may have changed. */
  async refresh(): Promise<void> {
    if (!this.visible() || this.#rev === this.board.rev || this.board.saved.state !== "yes") return;
    const mine = ++this.#asked;
    const { rev } = this.board;
    const answer = await server.history(this.board.id);
    if (mine !== this.#asked) return;
    this.#note.textContent = answer.ok ? "" : answer.error;
    if (!answer.ok) return;
    this.#rev = rev;
    const steps = answer.value.steps ?? [];
    if (steps.length === 0) this.#note.textContent = "Nothing has been changed yet.";
    this.#list.replaceChildren(...steps.map(line).reverse());
  }
}

const clock = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

function line(s: HistoryStep): HTMLElement {
  const when = new Date(s.at);
  const time = Number.isNaN(when.getTime()) ? s.at : clock.format(when);
  const undone = s.undone ? h("span", { class: "hint" }, " taken back") : null;
  return h(
    "li",
    s.undone ? { class: "undone" } : {},
    s.label,
    undone,
    " ",
    h("time", { datetime: s.at }, time),
  );
}
