// The colours of the style sheet, read for tests.

import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { RGB, Theme } from "./palette";

const css = readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "web/editor/css/tokens.css"), "utf8");

/** The values of a colour token for light and dark. */
export function token(name: string): Record<Theme, RGB> {
  const found = new RegExp(`--${name}: light-dark\\(#([0-9a-f]{6}), #([0-9a-f]{6})\\);`).exec(css);
  if (!found) throw new Error(`css/tokens.css has no colour --${name}`);
  return { light: rgb(found[1] ?? ""), dark: rgb(found[2] ?? "") };
}

function rgb(hex: string): RGB {
  const v = Number.parseInt(hex, 16);
  return [v >> 16, (v >> 8) & 255, v & 255];
}
