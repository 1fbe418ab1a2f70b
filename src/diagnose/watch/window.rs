//! The RMS current over the last minutes, in constant memory.

/// Length of a bucket, s.
const BUCKET_S: f64 = 5.0;
/// Buckets: five minutes.
const BUCKETS: usize = 60;

/// Heat and time of the last five minutes, gaps left out.
#[derive(Debug, Clone)]
pub(super) struct Window {
    buckets: [(i64, f64, f64); BUCKETS],
    now: i64,
}

impl Window {
    pub fn new() -> Window {
        Window {
            buckets: [(i64::MIN, 0.0, 0.0); BUCKETS],
            now: i64::MIN,
        }
    }

    /// Adds a current from one time to another, s.
    pub fn add(&mut self, from_s: f64, to_s: f64, current_a: f64) {
        // What is older than the window would be overwritten.
        let mut t = from_s.max(to_s - BUCKET_S * BUCKETS as f64);
        while t < to_s {
            let number = (t / BUCKET_S).floor();
            let end = (BUCKET_S * (number + 1.0)).min(to_s);
            if !(end > t) {
                break;
            }
            self.now = number as i64;
            let slot = &mut self.buckets[(number as i64).rem_euclid(BUCKETS as i64) as usize];
            if slot.0 != self.now {
                *slot = (self.now, 0.0, 0.0);
            }
            slot.1 += end - t;
            slot.2 += current_a * current_a * (end - t);
            t = end;
        }
    }

    /// RMS current, A, and the time it is over, s.
    pub fn rms_a(&self) -> (f64, f64) {
        let oldest = self.now.saturating_sub(BUCKETS as i64);
        let (time_s, heat) = self
            .buckets
            .iter()
            .filter(|b| b.0 > oldest)
            .fold((0.0, 0.0), |sum, b| (sum.0 + b.1, sum.1 + b.2));
        if time_s > 0.0 {
            ((heat / time_s).sqrt(), time_s)
        } else {
            (0.0, 0.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Window;

    #[test]
    fn only_the_last_five_minutes_count() {
        let mut window = Window::new();
        window.add(-7.0, 1000.0, 30.0);
        for k in 0..300 {
            let t = 1000.0 + f64::from(k);
            window.add(t, t + 1.0, if k % 2 == 0 { 3.0 } else { 4.0 });
        }
        let (rms_a, time_s) = window.rms_a();
        assert!((rms_a - 12.5f64.sqrt()).abs() < 1e-12, "{rms_a}");
        assert!((time_s - 300.0).abs() < 1e-9, "{time_s}");
    }
}
