//! Lives of a known distribution.

use relatch::internals::statistics::kaplan_meier::Life;
use relatch::internals::statistics::stream::Stream;
use relatch::internals::statistics::weibull::Weibull;

/// Lives of shape 1.7 and scale 20, those beyond `end` not yet over.
pub fn made(stream: &Stream, n: u32, end: f64) -> Vec<Life> {
    let truth = Weibull::new(1.7, 20.0).unwrap();
    (0..n)
        .map(|i| truth.quantile(stream.uniform(i)).unwrap())
        .map(|t| {
            if t < end {
                Life::failed(t)
            } else {
                Life::survived(end)
            }
        })
        .collect()
}
