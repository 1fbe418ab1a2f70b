"use strict";
// Sends the sliders, draws what comes back. Every number of physics comes from the server.

const $ = (id) => document.getElementById(id);
const NAMES = ["current", "ambient", "preload", "thickness"];
const SENT = { current: "current_a", ambient: "ambient_c", preload: "preload_left_percent", thickness: "thickness_percent" };
const UNITS = { current: " A", ambient: " °C", preload: " %", thickness: " %" };
const calm = matchMedia("(prefers-reduced-motion: reduce)");

let presets = [];
let preset = null;
let moved = {};
let posture = null;
let base = null; // the answer with no slider moved
let latest = null; // the latest answer
let exaggeration = 1;

// ---- asking ------------------------------------------------------------------------------------------------

function body(more) {
  const sliders = {};
  for (const name of NAMES) if (name in moved) sliders[SENT[name]] = moved[name];
  if (posture) sliders.posture = posture;
  return { preset: preset.id, sliders, ...more };
}

async function post(target, asked, signal) {
  const response = await fetch(target, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(asked),
    signal,
  });
  if (target === "/scenario" && response.ok) return response.text();
  const answer = await response.json();
  if (!response.ok) throw new Error(answer.error);
  return answer;
}

let wanted = null;
let asking = false;
let rest = 0;
let slow = false; // the start wait of this part takes long: it is asked for when nothing newer is


// One question at a time; of those that wait only the last is asked.
function ask() {
  wanted = body();
  $("answers").setAttribute("aria-busy", "true");
  stopClock();
  clearTimeout(rest);
  if (!asking) pump();
}

async function pump() {
  asking = true;
  while (wanted) {
    const asked = wanted;
    wanted = null;
    try {
      if (slow) await put({ ...asked, without_start: true });
      const began = performance.now();
      if (!wanted) await put(asked);
      slow = slow || performance.now() - began > 25;
    } catch (error) {
      if (asked.preset === preset.id) refuse(error);
    }
  }
  asking = false;
  $("answers").setAttribute("aria-busy", "false");
  rest = setTimeout(settled, 400);
}

// Asks once and shows the answer, unless another part was chosen meanwhile.
async function put(asked) {
  const began = performance.now();
  const answer = await post("/answer", asked);
  if (asked.preset !== preset.id) return;
  if (!base) base = answer;
  show(answer);
  performance.measure("answer", { start: began });
}

// Nobody moves a slider any more: say it, and follow the course for the clock.
function settled() {
  if (!latest) return;
  $("spoken").textContent = latest.shown.spoken;
  resets = [];
  follow();
}

// ---- sliders -----------------------------------------------------------------------------------------------

function decimals(step) {
  const text = String(step);
  return text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
}

function label(name) {
  const facts = preset[name];
  const text = name in moved
    ? moved[name].toFixed(decimals(facts.step)) + UNITS[name]
    : name === "thickness" ? "100 %" : facts.own === null ? "as it changes" : facts.own_text;
  $(name + "-out").textContent = text;
  const times = name === "current" && name in moved ? `, ${(moved[name] / preset.rated_current_a).toFixed(2)} times rated` : "";
  $(name).setAttribute("aria-valuetext", text + times);
}

function place() {
  for (const name of NAMES) {
    const facts = preset[name];
    const input = $(name);
    input.min = facts.least;
    input.max = facts.most;
    input.step = facts.step;
    input.value = facts.own ?? (name === "current" ? preset.rated_current_a : 23);
    input.disabled = facts.idle !== null;
    $(name + "-own").textContent = facts.idle ?? "In the scenario: " + facts.own_text;
    label(name);
  }
  for (const radio of document.getElementsByName("posture")) radio.checked = radio.value === preset.posture;
  $("posture-own").textContent = "In the scenario: " + preset.posture_text.replace("edge-on", "on edge");
}

function choose(id) {
  preset = presets.find((p) => p.id === id);
  moved = {};
  posture = null;
  base = null;
  latest = null;
  exaggeration = 0;
  slow = false;
  $("story").textContent = preset.shows;
  place();
  ask();
}

for (const name of NAMES) {
  $(name).addEventListener("input", () => {
    moved[name] = Number($(name).value);
    label(name);
    ask();
  });
}
for (const radio of document.getElementsByName("posture")) {
  radio.addEventListener("change", () => {
    posture = radio.value;
    ask();
  });
}
$("preset").addEventListener("change", () => {
  choose($("preset").value);
  history.replaceState(null, "", "#" + encodeURIComponent(preset.id));
});
$("back").addEventListener("click", () => {
  moved = {};
  posture = null;
  place();
  ask();
});

// ---- answers -----------------------------------------------------------------------------------------------

function list(id, texts, none) {
  const items = texts.length || !none ? texts : [none];
  $(id).replaceChildren(...items.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
}

function show(answer) {
  latest = answer;
  const shown = answer.shown;
  document.body.classList.remove("stale");
  $("problem").hidden = true;
  $("lines").replaceChildren(...shown.lines.map((line) => {
    const div = document.createElement("div");
    for (const [tag, text] of [["dt", line.name], ["dd", line.value], ["dd", line.note]]) {
      div.append(Object.assign(document.createElement(tag), { textContent: text }));
    }
    return div;
  }));
  $("bar").textContent = shown.bar;
  $("error").textContent = shown.error;
  list("cautions-first", shown.cautions_first);
  list("cautions-waits", shown.cautions_waits);
  list("cautions-end", shown.cautions_end);
  list("part", shown.part);
  list("warnings", shown.warnings, "None.");
  $("left-out").textContent = answer.outcome.not_modelled.map((n) => n.text).join("; ") + ".";
  drawStrip();
  drawCurve();
}

function refuse(error) {
  document.body.classList.add("stale");
  latest = null;
  $("bar").textContent = "no answer for these values";
  const text = error instanceof TypeError
    ? "The server does not answer; was it ended? (" + error.message + ")"
    : "No answer for these values: " + error.message;
  // Said once, not at every move.
  if ($("problem").textContent !== text) $("problem").textContent = text;
  $("problem").hidden = false;
}

// ---- drawing -----------------------------------------------------------------------------------------------

function draw(tag, attributes, text) {
  const node = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  if (text !== undefined) node.textContent = text;
  return node;
}

function sheet(id, height, title) {
  const svg = $(id);
  const width = Math.max(260, Math.round(svg.clientWidth || svg.parentNode.clientWidth));
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  svg.replaceChildren(draw("title", { id: id + "-title" }, title));
  return { svg, width, height, add: (...nodes) => svg.append(...nodes) };
}

// Through points, without corners (Catmull and Rom's curve as Bezier pieces).
function smooth(points) {
  if (points.length < 3) return path(points);
  const at = (i) => points[Math.max(0, Math.min(points.length - 1, i))];
  let text = path(points.slice(0, 1));
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b, c, d] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
    const ends = [[b[0] + (c[0] - a[0]) / 6, b[1] + (c[1] - a[1]) / 6], [c[0] - (d[0] - b[0]) / 6, c[1] - (d[1] - b[1]) / 6], c];
    text += "C" + ends.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join(" ");
  }
  return text;
}

const path = (points) => points.map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
const words = (x, y, text, kind, anchor) =>
  draw("text", { x: x.toFixed(1), y: y.toFixed(1), class: kind ?? "", "text-anchor": anchor ?? "start" }, text);

// The strip; `frame` is a moment of the clock, otherwise the end of carrying is drawn.
function drawStrip(frame) {
  const { outcome, shown, layers_mm: layers, push_point_mm: push } = latest;
  const [start, end] = outcome.shapes;
  const shape = frame ?? end;
  const isBlade = outcome.part.mechanism !== "latch";
  const s = sheet("strip", 220, shown.strip_title);
  const left = 34;
  const scale = (s.width - left - 40) / outcome.part.length_mm;
  const marks = isBlade ? [] : [[shown.release, outcome.part.release_deflection_mm, "release", "plum"],
    [shown.relatch, outcome.part.relatch_travel_mm, "relatch", "moss"]];
  const reach = Math.max(...shape.y_mm.map(Math.abs), ...start.y_mm.map(Math.abs), ...marks.map((m) => Math.abs(m[1])));
  const room = 92;
  if (!exaggeration || exaggeration * reach * scale > room) {
    exaggeration = [10, 5, 3, 2, 1.5, 1, 0.5].find((k) => k * reach * scale <= room) ?? 0.25;
  }
  const zero = isBlade ? 125 : 138;
  const x = (mm) => left + scale * mm;
  const y = (mm) => zero - scale * exaggeration * mm;
  const thick = layers.map((mm) => Math.max(1.2, mm * scale));
  const whole = thick.reduce((a, b) => a + b, 0);
  s.add(draw("rect", { class: "clamp", x: left - 22, y: y(start.y_mm[0]) - whole / 2 - 14, width: 22, height: whole + 28, rx: 2 }));
  if (isBlade) {
    const far = x(shape.x_mm.at(-1));
    s.add(draw("rect", { class: "clamp", x: far, y: zero - whole / 2 - 14, width: 14, height: whole + 28, rx: 2 }));
  }
  const texts = [];
  for (const [text, mm, kind, colour] of marks) {
    const at = y(mm);
    const crowded = kind === "relatch" && Math.abs(at - y(marks[0][1])) < 17;
    s.add(draw("path", { class: kind, d: path([[left + 6, at], [x(push) + 26, at]]) }));
    texts.push(words(left + 8, at + (crowded ? 14 : -5), text, colour + " halo"));
  }
  s.add(draw("path", { class: "ghost", d: path(start.x_mm.map((mm, i) => [x(mm), y(start.y_mm[i])])) }));
  let above = -whole / 2;
  const kind = (n) => "layer" + (n === 0 ? 0 : n === layers.length - 1 ? 1 : 2 + n % 2);
  thick.forEach((t, n) => {
    const edge = (offset) => shape.x_mm.map((mm, i) => [x(mm), y(shape.y_mm[i]) + offset]);
    const outline = path(edge(above)) + path(edge(above + t).reverse()).replace("M", "L") + "Z";
    s.add(draw("path", { class: kind(n), d: outline }));
    above += t;
  });
  s.add(...texts);
  outcome.part.layers.forEach((name, n) => s.add(
    draw("rect", { class: kind(n), x: left, y: s.height - 14 * (outcome.part.layers.length - n) - 2, width: 18, height: 9 }),
    words(left + 24, s.height - 14 * (outcome.part.layers.length - n) + 7, name, "soft")));
  const bending = exaggeration === 1 ? "so is the bending. " : `the bending is drawn ${exaggeration} times as large. `;
  $("strip-caption").textContent = `Length and thickness are drawn to one scale; ${bending}`
    + `Dashed: at the start. Filled: ${frame ? "now" : shown.strip_moment}.`;
}

const TIMES = [[0.001, "1 ms"], [0.01, "10 ms"], [0.1, "0.1 s"], [1, "1 s"], [10, "10 s"], [60, "1 min"], [600, "10 min"],
  [3600, "1 h"], [36000, "10 h"], [360000, "100 h"]];

function drawCurve() {
  const { outcome, shown } = latest;
  const rated = outcome.part.rated_current_a;
  const s = sheet("curve", Math.max(260, Math.min(400, 0.62 * $("curve").clientWidth)), shown.curve_title);
  const points = (answer) => answer.outcome.characteristic.cold.filter((p) => p.time_s > 0);
  const here = outcome.trip.time_s;
  const seconds = [...points(latest), ...points(base)].map((p) => p.time_s).concat(here > 0 ? [here] : []);
  const low = Math.log10(Math.min(...seconds, 1)) - 0.15;
  const high = Math.log10(Math.max(...seconds, 100)) + 0.25;
  const [left, right, top, bottom] = [56, s.width - 14, 26, s.height - 44];
  const most = Math.log(8.5 / 0.45);
  const x = (a) => left + (right - left) * Math.log(a / rated / 0.45) / most;
  const y = (t) => bottom - (bottom - top) * (Math.log10(t) - low) / (high - low);
  const inside = (a) => x(a) >= left && x(a) <= right;
  for (const [t, text] of TIMES) {
    if (Math.log10(t) < low || Math.log10(t) > high) continue;
    s.add(draw("path", { class: "grid", d: path([[left, y(t)], [right, y(t)]]) }), words(left - 6, y(t) + 4, text, "soft", "end"));
  }
  const multiples = s.width < 420 ? [0.5, 1, 2, 4, 8] : [0.5, 1, 1.5, 2, 3, 4, 6, 8];
  for (const m of multiples) {
    s.add(draw("path", { class: "grid", d: path([[x(m * rated), top], [x(m * rated), bottom]]) }));
    s.add(words(x(m * rated), bottom + 16, String(m * rated), "soft", "middle"), words(x(m * rated), top - 8, m + "×", "soft", "middle"));
  }
  s.add(words((left + right) / 2, s.height - 8, "Current, A (above: times rated)", "soft", "middle"));
  s.add(draw("rect", { class: "frame", x: left, y: top, width: right - left, height: bottom - top }));
  s.add(draw("path", { class: "rated", d: path([[x(rated), top], [x(rated), bottom]]) }));
  const line = (answer) => smooth(points(answer).filter((p) => inside(p.current_a)).map((p) => [x(p.current_a), y(p.time_s)]));
  if (base !== latest) s.add(draw("path", { class: "ghost", d: line(base) }));
  s.add(draw("path", { class: "main", d: line(latest) }));
  const holds = outcome.trip_point.current_a;
  if (holds && inside(holds)) {
    s.add(draw("path", { class: "point", d: path([[x(holds), top], [x(holds), bottom]]) }));
    const turned = x(holds) - 5;
    s.add(draw("text", { class: "plum halo", transform: `translate(${turned.toFixed(1)} ${bottom - 8}) rotate(-90)` },
      "holds " + shown.lines[1].value));
  }
  const current = latest.constant_current_a;
  if (current && inside(current)) {
    const trip = shown.lines[0];
    const at = here > 0 ? y(here) : trip.answer === "at_once" ? bottom - 9 : top + 9;
    const word = trip.answer === "never" ? "holds for ever" : trip.value;
    if (here > 0) s.add(draw("path", { class: "cross", d: path([[left, at], [x(current), at], [x(current), bottom]]) }));
    s.add(here > 0
      ? draw("rect", { class: "here", x: x(current) - 7, y: at - 7, width: 14, height: 14, transform: `rotate(45 ${x(current)} ${at})` })
      : draw("circle", { class: trip.answer === "never" ? "held" : "here", cx: x(current), cy: at, r: 6 }));
    const flip = x(current) > right - 110;
    s.add(words(x(current) + (flip ? -13 : 13), at - (here > 0 ? 10 : -5), word, "ember halo", flip ? "end" : "start"));
  }
  $("curve-caption").textContent = "Cold start, 20 points to 0.1 %. Diamond: this current. Dotted: rated. "
    + (base === latest ? "" : "Thin dashes: the scenario as it was. ")
    + (current ? "" : "The scenario's own load changes in time: no single point on the curve belongs to it.");
}

// ---- the clock ---------------------------------------------------------------------------------------------

let course = null;
let resets = [];
let now = 0; // time in the course, s
let playing = false;
let last = 0;
let passed = 0; // events that have happened
let abort = null;

const LAPSES = [1, 2, 5, 10, 20, 60, 120, 300, 600, 1800, 3600, 21600];

async function follow() {
  abort?.abort();
  abort = new AbortController();
  try {
    course = await post("/course", body({ resets_s: resets }), abort.signal);
  } catch (error) {
    if (error.name !== "AbortError") refuse(error);
    return false;
  }
  if (!resets.length) {
    now = 0;
    passed = 0;
    $("events").replaceChildren();
    const length = course.time_s.at(-1);
    $("lapse").value = String(LAPSES.find((k) => length / k <= 25) ?? LAPSES.at(-1));
    const known = latest ? latest.shown.warnings : [];
    list("warnings", known.concat(course.warnings.filter((w) => !known.includes(w))), "None.");
  }
  drawCourse();
  tick();
  return true;
}

// A button that cannot be used now keeps the focus, so that nobody at the keyboard loses their place.
const allow = (id, may) => $(id).setAttribute("aria-disabled", String(!may));
const press = (id, act) => $(id).addEventListener("click", () => {
  if ($(id).getAttribute("aria-disabled") === "false") act();
});

function stopClock() {
  playing = false;
  course = null;
  abort?.abort();
  $("play").textContent = "Start the load";
  for (const id of ["play", "reset", "again"]) allow(id, false);
  $("time").textContent = "0 s";
  $("reading").textContent = "";
  $("countdown").textContent = "";
}

// Index of the last entry not after a time.
function before(times, t) {
  let [low, high] = [0, times.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle] <= t) low = middle; else high = middle - 1;
  }
  return low;
}

function spell(s) {
  if (s < 100) return s.toFixed(1) + " s";
  const whole = Math.round(s);
  return whole < 7200 ? `${Math.floor(whole / 60)} min ${whole % 60} s` : `${Math.floor(whole / 3600)} h ${Math.floor(whole % 3600 / 60)} min`;
}

function frameAt(t) {
  const { frames } = course;
  const i = before(frames.map((f) => f.time_s), t);
  const [a, b] = [frames[i], frames[Math.min(i + 1, frames.length - 1)]];
  const part = b.time_s > a.time_s ? Math.min(1, Math.max(0, (t - a.time_s) / (b.time_s - a.time_s))) : 0;
  const blend = (key) => a[key].map((v, n) => v + part * (b[key][n] - v));
  return { x_mm: blend("x_mm"), y_mm: blend("y_mm") };
}

// Brings everything to the present time of the clock.
function tick() {
  if (!course || !latest) return;
  const end = course.time_s.at(-1);
  const i = before(course.time_s, now);
  const open = !course.closed[i];
  $("time").textContent = spell(now);
  $("reading").textContent = course.reading[i];
  while (passed < course.events.length && course.events[passed].time_s <= now + 1e-9) {
    const event = course.events[passed];
    if (event.event !== "end" && (now > 0 || playing)) {
      const li = document.createElement("li");
      li.textContent = `${event.at}: ${event.text}`;
      $("events").append(li);
      $("said").textContent = li.textContent;
    }
    if (now === 0 && !playing) break;
    passed += 1;
  }
  let text = "";
  if (open && !preset.resets_itself) {
    const next = course.events.find((e) => catches(e) && e.time_s > openedAt());
    if (!next) text = "The reset NEVER catches: it does not cool enough.";
    else if (next.time_s > now) text = `The reset catches in ${spell(next.time_s - now)} (for the protector only).`;
    else text = "The reset catches from here on. Find the cause first.";
  }
  if (now >= end) text += open && !preset.resets_itself ? " The record ends here: reset, or go back to the start." : " The record ends here.";
  $("countdown").textContent = text;
  allow("play", now < end);
  $("play").textContent = playing ? "Pause" : now > 0 ? "Go on" : "Start the load";
  allow("reset", open && !preset.resets_itself);
  allow("again", now > 0);
  if (now > 0 || playing) drawStrip(frameAt(now));
  moveHand();
}

function catches(event) {
  return event.event === "relatch" || event.event === "closes_by_itself";
}

function openedAt() {
  return course.events.filter((e) => e.event === "contacts_open" && e.time_s <= now + 1e-9).at(-1)?.time_s ?? 0;
}

function step(stamp) {
  if (!playing || !course) return;
  const wait = calm.matches ? 500 : 0;
  if (stamp - last >= wait) {
    now = Math.min(course.time_s.at(-1), now + (stamp - last) / 1000 * Number($("lapse").value));
    last = stamp;
    if (now >= course.time_s.at(-1)) playing = false;
    tick();
  }
  if (playing) requestAnimationFrame(step);
}

function run() {
  playing = true;
  last = performance.now();
  requestAnimationFrame(step);
}

press("play", () => {
  if (playing) playing = false; else run();
  tick();
});
press("again", async () => {
  playing = false;
  resets = [];
  if (await follow()) drawStrip();
});
press("reset", async () => {
  playing = false;
  resets.push(now);
  if (await follow()) run();
});

function drawCourse() {
  const s = sheet("course", 184, "Temperature of the hottest point of the strip in time: " + course.runs.join("; "));
  const [left, right, top, bottom] = [56, s.width - 14, 36, s.height - 30];
  const end = course.time_s.at(-1) || 1;
  const hot = Math.max(...course.peak_c);
  const cold = Math.min(...course.peak_c);
  const x = (t) => left + (right - left) * t / end;
  const y = (c) => bottom - (bottom - top) * (c - cold) / Math.max(1, hot - cold);
  s.add(draw("rect", { class: "frame", x: left, y: top, width: right - left, height: bottom - top }));
  s.add(words(left - 6, y(hot) + 8, hot.toFixed(0) + " °C", "soft", "end"), words(left - 6, y(cold), cold.toFixed(0) + " °C", "soft", "end"));
  s.add(words(left, s.height - 10, "0 s", "soft", "middle"), words(right, s.height - 10, spell(end), "soft", "end"));
  s.add(words((left + right) / 2, s.height - 10, s.width < 420 ? "hottest point" : "hottest point of the strip", "soft", "middle"));
  let from = 0;
  for (let i = 1; i <= course.time_s.length; i++) {
    if (i < course.time_s.length && course.closed[i] === course.closed[from]) continue;
    const stop = Math.min(i, course.time_s.length - 1);
    const points = [];
    for (let k = from; k <= stop; k++) points.push([x(course.time_s[k]), y(course.peak_c[k])]);
    s.add(draw("path", { class: course.closed[from] ? "main" : "off", d: path(points) }));
    from = i;
  }
  const busy = [left, left]; // right ends of what is written in each row
  for (const event of course.events) {
    const name = { release: "trips", relatch: "can reset", closes_by_itself: "closes", reset_refused: "refused", reset: "reset", already_closed: "reset" }[event.event];
    if (!name) continue;
    const at = x(event.time_s);
    const good = catches(event) || event.event === "reset";
    s.add(draw("path", { class: good ? "caught" : "mark", d: path([[at, top + 2], [at - 5, top - 6], [at + 5, top - 6]]) + "Z" }));
    const long = 8 + 7 * name.length;
    const late = at + long > right;
    const row = busy.findIndex((taken) => at - (late ? long : 0) >= taken);
    if (row < 0) continue;
    busy[row] = at + (late ? 6 : long + 6);
    s.add(words(at + (late ? -8 : 8), top - 6 - 15 * row, name, good ? "moss" : "plum", late ? "end" : "start"));
  }
  s.add(draw("path", { class: "now", id: "hand", d: "" }));
  course.x = x;
  moveHand();
}

function moveHand() {
  if (!course?.x || !$("hand")) return;
  const at = course.x(now);
  $("hand").setAttribute("d", path([[at, 36], [at, 154]]));
}

// ---- take away ---------------------------------------------------------------------------------------------

function save(name, kind, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: kind }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

$("save-scenario").addEventListener("click", async () => {
  try {
    save(preset.id + "-page.toml", "application/toml", await post("/scenario", body()));
  } catch (error) {
    refuse(error);
  }
});

const STYLES = ["fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linejoin", "paint-order", "font-size", "font-family"];

// A drawing that carries its own styles.
function standing(id, top) {
  const copy = $(id).cloneNode(true);
  const from = [...$(id).querySelectorAll("*")];
  [...copy.querySelectorAll("*")].forEach((node, i) => {
    const style = getComputedStyle(from[i]);
    if (node.tagName !== "title") for (const name of STYLES) node.setAttribute(name, style.getPropertyValue(name).replaceAll('"', "'"));
    node.removeAttribute("class");
    node.removeAttribute("id");
  });
  const [, , width, height] = $(id).getAttribute("viewBox").split(" ").map(Number);
  for (const name of ["role", "aria-labelledby", "id"]) copy.removeAttribute(name);
  for (const [name, value] of [["x", 0], ["y", top], ["width", width], ["height", height]]) copy.setAttribute(name, value);
  return { copy, width, height };
}

// Lines of at most so many characters, broken between words.
function wrapped(text, most) {
  const lines = [""];
  for (const word of text.split(" ")) {
    if (lines.at(-1) && (lines.at(-1) + " " + word).length > most) lines.push("");
    lines.push((lines.pop() + " " + word).trim());
  }
  return lines;
}

function drawing() {
  const ink = getComputedStyle(document.body).color;
  const paper = getComputedStyle($("answers")).backgroundColor;
  const strip = standing("strip", 0);
  const curve = standing("curve", 0);
  const width = Math.max(strip.width, curve.width);
  const changes = latest.outcome.shows.split("\n").filter((line) => line.startsWith("Changed on the page"));
  const said = [latest.outcome.scenario, ...changes, latest.shown.lines.map((l) => `${l.name} ${l.value}`).join("; "),
    $("strip-caption").textContent, $("curve-caption").textContent, "Model estimate by Relatch; the maker's curve and local rules prevail."]
    .flatMap((text) => wrapped(text, width / 7.2));
  const head = 24 + 20 * said.length;
  strip.copy.setAttribute("y", head);
  curve.copy.setAttribute("y", head + strip.height + 16);
  const height = head + strip.height + curve.height + 32;
  const svg = draw("svg", { xmlns: "http://www.w3.org/2000/svg", viewBox: `0 0 ${width} ${height}`, width, height });
  svg.append(draw("title", {}, said.join(" ")), draw("rect", { width, height, fill: paper }));
  said.forEach((text, i) => svg.append(draw("text",
    { x: 12, y: 24 + 20 * i, fill: ink, "font-family": "system-ui, sans-serif", "font-size": i ? 13 : 16 }, text)));
  svg.append(strip.copy, curve.copy);
  return new XMLSerializer().serializeToString(svg);
}

$("save-drawing").addEventListener("click", () => {
  if (latest) save(preset.id + "-page.svg", "image/svg+xml", drawing());
});

// ---- beginning ---------------------------------------------------------------------------------------------

let resized = 0;
addEventListener("resize", () => {
  clearTimeout(resized);
  resized = setTimeout(() => {
    if (!latest) return;
    exaggeration = 0;
    drawStrip(course && now > 0 ? frameAt(now) : undefined);
    drawCurve();
    if (course) drawCourse();
  }, 100);
});

$("lapse").replaceChildren(...LAPSES.map((k) =>
  Object.assign(document.createElement("option"), { value: String(k), textContent: `1 s shows ${k < 60 ? k + " s" : k < 3600 ? k / 60 + " min" : k / 3600 + " h"}` })));

(async () => {
  try {
    presets = await (await fetch("/presets")).json();
    $("preset").replaceChildren(...presets.map((p) =>
      Object.assign(document.createElement("option"), { value: p.id, textContent: p.title })));
    const asked = decodeURIComponent(location.hash.slice(1));
    $("preset").value = presets.some((p) => p.id === asked) ? asked : presets[0].id;
    choose($("preset").value);
  } catch (error) {
    $("problem").textContent = "The server does not answer: " + error.message;
    $("problem").hidden = false;
  }
})();
