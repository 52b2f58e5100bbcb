// The picture of the supply: the limits of its flow as bars, and the pressure left
// by flow with what the zones ask for. The curve ends where the supply is no
// longer known. All figures come from the server; here they are only laid out.

import type { Axis, SupplyCurve, SupplyLimit, SupplyReading } from "../design";
import { h, Rows, setAttr, setText } from "../dom";
import { capital } from "../names";
import { s } from "../scene/svg";

export class LimitBars {
  readonly el: HTMLElement;
  readonly #rows: Rows<SupplyLimit>;
  readonly #none = h("p", { class: "hint" }, "Nothing is known yet that limits the flow.");
  #scale: BarScale = { most: 1, design: null };

  constructor() {
    const list = h("ol", { class: "limits" });
    this.#rows = new Rows(
      list,
      (l) => l.code,
      () => limitRow(() => this.#scale),
    );
    this.el = h(
      "section",
      { class: "supply-part", "aria-labelledby": "limits-title" },
      h("h3", { id: "limits-title" }, "What limits the flow"),
      h(
        "p",
        { class: "hint" },
        "The least of these is the design flow, unless you choose another. The mark across the bars is the design flow.",
      ),
      this.#none,
      list,
    );
  }

  show(r: SupplyReading): void {
    this.#scale = { most: r.flows?.most ?? 1, design: r.flows ? r.design_flow : null };
    this.#none.hidden = r.limits.length > 0;
    this.#rows.show(r.limits);
  }
}

interface BarScale {
  readonly most: number;
  /** Marked across every bar. */
  readonly design: number | null;
}

function limitRow(scale: () => BarScale) {
  const title = h("strong");
  const sets = h("span", { class: "chip", hidden: true });
  const figure = h("span", { class: "limit-figure" });
  const bar = h("span", { class: "bar-of" });
  const mark = h("span", { class: "bar-design" });
  const says = h("p", { class: "limit-says" });
  const rule = h("p");
  const source = h("p", { class: "hint" });
  const named = h("span", { class: "unseen" });
  const why = h("details", {}, h("summary", {}, "Rule and source", named), rule, source);
  const el = h(
    "li",
    {},
    h("p", { class: "limit-head" }, h("span", {}, title, " ", sets), figure),
    h("span", { class: "bar-track", "aria-hidden": "true" }, bar, mark),
    says,
    why,
  );
  return {
    el,
    update: (l: SupplyLimit) => {
      setText(title, l.title);
      setText(figure, l.missing ? "not known" : l.text);
      setText(says, l.missing ?? `${capital(l.says)}.`);
      setText(rule, l.rule);
      setText(source, `Source: ${l.source}`);
      setText(named, ` of ${l.title}`);
      sets.hidden = !l.sets && !l.least;
      setText(sets, l.sets ? "sets the design flow" : "the least of the limits");
      setAttr(el, "data-sets", l.sets);
      setAttr(el, "data-missing", l.missing !== undefined);
      const { most, design } = scale();
      const part = (gpm: number): string => `${Math.min(100, (100 * gpm) / most)}%`;
      bar.style.width = part(l.missing ? 0 : l.flow);
      mark.hidden = design === null || l.missing !== undefined;
      mark.style.left = part(design ?? 0);
    },
  };
}

const HEIGHT = 300;
const EDGE = { left: 46, right: 14, top: 26, bottom: 44 };

export class CurvePicture {
  readonly el: HTMLElement;
  readonly #svg = s("svg", { class: "curve", role: "img" });
  readonly #needs = h("p", { class: "hint" });
  readonly #ends = h("p", { class: "hint" });
  readonly #planned = h(
    "p",
    { class: "hint" },
    "Zones stand at the flow they are planned for; the table Pressure tells what each takes when it runs.",
  );
  readonly #table: HTMLElement;
  readonly #rows: Rows<SupplyCurve["rows"][number]>;
  #now: SupplyCurve | null = null;

  constructor() {
    const body = h("tbody");
    this.#rows = new Rows(body, (_, i) => String(i), pointRow);
    const head = ["What", "Flow", "Pressure left"].map((t) => h("th", { scope: "col" }, t));
    this.#table = h(
      "div",
      { class: "scroll" },
      h(
        "table",
        { class: "curve-table" },
        h("caption", { class: "unseen" }, "Pressure left at the connection by flow"),
        h("thead", {}, h("tr", {}, ...head)),
        body,
      ),
    );
    this.el = h(
      "section",
      { class: "supply-part", "aria-labelledby": "curve-title" },
      h("h3", { id: "curve-title" }, "Pressure left by flow"),
      this.#needs,
      h("div", { class: "curve-frame" }, this.#svg),
      this.#ends,
      this.#table,
      this.#planned,
    );
    new ResizeObserver(() => this.#draw()).observe(this.#svg.parentElement as Element);
  }

  show(r: SupplyReading): void {
    this.#now = r.curve ?? null;
    setText(this.#needs, r.needs ?? "");
    this.#needs.hidden = !r.needs;
    const rests = r.reading ? `Static pressure designed on: ${r.reading}. ` : "";
    setText(this.#ends, `${rests}${r.curve?.ends ?? ""}`);
    this.#ends.hidden = this.#ends.textContent === "";
    for (const el of [this.#table, this.#svg.parentElement as HTMLElement]) el.hidden = !r.curve;
    this.#planned.hidden = !r.curve?.zones.length;
    this.#rows.show(r.curve?.rows ?? []);
    this.#draw();
  }

  #draw(): void {
    const c = this.#now;
    const width = this.#svg.parentElement?.clientWidth ?? 0;
    if (!c || width < 60) return;
    this.#svg.setAttribute("viewBox", `0 0 ${width} ${HEIGHT}`);
    this.#svg.setAttribute("height", String(HEIGHT));
    this.#svg.setAttribute("aria-label", `Pressure left by flow. ${c.ends} The table below has the figures.`);
    this.#svg.replaceChildren(...drawn(c, width));
  }
}

function pointRow() {
  const what = h("th", { scope: "row" });
  const flow = h("td", { class: "figure" });
  const psi = h("td", { class: "figure" });
  return {
    el: h("tr", {}, what, flow, psi),
    update: (r: SupplyCurve["rows"][number]) => {
      setText(what, r.what);
      setText(flow, r.flow);
      setText(psi, r.pressure);
    },
  };
}

function drawn(c: SupplyCurve, width: number): Element[] {
  const x = (gpm: number): number => EDGE.left + ((width - EDGE.left - EDGE.right) * gpm) / c.flow.most;
  const y = (psi: number): number =>
    HEIGHT - EDGE.bottom - ((HEIGHT - EDGE.top - EDGE.bottom) * psi) / c.pressure.most;
  const [floor, top] = [y(0), y(c.pressure.most)];
  const made: Element[] = [];
  for (const t of c.pressure.ticks)
    made.push(
      s("path", { class: "grid-line", d: `M${EDGE.left} ${y(t.at)}H${width - EDGE.right}` }),
      s("text", { class: "tick-of left", x: EDGE.left - 6, y: y(t.at) + 4 }, t.text),
    );
  for (const t of everyOther(c.flow, width))
    made.push(
      s("path", { class: "grid-line", d: `M${x(t.at)} ${floor}v5` }),
      s("text", { class: "tick-of", x: x(t.at), y: floor + 17 }, t.text),
    );
  made.push(
    s("text", { class: "axis-title", x: (EDGE.left + width - EDGE.right) / 2, y: HEIGHT - 6 }, c.flow.title),
    s("text", { class: "axis-title start", x: 4, y: 14 }, c.pressure.title),
  );
  const last = c.points[c.points.length - 1];
  if (last && last[0] < c.flow.most) {
    const from = x(last[0]);
    const room = width - EDGE.right - from;
    made.push(s("rect", { class: "not-known", x: from, y: top, width: room, height: floor - top }));
    if (room > 64) made.push(s("text", { class: "tick-of", x: from + room / 2, y: top + 16 }, "not known"));
  }
  if (c.design > 0 && c.design <= c.flow.most)
    made.push(
      s("path", { class: "design-line", d: `M${x(c.design)} ${top}V${floor}` }),
      designName(x(c.design), top - 6, width),
    );
  const line = c.points.map(([q, p]) => `${x(q)} ${y(p)}`).join("L");
  made.push(s("path", { class: "curve-line", d: `M${line}` }));
  for (const [q, p] of c.measured)
    made.push(s("circle", { class: "measured-point", cx: x(q), cy: y(p), r: 5 }));
  return [...made, ...zoneMarks(c, x, y)];
}

/** The name over the line of the design flow, kept inside the picture. */
function designName(x: number, y: number, width: number): Element {
  const half = 34;
  return s("text", { class: "design-text", x: Math.min(x, width - half - 2), y }, "design flow");
}

/** The zones' demands on the curve, their marks apart where they are close. */
function zoneMarks(c: SupplyCurve, x: (q: number) => number, y: (p: number) => number): Element[] {
  const made: Element[] = [];
  const taken: { at: number; level: number }[] = [];
  for (const z of [...c.zones].sort((a, b) => a.flow - b.flow)) {
    const at = x(z.flow);
    let level = 0;
    while (taken.some((t) => t.level === level && Math.abs(t.at - at) < 17)) level++;
    taken.push({ at, level });
    const base = y(z.psi ?? 0);
    const label = base + 24 + level * 17 > y(0) - 4 ? base - 14 - level * 17 : base + 22 + level * 17;
    made.push(
      s(
        "g",
        { class: z.over ? "zone-mark over" : "zone-mark" },
        s("title", {}, `${z.name}: ${z.text}`),
        s("path", { class: "zone-lead", d: `M${at} ${base}V${label - 4}` }),
        s("path", { d: `M${at - 5} ${base}L${at} ${base - 6}L${at + 5} ${base}L${at} ${base + 6}Z` }),
        s("circle", { cx: at, cy: label, r: 8 }),
        s("text", { x: at, y: label + 4 }, z.mark),
      ),
    );
  }
  return made;
}

/** The marks of an axis that have room. */
function everyOther(a: Axis, width: number): Axis["ticks"] {
  const each = (width - EDGE.left - EDGE.right) / Math.max(1, a.ticks.length - 1);
  const step = Math.max(1, Math.ceil(34 / each));
  return a.ticks.filter((_, i) => i % step === 0);
}
