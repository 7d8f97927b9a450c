//! Checks the temperatures of a job: block and machine at measuring, and at cutting where that is another day.

use super::checker::Checker;
use crate::files::{CuttingFile, TemperatureFile};
use crate::job::{Temperature, Warmth};
use crate::read::quantity as q;

/// What a job says of temperatures, `Some(None)` where it says nothing; or `None` with its faults told.
pub(super) fn check(c: &mut Checker<'_>, file: Option<&TemperatureFile>) -> Option<Option<Temperature>> {
    let Some(t) = file else { return Some(None) };
    let block = c.celsius("temperature.block", &t.block);
    let machine = c.celsius("temperature.machine", &t.machine);
    let u_k = t.u.as_ref().and_then(|u| c.number("temperature.u", u, q::KELVIN));
    let measuring = block.zip(machine).map(|(block_c, machine_c)| Warmth { block_c, machine_c });
    let cutting = match &t.cutting {
        None => measuring,
        Some(cutting) => at_cutting(c, cutting),
    };
    let cutting_stated = t.cutting.is_some();
    let both = measuring.zip(cutting);
    both.map(|(measuring, cutting)| Some(Temperature { measuring, cutting, u_k, cutting_stated }))
}

fn at_cutting(c: &mut Checker<'_>, file: &CuttingFile) -> Option<Warmth> {
    let block = c.celsius("temperature.cutting.block", &file.block);
    let machine = c.celsius("temperature.cutting.machine", &file.machine);
    block.zip(machine).map(|(block_c, machine_c)| Warmth { block_c, machine_c })
}
