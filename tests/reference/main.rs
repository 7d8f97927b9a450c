//! Checks against figures from outside the project, each with its source beside it.

// A test that cannot read its figures has failed, in its helpers too.
#![allow(clippy::unwrap_used, clippy::panic, unreachable_pub)]

#[path = "../common/near.rs"]
mod near;

mod circles;
mod decisions;
mod lines;
mod locating;
mod nist;
mod press_fits;
mod recorded;
mod stock;
mod zones;
