// The catalogue of a page that has a plan open: asked for until it is there.

import { server } from "./api";
import { learnRowNames } from "./rownames";
import type { Board } from "./state";

export async function loadCatalog(board: Board): Promise<void> {
  for (;;) {
    const answer = await server.catalog();
    if (answer.ok) {
      learnRowNames(answer.value.metric_names);
      const { nozzles, bodies, pipe_classes, devices, backflow } = answer.value;
      board.catalog = { nozzles: nozzles ?? [], bodies: bodies ?? [], pipe_classes, devices, backflow };
      board.emit("catalog");
      return;
    }
    await new Promise((r) => setTimeout(r, 2000));
  }
}
