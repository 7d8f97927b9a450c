//! Lines that passes make, with what stands above and below them.

mod apart;
mod asks;
mod columns;

#[cfg(test)]
pub(super) use columns::askable;
pub(super) use columns::{NOTHING, asked};

use borewright_planner::passes::{Slower, ThinShell, thin_shell};
use borewright_planner::plan::check::Of;
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::plan::{Pass, Stage, Stock};
use borewright_planner::say;
use kurbo::Point;

use super::area::{INDENT, LEFT, RIGHT};
use super::boxes::{self, Asking};
use super::checks::{self, Laid};
use super::deal::Deal;
use super::flow::{Block, Told};
use super::told::two;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::short::{self, shorten};
use crate::sheets::sheet::{Sheet, numbers};
use columns::{COLUMNS, Cells, Column, HEADS, STOCK, of_pass};

/// The lines of several passes as they are laid one below the other.
#[derive(Default)]
struct Layer<'p> {
    passes: Vec<&'p Pass>,
    /// Whether the checks come behind all of the lines.
    waits: bool,
    /// The stage of the last line.
    stage: Option<Stage>,
    /// The page whose columns have their heads.
    headed: Option<usize>,
    /// Whether the caution about thin iron was given.
    cautioned: bool,
}

/// Passes that are dialled alike, on one line: what each takes off on which side, the rings show.
struct Line<'a> {
    pass: &'a Pass,
    /// What it cuts, and behind it what for.
    names: [String; 2],
    cells: Cells,
    /// Of all of them.
    stock: Stock,
    cylinders: Vec<u32>,
    /// What is read before it is done by hand, a box each beside it.
    read: Vec<String>,
}

/// What a share of a feed takes below two figures, pt.
const SHARE: f64 = 9.5;

impl Line<'_> {
    /// What its figures take, pt: a feed in both units has its share below them.
    fn figures_high(&self) -> f64 {
        30.0 + self.cells.feed.split('\n').skip(2).map(|_| SHARE).sum::<f64>()
    }

    /// What it takes, pt.
    fn high(&self) -> f64 {
        if self.read.is_empty() { self.figures_high() } else { boxes::strip_high(&self.read) + 4.0 }
    }

    /// Whether no machine does it.
    fn is_by_hand(&self) -> bool {
        self.pass.tool.is_none() && self.pass.rpm <= 0.0 && self.pass.feed <= 0.0
    }

    /// The heads of its columns, where it has any; notes the page that has them.
    fn heads(&self, deal: &mut Deal<'_>, sheet: &Sheet<'_>, headed: &mut Option<usize>) {
        if !self.is_by_hand() {
            *headed = Some(deal.page());
            sheet.column_heads(deal);
        }
    }
}

impl Sheet<'_> {
    /// One line for the passes that print alike, each followed by its check.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn pass_lines(&self, deal: &mut Deal<'_>, passes: &[&Pass]) -> Result<(), OutputError> {
        self.lines_then(deal, passes, None)
    }

    /// The same; with words that stand between, all checks come behind them, once every line is done.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn lines_then(
        &self,
        deal: &mut Deal<'_>,
        passes: &[&Pass],
        between: Option<Asking<'_>>,
    ) -> Result<(), OutputError> {
        let mut passes = passes.to_vec();
        passes.sort_by_key(|p| p.step);
        let mut made = self.alike(&passes)?;
        if between.is_some() {
            made.iter_mut().for_each(|line| self.dropped_in(line));
        }
        let mut layer = Layer { passes, waits: between.is_some(), ..Layer::default() };
        let mut waiting: Vec<Laid> = Vec::new();
        for (index, line) in made.iter().enumerate() {
            let step = line.pass.step;
            let other =
                |at: Option<usize>| at.and_then(|at| made.get(at)).is_none_or(|line| line.pass.step != step);
            let (starts, ends) = (other(index.checked_sub(1)), other(Some(index + 1)));
            // What a step asks for stands below the last of its lines.
            let mut checks =
                if ends { self.checks_of(deal, &layer.passes, step, layer.waits)? } else { Vec::new() };
            if layer.waits {
                waiting.append(&mut checks);
            }
            let following = checks.first().map_or(0.0, |laid| laid.room);
            if starts {
                self.begin_step(deal, &mut layer, line, following)?;
            }
            self.pass_line(deal, line, following, &mut layer.headed);
            if ends {
                self.end_step(deal, &layer, step, checks)?;
            }
        }
        if let Some(asking) = between {
            deal.need(asking.height(deal));
            asking.draw(deal);
        }
        for laid in waiting {
            checks::draw(deal, laid);
        }
        Ok(())
    }

    /// A sleeve dropped into a hot block: its bank is up, and the block is read beside each pocket first.
    fn dropped_in(&self, line: &mut Line<'_>) {
        line.names[1] = format!("{} up; read beside the pocket first, ", short::bank(&line.pass.bank));
        line.read = vec!["at".to_owned(), format!("block\n{}", self.degrees())];
    }

    /// The lines of passes in the order of their steps, those that print alike on one.
    fn alike<'p>(&self, passes: &[&'p Pass]) -> Result<Vec<Line<'p>>, OutputError> {
        let mut made: Vec<Line<'p>> = Vec::new();
        for pass in passes {
            let cells = self.dialled(pass)?;
            let alike = |l: &&mut Line<'_>| {
                l.pass.step == pass.step
                    && l.cells == cells
                    && l.pass.feature == pass.feature
                    && !l.cylinders.contains(&pass.cylinder)
            };
            match made.iter_mut().find(alike) {
                Some(line) => {
                    line.cylinders.push(pass.cylinder);
                    line.stock.min = line.stock.min.min(pass.stock.min);
                    line.stock.max = line.stock.max.max(pass.stock.max);
                }
                None => {
                    let (names, stock, cylinders) = (self.names(pass), pass.stock, vec![pass.cylinder]);
                    made.push(Line { pass, names, cells, stock, cylinders, read: Vec::new() });
                }
            }
        }
        for line in &mut made {
            line.cells.stock = self.stock(line.pass.stage, line.stock)?;
            // What the list has is not what is run there: its share stands below the feed.
            let slower = thin_shell(passes, line.pass.step).and_then(|thin| thin.slower);
            if let Some(Slower { override_percent: [slow, fast], .. }) = slower {
                line.cells.feed.push_str(&format!("\n{slow:.0} to {fast:.0} %"));
            }
        }
        Ok(made)
    }

    /// What stands above the first line of a step: its stage where that is another, cautions, and what hands do before the figures
    /// of the whole depth. `following` (pt) must find room with the line.
    fn begin_step(
        &self,
        deal: &mut Deal<'_>,
        layer: &mut Layer<'_>,
        line: &Line<'_>,
        following: f64,
    ) -> Result<(), OutputError> {
        let step = line.pass.step;
        let tried = self.tried(&layer.passes, step);
        let trial = tried.as_ref().map_or(0.0, |tried| tried.asking().height(deal));
        if layer.stage != Some(line.pass.stage) {
            layer.stage = Some(line.pass.stage);
            // With its first line and what is measured of it: a heading alone at the foot of a page heads nothing.
            // Lines whose checks wait have their heading already.
            if !layer.waits {
                let with_check = 60.0 + trial + following;
                let stays = if with_check + 24.0 <= deal.full() { with_check } else { 60.0 + trial };
                deal.heading(stage_name(line.pass.stage), f64::max(90.0, stays));
            }
            if tried.is_none() {
                line.heads(deal, self, &mut layer.headed);
            }
        }
        self.bare_holes(deal, &layer.passes, step)?;
        // Right above the line that it is of.
        let caution = if layer.cautioned { None } else { self.thin_shell(&layer.passes, step) };
        if let Some(words) = caution {
            layer.cautioned = true;
            deal.need_with(deal.step_height(&words, Weight::Bold) + HEADS + line.high(), following);
            deal.step(&words, Weight::Bold);
        }
        let with_heads = HEADS + line.high();
        let with_line = (step, with_heads + following);
        let Some(tried) = tried else { return self.ledge_first(deal, &layer.passes, with_line) };
        // Before the figures of the whole depth, as the list stops: after it there is no metal to go back to.
        deal.need_with(trial + with_heads, following);
        tried.asking().draw(deal);
        self.ledge_first(deal, &layer.passes, with_line)?;
        line.heads(deal, self, &mut layer.headed);
        Ok(())
    }

    /// What stands below the last line of a step: its iron, and what is measured of it.
    fn end_step(
        &self,
        deal: &mut Deal<'_>,
        layer: &Layer<'_>,
        step: u32,
        checks: Vec<Laid>,
    ) -> Result<(), OutputError> {
        self.iron_seen(deal, &layer.passes, step)?;
        let cut = deal.block();
        for laid in checks {
            checks::draw(deal, laid);
            // A cut does not stay behind where its check goes over.
            deal.join(cut);
        }
        Ok(())
    }

    /// What a pass cuts, and behind it what for. A rough cut through the old bore is known by what it meets there, not by the length
    /// of the pocket that it is made for.
    fn names(&self, pass: &Pass) -> [String; 2] {
        let feature = shorten(&pass.feature);
        let own =
            || self.plan.passes.iter().filter(|p| p.cylinder == pass.cylinder && p.feature == pass.feature);
        let begins_deep = own().any(|p| p.stage == Stage::Pocket && p.from > pass.from);
        let rough =
            self.plan.passes.iter().filter(|p| p.cylinder == pass.cylinder && p.stage == Stage::Rough);
        let deepest = rough.map(|p| p.to).fold(0.0, f64::max);
        if pass.stage != Stage::Rough || !begins_deep || pass.from > 0.0 || pass.to < deepest {
            return [feature, String::new()];
        }
        let met_iron = own().filter(|p| p.stage == Stage::Rough && p.step < pass.step).max_by_key(|p| p.step);
        let what = match (pass.shell.is_some(), met_iron.is_some_and(|p| p.shell.is_some())) {
            (true, _) => "old liner, whole length",
            (false, true) => "old liner out, whole length",
            (false, false) => "whole length",
        };
        [what.to_owned(), format!("for the {feature}, ")]
    }

    /// The caution before the cut of a step that takes what is left of the old liner; `None` where it leaves some, or met none.
    fn thin_shell(&self, passes: &[&Pass], step: u32) -> Option<String> {
        let ThinShell { least_mm, most_mm, slower } = thin_shell(passes, step)?;
        let left = say!(
            "Thin iron of the old liner left ({} to {} thick): it can grab, spin and tear the parent.",
            before_mm(least_mm, 2),
            mm(most_mm, 2)
        );
        let left = self.units.say(&left);
        // What the list has: nothing is turned down that is as slow already.
        let Some(Slower { per_rev_mm: [slow, fast], per_min_mm, override_percent }) = slower else {
            return Some(format!(
                "{left} The next cut's feed is slow for it: never turn it up; or pull it out warm."
            ));
        };
        let ([slow_min, fast_min], [slow_share, fast_share]) = (per_min_mm, override_percent);
        let feed = self.machine.say(&say!(
            "{} to {} a turn, {} to {}/min: feed override {slow_share:.0} to {fast_share:.0} %",
            before_mm(slow, 2),
            mm(fast, 2),
            before_mm(slow_min, 0),
            mm(fast_min, 0)
        ));
        Some(format!("{left} For the next cut turn the feed down to {feed}, or pull it out warm."))
    }

    /// The sizes of a hole whose liner came out whole, before the cut that would open it: behind that cut it is as wide as the head.
    fn bare_holes(&self, deal: &mut Deal<'_>, passes: &[&Pass], step: u32) -> Result<(), OutputError> {
        let mut asked: Vec<u32> = Vec::new();
        for number in passes.iter().filter(|p| p.step == step).filter_map(|p| p.stop_number) {
            if asked.contains(&number) {
                continue;
            }
            asked.push(number);
            if let Some(check) = self.plan.checks.iter().find(|c| c.check == number) {
                self.readings_found(deal, check, Of::Parent)?;
            }
        }
        Ok(())
    }

    /// Draws a pass with its figures and notes it for the screen; `following` (pt) must find room on the same page.
    fn pass_line(&self, deal: &mut Deal<'_>, line: &Line<'_>, following: f64, headed: &mut Option<usize>) {
        let high = line.high();
        // A cut stays with its check, and its figures below their heads.
        let heads = if *headed == Some(deal.page()) || line.is_by_hand() { 0.0 } else { HEADS };
        deal.need_with(high + heads, following);
        if *headed != Some(deal.page()) {
            line.heads(deal, self, headed);
        }
        let top = deal.y;
        // The head ends in a rule of its own.
        if !deal.is_fresh() {
            deal.canvas.line(Point::new(LEFT, top), Point::new(RIGHT, top), 0.4, Dash::Solid);
        }
        deal.y += 4.0;
        let number = deal.mark();
        // Nothing is dialled for what hands do.
        let dialled = if line.is_by_hand() { &[] } else { COLUMNS.as_slice() };
        // What hands do has no figures beside it.
        let first = if line.is_by_hand() { RIGHT - 140.0 - INDENT } else { RIGHT - 290.0 - INDENT };
        let [name, purpose] = &line.names;
        // A deck is the whole bank's: the cylinder that it is told at is no cut of its own.
        let what = match line.pass.stage {
            Stage::Deck if !line.pass.is_sleeves_flush() => {
                format!("{}: {name}", short::bank_first(&line.pass.bank))
            }
            _ => format!("cyl {}: {name}", numbers(&line.cylinders)),
        };
        let at = Point::new(INDENT, top + 13.0);
        deal.squeeze(at, Align::Left, (Weight::Bold, 11.0), first, &what);
        let tool = line.pass.tool.as_deref().map_or_else(|| "by hand".to_owned(), shorten);
        let tool = format!("{purpose}{tool}, step {}", line.pass.step);
        deal.note(Block::Line {
            number,
            text: what,
            small: tool.clone(),
            figures: dialled
                .iter()
                .map(|column| Told {
                    head: self.column_head(column),
                    about: column.about,
                    figure: (column.cell)(&line.cells).replace(" to\n", " to "),
                })
                .collect(),
        });
        let cylinder = line.cylinders.first().copied().unwrap_or(line.pass.cylinder);
        let mut why = asked(line.pass, cylinder);
        // Each bore's own, where they are not alike.
        if (line.stock.min, line.stock.max) != (line.pass.stock.min, line.pass.stock.max) {
            let of = |n: &u32| (format!("{n}: {STOCK}"), of_pass(line.pass, *n, STOCK));
            let at = why.iter().position(|(_, question)| question.about() == Some(STOCK));
            if let Some(at) = at {
                why.splice(at..=at, line.cylinders.iter().map(of));
            }
        }
        deal.note(Block::Why(why));
        deal.squeeze(Point::new(INDENT, top + 25.0), Align::Left, (Weight::Plain, 9.5), first, &tool);
        for Column { right, about, cell, .. } in dialled {
            let cell = cell(&line.cells);
            if *about == STOCK {
                for (row, text) in cell.split('\n').enumerate() {
                    let y = top + 13.0 + if row == 0 { 0.0 } else { 11.0 };
                    deal.squeeze(Point::new(*right, y), Align::Right, (Weight::Plain, 9.5), 62.0, text);
                }
            } else {
                // Below both units of a feed, its share.
                let below = cell.match_indices('\n').nth(1).map_or(cell.len(), |(at, _)| at);
                let (figures, share) = cell.split_at_checked(below).unwrap_or((cell, ""));
                two(deal, Point::new(*right, top + 18.0), figures);
                let at = Point::new(*right, top + 24.5 + SHARE);
                deal.put(at, Align::Right, Weight::Plain, 8.5, share.trim_start());
            }
        }
        if !line.read.is_empty() {
            boxes::beside(deal, top + 2.0, &line.read);
        }
        deal.y = top + high;
    }
}

fn stage_name(stage: Stage) -> &'static str {
    match stage {
        Stage::Rough => "Rough",
        Stage::Pocket => "Pocket to size: each bore is measured before the next is cut",
        Stage::Fit => "Fit",
        Stage::Deck => "Deck",
        Stage::Finish => "Finish bore",
        Stage::Hone => "Hone",
    }
}
