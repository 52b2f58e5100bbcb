// A spot height: a place, then its level.

import { lengthText, placeText } from "../format";
import type { Point } from "../geometry";
import { spotHeight } from "./standing";
import type { Around, Result, Tool } from "./tool";

export interface HeightState {
  readonly pointer: Point | null;
  /** The place, while its level is being typed. */
  readonly waiting: Point | null;
}

type Out = Result<HeightState>;
const fresh: HeightState = { pointer: null, waiting: null };

const ask = (s: HeightState, at: Point, a: Around): Out => ({
  state: { ...s, waiting: at },
  say: `Place ${placeText(at, a.plan.show)}. Type the level, then Enter.`,
});

export const heightTool: Tool<HeightState> = {
  name: "height",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
      case "press":
      case "drag":
        return { state: { ...s, pointer: e.aim.at } };
      case "release":
      case "place":
        return ask(s, e.aim.at, a);
      case "typed": {
        const { level } = e.entry.values;
        if (s.waiting && level !== undefined) {
          const step = spotHeight(a, s.waiting, level);
          return { state: { ...fresh, pointer: s.pointer }, commit: step, say: `${step.label}: done.` };
        }
        if (e.entry.place) return ask(s, e.entry.place, a);
        return { state: s, refused: "Type the place as x, y, such as 12.5, 40." };
      }
      case "escape":
      case "back":
        return s.waiting ? { state: fresh, say: "Spot height dropped." } : { state: fresh, leave: true };
      case "finish":
        return { state: s, unused: true };
      default:
        return { state: fresh };
    }
  },
  sketch: (s) => ({ dots: [s.waiting ?? s.pointer].filter((p): p is Point => p !== null) }),
  fields: (s) => (s.waiting ? ["level"] : ["place"]),
  placeFirst: () => true,
  busy: (s) => s.waiting !== null,
  hint: (s, a) =>
    s.waiting
      ? `Type the level above the plan’s own 0, such as ${lengthText(1.5, a.plan.show)}, then Enter.`
      : "Click where the height was taken, or type x, y.",
};
