// How valves are wired where the plan does not leave it to what suits: the cable and
// the sizes of its wires.

import type { Choice } from "./fields";
import { type Read, read, refuse } from "./length";
import type { Plan, Wiring } from "./model";

/** The cables to choose from; "": whichever suits. */
export const cables: readonly Choice[] = [
  { value: "", label: "Whichever suits" },
  { value: "single", label: "Single conductors" },
  { value: "multi", label: "Multi-conductor cable" },
];

/** The choice that leaves a size to the drop. */
export const byDrop: Choice = { value: "", label: "As the drop asks" };

/** What the plan has chosen, as the value of a choice; "" where it leaves it open. */
export const wiringChosen = (p: Plan, key: keyof Wiring): string => String(p.wiring?.[key] || "");

/** The plan with a choice made, or left open again. */
export function withWiring(p: Plan, key: keyof Wiring, chosen: string): Read<Plan> {
  const { [key]: _was, ...rest } = p.wiring ?? {};
  if (chosen === "") return read(withOpen(p, rest));
  if (key === "cable") {
    if (chosen !== "single" && chosen !== "multi") return refuse("Choose one of the cables.");
    return read({ ...p, wiring: { ...rest, cable: chosen } });
  }
  const awg = Number(chosen);
  if (!Number.isInteger(awg) || awg <= 0) return refuse("Choose one of the sizes wire is made in.");
  return read({ ...p, wiring: { ...rest, [key]: awg } });
}

function withOpen(p: Plan, rest: Wiring): Plan {
  if (Object.keys(rest).length > 0) return { ...p, wiring: rest };
  const { wiring: _gone, ...without } = p;
  return without;
}
