//! Pages: where the next thing goes, and the head and foot that every page carries.

use kurbo::{Point, Rect};

use super::canvas::{Align, Canvas, Dash};
use super::polished::polished;
use super::text::{Fonts, Weight};

/// Left edge: 190 mm in the middle of an A4 page, which lie on a Letter page as well.
pub(crate) const LEFT: f64 = 28.35;
/// Right edge.
pub(crate) const RIGHT: f64 = 566.93;
/// Upper edge of what prints: 254 mm in the middle of an A4 page.
pub(crate) const UPPER: f64 = 60.95;
/// Lower edge of what prints.
pub(crate) const LOWER: f64 = 780.95;
/// Width.
pub(crate) const INNER: f64 = RIGHT - LEFT;
/// Below the head.
const TOP: f64 = UPPER + 64.0;
/// Above the foot.
const BOTTOM: f64 = LOWER - 30.0;
/// Size of running text. Read at arm's length, so never smaller.
pub(crate) const BODY: f64 = 10.5;
/// Line height against size.
pub(crate) const LEADING: f64 = 1.28;
/// No text on a sheet takes more lines than this.
const MOST_LINES: usize = 12;

/// What is listed beside the pages: a name, and the page from 0 that it stands on.
pub(crate) type Bookmarks = Vec<(String, usize)>;

/// What every page carries.
#[derive(Debug, Clone)]
pub(crate) struct Head {
    /// What sheet it is, for the foot.
    pub(crate) sheet: &'static str,
    /// When it stops being valid, for the foot.
    pub(crate) void: &'static str,
    /// The job's number.
    pub(crate) job: String,
    /// The block's name.
    pub(crate) block: String,
    /// The customer.
    pub(crate) customer: String,
    /// The first groups of the fingerprint.
    pub(crate) fingerprint: String,
    /// The verdict, large.
    pub(crate) verdict: String,
    /// What follows from it, below.
    pub(crate) consequence: String,
    /// Line weight of the verdict's box.
    pub(crate) box_weight: f64,
}

/// The pages so far.
#[derive(Debug)]
pub(crate) struct Pages<'a> {
    /// The faces.
    pub(crate) fonts: &'a Fonts,
    done: Vec<Canvas>,
    bookmarks: Bookmarks,
    pending: Option<String>,
    /// The page being filled.
    pub(crate) canvas: Canvas,
    /// Down to where it is filled.
    pub(crate) y: f64,
}

impl<'a> Pages<'a> {
    /// One empty page.
    pub(crate) fn new(fonts: &'a Fonts) -> Self {
        Self {
            fonts,
            done: Vec::new(),
            bookmarks: Vec::new(),
            pending: None,
            canvas: Canvas::default(),
            y: TOP,
        }
    }

    /// Height left on the page.
    pub(crate) fn room(&self) -> f64 {
        BOTTOM - self.y
    }

    /// Height of an empty page.
    pub(crate) fn full_height() -> f64 {
        BOTTOM - TOP
    }

    /// Goes to a fresh page unless this one is still empty.
    pub(crate) fn turn(&mut self) {
        if self.y > TOP {
            self.done.push(std::mem::take(&mut self.canvas));
            self.y = TOP;
        }
    }

    /// Turns the page where the height is not there; whether it did.
    pub(crate) fn need(&mut self, height: f64) -> bool {
        let turns = height > self.room() && self.y > TOP;
        if turns {
            self.turn();
        }
        turns
    }

    /// Leaves some room, except at the top of a page.
    pub(crate) fn gap(&mut self, height: f64) {
        if self.y > TOP {
            self.y += height;
        }
    }

    /// A heading that stays with at least `following` of what comes after it.
    pub(crate) fn heading(&mut self, text: &str, following: f64) {
        let lines = self.fonts.wrap(text, Weight::Bold, 15.0, INNER, 2);
        self.gap(10.0);
        self.need(lines.iter().map(|_| 20.0).sum::<f64>() + following);
        self.mark();
        for line in &lines {
            self.y += 16.0;
            self.canvas.text(self.fonts, Point::new(LEFT, self.y), Align::Left, (Weight::Bold, 15.0), line);
            self.y += 4.0;
        }
        self.y += 2.0;
    }

    /// Running text.
    pub(crate) fn paragraph(&mut self, text: &str, weight: Weight, size: f64) {
        let lines = self.fonts.wrap(&polished(text), weight, size, INNER, MOST_LINES);
        self.need(lines.iter().map(|_| size * LEADING).sum());
        self.lines(&lines, LEFT, weight, size);
        self.y += 3.0;
    }

    /// Ready lines from a left edge.
    pub(crate) fn lines(&mut self, lines: &[String], left: f64, weight: Weight, size: f64) {
        for line in lines {
            self.y += size * LEADING;
            let at = Point::new(left, self.y - size * (LEADING - 1.0));
            self.canvas.text(self.fonts, at, Align::Left, (weight, size), line);
        }
    }

    /// A sentence with a square to tick.
    pub(crate) fn ticked(&mut self, words: &str, weight: Weight) {
        let lines = self.fonts.wrap(&polished(words), weight, BODY, INNER - 18.0, 8);
        self.need(lines.iter().map(|_| BODY * LEADING).sum::<f64>() + 3.0);
        let top = self.y + 2.5;
        self.canvas.frame(Rect::new(LEFT + 1.0, top, LEFT + 11.0, top + 10.0), 0.9);
        self.lines(&lines, LEFT + 18.0, weight, BODY);
        self.y += 3.0;
    }

    /// A text in a box of a line weight; a second line inside where the weight is doubled.
    pub(crate) fn boxed(&mut self, title: &str, text: &str, weight: f64, size: f64) {
        let inner = INNER - 20.0;
        let titles = self.fonts.wrap(&polished(title), Weight::Bold, size, inner, 3);
        let lines = if text.is_empty() {
            Vec::new()
        } else {
            self.fonts.wrap(&polished(text), Weight::Plain, BODY, inner, MOST_LINES)
        };
        let height = titles.iter().map(|_| size * LEADING).sum::<f64>()
            + lines.iter().map(|_| BODY * LEADING).sum::<f64>()
            + 12.0;
        self.gap(5.0);
        self.need(height + 4.0);
        let top = self.y;
        self.y += 5.0;
        self.lines(&titles, LEFT + 10.0, Weight::Bold, size);
        self.lines(&lines, LEFT + 10.0, Weight::Plain, BODY);
        self.y = top + height;
        self.canvas.frame(Rect::new(LEFT + 1.0, top, RIGHT - 1.0, self.y), weight);
        if weight >= 3.0 {
            self.canvas.frame(Rect::new(LEFT + 5.0, top + 4.0, RIGHT - 5.0, self.y - 4.0), 0.75);
        }
        self.y += 5.0;
    }

    /// The next heading, or whatever is marked next, is listed beside the pages.
    pub(crate) fn bookmark(&mut self, name: &str) {
        self.pending = Some(name.to_owned());
    }

    /// Lists what waits for it on this page.
    pub(crate) fn mark(&mut self) {
        self.bookmarks.extend(self.pending.take().map(|name| (name, self.done.len())));
    }

    /// Draws head and foot on every page and hands the pages over, with what is listed beside them.
    pub(crate) fn finish(mut self, head: &Head) -> (Vec<Canvas>, Bookmarks) {
        self.mark();
        self.done.push(std::mem::take(&mut self.canvas));
        let count = self.done.len();
        let fonts = self.fonts;
        for (page, number) in self.done.iter_mut().zip(1_usize..) {
            draw_head(page, fonts, head);
            draw_foot(page, fonts, head, &format!("page {number} of {count}"));
        }
        (self.done, self.bookmarks)
    }
}

/// The job number stands where the eye and a thumb find it: top left, largest.
fn draw_head(page: &mut Canvas, fonts: &Fonts, head: &Head) {
    let plain = |size| (Weight::Plain, size);
    let bold = |size| (Weight::Bold, size);
    page.text(fonts, Point::new(LEFT, UPPER + 8.0), Align::Left, plain(9.0), "JOB");
    let size = [28.0, 22.0, 16.0]
        .into_iter()
        .find(|size| fonts.width(&fonts.clean(&head.job), Weight::Bold, *size) <= 175.0)
        .unwrap_or(16.0);
    let job = fonts.fit(&head.job, Weight::Bold, size, 175.0);
    page.text(fonts, Point::new(LEFT, UPPER + 36.0), Align::Left, bold(size), &job);
    let middle = LEFT + 190.0;
    let width = RIGHT - 132.0 - middle;
    for (text, weight, size, y) in [
        (&head.block, Weight::Bold, 13.0, 12.0),
        (&head.customer, Weight::Plain, 10.5, 27.0),
        (&format!("fingerprint {}", head.fingerprint), Weight::Bold, 10.5, 42.0),
    ] {
        let text = fonts.fit(text, weight, size, width);
        page.text(fonts, Point::new(middle, UPPER + y), Align::Left, (weight, size), &text);
    }
    let frame = Rect::new(RIGHT - 122.0, UPPER + 1.0, RIGHT - 1.0, UPPER + 48.0);
    page.frame(frame, head.box_weight);
    let centre = frame.center().x;
    let (verdict_y, size) = if head.consequence.is_empty() { (34.0, 26.0) } else { (26.0, 22.0) };
    page.text(fonts, Point::new(centre, UPPER + verdict_y), Align::Middle, bold(size), &head.verdict);
    let consequence = fonts.fit(&head.consequence, Weight::Bold, 10.5, frame.width() - 8.0);
    page.text(fonts, Point::new(centre, UPPER + 41.0), Align::Middle, bold(10.5), &consequence);
    page.line(Point::new(LEFT, UPPER + 54.0), Point::new(RIGHT, UPPER + 54.0), 2.0, Dash::Solid);
}

fn draw_foot(page: &mut Canvas, fonts: &Fonts, head: &Head, number: &str) {
    let y = LOWER - 26.0;
    page.line(Point::new(LEFT, y), Point::new(RIGHT, y), 0.75, Dash::Solid);
    let style = (Weight::Plain, 9.0);
    page.text(fonts, Point::new(LEFT, y + 11.0), Align::Left, style, head.void);
    page.text(fonts, Point::new(RIGHT, y + 11.0), Align::Right, (Weight::Bold, 10.5), number);
    let job = fonts.fit(&format!("{}, job {}", head.sheet, head.job), Weight::Plain, 9.0, INNER / 2.0);
    page.text(fonts, Point::new(LEFT, y + 22.0), Align::Left, style, &job);
    page.text(fonts, Point::new(RIGHT, y + 22.0), Align::Right, style, &head.fingerprint);
}
