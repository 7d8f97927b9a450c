//! The iron that a cut leaves of the old liner, which shows by eye where the cut went.

use borewright_geometry::clock::clock_deg;
use borewright_geometry::clock::distance_mm;
use borewright_geometry::shell_left;

use super::{Bench, Cut, worked};
use crate::job::{Liner, Surface};
use crate::plan::Shell;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::worked::Figure;
use crate::say;

/// Iron thinner than this comes off with a rag, mm: no arc of it is judged. Common practice, no source.
const SEEN_MM: f64 = 0.02;

/// A bare hole is smaller than the liner's outside by no more than a press fit and some rust, and no larger than another
/// liner's would be, mm. Common practice, no source.
pub(crate) const HOLE_MM: [f64; 2] = [0.5, 1.0];

/// Whether iron that a cut leaves breaks off somewhere round, and is thick enough to be judged.
pub(crate) fn shows(shell: &Shell) -> bool {
    shell.least <= 0.0 && shell.arc < 360.0 && shell.most >= SEEN_MM
}

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
    let apart = distance_mm(liner, cut.bore.planned_mm);
    let left = shell_left(outside_radius_mm, cut_radius_mm, apart);
    let shell = Shell {
        least: left.least_mm.max(0.0),
        most: left.most_mm,
        thickest_at: clock_deg(off),
        arc: left.arc_rad.to_degrees(),
    };
    let figures = || {
        let left = [shell.least, shell.most, shell.arc];
        worked::iron(left, [apart, cut_radius_mm, outside_radius_mm], liner)
    };
    (left.most_mm > 0.0).then(|| (shell, figures()))
}

/// What to look for in words: the liner need not share the old bore's centre, and where its iron is left shows
/// whether the plan was right to take it so.
pub(super) fn witness(shell: &Shell, radius_mm: f64) -> Sentence {
    // No protractor goes into a bore: a tape along its wall does.
    let along = |deg: f64| mm(deg.to_radians() * radius_mm, 0);
    say!(
        "witness: iron should be left {} thick towards clock {:.0}, over {} along the wall, which is {:.0} degrees of the circle \
         (90 degrees are {} there), parent metal opposite. Seen elsewhere STOP: zero, sign, bank or bore is wrong, or the liner has another centre than its bore",
        mm(shell.most, 2),
        shell.thickest_at,
        along(shell.arc),
        shell.arc,
        along(90.0)
    )
}
