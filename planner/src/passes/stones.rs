//! The stones of a hone, one behind the other, and what each leaves for the next.

use crate::plan::Stones;

/// One stage: stones, what is left on diameter after it, and its share of the time.
pub(super) struct Honing {
    pub(super) stones: Stones,
    /// Vitrified grit.
    pub(super) grit: &'static str,
    pub(super) left_mm: f64,
    pub(super) minutes: f64,
}

/// The stages. Grits and stock left: common practice, no source; the stone maker's data come first.
///
/// Scratches are some 0.007 deep after the rough stones and 0.004 after the middle ones (common practice, no source): what is left
/// after either, 0.015 and 0.006 a side, takes them out.
pub(super) const STAGES: [Honing; 4] = [
    Honing { stones: Stones::Rough, grit: "150 to 180", left_mm: 0.030, minutes: 0.4 },
    Honing { stones: Stones::Middle, grit: "220 to 280", left_mm: 0.012, minutes: 0.25 },
    Honing { stones: Stones::Last, grit: "320 to 400", left_mm: 0.0, minutes: 0.25 },
    Honing { stones: Stones::Plateau, grit: "500 to 600, or a brush", left_mm: 0.0, minutes: 0.1 },
];

/// How much of what the next stones are to take a size may be off, either way: a third less still takes out the scratches that are
/// there, a third more is still theirs to take. Common practice, no source.
pub(crate) const SHARE: f64 = 1.0 / 3.0;

/// The stages that still have stock to take out of `stock_mm` on diameter, each with what is left before it, mm.
pub(super) fn of_stock(stock_mm: f64) -> Vec<(&'static Honing, f64)> {
    let mut before = stock_mm;
    let mut taken = Vec::new();
    for honing in &STAGES {
        // A stage that would take nothing is left out; the plateau takes next to nothing by its nature.
        if honing.stones == Stones::Plateau || honing.left_mm < before {
            taken.push((honing, before));
            before = honing.left_mm;
        }
    }
    taken
}

/// What the stones behind a stage are to take, mm on diameter, of a hone with this stock; nothing behind the last.
pub(crate) fn next_takes_mm(stock_mm: f64, stones: Stones) -> f64 {
    let next = of_stock(stock_mm).into_iter().skip_while(|(honing, _)| honing.stones != stones).nth(1);
    next.map_or(0.0, |(honing, before)| before - honing.left_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_is_shared_out_over_the_stones_behind() {
        let near =
            |found: f64, expected: f64| assert!((found - expected).abs() < 1e-12, "{found} {expected}");
        near(next_takes_mm(0.06, Stones::Rough), 0.018);
        near(next_takes_mm(0.06, Stones::Middle), 0.012);
        near(next_takes_mm(0.06, Stones::Last), 0.0);
        // Less stock than the rough stones would leave: they are left out, and the middle ones begin.
        let names: Vec<&str> = of_stock(0.02).into_iter().map(|(s, _)| s.stones.feature()).collect();
        assert_eq!(names, ["hone middle", "hone", "hone plateau"]);
        near(of_stock(0.02)[0].1, 0.02);
    }
}
