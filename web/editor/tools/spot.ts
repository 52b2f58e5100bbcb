// Things set by one click: trees, keep-dry points, notes.

import { placeText } from "../format";
import type { Point } from "../geometry";
import { keepDry, type Made, note, tree } from "./made";
import { fixture, fixtureNames } from "./standing";
import type { Around, Result, Tool } from "./tool";

export interface SpotState {
  readonly pointer: Point | null;
  /** A note's place, while its text is being typed. */
  readonly waiting: Point | null;
}

type Out = Result<SpotState>;
const fresh: SpotState = { pointer: null, waiting: null };

interface Sort {
  readonly name: string;
  readonly hint: (a: Around) => string;
  readonly make: (a: Around, at: Point) => Made;
}

function spotTool(sort: Sort): Tool<SpotState> {
  const set = (a: Around, at: Point): Out => {
    const made = sort.make(a, at);
    if ("why" in made) return { state: fresh, say: made.why, refused: made.why };
    const { step } = made;
    return { state: fresh, commit: step, say: `${step.label}, at ${placeText(at, a.plan.show)}.` };
  };
  return {
    name: sort.name,
    start: () => fresh,
    step(s, e, a) {
      switch (e.type) {
        case "hover":
        case "press":
        case "drag":
          return { state: { ...s, pointer: e.aim.at } };
        case "release":
        case "place":
          return set(a, e.aim.at);
        case "typed":
          return e.entry.place ? set(a, e.entry.place) : { state: s, say: "Type the place as x, y." };
        case "escape":
        case "back":
          return { state: fresh, leave: true };
        case "finish":
          return { state: s, unused: true };
        default:
          return { state: fresh };
      }
    },
    sketch: (s) => (s.pointer ? { dots: [s.pointer] } : {}),
    fields: () => ["place"],
    placeFirst: () => true,
    busy: () => false,
    hint: (_, a) => sort.hint(a),
  };
}

export const treeTool = spotTool({
  name: "tree",
  hint: () => "Click where the trunk stands, or type x, y.",
  make: (a, at) => ({ step: tree(a, at) }),
});
export const keepDryTool = spotTool({
  name: "keepdry",
  hint: () => "Click what must stay dry, or type x, y.",
  make: (a, at) => ({ step: keepDry(a, at) }),
});
export const fixtureTool = spotTool({
  name: "fixture",
  hint: (a) => `${fixtureNames[a.kit.fixture]}: click where it stands, or type x, y.`,
  make: fixture,
});

/** A note is placed first and then worded; without words there is no note. */
export const noteTool: Tool<SpotState> = {
  name: "note",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
      case "press":
      case "drag":
        return { state: { ...s, pointer: e.aim.at } };
      case "release":
      case "place":
        return { state: { ...s, waiting: e.aim.at }, say: "Type the note, then Enter." };
      case "typed":
        return e.entry.place
          ? { state: { ...s, waiting: e.entry.place }, say: "Type the note, then Enter." }
          : { state: s };
      case "text": {
        const text = e.text.trim();
        if (!s.waiting || text === "") return { state: fresh, say: "No text, so no note." };
        return { state: fresh, commit: note(a, s.waiting, text), say: "Note pinned." };
      }
      case "escape":
      case "back":
        return s.waiting ? { state: fresh, say: "Note dropped." } : { state: fresh, leave: true };
      case "finish":
        return { state: s, unused: true };
      default:
        return { state: fresh };
    }
  },
  sketch: (s) => ({ dots: [s.waiting, s.pointer].filter((p): p is Point => p !== null).slice(0, 1) }),
  fields: (s) => (s.waiting ? ["text"] : ["place"]),
  placeFirst: () => true,
  busy: (s) => s.waiting !== null,
  hint: (s) => (s.waiting ? "Type the note, then Enter." : "Click where the note belongs, or type x, y."),
};
