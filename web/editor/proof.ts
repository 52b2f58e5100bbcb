// What was tested, found and measured on the system in the ground, as the plan keeps
// it. The Go package internal/plan owns the format (proof.go); what these records name
// by id may be gone from the plan since.

/** A spot of the plan, as model.ts has it. */
interface Spot {
  x_ft: number;
  y_ft: number;
}

export interface Proof {
  /** Civil date. */
  started_up?: string;
  /** Steps of the start-up that were done, by the step's name. */
  checks?: Record<string, StepDone>;
  pressure_tests?: Record<string, PressureTest>;
  /** Conductors that come out at the controller. */
  wires?: Record<string, FoundWire>;
  touches?: Record<string, Touch>;
  resistances?: Record<string, OhmReading>;
  audits?: Record<string, Audit>;
  /** The one audit of older documents, of no id; nothing writes it any more. */
  cans?: Record<string, CatchCan>;
  minutes?: number;
  throat_in2?: number;
}

export interface StepDone {
  on: string;
  by?: string;
  note?: string;
}

/** A pipe held at pressure with everything shut. */
export interface PressureTest {
  on?: string;
  /** The zone whose lateral it was; left out: the main. */
  of?: string;
  start_psi?: number;
  end_psi?: number;
  minutes?: number;
  /** The meter's dial; left out: not looked at. */
  meter?: "still" | "moved";
  note?: string;
}

/** One zone run by hand and measured. */
export interface ZoneRun {
  on?: string;
  /** Left out: start_up. */
  when?: "start_up" | "before" | "after" | "check";
  static_psi?: number;
  running_psi?: number;
  /** Where running_psi was read; left out: head. */
  psi_at?: "head" | "valve" | "tap";
  at_head?: string;
  flow_gpm?: number;
  /** What the meter counted, and in how long. */
  meter_gal?: number;
  meter_s?: number;
  /** Date on which the lateral was flushed. */
  flushed?: string;
  note?: string;
}

/** One conductor at the controller. */
export interface FoundWire {
  /** In which it was noted, from 1. */
  order?: number;
  /** Its colour, or the tape that was put on it. */
  mark?: string;
  /** The station it is on now; left out: none. */
  terminal?: number;
  common?: boolean;
  note?: string;
}

/** A wire powered with the common on its terminal, and what ran. */
export interface Touch {
  order: number;
  wire: string;
  /** Zones; left out: none did. */
  ran?: string[];
  note?: string;
}

/** Resistance between two wires, everything else off them and the power off. */
export interface OhmReading {
  order: number;
  from: string;
  to: string;
  /** Left out: an open circuit. */
  ohms?: number;
}

/** One catch-can test. */
export interface Audit {
  name?: string;
  on?: string;
  area?: string;
  /** Minutes each zone ran, by the zone. */
  runs?: Record<string, number>;
  /** Opening of a can. */
  throat_in2?: number;
  /** volume: catches in ml; depth: cans are marked in inches. Left out: volume. */
  scale?: "volume" | "depth";
  wind_mph?: number;
  /** Anticlockwise from the plan's east. */
  wind_from_deg?: number;
  cans?: Record<string, CatchCan>;
  note?: string;
}

export interface CatchCan extends Spot {
  /** Left out: not read yet. */
  catch_ml?: number;
  /** Of a can marked in inches. */
  depth_in?: number;
  note?: string;
  /** Left out of the sums. */
  left_out?: boolean;
}

export type HeadFault =
  | "tilted"
  | "sunk"
  | "blocked"
  | "worn"
  | "leaking"
  | "stuck"
  | "wrong_nozzle"
  | "off_target"
  | "hidden";

/** How a head was found by somebody walking the yard. */
export interface HeadState {
  /** Date on which it was set as drawn. */
  set_on?: string;
  /** Date of faults. */
  seen_on?: string;
  faults?: HeadFault[];
  tilt_deg?: number;
  /** The way its top leans. */
  tilt_toward_deg?: number;
  /** The nozzle seen in it, in words, where it is the wrong one. */
  nozzle?: string;
  note?: string;
}

/** Where a thing was found to be, once measured: its place in the plan is the built one. */
export interface Built {
  on: string;
  /** Where it was drawn before; left out: it is where it was drawn. */
  was?: Spot;
  /** Of a sleeve, its other end. */
  was_to?: Spot;
  /** Of its top, or of a pipe, under the ground. */
  depth_in?: number;
  note?: string;
}

/** A photograph kept with the plan; the store holds it as a blob. */
export interface Photo {
  sha256: string;
  width_px?: number;
  height_px?: number;
  on?: string;
  /** The thing it shows, as "heads/h7"; it may be gone. */
  about?: string;
  x_ft?: number;
  y_ft?: number;
  caption?: string;
}
