//! The fit: caution first, one bar of temperatures, then the sleeves and how far they stand proud.

use borewright_planner::explain::Question;
use borewright_planner::passes::SOAK_MIN;
use borewright_planner::plan::fit::GoingIn;
use borewright_planner::plan::{Pass, Stage};
use kurbo::{Point, Rect};

use super::area::{INNER, LEFT};
use super::boxes::Asking;
use super::deal::Deal;
use super::flow::Block;
use super::order::Kind;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::{first_large, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, numbers};

impl Sheet<'_> {
    /// Deals the card of the fit.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn fit_card(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        deal.card("Fit the sleeves".to_owned(), "fit".to_owned());
        if let Some(caution) = self.before_sleeves() {
            deal.boxed(&caution, "", 3.0, 12.0);
        }
        let going = self.plan.sleeves.iter().find(|s| s.chosen).map(|s| &s.fit.going_in);
        let hot = going.filter(|g| !g.gaps.is_empty());
        if let Some(going) = hot {
            hot_block(deal, going);
            self.bar(deal, going)?;
        } else {
            deal.boxed("Safety: press evenly, never hammer a rim; hands clear of the press.", "", 1.5, 11.0);
            deal.say("It goes in cold: no register is tight.", Weight::Plain, 10.5);
        }
        let registers = self.plan.sleeves.iter().filter(|s| s.chosen).flat_map(|s| &s.fit.registers);
        let asked = registers.map(|r| (shorten(&r.feature), Question::Fit { register: r.feature.clone() }));
        deal.note(Block::Why(asked.collect()));
        self.note_time(deal, None, &[Stage::Fit]);
        let fitted =
            |stage: Stage| self.plan.passes.iter().filter(move |p| self.is_fitted(p) && p.stage == stage);
        let (edges, sleeves): (Vec<&Pass>, Vec<&Pass>) = fitted(Stage::Fit).partition(|p| p.is_edges());
        let banks = 0..self.planning.job.block.banks.len();
        let rows: Vec<String> = banks
            .map(|bank| numbers(&self.cylinders(bank).iter().map(|c| c.cylinder).collect::<Vec<_>>()))
            .collect();
        deal.say(&format!("Cylinders front to rear: {}.", rows.join(", then ")), Weight::Plain, 10.0);
        if self.is_unmeasured() {
            self.sleeves_measured(deal)?;
        } else {
            self.sleeves_found(deal)?;
        }
        self.pass_lines(deal, &edges)?;
        match hot {
            Some(going) => self.shrink_in(deal, going, &sleeves)?,
            None => self.pass_lines(deal, &sleeves)?,
        }
        let tested = self.tight_found(deal)?;
        self.pass_lines(deal, &fitted(Stage::Deck).collect::<Vec<_>>())?;
        let leaks = self.before_going_on(tested);
        let next = self.next(deal.fonts, Kind::Fit);
        deal.stop(&format!("{leaks} every sleeve stands as asked. {next}"));
        Ok(())
    }

    /// The block is heated, the sleeves dropped, and what they stand proud is read cold.
    fn shrink_in(&self, deal: &mut Deal<'_>, going: &GoingIn, sleeves: &[&Pass]) -> Result<(), OutputError> {
        let soak = self.celsius(going.soak.ceil())?;
        let [least, most] = SOAK_MIN;
        let heat = format!(
            "Heat the block: oven at {soak}, {least:.0} to {most:.0} minutes. Read it beside the pocket, then drop the sleeves."
        );
        let degrees = self.degrees();
        let beside = format!("beside pocket\n{degrees}");
        Asking::of(&heat, Weight::Bold, vec!["in at".to_owned(), "out at".to_owned(), beside]).draw(deal);
        // How a hot block takes them. Each sleeve's own number stands with the bores that they go into.
        let stop = sleeves.first().and_then(|pass| pass.stop.as_ref()).filter(|stop| !stop.how.is_empty());
        if let Some(stop) = stop {
            deal.step(&format!("{}.", first_large(&self.units.say(&stop.how))), Weight::Plain);
        }
        // A hot block is larger than its sleeves: seated or not is told cold.
        let cool = "All in and gripped: let the block cool to room temperature, then feeler and heights.";
        let read = vec!["at".to_owned(), format!("room\n{degrees}"), format!("block\n{degrees}")];
        self.lines_then(deal, sleeves, Some(Asking::of(cool, Weight::Bold, read)))
    }

    /// What is waited for before the next card, but for how the sleeves stand. Common practice, no source: a pressure test
    /// always where a sleeve stands in coolant.
    fn before_going_on(&self, tested: bool) -> &'static str {
        let wet = self.planning.job.sleeves.iter().any(|s| {
            self.plan.cylinders.iter().any(|c| c.sleeve == s.name) && s.body.iter().any(|step| step.wet)
        });
        match (tested, wet) {
            (true, _) => "Go on only when the jacket is tight and",
            (false, true) => "Pressure-test the jacket, cold. Go on only when it is tight and",
            (false, false) => "Go on only when",
        }
    }

    /// Soak, drop and heat-again on one scale.
    fn bar(&self, deal: &mut Deal<'_>, going: &GoingIn) -> Result<(), OutputError> {
        const HIGH: f64 = 86.0;
        deal.heading("Temperature of the block, read beside the pocket", HIGH + 60.0);
        let (since, above) = (deal.marks(), deal.y);
        let mut about = Vec::new();
        let top = deal.y + 26.0;
        let bar = Rect::new(LEFT + 8.0, top, LEFT + INNER - 8.0, top + 20.0);
        let (cold, hot) = (20.0, going.hottest.max(going.soak) + 5.0);
        let x = |celsius: f64| bar.x0 + (celsius - cold) / (hot - cold) * bar.width();
        deal.canvas.frame(bar, 1.2);
        let again = going.reheat_below.unwrap_or(going.block);
        // Hatched below what is hot enough: there it sticks.
        let mut line = bar.x0 + 6.0;
        while line < x(again) {
            deal.canvas.line(Point::new(line - 5.0, bar.y1), Point::new(line, bar.y0), 0.5, Dash::Solid);
            line += 7.0;
        }
        let mut marks = vec![
            (again.ceil(), "below: heat again", false),
            (going.soak.ceil(), "soak at", true),
            (going.hottest.floor(), "never hotter", false),
        ];
        marks.retain(|(c, _, _)| c.is_finite());
        // Down to where the words below the bar reach, row by row.
        let mut ends = [bar.x0, bar.x0];
        for (celsius, word, above) in marks {
            let at = x(celsius).clamp(bar.x0, bar.x1);
            deal.canvas.line(Point::new(at, bar.y0 - 5.0), Point::new(at, bar.y1 + 5.0), 2.0, Dash::Solid);
            let text = format!("{word} {}", self.celsius(celsius)?);
            about.push(text.clone());
            if above {
                // Over its own mark: the one of heating again stands left of it.
                let half = deal.fonts.width(&text, Weight::Bold, 11.0) / 2.0;
                let middle = at.clamp(bar.x0 + half, (bar.x1 - half).max(bar.x0 + half));
                deal.put(Point::new(middle, bar.y0 - 9.0), Align::Middle, Weight::Bold, 11.0, &text);
                continue;
            }
            let wide = deal.fonts.width(&text, Weight::Bold, 11.0);
            let left = (at - wide / 2.0).clamp(bar.x0, (bar.x1 - wide).max(bar.x0));
            let row = usize::from(left < ends[0] + 6.0 && ends[0] > bar.x0);
            ends[row] = left + wide;
            let y = bar.y1 + if row == 0 { 16.0 } else { 29.0 };
            deal.put(Point::new(left, y), Align::Left, Weight::Bold, 11.0, &text);
        }
        deal.y = bar.y1 + if ends[1] > bar.x0 { 36.0 } else { 24.0 };
        let area = Rect::new(LEFT, above, LEFT + INNER, deal.y);
        deal.picture(since, area, "Temperature of the block", &about.join(", "))?;
        let sleeve = going.chilled.map_or(going.sleeve, f64::floor);
        let gap = self.units.length(going.clearance, Digits::Middling)?.spoken();
        deal.say(
            &format!(
                "Sleeve at {}. Down to {} it drops with at least {gap} of gap on diameter at {}, the register that decides.",
                self.celsius(sleeve)?,
                self.celsius(going.block.ceil())?,
                shorten(&going.decides)
            ),
            Weight::Bold,
            11.0,
        );
        Ok(())
    }
}

/// The caution before anything is heated.
fn hot_block(deal: &mut Deal<'_>, going: &GoingIn) {
    let chilled = if going.chilled.is_some() || going.sleeve < 10.0 {
        " Chilled sleeve: dry cold-proof gloves, open doors, the gas drives out air; wipe frost off before it goes in."
    } else {
        ""
    };
    let text = format!(
        "Heat-proof gloves and face shield; mark the block HOT. Carry it once, to a place cleared beforehand. Read the \
         block beside the pocket, not the oven. Drop the sleeve square, in one go, and hold it down until it is gripped.{chilled}"
    );
    deal.boxed("Safety: hot block", &text, 3.0, 14.0);
}
