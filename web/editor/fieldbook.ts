// What a field book says, read: stations along a line with what was measured
// off it, and runs of sides with their turns. Formats of lengths as everywhere.

import { parseCoordinate, parseLength, quote, type Read, read, refuse } from "./length";
import type { System } from "./model";
import type { Leg, Side } from "./taping";

/** One row of a station table: along the base, and off it. */
export interface Station {
  readonly along: number;
  readonly off: number;
  /** Null: the side that is set beside the tool. */
  readonly side: Side | null;
}

/** A run of sides as written; closes when it says so. */
export interface Run {
  readonly legs: readonly Leg[];
  readonly closes: boolean;
}

const sides: Readonly<Record<string, Side>> = { l: "left", left: "left", r: "right", right: "right" };

/** An offset such as 3', 3' L, R 2' 6" or 0; below zero it lies on the other side. */
export function parseOffset(typed: string, system: System): Read<Omit<Station, "along">> {
  const t = typed.trim();
  const word = /^(left|right|l|r)\b\.?\s*/i.exec(t) ?? /\s*(?:\b|(?<=['"”’″′]))(left|right|l|r)\.?$/i.exec(t);
  const rest = word ? t.replace(word[0], "") : t;
  const side = word ? (sides[(word[1] as string).toLowerCase()] as Side) : null;
  if (rest === "" && side) return refuse(`${quote(t)} says the side, not how far. Type it as 3' L or L 3'.`);
  const off = parseCoordinate(rest, system);
  return off.ok ? read({ off: off.value, side }) : off;
}

/** Cuts a row of the table in two: at a tab, a semicolon or the first comma. */
export function columns(line: string): readonly [string, string] {
  const at = /\t|;|,/.exec(line)?.index ?? line.length;
  return [line.slice(0, at).trim(), line.slice(at + 1).trim()];
}

/** One row: along, then off. A row of one number lies on the line. */
export function parseStation(line: string, system: System): Read<Station> {
  const [one, two] = columns(line);
  const along = parseCoordinate(one, system);
  if (!along.ok) return along;
  const off = two === "" ? read({ off: 0, side: null }) : parseOffset(two, system);
  return off.ok ? read({ along: along.value, ...off.value }) : off;
}

/** A table of stations, one to a line; empty lines are passed over. */
export function parseStations(text: string, system: System): Read<readonly Station[]> {
  const out: Station[] = [];
  for (const [i, line] of text.replace(/\r/g, "").split("\n").entries()) {
    if (line.trim() === "") continue;
    const v = parseStation(line, system);
    if (!v.ok) return refuse(`Line ${i + 1}: ${v.sentence}`);
    out.push(v.value);
  }
  if (out.length === 0) return refuse("There is no row yet. Type along and off, such as 12' 6\", 3' L.");
  return read(out);
}

/** Turns anticlockwise, and directions from east, by their words. */
const turns: Readonly<Record<string, number>> = { l: 90, left: 90, r: -90, right: -90 };
const ways: Readonly<Record<string, number>> = {
  e: 0,
  east: 0,
  n: 90,
  north: 90,
  w: 180,
  west: 180,
  s: 270,
  south: 270,
};
const words = [...Object.keys(turns), ...Object.keys(ways)].sort((a, b) => b.length - a.length).join("|");
const before = new RegExp(
  `^(${words})(?:\\b|(?=\\d))\\.?\\s*(?:(\\d+(?:\\.\\d+)?)\\s*(?:°|deg\\b)\\s*)?`,
  "i",
);
const after = new RegExp(`\\s*(?:\\b|(?<=['"”’″′\\s]))(${words})\\.?$`, "i");

const RUN_HELP = "Type sides and turns such as 24', left, 10' 6\", right, 8'.";

/**
 * A run such as 24', left, 10' 6", R 8', N 12: lengths with the turn or the
 * direction before (or after) them. A turn is 90 degrees unless it says L 45°.
 * Two lengths without a turn between go straight on. "close" may end it.
 */
export function parseRun(text: string, system: System): Read<Run> {
  const legs: Leg[] = [];
  let way: Omit<Leg, "length"> | null = null;
  let closes = false;
  const tokens = text
    .replace(/\r/g, "")
    .split(/[,;\n\t]/)
    .map((t) => t.trim())
    .filter((t) => t !== "");
  for (const token of tokens) {
    if (closes) return refuse(`${quote(token)} comes after “close”. Put “close” last.`);
    if (/^closed?$/i.test(token)) {
      closes = true;
      continue;
    }
    const cut = cutWay(token);
    if (cut.way && way)
      return refuse(`Two turns follow each other at ${quote(token)}. Type a length between.`);
    way = cut.way ?? way;
    if (cut.rest === "") continue;
    const length = parseLength(cut.rest, system);
    if (!length.ok) return refuse(`${length.sentence} ${RUN_HELP}`);
    legs.push({ length: length.value, ...way });
    way = null;
  }
  if (way) return refuse(`The run ends with a turn. ${RUN_HELP}`);
  if (legs.length === 0) return refuse(`There is no side yet. ${RUN_HELP}`);
  return read({ legs, closes });
}

/** The turn or direction of a token, and what is left of it. */
function cutWay(token: string): { way: Omit<Leg, "length"> | null; rest: string } {
  const first = before.exec(token);
  const found = first ?? after.exec(token);
  if (!found) return { way: null, rest: token };
  const word = (found[1] as string).toLowerCase();
  const rest = token.replace(found[0], "").trim();
  const toward = ways[word];
  if (toward !== undefined && first?.[2] === undefined) return { way: { towardDeg: toward }, rest };
  const turn = turns[word];
  if (turn === undefined) return { way: null, rest: token };
  const deg = first?.[2] === undefined ? 90 : Number(first[2]);
  return { way: { turnDeg: Math.sign(turn) * deg }, rest };
}
