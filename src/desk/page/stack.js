// The stack cut through, to scale: flame on the side that the exposure says, disc or skin on the other.

import { at, between, escape, fixed, px, ramp, ticks } from "./look.js";

const NS = "http://www.w3.org/2000/svg";
/** Most that a bar opens a gap or makes a ply [mm]; more is typed in below. */
const MOST = { gap: 25, ply: 10 };
/** Least thickness that a bar leaves of a ply [mm]. */
const LEAST_PLY = 0.05;
const DISC_PX = 14;

/** Draws a view of an answer and lets its gaps and plies be dragged. */
export class Stack {
  /** `hands`: gap(ply, mm, gesture), ply(ply, mm, gesture), settle(), read(text). */
  constructor(place, hands) {
    this.hands = hands;
    this.svg = document.createElementNS(NS, "svg");
    this.svg.setAttribute("class", "stack-svg");
    this.svg.setAttribute("role", "group");
    this.svg.setAttribute("aria-label", "Cut through the layup");
    this.still = this.group("still");
    this.field = this.group("field");
    this.front = this.group("front");
    this.bars = this.group("bars");
    place.append(this.svg);
    this.place = place;
    this.handles = new Map();
    this.dragged = null;
    this.svg.addEventListener("pointermove", (event) => this.tell(event));
    this.svg.addEventListener("pointerleave", () => this.tell(null));
  }

  group(name) {
    const group = document.createElementNS(NS, "g");
    group.setAttribute("class", name);
    if (name !== "bars") group.setAttribute("aria-hidden", "true");
    this.svg.append(group);
    return group;
  }

  /** Shows a view at a time. */
  show(view, answer, t, range) {
    Object.assign(this, { view, answer, range });
    this.layOut();
    this.drawStill();
    this.drawBars();
    this.at(t);
  }

  /** Where everything is: `along` the depth, `across` it. */
  layOut() {
    const { depth_mm: depth } = this.view;
    const width = Math.max(280, this.place.clientWidth);
    const upwards = this.answer.exposure.flame_from === "below";
    this.upwards = upwards;
    const total = depth[depth.length - 1];
    const long = upwards ? 400 : width - 74;
    const room = long - (this.view.behind === "disc" ? DISC_PX + 4 : 0);
    // under the hand the scale stands still, unless the stack would leave the sheet
    if (!this.dragged || !this.scale || total * this.scale > room) {
      this.scale = room / Math.max(total, 0.3);
    }
    const narrow = width < 420;
    const lanes = upwards ? (narrow ? 84 : Math.min(250, width * 0.4)) : 170;
    this.temp = [44, 44 + lanes];
    this.water = [this.temp[1] + 6, this.temp[1] + (narrow ? 28 : 36)];
    this.start = upwards ? 440 : 44;
    this.end = upwards ? width : this.water[1] + 62;
    const [w, h] = upwards ? [width, 484] : [width, this.end];
    this.size = [w, h];
    this.svg.setAttribute("viewBox", `0 0 ${w} ${h}`);
    this.svg.setAttribute("width", w);
    this.svg.setAttribute("height", h);
  }

  along(depth) {
    return this.upwards ? this.start - depth * this.scale : this.start + depth * this.scale;
  }

  /** A rectangle between two depths and two places across. */
  rect(from, to, [a, b], attributes) {
    const [p, q] = [this.along(from), this.along(to)].sort((one, other) => one - other);
    const [x, y, w, h] = this.upwards ? [a, p, b - a, q - p] : [p, a, q - p, b - a];
    return `<rect x="${px(x)}" y="${px(y)}" width="${px(w)}" height="${px(h)}" ${attributes}/>`;
  }

  line(depth, [a, b], attributes) {
    const p = this.along(depth);
    const ends = this.upwards ? [a, p, b, p] : [p, a, p, b];
    return `<path d="M${px(ends[0])} ${px(ends[1])}L${px(ends[2])} ${px(ends[3])}" ${attributes}/>`;
  }

  point(depth, across) {
    return this.upwards ? [across, this.along(depth)] : [this.along(depth), across];
  }

  text(depth, across, words, kind, anchor = "start", [dx, dy] = [0, 0]) {
    const [x, y] = this.point(depth, across);
    return `<text x="${px(x + dx)}" y="${px(y + dy)}" class="${kind}" text-anchor="${anchor}">${escape(words)}</text>`;
  }

  /** What does not change with time: outlines, names, a scale, what is outside and behind. */
  drawStill() {
    const { view, answer } = this;
    const depth = view.depth_mm;
    const out = [
      `<defs><pattern id="air" width="5" height="5" patternUnits="userSpaceOnUse"><circle cx="1.5" cy="1.5" r="0.8" class="air-dot"/></pattern></defs>`,
    ];
    const labels = [];
    let skin = null;
    for (const part of view.parts) {
      const [from, to] = [depth[part.first], depth[part.last]];
      if (part.kind === "ply") {
        const piece = answer.layup.stack[part.entry];
        labels.push({
          depth: (from + to) / 2,
          words: `${part.ply}  ${part.name}`,
          more: `${fixed(to - from, 2)} mm${piece ? `, ${piece.areal_density} g/m²` : ""}`,
          number: part.ply,
        });
      } else if (part.kind === "gap") {
        labels.push({ depth: (from + to) / 2, words: "air", more: `${fixed(to - from, 2)} mm`, number: "" });
      } else if (part.kind === "skin") {
        skin = [skin?.[0] ?? from, to];
      }
    }
    if (skin) labels.push({ depth: (skin[0] + skin[1]) / 2, words: "skin", more: `${fixed(skin[1] - skin[0], 2)} mm`, number: "" });
    if (this.upwards) this.labelsBeside(labels, out);
    else this.labelsBelow(labels, out);
    const middle = (this.temp[0] + this.temp[1]) / 2;
    const source = answer.exposure.is_radiant ? "radiant source" : "flame";
    if (this.upwards) {
      out.push(`<text x="${px(middle)}" y="${px(this.start + 38)}" class="side" id="source-word" text-anchor="middle">${source}</text>`);
      const behind = view.behind === "disc" ? "copper disc" : "body";
      out.push(`<text x="${px(middle)}" y="14" class="side" text-anchor="middle">${behind}</text>`);
    } else {
      out.push(`<text x="4" y="12" class="side" id="source-word">${source}</text>`);
      const behind = view.behind === "disc" ? "copper disc" : "body";
      const [x, y] = [this.size[0] - 8, middle];
      out.push(`<text transform="translate(${px(x)} ${px(y)}) rotate(-90)" class="side" text-anchor="middle">${behind}</text>`);
    }
    if (view.water_tenth_g_m2.length > 0) {
      const word = this.upwards
        ? `<text x="${px((this.water[0] + this.water[1]) / 2)}" y="${px(this.start + 16)}" class="tiny" text-anchor="middle">water</text>`
        : `<text x="4" y="${px((this.water[0] + this.water[1]) / 2 + 4)}" class="tiny">water</text>`;
      out.push(word);
    }
    out.push(this.scaleBar());
    this.still.innerHTML = out.join("");
  }

  labelsBeside(labels, out) {
    const x = this.water[1] + 26;
    const wanted = labels.map((label) => this.along(label.depth));
    const placed = spread(wanted, 30, 16, this.start + 6);
    const letters = Math.floor((this.size[0] - x) / 7.6);
    labels.forEach((label, i) => {
      if (label.words.length > letters) label.words = `${label.words.slice(0, letters - 1)}…`;
      out.push(`<path class="lead" d="M${px(this.water[1] + 2)} ${px(wanted[i])}L${px(x - 4)} ${px(placed[i])}"/>`);
      out.push(`<text x="${px(x)}" y="${px(placed[i] - 1)}" class="label">${escape(label.words)}</text>`);
      out.push(`<text x="${px(x)}" y="${px(placed[i] + 12)}" class="tiny">${escape(label.more)}</text>`);
    });
  }

  labelsBelow(labels, out) {
    const y = this.water[1] + 34;
    const wanted = labels.map((label) => this.along(label.depth));
    const placed = spread([...wanted].reverse(), 54, 22, this.size[0] - 22).reverse();
    labels.forEach((label, i) => {
      out.push(`<path class="lead" d="M${px(wanted[i])} ${px(this.water[1] + 2)}L${px(placed[i])} ${px(y - 14)}"/>`);
      const words = label.number === "" ? label.words : String(label.number);
      out.push(`<text x="${px(placed[i])}" y="${px(y)}" class="label" text-anchor="middle">${escape(words)}</text>`);
      out.push(`<text x="${px(placed[i])}" y="${px(y + 13)}" class="tiny" text-anchor="middle">${escape(label.more.split(",")[0])}</text>`);
    });
  }

  /** A round length at the scale of the stack. */
  scaleBar() {
    const mm = ticks(0, 100 / this.scale, 3).at(-1);
    const long = mm * this.scale;
    if (this.upwards) {
      return `<path class="scale" d="M10 ${px(this.start)}V${px(this.start - long)}M6 ${px(this.start)}H14M6 ${px(this.start - long)}H14"/>` +
        `<text class="tiny" x="4" y="${px(this.start + 14)}">${mm} mm</text>`;
    }
    const y = this.size[1] - 6;
    return `<path class="scale" d="M${px(this.start)} ${px(y)}h${px(long)}M${px(this.start)} ${px(y - 4)}v8M${px(this.start + long)} ${px(y - 4)}v8"/>` +
      `<text class="tiny" x="${px(this.start + long + 6)}" y="${px(y + 4)}">${mm} mm</text>`;
  }

  /** The temperatures of all nodes at a time [°C]. */
  temps(t) {
    const { time_s: times, temperature_tenth_C: all, depth_mm: depth } = this.view;
    const n = depth.length;
    const [i, share] = between(times, t);
    const j = Math.min(i + 1, times.length - 1);
    return Array.from({ length: n }, (_, k) => (all[i * n + k] * (1 - share) + all[j * n + k] * share) / 10);
  }

  /** What changes with time. */
  at(t) {
    this.t = t;
    const { view, range } = this;
    const depth = view.depth_mm;
    const temps = this.temps(t);
    const colour = (temp) => ramp((temp - range[0]) / (range[1] - range[0]));
    const out = [];
    for (const part of view.parts) {
      if (part.kind === "gap" || part.kind === "joint") {
        const [a, b] = [part.first, part.last];
        for (let s = 0; s < 6; s += 1) {
          const mix = (s + 0.5) / 6;
          const [from, to] = [s, s + 1].map((k) => depth[a] + (k / 6) * (depth[b] - depth[a]));
          out.push(this.rect(from, to, this.temp, `fill="${colour(temps[a] + mix * (temps[b] - temps[a]))}" fill-opacity="0.5"`));
        }
        out.push(this.rect(depth[a], depth[b], this.temp, `class="air-space" fill="url(#air)"`));
        continue;
      }
      for (let k = part.first; k < part.last; k += 1) {
        const fill = colour((temps[k] + temps[k + 1]) / 2);
        out.push(this.rect(depth[k], depth[k + 1], this.temp, `fill="${fill}" stroke="${fill}" stroke-width="0.6"`));
      }
      out.push(this.rect(depth[part.first], depth[part.last], this.temp, `class="outline ${part.kind}"`));
    }
    const last = depth[depth.length - 1];
    if (view.behind === "disc") {
      const thick = DISC_PX / this.scale;
      out.push(this.rect(last, last + thick, this.temp, `class="disc" fill="${colour(temps[temps.length - 1])}"`));
    }
    this.drawWater(t, out);
    this.drawSource(t, out);
    this.field.innerHTML = out.join("");
    this.crosshair();
  }

  /** Water that each place holds per depth, and steam on its way through the gaps. */
  drawWater(t, out) {
    const { view } = this;
    const { water_tenth_g_m2: all, depth_mm: depth, time_s: times } = view;
    if (all.length === 0) return;
    const n = depth.length;
    const [i, share] = between(times, t);
    const j = Math.min(i + 1, times.length - 1);
    const held = (k) => (all[i * n + k] * (1 - share) + all[j * n + k] * share) / 10;
    const width = (k) => {
      let sum = 0;
      for (const part of view.parts) {
        if (part.kind !== "ply" || k < part.first || k > part.last) continue;
        if (k > part.first) sum += (depth[k] - depth[k - 1]) / 2;
        if (k < part.last) sum += (depth[k + 1] - depth[k]) / 2;
      }
      return sum;
    };
    for (const part of view.parts) {
      if (part.kind !== "ply") continue;
      for (let k = part.first; k < part.last; k += 1) {
        const density = (held(k) / width(k) + held(k + 1) / width(k + 1)) / 2;
        // g/m² in each mm; cloth holds some 10 to 30, soaked felt a few hundred
        const shown = Math.min(1, Math.sqrt(Math.max(0, density) / 150));
        out.push(this.rect(depth[k], depth[k + 1], this.water, `class="water" fill-opacity="${px(shown)}"`));
      }
      out.push(this.rect(depth[part.first], depth[part.last], this.water, `class="outline faint"`));
    }
    if (view.behind === "disc" && view.parts.some((part) => part.ply > 0 && part.last === n - 1 && part.kind !== "ply")) {
      const film = held(n - 1);
      const shown = Math.min(1, Math.sqrt(Math.max(0, film) / 30));
      out.push(this.rect(depth[n - 1], depth[n - 1] + DISC_PX / this.scale, this.water, `class="water" fill-opacity="${px(shown)}"`));
    }
    for (const ways of view.ways) {
      const q = at(times, ways.vapour_kW_m2, t);
      if (Math.abs(q) < 0.1) continue;
      const node = view.parts.find((part) => part.kind === "ply" && part.ply === ways.ply).last;
      const middle = (depth[node] + depth[node + 1]) / 2;
      const [x, y] = this.point(middle, (this.water[0] + this.water[1]) / 2);
      const size = 4 + 3 * Math.min(1, Math.sqrt(Math.abs(q) / 10));
      const inwards = q > 0 ? 1 : -1;
      const turn = this.upwards ? (inwards > 0 ? -90 : 90) : inwards > 0 ? 0 : 180;
      out.push(`<path class="steam" transform="translate(${px(x)} ${px(y)}) rotate(${turn}) scale(${px(size / 6)})" d="M-9 -3H2V-7L10 0L2 7V3H-9Z"/>`);
    }
  }

  /** Flames or rays while they last. */
  drawSource(t, out) {
    const { flame_s: end, is_radiant: radiant } = this.answer.exposure;
    const on = end === null || t <= end;
    const [a, b] = this.temp;
    for (let k = 0; k < 7; k += 1) {
      const across = a + ((k + 0.5) / 7) * (b - a);
      const [x, y] = this.upwards ? [across, this.start + 5] : [this.start - 5, across];
      const turn = this.upwards ? 0 : 90;
      const shape = radiant ? "M-1 22V6H-4L0 0L4 6H1V22Z" : "M0 0C5 8 6 12 3 19H-3C-6 12 -4 9 0 0Z";
      out.push(`<path class="${on ? (radiant ? "ray" : "flame") : "away"}" transform="translate(${px(x)} ${px(y)}) rotate(${turn})" d="${shape}"/>`);
    }
    const word = this.still.querySelector("#source-word");
    const name = radiant ? "radiant source" : "flame";
    if (word) word.textContent = on ? name : `${name} taken away`;
  }

  /** Bars to take hold of; those that are there stay, so that the keyboard keeps its place. */
  drawBars() {
    const depth = this.view.depth_mm;
    const plies = this.view.parts.filter((part) => part.kind === "ply");
    const wanted = new Map();
    plies.forEach((part, i) => {
      const next = i + 1 < plies.length ? depth[plies[i + 1].first] : depth[part.last + 1] ?? depth[part.last];
      const inner = i + 1 === plies.length && this.view.behind === "skin" && part.last + 1 < depth.length
        ? depth[this.view.parts.find((one) => one.kind === "skin").first] : next;
      const behind = i + 1 < plies.length ? `ply ${part.ply + 1}` : this.view.behind === "disc" ? "the disc" : "the skin";
      const piece = this.answer.layup.stack[part.entry + 1];
      wanted.set(`gap-${part.ply}`, {
        ply: part.ply, kind: "gap", depth: inner, value: piece?.is_gap ? piece.thickness_mm : 0,
        name: `Air between ply ${part.ply} and ${behind}`,
      });
      // under pressure a thickness is the pressure's own
      if (this.answer.layup.is_pressed) return;
      const own = this.answer.layup.stack[part.entry]?.thickness_mm ?? depth[part.last] - depth[part.first];
      wanted.set(`ply-${part.ply}`, {
        ply: part.ply, kind: "ply", depth: depth[part.last], value: own,
        // beside a stitch line a ply is drawn thinner than it is told
        shown: (depth[part.last] - depth[part.first]) / own,
        name: `Thickness of ply ${part.ply}, ${part.name}`,
      });
    });
    for (const [key, handle] of this.handles) {
      if (!wanted.has(key)) {
        handle.remove();
        this.handles.delete(key);
      }
    }
    for (const [key, bar] of wanted) {
      const handle = this.handles.get(key) ?? this.newHandle(key);
      this.place_(handle, bar);
    }
    // in the order of the stack, whatever was made first
    for (const key of wanted.keys()) {
      const handle = this.handles.get(key);
      if (document.activeElement !== handle && !this.dragged) this.bars.append(handle);
    }
  }

  place_(handle, bar) {
    handle.bar = bar;
    const lane = bar.kind === "gap" ? this.water[1] + 12 : this.temp[0] - 14;
    const [x, y] = this.point(bar.depth, lane);
    handle.setAttribute("transform", `translate(${px(x)} ${px(y)})`);
    const [from, to] = bar.kind === "gap" ? [this.temp[1] - lane, -9] : [9, this.temp[0] - lane + 14];
    handle.querySelector("path").setAttribute("d", this.upwards ? `M${px(from)} 0H${px(to)}` : `M0 ${px(from)}V${px(to)}`);
    const value = Math.round(bar.value * 1000) / 1000;
    handle.setAttribute("aria-label", bar.name);
    handle.setAttribute("aria-valuemin", bar.kind === "gap" ? 0 : LEAST_PLY);
    handle.setAttribute("aria-valuemax", MOST[bar.kind]);
    handle.setAttribute("aria-valuenow", value);
    handle.setAttribute("aria-valuetext", value === 0 ? "faces touch" : `${fixed(value, 2)} millimetres`);
  }

  newHandle(key) {
    const handle = document.createElementNS(NS, "g");
    handle.setAttribute("class", `bar ${key.split("-")[0]}`);
    handle.setAttribute("role", "slider");
    handle.setAttribute("tabindex", "0");
    handle.setAttribute("data-bar", key);
    handle.setAttribute("aria-orientation", this.upwards ? "vertical" : "horizontal");
    handle.innerHTML = `<path/><circle class="touch" r="15"/><circle class="knob" r="7"/>`;
    handle.addEventListener("pointerdown", (event) => this.take(handle, event));
    handle.addEventListener("keydown", (event) => this.key(handle, event));
    handle.addEventListener("keyup", () => this.hands.settle());
    this.handles.set(key, handle);
    this.bars.append(handle);
    return handle;
  }

  take(handle, event) {
    if (event.button !== 0) return;
    event.preventDefault();
    handle.focus();
    handle.setPointerCapture(event.pointerId);
    const place = (one) => (this.upwards ? -one.clientY : one.clientX);
    const start = place(event);
    const value = handle.bar.value;
    this.dragged = handle;
    const gesture = `${handle.dataset.bar}-${event.timeStamp}`;
    const move = (one) => {
      const shrink = this.size[0] / this.svg.getBoundingClientRect().width;
      this.set(handle, value + ((place(one) - start) * shrink) / (this.scale * (handle.bar.shown || 1)), gesture, one.timeStamp);
    };
    const end = () => {
      handle.removeEventListener("pointermove", move);
      handle.removeEventListener("pointerup", end);
      handle.removeEventListener("pointercancel", end);
      this.dragged = null;
      this.hands.settle();
    };
    handle.addEventListener("pointermove", move);
    handle.addEventListener("pointerup", end);
    handle.addEventListener("pointercancel", end);
  }

  key(handle, event) {
    const { bar } = handle;
    const step = (event.shiftKey ? 10 : 1) * (bar.kind === "gap" ? 0.1 : 0.01);
    const steps = {
      ArrowUp: step, ArrowRight: step, ArrowDown: -step, ArrowLeft: -step,
      PageUp: 10 * step, PageDown: -10 * step, Home: -Infinity, End: Infinity,
    };
    if (!(event.key in steps) || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const now = this.hands.valueOf(bar.kind, bar.ply) ?? bar.value;
    this.set(handle, now + steps[event.key], `${handle.dataset.bar}-keys`, event.timeStamp);
  }

  set(handle, mm, gesture, since) {
    const { kind, ply } = handle.bar;
    const least = kind === "gap" ? 0 : LEAST_PLY;
    const bounded = Math.min(MOST[kind], Math.max(least, mm));
    this.hands[kind](ply, Math.round(bounded * 100) / 100, gesture, since);
  }

  /** Numbers where the pointer stands. */
  tell(event) {
    this.pointed = null;
    if (event && this.view && !this.dragged) {
      const box = this.svg.getBoundingClientRect();
      const scale = this.size[0] / box.width;
      const [x, y] = [(event.clientX - box.left) * scale, (event.clientY - box.top) * scale];
      const depth = this.upwards ? (this.start - y) / this.scale : (x - this.start) / this.scale;
      const across = this.upwards ? x : y;
      const all = this.view.depth_mm;
      if (across >= this.temp[0] && across <= this.water[1] && depth >= 0 && depth <= all[all.length - 1]) {
        this.pointed = depth;
      }
    }
    this.crosshair();
  }

  crosshair() {
    if (this.pointed === null || this.pointed === undefined) {
      this.front.innerHTML = "";
      this.hands.read("");
      return;
    }
    const depth = this.view.depth_mm;
    const temps = this.temps(this.t);
    const temp = at(depth, temps, this.pointed);
    this.front.innerHTML = this.line(this.pointed, [this.temp[0], this.water[1]], 'class="cross"');
    const part = this.view.parts.find((one) => this.pointed >= depth[one.first] && this.pointed <= depth[one.last]);
    const where = part ? (part.kind === "ply" ? `ply ${part.ply}, ${part.name}` : part.kind === "joint" ? "between touching faces" : part.name) : "";
    this.hands.read(`${fixed(this.pointed, 2)} mm below the outer face (${where}): ${fixed(temp, 1)} °C at ${fixed(this.t, 2)} s`);
  }
}

/** Places at least `apart` from each other, as near as can be to those wanted, which fall. */
function spread(wanted, apart, low, high) {
  const placed = [...wanted];
  const step = Math.min(apart, (high - low) / Math.max(1, wanted.length - 1));
  for (let k = 0; k < placed.length; k += 1) {
    const most = k === 0 ? high : placed[k - 1] - step;
    placed[k] = Math.min(placed[k], most);
  }
  for (let k = placed.length - 1; k >= 0; k -= 1) {
    const least = k === placed.length - 1 ? low : placed[k + 1] + step;
    placed[k] = Math.max(placed[k], least);
  }
  return placed;
}
