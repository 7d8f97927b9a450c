//! The readings that a stop asks for: each with its place, what is expected, and its window.

use super::worked::{self, Bound, Wide};
use crate::job::{Job, Sleeve, Stands};
use crate::passes::{
    ALIKE_MM, FINISH_SIZE_MM, FLAT_MM, GAUGED_DEG, HOLE_MM, LEVEL_MM, STONES_SHARE, Sets, gauge_depths_mm,
    iron_shows, next_takes_mm, wet_window, window,
};
use crate::place::Positions;
use crate::plan::check::{Asked, Of, WAYS_DEG, What, numbered};
use crate::plan::rounding::decimals;
use crate::plan::worked::Figure;
use crate::plan::{Pass, Stage, Stones};
use crate::trace::word;

/// Four points round a flange or a ledge, degrees.
const ROUND_DEG: [f64; 4] = [0.0, 90.0, 180.0, 270.0];
/// A size near an end is taken this far from it, mm; less in a short register. Common practice, no source.
const FROM_END_MM: f64 = 5.0;
/// How deep a first touch is may be read to this, either side, mm: by a scale or a depth gauge at an uneven step.
/// Common practice, no source.
const CUT_WINDOW_MM: f64 = 0.05;
/// Edges of an arc of iron are told to this by eye, degrees: 5 at either end (common practice, no source), and what
/// the liner's own offset may turn them by.
const ARC_DEG: f64 = 20.0;
/// Sizes this near are one, mm.
const SAME_MM: f64 = 1e-6;

impl From<Sets> for Wide {
    fn from(sets: Sets) -> Self {
        match sets {
            Sets::Step => Self::Step,
            Sets::Shop => Self::Register,
            Sets::Clearance => Self::Clearance,
            Sets::Usual => Self::Wet,
            Sets::Above => Self::Above,
        }
    }
}

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

    /// What the stop's check is for, and its readings.
    pub(super) fn asked(&self) -> (What, Vec<Asked>) {
        let (what, readings) = match self.pass.stage {
            Stage::Rough => self.rough(),
            Stage::Pocket => self.pocket(),
            Stage::Fit => self.fit(),
            Stage::Deck if self.pass.is_sleeves_flush() => (What::Protrusion, flush()),
            Stage::Deck => (What::Deck, self.deck()),
            Stage::Finish => self.finish(),
            Stage::Hone => self.hone(),
        };
        (what, numbered(readings))
    }

    fn rough(&self) -> (What, Vec<Asked>) {
        let pass = self.pass;
        if let Some(touch) = &pass.touch {
            let [least, most] = &touch.worked;
            let sides = [(touch.deepest, touch.clock, most), (touch.least, touch.clock + 180.0, least)];
            let cut = |(deep, clock, figure): (f64, f64, &Option<Figure>)| {
                let mut asked =
                    Asked::within(Of::Cut, deep, CUT_WINDOW_MM).at(None, Some(clock.rem_euclid(360.0)));
                if deep <= 0.0 {
                    // The tool turns in air there: a step that nobody can read has no lower end.
                    asked.least = None;
                }
                worked::within(worked::expected(asked, figure.clone()), Wide::Cut, CUT_WINDOW_MM)
            };
            return (What::Position, sides.map(cut).into());
        }
        match pass.shell.filter(iron_shows) {
            Some(shell) => {
                let arc = Asked::within(Of::Arc, shell.arc, 2.0 * ARC_DEG);
                let arc = worked::expected(arc, self.of_pass("arc"));
                let clock = Asked::within(Of::Clock, shell.thickest_at, ARC_DEG);
                let clock = worked::by_eye(clock, ARC_DEG);
                (What::Witness, vec![worked::by_eye(arc, 2.0 * ARC_DEG), clock])
            }
            None => (What::Look, [Asked::look()].into_iter().chain(self.bare()).collect()),
        }
    }

    /// Sizes of the hole that the old liner came out of, for the lead; the work does not wait for them.
    fn bare(&self) -> Vec<Asked> {
        let pass = self.pass;
        if pass.shell.is_some() || pass.diameter <= 0.0 {
            return Vec::new();
        }
        // A liner that comes out whole comes out before the cut: its hole is as wide as it was.
        let liner = self.job.block.parent.liner.as_ref().map(|liner| liner.outside_mm);
        let asked = Asked::new(Of::Parent, liner.or(Some(pass.diameter)), [None, None]).optional();
        let asked = match liner {
            Some(outside_mm) => worked::of_liner(asked, outside_mm),
            None => worked::expected(asked, self.of_pass("size")),
        };
        let length = self.job.block.parent.liner.as_ref().map(|liner| liner.length_mm);
        let at = |depth: f64| {
            let mut asked = asked.clone().at(Some(depth), None);
            // Below the liner's end there was none.
            if let Some(outside) = liner.filter(|_| length.is_some_and(|length| depth < length)) {
                let [smaller, larger] = HOLE_MM;
                (asked.least, asked.most) = (Some(outside - smaller), Some(outside + larger));
                asked = worked::of_hole(asked, HOLE_MM);
            }
            asked
        };
        ends(pass.from, pass.to).map(at).into()
    }

    fn pocket(&self) -> (What, Vec<Asked>) {
        let pass = self.pass;
        if self.is_ledge() {
            return (What::Ledge, self.floor());
        }
        let window = window(self.job, self.sleeve(), &pass.feature);
        let mut readings = match window {
            Some((within, sets)) => self.sizes(within, sets.into(), &ends(pass.from, pass.to)),
            None => {
                let middle = decimals(f64::midpoint(pass.from, pass.to), 1);
                let (within, sets) = wet_window(self.job, self.sleeve(), &pass.feature);
                self.sizes(within, sets.into(), &[middle])
            }
        };
        if pass.flat_end {
            // The step that a plain sleeve stands on.
            readings.extend(self.floor());
        }
        readings.extend(self.set());
        readings.extend(self.place());
        (What::Size, readings)
    }

    /// The depth that the pass ends at, at four points round.
    fn floor(&self) -> Vec<Asked> {
        let within = self.job.allowances.ledge_depth_mm;
        let at = |clock| {
            let asked = Asked::within(Of::Depth, self.pass.to, within).at(None, Some(clock));
            worked::within(worked::expected(asked, self.of_pass("depth")), Wide::Ledge, within)
        };
        ROUND_DEG.map(at).into()
    }

    /// A size at depths, two ways each.
    fn sizes(&self, within_mm: f64, wide: Wide, depths_mm: &[f64]) -> Vec<Asked> {
        let at = |depth: &f64| WAYS_DEG.map(|way| self.size(within_mm, wide).at(Some(*depth), Some(way)));
        depths_mm.iter().flat_map(at).collect()
    }

    /// The pass's size as a reading, within `within_mm` either side.
    fn size(&self, within_mm: f64, wide: Wide) -> Asked {
        let asked = Asked::within(Of::Diameter, self.pass.diameter, within_mm);
        worked::within(worked::expected(asked, self.of_pass("size")), wide, within_mm)
    }

    /// What a figure of the pass is worked from.
    fn of_pass(&self, about: &str) -> Option<Figure> {
        self.pass.worked.iter().find(|figure| figure.about == about).cloned()
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
        let own = [i.machine_mm, i.centre_mm];
        let within = FACTOR * i.machine_mm.hypot(i.centre_mm);
        let told = |(axis, (of, at)): (usize, (Of, f64))| {
            let asked = worked::expected(Asked::within(of, at, within).optional(), Some(word(axis, at)));
            worked::placed(asked, within, FACTOR, own)
        };
        [(Of::X, x), (Of::Y, y)].into_iter().enumerate().map(told).collect()
    }

    /// What is read once a sleeve is down: its height at four clocks round, and tightness where it is wet; of the
    /// stop at the edges only a look.
    fn fit(&self) -> (What, Vec<Asked>) {
        if self.pass.is_edges() {
            return (What::Look, vec![Asked::look()]);
        }
        let sleeve = self.sleeve();
        let deck = self.job.engine.deck;
        let waits = if deck.after_fit { deck.cut_mm } else { 0.0 };
        let asks = match sleeve.stands {
            Stands::Flange(flange) => [flange.protrusion_min_mm, flange.protrusion_max_mm],
            Stands::Foot(foot) => [foot.proud_mm - ALIKE_MM, foot.proud_mm + ALIKE_MM],
        };
        let [least, most] = asks.map(|p| p - waits);
        // On a ledge that is cut and measured the flange's height follows from its thickness and that depth.
        let cut = self.job.cut.get(&self.pass.cylinder);
        let own = cut.and_then(|c| c.sleeve.as_deref());
        let measured = own.and_then(|n| self.job.measured.iter().find(|m| m.number == n));
        let thick = measured
            .and_then(|m| m.flange.map(|f| f.mean_mm))
            .or_else(|| sleeve.flange().map(|flange| flange.thickness_mm));
        let ledge = cut.and_then(|c| c.ledge_mm);
        let expected = match ledge.zip(thick) {
            Some((ledge, thick)) => {
                let value = thick - ledge + deck.cut_mm - waits;
                worked::on_ledge([thick, ledge], [deck.cut_mm, waits], value)
            }
            None => worked::middle([least, most], f64::midpoint(least, most)),
        };
        let asked = Asked::new(Of::Height, Some(expected.value), [Some(least), Some(most)]);
        let asked = worked::expected(asked, Some(expected));
        let asked = match sleeve.stands {
            Stands::Flange(_) => worked::proud(asked, asks, waits),
            Stands::Foot(foot) => worked::on_step(asked, [foot.proud_mm, ALIKE_MM], waits),
        };
        let round = ROUND_DEG.map(|clock| asked.clone().at(None, Some(clock)));
        // The jacket is tested once all sleeves are in and cold: no height waits for it.
        let wet = sleeve.body.iter().any(|step| step.wet);
        let tight = wet.then(|| Asked::new(Of::Tight, None, [None, None]).optional());
        (What::Protrusion, round.into_iter().chain(tight).collect())
    }

    fn deck(&self) -> Vec<Asked> {
        let cut = self.job.engine.deck.cut_mm;
        let deck = worked::deck(self.deck_mm + cut, cut, self.deck_mm);
        let corner = worked::expected(Asked::within(Of::Height, self.deck_mm, LEVEL_MM), Some(deck));
        let corner = worked::within(corner, Wide::Level, LEVEL_MM);
        let flatness = Asked::new(Of::Flatness, Some(0.0), [Some(0.0), Some(FLAT_MM)]);
        let flatness = worked::most(flatness, Bound::Flat);
        (0..4).map(|_| corner.clone()).chain([flatness]).collect()
    }

    fn finish(&self) -> (What, Vec<Asked>) {
        let finish = &self.job.finish;
        // Earlier passes of several are on the way to the size.
        if (self.pass.diameter - (finish.bore_mm - finish.hone_stock_mm)).abs() > SAME_MM {
            return (What::Look, vec![Asked::look()]);
        }
        let depths = ends(0.0, self.sleeve().length_mm);
        let mut readings = self.sizes(FINISH_SIZE_MM, Wide::Finish, &depths);
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
                worked::most(Asked::new(Of::Roughness, None, [least, Some(most)]), Bound::Rough)
            }
            None => Asked::new(Of::Roughness, None, [None, None]).optional(),
        }
    }

    fn hone(&self) -> (What, Vec<Asked>) {
        let finish = &self.job.finish;
        match self.pass.stones() {
            // On the way: the plateau still takes a little.
            Some(Stones::Last) => {
                let middle = decimals(self.sleeve().length_mm / 2.0, 1);
                (What::Size, vec![self.size(finish.tolerance_mm, Wide::Bore).at(Some(middle), None)])
            }
            Some(Stones::Plateau) => {
                let tolerance = finish.tolerance_mm;
                let all = gauge_depths_mm(self.sleeve().length_mm).into_iter().flat_map(|depth| {
                    GAUGED_DEG.map(|clock| self.size(tolerance, Wide::Bore).at(Some(depth), Some(clock)))
                });
                let seen = [Asked::look(), self.roughness()];
                (What::Bore, all.chain(seen).chain(self.plate_off()).collect())
            }
            // Too little left and the next stones cannot take these ones' scratches out; too much and they glaze over it.
            Some(stones @ (Stones::Rough | Stones::Middle)) => {
                let within = next_takes_mm(finish.hone_stock_mm, stones) * STONES_SHARE;
                let middle = decimals(self.sleeve().length_mm / 2.0, 1);
                (What::Size, vec![self.size(within, Wide::Stones).at(Some(middle), None)])
            }
            None => (What::Look, vec![Asked::look()]),
        }
    }

    /// The finished bore once the plate is off, near the deck and in the middle, where a job has a plate.
    fn plate_off(&self) -> Vec<Asked> {
        let finish = &self.job.finish;
        if finish.plate_mm.is_none() {
            return Vec::new();
        }
        let depths = gauge_depths_mm(self.sleeve().length_mm);
        let asked = Asked::new(Of::Off, Some(finish.bore_mm), [None, None]).optional();
        let asked = worked::expected(asked, self.of_pass("size"));
        let at = |depth: f64| WAYS_DEG.map(|way| asked.clone().at(Some(depth), Some(way)));
        let middle = depths.get(depths.len() / 2);
        depths.first().into_iter().chain(middle).flat_map(|depth| at(*depth)).collect()
    }
}

/// A plain sleeve cut flush: against the deck, none below it.
fn flush() -> Vec<Asked> {
    let asked = Asked::new(Of::Height, Some(0.0), [Some(0.0), Some(LEVEL_MM)]);
    let asked = worked::most(asked, Bound::Flush);
    ROUND_DEG.map(|clock| asked.clone().at(None, Some(clock))).into()
}

/// Top, middle and bottom of a length, mm.
fn ends(from_mm: f64, to_mm: f64) -> [f64; 3] {
    let inside = FROM_END_MM.min((to_mm - from_mm) / 4.0);
    [from_mm + inside, f64::midpoint(from_mm, to_mm), to_mm - inside].map(|d| decimals(d, 1))
}
