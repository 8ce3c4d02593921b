// A desk that runs, and a browser to open it in.

import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "playwright-core";

const FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

/** Opens a browser with a profile of its own. */
export const openBrowser = () =>
  chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", headless: true, args: FLAGS });

/** A desk that saves to an empty folder. */
export class Desk {
  constructor(program, words) {
    this.program = resolve(program);
    this.out = mkdtempSync(join(tmpdir(), "desk-"));
    this.child = spawn(this.program, ["desk", "--no-open", ...words], { cwd: this.out });
    this.ended = new Promise((ok) => this.child.once("exit", (code, signal) => ok({ code, signal })));
    this.said = "";
    this.child.stderr.on("data", (data) => { this.said += data; });
    this.address = new Promise((ok, bad) => {
      this.child.stdout.once("data", (data) => ok(String(data).trim()));
      this.child.once("exit", () => bad(new Error(this.said)));
    });
  }

  /** What the program prints with these words, in the folder where the desk saves. */
  prints(...words) {
    const run = spawnSync(this.program, words, { cwd: this.out, encoding: "utf8", env: { ...process.env, NO_COLOR: "1" } });
    if (run.status !== 0) throw new Error(run.stderr);
    return run.stdout;
  }

  /** The server's own answer to a state, as the page gets it. */
  async answer(text) {
    const address = await this.address;
    return fetch(`${address}answer`, { method: "POST", headers: { "content-type": "application/json" }, body: text });
  }

  /** A page of the desk; what it asks of the network and what it complains of are kept. */
  async page(browser, options = {}, hash = "") {
    const context = await browser.newContext({ viewport: { width: 1366, height: 900 }, ...options });
    if (process.env.DESK_PAGE) await fromFolder(context, process.env.DESK_PAGE);
    const page = await context.newPage();
    page.requests = [];
    page.complaints = [];
    page.on("request", (request) => page.requests.push(request.url()));
    page.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) page.complaints.push(message.text());
    });
    page.on("pageerror", (error) => page.complaints.push(String(error)));
    await page.goto((await this.address) + hash);
    await settled(page);
    return page;
  }

  async close() {
    this.child.kill("SIGINT");
    return this.ended;
  }
}

const KINDS = { js: "text/javascript", css: "text/css", html: "text/html" };

/** Gives the page's files as they lie in a folder, so that they are tried without building the program anew. */
async function fromFolder(context, folder) {
  await context.route("**/*", async (route) => {
    const name = new URL(route.request().url()).pathname.split("/").pop() || "index.html";
    const file = join(folder, name);
    if (!existsSync(file)) return route.continue();
    const { headers } = await fetch(route.request().url(), { method: "HEAD" });
    const policy = headers.get("content-security-policy") ?? "";
    return route.fulfill({ body: readFileSync(file), contentType: KINDS[name.split(".").pop()], headers: { "content-security-policy": policy } });
  });
}

/** Waits until the page shows the answer to its state, or why there is none. */
export async function settled(page) {
  await page.waitForFunction(() => {
    const { desk } = window;
    return desk?.asker.idle && (desk.seen.text === desk.store.text || !document.getElementById("faults").hidden);
  }, null, { timeout: 30000 });
  // the frame that shows it
  await page.evaluate(() => new Promise((ok) => requestAnimationFrame(() => requestAnimationFrame(ok))));
}

/** What is printed for the state of a page. */
export const printed = (page) => page.evaluate(() => document.getElementById("printed").textContent);

/** The state of a page. */
export const stateOf = (page) => page.evaluate(() => window.desk.store.text);

/** Drags a bar along the depth by so many pixels, in steps. */
export async function drag(page, bar, by, steps = 8) {
  const knob = page.locator(`[data-bar="${bar}"] .knob`);
  await knob.scrollIntoViewIfNeeded();
  const box = await knob.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const upright = await page.locator(`[data-bar="${bar}"]`).getAttribute("aria-orientation") === "vertical";
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= steps; i += 1) {
    const far = (by * i) / steps;
    await page.mouse.move(upright ? x : x + far, upright ? y - far : y);
    await page.evaluate(() => new Promise(requestAnimationFrame));
  }
  await page.mouse.up();
}
