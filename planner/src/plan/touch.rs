//! How deep a cut is tried before it goes on: the schedule words it, the trace cuts it, the record answers with it.

/// Depth of the first touch that proves a place, and of the trial that proves a head's setting, mm: enough to see and
/// feel. Common practice, no source.
pub const TOUCH_DEPTH_MM: f64 = 10.0;

/// A cut no longer than this is not tried first, mm: the trial would be half of it or more.
pub const TRIED_BEYOND_MM: f64 = 2.0 * TOUCH_DEPTH_MM;
