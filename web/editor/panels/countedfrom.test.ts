import assert from "node:assert/strict";
import { test } from "node:test";
import type { PartsLine } from "../design";
import type { Plan } from "../model";
import { countedFrom } from "./parts";

test("row A20: a part's heads stand in the order of their tags, whatever their ids, each once", () => {
  const head = (tag: string) => ({ x_ft: 0, y_ft: 0, nozzle: "n", body: "b", tag });
  const p: Plan = {
    format: "evenfall-plan/1",
    name: "t",
    show: "us",
    heads: { a: head("2-10"), b: head("2-9"), c: head("1-1") },
  };
  const from = ["heads/a", "heads/a", "heads/b", "heads/c"];
  assert.deepEqual(countedFrom(p, { from } as unknown as PartsLine), ["head 1-1", "head 2-9", "head 2-10"]);
});

test("what is counted from the supply stands at its point of connection, and nowhere while there is none", () => {
  const p: Plan = { format: "evenfall-plan/1", name: "t", show: "us" };
  const line = { from: ["supply"] } as unknown as PartsLine;
  assert.deepEqual(countedFrom(p, line), []);
  const connected: Plan = { ...p, supply: { connection: { x_ft: 1, y_ft: 2 } } };
  assert.deepEqual(countedFrom(connected, line), ["the point of connection"]);
});
