// What can be typed about a head.

import { bodies, bodyChoices, fitting, nozzleChoices, nozzles, ownThrow } from "./catalog";
import { type Choice, choice, coordinate, type Field, setAll, statuses, text, yes } from "./fields";
import { builtFields, stateFields } from "./fields_found";
import { angleText, lengthText } from "./format";
import { normDeg } from "./geometry";
import { arcFor, setBody, setNozzle } from "./heads";
import { parseAngle, parseLength, read, refuse } from "./length";
import { find, type Head, type Nozzle, type Plan, type System } from "./model";
import { rowName } from "./rownames";
import { putInZone, zonesInOrder } from "./zoning";

const nozzleOf = (p: Plan, id: string): Nozzle | undefined => {
  const head = find(p, "heads", id);
  return head && find(p, "nozzles", head.nozzle);
};

const headOf = (p: Plan, id: string): Head | undefined => find(p, "heads", id);
const hasArc = (p: Plan, id: string): boolean => (nozzleOf(p, id)?.arc_most_deg ?? 360) > 0;

const start: Field = {
  key: "start_deg",
  label: "Arc start",
  as: "text",
  hint: () => "°",
  get: ({ plan }, id) => angleText(headOf(plan, id)?.start_deg ?? 0),
  set: ({ plan }, ids, typed) => {
    const v = parseAngle(typed);
    return v.ok ? read(setAll(plan, "heads", ids, "start_deg", normDeg(v.value))) : v;
  },
};

const sweep: Field = {
  key: "sweep_deg",
  label: "Arc",
  as: "text",
  hint: () => "°",
  has: ({ plan }, id) => hasArc(plan, id),
  get: ({ plan }, id) => (hasArc(plan, id) ? angleText(headOf(plan, id)?.sweep_deg ?? 0) : "strip"),
  set: ({ plan }, ids, typed) => {
    const v = parseAngle(typed);
    if (!v.ok) return v;
    for (const id of ids) {
      const n = nozzleOf(plan, id);
      if (n && arcFor(n, v.value) !== v.value) return refuse(arcSentence(n, v.value, plan.show));
    }
    if (v.value <= 0 || v.value > 360)
      return refuse(`An arc of ${angleText(v.value)} cannot be set. Type 1 to 360.`);
    return read(setAll(plan, "heads", ids, "sweep_deg", v.value));
  },
};

function arcSentence(n: Nozzle, typed: number, show: System): string {
  const name = rowName(n, show);
  if (n.arc_most_deg <= 0) return `${name} waters a strip and has no arc. Choose another nozzle to set one.`;
  if (n.arc_least_deg === n.arc_most_deg) {
    return `${name} has a fixed arc of ${angleText(n.arc_most_deg)}. Choose another nozzle for ${angleText(typed)}.`;
  }
  const range = `${angleText(n.arc_least_deg)} to ${angleText(n.arc_most_deg)}`;
  return `${name} turns from ${range}, not ${angleText(typed)}. Type an arc in that range or choose another nozzle.`;
}

const throwField: Field = {
  key: "throw_ft",
  label: "Throw",
  as: "text",
  empty: "nozzle’s own",
  get: ({ plan }, id) => {
    const t = headOf(plan, id)?.throw_ft;
    return t === undefined ? "" : lengthText(t, plan.show);
  },
  set: ({ plan }, ids, typed) => {
    if (typed.trim() === "") return read(setAll(plan, "heads", ids, "throw_ft", undefined));
    const v = parseLength(typed, plan.show);
    if (!v.ok) return v;
    for (const id of ids) {
      const n = nozzleOf(plan, id);
      if (n && v.value > ownThrow(n) * 1.25) {
        const own = lengthText(ownThrow(n), plan.show);
        const name = rowName(n, plan.show);
        return refuse(`${name} throws ${own}. Type that or less, or choose a nozzle that throws farther.`);
      }
    }
    if (v.value < 1)
      return refuse(
        `A throw of ${lengthText(v.value, plan.show)} waters nothing. Type ${lengthText(1, plan.show)} or more.`,
      );
    return read(setAll(plan, "heads", ids, "throw_ft", v.value));
  },
};

const nozzle: Field = {
  key: "nozzle",
  label: "Nozzle",
  as: "choice",
  get: ({ plan }, id) => headOf(plan, id)?.nozzle ?? "",
  set: ({ plan, catalog }, ids, typed) => read(setNozzle(plan, catalog, ids, typed)),
  choices: ({ plan, catalog }) => nozzleChoices(nozzles(plan, catalog), plan.show),
};

const body: Field = {
  key: "body",
  label: "Body",
  as: "choice",
  get: ({ plan }, id) => headOf(plan, id)?.body ?? "",
  set: ({ plan, catalog }, ids, typed) => read(setBody(plan, catalog, ids, typed)),
  choices: ({ plan, catalog }, ids): Choice[] => {
    const [first] = ids;
    const n = first === undefined ? undefined : nozzleOf(plan, first);
    const all = bodies(plan, catalog);
    const now = first === undefined ? "" : headOf(plan, first)?.body;
    const fit = new Set((n ? fitting(plan, catalog, n) : all).map((b) => b.id));
    return bodyChoices(
      all.filter((b) => fit.has(b.id) || b.id === now),
      plan.show,
    );
  },
};

const zone: Field = {
  key: "zone",
  label: "Zone",
  as: "choice",
  get: ({ plan }, id) => headOf(plan, id)?.zone ?? "",
  set: ({ plan }, ids, typed) => read(putInZone(plan, ids, typed)),
  choices: ({ plan }) => [{ value: "", label: "None" }, ...zoneChoices(plan)],
};

/** The zones as choices, by station. */
export const zoneChoices = (p: Plan): Choice[] =>
  zonesInOrder(p).map((id) => ({ value: id, label: zoneLabel(p, id) }));

/** A zone as it stands in a list: "2 Front east". */
export function zoneLabel(p: Plan, id: string): string {
  const z = find(p, "zones", id);
  return z?.station ? `${z.station} ${z.name}` : (z?.name ?? "");
}

export const headFields: readonly Field[] = [
  { ...text("heads", "tag", "Tag"), single: true },
  coordinate("heads", "x_ft", "X, east"),
  coordinate("heads", "y_ft", "Y, north"),
  start,
  sweep,
  throwField,
  nozzle,
  body,
  zone,
  choice("heads", "status", "Status", statuses),
  yes("heads", "locked", "Locked in place"),
  ...stateFields,
  ...builtFields("heads"),
];
