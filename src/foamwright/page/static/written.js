// All that is written, as fields: what is wrong is told beside the field, nothing is lost.

import { here, send } from "./send.js";

const fields = document.getElementById("fields");

function tell(holder, words) {
  const problem = holder.querySelector(".problem");
  const input = holder.querySelector("input, select");
  problem.hidden = !words;
  problem.textContent = words;
  problem.id ||= `why:${holder.dataset.key ?? holder.dataset.group ?? holder.id}`;
  input.setAttribute("aria-invalid", String(Boolean(words)));
  if (words) input.setAttribute("aria-describedby", problem.id);
  else input.removeAttribute("aria-describedby");
}

function sentences(told) {
  const found = (told.findings ?? []).map((one) =>
    [one.key, one.what, one.expected].filter(Boolean).join(": "));
  return found.length ? found.join("\n") : told.problem;
}

// Show the fields anew; what is half typed and which groups are open stay.
export function draw(html) {
  const open = [...fields.querySelectorAll("details[open]")].map((one) => one.dataset.group);
  const half = new Map();
  for (const input of fields.querySelectorAll(".field [data-was]")) {
    if (input.value !== input.dataset.was) half.set(input.name, input.value);
  }
  const held = document.activeElement?.id;
  fields.innerHTML = html;
  for (const one of fields.querySelectorAll("details")) one.open = open.includes(one.dataset.group);
  for (const [name, value] of half) {
    const input = document.getElementById(`key:${name}`);
    if (input) input.value = value;
  }
  if (held?.startsWith("key:")) document.getElementById(held)?.focus();
}

export function goTo(key) {
  const parts = key.split(".");
  for (let size = parts.length; size > 0; size -= 1) {
    const at = parts.slice(0, size).join(".");
    const group = fields.querySelector(`details[data-group="${CSS.escape(at)}"]`);
    const field = document.getElementById(`key:${key}`);
    if (!group && !field) continue;
    const leaf = group ?? field.closest("details");
    leaf.open = true;
    const more = [...leaf.querySelectorAll(".more option")].find((one) => one.value.startsWith(key));
    if (more) more.selected = true;
    const target = field ?? (more ? leaf.querySelector(".more input") : leaf.querySelector("summary"));
    target.focus();
    target.scrollIntoView({ block: "center" });
    return;
  }
}

export function wire({ edit }) {
  let checking = 0;
  fields.addEventListener("input", (event) => {
    const input = event.target.closest(".field [data-was]");
    if (!input) return;
    const holder = input.closest(".field");
    holder.classList.add("typing");
    clearTimeout(checking);
    checking = setTimeout(async () => {
      const { told } = await send("/check", {
        variant: here.variant, fields: { [input.name]: input.value },
      });
      tell(holder, (told.findings ?? []).map((one) => one.what).join("\n"));
    }, 300);
  });
  fields.addEventListener("change", async (event) => {
    const input = event.target.closest(".field [data-was]");
    if (!input) return;
    const holder = input.closest(".field");
    clearTimeout(checking);
    holder.classList.remove("typing");
    if (input.value === input.dataset.was) {
      tell(holder, "");
      return;
    }
    const was = input.dataset.was;
    const { ok, told } = await edit({
      fields: { [input.name]: input.value }, was: { [input.name]: was },
    });
    const again = document.getElementById(input.id)?.closest(".field");
    if (again) tell(again, ok ? "" : sentences(told));
  });
  fields.addEventListener("submit", async (event) => {
    event.preventDefault();
    const form = event.target;
    const data = new FormData(form);
    const sent = form.id === "add-part"
      ? { keys: { [`items.${data.get("name").trim()}`]: {
          kind: data.get("kind"), mass: data.get("mass"), at: { x: data.get("x") },
        } } }
      : { fields: { [data.get("key")]: data.get("value") } };
    const { ok, told } = await edit(sent);
    if (!ok) tell(form, sentences(told));
  });
  fields.addEventListener("click", async (event) => {
    const button = event.target.closest("button.remove");
    if (button) await edit({ keys: { [button.dataset.key]: null } });
  });
}
