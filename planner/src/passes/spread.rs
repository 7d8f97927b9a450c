//! The least number of passes within the tool's limits, evenly shared.

/// More passes than this for one feature are no schedule: the tool's limit or the stock is mistyped.
pub(super) const MOST_PASSES: u32 = 99;

/// Radii after each pass from `start_mm` to `end_mm`.
///
/// Until the old liner is gone (radius `boundary_mm`) a pass takes at most `before_mm`, after it at most
/// `after_mm`. The number is the least that satisfies this; the shares are even over all passes where the
/// tighter limit allows it, else even within each part. `None` where more than [`MOST_PASSES`] would be
/// needed.
pub(super) fn radii(
    start_mm: f64,
    boundary_mm: f64,
    end_mm: f64,
    before_mm: f64,
    after_mm: f64,
) -> Option<Vec<f64>> {
    let span = end_mm - start_mm;
    if span <= 0.0 {
        return Some(Vec::new());
    }
    let hard = (boundary_mm.min(end_mm) - start_mm).max(0.0);
    let first = passes(hard, before_mm)?;
    // The last pass of the first part may run on into the second, up to its own limit.
    let second = passes((span - f64::from(first) * before_mm).max(0.0), after_mm)?;
    let all = first + second;
    if all > MOST_PASSES {
        return None;
    }
    let even = span / f64::from(all);
    let [share_first, share_second] = if second == 0 {
        [even, 0.0]
    } else if first == 0 {
        [0.0, even]
    } else {
        let least = (hard / f64::from(first)).max((span - f64::from(second) * after_mm) / f64::from(first));
        let share = even.clamp(least.min(before_mm), before_mm);
        [share, (span - f64::from(first) * share) / f64::from(second)]
    };
    let mut radii = Vec::new();
    for i in 1..=all {
        let (a, b) = (i.min(first), i.saturating_sub(first));
        radii.push(start_mm + f64::from(a) * share_first + f64::from(b) * share_second);
    }
    if let Some(last) = radii.last_mut() {
        *last = end_mm;
    }
    Some(radii)
}

/// How many passes of at most `limit_mm` a stock takes.
fn passes(stock_mm: f64, limit_mm: f64) -> Option<u32> {
    // A share over the limit by rounding is still within it: a nanometre.
    (0..=MOST_PASSES).find(|n| f64::from(*n) * limit_mm >= stock_mm - 1e-6)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn no_pass_exceeds_its_limit_and_none_could_be_saved(
            hard in 0.0..4.0_f64, soft in 0.0..4.0_f64, before in 0.2..1.2_f64, after in 0.2..2.0_f64,
        ) {
            let (start, boundary, end) = (40.0, 40.0 + hard, 40.0 + hard + soft);
            let radii = radii(start, boundary, end, before, after).unwrap();
            let mut last = start;
            for radius in &radii {
                let limit = if last < boundary - 1e-6 { before } else { after };
                prop_assert!(radius - last <= limit + 1e-5, "{radii:?}");
                prop_assert!(radius - last > 0.0);
                last = *radius;
            }
            prop_assert!((last - end).abs() < 1e-9 || radii.is_empty());
            // Greedy takes the most at every pass; no schedule is shorter.
            let (mut at, mut count) = (start, 0);
            while at < end - 1e-6 {
                at += if at < boundary - 1e-6 { before } else { after };
                count += 1;
            }
            prop_assert_eq!(radii.len(), count);
        }
    }

    #[test]
    fn a_stock_of_a_thousand_passes_is_no_schedule() {
        assert_eq!(radii(40.0, 40.0, 45.0, 0.005, 0.005), None);
        assert_eq!(radii(40.0, 40.0, 40.0, 0.5, 0.5), Some(vec![]));
    }
}
