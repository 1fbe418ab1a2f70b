//! Failures per year: their two edges are `vary` and `age`; rare rates are those of plain draws;
//! what is written reads back.

use crate::program::{ran, relatch, run};
use crate::support::{made, shipped};
use relatch::internals::scenario::Scenario;
use relatch::internals::study::ageing;
use relatch::internals::study::failures::{
    Failure, FailuresOutcome, Options, RareShare, WayRecord, failures,
};

fn computed(s: &Scenario, years: f64, units: u64) -> FailuresOutcome {
    let options = made!(Options {
        years,
        units,
        ..Options::default()
    });
    failures(s, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"))
}

fn way(o: &FailuresOutcome, failure: Failure) -> &WayRecord {
    o.ways
        .iter()
        .find(|w| w.failure == failure)
        .expect("this way can be told")
}

fn holds(share: &RareShare, value: f64) -> bool {
    share.low <= value && value <= share.high
}

/// New parts of a bad lot: the shares late and early are those that `vary` counts, part by part,
/// with the engine.
#[test]
fn new_units_fail_as_often_as_a_population_counts() {
    let mut s = shipped("13-kiln-lot.toml");
    for t in &mut s.tolerances {
        if !(t.path.starts_with("ageing.") || t.path.starts_with("duty.")) {
            t.standard_uncertainty *= 1.5;
        }
    }
    // The first loading is wear: `vary` knows none.
    s.ageing.as_mut().expect("ageing").first_loading = 0.0;
    s.tolerances
        .retain(|t| t.path != "ageing.first_loading_loss");
    let lot = relatch::population(&s, 8192, 0, 1).expect("a population");
    let any = lot.any_limit.expect("limits");
    let o = computed(&s, 1.0, 8192);
    for (failure, counted) in [
        (Failure::LeavesLimitsLate, any.late),
        (Failure::LeavesLimitsEarly, any.early),
    ] {
        let new = way(&o, failure).by_year[0].failed;
        assert!(new.share > 0.0, "{failure:?}");
        let apart = new.low > counted.high || counted.low > new.high;
        assert!(!apart, "{failure:?}: {new:?} {counted:?}");
        // Intervals that overlap mean something only when they are narrow.
        assert!(
            counted.units < 50 || new.high < 1.3 * new.low,
            "{failure:?}: {new:?}"
        );
    }
    assert!(any.late.units >= 50, "{any:?}");
}

/// Without any scatter all units fail at the date of `age`: none a little before it, all a little
/// after.
#[test]
fn without_scatter_all_fail_at_the_date() {
    let mut s = shipped("06-irrigation-pump-new.toml");
    s.tolerances.clear();
    let options = made!(ageing::Options {
        units: 0,
        ..ageing::Options::default()
    });
    let aged = ageing::age(&s, &options, &mut |_, _| {}).expect("an age");
    let date = aged.dates.trips_in_service.years().expect("a date");
    for (years, share) in [(0.995 * date, 0.0), (1.005 * date, 1.0)] {
        let o = computed(&s, years, 256);
        let last = way(&o, Failure::TripsInService)
            .by_year
            .last()
            .expect("years")
            .failed;
        assert_eq!(last.share, share, "{years} of {date}");
    }
}

/// The shares of lives that `age` draws, with constants that scatter and a part that does not.
#[test]
fn wear_alone_fails_as_often_as_lives_are_drawn() {
    let mut s = shipped("06-irrigation-pump-new.toml");
    s.tolerances
        .retain(|t| t.path.starts_with("ageing.") || t.path.starts_with("duty."));
    let options = made!(ageing::Options {
        units: 4000,
        years: Some(10.0),
        ..ageing::Options::default()
    });
    let aged = ageing::age(&s, &options, &mut |_, _| {}).expect("an age");
    let drawn = aged
        .lives
        .by_year
        .last()
        .and_then(|y| y.early)
        .expect("a share");
    let o = computed(&s, 10.0, 4096);
    let last = way(&o, Failure::TripsInService)
        .by_year
        .last()
        .expect("years")
        .failed;
    assert!(
        last.low < drawn.high && drawn.low < last.high,
        "{last:?} {drawn:?}"
    );
    assert!(last.high < 1.35 * last.low, "{last:?}");
}

/// A ten-year rate of the kiln lot, of some in a thousand million a year: two seeds agree, ten
/// times as many units narrow the interval, and the current of the duty is what to tighten. The
/// same seed gives the same record, which reads back.
#[test]
fn the_kiln_lot_trips_rarely_in_service_and_its_current_matters_most() {
    let s = shipped("14-kiln-lot-set.toml");
    let o = computed(&s, 10.0, 4096);
    let early = way(&o, Failure::TripsInService);
    let ten = early.by_year.last().expect("years").failed;
    assert!(
        (1e-9..1e-6).contains(&ten.share) && ten.high < 2.0 * ten.low,
        "{ten:?}"
    );
    assert!(
        early
            .by_year
            .windows(2)
            .all(|w| w[0].failed.share <= w[1].failed.share)
    );
    assert_eq!(early.saved[0].path, "duty.shift[0].current");
    let options = made!(Options {
        units: 4096,
        seed: 2,
        ..Options::default()
    });
    let other = failures(&s, &options, &mut |_, _| {}).expect("failures");
    let again = way(&other, Failure::TripsInService)
        .by_year
        .last()
        .expect("years")
        .failed;
    assert!(
        holds(&ten, again.share) || holds(&again, ten.share),
        "{ten:?} {again:?}"
    );
    let json = relatch::internals::present::failures_json(&o).expect("JSON");
    let back: FailuresOutcome = serde_json::from_str(&json).expect("reads back");
    assert_eq!(back, o);
    assert_eq!(computed(&s, 10.0, 4096), o);
}

/// Parts that were taken back as the rates say are as predicted; one in a hundred is not.
#[test]
fn returned_parts_confront_the_prediction() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let from = format!(
        "{}/scenarios/14-kiln-lot-set.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::copy(from, at.join("kiln.toml")).expect("copied");
    let table = |name: &str, text: &str| std::fs::write(at.join(name), text).expect("written");
    table(
        "sound.csv",
        "age_years,state,count\n4,sound,120\n9,sound,80\n",
    );
    table(
        "worn.csv",
        "age_years,state,count\n4,sound,198\n6,trips,2\n",
    );
    table("wrong.csv", "age_years,state\n4,broken\n");
    table("old.csv", "age_years,state\n14,sound\n");
    let said = |returned: &str| {
        let all = [
            "failures",
            "kiln.toml",
            "--units",
            "1024",
            "--no-files",
            "--quiet",
        ];
        run(at, &[&all[..], &["--returned", returned]].concat())
    };
    assert!(said("sound.csv").out.contains("0 of 200 seen"));
    // Of what the numbers are stands above them.
    let screen = said("sound.csv").out;
    assert!(screen.contains("Of a million units, in parentheses the 95 % interval:"));
    assert!(screen.contains("Which spread to halve: failures saved in "));
    assert!(said("sound.csv").out.contains("as predicted"));
    assert!(said("worn.csv").out.contains("do NOT"));
    // Nobody writes into a pipe: it is refused, and not waited for.
    let made = std::process::Command::new("mkfifo")
        .arg(at.join("pipe.csv"))
        .status();
    assert!(made.expect("mkfifo").success());
    for (wrong, what) in [
        ("pipe.csv", "pipe"),
        ("wrong.csv", "broken"),
        ("old.csv", "older than"),
        ("none.csv", "none.csv"),
    ] {
        let ran = said(wrong);
        assert_eq!(ran.code, 2, "{wrong}");
        assert!(ran.err.contains(what), "{wrong}: {}", ran.err);
    }
}

/// The same bytes at any number of threads.
#[test]
fn threads_change_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let from = format!(
        "{}/scenarios/14-kiln-lot-set.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::copy(from, folder.path().join("kiln.toml")).expect("copied");
    let arguments = [
        "failures",
        "kiln.toml",
        "--units",
        "1500",
        "--json",
        "--quiet",
    ];
    let said = |threads: &str| {
        let mut command = relatch(folder.path(), &arguments);
        let said = ran(&command
            .env("RELATCH_THREADS", threads)
            .output()
            .expect("it runs"));
        assert_eq!(said.code, 0, "{}", said.err);
        said.out
    };
    let one = said("1");
    assert!(one.len() > 1000 && one == said("2") && one == said("7"));
}

/// What the engine says between its contact resistances is what the table says there: of a lot whose
/// contacts come to span three decades, late margins and those in service are a micrometre off at most.
#[test]
fn contacts_of_every_resistance_are_between_the_nodes() {
    let o = computed(&shipped("13-kiln-lot.toml"), 10.0, 4096);
    let [late, in_service, early] = o.computed.off_m;
    assert!(late < 1e-6 && in_service < 1e-6, "{:?}", o.computed.off_m);
    // A film far out in its tail: cut off in the table but not in the engine, it was 7e-5 off.
    assert!(early < 5e-6, "{:?}", o.computed.off_m);
    let in_service = way(&o, Failure::TripsInService)
        .by_year
        .last()
        .expect("years");
    let share = in_service.failed;
    assert!(share.high < 5.0 * share.low, "{share:?}");
}

/// A run that was stopped goes on: what is on its shelf is not computed again, what was spoilt is, and
/// the answer has the same bytes. Another run does not take it.
#[test]
fn a_stopped_run_goes_on() {
    use relatch::internals::study::failures::{FolderShelf, Shelf, failures_kept};
    use std::sync::atomic::{AtomicUsize, Ordering};
    struct Counted<'a>(&'a FolderShelf, AtomicUsize);
    impl Shelf for Counted<'_> {
        fn get(&self, name: &str) -> Option<Vec<f64>> {
            self.0.get(name)
        }
        fn put(&self, name: &str, numbers: &[f64]) {
            self.1.fetch_add(1, Ordering::Relaxed);
            self.0.put(name, numbers);
        }
    }
    let s = shipped("14-kiln-lot-set.toml");
    let options = made!(Options {
        years: 3.0,
        units: 1024,
        ..Options::default()
    });
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path().join("parts");
    let shelf = FolderShelf::open(&at, "this run").expect("a shelf");
    let computed = || {
        let counted = Counted(&shelf, AtomicUsize::new(0));
        let outcome = failures_kept(&s, &options, &counted, &mut |_, _| {}).expect("an outcome");
        (outcome, counted.1.into_inner())
    };
    let (whole, all) = computed();
    assert!(all > 10, "{all}");
    std::fs::remove_file(at.join("part-000001")).expect("removed");
    let spoilt = at.join("units-000001");
    let mut bytes = std::fs::read(&spoilt).expect("a list");
    bytes[20] ^= 1;
    std::fs::write(&spoilt, bytes).expect("spoilt");
    assert_eq!(computed(), (whole.clone(), 2));
    assert_eq!(computed(), (whole.clone(), 0));
    assert_eq!(computed_plain(&s, &options), whole);
    assert!(FolderShelf::open(&at, "another run").is_err());
    assert!(FolderShelf::open(&at, "this run").expect("again").found > 10);
}

fn computed_plain(s: &Scenario, options: &Options) -> FailuresOutcome {
    failures(s, options, &mut |_, _| {}).expect("an outcome")
}
