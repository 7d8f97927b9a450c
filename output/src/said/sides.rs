//! The words beside the signs: which way is plus, as it is said in a workshop.

use borewright_planner::job::words::{across_word, along_word};
use borewright_planner::job::{Block, Front};

use super::units::Printed;

/// The words of one bank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Sides {
    /// The side of +Y.
    pub(crate) plus_side: &'static str,
    /// The side of -Y.
    pub(crate) minus_side: &'static str,
    plus_way: &'static str,
    minus_way: &'static str,
    plus_clock: &'static str,
    minus_clock: &'static str,
}

impl Sides {
    /// The words of a bank: those of the valley where another bank makes one.
    pub(crate) fn of(block: &Block, bank: usize) -> Self {
        let [plus_way, minus_way] = [true, false].map(|plus| across_word(block, bank, plus));
        let side = |way: &str, other_side: [&'static str; 2], own: [&'static str; 2]| match way {
            "towards the valley" => own,
            "outwards" => ["outer side", "outer"],
            _ => other_side,
        };
        let valley = ["valley side", "valley"];
        let [plus_side, plus_clock] = side(plus_way, ["right side seen from the rear", "right"], valley);
        let [minus_side, minus_clock] = side(minus_way, ["left side seen from the rear", "left"], valley);
        Self { plus_side, minus_side, plus_way, minus_way, plus_clock, minus_clock }
    }

    /// The side of +Y or of -Y in one word: "valley", "outer", "right", "left".
    pub(crate) fn side_word(&self, plus: bool) -> &'static str {
        if plus { self.plus_clock } else { self.minus_clock }
    }

    /// A displacement in words: "0.28 mm towards the valley, 0.03 mm to the rear".
    pub(crate) fn displacement(&self, x: Printed, y: Printed) -> String {
        let part = |length: Printed, plus: &str, minus: &str| {
            let way = if length.is_negative() { minus } else { plus };
            (!length.is_zero()).then(|| format!("{} {way}", length.size().spoken()))
        };
        let across = part(y, self.plus_way, self.minus_way);
        let along = part(x, along_word(true), along_word(false));
        let parts: Vec<String> = across.into_iter().chain(along).collect();
        if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
    }

    /// Which way the machine's X+ and Y+ run on this bank.
    pub(crate) fn machine_signs(&self, front: Front) -> String {
        match front {
            Front::Left => format!("X+ runs {}, Y+ runs {}", along_word(true), self.plus_way),
            Front::Right => format!("X+ runs {}, Y+ runs {}", along_word(false), self.minus_way),
        }
    }

    /// A clock angle in words: the nearest of eight directions.
    pub(crate) fn clock(&self, degrees: f64) -> String {
        let plus = self.plus_clock;
        let minus = self.minus_clock;
        let turned = degrees.rem_euclid(360.0);
        let names = [
            (22.5, "rear".to_owned()),
            (67.5, format!("rear-{plus}")),
            (112.5, plus.to_owned()),
            (157.5, format!("front-{plus}")),
            (202.5, "front".to_owned()),
            (247.5, format!("front-{minus}")),
            (292.5, minus.to_owned()),
            (337.5, format!("rear-{minus}")),
        ];
        names.into_iter().find(|(to, _)| turned < *to).map_or_else(|| "rear".to_owned(), |(_, name)| name)
    }
}

/// Which way round the block stands, for the operator.
pub(crate) fn front_words(front: Front) -> &'static str {
    match front {
        Front::Left => "front at the operator's LEFT",
        Front::Right => "front at the operator's RIGHT",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::said::units::{Digits, Units};
    use borewright_planner::job::SheetUnits;

    #[test]
    fn the_valley_is_at_plus_y_of_a_left_bank_and_minus_y_of_a_right_one() {
        let planning = crate::testing::dunnock();
        let [left, right] = [0, 1].map(|b| Sides::of(&planning.job.block, b));
        let mm = Units::of(SheetUnits::Mm);
        let [x, y] = [-0.03, 0.28].map(|v| mm.length(v, Digits::Middling).unwrap());
        assert_eq!(left.displacement(x, y), "0.28 mm towards the valley, 0.03 mm forwards");
        assert_eq!(right.displacement(x, y), "0.28 mm outwards, 0.03 mm forwards");
        assert_eq!(left.clock(90.0), "valley");
        assert_eq!(right.clock(-45.0), "rear-valley");
        // Both signs turn about, never one.
        assert_eq!(right.machine_signs(Front::Right), "X+ runs forwards, Y+ runs towards the valley");
    }
}
