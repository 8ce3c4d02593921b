// The state of the page: what is asked, every step back and forward, and its form in the address.

const copy = (value) => JSON.parse(JSON.stringify(value));

/** The state with its history; `heard` is called after every change. */
export class Store {
  constructor(start, heard) {
    this.text = JSON.stringify(start);
    this.past = [];
    this.future = [];
    this.gesture = null;
    this.heard = heard;
  }

  get state() {
    return JSON.parse(this.text);
  }

  /** Changes a copy of the state. Changes of one gesture are one step back. */
  change(how, gesture = null) {
    const next = this.state;
    how(next);
    const text = JSON.stringify(next);
    if (text === this.text) return;
    const goesOn = gesture !== null && gesture === this.gesture;
    if (!goesOn) this.past.push(this.text);
    this.gesture = gesture;
    this.future = [];
    this.text = text;
    this.heard(gesture !== null);
  }

  /** Ends a gesture: the next change is a step of its own. */
  settle() {
    this.gesture = null;
    this.heard(false);
  }

  replace(state) {
    this.change((next) => {
      for (const key of Object.keys(next)) delete next[key];
      Object.assign(next, copy(state));
    });
  }

  undo() {
    this.step(this.past, this.future);
  }

  redo() {
    this.step(this.future, this.past);
  }

  step(from, to) {
    if (from.length === 0) return;
    to.push(this.text);
    this.text = from.pop();
    this.gesture = null;
    this.heard(false);
  }
}

/** The state as the part of an address behind the #. */
export function toHash(text) {
  const bytes = new TextEncoder().encode(text);
  let binary = "";
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return "#" + btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** The state of an address; null where there is none or it cannot be read. */
export function fromHash(hash) {
  if (hash.length < 2) return null;
  try {
    const binary = atob(hash.slice(1).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
    const state = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
    const fits = state && typeof state === "object" && state.layup && Array.isArray(state.layup.stack);
    return fits ? state : null;
  } catch {
    return null;
  }
}

const isGap = (entry) => entry !== undefined && "gap_mm" in entry;

/** The place in the stack of the nth ply, counted from 1. */
export function placeOf(stack, ply) {
  let n = 0;
  return stack.findIndex((entry) => !isGap(entry) && ++n === ply);
}

/** The gap behind a ply, 0 where faces touch. */
export function gapBehind(stack, ply) {
  const next = stack[placeOf(stack, ply) + 1];
  return isGap(next) ? next.gap_mm : 0;
}

/** Opens, closes or sets the gap behind a ply. */
export function setGap(state, ply, mm) {
  const stack = state.layup.stack;
  const i = placeOf(stack, ply);
  if (i < 0) return;
  if (isGap(stack[i + 1])) {
    if (mm > 0) stack[i + 1].gap_mm = mm;
    else stack.splice(i + 1, 1);
  } else if (mm > 0) {
    // no joint leads into air
    for (const key of ["joint", "joint_W_m2K", "joint_from"]) delete stack[i][key];
    stack.splice(i + 1, 0, { gap_mm: mm });
  }
}

/** Sets a value of a ply's own; null takes the shelf's again. */
export function setOwn(state, ply, key, value) {
  const entry = state.layup.stack[placeOf(state.layup.stack, ply)];
  if (!entry) return;
  if (value === null) delete entry[key];
  else entry[key] = value;
}

/** Puts another fabric in a ply's place; what was said of the old one goes. */
export function swap(state, ply, name) {
  const i = placeOf(state.layup.stack, ply);
  if (i >= 0) state.layup.stack[i] = { ply: name };
}

/** Exchanges a ply with the next one; gaps stay where they are. */
export function exchange(state, ply) {
  const stack = state.layup.stack;
  const [i, j] = [placeOf(stack, ply), placeOf(stack, ply + 1)];
  if (i >= 0 && j >= 0) [stack[i], stack[j]] = [stack[j], stack[i]];
}

/** Takes a ply out; the gaps on either side become one. */
export function remove(state, ply) {
  const stack = state.layup.stack;
  const i = placeOf(stack, ply);
  if (i < 0) return;
  stack.splice(i, 1);
  if (i === 0 && isGap(stack[0])) stack.splice(0, 1);
  if (i > 0 && isGap(stack[i - 1]) && isGap(stack[i])) {
    const both = stack[i - 1].gap_mm + stack[i].gap_mm;
    stack[i - 1].gap_mm = Math.round(both * 1000) / 1000;
    stack.splice(i, 1);
  }
}

/** Adds a ply behind the last, in front of a gap that stands there. */
export function add(state, name) {
  const stack = state.layup.stack;
  const at = isGap(stack[stack.length - 1]) ? stack.length - 1 : stack.length;
  stack.splice(at, 0, { ply: name });
}
