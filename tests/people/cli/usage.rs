use crate::program::{folder_with_scenario, names, ran, relatch, run};

#[test]
fn wrong_usage_ends_with_two_and_says_so_on_standard_error_only() {
    let folder = tempfile::tempdir().unwrap();
    let wrong: [&[&str]; 11] = [
        &[],
        &["rnu"],
        &["run"],
        &["run", "a.toml", "--colour"],
        &["run", "a.toml", "--force"],
        &["run", "a.toml", "--out", "x", "--no-files"],
        &["curve"],
        &["curve", "a.toml", "--currents", "20"],
        &["curve", "a.toml", "--currents", "20 A,-1 A"],
        &["curve", "a.toml", "--hot", "80"],
        &["new", "fuse"],
    ];
    for arguments in wrong {
        let ran = run(folder.path(), arguments);
        assert_eq!(ran.code, 2, "{arguments:?}\n{}", ran.err);
        assert!(ran.out.is_empty(), "{arguments:?}\n{}", ran.out);
        assert!(!ran.err.is_empty(), "{arguments:?}");
    }
    assert!(names(folder.path()).is_empty());
}

#[test]
fn a_width_that_registers_do_not_have_is_refused() {
    let (folder, _) = folder_with_scenario();
    let with = |bits: &str| {
        let mut run = relatch(folder.path(), &["run", "pug-mill.toml", "--json"]);
        ran(&run.env("RELATCH_REGISTER_BITS", bits).output().unwrap())
    };
    let refused = with("64");
    assert_eq!((refused.code, refused.out.as_str()), (2, ""));
    assert!(refused.err.contains("128, 256 or 512"), "{}", refused.err);
    assert_eq!(with("128").out, with("512").out);
}

#[test]
fn currents_carry_a_unit_or_are_multiples_and_fractions_may_be_percent() {
    let folder = tempfile::tempdir().unwrap();
    let flags = [
        (
            "--currents",
            [
                "20", "A", "-3 A", "0 A", "NaN A", "20 V", "1 2 A", "inf A", "infx", "0x",
            ],
        ),
        (
            "--hot",
            [
                "", "-1", "0", "NaN", "inf", "80", "600 %", "%", "0.8 A", "x",
            ],
        ),
    ];
    for (flag, values) in flags {
        for value in values {
            let ran = run(
                folder.path(),
                &["curve", "nothing.toml", &format!("{flag}={value}")],
            );
            assert!(ran.err.contains(flag), "{flag}={value}: {}", ran.err);
        }
    }
    // What is understood gets as far as the file that is not there.
    for value in [
        "--currents=20 A",
        "--currents= 1.5e1A",
        "--currents=300 mA,1.35x",
        "--hot=80 %",
    ] {
        let ran = run(folder.path(), &["curve", "nothing.toml", value]);
        assert!(
            ran.err.contains("nothing.toml") && !ran.err.contains("--"),
            "{value}: {}",
            ran.err
        );
    }
}

#[test]
fn a_stranger_s_text_does_nothing_to_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    for arguments in [
        ["materials", "\u{1b}[2J"],
        ["new", "\u{1b}[2J"],
        ["run", "\u{1b}[2J.toml"],
    ] {
        let ran = run(folder.path(), &arguments);
        assert!(ran.code == 2 && !ran.err.contains('\u{1b}'), "{}", ran.err);
    }
}

#[test]
fn a_message_about_usage_names_the_fix() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run(folder.path(), &["curve", "a.toml", "--currents", "20"]);
    assert!(
        ran.err.contains("`10 A`") && ran.err.contains("\"2x\""),
        "{}",
        ran.err
    );
    let ran = run(folder.path(), &["new", "lacth"]);
    assert!(
        ran.err.contains("latch") && ran.err.contains("snap-blade"),
        "{}",
        ran.err
    );
    let ran = run(folder.path(), &["curves"]);
    assert!(ran.err.contains("'curve'"), "{}", ran.err);
}

#[test]
fn help_and_version_are_answers() {
    let folder = tempfile::tempdir().unwrap();
    let help = run(folder.path(), &["--help"]);
    assert_eq!(help.code, 0);
    let commands = [
        "run",
        "curve",
        "wait",
        "fit",
        "diagnose",
        "age",
        "vary",
        "merge",
        "explain",
        "gallery",
        "materials",
        "new",
        "page",
    ];
    for command in commands {
        assert!(help.out.contains(command), "{}", help.out);
    }
    for command in commands {
        let help = run(folder.path(), &[command, "--help"]);
        assert_eq!(help.code, 0);
        assert!(
            help.out.lines().all(|line| line.chars().count() <= 100),
            "{}",
            help.out
        );
    }
    let version = run(folder.path(), &["--version"]);
    assert!(
        version.out.contains(env!("CARGO_PKG_VERSION")),
        "{}",
        version.out
    );
}

#[test]
fn a_scenario_that_cannot_be_read_stops_everything_before_it_starts() {
    let (folder, _) = folder_with_scenario();
    std::fs::write(folder.path().join("wrong.toml"), "title = 3\n").unwrap();
    let ran = run(
        folder.path(),
        &["run", "pug-mill.toml", "wrong.toml", "missing.toml"],
    );
    assert_eq!(ran.code, 2);
    assert!(ran.out.is_empty(), "{}", ran.out);
    assert!(
        ran.err.contains("wrong.toml") && ran.err.contains("missing.toml"),
        "{}",
        ran.err
    );
    assert_eq!(names(folder.path()), ["pug-mill.toml", "wrong.toml"]);
}

#[test]
fn materials_are_listed_and_a_wrong_name_gets_the_nearest() {
    let folder = tempfile::tempdir().unwrap();
    let table = run(folder.path(), &["materials"]);
    assert_eq!(table.code, 0);
    assert!(table.out.contains("Fe-36Ni"), "{}", table.out);
    let one = run(folder.path(), &["materials", "Fe-36Ni"]);
    assert_eq!(one.code, 0);
    assert!(one.out.contains("Fe-36Ni"), "{}", one.out);
    let wrong = run(folder.path(), &["materials", "Fe-37Ni"]);
    assert_eq!(wrong.code, 2);
    assert!(
        wrong.out.is_empty() && wrong.err.contains("Fe-36Ni"),
        "{}",
        wrong.err
    );
}

#[test]
fn every_starter_is_printed_and_never_written_over_a_file() {
    for kind in [
        "latch",
        "heater-wound",
        "snap-blade",
        "disc",
        "bench-strip",
        "datasheet",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let printed = run(folder.path(), &["new", kind]);
        assert_eq!(printed.code, 0);
        assert!(printed.out.contains("format = 1"), "{}", printed.out);
        let path = folder.path().join("mine.toml");
        std::fs::write(&path, "mine").unwrap();
        let refused = run(folder.path(), &["new", kind, "--out", "mine.toml"]);
        assert_eq!(refused.code, 2);
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "mine");
        let written = run(folder.path(), &["new", kind, "--out", "new.toml"]);
        assert_eq!(written.code, 0);
        let text = std::fs::read_to_string(folder.path().join("new.toml")).unwrap();
        assert_eq!(text, printed.out);
    }
}

#[test]
fn a_diagnosis_of_nothing_names_the_rating_as_well_as_the_case() {
    let folder = tempfile::tempdir().unwrap();
    for arguments in [&["diagnose"][..], &["diagnose", "--full"]] {
        let ran = run(folder.path(), arguments);
        assert_eq!(ran.code, 2, "{}", ran.err);
        let named = ["relatch new case", "--rating \"10 A\""];
        assert!(named.iter().all(|n| ran.err.contains(n)), "{}", ran.err);
    }
}
