//! What a scenario holds and the model leaves out.

use super::outcome::NotModelled;
use crate::scenario::{MachineCase, Mechanism, Scenario};

/// Whatever may matter for the answers and is in none of them.
pub(super) fn not_modelled(scenario: &Scenario) -> Vec<NotModelled> {
    let mut list = vec![NotModelled::Arc];
    list.extend(match scenario.magnetic {
        None => [NotModelled::MagneticForces].as_slice(),
        Some(_) => &[NotModelled::EddyCurrents, NotModelled::BlowOff],
    });
    if scenario.poles.is_none() {
        list.push(NotModelled::NeighbouringPoles);
    }
    let latch = scenario.release.mechanism.latch();
    if latch.is_some_and(|l| l.compensating_m.is_some()) {
        list.push(NotModelled::SlowCompensation);
    }
    list.push(NotModelled::UnitSpread);
    match scenario.release.mechanism {
        Mechanism::SnapBlade(_) => list.push(NotModelled::FadingContactForce),
        Mechanism::Disc(_) => {
            list.extend([NotModelled::FadingContactForce, NotModelled::UnevenDisc]);
            if matches!(scenario.machine_case, Some(MachineCase::Motor { .. })) {
                list.push(NotModelled::WindingOfMotor);
            }
        }
        _ => {}
    }
    if scenario.strip.current_share < 1.0 && scenario.strip.shunt_heat_to.is_none() {
        list.push(NotModelled::ShuntHeat);
    }
    list
}
