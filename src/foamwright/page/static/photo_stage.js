// The photo as a stage: look nearer, place and move points by mouse, finger and keys.

const SVG = "http://www.w3.org/2000/svg";
const SLIP = 5; // px on the screen a hand may slip between down and up and still mean a click
const GRAB = { touch: 24, mouse: 20, pen: 22 }; // px on the screen around the point in hand
const HAND = { touch: 2, mouse: 1, pen: 1, key: 0.7 }; // px on the screen an aim is off
const EDGE = 1; // px of the photo an edge is blurred anyway
const GLASS = 3; // how much more the glass enlarges
const NEAREST = 40; // px of the photo across the stage, at most that near

const stage = document.getElementById("stage");
const loupe = document.getElementById("loupe");
let photo = null; // { url, width, height }
let look = { x: 0, y: 0, w: 1 };
let cross = null;
let chosen = null; // { group, at }
let doing = {};
let points = {};
let drawn = null;

const make = (name, told = {}, ...inside) => {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(told)) made.setAttribute(key, value);
  made.append(...inside);
  return made;
};

const SHAPES = {
  reference: () => ["rect", { x: -8, y: -8, width: 16, height: 16 }],
  middle: () => ["path", { d: "M0-10L9.5 7.5H-9.5Z" }],
  first: () => ["circle", { r: 9 }],
  second: () => ["path", { d: "M0-11L11 0L0 11L-11 0Z" }],
};

export function shape(group) {
  const [name, told] = SHAPES[group]();
  return make("g", { class: `of-${group}` },
    make(name, { ...told, class: "shape light" }), make(name, { ...told, class: "shape dark" }));
}

const size = () => stage.getBoundingClientRect();
const perPixel = () => look.w / size().width; // px of the photo in one of the screen
const within = (value, low, high) => Math.min(Math.max(value, low), high);

function at({ clientX, clientY }) {
  const { left, top } = size();
  return { x: look.x + (clientX - left) * perPixel(), y: look.y + (clientY - top) * perPixel() };
}

const inside = ({ x, y }) => ({ x: within(x, 0, photo.width), y: within(y, 0, photo.height) });
export const blur = (by) => Math.round(10 * Math.hypot(EDGE, HAND[by] * perPixel())) / 10;

// --- Looking ----------------------------------------------------------------------------------

function looked() {
  const { width, height } = size();
  const tall = look.w * height / width;
  look.w = within(look.w, NEAREST, whole());
  look.x = look.w > photo.width ? (photo.width - look.w) / 2 : within(look.x, 0, photo.width - look.w);
  look.y = tall > photo.height ? (photo.height - tall) / 2 : within(look.y, 0, photo.height - tall);
  stage.setAttribute("viewBox", [look.x, look.y, look.w, tall].join(" "));
  scaleMarks();
}

function whole() {
  const { width, height } = size();
  return Math.max(photo.width, photo.height * width / height);
}

function zoom(by, about) {
  if (!photo) return;
  const to = about ?? middle();
  const w = within(look.w / by, NEAREST, whole());
  look.x = to.x - (to.x - look.x) * w / look.w;
  look.y = to.y - (to.y - look.y) * w / look.w;
  look.w = w;
  looked();
}

// What to look nearer at: the point in hand, the cross, else the middle of what is seen.
function middle() {
  const held = chosen && points[chosen.group]?.[chosen.at];
  const { width, height } = size();
  return held ?? cross ?? { x: look.x + look.w / 2, y: look.y + look.w * height / width / 2 };
}

const PANS = { left: [-1, 0], right: [1, 0], up: [0, -1], down: [0, 1] };

export function view(what) {
  if (!photo) return;
  if (what === "in") zoom(2);
  else if (what === "out") zoom(0.5);
  else if (what === "whole") {
    look = { x: 0, y: 0, w: whole() };
    looked();
  } else {
    const [across, down] = PANS[what];
    look.x += across * look.w / 4;
    look.y += down * look.w / 4;
    looked();
  }
}

function inSight({ x, y }) {
  const { width, height } = size();
  const tall = look.w * height / width;
  if (x >= look.x && x <= look.x + look.w && y >= look.y && y <= look.y + tall) return;
  look.x = x - look.w / 2;
  look.y = y - tall / 2;
  looked();
}

// --- Drawing ----------------------------------------------------------------------------------

export function show(picture) {
  photo = picture;
  stage.classList.toggle("empty", !photo);
  document.getElementById("how").hidden = Boolean(photo);
  stage.replaceChildren();
  loupe.replaceChildren();
  if (!photo) return;
  const image = { href: photo.url, width: photo.width, height: photo.height };
  stage.append(make("image", image),
    ...["squares", "spine", "guides", "rim", "cross", "points"].map((name) => make("g", { class: name })));
  loupe.append(make("image", image), make("g", { class: "cross" }));
  cross = null;
  view("whole");
  drawPoints();
  drawLines();
}

const layer = (name) => stage.querySelector(`:scope > .${name}`);

function lines(name, list, more = () => "") {
  layer(name).replaceChildren(...list.filter((line) => line.length > 1).flatMap((line, number) => {
    const told = { points: line.map((spot) => spot.join(",")).join(" ") };
    const kind = name === "rim" ? "polygon" : "polyline";
    return [make(kind, { ...told, class: "halo" }), make(kind, { ...told, class: `inked ${more(number)}` })];
  }));
}

function drawLines() {
  if (!photo) return;
  lines("squares", drawn?.squares ?? []);
  lines("spine", drawn ? [drawn.middle] : []);
  lines("guides", drawn?.guides ?? []);
  lines("rim", drawn?.outlines ?? [], (number) => (number ? "mirror" : ""));
}

export function draw(told) {
  drawn = told;
  drawLines();
}

function drawPoints() {
  if (!photo) return;
  const held = stage.contains(document.activeElement) && document.activeElement !== stage;
  const marks = Object.entries(points).flatMap(([group, list]) => list.map((point, number) => {
    const mark = make("g", {
      class: `point of-${group}`, tabindex: "0", role: "button", "data-group": group, "data-at": number,
      "aria-label": doing.name(group, number),
    }, make("circle", { class: "take", r: 16 }), make("circle", { class: "ring", r: 15 }),
    shape(group), make("circle", { class: "dot", r: 1.6 }),
    make("text", { class: "nub", x: 12, y: -8, "aria-hidden": "true" }));
    mark.querySelector("text").textContent = number + 1;
    return mark;
  }));
  layer("points").replaceChildren(...marks);
  scaleMarks();
  if (held && chosen) markOf(chosen)?.focus({ preventScroll: true });
}

const markOf = ({ group, at: number }) =>
  stage.querySelector(`.point[data-group="${group}"][data-at="${number}"]`);

function scaleMarks() {
  for (const mark of stage.querySelectorAll(".point")) {
    const { group, at: number } = mark.dataset;
    const { x, y } = points[group][number];
    mark.setAttribute("transform", `translate(${x} ${y}) scale(${perPixel()})`);
    mark.classList.toggle("chosen", chosen?.group === group && chosen.at === Number(number));
  }
  drawCross();
}

export function put(all, which) {
  points = all;
  chosen = which && points[which.group]?.[which.at] ? which : null;
  drawPoints();
}

function crossed(into, { x, y }, reach) {
  const ends = [[x - reach, y, x + reach, y], [x, y - reach, x, y + reach]];
  into.replaceChildren(...["halo", "ink"].flatMap((kind) =>
    ends.map(([x1, y1, x2, y2]) => make("line", { x1, y1, x2, y2, class: kind }))));
}

function drawCross() {
  const into = photo && layer("cross");
  if (!into) return;
  if (cross) crossed(into, cross, 14 * perPixel());
  else into.replaceChildren();
}

// The glass: what is under the finger, or around the cross.
function glass(spot) {
  if (!spot) {
    loupe.setAttribute("hidden", "");
    return;
  }
  loupe.removeAttribute("hidden");
  const wide = loupe.getBoundingClientRect().width * perPixel() / GLASS;
  loupe.setAttribute("viewBox", [spot.x - wide / 2, spot.y - wide / 2, wide, wide].join(" "));
  crossed(loupe.querySelector(".cross"), spot, wide / 2);
  const { width, height } = size();
  const left = (spot.x - look.x) / look.w < 0.5;
  const high = (spot.y - look.y) / (look.w * height / width) < 0.6;
  loupe.classList.toggle("right", left && high);
}

// --- Hands ------------------------------------------------------------------------------------

function nearest(event) {
  const spot = at(event);
  const taken = document.activeElement?.closest?.(".point");
  let best = null;
  for (const [group, list] of Object.entries(points)) {
    for (const [number, point] of list.entries()) {
      const held = taken?.dataset.group === group && Number(taken.dataset.at) === number;
      const reach = (GRAB[event.pointerType] ?? 12) * (held ? 1 : 0.4) * perPixel();
      const far = Math.hypot(point.x - spot.x, point.y - spot.y);
      if (far <= reach && (!best || far < best.far)) best = { group, at: number, far };
    }
  }
  return best;
}

const fingers = new Map();
let hand = null; // { id, kind: "point" | "aim" | "pan", from, moved, ... }

function down(event) {
  if (!photo || event.button > 0) return;
  event.preventDefault();
  stage.setPointerCapture(event.pointerId);
  fingers.set(event.pointerId, event);
  if (fingers.size > 1) {
    if (hand?.kind === "point" && hand.moved) doing.moved();
    hand = null;
    glass(null);
    cross = null;
    drawCross();
    return;
  }
  const found = nearest(event);
  const touch = event.pointerType === "touch";
  const from = { ...look, clientX: event.clientX, clientY: event.clientY };
  const kind = found ? "point" : touch ? "aim" : "pan";
  hand = { id: event.pointerId, by: event.pointerType, kind, from, moved: false };
  if (found) {
    chosen = { group: found.group, at: found.at };
    const { x, y } = points[found.group][found.at];
    const spot = at(event);
    hand.apart = { x: x - spot.x, y: y - spot.y };
    scaleMarks();
    markOf(chosen)?.focus({ preventScroll: true });
    doing.chose(chosen);
  } else {
    stage.focus({ preventScroll: true });
    if (touch) aim(event);
  }
}

function aim(event) {
  cross = inside(at(event));
  drawCross();
  glass(cross);
}

function pinch(event) {
  const [one, other] = [...fingers.values()];
  const before = { x: (one.clientX + other.clientX) / 2, y: (one.clientY + other.clientY) / 2 };
  const apart = Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
  fingers.set(event.pointerId, event);
  const [first, second] = [...fingers.values()];
  const now = { x: (first.clientX + second.clientX) / 2, y: (first.clientY + second.clientY) / 2 };
  const wider = Math.hypot(first.clientX - second.clientX, first.clientY - second.clientY);
  look.x -= (now.x - before.x) * perPixel();
  look.y -= (now.y - before.y) * perPixel();
  zoom(apart > 0 ? wider / apart : 1, at({ clientX: now.x, clientY: now.y }));
}

function move(event) {
  if (!photo || !fingers.has(event.pointerId)) return;
  if (fingers.size > 1) {
    pinch(event);
    return;
  }
  if (!hand || event.pointerId !== hand.id) return;
  const slip = Math.hypot(event.clientX - hand.from.clientX, event.clientY - hand.from.clientY);
  if (!hand.moved && slip < SLIP && hand.kind !== "aim") return;
  if (hand.kind === "aim") aim(event);
  else if (hand.kind === "point") {
    if (!hand.moved) doing.moving();
    const spot = at(event);
    drag({ x: spot.x + hand.apart.x, y: spot.y + hand.apart.y }, hand.by);
  } else {
    stage.classList.add("panning");
    look.x = hand.from.x - (event.clientX - hand.from.clientX) * perPixel();
    look.y = hand.from.y - (event.clientY - hand.from.clientY) * perPixel();
    looked();
  }
  hand.moved = true;
}

function drag(spot, by) {
  const point = points[chosen.group][chosen.at];
  Object.assign(point, inside(spot), { off: blur(by) });
  scaleMarks();
  glass(by === "mouse" ? null : point);
  doing.chose(chosen);
}

function up(event) {
  fingers.delete(event.pointerId);
  stage.classList.remove("panning");
  if (!hand || event.pointerId !== hand.id) return;
  const { kind, moved, by } = hand;
  hand = null;
  glass(null);
  if (event.type === "pointercancel") {
    cross = null;
    drawCross();
    if (kind === "point" && moved) doing.moved();
    return;
  }
  if (kind === "aim") place(cross, by);
  else if (kind === "point" && moved) doing.moved();
  else if (kind === "pan" && !moved) place(at(event), by);
}

function place(spot, by) {
  cross = null;
  drawCross();
  if (spot.x < 0 || spot.y < 0 || spot.x > photo.width || spot.y > photo.height) return;
  doing.place({ x: Math.round(spot.x * 10) / 10, y: Math.round(spot.y * 10) / 10, off: blur(by) });
}

// --- Keys -------------------------------------------------------------------------------------

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const LOOKS = { "+": "in", "=": "in", "-": "out", "−": "out", 0: "whole" };

function key(event) {
  if (!photo || event.ctrlKey || event.altKey || event.metaKey) return;
  const point = event.target.closest(".point");
  const done = point ? onPoint(event, point) : onStage(event);
  if (done || LOOKS[event.key]) event.preventDefault();
  if (!done && LOOKS[event.key]) view(LOOKS[event.key]);
}

function onStage(event) {
  const arrow = ARROWS[event.key];
  if (arrow) {
    const step = look.w / (event.shiftKey ? 10 : 100);
    const { x, y } = cross ?? middle();
    cross = cross ? inside({ x: x + arrow[0] * step, y: y + arrow[1] * step }) : { x, y };
    inSight(cross);
    drawCross();
    glass(cross);
    doing.told(cross);
    return true;
  }
  if ((event.key === "Enter" || event.key === " ") && cross) {
    const spot = cross;
    glass(null);
    place(spot, "key");
    if (chosen) markOf(chosen)?.focus();
    return true;
  }
  return false;
}

function onPoint(event, mark) {
  const arrow = ARROWS[event.key];
  if (arrow) {
    const step = event.shiftKey ? 10 : 1;
    const { x, y } = points[chosen.group][chosen.at];
    doing.moving({ quietly: event.repeat });
    drag({ x: x + arrow[0] * step, y: y + arrow[1] * step }, "key");
    inSight(points[chosen.group][chosen.at]);
    doing.moved();
    glass(points[chosen.group][chosen.at]);
    return true;
  }
  if (event.key === "Enter" || event.key === " ") {
    cross = { ...points[mark.dataset.group][mark.dataset.at] };
    stage.focus({ preventScroll: true });
    drawCross();
    return true;
  }
  if (event.key === "Delete" || event.key === "Backspace") {
    doing.remove();
    stage.focus({ preventScroll: true });
    return true;
  }
  return false;
}

export function wire(with_) {
  doing = with_;
  stage.addEventListener("pointerdown", down);
  stage.addEventListener("pointermove", move);
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);
  stage.addEventListener("keydown", key);
  stage.addEventListener("focusin", (event) => {
    const mark = event.target.closest(".point");
    if (!mark) return;
    chosen = { group: mark.dataset.group, at: Number(mark.dataset.at) };
    scaleMarks();
    inSight(points[chosen.group][chosen.at]);
    doing.chose(chosen);
  });
  stage.addEventListener("focusout", () => glass(null));
  stage.addEventListener("wheel", (event) => {
    if (!photo || !stage.contains(document.activeElement)) return;
    event.preventDefault();
    zoom(event.deltaY < 0 ? 1.25 : 0.8, at(event));
  }, { passive: false });
  new ResizeObserver(() => photo && looked()).observe(stage);
}
