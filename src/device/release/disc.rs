//! A disc on the grid: its shell at the temperatures of rim, faces and contact, and its distance
//! from either fold.

use super::{Gauge, Kept, Outline, ReleaseMechanism, on_the_branch};
use crate::device::{Device, Grid, Model};
use crate::physics::shell::{Course, Shell, ShellGrid, one_term};
use crate::scenario::Disc;
use std::f64::consts::PI;

/// Order of the shell outside the contact; the grid of the heat may ask for more.
const LEAST_ORDER: usize = 10;
const MOST_ORDER: usize = 16;

/// Pieces of a drawn disc.
const DRAWN: usize = 80;

/// A shape of a disc on its way over.
#[derive(Debug, Clone, Copy)]
pub struct HeldRise {
    /// Height of the centre over the rim, m.
    pub rise_m: f64,
    /// Even curvature, times its radius, that it lacks to stand there by itself.
    pub lacks: f64,
    /// Energy above the flat disc, that of the contact force with it, J.
    pub energy_j: f64,
}

/// The shell of a disc on a grid.
#[derive(Debug, Clone)]
pub struct DiscParts {
    grid: ShellGrid,
    /// Temperatures outside the contact, from those of the nodes of the heat.
    carry: Vec<Vec<f64>>,
    closed: Course,
    open: Course,
}

impl DiscParts {
    /// Of a device whose heat is on a grid.
    pub(in crate::device) fn new(disc: &Disc, device: &Device, heat: &Grid) -> DiscParts {
        let order = heat.order.clamp(LEAST_ORDER, MOST_ORDER);
        let grid = ShellGrid::new(disc.contact_radius_m / disc.radius_m, order);
        let unit = |j: usize| -> Vec<f64> {
            (0..heat.len())
                .map(|i| f64::from(u8::from(i == j)))
                .collect()
        };
        let units: Vec<Vec<f64>> = (0..heat.len()).map(unit).collect();
        let carry = grid.places[grid.patch..]
            .iter()
            .map(|place| {
                let x_m = disc.radius_m * (1.0 - place);
                units
                    .iter()
                    .map(|unit| heat.interpolate(unit, x_m))
                    .collect()
            })
            .collect();
        let course = |closed: bool| {
            let flat_k = device.laws.flat_temperature_k;
            disc.shell(&grid, device, flat_k, closed).course()
        };
        DiscParts {
            closed: course(true),
            open: course(false),
            carry,
            grid,
        }
    }
}

impl Disc {
    /// Bending stiffness D of its wall.
    fn rigidity_n_m(&self, device: &Device, at_k: f64) -> f64 {
        let laws = &device.laws;
        laws.bend(at_k).stiffness_n_m2 / laws.width_m / (1.0 - self.poisson.powi(2))
    }

    /// Its shell without curvature of its own, with the moduli of a temperature.
    fn shell<'g>(
        &self,
        grid: &'g ShellGrid,
        device: &Device,
        at_k: f64,
        closed: bool,
    ) -> Shell<'g> {
        let bend = device.laws.bend(at_k);
        let (r, nu, width) = (self.radius_m, self.poisson, device.laws.width_m);
        let rigidity = self.rigidity_n_m(device, at_k);
        let force_n = match closed {
            true => self.contact_force_n * (1.0 - device.release.preload_loss),
            false => self.open_force_n,
        };
        Shell {
            grid,
            poisson: nu,
            slenderness: bend.axial_stiffness_n / width * r * r / rigidity,
            rise: self.rise_m / r,
            force: force_n * r / (2.0 * PI * rigidity),
            curvature: Vec::new(),
            strain: Vec::new(),
        }
    }

    /// Its shell at a state.
    fn shell_at<'m>(
        &self,
        on: &'m Model,
        parts: &'m DiscParts,
        y: &[f64],
        closed: bool,
    ) -> Shell<'m> {
        let mean_k = on.mean_k(y);
        let contact_k = y[on.layout.strip - 1];
        let outside = parts.carry.iter();
        let outside = outside.map(|row| row.iter().zip(y).map(|(c, t)| c * t).sum());
        let temperatures = std::iter::repeat_n(contact_k, parts.grid.patch).chain(outside);
        let bends = temperatures.map(|t: f64| on.device.laws.bend_with(t, mean_k));
        let (curvature, strain) = bends
            .map(|b| (self.radius_m * b.curvature_per_m, b.axial_strain))
            .unzip();
        Shell {
            curvature,
            strain,
            ..self.shell(&parts.grid, &on.device, mean_k, closed)
        }
    }

    /// Even curvature that is still missing at its snap through or back (with the contacts closed
    /// or open), as the rise that it takes from a free disc, m; of one that creeps, at the flat
    /// middle.
    fn missing_m(&self, on: &Model, y: &[f64], closed: bool, kept: &mut Kept) -> f64 {
        let Some(parts) = &on.disc else {
            return f64::NAN;
        };
        let shell = self.shell_at(on, parts, y, closed);
        let course = if closed { &parts.closed } else { &parts.open };
        let shift = match &course.sides {
            Some(sides) => {
                let even = if closed { &sides.trip } else { &sides.reset };
                let near = kept.take().and_then(|fold| shell.fold_near(&fold));
                *kept = near.or_else(|| shell.fold_from(even));
                // Far from any state that parts see there may be no fold; then only an even disc is
                // told.
                match kept {
                    Some(fold) => fold.shift,
                    None => even.shift - shell.even_part(),
                }
            }
            None => shell
                .flat_shift()
                .unwrap_or(2.0 * shell.rise - shell.even_part()),
        };
        0.5 * self.radius_m * shift
    }

    /// Heights over the rim at places from the centre, m, with contacts closed or open.
    fn heights_m(&self, on: &Model, y: &[f64], closed: bool) -> Vec<f64> {
        let Some(parts) = &on.disc else {
            return Vec::new();
        };
        let course = if closed { &parts.closed } else { &parts.open };
        let heights = |y: &[f64]| self.shell_at(on, parts, y, closed).heights(course, closed);
        // With the contacts closed the middle is above the rim, with open ones below it.
        let stands = |h: &Vec<f64>| h.first().is_some_and(|h| (*h > 0.0) == closed);
        let seen = on_the_branch(on, y, closed, |y| Some(heights(y)).filter(stands));
        let seen = seen.unwrap_or_else(|| heights(y));
        seen.into_iter().map(|h| h * self.radius_m).collect()
    }

    /// How it turns over at one temperature throughout, from high above the rim to below it: with
    /// the contacts closed above the plane of the rim, with open ones below it.
    pub fn turns_over(&self, on: &Model, at_k: f64) -> Vec<HeldRise> {
        let Some(parts) = &on.disc else {
            return Vec::new();
        };
        let (y, unit_j) = (
            on.uniform(at_k),
            2.0 * PI * self.rigidity_n_m(&on.device, at_k),
        );
        let side = |closed: bool| {
            let course = if closed { &parts.closed } else { &parts.open };
            let shell = self.shell_at(on, parts, &y, closed);
            shell.landscape(course, |height| (height > 0.0) == closed)
        };
        let both = side(true).into_iter().chain(side(false));
        both.map(|held| HeldRise {
            rise_m: self.radius_m * held.height,
            lacks: held.lacks,
            energy_j: unit_j * held.energy,
        })
        .collect()
    }

    /// Whether it creeps instead of snapping.
    pub fn creeps(&self, on: &Model) -> bool {
        let sides = |course: &Course| course.sides.is_some();
        !on.disc.as_ref().is_some_and(|parts| sides(&parts.closed))
    }

    /// What the one-term form, which knows no force, makes of the even curvature at which it trips,
    /// against the full shell; `None`: one of the two creeps.
    pub fn one_term_relative(&self, on: &Model) -> Option<f64> {
        let parts = on.disc.as_ref()?;
        let full = parts.closed.sides.as_ref()?.trip.shift;
        let flat_k = on.device.laws.flat_temperature_k;
        let slenderness = self
            .shell(&parts.grid, &on.device, flat_k, true)
            .slenderness;
        // The thickness of a disc of one metal with this stretching against bending, as a part of
        // the radius.
        let thickness = (12.0 * (1.0 - self.poisson.powi(2)) / slenderness).sqrt();
        let (trip, _) = one_term::folds(self.rise_m / self.radius_m / thickness, self.poisson)?;
        Some(trip * thickness / full - 1.0)
    }
}

impl ReleaseMechanism for Disc {
    fn distance_m(&self, on: &Model, gauge: Gauge, y: &[f64], current_squared: f64) -> f64 {
        self.distance_near_m(on, gauge, y, current_squared, &mut None)
    }

    fn distance_near_m(
        &self,
        on: &Model,
        gauge: Gauge,
        y: &[f64],
        _current_squared: f64,
        kept: &mut Kept,
    ) -> f64 {
        match gauge {
            Gauge::Release { in_hand_m } => in_hand_m - self.missing_m(on, y, true, kept),
            Gauge::Relatch => self.missing_m(on, y, false, kept),
        }
    }

    fn release_deflection_m(&self, _compliance_m_per_n: f64, _preload_loss: f64) -> f64 {
        self.rise_m
    }

    /// Where the dome of a free disc is just taken away.
    fn release_curvature_per_m(&self, _device: &Device, _stiffness_n_m2: f64) -> f64 {
        2.0 * self.rise_m / self.radius_m.powi(2)
    }

    fn seen_m(&self, on: &Model, y: &[f64], _current_squared: f64, closed: bool) -> f64 {
        self.heights_m(on, y, closed)
            .first()
            .copied()
            .unwrap_or(0.0)
    }

    /// From rim to rim through the middle.
    fn outline(&self, on: &Model, y: &[f64], _current_squared: f64, closed: bool) -> Outline {
        let (Some(parts), r) = (&on.disc, self.radius_m) else {
            return Outline::default();
        };
        let heights = self.heights_m(on, y, closed);
        let right = parts.grid.places.iter().zip(heights);
        let right: Vec<(f64, f64)> = right.map(|(place, height)| (r * place, height)).collect();
        let height = |x: f64| {
            let pair = right
                .windows(2)
                .find(|w| x <= w[1].0)
                .unwrap_or(&right[right.len() - 2..]);
            let ((a, from), (b, to)) = (pair[0], pair[1]);
            from + (to - from) * (x - a) / (b - a)
        };
        let across = |k: usize| r * (2.0 * k as f64 / DRAWN as f64 - 1.0);
        let x_m: Vec<f64> = (0..=DRAWN).map(across).collect();
        Outline {
            along_m: x_m
                .iter()
                .map(|x| (r - x.abs()).clamp(0.0, self.length_m()))
                .collect(),
            y_m: x_m.iter().map(|x| height(x.abs())).collect(),
            x_m: x_m.iter().map(|x| r + x).collect(),
        }
    }

    /// At the rim, as made.
    fn rotation_rad(&self, _on: &Model, _y: &[f64], _current_squared: f64) -> f64 {
        2.0 * self.rise_m / self.radius_m
    }
}
