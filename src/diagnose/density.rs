//! Densities of one number: to draw from, and to weigh with.

use crate::statistics::normal;

/// A density on a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Density {
    /// Normal, cut to an interval.
    Normal {
        /// Mean of the uncut one.
        mean: f64,
        /// Standard deviation of the uncut one.
        deviation: f64,
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
        /// Logarithm of the density at the mean.
        log_top: f64,
    },
    /// Uniform on an interval.
    Uniform {
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
    },
    /// Weighted sum.
    Sum(Vec<(f64, Density)>),
}

impl Density {
    /// Uncut normal.
    pub fn normal(mean: f64, deviation: f64) -> Density {
        Density::cut(mean, deviation, f64::NEG_INFINITY, f64::INFINITY)
    }

    /// Normal cut to an interval.
    pub fn cut(mean: f64, deviation: f64, low: f64, high: f64) -> Density {
        Density::Normal {
            mean,
            deviation,
            low,
            high,
            log_top: -deviation.ln() - HALF_LOG_TWO_PI - mass(mean, deviation, low, high).ln(),
        }
    }

    /// The right half of a normal about zero.
    pub fn half(deviation: f64) -> Density {
        Density::cut(0.0, deviation, 0.0, f64::INFINITY)
    }

    /// Uniform.
    pub fn uniform(low: f64, high: f64) -> Density {
        Density::Uniform { low, high }
    }

    /// Two densities, the first with a weight.
    pub fn mixed(weight: f64, one: Density, other: Density) -> Density {
        Density::Sum(vec![(weight, one), (1.0 - weight, other)])
    }

    /// Logarithm of the density; minus infinity outside.
    pub fn log(&self, x: f64) -> f64 {
        match self {
            Density::Normal {
                mean,
                deviation,
                low,
                high,
                log_top,
            } => {
                if !(x >= *low && x <= *high) {
                    return f64::NEG_INFINITY;
                }
                let z = (x - mean) / deviation;
                log_top - 0.5 * z * z
            }
            Density::Uniform { low, high } => {
                if x >= *low && x <= *high {
                    -(high - low).ln()
                } else {
                    f64::NEG_INFINITY
                }
            }
            Density::Sum(parts) => parts
                .iter()
                .map(|(w, d)| w * d.log(x).exp())
                .sum::<f64>()
                .ln(),
        }
    }

    /// The least and the largest number that it allows.
    pub fn ends(&self) -> (f64, f64) {
        match self {
            Density::Normal { low, high, .. } | Density::Uniform { low, high } => (*low, *high),
            Density::Sum(parts) => parts
                .iter()
                .map(|(_, d)| d.ends())
                .fold((f64::INFINITY, f64::NEG_INFINITY), |a, b| {
                    (a.0.min(b.0), a.1.max(b.1))
                }),
        }
    }

    /// Probability of smaller numbers.
    pub fn below(&self, x: f64) -> f64 {
        match self {
            Density::Normal {
                mean,
                deviation,
                low,
                high,
                ..
            } => {
                let x = x.clamp(*low, *high);
                mass(*mean, *deviation, *low, x) / mass(*mean, *deviation, *low, *high)
            }
            Density::Uniform { low, high } => ((x - low) / (high - low)).clamp(0.0, 1.0),
            Density::Sum(parts) => parts.iter().map(|(w, d)| w * d.below(x)).sum(),
        }
    }

    /// The number below which a probability lies.
    pub fn quantile(&self, probability: f64) -> f64 {
        let Density::Sum(parts) = self else {
            return self.at(0.5, probability);
        };
        let ends = |p: f64| parts.iter().map(move |(_, d)| d.quantile(p));
        let (mut low, mut high) = (
            ends(probability).fold(f64::INFINITY, f64::min),
            ends(probability).fold(f64::NEG_INFINITY, f64::max),
        );
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if self.below(middle) < probability {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    /// The number at a probability; `choice` picks the part of a sum. Both within (0, 1).
    pub fn at(&self, choice: f64, probability: f64) -> f64 {
        match self {
            Density::Normal {
                mean,
                deviation,
                low,
                high,
                ..
            } => {
                // The far tail is taken from its own side, where it has digits.
                let (a, b) = ((low - mean) / deviation, (high - mean) / deviation);
                let z = if a > 0.0 {
                    let (from, to) = (normal::upper_tail(b), normal::upper_tail(a));
                    -normal::quantile(to - probability * (to - from))
                } else {
                    let (from, to) = (normal::cdf(a), normal::cdf(b));
                    normal::quantile(from + probability * (to - from))
                };
                (mean + deviation * z).clamp(*low, *high)
            }
            Density::Uniform { low, high } => low + probability * (high - low),
            Density::Sum(parts) => {
                let mut left = choice;
                for (w, d) in parts {
                    if left < *w {
                        return d.at(left / w, probability);
                    }
                    left -= w;
                }
                parts
                    .last()
                    .map_or(f64::NAN, |(_, d)| d.at(choice, probability))
            }
        }
    }
}

const HALF_LOG_TWO_PI: f64 = 0.918_938_533_204_672_7;

/// Probability of an interval under an uncut normal.
fn mass(mean: f64, deviation: f64, low: f64, high: f64) -> f64 {
    let (a, b) = ((low - mean) / deviation, (high - mean) / deviation);
    if a == f64::NEG_INFINITY && b == f64::INFINITY {
        return 1.0;
    }
    if a > 0.0 {
        normal::upper_tail(a) - normal::upper_tail(b)
    } else {
        normal::cdf(b) - normal::cdf(a)
    }
}

#[cfg(test)]
mod tests {
    use super::Density;

    #[test]
    fn densities_integrate_to_one_and_draw_what_they_weigh() {
        let all = [
            Density::normal(0.3, 0.2),
            Density::cut(0.35, 0.3, 0.03, 1.8),
            Density::cut(0.0, 0.02, 0.1, 0.2),
            Density::half(0.05),
            Density::mixed(
                0.65,
                Density::normal(0.0, 0.03),
                Density::uniform(-0.6, 0.0),
            ),
        ];
        for d in &all {
            // Every end of an interval above lies on an edge of this grid.
            let (n, low, high) = (240_000, -3.0, 3.0);
            let h = (high - low) / n as f64;
            let sum: f64 = (0..n)
                .map(|k| d.log(low + (k as f64 + 0.5) * h).exp() * h)
                .sum();
            assert!((sum - 1.0).abs() < 1e-3, "{d:?} {sum}");
            for p in [0.01, 0.3, 0.5, 0.9, 0.999] {
                assert!((d.below(d.quantile(p)) - p).abs() < 1e-9, "{d:?}");
            }
            // Mean by drawing against mean by weighing.
            let weighed: f64 = (0..n)
                .map(|k| {
                    let x = low + (k as f64 + 0.5) * h;
                    x * d.log(x).exp() * h
                })
                .sum();
            let m = 300;
            let drawn: f64 = (0..m * m)
                .map(|k| {
                    let (i, j) = (k % m, k / m);
                    d.at((i as f64 + 0.5) / m as f64, (j as f64 + 0.5) / m as f64)
                })
                .sum::<f64>()
                / (m * m) as f64;
            assert!((weighed - drawn).abs() < 2e-3, "{d:?} {weighed} {drawn}");
        }
    }
}
