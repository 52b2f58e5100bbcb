// What sleeves, wire runs and splice boxes are called, and the words of their members.

import { lengthText } from "./format";
import { find, type Plan } from "./model";
import { pipeSizeText } from "./pipenames";
import { lengthOf } from "./shape";
import { ringsOf } from "./things";

/** What a sleeve is for; "": whatever crosses there. */
export const sleeveLoads = {
  "": "Anything",
  pipe: "Pipe",
  wire: "Wire",
  spare: "Spare",
} as const;

/** How a sleeve is put under paving; "": not chosen. */
export const sleeveMethods = {
  "": "Not chosen",
  before_paving: "Laid before the paving",
  water_bore: "Bored with water",
  saw_cut: "Paving cut and mended",
  other_bore: "Bored otherwise",
} as const;

/** How a wire run lies. */
export const wireLays = { trench: "In a trench", building: "On or in a building" } as const;

/** "2 in sleeve for wire", "spare sleeve". */
export function sleeveName(p: Plan, id: string): string {
  const v = find(p, "sleeves", id);
  const size = v?.nominal_in ? pipeSizeText(v.nominal_in, p.show) : "";
  const words = v?.carries === "spare" ? ["spare", size, "sleeve"] : [size, "sleeve"];
  const load = v?.carries === "pipe" || v?.carries === "wire" ? `for ${v.carries}` : "";
  return [...words, load].filter(Boolean).join(" ");
}

const longOf = (p: Plan, r: `sleeves/${string}` | `wires/${string}`): string =>
  lengthText(lengthOf(ringsOf(p, r)[0] ?? []), p.show);

/** "wire run of 23' 4\"". */
export const wireName = (p: Plan, id: string): string => `wire run of ${longOf(p, `wires/${id}`)}`;

/** What besides its name is said of a sleeve: its length and how it is put there. */
export function sleeveWords(p: Plan, id: string): string[] {
  const v = find(p, "sleeves", id);
  if (!v) return [];
  return [
    `${longOf(p, `sleeves/${id}`)} long`,
    v.nominal_in ? "" : "size by what is in it",
    v.method ? sleeveMethods[v.method].toLowerCase() : "",
  ].filter(Boolean);
}

/** What besides its name is said of a wire run. */
export const wireWords = (p: Plan, id: string): string[] => [
  wireLays[find(p, "wires", id)?.lay ?? "trench"].toLowerCase(),
];
