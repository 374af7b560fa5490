// The ceiling under a finger: drawn to scale, dragged, pushed by keys, settled where the housing hangs; places and ways taken.
import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { test } from "node:test";
import { DESK, PHONE, desk, go, holdClock, load, saved, settled, violations, watch } from "./desk.mjs";

const INCH = 0.0254;

mkdirSync("shots", { recursive: true });
const here = desk();

async function ceiling(context, job = "hall-bath", faults = []) {
  const page = watch(await context.newPage(), faults);
  await page.clock.install();
  await load(page, here.server.address, job);
  await go(page, "Place and way out");
  await grip(page).waitFor();
  return page;
}

const grip = (page) => page.getByRole("button", { name: /^Housing of / }).first();
const off = (page) => page.locator(".off").first();

const text = async (page) => {
  await go(page, "File");
  const written = await page.getByLabel("The job file, as it is written").inputValue();
  await go(page, "Place and way out");
  await grip(page).waitFor();
  return written;
};

/** A length as the job writes it, metres: `1203.3 mm`, or feet, inches and a fraction as in `4 ft 2-3/8 in`. */
function metres(length) {
  const metric = /^(-?[\d.]+) mm$/.exec(length);
  if (metric) return Number(metric[1]) / 1000;
  const us = /^(-?)(?:(\d+) ft)? ?(?:(?:(\d+)-?)?(?:(\d+)\/(\d+))? in)?$/.exec(length);
  assert.ok(us, `${length} is a length`);
  const [feet, inches, over, under] = us.slice(2).map((part) => Number(part ?? 0));
  return (us[1] ? -1 : 1) * (12 * feet + inches + (under ? over / under : 0)) * INCH;
}

/** Where the job says the housing is, metres; null before it says so. */
async function written(page) {
  const [, fan = ""] = (await text(page)).split(/^\[+fan\]+.*$/m);
  const [section] = fan.split(/^\[/m);
  const spot = /^at = \["([^"]+)", "([^"]+)"\]/m.exec(section);
  return spot && [metres(spot[1]), metres(spot[2])];
}

test("the drawing is that of `dewpath draw`, and says in words what it shows", async () => {
  const context = await here.context(PHONE);
  const page = await ceiling(context);
  const drawing = page.locator("[data-drawing^=plan-]").first();
  const image = drawing.getByRole("img").first();
  await image.waitFor();
  const [title, describes] = await image.evaluate((svg) => [svg.querySelector("title").textContent, svg.querySelector("desc").textContent]);
  assert.match(title, /Hall bath/);
  assert.ok(describes.length > 20, describes);
  assert.match(await drawing.innerText(), new RegExp(describes.slice(0, 20)));
  await context.close();
});

test("dragged by touch, it settles where it hangs", async () => {
  const faults = [];
  const context = await here.context(PHONE);
  const page = await ceiling(context, "basement-shower", faults);
  await settled(page);
  assert.equal(await written(page), null);
  await grip(page).scrollIntoViewIfNeeded();
  const box = await grip(page).boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const touch = await context.newCDPSession(page);
  const at = (type, points) => touch.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  await at("touchStart", [{ x, y }]);
  for (let step = 1; step <= 12; step++) await at("touchMove", [{ x: x - 5 * step, y: y + 4 * step }]);
  await off(page).getByText(/ off \(/).waitFor();
  assert.match(await off(page).innerText(), /floor-joists.*: .* off \(.* along x, .* along y\)/);
  await page.screenshot({ path: "shots/phone-drag.png" });
  await at("touchEnd", []);
  await saved(page);
  await off(page).getByText("hangs in").waitFor();
  const spot = await written(page);
  assert.ok(spot, "the place is written");
  await settled(page);
  await go(page, "All points");
  await page.locator("[id^='point-place.housing']").first().waitFor();
  assert.equal(await page.locator("[id^='point-place.housing']").first().getAttribute("data-verdict"), "holds");
  assert.deepEqual(faults, []);
  await context.close();
});

test("moved by arrow keys: a sixteenth of an inch at a time along the bay", async () => {
  const context = await here.context(DESK);
  const page = await ceiling(context);
  await settled(page);
  await page.getByRole("button", { name: "Take place 1" }).click();
  await saved(page);
  const before = await written(page);
  await settled(page);
  await off(page).getByText("hangs in").waitFor();
  await holdClock(page);
  await grip(page).focus();
  for (let i = 0; i < 8; i++) await page.keyboard.press("ArrowDown");
  await off(page).getByText(/ off \(/).waitFor();
  await page.keyboard.press("Enter");
  await saved(page);
  await page.clock.resume();
  await off(page).getByText("hangs in").waitFor();
  const moved = await written(page);
  assert.ok(Math.abs(before[1] - moved[1] - INCH / 2) < 2e-4, `${before} became ${moved}`);
  assert.equal(before[0], moved[0]);
  // Escape leaves everything as it was.
  await holdClock(page);
  await grip(page).focus();
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Escape");
  await page.clock.resume();
  assert.deepEqual(await written(page), moved);
  // Without dragging and without keys: big push buttons. It is saved once the hand has rested.
  await page.getByRole("button", { name: "down by 1 in" }).click();
  await saved(page);
  const pushed = await written(page);
  assert.ok(Math.abs(moved[1] - pushed[1] - INCH) < 2e-4, `${moved} became ${pushed}`);
  await context.close();
});

test("a way outdoors is shown with its working and with what it changes, then taken", async () => {
  const context = await here.context(PHONE);
  const page = await ceiling(context);
  await settled(page);
  const way = page.getByRole("region", { name: "Ways outdoors" }).getByRole("article").first();
  await way.getByText("Loss and work added up").click();
  await way.getByText("dp = dp_straight + dp_elbows + dp_terminal").waitFor();
  await way.getByText("What it changes").click();
  const changes = way.getByRole("table", { name: "What it changes" });
  assert.match(await changes.innerText(), /Enough air\?[\s\S]*Mirror clear\?[\s\S]*Stays dry\?/);
  assert.deepEqual(await violations(page), []);
  await way.screenshot({ path: "shots/phone-way.png" });
  const before = await text(page);
  // The air that it would give, with the working that it would have.
  const air = await way.getByRole("button", { name: /: air,/ }).innerText();
  await way.getByRole("button", { name: /: air,/ }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByText("Working and source").waitFor();
  await dialog.getByText("airflow.delivered").waitFor({ state: "attached" });
  const then = await dialog.locator(".judged").innerText();
  await dialog.getByRole("button", { name: "Close" }).click();
  // The working is that of the likely values, the way tells the middle of its draws.
  const apart = Number(/gets (\d+)/.exec(then)?.[1]) - Number(/^\s*(\d+)/.exec(air)?.[1]);
  assert.ok(Math.abs(apart) <= 1, `${air} and ${then}`);
  assert.equal(await text(page), before, "nothing is written before it is taken");
  await way.getByText("What the job would say").click();
  assert.match(await way.innerText(), /loss at the required flow/);
  assert.match(await way.innerText(), /run\./);
  await way.getByRole("button", { name: /^Take way/ }).click();
  await saved(page);
  await settled(page);
  assert.equal(await page.getByRole("alert").count(), 0);
  await context.close();
});
