//! A scenario of which nothing is known yet: every number that a file must give is no number.

use super::ageing::{Ageing, Duty, Friction, Relaxation, SpringNode, SpringPlace, Tested};
use super::mechanism;
use super::{
    Ask, Before, Cable, ClampedTerminal, Closing, Contact, ContactResistance, Convection, Cooling,
    FixedContact, Housing, Magnetic, MovingContact, Population, Protector, Release, Reset,
    Scenario, SectionKind, StartUp, Strip, Surroundings, ThroughThickness, UsedFor, Winding,
};
use crate::load::Programme;
use crate::physics::closing_current::ClosingCurrent;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::physics::electromagnet::MagneticCircuit;

const UNREAD: f64 = f64::NAN;

/// The reader puts everything into it, row by row.
pub(super) fn scenario() -> Scenario {
    Scenario {
        title: String::new(),
        shows: String::new(),
        used_for: UsedFor::default(),
        changed: Vec::new(),
        protector: Protector {
            rated_current_a: UNREAD,
            reference_ambient_k: UNREAD,
            limits: None,
        },
        strip: Strip {
            length_m: UNREAD,
            width_m: UNREAD,
            push_point_m: UNREAD,
            layers: Vec::new(),
            flat_temperature_k: UNREAD,
            initial_curvature_per_m: UNREAD,
            flexivity_factor: UNREAD,
            resistivity_factor: UNREAD,
            section: SectionKind::Narrow,
            current_share: UNREAD,
            shunt_heat_to: None,
            through_thickness: ThroughThickness::Auto,
            allow_extrapolation: false,
        },
        cooling: Cooling {
            convection: Convection::EdgeOn,
            emissivity: UNREAD,
            uncovered_fraction: UNREAD,
            altitude_m: UNREAD,
        },
        clamped_terminal: ClampedTerminal {
            heat_capacity_j_per_k: UNREAD,
            resistance_ohm: UNREAD,
            conductance_w_per_k: UNREAD,
        },
        moving_contact: MovingContact {
            heat_capacity_j_per_k: UNREAD,
            conductance_w_per_k: UNREAD,
        },
        fixed_contact: FixedContact {
            heat_capacity_j_per_k: UNREAD,
            conductance_w_per_k: UNREAD,
        },
        contact: Contact {
            resistance: ContactResistance::Constant(UNREAD),
            metal: None,
            film_conductance_w_per_k: None,
        },
        winding: None,
        housing: None,
        magnetic: None,
        closing: None,
        cable: None,
        poles: None,
        dial: None,
        machine_case: None,
        release: Release {
            mechanism: mechanism::UNREAD,
            opening_time_s: UNREAD,
            reset: Reset::ByHand,
            preload_loss: UNREAD,
            contact_loss: UNREAD,
        },
        surroundings: Surroundings {
            ambient: Vec::new(),
        },
        before: Before::Cold,
        load: Programme::constant(UNREAD),
        start_up: None,
        history: Vec::new(),
        ageing: None,
        ask: Ask {
            states_at_s: Vec::new(),
            losses: vec![0.0, 0.1, 0.2, 0.3, 0.4, 0.5],
            ambients_k: [-20.0, 0.0, 25.0, 40.0, 50.0, 60.0]
                .iter()
                .map(|c| c + ZERO_CELSIUS_K)
                .collect(),
            waits_s: Vec::new(),
            accuracy: UNREAD,
            longest_s: UNREAD,
        },
        population: Population::default(),
        tolerances: Vec::new(),
        sources: Vec::new(),
    }
}

pub(super) const WINDING: Winding = Winding {
    resistance_ohm: UNREAD,
    temperature_coefficient_per_k: UNREAD,
    heat_capacity_j_per_k: UNREAD,
    conductance_to_strip_w_per_k: UNREAD,
    conductance_to_air_w_per_k: UNREAD,
    limit_k: None,
};

pub(super) const HOUSING: Housing = Housing {
    heat_capacity_j_per_k: UNREAD,
    conductance_w_per_k: UNREAD,
};

pub(super) fn start_up(profile: Programme) -> StartUp {
    StartUp {
        profile,
        horizon_s: UNREAD,
        margin_m: UNREAD,
    }
}

pub(super) fn ageing() -> Ageing {
    Ageing {
        source: String::new(),
        spring: SpringPlace {
            node: SpringNode::Ambient,
            offset_k: UNREAD,
        },
        horizon_s: UNREAD,
        first_loading: UNREAD,
        loss_per_trip: UNREAD,
        contact_ages: true,
        relaxation: Relaxation::LarsonMiller {
            constant: UNREAD,
            start_k: UNREAD,
            loss_per_k: UNREAD,
        },
        tested: None,
        friction: None,
        film_per_operation_ohm: UNREAD,
        duty: Duty {
            seasons: Vec::new(),
            shifts: Vec::new(),
            idle_held: true,
            trips_every_s: None,
            operations_every_s: None,
            exercise_every_s: None,
        },
    }
}

pub(super) const TESTED: Tested = Tested {
    for_s: UNREAD,
    at_k: UNREAD,
};

pub(super) const FRICTION: Friction = Friction {
    stuck_factor: UNREAD,
    time_constant_s: UNREAD,
    relieved: UNREAD,
};

pub(super) const MAGNETIC: Magnetic = Magnetic {
    circuit: MagneticCircuit {
        turns: UNREAD,
        gaps: UNREAD,
        pole_area_m2: UNREAD,
        pole_perimeter_m: UNREAD,
        gap_m: UNREAD,
        fringe: UNREAD,
        iron_length_m: UNREAD,
        iron_area_m2: UNREAD,
        relative_permeability: UNREAD,
        saturation_t: UNREAD,
    },
    mass_kg: UNREAD,
    preload_n: UNREAD,
    stiffness_n_per_m: UNREAD,
    weight_n: UNREAD,
    strike_m: UNREAD,
    lever: UNREAD,
    trigger_force_n: UNREAD,
    trigger_travel_m: UNREAD,
    band: None,
};

pub(super) fn closing(current: ClosingCurrent) -> Closing {
    Closing { current, poles: 1 }
}

pub(super) const ALTERNATING: ClosingCurrent = ClosingCurrent::Alternating {
    rms_a: UNREAD,
    frequency_hz: UNREAD,
    x_over_r: UNREAD,
};

pub(super) const DIRECT: ClosingCurrent = ClosingCurrent::Direct {
    current_a: UNREAD,
    time_constant_s: UNREAD,
};

pub(super) const HALF_WAVE: ClosingCurrent = ClosingCurrent::HalfWave {
    peak_a: UNREAD,
    frequency_hz: UNREAD,
};

pub(super) const LAMP: ClosingCurrent = ClosingCurrent::Lamp {
    rms_a: UNREAD,
    frequency_hz: UNREAD,
    cold_ratio: UNREAD,
    time_constant_s: UNREAD,
};

pub(super) const TRANSFORMER: ClosingCurrent = ClosingCurrent::Transformer {
    first_peak_a: UNREAD,
    frequency_hz: UNREAD,
    remanence: UNREAD,
    saturation: UNREAD,
    time_constant_s: UNREAD,
};

pub(super) const CAPACITOR: ClosingCurrent = ClosingCurrent::Capacitor {
    peak_a: UNREAD,
    ringing_hz: UNREAD,
    time_constant_s: UNREAD,
    steady_rms_a: UNREAD,
    frequency_hz: UNREAD,
};

pub(super) const CABLE: Cable = Cable {
    voltage_v: UNREAD,
    source_resistance_ohm: UNREAD,
    source_reactance_ohm: UNREAD,
    length_m: UNREAD,
    resistance_ohm_per_m: UNREAD,
    reactance_ohm_per_m: UNREAD,
    capacitance_f_per_m: UNREAD,
};
