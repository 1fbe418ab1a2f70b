"use strict";
// Carries requests to the engine where there is no server: a line with the target, the question below it.

async function engineOf(bytes) {
  let { module, instance } = await WebAssembly.instantiate(bytes, {});
  let opened = null;
  const carried = (request) => {
    const { room, ask, answer, memory } = instance.exports;
    const sent = new TextEncoder().encode(request);
    const place = room(sent.length);
    new Uint8Array(memory.buffer, place, sent.length).set(sent);
    const length = ask();
    return new TextDecoder().decode(new Uint8Array(memory.buffer, answer(), length));
  };
  return async (request) => {
    if (/^(\/..)?\/open/.test(request)) opened = request;
    try {
      return carried(request);
    } catch (error) {
      // What failed leaves nothing behind that could be trusted: a fresh engine answers the next.
      instance = await WebAssembly.instantiate(module, {});
      if (opened && opened !== request) carried(opened);
      return "500\n" + JSON.stringify({ error: "The engine failed at these values: " + error.message });
    }
  };
}

// In a worker: the packed engine comes first, then requests, each with a number.
if (typeof importScripts === "function") {
  let engine = null;
  onmessage = async ({ data: { packed, number, request } }) => {
    if (packed) {
      const unpacked = packed.stream().pipeThrough(new DecompressionStream("gzip"));
      engine = new Response(unpacked).arrayBuffer().then(engineOf);
      return;
    }
    try {
      postMessage({ number, answer: await (await engine)(request) });
    } catch (error) {
      const sentence = "The engine does not start in this browser: " + error.message;
      postMessage({ number, answer: "500\n" + JSON.stringify({ error: sentence }) });
    }
  };
}
