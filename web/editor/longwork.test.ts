import assert from "node:assert/strict";
import test from "node:test";
import type { Outcome } from "./api";
import { askLong, LongWork, type Told } from "./longwork";

/** A server's answer in the given pieces, which need not end where lines do. */
function answering(pieces: string[], status = 200, hold?: Promise<void>): typeof fetch {
  return async (_url, init) => {
    const body = new ReadableStream<Uint8Array>({
      async start(c) {
        for (const p of pieces) c.enqueue(new TextEncoder().encode(p));
        if (hold) {
          init?.signal?.addEventListener("abort", () => c.error(new DOMException("off", "AbortError")));
          await hold;
        }
        if (!init?.signal?.aborted) c.close();
      },
    });
    return new Response(body, { status });
  };
}

const never = new AbortController().signal;

test("row A25: lines of a long work are read however they are cut up", async () => {
  const told: Told[] = [];
  const pieces = [
    '{"step":"Setting ou',
    't","share":0.25}\n{"step":"Blowing","sh',
    'are":0.5}\n\n{"value":{"n',
    '":7}}\n',
  ];
  const got = await askLong<{ n: number }>("/x", never, (t) => told.push(t), answering(pieces));
  assert.deepEqual(got, { ok: true, value: { n: 7 } });
  assert.deepEqual(told, [
    { step: "Setting out", share: 0.25 },
    { step: "Blowing", share: 0.5 },
  ]);
});

test("row A25: a long work that fails, or breaks off, says so and gives no half answer", async () => {
  const failed = answering(['{"step":"a","share":0.1}\n{"error":"This took too long.","status":503}\n']);
  const one = await askLong("/x", never, () => {}, failed);
  assert.ok(one && !one.ok);
  assert.equal(one.status, 503);
  assert.equal(one.error, "This took too long.");
  for (const pieces of [['{"step":"a","share":0.1}\n'], ['{"value":{"n"'], ['{"value":{"n":']]) {
    const cut = await askLong("/x", never, () => {}, answering(pieces));
    assert.ok(cut && !cut.ok);
    assert.equal(cut.status, 0);
  }
  const stale = await askLong("/x", never, () => {}, answering(['{"error":"It is newer.","rev":9}'], 412));
  assert.ok(stale && !stale.ok);
  assert.deepEqual([stale.status, stale.rev, stale.error], [412, 9, "It is newer."]);
});

test("row A25: calling a long work off ends the request and answers nothing", async () => {
  const off = new AbortController();
  let told = 0;
  const asked = askLong(
    "/x",
    off.signal,
    () => {
      told++;
      off.abort();
    },
    answering(['{"step":"a","share":0.1}\n{"step":"b","share":0.2}\n'], 200, new Promise(() => {})),
  );
  assert.equal(await asked, null);
  assert.equal(told, 1);
});

/** Long works whose clock is turned by hand. */
function clockwork(): { work: LongWork; after(ms: number): void; seen: string[] } {
  const timers: { fn: () => void; ms: number }[] = [];
  const work = new LongWork((fn, ms) => timers.push({ fn, ms }));
  const seen: string[] = [];
  work.subscribe(() => seen.push(work.works.map((w) => `${w.title} ${w.shows} ${w.told.share}`).join("; ")));
  return {
    work,
    seen,
    after: (ms) => {
      for (const t of timers.splice(0))
        if (t.ms <= ms) t.fn();
        else timers.push(t);
    },
  };
}

test("row A25: nothing shows of a short work, a cue after 200 ms, a bar with its share after 1 s", async () => {
  const { work, after } = clockwork();
  let tell: (t: Told) => void = () => {};
  let finish: (v: Outcome<number>) => void = () => {};
  const done = work.run<number>("Sums", (_off, t) => {
    tell = t;
    return new Promise((r) => (finish = r));
  });
  const [w] = work.works;
  assert.equal(w?.shows, "quiet");
  tell({ step: "one", share: 0.1 });
  after(200);
  assert.equal(w?.shows, "cue");
  after(1000);
  assert.equal(w?.shows, "bar");
  tell({ step: "two", share: 0.6 });
  assert.deepEqual(w?.told, { step: "two", share: 0.6 });
  finish({ ok: true, value: 3 });
  assert.deepEqual(await done, { ok: true, value: 3 });
  assert.deepEqual(work.works, []);
});

test("row A25: a work called off answers nothing, even if its answer comes all the same", async () => {
  const { work, after, seen } = clockwork();
  let finish: (v: Outcome<number>) => void = () => {};
  const done = work.run<number>("Sums", () => new Promise((r) => (finish = r)));
  assert.equal(work.stop(), true);
  assert.equal(work.stop(), false);
  finish({ ok: true, value: 3 });
  assert.equal(await done, null);
  after(1000); // its timers find it gone
  assert.equal(seen.at(-1), "");
});

test("row A25: the newest of several works is called off first; a caller may call off its own", async () => {
  const { work } = clockwork();
  const waits = () => new Promise<Outcome<number>>(() => {});
  const own = new AbortController();
  const first = work.run("First", waits, own.signal);
  void work.run("Second", waits);
  void first;
  work.stop();
  assert.deepEqual(
    work.works.map((w) => w.title),
    ["First"],
  );
  own.abort();
  assert.deepEqual(work.works, []);
});

test("what a search has so far is told with how far it is, whole each time", async () => {
  const told: Told[] = [];
  const pieces = ['{"best":{"n":1}}\n{"step":"a","share":0.5}\n', '{"best":{"n":2}}\n{"value":{"n":3}}\n'];
  const got = await askLong<{ n: number }>("/x", never, (t) => told.push(t), answering(pieces));
  assert.deepEqual(got, { ok: true, value: { n: 3 } });
  assert.deepEqual(told, [
    { step: "", share: 0, best: { n: 1 } },
    { step: "a", share: 0.5 },
    { step: "a", share: 0.5, best: { n: 2 } },
  ]);
});
