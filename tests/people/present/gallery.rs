use super::fabricated;
use relatch::internals::present::gallery::{Chapter, is_left_out, page, pictures};
use relatch::internals::present::plot::Theme;

#[test]
fn every_figure_of_the_page_has_a_sentence_with_its_numbers() {
    let mut outcome = fabricated::latch();
    outcome.scenario = "Pug <mill> & [clay]".into();
    let list = pictures("somebody-elses", &outcome, Theme::Light).unwrap();
    assert_eq!(list.len(), 11);
    let characteristic = list
        .iter()
        .find(|p| p.name.contains("characteristic"))
        .unwrap();
    assert!(
        characteristic.sentence.contains("11.8 A"),
        "{}",
        characteristic.sentence
    );
    for picture in &list {
        assert!(!picture.sentence.is_empty(), "{}", picture.name);
        assert!(picture.name.starts_with("somebody-elses-"));
    }
    let text = page(&[Chapter {
        title: outcome.scenario.clone(),
        link: Some("../somebody-elses.toml".into()),
        pictures: list,
    }]);
    assert!(!text.contains("<mill>"), "markup of a title is text");
    assert_eq!(text.matches("![").count(), 11);
    assert!(text.contains("../somebody-elses.toml"));
}

#[test]
fn the_shipped_page_takes_each_figure_once() {
    assert!(is_left_out("08-worked-strip") && !is_left_out("01-pug-mill") && !is_left_out("mine"));
    let names: Vec<String> = ["01-pug-mill", "02-curtain-winch"]
        .iter()
        .flat_map(|stem| pictures(stem, &fabricated::latch(), Theme::Light).unwrap())
        .map(|p| p.name)
        .collect();
    let mut once = names.clone();
    once.sort();
    once.dedup();
    assert_eq!(names.len(), once.len());
    assert!(names.contains(&"characteristic.png".to_owned()));
}
