// The drawing aids and how the wheel behaves: kept in this browser, since they
// are habits of a person and not part of a plan.

export interface Aids {
  readonly snap: boolean;
  readonly grid: boolean;
  readonly gridSnap: boolean;
  readonly ortho: boolean;
  readonly wheel: "zoom" | "pan";
  /** What one finger does. unsaid: it draws until a pen comes, then it moves the view. */
  readonly fingers: "unsaid" | "draw" | "move";
}

export const usualAids: Aids = {
  snap: true,
  grid: true,
  gridSnap: true,
  ortho: false,
  wheel: "zoom",
  fingers: "unsaid",
};

const KEY = "evenfall-aids";

export type Shelf = Pick<Storage, "getItem" | "setItem">;

/** What was kept; anything unreadable counts as not kept. */
export function loadAids(shelf: Shelf | null): Aids {
  const text = read(shelf);
  if (text === null) return usualAids;
  try {
    const kept = JSON.parse(text) as Partial<Record<keyof Aids, unknown>> | null;
    const flag = (k: "snap" | "grid" | "gridSnap" | "ortho") =>
      typeof kept?.[k] === "boolean" ? (kept[k] as boolean) : usualAids[k];
    return {
      snap: flag("snap"),
      grid: flag("grid"),
      gridSnap: flag("gridSnap"),
      ortho: flag("ortho"),
      wheel: kept?.wheel === "pan" ? "pan" : "zoom",
      fingers: kept?.fingers === "move" || kept?.fingers === "draw" ? kept.fingers : "unsaid",
    };
  } catch {
    return usualAids;
  }
}

// A browser may forbid storage; the aids then last as long as the page.
function read(shelf: Shelf | null): string | null {
  try {
    return shelf?.getItem(KEY) ?? null;
  } catch {
    return null;
  }
}

export function keepAids(shelf: Shelf | null, aids: Aids): void {
  try {
    shelf?.setItem(KEY, JSON.stringify(aids));
  } catch {
    // Storage forbidden or full: nothing of the plan is lost by it.
  }
}
