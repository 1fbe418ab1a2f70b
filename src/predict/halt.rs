//! A prediction that nobody waits for any more ends early.

use std::fmt;
use std::sync::Arc;

/// Asked between steps whether to give up; the default never does.
#[derive(Clone, Default)]
pub struct Halt(Option<Arc<dyn Fn() -> bool + Send + Sync>>);

impl Halt {
    /// Give up as soon as `is_due` says so, with
    /// [`PredictError::Halted`](super::PredictError::Halted).
    pub fn when(is_due: impl Fn() -> bool + Send + Sync + 'static) -> Halt {
        Halt(Some(Arc::new(is_due)))
    }

    /// Whether to give up now.
    pub fn is_due(&self) -> bool {
        self.0.as_ref().is_some_and(|is_due| is_due())
    }
}

impl fmt::Debug for Halt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.0.is_some() { "Halt" } else { "Never" })
    }
}
