// The kinds of tables a user can bring in: how each is read by the server, shown
// before it is added, and put into the plan.

import { type DeviceEntry, type NozzleEntry, type PipeClassEntry, type RowError, server } from "../api";
import { h } from "../dom";
import { type Device, type Nozzle, type PipeClass, type Plan, put } from "../model";

export interface TableRows<T> {
  rows: T[];
  errors: RowError[];
}

/** One kind of table. */
export interface TableKind {
  readonly name: "nozzles" | "pipes" | "devices";
  readonly title: string;
  /** What one row of the plan is called. */
  readonly one: string;
  readonly many: string;
  /** Where the rows are chosen afterwards. */
  readonly chosenIn: string;
  readonly lines: string;
  readonly needed: string;
  readonly more: string;
  readonly metric: string;
  readonly heads: readonly string[];
  read(csv: Blob): Promise<{ ok: true; value: TableRows<unknown> } | { ok: false; error: string }>;
  cells(row: unknown): readonly string[];
  put(p: Plan, rows: readonly unknown[]): Plan;
}

const span = (lo: number | undefined, hi: number | undefined, unit: string): string =>
  lo === undefined || hi === undefined || lo === hi ? `${lo ?? ""} ${unit}` : `${lo}–${hi} ${unit}`;

const nozzles: TableKind = {
  name: "nozzles",
  title: "Nozzles",
  one: "nozzle",
  many: "nozzles",
  chosenIn: "choose them in any Nozzle list.",
  lines: "one row for each nozzle and pressure",
  needed: "name, family, pressure_psi, throw_ft, flow_gpm and, but for strips, arc_least_deg, arc_most_deg",
  more: "id, flow_follows_arc, trajectory_deg, profile, low_profile, strip_left_ft, strip_right_ft, best_psi, thread, source",
  metric: "pressure_bar, throw_m, flow_l_per_min",
  heads: ["Nozzle", "Family", "Pressures", "Rows"],
  read: (csv) => server.previewTable<NozzleEntry>("nozzles", csv),
  cells: (row) => {
    const n = row as NozzleEntry;
    return [
      n.name,
      n.family,
      span(n.rows[0]?.pressure_psi, n.rows.at(-1)?.pressure_psi, "psi"),
      String(n.rows.length),
    ];
  },
  put: (p, rows) =>
    (rows as NozzleEntry[]).reduce((next, { id, ...row }) => put(next, "nozzles", id, row as Nozzle), p),
};

const pipes: TableKind = {
  name: "pipes",
  title: "Pipe",
  one: "pipe class",
  many: "pipe classes",
  chosenIn: "choose them in the Class list of any pipe.",
  lines: "one row for each class and size",
  needed: "name, material, nominal_in, outside_in, wall_in, inside_in, rating_psi",
  more: "id, c, modulus_psi, potable, joint, sold_ft, convention, source, price_per_ft",
  metric: "outside_mm, wall_mm, inside_mm, rating_bar, price_per_m",
  heads: ["Class", "Material", "Sizes", "Inside"],
  read: (csv) => server.previewTable<PipeClassEntry>("pipes", csv),
  cells: (row) => {
    const c = row as PipeClassEntry;
    const [lo, hi] = [c.sizes[0], c.sizes.at(-1)];
    return [
      c.name,
      c.material,
      span(lo?.nominal_in, hi?.nominal_in, "in"),
      span(lo?.inside_in, hi?.inside_in, "in"),
    ];
  },
  put: (p, rows) =>
    (rows as PipeClassEntry[]).reduce(
      (next, { id, ...row }) => put(next, "pipe_classes", id, row as PipeClass),
      p,
    ),
};

const devices: TableKind = {
  name: "devices",
  title: "Valves, backflow devices and the like",
  one: "device",
  many: "devices",
  chosenIn: "choose them on the Water supply page and in each zone.",
  lines: "one row for each device and point of its loss curve",
  needed: "name, kind, flow_gpm, loss_psi and, for backflow devices, backflow",
  more: "id, nominal_in, least_gpm, most_gpm, least_psi, most_psi, replace, source",
  metric: "flow_l_per_min, loss_bar, least_l_per_min, most_l_per_min",
  heads: ["Device", "Kind", "Flows", "Losses"],
  read: (csv) => server.previewTable<DeviceEntry>("devices", csv),
  cells: (row) => {
    const d = row as DeviceEntry;
    const [lo, hi] = [d.loss[0], d.loss.at(-1)];
    const kind = (d.backflow ?? d.kind).replaceAll("_", " ");
    return [d.name, kind, span(lo?.flow_gpm, hi?.flow_gpm, "gpm"), span(lo?.loss_psi, hi?.loss_psi, "psi")];
  },
  put: (p, rows) =>
    (rows as DeviceEntry[]).reduce((next, { id, ...row }) => put(next, "devices", id, row as Device), p),
};

export const tableKinds: readonly TableKind[] = [nozzles, pipes, devices];

/** What was read, as a table; or what is wrong, by row and column. */
export function shown(kind: TableKind, { rows, errors }: TableRows<unknown>): Node[] {
  if (errors.length > 0) {
    const lines = errors.map((e) => h("li", {}, h("b", {}, where(e)), e.sentence));
    const says = `${errors.length} ${errors.length === 1 ? "cell" : "cells"} cannot be read, so nothing can be added yet. Mend the file and choose it again.`;
    return [h("p", { class: "error" }, says), h("ul", { class: "scroll" }, ...lines)];
  }
  const body = rows.map((row) => {
    const [first = "", ...rest] = kind.cells(row);
    return h("tr", {}, h("th", { scope: "row" }, first), ...rest.map((t) => h("td", {}, t)));
  });
  const head = kind.heads.map((t) => h("th", { scope: "col" }, t));
  const table = h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...body));
  return [h("p", {}, `${counted(kind, rows.length)} read.`), h("div", { class: "scroll" }, table)];
}

export const counted = (kind: TableKind, n: number): string => `${n} ${n === 1 ? kind.one : kind.many}`;

/** The place of a fault: row and column as a spreadsheet counts them. */
function where({ line, column }: RowError): string {
  if (line === 0) return "The file: ";
  return column ? `Row ${line}, ${column}: ` : `Row ${line}: `;
}

/** What a table needs; the forms in Go's catalog are the whole list. */
export function columnsNeeded(kind: TableKind): HTMLElement {
  const code = (t: string): HTMLElement => h("code", {}, t);
  return h(
    "details",
    {},
    h("summary", {}, "Columns"),
    h("p", {}, "The first row names the columns. Needed: ", code(kind.needed), "."),
    h(
      "p",
      {},
      "In metric: ",
      code(kind.metric),
      `. The other columns may stand in the first row of a ${kind.one} only: `,
      code(kind.more),
      ".",
    ),
  );
}
