// What to buy: the point of connection, the main, each zone, electrical and the rest,
// then all of it. A list is folded to its count and its sum; a line opens to what it
// was counted from. What has a price says what it costs.

import type { PartsLine } from "../design";
import { atMostEvery, button, byID, h, type Row, Rows, setAttr, setText } from "../dom";
import type { Plan, Ref } from "../model";
import { capital, count, nameOf, sortKey } from "../names";
import { type Block, blocksOf, type Priced, withPrices } from "../pricing";
import type { Board } from "../state";
import { showFigures } from "./figures";
import { askPrice, bringPrices } from "./prices";

/** Things of a line that are named one by one; the rest is counted. */
const NAMED = 60;

/** Opens the list of parts and goes there. */
export function showParts(): void {
  const tab = byID("tab-parts");
  if (tab.getAttribute("aria-selected") !== "true") tab.click();
  tab.focus();
}

export class Parts {
  readonly #list = h("div", { class: "parts" });
  readonly #rows: Rows<Block>;
  readonly #empty = h("p", { class: "hint" }, "Nothing to buy yet. What is drawn as new is counted here.");
  readonly #says = h("p", { class: "parts-says", role: "status" });
  readonly #scope = h("p", { class: "hint parts-scope" });
  readonly #lacking = h("input", { type: "checkbox", id: "parts-lacking" });
  readonly #lackingWords = h("label", { for: "parts-lacking" });
  readonly #look: HTMLElement;
  readonly #remove: HTMLButtonElement;

  constructor(readonly board: Board) {
    this.#rows = new Rows(
      this.#list,
      (b) => b.key,
      () => this.#block(),
    );
    this.#list.addEventListener("keydown", (e) => this.#key(e));
    this.#lacking.addEventListener("change", () => {
      this.#render();
      if (this.#lacking.checked) this.#openAll(true);
    });
    this.#remove = button("Remove all prices", "small", () => this.#removeAll());
    this.#look = h(
      "p",
      { class: "acts parts-look" },
      h("span", { class: "labelled" }, this.#lacking, this.#lackingWords),
      button("Open all lists", "small", () => this.#openAll(true)),
      button("Close all", "small", () => this.#openAll(false)),
      this.#remove,
      this.#file("parts.csv", "Save as CSV"),
      this.#file("parts.xlsx", "Save as XLSX"),
    );
    byID("parts").append(
      h("h2", { class: "unseen" }, "Parts"),
      this.#acts(),
      this.#says,
      this.#empty,
      this.#look,
      this.#list,
      h(
        "details",
        { class: "parts-what" },
        h("summary", {}, "What is counted here, and what not"),
        this.#scope,
      ),
    );
    board.subscribe(
      "design",
      atMostEvery(250, () => this.#render()),
    );
    this.#render();
  }

  get #at(): string {
    return `/plans/${encodeURIComponent(this.board.id)}`;
  }

  #file(name: string, words: string): HTMLElement {
    return h("a", { class: "button small", href: `${this.#at}/files/${name}`, download: true }, words);
  }

  #acts(): HTMLElement {
    const { board } = this;
    return h(
      "p",
      { class: "acts" },
      button("Bring prices…", "small", () => void bringPrices(board)),
      this.#file("prices.csv", "Price list to fill in"),
      h("button", { type: "button", class: "small", "data-runs": "plan.rates" }, "Rates…"),
      h("a", { class: "button small", href: `${this.#at}/quote` }, "Quote…"),
      h("button", { type: "button", class: "small", "data-runs": "plan.compare" }, "Compare…"),
      button("Allowances…", "small", () => void showFigures(board, ["parts", "sleeve", "wire"])),
    );
  }

  #render(): void {
    const { parts, costs } = this.board.design ?? {};
    const { zones = [], total = [], scope = "" } = parts ?? {};
    const priced = (costs?.sum ?? "") !== "";
    const lacking = priced ? total.filter((_, i) => !costs?.total[i]?.price).length : 0;
    if (lacking === 0) this.#lacking.checked = false;
    setText(this.#scope, scope);
    setText(this.#says, total.length === 0 ? "" : costs?.says || NO_PRICE);
    setText(this.#lackingWords, `Only what has no price (${lacking})`);
    (this.#lackingWords.parentElement as HTMLElement).hidden = lacking === 0;
    this.#empty.hidden = total.length > 0;
    this.#look.hidden = total.length === 0;
    this.#remove.hidden = Object.keys(this.board.plan.prices ?? {}).length === 0;
    this.#list.toggleAttribute("data-priced", priced);
    this.#rows.show(blocksOf({ zones: zones ?? [], total: total ?? [] }, costs, this.#lacking.checked));
  }

  #block(): Row<Block> {
    const title = h("h3");
    const lines = h("span", { class: "hint" });
    const missing = h("span", { class: "lacks" });
    const sum = h("span", { class: "figure" });
    const body = h("tbody");
    const rows = new Rows<Priced>(
      body,
      (l, i) => `${i} ${l.line.group} ${l.line.item}`,
      () => this.#line(),
    );
    const columns = ["Part", "Item", "Count", "Price", "Cost", "Counted from"];
    const heads = columns.map((t) =>
      h("th", { scope: "col", class: t === "Count" || t === "Cost" ? "figure" : null }, t),
    );
    const none = h("p", { class: "hint" }, "Nothing to buy.");
    const table = h("table", {}, h("thead", {}, h("tr", {}, ...heads)), body);
    const el = h(
      "details",
      { class: "parts-zone" },
      h("summary", {}, title, lines, missing, sum),
      none,
      table,
    );
    let first = true;
    return {
      el,
      update: (b) => {
        if (first) el.open = b.key === "total";
        first = false;
        setText(title, b.title);
        setText(lines, count(b.lines.length, "line"));
        setText(missing, b.missing > 0 ? `${b.missing} without a price` : "");
        setText(sum, b.sum);
        none.hidden = b.lines.length > 0;
        table.hidden = b.lines.length === 0;
        rows.show(b.lines);
      },
    };
  }

  #line(): Row<Priced> {
    let now: Priced | null = null;
    const part = h("td", { class: "hint" });
    const item = h("th", { scope: "row" });
    const amount = h("span");
    const sold = h("span", { class: "hint sold" });
    const each = h("span");
    const ofItem = h("span", { class: "unseen" });
    const price = button("", "link", () => now && void askPrice(this.board, now));
    price.append(each, ofItem);
    const cost = h("td", { class: "figure cost" });
    const rule = h("p", { class: "hint" });
    const from = h("ul", { class: "from" });
    const show = button(
      "Show all on the board",
      "small",
      () => now && this.#show(things(this.board.plan, now.line)),
    );
    const size = h("span");
    const said = h("span", { class: "unseen" });
    const open = h("details", {}, h("summary", {}, size, said), rule, from, show);
    open.addEventListener("toggle", () => this.#names(from, open.open ? now : null));
    return {
      el: h(
        "tr",
        {},
        part,
        item,
        h("td", { class: "figure" }, amount, " ", sold),
        h("td", { class: "price" }, price),
        cost,
        h("td", {}, open),
      ),
      update: (l) => {
        now = l;
        setText(part, capital(l.line.group));
        setText(item, l.line.item);
        setText(amount, `${l.line.count} ${l.line.unit === "each" ? "" : l.line.unit}`.trim());
        setText(sold, l.line.sold ?? "");
        sold.hidden = !l.line.sold;
        setText(each, l.cost.each ?? "Price…");
        setText(ofItem, l.cost.each ? ` for ${l.line.item}` : ` of ${l.line.item}`);
        setAttr(price, "class", l.cost.each ? "link" : "link lacks");
        setText(cost, l.cost.sum ?? "");
        setText(size, count(things(this.board.plan, l.line).length, "thing"));
        setText(said, ` that ${l.line.item} is counted from`);
        setText(rule, capital(l.line.rule));
        if (open.open) this.#names(from, l);
      },
    };
  }

  /** The things of an open line, each of which shows itself on the board. */
  #names(el: HTMLElement, l: Priced | null): void {
    const named = l ? inOrder(this.board.plan, l.line) : [];
    const said = named.map(([, name]) => name).join("\n");
    if (el.dataset.said === said) return;
    el.dataset.said = said;
    const left = named.length - NAMED;
    el.replaceChildren(
      ...named.slice(0, NAMED).map(([r, name]) =>
        h(
          "li",
          {},
          button(name, "link", () => this.#show([r])),
        ),
      ),
      left > 0 ? h("li", { class: "hint" }, `and ${left} more`) : "",
    );
  }

  #show(refs: readonly Ref[]): void {
    this.board.select(refs);
    this.board.lookAt({ about: [...refs], gentle: true });
    this.board.announce(`${count(refs.length, "thing")} selected on the board.`);
  }

  #lists(): HTMLDetailsElement[] {
    return [...this.#list.querySelectorAll<HTMLDetailsElement>(".parts-zone")];
  }

  #openAll(on: boolean): void {
    for (const d of this.#lists()) d.open = on;
  }

  /** Arrows go from list to list; Home and End to the first and the last. */
  #key(e: KeyboardEvent): void {
    const all = this.#lists().map((d) => d.firstElementChild as HTMLElement);
    const at = all.indexOf(e.target as HTMLElement);
    if (at < 0 || e.altKey || e.ctrlKey || e.metaKey) return;
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[e.key];
    if (to === undefined) return;
    e.preventDefault();
    all[to]?.focus();
  }

  #removeAll(): void {
    const n = Object.keys(this.board.committed.prices ?? {}).length;
    void this.board.commit(`Remove ${count(n, "price")}`, withPrices(this.board.committed, {}));
    this.board.show({ kind: "hint", sentence: `${count(n, "price")} removed. Undo brings them back.` });
    byID("tab-parts").focus();
  }
}

const NO_PRICE =
  "Nothing has a price yet. Save the price list, fill it in and bring it back; or give a line its price.";

/** What a line was counted from, each once: a joint may take two of a fitting. What is counted from the supply as a whole
 * is looked for at the point of connection, where there is one on the plan. */
function things(p: Plan, l: PartsLine): Ref[] {
  const placed = (l.from ?? []).map((r) => ((r as string) === "supply" ? "supply/connection" : r));
  return [...new Set(placed)].filter((r) => r !== "supply/connection" || p.supply?.connection);
}

/** The things with their names as one looks for them on the plan: head 2-10 after head 2-9, whatever their ids. */
function inOrder(p: Plan, l: PartsLine): [Ref, string][] {
  const keyed = things(p, l).map((r) => [r, nameOf(p, r), sortKey(nameOf(p, r))] as const);
  return [...keyed].sort(([, , a], [, , b]) => (a < b ? -1 : a > b ? 1 : 0)).map(([r, name]) => [r, name]);
}

export const countedFrom = (p: Plan, l: PartsLine): string[] => inOrder(p, l).map(([, name]) => name);
