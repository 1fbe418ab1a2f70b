//! Long records made short.

/// At most about `most` items: every k-th, with the ends and both sides of every place where one
/// `turns` into the next.
pub(super) fn thin<T>(list: &mut Vec<T>, most: usize, turns: impl Fn(&T, &T) -> bool) {
    let stride = list.len().div_ceil(most.max(1)).max(1);
    let turned: Vec<bool> = list.windows(2).map(|w| turns(&w[0], &w[1])).collect();
    let last = turned.len();
    let is_turned = |i: usize| turned.get(i).copied().unwrap_or(false);
    let mut at = 0..;
    list.retain(|_| {
        let i = at.next().unwrap_or(last);
        i.is_multiple_of(stride) || i == last || is_turned(i) || (i > 0 && is_turned(i - 1))
    });
}
