//! The strip's laws as polynomials of temperature, fitted once per device.
//!
//! Every law is smooth between the entries of its tables and the ends of their ranges, and has a
//! corner there. The pieces between all corners of all layers are fitted separately, so that a fit
//! is good to [`TOLERANCE`] and never smears a corner.

use crate::device::StripLaws;
use crate::material::{CONTINUATION_FLOOR, Law, Property};
use std::f64::consts::PI;

/// What is fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fitted {
    /// Heat capacity per length, J/(m K).
    Capacity = 0,
    /// Integral of conductivity times area over temperature, W m.
    Conduction = 1,
    /// Resistance per length, ohm/m.
    Resistance = 2,
    /// Free curvature, 1/m.
    Curvature = 3,
    /// One over the bending stiffness against forces, 1/(N m^2).
    Flexibility = 4,
}

impl Fitted {
    /// In a fit of the layers' conductivities: that of layer `k`.
    #[inline(always)]
    pub(in crate::device) const fn layer(k: usize) -> Fitted {
        [
            Fitted::Capacity,
            Fitted::Conduction,
            Fitted::Resistance,
            Fitted::Curvature,
            Fitted::Flexibility,
        ][k]
    }
}

/// Number of laws.
pub const LAWS: usize = 5;
/// Coefficients kept for each.
pub const TERMS: usize = 16;
/// Terms evaluated together.
pub const GROUP: usize = 4;
/// Relative accuracy of a fit.
pub const TOLERANCE: f64 = 1e-9;
/// Samples of a law in one piece.
pub(in crate::device) const SAMPLES: usize = 20;
/// Temperatures that a fit covers at most, K: what a working protector sees.
pub(in crate::device) const USUAL_K: (f64, f64) = (210.0, 690.0);
/// What a strip sees whose current goes on heating it while the contacts open. Pieces cost time, so
/// that only such a march has these.
pub(in crate::device) const HOT_K: (f64, f64) = (210.0, 1500.0);

/// Fitted laws of one strip.
#[derive(Debug, Clone)]
pub struct StripFit {
    /// Lowest temperature covered, K.
    pub low_k: f64,
    /// Highest temperature covered, K.
    pub high_k: f64,
    /// Ends of the pieces, K: one more than there are pieces.
    pub edges_k: Vec<f64>,
    z_slope: f64,
    z_start: f64,
    /// Coefficients in the piece's own variable, which runs from -1 to 1: piece, law, power.
    pub coefficients: Vec<f64>,
    /// Terms in use for each law, the same in every piece.
    pub terms: [usize; LAWS],
}

impl StripFit {
    /// Fit the laws of a strip over some temperatures, K.
    pub fn new(laws: &StripLaws, range_k: (f64, f64)) -> StripFit {
        let mut corners = Vec::new();
        for layer in laws.layers.iter().filter(|l| l.thickness_m > 0.0) {
            let a = &layer.alloy;
            let all = [
                &a.specific_heat,
                &a.conductivity,
                &a.resistivity,
                &a.density,
                &a.youngs_modulus,
                &a.expansion.property,
            ];
            for property in all.into_iter().chain(&a.poisson_ratio) {
                corners_of(property, &mut corners);
            }
        }
        StripFit::of(corners, range_k, Some(Fitted::Conduction), |t_k| {
            let line = laws.line(t_k);
            let bend = laws.bend(t_k);
            [
                line.capacity,
                line.conduction,
                line.resistance,
                bend.curvature_per_m,
                1.0 / bend.stiffness_n_m2,
            ]
        })
    }

    /// Fit the electrical conductivity of every layer, S/m, see [`Fitted::layer`]; `None` when
    /// there are more layers than laws.
    pub(in crate::device) fn of_layers(laws: &StripLaws, range_k: (f64, f64)) -> Option<StripFit> {
        let layers = laws.layers.iter().filter(|l| l.thickness_m > 0.0);
        let resistivities: Vec<&Property> = layers.map(|l| &l.alloy.resistivity).collect();
        let mut corners = Vec::new();
        for property in &resistivities {
            corners_of(property, &mut corners);
        }
        (resistivities.len() <= LAWS).then(|| {
            StripFit::of(corners, range_k, None, |t_k| {
                let mut values = [1.0; LAWS];
                for (value, property) in values.iter_mut().zip(&resistivities) {
                    *value = 1.0 / property.at(t_k);
                }
                values
            })
        })
    }

    /// Fit laws with these corners; of one of them its integral.
    fn of(
        corners: Vec<f64>,
        (low_k, high_k): (f64, f64),
        integrated: Option<Fitted>,
        values: impl Fn(f64) -> [f64; LAWS],
    ) -> StripFit {
        let edges_k = pieces(corners, low_k, high_k);
        let mut fit = StripFit {
            low_k,
            high_k,
            z_slope: 2.0 / (edges_k[1] - edges_k[0]),
            z_start: -(edges_k[1] + edges_k[0]) / (edges_k[1] - edges_k[0]),
            coefficients: vec![0.0; (edges_k.len() - 1) * LAWS * TERMS],
            edges_k,
            terms: [GROUP; LAWS],
        };
        let rule = Rule::new();
        let mut stored = 0.0;
        for p in 0..fit.edges_k.len() - 1 {
            let (a, b) = (fit.edges_k[p], fit.edges_k[p + 1]);
            let (middle, half) = (0.5 * (a + b), 0.5 * (b - a));
            let mut samples = [[0.0; SAMPLES]; LAWS];
            for (k, z) in rule.nodes.iter().enumerate() {
                for (sample, value) in samples.iter_mut().zip(values(middle + half * z)) {
                    sample[k] = value;
                }
            }
            for (law, sample) in samples.iter().enumerate() {
                let mut c = rule.monomials(sample, TOLERANCE);
                if integrated.is_some_and(|i| i as usize == law) {
                    integrate(&mut c, half, stored);
                    stored = c.iter().sum();
                }
                // Whole groups of four: polynomials are evaluated four terms at a time.
                fit.terms[law] = fit.terms[law].max(c.len().next_multiple_of(GROUP));
                let at = (p * LAWS + law) * TERMS;
                fit.coefficients[at..at + c.len()].copy_from_slice(&c);
            }
        }
        fit
    }

    /// Slope and start of the reduced temperature of the first piece.
    pub(in crate::device) fn first_piece(&self) -> (f64, f64) {
        (self.z_slope, self.z_start)
    }

    /// Number of pieces.
    pub fn pieces(&self) -> usize {
        self.edges_k.len() - 1
    }

    /// The piece that holds a temperature; the first or the last beyond the ends.
    pub fn piece(&self, t_k: f64) -> usize {
        let inner = &self.edges_k[1..self.edges_k.len() - 1];
        inner.iter().take_while(|e| **e < t_k).count()
    }

    /// Value and slope of a law.
    pub fn at_with_slope(&self, law: Fitted, t_k: f64) -> (f64, f64) {
        let p = self.piece(t_k);
        let (a, b) = (self.edges_k[p], self.edges_k[p + 1]);
        let half = 0.5 * (b - a);
        let z = (t_k - 0.5 * (a + b)) / half;
        let law = law as usize;
        let at = (p * LAWS + law) * TERMS;
        let (v, d) = self.coefficients[at..at + self.terms[law]]
            .iter()
            .rev()
            .fold((0.0, 0.0), |(v, d), c| (v * z + c, d * z + v));
        (v, d / half)
    }
}

/// Ends of the pieces.
fn pieces(mut corners: Vec<f64>, low: f64, high: f64) -> Vec<f64> {
    corners.retain(|c| low + 1.0 < *c && *c < high - 1.0);
    corners.extend([low, high]);
    corners.sort_by(f64::total_cmp);
    corners.dedup_by(|b, a| *b - *a < 1e-6);
    // A wide piece needs a high degree: halve it.
    let mut edges = vec![corners[0]];
    for pair in corners.windows(2) {
        let parts = ((pair[1] - pair[0]) / 480.0).ceil().max(1.0);
        for k in 1..=parts as usize {
            edges.push(pair[0] + (pair[1] - pair[0]) * k as f64 / parts);
        }
    }
    edges
}

fn corners_of(property: &Property, corners: &mut Vec<f64>) {
    if let Law::Constant(_) = property.law {
        return;
    }
    // A straight line goes on as itself beyond its range.
    let straight =
        matches!(&property.law, Law::Polynomial { coefficients, .. } if coefficients.len() <= 2);
    if !straight {
        corners.extend([property.valid_k.0, property.valid_k.1]);
    }
    if let Law::Table(curve) = &property.law {
        corners.extend(curve.points().map(|(x, _)| x));
    }
    // Beyond its range a property goes on straight until it reaches its floor.
    for (end, outwards) in [(property.valid_k.0, -1.0), (property.valid_k.1, 1.0)] {
        let (value, slope) = property.law.at_with_slope(end);
        if end.is_finite() && value > 0.0 && slope * outwards < 0.0 {
            corners.push(end + (CONTINUATION_FLOOR - 1.0) * value / slope);
        }
    }
}

/// Sampling at the zeros of a Chebyshev polynomial.
pub(in crate::device) struct Rule {
    pub(in crate::device) nodes: [f64; SAMPLES],
    /// `cos(j theta_k)`.
    cosine: [[f64; SAMPLES]; SAMPLES],
}

impl Rule {
    pub(in crate::device) fn new() -> Rule {
        let angle = |k: usize| PI * (k as f64 + 0.5) / SAMPLES as f64;
        let mut rule = Rule {
            nodes: [0.0; SAMPLES],
            cosine: [[0.0; SAMPLES]; SAMPLES],
        };
        for k in 0..SAMPLES {
            rule.nodes[k] = angle(k).cos();
            for j in 0..SAMPLES {
                rule.cosine[j][k] = (j as f64 * angle(k)).cos();
            }
        }
        rule
    }

    /// What makes powers of samples: `coefficient of power d = sum_k rows[d][k] sample_k`, for a
    /// series cut to as many terms as there are rows.
    pub(in crate::device) fn power_rows(&self, rows: &mut [[f64; SAMPLES]]) {
        for k in 0..SAMPLES {
            let chebyshev: Vec<f64> = (0..rows.len())
                .map(|j| self.cosine[j][k] * if j == 0 { 1.0 } else { 2.0 } / SAMPLES as f64)
                .collect();
            for (row, c) in rows.iter_mut().zip(to_powers(&chebyshev)) {
                row[k] = c;
            }
        }
    }

    /// Polynomial in powers of the variable through the samples, as short as the tolerance allows.
    pub(in crate::device) fn monomials(
        &self,
        samples: &[f64; SAMPLES],
        tolerance: f64,
    ) -> Vec<f64> {
        self.shortened(samples, tolerance).0
    }

    /// The same, and the sum of the magnitudes of what was dropped: no value of the polynomial lies
    /// further than that from the series through all samples.
    pub(in crate::device) fn shortened(
        &self,
        samples: &[f64; SAMPLES],
        tolerance: f64,
    ) -> (Vec<f64>, f64) {
        let mut chebyshev: Vec<f64> = self
            .cosine
            .iter()
            .enumerate()
            .map(|(j, row)| {
                let sum: f64 = row.iter().zip(samples).map(|(c, s)| c * s).sum();
                sum * if j == 0 { 1.0 } else { 2.0 } / SAMPLES as f64
            })
            .collect();
        let largest = chebyshev.iter().fold(0.0f64, |m, c| m.max(c.abs()));
        let mut dropped: f64 = chebyshev[TERMS - 1..].iter().map(|c| c.abs()).sum();
        chebyshev.truncate(TERMS - 1);
        while chebyshev.len() > 1
            && chebyshev
                .last()
                .is_some_and(|c| c.abs() <= tolerance * largest)
        {
            dropped += chebyshev.pop().map_or(0.0, f64::abs);
        }
        (to_powers(&chebyshev), dropped)
    }
}

/// Chebyshev series to powers.
fn to_powers(chebyshev: &[f64]) -> Vec<f64> {
    let n = chebyshev.len();
    let mut out = vec![0.0; n];
    let (mut before, mut now) = (vec![0.0; n], vec![0.0; n]);
    before[0] = 1.0;
    if n > 1 {
        now[1] = 1.0;
    }
    for (j, c) in chebyshev.iter().enumerate() {
        let term = if j == 0 { &before } else { &now };
        for (o, t) in out.iter_mut().zip(term) {
            *o += c * t;
        }
        if j > 0 {
            let mut next: Vec<f64> = before.iter().map(|b| -b).collect();
            for i in 1..n {
                next[i] += 2.0 * now[i - 1];
            }
            (before, now) = (now, next);
        }
    }
    out
}

/// Antiderivative in temperature of a polynomial on a piece of half-width `half`, with the value
/// `start` at the piece's lower end.
fn integrate(c: &mut Vec<f64>, half: f64, start: f64) {
    let mut out = vec![0.0];
    out.extend(
        c.iter()
            .enumerate()
            .map(|(i, c)| half * c / (i as f64 + 1.0)),
    );
    let at_low: f64 = out
        .iter()
        .enumerate()
        .map(|(i, c)| if i % 2 == 0 { *c } else { -c })
        .sum();
    out[0] = start - at_low;
    *c = out;
}
