// The steps that put new things on a plan.

import type { NozzleEntry } from "../api";
import { nozzles } from "../catalog";
import { addHole, copyName } from "../edit";
import { placeText } from "../format";
import { distance, type Point } from "../geometry";
import { newHead } from "../heads";
import {
  find,
  ids,
  type Kind,
  type Line,
  newID,
  type Outline,
  type Plan,
  put,
  ref,
  type Sleeve,
  type WireRun,
} from "../model";
import { kindNames, nameOf } from "../names";
import { nozzleFor } from "../nozzlefit";
import { facing, fitArc } from "../pattern";
import { bulgeOf, type Corner, faultOf, faultSentence, LATTICE, openFault, place } from "../shape";
import { usualStatus } from "../statuses";
import { areaAround } from "../things";
import { sleeveName, wireName } from "../wiringnames";
import { nextTag } from "../zoning";
import type { Around, Step } from "./tool";

/** A step, or the sentence that says why there is none. */
export type Made = { readonly step: Step } | { readonly why: string };

const list = (corners: readonly Corner[]): Outline =>
  corners.map((c) => {
    const [x, y] = place(c);
    return bulgeOf(c) === 0 ? [x, y] : [x, y, bulgeOf(c)];
  });

/** A name for a new area: the kind and the next free number. */
export function newAreaName(p: Plan, kind: Kind): string {
  return copyName(p, `${kindNames[kind]} 1`);
}

/** A closed outline as a new area, or as a hole of the area around it. */
export function closedOutline(a: Around, corners: readonly Corner[]): Made {
  const fault = faultOf(corners);
  if (fault) return { why: faultSentence(fault, placeText(fault.at, a.plan.show)) };
  if (a.kit.asHole) return holeIn(a.plan, corners);
  const kind = a.kit.areaKind;
  return kind === "lot" ? { step: lot(a.plan, list(corners)) } : areaOfKind(a.plan, corners, kind);
}

/** The property line, in place of the one there was. The next outline is ground again: there is one lot. */
export function lot(p: Plan, outline: Outline): Step {
  const plan = put(p, "site", "lot", { outline });
  const label = p.site?.lot?.length ? "Replace the property line" : "Draw the property line";
  return { label, plan, select: ["site/lot"], kit: { areaKind: "planting" } };
}

function areaOfKind(p: Plan, corners: readonly Corner[], kind: Kind): Made {
  const id = newID(p, "areas");
  const name = newAreaName(p, kind);
  const plan = put(p, "areas", id, { name, kind, outline: list(corners), status: usualStatus(kind) });
  return { step: { label: `Draw ${name}`, plan, select: [ref("areas", id)] } };
}

function holeIn(p: Plan, corners: readonly Corner[]): Made {
  const around = areaAround(p, corners);
  if (!around) {
    return { why: "A hole must lie wholly inside one area. Draw it inside, or turn “Draw as hole” off." };
  }
  const plan = addHole(p, around.slice("areas/".length), list(corners));
  return { step: { label: `Cut a hole in ${nameOf(p, around)}`, plan, select: [around] } };
}

export function barrier(a: Around, corners: readonly Corner[]): Made {
  const id = newID(a.plan, "barriers");
  const { barrierKind: kind, barrierHeightFt: height_ft } = a.kit;
  const n = Object.keys(a.plan.barriers ?? {}).length + 1;
  const name = `${kind.charAt(0).toUpperCase()}${kind.slice(1)} ${n}`;
  const plan = put(a.plan, "barriers", id, { name, kind, line: list(corners), height_ft, status: "new" });
  return { step: { label: `Draw ${name}`, plan, select: [ref("barriers", id)] } };
}

/** A sleeve from one end to the other. */
export function sleeve(a: Around, corners: readonly Corner[]): Made {
  const [from, to] = corners.map((c) => ({ x_ft: c[0], y_ft: c[1] }));
  if (!from || !to) return { why: "A sleeve needs two ends, beyond both edges of the paving." };
  const id = newID(a.plan, "sleeves");
  const { sleeveCarries: carries, sleeveSizeIn: nominal_in, sleeveMethod: method } = a.kit;
  const thing: Sleeve = {
    from,
    to,
    ...(nominal_in > 0 ? { nominal_in } : {}),
    ...(carries ? { carries } : {}),
    ...(method ? { method } : {}),
    status: "new",
  };
  const plan = put(a.plan, "sleeves", id, thing);
  return { step: { label: `Lay ${article(sleeveName(plan, id))}`, plan, select: [ref("sleeves", id)] } };
}

const article = (name: string): string => `${/^[8aeiou]/.test(name) ? "an" : "a"} ${name}`;

/** A line along which control wire lies by itself. */
export function wireRun(a: Around, corners: readonly Corner[]): Made {
  const fault = openFault(corners);
  if (fault) return { why: faultSentence(fault, placeText(fault.at, a.plan.show)) };
  const id = newID(a.plan, "wires");
  const { wireLay: lay } = a.kit;
  const run: WireRun = { line: list(corners), ...(lay === "building" ? { lay } : {}), status: "new" };
  const plan = put(a.plan, "wires", id, run);
  return { step: { label: `Lay a ${wireName(plan, id)}`, plan, select: [ref("wires", id)] } };
}

/** A wall that a new line may go on from, and at which of its ends. */
export interface GoesOn {
  readonly id: string;
  readonly at: "first" | "last";
}

/** The wall like the one in hand that ends at a place; one selected before the others. */
export function wallEndingAt(a: Around, at: Point): GoesOn | null {
  const { barrierKind, barrierHeightFt } = a.kit;
  const like = ids(a.plan, "barriers").filter((id) => {
    const b = find(a.plan, "barriers", id);
    return b && !b.locked && (b.kind ?? "fence") === barrierKind && b.height_ft === barrierHeightFt;
  });
  like.sort((x, y) => Number(a.selection.has(`barriers/${y}`)) - Number(a.selection.has(`barriers/${x}`)));
  for (const id of like) {
    const line = find(a.plan, "barriers", id)?.line ?? [];
    const here = (c: Corner | undefined) => c !== undefined && distance(place(c), at) <= LATTICE;
    if (here(line.at(-1))) return { id, at: "last" };
    if (here(line[0])) return { id, at: "first" };
  }
  return null;
}

/** The wall with the corners after the first put on at its end. */
export function continued(a: Around, on: GoesOn, corners: readonly Corner[]): Made {
  const b = find(a.plan, "barriers", on.id);
  if (!b) return barrier(a, corners);
  const line = joined(b.line, corners, on.at);
  const fault = openFault(line);
  if (fault) return { why: faultSentence(fault, placeText(fault.at, a.plan.show)) };
  const r = ref("barriers", on.id);
  const plan = put(a.plan, "barriers", on.id, { ...b, line: list(line) });
  return { step: { label: `Continue ${nameOf(a.plan, r)}`, plan, select: [r] } };
}

function joined(line: Line, corners: readonly Corner[], at: GoesOn["at"]): Corner[] {
  const more = corners.slice(1);
  if (at === "first") return [...more.reverse(), ...line];
  const end = line.at(-1) as Corner;
  return [...line.slice(0, -1), place(end), ...more];
}

export function tree(a: Around, at: Point): Step {
  const id = newID(a.plan, "trees");
  const name = `Tree ${Object.keys(a.plan.trees ?? {}).length + 1}`;
  const { trunkIn: trunk_in, rootZoneFt: root_zone_ft } = a.kit;
  const thing = { name, x_ft: at[0], y_ft: at[1], trunk_in, root_zone_ft, status: "existing" as const };
  return { label: `Plant ${name}`, plan: put(a.plan, "trees", id, thing), select: [ref("trees", id)] };
}

export function keepDry(a: Around, at: Point): Step {
  const id = newID(a.plan, "keep_dry");
  const name = `Keep dry ${Object.keys(a.plan.keep_dry ?? {}).length + 1}`;
  const thing = { name, x_ft: at[0], y_ft: at[1], radius_ft: a.kit.keepDryFt, status: "existing" as const };
  return { label: `Mark ${name}`, plan: put(a.plan, "keep_dry", id, thing), select: [ref("keep_dry", id)] };
}

export function note(a: Around, at: Point, text: string): Step {
  const id = newID(a.plan, "notes");
  const plan = put(a.plan, "notes", id, { x_ft: at[0], y_ft: at[1], text });
  return { label: "Pin a note", plan, select: [ref("notes", id)] };
}

/** What a head set at a place would be: its nozzle, and its arc facing the planting. */
export interface Fitted {
  readonly nozzle: NozzleEntry;
  readonly startDeg: number;
  readonly sweepDeg: number;
}

/** The nozzle in hand, or its sibling with the arc the place calls for; null while none is chosen. */
export function fittedAt(a: Around, at: Point): Fitted | null {
  const all = nozzles(a.plan, a.catalog);
  const chosen = all.find((n) => n.id === a.kit.nozzle);
  if (!chosen) return null;
  const wanted = facing(a.plan, at) ?? { startDeg: 0, sweepDeg: chosen.arc_most_deg };
  const nozzle = nozzleFor(all, chosen, wanted.sweepDeg);
  return { nozzle, ...fitArc(nozzle, wanted) };
}

export function head(a: Around, at: Point): Made {
  const fitted = fittedAt(a, at);
  if (!fitted) return { why: "No nozzle is chosen yet. Choose one beside the Head tool, then click again." };
  const id = newID(a.plan, "heads");
  const { nozzle, startDeg: start_deg, sweepDeg } = fitted;
  const base = {
    nozzle: nozzle.id,
    body: a.kit.body,
    x_ft: at[0],
    y_ft: at[1],
    start_deg,
    status: "new" as const,
  };
  const placed = { ...base, ...(sweepDeg > 0 ? { sweep_deg: sweepDeg } : {}), ...inZone(a.plan, a.kit.zone) };
  const plan = newHead(a.plan, a.catalog, id, placed);
  const label = `Place ${nameOf(plan, ref("heads", id))}`;
  // The choice beside the tool names what was set: a half, where the one in hand was a quarter.
  const kit = { nozzle: nozzle.id, nozzleWhy: null };
  return { step: { label, plan, select: [ref("heads", id)], kit } };
}

function inZone(p: Plan, zone: string): { zone?: string; tag?: string } {
  return zone && p.zones?.[zone] ? { zone, tag: nextTag(p, zone) } : {};
}
