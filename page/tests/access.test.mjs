// Every screen against the rules for access, in each light, by keyboard, and as pictures to look at.
import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { test } from "node:test";
import { DESK, NARROW, PHONE, TABLET, arrive, desk, go, load, settled, violations } from "./desk.mjs";

const PARTS = [
  "Survey",
  "Photos and notes",
  "Required air",
  "Fan",
  "Controls",
  "Run",
  "Place and way out",
  "Holes and outlet",
  "Moisture",
  "Year",
  "House",
  "All points",
  "File",
];

mkdirSync("shots", { recursive: true });
const here = desk();

async function look(page, name, rules) {
  const told = await violations(page, rules);
  await page.screenshot({ path: `shots/${name}.png`, fullPage: true, scale: "css" });
  return told.map((fault) => `${name}: ${fault}`);
}

// The style sheets change at 500, 600 and 700 px of width and 700 of height: a narrow phone shows what a phone does and a tablet what a
// desk does, laid out anew.
const SIZES = [["narrow", NARROW, { layout: true }], ["phone", PHONE], ["tablet", TABLET, { layout: true }], ["desk", DESK]];

for (const [name, options, rules] of SIZES) {
  test(`every screen at ${name} size`, async () => {
    const context = await here.context(options);
    const page = await context.newPage();
    await page.goto(here.server.address);
    await page.getByRole("button", { name: "New job" }).waitFor();
    const faults = await look(page, `${name}-jobs`, rules);
    await page.getByLabel("Open files").setInputFiles(["../jobs/library/demo.toml", "../jobs/hall-bath.toml"]);
    await page.getByRole("heading", { name: "Survey" }).waitFor();
    await settled(page);
    for (const part of PARTS) {
      await arrive(page, part);
      if (part === "Year") {
        await page.getByRole("button", { name: "Follow the year" }).click();
        await page.locator("[data-drawing]").first().waitFor();
      }
      faults.push(...(await look(page, `${name}-${part.toLowerCase().replaceAll(" ", "-")}`, rules)));
      const wide = await page.evaluate((width) => document.documentElement.scrollWidth - width, options.viewport.width);
      if (wide > 0) faults.push(`${part} is ${wide} px wider than the ${name}`);
    }
    assert.deepEqual(faults, []);
    await context.close();
  });
}

for (const light of ["dark", "sun"]) {
  test(`points, fields and drawings in ${light} light`, async () => {
    const context = await here.context(PHONE);
    const page = await context.newPage();
    await load(page, here.server.address);
    await settled(page);
    await page.getByLabel("Light").selectOption(light);
    const faults = await look(page, `phone-${light}-survey`);
    await arrive(page, "Place and way out");
    faults.push(...(await look(page, `phone-${light}-place-and-way-out`)));
    await arrive(page, "All points");
    faults.push(...(await look(page, `phone-${light}-points`)));
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test("printed", async () => {
  const context = await here.context(DESK);
  const page = await context.newPage();
  await load(page, here.server.address);
  await settled(page);
  await arrive(page, "Place and way out");
  await page.emulateMedia({ media: "print" });
  await page.screenshot({ path: "shots/print-place-and-way-out.png", fullPage: true });
  await page.emulateMedia({ media: "screen" });
  await arrive(page, "All points");
  await page.emulateMedia({ media: "print" });
  await page.screenshot({ path: "shots/print-points.png", fullPage: true });
  assert.equal(await page.getByRole("navigation").isVisible(), false);
  await context.close();
});

test("a part begins at its beginning, and nothing that is led to lies beneath what stays in sight", async () => {
  const context = await here.context({ ...DESK, reducedMotion: "reduce" });
  const page = await context.newPage();
  await load(page, here.server.address);
  await settled(page);
  await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
  await arrive(page, "Run");
  assert.equal(await page.evaluate(() => scrollY), 0);
  // Backwards from the end, as the keyboard leads upwards.
  const beneath = await page.evaluate(() => {
    scrollTo(0, document.body.scrollHeight);
    const all = [...document.querySelectorAll("main :is(input, select, button, summary)")].filter((one) => one.checkVisibility() && !one.disabled);
    const bottom = () => document.querySelector(".top").getBoundingClientRect().bottom;
    const found = [];
    for (const one of all.reverse()) {
      one.focus();
      if (one.getBoundingClientRect().top < bottom() - 1) found.push(one.outerHTML.slice(0, 120));
    }
    return { found, tried: all.length };
  });
  assert.ok(beneath.tried > 20);
  assert.deepEqual(beneath.found, []);
  await context.close();
});

test("by keyboard alone", async () => {
  const context = await here.context(DESK);
  const page = await context.newPage();
  await page.goto(here.server.address);
  const to = async (role, name) => {
    for (let i = 0; i < 80; i++) {
      const here = page.locator(":focus");
      if ((await here.count()) && (await page.getByRole(role, { name }).and(here).count())) return;
      await page.keyboard.press("Tab");
    }
    assert.fail(`${role} ${name} is not reached by Tab`);
  };
  await to("button", "New job");
  await page.keyboard.press("Enter");
  await to("textbox", "What is it called?");
  await page.keyboard.type("By keys");
  await to("textbox", "Room length");
  await page.keyboard.type("9 ft");
  await to("button", "Begin");
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { name: "Survey" }).waitFor();
  await settled(page);
  await to("link", "Run");
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { name: "Run", exact: true }).waitFor();
  await context.close();
});
