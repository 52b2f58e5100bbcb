// The three readings that are always in view, the use of the supply, and the
// rest under More.

import { type Estimated, type EstimateRow, planURL, stopped, type WindowsRow } from "../api";
import type { AreaReading, Design, OffTarget, Reading, XY } from "../design";
import { atMostEvery, byID, h, Rows, setAttr, setText } from "../dom";
import { askLong } from "../longwork";
import type { Ref } from "../model";
import type { Board } from "../state";

const rankWords = { good: "good", fair: "fair", poor: "poor" } as const;

const notComputed = `${stopped}. What you do is kept here meanwhile, and computed when it is back.`;
const unknown: Reading = { text: "not computed" };
const none = { evenness: unknown, rate: unknown, driest: unknown, flow: unknown };

export class Readings {
  readonly #board: Board;
  /** What the three are of, and why there are none. */
  readonly #of = h("p", { class: "of-what" });
  readonly #evenness = h("span", { class: "big" });
  readonly #evenRank = h("span", { class: "rank-word", hidden: true });
  readonly #evenLabel = h("dd", { class: "hint" });
  readonly #rate = h("dd");
  readonly #driest = h("button", { type: "button", class: "plain driest" });
  readonly #flow = h("dd");
  readonly #more = h("details", { class: "more" });
  readonly #moreList = h("dl", { class: "facts" });
  readonly #areas: Rows<AreaReading>;
  readonly #off: Rows<OffTarget>;
  readonly #offBlock: HTMLElement;
  readonly #estimate = h("div", { class: "estimate" });
  #estimated: { rev: number; off: AbortController } | null = null;
  #driestAt: XY | undefined;

  constructor(board: Board, onSupply: () => void) {
    this.#board = board;
    const body = h("tbody");
    this.#areas = new Rows(body, (a) => a.id, areaRow);
    const off = h("ul", { class: "off" });
    this.#off = new Rows(
      off,
      (o) => o.id,
      () => this.#offRow(),
    );
    this.#offBlock = h("div", {}, h("h3", {}, "Water off its target"), off);
    this.#driest.addEventListener("click", () => {
      if (this.#driestAt) board.lookAt({ at: this.#driestAt });
    });
    byID("readings").append(
      h("h2", { class: "unseen" }, "Readings"),
      this.#of,
      this.#three(onSupply),
      this.#moreBlock(body),
    );
    board.subscribe(
      "design",
      atMostEvery(80, () => this.#render()), // figures that change faster cannot be read
    );
    for (const topic of ["whatif", "away"] as const) board.subscribe(topic, () => this.#render());
    for (const topic of ["saved", "away"] as const) board.subscribe(topic, () => this.#estimateIfOpen());
  }

  #three(onSupply: () => void): HTMLElement {
    const supply = h("button", { type: "button", class: "plain", onclick: onSupply }, "Supply");
    return h(
      "dl",
      { class: "three" },
      h(
        "div",
        { class: "evenness" },
        h("dt", {}, "Evenness"),
        h("dd", {}, this.#evenness, this.#evenRank),
        this.#evenLabel,
      ),
      h("div", { class: "rate" }, h("dt", {}, "Rate"), this.#rate),
      h("div", { class: "dry" }, h("dt", {}, "Driest place"), h("dd", {}, this.#driest)),
      h("div", { class: "flow" }, h("dt", {}, supply), this.#flow),
    );
  }

  #moreBlock(body: HTMLElement): HTMLElement {
    const head = ["Area", "Even", "Mean rate", "With lip"].map((t) => h("th", { scope: "col" }, t));
    this.#more.append(
      h("summary", {}, "More"),
      h("p", { class: "hint" }, "Layout uniformity in calm air with ideal nozzles: the field is less even."),
      this.#estimate,
      h("table", {}, h("thead", {}, h("tr", {}, ...head)), body),
      this.#moreList,
      this.#offBlock,
    );
    this.#more.addEventListener("toggle", () => this.#estimateIfOpen());
    return this.#more;
  }

  #render(): void {
    const { design: d, away, whatIf } = this.#board;
    setText(this.#of, away ? notComputed : (whatIf?.title ?? ""));
    this.#more.hidden = away;
    if (!d) return;
    // Together with the map: what is worked out otherwise, or the drawing.
    const { evenness, rate, driest, flow } = away
      ? none
      : { ...d.readings, ...whatIf?.shown?.readings, flow: d.readings.flow };
    setText(this.#evenness, evenness.text || "–");
    setText(this.#evenRank, evenness.rank ? rankWords[evenness.rank] : "");
    this.#evenRank.hidden = !evenness.rank;
    setAttr(this.#evenRank, "data-rank", evenness.rank ?? null);
    setText(this.#evenLabel, evenness.label ?? "");
    setText(this.#rate, rate.text || "–");
    setText(this.#driest, driest.text || "–");
    this.#driest.disabled = !driest.at;
    this.#driestAt = driest.at;
    setText(this.#flow, flow.text || "–");
    setAttr(this.#flow, "data-rank", flow.rank ?? null);
    if (this.#more.open) this.#renderMore(d);
  }

  #renderMore(d: Design): void {
    this.#areas.show(d.areas ?? []);
    this.#off.show(d.off_target ?? []);
    this.#offBlock.hidden = (d.off_target ?? []).length === 0;
    const said = Array.from(this.#moreList.children, (e) => e.textContent).join("\n");
    const want = (d.more ?? []).map((m) => `${m.label}\n${m.text}`).join("\n");
    if (said === want) return;
    this.#moreList.replaceChildren(
      ...(d.more ?? []).flatMap((m) => [h("dt", {}, m.label), h("dd", {}, m.text)]),
    );
  }

  #offRow(): { el: Element; update(o: OffTarget): void } {
    let now: OffTarget | null = null;
    const go = (): void => {
      const heads = (now?.heads ?? []).map((id): Ref => `heads/${id}`);
      this.#board.select(heads);
      this.#board.lookAt({ about: heads });
    };
    const words = h("span");
    const button = h("button", { type: "button", class: "small", onclick: go }, "Show heads");
    const el = h("li", {}, words, " ", button);
    return {
      el,
      update: (o) => {
        now = o;
        setText(words, o.text || `${o.name}: ${o.gpm}, ${o.share}`);
        setAttr(el, "data-rank", o.rank);
        button.hidden = o.heads.length === 0;
      },
    };
  }

  // What takes long is asked for only while More is open, and once for each stored
  // revision. An answer of another one, come late, is dropped.
  async #estimateIfOpen(): Promise<void> {
    if (!this.#more.open) return;
    const board = this.#board;
    if (board.design) this.#renderMore(board.design);
    const { rev } = board;
    if (this.#estimated?.rev === rev || board.saved.state !== "yes" || board.away) return;
    this.#estimated?.off.abort();
    const mine = { rev, off: new AbortController() };
    this.#estimated = mine;
    this.#estimate.replaceChildren(
      h("p", { class: "hint", role: "status" }, "Working out the field estimate and the windy day…"),
    );
    const answer = await board.longWork.run<Estimated>(
      "Working out the field estimate and the windy day",
      (off, tell) => askLong<Estimated>(`${planURL(board.id)}/estimate?rev=${rev}`, off, tell),
      mine.off.signal,
    );
    if (this.#estimated !== mine) return;
    if (answer?.ok) this.#estimate.replaceChildren(...this.#otherwise(answer.value));
    else this.#again(answer ? answer.error : "The field estimate was called off.");
  }

  /** Why there is no estimate, and the way to ask for it again. */
  #again(sentence: string): void {
    const again = (): void => {
      this.#estimated = null;
      void this.#estimateIfOpen();
    };
    this.#estimate.replaceChildren(
      h("p", {}, sentence),
      h("button", { type: "button", class: "small", onclick: again }, "Work it out"),
    );
  }

  #otherwise(e: Estimated): Node[] {
    return [...evennessBlock(e, this.#board.design?.areas ?? []), ...windowsBlock(e.scheduling ?? [])];
  }
}

function areaRow(): { el: Element; update(a: AreaReading): void } {
  const cells = ["evenness", "rate", "with_lip"].map((k) => ({ k, el: h("td") }));
  const name = h("th", { scope: "row" });
  return {
    el: h("tr", {}, name, ...cells.map((c) => c.el)),
    update: (a) => {
      setText(name, a.name);
      for (const { k, el } of cells) setText(el, a[k] ?? "–");
    },
  };
}

/** Evenness as drawn and otherwise: an area a row. */
function evennessBlock(e: Estimated, drawn: readonly AreaReading[]): Node[] {
  const rows = e.areas ?? [];
  if (rows.length === 0) return [];
  const head = ["Area", "Drawn", "Field", "1 in 10 under", "Windy"].map((t) => h("th", { scope: "col" }, t));
  const row = (a: EstimateRow): HTMLElement => {
    const even = drawn.find((d) => d.id === a.id)?.evenness ?? "–";
    return h(
      "tr",
      {},
      h("th", { scope: "row" }, a.name),
      ...[even, a.mean, a.p10, a.windy].map((t) => h("td", {}, t)),
    );
  };
  return [
    h("h3", {}, "Field estimate and windy day"),
    h(
      "p",
      { class: "hint" },
      `Evenness as drawn, on average when heads stand a few inches off and nozzles differ a little, and in a wind of ${e.wind} (how far it carries the water is an assumption).`,
    ),
    h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...rows.map(row))),
  ];
}

/** Scheduling coefficients: an area a row, a size of window a column. */
function windowsBlock(rows: readonly WindowsRow[]): Node[] {
  const [first] = rows;
  if (!first) return [];
  const head = ["Area", ...first.windows.map((w) => w.share)].map((t) => h("th", { scope: "col" }, t));
  const body = rows.map((r) =>
    h("tr", {}, h("th", { scope: "row" }, r.name), ...r.windows.map((w) => h("td", {}, w.text))),
  );
  return [
    h("h3", {}, "Scheduling coefficient by size of window"),
    h(
      "p",
      { class: "hint" },
      "The mean over the rate of the driest square window of that share of the area.",
    ),
    h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...body)),
  ];
}
