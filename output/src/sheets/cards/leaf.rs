//! A card's paper: the area that prints alike on A4 and Letter, what stands on it, its head and its foot.

use kurbo::{Point, Rect, Vec2};

use super::flow::{Block, Card};
use super::margins::body_top;
use crate::paper::polished::polished;

use crate::paper::canvas::{Align, Canvas, Dash};
use crate::paper::text::{Fonts, Weight};

pub(super) use crate::paper::pages::{LEFT, LOWER as BOTTOM, RIGHT, UPPER as TOP};

/// Width, pt.
pub(super) const INNER: f64 = RIGHT - LEFT;
/// Where lines start: numbers of the order of work stand left of it.
pub(super) const INDENT: f64 = LEFT + 30.0;
/// Running text, pt.
pub(super) const BODY: f64 = 10.5;
/// Figures that are dialled, pt.
pub(super) const DIALLED: f64 = 14.0;
/// How close lines stand.
#[derive(Debug, Clone, Copy)]
struct Lines {
    /// Height of a line against its size.
    leading: f64,
    /// Above a heading and below its rule, pt.
    heading: [f64; 2],
    /// Below a numbered line, pt.
    step: f64,
    /// Below a paragraph, pt.
    say: f64,
    /// Above and below the words of a frame together, and below it, pt.
    boxed: [f64; 2],
}

const USUAL: Lines = Lines { leading: 1.26, heading: [5.0, 4.0], step: 4.0, say: 3.0, boxed: [12.0, 6.0] };
/// Where a card is then one page.
const CLOSE: Lines = Lines { leading: 1.16, heading: [2.0, 2.0], step: 2.0, say: 1.5, boxed: [9.0, 3.0] };
/// Where that does not bring it onto a page less, and a little more does.
const CLOSEST: Lines = Lines { leading: 1.12, heading: [1.0, 1.0], step: 1.5, say: 1.0, boxed: [7.0, 2.0] };
/// Width of the words where the machine stops, pt.
const STOP_WIDTH: f64 = RIGHT - LEFT - 140.0;
/// Room of the foot.
const FOOT: f64 = 26.0;
/// What the line about figures outside their window takes above it.
const OUTSIDE_HIGH: f64 = 7.0;
/// A part may ask for so much more room than it takes; none that is dealt is as low as this.
const ASKED_OVER: f64 = 10.0;
/// A picture is not drawn larger by more than this, nor by less than this.
const LARGER: [f64; 2] = [1.05, 1.5];

/// What every card carries.
#[derive(Debug, Clone)]
pub(super) struct Head {
    /// The job's number.
    pub(super) job: String,
    /// Block and customer.
    pub(super) block: String,
    /// Fingerprint and program.
    pub(super) made: String,
    /// Who released it and why; empty where nobody did.
    pub(super) release: String,
    /// GO, HOLD or STOP.
    pub(super) state: &'static str,
    /// What follows from it.
    pub(super) consequence: &'static str,
    /// The unit.
    pub(super) unit: &'static str,
    /// That of the lists where it is another; else empty.
    pub(super) lists: String,
    /// What boxes are filled in, where lengths are told in both units; else empty.
    pub(super) boxes: &'static str,
}

/// One page of a card.
#[derive(Debug)]
pub(super) struct Leaf {
    /// What is drawn on it.
    pub(super) canvas: Canvas,
    /// Whether it has a check.
    pub(super) checked: bool,
    /// How much of its height is taken, pt.
    pub(super) taken: f64,
    /// Its parts in their order: where each begins and how far down it asked for room, from the page's top, pt.
    pub(super) parts: Vec<[f64; 2]>,
}

/// A card's title.
#[derive(Debug, Clone)]
pub(super) struct Title {
    /// In a word or two.
    pub(super) name: String,
    /// The name as a part of a file name.
    pub(super) file: String,
}

/// A picture that may take what is left of its page.
#[derive(Debug, Clone, Copy)]
struct Growing {
    /// Its marks, from the first up to the one behind its last.
    marks: [usize; 2],
    /// Its upper edge's middle, and its height.
    top: Point,
    high: f64,
    /// How much larger it may be.
    most: f64,
}

/// A page that is to end sooner than it must.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sooner {
    /// Which, from 0.
    pub(super) page: usize,
    /// So far down from its top, pt.
    pub(super) to: f64,
}

/// A card as it was filled.
#[derive(Debug)]
pub(super) struct Filled {
    /// Its title.
    pub(super) title: Title,
    /// Its pages, without head and foot.
    pub(super) leaves: Vec<Leaf>,
    /// What its pages say, in words, for a screen.
    pub(super) told: Card,
    /// What an empty page of it has room for, pt.
    pub(super) full: f64,
    /// Where a page was cut off below its last block, which went over with what ends the card.
    pub(super) moved: Option<Sooner>,
    /// The page that has the names, from 0, where one has.
    pub(super) names_on: Option<usize>,
}

/// The card being filled.
#[derive(Debug)]
pub(super) struct Deal<'a> {
    /// The faces.
    pub(super) fonts: &'a Fonts,
    /// The page being filled.
    pub(super) canvas: Canvas,
    /// Down to where.
    pub(super) y: f64,
    top: f64,
    leaves: Vec<Leaf>,
    title: Option<Title>,
    sooner: Vec<Sooner>,
    moved: Option<Sooner>,
    line: u32,
    /// Whether the page has a check.
    checked: bool,
    /// What has asked for room on the page.
    parts: Vec<[f64; 2]>,
    /// Where the last numbered line of the page began, in marks and in height; then the last part that asked for room.
    block: Option<(usize, f64)>,
    part: Option<(usize, f64)>,
    /// A picture of this page that may be drawn larger.
    room_for: Option<Growing>,
    /// What the foot takes.
    foot: f64,
    /// How close lines stand.
    lines: Lines,
    /// Whether names come before what decides nothing, and the page that has them.
    signed_early: bool,
    names_on: Option<usize>,
    /// What was dealt so far, in words, for a screen.
    pub(super) told: Card,
}

impl<'a> Deal<'a> {
    /// No card yet.
    pub(super) fn new(fonts: &'a Fonts, head: &Head, sooner: Vec<Sooner>) -> Self {
        let top = body_top(fonts, head);
        let (canvas, leaves) = (Canvas::default(), Vec::new());
        Self {
            fonts,
            canvas,
            y: top,
            top,
            leaves,
            title: None,
            sooner,
            moved: None,
            line: 0,
            checked: false,
            parts: Vec::new(),
            block: None,
            part: None,
            room_for: None,
            foot: FOOT,
            lines: USUAL,
            signed_early: false,
            names_on: None,
            told: Card::default(),
        }
    }

    /// Starts the card.
    pub(super) fn card(&mut self, name: String, file: String) {
        self.told.title.clone_from(&name);
        self.title = Some(Title { name, file });
        self.foot = FOOT + OUTSIDE_HIGH;
    }

    /// Lines stand closer.
    pub(super) fn close_lines(&mut self) {
        self.lines = CLOSE;
    }

    /// Lines stand as close as they may.
    pub(super) fn closest_lines(&mut self) {
        self.lines = CLOSEST;
    }

    /// Names come before what decides nothing: they stand on the first page where the whole does not.
    pub(super) fn sign_early(&mut self) {
        self.signed_early = true;
    }

    /// Whether they do.
    pub(super) fn is_signed_early(&self) -> bool {
        self.signed_early
    }

    /// The page being filled has the names.
    pub(super) fn has_names(&mut self) {
        self.names_on = Some(self.page());
    }

    /// The card has no checks: its foot has no line about them.
    pub(super) fn without_checks(&mut self) {
        self.foot = FOOT;
    }

    /// What was drawn since may be drawn larger, as wide as the card, where the page goes over with room to spare.
    pub(super) fn may_grow(&mut self, since: usize, area: Rect) {
        let most = if area.width() > 0.0 { (INNER / area.width()).min(LARGER[1]) } else { 1.0 };
        let top = Point::new(area.center().x, area.y0);
        self.room_for =
            Some(Growing { marks: [since, self.canvas.marks.len()], top, high: area.height(), most });
    }

    /// The page is full: what may grow takes what is left.
    fn turn(&mut self) {
        // What a page leaves free by ending sooner is the picture's too.
        let spare = self.left() - 4.0;
        let Some(growing) = self.room_for.take() else { return self.close() };
        let [from, to] = growing.marks;
        let by = (1.0 + spare / growing.high.max(1.0)).min(growing.most);
        if by >= LARGER[0] && to <= self.canvas.marks.len() {
            let behind = self.canvas.marks.split_off(to);
            let own = self.canvas.marks.split_off(from);
            let down = Vec2::new(0.0, growing.high * (by - 1.0));
            self.canvas.marks.extend(own.into_iter().map(|mark| mark.enlarged(growing.top, by)));
            self.canvas.marks.extend(behind.into_iter().map(|mark| mark.moved(down)));
            self.y += down.y;
        }
        self.close();
    }

    fn close(&mut self) {
        let checked = std::mem::take(&mut self.checked);
        let taken = self.y - self.top;
        let parts = std::mem::take(&mut self.parts);
        self.leaves.push(Leaf { canvas: std::mem::take(&mut self.canvas), checked, taken, parts });
        self.y = self.top;
        (self.block, self.part, self.room_for) = (None, None, None);
    }

    /// Room for what ends a card: it never stands on a page alone, the last block goes over with it.
    pub(super) fn need_with_last(&mut self, height: f64) {
        if height <= self.room() || self.y <= self.top {
            return;
        }
        let movable = |at: &(usize, f64)| at.1 > self.top + 1.0 && self.y - at.1 <= 0.6 * self.full();
        let last = self.block.filter(movable).or(self.part.filter(movable));
        let Some((marks, from)) = last.filter(|at| at.0 <= self.canvas.marks.len()) else {
            self.turn();
            return;
        };
        let moved = self.canvas.marks.split_off(marks);
        let high = self.y - from;
        // What stands over the block on its page, heads of columns, does not come with it: dealt anew it ends there.
        self.moved = Some(Sooner { page: self.leaves.len(), to: from - self.top + ASKED_OVER });
        let checked = self.checked;
        self.y = from;
        self.turn();
        self.checked = checked;
        let by = Vec2::new(0.0, self.top - from);
        self.canvas.marks.extend(moved.into_iter().map(|mark| mark.moved(by)));
        self.y = self.top + high;
    }

    /// Which page of the card is being filled, from 0.
    pub(super) fn page(&self) -> usize {
        self.leaves.len()
    }

    /// The page and where its last block began.
    pub(super) fn block(&self) -> (usize, Option<(usize, f64)>) {
        (self.leaves.len(), self.block)
    }

    /// What was drawn since is of the block that began there, where the page is still the same.
    pub(super) fn join(&mut self, (page, block): (usize, Option<(usize, f64)>)) {
        if page == self.leaves.len() {
            self.block = block;
        }
    }

    /// The page has a check: its foot says what to do where a figure is outside its window.
    pub(super) fn has_check(&mut self) {
        self.checked = true;
    }

    /// What is left of the page down to where it is to end, pt.
    pub(super) fn room(&self) -> f64 {
        let sooner = self.sooner.iter().filter(|s| s.page == self.leaves.len());
        sooner.map(|s| self.top + s.to - self.y).fold(self.left(), f64::min)
    }

    /// What is left of the page down to its foot, pt.
    fn left(&self) -> f64 {
        BOTTOM - self.foot - self.y
    }

    /// What an empty page has room for, pt.
    pub(super) fn full(&self) -> f64 {
        BOTTOM - self.foot - self.top
    }

    /// Goes on, on another page of the same card, where the height is not there.
    pub(super) fn need(&mut self, height: f64) {
        if height > self.room() && self.y > self.top {
            self.turn();
        }
        self.parts.push([0.0, height].map(|down| self.y + down - self.top));
        self.part = Some((self.canvas.marks.len(), self.y));
    }

    /// The same with what follows on the same page, where a page has room for both.
    pub(super) fn need_with(&mut self, height: f64, following: f64) {
        self.need(if height + following <= self.full() { height + following } else { height });
    }

    /// Whether nothing stands on the page yet.
    pub(super) fn is_fresh(&self) -> bool {
        self.y <= self.top
    }

    /// The number of the next line in the order of work.
    pub(super) fn number(&mut self) -> u32 {
        self.line += 1;
        self.line
    }

    /// One text where it is put.
    pub(super) fn put(&mut self, at: Point, align: Align, weight: Weight, size: f64, text: &str) {
        self.canvas.text(self.fonts, at, align, (weight, size), &polished(text));
    }

    /// A text made smaller until it fits a width; in the end it is broken, never cut.
    pub(super) fn squeeze(
        &mut self,
        at: Point,
        align: Align,
        (weight, size): (Weight, f64),
        width: f64,
        text: &str,
    ) {
        let text = self.fonts.clean(&polished(text));
        let wide = self.fonts.width(&text, weight, size);
        let size = if wide > width { (size * width / wide).max(6.5) } else { size };
        let text = self.fonts.fit(&text, weight, size, width);
        self.canvas.text(self.fonts, at, align, (weight, size), &text);
    }

    /// Height of a text in a width.
    pub(super) fn height(&self, text: &str, weight: Weight, size: f64, width: f64) -> f64 {
        let lines = self.fonts.wrap(&polished(text), weight, size, width, 14);
        lines.iter().map(|_| size * self.lines.leading).sum()
    }

    /// A text in lines from a left edge, at the present height.
    pub(super) fn words(&mut self, text: &str, left: f64, weight: Weight, size: f64, width: f64) {
        for line in self.fonts.wrap(&polished(text), weight, size, width, 14) {
            self.y += size * self.lines.leading;
            let at = Point::new(left, self.y - size * (self.lines.leading - 1.0));
            self.canvas.text(self.fonts, at, Align::Left, (weight, size), &line);
        }
    }

    /// A paragraph over the whole width.
    pub(super) fn say(&mut self, text: &str, weight: Weight, size: f64) {
        self.say_on_paper(text, weight, size);
        self.note(Block::Say { text: text.to_owned(), bold: weight == Weight::Bold });
    }

    /// One that a screen has no need of.
    pub(super) fn say_on_paper(&mut self, text: &str, weight: Weight, size: f64) {
        let height = self.height(text, weight, size, INNER);
        self.need(height);
        self.words(text, LEFT, weight, size, INNER);
        self.y += self.lines.say;
    }

    /// A heading that stays with at least so much of what follows.
    pub(super) fn heading(&mut self, text: &str, following: f64) {
        self.need(24.0 + following);
        self.note(Block::Heading(text.to_owned()));
        let [above, below] = self.lines.heading;
        self.y += above;
        self.words(text, LEFT, Weight::Bold, 13.0, INNER);
        // Clear of what hangs below the line.
        self.y += 13.0 * (USUAL.leading - self.lines.leading);
        self.canvas.line(Point::new(LEFT, self.y), Point::new(RIGHT, self.y), 0.75, Dash::Solid);
        self.y += below;
    }

    /// What a heading of one line takes, pt.
    pub(super) fn heading_height(&self) -> f64 {
        self.lines.heading.iter().sum::<f64>() + 13.0 * USUAL.leading
    }

    /// A caution or the state, in a frame.
    pub(super) fn boxed(&mut self, title: &str, text: &str, weight: f64, size: f64) {
        let inner = INNER - 20.0;
        let titles = self.height(title, Weight::Bold, size, inner);
        let body = if text.is_empty() { 0.0 } else { self.height(text, Weight::Plain, BODY, inner) };
        let [around, below] = self.lines.boxed;
        let height = titles + body + around;
        self.need(height + 5.0);
        let (named, more) = (title.to_owned(), text.to_owned());
        self.note(Block::Boxed { title: named, text: more, strong: weight >= 3.0 });
        let top = self.y;
        self.y += around / 2.0 - 1.0;
        self.words(title, LEFT + 10.0, Weight::Bold, size, inner);
        if !text.is_empty() {
            self.words(text, LEFT + 10.0, Weight::Plain, BODY, inner);
        }
        self.y = top + height;
        self.canvas.frame(Rect::new(LEFT + 1.0, top, RIGHT - 1.0, self.y), weight);
        self.y += below;
    }

    /// A line of the order of work with its number at the left edge.
    pub(super) fn step(&mut self, text: &str, weight: Weight) {
        self.step_in(text, weight, RIGHT - INDENT);
    }

    /// What such a line takes, pt.
    pub(super) fn step_height(&self, text: &str, weight: Weight) -> f64 {
        self.height(text, weight, BODY + 0.5, RIGHT - INDENT) + self.lines.step
    }

    /// Deals a step with its mark in a column of a width, pt.
    pub(super) fn step_in(&mut self, text: &str, weight: Weight, width: f64) {
        self.step_as(text, text, weight, width);
    }

    /// The same, with other words on a screen.
    pub(super) fn step_as(&mut self, text: &str, screen: &str, weight: Weight, width: f64) {
        let height = self.height(text, weight, BODY + 0.5, width);
        self.need(height + 6.0);
        let number = self.mark();
        self.note(Block::Line { number, text: screen.to_owned(), small: String::new(), figures: Vec::new() });
        self.words(text, INDENT, weight, BODY + 0.5, width);
        self.y += self.lines.step;
    }

    /// The number of the next line at the left edge, at the present height.
    pub(super) fn mark(&mut self) -> u32 {
        let number = self.number();
        self.block = self.part.or(Some((self.canvas.marks.len(), self.y)));
        let at = Point::new(LEFT + 18.0, self.y + 12.0);
        self.squeeze(at, Align::Right, (Weight::Bold, 13.0), 18.0, &number.to_string());
        number
    }

    /// Ends the card where the machine stops.
    pub(super) fn stop(&mut self, words: &str) {
        self.note(Block::Stop(words.to_owned()));
        let high = self.stop_height(words);
        self.need_with_last(high + 4.0);
        let top = self.y + 2.0;
        self.canvas.frame(Rect::new(LEFT + 1.0, top, RIGHT - 1.0, top + high), 2.0);
        self.y = top + 3.0;
        self.words(words, LEFT + 8.0, Weight::Bold, BODY, STOP_WIDTH);
        let signed = Point::new(RIGHT - 122.0, top + high - 8.0);
        self.put(signed, Align::Left, Weight::Plain, 9.0, "done by ______________");
        self.y = top + high + 3.0;
    }

    /// What the frame of such words takes, pt.
    pub(super) fn stop_height(&self, words: &str) -> f64 {
        self.height(words, Weight::Bold, BODY, STOP_WIDTH).max(24.0) + 10.0
    }

    /// Closes the card; none where none was started.
    pub(super) fn finish(mut self) -> Option<Filled> {
        self.close();
        let full = self.full();
        Some(Filled {
            title: self.title?,
            leaves: self.leaves,
            told: self.told,
            full,
            moved: self.moved,
            names_on: self.names_on,
        })
    }
}
