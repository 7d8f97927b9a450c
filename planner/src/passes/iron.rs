//! What a cut leaves of the old liner, which shows by eye where it went.

use borewright_geometry::shell_left;

use super::{Bench, Cut, worked};
use crate::job::{Liner, Surface};
use crate::plan::Shell;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::worked::Figure;
use crate::say;

/// The factory liner, where any bore of the bank still has it.
pub(super) fn liner(bench: &Bench<'_>) -> Option<Liner> {
    let still = bench.cuts.iter().any(|cut| cut.found.now.surface != Surface::Parent);
    bench.job.block.parent.liner.clone().filter(|_| still)
}

/// What the cut leaves of the liner at the deck, where it can be seen; `None` once all is gone.
pub(super) fn shell(
    cut: &Cut<'_>,
    outside_radius_mm: f64,
    cut_radius_mm: f64,
) -> Option<(Shell, Vec<Figure>)> {
    let liner = cut.found.by_surface.get(&Surface::Liner)?.axis.at_deck_mm;
    let off = [0, 1].map(|k| liner[k] - cut.bore.planned_mm[k]);
    let apart = off[0].hypot(off[1]);
    let left = shell_left(outside_radius_mm, cut_radius_mm, apart);
    let shell = Shell {
        least: left.least_mm.max(0.0),
        most: left.most_mm,
        thickest_at: off[1].atan2(off[0]).to_degrees().rem_euclid(360.0),
        arc: left.arc_rad.to_degrees(),
    };
    let figures = || {
        let left = [shell.least, shell.most, shell.arc];
        worked::iron(left, [apart, cut_radius_mm, outside_radius_mm], liner)
    };
    (left.most_mm > 0.0).then(|| (shell, figures()))
}

/// The liner, cast or pressed where the old bore was bored off it, need not share that bore's centre: what
/// remains of it is the check of the plan's own assumption, by eye and for nothing.
pub(super) fn witness(shell: &Shell) -> Sentence {
    say!(
        "witness: iron should be left {} thick towards clock {:.0}, over {:.0} degrees of the circle, parent metal \
         opposite. Seen elsewhere STOP: sign, bank or bore is wrong, or the liner has another centre than its bore",
        mm(shell.most, 2),
        shell.thickest_at,
        shell.arc
    )
}
