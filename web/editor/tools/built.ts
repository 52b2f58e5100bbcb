// Where a thing went: the one that is selected is moved to where it was found, and the
// plan keeps where it was drawn. Of a sleeve one end is shown after the other.

import { keeperOf } from "../fields_found";
import { civilDate } from "../findings";
import { lengthText, placeText } from "../format";
import { distance, type Point } from "../geometry";
import { type Collection, type Plan, parts, type Ref, type Spot } from "../model";
import { capital, nameOf } from "../names";
import { isLocked, ringsOf, spotOf } from "../things";
import { setBuilt } from "../yard/records";
import type { Made } from "./made";
import type { Around, Result, Step, Tool } from "./tool";

interface BuiltState {
  readonly pointer: Point | null;
  /** Of a sleeve, its first end once it is found. */
  readonly first: Point | null;
  /** The thing in hand. */
  readonly of: Ref | null;
}

type Out = Result<BuiltState>;
const fresh: BuiltState = { pointer: null, first: null, of: null };

/** What can be recorded where it went. */
export const canBeBuilt = (c: Collection): boolean => keeperOf(c) !== null;

/** The one thing in hand, or why there is none. */
export function inHand(p: Plan, selection: ReadonlySet<Ref>): Ref | { readonly why: string } {
  const [r] = selection;
  if (!r || selection.size > 1 || !canBeBuilt(parts(r)[0]))
    return { why: "Select one head, valve, splice box or sleeve first, then show where it went." };
  if (isLocked(p, r)) return { why: `${capital(nameOf(p, r))} is locked. Unlock it first.` };
  return r;
}

const spot = ([x_ft, y_ft]: Point): Spot => ({ x_ft, y_ft });

/** The step that records where a thing went: of a sleeve one end, or both. */
export function went(p: Plan, r: Ref, at: Point | null, to: Point | null, today: string): Step {
  const [c, id] = parts(r);
  const keeper = keeperOf(c);
  const [one, other] = [at, to].map((q) => (q ? spot(q) : undefined));
  const plan = keeper ? setBuilt(p, keeper, id, { on: today }, one, other) : p;
  return { label: `Record where ${nameOf(p, r)} went`, plan, select: [r] };
}

/** The same of a place found by tape: of a sleeve it is the end that lies nearer. */
export function wentByTape(a: Around, at: Point): Made {
  const r = inHand(a.plan, a.selection);
  if (typeof r !== "string") return r;
  const [one, other] = placesOf(a.plan, r);
  const far = one !== undefined && other !== undefined && distance(other, at) < distance(one, at);
  const [from, to] = far ? [null, at] : [at, null];
  return { step: went(a.plan, r, from, to, civilDate(new Date())) };
}

/** Where a thing stands now: one place, or the two ends of a sleeve. */
function placesOf(p: Plan, r: Ref): Point[] {
  const at = spotOf(p, r);
  if (at) return [at];
  return (ringsOf(p, r)[0] ?? []).map((c): Point => [c[0], c[1]]);
}

function found(s: BuiltState, a: Around, at: Point): Out {
  const r = inHand(a.plan, a.selection);
  if (typeof r !== "string") return { state: fresh, say: r.why, refused: r.why, leave: true };
  if (parts(r)[0] === "sleeves" && !s.first)
    return {
      state: { ...s, first: at },
      say: `One end at ${placeText(at, a.plan.show)}. Show the other end.`,
    };
  const [first, to] = s.first ? [s.first, at] : [at, null];
  const step = went(a.plan, r, first, to, civilDate(new Date()));
  const [from] = placesOf(a.plan, r);
  const off = from ? distance(from, first) : 0;
  const by = off > 1 / 48 ? `${lengthText(off, a.plan.show)} from where it stood` : "where it stood";
  return { state: fresh, commit: step, leave: true, say: `${capital(nameOf(a.plan, r))} recorded, ${by}.` };
}

/** Where the next click leads from. */
function from(s: BuiltState, a: Around): Point | null {
  const r = inHand(a.plan, a.selection);
  if (typeof r !== "string") return null;
  return placesOf(a.plan, r)[s.first ? 1 : 0] ?? null;
}

export const builtTool: Tool<BuiltState> = {
  name: "built",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
      case "press":
      case "drag": {
        const r = inHand(a.plan, a.selection);
        return { state: { ...s, pointer: e.aim.at, of: typeof r === "string" ? r : null } };
      }
      case "release":
      case "place":
        return found(s, a, e.aim.at);
      case "typed":
        return e.entry.place
          ? found(s, a, e.entry.place)
          : { state: s, refused: "Type the place as x, y, such as 12.5, 40." };
      case "finish": {
        // Without a place it is where it stands.
        const at = from(s, a);
        return at ? found(s, a, at) : { state: s, unused: true };
      }
      case "back":
      case "escape":
        return s.first ? { state: fresh, say: "The first end is dropped." } : { state: fresh, leave: true };
      default:
        return { state: fresh };
    }
  },
  sketch(s, a) {
    const at = from(s, a);
    const dots = [s.first, s.pointer].filter((p): p is Point => p !== null);
    return at && s.pointer ? { dots, rubber: [at, s.pointer] } : { dots };
  },
  anchor(s, a) {
    const at = from(s, a);
    return at && { at };
  },
  // It went elsewhere, if by a hand's breadth; and its pipes go with it.
  skip: (s) => (from) => from.ref === s.of || parts(from.ref)[0] === "pipes",
  fields: () => ["place"],
  placeFirst: () => true,
  busy: (s) => s.first !== null,
  hint(s, a) {
    const r = inHand(a.plan, a.selection);
    if (typeof r !== "string") return r.why;
    const what = parts(r)[0] === "sleeves" ? (s.first ? "the other end went" : "one end went") : "it went";
    return `${capital(nameOf(a.plan, r))}: click where ${what}, or type x, y. Enter: it is where it is drawn.`;
  },
};
