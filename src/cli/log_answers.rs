//! `--log` and what a person can say about the log, flag by flag.

use super::amount;
use crate::evidence::FlagLog;
use clap::Args;
use std::path::PathBuf;

/// A log named on the command line, with its answers.
#[derive(Debug, Clone, Args)]
#[command(next_help_heading = "A recorded log, instead of a case file")]
pub struct LogAnswers {
    /// Recorded current, a CSV file: its trips and its load are evidence
    #[arg(long, value_name = "FILE", requires = "rating")]
    pub log: Option<PathBuf>,
    /// Which falls to zero are trips: "every fall", "the last fall", "none" (a hand at the switch),
    /// "8.3 min" (after the first row), "at 14:10" (by its clock); may be given several times
    #[arg(long, value_name = "WHICH", requires = "log")]
    log_trips: Vec<String>,
    /// How far such a time may lie from its fall [default: 3 min]
    #[arg(long, value_name = "TIME", requires = "log_trips")]
    log_within: Option<String>,
    /// State at the first row: "cold", "hot after 9.2 A", "unknown"
    #[arg(long, value_name = "STATE", value_parser = amount::event_text, requires = "log")]
    log_from: Option<String>,
    /// What its meter shows, where its header does not say: "true RMS", "average responding",
    /// "unknown"
    #[arg(long, value_name = "KIND", requires = "log")]
    log_meter: Option<String>,
    /// Accuracy of its current, from its sheet [default: 2 %]
    #[arg(long, value_name = "ACCURACY", requires = "log")]
    log_accuracy: Option<String>,
    /// Size of its last digit, e.g. "0.1 A"
    #[arg(long, value_name = "CURRENT", value_parser = amount::current_text, requires = "log")]
    log_digit: Option<String>,
    /// Air at the protector during the log, e.g. "41 degC"
    #[arg(long, value_name = "TEMPERATURE", value_parser = amount::temperature_text, allow_hyphen_values = true, requires = "log")]
    log_air: Option<String>,
    /// Where its temperature column was measured: "the part" or "the room"
    #[arg(long, value_name = "PLACE", requires = "log")]
    log_air_at: Option<String>,
    /// Column of the current, by name or number
    #[arg(long, value_name = "COLUMN", requires = "log")]
    log_current_column: Option<String>,
    /// Column of the time
    #[arg(long, value_name = "COLUMN", requires = "log")]
    log_time_column: Option<String>,
    /// Column of the air temperature
    #[arg(long, value_name = "COLUMN", requires = "log")]
    log_air_column: Option<String>,
    /// What the current column holds: "RMS", "averages" or "samples"
    #[arg(long, value_name = "WHAT", requires = "log")]
    log_values: Option<String>,
    /// Order of its dates: "day first" or "month first"
    #[arg(long, value_name = "ORDER", requires = "log")]
    log_dates: Option<String>,
    /// Amperes for one unit of the column, e.g. 10 for a shunt of 100 mV/A in volts
    #[arg(long, value_name = "NUMBER", requires = "log")]
    log_amperes_per_unit: Option<String>,
    /// What it shows when no current flows, e.g. "0.2 A"
    #[arg(
        long,
        value_name = "CURRENT",
        value_parser = amount::current_text, requires = "log",
        allow_hyphen_values = true
    )]
    log_offset: Option<String>,
    /// Time between two rows of a log without times, e.g. "1 s"
    #[arg(long, value_name = "TIME", requires = "log")]
    log_interval: Option<String>,
    /// Jumps of an hour in its clock: "mend" or "keep" [default: mend]
    #[arg(long, value_name = "WHAT", requires = "log")]
    log_hour_jumps: Option<String>,
}

impl LogAnswers {
    /// The log with its answers, if one was named.
    pub fn named(&self) -> Option<FlagLog> {
        let once = [
            ("within", &self.log_within),
            ("from", &self.log_from),
            ("meter", &self.log_meter),
            ("accuracy", &self.log_accuracy),
            ("digit", &self.log_digit),
            ("air", &self.log_air),
            ("air_at", &self.log_air_at),
            ("current_column", &self.log_current_column),
            ("time_column", &self.log_time_column),
            ("air_column", &self.log_air_column),
            ("values", &self.log_values),
            ("dates", &self.log_dates),
            ("amperes_per_unit", &self.log_amperes_per_unit),
            ("offset", &self.log_offset),
            ("interval", &self.log_interval),
            ("hour_jumps", &self.log_hour_jumps),
        ];
        let once = once
            .into_iter()
            .filter_map(|(key, answer)| Some((key, answer.clone()?)));
        let trips = self.log_trips.iter().map(|t| ("trips", t.clone()));
        Some(FlagLog {
            path: self.log.clone()?,
            answers: once.chain(trips).collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;

    #[derive(Debug, Parser)]
    struct Line {
        #[command(flatten)]
        answers: LogAnswers,
        #[arg(long)]
        rating: Option<String>,
    }

    /// Every key has a flag of its name, and its answer arrives.
    #[test]
    fn every_key_has_its_flag() {
        for key in FlagLog::KEYS {
            let flag = FlagLog::flag(key);
            let mut words = vec![
                "relatch", "--rating", "13 A", "--log", "a.csv", &flag, "1 s",
            ];
            if key == "within" {
                words.extend(["--log-trips", "8 min"]);
            }
            let line = Line::try_parse_from(&words).unwrap_or_else(|e| panic!("{e}"));
            let log = line.answers.named().expect("a log");
            assert!(log.answers.contains(&(key, "1 s".to_owned())), "{key}");
        }
    }
}
