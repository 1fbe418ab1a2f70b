// What is looked at: the sliders, a wait or a diagnosis; large type for a projector; how the page begins.

const VIEWS = ["sliders", "wait", "diagnosis"];

function lookAt(name) {
  for (const view of VIEWS) {
    $(view).hidden = view !== name;
    $("to-" + view).setAttribute("aria-pressed", String(view === name));
  }
  $("bar").hidden = name !== "sliders";
  complain("");
  if (name === "diagnosis" && !following.length && !replies.length) interview();
}

for (const view of VIEWS) {
  press("to-" + view, () => {
    lookAt(view);
    keepState();
  });
}
press("large", () => {
  setLarge(!isLarge());
  keepState();
  redraw();
});
const isLarge = () => document.documentElement.classList.contains("large");
function setLarge(is) {
  document.documentElement.classList.toggle("large", is);
  $("large").setAttribute("aria-pressed", String(is));
}

// The address holds what is looked at and where the sliders stand: it can be shared, and loaded again.
function keepState() {
  if (!preset) return;
  const view = VIEWS.find((name) => !$(name).hidden);
  const state = new URLSearchParams({
    part: preset.id, ...moved, ...(posture && { posture }),
    ...(view !== "sliders" && { view }), ...(isLarge() && { large: "yes" }),
  });
  history.replaceState(null, "", "#" + state);
}

// What an address says; what it says wrongly is left out, and that is told.
function stateOf(hash) {
  const asked = new URLSearchParams(hash);
  const wrong = new Set(asked.keys());
  const take = (name, accept) => {
    const value = asked.has(name) ? accept(asked.get(name)) : undefined;
    if (value !== undefined) wrong.delete(name);
    return value;
  };
  const number = (text) => text.trim() !== "" && Number.isFinite(Number(text)) ? Number(text) : undefined;
  const one = (list) => (text) => list.includes(text) ? text : undefined;
  const known = take("part", (id) => presets.find((p) => p.id === id)) ?? presets[0];
  const values = NAMES.map((name) => [name, take(name, number)])
    .filter(([, value]) => value !== undefined);
  const state = {
    known,
    moved: Object.fromEntries(values),
    posture: take("posture", one(["edge-on", "upright", "flat"])) ?? null,
    view: take("view", one(VIEWS)) ?? "sliders",
    isLarge: take("large", one(["yes"])) !== undefined,
  };
  return { ...state, wrong: [...wrong] };
}

(async () => {
  try {
    presets = await post("/presets");
  } catch (error) {
    complain((isAlone ? "" : "The server does not answer: ") + error.message);
    return;
  }
  $("preset").replaceChildren(...presets.map((p) =>
    Object.assign(made("option", p.title), { value: p.id })));
  const state = stateOf(location.hash.slice(1));
  if (state.wrong.length) {
    $("link-note").textContent = "The address was damaged: "
      + state.wrong.map((name) => name.slice(0, 20)).join(", ")
      + " is not understood and left out; without it the scenario holds.";
  }
  setLarge(state.isLarge);
  lookAt(state.view);
  $("preset").value = state.known.id;
  choose(state.known.id, state);
})();
