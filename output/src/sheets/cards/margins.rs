//! A card's head and foot.

use kurbo::{Point, Rect};

use super::area::{BOTTOM, INNER, LEFT, RIGHT, TOP};
use crate::paper::canvas::{Align, Canvas, Dash};
use crate::paper::text::{Fonts, Weight};

/// What to do where a figure is outside its window: on every page that has a check.
pub(super) const OUTSIDE: &str =
    "A figure outside its window: stop, measure it again, do not cut, call the shop lead.";

/// When a card no longer holds.
pub(super) const VOID: &str =
    "Void once the block slips, the journal axis moves, or a newer card has another fingerprint.";

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

/// Lines of the job's number and their size: as large as it goes, wrapped before it is cut.
fn job_lines(fonts: &Fonts, job: &str) -> (Vec<String>, f64) {
    const WIDE: f64 = 168.0;
    for (size, most) in [(28.0, 1), (22.0, 1), (16.0, 2), (11.0, 3)] {
        let lines = fonts.wrap(job, Weight::Bold, size, WIDE, most + 1);
        if lines.len() <= most {
            return (lines, size);
        }
    }
    (fonts.wrap(job, Weight::Bold, 7.5, WIDE, 5), 7.5)
}

/// Where what stands below the head begins, from the top of the sheet, pt.
pub(super) fn body_top(fonts: &Fonts, head: &Head) -> f64 {
    let release = if head.release.is_empty() { 0 } else { release_lines(fonts, head).len() };
    let lines: f64 = (0..release).map(|_| 12.0).sum();
    TOP + 76.0 + lines
}

fn release_lines(fonts: &Fonts, head: &Head) -> Vec<String> {
    fonts.wrap(&head.release, Weight::Bold, 9.5, INNER, 3)
}

/// Draws the head of a page: job and block, title and place, the unit of its lengths, the state, and who released it.
pub(super) fn draw_head(page: &mut Canvas, fonts: &Fonts, head: &Head, title: &str, place: &str) {
    let plain = |size| (Weight::Plain, size);
    let bold = |size| (Weight::Bold, size);
    page.text(fonts, Point::new(LEFT, TOP + 8.0), Align::Left, plain(9.0), "JOB");
    let (lines, size) = job_lines(fonts, &head.job);
    let mut y = TOP + 9.0;
    for line in &lines {
        y += size * 1.02;
        page.text(fonts, Point::new(LEFT, y), Align::Left, bold(size), line);
    }
    let middle = LEFT + 178.0;
    let width = RIGHT - 174.0 - middle;
    let mut y = TOP + 1.0;
    let size = if fonts.width(title, Weight::Bold, 15.0) <= width { 15.0 } else { 12.0 };
    for line in fonts.wrap(title, Weight::Bold, size, width, 2) {
        y += size + 1.0;
        page.text(fonts, Point::new(middle, y), Align::Left, bold(size), &line);
    }
    page.text(fonts, Point::new(middle, y + 13.0), Align::Left, bold(10.5), place);
    let block = fonts.fit(&head.block, Weight::Plain, 9.5, width);
    page.text(fonts, Point::new(middle, y + 25.0), Align::Left, plain(9.5), &block);
    let unit = Rect::new(RIGHT - 168.0, TOP + 1.0, RIGHT - 112.0, TOP + 48.0);
    page.frame(unit, 1.0);
    page.text(fonts, Point::new(unit.center().x, TOP + 12.0), Align::Middle, plain(8.5), "lengths in");
    // The lists' own unit stands below it, where it is another.
    let (sizes, down) =
        if head.lists.is_empty() { ([22.0, 13.0, 11.0, 9.0], 36.0) } else { ([17.0, 13.0, 11.0, 9.0], 29.0) };
    let fits = |size: &f64| fonts.width(head.unit, Weight::Bold, *size) <= unit.width() - 4.0;
    let size = sizes.into_iter().find(fits).unwrap_or(7.5);
    page.text(fonts, Point::new(unit.center().x, TOP + down), Align::Middle, bold(size), head.unit);
    page.text(fonts, Point::new(unit.center().x, TOP + 43.0), Align::Middle, bold(9.5), &head.lists);
    let state = Rect::new(RIGHT - 106.0, TOP + 1.0, RIGHT - 1.0, TOP + 48.0);
    page.frame(state, if head.consequence.is_empty() { 2.0 } else { 4.0 });
    let y = if head.consequence.is_empty() { 35.0 } else { 27.0 };
    page.text(fonts, Point::new(state.center().x, TOP + y), Align::Middle, bold(26.0), head.state);
    page.text(fonts, Point::new(state.center().x, TOP + 42.0), Align::Middle, bold(9.5), head.consequence);
    let mut y = TOP + 63.0;
    let boxes = fonts.width(head.boxes, Weight::Bold, 9.5);
    let made = fonts.fit(&head.made, Weight::Plain, 9.5, INNER - boxes);
    page.text(fonts, Point::new(RIGHT, y), Align::Right, bold(9.5), head.boxes);
    page.text(fonts, Point::new(LEFT, y), Align::Left, plain(9.5), &made);
    if !head.release.is_empty() {
        for line in release_lines(fonts, head) {
            y += 12.0;
            page.text(fonts, Point::new(LEFT, y), Align::Left, bold(9.5), &line);
        }
    }
    page.line(Point::new(LEFT, y + 5.0), Point::new(RIGHT, y + 5.0), 2.0, Dash::Solid);
}

pub(super) fn draw_foot(page: &mut Canvas, fonts: &Fonts, head: &Head, (place, checked): (&str, bool)) {
    let y = BOTTOM - 16.0;
    if checked {
        page.text(fonts, Point::new(LEFT, y - 5.0), Align::Left, (Weight::Bold, 10.5), OUTSIDE);
    }
    page.line(Point::new(LEFT, y), Point::new(RIGHT, y), 0.75, Dash::Solid);
    page.text(fonts, Point::new(LEFT, y + 12.0), Align::Left, (Weight::Plain, 9.0), VOID);
    let place = format!("{}  {place}", head.state);
    page.text(fonts, Point::new(RIGHT, y + 12.0), Align::Right, (Weight::Bold, 10.5), &place);
}
