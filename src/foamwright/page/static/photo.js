// An outline from a photo: what is placed, what follows from it, what is written.

import * as kept from "./photo_kept.js";
import * as stage from "./photo_stage.js";
import { here, say, send } from "./send.js";

const GROUPS = ["reference", "middle", "first", "second"];
const MOST = 60;
const PAST = 100;
const VIEWS = Object.fromEntries(JSON.parse(document.body.dataset.views).map((view) => [view.key, view]));

const by = (id) => document.getElementById(id);
const what = by("what");
const camera = by("camera");
const radios = [...document.querySelectorAll("[name=placing]")];
const emptied = () => ({ reference: [], middle: [], first: [], second: [] });

let state = { photo: null, points: emptied(), past: [], fields: {}, placing: "reference" };
let chosen = null;
let asking = 0;
let waiting = 0;

const fieldsOf = (form) => [...form.elements].filter((one) => one.name);
const viewNow = () => what.elements.view.value;
const byLength = () => what.elements.scale.value === "length";
const full = { reference: () => (byLength() ? 2 : 4), middle: () => 2, first: () => MOST, second: () => MOST };

// --- Words ------------------------------------------------------------------------------------

function words(group) {
  const [one, other] = VIEWS[viewNow()].edges;
  return {
    reference: byLength() ? "ends of the length" : "corners of the sheet",
    middle: "nose, then tail", first: one, second: other,
  }[group];
}

function nameOf(group, at) {
  const one = {
    reference: byLength() ? "end" : "corner", middle: ["nose", "tail"][at],
    first: words("first"), second: words("second"),
  }[group];
  return group === "middle" ? one : `${one} ${at + 1}`;
}

const shown = (value) => (Math.round(value * 10) / 10).toFixed(1);

function told({ x, y, off }, name = "cross") {
  by("where").textContent =
    `${name}: ${shown(x)} across, ${shown(y)} down${off === undefined ? "" : ` (± ${off})`} px`;
}

// --- What is remembered -----------------------------------------------------------------------

function remember() {
  state.fields = Object.fromEntries(
    [...fieldsOf(what), ...fieldsOf(camera)].map((one) => [one.name, one.type === "checkbox" ? one.checked : one.value]));
  kept.keep(state);
}

function mark() {
  state.past.push(JSON.stringify([state.points, state.placing]));
  state.past = state.past.slice(-PAST);
}

function changed(which = chosen) {
  chosen = which;
  stage.put(state.points, chosen);
  furnish();
  remember();
  ask();
}

function takeBack() {
  const before = state.past.pop();
  if (!before) return;
  [state.points, state.placing] = JSON.parse(before);
  changed(null);
  say("");
}

// --- Placing ----------------------------------------------------------------------------------

// After a click the next thing is at hand: the corners, nose and tail, then edge by edge in pairs.
function next(group) {
  const lacking = GROUPS.slice(0, 2).find((one) => state.points[one].length < full[one]());
  if (lacking) return lacking;
  if (viewNow() === "body above") return group === "second" ? "second" : "first";
  return state.points.first.length > state.points.second.length ? "second" : "first";
}

function place(point) {
  const group = state.placing;
  if (state.points[group].length >= full[group]()) {
    say(`All of these are placed (${words(group)}): move one, take one away, or choose what to place next.`);
    return;
  }
  mark();
  state.points[group].push(point);
  state.placing = next(group);
  say("");
  changed({ group, at: state.points[group].length - 1 });
  told(point, nameOf(group, state.points[group].length - 1));
}

function remove(which = chosen) {
  if (!which || !state.points[which.group][which.at]) return;
  mark();
  state.points[which.group].splice(which.at, 1);
  state.placing = which.group;
  changed(null);
}

// --- What is around the stage -----------------------------------------------------------------

function furnish() {
  const paper = what.elements.scale.value;
  what.querySelector(".own").hidden = paper !== "own";
  what.querySelector(".length").hidden = !byLength();
  what.querySelector(".sheet").hidden = byLength();
  for (const radio of radios) {
    const group = radio.value;
    const label = radio.closest("label");
    label.querySelector(".words").textContent = words(group);
    const most = full[group]();
    label.querySelector(".count").textContent =
      most === MOST ? String(state.points[group].length) : `${state.points[group].length} of ${most}`;
    radio.checked = group === state.placing;
  }
  by("back").disabled = !state.past.length;
  by("remove").disabled = !chosen;
  by("points").replaceChildren(pointTable());
}

function cell(name, ...inside) {
  const made = document.createElement(name);
  made.append(...inside);
  return made;
}

function pointTable() {
  const rows = GROUPS.flatMap((group) => state.points[group].map((point, at) => {
    const name = nameOf(group, at);
    const head = cell("th", name);
    head.scope = "row";
    const numbers = ["x", "y", "off"].map((axis) => {
      const input = document.createElement("input");
      Object.assign(input, { type: "number", step: "any", value: point[axis], className: axis });
      Object.assign(input.dataset, { group, at, axis });
      input.setAttribute("aria-label", `${name}: ${{ x: "across", y: "down", off: "off by" }[axis]}, pixels`);
      return cell("td", input);
    });
    return cell("tr", head, ...numbers);
  }));
  if (!rows.length) return cell("p", "None yet.");
  const heads = ["point", "across", "down", "±"].map((text) => {
    const head = cell("th", text);
    head.scope = "col";
    return head;
  });
  return cell("table", cell("thead", cell("tr", ...heads)), cell("tbody", ...rows));
}

function typed({ target }) {
  const { group, at, axis } = target.dataset;
  const value = target.valueAsNumber;
  const most = { x: state.photo?.width ?? 0, y: state.photo?.height ?? 0, off: 1000 }[axis];
  const good = Number.isFinite(value) && value >= 0 && value <= most;
  target.toggleAttribute("aria-invalid", false);
  if (!good) {
    target.setAttribute("aria-invalid", "true");
    say(`${nameOf(group, Number(at))}: a number of pixels from 0 to ${most} is wanted there.`);
    return;
  }
  say("");
  mark();
  state.points[group][at][axis] = value;
  chosen = { group, at: Number(at) };
  stage.put(state.points, chosen);
  by("back").disabled = false;
  remember();
  ask();
}

// --- Asking -----------------------------------------------------------------------------------

function request() {
  const scale = what.elements.scale.value;
  const fields = Object.fromEntries([...fieldsOf(what), ...fieldsOf(camera)].map((one) => [one.name, one.value]));
  return {
    variant: here.variant,
    view: viewNow(),
    picture: state.photo && { width: state.photo.width, height: state.photo.height },
    by: byLength() ? "length" : "sheet",
    paper: byLength() ? "" : scale,
    long: fields.long, short: fields.short, length: fields.length,
    turned: what.elements.turned.checked,
    distance: fields.distance, height: fields.height, nose: fields.nose,
    points: state.points,
  };
}

function ask() {
  clearTimeout(waiting);
  waiting = setTimeout(askNow, 90);
}

async function askNow() {
  if (!state.photo) {
    tell({ missing: "Load a photo first." });
    return;
  }
  const mine = ++asking;
  const { ok, told: answer } = await send("/photo/outline", request());
  if (mine !== asking) return;
  tell(ok ? answer : { wrong: answer });
}

function tell({ missing = "", wrong = null, table = null, drawn = null, assumed = [], remarks = [] }) {
  by("missing").textContent = wrong || table ? "" : "None yet.";
  blame(wrong);
  stage.draw(drawn);
  const sentence = missing && missing[0].toUpperCase() + missing.slice(1);
  const start = /^body/.test(viewNow()) ? ", near the nose" : ", at the root";
  const partner = state.points.first.length > state.points.second.length && drawn;
  const hint = state.placing === "second" && partner ? ", on the dashed line"
    : state.placing === "first" && !state.points.first.length ? start : "";
  const now = words(state.placing) + hint;
  const lead = table ? "There are stations. Another click places: " : "Next: ";
  by("next").textContent = wrong || !state.photo ? sentence
    : /^(click|one more)/.test(missing) || table ? lead + now : `${sentence}.`;
  const list = (id, texts) => by(id).replaceChildren(...texts.map((text) => cell("li", text)));
  list("remarks", remarks);
  list("assumed", assumed);
  by("granted").hidden = !assumed.length || !state.photo;
  by("table").hidden = !table;
  by("table").replaceChildren(...(table ? [stationTable(table)] : []));
  by("whole").replaceChildren(...(table?.whole ?? []).flatMap(({ name, value, band }, at) =>
    [at ? "; " : "", `${name} `, cell("b", value), `, eight in ten ${band}`]));
  const carried = table?.carried_by ?? [];
  const clicked = /^(corners|ends|nose|clicks)/.test(carried[0] ?? "");
  by("carried").textContent = !carried.length ? ""
    : `The spread comes from: ${carried.join(", ")}.${clicked ? " Look nearer there and set the points again for less." : ""}`;
  if (by("write")) by("write").hidden = !table;
}

// A problem beside its field, else in one sentence over the stations.
function blame(wrong) {
  const findings = wrong?.findings ?? [];
  for (const one of document.querySelectorAll("#what [aria-invalid], #camera [aria-invalid]")) one.removeAttribute("aria-invalid");
  for (const one of camera.querySelectorAll(".problem")) one.hidden = true;
  const left = [];
  for (const { key, what: text, expected } of findings) {
    const sentence = [text, expected].filter(Boolean).join("; ");
    const field = [...fieldsOf(what), ...fieldsOf(camera)].find((one) => one.name === key);
    field?.setAttribute("aria-invalid", "true");
    const beside = field?.closest(".field")?.querySelector(".problem");
    if (beside) {
      beside.textContent = sentence;
      beside.hidden = false;
      beside.id = `why-${key}`;
      field.setAttribute("aria-describedby", beside.id);
    } else {
      left.push(field ? `${field.closest("label").textContent.trim()}: ${sentence}` : sentence);
    }
  }
  if (findings.length > left.length) by("missing").textContent = "None until the marked field is right.";
  by("photo-problem").textContent = left.join("\n") || (findings.length ? "" : wrong?.problem ?? "");
}

function stationTable({ columns, rows }) {
  const heads = ["", ...columns].map((text) => {
    const head = cell(text ? "th" : "td", text);
    if (text) head.scope = "col";
    return head;
  });
  const body = rows.map((row, at) => {
    const head = cell("th", String(at + 1));
    head.scope = "row";
    return cell("tr", head, ...row.map(({ value, band }) => cell("td", cell("b", value), cell("small", band || "exactly"))));
  });
  return cell("table", cell("thead", cell("tr", ...heads)), cell("tbody", ...body));
}

// --- Writing ----------------------------------------------------------------------------------

const form = by("write");

function offer() {
  if (!form) return;
  const { targets, roles } = VIEWS[viewNow()];
  const names = form.elements.name;
  const before = names.value;
  const fresh = here.variant ? [] : [new Option("something new …", "")];
  names.replaceChildren(...targets.map((name) => new Option(name, name)), ...fresh);
  if (targets.includes(before)) names.value = before;
  form.elements.role.replaceChildren(...roles.map((role) => new Option(role, role)));
  form.querySelector(".role").hidden = !roles.length;
  form.querySelector(".other").hidden = Boolean(roles.length);
  form.querySelector(".other span").textContent = viewNow() === "body side" ? "width" : "height";
  form.querySelector(".new").hidden = names.value !== "";
}

async function write(event) {
  event.preventDefault();
  const fields = form.elements;
  const anew = fields.name.value === "";
  const target = anew
    ? { new: "yes", name: fields.fresh.value, role: fields.role.value, other: fields.other.value }
    : { name: fields.name.value };
  const { ok, status, told: answer } = await send("/photo/write", { ...request(), revision: here.revision, target });
  const problem = form.querySelector(".problem");
  problem.textContent = "";
  if (!ok) {
    here.revision = answer.revision ?? here.revision;
    const found = (answer.findings ?? []).filter(({ key }) => !key.includes("."))
      .map(({ what: text, expected }) => [text, expected].filter(Boolean).join("; "));
    problem.textContent = `Not written: ${found.join("\n") || answer.problem}${status === 409 ? ". Look at it, then write again" : ""}`;
    return;
  }
  here.revision = answer.revision;
  VIEWS[viewNow()].targets = answer.targets;
  offer();
  if (anew) fields.name.value = target.name.trim();
  form.querySelector(".new").hidden = true;
  const done = by("written-into");
  done.hidden = false;
  done.querySelector("span").textContent = `Written into ${target.name.trim()}: ${answer.written} stations.`;
  done.querySelector("button").onclick = () => takeOut(answer.undo, viewNow());
}

async function takeOut(undo) {
  const { ok, told: answer } = await send("/edit", { ...undo, variant: here.variant, revision: here.revision });
  if (!ok) {
    say(`Not taken out: ${answer.problem}`);
    return;
  }
  here.revision = answer.revision;
  by("written-into").hidden = true;
  for (const key of Object.keys(undo.keys)) {
    const fresh = key.match(/^airframe\.(surfaces|bodies)\.([^.]+)$/);
    if (fresh) for (const view of Object.values(VIEWS)) view.targets = view.targets.filter((name) => name !== fresh[2]);
  }
  offer();
  say("Taken out: plane.toml says what it said before.");
}

// --- Loading ----------------------------------------------------------------------------------

async function load(file) {
  by("loaded").textContent = `reading ${file.name} …`;
  const picture = await kept.pictureOf(file);
  if (!picture) {
    by("loaded").textContent = state.photo ? loadedWords() : "";
    say(`${file.name} is no picture this browser can show; a JPEG or PNG would be right.`);
    return;
  }
  say("");
  const { width, height } = picture;
  const same = state.photo && ["name", "width", "height"].every((key) => state.photo[key] === { name: file.name, width, height }[key]);
  if (state.photo && !same && GROUPS.some((group) => state.points[group].length)) {
    mark();
    state.points = emptied();
    state.placing = "reference";
  }
  const id = `${Date.now()}-${Math.random()}`; // two photos of one name are still two
  state.photo = { name: file.name, width, height, id };
  await kept.keepPhoto(picture.blob, id);
  open(picture.blob);
  changed(null);
  by("next").scrollIntoView({ block: "nearest" });
  by("stage").scrollIntoView({ block: "nearest" });
}

const loadedWords = () => `${state.photo.name}, ${state.photo.width} × ${state.photo.height} pixels`;
let url = "";

function open(blob) {
  if (url) URL.revokeObjectURL(url);
  url = URL.createObjectURL(blob);
  by("loaded").textContent = loadedWords();
  stage.show({ url, width: state.photo.width, height: state.photo.height });
}

async function begin() {
  const before = kept.recall();
  if (before?.points) {
    state = { ...state, ...before };
    for (const one of [...fieldsOf(what), ...fieldsOf(camera)]) {
      if (one.type === "checkbox") one.checked = state.fields[one.name] === true;
      else if (state.fields[one.name]) one.value = state.fields[one.name];
    }
  }
  for (const sign of document.querySelectorAll(".sign")) sign.append(stage.shape(sign.dataset.shape));
  stage.show(null);
  offer();
  furnish();
  if (!state.photo) return;
  const found = await kept.recallPhoto();
  if (found?.id === state.photo.id) open(found.blob);
  else by("loaded").textContent = `load ${state.photo.name} again to see it under its points`;
  changed(null);
}

// --- Wires ------------------------------------------------------------------------------------

stage.wire({
  place,
  remove,
  name: nameOf,
  told,
  moving: ({ quietly = false } = {}) => quietly || mark(),
  moved: () => changed(),
  chose(which) {
    chosen = which;
    by("remove").disabled = false;
    told(state.points[which.group][which.at], nameOf(which.group, which.at));
  },
});

by("file").addEventListener("change", ({ target }) => {
  const [file] = target.files;
  target.value = "";
  if (file) load(file);
});
for (const name of ["dragover", "drop"]) {
  by("stage").addEventListener(name, (event) => {
    event.preventDefault();
    const [file] = event.dataTransfer?.files ?? [];
    if (name === "drop" && file) load(file);
  });
}
what.addEventListener("submit", (event) => event.preventDefault());
camera.addEventListener("submit", (event) => event.preventDefault());
what.addEventListener("change", ({ target }) => {
  if (target.name === "view" || target.name === "scale") offer();
  state.placing = next(state.placing);
  changed();
});
camera.addEventListener("input", () => { remember(); ask(); });
what.addEventListener("input", ({ target }) => { if (target.size) { remember(); ask(); } });
for (const radio of radios) {
  radio.addEventListener("change", () => { state.placing = radio.value; remember(); askNow(); });
}
document.querySelector(".tools").addEventListener("click", ({ target }) => {
  const name = target.closest("button")?.dataset.do;
  if (name) stage.view(name);
});
by("back").addEventListener("click", takeBack);
by("remove").addEventListener("click", () => remove());
by("points").addEventListener("change", typed);
form?.addEventListener("submit", write);
form?.elements.name.addEventListener("change", ({ target }) => { form.querySelector(".new").hidden = target.value !== ""; });
document.addEventListener("keydown", (event) => {
  const typing = event.target.closest("input:not([type=radio], [type=checkbox]), textarea");
  if (event.key === "z" && (event.ctrlKey || event.metaKey) && !typing) {
    event.preventDefault();
    takeBack();
  }
});
begin();
