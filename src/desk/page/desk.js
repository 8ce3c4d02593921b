// The desk: joins the state, the answers of the server and what is seen of them.

import { Asker, ask } from "./ask.js";
import { drawCell, nearest, pathsOf } from "./cell.js";
import { drawCurve, drawWays, moveNow, touchable, waysNow } from "./charts.js";
import { Entries, fabricOptions, ownFabrics } from "./edit.js";
import { ends, escape, fixed, ramp, signed, at } from "./look.js";
import { lessons } from "./lessons.js";
import { saving } from "./save.js";
import { Stack } from "./stack.js";
import { Store, add, fromHash, gapBehind, setGap, setOwn, toHash } from "./state.js";
import { Terms } from "./terms.js";

const byId = (id) => document.getElementById(id);
const shelf = await ask("shelf.json");

/** What is seen: the last answer, what is pinned, the time and the choice of views. */
const seen = { answer: null, text: "", pinned: null, t: 0, behind: "disc", path: 0, gap: null, playing: false };
/** Milliseconds from an input to the frame that shows its answer, for whoever measures. */
const delays = [];
/** The same to the close answer, where a coarse one came first. */
const delaysAgain = [];

const store = new Store(fromHash(location.hash) ?? shelf.start, heard);
const asker = new Asker(drawn, refused);
const stack = new Stack(byId("stack"), {
  gap: (ply, mm, gesture, since) => change((state) => setGap(state, ply, mm), gesture, since),
  ply: (ply, mm, gesture, since) => change((state) => setOwn(state, ply, "thickness_mm", mm), gesture, since),
  settle: () => store.settle(),
  read: (text) => { byId("read").textContent = text; },
  valueOf: (kind, ply) => (kind === "gap" ? gapBehind(store.state.layup.stack, ply) : null),
});
const entries = new Entries(byId("entries"), shelf, store);
const terms = new Terms(shelf, store);
saving(store);
lessons(byId("lesson-list"), byId("lesson"));

let since = performance.now();

function change(how, gesture, stamp) {
  since = stamp ?? performance.now();
  store.change(how, gesture);
}

/** A change of the state: ask, and show what is known at once. */
function heard(goesOn) {
  if (performance.now() - since > 1000) since = performance.now();
  if (store.text !== seen.asked) {
    seen.asked = store.text;
    const { layup, flat } = store.state;
    asker.want(store.text, since, goesOn, Boolean(layup.quilting) && !flat);
  }
  if (!goesOn) history.replaceState(null, "", toHash(store.text));
  // under the hand the fields may follow with the answer
  if (!goesOn) fields();
}

/** The fields as the state has them. */
function fields() {
  const state = store.state;
  terms.show(state);
  entries.show(state, seen.text === store.text ? seen.answer.layup : null);
  byId("undo").disabled = store.past.length === 0;
  byId("redo").disabled = store.future.length === 0;
}

/** An answer has come. */
function drawn(answer, { text, since: asked, coarse, again }) {
  const first = seen.answer === null;
  seen.answer = answer;
  seen.text = text;
  if (seen.pinned?.text === text) seen.pinned.answer = answer;
  byId("closeness").textContent = coarse ? "Coarse, and closer at once when you pause." : "";
  byId("closeness").hidden = !answer.layup.is_quilted;
  byId("faults").hidden = true;
  document.body.classList.remove("stale");
  const t_end = timeEnd();
  if (first) seen.t = t_end * 0.4;
  seen.t = Math.min(seen.t, t_end);
  drawAll();
  if (text === store.text) fields();
  requestAnimationFrame(() => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => {
      (again ? delaysAgain : delays).push(performance.now() - asked);
      document.body.dataset.shown = String(delays.length);
    };
    channel.port2.postMessage(null);
  });
  if (!coarse) announce();
}

/** A state that has no answer: what is wrong, with the last answer greyed. */
function refused(faults) {
  const list = faults.map((fault) => {
    const more = [fault.expected && `expected: ${fault.expected}`, fault.mend && `mend: ${fault.mend}`].filter(Boolean);
    return `<li><strong>${escape(fault.what)}</strong>${more.map((one) => `<br>${escape(one)}`).join("")}</li>`;
  });
  byId("faults").innerHTML = `<ul>${list.join("")}</ul>`;
  byId("faults").hidden = false;
  document.body.classList.add("stale");
  fields();
}

/** The runs and views of what stands behind. */
const run = () => seen.answer.runs.find((one) => one.behind === seen.behind && placeFits(one)) ?? seen.answer.runs[0];
const placeFits = (one) => seen.behind === "disc" || one.place === null || one.place.endsWith(seen.path === 0 ? "stitch line" : "centre");

function view() {
  const views = seen.answer.views;
  if (seen.behind === "skin") {
    const skins = views.filter((one) => one.behind === "skin");
    return skins[Math.min(seen.path === 0 ? 0 : 1, skins.length - 1)];
  }
  const paths = views.filter((one) => one.behind === "disc");
  return paths[Math.min(seen.path, paths.length - 1)];
}

const timeEnd = () => Math.max(run().course.time_s.at(-1), 0.1);

function drawAll() {
  const { answer } = seen;
  headlines();
  choices();
  const one = view();
  const t_end = timeEnd();
  seen.range = ends(answer.views);
  stack.show(one, answer, seen.t, seen.range);
  legend();
  const scrub = byId("scrub");
  scrub.max = t_end;
  scrub.value = seen.t;
  const disc = seen.behind === "disc";
  byId("curve-title").textContent = disc ? "Rise of the copper disc" : `Temperatures of the skin${run().place ? ` at ${run().place}` : ""}`;
  const old = seen.pinned?.answer.runs.find((other) => other.behind === run().behind && other.place === run().place);
  drawCurve(byId("curve"), run(), answer.exposure, t_end, old);
  gaps(one);
  drawWays(byId("ways"), one, gapOf(one), t_end);
  cell();
  figures();
  timeShown();
}

/** What is told first, beside what is pinned. */
function headlines() {
  const { answer, pinned } = seen;
  const place = byId("headlines");
  const key = answer.headlines.map((one) => `${one.key} ${one.name}`).join("|");
  if (place.dataset.key !== key) {
    place.dataset.key = key;
    place.innerHTML = answer.headlines
      .map((one) => `<div class="headline" data-key="${one.key}"><p class="name">${escape(one.name)}</p><p class="value"></p>` +
        `<p class="small">${escape(one.what)}</p><p class="small band-words"></p>${inPlainWords(one.name)}</div>`)
      .join("");
  }
  // figures change in their places, so that what was opened stays open
  for (const one of answer.headlines) {
    const box = place.querySelector(`[data-key="${one.key}"]`);
    box.querySelector(".value").textContent = `${one.text}${one.beyond ? "†" : ""}`;
    box.querySelector(".band-words").textContent = (one.band ?? "").replace(/ (?=s\b)/, "\u00a0");
  }
  byId("own").hidden = answer.own_tests.length === 0;
  byId("own").innerHTML = answer.own_tests.map((said) => `<p class="small">${escape(said)}</p>`).join("");
  byId("calls").innerHTML = answer.calls
    .map((one) => `<p class="call" data-call="${one.call ?? "none"}"><b>${escape(one.target)}</b> (${escape(one.standard)}) asks ${escape(one.asks)}: ` +
      `<strong>${escape(one.value)}, ${escape(one.short)}</strong></p>`)
    .join("");
  byId("rules").hidden = answer.rules.length === 0;
  byId("rules-list").innerHTML = answer.rules.map((rule) => `<p class="small">${escape(rule)}</p>`).join("");
  byId("lies").textContent = answer.layup.lies ?? "";
  byId("limits").textContent = answer.limits;
  byId("notes").innerHTML = answer.notes.map((note) => `<li>${escape(note)}</li>`).join("");
  byId("totals").textContent = `Together ${answer.layup.thickness} mm, ${answer.layup.areal_density} g/m²`;
  byId("sentence").textContent = answer.exposure.sentence;
  const compare = byId("compare");
  compare.hidden = !pinned;
  if (!pinned) return;
  const rows = answer.headlines.flatMap((one) => {
    const old = pinned.answer.headlines.find((other) => other.key === one.key);
    if (!old) return [];
    const apart = one.value !== null && old.value !== null ? `${signed(one.value - old.value, 2)} ${one.unit}` : "–";
    return [`<tr><th scope="row">${escape(one.name)}</th><td>${escape(old.text)}</td><td>${escape(one.text)}</td><td><b>${apart}</b></td></tr>`];
  });
  const mass = answer.layup.areal_density_g_m2 - pinned.answer.layup.areal_density_g_m2;
  const thick = answer.layup.thickness_mm - pinned.answer.layup.thickness_mm;
  compare.innerHTML = `<table><caption>Against the pinned layup, ${escape(pinned.answer.layup.name)}</caption><thead><tr><td></td><th scope="col">pinned</th><th scope="col">now</th><th scope="col">difference</th></tr></thead><tbody>${rows.join("")}` +
    `<tr><th scope="row">areal density</th><td>${pinned.answer.layup.areal_density} g/m²</td><td>${answer.layup.areal_density} g/m²</td><td><b>${signed(mass, 0)} g/m²</b></td></tr>` +
    `<tr><th scope="row">thickness</th><td>${pinned.answer.layup.thickness} mm</td><td>${answer.layup.thickness} mm</td><td><b>${signed(thick, 2)} mm</b></td></tr></tbody></table>`;
}

/** What a figure's name means, to be opened. */
function inPlainWords(name) {
  const bare = name.replace(/ at a .*/, "").toLowerCase();
  const found = shelf.terms.find((term) => [term.name, ...term.also].some((word) => word.toLowerCase() === bare));
  return found ? `<details class="term small"><summary>What is ${escape(found.name)}?</summary><p>${escape(found.says)}</p></details>` : "";
}

/** A group of choices of which one holds; rebuilt only when its words change. */
function radios(place, name, words, chosen, choose) {
  const key = words.join("|");
  if (place.dataset.words !== key) {
    place.dataset.words = key;
    place.innerHTML = words.map((word, i) => `<label><input type="radio" name="${name}" value="${i}"><span>${escape(word)}</span></label>`).join("");
    place.onchange = (event) => choose(Number(event.target.value));
  }
  place.querySelectorAll("input").forEach((input, i) => { input.checked = i === chosen; });
}

function choices() {
  radios(byId("behind"), "behind", ["copper disc", "skin"], seen.behind === "disc" ? 0 : 1, (i) => {
    seen.behind = i === 0 ? "disc" : "skin";
    seen.path = seen.path > 0 ? 1 : 0;
    seen.t = Math.min(seen.t, timeEnd());
    drawAll();
  });
}

function cell() {
  const { answer } = seen;
  const panel = byId("cell-panel");
  panel.hidden = !answer.layup.is_quilted;
  if (panel.hidden) {
    seen.path = 0;
    return;
  }
  const canvas = byId("cell");
  canvas.dataset.upwards = String(answer.exposure.flame_from === "below");
  const all = placesOf();
  seen.path = Math.min(seen.path, all.length - 1);
  const slide = byId("place");
  slide.max = all.length - 1;
  slide.value = seen.path;
  const { place: word, distance_mm: mm } = all[seen.path].cell;
  const said = word === "between" ? `${fixed(mm, 1)} mm from the stitch line` : word;
  slide.setAttribute("aria-valuetext", said);
  byId("place-said").textContent = said;
  drawSection();
}

/** The views among which a place in the cell is chosen. */
const placesOf = () => (seen.behind === "disc" ? pathsOf(seen.answer.views) : seen.answer.views.filter((one) => one.behind === "skin"));

function drawSection() {
  const stitch = store.state.layup.quilting?.stitch_width_mm ?? 0;
  drawCell(byId("cell"), seen.answer.views, seen.t, seen.range, view(), stitch);
}

function look(path) {
  seen.path = path;
  seen.t = Math.min(seen.t, timeEnd());
  drawAll();
}

/** The choice of gaps; the one chosen stays if it is still there. */
function gaps(one) {
  const select = byId("gap");
  const words = one.ways.map((ways) => `${ways.ply}|${place(one, ways)}`);
  const list = words.join("\n");
  if (select.dataset.list !== list) {
    select.dataset.list = list;
    select.innerHTML = one.ways.map((ways) => `<option value="${ways.ply}">${escape(place(one, ways))}</option>`).join("");
  }
  const chosen = gapOf(one);
  if (chosen) select.value = String(chosen.ply);
}

function place(one, ways) {
  const last = Math.max(...one.parts.map((part) => part.ply));
  const to = ways.ply < last ? `plies ${ways.ply} and ${ways.ply + 1}` : `ply ${ways.ply} and ${one.behind === "disc" ? "the disc" : "the skin"}`;
  const gap = one.parts.find((part) => part.ply === ways.ply && part.kind === "gap");
  return gap ? `${fixed(ways.thickness_mm, 2)} mm of air between ${to}` : `touching faces of ${to}`;
}

function gapOf(one) {
  const found = one.ways.find((ways) => ways.ply === seen.gap);
  const isGap = (ways) => one.parts.some((part) => part.ply === ways.ply && part.kind === "gap");
  return found ?? one.ways.find(isGap) ?? one.ways[0];
}

function legend() {
  const [low, high] = seen.range;
  const n = 40;
  const bars = Array.from({ length: n }, (_, i) => `<rect x="${(i * 240) / n}" width="${240 / n + 0.5}" height="12" fill="${ramp((i + 0.5) / n)}"/>`);
  const marks = [0, 0.25, 0.5, 0.75, 1].map((share) => {
    const anchor = share === 0 ? "start" : share === 1 ? "end" : "middle";
    return `<text class="tiny" x="${share * 240}" y="26" text-anchor="${anchor}">${Math.round(low + share * (high - low))}</text>`;
  });
  byId("legend").innerHTML = `<svg viewBox="0 0 270 28" width="270" height="28" role="img" aria-label="Colours from ${low} to ${high} degrees Celsius, pale to dark">${bars.join("")}${marks.join("")}<text class="tiny" x="246" y="11">°C</text></svg>`;
}

function figures() {
  const { answer } = seen;
  byId("figures").innerHTML = answer.runs.map((one) =>
    `<table data-run="${one.behind}"><caption>${escape(one.title)}</caption><tbody>${one.figures.map((row) => `<tr><th scope="row">${escape(row[0])}</th><td>${escape(row[1])}</td><td class="number">${escape(row[2])}</td><td>${escape(row[3])}</td><td>${escape(row[4])}</td></tr>`).join("")}</tbody></table>`).join("");
  byId("printed").textContent = answer.printed;
  byId("command").textContent = command(store.state);
}

/** The command that prints the same of the saved layup. */
function command(state) {
  const words = ["stillair", "expose", "NAME.toml", "--full"];
  if (state.exposure !== "flame-80") words.push("--exposure", state.exposure);
  if (state.flame_s) words.push("--for", state.flame_s);
  if (state.until_s) words.push("--until", state.until_s);
  if (state.skin) words.push("--skin", state.skin);
  for (const target of state.against ?? []) words.push("--against", target);
  if (state.flat) words.push("--flat");
  return [...words, ...shelf.anchored].join(" ");
}

/** All that follows the time. */
function timeShown() {
  const t_end = timeEnd();
  const one = view();
  stack.at(seen.t);
  moveNow(byId("curve"), seen.t, t_end);
  moveNow(byId("ways"), seen.t, t_end);
  const ways = gapOf(one);
  if (ways) waysNow(byId("ways-now"), one, ways, seen.t);
  const course = run().course;
  const header = seen.behind === "disc" ? "disc_rise_C" : "basal_layer_C";
  const column = course.columns.find((each) => each.header === header);
  const value = column ? at(course.time_s, column.values, seen.t) : 0;
  const words = seen.behind === "disc" ? `disc ${fixed(value, 1)} K warmer` : `basal layer ${fixed(value, 1)} °C`;
  byId("clock").textContent = `${fixed(seen.t, 2)} s, ${words}`;
  byId("scrub").setAttribute("aria-valuetext", `${fixed(seen.t, 1)} seconds, ${words}`);
  if (seen.answer.layup.is_quilted) drawSection();
}

function setTime(t) {
  seen.t = Math.min(Math.max(0, t), timeEnd());
  byId("scrub").value = seen.t;
  timeShown();
}

function play() {
  seen.playing = !seen.playing;
  byId("play").textContent = seen.playing ? "Stop" : "Play";
  if (!seen.playing) return;
  if (seen.t >= timeEnd() - 1e-6) setTime(0);
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const speed = Math.max(1, timeEnd() / 15);
  let last = performance.now();
  const tick = (now) => {
    if (!seen.playing) return;
    // who wants little motion sees a picture a second
    if (!calm || now - last >= 1000) {
      setTime(seen.t + (speed * (now - last)) / 1000);
      last = now;
    }
    if (seen.t >= timeEnd() - 1e-6) play();
    else requestAnimationFrame(tick);
  };
  requestAnimationFrame(tick);
}

let told = 0;

/** Says the result once the hand rests. */
function announce() {
  clearTimeout(told);
  told = setTimeout(() => {
    const { answer } = seen;
    const figures = answer.headlines.map((one) => `${one.name} ${one.text}`).join("; ");
    const calls = answer.calls.map((one) => `${one.target}: ${one.answer}`).join("; ");
    byId("live").textContent = `${figures}.${calls ? ` ${calls}.` : ""}`;
  }, 600);
}

byId("notice").textContent = shelf.notice;
byId("undo").addEventListener("click", () => store.undo());
byId("redo").addEventListener("click", () => store.redo());
byId("play").addEventListener("click", play);
byId("scrub").addEventListener("input", (event) => setTime(event.target.valueAsNumber));
byId("place").addEventListener("input", (event) => look(event.target.valueAsNumber));
byId("cell").addEventListener("pointerdown", (event) => {
  const box = byId("cell").getBoundingClientRect();
  look(nearest(seen.answer.views, placesOf(), (event.clientX - box.left) / box.width));
});
touchable(byId("curve"), (share) => setTime(share * timeEnd()));
touchable(byId("ways"), (share) => setTime(share * timeEnd()));
byId("gap").addEventListener("change", (event) => {
  seen.gap = Number(event.target.value);
  drawAll();
});
byId("pin").addEventListener("click", () => {
  seen.pinned = seen.pinned ? null : { answer: seen.answer, text: seen.text };
  byId("pin").setAttribute("aria-pressed", String(seen.pinned !== null));
  byId("pin").textContent = seen.pinned ? "Unpin" : "Pin";
  drawAll();
});
byId("share").addEventListener("click", async () => {
  history.replaceState(null, "", toHash(store.text));
  try {
    await navigator.clipboard.writeText(location.href);
    byId("live").textContent = "The address is copied: it holds this layup.";
  } catch {
    byId("live").textContent = "The address of this page holds this layup: copy it from the address bar.";
  }
});
byId("name").addEventListener("input", (event) => {
  const { value } = event.target;
  if (value.trim() !== "") store.change((state) => { state.layup.name = value; }, "name");
});
byId("name").addEventListener("change", () => store.settle());
byId("begin").innerHTML = `<option value="">…</option>${shelf.layups.map((one) => `<option>${escape(one.name)}</option>`).join("")}`;
byId("begin").addEventListener("change", (event) => {
  const found = shelf.layups.find((one) => one.name === event.target.value);
  event.target.value = "";
  if (found) store.change((state) => { state.layup = found.layup; });
});
byId("add-fabric").innerHTML = fabricOptions(shelf, ownFabrics(store.state), "inner-jersey-140");
byId("add").addEventListener("click", () => store.change((state) => add(state, byId("add-fabric").value)));
byId("words").innerHTML = shelf.terms.map((term) => `<dt>${escape(term.name)}</dt><dd>${escape(term.says)} <span class="small">Source: ${escape(term.source)}</span></dd>`).join("");
document.addEventListener("keydown", (event) => {
  const typing = event.target.matches?.("input[type=text], input[type=number], textarea");
  if (typing || !(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key === "z" && !event.shiftKey) store.undo();
  else if (key === "y" || (key === "z" && event.shiftKey)) store.redo();
  else return;
  event.preventDefault();
});
addEventListener("hashchange", () => {
  const found = fromHash(location.hash);
  if (found && JSON.stringify(found) !== store.text) store.replace(found);
});
let width = innerWidth;
addEventListener("resize", () => {
  if (innerWidth !== width && seen.answer) drawAll();
  width = innerWidth;
});
// for tests and measurements alone
window.desk = { store, asker, seen, delays, delaysAgain, setTime };
heard(false);
