//! The planned centres of the bores for one sleeve: what holds each there, what would free it, and the room left
//! around it.

mod explain;
mod free_zone;
mod judged;
mod positions;
mod relief;
mod seated;

pub(crate) use explain::explain;
pub use free_zone::{Edge, FreeZone, MadeBy, Outline, free_zones};
pub(crate) use positions::solve;
pub use seated::{Positions, Seated};
