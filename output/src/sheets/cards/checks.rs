//! A CHECK: its number, what is expected and within what, and boxes to write in, a row a bore.

use borewright_planner::explain::{Question, Whose};
use borewright_planner::plan::check::{Asked, Check, Of, What};
use borewright_planner::plan::cylinder_words;
use borewright_planner::plan::worked::Figure;
use borewright_planner::record::answer::together;
use kurbo::{Point, Rect};

use super::area::{BODY, INDENT, RIGHT};
use super::asked::{place, told};
use super::boxes::{CAPTION, LOOK, either};
use super::deal::Deal;
use super::flow::{self, Block, ColumnHead};
use super::told::goes_on;
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::polished::polished;
use crate::paper::text::{Fonts, Weight};
use crate::said::number::Fixed;
use crate::said::sides::Sides;
use crate::said::units::Units;
use crate::sheets::sheet::Sheet;

/// 9 mm high, what a pencil in a glove needs.
const HIGH: f64 = 26.0;
/// 30 mm wide; 25 mm where two or three bores then stand beside each other; 21 mm, still six figures of 3 mm, where all readings of a
/// bore then stand on one row.
const WIDE: [f64; 3] = [86.0, 72.0, 59.0];
/// From a box to the next.
const GAP: f64 = 3.0;
/// From a row to the next: a line of a caption stands above each box.
const ROW: f64 = 37.0;
/// Lines of a caption at the most: what is read, what is expected, within what, in both units.
const CAPTION_LINES: usize = 4;
/// Room of a cylinder's number, and of what is expected, before the boxes of a row.
const NUMBER: f64 = 26.0;
/// Before the box of what is of the whole bank.
const NO_NUMBER: f64 = 4.0;
const EXPECTED: [f64; 2] = [68.0, 106.0];
/// Boxes in a row, wide and narrow.
const ACROSS: [usize; 2] = [4, 6];

/// What is read, what is expected and within what: weight and size, and how far down its row.
const EXPECTED_LINES: [((Weight, f64), f64); 3] =
    [((Weight::Plain, 9.5), 10.0), ((Weight::Bold, 11.5), 22.5), ((Weight::Plain, 9.5), 33.5)];

/// The same where the window is two lines.
const EXPECTED_IN_FOUR: [((Weight, f64), f64); 4] = [
    ((Weight::Plain, 9.0), 9.0),
    ((Weight::Bold, 11.0), 19.5),
    ((Weight::Plain, 9.0), 29.0),
    ((Weight::Plain, 8.5), 38.0),
];

/// Below a row with four such lines, clear of the next, pt.
const FOURTH: f64 = 6.0;

/// A window in two lines, where it is longer than the room of what is expected.
fn in_two(fonts: &Fonts, window: &str) -> Option<[String; 2]> {
    let [_, _, ((weight, size), _)] = EXPECTED_LINES;
    if fonts.width(window, weight, size) <= EXPECTED[1] - 6.0 {
        return None;
    }
    let (first, second) =
        window.split_once(") to ").map(|(low, high)| (format!("{low}) to"), high.to_owned())).or_else(
            || window.split_once(" (").map(|(first, second)| (first.to_owned(), format!("({second}"))),
        )?;
    Some([first, second])
}

/// A check with its words and rows, laid out once: how much room it takes is asked before it is drawn.
pub(super) struct Laid {
    title: String,
    /// What is said of it, with what its readings keep together.
    words: String,
    /// What can be asked of it.
    asked: Vec<flow::Ask>,
    rows: Vec<Row>,
    /// What it takes at the least where it begins, pt: its words and the rows that stay with them.
    pub(super) room: f64,
}

/// What is said of a check.
pub(super) struct Words {
    /// Of all of its bores.
    pub(super) all: String,
    /// Of each alone, in their order; empty where that is nothing.
    pub(super) own: Vec<String>,
}

/// Lays out a check of whose bores the same is said.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn laid(
    deal: &Deal<'_>,
    sheet: &Sheet<'_>,
    check: &Check,
    words: &str,
) -> Result<Laid, OutputError> {
    laid_with(deal, sheet, check, Words { all: words.to_owned(), own: Vec::new() })
}

/// Lays out a check.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn laid_with(
    deal: &Deal<'_>,
    sheet: &Sheet<'_>,
    check: &Check,
    Words { all, own }: Words,
) -> Result<Laid, OutputError> {
    let mut rows = rows(deal.fonts, sheet, check)?;
    let firsts = rows.iter_mut().filter(|row| row.starts);
    firsts.zip(own).for_each(|(row, words)| row.note = Note::of(deal.fonts, row, words));
    let words = with_rule(sheet, check, &all);
    let first = 1 + rows.iter().skip(1).take_while(|row| !row.starts).count();
    let lines = packed(&rows);
    // It goes over as a whole; only what is longer than a page is parted between its rows.
    let high = |many: usize| {
        head_height(deal, &words) + lines.iter().take(many).map(|line| height(line)).sum::<f64>() + 4.0
    };
    let all = high(lines.len());
    let room = if all <= deal.full() { all } else { high(first.max(2)) };
    Ok(Laid { title: title(sheet, check), words, asked: figures(check), rows, room })
}

/// What number, words and the boxes for who measured take, pt.
pub(super) fn head_height(deal: &Deal<'_>, words: &str) -> f64 {
    deal.height(words, Weight::Plain, BODY, WORDS_WIDE).max(28.0) + 16.0
}

/// Number and words of a check, and beside them who measured, when and with what.
pub(super) fn head(deal: &mut Deal<'_>, title: &str, words: &str) {
    let number = deal.mark();
    deal.note(Block::Line { number, text: title.to_owned(), small: words.to_owned(), figures: Vec::new() });
    let top = deal.y;
    deal.words(title, INDENT, Weight::Bold, BODY + 1.0, WORDS_WIDE);
    deal.words(words, INDENT, Weight::Plain, BODY, WORDS_WIDE);
    who(deal, top);
    deal.y = deal.y.max(top + 40.0);
}

/// What the figures of a check are told in: a touch check is read off the machine's display.
fn units_of(sheet: &Sheet<'_>, check: &Check) -> Units {
    if check.what == What::Touch { sheet.machine } else { sheet.units }
}

/// Draws a check.
pub(super) fn draw(deal: &mut Deal<'_>, laid: Laid) {
    let Laid { title, words, asked, rows, room } = laid;
    deal.need(room);
    head(deal, &title, &words);
    if !rows.is_empty() {
        deal.note(Block::Table {
            caption: title.clone(),
            heads: vec![
                ColumnHead::plain("cyl"),
                ColumnHead::plain("what"),
                ColumnHead::dialled("expected"),
                ColumnHead::dialled("window"),
                ColumnHead::plain("at"),
            ],
            rows: rows.iter().map(Row::told).collect(),
        });
    }
    deal.note(Block::Why(asked));
    let lines = packed(&rows);
    for (at, line) in lines.iter().enumerate() {
        // A bore's rows stay together: what goes on from its first has no number. The last line of several never goes over
        // alone.
        if line.first().is_none_or(|row| row.starts) {
            let goes_on = |line: &&Vec<&Row>| line.first().is_some_and(|row| !row.starts);
            let more = lines.iter().skip(at + 1).take_while(goes_on).count();
            let before_last = at > 0 && at + more + 2 == lines.len();
            let own = lines.iter().skip(at).take(more + 1 + usize::from(before_last));
            deal.need(own.map(|line| height(line)).sum());
        }
        if at > 0 && deal.is_fresh() {
            goes_on(deal, &title);
        }
        draw_line(deal, line);
    }
    deal.y += 3.0;
}

/// The words of a check, and what its readings keep together: a record answers by it though each is in its window.
pub(super) fn with_rule(sheet: &Sheet<'_>, check: &Check, words: &str) -> String {
    let Some(rule) = together(&sheet.planning.job, check) else { return words.to_owned() };
    let rule = units_of(sheet, check).say(&rule);
    // A touch check is judged by all of its figures together: that stands before what follows from it.
    if check.what == What::Touch {
        return format!("{rule}. {words}");
    }
    let ends = words.trim_end();
    let stop = if ends.is_empty() || ends.ends_with('.') { "" } else { "." };
    format!("{ends}{stop} {rule}.").trim_start().to_owned()
}

/// Number and kind; where only some of its bores stand here, which.
fn title(sheet: &Sheet<'_>, check: &Check) -> String {
    let mut title = format!("CHECK {}: {}", check.check, check.what.words());
    if units_of(sheet, check) != sheet.units {
        title.push_str(&format!(", {}", sheet.machine.name()));
    }
    if check.what == What::Touch {
        // The farthest first, as the list goes.
        let bores: Vec<String> =
            check.cylinders.iter().filter_map(|at| at.cylinder).map(|n| n.to_string()).collect();
        if bores.len() > 1 {
            title.push_str(&format!(", cylinder {}", bores.join(", then ")));
        }
    }
    let all = sheet.plan.checks.iter().find(|c| c.check == check.check).map_or(0, |c| c.cylinders.len());
    let here: Vec<u32> = check.cylinders.iter().filter_map(|at| at.cylinder).collect();
    if here.len() < all && !here.is_empty() && check.what != What::Touch {
        return format!("{title}, {}", cylinder_words(&here));
    }
    title
}

/// What can be asked of a check: what is expected at each bore, once where it is the same at all, and the window once.
pub(super) fn figures(check: &Check) -> Vec<flow::Ask> {
    let mut asked: Vec<flow::Ask> = Vec::new();
    for about in ["expected", "within"] {
        let mut known: Vec<Vec<&Figure>> = Vec::new();
        let mut own: Vec<flow::Ask> = Vec::new();
        for at in &check.cylinders {
            let waits = at.readings.iter().filter(|r| r.waits);
            let figures: Vec<&Figure> = waits.flat_map(|r| &r.worked).filter(|f| f.about == about).collect();
            // A window is as wide at every bore, whatever it lies about.
            if figures.is_empty() || (about == "within" && !own.is_empty()) || known.contains(&figures) {
                continue;
            }
            known.push(figures);
            let bore = at.cylinder.map_or_else(|| "bank".to_owned(), |n| n.to_string());
            let whose = at.cylinder.map_or(Whose::Bank, Whose::Cylinder);
            let about = Some(about.to_owned());
            own.push((bore, Question::Check { check: check.check, whose, about }));
        }
        let word = if about == "within" { "window" } else { about };
        let single = own.len() == 1;
        let named =
            |(bore, question)| (if single { word.to_owned() } else { format!("{bore}: {word}") }, question);
        asked.extend(own.into_iter().map(named));
    }
    asked
}

/// A row of boxes.
struct Row {
    /// The cylinder, on its first row.
    cylinder: Option<u32>,
    /// Whether it is a bore's first.
    starts: bool,
    /// Whether it is the one reading of a whole bank.
    of_bank: bool,
    /// What is read, what is expected and within what, where that is the same for all.
    alike: Option<[String; 3]>,
    /// Whether a row of its check says more of what is expected than fits the lesser room.
    long: bool,
    boxes: Vec<Box>,
    /// What is said of its bore alone.
    note: Option<Note>,
    /// The window in two lines, where it is longer than its room.
    parted: Option<[String; 2]>,
}

/// Words that are of one bore alone.
struct Note {
    words: String,
    lines: Vec<String>,
    /// Whether they stand behind its boxes; else above them.
    behind: bool,
}

/// Size of a note, what each of its lines takes, and how many go behind the boxes.
const NOTE: (f64, f64) = (9.5, 11.5);
const NOTE_LINES: usize = 3;

impl Note {
    fn of(fonts: &Fonts, row: &Row, words: String) -> Option<Self> {
        let left = RIGHT - INDENT - row.width() - 8.0;
        let wrapped = |width: f64| fonts.wrap(&polished(&words), Weight::Plain, NOTE.0, width, 14);
        let beside = (left > 130.0).then(|| wrapped(left)).filter(|lines| lines.len() <= NOTE_LINES);
        let behind = beside.is_some();
        let lines = beside.unwrap_or_else(|| wrapped(RIGHT - INDENT - NUMBER));
        (!words.is_empty()).then_some(Self { words, lines, behind })
    }

    /// What it takes above the boxes, pt.
    fn above(&self) -> f64 {
        if self.behind { 0.0 } else { self.lines.iter().map(|_| NOTE.1).sum::<f64>() + 2.0 }
    }
}

/// A box to write in.
struct Box {
    /// What stands above it.
    caption: String,
    /// The same in lines as wide as the box.
    lines: Vec<String>,
    /// Whether it asks for a yes or a no.
    look: bool,
}

impl Row {
    /// What the row says, as the cells of a table on a screen.
    fn told(&self) -> Vec<String> {
        let cylinder = self.cylinder.map_or_else(String::new, |c| c.to_string());
        let [mut what, expected, window] = self.alike.clone().unwrap_or_default();
        let places: Vec<String> =
            self.boxes.iter().map(|b| b.caption.replace('\n', " ")).filter(|at| !at.is_empty()).collect();
        let mut at = places.join(" · ");
        if at.is_empty() && self.boxes.iter().all(|b| b.look) {
            (what, at) = (LOOK.join(" or "), String::new());
        }
        if let Some(note) = &self.note {
            let between = if what.is_empty() { "" } else { ": " };
            what = format!("{what}{between}{}", note.words);
        }
        vec![cylinder, what, expected, window, at]
    }
}

/// The rows of a check.
///
/// # Errors
/// Where a figure cannot be printed.
fn rows(fonts: &Fonts, sheet: &Sheet<'_>, check: &Check) -> Result<Vec<Row>, OutputError> {
    let how = (units_of(sheet, check), sheet.sides(sheet.bank_of(&check.bank)));
    let mut made = Vec::new();
    for at in &check.cylinders {
        let readings: Vec<&Asked> = at.readings.iter().filter(|r| r.waits).collect();
        // Sizes and depths of one check are no row of each other's: a box says where it is read, or what of.
        let kind = |r: &&Asked| (r.of.is_diameter(), r.of == Of::Flatness);
        let kinds = readings.chunk_by(|a, b| kind(a) == kind(b));
        for (row, chunk) in kinds.flat_map(|kind| kind.chunks(across(kind))).enumerate() {
            let cylinder = at.cylinder.filter(|_| row == 0);
            // One reading of a whole bank has its words above its box, and goes beside the bores'.
            let of_bank = at.cylinder.is_none() && readings.len() == 1;
            made.push(Row { cylinder, starts: row == 0, of_bank, ..row_of(how, chunk, of_bank)? });
        }
    }
    // One column for all.
    let is_long = |row: &Row| {
        let texts = EXPECTED_LINES.iter().zip(row.expected().into_iter().flatten());
        texts.map(|((size, _), text)| fonts.width(text, size.0, size.1)).any(|w| w > EXPECTED[0] - 6.0)
    };
    if made.iter().any(is_long) {
        made.iter_mut().for_each(|row| row.long = true);
    }
    made.iter_mut().for_each(|row| row.break_captions(fonts));
    Ok(made)
}

/// Whether the same is read everywhere, and the same expected.
fn is_alike(readings: &[&Asked]) -> bool {
    let asks = |r: &&Asked| (r.of, r.expected, r.least, r.most);
    readings.windows(2).all(|two| matches!(two, [one, next] if asks(one) == asks(next)))
}

/// How many boxes of a bore stand on a row: as many on each, and narrow ones only where they spare a row.
fn across(readings: &[&Asked]) -> usize {
    let [wide, narrow] = ACROSS;
    let most = if is_alike(readings) { narrow } else { wide };
    readings.len().div_ceil(readings.len().div_ceil(most).max(1)).max(1)
}

fn row_of(how: (Units, Sides), readings: &[&Asked], of_bank: bool) -> Result<Row, OutputError> {
    let mut alike = None;
    if let Some(first) = readings.first().filter(|_| !of_bank && is_alike(readings)) {
        let (expected, window) = told(how, first)?;
        alike = Some([first.of.words().to_owned(), expected, window]);
    }
    let mut boxes = Vec::new();
    for reading in readings {
        let mut caption = place(how, reading)?;
        if alike.is_none() {
            let (expected, window) = told(how, reading)?;
            // The side for whoever looks, the clock as the record asks for it.
            let side = |clock| {
                Ok::<_, OutputError>(format!("at {} ({}°), ", how.1.clock(clock), Fixed::new(clock, 0)?))
            };
            let side = reading.clock.map(side).transpose()?.unwrap_or_default();
            // The words of the check say from where to where a step goes.
            let words = if reading.of == Of::Cut { "step" } else { reading.of.words() };
            // A letter stands before its figure, words on a line of their own.
            let parts = match reading.of {
                Of::X | Of::Y | Of::Z | Of::Cut => vec![format!("{side}{words} {expected}"), window],
                _ => vec![format!("{side}{words}"), expected, window],
            };
            let parts = parts.into_iter();
            caption = parts.filter(|part| !part.is_empty()).collect::<Vec<_>>().join("\n");
        }
        boxes.push(Box { caption, lines: Vec::new(), look: reading.of.is_look() });
    }
    Ok(Row { cylinder: None, starts: true, of_bank, alike, long: false, boxes, note: None, parted: None })
}

/// Who measured, when and with what, from left to right, as the record asks for them.
const WHO: [(&str, f64); 3] = [("by", 48.0), ("time", 48.0), ("with", 78.0)];
/// Between two of them.
const WHO_GAP: f64 = 4.0;
/// All three.
const WHO_WIDE: f64 = 48.0 + 48.0 + 78.0 + 2.0 * WHO_GAP;
/// What is left of them for a check's words.
const WORDS_WIDE: f64 = RIGHT - INDENT - WHO_WIDE - 10.0;

fn who(deal: &mut Deal<'_>, top: f64) {
    let mut left = RIGHT - WHO_WIDE;
    for (word, width) in WHO {
        let frame = Rect::new(left, top + 11.0, left + width, top + 11.0 + HIGH);
        deal.canvas.frame(frame, 1.0);
        deal.put(Point::new(left, top + 9.0), Align::Left, Weight::Plain, 9.0, word);
        left += width + WHO_GAP;
    }
}

fn has_note(row: &Row) -> bool {
    row.note.is_some()
}

/// Rows that stand beside each other, in their order.
fn packed(rows: &[Row]) -> Vec<Vec<&Row>> {
    let mut lines: Vec<Vec<&Row>> = Vec::new();
    for row in rows {
        let taken = |line: &Vec<&Row>| line.iter().map(|r| r.width()).sum::<f64>();
        match lines.last_mut() {
            // What goes on from a bore's first row stands below it.
            Some(line)
                if row.starts
                    && !has_note(row)
                    && !line.iter().any(|row| has_note(row))
                    && taken(line) + row.width() <= RIGHT - INDENT + 1.0 =>
            {
                line.push(row)
            }
            _ => lines.push(vec![row]),
        }
    }
    lines
}

impl Row {
    /// What is expected, where anything is.
    fn expected(&self) -> Option<&[String; 3]> {
        self.alike.as_ref().filter(|[_, expected, window]| !(expected.is_empty() && window.is_empty()))
    }

    /// Room before its boxes for the cylinder's number, where it can have one.
    fn number(&self) -> f64 {
        if self.of_bank { NO_NUMBER } else { NUMBER }
    }

    /// Width of a box, and from it to the next.
    fn box_and_pitch(&self) -> (f64, f64) {
        let [wide, paired, narrow] = WIDE;
        let wide = match self.boxes.len() {
            0..=2 if self.expected().is_some() => paired,
            many if many > ACROSS[0] => narrow,
            _ => wide,
        };
        (wide, wide + GAP)
    }

    /// Room of what is expected.
    fn expected_wide(&self) -> f64 {
        let [least, most] = EXPECTED;
        self.expected().map_or(0.0, |_| if self.long { most } else { least })
    }

    /// Breaks what stands above and before its boxes into lines.
    fn break_captions(&mut self, fonts: &Fonts) {
        self.parted = self.expected().and_then(|[.., window]| in_two(fonts, window));
        let (wide, _) = self.box_and_pitch();
        for one in &mut self.boxes {
            one.lines = caption_lines(fonts, &one.caption, wide);
        }
    }

    /// Number, what is expected, boxes.
    fn width(&self) -> f64 {
        let (_, pitch) = self.box_and_pitch();
        self.number() + self.expected_wide() + self.boxes.iter().map(|_| pitch).sum::<f64>()
    }
}

/// A caption in as many lines as it takes: a figure is never cut.
fn caption_lines(fonts: &Fonts, caption: &str, wide: f64) -> Vec<String> {
    // Not quite to the next box: two captions beside each other are not read as one.
    let width = wide - 3.0;
    let mut lines: Vec<String> = Vec::new();
    for part in caption.split('\n') {
        let joined = lines.last().map(|last| format!("{last} {part}"));
        match joined.filter(|joined| fonts.width(joined, Weight::Plain, CAPTION) <= width) {
            Some(joined) => {
                lines.pop();
                lines.push(joined);
            }
            None => lines.extend(fonts.wrap(part, Weight::Plain, CAPTION, width, CAPTION_LINES)),
        }
    }
    lines
}

/// What a caption takes beyond its first line, pt.
fn more(lines: &[String]) -> f64 {
    lines.iter().skip(1).map(|_| CAPTION).sum()
}

/// Height of a line of rows, pt.
fn height(line: &[&Row]) -> f64 {
    let captions = line.iter().flat_map(|row| &row.boxes);
    let notes: f64 = line.iter().filter_map(|row| row.note.as_ref()).map(Note::above).sum();
    ROW + below(line) + captions.map(|b| more(&b.lines)).fold(0.0, f64::max) + notes
}

/// What hangs below the boxes of a line of rows, pt: the fourth line of what is expected.
fn below(line: &[&Row]) -> f64 {
    if line.iter().any(|row| row.parted.is_some()) { FOURTH } else { 0.0 }
}

fn draw_line(deal: &mut Deal<'_>, line: &[&Row]) {
    deal.has_check();
    let high = height(line);
    let (next, top) = (deal.y + high, deal.y + high - ROW - below(line));
    let mut left = INDENT;
    for row in line {
        if let Some(cylinder) = row.cylinder {
            let at = Point::new(left + NUMBER - 5.0, top + 29.0);
            deal.put(at, Align::Right, Weight::Bold, 16.0, &cylinder.to_string());
            // Lines of the work are numbered beside it.
            deal.put(Point::new(at.x, top + 15.5), Align::Right, Weight::Plain, 7.5, "cyl");
        }
        let mut boxes = left + row.number();
        if let Some([what, expected, window]) = row.expected() {
            let (wide, room) = (row.expected_wide(), row.expected_wide() - 6.0);
            match &row.parted {
                Some([first, second]) => {
                    let lines = [what, expected, first, second];
                    for ((size, down), text) in EXPECTED_IN_FOUR.into_iter().zip(lines) {
                        deal.squeeze(Point::new(boxes, top + down), Align::Left, size, room, text);
                    }
                }
                None => {
                    for ((size, down), text) in EXPECTED_LINES.into_iter().zip([what, expected, window]) {
                        deal.squeeze(Point::new(boxes, top + down), Align::Left, size, room, text);
                    }
                }
            }
            boxes += wide;
        }
        let (wide, pitch) = row.box_and_pitch();
        for one in &row.boxes {
            draw_box(deal, (Point::new(boxes, top), wide), one);
            boxes += pitch;
        }
        if let Some(note) = &row.note {
            let (x, mut y) = if note.behind {
                (boxes + 5.0, top + 10.0 + (HIGH - note.lines.iter().map(|_| NOTE.1).sum::<f64>()) / 2.0)
            } else {
                (left + NUMBER, deal.y)
            };
            for line in &note.lines {
                y += NOTE.1;
                deal.put(Point::new(x, y - 2.5), Align::Left, Weight::Plain, NOTE.0, line);
            }
        }
        left += row.width();
    }
    deal.y = next;
}

/// A box with its caption above it; one that asks for a yes or a no is parted.
fn draw_box(deal: &mut Deal<'_>, (at, wide): (Point, f64), one: &Box) {
    let frame = Rect::new(at.x, at.y + 10.0, at.x + wide, at.y + 10.0 + HIGH);
    // Its last line stands on the box.
    let mut y = at.y + 8.0 - more(&one.lines);
    for line in &one.lines {
        deal.put(Point::new(at.x, y), Align::Left, Weight::Plain, CAPTION, line);
        y += CAPTION;
    }
    deal.canvas.frame(frame, 1.0);
    if one.look {
        either(deal, frame, LOOK);
    }
}
