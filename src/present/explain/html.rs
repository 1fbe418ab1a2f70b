//! A computation by hand as one page; formulas are MathML.

use super::mathml::{block, symbol};
use super::symbol::number;
use super::words::{
    CAUTIONS, COMPARED, HOW_TO_READ, compared, difference, hand_value, model_value, name,
};
use crate::present::html::{Callout, Page, escape};
use crate::study::by_hand::{Block, Explanation, Step, Values};

/// The explanation as one self-contained page.
pub fn explanation_html(explanation: &Explanation) -> String {
    let mut page = Page::new(
        &format!("{}, worked by hand", explanation.title),
        "The formulas of textbooks with the numbers of one scenario, beside the full model",
    );
    page.callout(
        Callout::Caution,
        "Before anything is built or switched on",
        &CAUTIONS,
    );
    page.paragraph(&explanation.shows);
    page.note(HOW_TO_READ);
    for (k, chapter) in explanation.chapters.iter().enumerate() {
        page.heading(&format!("{}  {}", k + 1, chapter.heading));
        for part in &chapter.blocks {
            match part {
                Block::Text(text) => page.paragraph(text),
                Block::Values(values) => page.raw(&table_of(values)),
                Block::Step(step) => page.raw(&written(step)),
            }
        }
    }
    page.heading(COMPARED);
    page.raw(&summary(explanation));
    page.heading("Sources of the material data");
    page.list(&explanation.sources);
    page.finish()
}

fn written(step: &Step) -> String {
    let mut out = format!(
        "<section class=\"step\"><h3>{}</h3>\n{}",
        escape(&step.what),
        block(step)
    );
    if let Some(beside) = &step.beside {
        let apart = match difference(step).as_str() {
            "none" => "the same by hand".to_owned(),
            other => format!("by hand {other}"),
        };
        out += &format!(
            "<p class=\"beside\"><strong>Full model: {}</strong>, {}. {}: {}</p>\n",
            escape(&model_value(step, beside)),
            escape(&apart),
            escape(&beside.what),
            escape(&super::markdown::lower_first(&beside.why)),
        );
    }
    out + &format!("<p class=\"note\">{}</p></section>\n", escape(&step.source))
}

fn math(symbol_name: &str) -> String {
    format!(
        "<math xmlns=\"http://www.w3.org/1998/Math/MathML\">{}</math>",
        symbol(symbol_name)
    )
}

fn table_of(values: &Values) -> String {
    let mut out = format!(
        "<div class=\"wide\"><table><caption>{}</caption>\n<thead><tr><th scope=\"col\">layer</th>",
        escape(&values.caption)
    );
    for (words, name, unit) in &values.columns {
        out += &format!(
            "<th scope=\"col\">{}<br>{}, {}</th>",
            escape(words),
            math(name),
            escape(unit.symbol)
        );
    }
    out += "</tr></thead>\n<tbody>\n";
    for (name, cells) in &values.rows {
        out += &format!("<tr><th scope=\"row\">{}</th>", escape(name));
        for (cell, (_, _, unit)) in cells.iter().zip(&values.columns) {
            let text = number(unit.shown(*cell), false).0;
            out += &format!("<td>{}</td>", escape(&text));
        }
        out += "</tr>\n";
    }
    out + "</tbody></table></div>\n"
}

fn summary(explanation: &Explanation) -> String {
    let mut out = String::from(
        "<div class=\"wide\"><table class=\"compared\"><thead><tr><th scope=\"col\">quantity</th>\
         <th scope=\"col\">by hand</th><th scope=\"col\">full model</th><th scope=\"col\">difference</th>\
         </tr></thead>\n<tbody>\n",
    );
    for (step, beside) in compared(explanation) {
        out += &format!(
            "<tr><th scope=\"row\">{} {}</th><td>{}</td><td>{}</td><td>{}</td></tr>\n",
            escape(name(step)),
            math(&step.result.symbol),
            escape(&hand_value(step)),
            escape(&model_value(step, beside)),
            escape(&difference(step))
        );
    }
    out + "</tbody></table></div>\n"
}
