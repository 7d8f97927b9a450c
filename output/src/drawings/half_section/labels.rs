//! Labels in a column beside the section, by depth, each found by its number at the section's edge.
//!
//! The column is higher than the section: leaders up to the labels would run together in one fan.

use kurbo::{Point, Vec2};

use super::spread::{Wanted, spread};
use crate::drawings::figure::{Filling, PT_PER_MM, Pen, Style};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::{Fonts, Weight};

/// Between two labels, mm.
const APART_MM: f64 = 1.5;
/// Two leaders leave the section at least so far apart, mm.
const LEADERS_MM: f64 = 0.9;
/// How far beyond the section's edge leaders turn and where they end at their numbers, mm.
const TURN_MM: f64 = 1.5;
const END_MM: f64 = 5.0;
/// Size of a number, and what it takes of the height at the edge, mm.
const NUMBER_PT: f64 = 10.0;
const NUMBER_MM: f64 = 4.0;
/// Room of a number, left of its label too, mm.
pub(super) const NUMBERS_MM: f64 = 7.0;
/// Line height against size.
const LEADING: f64 = 1.22;
/// Top of the column.
const TOP_MM: f64 = 1.0;

/// One label.
#[derive(Debug, Clone)]
pub(super) struct Label {
    /// What it points at, on paper.
    pub(super) at: Point,
    /// Its bold line.
    pub(super) title: String,
    /// Its plain lines, each with what it is.
    pub(super) lines: Vec<(Kind, String)>,
}

/// What goes first where there is no room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// The bold line's figures in the second unit, on a line of their own where they do not fit behind it.
    Title,
    /// A detail.
    Detail,
    /// A detail in the second unit.
    Second,
}

/// A label with its lines broken.
#[derive(Debug)]
struct Set {
    at: Point,
    lines: Vec<(Weight, String)>,
    /// Behind its first line, and how far from its start, mm.
    tail: Option<(f64, String)>,
    high: f64,
    /// Its upper edge.
    top: f64,
}

/// Labels in their places.
#[derive(Debug)]
pub(super) struct Placed {
    sets: Vec<Set>,
    size_pt: f64,
    left: f64,
    /// Lower edge of the last.
    pub(super) bottom: f64,
}

/// Sets the labels as large as they fit above `lowest`: smaller, then with less of their plain lines, then fewer.
pub(super) fn place(fonts: &Fonts, mut labels: Vec<Label>, [left, right]: [f64; 2], lowest: f64) -> Placed {
    labels.sort_by(|a, b| a.at.y.total_cmp(&b.at.y));
    let text = right - left;
    let high = |sets: &[Set]| sets.iter().map(|s| s.high + APART_MM).sum::<f64>();
    let room = lowest - TOP_MM;
    let all = labels.len();
    let steps = [
        (10.0, Some(Kind::Second)),
        (9.0, Some(Kind::Second)),
        (9.0, Some(Kind::Detail)),
        (8.5, Some(Kind::Detail)),
        (8.5, Some(Kind::Title)),
        (8.5, None),
    ];
    for (size_pt, down_to) in steps {
        let mut sets: Vec<Set> = labels.iter().map(|l| set(fonts, l, text, size_pt, down_to)).collect();
        if high(&sets) > room && down_to.is_some() {
            continue;
        }
        let mut kept = sets.len();
        while kept > 1 && high(&sets) > room {
            kept -= 1;
            sets.truncate(kept);
            let at = sets.pop().map_or(Point::ORIGIN, |s| s.at);
            let title = format!("and {} more: see the table", all - kept + 1);
            sets.push(set(fonts, &Label { at, title, lines: Vec::new() }, text, size_pt, None));
        }
        let wanted: Vec<Wanted> =
            sets.iter().map(|s| Wanted { middle: s.at.y, high: s.high + APART_MM }).collect();
        for (set, top) in sets.iter_mut().zip(spread(&wanted, [TOP_MM, lowest + APART_MM])) {
            set.top = top;
        }
        let bottom = sets.last().map_or(TOP_MM, |s| s.top + s.high);
        return Placed { sets, size_pt, left, bottom };
    }
    Placed { sets: Vec::new(), size_pt: 10.0, left, bottom: TOP_MM }
}

fn set(fonts: &Fonts, label: &Label, width_mm: f64, size_pt: f64, down_to: Option<Kind>) -> Set {
    let wrap = |weight: Weight, text: &str, most: usize| {
        let lines = fonts.wrap(text, weight, size_pt, width_mm * PT_PER_MM, most);
        lines.into_iter().map(move |line| (weight, line))
    };
    let mut lines: Vec<(Weight, String)> = wrap(Weight::Bold, &label.title, 2).collect();
    let wide = |weight: Weight, text: &str| fonts.width(text, weight, size_pt) / PT_PER_MM;
    // Behind the title as it is drawn, where that is one line.
    let from =
        lines.iter().map(|(_, line)| wide(Weight::Bold, line)).sum::<f64>() + wide(Weight::Plain, "  ");
    let tail = label.lines.first().filter(|(kind, line)| {
        *kind == Kind::Title && lines.len() == 1 && from + wide(Weight::Plain, line) <= width_mm
    });
    let rest = label.lines.iter().skip(usize::from(tail.is_some()));
    for (_, line) in rest.filter(|(kind, _)| Some(*kind) <= down_to) {
        lines.extend(wrap(Weight::Plain, line, 3));
    }
    let high = lines.iter().map(|_| size_pt / PT_PER_MM * LEADING).sum();
    Set { at: label.at, lines, tail: tail.map(|(_, line)| (from, line.clone())), high, top: 0.0 }
}

impl Placed {
    /// Draws them, each with its number and a leader from what it points at to that number at the section's edge.
    pub(super) fn draw(&self, pen: &mut Pen<'_>, edge: f64) {
        let wanted: Vec<Wanted> =
            self.sets.iter().map(|set| Wanted { middle: set.at.y, high: NUMBER_MM }).collect();
        let tops = spread(&wanted, [0.0, self.bottom]);
        let size = self.size_pt / PT_PER_MM;
        let up = Vec2::new(0.0, size * 0.3);
        let mut last = f64::NEG_INFINITY;
        for (number, (set, top)) in (1_usize..).zip(self.sets.iter().zip(tops)) {
            let number = number.to_string();
            let leave = set.at.y.max(last + LEADERS_MM);
            last = leave;
            let middle = top + NUMBER_MM / 2.0;
            pen.dot(set.at, 0.55, Filling::Black);
            let points = [set.at, Point::new(edge + TURN_MM, leave), Point::new(edge + END_MM, middle)];
            pen.polyline(&points, false, 0.18, Dash::Solid);
            let numbered: Style = (Weight::Bold, NUMBER_PT);
            pen.text(Point::new(edge + END_MM + 0.8, middle + 1.3), Align::Left, numbered, &number);
            let first = set.top + size * LEADING;
            pen.text(Point::new(self.left - 1.5, first) - up, Align::Right, numbered, &number);
            if let Some((from, tail)) = &set.tail {
                let at = Point::new(self.left + from, first);
                pen.text(at - up, Align::Left, (Weight::Plain, self.size_pt), tail);
            }
            let mut y = set.top;
            for (weight, line) in &set.lines {
                y += size * LEADING;
                let style: Style = (*weight, self.size_pt);
                pen.text(Point::new(self.left, y) - up, Align::Left, style, line);
            }
        }
    }
}
