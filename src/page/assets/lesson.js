// A pupil's sheet: other numbers with every number of the sheet, and the key beside it.

let lessonFile = "";

$("lesson-form").addEventListener("submit", async (event) => {
  event.preventDefault();
  $("lesson-form").setAttribute("aria-busy", "true");
  try {
    const answer = await post("/lesson", body({
      lesson: {
        level: $("lesson-level").value,
        minutes: Number($("lesson-minutes").value),
        seed: Number($("lesson-seed").value),
      },
    }));
    complain("");
    lessonFile = answer.file;
    $("lesson-sheet").innerHTML = answer.sheet;
    $("lesson-key").innerHTML = answer.key;
    $("lesson-key-box").open = false;
    $("lesson-shown").hidden = false;
    $("lesson-shown-name").focus();
  } catch (error) {
    $("lesson-shown").hidden = true;
    complain(say("No lesson: {}", error.message));
  }
  $("lesson-form").setAttribute("aria-busy", "false");
});
press("save-lesson", () => save("lesson.html", "text/html", lessonFile));
