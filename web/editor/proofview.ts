// What the server makes of the proof, ready to read in the plan's units; the Go types
// are those of web/proof_view.go.

import type { Patch } from "./merge";

/** The value of GET /api/plans/{id}/proof. */
export interface ProofView {
  /** Of the stored plan it was made from. */
  rev: number;
  start: ProofStart;
  wires: ProofWires;
  /** In walking order. */
  heads: ProofHead[] | null;
  audits: ProofAudit[] | null;
  built: ProofBuilt[] | null;
}

export interface ProofStart {
  says: string;
  steps: ProofStep[] | null;
  tests: ProofTest[] | null;
  /** By station. */
  zones: ProofZone[] | null;
}

/** A step of the start-up, in order. */
export interface ProofStep {
  /** Key of proof.checks. */
  id: string;
  title: string;
  how: string;
  caution: string;
  /** Date it was done; "": not yet. */
  on: string;
  by: string;
  note: string;
}

export interface ProofTest {
  /** Key of proof.pressure_tests. */
  id: string;
  says: string;
  holds: boolean;
  /** False: not enough was entered to tell. */
  known: boolean;
}

/** A zone to be run by hand, what is predicted, and its runs. */
export interface ProofZone {
  id: string;
  station: string;
  name: string;
  flow: string;
  pressure: string;
  /** Where to read the pressure: the head with the least. */
  head: string;
  head_tag: string;
  static: string;
  meter_time: string;
  /** Why nothing is predicted; "": it is. */
  unknown: string;
  runs: ProofRun[] | null;
}

export interface ProofRun {
  /** Key of zones/{id}/runs. */
  id: string;
  says: string;
  good: boolean;
  known: boolean;
  /** Most likely first. */
  likely: ProofLikely[] | null;
}

export interface ProofLikely {
  cause: string;
  why: string;
  do: string;
}

export interface ProofWires {
  says: string;
  /** null: all found, or nothing to go on. */
  next: ProofNext | null;
  wires: ProofWire[] | null;
  /** By station, the common first. */
  terminals: ProofTerminal[] | null;
  warnings: string[] | null;
  caution: string;
}

export interface ProofNext {
  kind: "read" | "touch" | "note";
  from: string;
  to: string;
  wire: string;
  says: string;
}

export interface ProofWire {
  id: string;
  mark: string;
  is: string;
  zone: string;
  kind: "zone" | "common" | "master" | "spare" | "several" | "shorted" | "unknown";
  goes: string;
  moves: string;
  warn: string;
}

export interface ProofTerminal {
  terminal: string;
  zone: string;
  wire: string;
  ohms: string;
  warn: string;
  wire_id: string;
}

/** A head on the walk of setting nozzles. */
export interface ProofHead {
  id: string;
  tag: string;
  zone: string;
  where: string;
  nozzle: string;
  arc: string;
  edge: string;
  throw: string;
  turn: string;
  set_on: string;
  /** In words. */
  faults: string[] | null;
  note: string;
  x_ft: number;
  y_ft: number;
}

/** One audit in a line. */
export interface ProofAudit {
  /** "": the one audit of older documents. */
  id: string;
  says: string;
  read: number;
  cans: number;
}

/** A thing whose built place was measured. */
export interface ProofBuilt {
  ref: string;
  what: string;
  on: string;
  moved: string;
  dims: string;
}

/** One audit reckoned: the value of GET /api/plans/{id}/audit?audit=ID. */
export interface AuditView {
  rev: number;
  id: string;
  /** False: says tells what is missing. */
  known: boolean;
  says: string;
  figures: AuditFigure[] | null;
  cans: AuditCan[] | null;
  /** Heads at fault, surest first. */
  faults: AuditFault[] | null;
  /** Every head that reaches a can. */
  heads: AuditFault[] | null;
  unsure: string[] | null;
  /** What taking the DU into the watering plan changes. */
  uses: string;
  patch?: Patch;
  label: string;
  /** Of an audit, that this one does not keep. */
  rules: string[] | null;
  /** What was taken for the prediction: pressures, wind, minutes. */
  notes?: string[] | null;
}

export interface AuditFigure {
  name: string;
  measured: string;
  expected: string;
  form: string;
}

export interface AuditCan {
  id: string;
  x_ft: number;
  y_ft: number;
  /** In walking order, from 1. */
  number: number;
  catch: string;
  depth: string;
  predicted: string;
  /** On the scale of the map, as its bytes are; null: not read. */
  measured_byte: number | null;
  predicted_byte: number | null;
  percent: string;
  /** Of the mean prediction; "" none. */
  predicted_percent: string;
  out: boolean;
  /** Of the driest quarter. */
  low: boolean;
  /** How its place is found: "near 2-3"; "": not said. */
  where: string;
}

/** What the catches say of one head. */
export interface AuditFault {
  head: string;
  tag: string;
  output: string;
  tilt: string;
  verdict: string;
  look: string;
  sure: boolean;
}

/** A layout of cans offered: the value of GET /api/plans/{id}/cans?area=ID&by=grid|heads&count=N. */
export interface CansView {
  rev: number;
  says: string;
  /** By which they were set out, with sources. */
  rules: string[] | null;
  /** Its id in the patch. */
  audit: string;
  cans: AuditCan[] | null;
  patch?: Patch;
  label: string;
}

/** What an old system would gain by mending: the value of GET /api/plans/{id}/retrofit, a job. */
export interface RetrofitView {
  rev: number;
  offered: boolean;
  says: string;
  census: RetrofitCount[] | null;
  zones: RetrofitZone[] | null;
  /** Most water saved first. */
  mends: RetrofitMend[] | null;
  assumed: string[] | null;
}

export interface RetrofitCount {
  state: string;
  count: number;
  heads: string[] | null;
  tags: string;
}

export interface RetrofitZone {
  id: string;
  name: string;
  flow: string;
  pressure: string;
  du: string;
  water: string;
  saves: string;
}

export interface RetrofitMend {
  says: string;
  saves: string;
  heads: string[] | null;
  why: string;
}
