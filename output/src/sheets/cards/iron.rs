//! Iron of the old liner that a cut leaves: which cut shows it best, and on which side it is thickest.

use borewright_planner::plan::{Pass, Shell, Stage, cylinder_words};
use kurbo::Point;

use super::area::INDENT;
use super::boxes::tick;
use super::deal::Deal;
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// Of iron all round an eye sees where it is thickest from this difference on, mm. Common practice, no source.
const UNEVEN_MM: f64 = 0.1;
/// Bores in a row of squares, the room of each and the height of the row, pt.
const SEEN_ACROSS: usize = 4;
const SEEN_WIDE: f64 = 126.0;
const SEEN_ROW: f64 = 16.0;

impl Sheet<'_> {
    /// The cut of a bore whose iron is looked at: the first that breaks through the old liner and still leaves some of it, else the
    /// last that leaves any. One that breaks through all round at once leaves none to see.
    pub(super) fn witness<'p>(&self, passes: &[&'p Pass], cylinder: u32) -> Option<&'p Pass> {
        let shows = |p: &&&'p Pass| p.shell.is_some_and(|shell| self.shows(shell.most));
        let own: Vec<&'p Pass> =
            passes.iter().filter(|p| p.cylinder == cylinder).filter(shows).copied().collect();
        let broken = own.iter().find(|p| p.shell.is_some_and(|shell| shell.least <= 0.0));
        broken.or(own.last()).copied()
    }

    /// A square to tick for each bore of whose old liner a step leaves iron all round, thicker on one side: no check asks for it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn iron_seen(
        &self,
        deal: &mut Deal<'_>,
        passes: &[&Pass],
        step: u32,
    ) -> Result<(), OutputError> {
        let mut told: Vec<(String, Vec<u32>)> = Vec::new();
        for pass in passes.iter().filter(|p| p.step == step && p.stage == Stage::Rough) {
            let seen = self.witness(passes, pass.cylinder).filter(|seen| seen.step == step);
            let shell = seen.and_then(|seen| seen.shell).filter(|s| s.arc >= 360.0 && is_uneven(s));
            let Some(shell) = shell else { continue };
            let at = self.sides(self.bank_of(&pass.bank)).clock(shell.thickest_at);
            match told.iter_mut().find(|(own, _)| *own == at) {
                Some((_, alike)) => alike.push(pass.cylinder),
                None => told.push((at, vec![pass.cylinder])),
            }
        }
        if told.is_empty() {
            return Ok(());
        }
        let cylinders: Vec<u32> = told.iter().flat_map(|(_, own)| own.clone()).collect();
        let sides: Vec<String> =
            told.iter().map(|(at, own)| format!("{} at {at}", cylinder_words(own))).collect();
        let words = format!("Iron left all round, thickest: {}. Seen there?", sides.join(", "));
        let rows: f64 = cylinders.chunks(SEEN_ACROSS).map(|_| SEEN_ROW).sum();
        deal.need(deal.step_height(&words, Weight::Plain) + rows);
        deal.step(&words, Weight::Plain);
        for row in cylinders.chunks(SEEN_ACROSS) {
            let base = deal.y + 10.0;
            let mut left = INDENT;
            for cylinder in row {
                deal.put(Point::new(left, base), Align::Left, Weight::Bold, 11.0, &cylinder.to_string());
                for (dx, word) in [(20.0, "yes"), (56.0, "no: stop")] {
                    tick(deal, Point::new(left + dx, base));
                    deal.put(Point::new(left + dx + 15.0, base), Align::Left, Weight::Plain, 9.5, word);
                }
                left += SEEN_WIDE;
            }
            deal.y += SEEN_ROW;
        }
        Ok(())
    }

    /// Whether a thickness is more than nought as printed.
    fn shows(&self, mm: f64) -> bool {
        self.units.length(mm, Digits::Middling).is_ok_and(|printed| !printed.is_zero())
    }
}

/// Whether an eye sees where iron that is left all round is thickest.
pub(super) fn is_uneven(shell: &Shell) -> bool {
    shell.most - shell.least >= UNEVEN_MM
}
