//! Workings of a pass's figures.

mod extent;

pub(super) use extent::{
    Ledge, bore_size, finish_depth, flange_size, ledge_depth, own_size, step_depth, step_size, through,
};

use super::cutting::Cutting;
use super::old_surface::OldSurface;
use crate::plan::Binds;
use crate::plan::worked::{Figure, Origin, Symbol, Unit};

const AT_SPEED: [Symbol; 3] = [
    Symbol::new("n", "turns of the spindle", Unit::Turns, Origin::Figure("round(1000 * v / (pi * D))")),
    Symbol::new("v", "cutting speed of the tool in this metal", Unit::Speed, Origin::Tool("cuts")),
    Symbol::mm(
        "D",
        "diameter that the edge turns at",
        Origin::Known("the size of this pass, or of its cutter"),
    ),
];
const FASTEST: [Symbol; 2] = [
    Symbol::new("n", "turns of the spindle, at its fastest", Unit::Turns, Origin::Figure("floor(n_max)")),
    Symbol::new("n_max", "the fastest it turns", Unit::Turns, Origin::Machine("spindle.rpm")),
];
const SLOWEST: [Symbol; 2] = [
    Symbol::new("n", "turns of the spindle, at its slowest", Unit::Turns, Origin::Figure("ceil(n_min)")),
    Symbol::new("n_min", "the slowest it turns", Unit::Turns, Origin::Machine("spindle.rpm")),
];
const BY_POWER: [Symbol; 4] = [
    Symbol::new(
        "n",
        "turns of the spindle, as its power allows",
        Unit::Turns,
        Origin::Figure("floor(n_v * P / P_v)"),
    ),
    Symbol::new("n_v", "turns at the tool's own speed", Unit::Turns, Origin::Tool("cuts")),
    Symbol::new("P", "power of the spindle", Unit::Power, Origin::Machine("spindle.power")),
    Symbol::new(
        "P_v",
        "power that the cut asks at those turns",
        Unit::Power,
        Origin::Known("as its power, at those turns"),
    ),
];

const TURNS: Symbol =
    Symbol::new("n", "turns of the spindle", Unit::Turns, Origin::Known("ask for its speed"));
const FEED: [Symbol; 3] = [
    Symbol::new("F", "feed", Unit::Feed, Origin::Figure("n * f")),
    TURNS,
    Symbol::mm("f", "feed a turn of the tool in this metal", Origin::Tool("cuts")),
];
const SLENDER_FEED: [Symbol; 4] = [
    Symbol::new("F", "feed", Unit::Feed, Origin::Figure("n * f * q")),
    TURNS,
    Symbol::mm("f", "feed a turn of the tool in this metal", Origin::Tool("cuts")),
    Symbol::new("q", "a slender bar cuts at this share", Unit::Share, Origin::PRACTICE),
];
const MOST_FEED: [Symbol; 2] = [
    Symbol::new("F", "feed, the machine's most", Unit::Feed, Origin::Figure("F_max")),
    Symbol::new("F_max", "the fastest it feeds", Unit::Feed, Origin::Machine("feed")),
];
const MILLED_FEED: [Symbol; 4] = [
    Symbol::new("F", "feed of the cutter's middle", Unit::Feed, Origin::Figure("F_w * r_p / R")),
    Symbol::new("F_w", "feed of its edge at the wall", Unit::Feed, Origin::Tool("cuts")),
    Symbol::mm("r_p", "radius of the way of its middle", Origin::Known("the wall less half the cutter")),
    Symbol::mm("R", "radius of the wall", Origin::Sleeve("body")),
];

/// Speed and feed of a boring tool or a cutter that turns at a diameter.
pub(super) fn cutting(c: &Cutting, turning_mm: f64) -> [Figure; 2] {
    let by_speed = || Figure::of("speed", c.rpm, &[&AT_SPEED], vec![c.speed_m_per_min, turning_mm]);
    let speed = match c.turns_bind {
        Binds::SpindleFastest => Figure::of("speed", c.rpm, &[&FASTEST], vec![c.rpm_range[1]]),
        Binds::SpindleSlowest => Figure::of("speed", c.rpm, &[&SLOWEST], vec![c.rpm_range[0]]),
        _ => by_speed(),
    };
    [speed, feed(c)]
}

fn feed(c: &Cutting) -> Figure {
    let told = c.feed_mm_per_min;
    if c.binds == Binds::MachineFeed {
        Figure::of("feed", told, &[&MOST_FEED], vec![told])
    } else if c.share < 1.0 {
        Figure::of("feed", told, &[&SLENDER_FEED], vec![c.rpm, c.data_feed_mm, c.share])
    } else {
        Figure::of("feed", told, &[&FEED], vec![c.rpm, c.data_feed_mm])
    }
}

/// Feed of the middle of a cutter whose edge feeds at the wall.
pub(super) fn milled_feed(told: f64, at_wall: f64, [path_mm, wall_mm]: [f64; 2]) -> Figure {
    Figure::of("feed", told, &[&MILLED_FEED], vec![at_wall, path_mm, wall_mm])
}

/// Speed and feed once the spindle's power has held them down.
pub(super) fn by_power(rpm: f64, wanted_rpm: f64, [has_kw, asked_kw]: [f64; 2], feed: f64) -> [Figure; 2] {
    [
        Figure::of("speed", rpm, &[&BY_POWER], vec![wanted_rpm, has_kw, asked_kw]),
        Figure::of("feed", feed, &[&FEED], vec![rpm, feed / rpm]),
    ]
}

/// What the cut meets on its way: the old bore at one depth.
const OLD: [Symbol; 7] = [
    Symbol::mm(
        "e",
        "the old bore's centre from the cut's at that depth",
        Origin::Formula("sqrt((x - l_x * d - x_f)^2 + (y - l_y * d - y_f)^2)"),
    ),
    Symbol::mm("x_f", "centre of the old bore there, along", Origin::Circles),
    Symbol::mm("y_f", "the same across", Origin::Circles),
    Symbol::new("l_x", "lean of the spindle along, mm a mm", Unit::Share, Origin::SetUp),
    Symbol::new("l_y", "lean of the spindle across, mm a mm", Unit::Share, Origin::SetUp),
    Symbol::mm(
        "d",
        "that depth",
        Origin::Known("where the stock is least, or most, of the depths of this pass"),
    ),
    Symbol::mm("R", "radius after this pass", Origin::Known("half its size")),
];
const PLACE: [Symbol; 2] = [
    Symbol::mm("x", "planned centre at the deck, along", Origin::Planned),
    Symbol::mm("y", "planned centre at the deck, across", Origin::Planned),
];
const LEAST: [Symbol; 2] = [
    Symbol::mm("s", "least stock a side", Origin::Figure("R - e - r")),
    Symbol::mm("r", "farthest old metal from the old bore's centre", Origin::Circles),
];
const MOST: [Symbol; 2] = [
    Symbol::mm("s", "most stock a side", Origin::Figure("R - r + e")),
    Symbol::mm("r", "nearest old metal from the old bore's centre", Origin::Circles),
];
const EVEN: [Symbol; 3] = [
    Symbol::mm("s", "stock a side", Origin::Figure("R - R_0")),
    Symbol::mm("R", "radius after this pass", Origin::Known("half its size")),
    Symbol::mm("R_0", "radius before it", Origin::Before),
];
const NOTHING: [Symbol; 3] = [
    Symbol::mm(
        "s",
        "least stock a side: the cut does not reach the old bore all round",
        Origin::Figure("0 * (R - e)"),
    ),
    Symbol::mm("R", "radius after this pass", Origin::Known("half its size")),
    Symbol::mm("e", "the old bore's centre from the cut's", Origin::Circles),
];
const LEFT: [Symbol; 4] = [
    Symbol::mm("s", "stock a side", Origin::Figure("A + R - R_p")),
    Symbol::mm("A", "left a side for this pass", Origin::Stated("allowances.pocket")),
    Symbol::mm("R", "radius after this pass, for the sleeve that goes here", Origin::Known("half its size")),
    Symbol::mm("R_p", "radius of the pocket as the sleeve is described", Origin::Sleeve("body")),
];
const BY_DIAMETER: [Symbol; 3] = [
    Symbol::mm("s", "stock a side", Origin::Figure("(b - a) / 2")),
    Symbol::mm("b", "left on diameter before this pass", Origin::Before),
    Symbol::mm(
        "a",
        "left on diameter after it",
        Origin::Known("common practice, no source; the stones' maker comes first"),
    ),
];
const OFF_DECK: [Symbol; 2] = [
    Symbol::mm("s", "cut off the deck", Origin::Figure("c")),
    Symbol::mm("c", "what the job says is still to be cut off it", Origin::Stated("deck.cut")),
];

/// Least or most stock against the old bore, as it was met at one depth.
pub(super) fn roughed(value: f64, old: &OldSurface, metal_mm: f64, radius_mm: f64, least: bool) -> Figure {
    let [x_f, y_f] = old.centre_mm;
    let [l_x, l_y] = old.lean;
    let kept = vec![metal_mm, old.apart_mm, x_f, y_f, l_x, l_y, old.depth_mm, radius_mm];
    let symbols: &'static [&'static [Symbol]] =
        if least { &[&LEAST, &OLD, &PLACE] } else { &[&MOST, &OLD, &PLACE] };
    let mut figure = Figure::of("stock", value, symbols, kept);
    figure.worked.surface = Some(old.surface);
    figure
}

/// A least stock of 0, where the old bore is wider than the cut on one side.
pub(super) fn nothing(radius_mm: f64, apart_mm: f64) -> Figure {
    Figure::of("stock", 0.0, &[&NOTHING], vec![radius_mm, apart_mm])
}

/// Stock behind a concentric pass.
pub(super) fn even(radius_mm: f64, before_mm: f64) -> Figure {
    Figure::of("stock", radius_mm - before_mm, &[&EVEN], vec![radius_mm, before_mm])
}

/// Stock that was left for a finishing pass.
pub(super) fn left(allowance_mm: f64, own_mm: f64, described_mm: f64) -> Figure {
    let value = allowance_mm + own_mm - described_mm;
    Figure::of("stock", value, &[&LEFT], vec![allowance_mm, own_mm, described_mm])
}

/// Stock of a hone's stage.
pub(super) fn honed(before_mm: f64, after_mm: f64) -> Figure {
    Figure::of("stock", (before_mm - after_mm) / 2.0, &[&BY_DIAMETER], vec![before_mm, after_mm])
}

/// What is cut off a deck.
pub(super) fn off_deck(cut_mm: f64) -> Figure {
    Figure::of("stock", cut_mm, &[&OFF_DECK], vec![cut_mm])
}

const ARC: Symbol = Symbol::new(
    "w",
    "arc of the circle that still shows the liner",
    Unit::Angle,
    Origin::Figure("2 * acos((R - R_l) / e) * 180 / pi"),
);
const LINER: [Symbol; 5] = [
    Symbol::mm(
        "e",
        "the liner's centre from the cut's, at the deck",
        Origin::Formula("sqrt((x_l - x)^2 + (y_l - y)^2)"),
    ),
    Symbol::mm("R", "radius after this pass", Origin::Known("half its size")),
    Symbol::mm("R_l", "outside radius of the liner", Origin::Block("parent.liner.outside")),
    Symbol::mm("x_l", "centre of the liner at the deck, along", Origin::Circles),
    Symbol::mm("y_l", "the same across", Origin::Circles),
];
const MOST_IRON: Symbol = Symbol::mm("h", "most that is left of the liner", Origin::Figure("R_l - R + e"));
const LEAST_IRON: Symbol = Symbol::mm("h", "least that is left of the liner", Origin::Figure("R_l - R - e"));

/// The figures of what a cut leaves of the liner: least and most, mm, and arc, degrees, from how far the liner
/// stands off, the radii of cut and liner, and the centre, mm.
pub(super) fn iron(
    [least_mm, most_mm, arc_deg]: [f64; 3],
    [apart_mm, cut_mm, outside_mm]: [f64; 3],
    [x, y]: [f64; 2],
) -> Vec<Figure> {
    let kept = || vec![apart_mm, cut_mm, outside_mm, x, y];
    let mut figures = vec![Figure::of("iron", most_mm, &[&[MOST_IRON], &LINER, &PLACE], kept())];
    if least_mm > 0.0 {
        figures.push(Figure::of("iron", least_mm, &[&[LEAST_IRON], &LINER, &PLACE], kept()));
    } else if arc_deg < 360.0 {
        figures.push(Figure::of("arc", arc_deg, &[&[ARC], &LINER, &PLACE], kept()));
    }
    figures.iter_mut().for_each(|figure| figure.worked.surface = Some("liner"));
    figures
}

const BY_HAND: [Symbol; 2] = [
    Symbol::new("t", "minutes by hand", Unit::Minutes, Origin::Figure("T")),
    Symbol::new("T", "what the work on one takes", Unit::Minutes, Origin::PRACTICE),
];
const HONING: [Symbol; 3] = [
    Symbol::new("t", "minutes of these stones, gauging among them", Unit::Minutes, Origin::Figure("T * q")),
    Symbol::new("T", "honing and gauging of one bore", Unit::Minutes, Origin::PRACTICE),
    Symbol::new("q", "share that these stones have of it", Unit::Share, Origin::PRACTICE),
];

/// Minutes of handwork, or of a deck.
pub(super) fn by_hand(minutes: f64) -> Figure {
    Figure::of("minutes", minutes, &[&BY_HAND], vec![minutes])
}

/// Minutes of a hone's stage.
pub(super) fn honing(minutes: f64, [all, share]: [f64; 2]) -> Figure {
    Figure::of("minutes", minutes, &[&HONING], vec![all, share])
}
