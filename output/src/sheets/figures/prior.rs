//! What the block's family says of it.

use borewright_planner::plan::prior::Prior;

use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Draws what the block's family says of it, where the archive was asked.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn prior(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let Some(prior) = &self.plan.prior else { return Ok(()) };
        pages.gap(6.0);
        pages.bookmark("Family");
        pages.heading(&format!("What the family {} says", shorten(&prior.family)), 50.0);
        let jobs: Vec<String> = prior.blocks.iter().map(|b| shorten(&b.job)).collect();
        if !jobs.is_empty() {
            pages.paragraph(&one_line(&format!("Jobs {}", jobs.join(", ")), 600), Weight::Plain, BODY);
        }
        for said in &prior.says {
            pages.paragraph(&format!("– {}", one_line(&self.units.say(said), 400)), Weight::Plain, BODY);
        }
        for odd in &prior.odd {
            let words = format!("– cylinder {}: {}", odd.cylinder, self.units.say(&odd.text));
            pages.paragraph(&one_line(&words, 400), Weight::Bold, BODY);
        }
        self.prior_walls(pages, prior)
    }

    /// Draws the walls to read first, by what blocks of the family had there; nothing where there are none.
    fn prior_walls(&self, pages: &mut Pages, prior: &Prior) -> Result<(), OutputError> {
        if prior.walls_first().is_empty() {
            return Ok(());
        }
        let columns = [
            Column::figures("cylinder", 50.0).bold(),
            Column::figures("clock", 50.0),
            Column::figures("depths", 90.0),
            Column::figures("blocks", 50.0),
            Column::figures("mean", 60.0),
            Column::figures("next, least", 70.0),
            Column::figures("least found", 70.0),
            Column::figures("here", 60.0).bold(),
        ];
        pages.gap(4.0);
        let caption = format!("Walls where the family is thinnest, {}", self.units.name());
        pages.need(60.0);
        pages.paragraph(&caption, Weight::Bold, BODY);
        let length = |mm: f64| Ok::<_, OutputError>(self.units.length(mm, Digits::Middling)?.stacked());
        let mut rows = Vec::new();
        for wall in prior.walls_first() {
            let depth = |mm: f64| Ok::<_, OutputError>(self.units.length(mm, Digits::Depth)?.spoken());
            rows.push(Row::Cells(vec![
                wall.cylinder.to_string(),
                format!("{:.0}°", wall.clock),
                format!("{} to\n{}", depth(wall.depths[0])?, depth(wall.depths[1])?),
                wall.wall.blocks.to_string(),
                length(wall.wall.mean)?,
                match wall.wall.next_least {
                    Some(mm) => length(mm)?,
                    None => "too few".to_owned(),
                },
                length(wall.wall.found[0])?,
                match wall.here {
                    Some(mm) => length(mm)?,
                    None => "not read".to_owned(),
                },
            ]));
        }
        draw(pages, &columns, &rows);
        Ok(())
    }
}
