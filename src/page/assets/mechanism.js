// The mechanism at work: a moving picture that can be stopped, and that stands where nothing shall move.

const still = matchMedia("(prefers-reduced-motion: reduce)");
const film = () => $("mechanism").querySelector("svg");

function stopMechanism(is) {
  if (is) film().pauseAnimations(); else film().unpauseAnimations();
  $("stop-mechanism").setAttribute("aria-pressed", String(is));
  $("stop-mechanism").textContent = say(is ? noted("Go on") : noted("Pause"));
}

press("show-mechanism", async () => {
  $("mechanism-note").textContent = say("Drawing …");
  try {
    const answer = await post("/mechanism", body());
    $("mechanism").innerHTML = answer.picture;
    $("mechanism-note").textContent = "";
    if (still.matches) film().setCurrentTime(answer.still_s);
    stopMechanism(still.matches);
  } catch (error) {
    $("mechanism").replaceChildren();
    $("mechanism-note").textContent = say("No picture: {}", error.message);
  }
  for (const id of ["stop-mechanism", "save-mechanism"]) allow(id, film() !== null);
});
press("stop-mechanism", () => stopMechanism(!film().animationsPaused()));
press("save-mechanism", () =>
  save("mechanism.svg", "image/svg+xml", new XMLSerializer().serializeToString(film())));
