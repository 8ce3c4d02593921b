// Plies and gaps as a list that is edited, for whoever would rather type than drag.

import { exchange, gapBehind, placeOf, remove, setGap, setOwn, swap } from "./state.js";
import { escape } from "./look.js";

const ROLES = { outer: "outer", felt: "felts", barrier: "barriers", lining: "linings", inner: "inner", embroidery: "embroidery" };

/** Options of all fabrics by what they are for; those of the layup's own file first. */
export function fabricOptions(shelf, own, chosen) {
  const option = (name, more) =>
    `<option value="${escape(name)}"${name === chosen ? " selected" : ""}>${escape(name)}${more}</option>`;
  const groups = [];
  if (own.length > 0) groups.push(`<optgroup label="of this file">${own.map((name) => option(name, "")).join("")}</optgroup>`);
  for (const [role, words] of Object.entries(ROLES)) {
    const those = shelf.fabrics.filter((fabric) => fabric.role === role);
    if (those.length === 0) continue;
    const all = those.map((fabric) => option(fabric.name, ` · ${fabric.areal_density} g/m², ${fabric.thickness} mm`));
    groups.push(`<optgroup label="${words}">${all.join("")}</optgroup>`);
  }
  return groups.join("");
}

/** Fabrics that the layup's file brings with it. */
export const ownFabrics = (state) => (state.layup.fabric ?? []).map((fabric) => String(fabric.name));

/** The list; fields keep the keyboard's place while the numbers in them change. */
export class Entries {
  constructor(place, shelf, store) {
    Object.assign(this, { place, shelf, store });
    this.shape = "";
    place.addEventListener("input", (event) => this.typed(event, true));
    place.addEventListener("change", (event) => this.typed(event, false));
    place.addEventListener("click", (event) => this.pressed(event));
  }

  /** Shows a state and, where it is of this state, its answer. */
  show(state, layup) {
    const stack = state.layup.stack;
    const plies = stack.filter((entry) => !("gap_mm" in entry));
    const shape = plies.map((entry) => entry.ply).join("|");
    if (shape !== this.shape) {
      this.shape = shape;
      const own = ownFabrics(state);
      const n = plies.length;
      this.place.innerHTML = plies.map((entry, i) => this.item(entry, i + 1, n, own)).join("");
    }
    plies.forEach((entry, i) => {
      const ply = i + 1;
      this.fill(ply, "gap", gapBehind(stack, ply));
      this.fill(ply, "thickness_mm", entry.thickness_mm ?? "");
      this.fill(ply, "regain_pct", entry.regain_pct ?? "");
      const piece = layup?.stack[placeOf(stack, ply)];
      const said = this.place.querySelector(`[data-ply="${ply}"] .said`);
      if (said && piece && !piece.is_gap) {
        said.textContent = `${piece.thickness} mm, ${piece.areal_density} g/m²`;
        this.field(ply, "thickness_mm").placeholder = piece.thickness;
        if (piece.regain_pct !== null) this.field(ply, "regain_pct").placeholder = String(Math.round(piece.regain_pct * 100) / 100);
      }
    });
  }

  item(entry, ply, n, own) {
    const word = escape(entry.ply);
    const number = (key, label, most, step) =>
      `<label>${label} <input type="number" data-key="${key}" min="0" max="${most}" step="${step}" inputmode="decimal" aria-label="${label}, ply ${ply} ${word}"></label>`;
    const button = (act, label, off) =>
      `<button type="button" data-act="${act}" aria-label="${label} ply ${ply}, ${word}"${off ? " disabled" : ""}>${label}</button>`;
    return (
      `<li data-ply="${ply}"><div class="ply"><span class="no" aria-hidden="true">${ply}</span>` +
      `<select data-key="ply" aria-label="Fabric of ply ${ply}">${fabricOptions(this.shelf, own, entry.ply)}</select>` +
      `<span class="said small"></span>` +
      `<div class="fields tight">${number("thickness_mm", "thick, mm", 50, "any")}${number("regain_pct", "water, %", 400, "any")}</div>` +
      `<div class="buttons">${button("up", "Outwards", ply === 1)}${button("down", "Inwards", ply === n)}${button("remove", "Remove", n === 1)}</div></div>` +
      `<div class="gap-row">${number("gap", ply === n ? "air behind it, mm" : "air to the next, mm", 100, 0.1)}</div></li>`
    );
  }

  field(ply, key) {
    return this.place.querySelector(`[data-ply="${ply}"] [data-key="${key}"]`);
  }

  fill(ply, key, value) {
    const field = this.field(ply, key);
    // what is being typed is not overwritten
    if (field && (field !== document.activeElement || Number(field.value) !== Number(value))) {
      if (field === document.activeElement && field.value === "") return;
      field.value = value;
    }
  }

  typed(event, goesOn) {
    const field = event.target;
    const ply = Number(field.closest("[data-ply]")?.dataset.ply);
    const key = field.dataset.key;
    if (!ply || !key) return;
    if (key === "ply") {
      if (!goesOn) this.store.change((state) => swap(state, ply, field.value));
      return;
    }
    if (!field.checkValidity()) return;
    const gesture = goesOn ? `typed-${ply}-${key}` : null;
    const value = field.value === "" ? null : field.valueAsNumber;
    if (key === "gap") this.store.change((state) => setGap(state, ply, value ?? 0), gesture);
    else if (value !== 0 || key !== "thickness_mm") this.store.change((state) => setOwn(state, ply, key, value), gesture);
    if (!goesOn) this.store.settle();
  }

  pressed(event) {
    const act = event.target.dataset?.act;
    const ply = Number(event.target.closest("[data-ply]")?.dataset.ply);
    if (!act || !ply) return;
    if (act === "up") this.store.change((state) => exchange(state, ply - 1));
    if (act === "down") this.store.change((state) => exchange(state, ply));
    if (act === "remove") this.store.change((state) => remove(state, ply));
    const next = { up: ply - 1, down: ply + 1, remove: Math.max(1, ply - 1) }[act];
    const again = this.place.querySelector(`[data-ply="${next}"] [data-act="${act}"]`);
    (again?.disabled ? this.field(next, "ply") : again)?.focus();
  }
}
