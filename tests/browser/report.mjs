// Holds a report to what it promises, in a real browser. Run with a JSON text as the only argument:
// { "report": path, "other": path of a report of another lay, "search": words, "found": how many pieces have them,
//   "pages": pages when printed on A4 and on Letter, or null }.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import puppeteer from "puppeteer-core";

const wish = JSON.parse(process.argv[2]);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const address = (path) => pathToFileURL(resolve(path)).href;
const profile = mkdtempSync(join(tmpdir(), "clothwright-browser-"));

/** Largest file, and longest time until it answers: what the report promises. */
const MOST_BYTES = 2_000_000;
const MOST_MILLISECONDS = 1000;

const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  userDataDir: profile,
  // A container has no user to run as; the page is our own.
  args: ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"],
});

const STILL = { name: "prefers-reduced-motion", value: "reduce" };

/** Opens a page, and notes what goes wrong on it and what it asks the network for. */
async function opened(path = wish.report, prepare = async () => {}) {
  const page = await browser.newPage();
  const wrong = [];
  page.on("console", (message) => ["error", "warn"].includes(message.type()) && wrong.push(message.text()));
  page.on("pageerror", (error) => wrong.push(String(error)));
  page.on("request", (request) => request.url() !== address(path) && wrong.push(`asked for ${request.url()}`));
  await page.setViewport({ width: 1280, height: 900 });
  // A page that glides is not yet where a click is aimed at.
  await page.emulateMediaFeatures([STILL]);
  await prepare(page);
  await page.goto(address(path), { waitUntil: "load" });
  return { page, wrong };
}

/** Clicks where a thing is drawn, and not where it was before the page moved to it. */
async function click(page, selector) {
  await page.$eval(selector, async (element) => {
    element.scrollIntoView({ block: "center" });
    for (let frame = 0; frame < 3; frame += 1) await new Promise(requestAnimationFrame);
  });
  await page.click(selector);
}

const width = (page) => page.$eval("svg.view", (svg) => svg.viewBox.baseVal.width);
const left = (page) => page.$eval("svg.view", (svg) => svg.viewBox.baseVal.x);

/** Goes from field to field until one of a kind has the focus. */
async function tabTo(page, selector) {
  for (let press = 0; press < 200; press += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate((wanted) => document.activeElement.matches(wanted), selector)) return;
  }
  assert.fail(`the keyboard does not get to ${selector}`);
}

const checks = {
  async "opens from disk, quickly, without an error and without the network"() {
    assert.ok(statSync(wish.report).size < MOST_BYTES, `the file has ${statSync(wish.report).size} bytes`);
    let devtools;
    // The time that the page itself works: other work on the machine does not count.
    const { page, wrong } = await opened(wish.report, async (page) => {
      devtools = await page.createCDPSession();
      await devtools.send("Performance.enable", { timeDomain: "threadTicks" });
    });
    const { metrics } = await devtools.send("Performance.getMetrics");
    const took = 1000 * metrics.find(({ name }) => name === "TaskDuration").value;
    assert.ok(took > 0 && took < MOST_MILLISECONDS, `the page works for ${took} ms before it answers`);
    assert.deepEqual(wrong, []);

    return `${statSync(wish.report).size} bytes, ${Math.round(took)} ms of work`;
  },

  async "a tick is there after a reload, and no lay has the ticks of another"() {
    const { page, wrong } = await opened();
    const ticked = () => page.$$eval(".cut-list input", (boxes) => boxes.map((box) => box.checked));
    await click(page, ".cut-list tbody tr:nth-child(2) input");
    await page.focus(".cut-list tbody tr:nth-child(3) input");
    await page.keyboard.press("Space");
    await page.reload();
    assert.deepEqual((await ticked()).slice(0, 4), [false, true, true, false].slice(0, (await ticked()).length));
    assert.match(await page.$eval(".cut-list .done", (words) => words.textContent), /^2 of \d+ cut$/);
    assert.equal((await page.$$(".lay .piece.ticked")).length, 2, "the drawing shows them");
    await click(page, ".cut-list tbody tr:nth-child(2) input");
    await page.reload();
    assert.deepEqual((await ticked()).slice(0, 3), [false, false, true]);
    assert.deepEqual(wrong, []);
    const { page: other } = await opened(wish.other);
    assert.equal(await other.$$eval(".cut-list input:checked", (boxes) => boxes.length), 0);
  },

  async "a browser that keeps nothing is told of, and ticks still work"() {
    const refuse = (page) => page.evaluateOnNewDocument(() => Object.defineProperty(window, "localStorage", {
      get() { throw new DOMException("refused", "SecurityError"); },
    }));
    const { page, wrong } = await opened(wish.report, refuse);
    assert.match(await page.$eval("#no-store", (note) => (note.hidden ? "" : note.textContent)), /gone when it is closed/);
    await click(page, ".cut-list tbody tr:nth-child(1) input");
    assert.match(await page.$eval(".cut-list .done", (words) => words.textContent), /^1 of/);
    assert.deepEqual(wrong, []);
  },

  async "the search finds pieces and brings one into view"() {
    const { page, wrong } = await opened();
    await tabTo(page, "#find");
    await page.keyboard.type(wish.search);
    assert.match(await page.$eval("#found-words", (words) => words.textContent), new RegExp(`^${wish.found} piece`));
    await page.keyboard.press("Enter");
    const told = await page.$$eval(".told strong", (names) => names.map((name) => name.textContent));
    assert.equal(told.length, 1);
    assert.ok(told[0].toLowerCase().includes(wish.search.toLowerCase()), told[0]);
    const seen = await page.evaluate(() => {
      const piece = document.querySelector(".piece.chosen");
      const [one, view] = [piece, piece.closest("svg")].map((element) => element.getBoundingClientRect());
      return one.left >= view.left - 1 && one.right <= view.right + 1 && one.top >= view.top - 1 && one.bottom <= view.bottom + 1;
    });
    assert.ok(seen, "the piece is in view");
    await page.$eval("#find", (field) => { field.value = ""; });
    await page.type("#find", "no such piece anywhere");
    assert.equal(await page.$eval("#found-words", (words) => words.textContent), "No piece has these words.");
    assert.deepEqual(wrong, []);
  },

  async "the keyboard zooms, moves and goes from piece to piece"() {
    const { page, wrong } = await opened();
    await tabTo(page, "svg.view");
    await page.keyboard.press("0");
    const whole = await width(page);
    for (let press = 0; press < 6; press += 1) await page.keyboard.press("+");
    const close = await width(page);
    assert.ok(close < whole * 0.2, `${close} of ${whole}`);
    const from = await left(page);
    await page.keyboard.press("ArrowRight");
    assert.ok((await left(page)) > from);
    await page.keyboard.press("-");
    assert.ok((await width(page)) > close);
    await page.keyboard.press("0");
    assert.ok(Math.abs((await width(page)) - whole) < 1e-6 * whole);
    await page.keyboard.press(".");
    const first = await page.$eval(".told strong", (name) => name.textContent);
    assert.equal(first, await page.$eval(".cut-list tbody th", (name) => name.textContent), "the first in the cut list");
    await page.keyboard.press(".");
    await page.keyboard.press(",");
    assert.equal(await page.$eval(".told strong", (name) => name.textContent), first);
    assert.deepEqual(wrong, []);
  },

  async "pointing at a piece tells its figures"() {
    const { page } = await opened();
    const [x, y] = await page.evaluate(() => {
      document.querySelector("svg.view").scrollIntoView({ block: "center", behavior: "instant" });
      const middle = (cut) => {
        const box = cut.getBoundingClientRect();
        return [box.left + box.width / 2, box.top + box.height / 2];
      };
      const isSeen = (cut) => document.elementFromPoint(...middle(cut))?.closest(".piece") === cut.parentElement;
      return middle([...document.querySelectorAll(".lay .view .piece .cut")].find(isSeen));
    });
    await page.mouse.move(x, y);
    const told = await page.$eval(".told", (words) => words.textContent);
    assert.match(told, /Size/);
    assert.match(told, /From end/);
  },

  async "it prints on A4 and on Letter, with page numbers"() {
    const { page } = await opened();
    const counts = [];
    for (const format of ["A4", "Letter"]) {
      const file = join(profile, `${format}.pdf`);
      await page.pdf({ path: file, format, printBackground: true });
      const info = execFileSync("pdfinfo", [file], { encoding: "utf8" });
      const pages = Number(/Pages:\s+(\d+)/.exec(info)[1]);
      const text = execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
      for (const number of [1, pages]) assert.match(text, new RegExp(`Page ${number} of ${pages}`), format);
      assert.equal(text.match(/Planning aid, not approved data/g).length >= pages, true, "at the foot of every page");
      if (wish.pages) assert.equal(pages, wish.pages[format], `pages of ${format}`);
      counts.push(`${format} ${pages}`);
    }
    return counts.join(", ");
  },

  async "no serious fault for those who see or hear it otherwise, light or dark, wide or narrow"() {
    for (const scheme of ["light", "dark"]) {
      for (const across of [1280, 768, 390]) {
        const { page } = await opened(wish.report, async (page) => {
          await page.emulateMediaFeatures([STILL, { name: "prefers-color-scheme", value: scheme }]);
          await page.setViewport({ width: across, height: 900 });
        });
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `${wide} px too wide at ${across} px`);
        await page.evaluate(axe);
        const { violations, passes } = await page.evaluate(() => globalThis.axe.run(document, { iframes: false }));
        assert.ok(passes.length > 10, "the checker has looked");
        const grave = violations.filter((fault) => ["serious", "critical"].includes(fault.impact));
        const told = grave.map((fault) => `${fault.id}: ${fault.help}: ${fault.nodes.slice(0, 3).map((node) => node.html.slice(0, 120)).join(" | ")}`);
        assert.deepEqual(told, [], `${scheme}, ${across} px`);
        await page.close();
      }
    }
  },
};

let failed = 0;
for (const [name, check] of Object.entries(checks)) {
  try {
    const told = await check();
    console.log(`ok: ${name}${told ? ` (${told})` : ""}`);
  } catch (error) {
    failed += 1;
    console.log(`FAILED: ${name}\n${error.stack ?? error}`);
  }
  await Promise.all((await browser.pages()).slice(1).map((page) => page.close()));
}
await browser.close();
rmSync(profile, { recursive: true, force: true });
process.exitCode = failed ? 1 : 0;
