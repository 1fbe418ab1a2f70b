use crate::program::{folder_with_scenario, names, run};
use std::fs;
use std::path::Path;

#[test]
fn dark_figures_and_the_moving_picture_only_when_asked_for() {
    let (folder, _) = folder_with_scenario();
    let plain = run(
        folder.path(),
        &["run", "pug-mill.toml", "--quiet", "--out", "plain"],
    );
    assert_eq!(plain.code, 0, "{}", plain.err);
    let asked = [
        "run",
        "pug-mill.toml",
        "--quiet",
        "--theme",
        "dark",
        "--moving",
        "--captions",
        "--out",
        "dark",
    ];
    let dark = run(folder.path(), &asked);
    assert_eq!(dark.code, 0, "{}", dark.err);
    assert!(dark.out.contains("2 moving pictures"), "{}", dark.out);
    let (plain, dark) = (folder.path().join("plain"), folder.path().join("dark"));
    let mut more = names(&plain);
    assert!(!more.contains(&"moving.gif".to_owned()));
    let films = ["moving.gif", "moving.svg", "mechanism.gif", "mechanism.svg"];
    more.extend(films.map(str::to_owned));
    more.push("captions.md".to_owned());
    more.sort();
    assert_eq!(names(&dark), more);
    for name in films {
        let size = fs::metadata(dark.join(name)).unwrap().len();
        assert!((20_000..3_000_000).contains(&size), "{name}: {size} bytes");
    }
    let svg = |folder: &Path| fs::read_to_string(folder.join("time_course.svg")).unwrap();
    assert!(svg(&plain).contains("#ffffff") && !svg(&dark).contains("#ffffff"));
    let captions = fs::read_to_string(dark.join("captions.md")).unwrap();
    assert!(captions.contains("**Moving picture of the protector.** "));
    // Looks change no number.
    let json = |folder: &Path| fs::read(folder.join("result.json")).unwrap();
    assert_eq!(json(&plain), json(&dark));
}

#[test]
fn a_moving_picture_without_files_is_refused() {
    let (folder, _) = folder_with_scenario();
    for arguments in [
        ["run", "pug-mill.toml", "--moving", "--no-files"],
        ["run", "pug-mill.toml", "--moving", "--json"],
        ["run", "pug-mill.toml", "--theme", "sepia"],
        ["run", "pug-mill.toml", "--figure-size", "9:16"],
        ["run", "pug-mill.toml", "--font-size", "72"],
        ["design", "pug-mill.toml", "--font-size", "12"],
    ] {
        let refused = run(folder.path(), &arguments);
        assert_eq!(refused.code, 2, "{arguments:?}");
        assert!(refused.out.is_empty() && !refused.err.is_empty());
    }
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);
}

/// The page in the scenarios' folder is the one the program builds from them.
#[test]
fn the_committed_page_is_the_one_the_program_builds() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let scenarios = root.join("scenarios");
    let mut files: Vec<String> = names(&scenarios)
        .into_iter()
        .filter(|name| name.ends_with(".toml"))
        .map(|name| format!("scenarios/{name}"))
        .collect();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page");
    let out = out.to_str().expect("a path of letters");
    let mut arguments = vec!["gallery", "--quiet", "--out", out];
    arguments.extend(files.iter_mut().map(|f| f.as_str()));
    let built = run(root, &arguments);
    assert_eq!(built.code, 0, "{}", built.err);
    let left_out = built.out.lines().last().unwrap_or_default();
    assert!(left_out.starts_with("Left out"), "{}", built.out);
    assert!(left_out.contains("08-worked-strip.toml"), "{left_out}");
    assert!(!left_out.contains("01-pug-mill"), "{left_out}");
    let page = |path: &Path| fs::read_to_string(path.join("gallery.md")).unwrap();
    let committed = scenarios.join("pictures");
    // The way to the scenarios depends on where the page lies.
    let without_links = |text: String| -> String {
        let title = |line: &str| match line.strip_prefix("## [") {
            Some(rest) => format!("## {}", rest.split("](").next().unwrap_or("")),
            None => line.to_owned(),
        };
        text.lines().map(|l| title(l) + "\n").collect()
    };
    assert_eq!(
        without_links(page(&committed)),
        without_links(page(Path::new(out)))
    );
    for name in names(Path::new(out)) {
        assert!(committed.join(&name).exists(), "{name} is not committed");
    }
}
