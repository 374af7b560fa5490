// What is loaded when: the first part of the engine and the texts before a job can be begun, the rest behind the first answer; and
// the language that was chosen.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, begin, desk, go, saved, settled, watch } from "./desk.mjs";

/** Bytes before a job can be begun, compressed: the limit of tools/compress.mjs. */
const LIMIT = 910_000;

const here = desk();

test("before a job can be begun no more is loaded than is allowed, and the rest of the engine comes behind the first answer", async () => {
  const faults = [];
  const context = await here.context({ ...PHONE, serviceWorkers: "block" });
  const page = watch(await context.newPage(), faults);
  const coming = [];
  page.on("requestfinished", (request) => {
    coming.push(request.sizes().then(({ responseBodySize }) => ({ url: request.url(), size: responseBodySize })));
  });
  const isRest = ({ url }) => /rest-[^/]*\.wasm$/.test(url);
  await page.goto(here.server.address);
  await page.getByRole("button", { name: "New job" }).click();
  await page.waitForFunction(() => document.querySelectorAll("select option[value^=us-]").length > 0);
  await page.waitForLoadState("networkidle");
  const loaded = await Promise.all(coming);
  const sum = loaded.reduce((all, { size }) => all + size, 0);
  assert.ok(sum > 300_000 && sum < LIMIT, `${sum} bytes: ${JSON.stringify(loaded)}`);
  assert.ok(!loaded.some(isRest), "the rest before it is needed");
  await begin(page, here.server.address);
  await settled(page);
  await page.waitForFunction(() => performance.getEntriesByType("resource").some(({ name }) => /rest-[^/]*\.wasm$/.test(name)));
  assert.deepEqual(faults, []);
  await context.close();
});

test("an answer that turns out to need the rest of the engine waits for it", async () => {
  const faults = [];
  const context = await here.context({ ...PHONE, serviceWorkers: "block" });
  const page = watch(await context.newPage(), faults);
  await begin(page, here.server.address);
  await settled(page);
  await go(page, "File");
  const file = page.getByLabel("The job file, as it is written");
  const before = await file.inputValue();
  await file.fill(before.replace('kind = "bathroom"', 'kind = "bathrom"\nlenght = "9 ft'));
  await file.press("Tab");
  await page.getByRole("alert").first().waitFor();
  await file.fill(before);
  await file.press("Tab");
  await saved(page);
  await settled(page);
  assert.deepEqual(faults, []);
  await context.close();
});

test("in Spanish: page and answers, English where a text is missing, and never a key", async () => {
  const faults = [];
  const context = await here.context(PHONE);
  const page = watch(await context.newPage(), faults);
  await page.addInitScript(() => {
    window.keys = new Set();
    const look = () => {
      for (const key of document.body?.innerText.match(/\b(page|heading|month|head|year)\.[a-z-]+/g) ?? []) window.keys.add(key);
    };
    new MutationObserver(look).observe(document, { childList: true, subtree: true, characterData: true });
  });
  await page.goto(here.server.address);
  assert.equal(await page.locator("html").getAttribute("lang"), "en");
  await page.getByLabel("Language").selectOption({ label: "español" });
  await page.getByRole("button", { name: "Trabajo nuevo" }).waitFor();
  assert.equal(await page.locator("html").getAttribute("lang"), "es");
  await page.getByLabel("Abrir archivos").setInputFiles(["../jobs/library/demo.toml", "../jobs/hall-bath.toml"]);
  await page.getByRole("heading", { name: "Toma de datos" }).waitFor();
  await page.getByText("Con intervalos.").waitFor();
  await page.getByRole("navigation").getByRole("link", { name: "Todos los puntos", exact: true }).click();
  const points = page.getByRole("region", { name: "Points" });
  const text = await points.innerText();
  assert.match(text, /recibe \d+ cfm \(\d+ a \d+\); se exigen 50 cfm/);
  assert.deepEqual(await page.evaluate(() => [...window.keys]), []);
  // The device keeps it.
  await page.reload();
  await page.getByRole("heading", { name: "Todos los puntos" }).waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});
