// Corners typed as a list, one to a line: "x, y", and a bulge after them where
// the edge that leaves the corner is an arc.

import { METRES_A_FOOT } from "./conversions";
import { parseCoordinate, type Read, read, refuse } from "./length";
import type { System, Vertex } from "./model";
import { bulgeOf } from "./shape";

/** A coordinate as it is shown in lists: decimal feet or metres, no unit. */
export function coordText(feet: number, system: System): string {
  const n = system === "metric" ? feet * METRES_A_FOOT : feet;
  const text = String(Number(n.toFixed(system === "metric" ? 3 : 2)));
  return text === "-0" ? "0" : text;
}

export function cornersText(corners: readonly Vertex[], system: System): string {
  return corners
    .map(([x, y, bulge]) => {
      const place = `${coordText(x, system)}, ${coordText(y, system)}`;
      return bulge ? `${place}, ${Number(bulge.toFixed(6))}` : place;
    })
    .join("\n");
}

/** Reads a list of corners. A line that reads as before keeps its exact corner. */
export function parseCorners(
  typed: string,
  system: System,
  least: number,
  before: readonly Vertex[] = [],
): Read<Vertex[]> {
  const known = new Map(before.map((v) => [cornersText([v], system), v]));
  const out: Vertex[] = [];
  const lines = typed.split(/\r?\n/);
  for (const [i, line] of lines.entries()) {
    const text = line.trim();
    if (text === "") continue;
    const same = known.get(text);
    const corner = same ? read(same) : parseCorner(text, system);
    if (!corner.ok) return refuse(`Line ${i + 1}: ${corner.sentence}`);
    out.push(corner.value);
  }
  if (out.length < least) {
    return refuse(`There are ${out.length} corners. Type at least ${least}, one to a line, as x, y.`);
  }
  return read(out);
}

function parseCorner(text: string, system: System): Read<Vertex> {
  const cells = text.split(/[,;\t]/).map((c) => c.trim());
  const [x, y, bulge, more] = cells;
  if (x === undefined || y === undefined || more !== undefined) {
    return refuse(`“${text}” is not a corner. Type x and y with a comma between them, such as 12.5, 40.`);
  }
  const [fx, fy] = [parseCoordinate(x, system), parseCoordinate(y, system)];
  if (!fx.ok) return refuse(fx.sentence);
  if (!fy.ok) return refuse(fy.sentence);
  if (bulge === undefined || bulge === "") return read([fx.value, fy.value]);
  const b = Number(bulge);
  if (!Number.isFinite(b) || Math.abs(b) > 10) {
    return refuse(
      `“${bulge}” is not a bulge. Type 0 for a straight edge, 1 for half a circle, -1 for the other side.`,
    );
  }
  return read(b === 0 ? [fx.value, fy.value] : [fx.value, fy.value, b]);
}

/** Corners of a pipe, which runs straight from one to the next; what was bowed before may stay. */
export function unbowed(corners: Vertex[], before: readonly Vertex[]): Read<Vertex[]> {
  const bowed = corners.findIndex((c) => bulgeOf(c) !== 0 && !before.includes(c));
  return bowed < 0
    ? read(corners)
    : refuse(
        `Corner ${bowed + 1} has a third number. Pipes run straight from corner to corner: leave it out.`,
      );
}
