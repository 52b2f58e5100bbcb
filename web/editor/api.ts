// The server's HTTP interface, as promises that never reject: every answer,
// and every lack of one, is an Outcome with a sentence for the user.

import type { Body, Device, Nozzle, Outline, Patch, PipeClass, Plan, System } from "./model";

export interface Problem {
  pointer: string;
  sentence: string;
}

/** A request that did not do what was asked. Status 0: no answer came at all. */
export interface Failure {
  ok: false;
  status: number;
  error: string;
  problems: Problem[];
  rev?: number;
}

export type Outcome<T> = { ok: true; value: T } | Failure;

export interface Stored {
  rev: number;
  doc: Plan;
  undo: string;
  redo: string;
}

export interface Committed {
  rev: number;
  undo: string;
  redo: string;
}

export interface Stepped extends Stored {
  label: string;
  about: string[];
}

export interface HistoryStep {
  rev: number;
  label: string;
  at: string;
  undone: boolean;
}

export interface NozzleEntry extends Nozzle {
  id: string;
}
export interface BodyEntry extends Body {
  id: string;
}
export interface PipeClassEntry extends PipeClass {
  id: string;
}
export interface DeviceEntry extends Device {
  id: string;
}
/** One piece of the way from the street to the heads. */
export interface ChainPiece {
  code: string;
  name: string;
  /** One for every zone. */
  each: boolean;
  /** The backflow device itself. */
  safe: boolean;
}
/** What holds for one kind of backflow device. */
export interface BackflowKind {
  kind: string;
  name: string;
  against: string;
  place: string;
  height: string;
  chain: ChainPiece[];
}
export interface Catalog {
  nozzles: NozzleEntry[];
  bodies: BodyEntry[];
  pipe_classes?: PipeClassEntry[];
  devices?: DeviceEntry[];
  backflow?: BackflowKind[];
  /** What built-in rows are called in metric plans, by the names that plans carry. */
  metric_names?: Record<string, string>;
}

export interface RowError {
  line: number;
  column: string;
  sentence: string;
}
export interface TablePreview<T> {
  rows: T[];
  errors: RowError[];
}

export interface Shape {
  name: string;
  kind_guess: string;
  outline: Outline;
  holes?: Outline[];
  area: string;
  size: string;
}
export interface Shapes {
  shapes: Shape[];
  /** What of the file could not be used, in sentences. */
  left_out?: string[];
  origin: { lat: number; lon: number };
}

/** Where a plan's origin lies, and how far its north is turned, in degrees. */
export interface Placed {
  lat: number;
  lon: number;
  north: number;
}

export interface EstimateRow {
  id: string;
  name: string;
  text: string;
  /** Evenness in the field: the mean, and what one installation in ten comes out below. */
  mean: string;
  p10: string;
  /** Evenness on the windy day. */
  windy: string;
}

/** The scheduling coefficient of one area by size of window. */
export interface WindowsRow {
  id: string;
  name: string;
  windows: { share: string; text: string }[];
}

export interface Estimated {
  rev: number;
  areas: EstimateRow[];
  /** The wind of the windy day. */
  wind: string;
  scheduling: WindowsRow[];
}

/** What the board needs of the server; tests give it a made-up one. */
export interface Api {
  load(id: string): Promise<Outcome<Stored>>;
  commit(id: string, rev: number, patch: Patch, label: string): Promise<Outcome<Committed>>;
  undo(id: string, rev: number): Promise<Outcome<Stepped>>;
  redo(id: string, rev: number): Promise<Outcome<Stepped>>;
  create(name: string, show: System, doc?: Plan): Promise<Outcome<{ id: string }>>;
}

/** What is said wherever the program is away; the same words everywhere, so that they are known again. */
export const stopped = "Evenfall has stopped: start it again";
const away = `${stopped}. What you do is kept here meanwhile.`;

/** How long an answer may take, in ms, before the request is given up and tried again. */
const patience = 15_000;

type Sending = { headers?: Record<string, string>; body?: BodyInit; wait?: number };

export async function ask<T>(method: string, url: string, s: Sending = {}): Promise<Outcome<T>> {
  try {
    const answer = await fetch(url, {
      method,
      headers: { Accept: "application/json", ...s.headers },
      body: s.body,
      cache: "no-store",
      signal: AbortSignal.timeout(s.wait ?? patience),
    });
    const said = await json(answer);
    if (answer.ok) return { ok: true, value: said as T };
    return failure(answer.status, said);
  } catch {
    return noAnswer();
  }
}

/** That no answer came at all. */
export const noAnswer = (): Failure => ({ ok: false, status: 0, error: away, problems: [] });

async function json(answer: Response): Promise<unknown> {
  if (answer.status === 204) return {};
  try {
    return await answer.json();
  } catch (err) {
    if (answer.ok) throw err; // half an answer is no answer
    return {};
  }
}

/** An answer that is not what was asked for. */
export function failure(status: number, said: unknown): Failure {
  const s = (said ?? {}) as { error?: string; problems?: Problem[]; rev?: number };
  const error = s.error ?? `Evenfall answered with status ${status} and no explanation. Try again.`;
  return { ok: false, status, error, problems: s.problems ?? [], rev: s.rev };
}

/** The headers of a request with a body in JSON, and of one that is for a revision only. */
export const asJSON = { "Content-Type": "application/json" };
export const onRev = (rev: number): Record<string, string> => ({ ...asJSON, "If-Match": `"${rev}"` });

const json_ = (v: unknown): string => JSON.stringify(v);
/** The address of a plan's data. */
export const planURL = (id: string): string => `/api/plans/${encodeURIComponent(id)}`;

/** The server this page came from. */
export const server = {
  load: (id: string) => ask<Stored>("GET", planURL(id)),

  commit: (id: string, rev: number, patch: Patch, label: string) =>
    ask<Committed>("PATCH", planURL(id), {
      headers: {
        "Content-Type": "application/merge-patch+json",
        "If-Match": `"${rev}"`,
        "Evenfall-Label": encodeURIComponent(label),
      },
      body: json_(patch),
    }),

  undo: (id: string, rev: number) => ask<Stepped>("POST", `${planURL(id)}/undo`, stepping(rev)),
  redo: (id: string, rev: number) => ask<Stepped>("POST", `${planURL(id)}/redo`, stepping(rev)),
  history: (id: string) => ask<{ steps: HistoryStep[] }>("GET", `${planURL(id)}/history`),

  create: (name: string, show: System, doc?: Plan) =>
    ask<{ id: string }>("POST", "/api/plans", {
      headers: asJSON,
      body: json_({ name, show, doc }),
    }),

  /** The demo plan as it comes: one in the list, or a new one. */
  demo: () => ask<{ id: string }>("POST", "/api/demo", { headers: asJSON, body: "{}" }),

  remove: (id: string, rev: number) => ask<object>("DELETE", planURL(id), { headers: onRev(rev) }),

  /** Keeps a picture to lay under a plan; what it is called there is its checksum. */
  putPicture: (id: string, file: Blob) =>
    ask<{ sha256: string }>("POST", `${planURL(id)}/picture`, {
      headers: { "Content-Type": file.type || "application/octet-stream" },
      body: file,
      wait: 60_000,
    }),

  board: (id: string) => ask<unknown>("GET", `${planURL(id)}/board`),
  /** The water at a place; as: under other circumstances than the drawing's, once they are worked out. */
  rate: (id: string, x: number, y: number, as = "") =>
    ask<{ text: string }>(
      "GET",
      `${planURL(id)}/rate?x=${x.toFixed(3)}&y=${y.toFixed(3)}${as === "" ? "" : `&as=${as}`}`,
    ),
  catalog: () => ask<Catalog>("GET", "/api/catalog"),

  /** Reads a table of the user's own. */
  previewTable: <T>(of: "nozzles" | "pipes" | "devices", csv: Blob) =>
    ask<TablePreview<T>>("POST", `/api/catalog/preview?of=${of}`, {
      headers: { "Content-Type": "text/csv" },
      body: csv,
    }),

  /** Reads outlines onto the plane of a plan whose origin lies at a place on the earth, or onto one of their own. */
  readOutlines: (file: Blob, show: System = "us", at?: Placed) =>
    ask<Shapes>("POST", `/api/import/geojson?${asked({ show, ...at })}`, {
      headers: { "Content-Type": "application/geo+json" },
      body: file,
    }),
};

/** Where a picture is to be had. */
export const pictureURL = (sha256: string): string => `/api/pictures/${encodeURIComponent(sha256)}`;

/** Whether a picture is on this machine; "unknown" when no answer came. */
export async function pictureThere(sha256: string): Promise<"yes" | "no" | "unknown"> {
  try {
    const answer = await fetch(pictureURL(sha256), { method: "HEAD", signal: AbortSignal.timeout(patience) });
    if (answer.ok) return "yes";
    return answer.status === 404 || answer.status === 410 ? "no" : "unknown";
  } catch {
    return "unknown";
  }
}

const asked = (q: Record<string, string | number>): string =>
  new URLSearchParams(Object.entries(q).map(([k, v]) => [k, String(v)])).toString();

const stepping = (rev: number): Sending => ({ headers: onRev(rev), body: "{}" });
