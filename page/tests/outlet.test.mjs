// The terminal on the ceiling plan under a finger, a mouse and keys: along its wall, to where its distances are kept.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { DESK, PHONE, desk, go, holdClock, saved, settled, watch } from "./desk.mjs";

const here = desk();

async function ceiling(context, faults = []) {
  const page = watch(await context.newPage(), faults);
  await page.clock.install();
  await page.goto(here.server.address);
  // The bedroom window stands as high as the gable, so that it is too near to the end of the gable's field.
  const low = 'at = ["18 ft", "4 ft", "2 ft 8 in"]';
  const job = readFileSync("../jobs/hall-bath.toml", "utf8");
  assert.ok(job.includes(low), "the window of the job is where it was");
  const changed = Buffer.from(job.replace(low, 'at = ["18 ft", "4 ft", "5 ft"]'));
  const text = (name, buffer) => ({ name, mimeType: "application/toml", buffer });
  const library = text("demo.toml", readFileSync("../jobs/library/demo.toml"));
  await page.getByLabel("Open files").setInputFiles([library, text("hall-bath.toml", changed)]);
  await page.getByRole("heading", { name: "Survey" }).waitFor();
  await settled(page);
  await go(page, "Place and way out");
  await grip(page).waitFor();
  return page;
}

const grip = (page) => page.getByRole("button", { name: /^Terminal of east-gable/ });
const said = (page) => page.locator("[data-way=east-gable]");

/** Where the job says the terminal is, mm; undefined before it says so. */
async function written(page) {
  await go(page, "File");
  const text = await page.getByLabel("The job file, as it is written").inputValue();
  await go(page, "Place and way out");
  await grip(page).waitFor();
  const spot = /^terminal_at = \["(-?[\d.]+) mm", "(-?[\d.]+) mm"\]/m.exec(text);
  return spot ? [Number(spot[1]), Number(spot[2])] : undefined;
}

/** The distance of the terminal to the bedroom window, as the list tells it. */
async function toWindow(page) {
  await go(page, "Holes and outlet");
  const line = page.getByRole("region", { name: "Distances at the outlet" }).getByRole("listitem").filter({ hasText: "bedroom-window" });
  const text = await line.innerText();
  await go(page, "Place and way out");
  return text;
}

test("by keys: too near to a window it says why, and settles where the distance is kept", async () => {
  const faults = [];
  const context = await here.context(DESK);
  const page = await ceiling(context, faults);
  assert.equal(await written(page), undefined);
  await holdClock(page);
  await grip(page).focus();
  // Escape leaves everything as it was.
  await page.keyboard.press("Shift+ArrowDown");
  await said(page).getByText("would lie here").waitFor();
  await page.keyboard.press("Escape");
  await said(page).getByText("would lie here").waitFor({ state: "detached" });
  await page.clock.resume();
  assert.equal(await written(page), undefined);
  // Towards the window, up to the end of the gable's field.
  await holdClock(page);
  await grip(page).focus();
  for (let i = 0; i < 80; i++) await page.keyboard.press("Shift+ArrowUp");
  await said(page).getByText(/bedroom-window/i).waitFor();
  assert.match(await said(page).innerText(), /International Residential Code 2021/);
  await page.keyboard.press("Enter");
  await saved(page);
  await page.clock.resume();
  const spot = await written(page);
  assert.ok(spot, "the spot is written");
  // On the plane of the gable, 18 ft to the east, and in its field.
  assert.ok(Math.abs(spot[0] - 18 * 304.8) < 0.2 && Math.abs(spot[1]) <= 3 * 304.8 + 0.2, `${spot}`);
  assert.ok(spot[1] < 3 * 304.8 - 10, `it stays away from the window: ${spot}`);
  await settled(page);
  assert.match(await toWindow(page), /holds/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("dragged by touch along the gable, and pushed by a button", async () => {
  const context = await here.context(PHONE);
  const page = await ceiling(context);
  await grip(page).scrollIntoViewIfNeeded();
  const box = await grip(page).boundingBox();
  assert.ok(box.width >= 48 && box.height >= 48);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const touch = await context.newCDPSession(page);
  const at = (type, points) => touch.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  await at("touchStart", [{ x, y }]);
  // Aside as well: it stays on its wall.
  for (let step = 1; step <= 10; step++) await at("touchMove", [{ x: x - 3 * step, y: y + 3 * step }]);
  await said(page).getByText("would lie here").waitFor();
  await at("touchEnd", []);
  await saved(page);
  const spot = await written(page);
  assert.ok(spot && Math.abs(spot[0] - 18 * 304.8) < 0.2, `${spot}`);
  await settled(page);
  // Along its wall alone: there is no button to the left.
  assert.equal(await page.getByRole("button", { name: "terminal by 1 in left" }).count(), 0);
  await page.getByRole("button", { name: "terminal by 1 in up" }).click();
  await saved(page);
  const pushed = await written(page);
  assert.ok(Math.abs(pushed[1] - spot[1] - 25.4) < 0.2, `${spot} became ${pushed}`);
  // One step back, and it is where it was.
  await page.getByRole("button", { name: "Take back" }).click();
  await saved(page);
  assert.deepEqual(await written(page), spot);
  await context.close();
});

test("dragged by mouse", async () => {
  const context = await here.context(DESK);
  const page = await ceiling(context);
  await grip(page).scrollIntoViewIfNeeded();
  const box = await grip(page).boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 + 40, { steps: 8 });
  await said(page).getByText("would lie here").waitFor();
  await page.mouse.up();
  await saved(page);
  assert.ok(await written(page));
  await context.close();
});
