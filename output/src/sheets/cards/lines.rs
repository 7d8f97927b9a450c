//! Lines that passes make, and the end of a card.

use borewright_planner::explain::Question;
use borewright_planner::passes::{Slower, ThinShell, thin_shell};
use borewright_planner::plan::check::{Asked, AtCylinder, Check, Of, What};
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::plan::{Pass, Plan, Stage, Stock, Stop};
use borewright_planner::say;
use kurbo::{Point, Rect};

use super::checks::{self, Laid};
use super::flow::{Ask, Block, Told};
use super::leaf::{BODY, Deal, INDENT, LEFT, RIGHT};
use super::set_up::two;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{self, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, numbers};

/// A column of figures of a pass.
struct Column {
    /// Its right edge, pt.
    right: f64,
    head: &'static str,
    /// Which figure of a pass stands in it, as it is asked for.
    about: &'static str,
}

/// The figures of a line: what each is called, where it stands and what it is asked for by.
const COLUMNS: [Column; 5] = [
    Column { right: RIGHT - 232.0, head: "to Ø", about: "size" },
    Column { right: RIGHT - 166.0, head: "to depth", about: "depth" },
    Column { right: RIGHT - 98.0, head: "stock a side", about: "stock" },
    Column { right: RIGHT - 54.0, head: "rpm", about: "speed" },
    Column { right: RIGHT, head: "feed/min", about: "feed" },
];
/// What stands in words beside a line, or on its ring, and can be asked for too. What a cut asks of the machine stands on the figures'
/// sheet.
const IN_WORDS: [&str; 5] = ["strokes", "stroke", "over", "crosshatch", "iron"];
/// A figure that a pass does not have.
pub(super) const NOTHING: &str = "–";

/// Passes that are dialled alike, on one line: what each takes off on which side, the rings show.
struct Line<'a> {
    pass: &'a Pass,
    /// What it cuts, and behind it what for.
    names: [String; 2],
    cells: [String; 5],
    /// Of all of them.
    stock: Stock,
    cylinders: Vec<u32>,
}

/// Which of the cells is the stock.
const STOCK: usize = 2;

impl Line<'_> {
    /// Whether no machine does it.
    fn is_by_hand(&self) -> bool {
        self.pass.tool.is_none() && self.pass.rpm <= 0.0 && self.pass.feed <= 0.0
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
        between: Option<&str>,
    ) -> Result<(), OutputError> {
        let mut waiting: Vec<Laid> = Vec::new();
        let mut made: Vec<Line<'_>> = Vec::new();
        let mut passes = passes.to_vec();
        passes.sort_by_key(|p| p.step);
        for pass in &passes {
            let cells = self.dialled(pass)?;
            let names = self.names(pass);
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
                    let (stock, cylinders) = (pass.stock, vec![pass.cylinder]);
                    made.push(Line { pass, names, cells, stock, cylinders });
                }
            }
        }
        for line in &mut made {
            line.cells[STOCK] = self.stock(line.pass.stage, line.stock)?;
        }
        let mut stage = None;
        // The page whose columns have their heads.
        let mut headed: Option<usize> = None;
        let mut cautioned = false;
        for (index, line) in made.iter().enumerate() {
            // What a step asks for stands below the last of its lines.
            let ends = made.get(index + 1).is_none_or(|next| next.pass.step != line.pass.step);
            let mut checks = if ends {
                self.checks_of(deal, &passes, line.pass.step, between.is_some())?
            } else {
                Vec::new()
            };
            if between.is_some() {
                waiting.extend(checks.drain(..).map(|(_, laid)| laid));
            }
            let following = checks.first().map_or(0.0, |(_, laid)| laid.room);
            let step = line.pass.step;
            let starts = index.checked_sub(1).and_then(|at| made.get(at)).is_none_or(|b| b.pass.step != step);
            let tried = self.tried(&passes, step).filter(|_| starts);
            let trial = tried.as_ref().map_or(0.0, |words| deal.step_height(words, Weight::Bold));
            if stage != Some(line.pass.stage) {
                stage = Some(line.pass.stage);
                // With its first line and what is measured of it: a heading alone at the foot of a page heads nothing.
                // Lines whose checks wait have their heading already.
                if between.is_none() {
                    deal.heading(&stage_name(line.pass.stage), f64::max(90.0, 60.0 + trial + following));
                }
                if tried.is_none() {
                    column_heads(deal, line, &mut headed);
                }
            }
            let caution = if cautioned || !starts { None } else { self.thin_shell(&passes, step) };
            if let Some(words) = caution {
                cautioned = true;
                deal.need(deal.step_height(&words, Weight::Bold) + 42.0 + following);
                deal.step(&words, Weight::Bold);
            }
            if starts {
                self.bare_holes(deal, &passes, step)?;
            }
            if let Some(words) = tried {
                // Before the figures of the whole depth, as the list stops: after it there is no metal to go back to.
                deal.need(trial + 42.0 + following);
                deal.step(&words, Weight::Bold);
                if starts {
                    self.ledge_first(deal, &passes, step)?;
                }
                column_heads(deal, line, &mut headed);
            } else if starts {
                self.ledge_first(deal, &passes, step)?;
            }
            self.pass_line(deal, line, following, &mut headed);
            if ends {
                self.iron_seen(deal, &passes, step)?;
            }
            let cut = deal.block();
            let mut drawn: Option<u32> = None;
            for (check, laid) in checks {
                checks::draw(deal, laid);
                // A cut does not stay behind where its check goes over.
                if drawn.replace(check.check) != Some(check.check) {
                    deal.join(cut);
                }
            }
        }
        if let Some(words) = between {
            deal.need(deal.step_height(words, Weight::Bold) + waiting.first().map_or(0.0, |laid| laid.room));
            deal.step(words, Weight::Bold);
        }
        for laid in waiting {
            checks::draw(deal, laid);
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
        // What the list has: nothing is turned down that is as slow already.
        let told = if let Some(Slower { per_rev_mm: [slow, fast], per_min_mm, override_percent }) = slower {
            let ([slow_min, fast_min], [slow_share, fast_share]) = (per_min_mm, override_percent);
            say!(
                "{} For the next cut turn the feed down to {} to {} a turn (= {} to {}/min: feed override {slow_share:.0} to \
                 {fast_share:.0} %), or pull it out warm.",
                left,
                before_mm(slow, 2),
                mm(fast, 2),
                before_mm(slow_min, 0),
                mm(fast_min, 0)
            )
        } else {
            say!("{} The next cut's feed is slow for it: never turn it up; or pull it out warm.", left)
        };
        Some(self.units.say(&told))
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

    /// The checks of a step, each with its own words: what is said of one bore alone is asked of it alone. Its boxes stand in the order
    /// of the check throughout, as a page of the record is filled.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    fn checks_of(
        &self,
        deal: &Deal<'_>,
        passes: &[&Pass],
        step: u32,
        cold: bool,
    ) -> Result<Vec<(Check, Laid)>, OutputError> {
        let mut numbered: Vec<u32> = Vec::new();
        let mut made = Vec::new();
        for pass in passes.iter().filter(|p| p.step == step && p.stop.is_some()) {
            let Some(number) = pass.stop_number.filter(|n| !numbered.contains(n)) else { continue };
            numbered.push(number);
            let own: Vec<&Pass> =
                passes.iter().copied().filter(|p| p.step == step && p.stop_number == Some(number)).collect();
            for (check, words) in self.by_words(check_of(self.plan, pass, number), &own, cold) {
                let laid = checks::laid(deal, self, &check, &words)?;
                made.push((check, laid));
            }
        }
        Ok(made)
    }

    /// A check parted where its words change from a bore to the next; a look stays whole, with the words of each. Of what is judged
    /// `cold` only that is said: how it went in stands above the line.
    fn by_words(&self, check: Check, passes: &[&Pass], cold: bool) -> Vec<(Check, String)> {
        let first = passes.iter().find_map(|p| p.stop.as_ref());
        let of_bore = |at: &AtCylinder| {
            let own = passes.iter().find(|p| Some(p.cylinder) == at.cylinder);
            own.and_then(|p| p.stop.as_ref()).or(first)
        };
        // With room for the one figure that the check is judged by and no box asks for.
        let say = |stop: Option<&Stop>| match stop {
            Some(stop) if cold && !stop.once.is_empty() => self.units.say_with_blanks(&stop.asks),
            Some(stop) => self.units.say_with_blanks(&stop.whole()),
            None => String::new(),
        };
        if check.what == What::Look {
            let mut told: Vec<(Option<&Stop>, Vec<u32>)> = Vec::new();
            for at in &check.cylinders {
                let (words, cylinder) = (of_bore(at), at.cylinder);
                match told.iter_mut().find(|(own, _)| *own == words) {
                    Some((_, cylinders)) => cylinders.extend(cylinder),
                    None => told.push((words, cylinder.into_iter().collect())),
                }
            }
            let each: Vec<String> = match told.as_slice() {
                [(words, _)] => vec![say(*words)],
                several => several
                    .iter()
                    .map(|(words, own)| format!("cylinder {}: {}", numbers(own), say(*words)))
                    .collect(),
            };
            return vec![(check, each.join(". "))];
        }
        let parts = check.cylinders.chunk_by(|a, b| of_bore(a) == of_bore(b));
        parts
            .map(|part| {
                let words = part.first().and_then(of_bore);
                (Check { cylinders: part.to_vec(), ..check.clone() }, say(words))
            })
            .collect()
    }

    /// What can be asked of the time of a card: of its lists, else of its stages.
    pub(super) fn note_time(&self, deal: &mut Deal<'_>, bank: Option<&str>, stages: &[Stage]) {
        let lists = self.planning.lists.iter();
        let own = lists.filter(|l| Some(l.bank.as_str()) == bank && stages.contains(&l.stage));
        let mut asked: Vec<Ask> = own
            .map(|l| (format!("time of list {}", l.number), Question::Lists { numbers: vec![l.number] }))
            .collect();
        let times = self.plan.times.iter().filter(|t| bank.is_none() && stages.contains(&t.stage));
        asked.extend(times.map(|t| {
            let stage = t.stage.word();
            (format!("{stage}: time"), Question::Stage { stage: stage.to_owned() })
        }));
        deal.note(Block::Why(asked));
    }

    /// What is dialled for a pass; its stock is told of its line.
    fn dialled(&self, pass: &Pass) -> Result<[String; 5], OutputError> {
        let length = |mm: f64, digits: Digits, there: bool| -> Result<String, OutputError> {
            if there { Ok(self.units.length(mm, digits)?.stacked()) } else { Ok(NOTHING.to_owned()) }
        };
        let turns = pass.rpm > 0.0;
        Ok([
            length(pass.diameter, Digits::Fine, pass.diameter > 0.0)?,
            length(pass.to, Digits::Fine, pass.to > pass.from)?,
            String::new(),
            if turns { Fixed::new(pass.rpm, 0)?.to_string() } else { NOTHING.to_owned() },
            if pass.feed > 0.0 { self.units.feed(pass.feed)?.stacked() } else { NOTHING.to_owned() },
        ])
    }

    fn stock(&self, stage: Stage, stock: Stock) -> Result<String, OutputError> {
        let even = (stock.max - stock.min).abs() < 0.005;
        let one = |mm: f64| -> Result<String, OutputError> {
            let digits = if stage == Stage::Hone { Digits::Fine } else { Digits::Middling };
            Ok(self.units.length(mm, digits)?.stacked().replace('\n', " "))
        };
        Ok(match (stock.max > 0.0, even) {
            (true, true) => one(stock.max)?,
            (true, false) => format!("{} to\n{}", one(stock.min)?, one(stock.max)?),
            (false, _) => NOTHING.to_owned(),
        })
    }

    /// Draws a pass with its figures and notes it for the screen; `following` (pt) must find room on the same page.
    fn pass_line(&self, deal: &mut Deal<'_>, line: &Line<'_>, following: f64, headed: &mut Option<usize>) {
        const HIGH: f64 = 30.0;
        // A cut stays with its check, and its figures below their heads.
        let heads = if *headed == Some(deal.page()) || line.is_by_hand() { 0.0 } else { HEADS };
        deal.need(HIGH + heads + following);
        if *headed != Some(deal.page()) {
            column_heads(deal, line, headed);
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
        let first = RIGHT - 290.0 - INDENT;
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
                .zip(&line.cells)
                .map(|(Column { head, about, .. }, cell)| Told {
                    head,
                    about,
                    figure: cell.replace(" to\n", " to "),
                })
                .collect(),
        });
        let cylinder = line.cylinders.first().copied().unwrap_or(line.pass.cylinder);
        let mut why = asked(line.pass, cylinder);
        // Each bore's own, where they are not alike.
        if (line.stock.min, line.stock.max) != (line.pass.stock.min, line.pass.stock.max) {
            let stock = COLUMNS[STOCK].about;
            let of = |n: &u32| (format!("{n}: {stock}"), of_pass(line.pass, *n, stock));
            let at = why.iter().position(|(_, question)| question.about() == Some(stock));
            if let Some(at) = at {
                why.splice(at..=at, line.cylinders.iter().map(of));
            }
        }
        deal.note(Block::Why(why));
        deal.squeeze(Point::new(INDENT, top + 25.0), Align::Left, (Weight::Plain, 9.5), first, &tool);
        for (at, (Column { right, .. }, cell)) in dialled.iter().zip(&line.cells).enumerate() {
            if at == STOCK {
                for (row, text) in cell.split('\n').enumerate() {
                    let y = top + 13.0 + if row == 0 { 0.0 } else { 11.0 };
                    deal.squeeze(Point::new(*right, y), Align::Right, (Weight::Plain, 9.5), 62.0, text);
                }
            } else {
                two(deal, Point::new(*right, top + 18.0), cell);
            }
        }
        deal.y = top + HIGH;
    }
}

/// What can be asked of a line of a pass.
pub(super) fn asked(pass: &Pass, cylinder: u32) -> Vec<Ask> {
    let known = askable().filter(|about| pass.worked.iter().any(|f| f.about == *about));
    known.map(|about| (about.to_owned(), of_pass(pass, cylinder, about))).collect()
}

/// Every figure of a pass that a card has, as it is asked for.
pub(super) fn askable() -> impl Iterator<Item = &'static str> {
    COLUMNS.iter().map(|column| column.about).chain(IN_WORDS)
}

fn of_pass(pass: &Pass, cylinder: u32, about: &str) -> Question {
    Question::Pass { step: pass.step, cylinder: Some(cylinder), about: Some(about.to_owned()) }
}

/// What the heads of the columns take, pt.
const HEADS: f64 = 12.0;

/// Heads of the figures of a line that has any; notes the page that has them.
fn column_heads(deal: &mut Deal<'_>, line: &Line<'_>, headed: &mut Option<usize>) {
    if line.is_by_hand() {
        return;
    }
    *headed = Some(deal.page());
    let y = deal.y + 9.0;
    for Column { right, head, .. } in COLUMNS {
        deal.put(Point::new(right, y), Align::Right, Weight::Bold, 9.5, head);
    }
    deal.y += HEADS;
}

fn stage_name(stage: Stage) -> String {
    match stage {
        Stage::Rough => "Rough",
        Stage::Pocket => "Pocket to size: each bore is measured before the next is cut",
        Stage::Fit => "Fit",
        Stage::Deck => "Deck",
        Stage::Finish => "Finish bore",
        Stage::Hone => "Hone",
    }
    .to_owned()
}

/// The plan's check of a pass; where it has none, a look at each bore.
fn check_of(plan: &Plan, pass: &Pass, number: u32) -> Check {
    if let Some(check) = plan.checks.iter().find(|c| c.check == number) {
        return check.clone();
    }
    let look = |cylinder: u32| AtCylinder {
        cylinder: Some(cylinder),
        readings: vec![Asked {
            reading: 1,
            of: Of::Look,
            depth: None,
            clock: None,
            expected: None,
            least: None,
            most: None,
            unit: String::new(),
            waits: true,
            worked: Vec::new(),
        }],
    };
    let own = plan.passes.iter().filter(|p| p.stop_number == Some(number));
    Check {
        check: number,
        what: What::Look,
        stage: pass.stage,
        bank: pass.bank.clone(),
        step: Some(pass.step),
        feature: pass.feature.clone(),
        cylinders: own.map(|p| look(p.cylinder)).collect(),
    }
}

/// Width of the words where the machine stops.
fn stop_width() -> f64 {
    RIGHT - LEFT - 140.0
}

/// Height of their frame.
pub(super) fn stop_height(deal: &Deal<'_>, words: &str) -> f64 {
    deal.height(words, Weight::Bold, BODY, stop_width()).max(24.0) + 10.0
}

/// A card ends where the machine stops.
pub(super) fn stop(deal: &mut Deal<'_>, words: &str) {
    deal.note(Block::Stop(words.to_owned()));
    let width = stop_width();
    let high = stop_height(deal, words);
    deal.need_with_last(high + 4.0);
    let top = deal.y + 2.0;
    deal.canvas.frame(Rect::new(LEFT + 1.0, top, RIGHT - 1.0, top + high), 2.0);
    deal.y = top + 3.0;
    deal.words(words, LEFT + 8.0, Weight::Bold, BODY, width);
    deal.put(
        Point::new(RIGHT - 122.0, top + high - 8.0),
        Align::Left,
        Weight::Plain,
        9.0,
        "done by ______________",
    );
    deal.y = top + high + 3.0;
}
