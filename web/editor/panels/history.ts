// What was done to the plan, newest first, with the states kept to come back
// to. Any of them can be looked at on the board, and gone back to from there.

import { Clock } from "../days";
import { byID, h } from "../dom";
import { type PastStep, type Point, past, type Which } from "../past";
import type { Board } from "../state";
import { askName, LookBar } from "./lookback";
import { Roving } from "./roving";

const clock = new Clock();

export class History {
  readonly #steps = h("div", { class: "past-steps" });
  readonly #points = h("div", { class: "past-points" });
  readonly #note = h("p", { class: "hint", role: "status" });
  readonly #keep = h("button", { type: "button", class: "small", id: "keep-point" }, "Keep this state…");
  readonly #older = h("button", { type: "button", class: "small", hidden: true }, "Show older steps");
  readonly #bar: LookBar;
  readonly #roving = new Roving(this.#steps);
  #listed: PastStep[] = []; // oldest first
  #asked = 0;
  #rev = -1;

  constructor(
    readonly board: Board,
    readonly visible: () => boolean,
  ) {
    const how = h("p", { class: "hint" }, "Choose a step to see the plan as it was after it. ", this.#keep);
    const list = h("div", { class: "past" }, h("div", {}, how, this.#steps, this.#older), this.#points);
    byID("history").append(h("h2", { class: "unseen" }, "History"), this.#note, list);
    this.#bar = new LookBar(board, () => this.#again());
    this.#keep.addEventListener("click", () => void this.#keepNow());
    this.#older.addEventListener("click", () => void this.#readOlder());
    board.subscribe("saved", () => this.refresh());
    board.subscribe("earlier", () => this.#mark());
  }

  /** Reads the past again if it can be seen and may have changed. */
  async refresh(): Promise<void> {
    if (this.visible() && this.#rev !== this.board.rev && this.board.saved.state === "yes")
      await this.#again();
  }

  async #again(): Promise<void> {
    const mine = ++this.#asked;
    const { rev } = this.board;
    const answer = await past.read(this.board.id);
    if (mine !== this.#asked) return;
    this.#note.textContent = answer.ok ? "" : answer.error;
    if (!answer.ok) return;
    this.#rev = rev;
    this.#listed = answer.value.steps;
    this.#older.hidden = !answer.value.older;
    this.#showSteps();
    this.#showPoints(answer.value.points);
  }

  async #readOlder(): Promise<void> {
    const first = this.#listed[0];
    if (!first) return;
    const answer = await past.read(this.board.id, first.number);
    this.#note.textContent = answer.ok ? "" : answer.error;
    if (!answer.ok || this.#listed[0] !== first) return;
    this.#listed = [...answer.value.steps, ...this.#listed];
    this.#older.hidden = !answer.value.older;
    this.#showSteps();
    this.#roving.focus(String(first.number - 1));
  }

  #showSteps(): void {
    const now = this.#listed.filter((s) => !s.undone).at(-1)?.number ?? -1;
    const days = clock.days([...this.#listed].reverse());
    this.#roving.show(
      days.map((d) =>
        h(
          "section",
          {},
          h("h3", {}, d.words),
          h("ol", { class: "steps" }, ...d.things.map((s) => this.#step(s, now))),
        ),
      ),
    );
    this.#mark();
  }

  #step(s: PastStep, now: number): HTMLElement {
    const state = s.undone ? "taken back" : s.number === now ? "now" : "";
    return h(
      "li",
      s.undone ? { class: "undone" } : {},
      h("time", { datetime: s.at }, clock.time(s.at)),
      this.#look({ step: s.number }, s.label, s.at, s.number === now, String(s.number)),
      s.what ? h("span", { class: "hint" }, s.what) : null,
      state ? h("span", { class: "chip" }, state) : null,
    );
  }

  #look(which: Which, label: string, at: string, now: boolean, key: string): HTMLElement {
    const words = `after “${label}”, ${clock.full(at)}`;
    const open = (): void => void this.#bar.look({ which, label, words, now });
    return h("button", { type: "button", class: "plain", "data-key": key, onclick: open }, label);
  }

  #showPoints(points: readonly Point[]): void {
    const named = points.filter((p) => p.kind === "named");
    const unasked = points.filter((p) => p.kind !== "named");
    const open = this.#points.querySelector("details")?.open ?? false;
    this.#points.replaceChildren(
      h("h3", {}, "Kept states"),
      named.length > 0
        ? h("ul", { class: "steps" }, ...named.map((p) => this.#point(p)))
        : h(
            "p",
            { class: "hint" },
            "None has a name yet. Keep one before you try something, or as the customer agreed to it.",
          ),
    );
    if (unasked.length === 0) return;
    const list = h("ul", { class: "steps" }, ...unasked.map((p) => this.#point(p)));
    this.#points.append(h("details", { open }, h("summary", {}, `Kept by itself (${unasked.length})`), list));
  }

  #point(p: Point): HTMLElement {
    const remove = (): void => void this.#forget(p);
    return h(
      "li",
      {},
      h("time", { datetime: p.at }, clock.full(p.at)),
      this.#look({ point: p.id }, p.name, p.at, false, `point-${p.id}`),
      p.kind === "named" ? null : h("span", { class: "hint" }, why[p.kind]),
      p.kind === "named"
        ? h(
            "button",
            { type: "button", class: "small", "aria-label": `Remove ${p.name}`, onclick: remove },
            "Remove",
          )
        : null,
    );
  }

  async #keepNow(): Promise<void> {
    const now = this.#listed.filter((s) => !s.undone).at(-1);
    if (!now) return;
    const name = await askName(this.board, now.number);
    if (name) await this.#again();
    this.#keep.focus();
  }

  async #forget(p: Point): Promise<void> {
    const answer = await past.forget(this.board.id, this.board.rev, p.id);
    if (!answer.ok) return this.board.show({ kind: "problem", sentence: answer.error });
    this.board.announce(`Removed “${p.name}”. Its steps are still in the list.`);
    await this.#again();
    this.#keep.focus();
  }

  /** Shows which state is looked at. */
  #mark(): void {
    const key = this.#bar.key;
    for (const el of byID("history").querySelectorAll<HTMLElement>("[data-key]")) {
      if (el.dataset.key === key) el.setAttribute("aria-current", "true");
      else el.removeAttribute("aria-current");
    }
  }
}

const why = {
  hour: "at the end of an hour of work",
  dropped: "undone, then replaced by something new",
  before: "before much was changed at once",
};
