//! The head of a list: where zero is, which way the axes run, what a hand can check, what is not in it.

use borewright_geometry::Point;
use borewright_geometry::clock::distance_mm;

use super::Tracer;
use crate::job::words;
use crate::plan::sentence::{Sentence, before_mm, signed_before_mm};
use crate::plan::{ByHand, Pass, Stage, Verdict, cylinder_words};
use crate::say;

/// A scale this near to 1 changes no thousandth of a mm over a metre.
const SAME_LENGTH: f64 = 1e-7;

impl Tracer<'_> {
    /// The lines of a list's head for these passes of one stage: zero, axes, temperatures, checks by hand, tools,
    /// and which cylinders of the bank are not in it.
    pub(super) fn header(&self, stage: Stage, passes: &[&Pass]) -> Vec<Sentence> {
        let layout = self.job.bank(self.bank);
        let cut_off = self.cut_off_mm(stage);
        let deck = if cut_off > 0.0 {
            say!("deck as cut, {} below the one that was read", before_mm(cut_off, 3))
        } else {
            "deck as it is".into()
        };
        let mut lines = vec![say!(
            "zero X Y: {} on the journal axis, bank {} up; zero Z: {}, Z up",
            self.job.block.journal_axis.along_datum,
            layout.name,
            deck
        )];
        match (&self.to_machine, self.set_up) {
            (Some(to_machine), Some(set_up)) => {
                let zero = to_machine.point(Point::new(0.0, 0.0, 0.0));
                let height = self.deck_height_mm() - cut_off;
                let deck = to_machine.point(Point::new(0.0, 0.0, height));
                lines.push(say!(
                    "zero stands in the machine at X {} Y {} Z {} in set-up {}",
                    signed_before_mm(zero.x_mm() * self.job.at_cutting(), 3),
                    signed_before_mm(zero.y_mm() * self.job.at_cutting(), 3),
                    signed_before_mm(deck.z_mm() * self.job.at_cutting(), 3),
                    set_up.name
                ));
            }
            _ => lines.push("zero is picked up from the journal axis in this set-up".into()),
        }
        if let Some(t) = self.job.temperature.filter(|_| (self.job.at_cutting() - 1.0).abs() > SAME_LENGTH) {
            let said = format!(
                "lengths for a block at {:.1} C and the machine at {:.1} C: {:+.0} ppm on the plan's 20 C",
                t.cutting.block_c,
                t.cutting.machine_c,
                (self.job.at_cutting() - 1.0) * 1e6
            );
            lines.push(said.into());
        }
        let across = self.listed([0.0, 1.0])[1] > self.listed([0.0, 0.0])[1];
        let along = self.listed([1.0, 0.0])[0] > self.listed([0.0, 0.0])[0];
        let front = if along { "left" } else { "right" };
        let along = words::along_word(along);
        let across = words::across_word(&self.job.block, self.bank, across);
        lines.push(say!("front of the block at the operator's {}: +X is {}, +Y is {}", front, along, across));
        let sites = &layout.sites;
        if let [first, .., last] = sites.as_slice() {
            let step = self.listed([last.x_mm, 0.0])[0] - self.listed([first.x_mm, 0.0])[0];
            lines.push(say!(
                "jog test: cylinder {} to cylinder {}, X reads about {}",
                first.cylinder,
                last.cylinder,
                signed_before_mm(step, 1)
            ));
        }
        lines.extend(self.by_hand().iter().map(ByHand::line));
        let mut tools: Vec<&str> = Vec::new();
        for tool in passes.iter().filter_map(|p| p.tool.as_deref()) {
            if !tools.contains(&tool) {
                tools.push(tool);
            }
        }
        let withheld: Vec<String> = self
            .positions
            .bores
            .iter()
            .filter(|b| b.bank == self.bank && !passes.iter().any(|p| p.cylinder == b.site.cylinder))
            // With a list for each cylinder the others are missing as a matter of course; only those not at go are
            // named.
            .filter(|b| !self.job.list_per_cylinder || b.verdict != Verdict::Go)
            .map(|b| format!("{} ({})", b.site.cylinder, b.verdict.word()))
            .collect();
        if !withheld.is_empty() {
            lines.push(say!("NOT IN THIS LIST: {}", cylinder_words(&withheld)));
        }
        lines.push(say!("tools in order: {}", tools.join(", ")));
        lines.push(say!("rapids stay {} above the deck", before_mm(self.clear_mm(stage), 1)));
        lines.push(say!(
            "the first move goes to Z {}: bring the tool no higher by hand; every stop is taken there, spindle still",
            before_mm(self.stop_mm(stage, passes), 1)
        ));
        if stage == Stage::Finish {
            lines.push(match self.job.finish.plate_mm {
                Some(plate) => say!("torque plate of {} on the deck is cleared", before_mm(plate, 1)),
                None => "NO PLATE THICKNESS IN THE JOB: for a bare deck only; with a plate on, rapids would hit it".into(),
            });
        }
        lines
    }

    /// What a rule and a gauge must find on the block itself. Neither depends on the frame just read, so a datum
    /// picked up on another face or a spacing in another unit shows.
    pub(super) fn by_hand(&self) -> Vec<ByHand> {
        let found = |site: &crate::job::Site| {
            let bore = &self.survey.cylinders.get(&site.cylinder)?.now;
            Some((site.cylinder, bore.axis.at_deck_mm, bore.radius_mm(0.0)))
        };
        let bores: Vec<_> = self.job.bank(self.bank).sites.iter().filter_map(found).collect();
        let mut lines = Vec::new();
        if let [(n, at, radius), ..] = bores.as_slice() {
            lines.push(ByHand::FrontWall { bore: *n, from_datum_mm: at[0] - radius });
        }
        if let [(n, at, radius), (other, to, wide), ..] = bores.as_slice() {
            let wide_mm = distance_mm(*to, *at) - radius - wide;
            lines.push(ByHand::Between { bores: [*n, *other], wide_mm });
        }
        lines
    }
}
