use crate::program::{folder_with_scenario, names, run};
use std::fs;

#[test]
fn a_lesson_is_two_files_and_replaces_nothing_unless_forced() {
    let (folder, _) = folder_with_scenario();
    let asked = ["lesson", "pug-mill.toml", "--variants", "2", "--seed", "7"];
    let done = run(folder.path(), &[&asked[..], &["--quiet"]].concat());
    assert_eq!((done.code, done.err.as_str()), (0, ""));
    assert!(done.out.contains("2 to print"), "{}", done.out);
    let made = folder.path().join("relatch-out-lesson-pug-mill");
    assert_eq!(names(&made), ["key.html", "sheets.html"]);
    let key = fs::read_to_string(made.join("key.html")).unwrap();
    // How to get the whole of a sheet again, with its numbers.
    assert!(key.contains("relatch explain pug-mill.toml --set strip.length=&quot;"));

    let into = [
        "--level",
        "2",
        "--paper",
        "letter",
        "--out",
        "relatch-out-lesson-pug-mill",
    ];
    let again = [&asked[..], &into].concat();
    let refused = run(folder.path(), &again);
    assert_eq!(refused.code, 2, "{}", refused.err);
    assert_eq!(fs::read_to_string(made.join("key.html")).unwrap(), key);
    let forced = run(folder.path(), &[&again[..], &["--force"]].concat());
    assert_eq!(forced.code, 0, "{}", forced.err);
    let sheets = fs::read_to_string(made.join("sheets.html")).unwrap();
    assert!(sheets.contains("size: letter") && sheets.contains("Heating with one temperature"));
}

#[test]
fn flags_that_make_no_lesson_are_refused_before_anything_is_written() {
    let (folder, _) = folder_with_scenario();
    for (flag, value) in [("--minutes", "10"), ("--variants", "0"), ("--level", "4")] {
        let done = run(folder.path(), &["lesson", "pug-mill.toml", flag, value]);
        assert_eq!(done.code, 2, "{flag}");
        assert!(done.err.contains(flag), "{}", done.err);
    }
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);
}
