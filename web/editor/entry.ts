// What is typed at the pointer while drawing: a length, an angle, both as
// length<angle, a width x depth, or a place x, y. Each tool says which fields
// it takes; this file only reads them.

import { parseOffset, parseRun, type Run } from "./fieldbook";
import { directionDeg, type Point, polar } from "./geometry";
import { parseAngle, parseCoordinate, parseLength, quote, type Read, read, refuse } from "./length";
import type { System } from "./model";
import type { Side } from "./taping";

/** The names of the fields of the box, in the order Tab goes through them. */
export type Field =
  | "length"
  | "angle"
  | "width"
  | "depth"
  | "radius"
  | "second"
  | "sweep"
  | "throw"
  | "along" // from the end of a base line
  | "off" // square off it
  | "tape1"
  | "tape2"
  | "tape3"
  | "measured" // a tie
  | "level" // a spot height
  | "run" // sides and turns
  | "place"
  | "text"; // words, taken as they are

export const fieldNames: Readonly<Record<Field, string>> = {
  length: "Length",
  angle: "Angle",
  width: "Width",
  depth: "Depth",
  radius: "Radius",
  second: "Second radius",
  sweep: "Arc",
  throw: "Throw",
  along: "Along",
  off: "Off",
  tape1: "From first",
  tape2: "From second",
  tape3: "From third",
  measured: "Measured",
  level: "Level",
  run: "Sides and turns",
  place: "Place x, y",
  text: "Text",
};

type Figure = Exclude<Field, "place" | "text" | "run">;

/** What a tool waits for: its box opens by itself, and left without an answer the tool is told. */
export const isAwaited = (f: Field | undefined): boolean => f === "text" || f === "measured" || f === "level";

/** What was typed, read. Lengths are feet, angles degrees. */
export interface Entry {
  readonly values: Readonly<Partial<Record<Figure, number>>>;
  readonly place?: Point;
  /** The side an offset was said to lie on. */
  readonly side?: Side;
  readonly run?: Run;
}

export interface Asked {
  readonly fields: readonly Field[];
  readonly system: System;
  /**
   * Whether "12,5" is the place x 12, y 5. True where no length can be meant:
   * before the first point, and after a point that was itself typed as a place.
   */
  readonly placeFirst: boolean;
}

const isAngle = (f: Field): boolean => f === "angle" || f === "sweep";

/** Reads the box: one text a field, in the order of asked.fields. Empty fields are left out. */
export function parseEntry(texts: readonly string[], asked: Asked): Read<Entry> {
  const filled = texts.map((t) => t.trim());
  if (filled.every((t) => t === "")) return refuse("Nothing is typed. Type a number, or press Escape.");
  const lone = filled.filter((t) => t !== "").length === 1 ? (filled.find((t) => t !== "") ?? "") : null;
  if (lone !== null) {
    const whole = readWhole(lone, asked);
    if (whole) return whole;
  }
  const row = lone === null ? filled : (spread(lone, asked) ?? filled);
  if (row.length > asked.fields.length) return refuse(tooMany(lone ?? "", asked));
  const values: Partial<Record<Figure, number>> = {};
  let side: Side | undefined;
  for (let i = 0; i < asked.fields.length; i++) {
    const field = asked.fields[i] as Field;
    const text = row[i] ?? "";
    if (text === "") continue;
    if (field === "place" || field === "text" || field === "run") return readPlace(text, asked);
    if (field === "off") {
      const off = parseOffset(text, asked.system);
      if (!off.ok) return off;
      values.off = off.value.off;
      side = off.value.side ?? undefined;
      continue;
    }
    const one = figure(field, text, asked.system);
    if (!one.ok) return one;
    values[field] = one.value;
  }
  return read(side ? { values, side } : { values });
}

function figure(field: Figure, text: string, system: System): Read<number> {
  if (isAngle(field)) return parseAngle(text);
  return field === "along" || field === "level" ? parseCoordinate(text, system) : parseLength(text, system);
}

/** One text for a row of fields, as a field book has it: 12' 6", 3' or 25.5, 31. Null when it is not one. */
function spread(text: string, asked: Asked): string[] | null {
  const rowed = asked.fields[0] === "along" || asked.fields[0] === "tape1";
  return rowed && /[,;\t]/.test(text) ? text.split(/[,;\t]/).map((t) => t.trim()) : null;
}

const tooMany = (text: string, asked: Asked): string =>
  `${quote(text)} has more numbers than there are fields. Type ${kindsOf(asked)}.`;

/** A text that says everything at once: length<angle, width x depth, or x, y. */
function readWhole(text: string, asked: Asked): Read<Entry> | null {
  if (asked.fields[0] === "run") {
    const run = parseRun(text, asked.system);
    return run.ok ? read({ values: {}, run: run.value }) : run;
  }
  if (spread(text, asked)) return null;
  if (text.includes("<")) return readPolar(text, asked);
  if (/[x×*]/i.test(text) && asked.fields.length > 1 && !isAngle(asked.fields[1] as Field))
    return readBy(text, asked);
  if (text.includes(",") || text.includes(";")) return readPair(text, asked);
  return null;
}

function readPolar(text: string, asked: Asked): Read<Entry> {
  const [l = "", a = "", more] = text.split("<");
  if (more !== undefined || !asked.fields.includes("angle")) {
    return refuse(`${quote(text)} is not understood here. Type ${kindsOf(asked)}.`);
  }
  const length = parseLength(l, asked.system);
  if (!length.ok) return length;
  const angle = parseAngle(a);
  if (!angle.ok) return angle;
  return read({ values: { length: length.value, angle: angle.value } });
}

function readBy(text: string, asked: Asked): Read<Entry> {
  const [one = "", two = "", more] = text.split(/[x×*]/i);
  if (more !== undefined) return refuse(`${quote(text)} has three sizes. Type two, such as 30 x 20.`);
  const a = parseLength(one, asked.system);
  if (!a.ok) return a;
  const b = parseLength(two, asked.system);
  if (!b.ok) return b;
  return read({ values: { [asked.fields[0] as string]: a.value, [asked.fields[1] as string]: b.value } });
}

function readPair(text: string, asked: Asked): Read<Entry> {
  const clear = text.includes(";") || /,\s/.test(text);
  if (!clear && !asked.placeFirst) {
    return refuse(
      `${quote(text)} can be read in two ways. For a decimal write ${text.replace(",", ".")}; for a place write ${text.replace(",", ", ")}.`,
    );
  }
  return readPlace(text, asked);
}

function readPlace(text: string, asked: Asked): Read<Entry> {
  const cut = text.includes(";") ? ";" : ",";
  const [one = "", two = "", more] = text.split(cut);
  if (more !== undefined || two.trim() === "") {
    return refuse(`${quote(text)} is not a place. Type x, y such as 12.5, 40.`);
  }
  const x = parseCoordinate(one, asked.system);
  if (!x.ok) return x;
  const y = parseCoordinate(two, asked.system);
  if (!y.ok) return y;
  return read({ values: {}, place: [x.value, y.value] });
}

function kindsOf(asked: Asked): string {
  return asked.fields.map((f) => fieldNames[f].toLowerCase()).join(", ");
}

/**
 * The place an entry with length and angle means, from a point and with the
 * pointer's place for what was not typed. An angle alone turns the pointer's
 * distance; a length alone goes the pointer's way.
 */
export function placeFrom(entry: Entry, from: Point, pointer: Point): Point {
  if (entry.place) return entry.place;
  const deg = entry.values.angle ?? directionDeg(from, pointer);
  const length = entry.values.length ?? Math.hypot(pointer[0] - from[0], pointer[1] - from[1]);
  return polar(from, deg, length);
}
