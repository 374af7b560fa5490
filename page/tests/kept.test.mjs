// Nothing that was shown as saved is lost: no signal, a killed browser, a full disk, a new version of the page.
import assert from "node:assert/strict";
import { cpSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { PHONE, begin, browse, browseIn, folder, go, patient, saved, serve, settled, write } from "./desk.mjs";

const KILLS = process.env.DEWPATH_FULL ? 100 : 10;
/** A picture of one point. */
const PIXEL = Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==", "base64");
/** Room on a disk that is not full, bytes: all of the page and a job, and few enough to be asked for at once. */
const ROOM = 32 << 20;

let server;
before(async () => {
  server = await serve();
});
after(async () => server?.stop());

const ready = (page) => page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
const lengthField = (page) => page.locator("main").getByLabel("length", { exact: true }).first();

test("no signal: opened, changed, answered, reloaded", async () => {
  const own = await serve();
  const browser = await browse();
  const context = await patient(browser.newContext(PHONE));
  const page = await context.newPage();
  await begin(page, own.address);
  await ready(page);
  await own.stop();
  await context.setOffline(true);
  await page.reload();
  await settled(page);
  await write(page, "length", "11 ft");
  await settled(page);
  await page.reload();
  await settled(page);
  assert.equal(await lengthField(page).inputValue(), "11 ft");
  await page.goto(own.address);
  await page.getByRole("link", { name: /Attic bath/ }).waitFor();
  await browser.close();
});

test(`the browser killed ${KILLS} times while it saves`, { timeout: 900_000 }, async () => {
  const where = folder("killed");
  let address = "";
  let shown = 0;
  let tried = 0;
  for (let kill = 0; kill < KILLS; kill++) {
    const context = await browseIn(where, PHONE);
    const page = context.pages()[0] ?? (await context.newPage());
    if (!address) {
      await begin(page, server.address);
      address = page.url();
    } else {
      await page.goto(address);
    }
    const field = lengthField(page);
    await field.waitFor();
    const found = Number(/^(\d+) mm$/.exec(await field.inputValue())?.[1] ?? 0);
    assert.ok(found >= shown, `kill ${kill}: ${shown} mm was shown as saved, ${found} mm came back`);
    assert.ok(found <= tried, `kill ${kill}: ${found} mm was never typed`);
    // Lengths that grow; the last one is still on its way when the browser goes.
    const rounds = 1 + (kill % 3);
    for (let round = 0; round < rounds; round++) {
      tried = Math.max(tried, found) + 1 + round;
      await field.fill(`${tried} mm`);
      await field.press("Tab");
      if (round + 1 < rounds) {
        await saved(page);
        shown = Math.max(shown, await savedLength(page));
      }
    }
    await page.waitForTimeout((kill * 7) % 60);
    shown = Math.max(shown, await savedLength(page).catch(() => 0));
    await killed(context, page);
  }
  rmSync(where, { recursive: true, force: true });
});

/** The length that the page calls saved: sign and field read in one look, so that they cannot change in between. */
const savedLength = (page) =>
  page.evaluate(() => {
    const state = document.querySelector("[data-saved]")?.getAttribute("data-saved");
    const value = document.getElementById("f-room-bath-length")?.value ?? "";
    return state === "saved" ? Number(/^(\d+) mm$/.exec(value)?.[1] ?? 0) : 0;
  });

/** Puts the browser down as a flat battery does. */
async function killed(context, page) {
  const session = await context.browser()?.newBrowserCDPSession?.().catch(() => undefined);
  const pid = session && (await session.send("SystemInfo.getProcessInfo").catch(() => undefined))?.processInfo?.find((p) => p.type === "browser")?.id;
  if (!pid) throw new Error("the browser's process is not known");
  process.kill(pid, "SIGKILL");
  await context.close().catch(() => undefined);
  await page.waitForEvent?.("close", { timeout: 1 }).catch(() => undefined);
}

test("a browser that comes back without its database takes everything from the second copy", async () => {
  const where = folder("lost");
  let context = await browseIn(where, PHONE);
  let page = context.pages()[0] ?? (await context.newPage());
  /** The browser ends and comes back as it does after a death at a bad moment: the folder of its databases is not there. */
  const loseDatabase = async (address) => {
    await context.close();
    rmSync(join(where, "Default", "IndexedDB"), { recursive: true });
    context = await browseIn(where, PHONE);
    page = context.pages()[0] ?? (await context.newPage());
    await page.goto(address);
  };

  await begin(page, server.address, { name: "Gable bath" });
  const job = page.url();
  await write(page, "length", "12 ft");
  await write(page, "length", "11 ft");
  await page.getByRole("button", { name: "Take back" }).click();
  await go(page, "Photos and notes");
  await page.getByLabel("Take or choose a photo").setInputFiles({ name: "wall.png", mimeType: "image/png", buffer: PIXEL });
  await page.getByRole("img").waitFor();
  await page.getByLabel("Note", { exact: true }).fill("before it was closed up");
  await page.getByLabel("Note", { exact: true }).press("Tab");
  await saved(page);
  await page.goto(server.address);
  await begin(page, server.address, { name: "Attic bath" });
  await settled(page);

  await loseDatabase(job);
  await page.getByText("The browser came back without what it had kept.").waitFor();
  await page.getByText(/(Gable bath, Attic bath|Attic bath, Gable bath) are here again/).waitFor();
  await settled(page);
  assert.equal(await lengthField(page).inputValue(), "12 ft");
  await go(page, "Photos and notes");
  await page.waitForFunction(() => document.querySelector("main img")?.naturalWidth === 1);
  assert.equal(await page.getByLabel("Note", { exact: true }).inputValue(), "before it was closed up");
  // What is brought back is saved as before, and said once.
  await page.reload();
  await settled(page);
  assert.equal(await page.getByText("The browser came back").count(), 0);

  // What is removed is removed from the copy too.
  await page.goto(server.address);
  page.on("dialog", (dialog) => dialog.accept());
  await page.getByRole("button", { name: /Remove.*Gable bath/ }).click();
  await page.getByRole("link", { name: /Gable bath/ }).waitFor({ state: "detached" });
  await loseDatabase(server.address);
  await page.getByRole("link", { name: /Attic bath/ }).waitFor();
  assert.equal(await page.getByRole("link", { name: /Gable bath/ }).count(), 0);
  await context.close();
  rmSync(where, { recursive: true, force: true });
});

test("changed in two windows at once, what each wrote is kept", async () => {
  const browser = await browse();
  const context = await patient(browser.newContext(PHONE));
  const [here, there] = [await context.newPage(), await context.newPage()];
  await begin(here, server.address);
  await settled(here);
  await there.goto(here.url());
  await settled(there);
  await write(there, "length", "12 ft");
  await write(there, "width", "6 ft");
  await write(here, "length", "11 ft");
  await here.getByText("This job was changed in another window as well.").waitFor();
  await saved(here);
  await here.reload();
  await settled(here);
  assert.equal(await lengthField(here).inputValue(), "11 ft");
  await here.getByRole("button", { name: "Take back" }).click();
  await saved(here);
  await here.waitForFunction(() => document.getElementById("f-room-bath-length")?.value === "12 ft");
  assert.equal(await here.locator("main").getByLabel("width", { exact: true }).first().inputValue(), "6 ft");
  await browser.close();
});

/** The browser looks at the room on the disk when more is asked for than it knows of, not at each small write. Says what it found. */
const askForRoom = (page, bytes) =>
  page.evaluate(async (size) => {
    const open = indexedDB.open("room");
    open.onupgradeneeded = () => open.result.createObjectStore("all");
    await new Promise((done) => (open.onsuccess = done));
    const asked = open.result.transaction("all", "readwrite");
    asked.objectStore("all").put(new Uint8Array(size), 0);
    return new Promise((done) => {
      asked.oncomplete = () => done("room");
      asked.onabort = () => done(asked.error.name);
    });
  }, bytes);

test("a full disk is said, and nothing typed is gone", async () => {
  const browser = await browse();
  const context = await patient(browser.newContext(PHONE));
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  const origin = new URL(server.address).origin;
  await session.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: ROOM });
  await begin(page, server.address);
  assert.equal(await askForRoom(page, 1), "room");
  await session.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 1 });
  assert.equal(await askForRoom(page, 2 * ROOM), "QuotaExceededError");
  await lengthField(page).fill("13 ft");
  await lengthField(page).press("Tab");
  await page.getByText("NOT SAVED").waitFor();
  await page.getByText("This device is full.").waitFor();
  await go(page, "File");
  assert.match(await page.getByLabel("The job file, as it is written").inputValue(), /13 ft/);
  await session.send("Storage.overrideQuotaForOrigin", { origin });
  await page.getByRole("button", { name: "Try again" }).click();
  await saved(page);
  await page.reload();
  assert.match(await page.getByLabel("The job file, as it is written").inputValue(), /13 ft/);
  await browser.close();
});

test("a new version of the page waits to be taken, and finds the jobs of the old one", async () => {
  const dist = folder("version");
  cpSync("dist", dist, { recursive: true });
  const own = await serve({ page: dist });
  const browser = await browse();
  const context = await patient(browser.newContext(PHONE));
  const page = await context.newPage();
  await begin(page, own.address, { name: "Kept from before" });
  await ready(page);
  await page.reload();
  await settled(page);
  // The next version: the same page with another title, under another mark of its worker.
  for (const name of readdirSync(dist).filter((file) => file.endsWith(".br"))) rmSync(join(dist, name));
  const index = readFileSync(join(dist, "index.html"), "utf8").replace("<title>Dewpath</title>", "<title>Dewpath, next</title>");
  writeFileSync(join(dist, "index.html"), index);
  const worker = readFileSync(join(dist, "sw.js"), "utf8");
  writeFileSync(join(dist, "sw.js"), worker.replace(/url:"index\.html",revision:"[^"]*"/, 'url:"index.html",revision:"next"'));
  assert.notEqual(readFileSync(join(dist, "sw.js"), "utf8"), worker, "the worker's list names the page");
  await page.evaluate(() => navigator.serviceWorker.getRegistration().then((known) => known?.update()).then(() => undefined));
  await page.getByText("A new version of this page is here.").waitFor();
  await write(page, "length", "12 ft");
  await page.getByRole("button", { name: "Use it now" }).click();
  await page.waitForFunction(() => document.documentElement.innerHTML.includes("Kept from before"));
  await settled(page);
  assert.equal(await lengthField(page).inputValue(), "12 ft");
  await browser.close();
  await own.stop();
});
