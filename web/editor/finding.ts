// Finding things of the plan by what they are called and what is written on
// them: name, tag, kind, nozzle, zone, the words of notes.

import { areaText, lengthText, placeText } from "./format";
import type { Sight } from "./layers";
import { matches } from "./matching";
import { type Area, find, ids, type Plan, parts, type Ref, ref } from "./model";
import { capital, count, kindNames, nameOf, sortKey, thingNames } from "./names";
import { endsText, sizeAndClass } from "./pipenames";
import { rowName } from "./rownames";
import { areaOf } from "./shape";
import { allThings, isLocked, middleOf } from "./things";
import { sleeveWords, wireWords } from "./wiringnames";
import { headCounts, headsOf, zonesInOrder } from "./zoning";

/** A thing as the list has it. */
export interface Findable {
  readonly ref: Ref;
  readonly title: string;
  readonly detail: string;
  /** Other words it is found by. */
  readonly more: string;
}

export interface Found extends Findable {
  readonly marks: readonly number[];
}

/** Everything that can be found; hidden and locked things too, and said to be. */
export function findables(p: Plan, sight?: Sight): Findable[] {
  const things = allThings(p).map((r) => thing(p, r, sight));
  const heads = headCounts(p);
  const zones = zonesInOrder(p).map((id): Findable => {
    const z = find(p, "zones", id);
    const has = count(heads.get(id) ?? 0, "head");
    const station = z?.station ? `Station ${z.station}` : "No station";
    return {
      ref: ref("zones", id),
      title: `Zone ${z?.name ?? id}`,
      detail: `${station} · ${has}`,
      more: "zone valve",
    };
  });
  return [...zones, ...things];
}

function thing(p: Plan, r: Ref, sight: Sight | undefined): Findable {
  const [c] = parts(r);
  const at = middleOf(p, r);
  const known = facts(p, r);
  const held = sight?.lockedIn(r);
  const state = [
    isLocked(p, r) ? "locked" : held ? `locked with the layer ${held}` : "",
    sight?.hides(r) ? "hidden with its layer" : "",
  ].filter(Boolean);
  const place = at ? [`at ${placeText(at, p.show)}`] : [];
  const name = capital(nameOf(p, r));
  return {
    ref: r,
    title: c === "notes" ? noteTitle(p, r) : name,
    detail: [...known, ...place, ...state].join(" · "),
    more: [thingNames[c], ...known, ...state].join(" "),
  };
}

const noteTitle = (p: Plan, r: Ref): string => {
  const text = find(p, "notes", parts(r)[1])?.text ?? "";
  const line = text.replace(/\s+/g, " ").trim();
  return `Note: ${line.length > 120 ? `${line.slice(0, 119)}…` : line}`;
};

const rowWord = (p: Plan, row: { name: string } | undefined, id: string): string =>
  row ? rowName(row, p.show) : id;

/** What is written about a thing, in words. */
function facts(p: Plan, r: Ref): string[] {
  const [c, id] = parts(r);
  switch (c) {
    case "heads": {
      const h = find(p, "heads", id);
      const zone = h?.zone ? find(p, "zones", h.zone)?.name : undefined;
      const body = h ? rowWord(p, find(p, "bodies", h.body), "") : "";
      const nozzle = h ? rowWord(p, find(p, "nozzles", h.nozzle), h.nozzle) : "";
      return [nozzle, body, zone ? `zone ${zone}` : "no zone", ...status(h?.status)].filter(Boolean);
    }
    case "areas": {
      const a = find(p, "areas", id) as Area;
      return [
        kindNames[a.kind],
        areaText(areaOf(a.outline), p.show),
        a.note ?? "",
        ...status(a.status),
      ].filter(Boolean);
    }
    case "barriers": {
      const b = find(p, "barriers", id);
      return b
        ? [capital(b.kind ?? "fence"), `${lengthText(b.height_ft, p.show)} high`, ...status(b.status)]
        : [];
    }
    case "pipes":
      return [...sizeAndClass(p, id), endsText(p, id, nameOf), ...status(find(p, "pipes", id)?.status)];
    case "sleeves":
      return [...sleeveWords(p, id), ...status(find(p, "sleeves", id)?.status)];
    case "wires":
      return [...wireWords(p, id), ...status(find(p, "wires", id)?.status)];
    case "notes":
      return [];
    default: {
      const t = find(p, c, id) as { kind?: string; status?: string } | undefined;
      return [thingNames[c], t?.kind ?? "", ...status(t?.status)].filter(Boolean);
    }
  }
}

const status = (s: string | undefined): string[] =>
  s === "existing" ? ["existing"] : s === "remove" ? ["to be removed"] : [];

/** What a query finds, best first; without one, everything as it is listed. */
export function search(all: readonly Findable[], query: string): Found[] {
  if (query.trim() === "") return all.map((f) => ({ ...f, marks: [] }));
  const found = all.flatMap((f) => {
    const m = matches(query, f.title, f.more, false);
    return m ? [{ ...f, marks: m.marks, score: m.score, key: sortKey(f.title) }] : [];
  });
  return found.sort((a, b) => b.score - a.score || (a.key < b.key ? -1 : 1));
}

/** What is selected for a thing found: itself, or of a zone its heads. */
export function selectedFor(p: Plan, r: Ref): Ref[] {
  const [c, id] = parts(r);
  if (c !== "zones") return [r];
  const heads = headsOf(p, id).map((h) => ref("heads", h));
  return ids(p, "valves").includes(id) ? [...heads, ref("valves", id)] : heads;
}
