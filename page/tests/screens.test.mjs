// The parts of a job that tell figures: required air, controls, run, moisture, year, house, holes.
import assert from "node:assert/strict";
import { test } from "node:test";
import { DESK, NARROW, PHONE, arrive, begin, choose, desk, go, load, saved, settled, violations, watch, write } from "./desk.mjs";

const here = desk();

async function opened(context, job, faults = []) {
  const page = watch(await context.newPage(), faults);
  await load(page, here.server.address, job);
  await settled(page);
  return page;
}

/** The row of a figure, by its name. */
const fact = (page, region, name) => page.getByRole("region", { name: region, exact: true }).locator("dl > div").filter({ hasText: name });

/** Opens what is behind a figure by keyboard, reads it, and closes it again. */
async function behind(page, row) {
  const button = row.getByRole("button");
  await button.focus();
  await page.keyboard.press("Enter");
  const dialog = page.getByRole("dialog");
  await dialog.getByText("Working and source").waitFor();
  assert.deepEqual(await violations(page), []);
  const text = await dialog.innerText();
  await page.keyboard.press("Escape");
  await dialog.waitFor({ state: "detached" });
  assert.ok(await button.evaluate((b) => b === document.activeElement), "the focus is back on the figure");
  return text;
}

test("required air: each rate with its book and method, what leaves the room, and how it was worked out", async () => {
  const faults = [];
  const context = await here.context(PHONE);
  const page = await opened(context, "hall-bath", faults);
  await go(page, "Required air");
  const room = page.getByRole("region", { name: "Hall bath" });
  assert.match(await room.innerText(), /50 cfm, printed rate \(governs\)[\s\S]*International Residential Code 2021, Table M1505\.4\.4/);
  await room.getByText("International Residential Code 2021").first().click();
  await room.getByText("q = printed rate").first().waitFor();
  assert.match(await behind(page, fact(page, "Hall bath", "air that leaves the room")), /airflow|cfm/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("controls: a humidity control month by month", async () => {
  const context = await here.context(NARROW);
  const page = await opened(context, "basement-shower");
  await go(page, "Controls");
  const table = page.getByRole("table", { name: "Can the set-point be reached between showers?" });
  // The table is there before the answer that fills it.
  await table.locator("tbody tr").nth(11).waitFor();
  const rows = await table.locator("tbody tr").allInnerTexts();
  assert.equal(rows.length, 12);
  assert.match(rows[0], /Jan\s+\d+ % RH\s+✓ yes/);
  assert.match(rows[6], /Jul\s+\d+ % RH\s+✕ no/);
  assert.match(await fact(page, "shower-room", "set-point that would do all year").innerText(), /\d+ % RH/);
  assert.match(await behind(page, fact(page, "shower-room", "set-point that would do all year")), /6 of 12 months/);
  // A set-point that the fan can reach all year is reached all year.
  await write(page, "on at", "80 %");
  await settled(page);
  assert.equal(await table.locator("tbody tr", { hasText: "✓ yes" }).count(), 12);
  // A timer follows no humidity.
  await write(page, "on at", "");
  await choose(page, "control", "timer");
  await page.getByText("It does not follow the humidity").waitFor();
  await context.close();
});

test("the year: asked for, stopped, followed, and old after a change", async () => {
  const faults = [];
  const context = await here.context({ ...PHONE, serviceWorkers: "block" });
  const page = await opened(context, "hall-bath", faults);
  await go(page, "Year");
  assert.equal(await page.getByRole("table").count(), 0);
  // Its engine is held back, so that there is time to stop it.
  let release;
  const held = new Promise((resolve) => (release = resolve));
  await page.route("**/*.wasm", async (route) => {
    await held;
    await route.continue().catch(() => undefined);
  });
  await page.getByRole("button", { name: "Follow the year" }).click();
  await page.getByRole("progressbar").waitFor();
  await page.getByText(/hour by hour: [1-9]\d* s/).waitFor();
  await page.getByRole("button", { name: "Stop", exact: true }).click();
  await page.getByText("Stopped: nothing was kept of it.").waitFor();
  assert.equal(await page.getByRole("table").count(), 0);
  release();
  await page.unroute("**/*.wasm");

  // The bar follows the months. Each change is seen, however long a picture of the screen takes.
  await page.evaluate(() => {
    window.bars = [];
    const look = () => {
      const bar = document.querySelector("progress");
      if (bar && bar.value !== window.bars.at(-1)) window.bars.push(bar.value);
    };
    new MutationObserver(look).observe(document.body, { subtree: true, childList: true, attributeFilter: ["value"] });
  });
  await page.getByRole("button", { name: "Follow the year" }).click();
  const table = page.getByRole("table", { name: "Hall bath" });
  await table.first().waitFor();
  assert.equal(await table.first().locator("tbody tr").count(), 13);
  const bars = await page.evaluate(() => window.bars);
  assert.equal(bars[0], 0);
  assert.ok(bars.length >= 4 && bars.every((share, i) => i === 0 || share > bars[i - 1]), `the bar stood at ${bars}`);
  await page.locator("[data-drawing=year-hall-bath]").waitFor();
  await page.locator("[data-drawing^=water-]").waitFor();
  assert.match(await page.getByRole("region", { name: "Where the weather comes from" }).innerText(), /mixed humid.*mean \d+ °F/);
  assert.match(await fact(page, "Hall bath", "highest mould index").innerText(), /\d\.\d.*\(\d\.\d to \d\.\d\)/);
  assert.match(await behind(page, fact(page, "Hall bath", "above 80 % RH")), /hours|80 % RH/);
  const ducts = page.getByRole("table", { name: "Water left in the ducts" });
  assert.equal(await ducts.locator("tbody tr").count(), 13);
  await page.getByRole("region", { name: "Points of the year" }).getByRole("article").first().waitFor();

  await choose(page, "climate", "cool coastal");
  await page.getByText("This is the year of the job before its last change.").waitFor();
  await page.getByRole("button", { name: "Follow it again" }).click();
  await page.getByText(/climate like .cool coastal./).waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

test("the year without weather says what is missing and offers the field", async () => {
  const context = await here.context(PHONE);
  const page = await context.newPage();
  await begin(page, here.server.address);
  await settled(page);
  await go(page, "Year");
  await page.getByRole("button", { name: "Follow the year" }).click();
  await page.getByText("the weather is missing").waitFor();
  assert.equal(await page.getByRole("table").count(), 0);
  await choose(page, "climate", "hot humid");
  await page.getByRole("button", { name: "Follow it again" }).click();
  await page.getByRole("table").first().waitFor();
  assert.equal(await page.getByText("the weather is missing").count(), 0);
  await context.close();
});

test("the house: each appliance against its limit, the cut under the door, ventilation; in both systems", async () => {
  const context = await here.context(DESK);
  const page = await opened(context, "hall-bath");
  await go(page, "House");
  const name = "Pressure with every exhaust on";
  assert.match(await fact(page, name, "change by the exhausts").innerText(), /-?0\.00\d in\. w\.c\./);
  assert.match(await fact(page, name, "limit").innerText(), /table of house depressurisation limits[\s\S]*0\.008 in\. w\.c\./);
  assert.match(await behind(page, fact(page, name, "change by the exhausts")), /indoors minus outdoors with the exhausts on/);
  assert.match(await fact(page, "Way in for the air", "saw off the leaf").innerText(), /0 in \(0 to 1\/4\)/);
  assert.match(await behind(page, fact(page, "Way in for the air", "saw off the leaf")), /gap/);
  assert.match(await fact(page, "Ventilation of the whole dwelling", "rate asked for").innerText(), /45 cfm/);
  await page.getByText(/Combustion air: an exhaust can pull flue gas/).waitFor();
  // The same house for a reader of metric figures.
  await go(page, "File");
  const file = page.getByLabel("The job file, as it is written");
  await file.fill((await file.inputValue()).replace('show = "us"', 'show = "metric"'));
  await file.press("Tab");
  await saved(page);
  await settled(page);
  await go(page, "House");
  assert.match(await fact(page, "Way in for the air", "saw off the leaf").innerText(), /\b0 mm/);
  assert.match(await fact(page, name, "limit").innerText(), /2\.0 Pa/);
  await context.close();
});

test("a door of which nothing is known is asked for where its cut would stand", async () => {
  const context = await here.context(PHONE);
  const page = await context.newPage();
  await begin(page, here.server.address);
  await settled(page);
  await go(page, "House");
  assert.match(await fact(page, "Way in for the air", "saw off the leaf").innerText(), /not known: measure the gap/);
  await page.getByText("Nothing can be said of the pressure of the house").waitFor();
  await write(page, "gap", "1/2 in");
  await settled(page);
  assert.match(await fact(page, "Way in for the air", "saw off the leaf").innerText(), /in/);
  assert.doesNotMatch(await fact(page, "Way in for the air", "saw off the leaf").innerText(), /not known/);
  await context.close();
});

test("the run piece by piece, its shower, holes and outlet", async () => {
  const context = await here.context(PHONE);
  const page = await opened(context, "hall-bath");
  await go(page, "Run");
  const losses = page.getByRole("table", { name: "attic-run: Pressure lost, piece by piece" });
  assert.match(await losses.innerText(), /over-joists duct[\s\S]*in\. w\.c\.[\s\S]*sum/);
  await go(page, "Moisture");
  assert.match(await fact(page, "Hall bath: Through the design shower", "mirror clear after").innerText(), /min/);
  await go(page, "Holes and outlet");
  await page.getByRole("region", { name: "Hole to the outdoors at east-gable" }).getByRole("listitem").first().waitFor();
  assert.match(await page.getByRole("region", { name: "Distances at the outlet" }).innerText(), /east-gable to bedroom-window[\s\S]*at least/);
  await page.locator("[data-drawing^=outside-]").first().waitFor();
  // Where no way is known, what crossing a member would need.
  const other = await opened(context, "basement-shower");
  await go(other, "Holes and outlet");
  await other.getByRole("region", { name: "Holes through members" }).getByText("floor-joists").first().waitFor();
  await context.close();
});

test("every point of a job is shown in one part beside the list of all", async () => {
  const context = await here.context(DESK);
  for (const job of ["hall-bath", "basement-shower", "swap-hidden-duct", "call-back"]) {
    const page = await opened(context, job);
    const here = () => page.locator("[id^='point-']").evaluateAll((all) => all.map((point) => point.id));
    await go(page, "All points");
    const all = await here();
    const links = await page.getByRole("navigation").getByRole("link").allInnerTexts();
    const told = [];
    for (const part of links.filter((name) => name !== "All points")) {
      await go(page, part);
      await page.getByRole("heading", { name: part, exact: true, level: 2 }).waitFor();
      told.push(...(await here()));
    }
    assert.deepEqual(told.toSorted(), all.toSorted(), job);
    await page.close();
  }
  await context.close();
});

test("nothing to touch is smaller than a finger, and nothing wider than a small phone", async () => {
  const context = await here.context(NARROW);
  const page = await opened(context, "basement-shower");
  await go(page, "Year");
  await page.getByRole("button", { name: "Follow the year" }).click();
  await page.getByRole("table").first().waitFor();
  const faults = [];
  const links = await page.getByRole("navigation").getByRole("link").allInnerTexts();
  for (const part of links) {
    await arrive(page, part);
    const small = await page.locator("button, summary, select, input:not([type=file]):not([type=checkbox]), a").evaluateAll((all) =>
      all
        .filter((it) => it.checkVisibility())
        .map((it) => [it.getBoundingClientRect(), it.innerText || it.getAttribute("aria-label") || it.id])
        .filter(([box]) => box.height < 47.5 || box.width < 47.5)
        .map(([box, name]) => `${name} ${Math.round(box.width)} x ${Math.round(box.height)}`),
    );
    const wide = await page.evaluate((width) => document.documentElement.scrollWidth - width, NARROW.viewport.width);
    faults.push(...small.map((it) => `${part}: ${it}`), ...(wide > 0 ? [`${part} is ${wide} px too wide`] : []));
  }
  assert.deepEqual(faults, []);
  await context.close();
});

test("gone on in spite of a point, with a reason that stands beside it, and taken back", async () => {
  const faults = [];
  const context = await here.context(PHONE);
  const page = await opened(context, "hall-bath", faults);
  await go(page, "All points");
  const point = page.locator("[id='point-duct.length.table/attic-run']");
  await point.getByText("Go on in spite").click();
  await point.getByLabel(/Your reason/).fill('maker\'s sheet allows "20 ft", copy on file');
  // It is kept while it is typed, like all that is typed, and the hand stays in the field.
  await point.getByText("Gone on in spite of it").waitFor();
  assert.ok(await point.getByLabel(/Your reason/).evaluate((field) => field === document.activeElement));
  await point.getByLabel(/Your reason/).press("End");
  await page.keyboard.type(" since May");
  await page.keyboard.press("Tab");
  await saved(page);
  await point.getByText('Gone on in spite of it: maker\'s sheet allows "20 ft", copy on file since May').waitFor();
  await settled(page);
  await point.getByText("Gone on in spite of it").waitFor();
  await go(page, "File");
  assert.equal((await page.getByLabel("The job file, as it is written").inputValue()).match(/\[\[override\]\]/g)?.length, 1);
  await go(page, "All points");
  await point.getByText("Go on in spite").click();
  await point.getByRole("button", { name: /Take the reason back/ }).click();
  await saved(page);
  await point.getByText("Gone on in spite of it").waitFor({ state: "detached" });
  assert.equal(await page.getByRole("alert").count(), 0);
  assert.deepEqual(faults, []);
  await context.close();
});
