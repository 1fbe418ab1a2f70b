use crate::program::{folder_with_scenario, names, run};
use std::fs;

#[test]
fn the_explanation_goes_to_standard_output_or_into_one_file() {
    let (folder, _) = folder_with_scenario();
    let text = run(folder.path(), &["explain", "pug-mill.toml", "--quiet"]);
    assert_eq!((text.code, text.err.as_str()), (0, ""));
    assert!(text.out.starts_with("# "), "{}", text.out);
    assert!(text.out.contains("κ_T = 6 Δε (1 + m)²"), "{}", text.out);
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);

    let page = run(folder.path(), &["explain", "pug-mill.toml", "--html"]);
    assert!(page.out.starts_with("<!DOCTYPE html>"));
    let file = run(
        folder.path(),
        &[
            "explain",
            "pug-mill.toml",
            "--out",
            "by-hand.html",
            "--quiet",
        ],
    );
    assert_eq!((file.code, file.out.as_str()), (0, ""));
    let written = fs::read_to_string(folder.path().join("by-hand.html")).unwrap();
    assert_eq!(written, page.out);
    assert_eq!(names(folder.path()), ["by-hand.html", "pug-mill.toml"]);
}

#[test]
fn an_explanation_replaces_nothing_unless_forced() {
    let (folder, path) = folder_with_scenario();
    let before = fs::read(&path).unwrap();
    let over = ["explain", "pug-mill.toml", "--out", "pug-mill.toml"];
    let refused = run(folder.path(), &over);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("--force"), "{}", refused.err);
    assert_eq!(fs::read(&path).unwrap(), before);
    fs::write(folder.path().join("old.md"), "mine").unwrap();
    let forced = ["explain", "pug-mill.toml", "--out", "old.md", "--force"];
    assert_eq!(run(folder.path(), &forced).code, 0);
    assert!(
        fs::read_to_string(folder.path().join("old.md"))
            .unwrap()
            .starts_with("# ")
    );
    let into_a_folder = run(folder.path(), &["explain", "pug-mill.toml", "--out", "."]);
    assert_eq!(into_a_folder.code, 2);
    let no_force = run(folder.path(), &["explain", "pug-mill.toml", "--force"]);
    assert_eq!(no_force.code, 2);
    assert_eq!(run(folder.path(), &["explain", "nothing.toml"]).code, 2);
}

#[test]
fn the_report_stands_among_the_files() {
    let (folder, _) = folder_with_scenario();
    let done = run(
        folder.path(),
        &["run", "pug-mill.toml", "--report", "--json", "--quiet"],
    );
    assert_eq!((done.code, done.err.as_str()), (0, ""));
    assert!(done.out.starts_with('{'));
    let out = folder.path().join("relatch-out-pug-mill");
    let report = fs::read_to_string(out.join("report.html")).unwrap();
    assert!(report.contains("May it be energised?") && report.ends_with("</html>\n"));
    let again = run(
        folder.path(),
        &["run", "pug-mill.toml", "--report", "--out", "again"],
    );
    assert_eq!(again.code, 0, "{}", again.err);
    assert!(again.out.contains("report.html"), "{}", again.out);
    assert_eq!(
        fs::read_to_string(folder.path().join("again/report.html")).unwrap(),
        report
    );
    let both = run(
        folder.path(),
        &["run", "pug-mill.toml", "--report", "--no-files"],
    );
    assert_eq!(both.code, 2);
    let plain = run(folder.path(), &["run", "pug-mill.toml", "--out", "plain"]);
    assert_eq!(plain.code, 0, "{}", plain.err);
    assert!(!folder.path().join("plain/report.html").exists());
}
