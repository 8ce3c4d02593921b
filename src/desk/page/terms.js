// What the layup is put through: exposure, times, skin, targets, pressure and quilting.

import { escape } from "./look.js";

const byId = (id) => document.getElementById(id);
const QUILTING = ["pitch_mm", "stitch_width_mm", "loft_mm", "pressed_mm"];

/** Fields of the terms, kept in step with the state. */
export class Terms {
  constructor(shelf, store) {
    Object.assign(this, { shelf, store, stitched: null });
    const option = (value, words) => `<option value="${escape(value)}">${escape(words)}</option>`;
    byId("exposure").innerHTML = shelf.exposures.map((one) => option(one.name, `${one.name} · ${one.brief}`)).join("");
    byId("skin").innerHTML = shelf.skins.map((name) => option(name, name)).join("");
    byId("pattern").innerHTML = shelf.patterns.map((word) => option(word, word)).join("");
    byId("targets").innerHTML = shelf.targets
      .map((one) => `<label class="check" data-exposure="${escape(one.exposure)}"><input type="checkbox" value="${escape(one.name)}"><span>${escape(one.name)} <span class="small">${escape(one.asks)}, ${escape(one.standard)}</span></span></label>`)
      .join("");
    this.choice("exposure", (state, value) => { state.exposure = value; });
    this.choice("skin", (state, value) => {
      if (value === shelf.skins[0]) delete state.skin;
      else state.skin = value;
    });
    this.choice("pattern", (state, value) => { if (state.layup.quilting) state.layup.quilting.pattern = value; });
    this.number("flame", (state, value) => put(state, "flame_s", value));
    this.number("until", (state, value) => put(state, "until_s", value));
    this.number("pressure", (state, value) => put(state.layup, "pressure_kPa", value === 0 ? null : value));
    for (const key of QUILTING) {
      this.number(key, (state, value) => { if (state.layup.quilting && value !== null) state.layup.quilting[key] = value; });
    }
    byId("flat").addEventListener("change", (event) => store.change((state) => { state.flat = event.target.checked; }));
    byId("quilted").addEventListener("change", (event) => this.quilt(event.target.checked));
    byId("targets").addEventListener("change", () => {
      const chosen = [...byId("targets").querySelectorAll("input:checked")].map((input) => input.value);
      store.change((state) => { state.against = chosen; });
    });
  }

  choice(id, put_) {
    byId(id).addEventListener("change", (event) => this.store.change((state) => put_(state, event.target.value)));
  }

  number(id, put_) {
    const field = byId(id);
    const typed = (goesOn) => {
      if (!field.checkValidity()) return;
      const value = field.value === "" ? null : field.valueAsNumber;
      this.store.change((state) => put_(state, value), goesOn ? `typed-${id}` : null);
      if (!goesOn) this.store.settle();
    };
    field.addEventListener("input", () => typed(true));
    field.addEventListener("change", () => typed(false));
  }

  /** Quilts the layup as it was before, or in the manner of the first quilted one on the shelf. */
  quilt(yes) {
    this.store.change((state) => {
      if (!yes) {
        this.stitched = state.layup.quilting;
        delete state.layup.quilting;
        return;
      }
      const like = this.shelf.layups.find((one) => one.layup.quilting);
      state.layup.quilting = this.stitched ?? { ...like.layup.quilting };
    });
  }

  /** Shows a state. */
  show(state) {
    const fill = (id, value) => {
      const field = byId(id);
      if (field !== document.activeElement) field.value = value ?? "";
      else if (field.value !== "" && Number(field.value) !== Number(value)) field.value = value ?? "";
    };
    if (byId("name") !== document.activeElement) byId("name").value = state.layup.name ?? "";
    byId("exposure").value = state.exposure;
    byId("skin").value = state.skin ?? this.shelf.skins[0];
    fill("flame", state.flame_s);
    fill("until", state.until_s);
    fill("pressure", state.layup.pressure_kPa);
    const quilting = state.layup.quilting;
    byId("quilted").checked = Boolean(quilting);
    for (const key of QUILTING) {
      byId(key).disabled = !quilting;
      fill(key, quilting?.[key]);
    }
    byId("pattern").disabled = !quilting;
    if (quilting) byId("pattern").value = quilting.pattern;
    byId("flat").disabled = !quilting;
    byId("flat").checked = state.flat;
    byId("targets").querySelectorAll("label").forEach((label) => {
      const input = label.querySelector("input");
      input.checked = (state.against ?? []).includes(input.value);
      label.classList.toggle("other", label.dataset.exposure !== state.exposure);
    });
  }
}

function put(object, key, value) {
  if (value === null) delete object[key];
  else object[key] = value;
}
