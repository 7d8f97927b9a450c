//! Labels in a column beside the section, by depth, spread so that none touches another.

use kurbo::{Point, Vec2};

use crate::drawings::figure::{PT_PER_MM, Pen, Style};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::{Fonts, Weight};

/// Between two labels, mm.
const APART_MM: f64 = 1.5;
/// Two leaders leave the section at least so far apart, mm.
const LEADERS_MM: f64 = 0.9;
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
        spread(&mut sets, lowest);
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

/// Each as near its own height as the others let it: pushed down from above, then up from below.
fn spread(sets: &mut [Set], lowest: f64) {
    let mut edge = TOP_MM;
    for set in sets.iter_mut() {
        set.top = (set.at.y - set.high / 2.0).max(edge);
        edge = set.top + set.high + APART_MM;
    }
    let mut edge = lowest;
    for set in sets.iter_mut().rev() {
        set.top = set.top.min(edge - set.high);
        edge = set.top - APART_MM;
    }
}

impl Placed {
    /// Draws them, each with a leader from what it points at over the section's edge.
    pub(super) fn draw(&self, pen: &mut Pen<'_>, edge: f64) {
        let mut last = f64::NEG_INFINITY;
        for set in &self.sets {
            let leave = set.at.y.max(last + LEADERS_MM);
            last = leave;
            let first = set.top + self.size_pt / PT_PER_MM * LEADING * 0.62;
            let knee = Point::new(self.left - 2.5, first);
            pen.dot(set.at, 0.55, crate::drawings::figure::Filling::Black);
            let points = [set.at, Point::new(edge + 1.5, leave), knee, Point::new(self.left - 0.8, first)];
            pen.polyline(&points, false, 0.18, Dash::Solid);
            let mut y = set.top;
            let up = Vec2::new(0.0, self.size_pt / PT_PER_MM * 0.3);
            if let Some((from, tail)) = &set.tail {
                let at = Point::new(self.left + from, y + self.size_pt / PT_PER_MM * LEADING);
                pen.text(at - up, Align::Left, (Weight::Plain, self.size_pt), tail);
            }
            for (weight, line) in &set.lines {
                y += self.size_pt / PT_PER_MM * LEADING;
                let style: Style = (*weight, self.size_pt);
                pen.text(Point::new(self.left, y) - up, Align::Left, style, line);
            }
        }
    }
}
