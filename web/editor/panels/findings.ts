// The findings: grouped by cause, worst first, each leading to its place. At
// first sight only the worst few are there, one line each.

import { areasChosen } from "../arranging";
import type { Finding, Rank } from "../design";
import { atMostEvery, byID, h, type Row, Rows, setAttr, setText } from "../dom";
import {
  byRank,
  type Cause,
  type Cure,
  group,
  inSettings,
  inSight,
  openAtFirst,
  rankNames,
  rankSays,
  ranks,
  reopen,
  settingOf,
  thingsOf,
} from "../findings";
import { ids } from "../model";
import { count } from "../names";
import type { Board } from "../state";
import { acceptWithReason } from "./accepting";
import { showArranging } from "./arranging";
import { type CauseActs, CauseRow, keyOf, link } from "./causes";
import { showGrouping } from "./grouping";
import { showImproving } from "./improving";
import { showLocalRules } from "./localrules";
import { showWatering } from "./watering";

export class Findings {
  readonly #panel = byID("findings");
  readonly #tab = byID("tab-findings");
  readonly #summary = h("p", { class: "summary unseen", role: "status" });
  readonly #filter = h("div", {
    class: "filter",
    role: "group",
    "aria-label": "Findings of a rank",
    hidden: true,
  });
  readonly #picks = new Map<Rank | null, HTMLElement>();
  readonly #none = h("p", { class: "hint", hidden: true });
  readonly #asDrawn = h("p", { class: "hint", hidden: true }, "Findings are about the plan as drawn.");
  readonly #causes: Rows<Cause>;
  readonly #more = h("button", { type: "button", class: "more-causes", onclick: () => this.#showRest() });
  readonly #acceptedBlock = h("details", { class: "accepted", hidden: true });
  readonly #acceptedTitle = h("summary");
  readonly #accepted: Rows<Finding>;
  readonly #print = h("div", { class: "print-all" });
  #only: Rank | null = null;
  #rest = false;
  readonly #opened = new Map<string, boolean>(); // what the user opened or shut, by cause
  #firstOpen = new Set<string>();

  constructor(
    readonly board: Board,
    readonly settings: (field: string) => void,
  ) {
    const acts: CauseActs = {
      go: (f, place) => this.go(f, place),
      accept: (list) => void acceptWithReason(board, list),
      cure: (how, c) => this.#cure(how, c),
      opened: (c) => this.#opened.get(c.key) ?? this.#firstOpen.has(c.key),
      open: (c, yes) => {
        this.#opened.set(c.key, yes);
        this.#render();
      },
    };
    const open = h("ul", { class: "causes" });
    const accepted = h("ul", { class: "causes" });
    this.#causes = new Rows(
      open,
      (c) => c.key,
      () => new CauseRow(acts),
    );
    this.#accepted = new Rows(accepted, keyOf, () => this.#acceptedRow());
    this.#acceptedBlock.append(this.#acceptedTitle, accepted);
    this.#makeFilter();
    this.#panel.append(h("h2", { class: "unseen" }, "Findings"));
    this.#panel.append(this.#asDrawn, this.#summary, this.#filter, this.#none, open, this.#more);
    this.#panel.append(this.#acceptedBlock, this.#print);
    board.subscribe(
      "design",
      atMostEvery(150, () => this.#render()),
    );
    board.subscribe("whatif", () => this.#render());
    addEventListener("beforeprint", () => this.#forPaper());
    matchMedia("print").addEventListener("change", (e) => e.matches && this.#forPaper());
  }

  #makeFilter(): void {
    for (const r of [null, ...ranks]) {
      const button = h("button", {
        type: "button",
        class: "small",
        title: r ? rankSays[r] : "all findings",
        onclick: () => {
          this.#only = r;
          this.#render();
        },
      });
      if (r) setAttr(button, "data-rank", r);
      this.#picks.set(r, button);
      this.#filter.append(button);
    }
  }

  #render(): void {
    const all = this.board.design?.findings ?? [];
    const { open, accepted } = group(all);
    const numbers = ranks.map((r) => open.filter((c) => c.rank === r).reduce((n, c) => n + c.list.length, 0));
    const total = numbers.reduce((a, b) => a + b, 0);
    if (this.#only && numbers[ranks.indexOf(this.#only)] === 0) this.#only = null;
    setText(this.#summary, byRank(open));
    setText(this.#tab, total > 0 ? `Findings ${total}` : "Findings");
    setAttr(this.#tab, "data-rank", open[0]?.rank ?? null);
    this.#none.hidden = open.length > 0 || this.board.design === null;
    const bare = ids(this.board.plan, "heads").length === 0;
    const nothing = bare ? "Nothing to check yet: draw the ground and place heads." : "Nothing to mend.";
    setText(this.#none, this.#none.hidden ? "" : nothing);
    this.#asDrawn.hidden = !this.board.whatIf || this.board.whatIf.kind === "drawn";
    this.#showFilter(numbers, total);
    this.#firstOpen = new Set(openAtFirst(open).map((c) => c.key));
    const { shown, waiting } = inSight(open, this.#only, this.#rest);
    this.#keepingFocus(() => this.#causes.show(shown));
    this.#more.hidden = waiting.length === 0;
    setText(this.#more, `Show ${count(waiting.length, "more cause")}: ${byRank(waiting)}`);
    this.#acceptedBlock.hidden = accepted.length === 0;
    setText(this.#acceptedTitle, `Accepted ${accepted.length}`);
    this.#keepingFocus(() => this.#accepted.show(accepted));
  }

  #showFilter(numbers: readonly number[], total: number): void {
    this.#filter.hidden = numbers.filter((n) => n > 0).length < 2;
    for (const [r, button] of this.#picks) {
      const n = r ? (numbers[ranks.indexOf(r)] ?? 0) : total;
      setText(button, r ? `${rankNames[r]} ${n}` : `All ${n}`);
      setAttr(button, "aria-pressed", String(this.#only === r));
      button.hidden = n === 0;
    }
  }

  #showRest(): void {
    const { waiting } = inSight(group(this.board.design?.findings ?? []).open, null, false);
    this.#rest = true;
    this.#render();
    const [first] = waiting;
    const row = first && this.#causes.get(first.key);
    row?.el.querySelector<HTMLElement>("button")?.focus();
  }

  /** When a row that had the focus goes, the focus goes to the panel and not to the page. */
  #keepingFocus(change: () => void): void {
    const had = document.activeElement;
    const inside = had !== null && this.#panel.contains(had);
    change();
    if (inside && !had.isConnected) this.#panel.focus();
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
        setText(reason, acceptedWords(f));
        setAttr(show, "aria-label", `Show: ${f.title}. ${f.sentence}`);
        setAttr(open, "aria-label", `Open again: ${f.title}. ${f.sentence}`);
      },
    };
  }

  /** Selects what a finding is about and brings it into view; what has no place leads to the settings. */
  go(f: Finding, place = ""): void {
    if (inSettings(f)) {
      this.settings(settingOf(f));
      return;
    }
    const things = thingsOf(f);
    this.board.select(things);
    this.board.lookAt({ about: things, at: f.at });
    this.board.announce(
      `${place}${rankNames[f.rank]}: ${f.title}. ${f.sentence} ${count(this.board.selection.size, "thing")} selected.`,
    );
  }

  /** Opens what is sought for a cause, for the areas it is about. */
  #cure(how: Cure, c: Cause): void {
    if (this.board.shut()) return;
    const about = c.list.flatMap((f) => areasChosen(this.board.plan, f.about ?? []));
    const areas = [...new Set(about)];
    if (how === "head.improve") showImproving(areas);
    else if (how === "head.arrange") showArranging(areas);
    else if (how === "zone.group") showGrouping();
    else if (how === "plan.water") showWatering();
    else void showLocalRules(this.board);
  }

  #reopen(f: Finding): void {
    void this.board.commit(`Open again: ${f.title}`, reopen(this.board.committed, f));
    this.board.announce(`Open again: ${f.title}.`);
  }

  /** On paper every finding is there in full, and those accepted with their reasons. */
  #forPaper(): void {
    const all = this.board.design?.findings ?? [];
    const item = (f: Finding): HTMLElement => {
      const last = f.accepted ? acceptedWords(f) : `Do: ${f.do}`;
      const title = h("h4", {}, h("span", { class: "chip" }, rankNames[f.rank]), ` ${f.title}`);
      const el = h("li", { class: "cause" }, title, h("p", {}, f.sentence), h("p", {}, last));
      setAttr(el, "data-rank", f.rank);
      return el;
    };
    const part = (title: string, list: readonly Finding[]): HTMLElement[] =>
      list.length === 0 ? [] : [h("h3", {}, title), h("ul", { class: "causes" }, ...list.map(item))];
    const open = all.filter((f) => !f.accepted);
    const done = all.filter((f) => f.accepted);
    const none = all.length === 0 ? [h("p", {}, "Nothing to mend.")] : [];
    const caution =
      "Before digging have every utility line marked: call two to three working days ahead; local law decides.";
    const { locate_on: on, locate_ticket: ticket } = this.board.plan.site ?? {};
    const asked =
      on || ticket ? ` Asked for${on ? ` on ${on}` : ""}${ticket ? `, ticket ${ticket}` : ""}.` : "";
    this.#print.replaceChildren(
      h("p", {}, caution + asked),
      ...none,
      ...part(`Open ${open.length}`, open),
      ...part(`Accepted ${done.length}`, done),
    );
  }
}

/** When, by whom and why a finding was accepted. */
function acceptedWords(f: Finding): string {
  const a = f.accepted;
  return a ? `Accepted ${a.on}${a.by ? ` by ${a.by}` : ""}: ${a.reason}` : "";
}

/** The button that leaves a dialog without doing anything. */
export const cancel = (): HTMLElement => h("button", { value: "", formnovalidate: true }, "Cancel");
