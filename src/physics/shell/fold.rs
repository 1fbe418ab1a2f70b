//! Where a branch of equilibrium ends: the even curvature on top of its own with which a disc just
//! snaps.

use super::Shell;
use nalgebra::DVector;

/// Newton steps towards a fold.
const MOST_STEPS: usize = 30;
/// Step after which there is none, against the largest slope: Newton's method squares what is left.
const SETTLED: f64 = 1e-7;
/// Parts in which a fold is followed from even to uneven curvature, where one leap does not reach
/// it.
const PARTS: [usize; 3] = [1, 4, 32];

/// A fold of a disc.
#[derive(Clone, Debug)]
pub struct Fold {
    /// Even curvature on top of its own, times R.
    pub shift: f64,
    /// Height of the centre there, as a part of R.
    pub height: f64,
    /// Slopes there.
    pub(super) slopes: DVector<f64>,
    /// The way it snaps, 1 at the rim.
    pub(super) snap: DVector<f64>,
    /// Whether equilibrium has most curvature there (trip), or least (reset).
    pub(super) is_most: bool,
}

impl Shell<'_> {
    /// The fold that the one of the same disc without curvature and strain of its own becomes.
    #[must_use]
    pub fn fold_from(&self, even: &Fold) -> Option<Fold> {
        PARTS.iter().find_map(|parts| {
            let share = 1.0 / *parts as f64;
            (1..=*parts).try_fold(even.clone(), |from, k| {
                let part = match k == *parts {
                    true => self.clone(),
                    false => self.scaled(k as f64 * share),
                };
                // What its own curvature gives to the snap need not come from the even one.
                let shift = from.shift - share * from.snap.dot(&self.spread(&self.curvature));
                let fold = part.fold_at(from.slopes, shift);
                fold.filter(|fold| fold.is_most == even.is_most)
            })
        })
    }

    /// The fold that one of the same disc at other temperatures becomes, where they differ little.
    #[must_use]
    pub fn fold_near(&self, other: &Fold) -> Option<Fold> {
        let fold = self.fold_at(other.slopes.clone(), other.shift)?;
        (fold.is_most == other.is_most).then_some(fold)
    }

    /// The fold near slopes and a shift.
    pub(super) fn fold_at(&self, mut slopes: DVector<f64>, mut shift: f64) -> Option<Fold> {
        let (grid, n) = (self.grid, self.grid.len());
        let weight = &grid.weight;
        let mut at_rim = DVector::zeros(n);
        at_rim[n - 1] = 1.0;
        for _ in 0..MOST_STEPS {
            // The border is what the rigidity lacks of a null vector; at a fold it is nothing. The
            // shift bends it at the rim alone, so that one factorisation serves both questions.
            let factors = Self::bordered(self.rigidity(&slopes), &at_rim, &at_rim).lu();
            let solved = |right: DVector<f64>| {
                let found = factors.solve(&right)?;
                found.iter().all(|v| v.is_finite()).then_some(found)
            };
            let found = solved(DVector::zeros(n).push(1.0))?;
            let (snap, lacks) = (found.rows(0, n).into_owned(), found[n]);
            let lean = weight.component_mul(&slopes);
            let own = &grid.membrane * snap.component_mul(&lean);
            let square = weight.component_mul(&snap.component_mul(&snap));
            let turn = self.slenderness
                * (lean.component_mul(&(&grid.membrane * &square))
                    + 2.0 * weight.component_mul(&snap).component_mul(&own));
            let balanced = solved(-self.imbalance(&slopes, shift).push(0.0))?;
            let along = (lacks - turn.dot(&balanced.rows(0, n))) / turn.dot(&snap);
            let step = balanced + along * &found;
            slopes += step.rows(0, n);
            shift -= step[n] / (1.0 + self.poisson);
            if step.rows(0, n).amax() <= SETTLED * slopes.amax() {
                return Some(Fold {
                    shift,
                    height: self.height(&slopes),
                    slopes,
                    is_most: square.dot(&own) < 0.0,
                    snap,
                });
            }
        }
        None
    }
}
