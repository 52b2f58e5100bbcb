// The steps that set spot heights, fixtures and ties, and lay sleeves and wire: what
// is on a plan beside planting, heads and pipes.

import { levelText } from "../format";
import type { Point } from "../geometry";
import { find, newID, type Plan, put, type Ref, ref, type Spot } from "../model";
import { capital, nameOf, tieText } from "../names";
import { OUTLET } from "../places";
import type { Tape } from "../taping";
import { zonesInOrder } from "../zoning";
import type { Made } from "./made";
import type { Around, FixtureKind, Step } from "./tool";

const spot = ([x_ft, y_ft]: Point): Spot => ({ x_ft, y_ft });

/** A spot height: the ground as it lies, above the plan's own level 0, in feet. */
export function spotHeight(a: Around, at: Point, z_ft: number): Step {
  const id = newID(a.plan, "elevations");
  const plan = put(a.plan, "elevations", id, { ...spot(at), z_ft, status: "existing" });
  return {
    label: `Set a spot height of ${levelText(z_ft, a.plan.show)}`,
    plan,
    select: [ref("elevations", id)],
  };
}

/** What each fixture is called in its choice. */
export const fixtureNames: Readonly<Record<FixtureKind, string>> = {
  valve: "Valve of a zone",
  controller: "Controller",
  outlet: "Outlet of the controller",
  sensor: "Sensor",
  box: "Splice box",
  connection: "Point of connection",
  backflow: "Backflow device",
};

/** The zone a valve is set for: the one in hand, else the first that has no valve yet, else the first. */
export function zoneForValve(a: Pick<Around, "plan" | "kit">): string | null {
  if (find(a.plan, "zones", a.kit.zone)) return a.kit.zone;
  const all = zonesInOrder(a.plan);
  return all.find((id) => !find(a.plan, "zones", id)?.valve_at) ?? all[0] ?? null;
}

/** The fixture in hand, set at a place; of those there is one of, the one there was moves. */
export function fixture(a: Around, at: Point): Made {
  if (a.kit.fixture === "sensor") {
    const id = newID(a.plan, "sensors");
    const plan = put(a.plan, "sensors", id, { ...spot(at), kind: a.kit.sensorKind, status: "new" });
    return { step: { label: `Set a ${a.kit.sensorKind} sensor`, plan, select: [ref("sensors", id)] } };
  }
  if (a.kit.fixture === "box") {
    const id = newID(a.plan, "boxes");
    const name = `Splice box ${Object.keys(a.plan.boxes ?? {}).length + 1}`;
    const plan = put(a.plan, "boxes", id, { name, ...spot(at), status: "new" });
    return { step: { label: `Set ${name}`, plan, select: [ref("boxes", id)] } };
  }
  const r = onlyOne(a);
  if (!r) return { why: "There is no zone yet. Make one under Zones, then set its valve." };
  const [c, id] = r.split("/") as ["valves" | "controller" | "supply", string];
  const was = find(a.plan, c, id) !== undefined;
  const plan = put(a.plan, c, id, spot(at));
  return { step: { label: `${was ? "Move" : "Set"} ${nameOf(plan, r)}`, plan, select: [r] } };
}

function onlyOne(a: Around): Ref | null {
  switch (a.kit.fixture) {
    case "controller":
      return "controller/at";
    case "outlet":
      return OUTLET;
    case "connection":
      return "supply/connection";
    case "backflow":
      return "supply/backflow_at";
    default: {
      const zone = zoneForValve(a);
      return zone === null ? null : ref("valves", zone);
    }
  }
}

/** A measured distance between two places, kept to check the drawing. */
export function tie(p: Plan, from: Point, to: Point, distance_ft: number): [Plan, Ref] {
  const id = newID(p, "ties");
  const made = { from: spot(from), to: spot(to), distance_ft, status: "existing" as const };
  return [put(p, "ties", id, made), ref("ties", id)];
}

/** A plan with the tapes a place was found by kept as ties to it. */
export function withTies(p: Plan, at: Point, tapes: readonly Tape[]): Plan {
  return tapes.reduce((next, t) => tie(next, t.from, at, t.length)[0], p);
}

/** The sentence for a tie that was set. */
export const tieSaid = (p: Plan, r: Ref, from: Point, to: Point, measured: number): string =>
  `${capital(nameOf(p, r))}: ${tieText(from, to, measured, p.show)}.`;
