// The words of the status bar, and the note in the corner of the board.

/** The words of the status bar. */
export interface Status {
  readonly snap: string;
  readonly grid: string;
  readonly ortho: string;
  readonly hint: string;
}

/** The grid and what holds the pointer, in few words. */
export const noteOf = (s: Status): string =>
  [s.grid, s.snap, ...(s.ortho === "Square on" ? [s.ortho] : [])].join(" · ");
