//! Figures for slides and for print: every size, and as PDF.

use super::fabricated;
use super::sheet::assert_nothing_reaches_the_edge;
use relatch::internals::predict::Outcome;
use relatch::internals::present::plot::{Figure, Print, Size, figures, files};

fn print(size: Size, text_pt: Option<f64>) -> Print {
    Print {
        size,
        text_pt,
        ..Print::default()
    }
}

/// A number of the root element.
fn root(figure: &Figure, name: &str) -> Vec<f64> {
    let from = figure.svg.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
    let text = figure.svg[from..].split('"').next().unwrap();
    text.split(' ').map(|n| n.parse().unwrap()).collect()
}

#[test]
fn nothing_reaches_the_edge_whatever_a_figure_is_made_for() {
    for outcome in [fabricated::latch(), fabricated::blade()] {
        for size in [Size::Slide, Size::OldSlide, Size::Column] {
            for figure in figures(&outcome) {
                assert_nothing_reaches_the_edge(&figure.printed(&print(size, None)));
            }
        }
    }
}

#[test]
fn slides_have_their_shape_and_a_column_its_width() {
    for figure in figures(&fabricated::latch()) {
        let shape = |size| {
            let figure = figure.clone().printed(&print(size, None));
            let sheet = root(&figure, "viewBox");
            (sheet[2] / sheet[3], root(&figure, "width")[0])
        };
        let close = |a: f64, b: f64| (a / b - 1.0).abs() < 0.005;
        let (ratio, width) = shape(Size::Slide);
        // 13.333 in by 7.5 in at 96 pixels an inch.
        assert!(
            close(ratio, 16.0 / 9.0) && close(width, 1280.0),
            "{}",
            figure.stem
        );
        let (ratio, width) = shape(Size::OldSlide);
        assert!(
            close(ratio, 4.0 / 3.0) && close(width, 960.0),
            "{}",
            figure.stem
        );
        // 85 mm.
        assert!(
            close(shape(Size::Column).1, 85.0 / 25.4 * 96.0),
            "{}",
            figure.stem
        );
    }
}

/// Height of the text at the axes, points: the most common of a figure but for its title.
fn text_pt(figure: &Figure) -> f64 {
    let per_unit = 0.75 * root(figure, "width")[0] / root(figure, "viewBox")[2];
    31.0 * per_unit
}

#[test]
fn text_is_as_large_as_asked_for_where_it_has_room() {
    let all = figures(&fabricated::latch());
    let course = all.iter().find(|f| f.stem == "cool_down").unwrap();
    for points in [8.0, 11.0] {
        let figure = course.clone().printed(&print(Size::OldSlide, Some(points)));
        assert!((text_pt(&figure) / points - 1.0).abs() < 0.005);
    }
    // There is no room for letters of half an inch: smaller ones, and nothing is cut.
    let figure = course.clone().printed(&print(Size::OldSlide, Some(36.0)));
    assert!(text_pt(&figure) < 30.0);
    assert_nothing_reaches_the_edge(&figure);
}

#[test]
fn what_a_column_has_no_room_for_beside_stands_below() {
    let all = figures(&fabricated::latch());
    let figure = all
        .into_iter()
        .find(|f| f.stem == "characteristic")
        .unwrap();
    let column = figure.clone().printed(&print(Size::Column, None));
    let words = |svg: &str| -> String {
        let texts = svg.split("<text ").skip(1);
        let texts = texts.filter_map(|t| t.split_once('>')?.1.split_once("</text>"));
        texts.map(|t| t.0.to_owned() + " ").collect()
    };
    let limit = "this part:";
    let count = |svg: &str| words(svg).matches(limit).count();
    assert!(count(&figure.svg) > 1);
    assert_eq!(count(&column.svg), count(&figure.svg));
    assert!(!words(&column.svg).contains('…'));
}

#[test]
fn a_pdf_keeps_words_as_words_and_its_size() {
    for figure in figures(&fabricated::latch()) {
        let figure = figure.printed(&print(Size::Slide, None));
        let pdf = String::from_utf8_lossy(&figure.pdf().unwrap()).into_owned();
        assert!(pdf.starts_with("%PDF-"));
        assert!(pdf.contains("/MediaBox [0 0 960 540]"), "{}", figure.stem);
        assert_eq!(
            pdf.matches(" Tj").count(),
            figure.svg.matches("<text ").count()
        );
        // Letters can be found and copied.
        assert!(pdf.contains("/ToUnicode") && pdf.contains("beginbfchar"));
    }
}

#[test]
fn captions_say_what_is_shown_with_its_units_and_where_it_is_from() {
    let print = Print {
        has_captions: true,
        is_pdf: true,
        ..Print::default()
    };
    let all = figures(&fabricated::latch());
    let count = all.len();
    let files = files(all, &print, "From here.").unwrap();
    assert_eq!(files.len(), 1 + 3 * count);
    let captions = files
        .iter()
        .find(|(name, _)| name == "captions.md")
        .unwrap();
    let captions = String::from_utf8(captions.1.clone()).unwrap();
    assert_eq!(captions.matches("From here.").count(), count);
    assert!(captions.contains("**Time-current characteristic.**"));
    assert!(captions.contains("Axes: Current, A; Time to trip, s."));
}

/// Numbers of every attribute of that name.
fn numbers(svg: &str, name: &str) -> Vec<f64> {
    let named = format!(" {name}=\"");
    let values = svg.split(&named).skip(1);
    let values = values.filter_map(|v| v.split('"').next()?.parse().ok());
    values.collect()
}

/// Whatever is asked for, what is drawn can be read: text gives way where there is no room, and who
/// asked is told.
#[test]
fn no_text_is_too_large_for_a_sheet() {
    static TOLD: std::sync::Mutex<String> = std::sync::Mutex::new(String::new());
    let of =
        |outcomes: [Outcome; 2]| -> Vec<Figure> { outcomes.iter().flat_map(figures).collect() };
    let all = of([fabricated::latch(), fabricated::blade()]);
    let others = of([fabricated::holds(), fabricated::winding()]);
    for size in [Size::Page, Size::Slide, Size::OldSlide, Size::Column] {
        for (points, figures) in [(4.0, &all), (12.0, &others), (24.0, &others), (40.0, &all)] {
            for figure in figures {
                let drawn = figure.clone().printed(&print(size, Some(points)));
                let what = format!("{} {size:?} {points}", figure.stem);
                assert!(text_pt(&drawn) < 1.005 * points, "{what}");
                let sheet = root(&drawn, "viewBox");
                assert!(sheet[3] < 3.2 * sheet[2], "{what}");
                let svg = drawn.svg.as_str();
                let high = numbers(svg, "data-bottom").into_iter();
                let high = high.zip(numbers(svg, "data-top")).map(|(b, t)| b - t);
                // A contact bar is lower, and lies between panels.
                assert!(high.clone().all(|high| high > 0.0), "{what}");
                let highest = high.reduce(f64::max).unwrap_or(f64::INFINITY);
                assert!(highest > 180.0, "{what} {highest}");
                let inside = |y: &f64| (0.0..=sheet[3]).contains(y);
                assert!(numbers(svg, "y").iter().all(inside), "{what}");
            }
        }
    }
    let mut large = print(Size::Column, Some(30.0));
    large.tell = Some(|text| TOLD.lock().unwrap().push_str(text));
    let shown = all.into_iter().filter(|f| f.stem == "memory");
    files(shown, &large, "").unwrap();
    let told = TOLD.lock().unwrap();
    assert!(told.contains("no room for text of 30 points"), "{told}");
    assert!(told.contains("memory "), "{told}");
}
