//! Beside a zone: its scale, its marks, and its edges by their numbers.

use borewright_planner::job::words;
use borewright_planner::place::{Edge, FreeZone, MadeBy};
use borewright_planner::plan::Xy;
use kurbo::{Point, Rect, Shape as _, Vec2};

use super::tags::numbered;
use super::{GO, HEIGHT_MM, WORDS_MM};
use crate::OutputError;
use crate::drawings::figure::{CURVE_MM, Filling, Pen};
use crate::drawings::scale;
use crate::drawings::subject::{Subject, WIDE_MM};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::shorten;

/// The old centre: a cross in a circle.
pub(super) fn old_mark(pen: &mut Pen<'_>, at: Point) {
    pen.dot(at, 2.2, Filling::White);
    pen.circle(at, 2.2, 0.4, Dash::Solid);
    pen.cross(at, 2.2, 0.3);
}

/// The true position: a plus.
pub(super) fn true_mark(pen: &mut Pen<'_>, at: Point) {
    for k in [Vec2::new(3.2, 0.0), Vec2::new(0.0, 3.2)] {
        let ground = [at - k, at + k];
        pen.polyline(&ground, false, 0.7, Dash::Solid);
    }
}

/// The planned centre: filled.
pub(super) fn planned_mark(pen: &mut Pen<'_>, at: Point) {
    pen.dot(at, 1.9, Filling::White);
    pen.dot(at, 1.4, Filling::Black);
}

/// Scale, marks, and the edges by their numbers; how many there was room for.
pub(super) fn key(
    pen: &mut Pen<'_>,
    of: &Subject<'_>,
    zone: &FreeZone,
    named: &[(MadeBy, &Edge, f64)],
    enlarged: f64,
) -> Result<usize, OutputError> {
    let left = WORDS_MM;
    let plain = (Weight::Plain, 10.0);
    pen.text(Point::new(left, 13.0), Align::Left, (Weight::Bold, 10.5), &scale::words(enlarged));
    scale::bar(pen, Point::new(left + 22.0, 11.8), enlarged, 28.0, of.units());
    let mut y = 21.0;
    old_mark(pen, Point::new(left + 3.0, y - 1.2));
    let off = |p: Xy| (p.x - zone.true_position.x).hypot(p.y - zone.true_position.y);
    pen.text(
        Point::new(left + 9.0, y),
        Align::Left,
        plain,
        &format!("old centre, {} off true", of.spoken(off(zone.old))?),
    );
    y += 7.0;
    true_mark(pen, Point::new(left + 3.0, y - 1.2));
    pen.text(Point::new(left + 9.0, y), Align::Left, plain, "true position");
    y += 6.5;
    match zone.planned {
        Some(planned) => {
            planned_mark(pen, Point::new(left + 3.0, y - 1.2));
            let words = format!("planned, {} off true", of.spoken(off(planned))?);
            pen.text(Point::new(left + 9.0, y), Align::Left, plain, &words);
        }
        None => pen.text(Point::new(left + 9.0, y), Align::Left, plain, "planned centre withheld: not at go"),
    }
    y += 3.5;
    for (outlines, filling, width, dash, words, none) in [
        (&zone.go, Some(GO), 0.7, Dash::Solid, "every limit at go", "nowhere is every limit at go"),
        (
            &zone.possible,
            None,
            0.4,
            Dash::Dashed,
            "every margin 0 or more",
            "nowhere is every margin 0 or more",
        ),
    ] {
        let sample = Rect::new(left, y, left + 6.5, y + 4.0).to_path(CURVE_MM);
        if outlines.is_empty() {
            pen.text(Point::new(left, y + 3.2), Align::Left, (Weight::Bold, 10.0), none);
        } else {
            if let Some(filling) = filling {
                pen.area(sample.clone(), filling);
            }
            pen.stroke(sample, width, dash);
            pen.text(Point::new(left + 9.0, y + 3.2), Align::Left, plain, words);
        }
        y += 6.0;
    }
    y += 1.0;
    for text in &zone.everywhere {
        let text = format!("everywhere: {}", of.units().say(text));
        y = pen.lines(Point::new(left, y), WIDE_MM - left, (Weight::Bold, 10.0), 2, &text) + 1.0;
    }
    if zone.possible.is_empty() && zone.everywhere.is_empty() {
        pen.lines(Point::new(left, y), WIDE_MM - left, plain, 10, &of.units().say(&zone.why.whole()));
    }
    let mut count = 0;
    for (made_by, _, _) in named {
        if y > HEIGHT_MM - 14.0 {
            let left_over = format!("and {} shorter edges", named.len() - count);
            pen.text(Point::new(left, y + 3.5), Align::Left, plain, &left_over);
            break;
        }
        count += 1;
        numbered(pen, Point::new(left + 3.0, y + 2.4), count);
        let words = edge_words(of, made_by)?;
        let below = pen.lines(Point::new(left + 9.0, y), WIDE_MM - left - 9.0, plain, 2, &words);
        y = below.max(y + 4.8) + 1.0;
    }
    Ok(count)
}

/// "clean up, barrel, depth 138.00 mm".
fn edge_words(of: &Subject<'_>, made_by: &MadeBy) -> Result<String, OutputError> {
    if made_by.limit == "none" {
        return Ok("no limit: as far as was looked".to_owned());
    }
    let mut text = words::limit(made_by.limit);
    if made_by.preferred {
        text.push_str(", preferred figure");
    }
    text.push_str(&format!(", {}", shorten(&made_by.feature)));
    if let Some(depth) = made_by.depth.filter(|d| *d > 0.0) {
        text.push_str(&format!(", depth {}", of.depth(depth)?));
    }
    if let Some(clock) = made_by.clock {
        text.push_str(&format!(", clock {clock:.0}°"));
    }
    Ok(text)
}
