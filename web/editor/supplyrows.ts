// Rows of the supply: its devices and pipe, taken from the catalogue, and the
// lists that a supply has of readings, of a pump's and of a device's points.

import type { Catalog, DeviceEntry } from "./api";
import { type Choice, withMember } from "./fields";
import { type Read, read, refuse } from "./length";
import type { Device, LossPoint, Plan, PumpPoint, StaticReading, Supply } from "./model";
import { flow, pressure, quantityText } from "./quantity";
import { rowName } from "./rownames";

/** The members of the supply that name a device. */
export type Role = "meter" | "isolation" | "filter" | "master_valve" | "backflow_device" | "swing_joint";

export const roleKinds: Readonly<Record<Role, Device["kind"]>> = {
  meter: "meter",
  isolation: "isolation",
  filter: "filter",
  master_valve: "master_valve",
  backflow_device: "backflow",
  swing_joint: "swing_joint",
};

/** What stands in the pipe of every plan: also the valves, which zones name. */
export type UsedAs = Role | "zone_valve";

export const roleNames: Readonly<Record<UsedAs, string>> = {
  meter: "Meter",
  isolation: "Isolation valve",
  filter: "Filter",
  master_valve: "Master valve",
  backflow_device: "Backflow device",
  swing_joint: "Under each head",
  zone_valve: "Zone valve",
};

/** The devices of a kind that can be chosen: the plan's own rows and the catalogue's. */
export function devicesOf(p: Plan, from: Catalog, kind: Device["kind"]): DeviceEntry[] {
  const own = Object.entries(p.devices ?? {}).map(([id, d]) => ({ ...d, id }));
  const rest = (from.devices ?? []).filter((d) => !p.devices?.[d.id]);
  return [...own, ...rest].filter((d) => d.kind === kind).sort(byName);
}

const natural = new Intl.Collator("en", { numeric: true });
const byName = (a: DeviceEntry, b: DeviceEntry): number =>
  natural.compare(family(a), family(b)) ||
  (a.nominal_in ?? 0) - (b.nominal_in ?? 0) ||
  natural.compare(a.name, b.name);

/** The name without its size, so that sizes of one thing stand together. */
const family = (d: Device): string => d.name.replace(/[,\s]*\d.*$/, "");

export const deviceChoices = (p: Plan, from: Catalog, kind: Device["kind"]): Choice[] => {
  const list = devicesOf(p, from, kind);
  const several = new Set(list.map(family)).size > 1;
  return list.map((d) => ({
    value: d.id,
    label: rowName(d, p.show),
    ...(several ? { group: family(d) } : {}),
  }));
};

/** A plan whose supply has a device in a role; its row comes along unless the plan has it. */
export function withDevice(p: Plan, role: Role, id: string, from: Catalog): Plan {
  const supply: Supply = withMember(p.supply ?? {}, role, id || undefined);
  return withRow({ ...p, supply }, id, from);
}

/** A plan with the row of a device it is to name, unless it has it. */
export function withRow(p: Plan, id: string, from: Catalog): Plan {
  const entry = (from.devices ?? []).find((d) => d.id === id);
  if (!entry || p.devices?.[id]) return p;
  const { id: _id, ...row } = entry;
  return { ...p, devices: { ...p.devices, [id]: structuredClone(row) } };
}

export interface InUse {
  readonly role: UsedAs;
  readonly id: string;
  readonly row: Device;
}

/**
 * The devices whose rows are shown with their points: those the supply names, the
 * zones' valves, and the usual ones that the server takes where none is named.
 */
export function devicesInUse(
  p: Plan,
  from: Catalog,
  told: readonly { role: string; id: string }[] = [],
): InUse[] {
  const used = (role: UsedAs, id = ""): InUse[] => {
    const row = p.devices?.[id] ?? from.devices?.find((d) => d.id === id);
    return row ? [{ role, id, row }] : [];
  };
  const as = (role: UsedAs) => told.filter((d) => d.role === role).flatMap((d) => used(role, d.id));
  const named = (Object.keys(roleKinds) as Role[]).flatMap((role) =>
    p.supply?.[role] ? used(role, p.supply[role]) : as(role),
  );
  return [...named, ...as("zone_valve")];
}

const ownSource = "Typed in this plan";

/** The points of a curve by rising flow; a flow has one pressure. turned says what is wrong from one point to the next. */
function byFlow<T extends { readonly flow_gpm: number }>(
  p: Plan,
  points: readonly T[],
  turned: (a: T, b: T, at: string) => string | null,
): Read<T[]> {
  const sorted = [...points].sort((a, b) => a.flow_gpm - b.flow_gpm);
  for (const [i, b] of sorted.entries()) {
    const a = sorted[i - 1];
    if (!a) continue;
    const at = quantityText(b.flow_gpm, flow, p.show);
    if (b.flow_gpm === a.flow_gpm)
      return refuse(
        `There are two points at ${at}. A curve has one pressure at each flow: change one of them.`,
      );
    const why = turned(a, b, at);
    if (why) return refuse(why);
  }
  return read(sorted);
}

/**
 * A plan with other points in a device's curve, sorted by flow: a row that was a
 * default is then the plan's own. A curve never falls.
 */
export function withLoss(p: Plan, id: string, row: Device, points: readonly LossPoint[]): Read<Plan> {
  if (points.length === 0)
    return refuse("A curve has at least one point. Type the new one first, then delete this.");
  const psi = (v: number): string => quantityText(v, pressure, p.show);
  const loss = byFlow(p, points, (a, b, at) =>
    b.loss_psi < a.loss_psi
      ? `At ${at} the device would take ${psi(b.loss_psi)}, less than the ${psi(a.loss_psi)} at ${quantityText(a.flow_gpm, flow, p.show)}. What it takes never falls as the flow rises: check both.`
      : null,
  );
  if (!loss.ok) return loss;
  const { replace: _replace, ...rest } = row;
  const source = row.generic ? ownSource : row.source;
  const own: Device = { ...rest, loss: loss.value, generic: false, source };
  return read({ ...p, devices: { ...p.devices, [id]: own } });
}

/** A plan with another curve of its pump, sorted by flow: its pressure never rises. */
export function withPump(p: Plan, points: readonly PumpPoint[]): Read<Plan> {
  const psi = (v: number): string => quantityText(v, pressure, p.show);
  const pump = byFlow(p, points, (a, b, at) =>
    b.psi > a.psi
      ? `At ${at} the pump would give ${psi(b.psi)}, more than the ${psi(a.psi)} at ${quantityText(a.flow_gpm, flow, p.show)}. A pump gives less pressure the more it pumps: check both.`
      : null,
  );
  if (!pump.ok) return pump;
  const curve = pump.value.length > 0 ? pump.value : undefined;
  return read({ ...p, supply: withMember(p.supply ?? {}, "pump", curve) });
}

/** A plan with one reading of the static pressure set, or taken out. */
export function withStatic(p: Plan, id: string, reading: StaticReading | null): Plan {
  const { [id]: _old, ...rest } = p.supply?.statics ?? {};
  const statics = reading ? { ...rest, [id]: reading } : rest;
  const any = Object.keys(statics).length > 0;
  return { ...p, supply: withMember(p.supply ?? {}, "statics", any ? statics : undefined) };
}

const letters = "abcdefghjkmnpqrstuvwxyz";

/** A name for a new reading that no other has had, and that comes after those there are. */
export function newReading(p: Plan): string {
  const counts = Object.keys(p.supply?.statics ?? {}).map((id) => Number(/^r(\d{1,6})/.exec(id)?.[1] ?? 0));
  const next = Math.max(0, ...counts) + 1;
  const bytes = crypto.getRandomValues(new Uint8Array(4));
  return `r${next}${Array.from(bytes, (b) => letters[b % letters.length]).join("")}`;
}
