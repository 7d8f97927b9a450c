//! A bank's deck to scale, seen from the spindle, as the block stands on the machine.
//!
//! Where the front is at the operator's right the whole view is turned about, both axes, just as the
//! lists are: what is drawn to the right of a bore is to the right of it on the machine.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

use borewright_planner::job::Front;
use borewright_planner::plan::Cylinder;
use kurbo::{Affine, BezPath, Circle, Line, Point, Rect, Shape, Vec2};

use super::setup::Sheet;
use crate::OutputError;
use crate::paper::canvas::{Align, CURVE_TOLERANCE, Canvas, Dash, Ink};
use crate::paper::pages::{BODY, INNER, LEFT, Pages, RIGHT};
use crate::paper::text::{Fonts, Weight};

/// Tallest drawing, pt; a sheet with the view and its table on one page is read without turning.
const TALLEST: f64 = 200.0;
/// A shift that prints as nothing gets no arrow, mm.
const NO_SHIFT: f64 = 0.0005;
/// Room round the outermost circle, mm.
const MARGIN: f64 = 7.0;

/// The figures of one view.
struct View<'a> {
    fonts: &'a Fonts,
    /// Bank mm to page pt.
    to_page: Affine,
    /// pt per mm.
    scale: f64,
    /// How many times an arrow is drawn larger than the shift it stands for.
    enlarged: f64,
}

impl Sheet<'_> {
    /// Draws it with its key.
    ///
    /// # Errors
    /// Where a figure is not finite.
    pub(crate) fn deck_view(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let cylinders = self.cylinders(bank);
        let extent = self.extent(bank, &cylinders);
        if !(extent.width().is_finite() && extent.height().is_finite()) || extent.area() <= 0.0 {
            return Err(OutputError::Drawing);
        }
        let scale = ((INNER - 8.0) / extent.width()).min(TALLEST / extent.height());
        let height = extent.height() * scale;
        pages.need(height + 88.0);
        let front = self.front(bank);
        let top = pages.y + 18.0;
        let centre = Point::new((LEFT + RIGHT) / 2.0, top + height / 2.0);
        // Page y runs down: a bank's +Y goes up the page. With the front at the right both are turned.
        let turn = if front == Front::Left { 1.0 } else { -1.0 };
        let to_page = Affine::translate(centre.to_vec2())
            * Affine::scale_non_uniform(scale * turn, -scale * turn)
            * Affine::translate(-extent.center().to_vec2());
        let view = View {
            fonts: pages.fonts,
            to_page,
            scale,
            enlarged: enlargement(self.bore_radius(&cylinders), &cylinders),
        };
        let canvas = &mut pages.canvas;
        view.deck(canvas, extent);
        self.draw_holes(canvas, &view, bank);
        for cylinder in &cylinders {
            self.draw_cylinder(canvas, &view, cylinder);
        }
        view.datum(canvas, extent);
        let sides = self.sides(bank);
        let (up, down) = match front {
            Front::Left => (sides.plus_side, sides.minus_side),
            Front::Right => (sides.minus_side, sides.plus_side),
        };
        // Beside a narrow view the end labels stand clear of the side's name.
        let half = (extent.width() * scale / 2.0).clamp(175.0, INNER / 2.0);
        let edge = (centre.x - half, centre.x + half);
        view.labels(canvas, front, edge, (top, top + height), (up, down));
        pages.y = top + height + 20.0;
        self.key(pages, &view, &cylinders);
        Ok(())
    }

    /// The view's corner points in the bank, mm.
    fn extent(&self, bank: usize, cylinders: &[&Cylinder]) -> Rect {
        let outermost = |cylinder: &&Cylinder| {
            self.flange_radius(cylinder)
                .unwrap_or(0.0)
                .max(self.pocket_radius(cylinder))
                .max(cylinder.measured.diameter / 2.0)
        };
        let middle = |c: &Cylinder| match c.withheld {
            true => (c.measured.x, c.measured.y),
            false => (c.planned.x, c.planned.y),
        };
        let mut boxes =
            cylinders.iter().map(|c| Circle::new(middle(c), outermost(c) + MARGIN).bounding_box());
        let first = boxes.next().unwrap_or(Rect::new(-1.0, -1.0, 1.0, 1.0));
        let bores = boxes.fold(first, |all, one| all.union(one));
        let studs = self.planning.job.block.studs.iter().filter(|stud| stud.bank == bank);
        let all = studs.fold(bores, |all, stud| {
            all.union(
                Circle::new((stud.centre_mm[0], stud.centre_mm[1]), stud.diameter_mm / 2.0 + MARGIN / 2.0)
                    .bounding_box(),
            )
        });
        // The datum is drawn where it lies beside the bores; far away it would only shrink the view.
        let datum = Rect::new(-MARGIN, -MARGIN, MARGIN, MARGIN);
        let with_datum = all.union(datum);
        if with_datum.width() < all.width() * 1.25 && with_datum.height() < all.height() * 1.25 {
            with_datum
        } else {
            all
        }
    }

    /// The flange pocket, of a cylinder that may be cut.
    fn flange_radius(&self, cylinder: &Cylinder) -> Option<f64> {
        let sleeve = self.sleeve(cylinder).filter(|_| !cylinder.withheld);
        sleeve.and_then(|s| s.flange()).map(|f| (f.diameter_mm + f.clearance_mm) / 2.0)
    }

    /// The largest pocket below the flange; the measured bore where no sleeve is known, or none may be cut.
    fn pocket_radius(&self, cylinder: &Cylinder) -> f64 {
        let steps = self.sleeve(cylinder).filter(|_| !cylinder.withheld).map(|sleeve| &sleeve.body);
        let widest =
            steps.into_iter().flatten().map(|s| s.diameter_mm - s.interference_mm).fold(0.0, f64::max);
        if widest > 0.0 { widest / 2.0 } else { cylinder.measured.diameter / 2.0 }
    }

    fn bore_radius(&self, cylinders: &[&Cylinder]) -> f64 {
        cylinders.iter().map(|c| c.measured.diameter / 2.0).fold(1.0, f64::max)
    }

    fn draw_holes(&self, canvas: &mut Canvas, view: &View, bank: usize) {
        let block = &self.planning.job.block;
        for stud in block.studs.iter().filter(|stud| stud.bank == bank) {
            let circle =
                view.circle(Point::new(stud.centre_mm[0], stud.centre_mm[1]), stud.diameter_mm / 2.0);
            canvas.circle(circle, 0.8, Dash::Solid);
            cross(canvas, circle.center, circle.radius * 0.6);
        }
        for hole in block.coolant_holes.iter().filter(|hole| hole.bank == bank) {
            let [from, to] =
                [hole.start_mm, hole.end_mm].map(|end| view.to_page * Point::new(end[0], end[1]));
            canvas.line(from, to, (hole.diameter_mm * view.scale).max(1.0) * 0.5, Dash::Dashed);
        }
    }

    fn draw_cylinder(&self, canvas: &mut Canvas, view: &View, cylinder: &Cylinder) {
        let measured = Point::new(cylinder.measured.x, cylinder.measured.y);
        if cylinder.withheld {
            let old = view.circle(measured, cylinder.measured.diameter / 2.0);
            canvas.circle(old, 0.9, Dash::Dashed);
            hatch(canvas, old);
            view.number(canvas, old.center + Vec2::new(0.0, old.radius * 0.56), cylinder.cylinder);
            return;
        }
        let planned = Point::new(cylinder.planned.x, cylinder.planned.y);
        if let Some(radius) = self.flange_radius(cylinder) {
            canvas.circle(view.circle(planned, radius), 0.6, Dash::Solid);
        }
        let pocket = view.circle(planned, self.pocket_radius(cylinder));
        canvas.circle(pocket, 1.8, Dash::Solid);
        canvas.circle(view.circle(measured, cylinder.measured.diameter / 2.0), 0.9, Dash::Dashed);
        let centre = view.to_page * measured;
        let shift = Vec2::new(cylinder.shift.x, cylinder.shift.y);
        let arrow = view.to_page * (measured + shift * view.enlarged) - centre;
        let moves = shift.hypot() >= NO_SHIFT;
        // The number stands on the side that the arrow leaves free.
        let away = if moves { arrow / arrow.hypot() * -1.0 } else { Vec2::new(0.0, 1.0) };
        view.number(canvas, centre + away * pocket.radius * 0.56, cylinder.cylinder);
        cross(canvas, centre, 4.0);
        if moves {
            draw_arrow(canvas, centre, arrow);
        }
    }

    fn key(&self, pages: &mut Pages, view: &View, cylinders: &[&Cylinder]) {
        let mut words = "Dashed: old bore. Heavy: new pocket. Thin: flange pocket. Small circles: studs. Dash-dot: journal \
                         axis, Y 0. Drawn as it stands on the machine: X+ to the right, Y+ up the page. "
            .to_owned();
        if cylinders.iter().any(|c| !c.withheld && c.shift.distance >= NO_SHIFT) {
            words.push_str(&format!("Arrows from the old centre to the new, {} : 1. ", view.enlarged));
        }
        if cylinders.iter().any(|c| c.withheld) {
            words.push_str("Hatched: withheld, do not cut.");
        }
        pages.paragraph(&words, Weight::Plain, BODY);
    }
}

impl View<'_> {
    fn circle(&self, centre_mm: Point, radius_mm: f64) -> Circle {
        Circle::new(self.to_page * centre_mm, radius_mm * self.scale)
    }

    /// The deck's outline (a plain frame: the casting's own shape is not known), its front edge heavy,
    /// and the journal axis.
    fn deck(&self, canvas: &mut Canvas, extent: Rect) {
        let corners = self.to_page.transform_rect_bbox(extent);
        canvas.frame(corners, 0.8);
        let front = [extent.y0, extent.y1].map(|y| self.to_page * Point::new(extent.x0, y));
        canvas.line(front[0], front[1], 4.0, Dash::Solid);
        if (extent.y0..extent.y1).contains(&0.0) {
            let axis = [extent.x0, extent.x1].map(|x| self.to_page * Point::new(x, 0.0));
            canvas.line(axis[0], axis[1], 0.6, Dash::Axis);
        }
    }

    /// Zero of the lists: a circle with two quarters filled, where it lies in the view.
    fn datum(&self, canvas: &mut Canvas, extent: Rect) {
        if !extent.contains(Point::ZERO) {
            return;
        }
        let centre = self.to_page * Point::ZERO;
        let radius = 5.0;
        canvas.fill(Circle::new(centre, radius).to_path(CURVE_TOLERANCE), Ink::White);
        canvas.circle(Circle::new(centre, radius), 0.8, Dash::Solid);
        for start in [0.0, PI] {
            let quarter = Circle::new(centre, radius).segment(0.0, start, FRAC_PI_2);
            canvas.fill(quarter.to_path(CURVE_TOLERANCE), Ink::Black);
        }
    }

    fn labels(
        &self,
        canvas: &mut Canvas,
        front: Front,
        edge: (f64, f64),
        height: (f64, f64),
        sides: (&str, &str),
    ) {
        let (left, right) = edge;
        let (top, bottom) = height;
        let middle = Point::new((left + right) / 2.0, top - 5.0);
        let bold = (Weight::Bold, 12.0);
        canvas.text(self.fonts, middle, Align::Middle, bold, sides.0);
        canvas.text(self.fonts, Point::new(middle.x, bottom + 14.0), Align::Middle, bold, sides.1);
        let (front_end, rear_end) = match front {
            Front::Left => ((left, Align::Left, -1.0), (right, Align::Right)),
            Front::Right => ((right, Align::Right, 1.0), (left, Align::Left)),
        };
        let (x, align, way) = front_end;
        // An arrowhead beyond the word, pointing off the front.
        let tip = Point::new(x, top - 9.5);
        let mut head = BezPath::new();
        head.move_to(tip);
        head.line_to(tip + Vec2::new(-way * 10.0, -5.0));
        head.line_to(tip + Vec2::new(-way * 10.0, 5.0));
        head.close_path();
        canvas.fill(head, Ink::Black);
        let word = Point::new(x - way * 16.0, top - 5.0);
        canvas.text(self.fonts, word, align, (Weight::Bold, 14.0), "FRONT");
        canvas.text(self.fonts, Point::new(rear_end.0, top - 5.0), rear_end.1, (Weight::Plain, 12.0), "rear");
    }

    /// A cylinder's number on a white ground, so that hatching and axes do not run through it.
    fn number(&self, canvas: &mut Canvas, centre: Point, cylinder: u32) {
        let text = cylinder.to_string();
        let style = (Weight::Bold, 15.0);
        let half = self.fonts.width(&text, style.0, style.1) / 2.0 + 1.5;
        let ground = Rect::new(centre.x - half, centre.y - 7.5, centre.x + half, centre.y + 7.5);
        canvas.fill(ground.to_path(CURVE_TOLERANCE), Ink::White);
        canvas.text(self.fonts, Point::new(centre.x, centre.y + 5.5), Align::Middle, style, &text);
    }
}

/// The largest of 1, 2, 5, 10 … at which the longest arrow stays within 0.55 of a bore's radius.
fn enlargement(bore_radius_mm: f64, cylinders: &[&Cylinder]) -> f64 {
    let told = cylinders.iter().filter(|c| !c.withheld);
    let longest = told.map(|c| c.shift.x.hypot(c.shift.y)).fold(0.0, f64::max);
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
    steps.into_iter().take_while(|step| step * longest <= 0.55 * bore_radius_mm).last().unwrap_or(1.0)
}

fn cross(canvas: &mut Canvas, centre: Point, half: f64) {
    canvas.line(centre - Vec2::new(half, 0.0), centre + Vec2::new(half, 0.0), 0.6, Dash::Solid);
    canvas.line(centre - Vec2::new(0.0, half), centre + Vec2::new(0.0, half), 0.6, Dash::Solid);
}

/// A shaft and a filled head; a short arrow has a short head.
fn draw_arrow(canvas: &mut Canvas, from: Point, arrow: Vec2) {
    let length = arrow.hypot();
    let along = arrow / length;
    let across = Vec2::new(-along.y, along.x);
    let head = length.min(8.0);
    let tip = from + arrow;
    canvas.line(from, tip - along * head * 0.8, 1.6, Dash::Solid);
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(tip - along * head + across * head * 0.45);
    path.line_to(tip - along * head - across * head * 0.45);
    path.close_path();
    canvas.fill(path, Ink::Black);
}

/// Diagonal lines across a circle.
fn hatch(canvas: &mut Canvas, circle: Circle) {
    let along = Vec2::from_angle(-FRAC_PI_4);
    let across = Vec2::new(-along.y, along.x);
    let mut offset = -circle.radius + 4.0;
    while offset < circle.radius {
        let half = (circle.radius * circle.radius - offset * offset).max(0.0).sqrt();
        let middle = circle.center + across * offset;
        let chord = Line::new(middle - along * half, middle + along * half);
        canvas.line(chord.p0, chord.p1, 0.5, Dash::Solid);
        offset += 6.0;
    }
}
