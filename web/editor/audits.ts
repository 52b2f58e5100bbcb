// The catch-can tests of a plan and the cans of each. On the board a can is a thing
// like any other, "cans/q1.c7": its audit, a dot, and itself; neither id can hold one.

import type { Plan, Ref } from "./model";
import type { Audit, CatchCan, Proof } from "./proof";

type Cans = Readonly<Record<string, CatchCan>>;

/** The audit of older documents, which could hold one only and gave it no id. */
export const OLD = "";

/** All audits; that of older documents among them, where it has any cans. */
export function auditsOf(p: Plan): Readonly<Record<string, Audit>> {
  const proof = p.proof;
  if (!proof?.cans || Object.keys(proof.cans).length === 0) return proof?.audits ?? {};
  return { [OLD]: { cans: proof.cans, throat_in2: proof.throat_in2 }, ...proof.audits };
}

/** One audit, if the plan still has it. */
export function auditOf(p: Plan, id: string | null): Audit | undefined {
  if (id === null) return undefined;
  const all = auditsOf(p);
  return Object.hasOwn(all, id) ? all[id] : undefined;
}

/** The ids of all audits, the newest last: by their day, then by id. */
export function auditIDs(p: Plan): string[] {
  const all = auditsOf(p);
  const key = (id: string): string => `${all[id]?.on ?? ""} ${id}`;
  return Object.keys(all).sort((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
}

/** The plan with an audit put in, or replaced. */
export function withAudit(p: Plan, id: string, audit: Audit): Plan {
  const proof: Proof =
    id === OLD
      ? { ...p.proof, cans: audit.cans, throat_in2: audit.throat_in2 }
      : { ...p.proof, audits: { ...p.proof?.audits, [id]: audit } };
  return { ...p, proof };
}

export function withoutAudit(p: Plan, id: string): Plan {
  if (id === OLD) {
    const { cans: _c, minutes: _m, throat_in2: _t, ...rest } = p.proof ?? {};
    return { ...p, proof: rest };
  }
  const { [id]: _gone, ...audits } = p.proof?.audits ?? {};
  return { ...p, proof: { ...p.proof, audits } };
}

// Cans as things

export const canRef = (audit: string, can: string): Ref => `cans/${audit}.${can}`;

/** A can's audit and its id there, from its id among all cans. */
export function partsOfCan(id: string): [audit: string, can: string] {
  const dot = id.indexOf(".");
  return [id.slice(0, dot), id.slice(dot + 1)];
}

const kept = new WeakMap<Proof, Cans>();

/** The cans of all audits by their ids as things. Kept as long as the proof stays. */
export function cansOf(p: Plan): Cans {
  if (!p.proof) return {};
  const known = kept.get(p.proof);
  if (known) return known;
  const all: Record<string, CatchCan> = {};
  for (const [id, a] of Object.entries(auditsOf(p)))
    for (const [can, it] of Object.entries(a.cans ?? {})) all[`${id}.${can}`] = it;
  kept.set(p.proof, all);
  return all;
}

export function withCan(p: Plan, id: string, can: CatchCan): Plan {
  const [of, key] = partsOfCan(id);
  const audit = auditOf(p, of);
  return audit ? withAudit(p, of, { ...audit, cans: { ...audit.cans, [key]: can } }) : p;
}

export function withoutCan(p: Plan, id: string): Plan {
  const [of, key] = partsOfCan(id);
  const audit = auditOf(p, of);
  if (!audit) return p;
  const { [key]: _gone, ...cans } = audit.cans ?? {};
  return withAudit(p, of, { ...audit, cans });
}

/** The refs of the cans that a patch touches. */
export function touchedCans(patch: Readonly<Record<string, unknown>>): string[] {
  const member = (o: unknown, key: string): Record<string, unknown> => {
    const v = typeof o === "object" && o !== null ? (o as Record<string, unknown>)[key] : undefined;
    return typeof v === "object" && v !== null ? (v as Record<string, unknown>) : {};
  };
  const proof = member(patch, "proof");
  const old = Object.keys(member(proof, "cans")).map((can) => canRef(OLD, can));
  const audits = Object.entries(member(proof, "audits"));
  return [...old, ...audits.flatMap(([a, it]) => Object.keys(member(it, "cans")).map((c) => canRef(a, c)))];
}

// The order they are walked in

const numbered = (id: string): string => id.replace(/\d+/g, (digits) => digits.padStart(6, "0"));

/** The ids of an audit's cans in the order they are walked: by their numbers, as they are set out. */
export const canOrder = (a: Audit | undefined): string[] =>
  Object.keys(a?.cans ?? {}).sort((x, y) => (numbered(x) < numbered(y) ? -1 : 1));

/** A can's number in that order, from 1. */
export const canNumber = (p: Plan, id: string): number => {
  const [of, key] = partsOfCan(id);
  return canOrder(auditOf(p, of)).indexOf(key) + 1;
};

/** An id for the next can: above all there are. */
export function nextCan(a: Audit | undefined): string {
  const most = Object.keys(a?.cans ?? {}).reduce((m, id) => Math.max(m, Number(/\d+/.exec(id)?.[0] ?? 0)), 0);
  return `c${most + 1}`;
}

/** Whether a can has been read. */
export const isRead = (a: Audit | undefined, c: CatchCan): boolean =>
  (a?.scale === "depth" ? c.depth_in : c.catch_ml) !== undefined;

/** How an audit stands in a list: its name and day, and its number among those of the same. */
export function auditName(p: Plan, id: string): string {
  const name = calledSo(p, id);
  const before = auditIDs(p)
    .filter((other) => calledSo(p, other) === name)
    .indexOf(id);
  return before > 0 ? `${name} (${before + 1})` : name;
}

/** What an audit is called, others of the same ground and day perhaps too: its name, else its ground, with its day. */
export function calledSo(p: Plan, id: string): string {
  const a = auditOf(p, id);
  if (a?.name) return a.on ? `${a.name}, ${a.on}` : a.name;
  const of = a?.area ? p.areas?.[a.area]?.name : undefined;
  const words = [of ?? "Audit", a?.on].filter((w): w is string => Boolean(w));
  return words.join(", ");
}
