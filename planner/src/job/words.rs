//! Directions and figures as a machinist says them.

use crate::job::{Block, Job};
use crate::plan::sentence::{Sentence, mm};
use crate::say;

/// The word for +Y or -Y of a bank.
#[must_use]
pub fn across_word(block: &Block, bank: usize, positive: bool) -> &'static str {
    let angle = block.banks[bank].angle_deg;
    let other = block.banks.iter().enumerate().find(|(i, _)| *i != bank).map(|(_, b)| b.angle_deg);
    match (other, positive) {
        // +Y is the engine's right in every bank; the other bank lies on its valley side.
        (Some(other), positive) if (other > angle) == positive => "towards the valley",
        (Some(_), _) => "outwards",
        (None, true) => "to the right seen from the rear",
        (None, false) => "to the left seen from the rear",
    }
}

/// The word for +X or -X.
#[must_use]
pub fn along_word(positive: bool) -> &'static str {
    if positive { "rearwards" } else { "forwards" }
}

/// "0.280 mm towards the valley, 0.031 mm rearwards"; what rounds to nothing at 0.001 mm is left out.
#[must_use]
pub fn offset(job: &Job, bank: usize, [dx, dy]: [f64; 2]) -> Sentence {
    const NOTHING_MM: f64 = 0.000_5;
    let mut parts = Vec::new();
    if dy.abs() >= NOTHING_MM {
        parts.push(say!("{} {}", mm(dy.abs(), 3), across_word(&job.block, bank, dy > 0.0)));
    }
    if dx.abs() >= NOTHING_MM {
        parts.push(say!("{} {}", mm(dx.abs(), 3), along_word(dx > 0.0)));
    }
    if parts.is_empty() { "nothing".into() } else { Sentence::join(parts, ", ") }
}

/// From the probability that a limit is kept, how often it is not, in words: "1 in 40"; under a half, the
/// probability itself.
#[must_use]
pub fn odds(p: f64) -> String {
    const RARE: f64 = 1e-6;
    let lost = 1.0 - p;
    if lost < RARE {
        return "sure".into();
    }
    if p < 0.5 {
        return format!("p {:.2}", p);
    }
    let one_in = 1.0 / lost;
    // Two digits are what a probability from first-order figures carries.
    let step = 10_f64.powf(one_in.log10().floor() - 1.0).max(1.0);
    format!("1 in {:.0}", (one_in / step).round() * step)
}

/// A limit's name as spoken.
#[must_use]
pub fn limit(name: &str) -> String {
    name.replace('_', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_probability_is_told_as_one_in_so_many() {
        assert_eq!(odds(0.975), "1 in 40");
        assert_eq!(odds(0.989_3), "1 in 93");
        assert_eq!(odds(0.999_921), "1 in 13000");
        assert_eq!(odds(1.0), "sure");
        assert_eq!(odds(0.31), "p 0.31");
    }
}
