//! The ledge's corner enlarged: chamfer and fillet, the recess' corner, and the clearance round the flange.

use kurbo::{Point, Rect, Shape as _, Vec2};

use super::{BLOCK, HalfSection, SLEEVE, Units, depth, fine};
use crate::OutputError;
use crate::drawings::figure::{CURVE_MM, Filling, Pen, Shape, path_of};
use crate::drawings::scale;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::shorten;

/// Room for the drawing itself, mm.
const ROOM_MM: [f64; 2] = [44.0, 32.0];
/// Shown beside and below the corner at most, mm of the engine.
const ROUND_MM: f64 = 2.5;
/// Size of its words.
const SIZE_PT: f64 = 9.0;

/// The detail, ready to draw.
pub(super) struct Detail {
    pub(super) shapes: Vec<Shape>,
    pub(super) high: f64,
}

impl HalfSection<'_> {
    /// The corner with its upper left at `at`, its words out to `right`; `None` where there is no ledge.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn detail(&self, at: Point, right: f64) -> Result<Option<Detail>, OutputError> {
        let Some(first) = self.pocket.steps.first() else { return Ok(None) };
        let (Some(flange), Some(recess)) = (self.sleeve.flange(), &self.pocket.flange) else {
            return Ok(None);
        };
        let (inner, outer) = (first.radius_mm, recess.cut.radius_mm);
        if outer <= inner {
            return Ok(None);
        }
        let floor = recess.cut.depths.to_mm;
        let above = ROUND_MM.min(floor);
        let below = ROUND_MM.min(first.depths.to_mm - floor).max(0.5);
        let chamfer = self.job.allowances.ledge_chamfer_mm.min(outer - inner).min(below);
        let wide = outer - inner + 2.0 * ROUND_MM;
        let enlarged =
            scale::round(wide, ROOM_MM[0], 10.0).min(scale::round(above + below, ROOM_MM[1] - 6.0, 10.0));
        let mut pen = Pen::new(self.fonts, "", 0.0, 0.0);
        let words = format!("detail A, {}", scale::words(enlarged));
        pen.text(at + Vec2::new(2.0, 4.0), Align::Left, (Weight::Bold, 11.0), &words);
        let left = inner - ROUND_MM;
        let to = |radius: f64, deep: f64| {
            at + Vec2::new(2.0 + (radius - left) * enlarged, 7.0 + (deep - floor + above) * enlarged)
        };
        let frame = Rect::from_points(to(left, floor - above), to(outer + ROUND_MM, floor + below));
        // Gaps as they are, unless they would not show.
        let shows = |mm: f64| mm.max(0.45 / enlarged);
        let nose =
            self.corner().map_or(0.0, |(_, radius)| radius.min(outer - inner - chamfer).min(above).max(0.0));
        let mut block = vec![to(outer, floor - above), to(outer, floor - nose)];
        // The corner that the tool leaves, in short straight pieces.
        for n in 1..8 {
            let (sin, cos) = (f64::from(n) / 8.0 * std::f64::consts::FRAC_PI_2).sin_cos();
            block.push(to(outer - nose + nose * cos, floor - nose + nose * sin));
        }
        block.extend([
            to(outer - nose, floor),
            to(inner + chamfer, floor),
            to(inner, floor + chamfer),
            to(inner, floor + below),
        ]);
        let mut metal = block.clone();
        metal.extend([to(outer + ROUND_MM, floor + below), to(outer + ROUND_MM, floor - above)]);
        pen.area(path_of(&metal, true), BLOCK);
        let gap = if self.sleeve.body.first().is_some_and(|s| s.interference_mm < 0.0) {
            shows(-self.sleeve.body.first().map_or(0.0, |s| s.interference_mm) / 2.0)
        } else {
            0.0
        };
        let rim = outer - shows(outer - recess.metal_mm);
        let body = inner - gap;
        let fillet = flange.fillet_mm.unwrap_or(0.0).min(chamfer + gap).min(below);
        let sleeve = [
            to(left, floor - above),
            to(rim, floor - above),
            // The flange's own edge is drawn broken by as much as the corner needs to clear it.
            to(rim, floor - nose),
            to(rim - nose, floor),
            to(body + fillet, floor),
            to(body, floor + fillet),
            to(body, floor + below),
            to(left, floor + below),
        ];
        pen.area(path_of(&sleeve, true), Filling::White);
        pen.area(path_of(&sleeve, true), SLEEVE);
        pen.polyline(&block, false, 0.5, Dash::Solid);
        pen.polyline(&sleeve[1..7], false, 0.35, Dash::Solid);
        pen.stroke(frame.to_path(CURVE_MM), 0.15, Dash::Solid);
        let high = self.detail_words(&mut pen, Point::new(frame.x1 + 4.0, at.y), right + 4.0)?;
        let high = high.max(frame.y1 - at.y) + 1.0;
        Ok(Some(Detail { shapes: pen.figure.shapes, high }))
    }

    /// Writes what the detail of the seat says below `at`, no farther right than `right`; gives how high it stands,
    /// mm.
    fn detail_words(&self, pen: &mut Pen<'_>, at: Point, right: f64) -> Result<f64, OutputError> {
        let allowances = &self.job.allowances;
        let seat = &self.choice.fit.seat;
        let chamfer = self.said(|u| depth(u, allowances.ledge_chamfer_mm))?;
        let mut words = vec![format!("edge broken {chamfer} × 45°")];
        words.push(match self.sleeve.flange().and_then(|f| f.fillet_mm) {
            Some(fillet) => format!("fillet under the flange {}", self.said(|u| depth(u, fillet))?),
            None => "fillet under the flange not told".to_owned(),
        });
        words.push(match self.corner() {
            Some((tool, radius)) => {
                let radius = self.said(|u| depth(u, radius))?;
                format!("corner: {} leaves radius {radius}, the flange must clear it", shorten(tool))
            }
            None => "corner: nose radius not told, the flange must clear it".to_owned(),
        });
        if seat.width > 0.0 {
            let flats = match seat.width_at_flats {
                Some(flats) => format!(", {} at the flats", self.said(|u| fine(u, flats))?),
                None => String::new(),
            };
            words.push(format!("flange bears on {}{flats}", self.said(|u| fine(u, seat.width))?));
        }
        let width = (right - at.x).max(12.0);
        let mut y = at.y + 6.0;
        for text in words {
            y = pen.lines(Point::new(at.x, y), width, (Weight::Plain, SIZE_PT), 5, &text) + 1.2;
        }
        Ok(y - at.y)
    }

    /// A figure in the sheet's units, the second in brackets.
    fn said(&self, text: impl Fn(Units) -> Result<String, OutputError>) -> Result<String, OutputError> {
        let each: Vec<String> = self.units().into_iter().map(text).collect::<Result<_, _>>()?;
        Ok(match each.as_slice() {
            [first, second] => format!("{first} ({second} in)"),
            _ => each.concat(),
        })
    }
}
