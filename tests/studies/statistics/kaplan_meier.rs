//! Of `statistics::kaplan_meier`.

use relatch::internals::statistics::kaplan_meier::*;

#[test]
fn complete_lives_give_the_share_counted() {
    let lives: Vec<Life> = [3.0, 1.0, 2.0, 2.0].map(Life::failed).to_vec();
    let found: Vec<(f64, f64)> = kaplan_meier(&lives)
        .unwrap()
        .iter()
        .map(|s| (s.time, s.failed))
        .collect();
    assert_eq!(found, [(1.0, 0.25), (2.0, 0.75), (3.0, 1.0)]);
}

#[test]
fn nobody_failed_gives_no_step() {
    assert_eq!(kaplan_meier(&[Life::survived(1.0)]), Ok(vec![]));
    assert!(kaplan_meier(&[]).is_err());
    assert!(kaplan_meier(&[Life::failed(0.0)]).is_err());
    assert!(kaplan_meier(&[Life::failed(f64::NAN)]).is_err());
}
