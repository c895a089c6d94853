// The interview: only what the layout has, problems beside their field.

import { send, say } from "./send.js";

const form = document.getElementById("interview");

if (form) {
  const layout = form.elements.layout;
  const fit = () => {
    for (const field of form.querySelectorAll(".field")) {
      const has = !layout.value || field.dataset.layouts.split("|").includes(layout.value);
      field.hidden = !has && field.dataset.key !== "layout";
    }
  };
  layout.addEventListener("change", fit);
  fit();

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    for (const problem of form.querySelectorAll(".problem")) problem.hidden = true;
    for (const input of form.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
    const told = {};
    for (const field of form.querySelectorAll(".field:not([hidden])")) {
      told[field.dataset.key] = field.querySelector("input, select").value;
    }
    const { ok, told: answer } = await send("/new", told);
    if (ok) {
      location.assign("/");
      return;
    }
    let first = null;
    const left = [];
    for (const { key, what, expected } of answer.findings ?? []) {
      const field = [...form.querySelectorAll(".field")].find((one) => one.dataset.key === key);
      if (!field) {
        left.push([key, what, expected].filter(Boolean).join(": "));
        continue;
      }
      const problem = field.querySelector(".problem");
      const input = field.querySelector("input, select");
      problem.textContent = [what, expected].filter(Boolean).join("; ");
      problem.hidden = false;
      problem.id = `why:${key}`;
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-describedby", problem.id);
      first ??= input;
    }
    say(left.length || !first ? left.join("\n") || answer.problem : "Nothing written yet: see the marked answers.");
    first?.focus();
  });
}
