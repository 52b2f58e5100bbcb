// The lists of the Supply page: static readings, the pump's curve, and what each
// device takes by flow.

import type { SupplyReading } from "../design";
import { h, Rows, setText } from "../dom";
import type { Choice } from "../fields";
import { parseNumber } from "../fields";
import { type Read, read, refuse } from "../length";
import type { LossPoint, Plan, PumpPoint, StaticReading } from "../model";
import { flow, pressure, type Quantity, readQuantity, showQuantity } from "../quantity";
import { rowName } from "../rownames";
import type { Board } from "../state";
import {
  devicesInUse,
  type InUse,
  newReading,
  roleNames,
  type UsedAs,
  withLoss,
  withPump,
  withStatic,
} from "../supplyrows";
import { type ListColumn, ListEditor, type ListSpec } from "./listeditor";

interface List {
  readonly el: HTMLElement;
  /** Makes it anew, when the plan's units have changed. */
  build(): void;
  show(): void;
}

/** A list of the supply in an element of its own. */
function list<T>(spec: () => ListSpec<T>, rows: () => readonly T[]): List {
  const el = h("div");
  let editor: ListEditor<T> | null = null;
  const build = (): void => {
    editor = new ListEditor(spec());
    el.replaceChildren(editor.el);
  };
  return { el, build, show: () => editor?.show(rows()) };
}

function column<T>(
  board: Board,
  label: string,
  key: keyof T & string,
  q: Quantity,
  least: number,
  most: number,
): ListColumn<T> {
  const { show } = board.plan;
  return {
    label,
    hint: q.bare[show],
    as: "text",
    show: (row) => showQuantity(row[key] as number | undefined, q, show),
    put: (row, typed) => {
      const v = readQuantity(typed, q, show, least, most);
      return v.ok ? read({ ...row, [key]: v.value }) : v;
    },
  };
}

/** Makes a change of the plan one step; the sentence when it cannot be. */
function keep(board: Board, label: string, next: Read<Plan>): string | null {
  if (!next.ok) return next.sentence;
  void board.commit(label, next.value);
  return null;
}

/** r2 before r10. */
const inOrder = new Intl.Collator("en", { numeric: true });

type Noted = StaticReading & { readonly id: string };

export function staticList(board: Board): List {
  const rows = (p: Plan): Noted[] =>
    Object.entries(p.supply?.statics ?? {})
      .map(([id, r]) => ({ ...r, id }))
      .sort((a, b) => inOrder.compare(a.id, b.id));
  const spec = (): ListSpec<Noted> => ({
    one: "reading",
    caption: "static readings",
    columns: [column(board, "Pressure", "psi", pressure, 1, 300), hour, month, where],
    fresh: () => ({ id: newReading(board.committed), psi: 0 }),
    keep: (next, label) => {
      const had = rows(board.committed);
      let p = board.committed;
      for (const r of had) if (!next.some((n) => n.id === r.id)) p = withStatic(p, r.id, null);
      for (const { id, ...r } of next) p = withStatic(p, id, r);
      return keep(board, label, read(p));
    },
    announce: (t) => board.announce(t),
  });
  return list(spec, () => rows(board.plan));
}

const clock = (n: number): string =>
  n === 0 ? "midnight" : n === 12 ? "noon" : n > 12 ? `${n - 12} pm` : `${n} am`;

const hours: readonly Choice[] = [
  { value: "", label: "–" },
  ...Array.from({ length: 24 }, (_, n) => ({ value: String(n), label: clock(n) })),
];
const monthNames = "Jan Feb March April May June July Aug Sept Oct Nov Dec".split(" ");
const months: readonly Choice[] = [
  { value: "", label: "–" },
  ...monthNames.map((label, i) => ({ value: String(i + 1), label })),
];

/** A whole number that may be left out, chosen from a list. */
function chosen(label: string, key: "hour" | "month", choices: readonly Choice[]): ListColumn<Noted> {
  return {
    label,
    as: "choice",
    choices,
    show: (r) => (r[key] === undefined ? "" : String(r[key])),
    put: (r, typed) => {
      const { [key]: _old, ...rest } = r;
      if (typed === "") return read(rest as Noted);
      const v = parseNumber(typed, label.toLowerCase(), 0, 23);
      return v.ok ? read({ ...rest, [key]: v.value } as Noted) : v;
    },
  };
}

const hour = chosen("Hour", "hour", hours);
const month = chosen("Month", "month", months);

const where: ListColumn<Noted> = {
  label: "Where",
  as: "text",
  show: (r) => r.where ?? "",
  put: (r, typed) => {
    const t = typed.trim();
    if (t.length > 200) return refuse(`Where has ${t.length} characters. Shorten it to 200.`);
    const { where: _old, ...rest } = r;
    return read(t === "" ? rest : { ...rest, where: t });
  },
};

export function pumpList(board: Board): List {
  const spec = (): ListSpec<PumpPoint> => ({
    one: "point",
    caption: "the pump’s curve",
    columns: [
      column<PumpPoint>(board, "Flow", "flow_gpm", flow, 0, 10_000),
      column<PumpPoint>(board, "Pressure", "psi", pressure, 0, 300),
    ],
    fresh: () => ({ flow_gpm: 0, psi: 0 }),
    keep: (next, label) => keep(board, label, withPump(board.committed, next)),
    announce: (t) => board.announce(t),
  });
  return list(spec, () => board.plan.supply?.pump ?? []);
}

/** The devices in the pipe, each with the points of its curve under it. */
export class LossCurves {
  readonly el: HTMLElement;
  readonly #rows: Rows<InUse>;
  readonly #none = h(
    "p",
    { class: "hint" },
    "Choose a device above to see and change what it takes by flow.",
  );
  #takes: SupplyReading["devices"] = [];
  readonly #says = new Map<string, () => void>();

  constructor(readonly board: Board) {
    const body = h("div", { class: "loss-curves" });
    this.#rows = new Rows(
      body,
      (d) => `${d.role} ${d.id} ${board.plan.show}`,
      (d) => this.#device(d.role, d.id),
    );
    this.el = h("div", {}, this.#none, body);
  }

  show(): void {
    const list = devicesInUse(this.board.plan, this.board.catalog, this.#takes);
    this.#none.hidden = list.length > 0;
    this.#rows.show(list);
  }

  tell(takes: SupplyReading["devices"]): void {
    this.#takes = takes;
    this.show();
    for (const say of this.#says.values()) say();
  }

  #device(role: UsedAs, id: string) {
    const { board } = this;
    const row = () =>
      devicesInUse(board.committed, board.catalog, this.#takes).find((d) => d.role === role && d.id === id)
        ?.row;
    const spec: ListSpec<LossPoint> = {
      one: "point",
      caption: `what the ${roleNames[role].toLowerCase()} takes`,
      columns: [
        column<LossPoint>(board, "Flow", "flow_gpm", flow, 0.01, 10_000),
        column<LossPoint>(board, "Takes", "loss_psi", pressure, 0, 300),
      ],
      fresh: () => ({ flow_gpm: 0, loss_psi: 0 }),
      keep: (next, label) => {
        const now = row();
        return now ? keep(board, label, withLoss(board.committed, id, now, next)) : null;
      },
      announce: (t) => board.announce(t),
    };
    const points = new ListEditor(spec);
    const name = h("span");
    const takes = h("span", { class: "takes" });
    const source = h("p", { class: "hint" });
    const replace = h(
      "p",
      { class: "caution", hidden: true },
      "A default that no citable figure stands behind: type the maker’s curve in its place.",
    );
    const say = (): void => {
      const t = this.#takes.find((d) => d.role === role && d.id === id);
      const beyond = t?.beyond ? ", past the end of its curve" : "";
      setText(takes, t ? `takes ${t.takes}${beyond}` : "");
    };
    this.#says.set(`${role} ${id}`, say);
    return {
      el: h("details", { class: "loss" }, h("summary", {}, name, " ", takes), replace, source, points.el),
      update: ({ row }: InUse) => {
        setText(name, `${roleNames[role]}: ${rowName(row, board.plan.show)}`);
        setText(source, `Source: ${row.source}.`);
        replace.hidden = !row.replace;
        points.show(row.loss);
        say();
      },
    };
  }
}
