// The table of figures that trenches, sleeves, wire and parts are reckoned with, by
// group: the usual ones with their source, and the plan's own.

import { ask as get, planURL } from "../api";
import type { Ground } from "../asking";
import { type FigureGroup, figureText, readFigure } from "../figures";
import { read } from "../length";
import { withOwn } from "../ruling";
import { changeFigures, type OwnRow } from "./ownfigures";

/** Asks for the figures of some groups; then is called when they were changed. */
export async function showFigures(
  board: Ground,
  groups: readonly string[],
  then: () => void = () => {},
): Promise<void> {
  const changed = await changeFigures(board, "Figures are set", async (before) => {
    const answer = await get<{ groups: FigureGroup[] }>("GET", `${planURL(board.id)}/figures`);
    if (!answer.ok) return answer;
    const all = answer.value.groups.filter((g) => groups.includes(g.id));
    const rowOf = (r: FigureGroup["rows"][number]): OwnRow => {
      const own = before.options?.figures?.[r.id];
      const text = own && figureText(own.value, r.unit, before.show);
      return {
        id: r.id,
        words: r.words,
        unit: r.in,
        usual: r.usual,
        source: r.source,
        own: own ? { text: text ?? "", source: own.source ?? "" } : null,
        take: (p, typed, source) => {
          const v = readFigure(typed, source, r, p.show);
          return v.ok ? read(withOwn(p, "figures", r.id, v.value)) : v;
        },
      };
    };
    return {
      title: all.length === 1 ? `Figures: ${all[0]?.name.toLowerCase()}` : "Figures to reckon with",
      hint: "What is usual, and who says so. Type your own where you know better, with where it comes from; empty brings the usual one back.",
      figure: "Figure",
      groups: all.map((g) => ({ name: all.length > 1 ? g.name : "", rows: g.rows.map(rowOf) })),
      label: "Change the figures",
      said: "Figures changed. Undo takes it back.",
    };
  });
  if (changed) then();
}
