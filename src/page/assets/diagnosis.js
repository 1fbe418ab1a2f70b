// The questions of a diagnosis, one at a time. All that was said goes with every request: nobody else remembers it.

let replies = []; // { question, said, asks, noted }
let following = []; // questions, the next one first
let found = null; // the latest answer that was weighed

const sentReplies = () => replies.map(({ question, said }) => ({ question, said }));
const missing = () => [...$("missing").querySelectorAll(":checked")].map((box) => box.value);

async function interview() {
  $("asking").setAttribute("aria-busy", "true");
  if (replies.length > 3) $("so-far").textContent = say("Weighing …");
  try {
    const answer = await post("/diagnosis", { answers: sentReplies(), missing: missing() });
    complain("");
    if (answer.problem) replies.pop();
    replies.forEach((reply, k) => { reply.noted = answer.noted[k]; });
    $("not-understood").textContent = answer.problem;
    following = answer.next;
    if (answer.so_far || !answer.problem) found = answer.so_far ? answer : null;
  } catch (error) {
    replies.pop();
    complain(say("No answer: {}", error.message));
  }
  $("asking").setAttribute("aria-busy", "false");
  tell();
}

function tell() {
  $("noted").replaceChildren(...replies.map(({ asks, noted, said }) => {
    const item = made("li", asks + " ");
    item.append(made("b", said ? noted : say("Not known.")));
    return item;
  }));
  const next = following[0];
  for (const id of ["asks", "forms", "reply", "unknown"]) $(id).hidden = !next;
  $("asking").querySelector("[type=submit]").hidden = !next;
  $("asks").textContent = next?.asks ?? "";
  $("forms").textContent = next ? say("For example: {}", next.forms) : "";
  allow("undo", replies.length > 0);
  $("so-far").textContent = found?.so_far ?? "";
  $("verdict").hidden = !found;
  $("verdict-shown").innerHTML = found?.shown ?? "";
  $("verdict-full").innerHTML = found?.full ?? "";
}

function reply(said) {
  const next = following[0];
  if (!next || $("asking").getAttribute("aria-busy") === "true") return;
  replies.push({ ...next, said, noted: "" });
  $("reply").value = "";
  $("reply").focus();
  // What is not known changes nothing that was weighed.
  if (!said && found && following.length > 1) {
    following = following.slice(1);
    tell();
  } else interview();
}

$("asking").addEventListener("submit", (event) => {
  event.preventDefault();
  reply($("reply").value.trim());
});
press("unknown", () => reply(""));
$("missing").addEventListener("change", () => found && interview());
press("undo", () => {
  replies.pop();
  interview();
});
press("save-order", () => save("work-order.html", "text/html", found.order));
press("save-case", () => save("case.toml", "application/toml", found.case));
