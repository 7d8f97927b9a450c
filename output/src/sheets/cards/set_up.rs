//! The set-up of a bank: how the block stands, where zero is, what must read right before the first chip, where bores go.

use borewright_geometry::Point as Place;
use borewright_planner::checks::MANDREL_MM;
use borewright_planner::explain::{Axis, Question};
use borewright_planner::job::SetUpPlacement;
use borewright_planner::plan::ByHand;
use borewright_planner::plan::check::{Asked, AtCylinder, Check, Of, What};
use borewright_planner::plan::sentence::{mm, signed_mm};
use borewright_planner::say;
use kurbo::Point;

use super::area::{INDENT, RIGHT};
use super::boxes;
use super::checks;
use super::deal::Deal;
use super::end_view;
use super::flow::Block;
use super::order::Kind;
use crate::OutputError;
use crate::paper::text::Weight;
use crate::said::short::{self, one_line, shorten};
use crate::said::sides::front_words;
use crate::said::slug::slug;
use crate::said::units::{Digits, Printed};
use crate::sheets::sheet::Sheet;

/// A box for what is found anew, pt: above it stands what was read.
const BOX: f64 = 96.0;
/// What is said of the first touch check.
const TOUCH: &str = "Else stop: zero, sign, bank or bore is wrong.";

impl Sheet<'_> {
    /// Deals the card of a bank's set-up.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn set_up_card(&self, deal: &mut Deal<'_>, bank: usize) -> Result<(), OutputError> {
        let job = &self.planning.job;
        let name = shorten(&job.bank(bank).name);
        deal.card(format!("Set-up: {}", short::bank(&name)), format!("set-up-{}", slug(&name)));
        deal.boxed(
            "Safety: lift by rated points only, nobody under it; clamps tight before the sling comes off.",
            "",
            1.5,
            10.5,
        );
        let top = deal.y;
        self.end_view(deal, bank, Point::new(RIGHT - end_view::WIDE, top))?;
        let width = RIGHT - end_view::WIDE - INDENT - 8.0;
        let front = self.front(bank);
        deal.step_in(
            &format!("Load the block: {}, {} up.", front_words(front), short::bank(&name)),
            Weight::Bold,
            width,
        );
        if let Some(clamps) = job.set_up_of(bank).and_then(|s| s.clamps_mm) {
            let clamps = self.units.length(clamps, Digits::Depth)?.spoken();
            deal.step_in(
                &format!("Clamp it: nothing higher than {clamps} above the deck."),
                Weight::Plain,
                width,
            );
        }
        let along = one_line(&job.block.journal_axis.along_datum, 90);
        let zero = format!("Zero: X 0 at the {along}, Y 0 on the journal axis, Z 0 on the deck, up is plus;");
        let mut lines = self.zero_lines(bank)?;
        if let Some(first) = lines.first_mut() {
            first.text = format!("{zero} {}", first.text);
            first.screen = format!("{zero} {}", first.screen);
        }
        let after = if lines.len() > 1 { lines.split_off(1) } else { Vec::new() };
        let mut found: Vec<String> = Vec::new();
        for line in lines {
            found.extend(line.draw(deal, width));
        }
        if self.placed(bank).is_some() {
            let of = |axis: Axis| {
                let question = Question::Zero { bank: job.bank(bank).name.clone(), axis: Some(axis) };
                (format!("{} as read", axis.letter()), question)
            };
            deal.note(Block::Why(Axis::ALL.map(of).into()));
        }
        // Below the end view there is room over the whole width.
        let beside = |deal: &Deal<'_>| if deal.y < top + end_view::HIGH { width } else { RIGHT - INDENT };
        for line in after {
            let width = beside(deal);
            found.extend(line.draw(deal, width));
        }
        if !found.is_empty() {
            deal.y = deal.y.max(top + end_view::HIGH);
            boxes::strip(deal, &found, BOX);
        }
        if let Some(words) = self.by_hand(bank) {
            deal.step_in(&words, Weight::Plain, beside(deal));
        }
        let far = self.jog_mm(bank).map_or_else(String::new, |(first, last, step)| {
            let step = self.machine.say(&say!("{}", signed_mm(step, 1)));
            format!("; from cylinder {first} to {last} X reads about {step}")
        });
        let jog = format!(
            "Jog test: {}{far}. If not, stop: a sign is wrong.",
            self.sides(bank).machine_signs(front)
        );
        let width = beside(deal);
        deal.step_in(&jog, Weight::Bold, width);
        deal.y = deal.y.max(top + end_view::HIGH + 2.0);
        let stands = format!(
            "Machine stands. Go on only when every reading is inside its window. {}",
            self.next(deal.fonts, Kind::SetUp(bank))
        );
        let own =
            |c: &&borewright_planner::plan::Check| c.what == What::Touch && c.bank == job.bank(bank).name;
        let check = self.plan.checks.iter().find(own);
        let touch =
            check.map(|check| checks::laid(deal, self, check, &self.touch_words(check))).transpose()?;
        let touched = touch.as_ref().map_or(0.0, |laid| laid.room);
        let follows = self.going_room(deal, bank) + touched + deal.stop_height(&stands) + 5.0;
        self.deck(deal, bank, follows)?;
        self.going_to(deal, bank)?;
        if let Some(laid) = touch {
            checks::draw(deal, laid);
        }
        deal.stop(&stands);
        Ok(())
    }

    fn touch_words(&self, check: &Check) -> String {
        let near = near_nought(check);
        let near = if near.is_empty() {
            String::new()
        } else {
            format!(" Too near nought to show a wrong sign, which the jog test does: {}.", near.join(", "))
        };
        format!("{} {TOUCH}{near}", self.touched(check.stage))
    }

    /// Where zero and deck stood on the machine's scales, how the journal axis ran there, and what a rule must find: a line each.
    fn zero_lines(&self, bank: usize) -> Result<Vec<Zeroed>, OutputError> {
        let job = &self.planning.job;
        let set_up = job.set_up_of(bank).map_or("", |s| s.name.as_str());
        let read = self.plan.journal_axis.iter().find(|a| a.set_up == set_up).and_then(|a| a.deck_height);
        let deck = read.unwrap_or(job.bank(bank).deck_height_mm);
        let height = self.machine.length(deck, Digits::Fine)?.spoken();
        let Some(placement) = self.placed(bank) else {
            let words =
                format!("the deck lies {height} above the axis. Pick zero up from the mains, caps torqued.");
            return Ok(vec![Zeroed { screen: words.clone(), text: words, boxes: Vec::new() }]);
        };
        let back = placement.inverse();
        let zero = back.point(Place::new(0.0, 0.0, 0.0));
        let top = back.point(Place::new(0.0, 0.0, deck));
        // As the head of each list has it: on the machine's scales while the block is cut.
        let axis =
            |value: f64| Ok::<_, OutputError>(self.machine.length(value * job.at_cutting(), Digits::Fine)?);
        let stood = [("X", axis(zero.x_mm())?), ("Y", axis(zero.y_mm())?), ("Z", axis(top.z_mm())?)];
        let lies = format!("the deck lies {height} above the axis.");
        let unit = self.boxed_in(self.machine);
        let mut said = vec![Zeroed {
            text: format!("{lies} Off the table since it was read: take it anew."),
            screen: format!(
                "{lies} As read it stood at {}; off the table since: anew.",
                Zeroed::spoken(&stood)
            ),
            boxes: Zeroed::captions("", unit, &stood),
        }];
        let mains = &job.block.journal_axis.mains;
        if let [first, .., last] = mains.as_slice() {
            let [from, to] = [first, last].map(|main| back.point(Place::new(main.x_mm, 0.0, 0.0)));
            // Over the length that the survey tells it over: a turn's second order would round a half the other way.
            let [run, over] = [to.x_mm() - from.x_mm(), (last.x_mm - first.x_mm).abs()];
            let rise =
                |from: f64, to: f64| if run.abs() > 0.0 { (to - from) / run.abs() * over } else { to - from };
            let rises =
                [("Y", axis(rise(from.y_mm(), to.y_mm()))?), ("Z", axis(rise(from.z_mm(), to.z_mm()))?)];
            let mandrel = format!(
                "Mandrel, caps torqued, main {} to main {}",
                shorten(&first.name),
                shorten(&last.name)
            );
            let follows = format!(
                "The lists follow it as read, do not straighten it. By over {} otherwise, or straightened since: read again, plan again.",
                self.machine.say(&say!("{}", mm(MANDREL_MM, 3)))
            );
            said.push(Zeroed {
                text: format!("{mandrel}. {follows}"),
                screen: format!("{mandrel}: {}. {follows}", Zeroed::spoken(&rises)),
                boxes: Zeroed::captions("mandrel ", unit, &rises),
            });
        }
        Ok(said)
    }

    /// How a bank lay in the machine as it was read there.
    pub(super) fn placed(&self, bank: usize) -> Option<&SetUpPlacement> {
        let at = self.planning.job.set_ups.iter().position(|s| s.bank == bank)?;
        self.planning.placements.get(at)?.as_ref()
    }

    /// What a rule and a gauge must find on the block itself, as the head of the bank's first list has it.
    fn by_hand(&self, bank: usize) -> Option<String> {
        let name = &self.planning.job.bank(bank).name;
        let list = self.planning.lists.iter().find(|list| list.bank == *name)?;
        // The list's head names the datum by its part in the plan, a card by what a rule is laid on.
        let along = one_line(&self.planning.job.block.journal_axis.along_datum, 90);
        let on_card = |own: &ByHand| match own {
            ByHand::FrontWall { bore, from_datum_mm } => {
                let found = self.units.say(&say!("{}", mm(*from_datum_mm, 1)));
                format!("{along} to front wall of bore {bore}: {found}")
            }
            ByHand::Between { bores: [bore, next], wide_mm } => {
                let found = self.units.say(&say!("{}", mm(*wide_mm, 2)));
                format!("between bores {bore} and {next}: {found}")
            }
        };
        let own: Vec<String> = list.by_hand.iter().map(on_card).collect();
        (!own.is_empty()).then(|| format!("By hand: {}.", own.join("; ")))
    }
}

/// A line about zero: what was read, and boxes for what is found.
struct Zeroed {
    text: String,
    /// The same for a screen, which has no boxes.
    screen: String,
    boxes: Vec<String>,
}

impl Zeroed {
    fn signed(length: Printed) -> &'static str {
        if length.is_negative() { "" } else { "+" }
    }

    /// "X -142.350 mm, Y +18.420 mm".
    fn spoken(axes: &[(&str, Printed)]) -> String {
        let told = axes.iter().map(|(axis, at)| format!("{axis} {}{}", Self::signed(*at), at.spoken()));
        told.collect::<Vec<_>>().join(", ")
    }

    /// Above each box what it is filled in and what it read.
    fn captions(word: &str, unit: &str, axes: &[(&str, Printed)]) -> Vec<String> {
        let told = |(axis, at): &(&str, Printed)| {
            let read = at.stacked_signed();
            // Both units on the line below the unit to write.
            if unit.is_empty() {
                format!("{word}{axis} read {read}")
            } else {
                format!("{word}{axis}{unit}\nread {}", read.replace('\n', " "))
            }
        };
        axes.iter().map(told).collect()
    }

    /// Deals its words in a column of a width, pt, and gives what is asked for.
    fn draw(self, deal: &mut Deal<'_>, width: f64) -> Vec<String> {
        deal.step_as(&self.text, &self.screen, Weight::Plain, width);
        self.boxes
    }
}

/// The coordinates of a touch check that would read right with the other sign as well: "Y of cylinder 4".
fn near_nought(check: &Check) -> Vec<String> {
    let both = |r: &&Asked| match (r.of, r.expected, r.least, r.most) {
        (Of::X | Of::Y, Some(expected), Some(least), Some(most)) => (least..=most).contains(&-expected),
        _ => false,
    };
    let of_bore = |at: &AtCylinder| -> Vec<String> {
        let bore = at.cylinder.map_or_else(String::new, |n| format!(" of cylinder {n}"));
        at.readings.iter().filter(both).map(|r| format!("{}{bore}", r.of.words())).collect()
    };
    check.cylinders.iter().flat_map(of_bore).collect()
}
