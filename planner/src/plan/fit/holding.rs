//! The forces that hold a plain sleeve along its bore.

use serde::Serialize;

/// Forces along a sleeve that stands on a step, N.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Holding {
    /// Coefficient of friction that is counted on, of 1.
    pub friction: f64,
    /// Friction at the least interference, bore finished, at 20 °C, N; `None` where no wall is known.
    pub cold: Option<f64>,
    /// Friction at the least interference, bore finished, at the temperatures at work, N; `None` where no wall is
    /// known.
    pub at_work: Option<f64>,
    /// Gas on the sleeve's end inside the fire ring at peak pressure, N; `None` where the job gives no pressure.
    pub gas_load: Option<f64>,
    /// What it takes to keep the sleeve as long as the block round it at work, N: E A times the difference of their
    /// strains.
    pub thermal_pull: f64,
    /// Friction at work less gas load and thermal pull, N.
    pub left: Option<f64>,
}
