//! What of the bounds was not judged, and what on figures that nobody has verified.

use crate::job::{Job, Sleeve};
use crate::material::Material;
use crate::plan::SleeveFit;
use crate::plan::fit::Unjudged;
use crate::plan::sentence::{Sentence, mm};
use crate::read::fault::plain;
use crate::say;

/// Which of these bounds are not judged for want of figures.
pub(in crate::sleeve) fn unjudged(sleeve: &Sleeve, fit: &SleeveFit) -> Vec<Unjudged> {
    let of = |what, missing| Unjudged { what, missing };
    let mut unjudged = Vec::new();
    if fit.seat.load.is_none() {
        let flange = sleeve.flange().is_some();
        let what = if flange { "pressure on the ledge" } else { "pressure on the step" };
        unjudged.push(of(what, "the job gives no head bolts"));
    }
    if fit.holding.is_some_and(|held| held.gas_load.is_none()) {
        unjudged.push(of("gas on the sleeve's end", "the job gives no gas pressure"));
    }
    if sleeve.flange().is_some_and(|f| f.fillet_mm.is_none()) {
        unjudged.push(of("the fillet under the flange", "the sleeve states none"));
    }
    match fit.stack {
        None => unjudged.push(of("skirt and crown", "the job describes no piston")),
        Some(stack) if stack.clearance.is_none() => unjudged.push(of("the skirt", "no clearance is given")),
        Some(_) => {}
    }
    unjudged
}

/// Notes on which of these bounds were judged on unverified figures, and which were not judged for want of figures.
pub(in crate::sleeve) fn notes(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<Sentence> {
    let mut memory = Vec::new();
    let of = |metal: &Material, figures: &[&str]| {
        let found: Vec<&str> = metal.unverified.iter().copied().filter(|f| figures.contains(f)).collect();
        (!found.is_empty()).then(|| say!("{} of {}", found.join(" and "), plain(&metal.name, 40)))
    };
    let block = &job.block.parent.material;
    let liner = job.block.parent.liner.as_ref().map(|l| &l.material);
    if fit.seat.load.is_some() {
        let mut on: Vec<Sentence> = of(block, &["yield", "yield when hot", "creep"]).into_iter().collect();
        if block.creep.is_empty() {
            on.push("no creep figure known".into());
        }
        if !on.is_empty() {
            memory.push(say!("pressure on the {} ({})", sleeve.seat_word(), Sentence::join(on, ", ")));
        }
    }
    if fit.registers.iter().any(|r| r.interference.most > 0.0) {
        let metals = [Some(block), Some(&sleeve.material), liner];
        let mut rest: Vec<Sentence> =
            metals.into_iter().flatten().filter_map(|m| of(m, &["yield", "yield when hot"])).collect();
        rest.dedup();
        if !rest.is_empty() {
            memory.push(say!("hoop stress ({})", Sentence::join(rest, ", ")));
        }
    }
    memory.push(say!("the finished wall ({}, common practice)", mm(job.allowances.sleeve_wall_mm, 2)));
    if !fit.o_rings.is_empty() {
        memory.push("O-rings (their ranges common practice; cords and expansion of rubber)".into());
    }
    memory.push("the least chip of a finishing cut (common practice)".into());
    if let Some(held) = fit.holding {
        memory.push(say!("what friction holds (coefficient {:.2})", held.friction));
    }
    let mut notes = vec![say!(
        "what holds of itself was judged on figures from memory or common practice: {}",
        Sentence::join(memory, "; ")
    )];
    if !fit.unjudged.is_empty() {
        let unjudged: Vec<String> = fit.unjudged.iter().map(ToString::to_string).collect();
        notes.push(say!("not judged for want of figures: {}", unjudged.join("; ")));
    }
    notes
}
