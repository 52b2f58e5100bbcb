// The marks of zones: each has a shape and its station's number, so that no
// colour is needed to tell one from another. Pixels, y down, the middle at 0, 0.

/** How far a mark reaches from its middle, in pixels. */
export const MARK_PX = 10;

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
  { name: "shield", d: "M-8.5 -8H8.5V1Q8.5 8 0 10.5Q-8.5 8 -8.5 1Z" },
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
