//! What several cards say alike.

use borewright_planner::plan::cylinder_words;
use kurbo::Point;

use super::area::{BODY, DIALLED, INDENT, RIGHT};
use super::deal::Deal;
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// The bores of the bank that must not be cut; nothing where there are none.
    pub(super) fn held_here(&self, deal: &mut Deal<'_>, bank: usize) {
        let withheld: Vec<u32> =
            self.cylinders(bank).iter().filter(|c| c.withheld).map(|c| c.cylinder).collect();
        if !withheld.is_empty() {
            let words = format!("Held: {}. Not on this card, and not to be cut.", cylinder_words(&withheld));
            deal.boxed(&words, "", 3.0, 12.0);
        }
    }

    /// Which figure counts at the machine, where its lists are in another unit than the card.
    pub(super) fn unit_of_lists(&self, deal: &mut Deal<'_>) {
        if let Some(other) = self.lists_in_other_units() {
            deal.say(&other, Weight::Bold, 10.0);
        }
    }

    /// Where the block is cut warmer or colder than 20 °C.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn warm(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        if let Some(t) = self.planning.job.temperature.filter(|t| t.size_at_cutting(1.0, 0.0).is_some()) {
            let words = format!(
                "Diameters are at 20 °C. The block is cut at {} °C: checks tell its sizes at both.",
                Fixed::new(t.cutting.block_c, 1)?
            );
            deal.say(&words, Weight::Bold, 10.0);
        }
        Ok(())
    }
}

/// A dialled figure; where both units stand, the second smaller below.
pub(super) fn two(deal: &mut Deal<'_>, at: Point, stacked: &str) {
    match stacked.split_once('\n') {
        Some((first, second)) => {
            deal.put(Point::new(at.x, at.y - 3.0), Align::Right, Weight::Bold, DIALLED, first);
            deal.put(Point::new(at.x, at.y + 6.5), Align::Right, Weight::Plain, 8.5, second);
        }
        None => deal.put(at, Align::Right, Weight::Bold, DIALLED, stacked),
    }
}

/// Whose boxes these are, at the head of a page that begins amid them.
pub(super) fn goes_on(deal: &mut Deal<'_>, title: &str) {
    let text = format!("{title} (continued)");
    deal.words(&text, INDENT, Weight::Bold, BODY, RIGHT - INDENT);
    deal.y += 2.0;
}
