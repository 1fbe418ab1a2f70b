// The sliders: sends them, shows what comes back. Every number, sentence and figure comes from the program.

const ALL = ["current", "ambient", "preload", "thickness", "dial", "lost"];
let NAMES = []; // those that the part has
const SENT = {
  current: "current_a",
  ambient: "ambient_c",
  preload: "preload_left_percent",
  thickness: "thickness_percent",
  dial: "dial_a",
  lost: "lost_phase",
};
const UNITS = { current: " A", ambient: " °C", preload: " %", thickness: " %", dial: " A", lost: "" };
const calm = matchMedia("(prefers-reduced-motion: reduce)");

let presets = [];
let preset = null;
let moved = {};
let posture = null;
let base = null; // the answer with no slider moved, if there was one
let latest = null; // the latest answer
let kept = null; // words for a setting that stays beside the others, whose answer is `base`

// ---- asking -----------------------------------------------------------------------------------

function body(more) {
  const sliders = {};
  for (const name of NAMES) if (name in moved) sliders[SENT[name]] = moved[name];
  if (posture) sliders.posture = posture;
  return { preset: preset.id, sliders, look: look(), ...more };
}

// How wide a figure may be, and on what ground it stands.
const dark = matchMedia("(prefers-color-scheme: dark)");
const look = () => ({
  width_px: ($("curve").clientWidth || 760) / (isLarge() ? 1.6 : 1),
  is_dark: dark.matches,
});

let wanted = null;
let asking = false;
let rest = 0;
let slow = false; // start wait and hot curve of this part take long: they are asked for when nothing newer is


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
      if (slow) await put({ ...asked, brief: true });
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
let drawnFor = ""; // the look of the latest figures
async function put(asked) {
  drawnFor = JSON.stringify(asked.look);
  const began = performance.now();
  const answer = await post("/answer", asked);
  if (asked.preset !== preset.id) return;
  const isOwn = !Object.keys(asked.sliders).length;
  if (isOwn && !kept) base = answer;
  show(answer);
  if (isOwn && !kept) before = lineOf(panelOf($("curve")));
  performance.measure("answer", { start: began });
}

// Nobody moves a slider any more: say it, and follow the course for the clock.
function settled() {
  if (!latest) return;
  $("spoken").textContent = latest.shown.spoken;
  keepState();
  resets = [];
  follow();
}

// ---- sliders ----------------------------------------------------------------------------------

function decimals(step) {
  const text = String(step);
  return text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
}

const UNMOVED = { current: noted("the load as it changes"), ambient: noted("air as it changes") };

function label(name) {
  const facts = preset[name];
  const value = moved[name] ?? facts.own;
  const text = value === null ? "" : value.toFixed(decimals(facts.step));
  if (document.activeElement !== $(name + "-value")) $(name + "-value").value = text;
  const multiple = (moved.current / preset.rated_current_a).toFixed(2);
  const times = name === "current" && name in moved ? say(", {} times rated", marked(multiple)) : "";
  $(name).setAttribute("aria-valuetext", (text ? text + UNITS[name] : say(UNMOVED[name])) + times);
}

const within = (name, value) => Math.min(preset[name].most, Math.max(preset[name].least, value));

// A slider moved to a value, whether by itself or by what was typed beside it.
function move(name, value) {
  moved[name] = within(name, value);
  $(name).value = moved[name];
  label(name);
  ask();
}

function place() {
  for (const name of ["dial", "lost"]) $(name + "-field").hidden = !NAMES.includes(name);
  for (const name of NAMES) {
    const facts = preset[name];
    for (const input of [$(name), $(name + "-value")]) {
      input.min = facts.least;
      input.max = facts.most;
      input.step = input.type === "range" ? facts.step : "any";
      input.disabled = facts.idle !== null;
    }
    $(name).value = moved[name] ?? facts.own ?? (name === "current" ? preset.rated_current_a : 23);
    $(name + "-own").textContent = facts.idle ?? say("In the scenario: {}", facts.own_text);
    label(name);
  }
  for (const radio of document.getElementsByName("posture")) {
    radio.checked = radio.value === (posture ?? preset.posture);
  }
  const own = say(preset.posture_text.replace("edge-on", "on edge"));
  $("posture-own").textContent = say("In the scenario: {}", own);
}

function choose(id, state = {}) {
  preset = presets.find((p) => p.id === id);
  ({ moved = {}, posture = null } = state);
  NAMES = ALL.filter((name) => preset[name]);
  for (const name in moved) if (!preset[name]) delete moved[name];
  for (const name in moved) moved[name] = within(name, moved[name]);
  base = null;
  kept = null;
  latest = null;
  slow = false;
  $("story").textContent = preset.shows;
  place();
  ask();
}

for (const name of ALL) {
  $(name).addEventListener("input", () => move(name, Number($(name).value)));
  $(name + "-value").addEventListener("change", (event) => {
    const value = event.target.valueAsNumber;
    if (Number.isFinite(value)) move(name, value);
  });
  $(name + "-value").addEventListener("blur", () => label(name));
}
for (const radio of document.getElementsByName("posture")) {
  radio.addEventListener("change", () => {
    posture = radio.value;
    ask();
  });
}
$("preset").addEventListener("change", () => {
  choose($("preset").value);
});
$("back").addEventListener("click", () => {
  moved = {};
  posture = null;
  place();
  ask();
});

// ---- answers ----------------------------------------------------------------------------------

function show(answer) {
  latest = answer;
  const shown = answer.shown;
  document.body.classList.remove("stale");
  complain("");
  $("lines").replaceChildren(...shown.lines.map((line) => {
    const div = document.createElement("div");
    for (const [tag, text] of [["dt", line.name], ["dd", line.value], ["dd", line.note]]) {
      div.append(Object.assign(document.createElement(tag), { textContent: text }));
    }
    return div;
  }));
  $("bar").textContent = shown.bar;
  $("error").textContent = shown.error;
  $("first").innerHTML = shown.first;
  $("waits").innerHTML = shown.waits;
  $("behind").innerHTML = shown.behind;
  $("strip").innerHTML = answer.strip;
  $("curve").innerHTML = answer.curve
    || `<p>${say("Here no current trips after a time: there is no curve to draw.")}</p>`;
  $("curve-notes").replaceChildren(...answer.curve_notes.map((text) => made("li", text)));
  const isMoved = base && base !== latest;
  if (isMoved) ghost();
  const said = [say("20 points to 0.1 %.")];
  if (isMoved) said.push(say("Thin dashes: {}.", kept ?? say("the scenario as it was")));
  beside();
  if (answer.constant_current_a === null) {
    said.push(say("The load changes in time: no single point on the curve belongs to it."));
  }
  $("curve-caption").textContent = said.join(" ");
}

// What is set, in words.
function setting() {
  const said = NAMES.filter((name) => name in moved)
    .map((name) => `${$(name).labels[0].textContent} ${$(name + "-value").value}${UNITS[name]}`);
  if (posture) said.push(say("strip {}", say(posture.replace("edge-on", "on edge"))));
  return said.join(", ") || say("the scenario as it is");
}

// The kept setting and the present one, answer by answer.
function beside() {
  const row = (tag, cells) => {
    const tr = document.createElement("tr");
    tr.append(...cells.map((text, k) => made(k ? tag : "th", text)));
    return tr;
  };
  const rows = kept ? [row("th", ["", kept, setting()])] : [];
  if (kept) {
    base.shown.lines.forEach((line, k) => {
      const now = latest.shown.lines[k];
      const name = line.name === now.name ? now.name : `${line.name} / ${now.name}`;
      rows.push(row("td", [name, line.value, now.value]));
    });
  }
  $("beside").replaceChildren(...rows);
  $("keep").textContent = say(kept ? noted("Drop the kept setting") : noted("Keep this setting beside"));
}

press("keep", () => {
  if (!latest) return;
  kept = kept ? null : setting();
  if (kept) {
    base = latest;
    before = lineOf(panelOf($("curve")));
  }
  beside();
});

function refuse(error) {
  document.body.classList.add("stale");
  latest = null;
  $("bar").textContent = say("no answer for these values");
  const text = error instanceof TypeError
    ? say("The server does not answer; was it ended? ({})", error.message)
    : say("No answer for these values: {}", error.message);
  complain(text);
}

// ---- figures ----------------------------------------------------------------------------------

// Everything is drawn by the server. A panel of a figure carries its frame and its axes as data:
// with them a value is read under the pointer, and a line of another figure laid over.
function panelOf(figure) {
  const group = figure.querySelector("g.panel");
  if (!group) return null;
  const data = group.dataset;
  const sides = ["left", "right", "top", "bottom"];
  const [left, right, top, bottom] = sides.map((name) => Number(data[name]));
  const axis = (name, from, to) => {
    const [low, high] = [Number(data[name + "Min"]), Number(data[name + "Max"])];
    const isLog = data[name + "Scale"] === "log";
    const share = (value) => isLog
      ? Math.log(value / low) / Math.log(high / low)
      : (value - low) / (high - low);
    const value = (share) => isLog ? low * (high / low) ** share : low + share * (high - low);
    return {
      at: (it) => from + (to - from) * share(it),
      value: (at) => value((at - from) / (to - from)),
    };
  };
  return { group, left, right, top, bottom, x: axis("x", left, right), y: axis("y", bottom, top) };
}

function draw(tag, attributes, text) {
  const node = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  if (text !== undefined) node.textContent = text;
  return node;
}

// The first line of a panel, in the units of its axes.
function lineOf(panel) {
  if (!panel) return [];
  const line = panel.group.querySelector("[data-series] polyline");
  const texts = (line?.getAttribute("points") ?? "").trim().split(/\s+/).filter(Boolean);
  const points = texts.map((text) => text.split(",").map(Number));
  return points.map(([x, y]) => [panel.x.value(x), panel.y.value(y)]);
}

// The curve as it was before a slider moved.
let before = [];
function ghost() {
  const panel = panelOf($("curve"));
  if (!panel) return;
  const points = before.map(([x, y]) => [panel.x.at(x), panel.y.at(y)])
    .filter(([x, y]) => x >= panel.left && x <= panel.right && y >= panel.top && y <= panel.bottom);
  panel.group.append(draw("polyline", { class: "ghost", points: points.join(" ") }));
}

// An upright line through a panel.
function hand(panel, at) {
  panel.group.querySelector(".hand")?.remove();
  const line = draw("path", { class: "hand", d: `M${at} ${panel.top}V${panel.bottom}` });
  panel.group.append(line);
}

// What the curve says under the pointer.
$("curve").addEventListener("pointermove", (event) => {
  const panel = panelOf($("curve"));
  if (!panel) return;
  const svg = panel.group.ownerSVGElement;
  const onScreen = new DOMPoint(event.clientX, event.clientY);
  const place = onScreen.matrixTransform(svg.getScreenCTM().inverse());
  if (place.x < panel.left || place.x > panel.right) return;
  const points = lineOf(panel);
  const current = panel.x.value(place.x);
  const next = points.findIndex(([x]) => x >= current);
  let says = say("no trip within the curve");
  if (next > 0) {
    const [[a, s], [b, t]] = [points[next - 1], points[next]];
    const share = Math.log(current / a) / Math.log(b / a);
    says = say("trips after {} from cold", spell(s * (t / s) ** share));
  }
  hand(panel, place.x);
  $("curve-reading").textContent = say("Under the pointer: {} A, {}", marked(current.toPrecision(3)), says);
});
$("curve").addEventListener("pointerleave", () => {
  $("curve").querySelector(".hand")?.remove();
  $("curve-reading").textContent = "";
});

// The strip at a moment of the clock, in the place and in the layers of the one that was drawn.
function bend(frame) {
  const group = $("strip").querySelector("g.strip");
  if (!group) return;
  const names = ["x", "y", "perMm", "times"];
  const [x, y, perMm, times] = names.map((name) => Number(group.dataset[name]));
  const layers = group.dataset.layers.split(" ").map(Number);
  const [fills, edges] = ["polygon", "polyline"].map((tag) => [...group.querySelectorAll(tag)]);
  let upper = layers.reduce((a, b) => a + b, 0) / 2;
  layers.forEach((thickness, k) => {
    const edge = (offset) => frame.x_mm.map((mm, i) => {
      const height = y - perMm * times * (frame.y_mm[i] + offset);
      return `${(x + perMm * mm).toFixed(1)},${height.toFixed(1)}`;
    });
    const outline = [...edge(upper), ...edge(upper - thickness).reverse()];
    fills[k]?.setAttribute("points", outline.join(" "));
    edges[k]?.setAttribute("points", [...outline, outline[0]].join(" "));
    upper -= thickness;
  });
  $("strip").querySelector("g.names")?.remove();
}

// ---- the clock --------------------------------------------------------------------------------

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
    const known = latest ? latest.outcome.warnings.map((w) => w.text) : [];
    $("warnings").replaceChildren(...course.warnings.filter((w) => !known.includes(w)).map((text) =>
      Object.assign(document.createElement("li"), { textContent: text })));
  } else {
    // What has been told stays told, but for the end of a record that now goes on.
    passed = course.events.filter((event) => event.time_s < now).length;
  }
  $("course").innerHTML = course.figure;
  tick();
  return true;
}

function stopClock() {
  playing = false;
  course = null;
  abort?.abort();
  $("play").textContent = say("Start the load");
  for (const id of ["play", "reset", "again"]) allow(id, false);
  $("time").textContent = "0 s";
  $("reading").textContent = "";
  $("countdown").textContent = "";
}

// Index of the last entry not after a time.
function lastBefore(times, t) {
  let [low, high] = [0, times.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle] <= t) low = middle; else high = middle - 1;
  }
  return low;
}

function spell(s) {
  if (s < 100) return marked(s.toFixed(1)) + " s";
  const whole = Math.round(s);
  if (whole < 7200) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor(whole % 3600 / 60)} min`;
}

function frameAt(t) {
  const { frames } = course;
  const i = lastBefore(frames.map((f) => f.time_s), t);
  const [a, b] = [frames[i], frames[Math.min(i + 1, frames.length - 1)]];
  const span = b.time_s - a.time_s;
  const part = span > 0 ? Math.min(1, Math.max(0, (t - a.time_s) / span)) : 0;
  const blend = (key) => a[key].map((v, n) => v + part * (b[key][n] - v));
  return { x_mm: blend("x_mm"), y_mm: blend("y_mm") };
}

// Brings everything to the present time of the clock.
function tick() {
  if (!course || !latest) return;
  const end = course.time_s.at(-1);
  const i = lastBefore(course.time_s, now);
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
    if (!next) text = say("The reset NEVER catches: {}.", latest.shown.lines[2].note);
    else if (next.time_s > now) {
      text = say("The reset catches in {} (for the protector only).", spell(next.time_s - now));
    }
    else text = say("The reset catches from here on. Find the cause first.");
  }
  if (now >= end) {
    const canBeReset = open && !preset.resets_itself;
    text += " " + say(canBeReset
      ? noted("The record ends here: reset, or go back to the start.")
      : noted("The record ends here."));
  }
  $("countdown").textContent = text;
  allow("play", now < end);
  $("play").textContent = say(playing ? noted("Pause") : now > 0 ? noted("Go on") : noted("Start the load"));
  allow("reset", open && !preset.resets_itself);
  allow("again", now > 0);
  if (now > 0 || playing) bend(frameAt(now));
  moveHand();
}

function catches(event) {
  return event.event === "relatch" || event.event === "closes_by_itself";
}

function openedAt() {
  const isIt = (e) => e.event === "contacts_open" && e.time_s <= now + 1e-9;
  return course.events.filter(isIt).at(-1)?.time_s ?? 0;
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
  if (await follow() && latest) $("strip").innerHTML = latest.strip;
});
press("reset", async () => {
  playing = false;
  resets.push(now);
  if (await follow()) run();
});

// A line through the course at the present time.
function moveHand() {
  const panel = panelOf($("course"));
  if (!panel || !course) return;
  hand(panel, panel.left + (panel.right - panel.left) * now / (course.time_s.at(-1) || 1));
}

// ---- take away --------------------------------------------------------------------------------

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
  const shown = [$("strip"), $("curve")].map((box) => box.querySelector("svg")).filter(Boolean);
  const figures = shown.map((svg) => svg.cloneNode(true));
  const width = 960;
  const changes = (latest.outcome.changed ?? []).map((line) => say("Changed: {}", line));
  const cautions = latest.outcome.cautions.map((c) => c.text);
  const answers = latest.shown.lines.map((l) => `${l.name} ${l.value}`).join("; ");
  const said = [latest.outcome.scenario, ...changes, answers, ...latest.curve_notes, ...cautions]
    .flatMap((text) => wrapped(text, width / 7.2));
  let height = 24 + 20 * said.length;
  for (const svg of figures) {
    const [, , w, h] = svg.getAttribute("viewBox").split(" ").map(Number);
    svg.querySelectorAll(".hand, .ghost").forEach((node) => node.remove());
    const place = { y: height, width, height: width * h / w };
    for (const name in place) svg.setAttribute(name, place[name]);
    height += width * h / w + 16;
  }
  const xmlns = "http://www.w3.org/2000/svg";
  const svg = draw("svg", { xmlns, viewBox: `0 0 ${width} ${height}`, width, height });
  svg.append(draw("title", {}, said.join(" ")), draw("rect", { width, height, fill: paper }));
  said.forEach((text, i) => {
    const look = { fill: ink, "font-family": "system-ui, sans-serif", "font-size": i ? 13 : 16 };
    svg.append(draw("text", { x: 12, y: 24 + 20 * i, ...look }, text));
  });
  svg.append(...figures);
  return new XMLSerializer().serializeToString(svg);
}

// The answers and the points of the curve, a row each.
function table() {
  const quoted = (cell) => `"${String(cell ?? "").replaceAll('"', '""')}"`;
  const answers = latest.shown.lines.map((l) => [l.name, l.value, l.note]);
  const curve = latest.outcome.characteristic.cold.map((p) => [p.current_a, p.time_s]);
  const heads = [["answer", "value", "note"], ["current_a", "trip_time_s"]];
  const rows = [heads[0], ...answers, [], heads[1], ...curve];
  return rows.map((row) => row.map(quoted).join(",")).join("\r\n") + "\r\n";
}

// What can be taken away: its file, its type, its text, and what it is called when it is on the clipboard.
const TAKEN = {
  scenario: ["toml", "application/toml", () => post("/scenario", body()), noted("The scenario")],
  drawing: ["svg", "image/svg+xml", drawing, noted("The drawing")],
  table: ["csv", "text/csv", table, noted("The table")],
};
for (const [name, [ending, kind, make, called]] of Object.entries(TAKEN)) {
  const text = async (then) => {
    if (!latest && name !== "scenario") return;
    try {
      await then(await make());
    } catch (error) {
      refuse(error);
    }
  };
  press("save-" + name, () => text((it) => save(`${preset.id}-page.${ending}`, kind, it)));
  press("copy-" + name, () => text(async (it) => {
    await navigator.clipboard.writeText(it);
    $("taken").textContent = say("{} is on the clipboard.", say(called));
  }));
}

// ---- beginning --------------------------------------------------------------------------------

// Figures are drawn again for another room or ground; the clock goes on.
let resized = 0;
async function redraw() {
  const isDrawn = JSON.stringify(look()) === drawnFor;
  if (!latest || asking || isDrawn) return;
  asking = true;
  try {
    await put(body());
    tick();
  } catch (error) {
    refuse(error);
  }
  asking = false;
  if (wanted) pump();
}
addEventListener("resize", () => {
  clearTimeout(resized);
  resized = setTimeout(redraw, 200);
});
dark.addEventListener("change", redraw);

const spelt = (k) => k < 60 ? k + " s" : k < 3600 ? k / 60 + " min" : k / 3600 + " h";
function offerLapses() {
  $("lapse").replaceChildren(...LAPSES.map((k) =>
    Object.assign(document.createElement("option"), {
      value: String(k),
      textContent: say("1 s shows {}", spelt(k)),
    })));
}
