// Steps of a page in the yard that died, made again on a plan that has moved on since:
// what was noted is added to it as long as the things it is noted of are still there.

import type { Kept } from "../journal";
import { apply, type Json, type Patch } from "../merge";
import type { Plan } from "../model";

/** The members a record must have to stand by itself, by where records lie; * is an id. */
const wholes: Readonly<Record<string, readonly string[]>> = {
  "proof/checks/*": ["on"],
  "proof/pressure_tests/*": [],
  "proof/wires/*": [],
  "proof/touches/*": ["order", "wire"],
  "proof/resistances/*": ["order", "from", "to"],
  "proof/audits/*": [],
  "proof/audits/*/cans/*": ["x_ft", "y_ft"],
  "photos/*": ["sha256"],
  "zones/*": ["name"],
  "heads/*": ["nozzle", "body", "x_ft", "y_ft"],
  "boxes/*": ["x_ft", "y_ft"],
  "sleeves/*": ["from", "to"],
};

const isObject = (v: unknown): v is Record<string, unknown> =>
  typeof v === "object" && v !== null && !Array.isArray(v);

/** Whether a patch only adds to what a plan has, or to records of its own that are whole. */
export function fits(plan: Plan, patch: Patch): boolean {
  if (!Object.keys(patch).every((k) => ["proof", "photos", "zones", "heads", "boxes", "sleeves"].includes(k)))
    return false;
  return fitsAt(plan, patch, []);
}

function fitsAt(now: unknown, patch: Json, pattern: readonly string[]): boolean {
  if (!isObject(patch)) return true;
  const needed = wholes[pattern.join("/")];
  if (needed && !isObject(now) && !needed.every((k) => Object.hasOwn(patch, k))) return false;
  return Object.entries(patch).every(([k, v]) => {
    const next = isObject(now) && Object.hasOwn(now, k) ? now[k] : undefined;
    const some = [...pattern, "*"].join("/");
    const as = Object.keys(wholes).some((w) => w === some || w.startsWith(`${some}/`)) ? "*" : k;
    return fitsAt(next, v as Json, [...pattern, as]);
  });
}

/** The plan after each of the steps a dead page left; null when some do not fit any more. */
export function madeAgain(plan: Plan, kept: Kept): { label: string; plan: Plan }[] | null {
  const out: { label: string; plan: Plan }[] = [];
  let at = plan;
  for (const { label, patch } of kept.steps) {
    if (!fits(at, patch)) return null;
    at = apply(at, patch);
    out.push({ label, plan: at });
  }
  return out;
}
