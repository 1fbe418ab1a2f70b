//! A [`Map`] for one set of currents, quick enough for a thousand sets of constants.

use super::map::{Map, Side};

/// Most nodes in any direction.
const MOST: usize = 16;

/// Temperatures and margins at fixed currents.
#[derive(Debug, Clone)]
pub struct View<'m> {
    map: &'m Map,
    /// Of every state under stress: share of the year, then spring temperature at each resistance.
    held: Vec<(f64, [f64; MOST])>,
    /// Of every loaded state: its number, and margins, resistance by hold.
    carried: Vec<(usize, Vec<f64>)>,
    /// How much warmer the spring is than the engine says, K.
    warmer_k: f64,
}

impl<'m> View<'m> {
    /// At these factors on the current of each shift.
    #[must_use]
    pub fn new(map: &'m Map, current_factors: &[f64]) -> View<'m> {
        let rows = map.resistances.len();
        let holds = map.holds.len();
        let (mut held, mut carried) = (Vec::new(), Vec::new());
        for (number, field) in map.states.iter().enumerate() {
            let factor = field
                .state
                .shift
                .and_then(|k| current_factors.get(k))
                .copied()
                .unwrap_or(1.0);
            let count = field.factors.len();
            let mut weights = [0.0; 16];
            field.factors.weights(factor, &mut weights);
            if field.state.held && field.state.share > 0.0 {
                let mut springs = [0.0; MOST];
                for (r, spring) in springs.iter_mut().take(rows).enumerate() {
                    *spring = (0..count)
                        .map(|c| weights[c] * field.spring_k[r * count + c])
                        .sum();
                }
                held.push((field.state.share, springs));
            }
            if field.state.current_a > 0.0 {
                let mut margins = vec![0.0; rows * holds];
                for r in 0..rows {
                    for h in 0..holds {
                        margins[r * holds + h] = (0..count)
                            .map(|c| weights[c] * field.margin_m[(r * count + c) * holds + h])
                            .sum();
                    }
                }
                carried.push((number, margins));
            }
        }
        View {
            map,
            held,
            carried,
            warmer_k: 0.0,
        }
    }

    /// The same with a warmer spring.
    #[must_use]
    pub fn warmer(&self, by_k: f64) -> View<'m> {
        View {
            warmer_k: self.warmer_k + by_k,
            ..self.clone()
        }
    }

    /// The contact resistance within the range that was asked for.
    fn weights(&self, contact_ohm: f64) -> [f64; 16] {
        let points = self.map.resistances.points();
        let within = contact_ohm.clamp(points[0], self.map.resistances.highest());
        let mut weights = [0.0; 16];
        self.map.resistances.weights(within, &mut weights);
        weights
    }

    /// Shares of the year and spring temperatures, K, of every state under stress.
    pub fn temperatures(&self, contact_ohm: f64) -> impl Iterator<Item = (f64, f64)> {
        let weights = self.weights(contact_ohm);
        let rows = self.map.resistances.len();
        self.held.iter().map(move |(share, springs)| {
            let k: f64 = (0..rows).map(|r| weights[r] * springs[r]).sum();
            (*share, k + self.warmer_k)
        })
    }

    /// Margin at a resistance and a hold, m: at or above 0 it has released.
    fn margin(&self, margins: &[f64], contact_ohm: f64, hold: f64) -> f64 {
        let by_resistance = self.weights(contact_ohm);
        let mut by_hold = [0.0; 16];
        self.map.holds.weights(hold, &mut by_hold);
        let holds = self.map.holds.len();
        let mut sum = 0.0;
        for (r, w) in by_resistance
            .iter()
            .enumerate()
            .take(self.map.resistances.len())
        {
            for (h, v) in by_hold.iter().enumerate().take(holds) {
                sum += w * v * margins[r * holds + h];
            }
        }
        sum
    }

    /// Every margin, states first and then limits in the order of the map, m: how far it is beyond
    /// what it must hold, or short of what it must release by. `holds`: of a latch just moved, and
    /// just before it is moved.
    #[must_use]
    pub fn beyond(&self, contact_ohm: f64, holds: [f64; 2]) -> Vec<f64> {
        let states = self.carried.iter();
        let states = states.map(|(_, m)| self.in_service(m, contact_ohm, holds[0]));
        let limits = self.map.limits.iter().map(|field| match field.side {
            Side::Early => self.margin(&field.margin_m, contact_ohm, holds[0]),
            Side::Late => -self.margin(&field.margin_m, contact_ohm, holds[1]),
        });
        states.chain(limits).collect()
    }

    /// Largest margin over the loaded states, and the number of that state; `None` when nothing is
    /// carried.
    #[must_use]
    pub fn carrying(&self, contact_ohm: f64, hold: f64) -> Option<(f64, usize)> {
        self.carried
            .iter()
            .map(|(number, margins)| (self.in_service(margins, contact_ohm, hold), *number))
            .max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Margin in a state of the duty, m. Without a steady state it gets hotter until it trips.
    fn in_service(&self, margins: &[f64], contact_ohm: f64, hold: f64) -> f64 {
        let margin = self.margin(margins, contact_ohm, hold);
        let last = self.map.resistances.highest() * (1.0 + 1e-9);
        match self.map.ends_in_runaway && contact_ohm > last {
            true => margin.max(0.0),
            false => margin,
        }
    }

    /// How far the part is outside its limits on a side, m (below 0: inside), and the row; `None`
    /// without limits.
    #[must_use]
    pub fn outside(&self, side: Side, contact_ohm: f64, hold: f64) -> Option<(f64, usize)> {
        self.map
            .limits
            .iter()
            .filter(|field| field.side == side)
            .map(|field| {
                let margin = self.margin(&field.margin_m, contact_ohm, hold);
                let outside = if side == Side::Early { margin } else { -margin };
                (outside, field.row)
            })
            .max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Hold of a spring: of a latch the force that it takes, of a blade the thrust that is left.
    #[must_use]
    pub fn hold(&self, loss: f64, stuck_factor: f64) -> f64 {
        if self.map.is_straight {
            (1.0 - loss) * stuck_factor
        } else {
            1.0 - loss
        }
    }
}
