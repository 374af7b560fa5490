// A whole job by thumb, from nothing to a fan and a run that give enough air; the file out and in again.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { DESK, PHONE, answer, begin, choose, desk, fill, go, load, saved, settled, watch, write } from "./desk.mjs";

const here = desk();

test("from nothing to enough air, on a phone", async () => {
  const faults = [];
  const context = await here.context({ ...PHONE, acceptDownloads: true });
  const page = watch(await context.newPage(), faults);
  await begin(page, here.server.address);

  // An answer with its range stands there at once, and what to look at next.
  await settled(page);
  assert.match(await answer(page, "Enough air?").innerText(), /chance \d+ %/);
  assert.ok((await page.getByRole("region", { name: "Look next" }).getByRole("listitem").count()) > 0);

  await go(page, "Run");
  await choose(page, "duct", "smooth metal");
  await write(page, "size", "6 in");
  await write(page, "length", "10 ft");
  await choose(page, "place", "heated");
  await choose(page, "kind", "wall cap");
  await settled(page);
  await answer(page, "Enough air?").locator("text=/yes/").waitFor();
  assert.equal(await answer(page, "Enough air?").getAttribute("data-verdict"), "holds");

  // The working behind the answer, with its source.
  await answer(page, "Enough air?").click();
  const behind = page.getByRole("dialog", { name: /Enough air/ });
  await behind.getByText("Working and source").waitFor();
  await behind.getByText("airflow.delivered/bath").waitFor({ state: "attached" });
  assert.match(await behind.innerText(), /International Residential Code 2021/);
  await behind.getByRole("button", { name: "Close" }).click();
  await behind.waitFor({ state: "detached" });

  // Taken back to the first step, and taken again to the last.
  const file = async () => {
    await go(page, "File");
    return page.getByLabel("The job file, as it is written").inputValue();
  };
  const last = await file();
  const back = page.getByRole("button", { name: "Take back" });
  while (await back.isEnabled()) {
    await back.click();
    await saved(page);
  }
  assert.doesNotMatch(await file(), /smooth metal/);
  const again = page.getByRole("button", { name: "Take again" });
  while (await again.isEnabled()) {
    await again.click();
    await saved(page);
  }
  assert.equal(await file(), last);

  // Out as a file and in again: the same text.
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Take the job out as a file" }).click(),
  ]);
  const path = await download.path();
  assert.equal(readFileSync(path, "utf8"), last);
  await page.goto(here.server.address);
  await page.getByLabel("Open files").setInputFiles(path);
  await page.getByRole("heading", { name: "Survey" }).waitFor();
  assert.equal(await file(), last);
  assert.deepEqual(faults, []);
  await context.close();
});

test("from nothing to a placed fan and a legal, dry run with enough air, on a phone", async () => {
  const faults = [];
  const context = await here.context(PHONE);
  const page = watch(await context.newPage(), faults);
  await begin(page, here.server.address, { name: "Bath under a bedroom", length: "8 ft", width: "5 ft", height: "8 ft" });
  await fill(page, "room.bath", {
    at: '["0 ft", "0 ft"]',
    floor_level: "0 ft",
    measured: "finished",
    drywall: "1/2 in",
    wish: "centre",
    "door.gap": "3/4 in",
    "fixtures.showers": "1",
  });
  await fill(page, "site", { climate: "mixed humid" });
  await go(page, "Fan");
  await fill(page, "fan.fan", {
    rated: '["80 cfm at 0.1 inWC", "64 cfm at 0.25 inWC"]',
    outlet: "4 in",
    housing: "9-1/4 in x 9-1/2 in x 5-5/8 in",
    outlet_side: "end",
    outlet_height: "2-13/16 in",
    collar: "1-1/2 in",
    damper: "yes",
  });
  await go(page, "Run");
  await fill(page, "run.run", { duct: "smooth metal", size: "4 in", sealed: "yes" });
  await fill(page, "terminal.cap", { size: "4 in", flap: "yes", screen: "none" });
  await go(page, "Place and way out");
  await page.getByRole("button", { name: "Add framing" }).click();
  await fill(page, "framing.framing-1", {
    kind: "sawn joist",
    size: "2x10",
    spacing: "16 in",
    direction: "y",
    first: "16 in",
    at: '["0 ft", "0 ft"]',
    extent: '["12 ft", "12 ft"]',
    bottom: "8 ft 0-1/2 in",
    bearings: '["0 ft", "12 ft"]',
    above: "heated",
  });
  await page.getByRole("button", { name: "Add way out" }).click();
  await fill(page, "way_out.way_out-1", {
    kind: "rim",
    facing: "+y",
    at: '["0 ft", "12 ft 2-1/2 in", "8 ft 2 in"]',
    size: '["12 ft", "0 ft", "6 in"]',
    terminal: "cap",
    separation: "none",
  });
  await page.getByRole("button", { name: "Take place 1" }).click();
  await saved(page);
  await settled(page);
  await page.getByRole("button", { name: "Take way 1" }).first().click();
  await saved(page);
  await settled(page);
  for (const asked of ["Enough air?", "Mirror clear?", "Stays dry?"]) {
    assert.equal(await answer(page, asked).getAttribute("data-verdict"), "holds", asked);
  }
  await go(page, "All points");
  const verdict = (id) => page.locator(`[id^='point-${id}/']`).first().getAttribute("data-verdict");
  assert.equal(await verdict("place.housing"), "holds");
  assert.equal(await verdict("route.out"), "holds");
  assert.equal(await verdict("duct.condensate.net"), "holds");
  assert.equal(await page.locator("[data-verdict=fails]").count(), 0, "nothing is broken");
  assert.deepEqual(faults, []);
  await context.close();
});

test("what is typed wrong stays, is named, and the answer before it stays", async () => {
  const context = await here.context(PHONE);
  const page = await context.newPage();
  await begin(page, here.server.address);
  await settled(page);
  await write(page, "length", "80 cfm");
  await page.getByText("is an airflow, but a length is expected").first().waitFor();
  await page.getByText("Answers from before the line that is marked.").waitFor();
  await page.reload();
  assert.equal(await page.locator("main").getByLabel("length", { exact: true }).first().inputValue(), "80 cfm");
  await write(page, "length", "9 ft");
  await settled(page);
  await context.close();
});

test("a length by the fraction pad", async () => {
  const context = await here.context(PHONE);
  const page = await context.newPage();
  await begin(page, here.server.address);
  await page.getByRole("button", { name: "Fraction pad for length" }).first().click();
  const pad = page.getByRole("dialog");
  await pad.getByRole("button", { name: "0 ft" }).click();
  await pad.getByRole("button", { name: "7", exact: true }).click();
  await pad.getByRole("button", { name: "0 in" }).click();
  await pad.getByRole("button", { name: "3", exact: true }).click();
  await pad.getByRole("button", { name: "5/16", exact: true }).click();
  const keys = await pad.getByRole("button").evaluateAll((all) => all.map((b) => b.getBoundingClientRect()).map((r) => Math.min(r.width, r.height)));
  assert.ok(Math.min(...keys) >= 48, `a key is only ${Math.min(...keys)} px`);
  await pad.getByRole("button", { name: "Use it" }).click();
  await saved(page);
  assert.equal(await page.locator("main").getByLabel("length", { exact: true }).first().inputValue(), "7 ft 3-5/16 in");
  await context.close();
});

test("a fan of the library is shown with what it changes, then taken", async () => {
  const context = await here.context(DESK);
  const page = await context.newPage();
  await load(page, here.server.address);
  await settled(page);
  await go(page, "Fan");
  const first = page.getByRole("region", { name: "Fans of the library" }).getByRole("article").first();
  await first.getByText("What the job would say").click();
  assert.match(await first.innerText(), /model = /);
  await first.getByRole("button", { name: /^Take / }).click();
  await saved(page);
  await settled(page);
  await go(page, "File");
  const text = await page.getByLabel("The job file, as it is written").inputValue();
  assert.match(text, /# A hall bath under an attic/, "comments are kept");
  assert.notEqual(text, readFileSync("../jobs/hall-bath.toml", "utf8"));
  await context.close();
});
