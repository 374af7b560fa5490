// Photos and notes: scaled, freed of what the phone wrote into them unless that is wanted, kept with the job through a reload.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, begin, desk, go, saved, watch } from "./desk.mjs";

const here = desk();
const SECRET = "47.1234 N 8.5678 E";

/** A photo of 2400 x 1200 with a segment of data as phones write it (JPEG, APP1 "Exif"). */
async function photo(page) {
  const made = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(2400, 1200);
    const context = canvas.getContext("2d");
    context.fillStyle = "#a0522d";
    context.fillRect(0, 0, 2400, 1200);
    const blob = await canvas.convertToBlob({ type: "image/jpeg" });
    return [...new Uint8Array(await blob.arrayBuffer())];
  });
  const data = Buffer.concat([Buffer.from("Exif\0\0"), Buffer.from(SECRET)]);
  const length = Buffer.from([(data.length + 2) >> 8, (data.length + 2) & 255]);
  const bytes = Buffer.from(made);
  return Buffer.concat([bytes.subarray(0, 2), Buffer.from([0xff, 0xe1]), length, data, bytes.subarray(2)]);
}

/** What is kept of each photo on the device, oldest first. */
const kept = (page) =>
  page.evaluate(async () => {
    const open = indexedDB.open("dewpath");
    await new Promise((done) => (open.onsuccess = done));
    const all = open.result.transaction("photos").objectStore("photos").getAll();
    await new Promise((done) => (all.onsuccess = done));
    open.result.close();
    return Promise.all(
      all.result.map(async ({ at, note, picture }) => {
        const bitmap = await createImageBitmap(picture);
        return { at, note, size: [bitmap.width, bitmap.height], text: await picture.text() };
      }),
    );
  });

test("a photo is scaled and freed of its place, or kept as it was taken; notes and photos outlive a reload", async () => {
  const faults = [];
  const context = await here.context(PHONE);
  const page = watch(await context.newPage(), faults);
  await begin(page, here.server.address);
  await go(page, "Photos and notes");
  const file = { name: "a.jpg", mimeType: "image/jpeg", buffer: await photo(page) };
  assert.ok(file.buffer.includes(SECRET));
  await page.getByLabel("It shows").selectOption("room.bath");
  await page.getByLabel("Take or choose a photo").setInputFiles(file);
  await page.getByRole("img").first().waitFor();
  await page.getByLabel("Note", { exact: true }).fill("stain by the lamp");
  // Kept while it is typed: the field is not left.
  await saved(page);
  const [first] = await kept(page);
  assert.deepEqual([first.at, first.note, first.size], ["room.bath", "stain by the lamp", [1600, 800]]);
  assert.ok(!first.text.includes(SECRET) && !first.text.includes("Exif"));

  await page.getByLabel(/as they were taken/).check();
  await page.getByText("kept in full size, with the place").waitFor();
  await page.getByLabel("Take or choose a photo").setInputFiles(file);
  await page.getByRole("img").nth(1).waitFor();
  const whole = (await kept(page)).find(({ text }) => text.includes(SECRET));
  assert.deepEqual(whole?.size, [2400, 1200]);

  await page.getByLabel("Notes, one to a line").fill("Hatch is in the closet\nOwner says \"drips at thaw\"");
  await page.getByLabel("Notes, one to a line").press("Tab");
  await saved(page);
  await page.reload();
  await page.getByRole("img").nth(1).waitFor();
  assert.equal(await page.getByLabel("Notes, one to a line").inputValue(), "Hatch is in the closet\nOwner says \"drips at thaw\"");
  await go(page, "File");
  assert.match(await page.getByLabel("The job file, as it is written").inputValue(), /notes = \["Hatch is in the closet", ?"Owner says \\"drips at thaw\\""\]/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("what is said of the whole job, what was seen and measured has its fields", async () => {
  const context = await here.context(PHONE);
  const page = await context.newPage();
  await begin(page, here.server.address);
  await page.getByText("The whole job").click();
  await page.locator("#f-date").fill("2026-05-02");
  await page.locator("#f-date").press("Tab");
  await saved(page);
  // The rule book is chosen, not spelt.
  await page.locator("#f-rule_book").selectOption("us-ashrae-62.2");
  await saved(page);
  await page.getByRole("button", { name: "Add symptom" }).click();
  await page.getByText(/lacks `kind`/).first().waitFor();
  // From anywhere to the field that is to be put right.
  await go(page, "Moisture");
  await page.getByRole("alert").getByRole("button", { name: /Go there/ }).click();
  await page.locator("#f-symptom-symptom-1-kind").waitFor();
  await page.locator("#f-symptom-symptom-1-kind").selectOption("stain");
  await saved(page);
  await go(page, "Fan");
  await page.getByRole("button", { name: "Add reading" }).click();
  for (const [key, value] of [["at", "fan"], ["airflow", "42 cfm"]]) {
    await page.locator(`#f-reading-reading-1-${key}`).fill(value);
    await page.locator(`#f-reading-reading-1-${key}`).press("Tab");
    await saved(page);
  }
  assert.equal(await page.getByRole("alert").count(), 0);
  await go(page, "Survey");
  await page.getByRole("button", { name: "Remove symptom-1" }).click();
  await saved(page);
  await go(page, "File");
  const text = await page.getByLabel("The job file, as it is written").inputValue();
  assert.match(text, /date = 2026-05-02/);
  assert.match(text, /rule_book = "us-ashrae-62.2"/);
  assert.match(text, /airflow = "42 cfm"/);
  assert.doesNotMatch(text, /stain/);
  await context.close();
});
