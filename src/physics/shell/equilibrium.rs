//! The path of equilibrium of a disc: followed along the height of its centre, which falls as it is
//! heated.

use super::{Fold, Shell};
use nalgebra::DVector;

/// Height that one step of the path takes, as a part of the rise as made.
const STRIDE: f64 = 1.0 / 48.0;
/// The path is followed between so many times the rise as made on either side.
const REACH: f64 = 1.6;
/// Newton steps at one height.
const MOST_STEPS: usize = 20;
/// Step after which there is none, against the largest slope: Newton's method squares what is left.
const SETTLED: f64 = 1e-7;

/// Both folds of a disc that snaps.
#[derive(Clone, Debug)]
pub struct Sides {
    /// Where it snaps through when it is heated.
    pub trip: Fold,
    /// Where it snaps back when it cools.
    pub reset: Fold,
}

/// The path of a disc without curvature of its own, and its folds; no folds: it creeps.
#[derive(Clone, Debug)]
pub struct Course {
    pub(super) path: Vec<Stand>,
    /// The first most from the cold side and the last least from the hot side.
    pub sides: Option<Sides>,
}

/// Equilibrium with the centre at a height.
#[derive(Clone, Debug)]
pub(super) struct Stand {
    pub(super) slopes: DVector<f64>,
    pub(super) shift: f64,
}

impl Shell<'_> {
    /// The path along even curvature on top of its own.
    #[must_use]
    pub fn course(&self) -> Course {
        let path = self.path();
        let sides = self.folds(&path);
        Course { path, sides }
    }

    fn folds(&self, path: &[Stand]) -> Option<Sides> {
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

    /// Even curvature on top of its own that makes it flat at the centre, times R: where one that
    /// creeps lets go.
    #[must_use]
    pub fn flat_shift(&self) -> Option<f64> {
        let start = Stand {
            slopes: self.as_made() * 0.0,
            shift: 2.0 * self.rise,
        };
        self.stand(start, 0.0).map(|stand| stand.shift)
    }

    /// Heights over the rim at all nodes from the centre, as parts of R, where it stands on the
    /// side on which it is made (`as_made`) or on the other; where there is nothing to stand on, on
    /// the side that is left. `even`: the same disc without curvature of its own.
    #[must_use]
    pub fn heights(&self, even: &Course, as_made: bool) -> Vec<f64> {
        let own = |as_made: bool| {
            let sides = even.sides.as_ref()?;
            self.fold_from(if as_made { &sides.trip } else { &sides.reset })
        };
        let is_gone = |fold: &Fold| (fold.shift < 0.0) == as_made;
        let mut fold = own(as_made);
        let as_made = match fold.as_ref().is_some_and(is_gone) {
            true => {
                fold = own(!as_made);
                !as_made
            }
            false => as_made,
        };
        let on_side = |height: f64| match &fold {
            Some(fold) => (height >= fold.height) == as_made,
            None => true,
        };
        let shift = self.even_part();
        let near = nearest(&even.path, as_made, shift).map(|stand| stand.slopes.clone());
        let quick = near.and_then(|slopes| self.rest(slopes));
        // Near a fold the even disc is no guide: its own path is followed.
        let slopes = quick
            .filter(|slopes| on_side(self.height(slopes)))
            .or_else(|| {
                let path = self.path();
                let from = nearest(&path, as_made, 0.0)?.slopes.clone();
                Some(self.rest(from.clone()).unwrap_or(from))
            });
        slopes.map_or_else(|| vec![0.0; self.grid.places.len()], |s| self.summed(&s))
    }

    /// The even curvature, times R, whose moments give a paraboloid as much as those of its own do.
    #[must_use]
    pub fn even_part(&self) -> f64 {
        let places = DVector::from_column_slice(&self.grid.places[1..]);
        places.dot(&self.spread(&self.curvature))
    }

    /// Equilibrium near slopes.
    fn rest(&self, mut slopes: DVector<f64>) -> Option<DVector<f64>> {
        for _ in 0..MOST_STEPS {
            let step = self
                .rigidity(&slopes)
                .lu()
                .solve(&-self.imbalance(&slopes, 0.0))?;
            slopes += &step;
            if step.amax() <= SETTLED * slopes.amax().max(self.rise) {
                return Some(slopes);
            }
        }
        None
    }

    /// Heights from slopes, by the trapezium rule between nodes, made right at the centre.
    fn summed(&self, slopes: &DVector<f64>) -> Vec<f64> {
        let places = &self.grid.places;
        let at = |i: usize| if i == 0 { 0.0 } else { slopes[i - 1] };
        let mut heights = vec![0.0; places.len()];
        for i in (0..places.len() - 1).rev() {
            heights[i] = heights[i + 1] - 0.5 * (at(i) + at(i + 1)) * (places[i + 1] - places[i]);
        }
        let missing = self.height(slopes) - heights[0];
        let shares = places.iter().map(|place| 1.0 - place * place);
        heights
            .iter_mut()
            .zip(shares)
            .for_each(|(h, share)| *h += missing * share);
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
    pub(super) fn stand(&self, from: Stand, height: f64) -> Option<Stand> {
        let n = self.grid.len();
        let Stand {
            mut slopes,
            mut shift,
        } = from;
        for _ in 0..MOST_STEPS {
            let mut right = -self.imbalance(&slopes, shift).push(0.0);
            right[n] = self.height(&slopes) - height;
            let rigidity = self.rigidity(&slopes);
            let whole = Self::bordered(rigidity, &self.grid.weight, &self.even());
            let step = whole.lu().solve(&right)?;
            slopes += step.rows(0, n);
            shift += step[n];
            if step.rows(0, n).amax() <= SETTLED * slopes.amax().max(self.rise) {
                return Some(Stand { slopes, shift });
            }
        }
        None
    }
}

/// The stand of a path that is nearest to a shift on the side as made, or on the other.
fn nearest(path: &[Stand], as_made: bool, shift: f64) -> Option<&Stand> {
    let crosses = |w: &&[Stand]| w[0].shift <= shift && w[1].shift > shift;
    let mut found = path.windows(2).filter(crosses);
    let pair = match as_made {
        true => found.next(),
        false => found.next_back(),
    };
    let nearer = |w: &[Stand]| usize::from(w[1].shift - shift < shift - w[0].shift);
    pair.map_or(path.first(), |w| w.get(nearer(w)))
}
