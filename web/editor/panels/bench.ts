// The place of what is sought and offered: beside the board, where Findings and
// Selected are otherwise, so that the board shows what is chosen. One such form
// stands there at a time.

import { byID, h, setText } from "../dom";
import type { Drawing } from "../drawing";

/** What the form on the bench asks and offers: Arranging, Improving or Grouping. */
export interface Asker {
  readonly search: {
    /** As it is headed: "Seeking mends". */
    readonly title: string;
    readonly underway: boolean;
    /** Stops it, with what was found so far. */
    stop(): void;
  };
  /** What was found is of a plan that has changed since. */
  readonly stale: boolean;
  /** The plan was changed or stored. */
  look(): void;
  /** The form was left: what it showed on the board goes. */
  leave(): void;
}

let now: Bench | null = null;

export class Bench {
  readonly title: HTMLElement;
  readonly body = h("div", { class: "bench-body" });
  readonly says = h("p", { class: "bench-says", role: "status", hidden: true });
  readonly acts = h("div", { class: "acts" });
  readonly el: HTMLElement;
  #from: HTMLElement | null = null;
  #offering = false;
  #stale = false;

  constructor(
    readonly d: Drawing,
    id: string,
    title: string,
    readonly asker: Asker,
  ) {
    this.title = h("h2", { id: `${id}-title`, tabindex: "-1" }, title);
    const foot = h("div", { class: "bench-foot" }, this.says, this.acts);
    this.el = h(
      "section",
      { class: "bench", id, "aria-labelledby": `${id}-title`, hidden: true },
      this.title,
      this.body,
      foot,
    );
    byID("readings").after(this.el);
    this.el.addEventListener("keydown", (e) => {
      if (e.key !== "Escape" || e.defaultPrevented) return;
      e.preventDefault();
      e.stopPropagation();
      if (this.asker.search.underway) this.asker.search.stop();
      else this.leave();
    });
    for (const topic of ["plan", "saved", "steps"] as const) d.board.subscribe(topic, () => this.#look());
    d.board.subscribe("tool", () => this.#toolTaken());
    d.board.subscribe("earlier", () => {
      if (d.board.earlier) this.leave(false);
    });
  }

  get isOpen(): boolean {
    return !this.el.hidden;
  }

  open(): void {
    if (this.isOpen) return;
    now?.leave(false);
    now = this;
    this.#from = document.activeElement as HTMLElement | null;
    if (this.d.toolName === "copies" || this.d.toolName === "offer") this.d.board.setTool("select");
    this.el.hidden = false;
    this.body.scrollTop = 0;
    // Where the page scrolls, the form stands below the board.
    this.title.focus({ preventScroll: true });
    this.el.scrollIntoView({ block: "nearest" });
  }

  /** Leaves the form; the focus goes back to where it came from. */
  leave(focus = true): void {
    if (!this.isOpen) return;
    const inside = this.el.contains(document.activeElement);
    this.el.hidden = true;
    if (now === this) now = null;
    this.#offering = false;
    this.asker.leave();
    this.release();
    const from = this.#from;
    this.#from = null;
    if (!focus && !inside) return;
    if (from?.isConnected && from !== document.body && from.checkVisibility()) from.focus();
    else this.d.focus();
  }

  /** From now on the board shows what is offered, and nothing on it can be changed. */
  holdBoard(): void {
    this.#offering = true;
    this.d.board.setTool("offer");
  }

  /** What was offered is taken or let go: the board is the plan's again. */
  release(): void {
    this.#offering = false;
    if (this.d.toolName === "offer") this.d.board.setTool("select");
  }

  /** A tool taken up, or Escape on the board, leaves what is offered there. */
  #toolTaken(): void {
    const tool = this.d.toolName;
    if (!this.isOpen || tool === "offer") return;
    if (this.#offering) {
      const { underway, title } = this.asker.search;
      this.leave(tool === "select");
      if (underway)
        this.d.board.show({ kind: "hint", sentence: `${title} was stopped. Nothing is changed.` });
    } else if (tool === "copies") this.leave(false);
  }

  /** A drag tells of the plan sixty times a second; what was found grows old once. */
  #look(): void {
    if (!this.isOpen) return;
    const { search, stale } = this.asker;
    if (search.underway || stale !== this.#stale) this.asker.look();
    this.#stale = stale;
  }

  tell(sentence: string): void {
    setText(this.says, sentence);
    this.says.hidden = sentence === "";
  }
}

/** How far a search is, as the panel of it shows it. */
export class Seeking {
  readonly #bar = h("progress", { max: 1 });
  readonly #share = h("span", { class: "share", "aria-hidden": "true" }); // the bar says it
  readonly #step = h("p", { class: "hint" });
  readonly el: HTMLElement;

  constructor(title: string) {
    this.#bar.setAttribute("aria-label", title);
    this.el = h(
      "div",
      { class: "bench-seeking" },
      h("div", { class: "work-bar" }, this.#bar, this.#share),
      this.#step,
    );
  }

  show(told: { readonly step: string; readonly share: number }, seeking: boolean): void {
    this.el.hidden = !seeking;
    if (!seeking) return;
    this.#bar.value = told.share;
    setText(this.#share, `${Math.round(100 * told.share)} %`);
    setText(this.#step, told.step);
  }
}
