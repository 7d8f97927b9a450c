//! A ladder of depths at the section's left: every step that is cut, and how deep each tool goes for it.

use borewright_planner::plan::Stage;
use kurbo::Point;

use super::spread::{Wanted, spread};
use super::{HalfSection, View};
use crate::OutputError;
use crate::drawings::figure::Pen;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::units::Digits;

/// Room that it takes left of the axis, mm.
pub(super) const WIDE_MM: f64 = 28.0;
/// Height of a line of it, mm.
const LINE_MM: f64 = 4.0;
const SIZE_PT: f64 = 10.0;
/// Depths nearer than this are one, mm.
const SAME_MM: f64 = 1e-6;

/// One rung.
struct Rung {
    deep: f64,
    /// Finished, or where a roughing tool stops.
    finished: bool,
}

impl HalfSection<'_> {
    /// Finished depths bold, those of roughing tools plain where they differ.
    fn rungs(&self) -> Vec<Rung> {
        let mut deep: Vec<f64> = vec![0.0];
        deep.extend(self.pocket.flange.iter().map(|f| f.cut.depths.to_mm));
        deep.extend(self.pocket.foot.iter().map(|f| f.depths.from_mm));
        deep.extend(self.pocket.steps.iter().map(|s| s.depths.to_mm));
        let mut rungs: Vec<Rung> = Vec::new();
        let mut add = |deep: f64, finished: bool| {
            if !rungs.iter().any(|r: &Rung| (r.deep - deep).abs() < SAME_MM) {
                rungs.push(Rung { deep, finished });
            }
        };
        deep.into_iter().for_each(|deep| add(deep, true));
        let cut = self.plan.passes.iter().filter(|p| matches!(p.stage, Stage::Rough | Stage::Pocket));
        cut.filter(|p| p.to > p.from).for_each(|p| add(p.to, false));
        rungs.sort_by(|a, b| a.deep.total_cmp(&b.deep));
        rungs
    }

    /// Draws the ladder from the deck down to `bottom`, mm on the picture.
    ///
    /// # Errors
    /// Where a depth cannot be printed.
    pub(super) fn ladder(&self, pen: &mut Pen<'_>, view: &View, bottom: f64) -> Result<(), OutputError> {
        let units = self.units();
        let apart = LINE_MM * units.iter().map(|_| 1.0).sum::<f64>() + 0.6;
        let mut rungs = self.rungs();
        // The table of depths has all of them; where there is no room the tools' own go first.
        let room = |rungs: &[Rung]| rungs.iter().map(|_| apart).sum::<f64>() <= bottom;
        while !room(&rungs) && rungs.len() > 1 {
            let last = rungs.iter().rposition(|r| !r.finished).unwrap_or(rungs.len() - 1);
            rungs.remove(last);
        }
        let wanted: Vec<Wanted> = rungs
            .iter()
            .map(|rung| Wanted { middle: view.at(0.0, rung.deep).y + (apart - LINE_MM) / 2.0, high: apart })
            .collect();
        let places = spread(&wanted, [1.0, bottom + LINE_MM]);
        let rail = view.left - 4.0;
        pen.line(
            view.at(0.0, 0.0) + (-4.0, 0.0),
            view.at(0.0, self.pocket.depth_mm()) + (-4.0, 0.0),
            0.35,
            Dash::Solid,
        );
        let inner = self.job.finish.bore_mm / 2.0;
        for (rung, y) in rungs.iter().zip(&places) {
            let own = view.at(0.0, rung.deep).y;
            let reach = if rung.finished { view.at(inner, 0.0).x } else { rail + 2.0 };
            pen.line(Point::new(rail - 1.5, own), Point::new(reach, own), 0.15, Dash::Solid);
            let middle = y + LINE_MM * 0.55;
            pen.line(Point::new(rail - 4.0, middle), Point::new(rail - 1.5, own), 0.15, Dash::Solid);
            let weight = if rung.finished { Weight::Bold } else { Weight::Plain };
            let mut base = y + LINE_MM * 0.85;
            for (line, units) in units.iter().enumerate() {
                let text = units.length(rung.deep, Digits::Fine)?.stacked();
                let text = match (line, rung.finished) {
                    (0, true) => text,
                    (0, false) => format!("rough {text}"),
                    _ => format!("({text})"),
                };
                pen.text(Point::new(rail - 5.0, base), Align::Right, (weight, SIZE_PT), &text);
                base += LINE_MM;
            }
        }
        Ok(())
    }
}
