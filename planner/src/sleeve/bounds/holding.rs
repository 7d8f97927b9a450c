//! What holds a plain sleeve along its bore.

use super::{Missed, holds};
use crate::job::Job;
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::celsius;
use crate::say;
use crate::sleeve::judge::SAME;

/// The hold of a plain sleeve whose friction at work is less than gas on its end and the pull of heat together.
pub(super) fn limits(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let held = fit.holding?;
    let against = held.thermal_pull + held.gas_load.unwrap_or(0.0);
    let text = match held.at_work {
        None => "the force that holds the sleeve is not known: no wall was read round it".into(),
        Some(force) if force < against - SAME => say!(
            "friction ({:.2}) holds the sleeve with {:.1} kN at work at its least interference; gas on its end ({:.1} kN) and \
             the pull of heat ({:.1} kN) come to {:.1} kN: it may creep on its step",
            held.friction,
            force / 1000.0,
            held.gas_load.unwrap_or(0.0) / 1000.0,
            held.thermal_pull / 1000.0,
            against / 1000.0
        ),
        Some(_) => return None,
    };
    let feature = say!("at work, block {}, N", celsius(job.engine.running.block_c, 0));
    Some(holds("sleeve_holding", feature, Missed::plain(held.at_work, against), text))
}
