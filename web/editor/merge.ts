// Merge patches (RFC 7396): the difference between two documents, and a document
// with such a difference made to it; and the same of words from the server.

/** A deep copy, safe to change. */
export const clone = <T>(v: T): T => structuredClone(v);

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
export type Patch = { [key: string]: Json };

const isObject = (v: unknown): v is Record<string, unknown> =>
  typeof v === "object" && v !== null && !Array.isArray(v);

/** Whether two JSON values say the same; member order and undefined members do not matter. */
export function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b) || a === b) return true;
  if (Array.isArray(a) || Array.isArray(b)) {
    return Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((v, i) => same(v, b[i]));
  }
  if (!isObject(a) || !isObject(b)) return false;
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  for (const k of keys) if (!same(own(a, k), own(b, k))) return false;
  return true;
}

const own = (o: Record<string, unknown>, k: string): unknown => (Object.hasOwn(o, k) ? o[k] : undefined);

/**
 * The merge patch that turns one document into another. Equal parts are left
 * out, members gone become null, arrays are replaced whole.
 */
export function diff(from: object, to: object): Patch {
  const patch: Patch = {};
  const a = from as Record<string, unknown>;
  const b = to as Record<string, unknown>;
  for (const k of Object.keys(a)) {
    if (a[k] !== undefined && own(b, k) === undefined) set(patch, k, null);
  }
  for (const k of Object.keys(b)) {
    const old = own(a, k);
    const now = b[k];
    if (now === undefined || old === now || same(old, now)) continue;
    set(patch, k, isObject(old) && isObject(now) ? diff(old, now) : (clone(now) as Json));
  }
  return patch;
}

/** The document a merge patch makes of another (RFC 7396, section 2). The given document is unchanged. */
export function apply<T>(doc: T, patch: Json | Patch): T {
  if (!isObject(patch)) return patch as T;
  const out: Record<string, unknown> = isObject(doc) ? { ...doc } : {};
  for (const k of Object.keys(patch)) {
    const v = patch[k] as Json;
    if (v === null) delete out[k];
    else set(out, k, apply(own(out, k), v));
  }
  return out as T;
}

/**
 * Words of the server with what changed of them (wordsSince in Go): a merge patch,
 * but that a list may be patched by an object of the entries that changed, by
 * their place. What did not change stays the very same object.
 */
export function reworded<T>(words: T, change: Json): T {
  if (Array.isArray(words) && isObject(change))
    return words.map((w, i) => (Object.hasOwn(change, i) ? reworded(w, change[i] as Json) : w)) as T;
  if (!isObject(words) || !isObject(change)) return change as T;
  const out: Record<string, unknown> = { ...words };
  for (const [k, v] of Object.entries(change)) {
    if (v === null) delete out[k];
    else set(out, k, reworded(own(out, k), v));
  }
  return out as T;
}

// A member named __proto__ must become a member, not the object's prototype.
function set(o: Record<string, unknown>, k: string, v: unknown): void {
  Object.defineProperty(o, k, { value: v, enumerable: true, writable: true, configurable: true });
}

export const isEmpty = (patch: Patch): boolean => Object.keys(patch).length === 0;
