//! The first page: what job this is, what to know before loading, where zero is.

use borewright_geometry::{Bank, Machine, Placement, Point as Place};
use borewright_planner::job::{Aim, Finish, Sleeve, SleeveKind};
use borewright_planner::plan::{Finding, Verdict};
use kurbo::Point;

use super::{Sheet, numbers};
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::pages::{BODY, INNER, LEADING, LEFT, Pages, RIGHT};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{one_line, shorten};
use crate::said::sides::front_words;
use crate::said::units::Digits;

/// Width of the labels on the left.
const LABEL: f64 = 104.0;

impl Sheet<'_> {
    /// Draws it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn opening(&self, pages: &mut Pages) -> Result<(), OutputError> {
        self.banner(pages);
        self.job(pages)?;
        self.findings(pages);
        for bank in 0..self.planning.job.block.banks.len() {
            self.datum(pages, bank)?;
        }
        Ok(())
    }

    /// Whether anything may be cut from this sheet: before all else.
    fn banner(&self, pages: &mut Pages) {
        let plan = self.plan;
        let stopped: Vec<u32> =
            plan.cylinders.iter().filter(|c| c.verdict == Verdict::Stop).map(|c| c.cylinder).collect();
        match plan.verdict {
            Verdict::Stop if plan.lists.is_empty() => {
                let text =
                    "At least one limit is proven broken. No coordinates are given out. See the findings.";
                pages.boxed("STOP: NOT FOR CUTTING", text, 4.0, 30.0);
            }
            Verdict::Stop => {
                let title = format!("NOT FOR CUTTING: cylinder {}", numbers(&stopped));
                let text = "No coordinates are given out for these. The others may be cut from their lists.";
                pages.boxed(&title, text, 4.0, 24.0);
            }
            Verdict::Hold if self.not_for_cutting() => {
                let text = "No limit is proven broken, but not all are proven kept. Coordinates are given out only \
                            after the shop lead releases the job by name and reason.";
                pages.boxed("HOLD: NOT FOR CUTTING", text, 4.0, 30.0);
            }
            Verdict::Hold if plan.release.is_none() => {
                let held: Vec<u32> = plan
                    .cylinders
                    .iter()
                    .filter(|c| c.verdict == Verdict::Hold)
                    .map(|c| c.cylinder)
                    .collect();
                let text = "Coordinates of these are given out only after the shop lead releases them by name and \
                            reason. The others may be cut from their lists.";
                if !held.is_empty() {
                    pages.boxed(&format!("HELD BACK: cylinder {}", numbers(&held)), text, 4.0, 24.0);
                }
            }
            Verdict::Go | Verdict::Hold => {}
        }
        if let Some(release) = &plan.release {
            let who = one_line(&release.who, 60);
            let title = match plan.verdict {
                Verdict::Go | Verdict::Hold => format!("Released at hold by {who}"),
                // Nothing lets a cylinder at stop through.
                Verdict::Stop => format!("Cylinders at hold are released by {who}"),
            };
            pages.boxed(&title, &release.why, 2.0, 13.0);
        }
    }

    fn job(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let job = &self.planning.job;
        pages.heading("The job", 60.0);
        field(pages, "Block", &job.block.name);
        field(pages, "Machine", &job.machine.name);
        for sleeve in self.plan.sleeves.iter().filter(|sleeve| sleeve.chosen) {
            let described = job.sleeves.iter().find(|s| s.name == sleeve.sleeve).map(kind_words);
            let words =
                format!("{}{}: {}", shorten(&sleeve.sleeve), described.unwrap_or_default(), sleeve.why);
            field(pages, "Sleeve", &words);
        }
        let aim = match job.aim {
            Aim::Journal => "true position from the journal axis",
            Aim::Parent => "the bore that is there; position is reported, not enforced",
        };
        field(pages, "Bores follow", aim);
        field(pages, "Finished bore", &self.finish_words(&job.finish)?);
        let (work, handling) =
            self.plan.times.iter().fold((0.0, 0.0), |t, s| (t.0 + s.work, t.1 + s.handling));
        if work > 0.0 {
            let hours = |minutes: f64| Fixed::new(minutes / 60.0, 1);
            let all = hours(work + handling)?;
            let words = format!(
                "about {all} hours: {} at the work, {} setting tools and measuring; without loading and indicating",
                hours(work)?,
                hours(handling)?
            );
            field(pages, "Time", &words);
        }
        for axis in &self.plan.journal_axis {
            let words = format!(
                "{}: straight within {}, largest step {}; bank leans from the spindle {} along, {} across, over the bore length",
                shorten(&axis.set_up),
                self.units.length(axis.straightness, Digits::Fine)?.spoken(),
                self.units.length(axis.largest_step, Digits::Fine)?.spoken(),
                self.units.length(axis.squareness.x, Digits::Fine)?.spoken(),
                self.units.length(axis.squareness.y, Digits::Fine)?.spoken(),
            );
            field(pages, "Journal axis", &words);
        }
        Ok(())
    }

    fn finish_words(&self, finish: &Finish) -> Result<String, OutputError> {
        Ok(format!(
            "{} within {}; {} on diameter is left for the hone",
            self.units.length(finish.bore_mm, Digits::Fine)?.spoken(),
            self.units.length(finish.tolerance_mm, Digits::Fine)?.spoken(),
            self.units.length(finish.hone_stock_mm, Digits::Middling)?.spoken(),
        ))
    }

    /// The gravest first; within one grade in the order they were found.
    fn findings(&self, pages: &mut Pages) {
        if self.plan.findings.is_empty() {
            return;
        }
        pages.heading("What to know first", 50.0);
        let mut findings: Vec<&Finding> = self.plan.findings.iter().collect();
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
        for finding in findings {
            let (word, weight) = match finding.verdict {
                Verdict::Stop => ("STOP: ", 4.0),
                Verdict::Hold => ("HOLD: ", 2.0),
                Verdict::Go => ("", 0.75),
            };
            let title = format!("{word}{}", shorten(&finding.subject));
            pages.boxed(&title, &self.units.say(&finding.text), weight, 11.5);
        }
    }

    /// How one bank stands, and where its zero is.
    fn datum(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let job = &self.planning.job;
        let front = self.front(bank);
        pages.heading(&format!("{}: set-up and zero", self.bank_title(bank)), 90.0);
        if let Some(set_up) = job.set_up_of(bank) {
            field(pages, "Set-up", &set_up.name);
        }
        field(pages, "Block stands", front_words(front));
        field(pages, "Signs", &self.sides(bank).machine_signs(front));
        let along = one_line(&job.block.journal_axis.along_datum, 90);
        let zero =
            format!("X 0, Y 0 on the journal axis at the foot of the {along}. Z 0 on the deck, up is plus.");
        field(pages, "Zero of the lists", &zero);
        let described = job.bank(bank).deck_height_mm;
        let set_up = job.set_up_of(bank).map_or("", |s| s.name.as_str());
        let found = self.plan.journal_axis.iter().find(|a| a.set_up == set_up).and_then(|a| a.deck_height);
        let deck_height = found.unwrap_or(described);
        let placement = job
            .set_ups
            .iter()
            .position(|set_up| set_up.bank == bank)
            .and_then(|at| self.planning.placements.get(at))
            .and_then(Option::as_ref);
        let words = match placement {
            Some(placement) => self.zero_in_machine(placement, deck_height)?,
            None => "to be picked up: read in the bank frame, so the machine does not know it".to_owned(),
        };
        field(pages, "On the machine", &words);
        let height = self.units.length(deck_height, Digits::Fine)?.spoken();
        let whence = if found.is_some() { "as read" } else { "as described; not read" };
        field(pages, "Deck height", &format!("{height} from the journal axis, along the bore, {whence}"));
        Ok(())
    }

    fn zero_in_machine(
        &self,
        placement: &Placement<Machine, Bank>,
        deck_height_mm: f64,
    ) -> Result<String, OutputError> {
        let back = placement.inverse();
        let origin = back.point(Place::new(0.0, 0.0, 0.0));
        let deck = back.point(Place::new(0.0, 0.0, deck_height_mm));
        let axis = |value| -> Result<String, OutputError> {
            let length = self.units.length(value, Digits::Fine)?;
            Ok(format!("{}{}", if length.is_negative() { "" } else { "+" }, length.spoken()))
        };
        let (x, y, z) = (axis(origin.x_mm())?, axis(origin.y_mm())?, axis(deck.z_mm())?);
        Ok(format!("zero stands at machine X {x}, Y {y}, Z {z}"))
    }
}

fn kind_words(sleeve: &Sleeve) -> &'static str {
    match sleeve.kind {
        SleeveKind::Wet => ", wet",
        SleeveKind::Dry => ", dry",
    }
}

/// A label and its value; the value wraps beside it.
fn field(pages: &mut Pages, label: &str, value: &str) {
    let size = BODY + 0.5;
    let lines = pages.fonts.wrap(value, Weight::Bold, size, INNER - LABEL, 3);
    let height = lines.iter().map(|_| size * LEADING).sum::<f64>() + 3.0;
    pages.need(height);
    let top = pages.y;
    let at = Point::new(LEFT, top + size);
    pages.canvas.text(pages.fonts, at, Align::Left, (Weight::Plain, BODY), label);
    pages.lines(&lines, LEFT + LABEL, Weight::Bold, size);
    pages.y = top + height;
    pages.canvas.line(Point::new(LEFT, pages.y), Point::new(RIGHT, pages.y), 0.35, Dash::Solid);
}
