// The findings: grouped by cause, worst first, each leading to its place.

import type { Finding } from "../design";
import { ask, atMostEvery, byID, h, type Row, Rows, setAttr, setText } from "../dom";
import { accept, type Cause, civilDate, group, rankNames, rankSays, ranks, reopen } from "../findings";
import { ids } from "../model";
import { count } from "../names";
import type { Board } from "../state";
import { Control } from "./control";

export class Findings {
  readonly #tab = byID("tab-findings");
  readonly #summary = h("p", { class: "summary", role: "status" });
  readonly #none = h("p", { class: "hint", hidden: true });
  readonly #open = h("ul", { class: "causes" });
  readonly #causes: Rows<Cause>;
  readonly #acceptedBlock = h("details", { class: "accepted", hidden: true });
  readonly #acceptedTitle = h("summary");
  readonly #accepted: Rows<Finding>;

  constructor(readonly board: Board) {
    const list = h("ul", { class: "causes" });
    this.#causes = new Rows(
      this.#open,
      (c) => `${c.rank} ${c.code}`,
      () => this.#causeRow(),
    );
    this.#accepted = new Rows(list, keyOf, () => this.#acceptedRow());
    this.#acceptedBlock.append(this.#acceptedTitle, list);
    byID("findings").append(h("h2", { class: "unseen" }, "Findings"));
    byID("findings").append(this.#summary, this.#none, this.#open, this.#acceptedBlock);
    board.subscribe(
      "design",
      atMostEvery(150, () => this.#render()),
    );
  }

  #render(): void {
    const all = this.board.design?.findings ?? [];
    const { open, accepted } = group(all);
    const by = ranks.map((r) => open.filter((c) => c.rank === r).reduce((n, c) => n + c.list.length, 0));
    const words = ranks.flatMap((r, i) => (by[i] ? [`${by[i]} ${r}`] : []));
    setText(this.#summary, words.join(", "));
    setText(this.#tab, words.length > 0 ? `Findings ${by.reduce((a, b) => a + b, 0)}` : "Findings");
    setAttr(this.#tab, "data-rank", open[0]?.rank ?? null);
    this.#none.hidden = open.length > 0 || this.board.design === null;
    const bare = ids(this.board.plan, "heads").length === 0;
    setText(this.#none, bare ? "Nothing to check yet: draw the ground and place heads." : "Nothing to mend.");
    this.#causes.show(open);
    this.#acceptedBlock.hidden = accepted.length === 0;
    setText(this.#acceptedTitle, `Accepted ${accepted.length}`);
    this.#accepted.show(accepted);
  }

  #causeRow(): Row<Cause> {
    const rank = h("span", { class: "chip" });
    const title = h("span", { class: "title" });
    const list = h("ul", { class: "cases" });
    const cases = new Rows<Finding>(list, keyOf, () => this.#caseRow());
    const what = h("p", { class: "do" });
    const why = h("p");
    const source = h("p", { class: "hint" });
    const more = h("details", { class: "why" }, h("summary", {}, "Why"), why, source);
    const el = h("li", { class: "cause" }, h("h3", {}, rank, " ", title), list, what, more);
    return {
      el,
      update: (c) => {
        const [first] = c.list;
        if (!first) return;
        setAttr(el, "data-rank", c.rank);
        setText(rank, rankNames[c.rank]);
        setAttr(rank, "title", rankSays[c.rank]);
        setText(title, c.list.length > 1 ? `${c.title} (${c.list.length})` : c.title);
        setText(what, first.do);
        setText(why, first.why);
        setText(source, first.source ? `Source: ${first.source}` : "");
        cases.show(c.list);
      },
    };
  }

  #caseRow(): Row<Finding> {
    let now: Finding | null = null;
    const run = (does: (f: Finding) => unknown) => () => now && does(now);
    const words = h("p", { class: "case-text", onclick: run((f) => this.go(f)) });
    const go = link(
      "Show",
      run((f) => this.go(f)),
    );
    const take = link(
      "Accept…",
      run((f) => this.#accept(f)),
    );
    return {
      el: h("li", {}, words, h("p", { class: "case-acts" }, go, take)),
      update: (f) => {
        now = f;
        setText(words, f.sentence);
        setAttr(go, "aria-label", `Show ${f.title}`);
        setAttr(take, "aria-label", `Accept… with a reason: ${f.title}`);
      },
    };
  }

  #acceptedRow(): Row<Finding> {
    let now: Finding | null = null;
    const run = (does: (f: Finding) => unknown) => () => now && does(now);
    const words = h("p", { class: "case-text", onclick: run((f) => this.go(f)) });
    const reason = h("p", { class: "hint" });
    const show = link(
      "Show",
      run((f) => this.go(f)),
    );
    const open = link(
      "Open again",
      run((f) => this.#reopen(f)),
    );
    return {
      el: h("li", { class: "cause" }, words, reason, h("p", { class: "case-acts" }, show, open)),
      update: (f) => {
        now = f;
        setText(words, `${f.title}. ${f.sentence}`);
        setText(reason, `Accepted ${f.accepted?.on ?? ""}: ${f.accepted?.reason ?? ""}`);
        setAttr(show, "aria-label", `Show ${f.title}`);
        setAttr(open, "aria-label", `Open again: ${f.title}`);
      },
    };
  }

  /** Selects what a finding is about and brings it into view. */
  go(f: Finding): void {
    this.board.select(f.about ?? []);
    this.board.lookAt({ about: f.about ?? [], at: f.at });
    this.board.announce(
      `${rankNames[f.rank]}: ${f.title}. ${count(this.board.selection.size, "thing")} selected.`,
    );
  }

  async #accept(f: Finding): Promise<void> {
    const reason = new Control("Why it is fine here", "long", "printed with the plan", () => null);
    const form = h("form", { method: "dialog", class: "form" });
    const dialog = h("dialog", { "aria-labelledby": "accept-title" }, form);
    form.append(
      h("h2", { id: "accept-title" }, "Accept this finding"),
      h("p", {}, f.sentence),
      reason.el,
      h("p", { class: "acts" }, h("button", { value: "accept", class: "main" }, "Accept"), cancel()),
    );
    form.addEventListener("submit", (e) => {
      if ((e as SubmitEvent).submitter?.getAttribute("value") !== "accept" || reason.text.trim() !== "")
        return;
      e.preventDefault();
      reason.complain("The reason is empty. Type why this is fine on this plan, in a few words.");
      reason.input.focus();
    });
    if ((await ask(dialog)) !== "accept") return;
    const next = accept(this.board.committed, f, reason.text.trim().slice(0, 2000), civilDate(new Date()));
    void this.board.commit(`Accept: ${f.title}`, next);
  }

  #reopen(f: Finding): void {
    void this.board.commit(`Open again: ${f.title}`, reopen(this.board.committed, f));
  }
}

const link = (label: string, run: () => void): HTMLElement =>
  h("button", { type: "button", class: "link", onclick: run }, label);

/** The button that leaves a dialog without doing anything. */
export const cancel = (): HTMLElement => h("button", { value: "", formnovalidate: true }, "Cancel");

const keyOf = (f: Finding, i: number): string =>
  `${f.code} ${(f.about ?? []).join(",")} ${f.about?.length ? "" : i}`;
