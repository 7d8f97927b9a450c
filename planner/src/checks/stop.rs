//! What a stop asks for, as readings with a place, what is expected and its window.

use crate::job::{Job, Sleeve, Stands};
use crate::passes::{
    ALIKE_MM, FINISH_SIZE_MM, FLAT_MM, LEVEL_MM, SLEEVES_FLUSH, gauge_depths_mm, wet_window_mm, window_mm,
};
use crate::place::Positions;
use crate::plan::check::{Asked, Of, WAYS_DEG, What, numbered};
use crate::plan::rounding::decimals;
use crate::plan::{Pass, Stage};

/// Four points round a flange or a ledge, degrees.
const ROUND_DEG: [f64; 4] = [0.0, 90.0, 180.0, 270.0];
/// A finished bore is gauged at these clocks, degrees.
const GAUGED_DEG: [f64; 4] = [0.0, 45.0, 90.0, 135.0];
/// A size near an end is taken this far from it, mm; less in a short register. Common practice, no source.
const FROM_END_MM: f64 = 5.0;
/// How deep a first touch is may be read to this, either side, mm: by a scale or a depth gauge at an uneven step. Common
/// practice, no source.
const TOUCH_MM: f64 = 0.05;
/// Edges of an arc of iron are told to this by eye, degrees: 5 at either end (common practice, no source), and what
/// the liner's own offset may turn them by.
const ARC_DEG: f64 = 20.0;
/// Sizes this near are one, mm.
const SAME_MM: f64 = 1e-6;

/// A pass that stops.
pub(super) struct Stopped<'a> {
    pub(super) job: &'a Job,
    pub(super) positions: &'a Positions,
    pub(super) pass: &'a Pass,
    /// The bank's deck above the journal axis once it is cut, mm.
    pub(super) deck_mm: f64,
    /// X and Y as listed, mm.
    pub(super) told: Option<[f64; 2]>,
}

impl Stopped<'_> {
    fn sleeve(&self) -> &Sleeve {
        &self.job.sleeves[self.positions.sleeve]
    }

    /// What it is for, and its readings.
    pub(super) fn asked(&self) -> (What, Vec<Asked>) {
        let (what, readings) = match self.pass.stage {
            Stage::Rough => self.rough(),
            Stage::Pocket => self.pocket(),
            Stage::Fit => self.fit(),
            Stage::Deck if self.pass.feature == SLEEVES_FLUSH => (What::Protrusion, flush()),
            Stage::Deck => (What::Deck, self.deck()),
            Stage::Finish => self.finish(),
            Stage::Hone => self.hone(),
        };
        (what, numbered(readings))
    }

    fn rough(&self) -> (What, Vec<Asked>) {
        let pass = self.pass;
        if let Some(touch) = pass.touch {
            let sides = [(touch.deepest, touch.clock), (touch.least, touch.clock + 180.0)];
            let cut = |(deep, clock): (f64, f64)| {
                Asked::within(Of::Cut, deep, TOUCH_MM).at(None, Some(clock.rem_euclid(360.0)))
            };
            return (What::Position, sides.map(cut).into());
        }
        match pass.shell.filter(|s| s.least <= 0.0 && s.arc < 360.0) {
            Some(shell) => {
                let arc = Asked::within(Of::Arc, shell.arc, 2.0 * ARC_DEG);
                let clock = Asked::within(Of::Clock, shell.thickest_at, ARC_DEG);
                (What::Witness, vec![arc, clock])
            }
            None => (What::Look, vec![Asked::look()]),
        }
    }

    fn pocket(&self) -> (What, Vec<Asked>) {
        let pass = self.pass;
        if self.is_ledge() {
            let within = self.job.allowances.ledge_depth_mm;
            let at = |clock| Asked::within(Of::Depth, pass.to, within).at(None, Some(clock));
            return (What::Ledge, ROUND_DEG.map(at).into());
        }
        let window = window_mm(self.job, self.sleeve(), &pass.feature);
        let mut readings = match window {
            Some(within) => sizes(pass.diameter, within, &ends(pass.from, pass.to)),
            None => {
                let (middle, within) = (
                    decimals(f64::midpoint(pass.from, pass.to), 1),
                    wet_window_mm(self.job, self.sleeve(), &pass.feature),
                );
                let asked =
                    |way| Asked::within(Of::Diameter, pass.diameter, within).at(Some(middle), Some(way));
                WAYS_DEG.map(asked).into()
            }
        };
        if pass.flat_end {
            // The step that a plain sleeve stands on.
            let within = self.job.allowances.ledge_depth_mm;
            let at = |clock| Asked::within(Of::Depth, pass.to, within).at(None, Some(clock));
            readings.extend(ROUND_DEG.map(at));
        }
        readings.extend(self.set());
        readings.extend(self.place());
        (What::Size, readings)
    }

    /// Whether the pass ends on the flange's ledge.
    fn is_ledge(&self) -> bool {
        let steps = &self.positions.pocket.steps;
        self.pass.from <= 0.0 && steps.iter().all(|s| s.depths.to_mm > self.pass.to)
    }

    /// What the head was set to, where a head is set.
    fn set(&self) -> Option<Asked> {
        let set = Asked::new(Of::Set, Some(self.pass.diameter), [None, None]).optional();
        self.pass.mill.is_none().then_some(set)
    }

    /// Where the bore stands, as the scales read it; the work does not wait for it.
    fn place(&self) -> Vec<Asked> {
        /// Standard uncertainties to either side.
        const FACTOR: f64 = 2.0;
        let Some([x, y]) = self.told else { return Vec::new() };
        let i = &self.job.instruments;
        let within = FACTOR * i.machine_mm.hypot(i.centre_mm);
        [(Of::X, x), (Of::Y, y)].map(|(of, at)| Asked::within(of, at, within).optional()).into()
    }

    fn fit(&self) -> (What, Vec<Asked>) {
        if self.pass.feature == "edges" {
            return (What::Look, vec![Asked::look()]);
        }
        let sleeve = self.sleeve();
        let deck = self.job.engine.deck;
        let waits = if deck.after_fit { deck.cut_mm } else { 0.0 };
        let [least, most] = match sleeve.stands {
            Stands::Flange(flange) => [flange.protrusion_min_mm, flange.protrusion_max_mm],
            Stands::Foot(foot) => [foot.proud_mm - ALIKE_MM, foot.proud_mm + ALIKE_MM],
        }
        .map(|p| p - waits);
        // On a ledge that is cut the flange stands where the two figures say.
        let cut = self.job.cut.get(&self.pass.cylinder);
        let own = cut.and_then(|c| c.sleeve.as_deref());
        let measured = own.and_then(|n| self.job.measured.iter().find(|m| m.number == n));
        let thick = measured
            .and_then(|m| m.flange.map(|f| f.mean_mm))
            .or_else(|| sleeve.flange().map(|flange| flange.thickness_mm));
        let ledge = cut.and_then(|c| c.ledge_mm);
        let expected = ledge
            .zip(thick)
            .map_or(f64::midpoint(least, most), |(ledge, thick)| thick - ledge + deck.cut_mm - waits);
        let at =
            |clock| Asked::new(Of::Height, Some(expected), [Some(least), Some(most)]).at(None, Some(clock));
        (What::Protrusion, ROUND_DEG.map(at).into())
    }

    fn deck(&self) -> Vec<Asked> {
        let corner = |_: usize| Asked::within(Of::Height, self.deck_mm, LEVEL_MM);
        let flatness = Asked::new(Of::Flatness, Some(0.0), [Some(0.0), Some(FLAT_MM)]);
        (0..4).map(corner).chain([flatness]).collect()
    }

    fn finish(&self) -> (What, Vec<Asked>) {
        let finish = &self.job.finish;
        // Earlier passes of several are on the way to the size.
        if (self.pass.diameter - (finish.bore_mm - finish.hone_stock_mm)).abs() > SAME_MM {
            return (What::Look, vec![Asked::look()]);
        }
        let depths = ends(0.0, self.sleeve().length_mm);
        let mut readings = sizes(self.pass.diameter, FINISH_SIZE_MM, &depths);
        readings.extend(self.set());
        // Without a hone this is the last cut of the bore.
        if finish.hone_stock_mm <= 0.0 && finish.roughness_um.is_some() {
            readings.push(self.roughness());
        }
        (What::Size, readings)
    }

    /// Mean roughness of the finished bore; the work waits for it where the job asks one.
    fn roughness(&self) -> Asked {
        match self.job.finish.roughness_um {
            Some([least, most]) => {
                let least = Some(least).filter(|um| *um > 0.0);
                Asked::new(Of::Roughness, None, [least, Some(most)])
            }
            None => Asked::new(Of::Roughness, None, [None, None]).optional(),
        }
    }

    fn hone(&self) -> (What, Vec<Asked>) {
        let finish = &self.job.finish;
        match self.pass.feature.as_str() {
            "hone plateau" => (What::Look, vec![Asked::look(), self.roughness()]),
            "hone" => {
                let tolerance = finish.tolerance_mm;
                let all = gauge_depths_mm(self.sleeve().length_mm).into_iter().flat_map(|depth| {
                    GAUGED_DEG.map(|clock| {
                        Asked::within(Of::Diameter, self.pass.diameter, tolerance)
                            .at(Some(depth), Some(clock))
                    })
                });
                (What::Bore, all.collect())
            }
            // Stones that leave something may leave less or more of it, as long as the next have something to take.
            _ => {
                let size = Asked::new(Of::Diameter, Some(self.pass.diameter), [None, Some(finish.bore_mm)]);
                let middle = decimals(self.sleeve().length_mm / 2.0, 1);
                (What::Size, vec![size.at(Some(middle), None)])
            }
        }
    }
}

/// A plain sleeve cut flush: against the deck, none below it.
fn flush() -> Vec<Asked> {
    let at = |clock| Asked::new(Of::Height, Some(0.0), [Some(0.0), Some(LEVEL_MM)]).at(None, Some(clock));
    ROUND_DEG.map(at).into()
}

/// Top, middle and bottom of a length, mm.
fn ends(from_mm: f64, to_mm: f64) -> [f64; 3] {
    let inside = FROM_END_MM.min((to_mm - from_mm) / 4.0);
    [from_mm + inside, f64::midpoint(from_mm, to_mm), to_mm - inside].map(|d| decimals(d, 1))
}

/// A size at depths, two ways each.
fn sizes(diameter_mm: f64, within_mm: f64, depths_mm: &[f64]) -> Vec<Asked> {
    let at = |depth: &f64| {
        WAYS_DEG.map(|way| Asked::within(Of::Diameter, diameter_mm, within_mm).at(Some(*depth), Some(way)))
    };
    depths_mm.iter().flat_map(at).collect()
}
