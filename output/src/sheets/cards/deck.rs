//! A bank's deck at a round scale, seen from the spindle, as the block stands on the machine.

use std::f64::consts::TAU;

use borewright_planner::job::Front;
use borewright_planner::job::Sleeve;
use borewright_planner::plan::{Cylinder, cylinder_words};
use kurbo::{Affine, BezPath, Circle, Line, ParamCurveNearest as _, Point, Rect, Shape, Vec2};

use super::area::{INNER, LEFT, RIGHT};
use super::deal::Deal;
use crate::OutputError;
use crate::drawings::PT_PER_MM;
use crate::paper::canvas::{Align, CURVE_TOLERANCE, Dash, Ink};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{self, one_line};
use crate::sheets::sheet::Sheet;

/// Tallest drawing, and the lowest that is drawn lower for the sake of one page, pt.
const TALLEST: f64 = 150.0;
const LOWEST: f64 = 44.0;
/// What stands above and below it, without its key, pt.
const AROUND: f64 = 33.0;
/// Size of the key.
const KEY: f64 = 9.5;
/// Room beside it for the rose, pt.
const ROSE: f64 = 96.0;
/// Sizes of a bore's number, and how far its middle keeps from arrow and triangle where the larger one stands, pt.
const LARGER: f64 = 14.0;
const SMALLER: f64 = 10.0;
const CLEAR: f64 = 11.0;
/// Shifts below this get no arrow, mm.
const NO_SHIFT: f64 = 0.0005;
/// Room round the outermost circle, mm.
const MARGIN: f64 = 5.0;

/// From the bank to the page.
struct View {
    to_page: Affine,
    /// pt per mm.
    scale: f64,
    enlarged: f64,
}

impl Sheet<'_> {
    /// Draws a bank's deck with its key, lower than it might be where all that `follows` (pt) then stands on the same page.
    ///
    /// # Errors
    /// Where a place is not finite.
    pub(super) fn deck(&self, deal: &mut Deal<'_>, bank: usize, follows: f64) -> Result<(), OutputError> {
        let cylinders = self.cylinders(bank);
        // As long as the key gets: the scale is not known yet.
        let key = self.key_words(12.5, 100.0, &cylinders)?;
        let around = AROUND + deal.height(&key, Weight::Plain, KEY, INNER) + 3.0;
        let left = deal.room() - around - follows;
        // Where what follows goes over, it takes what its own page has left.
        let alone = deal.room() - around;
        let tallest =
            [left, alone].into_iter().find(|high| *high >= LOWEST).map_or(TALLEST, |high| high.min(TALLEST));
        let extent = self.deck_extent(bank, &cylinders);
        if !(extent.width().is_finite() && extent.height().is_finite()) || extent.area() <= 0.0 {
            return Err(OutputError::Drawing);
        }
        let fits = ((INNER - ROSE - 10.0) / extent.width()).min(tallest / extent.height()) / PT_PER_MM;
        let one_to = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 30.0, 50.0];
        let one_to = one_to.into_iter().find(|n| 1.0 / n <= fits).unwrap_or(100.0);
        let scale = PT_PER_MM / one_to;
        let [wide, high] = [extent.width() * scale, extent.height() * scale];
        deal.need(high + around);
        let (since, above) = (deal.marks(), deal.y);
        let front = self.front(bank);
        // Beside a narrow deck, above it there is room for its side's name alone.
        let narrow = wide < 330.0;
        let top = deal.y + 16.0;
        let centre = Point::new(LEFT + (INNER - ROSE) / 2.0, top + high / 2.0);
        let turn = if front == Front::Left { 1.0 } else { -1.0 };
        let to_page = Affine::translate(centre.to_vec2())
            * Affine::scale_non_uniform(scale * turn, -scale * turn)
            * Affine::translate(-extent.center().to_vec2());
        let radius = cylinders.iter().map(|c| c.measured.diameter / 2.0).fold(1.0, f64::max);
        let longest = cylinders.iter().filter(|c| !c.withheld).map(|c| c.shift.distance).fold(0.0, f64::max);
        let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
        let enlarged = steps.into_iter().take_while(|s| s * longest <= 0.6 * radius).last().unwrap_or(1.0);
        let view = View { to_page, scale, enlarged };
        let frame = Rect::from_center_size(centre, (wide, high));
        deal.canvas.frame(frame, 0.8);
        self.deck_holes(deal, &view, bank);
        for cylinder in &cylinders {
            self.deck_bore(deal, &view, cylinder);
        }
        // The front edge is heavy.
        let front_x = if front == Front::Left { frame.x0 } else { frame.x1 };
        deal.canvas.line(Point::new(front_x, frame.y0), Point::new(front_x, frame.y1), 4.0, Dash::Solid);
        let (front_align, rear_x, rear_align) = match front {
            Front::Left => (Align::Left, frame.x1, Align::Right),
            Front::Right => (Align::Right, frame.x0, Align::Left),
        };
        let ends = if narrow { centre.y + 4.0 } else { top - 4.0 };
        let [front_x, rear_x] = match (narrow, front) {
            (false, _) => [front_x, rear_x],
            (true, Front::Left) => [front_x - 8.0, rear_x + 6.0],
            (true, Front::Right) => [front_x + 8.0, rear_x - 6.0],
        };
        let (front_align, rear_align) =
            if narrow { (rear_align, front_align) } else { (front_align, rear_align) };
        deal.put(Point::new(front_x, ends), front_align, Weight::Bold, 14.0, "FRONT");
        deal.put(Point::new(rear_x, ends), rear_align, Weight::Plain, 11.0, "rear");
        let sides = self.sides(bank);
        let (up, down) = match front {
            Front::Left => (sides.plus_side, sides.minus_side),
            Front::Right => (sides.minus_side, sides.plus_side),
        };
        deal.put(Point::new(frame.center().x, top - 4.0), Align::Middle, Weight::Plain, 10.0, up);
        let below = format!("{down}; operator stands here");
        deal.put(Point::new(frame.center().x, frame.y1 + 11.0), Align::Middle, Weight::Plain, 10.0, &below);
        rose(deal, front, Point::new(RIGHT - 46.0, centre.y));
        deal.y = frame.y1 + 15.0;
        let name = one_line(&self.planning.job.bank(bank).name, 36);
        let own: Vec<u32> = cylinders.iter().map(|c| c.cylinder).collect();
        let about = format!(
            "The deck from the spindle, its front at the {}: {}. Where they go stands in the table below.",
            if front == Front::Left { "left" } else { "right" },
            cylinder_words(&own)
        );
        // The rose may reach below a low deck.
        let area = Rect::new(LEFT, above, RIGHT, deal.y.max(centre.y + 42.0));
        deal.picture(since, area, &format!("Deck of {}", short::bank(&name)), &about)?;
        deal.say(&self.key_words(one_to, view.enlarged, &cylinders)?, Weight::Plain, KEY);
        Ok(())
    }

    /// What a picture of a deck shows, mm in the bank.
    pub(super) fn deck_extent(&self, bank: usize, cylinders: &[&Cylinder]) -> Rect {
        let round = |x: f64, y: f64, r: f64| Circle::new((x, y), r + MARGIN).bounding_box();
        // The old bores and the recesses round them: nothing of what is planned sets the view.
        let recess = |c: &Cylinder| match (c.withheld, self.sleeve(c)) {
            (false, Some(sleeve)) => widest_mm(sleeve) / 2.0,
            (true, _) | (false, None) => c.measured.diameter / 2.0,
        };
        let bores = cylinders.iter().map(|c| round(c.measured.x, c.measured.y, recess(c)));
        let studs = self.planning.job.block.studs.iter().filter(|s| s.bank == bank);
        let studs = studs.map(|s| round(s.centre_mm[0], s.centre_mm[1], s.diameter_mm / 2.0));
        bores.chain(studs).reduce(|a, b| a.union(b)).unwrap_or(Rect::new(-1.0, -1.0, 1.0, 1.0))
    }

    fn deck_holes(&self, deal: &mut Deal<'_>, view: &View, bank: usize) {
        let block = &self.planning.job.block;
        for stud in block.studs.iter().filter(|s| s.bank == bank) {
            // Filled: a stud hole is not taken for an old centre.
            let centre = view.to_page * Point::new(stud.centre_mm[0], stud.centre_mm[1]);
            let radius = stud.diameter_mm / 2.0 * view.scale;
            deal.canvas.fill(Circle::new(centre, radius).to_path(CURVE_TOLERANCE), Ink::Black);
            deal.canvas.fill(Circle::new(centre, radius * 0.55).to_path(CURVE_TOLERANCE), Ink::White);
        }
        for hole in block.coolant_holes.iter().filter(|h| h.bank == bank) {
            let [from, to] =
                [hole.start_mm, hole.end_mm].map(|end| view.to_page * Point::new(end[0], end[1]));
            deal.canvas.line(from, to, 1.0, Dash::Dashed);
        }
    }

    /// Draws a bore of the deck: old and planned, its number, the arrow of its shift, the mark of a touch check;
    /// hatched where it is withheld.
    fn deck_bore(&self, deal: &mut Deal<'_>, view: &View, cylinder: &Cylinder) {
        let measured = Point::new(cylinder.measured.x, cylinder.measured.y);
        let old = Circle::new(view.to_page * measured, cylinder.measured.diameter / 2.0 * view.scale);
        deal.canvas.circle(old, 0.8, Dash::Dashed);
        if cylinder.withheld {
            cross_hatch(deal, old);
            number(deal, old.center, (cylinder.cylinder, LARGER));
            return;
        }
        let planned = view.to_page * Point::new(cylinder.planned.x, cylinder.planned.y);
        if let Some(sleeve) = self.sleeve(cylinder) {
            let recess = widest_mm(sleeve) / 2.0;
            deal.canvas.circle(Circle::new(planned, recess * view.scale), 1.2, Dash::Solid);
        }
        let shift = Vec2::new(cylinder.shift.x, cylinder.shift.y);
        let arrow = view.to_page * (measured + shift * view.enlarged) - old.center;
        let moves = shift.hypot() >= NO_SHIFT;
        let touched =
            self.planning.lists.iter().flat_map(|l| &l.touch).any(|t| t.cylinder == Some(cylinder.cylinder));
        let triangle = old.center + Vec2::new(0.0, -old.radius * 0.72);
        let shaft = Line::new(old.center, if moves { old.center + arrow } else { old.center });
        let (place, clear) = clearest(old, shaft, touched.then_some(triangle));
        number(deal, place, (cylinder.cylinder, if clear < CLEAR { SMALLER } else { LARGER }));
        for half in [Vec2::new(4.0, 0.0), Vec2::new(0.0, 4.0)] {
            deal.canvas.line(old.center - half, old.center + half, 0.6, Dash::Solid);
        }
        if moves {
            draw_arrow(deal, old.center, arrow, 1.6);
        }
        if touched {
            let at = triangle;
            let mut mark = BezPath::new();
            mark.move_to(at + Vec2::new(0.0, 4.0));
            mark.line_to(at + Vec2::new(-4.0, -4.0));
            mark.line_to(at + Vec2::new(4.0, -4.0));
            mark.close_path();
            deal.canvas.fill(mark, Ink::Black);
        }
    }

    /// The key of a picture at a scale.
    fn key_words(&self, one_to: f64, enlarged: f64, cylinders: &[&Cylinder]) -> Result<String, OutputError> {
        let decimals = usize::from(one_to.fract() > 0.0);
        let mut words = format!("Scale 1 : {}. ", Fixed::new(one_to, decimals)?);
        if cylinders.iter().any(|c| !c.withheld && c.shift.distance >= NO_SHIFT) {
            words
                .push_str(&format!("Arrows, old centre to new: {} : 1. ", Fixed::new(enlarged / one_to, 1)?));
        }
        words.push_str("Dashed: old bore. Unbroken: recess. Rings: studs. ");
        if self.planning.lists.iter().any(|l| l.touch.iter().any(|t| t.cylinder.is_some())) {
            words.push_str("Triangle: touch check. ");
        }
        if cylinders.iter().any(|c| c.withheld) {
            words.push_str("Cross-hatched: held, do not cut.");
        }
        Ok(words)
    }
}

/// Clock and machine axes, as they lie on the page.
fn rose(deal: &mut Deal<'_>, front: Front, centre: Point) {
    const ROUND: f64 = 27.0;
    deal.canvas.circle(Circle::new(centre, ROUND), 0.6, Dash::Solid);
    for (to, name, beside) in [
        (Vec2::new(ROUND + 8.0, 0.0), "X+", Vec2::new(1.0, -6.0)),
        (Vec2::new(0.0, -ROUND - 8.0), "Y+", Vec2::new(0.0, -3.0)),
    ] {
        draw_arrow(deal, centre, to, 1.2);
        deal.put(centre + to + beside, Align::Middle, Weight::Bold, 11.0, name);
    }
    let turned = front == Front::Right;
    for (way, clock) in [
        (Vec2::new(1.0, 0.0), 0_u16),
        (Vec2::new(0.0, -1.0), 90),
        (Vec2::new(-1.0, 0.0), 180),
        (Vec2::new(0.0, 1.0), 270),
    ] {
        let clock = if turned { (clock + 180) % 360 } else { clock };
        // Beside the axes' arrows, which would strike it out.
        let beside = if way.x > 0.0 {
            Vec2::new(0.0, 11.5)
        } else if way.y < 0.0 {
            Vec2::new(-11.0, 3.5)
        } else {
            Vec2::new(0.0, 3.5)
        };
        deal.put(centre + way * 17.0 + beside, Align::Middle, Weight::Plain, 9.5, &format!("{clock}°"));
    }
    deal.put(centre + Vec2::new(0.0, ROUND + 11.0), Align::Middle, Weight::Plain, 9.5, "clock");
}

/// Where in a bore its number stands clearest of the arrow and of the triangle, and how far from the nearer of them, pt.
fn clearest(bore: Circle, arrow: Line, triangle: Option<Point>) -> (Point, f64) {
    const WAYS: u8 = 24;
    /// How much nearer a number may stand to a triangle's middle than to a line.
    const HALF: f64 = 4.0;
    let clear = |at: Point| {
        let shaft = arrow.nearest(at, 1e-3).distance_sq.sqrt();
        let mark = triangle.map_or(f64::INFINITY, |mark| (mark - at).hypot() - HALF);
        shaft.min(mark)
    };
    let place = |way: u8| {
        let (sin, cos) = (TAU * f64::from(way) / f64::from(WAYS)).sin_cos();
        // From below, which no triangle takes.
        bore.center + Vec2::new(sin, cos) * bore.radius * 0.55
    };
    let places = (0..WAYS).map(place).map(|at| (at, clear(at)));
    // Of places as clear the first.
    places.fold((bore.center, -1.0), |best, own| if own.1 > best.1 + 0.1 { own } else { best })
}

/// A bore's number of a size on a white ground.
fn number(deal: &mut Deal<'_>, centre: Point, (cylinder, size): (u32, f64)) {
    let text = cylinder.to_string();
    let half = deal.fonts.width(&text, Weight::Bold, size) / 2.0 + 1.5;
    let ground = Rect::from_center_size(centre, (2.0 * half, size));
    deal.canvas.fill(ground.to_path(CURVE_TOLERANCE), Ink::White);
    deal.put(Point::new(centre.x, centre.y + 0.36 * size), Align::Middle, Weight::Bold, size, &text);
}

/// A shaft and a filled head; a short arrow has a short head.
pub(super) fn draw_arrow(deal: &mut Deal<'_>, from: Point, arrow: Vec2, width: f64) {
    let length = arrow.hypot();
    if length < 0.3 {
        return;
    }
    let along = arrow / length;
    let across = Vec2::new(-along.y, along.x);
    let head = length.min(7.0);
    let tip = from + arrow;
    deal.canvas.line(from, tip - along * head * 0.8, width, Dash::Solid);
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(tip - along * head + across * head * 0.45);
    path.line_to(tip - along * head - across * head * 0.45);
    path.close_path();
    deal.canvas.fill(path, Ink::Black);
}

/// Lines both ways across a circle: held.
fn cross_hatch(deal: &mut Deal<'_>, circle: Circle) {
    for along in [Vec2::new(0.707, 0.707), Vec2::new(0.707, -0.707)] {
        let across = Vec2::new(-along.y, along.x);
        let mut offset = -circle.radius + 4.0;
        while offset < circle.radius {
            let half = (circle.radius * circle.radius - offset * offset).max(0.0).sqrt();
            let middle = circle.center + across * offset;
            let chord = Line::new(middle - along * half, middle + along * half);
            deal.canvas.line(chord.p0, chord.p1, 0.5, Dash::Solid);
            offset += 6.0;
        }
    }
}

/// Diameter of the widest cut for a sleeve: its recess, or its body where it has no flange, mm.
fn widest_mm(sleeve: &Sleeve) -> f64 {
    let body = sleeve.body.iter().map(|step| step.diameter_mm).fold(0.0, f64::max);
    sleeve.flange().map_or(body, |flange| flange.diameter_mm + flange.clearance_mm)
}
