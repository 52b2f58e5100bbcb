// What things are drawn with: the first choice of a new page, and keeping body
// and nozzle to one thread.

import type { Catalog } from "./api";
import { fitting } from "./catalog";
import { usualCopies } from "./copies";
import type { Plan, Ref } from "./model";
import { suitingNozzle } from "./nozzlefit";
import type { Kit } from "./tools/tool";

export const usualKit: Kit = {
  areaKind: "planting",
  asHole: false,
  nozzle: "",
  nozzleWhy: "",
  body: "",
  zone: "",
  barrierKind: "fence",
  barrierHeightFt: 6,
  trunkIn: 10,
  rootZoneFt: 8,
  keepDryFt: 1.5,
  keep: true,
  layAlong: false,
  copies: usualCopies,
  tapeWay: "along",
  tapeMakes: "area",
  fixture: "valve",
  sensorKind: "rain",
  pictureDo: "scale",
  pipeFor: "",
  pipeClass: "",
  pipeSizeIn: 0,
  sleeveCarries: "",
  sleeveSizeIn: 0,
  sleeveMethod: "",
  wireLay: "trench",
};

/** The nozzle a new page begins with: that of the newest head, else a stream nozzle of the catalogue. */
export function withFirstNozzle(kit: Kit, plan: Plan, catalog: Catalog): Kit {
  if (kit.nozzle) return kit;
  const used = Object.values(plan.heads ?? {}).at(-1);
  const first = catalog.nozzles.find((n) => n.family === "stream") ?? catalog.nozzles[0];
  const nozzle = used?.nozzle ?? first?.id ?? "";
  return withFittingBody({ ...kit, nozzle, body: used?.body ?? "" }, plan, catalog);
}

/** With the Head tool taken up on a plan without heads: a nozzle that suits its ground, until one is chosen. */
export function withSuitingNozzle(kit: Kit, plan: Plan, catalog: Catalog, selected: ReadonlySet<Ref>): Kit {
  if (kit.nozzleWhy === null || Object.keys(plan.heads ?? {}).length > 0) return kit;
  const suits = suitingNozzle(plan, catalog, selected);
  if (!suits) return kit;
  return withFittingBody({ ...kit, nozzle: suits.nozzle, nozzleWhy: suits.why }, plan, catalog);
}

/** A body the nozzle does not screw into is changed for one it does. */
export function withFittingBody(kit: Kit, plan: Plan, catalog: Catalog): Kit {
  const n = plan.nozzles?.[kit.nozzle] ?? catalog.nozzles.find((e) => e.id === kit.nozzle);
  if (!n) return kit;
  const fit = fitting(plan, catalog, n);
  return fit.some((b) => b.id === kit.body) ? kit : { ...kit, body: fit[0]?.id ?? "" };
}
