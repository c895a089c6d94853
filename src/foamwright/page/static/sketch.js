// The drawing: parts taken hold of by mouse, finger and keys; a look at one part at a time.

const NEAR_MIDDLE = 6; // mm: a part on the middle line stays there unless it is meant

const place = document.getElementById("sketch");
const where = document.getElementById("where");
const whole = document.getElementById("whole");
let whole_box = "";
let zoomed = "";

const svg = () => place.querySelector("svg");
const handles = (name) =>
  [...place.querySelectorAll(".handle")].filter((one) => one.dataset.part === name);
const pair = (text) => text.split(" ").map(Number);
const within = (value, [low, high]) => Math.min(Math.max(value, low), high);
const shown = (value) => String(Math.round(value * 10) / 10);

export function placeOf(name) {
  const { x, y, z } = handles(name)[0].dataset;
  return { x: Number(x), y: Number(y), z: Number(z) };
}

// Put a part somewhere on the drawing; nothing is asked or written.
export function put(name, to) {
  for (const handle of handles(name)) {
    const data = handle.dataset;
    const from = (handle.start ??= { x: Number(data.x), y: Number(data.y), z: Number(data.z) });
    const across = to.x - from.x;
    const down = data.view === "top" ? from.y - to.y : from.z - to.z;
    const boxes = [...handle.querySelectorAll("rect, line")];
    const twin = data.twin && data.view === "top";
    for (const box of boxes) {
      // The left one of a pair goes the other way sideways.
      const at = box.getAttribute("y") ?? box.getAttribute("y1");
      const sign = twin && Number(at) > 0 ? -1 : 1;
      box.setAttribute("transform", `translate(${across} ${sign * down})`);
    }
    data.x = to.x;
    data.y = to.y;
    data.z = to.z;
    handle.setAttribute("aria-valuenow", shown(to.x));
    handle.setAttribute("aria-valuetext", words(to));
  }
  const { reachX } = handles(name)[0].dataset;
  const [low, high] = pair(reachX);
  where.textContent = `${name}: ${words(to)}; may lie ${shown(low)} to ${shown(high)} mm`;
}

function words({ x, y, z }) {
  const side = y ? `, ${shown(Math.abs(y))} mm ${y > 0 ? "right" : "left"}` : "";
  const up = z ? `, ${shown(Math.abs(z))} mm ${z > 0 ? "up" : "down"}` : "";
  return `${shown(x)} mm from the nose${side}${up}`;
}

export function inReach(name, to) {
  const { reachX, reachY, reachZ } = handles(name)[0].dataset;
  return {
    x: within(to.x, pair(reachX)),
    y: within(to.y, pair(reachY)),
    z: within(to.z, pair(reachZ)),
  };
}

// What of the drawing follows a part: the rows below it and the centre of gravity.
export function follow({ strips, centre }) {
  const rows = place.querySelector(".strips");
  if (strips !== undefined && rows) rows.innerHTML = strips;
  for (const [at, name] of [[0, "top"], [1, "side"]]) {
    const mark = place.querySelector(`.centre[data-view="${name}"] > g`);
    if (mark && centre) mark.setAttribute("transform", `translate(${centre[at].join(" ")})`);
  }
}

export const busy = () => began !== null || Boolean(place.querySelector(".moving"));

export function draw(html) {
  const held = document.activeElement?.closest?.(".handle");
  const again = held && { part: held.dataset.part, view: held.dataset.view };
  place.innerHTML = html;
  whole_box = svg().getAttribute("viewBox");
  if (zoomed && handles(zoomed).length) look(zoomed);
  else showWhole();
  if (again) {
    handles(again.part).find((one) => one.dataset.view === again.view)?.focus();
  }
}

export function look(name) {
  const handle = handles(name)[0];
  if (!handle) return;
  zoomed = name;
  const { x, y } = placeOf(name);
  const wide = Number(whole_box.split(" ")[2]) / 6;
  svg().setAttribute("viewBox", [x - wide / 2, -y - wide * 0.35, wide, wide * 0.7].join(" "));
  svg().classList.add("near");
  for (const one of place.querySelectorAll(".handle")) {
    one.classList.toggle("looked-at", one.dataset.part === name);
  }
  whole.hidden = false;
  put(name, placeOf(name));
}

function showWhole() {
  zoomed = "";
  svg().setAttribute("viewBox", whole_box);
  svg().classList.remove("near");
  for (const one of place.querySelectorAll(".looked-at")) one.classList.remove("looked-at");
  whole.hidden = true;
}

// Which part a finger takes: the one that is held already, then the box on top, then the nearest.
function taken({ clientX, clientY }) {
  const under = document.elementsFromPoint(clientX, clientY);
  const found = under.map((one) => one.closest(".handle")).filter(Boolean);
  const held = found.find((one) => one === document.activeElement);
  const seen = under.find((one) => one.closest(".part"))?.closest(".handle");
  const far = (one) => {
    const { x, y, width, height } = one.querySelector(".part").getBoundingClientRect();
    return Math.hypot(x + width / 2 - clientX, y + height / 2 - clientY);
  };
  return held ?? seen ?? found.sort((one, other) => far(one) - far(other))[0];
}

const STEPS = {
  ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1],
};

export function wire({ moving, landed }) {
  whole_box = svg().getAttribute("viewBox");
  whole.addEventListener("click", () => {
    showWhole();
    document.getElementById("sketch").scrollIntoView({ block: "nearest" });
  });

  place.addEventListener("pointerdown", (down) => {
    const handle = taken(down);
    if (!handle || down.button > 0) return;
    down.preventDefault();
    handle.focus({ preventScroll: true });
    const name = handle.dataset.part;
    const start = placeOf(name);
    const back = svg().getScreenCTM().inverse();
    const first = new DOMPoint(down.clientX, down.clientY).matrixTransform(back);
    const mirrored = handle.dataset.twin && handle.dataset.view === "top" && first.y > 0 ? -1 : 1;
    let moved = false;
    svg().classList.add("moving");
    const to = (event) => {
      const now = new DOMPoint(event.clientX, event.clientY).matrixTransform(back);
      const along = Math.round(start.x + now.x - first.x);
      const across = mirrored * (first.y - now.y);
      const found = { ...start, x: along };
      if (handle.dataset.view === "side") found.z = Math.round(start.z + across);
      else found.y = Math.round(start.y + across);
      if (!handle.dataset.twin && start.y === 0 && Math.abs(found.y) < NEAR_MIDDLE) found.y = 0;
      if (Math.abs(found.z - start.z) < 3) found.z = start.z;
      if (Math.abs(found.y - start.y) < 3) found.y = start.y;
      return inReach(name, found);
    };
    const move = (event) => {
      if (event.pointerId !== down.pointerId) return;
      moved = true;
      put(name, to(event));
      moving(name);
    };
    const end = (event) => {
      if (event.pointerId !== down.pointerId) return;
      window.removeEventListener("pointermove", move);
      window.removeEventListener("pointerup", end);
      window.removeEventListener("pointercancel", cancel);
      svg().classList.remove("moving");
      if (moved) landed(name, start);
    };
    const cancel = (event) => {
      put(name, start);
      moved = false;
      moving(name);
      end(event);
    };
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", end);
    window.addEventListener("pointercancel", cancel);
    put(name, start);
  });

  place.addEventListener("focusin", (event) => {
    const handle = event.target.closest(".handle");
    if (handle) put(handle.dataset.part, placeOf(handle.dataset.part));
  });

  place.addEventListener("keydown", (event) => {
    const handle = event.target.closest(".handle");
    const step = STEPS[event.key];
    if (!handle || !step || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    const size = event.shiftKey ? 10 : 1;
    const upright = handle.dataset.view === "side" ? "z" : "y";
    const name = handle.dataset.part;
    stepBy(name, { x: step[0] * size, [upright]: step[1] * size }, { moving, landed });
  });
}

let resting = 0;
let began = null;

// A run of small steps is one edit: it lands when the keys rest.
export function stepBy(name, by, { moving, landed }) {
  const from = placeOf(name);
  if (!began || began.name !== name) began = { name, from };
  const to = { ...from };
  for (const [axis, size] of Object.entries(by)) to[axis] += size;
  put(name, inReach(name, to));
  moving(name);
  clearTimeout(resting);
  resting = setTimeout(() => {
    const start = began.from;
    began = null;
    landed(name, start);
  }, 250);
}
