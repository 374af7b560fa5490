// How quick it is on a slow phone: the processor held back four times.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, desk, settled } from "./desk.mjs";

const SLOWER = 4;

const here = desk();

async function slow(context) {
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
  return page;
}

test("ready for a thumb within two seconds of the first visit", async () => {
  const context = await here.context(PHONE);
  const page = await slow(context);
  const start = performance.now();
  await page.goto(here.server.address, { waitUntil: "commit" });
  await page.getByRole("button", { name: "New job" }).click();
  await page.getByLabel("What is it called?").fill("x");
  const took = performance.now() - start;
  console.log(`ready after ${Math.round(took)} ms at a quarter of the speed`);
  assert.ok(took < 2000, `${took} ms`);
  await context.close();
});

test("an answer follows what is typed, and ranges and ways outdoors follow within half a second of rest", async () => {
  const context = await here.context(PHONE);
  const page = await slow(context);
  await page.goto(here.server.address);
  await page.getByLabel("Open files").setInputFiles(["../jobs/library/demo.toml", "../jobs/hall-bath.toml"]);
  await settled(page);
  const field = page.locator("#f-room-hall-bath-length");
  const [likely, ranges] = [[], []];
  for (let inches = 1; inches <= 7; inches++) {
    await page.evaluate(() => performance.clearMarks());
    await field.fill(`9 ft ${inches} in`);
    await field.press("Tab");
    await page.waitForFunction(() => performance.getEntriesByName("ranges").length > 0);
    const at = await page.evaluate(() => Object.fromEntries(performance.getEntriesByType("mark").map((mark) => [mark.name, mark.startTime])));
    likely.push(Math.round(at.likely - at.changed));
    ranges.push(Math.round(at.ranges - at.changed));
  }
  const middle = (all) => all.toSorted((a, b) => a - b)[3];
  console.log(`hall bath at a quarter of the speed: likely values after ${likely.join(", ")} ms, ranges after ${ranges.join(", ")} ms`);
  // The aim is 500 ms on a machine with nothing beside it (docs/performance.md); what else runs may take as much again.
  assert.ok(middle(ranges) <= 1000, `${ranges} ms`);
  await context.close();
});
