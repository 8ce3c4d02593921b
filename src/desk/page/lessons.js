// Lessons: a guess first, then what the program answers, why, and a question to close.

import { ask } from "./ask.js";
import { escape } from "./look.js";

const letter = (i) => String.fromCharCode(97 + i);

/** A question with its choices; `then` gets the choice, or nothing from whoever wants to be told. */
function question(place, title, asked, then) {
  const id = `lesson-${title.toLowerCase().replaceAll(" ", "-")}`;
  const form = document.createElement("form");
  const choices = asked.choices.map((says, i) =>
    `<label class="check"><input type="radio" name="${id}" value="${i}"> <span><b>${letter(i)}</b> ${escape(says)}</span></label>`);
  form.innerHTML = `<fieldset><legend>${title}</legend><p>${escape(asked.asks)}</p>${choices.join("")}
    <div class="row"><button type="submit" class="main">That is my guess</button>
    <button type="button" data-act="tell">Tell me</button></div></fieldset>`;
  const settle = (said) => {
    form.querySelectorAll("input, button").forEach((one) => { one.disabled = true; });
    then(said);
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const said = new FormData(form).get(id);
    settle(said === null ? undefined : Number(said));
  });
  form.querySelector('[data-act="tell"]').addEventListener("click", () => settle(undefined));
  place.append(form);
}

/** Whether the guess was right, in words. */
function verdict(asked, said) {
  if (asked.answer === undefined) return "On this shelf the program comes to no answer.";
  const told = `${letter(asked.answer)}, ${asked.choices[asked.answer]}.`;
  if (said === undefined) return `It is ${told}`;
  return said === asked.answer ? `So it is: ${told}` : `Not so. It is ${told}`;
}

/** What the looks came to; what is kept for the end is shown then. */
function table(lesson, end) {
  const looks = lesson.looks.filter((look) => end || !look.later);
  const shown = lesson.columns.map((column, j) => ({ column, j }))
    .filter(({ column, j }) => (end || !column.later) && looks.some((look) => look.cells[j]));
  const head = shown.map(({ column }) => `<th scope="col">${escape(column.heading)}${column.unit ? ` [${escape(column.unit)}]` : ""}</th>`);
  const rows = looks.map((look) =>
    `<tr><th scope="row">${escape(look.says)}</th>${shown.map(({ j }) => `<td>${escape(look.cells[j])}</td>`).join("")}</tr>`);
  return `<div class="looks" role="region" aria-label="What the program answers" tabindex="0"><table><thead><tr><td></td>${head.join("")}</tr></thead><tbody>${rows.join("")}</tbody></table></div>`;
}

function part(place, html) {
  const div = document.createElement("div");
  div.innerHTML = html;
  place.append(div);
  return div;
}

/** Gives a lesson into a place. */
function give(place, lesson, next) {
  place.innerHTML = `<h3 tabindex="-1">${escape(lesson.title)}</h3><p>${escape(lesson.opens)}</p>`;
  place.querySelector("h3").focus();
  question(place, "Guess first", lesson.guess, (guessed) => {
    const looks = lesson.looks.filter((look) => !look.later).map((look) => look.command);
    const commands = [...new Set(looks)].map((command) => `<li><code>${escape(command)}</code></li>`);
    const doubt = lesson.holds ? "" : "<p>On this shelf the figures do not bear this out: believe them, not the words.</p>";
    const shown = part(place, `<p role="status" class="said">${escape(verdict(lesson.guess, guessed))}</p>${table(lesson, false)}
      <details><summary>The commands that print this</summary><ul>${commands.join("")}</ul></details>
      <h4>Why</h4><p>${escape(lesson.explains)}</p>${doubt}`);
    question(shown, "And now", lesson.closing, (said) => {
      const later = lesson.looks.some((look) => look.later) || lesson.columns.some((column) => column.later);
      const end = part(place, `<p role="status" class="said">${escape(verdict(lesson.closing, said))}</p>${later ? table(lesson, true) : ""}
        ${next ? `<div class="row"><button type="button" data-act="next">Next: ${escape(next.title)}</button></div>` : ""}`);
      end.querySelector('[data-act="next"]')?.addEventListener("click", () => next.open());
      end.querySelector(".said").tabIndex = -1;
      end.querySelector(".said").focus();
    });
    shown.querySelector(".said").tabIndex = -1;
    shown.querySelector(".said").focus();
  });
}

/** Lists the lessons; each is computed when it is opened. */
export async function lessons(list, place) {
  const { lessons: all } = await ask("lessons.json");
  const open = async (i) => {
    place.innerHTML = '<p role="status">The lesson is computed …</p>';
    try {
      const next = all[i + 1] && { title: all[i + 1].title, open: () => open(i + 1) };
      give(place, await ask(`lesson/${all[i].name}`), next);
    } catch (faults) {
      const said = Array.isArray(faults) ? faults.map((fault) => [fault.what, fault.mend].filter(Boolean).join("; ")).join(" ") : String(faults);
      place.innerHTML = `<p role="alert">${escape(said)}</p>`;
    }
  };
  list.innerHTML = all.map((one, i) =>
    `<li><button type="button" data-lesson="${escape(one.name)}">${escape(one.title)} <span class="small">${one.minutes} min</span></button></li>`).join("");
  list.addEventListener("click", (event) => {
    const name = event.target.closest("[data-lesson]")?.dataset.lesson;
    if (name) open(all.findIndex((one) => one.name === name));
  });
}
