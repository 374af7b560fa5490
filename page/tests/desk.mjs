// What every test of the page needs: a server on a free port, a browser, a few movements of a hand.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { after, before } from "node:test";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { chromium } from "playwright-core";

/** The program that serves; another one can be named in the environment. */
const PROGRAM = process.env.DEWPATH_PROGRAM ?? "../target/release/dewpath";
export const CHROMIUM = "/usr/bin/chromium";
/** How long anything is waited for, ms: what never comes fails the test, what a slow or busy machine brings late does not. */
const PATIENCE_MS = 180_000;
/** The rules for access that every screen keeps. */
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
/** Those of them whose outcome follows from how wide the screen is. */
const RULES_OF_LAYOUT = ["target-size", "scrollable-region-focusable"];
/** What playwright-core turns off, which the last list names alone, and the browser's own screens, made ready with each window. */
const FEATURES_OFF = [
  "AimEnabled",
  "AvoidCorsURLLoaderRestartOnRedirect",
  "AvoidUnnecessaryBeforeUnloadCheckSync",
  "DestroyProfileOnBrowserClose",
  "HttpsFirstBalancedModeAutoEnable",
  "HttpsUpgrades",
  "LensOverlay",
  "MediaRouter",
  "NetworkTimeServiceQuerying",
  "OptimizationHints",
  "PaintHolding",
  "PreconnectToSearch",
  "ThirdPartyStoragePartitioning",
  "PreloadTopChromeWebUI",
];
const QUIET = [
  `--disable-features=${FEATURES_OFF}`,
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
/** The smallest phone in use. */
export const NARROW = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
export const TABLET = { viewport: { width: 820, height: 1180 }, hasTouch: true };
export const DESK = { viewport: { width: 1440, height: 900 } };

/** Starts the server; `port` 0 takes any that is free. */
export async function serve({ port = 0, page = "dist" } = {}) {
  const child = spawn(PROGRAM, ["serve", "../jobs", "--port", String(port), "--page", page]);
  child.stderr.pipe(process.stderr);
  const [said] = await once(child.stdout, "data");
  const address = /http:\/\/[^/ ]+\//.exec(String(said))?.[0];
  if (!address) throw new Error(`the server said: ${said}`);
  return {
    address,
    port: Number(new URL(address).port),
    stop: async () => {
      if (child.exitCode === null) {
        child.kill("SIGKILL");
        await once(child, "exit");
      }
    },
  };
}

export const browse = () => chromium.launch({ executablePath: CHROMIUM, args: QUIET, timeout: PATIENCE_MS });

/** A context that waits as long as is needed. */
export async function patient(context) {
  (await context).setDefaultTimeout(PATIENCE_MS);
  return context;
}

/** A server and a browser for the tests of a file; both are there once its first test runs. */
export function desk() {
  const here = { context: (options) => patient(here.browser.newContext(options)) };
  before(async () => {
    here.server = await serve();
    here.browser = await browse();
  });
  after(async () => {
    await here.browser?.close();
    await here.server?.stop();
  });
  return here;
}

/** A browser whose storage stays in a folder when it is killed. */
export const browseIn = (folder, options = {}) =>
  patient(chromium.launchPersistentContext(folder, { executablePath: CHROMIUM, args: QUIET, timeout: PATIENCE_MS, ...options }));

export const folder = (name) => mkdtempSync(join(tmpdir(), `dewpath-${name}-`));

/** Every fault that a page reports is a fault of the test. */
export function watch(page, faults) {
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => message.type() === "error" && faults.push(message.text()));
  return page;
}

export async function begin(page, address, given = {}) {
  await page.goto(address);
  await page.getByRole("button", { name: "New job" }).click();
  const all = { name: "Attic bath", length: "9 ft 4-1/2 in", width: "5 ft", height: "8", airflow: "80", ...given };
  await page.getByLabel("What is it called?").fill(all.name);
  await page.getByLabel("Room length").fill(all.length);
  await page.getByLabel("Room width").fill(all.width);
  await page.getByLabel("Room height").fill(all.height);
  await page.getByLabel(/Airflow on/).fill(all.airflow);
  await page.getByLabel("Rule book").selectOption("us-irc-2021");
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByRole("heading", { name: "Survey" }).waitFor();
}

/** Opens an example job with the demo library beside it. */
export async function load(page, address, job = "hall-bath") {
  await page.goto(address);
  await page.getByLabel("Open files").setInputFiles(["../jobs/library/demo.toml", `../jobs/${job}.toml`]);
  await page.getByRole("heading", { name: "Survey" }).waitFor();
}

export const go = (page, part) => page.getByRole("navigation").getByRole("link", { name: part, exact: true }).click();

/** Parts in which drawings of the engine stand as soon as the job is judged. */
const DRAWN = ["Fan", "Run", "Moisture", "Place and way out", "Holes and outlet"];

/** Opens a part of the job and waits until it stands there, drawings and all. */
export async function arrive(page, part) {
  await go(page, part);
  await page.getByRole("heading", { name: part, exact: true, level: 2 }).waitFor();
  if (DRAWN.includes(part)) await page.locator("[data-drawing]").first().waitFor();
}

/** Holds the clock of a page whose clock is installed, so that no rest of the hand ends until it goes on (`page.clock.resume`). */
export const holdClock = async (page) => page.clock.pauseAt(await page.evaluate(() => Date.now() + 3_600_000));

/** Fills one field by its label within the part that is open, and waits until it is saved. */
export async function write(page, label, text) {
  const field = page.locator("main").getByLabel(label, { exact: true }).first();
  await field.fill(text);
  await field.press("Tab");
  await saved(page);
}

export async function choose(page, label, word) {
  await page.locator("main").getByLabel(label, { exact: true }).first().selectOption(word);
  await saved(page);
}

export const saved = (page) => page.locator("[data-saved=saved]").waitFor();

export const settled = (page) => page.getByText("With ranges.").waitFor();

export const answer = (page, asked) => page.locator(".answer").filter({ hasText: asked });

/** What on a screen breaks the rules for access, or those of them alone that go by the layout. The page has no frames, so that the
 * rules run in it as one. */
export async function violations(page, { layout = false } = {}) {
  const rules = new AxeBuilder({ page }).setLegacyMode();
  const { violations } = await (layout ? rules.withRules(RULES_OF_LAYOUT) : rules.withTags(RULES)).analyze();
  return violations.flatMap((v) => v.nodes.map((node) => `${v.id} (${v.impact}): ${node.target.join(" ")}: ${node.failureSummary}`));
}

/** Fills fields of one element of the job by their keys: chosen, typed, or pressed, whatever each takes. */
export async function fill(page, element, values) {
  for (const [key, value] of Object.entries(values)) {
    const id = `f-${element}-${key}`.replaceAll(".", "-");
    const field = page.locator(`#${id}`);
    const group = page.locator(`[aria-labelledby="${id}-l"]`);
    await field.or(group).first().waitFor({ state: "attached" });
    await page.locator("main details").evaluateAll((all) => all.forEach((fold) => (fold.open = true)));
    if (await group.count()) {
      await group.getByRole("button", { name: value, exact: true }).click();
    } else if ((await field.evaluate(({ tagName }) => tagName)) === "SELECT") {
      await field.selectOption(value);
    } else {
      await field.fill(value);
      await field.press("Tab");
    }
    await saved(page);
  }
}
