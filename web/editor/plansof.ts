// What the list of plans asks of the server.

import { asJSON, ask, type Outcome, onRev, planURL } from "./api";
import type { System } from "./model";

export const plansOf = {
  /** Makes a plan of a typical yard; without a name it gets the yard's. */
  begin: (name: string, show: System, start: string): Promise<Outcome<{ id: string }>> =>
    ask("POST", "/api/plans", { headers: asJSON, body: JSON.stringify({ name, show, start }) }),

  copy: (id: string, name: string): Promise<Outcome<{ id: string }>> =>
    ask("POST", `${planURL(id)}/copy`, { headers: asJSON, body: JSON.stringify({ name }) }),

  putAway: (id: string, rev: number, away: boolean): Promise<Outcome<object>> =>
    ask("POST", `${planURL(id)}/${away ? "archive" : "unarchive"}`, {
      headers: onRev(rev),
      body: "{}",
    }),

  /** When the newest backup that holds a plan was made, "" when none does, and whether it is as now. */
  heldBy: (id: string): Promise<Outcome<{ at: string; as_now: boolean }>> =>
    ask("GET", `${planURL(id)}/backup`, { wait: 5_000 }),

  /** Makes a new plan of a file that was handed over; notes say what of it was left out. */
  handedOver: (file: Blob): Promise<Outcome<{ id: string; name: string; notes: string[] }>> =>
    ask("POST", "/api/import/handover", {
      headers: { "Content-Type": "application/zip" },
      body: file,
      wait: 10 * 60_000, // as long as the server takes it
    }),

  /** Makes a new plan of what is whole of a damaged one. */
  recover: (id: string): Promise<Outcome<{ id: string }>> =>
    ask("POST", `${planURL(id)}/recover`, { headers: asJSON, body: "{}" }),
};
