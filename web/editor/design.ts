// What the server says follows from the plan: every figure already in words
// and in the plan's units. The Go type is web.Board.

import type { ChainPiece } from "./api";
import type { Digs } from "./digs";
import type { Accepted, Ref } from "./model";
import type { Costs } from "./pricing";

export type XY = [number, number];
export type Rank = "stop" | "mend" | "note";

/** The raster of the map, in feet. Row 0 is the southernmost. */
export interface Frame {
  x_ft: number;
  y_ft: number;
  cell_ft: number;
  nx: number;
  ny: number;
}

export interface Reading {
  text: string;
  label?: string;
  rank?: "good" | "fair" | "poor";
  at?: XY;
}

export interface AreaReading {
  id: string;
  name: string;
  [figure: string]: string;
}

export interface ZoneReading {
  id: string;
  name: string;
  station: number;
  heads: number;
  flow: string;
  rate_flow: string;
  rate_spacing: string;
  rate_grid: string;
  matched: string;
  matched_rank: "good" | "mend" | "stop" | "";
  plantings: string;
}

export interface HeadReading {
  flow: string;
  throw: string;
  table_throw_ft: number;
  throw_ft: number;
  rate: string;
  nearest: string;
  pressure: string;
  /** What stops its water or is passed over, a line each. */
  stops?: string[];
  /** With its zone running; left out where that is not worked out. */
  state?: "good" | "low" | "high" | "starved";
  /** What it gets and gives then, and what is wrong with that. */
  running?: string;
  trouble?: string;
}

/** What passes a pipe while one zone runs. */
export interface PipeRun {
  zone: string;
  flow: string;
  velocity: string;
  loss: string;
  /** Left at its far end. */
  pressure: string;
  /** The water goes from the pipe's from to its to. */
  forward: boolean;
  rank: "good" | "mend";
  /** The greatest flow of all its runs. */
  most: boolean;
  velocity_step: number;
  pressure_step: number;
}

/** One pipe: what it is, and what passes it. Of the main there is a run for each zone. */
export interface PipeReading {
  zone: string;
  runs: PipeRun[];
}

/** One row of a pressure budget. */
export interface BudgetStep {
  code: string;
  name: string;
  left: string;
  loss: string;
  gains?: boolean;
  says: string;
  rule: string;
  source: string;
  unsure?: boolean;
  about: Ref[];
  along: string;
  along_ft: number;
  left_psi: number;
}

/** One zone running by itself. */
export interface ZonePressure {
  zone: string;
  name: string;
  station: number;
  solved: boolean;
  says: string;
  flow: string;
  spread: string;
  worst?: string;
  worst_name?: string;
  worst_left?: string;
  lost?: string;
  need?: string;
  need_psi?: number;
  rank: "good" | "mend";
  trouble: string[];
  budget: BudgetStep[];
}

/** One head's stream at a wall, fence or hedge. */
export interface Stream {
  head: string;
  does: "passes" | "partly" | "stopped";
  text: string;
}

export interface OffTarget {
  id: string;
  name: string;
  text: string;
  gpm: string;
  share: string;
  heads: string[];
  rank: "good" | "mend" | "stop";
}

export interface Gap {
  area: string;
  text: string;
  at: XY;
  outline: XY[][];
}

export interface Finding {
  code: string;
  rank: Rank;
  title: string;
  sentence: string;
  why: string;
  do: string;
  source: string;
  about?: Ref[];
  at?: XY;
  accepted?: Accepted;
}

export interface PartsLine {
  group: string;
  item: string;
  count: number;
  unit: string;
  /** Of pipe in total: how it is sold, "5 sticks of 20 ft". */
  sold?: string;
  from: Ref[];
  rule: string;
}

export interface PartsZone {
  /** What the list is for: connection, main, zone, electrical, job or loose. */
  list: string;
  /** "" but for a zone's. */
  zone: string;
  name: string;
  station: number;
  lines: PartsLine[];
}

/** One reason for a least flow; flow is for drawing. */
export interface SupplyLimit {
  code: string;
  title: string;
  flow: number;
  text: string;
  says: string;
  rule: string;
  source: string;
  missing?: string;
  sets: boolean;
  least: boolean;
}

/** One axis of a picture, in gpm or psi, with its marks in the plan's units. */
export interface Axis {
  most: number;
  title: string;
  ticks: { at: number; text: string }[];
}

/** The pressure left at the connection by flow; pairs are gpm and psi. */
export interface SupplyCurve {
  flow: Axis;
  pressure: Axis;
  design: number;
  points: XY[];
  measured: XY[];
  ends: string;
  zones: {
    id: string;
    mark: string;
    name: string;
    flow: number;
    psi?: number;
    text: string;
    over: boolean;
  }[];
  rows: { flow: string; pressure: string; what: string }[];
}

/** The water supply as the Supply page and the prints show it. */
export interface SupplyReading {
  known: "assumed" | "rough" | "measured";
  mark: string;
  /** What every print says of the supply; left out once it is measured. */
  print?: string;
  says: string;
  design: string;
  /** In gpm, for drawing. */
  design_flow: number;
  set_by: string;
  static: string;
  reading: string;
  limits: SupplyLimit[];
  flows?: Axis;
  curve?: SupplyCurve;
  needs?: string;
  backflow: {
    kind: string;
    name: string;
    against: string;
    chain: ChainPiece[];
    place: string;
    /** Why it does not guard against what stands after it; "" where it does. */
    unfit: string;
    height: string;
    rank: "good" | "mend" | "";
    decide: string;
  };
  freeze: { says: string; parts: string[] };
  devices: { role: string; id: string; takes: string; beyond: boolean }[];
}

/** The places at one level, as lines in feet. */
export interface Contour {
  level: string;
  lines: XY[][];
}

export interface Design {
  rev: number;
  seq: number;
  frame: Frame;
  readings: { evenness: Reading; driest: Reading; rate: Reading; flow: Reading };
  more: { label: string; text: string }[];
  /** What the figures leave out of the map, in words; "" for nothing. */
  lip?: string;
  areas: AreaReading[];
  zones: ZoneReading[];
  heads: Record<string, HeadReading>;
  /** By wall, fence or hedge: what each stream that comes to it does there. */
  barriers?: Record<string, Stream[]>;
  off_target: OffTarget[];
  gaps: Gap[];
  findings: Finding[];
  /** scope: what the list counts and what not. */
  parts: { zones: PartsZone[]; total: PartsLine[]; scope: string };
  /** What they cost by the user's prices. */
  costs?: Costs;
  /** What map, readings and dry places are of: left out the drawing; says: what that rests on. */
  as?: "running";
  says?: string;
  pipes?: Record<string, PipeReading>;
  pipe_keys?: { velocity: string[]; pressure: string[] };
  pressures?: ZonePressure[];
  supply?: SupplyReading;
  /** What is dug; left out unless it was asked for. */
  digs?: Digs;
  /** The ground between the spot heights, by rising level. */
  ground?: Contour[];
}
