//! A card being filled: which page, down to where, and what goes over to the next.

mod leading;
mod words;

use kurbo::{Point, Rect, Vec2};

use super::area::{BOTTOM, INNER};
use super::flow::{Block, Card};
use super::leaf::{Filled, Leaf, Sooner, Title};
use super::svg;
use crate::OutputError;
use crate::paper::canvas::Canvas;
use crate::paper::text::Fonts;
use leading::{CLOSE, CLOSEST, Leading, USUAL};

/// Room of the foot.
const FOOT: f64 = 26.0;
/// What the line about figures outside their window takes above it.
const OUTSIDE_HIGH: f64 = 7.0;
/// A part may ask for so much more room than it takes; none that is dealt is as low as this.
const ASKED_OVER: f64 = 10.0;
/// A picture is not drawn larger by more than this, nor by less than this.
const LARGER: [f64; 2] = [1.05, 1.5];

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

/// The card being filled.
#[derive(Debug)]
pub(super) struct Deal<'a> {
    /// The faces.
    pub(super) fonts: &'a Fonts,
    /// The page being filled.
    pub(super) canvas: Canvas,
    /// Down to where.
    pub(super) y: f64,
    /// Where an empty page begins.
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
    leading: Leading,
    /// Whether names come before what decides nothing, and the page that has them.
    signed_early: bool,
    names_on: Option<usize>,
    /// What was dealt so far, in words, for a screen.
    pub(super) told: Card,
}

impl<'a> Deal<'a> {
    /// No card yet; its pages are filled from `top` down, pt.
    pub(super) fn new(fonts: &'a Fonts, top: f64, sooner: Vec<Sooner>) -> Self {
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
            leading: USUAL,
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
        self.leading = CLOSE;
    }

    /// Lines stand as close as they may.
    pub(super) fn closest_lines(&mut self) {
        self.leading = CLOSEST;
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

    /// Notes what stands on the card being filled.
    pub(super) fn note(&mut self, block: Block) {
        self.told.blocks.push(block);
    }

    /// Where a picture begins.
    pub(super) fn marks(&self) -> usize {
        self.canvas.marks.len()
    }

    /// Notes what was drawn since as a picture of its own.
    ///
    /// # Errors
    /// Where a mark lies far off the card.
    pub(super) fn picture(
        &mut self,
        since: usize,
        area: Rect,
        title: &str,
        about: &str,
    ) -> Result<(), OutputError> {
        let marks = self.canvas.marks.get(since..).unwrap_or_default();
        let figure = svg::figure(marks, self.fonts, area, title, about)?;
        self.note(Block::Picture(figure));
        Ok(())
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
