//! The block as it stands, seen from its rear: which bank is up, where the other lies, where the operator is.

use borewright_planner::job::Front;
use kurbo::{Affine, BezPath, Circle, Point, Rect, Vec2};

use super::deal::Deal;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::one_line;
use crate::said::sides::front_words;
use crate::sheets::sheet::Sheet;

/// Its width, pt.
pub(super) const WIDE: f64 = 150.0;
/// Its height, pt.
pub(super) const HIGH: f64 = 112.0;

/// A barrel from the axis, half its width, and its centre line, pt.
const LONG: f64 = 58.0;
const HALF: f64 = 15.0;
const LINE: f64 = 64.0;
/// What words take above and below, pt.
const WORDS: [f64; 2] = [14.0, 17.0];

/// Banks farther apart lie across the height of the axis, degrees.
const STEEP_DEG: f64 = 60.0;

impl Sheet<'_> {
    /// Draws the block seen from its rear, its upper left corner at a place. Only angles are true.
    ///
    /// # Errors
    /// Where a place is not finite.
    pub(super) fn end_view(
        &self,
        deal: &mut Deal<'_>,
        bank: usize,
        corner: Point,
    ) -> Result<(), OutputError> {
        let since = deal.marks();
        let banks = &self.planning.job.block.banks;
        let up = self.planning.job.bank(bank).angle_deg;
        // A bank that hangs below the axis leaves room for the words below it.
        let below = |angle_deg: f64| {
            let (sin, cos) = (angle_deg - up).abs().to_radians().sin_cos();
            HALF * sin - LONG * cos
        };
        let below = banks.iter().map(|other| below(other.angle_deg)).fold(HALF, f64::max);
        let scale = ((HIGH - WORDS[0] - WORDS[1]) / (LINE + below)).min(1.0);
        let axis = corner + Vec2::new(WIDE / 2.0, WORDS[0] + LINE * scale);
        deal.canvas.circle(Circle::new(axis, 5.0 * scale), 1.6, Dash::Solid);
        for (index, layout) in banks.iter().enumerate() {
            // Seen from the rear the engine's right is to the right, and a bank leans that way by its angle.
            let turned = Affine::translate(axis.to_vec2())
                * Affine::rotate((layout.angle_deg - up).to_radians())
                * Affine::scale(scale);
            let mut barrel = BezPath::new();
            barrel.move_to((-HALF, -14.0));
            barrel.line_to((-HALF, -LONG));
            barrel.line_to((HALF, -LONG));
            barrel.line_to((HALF, -14.0));
            let width = if index == bank { 2.2 } else { 0.8 };
            deal.canvas.stroke(turned * barrel, width, Dash::Solid);
            let centre_line = [(0.0, -4.0), (0.0, -LINE)].map(|p| turned * Point::from(p));
            deal.canvas.line(centre_line[0], centre_line[1], 0.5, Dash::Axis);
        }
        let side = match self.front(bank) {
            Front::Left => corner.x + 4.0,
            Front::Right => corner.x + WIDE - 4.0,
        };
        let align = if self.front(bank) == Front::Left { Align::Left } else { Align::Right };
        // Above a bank that lies over the operator, else below it.
        let apart = banks.iter().map(|other| (other.angle_deg - up).abs()).fold(0.0, f64::max);
        let y = if apart > STEEP_DEG { axis.y - 52.0 * scale } else { axis.y + 14.0 };
        deal.put(Point::new(side, y), align, Weight::Bold, 9.5, "operator");
        let at = Point::new(corner.x + WIDE / 2.0, corner.y + 9.0);
        let name = format!("{} up", one_line(&self.planning.job.bank(bank).name, 18));
        deal.squeeze(at, Align::Middle, (Weight::Bold, 11.0), WIDE, &name);
        let at = Point::new(corner.x + WIDE / 2.0, corner.y + HIGH - 8.0);
        deal.put(at, Align::Middle, Weight::Plain, 9.0, "seen from the rear, not to scale");
        let area = Rect::from_origin_size(corner, (WIDE, HIGH));
        let about = format!("The block from its rear, {}.", front_words(self.front(bank)));
        deal.picture(since, area, &name, &about)
    }
}
