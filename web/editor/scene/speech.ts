// What each thing of the scene is called by screen readers.

import type { Design } from "../design";
import { angleText, areaText, lengthText, shortLength, shortPlace } from "../format";
import { find, type Plan, parts, type Ref } from "../model";
import { capital, kindNames, nameOf } from "../names";
import { throwOf } from "../pattern";
import { areaOf, lengthOf, perimeterOf } from "../shape";
import { isLocked, ringsOf, spotOf } from "../things";
import { zonesInOrder } from "../zoning";

/** The number of a zone on its marks: its station, else its place in the list. */
export function zoneNumber(p: Plan, zone: string): number {
  const z = find(p, "zones", zone);
  return z?.station || zonesInOrder(p).indexOf(zone) + 1;
}

/** A thing in one line: "Head 2-8, stream, 25 ft, 360°, zone 2, at 44, 24 ft". */
export function speechOf(p: Plan, r: Ref, design: Design | null): string {
  const [c, id] = parts(r);
  switch (c) {
    case "heads":
      return headSpeech(p, id, design);
    case "areas":
      return areaSpeech(p, id);
    case "barriers": {
      const b = find(p, "barriers", id);
      const size = b
        ? `, ${lengthText(lengthOf(b.line), p.show)} long, ${lengthText(b.height_ft, p.show)} high`
        : "";
      return `${capital(nameOf(p, r))}, ${b?.kind ?? "fence"}${size}${b?.locked ? ", locked" : ""}`;
    }
    case "site": {
      const o = find(p, "site", id)?.outline ?? [];
      return `Property line, ${areaText(areaOf(o), p.show)}, ${lengthText(perimeterOf(o), p.show)} around`;
    }
    case "ties": {
      const line = ringsOf(p, r)[0] ?? [];
      return `${capital(nameOf(p, r))}, drawn ${lengthText(lengthOf(line), p.show)}`;
    }
    default:
      return spotSpeech(p, r);
  }
}

function headSpeech(p: Plan, id: string, design: Design | null): string {
  const h = find(p, "heads", id);
  if (!h) return "Head";
  const n = find(p, "nozzles", h.nozzle);
  const said = [
    h.tag ? `Head ${h.tag}` : "Head",
    n?.family ?? "no nozzle",
    shortLength(throwOf(h, n, design, id), p.show),
    n?.strip ? `direction ${angleText(h.start_deg ?? 0)}` : angleText(h.sweep_deg ?? 360),
    h.zone ? `zone ${zoneNumber(p, h.zone)}` : "no zone",
    `at ${shortPlace([h.x_ft, h.y_ft], p.show)}`,
  ];
  if (h.status === "existing") said.push("existing");
  if (h.status === "remove") said.push("to be removed");
  if (h.locked) said.push("locked");
  if (offTargetHeads(design).has(id)) said.push("waters off target");
  return said.join(", ");
}

function areaSpeech(p: Plan, id: string): string {
  const a = find(p, "areas", id);
  if (!a) return "Area";
  const holes = (a.holes ?? []).reduce((sum, h) => sum + areaOf(h), 0);
  const said = [
    a.name || "Area",
    kindNames[a.kind].toLowerCase(),
    areaText(areaOf(a.outline) - holes, p.show),
  ];
  if (a.holes?.length) said.push(a.holes.length === 1 ? "one hole" : `${a.holes.length} holes`);
  if (a.locked) said.push("locked");
  return said.join(", ");
}

function spotSpeech(p: Plan, r: Ref): string {
  const [c] = parts(r);
  const at = spotOf(p, r);
  const kind = c === "trees" ? "tree" : c === "keep_dry" ? "keep dry" : "";
  const where = at ? `at ${shortPlace(at, p.show)}` : "";
  const said = [capital(nameOf(p, r)), kind, where, isLocked(p, r) ? "locked" : ""];
  return said.filter((w) => w !== "").join(", ");
}

const offKept = new WeakMap<Design, ReadonlySet<string>>();

/** The heads that put noticeable water where none should be. */
export function offTargetHeads(design: Design | null): ReadonlySet<string> {
  if (!design) return new Set();
  const kept = offKept.get(design);
  if (kept) return kept;
  const made = new Set(
    (design.off_target ?? []).filter((o) => o.rank !== "good").flatMap((o) => o.heads ?? []),
  );
  offKept.set(design, made);
  return made;
}
