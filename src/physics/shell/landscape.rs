//! How a disc turns over: the shapes that an even moment at its rim would hold, their energy, and
//! where it needs none.

use super::equilibrium::Stand;
use super::{Course, Shell};
use nalgebra::DVector;

/// A shape on the way over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Height of the centre over the rim, as a part of R.
    pub height: f64,
    /// Even curvature, times R, that it lacks to stand there by itself; negative: has too much.
    pub lacks: f64,
    /// Energy above the flat disc, over 2π D: elastic, and that of the force at the centre.
    pub energy: f64,
}

impl Shell<'_> {
    /// Shapes with the centre at these heights of the path of the same disc without curvature of
    /// its own, from high above the rim to below it.
    #[must_use]
    pub fn landscape(&self, even: &Course, wanted: impl Fn(f64) -> bool) -> Vec<Held> {
        let own = self.even_part();
        let held = |from: &Stand| {
            let height = self.height(&from.slopes);
            let start = Stand {
                slopes: from.slopes.clone(),
                shift: from.shift - own,
            };
            let stand = wanted(height).then(|| self.stand(start, height))??;
            Some(Held {
                height,
                lacks: stand.shift,
                energy: self.energy(&stand.slopes),
            })
        };
        even.path.iter().filter_map(held).collect()
    }

    /// The imbalance along the straight way from the flat disc; it is a cubic, which Simpson's rule
    /// integrates exactly.
    fn energy(&self, slopes: &DVector<f64>) -> f64 {
        let pull = |share: f64| self.imbalance(&(share * slopes), 0.0).dot(slopes);
        (pull(0.0) + 4.0 * pull(0.5) + pull(1.0)) / 6.0
    }
}
