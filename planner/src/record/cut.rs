//! The cut bores by the record: where each stands, how large its parts are, and which steps are done.

use borewright_geometry::sample::mean;

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::answer::found;
use super::behind::{behind, is_whole};
use super::{Paper, Standing, Word};
use crate::job::pocket::Pocket;
use crate::job::{CutBore, CutPart, Front, Job};
use crate::plan::Stage;
use crate::plan::check::{Asked, AtCylinder, Check, Of, What};

/// What the record comes to, for planning again.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cut {
    /// The bores that the work has begun on.
    pub bores: BTreeMap<u32, CutBore>,
    /// The steps of each cylinder that are behind it: above the first of each two, up to the second.
    pub done: BTreeMap<u32, Vec<[u32; 2]>>,
    /// Steps of a whole bank that are behind it.
    pub decks: Vec<u32>,
}

/// Works it out against the checks of the plan that would be made without a record.
#[must_use]
pub fn cut(job: &Job, paper: &Paper, standing: &Standing) -> Cut {
    let mut cut = Cut::default();
    let mut read: BTreeMap<u32, Vec<[f64; 2]>> = BTreeMap::new();
    for check in &paper.checks {
        for at in &check.cylinders {
            let begun = standing.of_check(check.check, at.cylinder).next().is_some();
            let Some(cylinder) = at.cylinder else {
                let step = check.step.filter(|_| begun && is_whole(standing, check, None));
                cut.decks.extend(step);
                continue;
            };
            if begun && is_cutting(check) {
                let values = values((job, paper, standing), check, at);
                let own = cut.bores.entry(cylinder).or_default();
                measured(own, (job, paper, standing), (check, at), &values);
                read.entry(cylinder).or_default().extend(moved(job, check, &values));
            }
            if begun && let Entry::Vacant(own) = cut.done.entry(cylinder) {
                own.insert(behind(paper, standing, cylinder));
            }
        }
    }
    cut.done.retain(|_, spans| !spans.is_empty());
    places(paper, standing, &read, &mut cut);
    for (cylinder, bore) in &mut cut.bores {
        bore.sleeve = standing.pinned(*cylinder).or(standing.candidate(*cylinder)).map(str::to_owned);
    }
    for event in standing.events.iter().filter(|e| e.what == Word::Sleeve && e.struck.is_none()) {
        if let Some(cylinder) = event.cylinder {
            let pinned = standing.pinned(cylinder).or(standing.candidate(cylinder)).map(str::to_owned);
            cut.bores.entry(cylinder).or_default().sleeve = pinned;
        }
    }
    cut
}

/// Whether metal of the pocket is gone once anything of a check is read.
pub(super) fn is_cutting(check: &Check) -> bool {
    check.stage <= Stage::Pocket && !matches!(check.what, What::Touch | What::Position)
}

/// The figures of a check on a bore, one a place: what each is of, what was expected, what was found.
fn values(
    (job, paper, standing): (&Job, &Paper, &Standing),
    check: &Check,
    at: &AtCylinder,
) -> Vec<(Of, f64, f64)> {
    let figure = |asked: &Asked| found(Some(job), paper, standing, (check, at.cylinder, asked));
    at.readings.iter().filter_map(|a| Some((a.of, a.expected?, figure(a)?.figure))).collect()
}

/// Sizes and depths that a check found.
fn measured(
    bore: &mut CutBore,
    (job, paper, standing): (&Job, &Paper, &Standing),
    (check, at): (&Check, &AtCylinder),
    values: &[(Of, f64, f64)],
) {
    if check.what == What::Size && check.stage == Stage::Pocket {
        let sizes = at.readings.iter().filter(|a| a.of == Of::Diameter);
        let larger = sizes.filter_map(|asked| {
            let found = found(Some(job), paper, standing, (check, at.cylinder, asked))?;
            Some(found.figure - asked.expected?)
        });
        // What metal is left beside a part is judged at its widest.
        if let Some(larger) = larger.reduce(f64::max) {
            bore.parts.push(CutPart {
                feature: check.feature.clone(),
                depths_mm: depths_mm(job, paper, (check, at)),
                larger_mm: larger / 2.0,
            });
        }
    }
    let depths: Vec<f64> = values.iter().filter(|(of, ..)| *of == Of::Depth).map(|v| v.2).collect();
    if check.what == What::Ledge {
        bore.ledge_mm = mean(&depths).or(bore.ledge_mm);
    }
}

/// The depths of the part of a pocket that a check measures: all of the part, wherever it was gauged.
fn depths_mm(job: &Job, paper: &Paper, (check, at): (&Check, &AtCylinder)) -> [f64; 2] {
    let name = at.cylinder.and_then(|c| paper.sleeve_of(c)).map(|(name, _)| name);
    let sleeve = job.sleeves.iter().find(|s| Some(s.name.as_str()) == name);
    let pocket = sleeve.map(|s| Pocket::of(s, job.engine.deck.cut_mm));
    let part = pocket.and_then(|p| p.steps.into_iter().find(|s| s.name == check.feature));
    part.map_or([f64::NEG_INFINITY, f64::INFINITY], |p| [p.depths.from_mm, p.depths.to_mm])
}

/// How far X and Y as read at one part of a bore are off what was told, in the bank.
fn moved(job: &Job, check: &Check, values: &[(Of, f64, f64)]) -> Option<[f64; 2]> {
    let off = |kind: Of| {
        let all: Vec<f64> = values
            .iter()
            .filter(|(of, ..)| *of == kind)
            .map(|(_, expected, found)| found - expected)
            .collect();
        mean(&all)
    };
    let (x, y) = (off(Of::X)?, off(Of::Y)?);
    // A list runs along the machine's axes; over so small a way the turn between them and the bank is nothing.
    let bank = job.block.banks.iter().position(|b| b.name == check.bank);
    let front = bank.and_then(|b| job.set_up_of(b)).map_or(Front::Left, |s| s.front);
    let sign = if front == Front::Left { 1.0 } else { -1.0 };
    Some([sign * x, sign * y])
}

/// Where each begun bore was told to stand, as the record has it, else as the plan has it now; moved by what its parts
/// were read off, in the mean.
fn places(paper: &Paper, standing: &Standing, read: &BTreeMap<u32, Vec<[f64; 2]>>, cut: &mut Cut) {
    for (cylinder, bore) in &mut cut.bores {
        let told = standing
            .events
            .iter()
            .filter(|e| e.what == Word::Place && e.struck.is_none() && e.cylinder == Some(*cylinder))
            .filter_map(|e| place(e.fields.get("value")))
            .next_back();
        let now = paper.cylinders.iter().find(|c| c.cylinder == *cylinder).and_then(|c| c.planned);
        let Some([x, y]) = told.or(now.map(|p| [p.x, p.y])) else { continue };
        let own = read.get(cylinder).map(Vec::as_slice).unwrap_or_default();
        let [dx, dy] =
            [0, 1].map(|k| mean(&own.iter().map(|off| off[k]).collect::<Vec<_>>()).unwrap_or_default());
        bore.told_mm = Some([x, y]);
        bore.place_mm = Some([x + dx, y + dy]);
        bore.read = u32::try_from(own.len()).unwrap_or(u32::MAX);
    }
}

/// `46.016500 0.041200`: x and y in the bank, mm.
fn place(text: &str) -> Option<[f64; 2]> {
    let mut figures = text.split_whitespace().map(str::parse::<f64>);
    let (x, y) = (figures.next()?.ok()?, figures.next()?.ok()?);
    (x.is_finite() && y.is_finite() && figures.next().is_none()).then_some([x, y])
}
