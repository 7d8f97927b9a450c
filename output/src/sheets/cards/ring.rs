//! A ring per bore: the first cut's bite, thick where it bites most; the witness arc goes on the same ring.

use std::f64::consts::TAU;

use borewright_planner::job::Front;
use borewright_planner::passes::SHOWS_MM;
use borewright_planner::plan::{Pass, Shell, Stock};
use kurbo::{Arc, Circle, Point, Rect, Shape, Vec2};

use super::area::{INNER, LEFT};
use super::boxes::tick;
use super::deal::Deal;
use super::iron::is_uneven;
use crate::OutputError;
use crate::paper::canvas::{Align, CURVE_TOLERANCE, Dash, Ink};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// Outer radius, pt.
const ROUND: f64 = 24.0;
/// The thickest bite, pt.
const THICK: f64 = 8.0;
/// A row's height.
const HIGH: f64 = 104.0;
/// Size of the words beside a ring, and from a line to the next.
const WORDS: (f64, f64) = (9.5, 11.0);
/// Rings in a row.
const ACROSS: usize = 3;

impl Sheet<'_> {
    /// Draws those of a bank whose first cut bites unevenly.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn rings(
        &self,
        deal: &mut Deal<'_>,
        bank: usize,
        passes: &[&Pass],
    ) -> Result<(), OutputError> {
        let mut first: Vec<&Pass> = Vec::new();
        for pass in passes {
            let uneven = pass.touch.is_some() || pass.stock.max - pass.stock.min >= 0.005;
            if uneven && !first.iter().any(|p| p.cylinder == pass.cylinder) {
                first.push(pass);
            }
        }
        if first.is_empty() {
            return Ok(());
        }
        deal.heading(
            "The first cut: where it bites. If the thick side is another, stop: zero, sign, bank or bore is wrong",
            HIGH,
        );
        let iron =
            first.iter().any(|pass| self.witness(passes, pass.cylinder).is_some_and(|p| p.shell.is_some()));
        let outer = if iron { "; arc: iron still there later" } else { "" };
        let front = if self.front(bank) == Front::Left { "left" } else { "right" };
        let key =
            format!("Black: what the first cut takes; tick: its thick side{outer}. FRONT at the {front}.");
        deal.say_on_paper(&key, Weight::Plain, 9.5);
        for row in first.chunks(ACROSS) {
            deal.need(HIGH);
            let top = deal.y;
            let mut end = top + HIGH;
            for (at, pass) in row.iter().enumerate() {
                let before: f64 = (0..at).map(|_| INNER / 3.0).sum();
                let iron = self.witness(passes, pass.cylinder).and_then(|p| Some((p.diameter, p.shell?)));
                end = end.max(self.ring(deal, bank, (pass, iron), Point::new(LEFT + before, top))?);
            }
            deal.y = end;
        }
        Ok(())
    }

    /// Draws what a bore's first cut takes all round, from `corner` (pt): its thick and thin side, the old iron that
    /// it leaves, and boxes to tick. Gives where it ends, pt.
    fn ring(
        &self,
        deal: &mut Deal<'_>,
        bank: usize,
        (pass, iron): (&Pass, Option<(f64, Shell)>),
        corner: Point,
    ) -> Result<f64, OutputError> {
        let since = deal.marks();
        let bite = self.bite(pass, iron);
        let centre = corner + Vec2::new(ROUND + 18.0, ROUND + 14.0);
        self.bite_drawn(deal, bank, &bite, centre);
        let said = self.bite_said(bank, &bite)?;
        let x = centre.x + ROUND + 16.0;
        let about = said.about.clone();
        let words_end = said.draw(deal, Point::new(x, corner.y + 20.0), INNER / 3.0 - (x - corner.x) - 2.0);
        // What is ticked with a pencil is on paper alone.
        let high = (2.0 * ROUND + 26.0).max(words_end - corner.y + 3.0);
        let area = Rect::from_origin_size(corner, (INNER / 3.0, high));
        deal.picture(since, area, &format!("First cut of cylinder {}", pass.cylinder), &about)?;
        let y = (corner.y + 2.0 * ROUND + 36.0).max(words_end + 15.0);
        let asked = if bite.even { "all round?" } else { "bites there?" };
        deal.put(Point::new(corner.x + 6.0, y), Align::Left, Weight::Plain, 9.5, asked);
        for (dx, word) in [(68.0, "yes"), (104.0, "no: stop")] {
            tick(deal, Point::new(corner.x + dx, y));
            deal.put(Point::new(corner.x + dx + 15.0, y), Align::Left, Weight::Plain, 9.5, word);
        }
        Ok(y + 8.0)
    }

    /// What a first cut takes. What is looked at is the first touch, near the deck: its figures are those of the check.
    fn bite<'p>(&self, pass: &'p Pass, iron: Option<(f64, Shell)>) -> Bite<'p> {
        let own = self.plan.cylinders.iter().find(|c| c.cylinder == pass.cylinder);
        let stock = pass.touch.as_ref().map_or(pass.stock, |t| Stock { min: t.least, max: t.deepest });
        let clock = pass.touch.as_ref().map(|t| t.clock).or(own.map(|c| c.shift.clock)).unwrap_or_default();
        // A move that no cut shows has no side.
        let even = pass.touch.is_some() && stock.max - stock.min < 2.0 * SHOWS_MM;
        Bite { pass, stock, clock, even, iron }
    }

    /// The ring itself: what is cut in black, a tick at its thick side, an arc where iron stays.
    fn bite_drawn(&self, deal: &mut Deal<'_>, bank: usize, bite: &Bite<'_>, centre: Point) {
        let Bite { stock, .. } = *bite;
        let turn = if self.front(bank) == Front::Right { 180.0 } else { 0.0 };
        let (sin, cos) = ((bite.clock + turn) / 360.0 * TAU).sin_cos();
        let way = Vec2::new(cos, -sin);
        // Most bite is THICK; least in its true share of it.
        let share = if stock.max > 0.0 { (stock.min / stock.max).clamp(0.0, 1.0) } else { 1.0 };
        let inner =
            Circle::new(centre - way * (THICK * (1.0 - share) / 2.0), ROUND - THICK * (1.0 + share) / 2.0);
        deal.canvas.fill(Circle::new(centre, ROUND).to_path(CURVE_TOLERANCE), Ink::Black);
        deal.canvas.fill(inner.to_path(CURVE_TOLERANCE), Ink::White);
        let number = bite.pass.cylinder.to_string();
        deal.put(inner.center + Vec2::new(0.0, 5.0), Align::Middle, Weight::Bold, 14.0, &number);
        if !bite.even {
            let arrow = [way * (ROUND + 6.0), way * (ROUND + 13.0)].map(|v| centre + v);
            deal.canvas.line(arrow[0], arrow[1], 1.4, Dash::Solid);
        }
        if let Some((_, shell)) = bite.iron {
            let middle = -(shell.thickest_at + turn).to_radians();
            let sweep = shell.arc.clamp(0.0, 360.0).to_radians();
            let arc = Arc::new(centre, (ROUND + 3.5, ROUND + 3.5), middle - sweep / 2.0, sweep, 0.0);
            deal.canvas.stroke(arc.to_path(CURVE_TOLERANCE), 2.4, Dash::Solid);
        }
    }

    /// The words beside a ring.
    fn bite_said(&self, bank: usize, bite: &Bite<'_>) -> Result<Said, OutputError> {
        let figure = |mm: f64| -> Result<String, OutputError> {
            Ok(self.units.length(mm, Digits::Middling)?.stacked().replace('\n', " "))
        };
        let most = format!("most {}", figure(bite.stock.max)?);
        let least = format!("least {}", figure(bite.stock.min)?);
        let side = self.sides(bank).clock(bite.clock);
        let about_side = if bite.even { String::new() } else { format!(" at {side}") };
        let about = format!("{most}{about_side}, {least}");
        // The line of the cut tells its stock over the whole depth.
        let deck = if bite.pass.touch.is_some() { ", at the deck" } else { "" };
        let at = if bite.even { format!("even to the eye{deck}") } else { format!("at {side}{deck}") };
        let lines = vec![(Weight::Bold, most), (Weight::Plain, at), (Weight::Plain, least)];
        let mut said = Said { lines, gap: None, about };
        if let Some((diameter, shell)) = bite.iron {
            let thick = format!("iron {} to {}", figure(shell.least)?, figure(shell.most)?);
            let at = self.sides(bank).clock(shell.thickest_at);
            // The cut is known on its card by the size that it ends at.
            let size = self.units.length(diameter, Digits::Fine)?.stacked().replace('\n', " ");
            let place = if shell.arc < 360.0 {
                format!("still there at Ø {size}, over {}°, middle at {at}", Fixed::new(shell.arc, 0)?)
            } else {
                let thickest = if is_uneven(&shell) { format!(", thickest at {at}") } else { String::new() };
                format!("still at Ø {size}{thickest}")
            };
            said.about.push_str(&format!("; {thick} {place}"));
            said.gap = Some(said.lines.len());
            said.lines.push((Weight::Bold, thick));
            // A line for the size and one for the side.
            said.lines.extend(place.split(", ").map(|part| (Weight::Plain, part.to_owned())));
        }
        Ok(said)
    }
}

/// What a first cut takes round a bore.
struct Bite<'p> {
    pass: &'p Pass,
    stock: Stock,
    /// Its thick side, degrees.
    clock: f64,
    /// Whether no side is seen to be thicker.
    even: bool,
    /// The old iron that still stands after a later cut, and the size of that.
    iron: Option<(f64, Shell)>,
}

/// Words beside a ring.
struct Said {
    lines: Vec<(Weight, String)>,
    /// The line that stands a little apart from the one above it.
    gap: Option<usize>,
    /// All of it in one sentence.
    about: String,
}

impl Said {
    /// Draws the lines below each other, in a width, the first at `at`; gives where the last stands, pt.
    fn draw(self, deal: &mut Deal<'_>, at: Point, width: f64) -> f64 {
        let (size, pitch) = WORDS;
        let mut y = at.y - pitch;
        for (row, (weight, text)) in self.lines.into_iter().enumerate() {
            y += if self.gap == Some(row) { 2.0 } else { 0.0 };
            // A figure is never cut: what is too wide goes on below.
            for line in deal.fonts.wrap(&text, weight, size, width, 3) {
                y += pitch;
                deal.put(Point::new(at.x, y), Align::Left, weight, size, &line);
            }
        }
        y
    }
}
