//! The touch check of a list: what must read right before the first chip.

use borewright_geometry::clock::distance_mm;

use super::{Tracer, kept};
use crate::plan::Stage;
use crate::plan::moves::Touch;
use crate::plan::sentence::before_mm;
use crate::plan::worked::Figure;
use crate::say;
use crate::survey::CylinderSurvey;

/// How far a touch may be off before the first chip, mm: far above any instrument, below any mistake of
/// sign, bank or bore that matters. Common practice, no source.
const DATUM_WINDOW_MM: f64 = 0.05;

impl Tracer<'_> {
    /// The bore that stands farthest off true, which shows a wrong sign best, and the one farthest from it.
    fn touched(&self, cylinders: &[u32]) -> Vec<u32> {
        let place = |n: &u32| self.positions.bores.iter().find(|b| b.site.cylinder == *n);
        let off = |n: &u32| {
            let at = self.survey.cylinders.get(n).map(|f| f.now.axis.at_deck_mm);
            at.zip(place(n)).map_or(0.0, |(at, b)| distance_mm(at, b.true_mm))
        };
        let x = |n: &u32| place(n).map_or(0.0, |b| b.site.x_mm);
        let Some(first) = cylinders.iter().max_by(|a, b| off(a).total_cmp(&off(b))) else {
            return Vec::new();
        };
        let far = |n: &u32| (x(n) - x(first)).abs();
        let other = cylinders.iter().filter(|n| *n != first).max_by(|a, b| far(a).total_cmp(&far(b)));
        std::iter::once(*first).chain(other.copied()).collect()
    }

    /// Three places that must read right: two bores, so that bank, order and both signs show, and the deck.
    pub(super) fn touch(&self, stage: Stage, cylinders: &[u32]) -> Vec<Touch> {
        let mut touches = Vec::new();
        for cylinder in self.touched(cylinders) {
            let told = |at: [f64; 2]| (at, [0, 1].map(|axis| kept::word(axis, at[axis])));
            let touch = match stage {
                Stage::Rough => self.survey.cylinders.get(&cylinder).map(|found| {
                    let what = say!("middle of the old bore of cylinder {} at the deck", cylinder);
                    (what, self.old_bore(found))
                }),
                Stage::Finish => self
                    .told(cylinder)
                    .map(|at| (say!("middle of the sleeve in cylinder {}", cylinder), told(at))),
                _ => self
                    .told(cylinder)
                    .map(|at| (say!("middle of the bore cut in cylinder {}", cylinder), told(at))),
            };
            if let Some((what, ([x, y], worked))) = touch {
                touches.push(Touch {
                    what,
                    cylinder: Some(cylinder),
                    x_mm: Some(x),
                    y_mm: Some(y),
                    z_mm: None,
                    within_mm: DATUM_WINDOW_MM,
                    worked: worked.into(),
                });
            }
        }
        let plate = self.job.finish.plate_mm.filter(|_| stage == Stage::Finish);
        let what = match plate {
            Some(plate) => say!("top of the torque plate of {}", before_mm(plate, 1)),
            None => "deck beside the first bore".into(),
        };
        let z = self.coordinate(plate.unwrap_or(0.0));
        touches.push(Touch {
            what,
            cylinder: None,
            x_mm: None,
            y_mm: None,
            z_mm: Some(z),
            within_mm: DATUM_WINDOW_MM,
            worked: vec![kept::height(z, plate, self.units().step_mm())],
        });
        touches
    }

    /// X and Y of an old bore's middle at the deck, and what they are worked from.
    fn old_bore(&self, found: &CylinderSurvey) -> ([f64; 2], [Figure; 2]) {
        let at = found.now.axis.at_deck_mm;
        let exact = self.listed(at);
        let told = exact.map(|v| self.coordinate(v));
        let (columns, step) = (self.columns(), self.units().step_mm());
        let figure = |axis: usize| {
            let lengths = [told[axis], exact[axis], step, self.job.at_cutting()];
            kept::old_bore(axis, lengths, columns[axis], at, found.now.surface.word())
        };
        (told, [0, 1].map(figure))
    }
}
