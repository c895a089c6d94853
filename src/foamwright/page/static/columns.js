// What the columns of a log are: a choice for each, read again when asked.

const rowsOf = (told) => [...told.querySelectorAll("tr[data-column]")]
  .filter((row) => row.querySelector("select"));
const chosen = (row) => ["kind", "unit"].map((name) => row.querySelector(`[name=${name}]`));
const changed = (row) => chosen(row).some((one) => one.value !== one.dataset.was);

let said = {}; // by column, what was said by hand of the log in hand

// What was said of the columns, as it would be typed.
export function saidOf(told) {
  const found = { ...said };
  for (const row of rowsOf(told)) {
    if (!changed(row)) continue;
    const [kind, unit] = chosen(row);
    found[row.dataset.column] = unit.value && kind.value !== "nothing"
      ? `${kind.value} in ${unit.value}` : kind.value;
  }
  return found;
}

function offer(select, units, value) {
  select.replaceChildren(...["", ...units].map((unit) => {
    const option = document.createElement("option");
    option.value = unit;
    option.textContent = unit === "" ? "–" : unit === "1" ? "none" : unit;
    return option;
  }));
  select.value = units.includes(value) ? value : units[0] ?? "";
  select.disabled = !units.length;
}

export function wireColumns(told, read) {
  const table = told.querySelector(".columns-told");
  const again = told.querySelector(".read-so");
  if (!again) {
    said = {};
    return;
  }
  const units = JSON.parse(table.dataset.units);
  const look = () => {
    const some = rowsOf(told).filter(changed);
    for (const row of rowsOf(told)) row.classList.toggle("changed", some.includes(row));
    again.disabled = !some.length;
    const right = told.querySelector(".confirm");
    if (!right) return;
    if (some.length) right.disabled = true;
    else if (!right.textContent.includes("remembered")) right.disabled = false;
  };
  table.addEventListener("change", (event) => {
    const row = event.target.closest("tr[data-column]");
    const [kind, unit] = chosen(row);
    if (event.target === kind) {
      const known = kind.value === "nothing" ? [] : units[kind.value];
      offer(unit, known, kind.value === kind.dataset.was ? unit.dataset.was : known[0]);
    }
    look();
  });
  table.addEventListener("click", (event) => {
    const take = event.target.closest("button.take");
    if (!take) return;
    const [kind, unit] = chosen(take.closest("tr"));
    const [name, wanted = ""] = take.dataset.take.split(" in ");
    kind.value = name;
    offer(unit, units[name], wanted);
    look();
    again.focus();
  });
  again.addEventListener("click", () => {
    said = saidOf(told);
    read(said);
  });
}

export const forgetSaid = () => { said = {}; };
