//! The pocket: its half section with every size, the ladder of depths beside it.

use kurbo::Point;

use super::flow::Block;
use super::leaf::{Deal, INNER, LEFT};
use crate::OutputError;
use crate::drawings::{self, HalfSection};
use crate::paper::text::Weight;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Draws it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn pocket_card(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let Some(section) = HalfSection::of(&self.planning.job, self.plan, deal.fonts) else { return Ok(()) };
        deal.card("Pocket: sizes and depths".to_owned(), "pocket".to_owned());
        for figure in section.figures()? {
            // Its scale is stated: it is not made smaller to fit.
            if drawings::height_pt(&figure) + 10.0 > deal.full() {
                deal.note(Block::Picture(figure));
                deal.say_on_paper(
                    "The section is higher than a card at its scale: drawings/half-section.svg has it.",
                    Weight::Bold,
                    11.0,
                );
                continue;
            }
            deal.need(drawings::height_pt(&figure) + 10.0);
            let left = LEFT + (INNER - drawings::width_pt(&figure)) / 2.0;
            let at = Point::new(left, deal.y + 4.0);
            drawings::draw(&mut deal.canvas, deal.fonts, &figure, at);
            deal.y += drawings::height_pt(&figure) + 8.0;
            deal.note(Block::Picture(figure));
        }
        let Some(choice) = self.plan.sleeves.iter().find(|s| s.chosen) else { return Ok(()) };
        if choice.fit.assigned.is_empty() {
            return Ok(());
        }
        deal.heading(&format!("Each bore's own sizes, {}", self.units.name()), 40.0);
        let fine = |mm: f64| -> Result<String, OutputError> {
            Ok(self.units.length(mm, Digits::Fine)?.stacked().replace('\n', " "))
        };
        for own in choice.fit.assigned.iter().filter(|own| !self.is_withheld(own.cylinder)) {
            let mut text = format!("{}  sleeve {}", own.cylinder, one_line(&own.number, 30));
            if let Some(ledge) = own.ledge {
                text.push_str(&format!(": ledge {} deep", fine(ledge)?));
            }
            for pocket in &own.pockets {
                text.push_str(&format!("; {} Ø {}", shorten(&pocket.feature), fine(pocket.diameter)?));
            }
            deal.say(&text, Weight::Bold, 11.0);
        }
        Ok(())
    }
}
