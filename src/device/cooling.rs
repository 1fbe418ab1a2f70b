//! Heat that the strip's surface gives to the air: convection by posture, and radiation.
//!
//! The air's properties enter every correlation only through the film temperature, so that the
//! coefficient is a few smooth functions of that one temperature times powers of the difference.
//! Those functions are fitted once per device (relative 1e-12); the powers stay exact, so that the
//! infinite slope of the coefficient at zero difference is kept. Outside the fitted range the
//! published correlation itself is evaluated.

use super::chebyshev::Chebyshev;
use super::fast::fit::{GROUP, Rule};
use crate::physics::{air, convection, radiation};
use crate::scenario::{Convection, Cooling, Disc, Strip};

/// Film temperatures covered by the fits, K.
const FILM_K: (f64, f64) = (170.0, 900.0);
const FIT: f64 = 1e-13;

/// Film temperatures of the short fit, K: all that a working protector sees.
const SHORT_FILM_K: (f64, f64) = (230.0, 455.0);
/// And those of a strip that is heated on while its contacts open.
pub(super) const HOT_FILM_K: (f64, f64) = (230.0, FILM_K.1);
/// Accuracy of the short fit against the largest coefficient in its range.
const SHORT_FIT: f64 = 4e-9;

/// The convection coefficient as `still + moving |u|^(1/4)`, each a short polynomial of the film
/// temperature.
#[derive(Debug, Clone)]
pub struct FilmFit {
    /// Middle of the range, K.
    pub middle_k: f64,
    /// Half of its width, K.
    pub half_k: f64,
    /// Coefficient of still air, W/(m^2 K), in powers of the reduced film temperature.
    pub still: Vec<f64>,
    /// Factor of `|u|^(1/4)`; empty where the coefficient does not depend on the difference.
    pub moving: Vec<f64>,
    /// Largest error of the coefficient over its smallest value in the range, proved: what was
    /// dropped of the two series.
    pub bound: f64,
}

/// Zeros up to whole groups of terms.
fn grouped(mut coefficients: Vec<f64>) -> Vec<f64> {
    let len = coefficients.len().next_multiple_of(GROUP);
    coefficients.resize(len, 0.0);
    coefficients
}

impl FilmFit {
    /// The same law fitted anew for temperatures of surface and air within a range: shorter.
    pub fn narrowed(&self, low_k: f64, high_k: f64) -> FilmFit {
        let (low, high) = self.range_k();
        let (low, high) = (low_k.max(low), high_k.min(high));
        let (middle_k, half_k) = (0.5 * (low + high), 0.5 * (high - low));
        let rule = Rule::new();
        let mut bound = self.bound;
        let mut short = |coefficients: &[f64]| {
            if coefficients.is_empty() {
                return Vec::new();
            }
            let samples = rule.nodes.map(|z| {
                let x = (middle_k + half_k * z - self.middle_k) / self.half_k;
                coefficients.iter().rev().fold(0.0, |v, c| v * x + c)
            });
            let (powers, dropped) = rule.shortened(&samples, SHORT_FIT);
            let least = samples.iter().copied().fold(f64::INFINITY, f64::min);
            bound = bound.max(self.bound + dropped / least);
            grouped(powers)
        };
        let (still, moving) = (short(&self.still), short(&self.moving));
        FilmFit {
            middle_k,
            half_k,
            still,
            moving,
            bound,
        }
    }

    /// Lowest and highest film temperature covered, K.
    pub fn range_k(&self) -> (f64, f64) {
        (self.middle_k - self.half_k, self.middle_k + self.half_k)
    }
}

/// Flux law of one strip.
#[derive(Debug, Clone)]
pub struct CoolingLaw {
    convection: Convection,
    emissivity: f64,
    pressure_pa: f64,
    width_m: f64,
    length_m: f64,
    /// Perimeter times uncovered fraction, m.
    pub perimeter_m: f64,
    uncovered: f64,
    fitted: Fitted,
}

/// The coefficient as functions of the film temperature.
#[derive(Debug, Clone)]
enum Fitted {
    Constant(f64),
    /// `still + moving |u|^(1/4)`.
    Laminar {
        still: Chebyshev,
        moving: Chebyshev,
    },
    /// Raithby-Hollands: `scale` k/L, `upper` and `lower` the factors of |u|^(1/4) and |u|^(1/5).
    Horizontal {
        scale: Chebyshev,
        upper: Chebyshev,
        lower: Chebyshev,
    },
    /// A function of the film temperature alone.
    Film(Chebyshev),
}

impl CoolingLaw {
    /// Law of a scenario's strip.
    pub fn new(cooling: &Cooling, strip: &Strip) -> CoolingLaw {
        let thickness: f64 = strip.layers.iter().map(|l| l.thickness_m).sum();
        let faces_m = 2.0 * (strip.width_m + thickness);
        CoolingLaw::of_faces(cooling, [strip.width_m, strip.length_m], faces_m)
    }

    /// Law of both faces of a disc: its length scale is that of a square around it, half the
    /// radius.
    pub fn of_disc(cooling: &Cooling, disc: &Disc) -> CoolingLaw {
        let across_m = 2.0 * disc.radius_m;
        CoolingLaw::of_faces(cooling, [across_m; 2], 2.0 * disc.width_m())
    }

    fn of_faces(cooling: &Cooling, [width_m, length_m]: [f64; 2], faces_m: f64) -> CoolingLaw {
        let mut law = CoolingLaw {
            convection: cooling.convection,
            emissivity: cooling.emissivity,
            pressure_pa: air::pressure_at_altitude_pa(cooling.altitude_m),
            width_m,
            length_m,
            perimeter_m: faces_m * cooling.uncovered_fraction,
            uncovered: cooling.uncovered_fraction,
            fitted: Fitted::Constant(0.0),
        };
        law.fitted = law.fit();
        law
    }

    /// The coefficient in short polynomials, where the law has that form.
    pub fn film_fit(&self) -> Option<FilmFit> {
        self.film_fit_over(SHORT_FILM_K)
    }

    /// The same over some film temperatures, K.
    pub(super) fn film_fit_over(&self, (low, high): (f64, f64)) -> Option<FilmFit> {
        let (middle_k, half_k) = (0.5 * (low + high), 0.5 * (high - low));
        let rule = Rule::new();
        let mut bound = 0.0f64;
        let mut short = |f: &Chebyshev| {
            let samples = rule.nodes.map(|z| f.at(middle_k + half_k * z));
            let (powers, dropped) = rule.shortened(&samples, SHORT_FIT);
            let least = samples.iter().copied().fold(f64::INFINITY, f64::min);
            bound = bound.max(dropped / least);
            grouped(powers)
        };
        let (still, moving) = match &self.fitted {
            Fitted::Constant(h) => (grouped(vec![*h]), Vec::new()),
            Fitted::Film(h) => (short(h), Vec::new()),
            Fitted::Laminar { still, moving } => (short(still), short(moving)),
            Fitted::Horizontal { .. } => return None,
        };
        Some(FilmFit {
            middle_k,
            half_k,
            still,
            moving,
            bound,
        })
    }

    /// Kind of convection.
    pub fn convection(&self) -> Convection {
        self.convection
    }

    /// Emissivity of the surface.
    pub fn emissivity(&self) -> f64 {
        self.emissivity
    }

    /// Share of the surface not covered by a winding.
    pub fn uncovered(&self) -> f64 {
        self.uncovered
    }

    fn fit(&self) -> Fitted {
        let cheb = |f: &dyn Fn(f64) -> f64| Chebyshev::fit(FILM_K.0, FILM_K.1, FIT, f);
        // Rayleigh number per kelvin, and the air, at a film temperature.
        let per_kelvin = |film_k: f64, scale_m: f64| {
            convection::rayleigh(film_k + 0.5, film_k - 0.5, scale_m, self.pressure_pa)
        };
        match self.convection {
            Convection::Constant {
                coefficient_w_per_m2_k,
            } => Fitted::Constant(coefficient_w_per_m2_k),
            Convection::EdgeOn | Convection::Upright => {
                let scale = if self.convection == Convection::EdgeOn {
                    self.width_m
                } else {
                    self.length_m
                };
                let nusselt = |film_k: f64, ra: f64| {
                    let (_, film) = per_kelvin(film_k, scale);
                    convection::churchill_chu_laminar(ra, film.prandtl) * film.conductivity / scale
                };
                let still = cheb(&|film_k| nusselt(film_k, 0.0));
                let moving = cheb(&|film_k| {
                    nusselt(film_k, per_kelvin(film_k, scale).0) - nusselt(film_k, 0.0)
                });
                Fitted::Laminar { still, moving }
            }
            Convection::Flat => {
                let l = self.horizontal_m();
                Fitted::Horizontal {
                    scale: cheb(&|film_k| per_kelvin(film_k, l).1.conductivity / l),
                    upper: cheb(&|film_k| {
                        let (ra, film) = per_kelvin(film_k, l);
                        thin_layer_argument(
                            1.4,
                            convection::raithby_hollands_upper(ra, film.prandtl),
                        )
                    }),
                    lower: cheb(&|film_k| {
                        let (ra, film) = per_kelvin(film_k, l);
                        thin_layer_argument(
                            2.5,
                            convection::raithby_hollands_lower(ra, film.prandtl),
                        )
                    }),
                }
            }
            Convection::Forced { .. } | Convection::Gap { .. } => {
                Fitted::Film(cheb(&|film_k| self.published_coefficient(film_k, film_k)))
            }
        }
    }

    fn horizontal_m(&self) -> f64 {
        convection::horizontal_length_m(self.width_m, self.length_m)
    }

    /// Convection coefficient, W/(m^2 K), straight from the published correlation.
    pub fn published_coefficient(&self, surface_k: f64, air_k: f64) -> f64 {
        let film = || air::Air::at(0.5 * (surface_k + air_k), self.pressure_pa);
        let natural = |scale_m: f64, nusselt: fn(f64, f64) -> f64| {
            let (rayleigh, film) =
                convection::rayleigh(surface_k, air_k, scale_m, self.pressure_pa);
            nusselt(rayleigh, film.prandtl) * film.conductivity / scale_m
        };
        match self.convection {
            Convection::Constant {
                coefficient_w_per_m2_k,
            } => coefficient_w_per_m2_k,
            Convection::EdgeOn => natural(self.width_m, convection::churchill_chu_laminar),
            Convection::Upright => natural(self.length_m, convection::churchill_chu_laminar),
            Convection::Flat => {
                natural(self.horizontal_m(), convection::raithby_hollands_horizontal)
            }
            Convection::Forced {
                speed_m_per_s,
                flow_length_m,
            } => {
                let film = film();
                let reynolds = convection::reynolds(speed_m_per_s, flow_length_m, &film);
                convection::forced_plate_laminar(reynolds, film.prandtl) * film.conductivity
                    / flow_length_m
            }
            Convection::Gap { gap_m } => {
                convection::narrow_gap_w_per_m2_k(film().conductivity, gap_m)
            }
        }
    }

    /// Coefficient, its slope against the film temperature, and `u` times its slope against the
    /// difference `u` at constant film temperature.
    fn coefficient_parts(&self, film_k: f64, u: f64) -> (f64, f64, f64) {
        match &self.fitted {
            Fitted::Constant(h) => (*h, 0.0, 0.0),
            Fitted::Film(h) => {
                let (h, slope) = h.at_with_slope(film_k);
                (h, slope, 0.0)
            }
            Fitted::Laminar { still, moving } => {
                let s = u.abs().sqrt().sqrt();
                let ((a, da), (b, db)) =
                    (still.at_with_slope(film_k), moving.at_with_slope(film_k));
                (a + b * s, da + db * s, 0.25 * b * s)
            }
            Fitted::Horizontal {
                scale,
                upper,
                lower,
            } => {
                if u == 0.0 {
                    return (0.0, 0.0, 0.0);
                }
                let ((k, dk), (a, da), (b, db)) = (
                    scale.at_with_slope(film_k),
                    upper.at_with_slope(film_k),
                    lower.at_with_slope(film_k),
                );
                let (quarter, fifth) = (u.abs().sqrt().sqrt(), u.abs().powf(0.2));
                let (n1, d1) = thin_layer(1.4, a * quarter);
                let (n2, d2) = thin_layer(2.5, b * fifth);
                (
                    0.5 * k * (n1 + n2),
                    0.5 * dk * (n1 + n2) + 0.5 * k * (d1 * da * quarter + d2 * db * fifth),
                    0.5 * k * (0.25 * d1 * a * quarter + 0.2 * d2 * b * fifth),
                )
            }
        }
    }

    /// Convection coefficient, W/(m^2 K), of a surface in air.
    pub fn coefficient(&self, surface_k: f64, air_k: f64) -> f64 {
        let film_k = 0.5 * (surface_k + air_k);
        if FILM_K.0 <= film_k && film_k <= FILM_K.1 {
            self.coefficient_parts(film_k, surface_k - air_k).0
        } else {
            self.published_coefficient(surface_k, air_k)
        }
    }

    /// Flux to the air, W/m^2: convection and radiation.
    pub fn flux(&self, surface_k: f64, air_k: f64) -> f64 {
        let u = surface_k - air_k;
        let film_k = 0.5 * (surface_k + air_k);
        let h = if FILM_K.0 <= film_k && film_k <= FILM_K.1 {
            match &self.fitted {
                Fitted::Laminar { still, moving } => {
                    still.at(film_k) + moving.at(film_k) * u.abs().sqrt().sqrt()
                }
                Fitted::Horizontal {
                    scale,
                    upper,
                    lower,
                } if u != 0.0 => {
                    let upper = upper.at(film_k) * u.abs().sqrt().sqrt();
                    let lower = lower.at(film_k) * u.abs().powf(0.2);
                    let nusselt = thin_layer(1.4, upper).0 + thin_layer(2.5, lower).0;
                    0.5 * scale.at(film_k) * nusselt
                }
                _ => self.coefficient_parts(film_k, u).0,
            }
        } else {
            self.published_coefficient(surface_k, air_k)
        };
        h * u + radiation::net_flux(self.emissivity, surface_k, air_k)
    }

    /// The part of the flux that is radiation, W/m^2.
    pub fn radiated(&self, surface_k: f64, air_k: f64) -> f64 {
        radiation::net_flux(self.emissivity, surface_k, air_k)
    }

    /// Slopes of the flux against surface and air temperature, W/(m^2 K).
    pub fn flux_slopes(&self, surface_k: f64, air_k: f64) -> (f64, f64) {
        let u = surface_k - air_k;
        let film_k = 0.5 * (surface_k + air_k);
        if !(FILM_K.0 <= film_k && film_k <= FILM_K.1) {
            let step = 1e-3 * film_k.abs().max(1.0);
            let along_surface =
                self.flux(surface_k + step, air_k) - self.flux(surface_k - step, air_k);
            let along_air = self.flux(surface_k, air_k + step) - self.flux(surface_k, air_k - step);
            return (along_surface / (2.0 * step), along_air / (2.0 * step));
        }
        let (h, per_film, per_difference) = self.coefficient_parts(film_k, u);
        let (own, film) = (h + per_difference, 0.5 * u * per_film);
        let radiated = |t: f64| radiation::net_flux_slope(self.emissivity, t);
        (
            own + film + radiated(surface_k),
            -own + film - radiated(air_k),
        )
    }
}

/// Nusselt number `a / ln(1 + a/x)` of a thin-layer solution, and its slope against `x`.
fn thin_layer(a: f64, x: f64) -> (f64, f64) {
    let log = (a / x).ln_1p();
    (a / log, a * a / (log * log * x * (x + a)))
}

/// The argument `x` of a thin-layer solution that gives this Nusselt number.
fn thin_layer_argument(a: f64, nusselt: f64) -> f64 {
    a / (a / nusselt).exp_m1()
}
