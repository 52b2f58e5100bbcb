// The marks of zones: each has a shape and its station's number, so that no
// colour is needed to tell one from another. Pixels, y down, the middle at 0, 0.

const polygon = (sides: number, turn: number, r: number): string =>
  `M${Array.from({ length: sides }, (_, i) => {
    const t = ((turn + (360 * i) / sides) * Math.PI) / 180;
    return `${(r * Math.cos(t)).toFixed(2)} ${(r * Math.sin(t)).toFixed(2)}`;
  }).join("L")}Z`;

const round = (r: number): string => `M${r} 0A${r} ${r} 0 1 1 ${-r} 0A${r} ${r} 0 1 1 ${r} 0Z`;

/** The shapes in the order zones take them; each is about as large as the others. */
const shapes: readonly { readonly name: string; readonly d: string }[] = [
  { name: "circle", d: round(9) },
  { name: "square", d: polygon(4, 45, 11.5) },
  { name: "diamond", d: polygon(4, 0, 11.5) },
  { name: "hexagon", d: polygon(6, 0, 10) },
  { name: "triangle", d: polygon(3, -90, 13) },
  { name: "pentagon", d: polygon(5, -90, 10.8) },
  { name: "shield", d: "M-8.5 -8L8.5 -8L8.5 1Q8.5 8 0 10.5Q-8.5 8 -8.5 1Z" },
  { name: "drop", d: "M0 -12Q9 -2 8 3A8 8 0 1 1 -8 3Q-9 -2 0 -12Z" },
];

/** The shape of the nth zone, from 0; after eight zones the shapes come round again with other numbers. */
export function zoneShape(n: number): { name: string; d: string } {
  return shapes[((n % shapes.length) + shapes.length) % shapes.length] as { name: string; d: string };
}

/** A head in no zone: a ring with a dot. */
export const looseMark = `${round(6)}${round(1.6)}`;

/** How many classes of colour there are beside the shapes. */
export const ZONE_COLOURS = 8;

/** How many numbers follow each command of a mark's path, and from which on they are x, y pairs. */
const shape: Readonly<Record<string, { readonly numbers: number; readonly pairsFrom: number }>> = {
  M: { numbers: 2, pairsFrom: 0 },
  L: { numbers: 2, pairsFrom: 0 },
  Q: { numbers: 4, pairsFrom: 0 },
  A: { numbers: 7, pairsFrom: 5 },
  Z: { numbers: 0, pairsFrom: 0 },
};

type Part = readonly [command: string, numbers: readonly number[]];
const parsed = new Map<string, readonly Part[]>();

function partsOf(d: string): readonly Part[] {
  const known = parsed.get(d);
  if (known) return known;
  const parts = [...d.matchAll(/([MLQAZ])([^MLQAZ]*)/g)].map(
    ([, command = "", rest = ""]): Part => [
      command,
      [...rest.matchAll(/-?[\d.]+/g)].map((n) => Number(n[0])),
    ],
  );
  parsed.set(d, parts);
  return parts;
}

/** Fine, since the middle of a half circle leaves its place by the root of what its radius is rounded by. */
const short = (n: number): string => String(Math.round(n * 1e4) / 1e4);

/**
 * The path of a mark at a place in pixels, scaled. Marks are moved by their
 * numbers: a transform on each of hundreds would cost the browser a layer's
 * bookkeeping for every one.
 */
export function movedMark(d: string, px: number, py: number, k: number): string {
  let out = "";
  for (const [command, numbers] of partsOf(d)) {
    const { numbers: n, pairsFrom } = shape[command] ?? { numbers: 0, pairsFrom: 0 };
    const moved = numbers.slice(0, n).map((v, i) => {
      if (i < pairsFrom) return i < 2 ? v * k : v; // radii grow; turn and flags do not
      return (i - pairsFrom) % 2 === 0 ? px + v * k : py + v * k;
    });
    out += command + moved.map(short).join(" ");
  }
  return out;
}
