// Curves over time and the ways of the heat, drawn as SVG; the time is set by a touch on either.

import { WAYS, at, escape, fixed, px, ticks } from "./look.js";

const LEFT = 46;
const RIGHT = 14;
const TOP = 22;
/** Height of a line of names above a chart. */
const ROW = 13;
const BOTTOM = 30;

/** The frame of a chart: scales, grid and time axis. */
function frame(place, tall, [low, high], t_end, unit, n_rows = 0) {
  const width = Math.max(280, place.clientWidth);
  const top = TOP + ROW * n_rows;
  const height = tall + ROW * n_rows;
  const x = (t) => LEFT + (t / t_end) * (width - LEFT - RIGHT);
  const y = (v) => top + ((high - v) / (high - low)) * (height - top - BOTTOM);
  const out = [];
  for (const v of ticks(low, high, 4)) {
    out.push(`<path class="grid" d="M${LEFT} ${px(y(v))}H${px(width - RIGHT)}"/>`);
    out.push(`<text class="tiny" x="${LEFT - 6}" y="${px(y(v) + 4)}" text-anchor="end">${fixed(v, 6).replace(/\.?0+$/, "")}</text>`);
  }
  const last = ticks(0, t_end, width < 420 ? 4 : 8);
  for (const t of last) {
    out.push(`<path class="grid" d="M${px(x(t))} ${height - BOTTOM}v4"/>`);
    out.push(`<text class="tiny" x="${px(x(t))}" y="${height - BOTTOM + 16}" text-anchor="middle">${t}</text>`);
  }
  out.push(`<text class="tiny" x="${px(width - RIGHT)}" y="${height - 3}" text-anchor="end">time, s</text>`);
  out.push(`<text class="tiny" x="4" y="11">${escape(unit)}</text>`);
  return { width, height, top, x, y, out };
}

function finish(place, { width, height, top, out }, label) {
  place.dataset.top = top;
  place.innerHTML =
    `<svg viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${escape(label)}">` +
    `${out.join("")}<path class="now" d=""/></svg>`;
}

/** Moves the line that shows the time. */
export function moveNow(place, t, t_end) {
  const svg = place.querySelector("svg");
  if (!svg) return;
  const { width, height } = svg.viewBox.baseVal;
  const x = LEFT + (Math.min(t, t_end) / t_end) * (width - LEFT - RIGHT);
  svg.querySelector(".now").setAttribute("d", `M${px(x)} ${place.dataset.top - 4}V${height - BOTTOM}`);
}

/** Lets a time be set by touching a chart. */
export function touchable(place, set) {
  const move = (event) => {
    const svg = place.querySelector("svg");
    if (!svg || (event.type === "pointermove" && event.buttons === 0)) return;
    const box = svg.getBoundingClientRect();
    const scale = svg.viewBox.baseVal.width / box.width;
    set(((event.clientX - box.left) * scale - LEFT) / (box.width * scale - LEFT - RIGHT));
  };
  place.addEventListener("pointerdown", move);
  place.addEventListener("pointermove", move);
}

function path(times, values, x, y) {
  let d = "";
  for (let i = 0; i < times.length; i += 1) d += `${i === 0 ? "M" : "L"}${px(x(times[i]))} ${px(y(values[i]))}`;
  return d;
}

/** The rise of the disc, or the temperatures of the skin, with what happened and when. */
export function drawCurve(place, run, exposure, t_end, pinned) {
  const disc = run.behind === "disc";
  const headers = disc
    ? [["disc_rise_C", "disc", "line-a"]]
    : [["skin_surface_C", "skin surface", "line-b"], ["basal_layer_C", "basal layer", "line-a"], ["base_of_dermis_C", "base of dermis", "line-c"]];
  const lines = headers.flatMap(([header, label, kind]) => {
    const column = run.course.columns.find((one) => one.header === header);
    return column ? [{ column, label, kind }] : [];
  });
  const levels = disc ? [12, 24] : [44];
  let [low, high] = disc ? [0, 26] : [30, 50];
  for (const { column } of lines) for (const v of column.values) high = Math.max(high, v);
  high = ticks(low, high * 1.02, 4).at(-1) < high ? high * 1.05 : ticks(low, high * 1.02, 4).at(-1);
  const happened = run.course.events.filter((event) => event.time_s <= t_end);
  const [marks, n_rows] = rowed(place, happened, t_end);
  const f = frame(place, 200, [low, high], t_end, disc ? "rise of the disc, K" : "temperature, °C", n_rows);
  if (exposure.flame_s !== null) {
    const end = Math.min(exposure.flame_s, t_end);
    f.out.unshift(`<rect class="burning" x="${LEFT}" y="${f.top}" width="${px(f.x(end) - LEFT)}" height="${f.height - f.top - BOTTOM}"/>`);
  }
  for (const level of levels) {
    f.out.push(`<path class="level" d="M${LEFT} ${px(f.y(level))}H${px(f.width - RIGHT)}"/>`);
    f.out.push(`<text class="tiny" x="${LEFT + 5}" y="${px(f.y(level) - 4)}">${level} ${disc ? "K" : "°C"}</text>`);
  }
  for (const { column } of pinned ? lines : []) {
    const old = pinned.course.columns.find((one) => one.header === column.header);
    if (old) f.out.push(`<path class="line pinned" d="${path(pinned.course.time_s, old.values, f.x, f.y)}"/>`);
  }
  for (const { column, label, kind } of lines) {
    f.out.push(`<path class="line ${kind}" d="${path(run.course.time_s, column.values, f.x, f.y)}"/>`);
    if (lines.length > 1) {
      const t = t_end * 0.55;
      const v = at(run.course.time_s, column.values, t);
      f.out.push(`<text class="tiny of-line" x="${px(f.x(t))}" y="${px(f.y(v) - 5)}">${escape(label)}</text>`);
    }
  }
  events(f, marks);
  const told = run.course.events.map((event) => `${event.name} ${fixed(event.time_s, 1)} s`).join("; ");
  finish(place, f, `${disc ? "Rise of the copper disc" : "Temperatures of the skin"} over time. ${told || "Nothing is reached."}`);
}

/** Events with their words and the line above the chart on which those find room, and how many lines. */
function rowed(place, all, t_end) {
  const width = Math.max(280, place.clientWidth);
  const ends = [];
  const marks = [...all].sort((a, b) => a.time_s - b.time_s).map((event) => {
    const x = LEFT + (event.time_s / t_end) * (width - LEFT - RIGHT);
    const words = `${event.name} ${fixed(event.time_s, 1)} s`;
    const wide = words.length * 6.4 + 8;
    // on the right of its line where there is room, else on the left, and never beyond the edge
    const from = x + wide <= width ? x : Math.max(0, x - wide);
    let row = ends.findIndex((end) => end <= from);
    if (row < 0) row = ends.length;
    ends[row] = Math.max(x + 4, from + wide);
    return { words, from, row, time_s: event.time_s };
  });
  return [marks, ends.length];
}

/** Marks with their names above the chart. */
function events(f, marks) {
  for (const { words, from, row, time_s } of marks) {
    const x = f.x(time_s);
    const y = TOP + 6 + ROW * row;
    f.out.push(`<path class="event" d="M${px(x)} ${y - 8}V${f.height - BOTTOM}"/>`);
    f.out.push(`<text class="tiny event-word" x="${px(from + 4)}" y="${y}">${escape(words)}</text>`);
  }
}

/** What crosses a gap, stacked by its ways; what goes back outwards hangs below. */
export function drawWays(place, view, ways, t_end) {
  const times = view.time_s;
  let [low, high] = [0, 1];
  const sums = times.map((_, i) => {
    let [up, down] = [0, 0];
    for (const [key] of WAYS) {
      const v = ways[key][i];
      if (v > 0) up += v;
      else down += v;
    }
    return [up, down];
  });
  // a step of a thousandth of a second says nothing about the rest
  const shown = sums.filter((_, i) => times[i] > 0.02 * t_end);
  for (const [up, down] of shown) [low, high] = [Math.min(low, down), Math.max(high, up)];
  high *= 1.08;
  if (low < 0) low *= 1.08;
  const f = frame(place, 190, [low, high], t_end, "kW/m²");
  f.out.unshift(
    `<defs><clipPath id="ways-clip"><rect x="${LEFT}" y="${f.top}" width="${f.width - LEFT - RIGHT}" height="${f.height - f.top - BOTTOM}"/></clipPath>` +
      `<pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V6" class="hatch"/></pattern>` +
      `<pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="2" cy="2" r="1.1" class="hatch-dot"/></pattern></defs>`,
  );
  const up = times.map(() => 0);
  const down = times.map(() => 0);
  const bands = [];
  for (const [key, , kind] of WAYS) {
    for (const [sign, base] of [[1, up], [-1, down]]) {
      const top = base.map((b, i) => b + (sign * ways[key][i] > 0 ? ways[key][i] : 0));
      if (top.every((v, i) => v === base[i])) continue;
      const there = path(times, top, f.x, f.y);
      const back = path([...times].reverse(), [...base].reverse(), f.x, f.y).replace("M", "L");
      bands.push(`<path class="band ${kind}" d="${there}${back}Z"/>`);
      if (kind === "way-radiation") bands.push(`<path fill="url(#hatch)" d="${there}${back}Z"/>`);
      if (kind === "way-steam") bands.push(`<path fill="url(#dots)" d="${there}${back}Z"/>`);
      top.forEach((v, i) => (base[i] = v));
    }
  }
  f.out.push(`<g clip-path="url(#ways-clip)">${bands.join("")}</g>`);
  f.out.push(`<path class="zero" d="M${LEFT} ${px(f.y(0))}H${px(f.width - RIGHT)}"/>`);
  finish(place, f, `Heat through the gap in kilowatts per square metre over time, by conduction, moving air, radiation and steam.`);
}

/** The ways at a time, in words and numbers. */
export function waysNow(place, view, ways, t) {
  const values = WAYS.map(([key]) => at(view.time_s, ways[key], t));
  const sum = values.reduce((all, one) => all + one, 0);
  const item = ([, words, kind], i) => `<li><span class="swatch ${kind}"></span>${words} <b>${fixed(values[i], 2)}</b></li>`;
  place.innerHTML = `${WAYS.map(item).join("")}<li>together <b>${fixed(sum, 2)}</b> kW/m² at ${fixed(t, 1)} s</li>`;
}
