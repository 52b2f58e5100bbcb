// What catalogue rows are called. A plan carries the names in US units; in a metric
// plan built-in rows read by the names that come with the catalogue (Go:
// catalog.MetricNames), and what a user named keeps its name.

import type { System } from "./model";

let metric: Readonly<Record<string, string>> = {};

/** Takes the metric names that come with the catalogue. */
export function learnRowNames(names: Readonly<Record<string, string>> | undefined): void {
  metric = names ?? {};
}

/** The name of a nozzle or body as it reads in a plan's system of units. */
export const rowName = (row: { readonly name: string }, show: System | undefined): string =>
  show === "metric" ? (metric[row.name] ?? row.name) : row.name;
