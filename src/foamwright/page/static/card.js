// The card of a flight: what was filled in, and what is wrong with it, beside its field.

const fields = () => [...document.querySelectorAll("#card .number-field")];

// Every field that has a value, part by part.
export function filled() {
  const found = {};
  for (const field of fields()) {
    if (!field.querySelector("[name=value]").value.trim()) continue;
    found[field.dataset.field] = Object.fromEntries(
      [...field.querySelectorAll("input, select")].map((one) => [one.name, one.value]));
  }
  for (const [name, parts] of Object.entries(found)) {
    const unit = fields().find((one) => one.dataset.field === name).querySelector(".typed .unit");
    if (unit) parts.unit = unit.textContent.trim();
  }
  return found;
}

// Tell what is wrong beside the fields of an answer's findings, and go to the first.
export function mark({ ok, told }) {
  let first = null;
  for (const field of fields()) {
    const problem = field.querySelector(".problem");
    const input = field.querySelector("[name=value]");
    const found = ok ? [] : (told.findings ?? []).filter((one) => one.key === field.dataset.field);
    problem.textContent = found.map((one) => [one.what, one.expected].filter(Boolean).join("; ")).join("\n");
    problem.hidden = !found.length;
    problem.id = `why:${field.dataset.field.replaceAll(" ", "-")}`;
    input.setAttribute("aria-invalid", String(found.length > 0));
    if (found.length) input.setAttribute("aria-describedby", problem.id);
    else input.removeAttribute("aria-describedby");
    if (found.length) first ??= input;
  }
  if (first) document.getElementById("card-leaf").open = true;
  first?.focus();
}
