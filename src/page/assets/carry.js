"use strict";
// Carries questions to the program: to its server, or to its engine in a worker where the page is a file of its own.

const $ = (id) => document.getElementById(id);
const made = (tag, text) => Object.assign(document.createElement(tag), { textContent: text });

// English stands in the page; what stands in its place in another language comes from the program.
let tongue = "en";
let words = {};
const say = (text, ...holes) => {
  let next = 0;
  const said = words[text] ?? text;
  return said.replace(/\{(\d*)\}/g, (_, place) => holes[place === "" ? next++ : Number(place)]);
};
const noted = (text) => text; // said later
const marked = (number) => tongue === "en" ? number : number.replace(".", ",");
const spoken = () => tongue === "en" ? "" : "/" + tongue;

// Two carriers with one shape: a target and a question go out, whether it went well and a text come back.
async function served(target, question, signal) {
  const asked = question === undefined ? {} : {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(question),
  };
  const response = await fetch(spoken() + target, { ...asked, signal });
  return [response.ok, await response.text()];
}

function inside(packed) {
  const script = URL.createObjectURL(new Blob([$("engine-script").textContent]));
  const worker = new Worker(script);
  const waiting = new Map();
  let count = 0;
  worker.postMessage({ packed: new Blob([packed]) });
  worker.onmessage = ({ data: { number, answer } }) => {
    const end = answer.indexOf("\n");
    waiting.get(number)([answer.slice(0, end) === "200", answer.slice(end + 1)]);
    waiting.delete(number);
  };
  return (target, question) => new Promise((resolve) => {
    const [to, brings] = target === "/presets" ? ["/open", $("own").textContent] : [target, null];
    waiting.set(count += 1, resolve);
    worker.postMessage({ number: count, request: spoken() + to + "\n" + (brings ?? JSON.stringify(question)) });
  });
}

const packed = $("engine");
const isAlone = packed !== null;
const carry = isAlone
  ? inside(Uint8Array.from(atob(packed.textContent), (letter) => letter.charCodeAt(0)))
  : served;

async function post(target, asked, signal) {
  const [isWell, text] = await carry(target, asked, signal);
  if (signal?.aborted) throw new DOMException("not wanted any more", "AbortError");
  if (!isWell) throw new Error(JSON.parse(text).error);
  return target === "/scenario" ? text : JSON.parse(text);
}

function save(name, kind, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: kind }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

// A button that cannot be used now keeps the focus, so that nobody at the keyboard loses their place.
const allow = (id, may) => $(id).setAttribute("aria-disabled", String(!may));
const press = (id, act) => $(id).addEventListener("click", () => {
  if ($(id).getAttribute("aria-disabled") !== "true") act();
});

function complain(text) {
  // Said once, not at every move.
  if ($("problem").textContent !== text) $("problem").textContent = text;
  $("problem").hidden = text === "";
}
