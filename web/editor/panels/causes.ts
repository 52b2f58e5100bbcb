// One cause of findings: a line with its rank and title, and under it, when it is
// open, each case with its place, what to do, and why.

import type { Finding } from "../design";
import { h, type Row, Rows, setAttr, setText } from "../dom";
import {
  type Cause,
  type Cure,
  cureNames,
  cureOf,
  hasPlace,
  inSettings,
  rankNames,
  rankSays,
} from "../findings";

/** What the rows ask of the panel. */
export interface CauseActs {
  go(f: Finding, place?: string): void;
  accept(list: readonly Finding[]): void;
  /** Seeks what cures a cause. */
  cure(how: Cure, c: Cause): void;
  opened(c: Cause): boolean;
  open(c: Cause, yes: boolean): void;
}

/** How many cases of one cause are in sight at first. */
const FIRST_CASES = 3;

let made = 0;

export class CauseRow implements Row<Cause> {
  readonly el = h("li", { class: "cause" });
  readonly #rank = h("span", { class: "chip" });
  readonly #title = h("span", { class: "title" });
  readonly #body = h("div", { class: "cause-body", id: `cause-${++made}` });
  readonly #head = h("button", {
    type: "button",
    class: "cause-head",
    "aria-controls": this.#body.id,
    onclick: () => this.#cause && this.acts.open(this.#cause, this.#body.hidden !== false),
  });
  readonly #go = link("Show", () => this.#next());
  readonly #cases: Rows<Finding>;
  readonly #rest = link("", () => this.#all());
  readonly #take = link("", () => this.#cause && this.acts.accept(this.#cause.list));
  readonly #cure = link("", () => this.#cures());
  readonly #do = h("p", { class: "do" });
  readonly #why = h("p");
  readonly #source = h("p", { class: "hint" });
  #cause: Cause | null = null;
  #at = 0; // the case shown next
  #whole = false; // every case is in sight

  constructor(readonly acts: CauseActs) {
    const list = h("ul", { class: "cases" });
    this.#cases = new Rows(list, keyOf, () => caseRow(acts));
    const why = h("details", { class: "why" }, h("summary", {}, "Why"), this.#why, this.#source);
    this.#body.append(
      list,
      h("p", { class: "case-acts" }, this.#rest, this.#take, this.#cure),
      this.#do,
      why,
    );
    this.#head.append(this.#rank, " ", this.#title);
    this.el.append(h("div", { class: "cause-line" }, h("h3", {}, this.#head), this.#go), this.#body);
  }

  update(c: Cause): void {
    this.#cause = c;
    const [first] = c.list;
    if (!first) return;
    const many = c.list.length > 1;
    setAttr(this.el, "data-rank", c.rank);
    setText(this.#rank, rankNames[c.rank]);
    setAttr(this.#rank, "title", rankSays[c.rank]);
    setText(this.#title, many ? `${c.title} (${c.list.length} cases)` : c.title);
    const open = this.acts.opened(c);
    setAttr(this.#head, "aria-expanded", String(open));
    this.#body.hidden = !open;
    this.#showGo(c, first);
    if (!open) return;
    this.#cases.show(this.#whole ? c.list : c.list.slice(0, FIRST_CASES));
    const left = c.list.length - FIRST_CASES;
    this.#rest.hidden = this.#whole || left < 1;
    setText(this.#rest, `Show the other ${left} cases`);
    this.#take.hidden = !many;
    setText(this.#take, `Accept all ${c.list.length}…`);
    setAttr(this.#take, "aria-label", `Accept all ${c.list.length} with one reason: ${c.title}`);
    const cure = cureOf(first.code);
    this.#cure.hidden = cure === null;
    setText(this.#cure, cure ? cureNames[cure] : "");
    setAttr(this.#cure, "aria-label", cure ? `${cureNames[cure]} for: ${c.title}` : null);
    setText(this.#do, first.do);
    setText(this.#why, first.why);
    setText(this.#source, first.source ? `Source: ${first.source}` : "");
  }

  #cures(): void {
    const c = this.#cause;
    const cure = c?.list[0] ? cureOf(c.list[0].code) : null;
    if (c && cure) this.acts.cure(cure, c);
  }

  #showGo(c: Cause, first: Finding): void {
    this.#at %= c.list.length;
    const place = c.list.length > 1 ? ` ${this.#at + 1}/${c.list.length}` : "";
    setText(this.#go, inSettings(first) ? "Settings…" : `Show${place}`);
    this.#go.hidden = !hasPlace(first);
    setAttr(this.#go, "aria-label", `${inSettings(first) ? "Settings…" : `Show${place}`}: ${c.title}`);
  }

  /** Shows one case after the other. */
  #next(): void {
    const c = this.#cause;
    const f = c?.list[this.#at];
    if (!c || !f) return;
    const place = c.list.length > 1 ? `${this.#at + 1} of ${c.list.length}. ` : "";
    this.#at = (this.#at + 1) % c.list.length;
    this.acts.go(f, place);
    this.#showGo(c, f);
  }

  #all(): void {
    this.#whole = true;
    if (this.#cause) this.update(this.#cause);
    this.#body.querySelectorAll(".cases > li").item(FIRST_CASES)?.querySelector("button")?.focus();
  }
}

function caseRow(acts: CauseActs): Row<Finding> {
  let now: Finding | null = null;
  const run = (does: (f: Finding) => void) => (): void => {
    if (now) does(now);
  };
  const words = h("p", { class: "case-text", onclick: run((f) => acts.go(f)) });
  const go = link(
    "Show",
    run((f) => acts.go(f)),
  );
  const take = link(
    "Accept…",
    run((f) => acts.accept([f])),
  );
  return {
    el: h("li", {}, words, h("p", { class: "case-acts" }, go, take)),
    update: (f) => {
      now = f;
      setText(words, f.sentence);
      go.hidden = !hasPlace(f);
      setText(go, inSettings(f) ? "Settings…" : "Show");
      setAttr(go, "aria-label", `${inSettings(f) ? "Settings…" : "Show"}: ${f.title}. ${f.sentence}`);
      setAttr(take, "aria-label", `Accept… with a reason: ${f.title}. ${f.sentence}`);
    },
  };
}

/** A button that reads as a link. */
export const link = (label: string, run: () => void): HTMLButtonElement =>
  h("button", { type: "button", class: "link", onclick: run }, label);

/** What a case goes by, so that its row stays while its figures change. */
export const keyOf = (f: Finding, i: number): string =>
  `${f.code} ${(f.about ?? []).join(",")} ${f.about?.length ? "" : i}`;
