//! Pages: where the next thing goes, and the head and foot that every page carries.

use kurbo::{Point, Rect};

use super::canvas::{Align, Canvas, Dash};
use super::pdf::{HEIGHT, WIDTH};
use super::text::{Fonts, Weight};

/// Left edge of the text.
pub(crate) const LEFT: f64 = 40.0;
/// Right edge of the text.
pub(crate) const RIGHT: f64 = WIDTH - 40.0;
/// Width of the text.
pub(crate) const INNER: f64 = RIGHT - LEFT;
const TOP: f64 = 100.0;
const BOTTOM: f64 = HEIGHT - 50.0;
/// Size of running text. Read at arm's length, so never smaller.
pub(crate) const BODY: f64 = 10.5;
/// Line height against size.
pub(crate) const LEADING: f64 = 1.28;
/// No text on a sheet takes more lines than this.
const MOST_LINES: usize = 12;

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
    /// The page being filled.
    pub(crate) canvas: Canvas,
    /// Down to where it is filled.
    pub(crate) y: f64,
}

impl<'a> Pages<'a> {
    /// One empty page.
    pub(crate) fn new(fonts: &'a Fonts) -> Self {
        Self { fonts, done: Vec::new(), canvas: Canvas::default(), y: TOP }
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
        for line in &lines {
            self.y += 16.0;
            self.canvas.text(self.fonts, Point::new(LEFT, self.y), Align::Left, (Weight::Bold, 15.0), line);
            self.y += 4.0;
        }
        self.y += 2.0;
    }

    /// Running text.
    pub(crate) fn paragraph(&mut self, text: &str, weight: Weight, size: f64) {
        let lines = self.fonts.wrap(text, weight, size, INNER, MOST_LINES);
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

    /// A text in a box of a line weight; a second line inside where the weight is doubled.
    pub(crate) fn boxed(&mut self, title: &str, text: &str, weight: f64, size: f64) {
        let inner = INNER - 20.0;
        let titles = self.fonts.wrap(title, Weight::Bold, size, inner, 3);
        let lines = if text.is_empty() {
            Vec::new()
        } else {
            self.fonts.wrap(text, Weight::Plain, BODY, inner, MOST_LINES)
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

    /// Draws head and foot on every page and hands the pages over.
    pub(crate) fn finish(mut self, head: &Head) -> Vec<Canvas> {
        self.done.push(std::mem::take(&mut self.canvas));
        let count = self.done.len();
        let fonts = self.fonts;
        for (page, number) in self.done.iter_mut().zip(1_usize..) {
            draw_head(page, fonts, head);
            draw_foot(page, fonts, head, &format!("page {number} of {count}"));
        }
        self.done
    }
}

/// The job number stands where the eye and a thumb find it: top left, largest.
fn draw_head(page: &mut Canvas, fonts: &Fonts, head: &Head) {
    let plain = |size| (Weight::Plain, size);
    let bold = |size| (Weight::Bold, size);
    page.text(fonts, Point::new(LEFT, 38.0), Align::Left, plain(10.0), "JOB");
    let size = [28.0, 22.0, 16.0]
        .into_iter()
        .find(|size| fonts.width(&fonts.clean(&head.job), Weight::Bold, *size) <= 175.0)
        .unwrap_or(16.0);
    let job = fonts.fit(&head.job, Weight::Bold, size, 175.0);
    page.text(fonts, Point::new(LEFT, 66.0), Align::Left, bold(size), &job);
    let middle = LEFT + 190.0;
    let width = RIGHT - 132.0 - middle;
    for (text, weight, size, y) in [
        (&head.block, Weight::Bold, 13.0, 42.0),
        (&head.customer, Weight::Plain, 10.5, 57.0),
        (&format!("fingerprint {}", head.fingerprint), Weight::Bold, 10.5, 72.0),
    ] {
        let text = fonts.fit(text, weight, size, width);
        page.text(fonts, Point::new(middle, y), Align::Left, (weight, size), &text);
    }
    let frame = Rect::new(RIGHT - 122.0, 28.0, RIGHT - 1.0, 76.0);
    page.frame(frame, head.box_weight);
    let centre = frame.center().x;
    let (verdict_y, size) = if head.consequence.is_empty() { (61.0, 26.0) } else { (54.0, 22.0) };
    page.text(fonts, Point::new(centre, verdict_y), Align::Middle, bold(size), &head.verdict);
    let consequence = fonts.fit(&head.consequence, Weight::Bold, 10.5, frame.width() - 8.0);
    page.text(fonts, Point::new(centre, 69.0), Align::Middle, bold(10.5), &consequence);
    page.line(Point::new(LEFT, 84.0), Point::new(RIGHT, 84.0), 2.0, Dash::Solid);
}

fn draw_foot(page: &mut Canvas, fonts: &Fonts, head: &Head, number: &str) {
    let y = HEIGHT - 38.0;
    page.line(Point::new(LEFT, y), Point::new(RIGHT, y), 1.0, Dash::Solid);
    let style = (Weight::Plain, 10.0);
    page.text(fonts, Point::new(LEFT, y + 13.0), Align::Left, style, head.void);
    page.text(fonts, Point::new(RIGHT, y + 13.0), Align::Right, (Weight::Bold, 11.0), number);
    let job = fonts.fit(&format!("{}, job {}", head.sheet, head.job), Weight::Plain, 10.0, INNER / 2.0);
    page.text(fonts, Point::new(LEFT, y + 25.0), Align::Left, style, &job);
    page.text(fonts, Point::new(RIGHT, y + 25.0), Align::Right, style, &head.fingerprint);
}
