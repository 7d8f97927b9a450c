//! One bore from found to finished.

use serde::Serialize;

use super::{Bench, Hold, Place};
use crate::job::Surface;
use crate::plan::{Offset, Verdict, Xy, rounded};
use crate::record::cut::Cut;
use crate::survey::Survey;

/// A bore as it left.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoreLeft {
    /// Its cylinder.
    pub cylinder: u32,
    /// Its bank.
    pub bank: String,
    /// The sleeve that was planned for it, or cut for.
    pub sleeve: Option<String>,
    /// The number of the sleeve itself, where they were measured one by one.
    pub number: Option<String>,
    /// `nothing_recorded`, `begun`, or `complete` where every reading that the work waits for was taken.
    pub state: &'static str,
    /// How it left: `go` all as asked, `hold` something open or released, `stop` something not as asked.
    pub verdict: Verdict,
    /// The verdict in two words.
    pub left: &'static str,
    /// Where it belongs.
    #[serde(rename = "true")]
    pub true_position: Xy,
    /// The bore as it came; `None` where nobody measured it.
    pub found: Option<FoundBore>,
    /// Where it was planned; `None` where it may not be cut.
    pub planned: Option<Xy>,
    /// Where it was cut; `None` where nothing of it was.
    pub cut: Option<CutLeft>,
}

/// A bore as it came.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FoundBore {
    /// Along the bank at the deck, mm.
    pub x: f64,
    /// Across the bank at the deck, mm.
    pub y: f64,
    /// Mean diameter, mm.
    pub diameter: f64,
    /// Mm per mm of depth.
    pub tilt: Xy,
    /// Largest peak-to-valley, mm; `None` where only centres were read.
    pub roundness: Option<f64>,
    /// Off its true position.
    pub off_true: Offset,
    /// Standard uncertainty of x and of y, mm.
    pub u: [f64; 2],
}

/// Where a bore was cut.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CutLeft {
    /// Along the bank, mm.
    pub x: f64,
    /// Across the bank, mm.
    pub y: f64,
    /// On how many parts of the pocket X and Y were read; with 0 the bore is taken to stand where the lists told it
    /// to.
    pub read: u32,
    /// How far off the place that the lists told.
    pub off_told: Offset,
    /// Off its true position.
    pub off_true: Offset,
    /// Standard uncertainty of its place along and across, mm, the datum counted in.
    pub u: [f64; 2],
}

/// What became of every bore that was planned, in the order of the block.
pub(super) fn bores(
    bench: &Bench<'_>,
    survey: &Survey,
    cut: &Cut,
    (places, holds): (&[Place], &[Hold]),
) -> Vec<BoreLeft> {
    let job = bench.job;
    let mut bores = Vec::new();
    for (bank, site) in job.block.banks.iter().flat_map(|b| b.sites.iter().map(move |s| (b, s))) {
        let cylinder = site.cylinder;
        let [tx, ty] = [site.x_mm, bank.axis_offset_mm];
        let off = |[x, y]: [f64; 2]| rounded::offset([x - tx, y - ty]);
        let i = &job.instruments;
        let found = survey.cylinders.get(&cylinder).map(|found| {
            // As its maker left it: the liner's bore, else what is there.
            let bore = found.by_surface.get(&Surface::Liner).unwrap_or(&found.now);
            let [x, y] = bore.axis.at_deck_mm;
            FoundBore {
                x,
                y,
                diameter: bore.diameter_mm,
                tilt: Xy { x: bore.axis.tilt[0], y: bore.axis.tilt[1] },
                roundness: bore.roundness_mm,
                off_true: off([x, y]),
                u: [i.centre_mm.hypot(i.along_mm), i.centre_mm.hypot(i.axis_mm)],
            }
        });
        let paper = bench.paper.cylinders.iter().find(|c| c.cylinder == cylinder);
        let own = cut.bores.get(&cylinder);
        let place = own.and_then(|own| {
            let [x, y] = own.place_mm?;
            let [px, py] = own.told_mm.unwrap_or([x, y]);
            // A place that was read is as sure as the probe, one that was not as the machine bores.
            let u = if own.read > 0 { i.centre_mm.hypot(i.machine_mm) } else { i.machine_mm };
            Some(CutLeft {
                x,
                y,
                read: own.read,
                off_told: rounded::offset([x - px, y - py]),
                off_true: off([x, y]),
                u: [u.hypot(i.along_mm), u.hypot(i.axis_mm)],
            })
        });
        let planned = paper.filter(|p| !p.withheld).and_then(|p| p.planned).map(|p| Xy { x: p.x, y: p.y });
        let (sleeve, number) = sleeve(bench, cylinder);
        let state = state(places, cylinder);
        let verdict = verdict(places, holds, cylinder);
        let open = is_open(bench, places, holds, cylinder);
        bores.push(BoreLeft {
            cylinder,
            bank: bank.name.clone(),
            sleeve,
            number,
            state,
            verdict,
            left: in_words(verdict, state, open),
            true_position: Xy { x: tx, y: ty },
            found,
            planned,
            cut: place,
        });
    }
    bores
}

/// A bore's sleeve by name and by the number on it: as recorded, else as planned.
fn sleeve(bench: &Bench<'_>, cylinder: u32) -> (Option<String>, Option<String>) {
    let planned = bench.paper.sleeve_of(cylinder);
    let pinned = bench.standing.pinned(cylinder);
    let of_pinned = pinned.and_then(|n| {
        let measured = bench.job.measured.iter().find(|m| m.number == n)?;
        bench.job.sleeves.get(measured.sleeve).map(|s| s.name.as_str())
    });
    let name = of_pinned.or(bench.standing.candidate(cylinder)).or(planned.map(|(name, _)| name));
    let number = pinned.or(planned.and_then(|(_, number)| number));
    (name.map(str::to_owned), number.map(str::to_owned))
}

fn state(places: &[Place], cylinder: u32) -> &'static str {
    let mut own = places.iter().filter(|p| p.cylinder == Some(cylinder)).peekable();
    if own.peek().is_none() || own.clone().all(|p| p.lines.is_empty()) {
        "nothing_recorded"
    } else if own.any(Place::is_unread) {
        "begun"
    } else {
        "complete"
    }
}

fn verdict(places: &[Place], holds: &[Hold], cylinder: u32) -> Verdict {
    let own: Vec<&Place> = places.iter().filter(|p| p.cylinder == Some(cylinder)).collect();
    let held = holds.iter().filter(|h| h.subject().is_cylinder(cylinder)).map(Hold::left);
    let read = if own.is_empty() { Verdict::Hold } else { Verdict::Go };
    own.iter().map(|p| of_place(p)).chain(held).chain([read]).max().unwrap_or(Verdict::Hold)
}

/// Whether something about a bore is still to be measured or decided.
fn is_open(bench: &Bench<'_>, places: &[Place], holds: &[Hold], cylinder: u32) -> bool {
    let waits = |p: &Place| p.is_unread() || (!p.agree && p.released_by.is_none());
    let held = |hold: &Hold| match hold {
        Hold::Plan(_) => bench.paper.release.is_none(),
        Hold::Work(finding) => !finding.is_released(),
    };
    places.iter().any(|p| p.cylinder == Some(cylinder) && waits(p))
        || holds.iter().any(|h| h.subject().is_cylinder(cylinder) && held(h))
}

fn in_words(verdict: Verdict, state: &str, open: bool) -> &'static str {
    match (verdict, state) {
        (_, "nothing_recorded") => "nothing recorded",
        (Verdict::Stop, _) => "not as asked",
        (Verdict::Hold, "begun") => "not all measured",
        (Verdict::Hold, _) if open => "to be decided",
        (Verdict::Hold, _) => "let through by name",
        (Verdict::Go, _) => "as asked",
    }
}

/// What one place says.
pub(super) fn of_place(place: &Place) -> Verdict {
    match (place.is_wrong(), &place.released_by) {
        (true, None) => Verdict::Stop,
        (true, Some(_)) => Verdict::Hold,
        (false, _) if place.is_unread() || !place.agree => Verdict::Hold,
        (false, _) => Verdict::Go,
    }
}
