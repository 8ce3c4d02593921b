// Saving: the server writes, into the folder that it was started with.

import { ask } from "./ask.js";

const byId = (id) => document.getElementById(id);

/** A name for a file from a layup's. */
const fileName = (name) => name.replaceAll(/[^A-Za-z0-9._-]+/g, "-").replaceAll(/\.\.+/g, ".").replaceAll(/^[^A-Za-z0-9]+|[^A-Za-z0-9]+$/g, "").slice(0, 60) || "layup";

/** Makes the dialog work. */
export function saving(store) {
  const dialog = byId("save");
  const said = byId("save-said");
  byId("keep").addEventListener("click", () => {
    byId("save-name").value = fileName(store.state.layup.name ?? "");
    byId("save-replace").checked = false;
    said.textContent = "";
    dialog.showModal();
  });
  byId("save-close").addEventListener("click", () => dialog.close());
  byId("save-form").addEventListener("submit", async (event) => {
    event.preventDefault();
    said.textContent = "Saving …";
    const what = new FormData(byId("save-form")).get("what");
    const wish = { state: store.state, name: byId("save-name").value.trim(), what, replace: byId("save-replace").checked };
    try {
      const { written } = await ask("save", JSON.stringify(wish));
      said.textContent = `Written: ${written.join(", ")}.`;
    } catch (faults) {
      const words = (fault) => [fault.what, fault.expected && `expected: ${fault.expected}`, fault.mend].filter(Boolean).join("; ");
      said.textContent = Array.isArray(faults) ? faults.map(words).join(" ") : String(faults);
    }
  });
}
