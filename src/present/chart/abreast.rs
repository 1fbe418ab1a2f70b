//! Drawings side by side on all threads; results in order, the same at any number of threads.

use super::PlotError;

/// `f` of 0, 1, ... `count` - 1.
pub(crate) fn abreast<R: Send>(
    count: usize,
    f: &(dyn Fn(usize) -> Result<R, PlotError> + Sync),
) -> Result<Vec<R>, PlotError> {
    let threads = std::thread::available_parallelism()
        .map_or(1, |n| n.get())
        .min(count.max(1));
    let parts = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..threads)
            .map(|w| {
                let own = (w..count).step_by(threads);
                scope.spawn(move || {
                    own.map(|n| Ok((n, f(n)?)))
                        .collect::<Result<Vec<_>, PlotError>>()
                })
            })
            .collect();
        let join = |w: std::thread::ScopedJoinHandle<'_, Result<Vec<(usize, R)>, PlotError>>| {
            w.join()
                .unwrap_or_else(|_| Err(PlotError::new("the drawing was broken off")))
        };
        workers
            .into_iter()
            .map(join)
            .collect::<Result<Vec<_>, PlotError>>()
    })?;
    let mut all: Vec<(usize, R)> = parts.into_iter().flatten().collect();
    all.sort_by_key(|(n, _)| *n);
    Ok(all.into_iter().map(|(_, r)| r).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_stand_in_order_and_an_error_is_told() {
        let squares = abreast(37, &|n| Ok(n * n)).unwrap();
        assert_eq!(squares, (0..37).map(|n| n * n).collect::<Vec<_>>());
        assert!(abreast(0, &|n| Ok(n)).unwrap().is_empty());
        let fails = |n: usize| {
            if n == 5 {
                Err(PlotError::new("no"))
            } else {
                Ok(n)
            }
        };
        assert!(abreast(9, &fails).is_err());
    }
}
