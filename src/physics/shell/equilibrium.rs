//! The path of equilibrium of a disc: followed along the height of its centre, which falls as it is heated.

use super::{Fold, Shell};
use nalgebra::DVector;

/// Height that one step of the path takes, as a part of the rise as made.
const STRIDE: f64 = 1.0 / 48.0;
/// The path is followed between so many times the rise as made on either side.
const REACH: f64 = 1.6;
/// Newton steps at one height.
const MOST_STEPS: usize = 20;
/// Step that counts as none, against the largest slope.
const SETTLED: f64 = 1e-12;

/// Both folds of a disc that snaps.
#[derive(Clone, Debug)]
pub struct Sides {
    /// Where it snaps through when it is heated.
    pub trip: Fold,
    /// Where it snaps back when it cools.
    pub reset: Fold,
}

/// Equilibrium with the centre at a height.
#[derive(Clone, Debug)]
struct Stand {
    slopes: DVector<f64>,
    shift: f64,
}

impl Shell<'_> {
    /// Both folds, in even curvature on top of its own: the first most from the cold side, the last least from the
    /// hot side. `None`: it creeps.
    #[must_use]
    pub fn folds(&self) -> Option<Sides> {
        let path = self.path();
        let turns = |sign: f64| {
            move |w: &&[Stand]| {
                let (before, after) = (w[1].shift - w[0].shift, w[2].shift - w[1].shift);
                sign * before > 0.0 && sign * after <= 0.0
            }
        };
        let first = path.windows(3).find(turns(1.0))?;
        let last = path.windows(3).rev().find(turns(-1.0))?;
        let fold = |w: &[Stand]| self.fold_at(w[1].slopes.clone(), w[1].shift);
        Some(Sides {
            trip: fold(first).filter(|f| f.is_most)?,
            reset: fold(last).filter(|f| !f.is_most)?,
        })
    }

    /// Even curvature on top of its own that makes it flat at the centre, times R: where one that creeps lets go.
    #[must_use]
    pub fn flat_shift(&self) -> Option<f64> {
        let start = Stand {
            slopes: self.as_made() * 0.0,
            shift: 2.0 * self.rise,
        };
        self.stand(start, 0.0).map(|stand| stand.shift)
    }

    /// Heights of the shell over its rim at all nodes from the centre, as parts of R, standing on the side on which
    /// it is made (`as_made`) or on the other; where there is nothing to stand on there, on the one that is left.
    #[must_use]
    pub fn heights(&self, as_made: bool) -> Vec<f64> {
        let path = self.path();
        let crosses = |w: &&[Stand]| w[0].shift <= 0.0 && w[1].shift > 0.0;
        let standing = match as_made {
            true => path.windows(2).find(crosses),
            false => path.windows(2).rev().find(crosses),
        };
        let Some([low, high]) = standing else {
            return vec![0.0; self.grid.len() + 1];
        };
        let part = low.shift / (low.shift - high.shift);
        let slopes = &low.slopes + part * (&high.slopes - &low.slopes);
        self.summed(&slopes)
    }

    /// Heights from slopes, by the trapezium rule between nodes.
    fn summed(&self, slopes: &DVector<f64>) -> Vec<f64> {
        let places = &self.grid.places;
        let at = |i: usize| if i == 0 { 0.0 } else { slopes[i - 1] };
        let mut heights = vec![0.0; places.len()];
        for i in (0..places.len() - 1).rev() {
            heights[i] = heights[i + 1] - 0.5 * (at(i) + at(i + 1)) * (places[i + 1] - places[i]);
        }
        heights
    }

    /// Equilibria from high above the rim to as far below it.
    fn path(&self) -> Vec<Stand> {
        let steps = (REACH / STRIDE) as i32;
        let mut path: Vec<Stand> = Vec::new();
        let mut from = Stand {
            slopes: REACH * self.as_made(),
            shift: 0.0,
        };
        for k in -steps..=steps {
            // Where the path has been left it is not looked for again.
            let Some(stand) = self.stand(from, -f64::from(k) * STRIDE * self.rise) else {
                break;
            };
            let guess = match path.last() {
                Some(last) => 2.0 * &stand.slopes - &last.slopes,
                None => stand.slopes.clone(),
            };
            from = Stand {
                slopes: guess,
                shift: stand.shift,
            };
            path.push(stand);
        }
        path
    }

    /// Equilibrium with the centre at a height, by Newton's method.
    fn stand(&self, from: Stand, height: f64) -> Option<Stand> {
        let n = self.grid.len();
        let Stand {
            mut slopes,
            mut shift,
        } = from;
        for _ in 0..MOST_STEPS {
            let mut right = -self.imbalance(&slopes, shift).push(0.0);
            right[n] = self.height(&slopes) - height;
            let step = Self::bordered(
                self.rigidity(&slopes),
                &self.grid.weight,
                &self.even(),
                &right,
            )?;
            slopes += step.rows(0, n);
            shift += step[n];
            if step.rows(0, n).amax() <= SETTLED * slopes.amax().max(self.rise) {
                return Some(Stand { slopes, shift });
            }
        }
        None
    }
}
