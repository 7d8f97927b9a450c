//! Free zones of several bores side by side: one scale, one key.

use borewright_planner::job::words;
use borewright_planner::place::FreeZone;
use borewright_planner::plan::Xy;
use kurbo::{Affine, Point, Rect, Shape as _};

use super::key::{old_mark, planned_mark, true_mark};
use super::tags::named;
use super::{GO, outline_path};
use crate::OutputError;
use crate::drawings::figure::{CURVE_MM, Figure, HEADING_PT, PT_PER_MM, Pen};
use crate::drawings::scale;
use crate::drawings::subject::{Subject, WIDE_MM};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::sides::Sides;

/// Between two of them.
const APART_MM: f64 = 4.0;
/// Above and below each: its number, and what holds it.
const WORDS_MM: [f64; 2] = [6.0, 9.5];
/// Above and below all.
const HEAD_MM: f64 = 8.0;
const FOOT_MM: f64 = 22.0;
/// The largest square.
const WIDEST_MM: f64 = 50.0;
/// Nothing is drawn nearer to a square's edge.
const CLEAR_MM: f64 = 4.0;

fn point(at: Xy) -> Point {
    Point::new(at.x, at.y)
}

/// About the middle of what is drawn of it: the areas, the true position, the planned one where it may be told.
fn extent(zone: &FreeZone, told: bool) -> Rect {
    let points = zone.go.iter().chain(&zone.possible).flat_map(|o| &o.edges).flat_map(|e| &e.points);
    let planned = zone.planned.filter(|_| told).map(point);
    let all = points.map(|p| Point::new(p[0], p[1])).chain(planned);
    let spot = |p: Point| Rect::from_points(p, p);
    all.map(spot).fold(spot(point(zone.true_position)), |a, b| a.union(b))
}

/// All that the survey found; `None` where it found none. Where a bore may not be told, its planned centre is not drawn.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn zones(of: &Subject<'_>, told: &dyn Fn(u32) -> bool) -> Result<Option<Figure>, OutputError> {
    let zones: Vec<&FreeZone> = of.report.free_zone.iter().collect();
    let sheet = Arranged::of(&zones, told);
    Ok(if zones.is_empty() { None } else { Some(sheet.figure(of, told, &zones, [true, true])?) })
}

/// Those of some bores, a figure a row, so that a page may end between two: heading and scale on the first, the key below the last.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn of_some(
    of: &Subject<'_>,
    told: &dyn Fn(u32) -> bool,
    shown: &dyn Fn(&FreeZone) -> bool,
) -> Result<Vec<Figure>, OutputError> {
    let zones: Vec<&FreeZone> = of.report.free_zone.iter().filter(|z| shown(z)).collect();
    let sheet = Arranged::of(&zones, told);
    let rows = zones.chunks(sheet.across);
    let last = rows.len().saturating_sub(1);
    rows.enumerate().map(|(at, row)| sheet.figure(of, told, row, [at == 0, at == last])).collect()
}

/// How the squares of a sheet stand: all alike.
struct Arranged {
    /// How many beside each other.
    across: usize,
    /// Edge of a square, mm.
    side: f64,
    /// How much larger than the block they are.
    enlarged: f64,
}

impl Arranged {
    fn of(zones: &[&FreeZone], told: &dyn Fn(u32) -> bool) -> Self {
        let across = match zones.len() {
            few @ 0..=3 => few.max(1),
            4 => 2,
            5 | 6 | 9 => 3,
            _ => 4,
        };
        let columns = (0..across).map(|_| 1.0).sum::<f64>();
        let side = ((WIDE_MM - APART_MM * (columns - 1.0)) / columns).min(WIDEST_MM);
        let size = |zone: &&FreeZone| {
            let extent = extent(zone, told(zone.cylinder));
            extent.width().max(extent.height())
        };
        let largest = zones.iter().map(size).fold(0.0, f64::max);
        let enlarged = scale::round(largest.max(1e-3), side - 2.0 * CLEAR_MM, scale::MOST_ENLARGED);
        Self { across, side, enlarged }
    }

    /// Some zones in rows on one page, with a heading above and the key below where those are wanted.
    fn figure(
        &self,
        of: &Subject<'_>,
        told: &dyn Fn(u32) -> bool,
        zones: &[&FreeZone],
        [head, foot]: [bool; 2],
    ) -> Result<Figure, OutputError> {
        let row = WORDS_MM[0] + self.side + WORDS_MM[1];
        let rows = zones.chunks(self.across).map(|_| row).sum::<f64>();
        let [above, below] = [(head, HEAD_MM), (foot, FOOT_MM)].map(|(has, mm)| if has { mm } else { 0.0 });
        let title = format!("Where each bore may go, job {}", of.job.number);
        let mut pen = Pen::new(of.fonts, &title, WIDE_MM, above + rows + below);
        if head {
            let heading = "Where each bore may go";
            pen.text(Point::new(0.0, 5.0), Align::Left, (Weight::Bold, HEADING_PT), heading);
            let words = format!("all at {}", scale::words(self.enlarged));
            pen.text(Point::new(WIDE_MM, 5.0), Align::Right, (Weight::Bold, 11.0), &words);
        }
        let mut top = above;
        for some in zones.chunks(self.across) {
            let mut left = 0.0;
            for zone in some {
                let view =
                    Rect::new(left, top + WORDS_MM[0], left + self.side, top + WORDS_MM[0] + self.side);
                one(&mut pen, of, zone, view, self.enlarged, told(zone.cylinder))?;
                left += self.side + APART_MM;
            }
            top += row;
        }
        if foot {
            key(&mut pen, of, top + 1.0, self.enlarged);
        }
        Ok(pen.figure)
    }
}

/// Draws a bore's zone into `view`, mm, `enlarged` times, with what is said of it.
fn one(
    pen: &mut Pen<'_>,
    of: &Subject<'_>,
    zone: &FreeZone,
    view: Rect,
    enlarged: f64,
    told: bool,
) -> Result<(), OutputError> {
    let name = format!("{}  {}", zone.cylinder, zone.verdict.word().to_uppercase());
    pen.text(Point::new(view.x0, view.y0 - 1.5), Align::Left, (Weight::Bold, 13.0), &name);
    let bank = of.job.block.banks.iter().position(|b| b.name == zone.bank).unwrap_or(0);
    let sides = Sides::of(&of.job.block, bank);
    let up = format!("{} ↑", sides.side_word(true));
    pen.text(Point::new(view.x1, view.y0 - 1.5), Align::Right, (Weight::Plain, 9.0), &up);
    pen.stroke(view.to_path(CURVE_MM), 0.2, Dash::Solid);
    let extent = extent(zone, told);
    let to_paper = Affine::translate(view.center().to_vec2())
        * Affine::scale_non_uniform(enlarged, -enlarged)
        * Affine::translate(-extent.center().to_vec2());
    let go = outline_path(&zone.go, to_paper);
    pen.area(go.clone(), GO);
    pen.stroke(outline_path(&zone.possible, to_paper), 0.4, Dash::Dashed);
    pen.stroke(go, 0.7, Dash::Solid);
    let (old, true_at) = (to_paper * point(zone.old), to_paper * point(zone.true_position));
    if view.inset(-2.5).contains(old) {
        old_mark(pen, old);
    } else {
        beyond(pen, view, true_at, old);
    }
    true_mark(pen, true_at);
    if let Some(planned) = zone.planned.filter(|_| told) {
        planned_mark(pen, to_paper * point(planned));
    }
    let off = (point(zone.old) - point(zone.true_position)).hypot();
    let width = view.width() * PT_PER_MM;
    let text = of.fonts.fit(&format!("old centre {} off true", of.spoken(off)?), Weight::Plain, 9.0, width);
    pen.text(Point::new(view.x0, view.y1 + 4.0), Align::Left, (Weight::Plain, 9.0), &text);
    let held = match (zone.possible.is_empty(), zone.go.is_empty()) {
        (true, _) => "nowhere is every margin 0 or more".to_owned(),
        (false, true) => "nowhere is every limit at go".to_owned(),
        (false, false) => {
            let mut names: Vec<String> = Vec::new();
            for (made_by, _, _) in named(zone).into_iter().filter(|(made_by, _, _)| made_by.limit != "none") {
                let name = words::limit(made_by.limit);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            if names.is_empty() { "no limit near".to_owned() } else { format!("edges: {}", names.join(", ")) }
        }
    };
    let text = of.fonts.fit(&held, Weight::Plain, 9.0, width);
    pen.text(Point::new(view.x0, view.y1 + 8.0), Align::Left, (Weight::Plain, 9.0), &text);
    Ok(())
}

/// An arrow at the edge, towards an old centre that lies outside.
fn beyond(pen: &mut Pen<'_>, view: Rect, from: Point, old: Point) {
    let away = old - from;
    if away.hypot() < 1e-6 {
        return;
    }
    let way = away / away.hypot();
    let inner = view.inset(-1.5);
    let reach = [
        if way.x > 0.0 { (inner.x1 - from.x) / way.x } else { (inner.x0 - from.x) / way.x },
        if way.y > 0.0 { (inner.y1 - from.y) / way.y } else { (inner.y0 - from.y) / way.y },
    ];
    let far = reach.into_iter().filter(|r| r.is_finite() && *r > 0.0).fold(f64::INFINITY, f64::min);
    if far.is_finite() {
        let tip = from + way * far;
        pen.arrow(tip - way * far.min(7.0), tip, 0.4);
    }
}

fn key(pen: &mut Pen<'_>, of: &Subject<'_>, top: f64, enlarged: f64) {
    scale::bar(pen, Point::new(1.0, top + 3.0), enlarged, 26.0, of.units());
    let plain = (Weight::Plain, 9.5);
    let mut x = 52.0;
    let mut mark = |pen: &mut Pen<'_>, draw: fn(&mut Pen<'_>, Point), word: &str| {
        draw(pen, Point::new(x, top + 3.0));
        pen.text(Point::new(x + 4.5, top + 4.2), Align::Left, plain, word);
        x += 4.5 + pen.text_box(Point::ORIGIN, Align::Left, plain, word).width() + 7.0;
    };
    mark(pen, old_mark, "old centre");
    mark(pen, true_mark, "true position");
    mark(pen, planned_mark, "planned");
    let mut x = 1.0;
    for (hatched, width, dash, word) in
        [(true, 0.7, Dash::Solid, "every limit at go"), (false, 0.4, Dash::Dashed, "every margin 0 or more")]
    {
        let sample = Rect::new(x, top + 8.0, x + 6.5, top + 12.0).to_path(CURVE_MM);
        if hatched {
            pen.area(sample.clone(), GO);
        }
        pen.stroke(sample, width, dash);
        pen.text(Point::new(x + 9.0, top + 11.2), Align::Left, plain, word);
        x += 9.0 + pen.text_box(Point::ORIGIN, Align::Left, plain, word).width() + 6.0;
    }
    let more = "rear to the right; an arrow at the edge: the old centre lies outside";
    pen.text(Point::new(0.0, top + 17.5), Align::Left, plain, more);
}
