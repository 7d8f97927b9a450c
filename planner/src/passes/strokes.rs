//! The strokes and the spindle speed of a hone, and what they are worked from.

use std::f64::consts::PI;

use super::cutting::whole_within;
use super::kinematics::{crosshatch_deg, turns_per_min};
use crate::job::Hone;
use crate::plan::worked::{Figure, Origin, Symbol, Unit};

/// Surface speed of stones, m/min. Common practice, no source.
const SPEED_M_PER_MIN: f64 = 55.0;
/// Included crosshatch angle aimed at, degrees. Common practice, no source.
const INCLUDED_DEG: f64 = 45.0;
/// Overtravel of a stone at either end, of its length. Common practice, no source.
const OVERTRAVEL: f64 = 0.3;
/// Length of a stone, of the sleeve's. Common practice, no source.
const STONE: f64 = 0.5;
/// What is left between a stone at its lowest and whatever stands below, mm: a stroke is set by hand and runs over when it is
/// reversed. Common practice, no source.
const CLEAR_MM: f64 = 2.0;

/// What the spindle and the stroke do.
#[derive(Debug, Clone)]
pub(super) struct Strokes {
    pub(super) rpm: f64,
    pub(super) per_min: f64,
    pub(super) stroke_mm: f64,
    pub(super) over_mm: f64,
    /// Length of a stone, mm.
    pub(super) stone_mm: f64,
    pub(super) included_deg: f64,
    /// What speed and strokes are worked from.
    pub(super) worked: Vec<Figure>,
}

const PRACTICE: Origin = Origin::Known("common practice, no source; the stones' maker comes first");
const BORE: Symbol = Symbol::mm("B", "the finished bore", Origin::Stated("finish.bore"));
const STROKE: Symbol = Symbol::mm("s", "stroke", Origin::Known("ask for its stroke"));
const HALF: [Symbol; 2] = [
    Symbol::new("a", "half the angle aimed at, in radians", Unit::Share, Origin::Formula("A / 2 * pi / 180")),
    Symbol::new("A", "included crosshatch angle aimed at", Unit::Angle, PRACTICE),
];

const fn turns(name: &'static str, says: &'static str, origin: Origin) -> Symbol {
    Symbol::new(name, says, Unit::Turns, origin)
}

const BY_SPEED: [Symbol; 3] = [
    turns("n", "turns of the spindle", Origin::Figure("round(1000 * v / (pi * B))")),
    Symbol::new("v", "surface speed of the stones", Unit::Speed, PRACTICE),
    BORE,
];
const BY_ANGLE: [Symbol; 4] = [
    turns(
        "n",
        "turns of the spindle, which give way to the angle",
        Origin::Figure("round(2 * s * h * cos(a) / (sin(a) * pi * B))"),
    ),
    turns("h", "double strokes a minute", Origin::Known("ask for its strokes")),
    STROKE,
    BORE,
];
const TURNS_END: [Symbol; 2] = [
    turns("n", "turns of the spindle, at an end of what it does", Origin::Figure("n_e")),
    turns("n_e", "slowest or fastest of the hone, whole", Origin::Machine("hone.rpm")),
];
const STROKES: [Symbol; 4] = [
    turns("h", "double strokes a minute", Origin::Figure("round(sin(a) / cos(a) * pi * B * n_v / (2 * s))")),
    turns("n_v", "turns at the stones' own speed, as the hone has them", PRACTICE),
    STROKE,
    BORE,
];
const STROKES_END: [Symbol; 2] = [
    turns("h", "double strokes a minute, at an end of what the hone does", Origin::Figure("h_e")),
    turns("h_e", "fewest or most of the hone, whole", Origin::Machine("hone.strokes")),
];
const STONE_LENGTH: Origin = Origin::Known("half the sleeve, whole millimetres: common practice, no source");
const LENGTH: [Symbol; 4] = [
    Symbol::mm("s", "stroke", Origin::Figure("l + 2 * o - b")),
    Symbol::mm("l", "length of the sleeve", Origin::Sleeve("length")),
    Symbol::mm("o", "over either end", Origin::Known("ask for its over")),
    Symbol::mm("b", "length of a stone", STONE_LENGTH),
];
const OVER: [Symbol; 3] = [
    Symbol::mm("o", "how far a stone leaves the bore at either end", Origin::Figure("q * b")),
    Symbol::new("q", "share of its length", Unit::Share, PRACTICE),
    Symbol::mm("b", "length of a stone", STONE_LENGTH),
];
const OVER_ROOM: [Symbol; 3] = [
    Symbol::mm("o", "how far a stone leaves the bore: as far as there is room", Origin::Figure("r - c")),
    Symbol::mm("r", "room below the sleeve", Origin::Block("parent.room_below")),
    Symbol::mm("c", "left clear below the stone", PRACTICE),
];
const OVER_NONE: [Symbol; 3] = [
    Symbol::mm(
        "o",
        "how far a stone leaves the bore: there is no room",
        Origin::Figure("(r - c + abs(r - c)) / 2"),
    ),
    OVER_ROOM[1],
    OVER_ROOM[2],
];
const CROSSHATCH: [Symbol; 5] = [
    Symbol::new(
        "w",
        "included angle of the crosshatch",
        Unit::Angle,
        Origin::Figure("2 * atan(2 * s * h / (pi * B * n)) * 180 / pi"),
    ),
    turns("h", "double strokes a minute", Origin::Known("ask for its strokes")),
    turns("n", "turns of the spindle", Origin::Known("ask for its speed")),
    STROKE,
    BORE,
];

/// The strokes over a bore `bore_mm` wide in a sleeve of a length, with the room below it, mm.
///
/// The stone leaves the bore at both ends, below as far as there is room less [`CLEAR_MM`]. Where the strokes are at an end of their
/// range the spindle's speed is changed instead, since the angle comes first.
pub(super) fn strokes(hone: &Hone, bore_mm: f64, [length_mm, room_mm]: [f64; 2]) -> Strokes {
    let stone = (STONE * length_mm).floor();
    let room = room_mm.max(0.0);
    let wanted_over = OVERTRAVEL * stone;
    let over_mm = wanted_over.min(room - CLEAR_MM).max(0.0);
    let stroke_mm = length_mm + 2.0 * over_mm - stone;
    let own = turns_per_min(SPEED_M_PER_MIN, bore_mm);
    let usual = whole_within(own, hone.rpm);
    let half = (INCLUDED_DEG / 2.0).to_radians();
    let wanted = half.tan() * PI * bore_mm * usual / (2.0 * stroke_mm);
    let per_min = whole_within(wanted, hone.strokes);
    let is_angle = (wanted - per_min).abs() >= 1.0;
    let forced = 2.0 * stroke_mm * per_min / (half.tan() * PI * bore_mm);
    let rpm = if is_angle { whole_within(forced, hone.rpm) } else { usual };
    let included_deg = crosshatch_deg(bore_mm, rpm, stroke_mm, per_min);
    // Whether a figure was only rounded; if not, the hone is at an end of its range.
    let rounded = |value: f64, of: f64| (value - of.round()).abs() < 0.5;
    let speed = match (is_angle, rounded(rpm, if is_angle { forced } else { own })) {
        (_, false) => Figure::of("speed", rpm, &[&TURNS_END], vec![rpm]),
        (true, true) => {
            let kept = vec![per_min, stroke_mm, bore_mm, half, INCLUDED_DEG];
            Figure::of("speed", rpm, &[&BY_ANGLE, &HALF], kept)
        }
        (false, true) => Figure::of("speed", rpm, &[&BY_SPEED], vec![SPEED_M_PER_MIN, bore_mm]),
    };
    let double = if rounded(per_min, wanted) {
        Figure::of(
            "strokes",
            per_min,
            &[&STROKES, &HALF],
            vec![usual, stroke_mm, bore_mm, half, INCLUDED_DEG],
        )
    } else {
        Figure::of("strokes", per_min, &[&STROKES_END], vec![per_min])
    };
    let over = if over_mm <= 0.0 {
        Figure::of("over", over_mm, &[&OVER_NONE], vec![room, CLEAR_MM])
    } else if over_mm < wanted_over {
        Figure::of("over", over_mm, &[&OVER_ROOM], vec![room, CLEAR_MM])
    } else {
        Figure::of("over", over_mm, &[&OVER], vec![OVERTRAVEL, stone])
    };
    let worked = vec![
        speed,
        double,
        Figure::of("stroke", stroke_mm, &[&LENGTH], vec![length_mm, over_mm, stone]),
        over,
        Figure::of("crosshatch", included_deg, &[&CROSSHATCH], vec![per_min, rpm, stroke_mm, bore_mm]),
    ];
    Strokes { rpm, per_min, stroke_mm, over_mm, stone_mm: stone, included_deg, worked }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strokes_of(length_mm: f64, room_mm: f64) -> Strokes {
        strokes(&Hone { rpm: [60.0, 250.0], strokes: [20.0, 80.0] }, 82.0, [length_mm, room_mm])
    }

    #[test]
    fn a_stone_stays_clear_of_what_stands_below() {
        // 139 long with 13 below: stone 69, over 13 - 2 = 11, stroke 139 + 22 - 69 = 92.
        let own = strokes_of(139.0, 13.0);
        assert_eq!([own.stone_mm, own.over_mm, own.stroke_mm], [69.0, 11.0, 92.0]);
        // Room for all of it: 0.3 of 69.
        assert!((strokes_of(139.0, 40.0).over_mm - 20.7).abs() < 1e-9);
        for length in [80.0, 119.5, 138.5, 150.3] {
            for room in [0.0, 1.0, 2.5, 7.9, 30.0] {
                let own = strokes_of(length, room);
                // From level with the deck less what it stands over, down by stroke and stone.
                let lowest = own.stroke_mm + own.stone_mm - own.over_mm;
                let allowed = length + (room - CLEAR_MM).max(0.0);
                assert!(lowest <= allowed + 1e-9, "{length} {room}: {lowest}");
            }
        }
    }
}
