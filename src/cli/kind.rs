//! What is printed of a part beside its rating: the flags that `wait` and `diagnose` share.

use crate::evidence::heated;
use crate::scenario::MOST_POLES;
use crate::standards::Band;
use clap::Args;

#[derive(Debug, Args)]
pub struct Kind {
    /// What opens it: "strip" or "disc" that its current heats; a fuse, electronics, a dashpot, a
    /// thermistor and what is rated in degC are refused with the reason
    #[arg(long = "kind", value_name = "WHAT", value_parser = heated, requires = "rating")]
    pub opened_by: Option<String>,
    /// Type of the instantaneous element beside the strip: B, C or D; B16 on a part means type B,
    /// 16 A
    #[arg(long, value_name = "TYPE", value_parser = band, requires = "rating")]
    pub instantaneous: Option<Band>,
    /// How many poles it has
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=MOST_POLES as i64), requires = "rating")]
    pub poles: Option<u32>,
    /// It compares its poles, and trips sooner when one carries nothing
    #[arg(long, requires = "rating")]
    pub notices_lost_phase: bool,
    /// Phases on which the machine runs; poles without one carry nothing
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=3), requires = "rating")]
    pub phases: Option<u32>,
}

fn band(text: &str) -> Result<Band, String> {
    let said = text.trim().to_uppercase();
    let named = Band::NAMES.iter().find(|(name, _)| *name == said);
    named.map(|(_, band)| *band).ok_or_else(|| {
        let begins = |(name, _): &&(&str, Band)| said.starts_with(name);
        match Band::NAMES.iter().find(begins) {
            Some((name, _)) => {
                let amperes = said.trim_start_matches(name);
                format!("the type alone: --instantaneous {name}, and --rating \"{amperes} A\"")
            }
            None => {
                "types B, C and D are known (IEC 60898-1); others have limits of their own".into()
            }
        }
    })
}
