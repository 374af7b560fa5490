// How fast the machine is at work of the page's kind, so that a test can hold what the page takes and not what the machine takes.
import assert from "node:assert/strict";
import { PHONE } from "./desk.mjs";

/** The page is held back so many times: a phone. */
export const SLOWER = 4;

/**
 * How long a step of the yardstick takes on the machine on which the limits of the page were set (docs/performance.md, "Reference
 * machine"), ms. It was not at hand on 2026-11-30: on two virtual cores of an AMD EPYC of family 25, both busy, the ranges took 9.4
 * to 10.6 steps of the yardstick and a step of a drag 1.0 to 1.8, which there take 422 and 48 ms.
 */
const REFERENCE_MS = 42;
/** Turns before a time has failed its limit: what else runs only ever adds time. */
const TURNS = 3;
/** Steps of the yardstick each time it is laid. */
const LAID = 4;

/** Work of the engine's kind: floats, logarithms, small vectors made and let go. */
const engineWork = () => {
  let sum = 0;
  for (let draw = 0; draw < 2048; draw++) {
    const pieces = Array.from({ length: 24 }, (_, i) => ({ length: 1 + i, friction: 0.02 }));
    for (let turn = 0; turn < 4; turn++) {
      for (const piece of pieces) piece.friction = 0.25 / Math.log(1e-4 / 3.7 + 5.74 / (1e4 + draw) ** 0.9 + piece.friction * 1e-6) ** 2;
    }
    sum += pieces.map(({ length, friction }) => length * friction).reduce((all, one) => all + one);
  }
  return sum;
};

/** Work of the page's kind: an answer read, rows made of it, laid out. */
const pageWork = () => {
  const answer = JSON.stringify(Array.from({ length: 40 }, (_, i) => ({ id: `point-${i}`, text: `duct ${i * 0.3048} m`, values: [i, i / 3] })));
  const table = document.createElement("table");
  for (const { id, text, values } of JSON.parse(answer)) {
    const row = table.insertRow();
    row.id = id;
    row.insertCell().textContent = text;
    for (const value of values) row.insertCell().textContent = value.toFixed(2);
  }
  document.body.replaceChildren(table);
  return table.offsetHeight;
};

/** The middle one of several times. */
export const middle = (times) => times.toSorted((a, b) => a - b)[times.length >> 1];

/** A step as a phone would take it, ms: the browser holds back the page alone, so the worker's part is counted as often as it would be longer. */
export const held = ({ all, engine }) => all + (SLOWER - 1) * engine;

/**
 * Steps like those of a drag: each asks a worker, which computes at full speed, and shows what it answers on a page that is held
 * back. `take` says how long each of some steps would take a phone, ms.
 */
async function yardstick(browser) {
  const context = await browser.newContext(PHONE);
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  await page.evaluate(
    ([engineWork, pageWork]) => {
      const show = new Function(`return (${pageWork})()`);
      const code = `onmessage = () => { const start = performance.now(); (${engineWork})(); postMessage(performance.now() - start); };`;
      const worker = new Worker(URL.createObjectURL(new Blob([code])));
      globalThis.step = async () => {
        const begun = performance.now();
        const engine = await new Promise((done) => {
          worker.onmessage = ({ data }) => done(data);
          worker.postMessage(0);
        });
        show();
        return { all: performance.now() - begun, engine };
      };
    },
    [String(engineWork), String(pageWork)],
  );
  const take = (count) =>
    page.evaluate(async (count) => {
      const taken = [];
      for (let i = 0; i < count; i++) taken.push(await globalThis.step());
      return taken;
    }, count);
  // The first ones are compiled still.
  await take(20);
  return { take: async (count) => (await take(count)).map(held), close: () => context.close() };
}

/**
 * Holds a time to its limit, ms on the reference machine. `measure` returns how long something took here, ms, several times over, and
 * calls what it is given in between, so that the yardstick is laid beside it: what else runs makes both longer. The middle time is
 * held against the middle step of the yardstick, and of some turns the best counts.
 */
export async function holds(what, limit, browser, measure) {
  const { take, close } = await yardstick(browser);
  const turns = [];
  do {
    const steps = [];
    const lay = async () => steps.push(...(await take(LAID)));
    await lay();
    const took = middle(await measure(lay));
    await lay();
    turns.push((took * REFERENCE_MS) / middle(steps));
    const told = [took, middle(steps), turns.at(-1)].map((time) => time.toFixed(0));
    console.log(`${what}: ${told[0]} ms here, where a step of the yardstick takes ${told[1]}: ${told[2]} of ${limit} ms`);
  } while (turns.at(-1) > limit && turns.length < TURNS);
  await close();
  assert.ok(turns.at(-1) <= limit, `${what}: ${turns.map((turn) => turn.toFixed(0)).join(", ")} of ${limit} ms`);
}
