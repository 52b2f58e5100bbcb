// Adding things, and changing corners, by typing: the way to the whole job
// without a pointer.

import { fitting, nozzleChoices, nozzles } from "../catalog";
import { cornersText, parseCorners, unbowed } from "../corners";
import { h } from "../dom";
import { setRing } from "../edit";
import { fieldsOf } from "../fields_others";
import { waterChoices } from "../fields_pipes";
import { newHead } from "../heads";
import { parseAngle, parseCoordinate, parseLength, type Read, read } from "../length";
import {
  type Area,
  find,
  type Kind,
  newID,
  type Outline,
  type Plan,
  parts,
  put,
  type Ref,
  type System,
  type Vertex,
} from "../model";
import { kindNames, nameOf, outlineNames } from "../names";
import { classChoices, sizeChoices } from "../pipeclasses";
import { pipeRun } from "../pipedraw";
import { joinChoices } from "../pipejoins";
import type { Board } from "../state";
import { usualStatus } from "../statuses";
import { isClosed, isUnbowed, ringsOf, spotOf as standing } from "../things";
import { lot, type Made } from "../tools/made";
import { putInZone, zonesInOrder } from "../zoning";
import { addFixture, addSleeve, addWire } from "./addinglaid";
import { type Answers, type Asked, fillIn } from "./fillin";

export type Added = (r: Ref) => void;

/** What a new head starts from: what was chosen for the last one. */
export interface Usual {
  nozzle: string;
  body: string;
  zone: string;
}

/** The buttons that add one thing each. */
export function adders(board: Board, usual: () => Usual, added: Added): HTMLElement[] {
  const button = (label: string, run: () => Promise<void>): HTMLElement => {
    const name = `Add ${label.toLowerCase()}`;
    return h(
      "button",
      { type: "button", class: "small", "aria-label": name, onclick: () => void run() },
      label,
    );
  };
  return [
    h("span", { class: "hint", "aria-hidden": "true" }, "Add"),
    button("Area", () => addArea(board, added)),
    button("Head", () => addHead(board, usual(), added)),
    button("Wall", () => addBarrier(board, added)),
    button("Tree", () => addSpot(board, added, "trees")),
    button("Keep dry", () => addSpot(board, added, "keep_dry")),
    button("Note", () => addSpot(board, added, "notes")),
    button("Spot height", () => addHeight(board, added)),
    button("Pipe", () => addPipe(board, added)),
    button("Sleeve", () => addSleeve(board, added)),
    button("Wire", () => addWire(board, added)),
    button("Fixture", () => addFixture(board, added)),
  ];
}

export const placeHint = (board: Board): string => (board.plan.show === "metric" ? "m" : "ft");

export function place(board: Board): Asked[] {
  const check = (typed: string): Read<unknown> => parseCoordinate(typed, board.plan.show);
  return [
    { key: "x", label: "X, east", as: "text", hint: placeHint(board), check },
    { key: "y", label: "Y, north", as: "text", hint: placeHint(board), check },
  ];
}

const number = (typed: string | undefined, read: (t: string) => Read<number>): number => {
  const v = read(typed ?? "");
  return v.ok ? v.value : 0;
};

export function spotOf(board: Board, a: Answers): { x_ft: number; y_ft: number } {
  const length = (t: string): Read<number> => parseCoordinate(t, board.plan.show);
  return { x_ft: number(a.x, length), y_ft: number(a.y, length) };
}

async function addArea(board: Board, added: Added): Promise<void> {
  const show = board.plan.show;
  const kinds = Object.entries(outlineNames).map(([value, label]) => ({ value, label }));
  const a = await fillIn("Add an area", "Add the area", [
    { key: "name", label: "Name", as: "text", hint: "empty: its kind" },
    { key: "kind", label: "Kind", as: "choice", value: "planting", choices: kinds },
    {
      key: "corners",
      label: "Corners",
      as: "long",
      hint: `one to a line: x, y in ${placeHint(board)}`,
      check: (t) => parseCorners(t, show, 3),
    },
  ]);
  const outline = a && parseCorners(a.corners ?? "", show, 3);
  if (!a || !outline?.ok) return;
  if (a.kind === "lot") {
    const { label, plan } = lot(board.committed, outline.value);
    return commit(board, plan, "site/lot", () => label, added);
  }
  const kind = a.kind as Kind;
  const area: Area = {
    name: a.name?.trim() || kindNames[kind],
    kind,
    outline: outline.value,
    status: usualStatus(kind),
  };
  add(board, "areas", area, `Draw ${area.name}`, added);
}

async function addBarrier(board: Board, added: Added): Promise<void> {
  const show = board.plan.show;
  const kinds = fieldsOf.barriers.find((f) => f.key === "kind")?.choices;
  const a = await fillIn("Add a wall or fence", "Add it", [
    { key: "name", label: "Name", as: "text", hint: "empty: its kind" },
    { key: "kind", label: "Kind", as: "choice", value: "fence", choices: kinds?.(context(board), []) ?? [] },
    {
      key: "height",
      label: "Height",
      as: "text",
      hint: placeHint(board),
      value: show === "metric" ? "1.8" : "6",
      check: (t) => parseLength(t, show),
    },
    {
      key: "corners",
      label: "Corners",
      as: "long",
      hint: `one to a line: x, y in ${placeHint(board)}`,
      check: (t) => parseCorners(t, show, 2),
    },
  ]);
  const line = a && parseCorners(a.corners ?? "", show, 2);
  if (!a || !line?.ok) return;
  const name = a.name?.trim() || { fence: "Fence", wall: "Wall", hedge: "Hedge" }[a.kind ?? ""] || "Fence";
  const height_ft = number(a.height, (t) => parseLength(t, show));
  add(
    board,
    "barriers",
    { name, kind: a.kind, height_ft, line: line.value, status: "new" },
    `Draw ${name}`,
    added,
  );
}

const context = (board: Board) => ({ plan: board.plan, catalog: board.catalog });

async function addHead(board: Board, usual: Usual, added: Added): Promise<void> {
  const p = board.plan;
  const list = nozzles(p, board.catalog);
  const first = list.find((n) => n.id === usual.nozzle) ?? list[0];
  if (!first) {
    board.show({
      kind: "problem",
      sentence: "The nozzle table has not been read yet. Wait a moment and try again.",
    });
    return;
  }
  const zones = zonesInOrder(p).map((id) => ({ value: id, label: find(p, "zones", id)?.name ?? id }));
  const a = await fillIn("Add a head", "Add the head", [
    ...place(board),
    { key: "nozzle", label: "Nozzle", as: "choice", value: first.id, choices: nozzleChoices(list, p.show) },
    {
      key: "start",
      label: "Arc start",
      as: "text",
      hint: "degrees from east",
      value: "0",
      check: parseAngle,
    },
    { key: "arc", label: "Arc", as: "text", hint: "degrees", value: "90", check: parseAngle },
    {
      key: "zone",
      label: "Zone",
      as: "choice",
      value: usual.zone,
      choices: [{ value: "", label: "None" }, ...zones],
    },
  ]);
  if (!a) return;
  const nozzle = list.find((n) => n.id === a.nozzle) ?? first;
  const fit = fitting(p, board.catalog, nozzle);
  const body = (fit.find((b) => b.id === usual.body) ?? fit[0])?.id ?? "";
  const id = newID(board.committed, "heads");
  const next = newHead(board.committed, board.catalog, id, {
    ...spotOf(board, a),
    nozzle: nozzle.id,
    body,
    start_deg: number(a.start, parseAngle),
    sweep_deg: number(a.arc, parseAngle),
    status: "new",
  });
  const r: Ref = `heads/${id}`;
  commit(board, putInZone(next, [id], a.zone ?? ""), r, (name) => `Set ${name}`, added);
}

async function addSpot(board: Board, added: Added, c: "trees" | "keep_dry" | "notes"): Promise<void> {
  const titles = { trees: "Add a tree", keep_dry: "Add a keep-dry point", notes: "Add a note" };
  const words: Asked =
    c === "notes"
      ? { key: "name", label: "Text", as: "text", check: (t) => (t.trim() ? read(t) : emptyNote) }
      : { key: "name", label: "Name", as: "text", value: c === "trees" ? "Tree" : "Keep dry" };
  const a = await fillIn(titles[c], "Add it", [words, ...place(board)]);
  if (!a) return;
  const name = a.name?.trim().slice(0, 2000) ?? "";
  const spot = spotOf(board, a);
  if (c === "notes") add(board, c, { text: name, ...spot }, "Pin a note", added);
  else if (c === "trees")
    add(board, c, { name: name || "Tree", trunk_in: 8, ...spot, status: "new" }, "Draw tree", added);
  else add(board, c, { name: name || "Keep dry", ...spot, status: "new" }, "Mark a keep-dry point", added);
}

/** A pipe by its corners: it is joined to what lies exactly at them, as when it is drawn. */
async function addPipe(board: Board, added: Added): Promise<void> {
  const { show } = board.plan;
  const cx = context(board);
  const asked: readonly Asked[] = [
    {
      key: "from",
      label: "From",
      as: "choice",
      value: "",
      choices: [{ value: "", label: "The first corner" }, ...joinChoices(board.plan)],
    },
    {
      key: "to",
      label: "To",
      as: "choice",
      value: "",
      choices: [{ value: "", label: "The last corner" }, ...joinChoices(board.plan)],
    },
    {
      key: "corners",
      label: "Corners",
      as: "long",
      hint: `between them, one to a line: x, y in ${placeHint(board)}; may stay empty`,
      check: (t) => betweenEnds(t, show),
    },
    {
      key: "water",
      label: "Carries",
      as: "choice",
      value: "",
      choices: [
        { value: "", label: "By what it joins" },
        ...waterChoices(board.plan).map((c) => ({ ...c, value: c.value || "main" })),
      ],
    },
    { key: "class", label: "Class", as: "choice", value: "", choices: classChoices(cx, "") },
    { key: "size", label: "Size", as: "choice", value: "", choices: sizeChoices(cx, "", 0) },
  ];
  const a = await fillIn("Add a pipe", "Add it", asked, (given) => {
    const made = pipeOf(board, given);
    return "why" in made ? { key: "corners", why: made.why } : null;
  });
  if (a) addMade(board, pipeOf(board, a), added);
}

/** Puts down what a tool would have made. */
export function addMade(board: Board, made: Made, added: Added): void {
  if ("why" in made) {
    board.show({ kind: "hint", sentence: made.why });
    return;
  }
  const [first] = made.step.select ?? [];
  if (first) commit(board, made.step.plan, first, () => made.step.label, added);
}

/** Corners between the ends of a pipe: any number, none bowed. */
function betweenEnds(typed: string, show: System): Read<Vertex[]> {
  const v = typed.trim() === "" ? read<Vertex[]>([]) : parseCorners(typed, show, 1);
  return v.ok ? unbowed(v.value, []) : v;
}

/** The pipe that was asked for, or why it cannot be. */
function pipeOf(board: Board, a: Answers): Made {
  const p = board.committed;
  const typed =
    (a.corners ?? "").trim() === "" ? read<Vertex[]>([]) : parseCorners(a.corners ?? "", p.show, 1);
  if (!typed.ok) return { why: typed.sentence };
  const end = (r: string | undefined): Vertex[] => {
    const at = r ? standing(p, r as Ref) : null;
    return at ? [[at[0], at[1]]] : [];
  };
  const line = [...end(a.from), ...typed.value, ...end(a.to)];
  if (line.length < 2)
    return { why: "A pipe needs two places: choose where it begins and ends, or type two corners." };
  const kit = { pipeFor: a.water ?? "", pipeClass: a.class ?? "", pipeSizeIn: Number(a.size ?? 0) };
  return pipeRun({ plan: p, catalog: board.catalog, kit }, line);
}

async function addHeight(board: Board, added: Added): Promise<void> {
  const level = (t: string): Read<number> => parseCoordinate(t, board.plan.show);
  const hint = `${placeHint(board)}, above the plan’s own 0`;
  const a = await fillIn("Add a spot height", "Add it", [
    ...place(board),
    { key: "level", label: "Level", as: "text", hint, check: level },
  ]);
  if (!a) return;
  const height = { ...spotOf(board, a), z_ft: number(a.level, level), status: "existing" as const };
  add(board, "elevations", height, "Set a spot height", added);
}

const emptyNote: Read<string> = { ok: false, sentence: "The note is empty. Type what it should say." };

function add<C extends "areas" | "barriers" | "trees" | "keep_dry" | "notes" | "elevations">(
  board: Board,
  c: C,
  thing: Parameters<typeof put<C>>[3],
  label: string,
  added: Added,
): void {
  const id = newID(board.committed, c);
  commit(board, put(board.committed, c, id, thing), `${c}/${id}`, () => label, added);
}

function commit(board: Board, next: Plan, r: Ref, label: (name: string) => string, added: Added): void {
  const name = nameOf(next, r);
  void board.commit(label(name), next).then((v) => {
    if (v.saved) board.announce(`${name.charAt(0).toUpperCase()}${name.slice(1)} added.`);
  });
  added(r);
}

/** Changes the corners of an area, the property line or a wall in a form. */
export async function editCorners(board: Board, r: Ref): Promise<void> {
  const corners = (p: Plan): Outline => (ringsOf(p, r)[0] ?? []).map((c) => [...c] as Vertex);
  const before = corners(board.plan);
  if (before.length === 0) return;
  const show = board.plan.show;
  const least = isClosed(parts(r)[0]) ? 3 : 2;
  const straight = isUnbowed(parts(r)[0]);
  const check = (t: string): Read<unknown> => {
    const v = parseCorners(t, show, least, before);
    return v.ok && straight ? unbowed(v.value, before) : v;
  };
  const bows = straight ? "" : "; a third number bows the edge that leaves the corner";
  const hint = `one to a line: x, y in ${placeHint(board)}${bows}`;
  const a = await fillIn(`Corners of ${nameOf(board.plan, r)}`, "Set the corners", [
    { key: "corners", label: "Corners", as: "long", hint, value: cornersText(before, show), check },
  ]);
  const v = a && parseCorners(a.corners ?? "", show, least, before);
  if (!v?.ok) return;
  const p = board.committed;
  void board.commit(`Set corners of ${nameOf(p, r)}`, setRing(p, r, 0, v.value));
}
