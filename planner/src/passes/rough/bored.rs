//! A part of the pocket bored: the least number of passes from the off-centre wall to the part's radius, all bores of the
//! bank to the same diameters.

use super::proof::position_proof;
use super::stock::{Bite, bite, touched};
use super::{NOTHING_MM, Roughing};
use crate::job::{Job, Liner};
use crate::passes::cutting::{self, Cutting, NoTool, Purpose, Wanted};
use crate::passes::iron::{liner, shell, shows, witness};
use crate::passes::old_surface::{apart, depths, surfaces};
use crate::passes::{Bench, Cut, Cutter, Missing, spread};
use crate::plan::sentence::mm;
use crate::plan::touch::TOUCH_DEPTH_MM;
use crate::plan::{Pass, Stage};
use crate::say;

/// Room that a tool needs beyond its cut, mm: its own approach above the deck comes on top. Common practice.
const APPROACH_MM: f64 = 2.0;

/// What boring one part starts from, in all bores of a bank together: the head is set once a pass.
struct Boring<'a> {
    job: &'a Job,
    what: &'a Roughing<'a>,
    /// The least radius at which metal may be met, from the tightest bore, mm.
    start_mm: f64,
    /// The old liner, where any bore still has it.
    iron: Option<Liner>,
    /// The radius beyond which no iron of it is left in any bore, mm; 0 without one.
    boundary_mm: f64,
}

/// One pass of all the bank's bores: its radius, what is open before it, and whether iron is left to cut.
struct Step<'a> {
    number: u32,
    radius_mm: f64,
    open_mm: f64,
    in_iron: bool,
    /// Whether its first chip is the first of the bank.
    shows_place: bool,
    cutting: &'a Cutting,
}

impl<'a> Boring<'a> {
    fn of(bench: &Bench<'a>, what: &'a Roughing<'a>) -> Self {
        let surfaces = bench.cuts.iter().flat_map(|cut| surfaces(cut, what.depths_mm));
        let innermost = surfaces.map(|s| s.nearest_mm()).fold(f64::INFINITY, f64::min);
        let iron = liner(bench);
        let boundary_mm = iron.as_ref().map_or(0.0, |liner| {
            let off = |cut: &Cut<'_>| {
                depths(cut, what.depths_mm).into_iter().map(|d| apart(cut, d)).collect::<Vec<_>>()
            };
            bench.cuts.iter().flat_map(off).map(|off| liner.outside_mm / 2.0 + off).fold(0.0, f64::max)
        });
        Self { job: bench.job, what, start_mm: innermost.max(what.open_mm), iron, boundary_mm }
    }

    /// Whether a pass that starts at a radius meets iron.
    fn meets_iron(&self, from_mm: f64) -> bool {
        self.iron.is_some() && from_mm.max(self.start_mm) < self.boundary_mm - NOTHING_MM
    }

    /// A tool from what is open to a radius, through the parent's metal and, as told, the old liner's.
    fn tool(&self, radius_mm: f64, open_mm: f64, in_iron: bool) -> Result<Cutting, NoTool> {
        let iron = self.iron.as_ref().filter(|_| in_iron).map(|liner| liner.material.name.as_str());
        let materials: Vec<&str> =
            iron.into_iter().chain([self.job.block.parent.material.name.as_str()]).collect();
        let wanted = Wanted {
            diameter_mm: 2.0 * radius_mm,
            reach_mm: self.what.depths_mm[1] + self.job.machine.clearance_mm + APPROACH_MM,
            open_mm,
            materials: &materials,
            purpose: Purpose::Rough,
            side_mm: 0.0,
        };
        cutting::choose(self.job, &wanted)
    }

    /// The most that a pass may take while iron is left and after it, mm, by the tools that would end each part.
    fn most_mm(&self) -> Result<[f64; 2], NoTool> {
        let ends = |in_iron| self.tool(self.what.end_mm, self.start_mm, in_iron);
        Ok([ends(self.start_mm < self.boundary_mm)?.depth_mm, ends(false)?.depth_mm])
    }

    /// The radius after each pass, mm; `None` where they would be too many.
    fn radii(&self, mut most_mm: [f64; 2]) -> Option<Vec<f64>> {
        // Smaller heads on the way can take less than the one that ends it: the shares follow the least of each part.
        loop {
            let [in_iron, after] = most_mm;
            let radii = spread::radii(self.start_mm, self.boundary_mm, self.what.end_mm, in_iron, after)?;
            let least = self.least_mm(&radii, most_mm);
            if least == most_mm {
                return Some(radii);
            }
            most_mm = least;
        }
    }

    /// The most that a pass may take in each part, mm, once the tools of these passes are known that would take more.
    fn least_mm(&self, radii: &[f64], most_mm: [f64; 2]) -> [f64; 2] {
        let mut least = most_mm;
        let mut last = self.what.open_mm;
        for &radius in radii {
            let (in_iron, from) = (self.meets_iron(last), last.max(self.start_mm));
            if let Ok(cutting) = self.tool(radius, from, in_iron) {
                let most = &mut least[usize::from(!in_iron)];
                if radius - from > cutting.depth_mm + NOTHING_MM {
                    *most = most.min(cutting.depth_mm);
                }
            }
            last = radius;
        }
        least
    }

    /// The pass of a step in one bore; `None` where nothing is to be cut there.
    fn pass(&self, bench: &Bench<'_>, cut: &Cut<'_>, step: &Step<'_>) -> Option<Pass> {
        let Bite { stock, in_cut, worked } = bite(cut, self.what.depths_mm, step.open_mm, step.radius_mm);
        if stock.max <= NOTHING_MM {
            return None;
        }
        let what = Cutter {
            stage: Stage::Rough,
            feature: self.what.feature,
            diameter_mm: 2.0 * step.radius_mm,
            depths_mm: self.what.depths_mm,
            cutting: Some(step.cutting),
            material: &step.cutting.material,
        };
        let mut pass = bench.pass(step.number, cut, &what);
        pass.stock = stock;
        pass.in_cut = in_cut;
        pass.worked.extend(worked.into_iter().flatten().chain(self.what.deep.clone()));
        let left = self.iron.as_ref().filter(|_| step.in_iron);
        if let Some((shell, figures)) = left.and_then(|l| shell(cut, l.outside_mm / 2.0, step.radius_mm)) {
            pass.shell = Some(shell);
            pass.worked.extend(figures);
        }
        self.stop(bench, cut, step, &mut pass);
        Some(pass)
    }

    /// What the pass must show before the next is cut.
    fn stop(&self, bench: &Bench<'_>, cut: &Cut<'_>, step: &Step<'_>, pass: &mut Pass) {
        if step.shows_place {
            // The touch is looked at near the deck, so its stock is that of the deck and not of the bottom of a leaning
            // bore.
            let near = [0.0, TOUCH_DEPTH_MM.min(self.what.depths_mm[1])];
            let Bite { stock, worked, .. } = bite(cut, near, step.open_mm, step.radius_mm);
            pass.stop = Some(position_proof(bench, cut, stock).into());
            pass.touch = Some(touched(cut, stock, worked));
        } else if let Some(shell) = pass.shell.filter(shows) {
            pass.stop = Some(witness(&shell, step.radius_mm).into());
        } else if pass.shell.is_some_and(|s| s.least <= 0.0) {
            pass.stop = Some("is the last iron just gone? No arc of it should be left".into());
        } else if step.in_iron && step.radius_mm >= self.boundary_mm - NOTHING_MM {
            pass.stop = Some("all iron gone, down to the lower end?".into());
        }
    }
}

/// Appends the rough passes that open one cylinder of the pocket in every bore of the bank; what no tool can take is told
/// as missing.
pub(super) fn down(bench: &mut Bench<'_>, what: &Roughing<'_>) {
    let boring = Boring::of(bench, what);
    let named = || say!("roughing {}", what.feature);
    let Some(most_mm) = bench.tool(Stage::Rough, named(), boring.most_mm()) else { return };
    let Some(radii) = boring.radii(most_mm) else {
        let ends = [boring.start_mm, what.end_mm].map(|radius| mm(2.0 * radius, 2));
        let [from, to] = ends;
        let text = say!(
            "roughing {} would take more than {} passes from {} to {}",
            what.feature,
            spread::MOST_PASSES,
            from,
            to
        );
        bench.missing(Stage::Rough, Missing::ManyPasses, text);
        return;
    };
    let mut open_mm = what.open_mm;
    for (i, &radius_mm) in radii.iter().enumerate() {
        let in_iron = boring.meets_iron(open_mm);
        let found = boring.tool(radius_mm, open_mm.max(boring.start_mm), in_iron);
        let Some(cutting) = bench.tool(Stage::Rough, named(), found) else { return };
        let shows_place = what.is_first && i == 0;
        let step = Step { number: bench.next(), radius_mm, open_mm, in_iron, shows_place, cutting: &cutting };
        let passes: Vec<Pass> = bench.cuts.iter().filter_map(|cut| boring.pass(bench, cut, &step)).collect();
        bench.passes.extend(passes);
        open_mm = radius_mm;
    }
}
