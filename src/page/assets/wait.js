// How long to wait, from what is printed on a protector, and the count down to it.

const WAIT_FIELDS = ["rating", "load", "air", "start", "tripped", "held", "refused"];
let moments = [];
let opened = null; // when the contacts opened, ms
let counted = 0; // moments that have come

function waitAsked() {
  const asked = {
    sits: $("wait-sits").value || null,
    instantaneous: $("wait-instantaneous").value || null,
    poles: Number($("wait-poles").value) || null,
    phases: Number($("wait-phases").value) || null,
    notices_lost_phase: $("wait-notices").value === "yes",
    resets_itself: $("wait-resets").value === "itself",
  };
  for (const name of WAIT_FIELDS) asked[name] = $("wait-" + name).value;
  return asked;
}

$("wait-form").addEventListener("submit", async (event) => {
  event.preventDefault();
  stopCount();
  $("wait-form").setAttribute("aria-busy", "true");
  try {
    const answer = await post("/wait", waitAsked());
    complain("");
    moments = answer.moments;
    $("wait-shown").innerHTML = answer.shown;
    $("wait-answer").hidden = $("count").hidden = false;
    for (const id of ["count-left", "count-go", "count-ago"]) {
      $(id).closest(id === "count-left" ? "p" : ".row").hidden = !moments.length;
    }
    $("count-until").textContent = answer.no_count;
    if (moments.length) standing();
    $("wait-answer-name").focus();
  } catch (error) {
    $("wait-answer").hidden = $("count").hidden = true;
    complain(say("No answer: {}", error.message));
  }
  $("wait-form").setAttribute("aria-busy", "false");
});

// Whole seconds, never fewer than are left.
function clock(s) {
  const whole = Math.ceil(s);
  const two = (n) => String(n).padStart(2, "0");
  const [hours, minutes, seconds] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return hours ? `${hours}:${two(minutes)}:${two(seconds)}` : `${minutes}:${two(seconds)}`;
}

function standing() {
  $("count-left").textContent = clock(moments[0].after_s);
  $("count-until").textContent = say("from open contacts until {}", moments[0].until);
}

function stopCount() {
  opened = null;
  $("count-go").textContent = say("It opened just now: count");
}

// By the clock of the machine: a phone that slept meanwhile is right again when it wakes.
function count() {
  if (opened === null) return;
  const passed = (Date.now() - opened) / 1000;
  while (counted < moments.length && moments[counted].after_s <= passed) {
    $("count-said").textContent = moments[counted].now;
    if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.(400);
    counted += 1;
  }
  const next = moments[counted];
  const told = moments[counted - 1]?.now ?? "";
  $("count-left").textContent = next ? clock(next.after_s - passed) : "0:00";
  $("count-until").textContent = [next && say("until {}.", next.until), told].filter(Boolean).join(" ");
  if (next) setTimeout(count, 200); else stopCount();
}

press("count-go", () => {
  if (opened !== null) {
    stopCount();
    standing();
    return;
  }
  opened = Date.now() - 1000 * Math.max(0, Number($("count-ago").value) || 0);
  counted = 0;
  $("count-go").textContent = say("Stop counting");
  $("count-said").textContent = say("Counting.");
  count();
});
