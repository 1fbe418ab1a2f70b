//! Independent predictions side by side; results in order, the same at any number of threads.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, OnceLock};

/// How many predictions may run at a time: the processors of this machine (or what
/// `RELATCH_THREADS` says), or one without the feature `threads`.
pub(crate) fn processors() -> usize {
    static COUNT: OnceLock<usize> = OnceLock::new();
    let found = || {
        let said = std::env::var("RELATCH_THREADS").ok();
        let said = said
            .and_then(|n| n.parse().ok())
            .filter(|n| (1..=256).contains(n));
        said.unwrap_or_else(|| std::thread::available_parallelism().map_or(1, |n| n.get()))
    };
    if cfg!(feature = "threads") {
        *COUNT.get_or_init(found)
    } else {
        1
    }
}

/// `f` of every item, on as many threads as the machine has. `done` is told, on the calling
/// thread's behalf and in no particular order, how many are finished.
pub fn map<T: Sync, R: Send>(
    items: &[T],
    f: impl Fn(&T) -> R + Sync,
    done: &mut (dyn FnMut(usize) + Send),
) -> Vec<R> {
    let threads = processors().min(items.len());
    if threads <= 1 {
        let one = |(i, item)| {
            let result = f(item);
            done(i + 1);
            result
        };
        return items.iter().enumerate().map(one).collect();
    }
    let mut slots: Vec<Mutex<Option<R>>> = Vec::new();
    slots.resize_with(items.len(), || Mutex::new(None));
    share(items.len(), threads, done, &|i| {
        let result = f(&items[i]);
        if let Ok(mut slot) = slots[i].lock() {
            *slot = Some(result);
        }
    });
    slots
        .into_iter()
        .filter_map(|s| s.into_inner().ok().flatten())
        .collect()
}

/// The items by their number, each taken by the thread that is free; one function for whatever they
/// are.
fn share(
    items: usize,
    threads: usize,
    done: &mut (dyn FnMut(usize) + Send),
    work: &(dyn Fn(usize) + Sync),
) {
    let next = AtomicUsize::new(0);
    let finished = Mutex::new((0, done));
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let i = next.fetch_add(1, Ordering::Relaxed);
                    if i >= items {
                        break;
                    }
                    work(i);
                    if let Ok(mut guard) = finished.lock() {
                        guard.0 += 1;
                        let count = guard.0;
                        (guard.1)(count);
                    }
                }
            });
        }
    });
}

/// Two things at once: the first on this thread, the second on another.
pub fn both<A, B: Send>(a: impl FnOnce() -> A, b: impl FnOnce() -> B + Send) -> (A, B) {
    if processors() == 1 {
        return (a(), b());
    }
    std::thread::scope(|scope| {
        let other = scope.spawn(b);
        let first = a();
        match other.join() {
            Ok(second) => (first, second),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn results_stand_in_the_order_of_the_items() {
        let items: Vec<u64> = (0..200).collect();
        let mut seen = 0;
        let squares = super::map(&items, |i| i * i, &mut |n| seen = seen.max(n));
        assert_eq!(squares, items.iter().map(|i| i * i).collect::<Vec<_>>());
        assert_eq!(seen, 200);
    }

    #[test]
    fn both_come_back() {
        assert_eq!(super::both(|| 1, || "two"), (1, "two"));
    }

    #[test]
    fn nothing_in_nothing_out() {
        assert!(super::map(&[] as &[u8], |b| *b, &mut |_| {}).is_empty());
    }
}
