// What the list of plans asks of the server.

import { ask, type Outcome } from "./api";
import type { System } from "./model";

const json = { "Content-Type": "application/json" };
const at = (id: string): string => `/api/plans/${encodeURIComponent(id)}`;

export const plansOf = {
  /** Makes a plan of a typical yard; without a name it gets the yard's. */
  begin: (name: string, show: System, start: string): Promise<Outcome<{ id: string }>> =>
    ask("POST", "/api/plans", { headers: json, body: JSON.stringify({ name, show, start }) }),

  copy: (id: string, name: string): Promise<Outcome<{ id: string }>> =>
    ask("POST", `${at(id)}/copy`, { headers: json, body: JSON.stringify({ name }) }),

  putAway: (id: string, rev: number, away: boolean): Promise<Outcome<object>> =>
    ask("POST", `${at(id)}/${away ? "archive" : "unarchive"}`, {
      headers: { ...json, "If-Match": `"${rev}"` },
      body: "{}",
    }),

  /** Makes a new plan of what is whole of a damaged one. */
  recover: (id: string): Promise<Outcome<{ id: string }>> =>
    ask("POST", `${at(id)}/recover`, { headers: json, body: "{}" }),
};
