//! Numbered tags beside the edges.

use borewright_planner::place::{Edge, FreeZone, MadeBy};
use kurbo::{Point, Rect, Vec2};

use super::VIEW;
use crate::drawings::figure::{Filling, Pen};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;

/// Radius of a tag.
const TAG_MM: f64 = 2.6;

/// The edges to name, longest first, each limit once where it is longest; those of the go area's own on its
/// inner side.
pub(super) fn named(zone: &FreeZone) -> Vec<(MadeBy, &Edge, f64)> {
    let mut named: Vec<(MadeBy, &Edge, f64)> = Vec::new();
    // Where a limit ends both areas, its tag stands outside the outer one.
    for (outlines, side) in [(&zone.possible, 1.0), (&zone.go, -1.0)] {
        for edge in outlines.iter().flat_map(|o| &o.edges) {
            match named.iter_mut().find(|(made_by, _, _)| *made_by == edge.made_by) {
                Some((_, longest, at)) if *at * side > 0.0 && length(edge) > length(longest) => {
                    *longest = edge
                }
                Some(_) => {}
                None => named.push((edge.made_by.clone(), edge, side)),
            }
        }
    }
    named.sort_by(|a, b| length(b.1).total_cmp(&length(a.1)));
    named
}

fn length(edge: &Edge) -> f64 {
    edge.points.windows(2).map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1])).sum()
}

/// A numbered tag beside an edge, with a leader: where nothing else stands, nearest to the middle of the edge.
pub(super) fn tag(pen: &mut Pen<'_>, taken: &mut Vec<Rect>, path: &[Point], side: f64, number: usize) {
    let along: f64 = path.windows(2).map(|w| (w[1] - w[0]).hypot()).sum();
    let mut best: Option<(f64, Point, Point)> = None;
    for far in [5.0, 8.0, 11.0, 15.0, 20.0] {
        for share in [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9] {
            let Some((foot, direction)) = at_share(path, along * share) else { continue };
            // The area lies on the left of an outline in the bank; on paper, where y runs down, on the left too.
            let out = Vec2::new(-direction.y, direction.x) * side;
            let place = foot + out * far;
            let room = Rect::from_center_size(place, (2.0 * TAG_MM, 2.0 * TAG_MM)).inflate(0.6, 0.6);
            let lost =
                taken.iter().map(|t| t.intersect(room)).filter(|r| r.width() > 0.0 && r.height() > 0.0);
            let cost = 100.0 * lost.map(|r| r.area()).sum::<f64>()
                + if VIEW.contains_rect(room) { 0.0 } else { 1e4 }
                + far
                + 2.0 * (share - 0.5_f64).abs();
            if best.is_none_or(|b| cost < b.0) {
                best = Some((cost, place, foot));
            }
        }
    }
    let Some((_, place, foot)) = best else { return };
    pen.line(foot, place, 0.25, Dash::Solid);
    pen.dot(foot, 0.6, Filling::Black);
    numbered(pen, place, number);
    taken.push(Rect::from_center_size(place, (2.0 * TAG_MM, 2.0 * TAG_MM)));
}

pub(super) fn numbered(pen: &mut Pen<'_>, at: Point, number: usize) {
    pen.dot(at, TAG_MM, Filling::White);
    pen.circle(at, TAG_MM, 0.3, Dash::Solid);
    pen.text(at + Vec2::new(0.0, 1.3), Align::Middle, (Weight::Bold, 10.0), &number.to_string());
}

/// The place so far along a path, and its direction there.
fn at_share(path: &[Point], far: f64) -> Option<(Point, Vec2)> {
    let mut left = far;
    for w in path.windows(2) {
        let stretch = w[1] - w[0];
        let length = stretch.hypot();
        if length > 0.0 && left <= length {
            return Some((w[0] + stretch * (left / length), stretch / length));
        }
        left -= length;
    }
    None
}
