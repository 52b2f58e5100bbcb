// The table of local rules: which distance each asks for, who says so, and the
// plan's own where code or custom has another.

import { ask as get, planURL } from "../api";
import type { ArrangeOptions } from "../arranging";
import type { Ground } from "../asking";
import { lengthText } from "../format";
import { read } from "../length";
import { readRule, withOwn } from "../ruling";
import { changeFigures, type OwnRow } from "./ownfigures";

/** Asks for the rules; then is called when they were changed. */
export async function showLocalRules(board: Ground, then: () => void = () => {}): Promise<void> {
  const changed = await changeFigures(board, "Local rules are set", async (before) => {
    const answer = await get<ArrangeOptions>("GET", `${planURL(board.id)}/arrange/options`);
    if (!answer.ok) return answer;
    const rows = answer.value.rules.map((r): OwnRow => {
      const own = before.options?.local_rules?.[r.id];
      return {
        ...r,
        own: own ? { text: lengthText(own.feet, before.show), source: own.source ?? "" } : null,
        take: (p, typed, source) => {
          const v = readRule(typed, source, p.show);
          return v.ok ? read(withOwn(p, "local_rules", r.id, v.value)) : v;
        },
      };
    });
    return {
      title: "Local rules",
      hint: "Distances that arranging keeps and the findings check. Where local code asks for another, type it with where it says so; empty brings the usual one back.",
      figure: "Distance",
      groups: [{ name: "", rows }],
      label: "Change the local rules",
      said: "Local rules changed. Undo takes it back.",
    };
  });
  if (changed) then();
}
