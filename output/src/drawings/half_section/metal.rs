//! Block, jacket, what is left of the old liner, sleeve, O-rings, stud and fire ring.

use borewright_planner::job::Depths;
use borewright_planner::job::pocket::Feature;
use kurbo::{BezPath, Ellipse, Point, Rect, Shape as _};

use super::{BLOCK, HalfSection, LINER, SLEEVE, View, WALL_MM};
use crate::drawings::figure::{CURVE_MM, Filling, Pen, path_of};
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;

/// A cut edge.
const EDGE_MM: f64 = 0.45;
/// What lies behind or beside.
const FINE_MM: f64 = 0.2;
/// A ring of the liner thinner than this is not drawn, mm.
const SHELL_MM: f64 = 0.05;

/// A sample of a hatching; water where there is none.
pub(super) fn swatch(pen: &mut Pen<'_>, at: Point, filling: Option<Filling>) {
    let frame = Rect::from_origin_size(at, (6.0, 4.0));
    match filling {
        Some(filling) => pen.area(frame.to_path(CURVE_MM), filling),
        None => water(pen, frame),
    }
    pen.stroke(frame.to_path(CURVE_MM), FINE_MM, Dash::Solid);
}

/// Short dashes in rows, every other row shifted.
fn water(pen: &mut Pen<'_>, area: Rect) {
    const ROWS: f64 = 3.0;
    const DASH: f64 = 2.2;
    let mut y = area.y0 + 1.2;
    let mut odd = false;
    while y < area.y1 - 0.4 {
        let mut x = area.x0 + if odd { 1.0 + DASH } else { 1.0 };
        while x + DASH < area.x1 {
            pen.line(Point::new(x, y), Point::new(x + DASH, y), 0.15, Dash::Solid);
            x += 2.0 * DASH;
        }
        odd = !odd;
        y += ROWS / 2.0;
    }
}

impl HalfSection<'_> {
    /// Draws all of it.
    pub(super) fn metal(&self, pen: &mut Pen<'_>, view: &View) {
        self.block(pen, view);
        self.jacket(pen, view);
        self.shell(pen, view);
        self.draw_stud(pen, view);
        self.draw_sleeve(pen, view);
        self.fire_ring(pen, view);
        let [top, foot] = [view.at(0.0, 0.0).y - 6.0, view.at(0.0, view.deep).y];
        let axis = view.at(0.0, 0.0).x;
        pen.line(Point::new(axis, top), Point::new(axis, foot), FINE_MM, Dash::Axis);
        pen.text(Point::new(axis + 1.5, foot - 1.0), Align::Left, (Weight::Plain, 9.0), "axis");
    }

    /// The pocket's outline from the deck down, radius and depth.
    pub(super) fn outline(&self) -> Vec<[f64; 2]> {
        let chamfer = self.job.allowances.ledge_chamfer_mm;
        let flange = self.pocket.flange.as_ref().map(|f| &f.cut);
        let mut points: Vec<[f64; 2]> =
            flange.into_iter().flat_map(|f| [[f.radius_mm, 0.0], [f.radius_mm, f.depths.to_mm]]).collect();
        for (i, step) in self.pocket.steps.iter().enumerate() {
            // Only the ledge's own edge is broken by so much.
            let broken = flange.filter(|f| i == 0 && step.radius_mm + chamfer < f.radius_mm);
            if let Some(floor) = broken.map(|f| f.depths.to_mm) {
                points.push([step.radius_mm + chamfer, floor]);
                points.push([step.radius_mm, floor + chamfer]);
            } else {
                points.push([step.radius_mm, step.depths.from_mm]);
            }
            points.push([step.radius_mm, step.depths.to_mm]);
        }
        points
    }

    fn block(&self, pen: &mut Pen<'_>, view: &View) {
        let end = self.pocket.depth_mm();
        let floor = self.job.block.parent.bore_length_mm.max(end);
        let mut inner = self.outline();
        if floor > end {
            let last = self.pocket.steps.last().map_or(0.0, |s| s.radius_mm);
            let old = self.old_radius().unwrap_or(last);
            // A step is no narrower than its own bore, which is opened where the old one is smaller.
            let old = self.pocket.foot.as_ref().map_or(old, |foot| old.max(foot.radius_mm).min(last));
            inner.extend([[old, end], [old, floor]]);
        }
        let drawn: Vec<Point> = inner.iter().map(|[r, d]| view.at(*r, *d)).collect();
        let mut area = drawn.clone();
        area.extend([view.at(view.far, floor), view.at(view.far, 0.0)]);
        pen.area(path_of(&area, true), BLOCK);
        pen.polyline(&drawn, false, EDGE_MM, Dash::Solid);
        let foot = inner.last().map_or(0.0, |p| p[0]);
        for (depth, radius) in [(0.0, inner.first().map_or(0.0, |p| p[0])), (floor, foot)] {
            pen.line(view.at(radius, depth), view.at(view.far, depth), EDGE_MM, Dash::Solid);
        }
        // Where the block goes on.
        let (top, low) = (view.at(view.far, 0.0), view.at(view.far, floor));
        let mut broken = BezPath::new();
        broken.move_to(top);
        let third = (low.y - top.y) / 3.0;
        let at = |dx: f64, n: f64| Point::new(top.x + dx, top.y + n * third);
        broken.curve_to(at(2.0, 1.0), at(-2.0, 2.0), low);
        pen.stroke(broken, FINE_MM, Dash::Solid);
    }

    /// Stretches of the jacket with the radius of the metal that closes them towards the bore.
    pub(super) fn jacket_stretches(&self, view: &View) -> Vec<(Depths, f64)> {
        let Some(jacket) = self.job.block.parent.jacket else { return Vec::new() };
        let any = self.pocket.steps.iter().find_map(|s| self.wall(s)).unwrap_or(WALL_MM);
        let mut made = Vec::new();
        if let Some(flange) = self.pocket.flange.as_ref().map(|f| &f.cut)
            && let Some(shared) = flange.depths.shared(&jacket)
        {
            made.push((shared, flange.radius_mm + any));
        }
        for (i, step) in self.pocket.steps.iter().enumerate() {
            let Some(shared) = step.depths.shared(&jacket) else { continue };
            // Where the sleeve stands in coolant nothing is left between: the water reaches it.
            let dry = || step.radius_mm + self.wall(step).unwrap_or(any);
            made.push((shared, if step.wet { self.outside(view, i) } else { dry() }));
        }
        let end = self.pocket.depth_mm();
        if jacket.to_mm > end {
            let below = Depths { from_mm: jacket.from_mm.max(end), to_mm: jacket.to_mm };
            made.push((below, self.old_radius().unwrap_or(0.0) + any));
        }
        made.retain(|(depths, _)| depths.to_mm > depths.from_mm);
        made
    }

    fn jacket(&self, pen: &mut Pen<'_>, view: &View) {
        let stretches = self.jacket_stretches(view);
        for (depths, radius) in &stretches {
            let far = view.far - 3.0;
            if *radius >= far {
                continue;
            }
            let area = Rect::from_points(view.at(*radius, depths.from_mm), view.at(far, depths.to_mm));
            pen.area(area.to_path(CURVE_MM), Filling::White);
            water(pen, area);
        }
        // Its outline: the inner side stretch by stretch, roof and floor.
        let far = view.far - 3.0;
        let mut points = Vec::new();
        if let Some((first, _)) = stretches.first() {
            points.push(view.at(far, first.from_mm));
        }
        for (depths, radius) in &stretches {
            let radius = radius.min(far);
            points.extend([view.at(radius, depths.from_mm), view.at(radius, depths.to_mm)]);
        }
        if let Some((last, _)) = stretches.last() {
            points.push(view.at(far, last.to_mm));
        }
        pen.polyline(&points, true, EDGE_MM, Dash::Solid);
    }

    /// Where the pocket stays inside the old liner: depths, inside and outside radius.
    pub(super) fn liner_left(&self) -> impl Iterator<Item = (Depths, f64, f64)> + '_ {
        let liner = self.job.block.parent.liner.as_ref();
        let left = move |f: &Feature| {
            let liner = liner?;
            let outside = liner.outside_mm / 2.0;
            let depths = f.depths.shared(&Depths { from_mm: 0.0, to_mm: liner.length_mm })?;
            (outside > f.radius_mm + SHELL_MM).then_some((depths, f.radius_mm, outside))
        };
        self.pocket.features().filter_map(left)
    }

    fn shell(&self, pen: &mut Pen<'_>, view: &View) {
        for (depths, inside, outside) in self.liner_left() {
            let area = Rect::from_points(view.at(inside, depths.from_mm), view.at(outside, depths.to_mm));
            pen.area(area.to_path(CURVE_MM), Filling::White);
            pen.area(area.to_path(CURVE_MM), LINER);
            pen.stroke(area.to_path(CURVE_MM), FINE_MM, Dash::Solid);
        }
    }

    fn draw_stud(&self, pen: &mut Pen<'_>, view: &View) {
        let Some(stud) = self.stud() else { return };
        let to = stud.to.min(view.deep);
        let hole = Rect::from_points(
            view.at(stud.away - stud.diameter / 2.0, stud.from.max(0.0)),
            view.at((stud.away + stud.diameter / 2.0).min(view.far), to),
        );
        pen.area(hole.to_path(CURVE_MM), Filling::White);
        pen.stroke(hole.to_path(CURVE_MM), FINE_MM * 1.5, Dash::Solid);
        let axis = [stud.from - 3.0 / view.scale, to + 2.0 / view.scale].map(|d| view.at(stud.away, d));
        pen.line(axis[0], axis[1], 0.15, Dash::Axis);
    }

    /// Radius that a step of the sleeve is drawn with: a gap shows, a tight fit is one line.
    fn outside(&self, view: &View, index: usize) -> f64 {
        let Some(feature) = self.pocket.steps.get(index) else { return 0.0 };
        let interference = self.sleeve.body.get(index).map_or(0.0, |s| s.interference_mm);
        if interference >= 0.0 {
            feature.radius_mm
        } else {
            feature.radius_mm - view.gap(-interference / 2.0)
        }
    }

    /// Depth of the sleeve's upper end: the flange's, or of a plain one the final deck, with which it is cut flush.
    pub(super) fn top(&self) -> f64 {
        match (&self.pocket.flange, self.sleeve.flange()) {
            (Some(recess), Some(flange)) => recess.cut.depths.to_mm - flange.thickness_mm,
            _ => self.job.engine.deck.cut_mm,
        }
    }

    fn draw_sleeve(&self, pen: &mut Pen<'_>, view: &View) {
        let bore = self.job.finish.bore_mm / 2.0;
        let top = self.top();
        let mut points = vec![view.at(bore, top)];
        if let Some(flange) = &self.pocket.flange {
            let rim = flange.cut.radius_mm - view.gap(flange.cut.radius_mm - flange.metal_mm);
            points.extend([view.at(rim, top), view.at(rim, flange.cut.depths.to_mm)]);
        }
        for (i, step) in self.pocket.steps.iter().enumerate() {
            let radius = self.outside(view, i);
            // A plain sleeve's own end stands where it will be cut.
            let from = if i == 0 && self.pocket.flange.is_none() { top } else { step.depths.from_mm };
            points.extend([view.at(radius, from), view.at(radius, step.depths.to_mm)]);
        }
        points.push(view.at(bore, self.pocket.depth_mm()));
        let outline = path_of(&points, true);
        pen.area(outline.clone(), Filling::White);
        pen.area(outline.clone(), SLEEVE);
        pen.stroke(outline, EDGE_MM, Dash::Solid);
        self.grooves(pen, view);
    }

    fn grooves(&self, pen: &mut Pen<'_>, view: &View) {
        let cut = self.job.engine.deck.cut_mm;
        for (i, (step, feature)) in self.sleeve.body.iter().zip(&self.pocket.steps).enumerate() {
            for ring in &step.o_rings {
                let (floor, wall) = (ring.groove_diameter_mm / 2.0, feature.radius_mm);
                let middle = ring.depth_mm + cut;
                let half = ring.groove_width_mm / 2.0;
                let groove = Rect::from_points(
                    view.at(floor, middle - half),
                    view.at(self.outside(view, i), middle + half),
                );
                pen.area(groove.to_path(CURVE_MM), Filling::White);
                pen.stroke(groove.to_path(CURVE_MM), FINE_MM, Dash::Solid);
                // Squeezed to the gland, its area kept.
                let gland = (wall - floor).max(0.1);
                let across = gland.min(ring.cord_mm);
                let along = (ring.cord_mm * ring.cord_mm / across).min(ring.groove_width_mm);
                let radii = (across / 2.0 * view.scale, along / 2.0 * view.scale);
                let section = Ellipse::new(view.at(floor + gland / 2.0, middle), radii, 0.0);
                pen.area(section.to_path(CURVE_MM), Filling::Black);
            }
        }
    }

    fn fire_ring(&self, pen: &mut Pen<'_>, view: &View) {
        let Some(ring) = self.job.block.fire_ring else { return };
        let top = self.top();
        let [inner, outer] = [ring.inside_mm, ring.outside_mm].map(|d| view.at(d / 2.0, top));
        let area = Rect::new(inner.x, inner.y - 1.6, outer.x, inner.y - 0.4);
        pen.area(area.to_path(CURVE_MM), Filling::Black);
    }
}
