//! The pocket: its half section with every size, the ladder of depths beside it.

use borewright_planner::plan::{Pass, Stage};
use kurbo::Point;

use super::area::{INNER, LEFT};
use super::deal::Deal;
use super::flow::{Block, ColumnHead};
use crate::OutputError;
use crate::drawings::{self, HalfSection};
use crate::paper::canvas::Dash;
use crate::paper::text::Weight;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Deals the card of the pocket.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn pocket_card(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let Some(section) = HalfSection::of(&self.planning.job, self.plan, deal.fonts) else { return Ok(()) };
        deal.card("Pocket: sizes and depths".to_owned(), "pocket".to_owned());
        deal.without_checks();
        let room = (deal.full() - 12.0) / drawings::PT_PER_MM;
        for figure in section.on_card(room)? {
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
        self.own_sizes(deal)
    }

    /// Every bore's own sizes: what its pocket's last cuts are set to, and the number of its sleeve where it has one.
    fn own_sizes(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let chosen = self.plan.sleeves.iter().find(|s| s.chosen);
        let caption = format!("Each bore's own sizes, {}", self.units.name());
        let fine = |mm: f64| -> Result<String, OutputError> {
            Ok(self.units.length(mm, Digits::Fine)?.stacked().replace('\n', " "))
        };
        let mut told: Vec<Vec<String>> = Vec::new();
        for (_, cylinder) in self.by_bank().into_iter().filter(|(_, c)| !c.withheld) {
            let own = self
                .plan
                .passes
                .iter()
                .filter(|p| p.cylinder == cylinder.cylinder && p.stage == Stage::Pocket);
            let mut last: Vec<&Pass> = Vec::new();
            for pass in own {
                match last.iter_mut().find(|p| p.feature == pass.feature) {
                    Some(earlier) => *earlier = pass,
                    None => last.push(pass),
                }
            }
            if last.is_empty() {
                continue;
            }
            let assigned =
                chosen.and_then(|s| s.fit.assigned.iter().find(|a| a.cylinder == cylinder.cylinder));
            let sleeve = assigned.map_or_else(String::new, |a| one_line(&a.number, 30));
            let mut sizes = Vec::new();
            for pass in last {
                let size = format!("{} Ø {}", shorten(&pass.feature), fine(pass.diameter)?);
                sizes.push(if pass.ledge || pass.flat_end || pass.from <= 0.0 {
                    format!("{size}, {} deep", fine(pass.to)?)
                } else {
                    size
                });
            }
            // Bores that are cut alike for sleeves without numbers stand on one row.
            let (number, sizes) = (cylinder.cylinder.to_string(), sizes.join("; "));
            match told.iter_mut().find(|row| row[1..] == [sleeve.clone(), sizes.clone()]) {
                Some(row) => row[0].push_str(&format!(" {number}")),
                None => told.push(vec![number, sleeve, sizes]),
            }
        }
        if told.is_empty() {
            return Ok(());
        }
        deal.heading(&caption, 60.0);
        const SIZE: f64 = 12.0;
        let words = |row: &[String]| match row {
            [cylinders, sleeve, sizes] if sleeve.is_empty() => format!("{cylinders}: {sizes}"),
            [cylinders, sleeve, sizes] => format!("{cylinders}, sleeve {sleeve}: {sizes}"),
            _ => String::new(),
        };
        let high =
            |deal: &Deal<'_>, row: &[String]| deal.height(&words(row), Weight::Bold, SIZE, INNER) + 6.0;
        for (at, row) in told.iter().enumerate() {
            // The last of several never goes over alone.
            let last = told.get(at + 1).filter(|_| at > 0 && at + 2 == told.len());
            deal.need(high(deal, row) + last.map_or(0.0, |last| high(deal, last)));
            deal.y += 2.0;
            deal.words(&words(row), LEFT, Weight::Bold, SIZE, INNER);
            deal.y += 2.0;
            deal.canvas.line(Point::new(LEFT, deal.y), Point::new(LEFT + INNER, deal.y), 0.4, Dash::Solid);
            deal.y += 2.0;
        }
        deal.note(Block::Table {
            caption,
            heads: vec![ColumnHead::plain("cyl"), ColumnHead::plain("sleeve"), ColumnHead::plain("sizes")],
            rows: told,
        });
        Ok(())
    }
}
