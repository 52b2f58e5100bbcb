// While the board shows what is offered, nothing on it can be changed: the offer
// is chosen, taken and left in its panel. The view moves as ever.

import type { Tool } from "./tool";

export const offerTool: Tool<null> = {
  name: "offer",
  start: () => null,
  step: (state, e) => {
    if (e.type === "escape") return { state, leave: true };
    return { state, unused: e.type === "finish" };
  },
  sketch: () => ({}),
  aims: () => false,
  busy: () => false,
  hint: () => "The board shows what is offered: apply it in its panel. Escape or a tool leaves it.",
};
