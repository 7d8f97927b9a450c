//! The free zone of one bore: where its centre could be planned, and which limit makes each edge.

mod key;
pub(super) mod small;
mod tags;

use borewright_planner::place::{FreeZone, Outline};
use borewright_planner::plan::Xy;
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Vec2};

use self::key::{key, old_mark, planned_mark, true_mark};
use self::tags::{named, tag};
use super::figure::{CURVE_MM, Figure, Filling, HEADING_PT, PT_PER_MM, Pen, path_of};
use super::scale;
use super::subject::{Subject, WIDE_MM};
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::{bank, shorten};
use crate::said::sides::Sides;

/// The square that the zone is drawn in, below the heading and the side's name.
const VIEW: Rect = Rect::new(0.0, 13.0, 96.0, 101.0);
/// Height of the picture.
const HEIGHT_MM: f64 = 108.0;
/// Left edge of the words.
const WORDS_MM: f64 = 101.0;
/// Nothing is drawn nearer to the square's edge, for the tags.
const CLEAR_MM: f64 = 9.0;

/// Where every limit is at go.
const GO: Filling = Filling::Hatched { slope_deg: 45.0, apart_mm: 1.5, width_mm: 0.12 };

/// The picture of one bore.
pub(super) fn figure(of: &Subject<'_>, zone: &FreeZone) -> Result<Option<Figure>, OutputError> {
    let title = format!("Free zone of cylinder {}, job {}", zone.cylinder, of.job.number);
    let mut pen = Pen::new(of.fonts, &title, WIDE_MM, HEIGHT_MM);
    let at = |p: Xy| Point::new(p.x, p.y);
    let (true_at, old, planned) = (at(zone.true_position), at(zone.old), zone.planned.map(at));
    // The old centre is in the picture unless that would shrink the rest too far.
    let points = zone.go.iter().chain(&zone.possible).flat_map(|o| &o.edges).flat_map(|e| &e.points);
    let spot = |p: Point| Rect::from_points(p, p);
    let near = points
        .map(|p| spot(Point::new(p[0], p[1])))
        .chain(planned.map(spot))
        .fold(spot(true_at), |a, b| a.union(b));
    let all = near.union(spot(old));
    let fit = |extent: Rect| {
        scale::round(
            extent.width().max(extent.height()),
            VIEW.width().min(VIEW.height()) - 2.0 * CLEAR_MM,
            scale::MOST_ENLARGED,
        )
    };
    let old_within = fit(all) * 2.5 >= fit(near);
    let extent = if old_within { all } else { near };
    let enlarged = fit(extent);
    let to_paper = Affine::translate(VIEW.center().to_vec2())
        * Affine::scale_non_uniform(enlarged, -enlarged)
        * Affine::translate(-extent.center().to_vec2());

    let heading =
        format!("Cylinder {}, where it may go: {}", zone.cylinder, zone.verdict.word().to_uppercase());
    pen.text(Point::new(0.0, 5.0), Align::Left, (Weight::Bold, HEADING_PT), &heading);
    let under = format!("{}, sleeve {}", bank(&zone.bank), shorten(&zone.sleeve));
    let under = of.fonts.fit(&under, Weight::Plain, 10.5, (WIDE_MM - WORDS_MM) * PT_PER_MM);
    pen.text(Point::new(WORDS_MM, 5.0), Align::Left, (Weight::Plain, 10.5), &under);
    sides(&mut pen, of, zone);
    pen.stroke(VIEW.to_path(CURVE_MM), 0.2, Dash::Solid);

    let go = outline_path(&zone.go, to_paper);
    pen.area(go.clone(), GO);
    pen.stroke(outline_path(&zone.possible, to_paper), 0.4, Dash::Dashed);
    pen.stroke(go, 0.7, Dash::Solid);

    let marked = std::iter::once(true_at).chain(planned);
    let mut taken: Vec<Rect> = marked.map(|p| Rect::from_center_size(to_paper * p, (6.0, 6.0))).collect();
    if old_within {
        taken.push(Rect::from_center_size(to_paper * old, (6.0, 6.0)));
    } else {
        taken.extend(beyond(&mut pen, of, to_paper * true_at, old - true_at)?);
    }
    let named = named(zone);
    let count = key(&mut pen, of, zone, &named, enlarged)?;
    for (number, (_, edge, side)) in named.iter().take(count).enumerate() {
        let path: Vec<Point> = edge.points.iter().map(|p| to_paper * Point::new(p[0], p[1])).collect();
        tag(&mut pen, &mut taken, &path, *side, number + 1);
    }
    if old_within {
        old_mark(&mut pen, to_paper * old);
    }
    true_mark(&mut pen, to_paper * true_at);
    if let Some(planned) = planned {
        planned_mark(&mut pen, to_paper * planned);
    }
    Ok(Some(pen.figure))
}

fn outline_path(outlines: &[Outline], to_paper: Affine) -> BezPath {
    let mut path = BezPath::new();
    for outline in outlines {
        let points: Vec<Point> =
            outline.edges.iter().flat_map(|e| &e.points).map(|p| to_paper * Point::new(p[0], p[1])).collect();
        path.extend(path_of(&points, true).iter());
    }
    path
}

/// An arrow towards an old centre that lies outside the picture; where its words stand.
fn beyond(pen: &mut Pen<'_>, of: &Subject<'_>, from: Point, away: Vec2) -> Result<Option<Rect>, OutputError> {
    let distance = away.hypot();
    let way = Vec2::new(away.x, -away.y) / distance;
    let inner = VIEW.inflate(-2.0, -2.0);
    let reach = [
        if way.x > 0.0 { (inner.x1 - from.x) / way.x } else { (inner.x0 - from.x) / way.x },
        if way.y > 0.0 { (inner.y1 - from.y) / way.y } else { (inner.y0 - from.y) / way.y },
    ];
    let far = reach.into_iter().filter(|r| r.is_finite() && *r > 0.0).fold(f64::INFINITY, f64::min);
    if !far.is_finite() {
        return Ok(None);
    }
    let tip = from + way * far;
    pen.arrow(tip - way * far.min(9.0), tip, 0.4);
    let text = format!("old centre, {} off", of.spoken(distance)?);
    let inwards = tip - way * far.min(12.0);
    let width = pen.text_box(inwards, Align::Middle, (Weight::Plain, 10.0), &text).width() / 2.0 + 1.0;
    let x = inwards.x.max(VIEW.x0 + width).min(VIEW.x1 - width);
    let y = (inwards.y + if way.y > 0.0 { -2.0 } else { 4.0 }).clamp(VIEW.y0 + 5.0, VIEW.y1 - 2.0);
    let at = Point::new(x, y);
    pen.label(at, Align::Middle, (Weight::Plain, 10.0), &text);
    Ok(Some(pen.text_box(at, Align::Middle, (Weight::Plain, 10.0), &text)))
}

/// The sides' names round the square.
fn sides(pen: &mut Pen<'_>, of: &Subject<'_>, zone: &FreeZone) {
    let bank = of.job.block.banks.iter().position(|b| b.name == zone.bank).unwrap_or(0);
    let sides = Sides::of(&of.job.block, bank);
    let style = (Weight::Plain, 10.0);
    pen.text(Point::new(VIEW.x0, VIEW.y0 - 1.5), Align::Left, style, "front");
    pen.text(Point::new(VIEW.x1, VIEW.y0 - 1.5), Align::Right, style, "rear");
    pen.text(Point::new(VIEW.center().x, VIEW.y0 - 1.5), Align::Middle, style, sides.plus_side);
    pen.text(Point::new(VIEW.center().x, VIEW.y1 + 4.5), Align::Middle, style, sides.minus_side);
}
