//! What was measured somewhere else than was meant, or in another unit.

use super::{Drop, Supply};

/// A closed part, its joints burning, makes less heat than this, W (common practice, no source).
const MOST_W: f64 = 100.0;
/// A supply never lies so far above what a machine is made for: between other conductors it does, by the root
/// of three.
const OTHER_PAIR: f64 = 1.5;

impl Drop {
    /// Why it cannot be that of a closed part.
    pub(super) fn is_of_no_closed_part(&self) -> Option<String> {
        let (drop_v, current_a) = (self.voltage_v.value, self.current_a.value);
        let heat_w = drop_v * current_a;
        (heat_w > MOST_W).then(|| {
            format!(
                "{drop_v} V at {current_a} A are {heat_w:.0} W in a closed part, which drops some ten to some hundred \
                 millivolts: are mV meant, or was it open?"
            )
        })
    }
}

impl Supply {
    /// Why it was not measured where the machine is fed.
    pub(super) fn is_of_another_pair(&self) -> Option<String> {
        let nominal_v = self.nominal_v?;
        let measured = [self.at_rest_v, self.running_v].into_iter().flatten();
        let most_v = measured.map(|v| v.value).reduce(f64::max)?;
        (most_v > OTHER_PAIR * nominal_v).then(|| {
            format!(
                "{most_v} V where {nominal_v} V belong: were both taken between the same two conductors, as the plate \
                 has it?"
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::evidence::{Flags, from_flags, read_text};

    fn told(drop: &str, supply: &str) -> String {
        let flags = Flags {
            rating: "16 A".into(),
            readings: vec!["13.0 A".into()],
            drop: Some(drop.into()),
            supply: Some(supply.into()),
            ..Flags::default()
        };
        from_flags(&flags).err().unwrap_or_default().join("\n")
    }

    #[test]
    fn volts_that_no_part_drops_and_no_mains_has_are_asked_for_again() {
        let (drop, supply) = ("52 mV at 13 A", "229 V running of 230 V");
        assert_eq!(told(drop, supply), "");
        // 100 W at 13 A are 7.7 V; 1.5 times 230 V are 345 V.
        assert_eq!(told("7.65 V at 13 A", "344 V running of 230 V"), "");
        assert!(told("7.74 V at 13 A", supply).contains("are mV meant"));
        assert!(told("52 V at 13 A", supply).contains("676 W in a closed part"));
        assert!(told(drop, "347 V running of 230 V").contains("the same two conductors"));
        // A file is asked alike.
        let file = |drop_v: &str, running: &str| {
            let text = format!(
                "format = 1\nkind = \"case\"\ntitle = \"dough mixer\"\n[protector]\nrating = \"16 A\"\n\
                 [[drop]]\nvoltage = \"{drop_v}\"\ncurrent = \"13 A\"\n[supply]\nnominal = \"230 V\"\n\
                 running = \"{running}\"\n[[trip]]\nafter = \"12 min\"\n"
            );
            read_text("case.toml", &text)
                .err()
                .map(|e| e.to_string())
                .unwrap_or_default()
        };
        assert_eq!(file("52 mV", "229 V"), "");
        assert!(file("52 mV", "460 V").contains("the same two conductors"));
        assert!(file("40 V", "229 V").contains("are mV meant"));
    }
}
