// Reading lengths and angles as people type them. The rules are those of
// internal/units.ParseLength; testdata/vectors/length.json holds both to them.

import { FEET_A_METRE } from "./conversions";
import type { System } from "./model";

/** What was read, or a sentence that says what is wrong and what to type. */
export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly sentence: string };

export const read = <T>(value: T): Read<T> => ({ ok: true, value });
export const refuse = (sentence: string): { ok: false; sentence: string } => ({ ok: false, sentence });

/** Ten kilometres: the longest length and the farthest place a plan takes, in feet. */
export const FARTHEST_FT = 32_808;

/** What counts as zero, in feet, so that 0.1 + 0.2 - 0.3 does: far below any tape. */
const LEAST_FT = 1e-6;

/** Characters; longer is not a length. */
const LONGEST = 64;

/** A length above zero, in feet. */
export function parseLength(typed: string, system: System): Read<number> {
  const sum = parseSum(typed, system);
  if (!sum.ok) return sum;
  if (sum.value < LEAST_FT) return refuse("A length must be more than zero.");
  if (sum.value > FARTHEST_FT) {
    return refuse(`${quote(typed.trim())} is longer than 10 km (32,808 ft). Check the unit.`);
  }
  return sum;
}

/** A position along one axis, in feet; may be zero or negative. */
export function parseCoordinate(typed: string, system: System): Read<number> {
  const sum = parseSum(typed, system);
  if (!sum.ok) return sum;
  if (Math.abs(sum.value) > FARTHEST_FT) {
    return refuse(`${quote(typed.trim())} is farther than 10 km (32,808 ft). Check the unit.`);
  }
  return read(sum.value + 0);
}

/** A direction in degrees, anticlockwise from east: 90, 90°, -45. */
export function parseAngle(typed: string): Read<number> {
  const text = oneWriting(typed)
    .trim()
    .toLowerCase()
    .replace(/\s*(°|deg|degrees)$/, "");
  if (text.includes(","))
    return refuse(`${quote(typed)} has a comma. Write a point for decimals, such as 22.5.`);
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) {
    return refuse(`${quote(typed)} is not an angle. Write degrees from east, such as 90 or -45.`);
  }
  const deg = Number(text);
  if (Math.abs(deg) > 3600) return refuse(`${quote(typed)} is more than ten turns. Write 0 to 360 degrees.`);
  return read(deg);
}

/** A text as typed, cut short when long. */
export const quote = (s: string): string => (s.length > 24 ? `“${s.slice(0, 24)}…”` : `“${s}”`);

/** What keyboards and word processors make of the marks, brought to one writing. */
function oneWriting(s: string): string {
  return s
    .replace(/''|′′|[″”“]/g, '"')
    .replace(/[′’‘´]/g, "'")
    .replace(/[−–]/g, "-")
    .replace(/[\u00a0\u2009\u202f]/g, " ")
    .replace(/½/g, " 1/2")
    .replace(/¼/g, " 1/4")
    .replace(/¾/g, " 3/4");
}

/** A written unit of length. In one measure units are of one family and fall in size. */
interface Unit {
  readonly feet: number;
  readonly us: boolean;
}

const yard: Unit = { feet: 3, us: true };
const foot: Unit = { feet: 1, us: true };
const inch: Unit = { feet: 1 / 12, us: true };
const metre: Unit = { feet: FEET_A_METRE, us: false };

const units = new Map<string, Unit>([
  ["yd", yard],
  ...["'", "ft", "foot", "feet"].map((w): [string, Unit] => [w, foot]),
  ...['"', "in", "inch", "inches"].map((w): [string, Unit] => [w, inch]),
  ...["m", "metre", "metres", "meter", "meters"].map((w): [string, Unit] => [w, metre]),
  ["cm", { feet: 0.01 * FEET_A_METRE, us: false }],
  ["mm", { feet: 0.001 * FEET_A_METRE, us: false }],
]);

/** Thrown inside the reader and turned into an answer by parseSum; never leaves this file. */
class Refusal extends Error {}

function parseSum(typed: string, system: System): Read<number> {
  if (new TextEncoder().encode(typed).length > LONGEST)
    return refuse(`${quote(typed)} is too long for a length.`);
  try {
    return read(new Reader(typed, system).sum());
  } catch (err) {
    if (err instanceof Refusal) return refuse(err.message);
    throw err;
  }
}

/** Walks over a typed length. */
class Reader {
  #rest: string;

  constructor(
    readonly typed: string,
    readonly system: System,
  ) {
    this.#rest = oneWriting(typed).trim();
  }

  /** Measures joined by + and -. */
  sum(): number {
    if (this.#rest === "")
      throw new Refusal(`Nothing is written here. Write a length, such as ${this.#example()}.`);
    let sign = this.#take(/^-\s*/) ? -1 : 1;
    if (sign === 1) this.#take(/^\+\s*/);
    let sum = 0;
    for (;;) {
      sum += sign * this.#measure();
      if (this.#rest === "") return sum;
      sign = this.#joint();
    }
  }

  #example(): string {
    return this.system === "metric" ? "4.7 or 4.7 m" : `15.5 or 15' 6"`;
  }

  #take(pattern: RegExp): string | null {
    const m = pattern.exec(this.#rest);
    if (!m || m[0] === "") return null;
    this.#rest = this.#rest.slice(m[0].length);
    return m[0];
  }

  /** The sign between two measures. */
  #joint(): 1 | -1 {
    if (this.#take(/^ *\+ */)) return 1;
    if (this.#take(/^ +- +/)) return -1;
    if (/^ *-/.test(this.#rest)) {
      throw new Refusal(
        `${quote(this.typed)} can be read in two ways. Write 15' 6" for feet and inches, or put a space on each side of the minus to subtract.`,
      );
    }
    throw this.#unread();
  }

  /** What stopped the reading. */
  #unread(): Refusal {
    if (this.typed.includes(",")) {
      return new Refusal(`${quote(this.typed)} has a comma. Write a point for decimals, such as 12.5.`);
    }
    return new Refusal(`${quote(this.typed)} is not a length. Write it as ${this.#example()}.`);
  }

  /** Numbers with units that fall in size: 15 ft 6 1/2 in, 4 m 70 cm. */
  #measure(): number {
    let sum = 0;
    let before: Unit | null = null;
    do {
      const n = this.#number();
      const { unit, bare } = this.#unit(before);
      const part: number = n * unit.feet;
      if (before && part >= before.feet) {
        throw new Refusal(
          `${quote(this.typed)} has a part that is larger than the unit before it. Check it.`,
        );
      }
      sum += part;
      before = unit;
      if (bare) break;
    } while (/^ *[.\d]/.test(this.#rest));
    return sum;
  }

  /** 15, 15.5, 1/2 or 6 1/2. */
  #number(): number {
    this.#take(/^ +/);
    const fraction = this.#take(/^\d+\/\d+(?![\d.])/);
    if (fraction) return this.#share(fraction);
    const word = this.#take(/^[.\d]+/) ?? "";
    if (!/^(\d+\.?\d*|\.\d+)$/.test(word) || word.length > 40 || Number(word) > 1e12) throw this.#unread();
    const after = /^ +\d+\//.test(this.#rest);
    if (!after) return Number(word);
    const part = word.includes(".") ? null : this.#take(/^ +\d+\/\d+(?![\d.])/);
    if (!part) throw this.#unread();
    return Number(word) + this.#share(part.trim());
  }

  #share(fraction: string): number {
    const [top = "", bottom = ""] = fraction.split("/");
    if (Number(bottom) === 0) throw this.#unread();
    return Number(top) / Number(bottom);
  }

  // After feet a bare number is inches; a bare number alone is in the system's unit.
  #unit(before: Unit | null): { unit: Unit; bare: boolean } {
    const word =
      this.#take(/^ *['"]/)?.trim() ??
      this.#take(/^ *\p{L}+\.?/u)
        ?.trim()
        .toLowerCase()
        .replace(/\.$/, "");
    if (word === undefined) {
      if (!before) return { unit: this.system === "metric" ? metre : foot, bare: true };
      if (before === foot) return { unit: inch, bare: true };
      throw this.#unread();
    }
    const unit = units.get(word);
    if (!unit || (before && (before.us !== unit.us || before.feet <= unit.feet))) throw this.#unread();
    return { unit, bare: false };
  }
}
