//! The laws at stations of the strip, a register of temperatures at a time.

use super::fit::{Fitted, GROUP, LAWS, StripFit, TERMS};
use crate::device::cooling::{CoolingLaw, FilmFit};
use crate::physics::constants::STEFAN_BOLTZMANN_W_PER_M2_K4;
use crate::solve::wide::{MOST_LANES, Wide};
use pulp::Simd;

/// Where temperatures lie among the pieces of a fit.
#[derive(Clone, Copy)]
pub struct Place<S: Simd> {
    /// Offset of the piece's coefficients, when all temperatures lie in the same one.
    one: Option<usize>,
    each: [usize; MOST_LANES],
    /// Reduced temperature.
    z: Wide<S>,
    /// Its slope against temperature, 1/K.
    z_slope: Wide<S>,
}

/// Temperatures whose laws can be evaluated.
pub trait Located<S: Simd>: Sized {
    /// Find temperatures among the pieces of a fit.
    fn find(simd: S, fit: &StripFit, t_k: Wide<S>) -> Self;
    /// Value of a law.
    fn value(&self, simd: S, fit: &StripFit, law: Fitted) -> Wide<S>;
}

/// Temperatures in a fit of one piece.
pub struct OnePiece<S: Simd> {
    z: Wide<S>,
}

impl<S: Simd> Located<S> for OnePiece<S> {
    #[inline(always)]
    fn find(simd: S, fit: &StripFit, t_k: Wide<S>) -> Self {
        let (slope, start) = fit.first_piece();
        OnePiece {
            z: t_k.times_plus(Wide::splat(simd, slope), Wide::splat(simd, start)),
        }
    }

    #[inline(always)]
    fn value(&self, simd: S, fit: &StripFit, law: Fitted) -> Wide<S> {
        let (first, terms) = (law as usize * TERMS, fit.terms[law as usize]);
        horner(simd, &fit.coefficients[first..first + terms], self.z)
    }
}

impl<S: Simd> Located<S> for Place<S> {
    #[inline(always)]
    fn find(simd: S, fit: &StripFit, t_k: Wide<S>) -> Self {
        place(simd, fit, t_k)
    }

    #[inline(always)]
    fn value(&self, simd: S, fit: &StripFit, law: Fitted) -> Wide<S> {
        self.law(simd, fit, law)
    }
}

/// Find the pieces of a register of temperatures.
#[inline(always)]
pub fn place<S: Simd>(simd: S, fit: &StripFit, t_k: Wide<S>) -> Place<S> {
    let (first, last) = if fit.pieces() == 1 {
        (0, 0)
    } else {
        let (low, high) = t_k.range();
        (fit.piece(low), fit.piece(high))
    };
    let mut each = [0; MOST_LANES];
    if first == last {
        let (a, b) = (fit.edges_k[first], fit.edges_k[first + 1]);
        let slope = 2.0 / (b - a);
        return Place {
            one: Some(first * LAWS * TERMS),
            each,
            z: t_k.times_plus(
                Wide::splat(simd, slope),
                Wide::splat(simd, -0.5 * slope * (a + b)),
            ),
            z_slope: Wide::splat(simd, slope),
        };
    }
    let mut values = [0.0; MOST_LANES];
    t_k.store(&mut values);
    let (mut middle, mut slopes) = ([0.0; MOST_LANES], [1.0; MOST_LANES]);
    for k in 0..S::F64_LANES {
        let p = fit.piece(values[k]);
        let (a, b) = (fit.edges_k[p], fit.edges_k[p + 1]);
        each[k] = p * LAWS * TERMS;
        middle[k] = 0.5 * (a + b);
        slopes[k] = 2.0 / (b - a);
    }
    let z_slope = Wide::load(simd, &slopes);
    Place {
        one: None,
        each,
        z: (t_k - Wide::load(simd, &middle)) * z_slope,
        z_slope,
    }
}

impl<S: Simd> Place<S> {
    /// The coefficient of power `d` of a law in the piece of each temperature.
    #[inline(always)]
    fn gather(&self, simd: S, fit: &StripFit, at: usize) -> Wide<S> {
        let mut values = [0.0; MOST_LANES];
        for k in 0..S::F64_LANES {
            values[k] = fit.coefficients[self.each[k] + at];
        }
        Wide::load(simd, &values)
    }

    /// Value of a law.
    #[inline(always)]
    fn law(&self, simd: S, fit: &StripFit, law: Fitted) -> Wide<S> {
        let (first, terms) = (law as usize * TERMS, fit.terms[law as usize]);
        match self.one {
            Some(base) => horner(
                simd,
                &fit.coefficients[base + first..base + first + terms],
                self.z,
            ),
            None => {
                let mut v = self.gather(simd, fit, first + terms - 1);
                for d in (0..terms - 1).rev() {
                    v = v.times_plus(self.z, self.gather(simd, fit, first + d));
                }
                v
            }
        }
    }

    /// Value of a law and its slope against temperature.
    #[inline(always)]
    pub fn value_and_slope(&self, simd: S, fit: &StripFit, law: Fitted) -> (Wide<S>, Wide<S>) {
        let (first, terms) = (law as usize * TERMS, fit.terms[law as usize]);
        let (v, slope) = match self.one {
            Some(base) => horner_with_slope(
                simd,
                &fit.coefficients[base + first..base + first + terms],
                self.z,
            ),
            None => {
                let mut v = self.gather(simd, fit, first + terms - 1);
                let mut slope = Wide::splat(simd, 0.0);
                for d in (0..terms - 1).rev() {
                    slope = slope.times_plus(self.z, v);
                    v = v.times_plus(self.z, self.gather(simd, fit, first + d));
                }
                (v, slope)
            }
        };
        (v, slope * self.z_slope)
    }
}

/// Loss of the strip's surface: convection in short polynomials where the law has that form, number
/// by number where it has not; radiation.
#[derive(Clone, Copy)]
pub struct Surface<'a> {
    /// The law.
    pub law: &'a CoolingLaw,
    /// Its short form.
    pub film: Option<&'a FilmFit>,
    /// Perimeter times uncovered fraction, m.
    pub perimeter_m: f64,
    /// Emissivity.
    pub emissivity: f64,
}

impl Surface<'_> {
    /// Heat lost per length of strip, W/m.
    #[inline(always)]
    pub fn loss<S: Simd>(&self, simd: S, t_k: Wide<S>, air_k: Wide<S>) -> Wide<S> {
        let Some(f) = self.film else {
            return self.each(simd, t_k, air_k, |t, air| self.law.flux(t, air));
        };
        let u = t_k - air_k;
        let sum = t_k + air_k;
        let scale = 0.5 / f.half_k;
        let z = sum.times_plus(
            Wide::splat(simd, scale),
            Wide::splat(simd, -f.middle_k / f.half_k),
        );
        let mut h = horner(simd, &f.still, z);
        if !f.moving.is_empty() {
            let root = u.abs().fourth_root();
            h = horner(simd, &f.moving, z).times_plus(root, h);
        }
        let squares = t_k.times_plus(t_k, air_k * air_k);
        let radiation = Wide::splat(simd, self.emissivity * STEFAN_BOLTZMANN_W_PER_M2_K4);
        let h = (squares * sum).times_plus(radiation, h);
        h * u * Wide::splat(simd, self.perimeter_m)
    }

    /// A number of the law per area, lane by lane, times the perimeter.
    #[inline(always)]
    fn each<S: Simd>(
        &self,
        simd: S,
        t_k: Wide<S>,
        air_k: Wide<S>,
        of: impl Fn(f64, f64) -> f64,
    ) -> Wide<S> {
        let (mut t, mut air) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
        t_k.store(&mut t);
        air_k.store(&mut air);
        let mut out = [0.0; MOST_LANES];
        for k in 0..S::F64_LANES {
            out[k] = of(t[k], air[k]) * self.perimeter_m;
        }
        Wide::load(simd, &out)
    }

    /// Slopes of the loss against the strip's and the air's temperature, W/(m K).
    #[inline(always)]
    pub fn loss_slopes<S: Simd>(
        &self,
        simd: S,
        t_k: Wide<S>,
        air_k: Wide<S>,
    ) -> (Wide<S>, Wide<S>) {
        let Some(f) = self.film else {
            return (
                self.each(simd, t_k, air_k, |t, air| self.law.flux_slopes(t, air).0),
                self.each(simd, t_k, air_k, |t, air| self.law.flux_slopes(t, air).1),
            );
        };
        let one = Wide::splat(simd, 1.0);
        let radiation = Wide::splat(simd, self.emissivity * STEFAN_BOLTZMANN_W_PER_M2_K4);
        let (own, against_air) = film_slopes(simd, f, [one, one], radiation, t_k, air_k);
        let p = Wide::splat(simd, self.perimeter_m);
        (own * p, against_air * p)
    }
}

/// Slopes of the loss per area against the strip's and the air's temperature, W/(m^2 K): a film in
/// short form with factors on its still and its moving part, and radiation, W/(m^2 K^4).
#[inline(always)]
pub(in crate::device) fn film_slopes<S: Simd>(
    simd: S,
    f: &FilmFit,
    [still, moving]: [Wide<S>; 2],
    radiation: Wide<S>,
    t_k: Wide<S>,
    air_k: Wide<S>,
) -> (Wide<S>, Wide<S>) {
    let u = t_k - air_k;
    let sum = t_k + air_k;
    let scale = 0.5 / f.half_k;
    let z = sum.times_plus(
        Wide::splat(simd, scale),
        Wide::splat(simd, -f.middle_k / f.half_k),
    );
    // Slope against the film temperature times half of it.
    let (h, half_slope) = horner_with_slope(simd, &f.still, z);
    let (mut h, mut half_slope) = (h * still, half_slope * still);
    let mut own = h;
    if !f.moving.is_empty() {
        let root = u.abs().fourth_root() * moving;
        let (m, d) = horner_with_slope(simd, &f.moving, z);
        h = m.times_plus(root, h);
        own = (m * root).times_plus(Wide::splat(simd, 0.25), h);
        half_slope = d.times_plus(root, half_slope);
    }
    let film = half_slope * Wide::splat(simd, scale) * u;
    let radiation = radiation * Wide::splat(simd, 4.0);
    (
        own + film + radiation * t_k * t_k * t_k,
        film - own - radiation * air_k * air_k * air_k,
    )
}

/// A polynomial of 4, 8, 12 or 16 terms.
#[inline(always)]
pub(in crate::device) fn horner<S: Simd>(simd: S, coefficients: &[f64], z: Wide<S>) -> Wide<S> {
    // Lengths known to the compiler leave nothing but the multiplications.
    if let Ok(c) = coefficients.try_into() {
        return terms::<S, 4>(simd, c, z);
    }
    if let Ok(c) = coefficients.try_into() {
        return terms::<S, 8>(simd, c, z);
    }
    if let Ok(c) = coefficients.try_into() {
        return terms::<S, 12>(simd, c, z);
    }
    match coefficients.try_into() {
        Ok(c) => terms::<S, 16>(simd, c, z),
        Err(_) => Wide::splat(simd, f64::NAN),
    }
}

#[inline(always)]
fn terms<S: Simd, const N: usize>(simd: S, c: &[f64; N], z: Wide<S>) -> Wide<S> {
    let mut v = Wide::splat(simd, c[N - 1]);
    for d in (0..N - 1).rev() {
        v = v.times_plus(z, Wide::splat(simd, c[d]));
    }
    v
}

/// A polynomial and its slope.
#[inline(always)]
fn horner_with_slope<S: Simd>(simd: S, coefficients: &[f64], z: Wide<S>) -> (Wide<S>, Wide<S>) {
    let (mut v, mut d) = (Wide::splat(simd, 0.0), Wide::splat(simd, 0.0));
    for c in coefficients.as_chunks::<GROUP>().0.iter().rev() {
        for k in (0..GROUP).rev() {
            d = d.times_plus(z, v);
            v = v.times_plus(z, Wide::splat(simd, c[k]));
        }
    }
    (v, d)
}
