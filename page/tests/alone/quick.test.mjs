// How quick it is on a slow phone: the processor held back four times. Each time is held against a yardstick of the machine.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, arrive, desk, load, settled } from "../desk.mjs";
import { SLOWER, held, holds } from "../yardstick.mjs";

const here = desk();

async function slow(context) {
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  return page;
}

test("ready for a thumb within two seconds of the first visit", () =>
  holds("ready for a thumb", 2000, here.browser, async (lay) => {
    const context = await here.context(PHONE);
    const page = await slow(context);
    await lay();
    const start = performance.now();
    await page.goto(here.server.address, { waitUntil: "commit" });
    await page.getByRole("button", { name: "New job" }).click();
    await page.getByLabel("What is it called?").fill("x");
    const took = performance.now() - start;
    await lay();
    await context.close();
    return [took];
  }));

test("an answer follows what is typed, and ranges and ways outdoors follow within half a second of rest", async () => {
  const context = await here.context(PHONE);
  const page = await slow(context);
  await load(page, here.server.address);
  await settled(page);
  const field = page.locator("#f-room-hall-bath-length");
  // The aim is 500 ms (docs/performance.md); half as much again is left to chance.
  await holds("ranges on the page after a change", 750, here.browser, async (lay) => {
    const [likely, ranges] = [[], []];
    for (let inches = 1; inches <= 7; inches++) {
      const there = page.evaluate(
        () =>
          new Promise((done) => {
            const look = (marks) => marks.getEntriesByName("ranges").length > 0 && done();
            new PerformanceObserver(look).observe({ type: "mark" });
          }),
      );
      await field.fill(`9 ft ${inches} in`);
      await field.press("Tab");
      await there;
      const at = await page.evaluate(() => Object.fromEntries(performance.getEntriesByType("mark").map((mark) => [mark.name, mark.startTime])));
      likely.push(Math.round(at.likely - at.changed));
      ranges.push(Math.round(at.ranges - at.changed));
      await lay();
    }
    console.log(`likely values on the page after ${likely.join(", ")} ms`);
    return ranges;
  });
  await context.close();
});

test("place, way outdoors and the three likely answers follow the finger at a quarter of the speed", async () => {
  const context = await here.context(PHONE);
  const page = await slow(context);
  await load(page, here.server.address);
  await settled(page);
  await arrive(page, "Place and way out");
  const grip = page.getByRole("button", { name: /^Housing of / }).first();
  await grip.scrollIntoViewIfNeeded();
  const box = await grip.boundingBox();
  const touch = await context.newCDPSession(page);
  let [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const at = (type, points) => touch.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  /** Moves the finger, and waits until the page shows what follows it. */
  const move = async ([right, down]) => {
    const there = page.evaluate(
      () =>
        new Promise((done) => {
          const steps = globalThis.dragSteps;
          steps.push = (step) => done(step) ?? Array.prototype.push.call(steps, step);
        }),
    );
    [x, y] = [x + right, y + down];
    await at("touchMove", [{ x, y }]);
    return there;
  };
  await at("touchStart", [{ x, y }]);
  // Far enough to be no mere touch; then there and back again.
  await move([-24, 24]);
  const INCH = 3;
  const ways = [[0, 1], [1, 0], [0, 1], [1, 0], [0, -1], [-1, 0], [0, -1], [-1, 0]];
  // The aim is 50 ms (docs/performance.md); half as much again is left to chance.
  await holds("a step of a drag", 100, here.browser, async (lay) => {
    const steps = [];
    for (const [right, down] of [...ways, ...ways]) {
      steps.push(await move([INCH * right, INCH * down]));
      assert.match(await page.locator(".off").first().innerText(), /Way to .*: .*, elbows \d+, [\d.]+ (cfm|L\/s)/);
      const answers = await page.getByRole("region", { name: "Answers" }).innerText();
      assert.equal(answers.match(/under your hand\n/g)?.length, 3, answers);
      await lay();
    }
    console.log(`the engine's part at full speed: ${steps.map(({ engine }) => engine.toFixed(1)).join(", ")} ms`);
    return steps.map(held);
  });
  await context.close();
});
