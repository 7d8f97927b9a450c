//! What is written down beside the checks, a line each: what is expected, within what, what was found, by whom.
//!
//! The work does not wait for it, and its boxes are in no page of the record: the caption says by which word it is recorded.

use borewright_planner::plan::Stage;
use borewright_planner::plan::check::{Asked, Check, Of};
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::say;
use borewright_planner::survey::{PLATE_ORDINARY_MM, PLATE_RIGID_MM};
use kurbo::{Point, Rect};

use super::area::{BODY, INDENT, RIGHT};
use super::asked;
use super::boxes::{CAPTION, LOOK, either};
use super::deal::Deal;
use super::flow::{Block, ColumnHead};
use super::told::goes_on;
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::{Fonts, Weight};
use crate::said::short::{one_line, shorten};
use crate::sheets::sheet::Sheet;

/// Height of a box, and from a line to the next where its boxes have no caption.
const HIGH: f64 = 24.0;
const ROW: f64 = 28.0;
/// Lines of a caption at the most.
const CAPTION_LINES: usize = 3;
/// Where what is expected stands, within what, and the first box, from the lines' left edge.
const EXPECT: f64 = 28.0;
const WITHIN: f64 = 108.0;
const FOUND: f64 = 176.0;
/// What a jacket under pressure does.
const TIGHT: [&str; 2] = ["holds", "drops"];
/// Width of the box for a name, and of the widest for a number.
const BY: f64 = 34.0;
const WIDEST: f64 = 180.0;
/// Between two lines beside each other.
const BETWEEN: f64 = 16.0;

/// One line.
pub(super) struct Found {
    cylinder: u32,
    /// Index of its bank.
    bank: usize,
    /// What is expected; a second unit stands behind a line break.
    expect: String,
    within: String,
    /// What stands above each box.
    places: Vec<String>,
    /// The two words of a box in which one of them is ringed.
    either: Option<[&'static str; 2]>,
}

impl Sheet<'_> {
    /// The readings of a kind that a check has beside those that the work waits for.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn readings_found(
        &self,
        deal: &mut Deal<'_>,
        check: &Check,
        of: Of,
    ) -> Result<(), OutputError> {
        let lines = self.found_of(check, of)?;
        let number = check.check;
        let (title, words) = match of {
            Of::Parent => (
                "Bare hole, for the lead",
                "Liner came out whole, before this cut? Look that no iron is left, gauge the bare hole, read its centre at each \
                 depth (bores table, surface parent) and tell the lead: plan again before it is cut. Otherwise skip."
                    .to_owned(),
            ),
            Of::Off => {
                let [usual, most] = [PLATE_RIGID_MM, PLATE_ORDINARY_MM];
                let change =
                    say!("changes up to {} are a stiff block's, to {} tell the lead and go on; more holds", before_mm(usual, 3), mm(most, 3));
                ("Plate off", format!("Gauge each bore, plate off, block cool: {}.", self.units.say(&change)))
            }
            // Beside a list of its own, or in the boxes of its check.
            Of::Tight | Of::Set | Of::Roughness | Of::X | Of::Y | Of::Z => return Ok(()),
            Of::Diameter | Of::Depth | Of::Height | Of::Cut | Of::Flatness => return Ok(()),
            Of::Clock | Of::Arc | Of::Look => return Ok(()),
        };
        let words = format!("{words} Record: CHECK {number}, the word \"{}\".", word(of));
        draw(deal, (title, &words), true, &lines);
        Ok(())
    }

    fn found_of(&self, check: &Check, of: Of) -> Result<Vec<Found>, OutputError> {
        let how = (self.units, self.sides(self.bank_of(&check.bank)));
        let mut lines = Vec::new();
        for at in &check.cylinders {
            let own: Vec<&Asked> = at.readings.iter().filter(|r| r.of == of && !r.waits).collect();
            let Some((first, cylinder)) = own.first().zip(at.cylinder) else { continue };
            let (expect, within) = asked::told(how, first)?;
            let places = own.iter().map(|r| asked::place(how, r)).collect::<Result<Vec<_>, _>>()?;
            // A second unit goes below the first.
            let expect = expect.replacen(" (", "\n(", 1);
            let either = of.is_look().then_some(LOOK);
            let bank = self.bank_of(&check.bank);
            lines.push(Found { cylinder, bank, expect, within, places, either });
        }
        Ok(lines)
    }

    /// Which sleeve goes where, by its own number.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn sleeves_found(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let chosen = self.plan.sleeves.iter().find(|s| s.chosen);
        let fitted = |n: u32| self.plan.passes.iter().any(|p| p.stage == Stage::Fit && p.cylinder == n);
        let mut lines = Vec::new();
        for (bank, cylinder) in self.by_bank().into_iter().filter(|(_, c)| fitted(c.cylinder)) {
            let n = cylinder.cylinder;
            let own = chosen.and_then(|s| s.fit.assigned.iter().find(|a| a.cylinder == n));
            let (expect, within) = match own {
                Some(own) => (one_line(&own.number, 30), "this one alone".to_owned()),
                None => (shorten(&cylinder.sleeve), "any of these".to_owned()),
            };
            let places = vec![String::new()];
            lines.push(Found { cylinder: n, bank, expect, within, places, either: None });
        }
        let Some(first) = lines.first() else { return Ok(()) };
        let words = format!(
            "Before the first goes in: read the number off each sleeve. Record: sleeve NUMBER for {}.",
            first.cylinder
        );
        draw(deal, ("Which sleeve goes where", &words), false, &lines);
        Ok(())
    }

    /// What the pressure test of the jacket says, where sleeves stand in coolant; whether it is asked for.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn tight_found(&self, deal: &mut Deal<'_>) -> Result<bool, OutputError> {
        let mut lines = Vec::new();
        let mut numbers: Vec<String> = Vec::new();
        for check in &self.plan.checks {
            let mut own = self.found_of(check, Of::Tight)?;
            if own.is_empty() {
                continue;
            }
            own.iter_mut().for_each(|line| {
                line.places = vec![String::new()];
                line.either = Some(TIGHT);
            });
            numbers.push(check.check.to_string());
            lines.extend(own);
        }
        let words = format!(
            "All sleeves in, the block cold: pressure-test the jacket. The shop lead says at what: \
             ______________ for ____________. Record: CHECK {}, the word \"{}\", yes where it holds.",
            numbers.join(" or "),
            word(Of::Tight)
        );
        draw(deal, ("Pressure test of the jacket", &words), false, &lines);
        Ok(!lines.is_empty())
    }
}

/// The word by which a kind is recorded.
fn word(of: Of) -> &'static str {
    of.spoken().unwrap_or_default()
}

/// Draws lines with their words and heads; nothing where there are none. `dialled`: a figure is expected, not a name.
fn draw(deal: &mut Deal<'_>, (title, words): (&str, &str), dialled: bool, lines: &[Found]) {
    if lines.is_empty() {
        return;
    }
    let width = RIGHT - INDENT;
    let across = Across::of(lines);
    // No row goes from one bank to the next.
    let banks = lines.chunk_by(|a, b| a.bank == b.bank);
    let rows: Vec<&[Found]> = banks.flat_map(|bank| bank.chunks(usize::from(across.many))).collect();
    let above = deal.height(words, Weight::Plain, BODY, width) + 34.0;
    // A few stay together; of more the first two with their words.
    let together = if rows.len() <= 4 { rows.len() } else { 2 };
    deal.need(above + rows.iter().take(together).map(|row| high(deal.fonts, row)).sum::<f64>());
    let number = deal.mark();
    deal.note(Block::Line { number, text: title.to_owned(), small: words.to_owned(), figures: Vec::new() });
    let held = if dialled { ColumnHead::dialled } else { ColumnHead::plain };
    let columns = vec![ColumnHead::plain("cyl"), held("expect"), held("within"), ColumnHead::plain("found")];
    deal.note(Block::Table {
        caption: title.to_owned(),
        heads: columns,
        rows: lines.iter().map(Found::told).collect(),
    });
    deal.words(title, INDENT, Weight::Bold, BODY + 1.0, width);
    deal.words(words, INDENT, Weight::Plain, BODY, width);
    heads(deal, across, lines);
    for (at, row) in rows.iter().enumerate() {
        // The last of several never goes over alone.
        let with_next = if at > 0 && at + 2 == rows.len() { 2.0 } else { 1.0 };
        let high = high(deal.fonts, row);
        deal.need(with_next * high);
        if deal.is_fresh() {
            goes_on(deal, title);
            heads(deal, across, lines);
        }
        let mut left = INDENT;
        for line in *row {
            line.draw(deal, across, Rect::new(left, deal.y, left + across.wide, deal.y + high));
            left += across.wide + BETWEEN;
        }
        deal.y += high;
    }
    deal.y += 4.0;
}

/// What a row takes: the longest caption of its boxes stands above them, pt.
fn high(fonts: &Fonts, row: &[Found]) -> f64 {
    row.iter().map(|line| line.high(fonts)).fold(ROW, f64::max)
}

/// How lines stand beside each other: those of one box each are short enough for it.
#[derive(Clone, Copy)]
struct Across {
    /// How many in a row.
    many: u8,
    /// Width of each, pt.
    wide: f64,
    /// Where its boxes begin.
    found: f64,
}

impl Across {
    fn of(lines: &[Found]) -> Self {
        let one_box = lines.iter().all(|line| line.is_of_one_box());
        let is_bare = lines.iter().all(|line| line.expect.is_empty() && line.within.is_empty());
        let (many, found) = match (one_box, is_bare) {
            (true, true) => (3, EXPECT),
            (true, false) => (2, WITHIN),
            _ => (1, FOUND),
        };
        let parts = f64::from(many);
        Self { many, wide: (RIGHT - INDENT - (parts - 1.0) * BETWEEN) / parts, found }
    }
}

/// A caption in as many lines as it takes: a figure is never cut.
fn caption(fonts: &Fonts, place: &str, wide: f64) -> Vec<String> {
    if place.is_empty() {
        return Vec::new();
    }
    fonts.wrap(place, Weight::Plain, CAPTION, wide - 2.0, CAPTION_LINES)
}

/// Heads of the columns that say something.
fn heads(deal: &mut Deal<'_>, across: Across, lines: &[Found]) {
    let y = deal.y + 10.0;
    let says = |told: fn(&Found) -> &String| lines.iter().any(|line| !told(line).is_empty());
    let columns = [
        (EXPECT, "expect", says(|line| &line.expect)),
        // Beside each other it stands below what is expected.
        (WITHIN, "within", across.many == 1 && says(|line| &line.within)),
        (across.found, "found", true),
        (across.wide - BY, "by", true),
    ];
    let mut left = INDENT;
    for _ in lines.iter().take(usize::from(across.many)) {
        for (at, word, _) in columns.into_iter().filter(|(.., says)| *says) {
            deal.put(Point::new(left + at, y), Align::Left, Weight::Bold, 9.5, word);
        }
        left += across.wide + BETWEEN;
    }
    deal.y += 12.0;
}

impl Found {
    /// What the line says, as the cells of a table on a screen.
    fn told(&self) -> Vec<String> {
        let at = match (self.either, self.places.concat().is_empty()) {
            (Some([one, other]), _) => format!("{one} or {other}"),
            (None, true) => "a number".to_owned(),
            (None, false) => self.places.join(" · "),
        };
        vec![self.cylinder.to_string(), self.expect.clone(), self.within.clone(), at]
    }

    /// From it to the next: the longest caption of its boxes stands above them.
    fn high(&self, fonts: &Fonts) -> f64 {
        let (wide, _) = self.boxes();
        let captions = self.places.iter().map(|place| caption(fonts, place, wide).len());
        let lines = captions.max().unwrap_or_default();
        ROW + (0..lines).map(|_| CAPTION).sum::<f64>()
    }

    /// Whether it is one box with nothing above it, and what is expected one line.
    fn is_of_one_box(&self) -> bool {
        self.places.len() == 1 && self.places.concat().is_empty() && !self.expect.contains('\n')
    }

    /// How wide its boxes are, and from one to the next.
    fn boxes(&self) -> (f64, f64) {
        match self.places.len() {
            0..=3 => (86.0, 90.0),
            _ => (70.0, 74.0),
        }
    }

    /// Draws the line: the bore's number, what is expected and within what, and a box for each figure.
    fn draw(&self, deal: &mut Deal<'_>, across: Across, area: Rect) {
        deal.has_check();
        let bottom = area.y1 - 1.0;
        let base = bottom - 7.0;
        let number = self.cylinder.to_string();
        deal.put(Point::new(area.x0 + 21.0, base), Align::Right, Weight::Bold, 16.0, &number);
        let room = WITHIN - EXPECT - 6.0;
        let beside = across.many > 1;
        // A second unit goes below the first; within what, where lines stand beside each other.
        let (first, second) = match self.expect.split_once('\n') {
            Some(two) => two,
            None if beside => (self.expect.as_str(), self.within.as_str()),
            None => (self.expect.as_str(), ""),
        };
        let up = if second.is_empty() { 0.0 } else { 8.0 };
        let at = Point::new(area.x0 + EXPECT, base - up);
        deal.squeeze(at, Align::Left, (Weight::Bold, 11.5), room, first);
        deal.squeeze(Point::new(at.x, base + 2.5), Align::Left, (Weight::Plain, 9.0), room, second);
        if !beside {
            // A window is never cut: its upper end goes below its lower one where it is long.
            let room = FOUND - WITHIN - 4.0;
            let is_long = deal.fonts.width(&self.within, Weight::Plain, 8.5) > room;
            let (lower, upper) = match self.within.split_once(" to ").filter(|_| is_long) {
                Some((lower, upper)) => (format!("{lower} to"), upper),
                None => (self.within.clone(), ""),
            };
            let up = if upper.is_empty() { 0.0 } else { 8.0 };
            let at = Point::new(area.x0 + WITHIN, base - up);
            deal.squeeze(at, Align::Left, (Weight::Plain, 9.5), room, &lower);
            deal.squeeze(Point::new(at.x, base + 2.5), Align::Left, (Weight::Plain, 9.5), room, upper);
        }
        let (mut wide, pitch) = self.boxes();
        if self.is_of_one_box() && self.either.is_none() {
            wide = (area.width() - across.found - BY - 4.0).min(WIDEST);
        }
        let mut left = area.x0 + across.found;
        for place in &self.places {
            let frame = Rect::new(left, bottom - HIGH, left + wide, bottom);
            deal.canvas.frame(frame, 1.0);
            if let Some(words) = self.either {
                either(deal, frame, words);
            } else {
                let lines = caption(deal.fonts, place, wide);
                let mut y = frame.y0 - 2.0 - lines.iter().skip(1).map(|_| CAPTION).sum::<f64>();
                for line in &lines {
                    deal.put(Point::new(left, y), Align::Left, Weight::Plain, CAPTION, line);
                    y += CAPTION;
                }
            }
            left += pitch;
        }
        let frame = Rect::new(area.x1 - BY, bottom - HIGH, area.x1, bottom);
        deal.canvas.frame(frame, 1.0);
    }
}
