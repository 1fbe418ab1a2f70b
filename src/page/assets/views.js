// What is looked at, and in which language: the sliders, a wait, a diagnosis or a lesson; large type for a projector; how the page begins.

const VIEWS = ["sliders", "wait", "diagnosis", "lesson"];

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

// ---- language ---------------------------------------------------------------------------------

const LANGUAGES = [...$("language").options].map((option) => option.value);
let isChosen = false; // by the address or on the page; otherwise the browser's

async function speak() {
  const named = new URLSearchParams(location.hash.slice(1)).get("language");
  isChosen = LANGUAGES.includes(named);
  const liked = (navigator.languages ?? []).map((language) => language.slice(0, 2));
  tongue = isChosen ? named : liked.find((language) => LANGUAGES.includes(language)) ?? "en";
  $("language").value = document.documentElement.lang = tongue;
  if (tongue === "en") return;
  words = await post("/words");
  for (const part of document.querySelectorAll("header, main")) translate(part);
}

// Texts between elements, and what is only read aloud.
function translate(part) {
  const texts = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode.data;
    const said = words[text.replace(/\s+/g, " ").trim()];
    if (said) texts.currentNode.data = text.replace(/\S(?:[^]*\S)?/, () => said);
  }
  for (const element of part.querySelectorAll("[aria-label]")) {
    element.setAttribute("aria-label", say(element.getAttribute("aria-label")));
  }
}

$("language").addEventListener("change", () => {
  tongue = $("language").value;
  isChosen = true;
  keepState();
  location.reload();
});

// The address holds what is looked at and where the sliders stand: it can be shared, and loaded again.
function keepState() {
  if (!preset) return;
  const view = VIEWS.find((name) => !$(name).hidden);
  const state = new URLSearchParams({
    part: preset.id, ...moved, ...(posture && { posture }),
    ...(view !== "sliders" && { view }), ...(isLarge() && { large: "yes" }),
    ...(isChosen && { language: tongue }),
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
  const values = ALL.filter((name) => known[name]).map((name) => [name, take(name, number)])
    .filter(([, value]) => value !== undefined);
  const state = {
    known,
    moved: Object.fromEntries(values),
    posture: take("posture", one(["edge-on", "upright", "flat"])) ?? null,
    view: take("view", one(VIEWS)) ?? "sliders",
    isLarge: take("large", one(["yes"])) !== undefined,
    language: take("language", one(LANGUAGES)),
  };
  return { ...state, wrong: [...wrong] };
}

(async () => {
  try {
    await speak();
    presets = await post("/presets");
  } catch (error) {
    complain(isAlone ? error.message : say("The server does not answer: {}", error.message));
    return;
  }
  $("preset").replaceChildren(...presets.map((p) =>
    Object.assign(made("option", p.title), { value: p.id })));
  const state = stateOf(location.hash.slice(1));
  if (state.wrong.length) {
    $("link-note").textContent = say(
      "The address was damaged: {} is not understood and left out; without it the scenario holds.",
      state.wrong.map((name) => name.slice(0, 20)).join(", "),
    );
  }
  offerLapses();
  setLarge(state.isLarge);
  lookAt(state.view);
  $("preset").value = state.known.id;
  choose(state.known.id, state);
})();
