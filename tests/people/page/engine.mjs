// node engine.mjs ENGINE.js ENGINE.wasm < requests: answers and how long each took, ms, as JSON.
import { readFileSync } from "node:fs";

const [script, wasm] = process.argv.slice(2);
const engineOf = new Function(readFileSync(script, "utf8") + "; return engineOf;")();
const began = performance.now();
const engine = await engineOf(readFileSync(wasm));
const answers = [];
for (const request of JSON.parse(readFileSync(0, "utf8"))) {
  const asked = performance.now();
  const answer = await engine(request);
  answers.push({ answer, took_ms: performance.now() - asked });
}
console.log(JSON.stringify({ whole_ms: performance.now() - began, answers }));
