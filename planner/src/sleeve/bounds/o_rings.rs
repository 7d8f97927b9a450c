//! O-rings that leak, age, are cut or burst their groove. Each is a hold.

use super::{Missed, holds};
use crate::plan::fit::{ORingFit, SleeveLimit};
use crate::plan::sentence::mm;
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

/// Squeeze outside which an O-ring leaks or is cut, shares. Common practice of static radial glands, no source.
pub const SQUEEZE_ENDS: [f64; 2] = [0.08, 0.35];
/// Stretch over which an O-ring ages and creeps, a share. Common practice, no source.
pub const STRETCH_MOST: f64 = 0.08;
/// Fill of a hot gland over which rubber has nowhere to go, a share. Common practice, no source.
pub const HOT_FILL_MOST: f64 = 0.95;

/// An O-ring at the ends of its tolerances.
pub(super) fn limits(ring: &ORingFit) -> Vec<SleeveLimit> {
    let place = say!("at {} in {}", mm(ring.depth, 1), ring.feature);
    let told = say!("O-ring at {} in {}", mm(ring.depth, 1), plain(&ring.feature, 40));
    let mut limits = Vec::new();
    let loosest = ring.least.squeeze.min(ring.aside[0]);
    let tightest = ring.most.squeeze.max(ring.aside[1]);
    let [least, most] = SQUEEZE_ENDS;
    if loosest < least - SAME {
        let text = say!(
            "{}: squeezed {:.1} % at the least, under {:.0} %: it leaks",
            told,
            100.0 * loosest,
            100.0 * least
        );
        limits.push(holds("o_ring_squeeze", place.clone(), Missed::plain(loosest, least), text));
    }
    if tightest > most + SAME {
        let text = say!(
            "{}: squeezed {:.1} % at the most, over {:.0} %: it is cut going in",
            told,
            100.0 * tightest,
            100.0 * most
        );
        limits.push(holds("o_ring_squeeze", place.clone(), Missed::plain(tightest, most), text));
    }
    if ring.stretch > STRETCH_MOST + SAME {
        let text =
            say!("{}: stretched {:.1} %, over {:.0} %", told, 100.0 * ring.stretch, 100.0 * STRETCH_MOST);
        limits.push(holds("o_ring_stretch", place.clone(), Missed::plain(ring.stretch, STRETCH_MOST), text));
    }
    let fill = ring.hot_most.fill;
    if fill > HOT_FILL_MOST + SAME {
        let text = say!(
            "{}: hot it fills up to {:.0} % of its groove, over {:.0} %: rubber gives way to nothing, the sleeve does",
            told,
            100.0 * fill,
            100.0 * HOT_FILL_MOST
        );
        limits.push(holds("o_ring_fill", place, Missed::plain(fill, HOT_FILL_MOST), text));
    }
    limits
}
