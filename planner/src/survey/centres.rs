//! Centres of circles that several rounds of measuring have in common.

use std::collections::BTreeMap;

use super::bore::FoundCircle;
use crate::job::Surface;

/// A circle that several rounds can have in common.
pub(super) type Key = (u32, u64, Surface);

/// The key of a circle. Depths are not negative, so their bits sort as they do.
pub(super) fn key(circle: &FoundCircle) -> Key {
    (circle.cylinder, circle.depth_mm.abs().to_bits(), circle.surface)
}

/// Mean centres of some circles by key, mm.
pub(super) fn centres<'c>(circles: impl Iterator<Item = &'c FoundCircle>) -> BTreeMap<Key, [f64; 2]> {
    let mut sums: BTreeMap<Key, ([f64; 2], f64)> = BTreeMap::new();
    for circle in circles {
        let (sum, n) = sums.entry(key(circle)).or_default();
        sum[0] += circle.centre_mm[0];
        sum[1] += circle.centre_mm[1];
        *n += 1.0;
    }
    sums.into_iter().map(|(key, (sum, n))| (key, sum.map(|s| s / n))).collect()
}
