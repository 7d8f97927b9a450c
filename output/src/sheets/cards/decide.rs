//! Card 1: what the lead signs. The state, the worst bore first, tools, lists, times, the order of work.

use std::cmp::Ordering;

use borewright_planner::FACTOR;
use borewright_planner::explain::Question;
use borewright_planner::job::words;
use borewright_planner::place::FreeZone;
use borewright_planner::plan::sentence::Sentence;
use borewright_planner::plan::{Cylinder, Finding, LimitResult, Verdict, cylinder_words};
use borewright_planner::report::SurveyReport;
use kurbo::{Point, Rect};

use super::area::{BODY, INNER, LEFT};
use super::boxes::tick;
use super::deal::Deal;
use super::flow::{Ask, Block};
use super::order::Kind;
use crate::OutputError;
use crate::drawings::{self, Figure, Subject};
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::reasons::{self, Line};
use crate::said::set_up;
use crate::said::short::{first_large, one_line, shorten, subject};
use crate::said::tightest;
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, Surveyed};

/// Height of a box for a name.
const SIGN_HIGH: f64 = 30.0;

const NO_LICENCE: &str =
    "A limit here is no licence: the maker's data, local codes and a qualified machinist decide.";

impl Sheet<'_> {
    /// Deals the card that the lead signs.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn decide(
        &self,
        deal: &mut Deal<'_>,
        surveyed: Option<Surveyed<'_>>,
    ) -> Result<(), OutputError> {
        deal.card("Decide".to_owned(), "decide".to_owned());
        deal.without_checks();
        self.state(deal)?;
        self.worst_first(deal)?;
        if let Some(surveyed) = surveyed {
            self.as_found(deal, surveyed);
        }
        let zones =
            surveyed.map(|surveyed| self.zones(deal, surveyed.report)).transpose()?.unwrap_or_default();
        // Pictures that no longer fit go behind the words, which fill the page.
        let high: f64 = zones.iter().map(|figure| drawings::height_pt(figure) + 6.0).sum();
        let fits = high <= deal.room() && !deal.is_signed_early();
        let (here, later) = if fits { (zones, Vec::new()) } else { (Vec::new(), zones) };
        place(deal, here);
        if !self.plan.passes.is_empty() {
            self.order(deal)?;
        }
        self.known(deal);
        if !deal.is_signed_early() {
            self.looked_up(deal)?;
        }
        let unjudged = self.unjudged();
        let said = unjudged.as_ref().map_or(0.0, |text| deal.height(text, Weight::Plain, 9.5, INNER) + 3.0);
        // Names never stand alone on a page, and before the pictures that are looked at.
        let signed: f64 = self.signed_by().iter().map(|_| SIGN_HIGH + 6.0).sum();
        deal.need_with_last(signed + said + 18.0);
        if let Some(unjudged) = unjudged {
            deal.say(&unjudged, Weight::Plain, 9.5);
        }
        deal.say(NO_LICENCE, Weight::Bold, BODY);
        for row in self.signed_by() {
            signs(deal, row);
        }
        deal.has_names();
        place(deal, later);
        if deal.is_signed_early() {
            self.looked_up(deal)?;
        }
        Ok(())
    }

    /// Tools and lists: what is looked up at the machine, and decides nothing.
    fn looked_up(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        if self.plan.passes.is_empty() {
            return Ok(());
        }
        self.tools(deal)?;
        self.lists_named(deal)
    }

    /// What the sleeve chosen was not judged for; `None` where every figure is there.
    fn unjudged(&self) -> Option<String> {
        let chosen = self.plan.sleeves.iter().find(|s| s.chosen)?;
        // Which figure each lacks stands with the figures.
        let unjudged: Vec<&str> = chosen.fit.unjudged.iter().map(|bound| bound.what).collect();
        (!unjudged.is_empty()).then(|| format!("Not judged for want of figures: {}.", unjudged.join("; ")))
    }

    /// Who signs what: nobody signs for work that must not be done.
    fn signed_by(&self) -> Vec<&'static [(&'static str, f64)]> {
        const SEEN: &[(&str, f64)] =
            &[("seen by the shop lead", 0.34), ("date, time", 0.16), ("what is mended", 0.5)];
        const RELEASED: &[(&str, f64)] =
            &[("released by, shop lead", 0.34), ("date, time", 0.16), ("which cylinders, and why", 0.5)];
        const WORK: &[(&str, f64)] = &[
            ("shop lead, before the work", 0.34),
            ("date, time", 0.16),
            ("machinist, after the work", 0.34),
            ("date, time", 0.16),
        ];
        let held = self.plan.verdict == Verdict::Hold && self.plan.release.is_none();
        match (self.plan.verdict, self.not_for_cutting()) {
            (Verdict::Stop, true) => vec![SEEN],
            (_, true) if held => vec![RELEASED],
            _ if held && !self.only_unread() => vec![RELEASED, WORK],
            _ => vec![WORK],
        }
    }

    /// What to do with what is not at go.
    fn next_is(&self) -> Option<&'static str> {
        match self.plan.verdict {
            Verdict::Stop => Some("Next: mend what stops, then plan again; no release lets it through."),
            Verdict::Hold if self.only_unread() => Some("Next: read these bores, then plan again."),
            Verdict::Hold if self.plan.release.is_none() => Some(
                "Next: answer what holds, then plan again; or the shop lead releases it by name and reason (plan --release).",
            ),
            _ => None,
        }
    }

    /// A sentence in the sheet's unit, what was typed in it too.
    fn told(&self, sentence: &Sentence) -> String {
        self.units.say(sentence)
    }

    fn at(&self, verdict: Verdict) -> Vec<u32> {
        let own = self.plan.cylinders.iter().filter(|c| c.verdict == verdict).map(|c| c.cylinder);
        let unread = if verdict == Verdict::Hold { self.unread() } else { Vec::new() };
        own.chain(unread).collect()
    }

    /// Whether nothing is held but bores that nobody read, which no release can let through.
    fn only_unread(&self) -> bool {
        let unread = self.unread();
        !unread.is_empty()
            && !self.not_for_cutting()
            && self.at(Verdict::Hold) == unread
            && self.at(Verdict::Stop).is_empty()
    }

    /// Draws the verdict with what it means for cutting, each cause of it in a box, and what is to be done next.
    fn state(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let (stopped, held) = (self.at(Verdict::Stop), self.at(Verdict::Hold));
        let (title, text) = match (self.plan.verdict, self.not_for_cutting()) {
            (Verdict::Go, _) => ("GO: every limit is proven kept".to_owned(), ""),
            (Verdict::Stop, true) => (
                "STOP: NOT FOR CUTTING".to_owned(),
                "At least one limit is proven broken. No coordinates are given out.",
            ),
            (Verdict::Stop, false) => (
                format!("STOP at {}: NOT FOR CUTTING", cylinder_words(&stopped)),
                "No coordinates are given out for these. The others may be cut.",
            ),
            (Verdict::Hold, true) => (
                "HOLD: NOT FOR CUTTING".to_owned(),
                "No limit is proven broken, but not all are proven kept. Coordinates are given out only after the shop lead \
                 releases the job by name and reason.",
            ),
            (Verdict::Hold, false) if self.plan.release.is_some() => (
                "HOLD, released".to_owned(),
                "Not every limit is proven kept; who released it and why stands at the head of each card.",
            ),
            (Verdict::Hold, false) if self.only_unread() => (
                format!("HOLD at {}: held back", cylinder_words(&held)),
                "Nobody read these: no release gives out coordinates before they are read and planned. The others may be cut.",
            ),
            (Verdict::Hold, false) => (
                format!("HOLD at {}: held back", cylinder_words(&held)),
                "Coordinates of these are given out only after the shop lead releases them by name and reason. The others may \
                 be cut.",
            ),
        };
        let weight = if self.plan.verdict == Verdict::Go { 1.5 } else { 4.0 };
        deal.boxed(&title, text, weight, 18.0);
        for cause in self.causes()? {
            let title = format!("{}: {}", cause.verdict.word().to_uppercase(), cause.subject);
            deal.boxed(&title, &cause.text, 1.5, 11.0);
        }
        if let Some(next) = self.next_is() {
            deal.say(next, Weight::Bold, 11.0);
        }
        Ok(())
    }

    /// Where the bores that are not at go might stand: for whoever decides on them.
    fn zones(&self, deal: &Deal<'_>, report: &SurveyReport) -> Result<Vec<Figure>, OutputError> {
        let subject = Subject { job: &self.planning.job, report, fonts: deal.fonts };
        let told = |n: u32| !self.is_withheld(n);
        // Where there is no room at all the words above say why, and there is nothing to draw.
        let shown = |zone: &FreeZone| zone.verdict != Verdict::Go && !zone.possible.is_empty();
        drawings::zones_of_some(&subject, &told, &shown)
    }

    /// One sentence a bore, the worst first.
    fn worst_first(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let mut cylinders: Vec<&Cylinder> = self.plan.cylinders.iter().collect();
        cylinders.sort_by(|a, b| worse(a, b));
        deal.heading("Bores, the worst first", 40.0);
        if let Some((cylinder, limit)) = tightest::tightest(self.plan) {
            let text = format!(
                "Tightest limit: {} of cylinder {}, margin {}, its standard uncertainty {}.",
                words::limit(limit.limit),
                cylinder.cylinder,
                self.units.length(limit.margin, Digits::Fine)?.spoken(),
                self.units.length(limit.u, Digits::Fine)?.spoken()
            );
            deal.say(&text, Weight::Bold, 10.0);
        }
        let above: Vec<String> = self.causes()?.into_iter().map(|cause| cause.told).collect();
        let (others, told): (Vec<Line>, Vec<Line>) =
            reasons::lines(cylinders, &above, self.units).into_iter().partition(|line| line.in_figures);
        for Line { verdict, text, cylinders, .. } in told {
            let why = one_line(&text, 420);
            let text = format!("{}  {}: {why}", cyl(&cylinders), verdict.word().to_uppercase());
            let weight = if verdict == Verdict::Go { Weight::Plain } else { Weight::Bold };
            deal.say(&text, weight, 10.0);
            deal.note(Block::Why(self.tightest(&cylinders)));
        }
        for verdict in [Verdict::Stop, Verdict::Hold] {
            let own = others.iter().filter(|line| line.verdict == verdict);
            let bores: Vec<u32> = own.flat_map(|line| line.cylinders.iter().copied()).collect();
            self.again_in_figures(deal, verdict, &bores)?;
        }
        Ok(())
    }

    /// One line for the bores of a verdict of which nothing new is said: their tightest margins. None where there are none.
    fn again_in_figures(
        &self,
        deal: &mut Deal<'_>,
        verdict: Verdict,
        bores: &[u32],
    ) -> Result<(), OutputError> {
        if bores.is_empty() {
            return Ok(());
        }
        let margins: Vec<String> = bores
            .iter()
            .filter_map(|n| tightest::of(self.plan.cylinders.iter().find(|c| c.cylinder == *n)?))
            .map(|limit| {
                Ok(self.units.length(limit.margin, Digits::Fine)?.stacked_signed().replace('\n', " "))
            })
            .collect::<Result<_, OutputError>>()?;
        let text = format!(
            "{}  {}: as said above, in other figures; tightest margins {}",
            cyl(bores),
            verdict.word().to_uppercase(),
            margins.join(", ")
        );
        deal.say(&text, Weight::Bold, 10.0);
        deal.note(Block::Why(self.tightest(bores)));
        Ok(())
    }

    /// How the old bores stand together: what may be the block's and what the set-up's is the lead's to settle before the cut.
    fn as_found(&self, deal: &mut Deal<'_>, surveyed: Surveyed<'_>) {
        let report = surveyed.report;
        let mut told: Vec<&Sentence> = report.as_bored.text.iter().collect();
        let once = Sentence::from("read once: only turned end for end is block told from set-up");
        match &report.reversal {
            Some(reversal) => told.extend(&reversal.text),
            None if report.sets.banks.is_empty() => told.push(&once),
            None => told.extend(report.sets.text.last()),
        }
        if told.is_empty() {
            return;
        }
        deal.heading("How the old bores stand, as read", 40.0);
        let told: Vec<String> = told.into_iter().map(|text| first_large(&self.told(text))).collect();
        deal.say(&format!("{}.", told.join(". ")), Weight::Plain, 10.0);
        asked_of_set_ups(deal, surveyed);
    }

    /// The limits with the least in hand of each of these bores, to ask about.
    fn tightest(&self, cylinders: &[u32]) -> Vec<Ask> {
        const OF_EACH: usize = 2;
        let own = |n: &u32| self.plan.cylinders.iter().find(|c| c.cylinder == *n);
        let asked = cylinders.iter().filter_map(own).flat_map(|cylinder| {
            let mut limits: Vec<_> = cylinder.limits.iter().filter(|l| !l.told_only).collect();
            let in_hand = |l: &LimitResult| l.margin - FACTOR * l.u;
            limits.sort_by(|a, b| b.verdict.cmp(&a.verdict).then(in_hand(a).total_cmp(&in_hand(b))));
            limits.dedup_by_key(|l| l.limit);
            limits.truncate(OF_EACH);
            let n = cylinder.cylinder;
            limits.into_iter().map(move |l| {
                let name = words::limit(l.limit);
                (format!("{n}: {name}"), Question::Limit { limit: l.limit.to_owned(), cylinder: n })
            })
        });
        asked.collect()
    }

    /// Draws the stages in the order of work, the hours they take, what the sleeve wants to go in, and what the lead
    /// has still to say.
    fn order(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        let mut order: Vec<String> = Vec::new();
        for pass in self.in_order(deal.fonts) {
            let of_its_own = pass.is_edges() || pass.is_sleeves_flush();
            let word = if of_its_own { pass.feature.as_str() } else { pass.stage.word() };
            let part = format!("{word} {}", shorten(&pass.bank));
            if order.last() != Some(&part) {
                order.push(part);
            }
        }
        let (work, handling) =
            self.plan.times.iter().fold((0.0, 0.0), |t, s| (t.0 + s.work, t.1 + s.handling));
        deal.heading("Order of work", 30.0);
        deal.say(&order.join(" → "), Weight::Bold, 11.0);
        if let Some(caution) = self.before_sleeves() {
            deal.say(&caution, Weight::Bold, 11.0);
        }
        if work > 0.0 {
            let hours = |minutes: f64| Fixed::new(minutes / 60.0, 1);
            deal.say(
                &format!(
                    "About {} hours: {} at the work, {} setting tools and measuring; without loading and indicating.",
                    hours(work + handling)?,
                    hours(work)?,
                    hours(handling)?
                ),
                Weight::Plain,
                BODY,
            );
        }
        deal.note(Block::Why(vec![("time".to_owned(), Question::Job)]));
        let going = self.plan.sleeves.iter().find(|s| s.chosen);
        if let Some(choice) = going {
            let fit = &choice.fit.going_in;
            let drawing = if self.planning.job.measured.is_empty() { ", pockets to its drawing" } else { "" };
            let mut text = format!("Sleeve {}{drawing}.", shorten(&choice.sleeve));
            if !fit.gaps.is_empty() {
                let sleeve = fit.chilled.map_or(fit.sleeve, f64::floor);
                text = format!(
                    "{text} Block {}, sleeve {}; never over {}.",
                    self.celsius(fit.soak.ceil())?,
                    self.celsius(sleeve)?,
                    self.celsius(fit.hottest)?
                );
            }
            deal.say(&text, Weight::Plain, BODY);
        }
        let said = &self.planning.job.engine.tightening;
        let plated = self.planning.job.finish.plate_mm.is_some();
        let mut missing: Vec<&str> = Vec::new();
        missing.extend(said.order.is_empty().then_some("order"));
        missing.extend(said.steps.is_empty().then_some("steps"));
        let card = self.card_number(deal.fonts, Kind::Finish).filter(|_| plated && !missing.is_empty());
        if let Some(card) = card {
            let text = format!(
                "Still to be said by the shop lead: {} of the plate's bolts (head_bolts); room on card {card}.",
                missing.join(" and ")
            );
            deal.say(&text, Weight::Bold, BODY);
        }
        Ok(())
    }

    fn tools(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        deal.heading("Tools, by the diameters that they are set to", 30.0);
        for tool in &self.planning.job.machine.tools {
            let own = self.plan.passes.iter().filter(|p| p.tool.as_deref() == Some(tool.name.as_str()));
            let mut settings: Vec<String> = Vec::new();
            for pass in own {
                let size = self.units.length(pass.diameter, Digits::Fine)?.stacked().replace('\n', " ");
                if !settings.contains(&size) {
                    settings.push(size);
                }
            }
            if settings.is_empty() {
                continue;
            }
            let reach = self.units.length(tool.reach_mm, Digits::Depth)?.spoken();
            let text = format!("{}: stick-out {reach}; Ø {}", shorten(&tool.name), settings.join(", "));
            deal.say(&text, Weight::Plain, BODY);
        }
        Ok(())
    }

    /// What is known and at go: read once, before the work.
    fn known(&self, deal: &mut Deal<'_>) {
        let known = self.plan.findings.iter().filter(|f| f.verdict == Verdict::Go);
        let (foreseen, notes): (Vec<&Finding>, Vec<&Finding>) =
            known.partition(|f| f.is_foreseen() && !self.plan.passes.is_empty());
        let told = |f: &Finding| format!("{}: {}", subject(&f.subject, 36), self.told(&f.text));
        for finding in foreseen {
            asked_of_lead(
                deal,
                &format!("{}.", first_large(&told(finding))),
                ["Mend, plan again", "cut, release each check"],
            );
        }
        // One alone needs no heading of its own: it stands under the order of work, as what else is to be known of it.
        if let [one] = notes.as_slice() {
            deal.say(&format!("To know: {}.", told(one)), Weight::Plain, 10.0);
        } else if !notes.is_empty() {
            deal.heading("To know", 26.0);
            for finding in notes {
                deal.say(&told(finding), Weight::Plain, 10.0);
            }
        }
    }
}

/// Bores at the head of a line: "cyl 1, 5", where "1 5" would read fifteen.
fn cyl(cylinders: &[u32]) -> String {
    let words: Vec<String> = cylinders.iter().map(u32::to_string).collect();
    format!("cyl {}", words.join(", "))
}

/// The graver verdict first, then as the tightest limit of all is found: by how surely it is kept, then by its margin.
fn worse(a: &Cylinder, b: &Cylinder) -> Ordering {
    let tighter = match (tightest::of(a), tightest::of(b)) {
        (Some(a), Some(b)) => tightest::order(a, b),
        (a, b) => b.is_some().cmp(&a.is_some()),
    };
    b.verdict.cmp(&a.verdict).then(tighter)
}

/// One line for what the survey asks of the set-ups: whether it was done is the lead's to say before the cut, since the lists
/// follow each set-up as it was read.
fn asked_of_set_ups(deal: &mut Deal<'_>, surveyed: Surveyed<'_>) {
    let Some(asked) = set_up::asked(surveyed.report) else { return };
    let page = surveyed.asked_on.map_or_else(String::new, |page| format!(" (figures page {page})"));
    let words = format!("The survey asks of the set-up{page}: {asked}.");
    asked_of_lead(deal, &words, ["Done before planning", "not done, cut as read"]);
}

/// What the lead answers before the cut by ticking one of two.
fn asked_of_lead(deal: &mut Deal<'_>, words: &str, [one, other]: [&str; 2]) {
    const TICKED: f64 = 16.0;
    deal.need(deal.height(words, Weight::Bold, 10.0, INNER) + 3.0 + TICKED);
    deal.say(words, Weight::Bold, 10.0);
    let base = deal.y + 9.0;
    for (left, word) in [(0.0, one), (132.0, other)] {
        deal.put(Point::new(LEFT + left, base), Align::Left, Weight::Plain, 10.0, word);
        let wide = deal.fonts.width(word, Weight::Plain, 10.0);
        tick(deal, Point::new(LEFT + left + wide + 5.0, base));
    }
    let lead = "lead ____________________";
    deal.put(Point::new(LEFT + 276.0, base), Align::Left, Weight::Plain, 10.0, lead);
    deal.y += TICKED;
}

/// Pictures below each other in the middle of the page.
fn place(deal: &mut Deal<'_>, figures: Vec<Figure>) {
    for figure in figures {
        deal.need(drawings::height_pt(&figure) + 6.0);
        let left = LEFT + (INNER - drawings::width_pt(&figure)) / 2.0;
        drawings::draw(&mut deal.canvas, deal.fonts, &figure, Point::new(left, deal.y + 6.0));
        deal.y += drawings::height_pt(&figure) + 6.0;
        deal.note(Block::Picture(figure));
    }
}

/// A row of boxes for names and dates, each with its share of the width.
fn signs(deal: &mut Deal<'_>, boxes: &[(&str, f64)]) {
    const HIGH: f64 = SIGN_HIGH;
    deal.need(HIGH + 6.0);
    let top = deal.y + 2.0;
    let mut left = LEFT;
    for (label, share) in boxes {
        let right = left + share * INNER;
        deal.canvas.frame(Rect::new(left, top, right, top + HIGH), 1.0);
        deal.put(Point::new(left + 4.0, top + 11.0), Align::Left, Weight::Plain, 9.0, label);
        left = right;
    }
    deal.y = top + HIGH + 4.0;
}
