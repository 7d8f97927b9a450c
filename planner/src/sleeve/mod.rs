//! A candidate's fit: whether it stays put, seals and lasts.

pub mod heat;
pub mod rings;

mod assign;
mod bounds;
mod gasket;
mod going_in;
mod holding;
mod judge;
mod limit;
mod o_ring;
mod pairs;
mod protrusion;
mod register;
mod seat;
mod stack;
mod walls;
mod worked;

use crate::job::{Job, MeasuredSleeve, Sleeve};
use crate::place::Positions;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{Sentence, before_mm, celsius, mm, signed_mm};
use crate::plan::{Finding, SleeveFit, Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::Survey;

pub use bounds::{HOT_FILL_MOST, SQUEEZE_ENDS, STRETCH_MOST};
pub(crate) use bounds::{LEAST_CUT_MM, RUN_OUT_MM};
pub use o_ring::{FILL, FILL_MOST, SQUEEZE, STRETCH};
pub(crate) use protrusion::{deck_tilts, leaning};

impl SleeveFit {
    /// The worst of its limits.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.sleeve_limits.iter().map(|l| l.verdict).max().unwrap_or(Verdict::Go)
    }

    /// The limit that decides, where it is not go.
    #[must_use]
    pub fn worst(&self) -> Option<&SleeveLimit> {
        let not_go = self.sleeve_limits.iter().filter(|l| l.verdict != Verdict::Go);
        not_go.max_by(|a, b| a.verdict.cmp(&b.verdict).then(b.short().total_cmp(&a.short())))
    }

    /// A finding for each limit that is not at go.
    #[must_use]
    pub fn findings(&self, sleeve: &Sleeve) -> Vec<Finding> {
        let not_go = self.sleeve_limits.iter().filter(|l| l.verdict != Verdict::Go);
        not_go
            .map(|l| Finding {
                code: if l.of_itself { l.limit } else { "sleeve_limit" },
                verdict: l.verdict,
                subject: Subject::whole(format!("sleeve {}", plain(&sleeve.name, 40))),
                text: l.sentence(),
            })
            .collect()
    }
}

/// Works out how the sleeve fits at the planned places.
#[must_use]
pub fn assess(job: &Job, survey: &Survey, positions: &Positions) -> SleeveFit {
    let sleeve = &job.sleeves[positions.sleeve];
    let registers = register::registers(job, survey, positions);
    let going_in = going_in::going_in(job, sleeve, &registers);
    let seat = seat::seat(job, survey, positions);
    let o_rings = o_ring::o_rings(job, sleeve, positions);
    let protrusion = sleeve.flange().map(|flange| protrusion::protrusion(job, flange));
    let holding = sleeve.foot().map(|foot| holding::holding(job, sleeve, foot, positions, &registers));
    let fire_ring = gasket::fire_rings(job, positions);
    let flats = pairs::flats(job, positions);
    let assigned = assign::assign(job, positions);
    let stack = stack::stack(job, survey, sleeve);
    let mut fit = SleeveFit {
        registers,
        going_in,
        seat,
        o_rings,
        protrusion,
        holding,
        fire_ring,
        flats,
        assigned,
        stack,
        sleeve_limits: Vec::new(),
        unjudged: Vec::new(),
        notes: Vec::new(),
        of_figures: 0,
    };
    fit.sleeve_limits = limit::asked(job, sleeve, &fit);
    fit.sleeve_limits.extend(bounds::limits(job, sleeve, &fit));
    fit.unjudged = bounds::unjudged(sleeve, &fit);
    fit.notes = of_figures(job, sleeve, &fit);
    fit.of_figures = fit.notes.len();
    fit.notes.extend(to_know(job, sleeve, positions, &fit));
    fit
}

/// What rests on figures that nobody has verified, and what was assumed.
fn of_figures(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<Sentence> {
    let mut notes = Vec::new();
    let mut metals = vec![&job.block.parent.material, &sleeve.material];
    metals.dedup();
    for metal in metals {
        if !metal.unverified.is_empty() {
            notes.push(say!(
                "{}: {} not verified ({}); the supplier's data come first",
                plain(&metal.name, 40),
                metal.unverified.join(", "),
                plain(&metal.source, 200)
            ));
        }
    }
    if !job.engine.running.stated {
        notes.push(say!(
            "temperatures at work are assumed: block and sleeve {}; say `running` in the job",
            celsius(job.engine.running.block_c, 0)
        ));
    }
    for register in &fit.registers {
        if let Some(text) = register.wall.and_then(|w| w.note(&register.feature)) {
            notes.push(text);
        }
    }
    notes.extend(bounds::notes(job, sleeve, fit));
    notes
}

/// Notes that a reader should have of the fit.
fn to_know(job: &Job, sleeve: &Sleeve, positions: &Positions, fit: &SleeveFit) -> Vec<Sentence> {
    let mut notes = Vec::new();
    let own = job.measured.iter().filter(|m| m.sleeve == positions.sleeve).count();
    if own > 0 && fit.assigned.is_empty() {
        notes.push(say!("{} sleeves measured for {} bores: none is assigned", own, positions.bores.len()));
    }
    for measured in job.measured.iter().filter(|m| m.sleeve == positions.sleeve) {
        notes.extend(unlike(sleeve, measured));
    }
    notes.extend(o_ring::notes(fit));
    for register in &fit.registers {
        let open = register.running.is_some_and(|w| w.interference.least <= 0.0);
        if open && register.interference.most > 0.0 {
            notes.push(say!(
                "{}: at work the fit may be open by {}; {} and clamp hold the sleeve then, not the squeeze",
                plain(&register.feature, 40),
                mm(register.running.map_or(0.0, |w| -w.interference.least), 3),
                sleeve.stop_word()
            ));
        }
    }
    if let Some(stack) = fit.stack.filter(|s| s.crown_top < 0.0 && s.crown_gap > 0.0) {
        notes.push(say!("the crown stands {} above the deck at top dead centre, {} below the head with the gasket between", mm(-stack.crown_top, 2), mm(stack.crown_gap, 2)));
    }
    if let (None, Some(ring), Some(top)) = (sleeve.flange(), job.block.fire_ring, sleeve.body.first())
        && ring.inside_mm < top.diameter_mm
        && top.diameter_mm < ring.outside_mm
    {
        notes.push(say!("the joint of sleeve and block at {} runs under the fire ring, {} to {}: deck and sleeve must be one plane there", mm(top.diameter_mm, 2), before_mm(ring.inside_mm, 2), mm(ring.outside_mm, 2)));
    }
    if let Some(jacket) = job.block.parent.jacket {
        let wet = sleeve.body.iter().zip(&positions.pocket.steps).filter(|(step, _)| step.wet);
        for (step, feature) in wet.filter(|(_, f)| f.depths.to_mm > jacket.to_mm) {
            notes.push(say!(
                "{}: its pocket goes {} below the floor of the jacket, into metal that the seals below need",
                plain(&step.name, 40),
                mm(feature.depths.to_mm - jacket.to_mm, 1)
            ));
        }
    }
    let proud = sleeve.flange().is_some_and(|f| f.protrusion_max_mm > 0.0);
    if job.engine.deck.after_fit && proud && job.engine.deck.cut_mm > 0.0 {
        notes.push(
            "the deck is cut with the sleeves in: flanges end flush, whatever protrusion the sleeve asks for"
                .into(),
        );
    }
    notes
}

/// A sleeve this far from its drawing is named, mm: the limits are judged with the drawing's sizes. Common practice.
const UNLIKE_MM: f64 = 0.02;
/// A flange whose thickness differs more round it stands one-sided, mm. Common practice, no source.
const UNEVEN_MM: f64 = 0.013;

fn unlike(drawing: &Sleeve, measured: &MeasuredSleeve) -> Vec<Sentence> {
    let number = plain(&measured.number, 30);
    let mut said = Vec::new();
    for (step, outside) in drawing.body.iter().zip(&measured.outsides_mm) {
        let off = outside - step.diameter_mm;
        if off.abs() > UNLIKE_MM {
            said.push(say!(
                "sleeve number {}: {} is {}, {} from its drawing",
                number,
                plain(&step.name, 40),
                mm(*outside, 3),
                signed_mm(off, 3)
            ));
        }
    }
    let uneven = measured.flange.map_or(0.0, |f| f.range_mm[1] - f.range_mm[0]);
    if uneven > UNEVEN_MM {
        said.push(say!(
            "sleeve number {}: its flange differs {} round, at most {}: it will stand one-sided",
            number,
            mm(uneven, 3),
            mm(UNEVEN_MM, 3)
        ));
    }
    said
}
