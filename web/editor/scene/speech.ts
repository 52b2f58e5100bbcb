// What each thing of the scene is called by screen readers.

import type { Design } from "../design";
import { catchText, catchUnit } from "../fields_cans";
import { angleText, areaText, lengthText, placeText } from "../format";
import { find, type Plan, parts, type Ref } from "../model";
import { capital, kindNames, nameOf, tieText, wateringWords } from "../names";
import { throwOf } from "../pattern";
import { endsText, sizeAndClass } from "../pipenames";
import { areaOf, lengthOf, perimeterOf, place } from "../shape";
import { statusOf, statusWords } from "../statuses";
import { isLocked, ringsOf, spotOf } from "../things";
import { sizeText } from "../trunks";
import { sleeveWords, wireWords } from "../wiringnames";
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
    case "barriers":
      return barrierSpeech(p, id);
    case "site": {
      const o = find(p, "site", id)?.outline ?? [];
      return `Property line, ${areaText(areaOf(o), p.show)}, ${lengthText(perimeterOf(o), p.show)} around`;
    }
    case "pipes":
      return pipeSpeech(p, id);
    case "sleeves":
      return said(capital(nameOf(p, r)), ...sleeveWords(p, id), state(p, r));
    case "wires":
      return said(capital(nameOf(p, r)), ...wireWords(p, id), state(p, r));
    case "ties": {
      const t = find(p, "ties", id);
      const [a, b] = (ringsOf(p, r)[0] ?? []).map(place);
      return t && a && b
        ? said(capital(nameOf(p, r)), tieText(a, b, t.distance_ft, p.show), state(p, r))
        : "Tie";
    }
    default:
      return spotSpeech(p, r);
  }
}

function headSpeech(p: Plan, id: string, design: Design | null): string {
  const h = find(p, "heads", id);
  if (!h) return "Head";
  const n = find(p, "nozzles", h.nozzle);
  const words = [
    h.tag ? `Head ${h.tag}` : "Head",
    n?.family ?? "no nozzle",
    lengthText(throwOf(h, n, design, id), p.show),
    n?.strip ? `direction ${angleText(h.start_deg ?? 0)}` : angleText(h.sweep_deg ?? 360),
    h.zone ? `zone ${zoneNumber(p, h.zone)}` : "no zone",
    `at ${placeText([h.x_ft, h.y_ft], p.show)}`,
  ];
  const off = offTargetHeads(design).has(id) ? "waters off target" : "";
  return said(...words, state(p, `heads/${id}`), off, design?.heads[id]?.trouble ?? "");
}

/** What is not empty, in one line. */
const said = (...words: readonly string[]): string => words.filter((w) => w !== "").join(", ");

/** Status and lock. */
function state(p: Plan, r: Ref): string {
  return said(statusWords(parts(r)[0], statusOf(p, r)), isLocked(p, r) ? "locked" : "");
}

function barrierSpeech(p: Plan, id: string): string {
  const r: Ref = `barriers/${id}`;
  const b = find(p, "barriers", id);
  if (!b) return "Wall or fence";
  const [long, high] = [lengthText(lengthOf(b.line), p.show), lengthText(b.height_ft, p.show)];
  return said(capital(nameOf(p, r)), b.kind ?? "fence", `${long} long`, `${high} high`, state(p, r));
}

/** "Pipe of zone 2 to head 2-3, 1 in, Schedule 40 PVC, 23' 4\" long, from a joint of 3 pipes". */
function pipeSpeech(p: Plan, id: string): string {
  const r: Ref = `pipes/${id}`;
  const long = lengthText(lengthOf(ringsOf(p, r)[0] ?? []), p.show);
  return said(
    capital(nameOf(p, r)),
    ...sizeAndClass(p, id),
    `${long} long`,
    endsText(p, id, nameOf),
    state(p, r),
  );
}

function areaSpeech(p: Plan, id: string): string {
  const a = find(p, "areas", id);
  if (!a) return "Area";
  const holes = (a.holes ?? []).reduce((sum, h) => sum + areaOf(h), 0);
  const n = a.holes?.length ?? 0;
  return said(
    a.name || "Area",
    kindNames[a.kind].toLowerCase(),
    areaText(areaOf(a.outline) - holes, p.show),
    n === 0 ? "" : n === 1 ? "one hole" : `${n} holes`,
    a.kind === "planting" ? wateringWords[a.watering ?? "overhead"] : "",
    state(p, `areas/${id}`),
  );
}

function spotSpeech(p: Plan, r: Ref): string {
  const at = spotOf(p, r);
  const where = at ? `at ${placeText(at, p.show)}` : "";
  return said(capital(nameOf(p, r)), ...sizeSpeech(p, r), where, state(p, r));
}

/** The kind and the size of what stands at a place. */
function sizeSpeech(p: Plan, r: Ref): string[] {
  const [c, id] = parts(r);
  if (c === "keep_dry") {
    const radius = find(p, "keep_dry", id)?.radius_ft;
    return ["keep dry", radius ? `${lengthText(radius, p.show)} around` : ""];
  }
  if (c === "sensors") {
    const it = find(p, "sensors", id);
    const high = it?.height_ft === undefined ? "" : `${lengthText(it.height_ft, p.show)} above the ground`;
    return [high, it?.wireless ? "wireless" : ""];
  }
  if (c === "cans") {
    const typed = catchText(p, id);
    const caught = typed === "" ? "not read" : `caught ${typed} ${catchUnit(p, id)}`;
    return [caught, find(p, "cans", id)?.left_out ? "left out of the sums" : ""];
  }
  if (c === "controller" && id === "at") return [p.controller?.place ?? ""];
  const t = c === "trees" ? find(p, "trees", id) : undefined;
  if (!t) return [];
  const trunk = `trunk ${sizeText(t.trunk_in, p.show)} ${p.show === "metric" ? "cm" : "in"}`;
  return ["tree", trunk, t.root_zone_ft ? `root zone ${lengthText(t.root_zone_ft, p.show)}` : ""];
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
