// Picking on the board what copies are laid along, or turned to, or round; and
// making them. What is wished for stands in the kit, where its form writes it.

import { type CopyWish, copiesOf, drawnLine, type Line, lineAt } from "../copies";
import { lengthText, placeText } from "../format";
import { directionDeg, distance, type Point } from "../geometry";
import { LATTICE, pathOf } from "../shape";
import type { Aim, Around, Result, Sketch, Tool, ToolEvent } from "./tool";

export interface CopiesState {
  readonly pressed: Point | null;
  /** The first end of a line being drawn or typed. */
  readonly first: Point | null;
  readonly pointer: Point | null;
}

type Out = Result<CopiesState>;
const fresh: CopiesState = { pressed: null, first: null, pointer: null };

/** The wish with another line to lie along, or turn to. */
function withLine(wish: CopyWish, line: Line): CopyWish {
  if (wish.way === "grid") return { ...wish, grid: { ...wish.grid, deg: directionDeg(line.a, line.b) } };
  return { ...wish, edge: { ...wish.edge, line } };
}

function takeLine(s: CopiesState, line: Line, a: Around): Out {
  const length = lengthText(distance(line.a, line.b), a.plan.show);
  const what = line.of ? line.name : `a line of ${length}`;
  const say = a.kit.copies.way === "grid" ? `Rows along ${what}.` : `Along ${what}.`;
  return { state: { ...fresh, pointer: s.pointer }, kit: { copies: withLine(a.kit.copies, line) }, say };
}

function takeCentre(s: CopiesState, at: Point, a: Around): Out {
  const { copies } = a.kit;
  return {
    state: { ...fresh, pointer: s.pointer },
    kit: { copies: { ...copies, round: { ...copies.round, centre: at } } },
    say: `Round ${placeText(at, a.plan.show)}.`,
  };
}

/** A click, or Enter at the crosshair: the centre, or the edge there. */
function picked(s: CopiesState, aim: Aim, a: Around): Out {
  if (a.kit.copies.way === "round") return takeCentre(s, aim.at, a);
  const line = lineAt(a.plan, aim.raw, aim.reach * 1.5);
  if (!line) return { state: s, say: "No edge there. Click one, or drag along where the copies are to lie." };
  return takeLine(s, line, a);
}

function typed(s: CopiesState, at: Point, a: Around): Out {
  if (a.kit.copies.way === "round") return takeCentre(s, at, a);
  if (!s.first)
    return { state: { ...s, first: at }, say: `From ${placeText(at, a.plan.show)}. Type the other end.` };
  if (distance(s.first, at) <= LATTICE)
    return { state: s, say: "That is where the line begins. Type another end." };
  return takeLine(s, drawnLine(s.first, at), a);
}

function finish(s: CopiesState, a: Around): Out {
  const made = copiesOf(a, a.kit.copies);
  if (!made.ok) return { state: s, say: made.sentence };
  const { label, plan, select, says } = made.value;
  return {
    state: fresh,
    commit: { label, plan, select },
    say: `${says} Undo takes them all out.`,
    leave: true,
  };
}

function step(s: CopiesState, e: ToolEvent, a: Around): Out {
  switch (e.type) {
    case "hover":
    case "drag":
      return { state: { ...s, pointer: e.aim.at } };
    case "press":
      return { state: { ...s, pointer: e.aim.at, pressed: e.aim.at } };
    case "release": {
      const from = s.pressed;
      if (e.moved && from && distance(from, e.aim.at) > LATTICE && a.kit.copies.way !== "round") {
        return takeLine(s, drawnLine(from, e.aim.at), a);
      }
      return picked({ ...s, pressed: null }, e.aim, a);
    }
    case "place":
      return picked(s, e.aim, a);
    case "typed":
      return e.entry.place ? typed(s, e.entry.place, a) : { state: s, say: "Type the place as x, y." };
    case "finish":
      return finish(s, a);
    case "back":
    case "escape":
      return s.first ? { state: fresh, say: "First end taken back." } : { state: fresh, leave: true };
    case "abort":
      return { state: fresh };
    default:
      return { state: s, unused: true };
  }
}

function sketch(s: CopiesState, a: Around): Sketch {
  const { way, edge, round } = a.kit.copies;
  if (way === "round") return round.centre ? { dots: [round.centre] } : {};
  const from = s.pressed ?? s.first;
  if (from && s.pointer && distance(from, s.pointer) > LATTICE)
    return { line: [from, s.pointer], dots: [from] };
  if (way === "grid" || !edge.line) return from ? { dots: [from] } : {};
  const { a: p, b: q, bulge } = edge.line;
  return { line: pathOf([bulge === 0 ? p : [p[0], p[1], bulge], q]) };
}

export const copiesTool: Tool<CopiesState> = {
  name: "copies",
  start: () => fresh,
  step,
  sketch,
  anchor: (s) => (s.pressed ? { at: s.pressed } : s.first ? { at: s.first } : null),
  fields: () => ["place"],
  placeFirst: () => true,
  busy: (s) => s.first !== null,
  hint(_s, a) {
    if (a.selection.size === 0) return "Select what is to be copied first.";
    switch (a.kit.copies.way) {
      case "edge":
        return "Click the edge to copy along, or drag a line. Enter makes the copies.";
      case "grid":
        return "Click an edge to turn the rows to it. Enter makes the copies.";
      case "round":
        return "Click the centre, or type it as x, y. Enter makes the copies.";
    }
  },
};
