//! What most bores were read at and one was not: a custom of the block.

/// Depths of two rows are one within this, mm.
pub(crate) const SAME_DEPTH_MM: f64 = 1.0;

/// A circle this near in depth, where the other bores have none, counts as read instead of the missing one, mm, if
/// the bore has as many circles as the others share: nobody reads on a pit or a core hole. Common practice, no
/// source.
pub(crate) const CIRCLE_IN_STEAD_MM: f64 = 15.0;

/// Bores that make a custom of the block; one does not.
pub(crate) const FEWEST: usize = 2;

/// How many of the bores asked must have been read at a place, that it is customary.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Custom {
    Every,
    /// More than half.
    Most,
    /// Half or more.
    Half,
}

impl Custom {
    /// Whether `read` bores of the `of` that are asked make one.
    pub(crate) fn is_made(self, read: usize, of: usize) -> bool {
        read >= FEWEST
            && match self {
                Self::Every => read == of,
                Self::Most => 2 * read > of,
                Self::Half => 2 * read >= of,
            }
    }
}

/// The depths that one bore was read at, mm, sorted, each once: a closing row is read at a depth again.
pub(crate) struct Depths(Vec<f64>);

impl Depths {
    pub(crate) fn of(read_mm: impl IntoIterator<Item = f64>) -> Self {
        let mut sorted: Vec<f64> = read_mm.into_iter().collect();
        sorted.sort_by(f64::total_cmp);
        sorted.dedup_by(|a, b| (*a - *b).abs() <= SAME_DEPTH_MM);
        Self(sorted)
    }

    pub(crate) fn as_slice(&self) -> &[f64] {
        &self.0
    }

    /// Whether one of them is the depth, mm.
    pub(crate) fn has(&self, at_mm: f64) -> bool {
        near(&self.0, at_mm, SAME_DEPTH_MM)
    }
}

/// Whether one of a bore's own readings, where there is no custom, stands in for one at `at_mm`: near enough, and the
/// bore was looked at in no fewer places (`looked`) than are `common`. Depths in mm.
pub(crate) fn in_stead(
    own_mm: &[f64],
    looked: usize,
    common: usize,
    at_mm: f64,
    within_mm: f64,
    customary: impl Fn(f64) -> bool,
) -> bool {
    looked >= common && own_mm.iter().any(|own| (own - at_mm).abs() <= within_mm && !customary(*own))
}

/// Whether one of some figures, sorted, is within a distance of a value.
pub(crate) fn near(sorted: &[f64], value: f64, within: f64) -> bool {
    let after = sorted.partition_point(|v| *v < value);
    let beside = [after.checked_sub(1).and_then(|i| sorted.get(i)), sorted.get(after)];
    beside.into_iter().flatten().any(|v| (v - value).abs() <= within)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_custom_is_what_enough_of_the_bores_asked_were_read_at() {
        // Read, of so many: every, most, half.
        let table = [
            (0, 0, [false, false, false]),
            (1, 1, [false, false, false]),
            (1, 2, [false, false, false]),
            (2, 2, [true, true, true]),
            (2, 3, [false, true, true]),
            (2, 4, [false, false, true]),
            (2, 5, [false, false, false]),
            (3, 4, [false, true, true]),
            (3, 6, [false, false, true]),
            (7, 7, [true, true, true]),
        ];
        for (read, of, made) in table {
            let all = [Custom::Every, Custom::Most, Custom::Half].map(|custom| custom.is_made(read, of));
            assert_eq!(all, made, "{read} of {of}");
        }
    }

    #[test]
    fn a_row_beside_stands_in_where_nobody_else_reads_and_nothing_else_lacks() {
        let customary = |at: f64| at < 50.0;
        assert!(in_stead(&[20.0, 70.0], 2, 2, 80.0, 15.0, customary));
        // Fewer places than are common; too far; itself a custom.
        assert!(!in_stead(&[20.0, 70.0], 2, 3, 80.0, 15.0, customary));
        assert!(!in_stead(&[20.0, 70.0], 2, 2, 90.0, 15.0, customary));
        assert!(!in_stead(&[20.0, 40.0], 2, 2, 30.0, 15.0, customary));
    }

    #[test]
    fn depths_are_each_told_once() {
        let depths = Depths::of([60.0, 20.0, 60.5, 20.0]);
        assert_eq!(depths.as_slice(), [20.0, 60.0]);
        assert!(depths.has(59.0) && depths.has(61.0) && !depths.has(61.1));
    }
}
