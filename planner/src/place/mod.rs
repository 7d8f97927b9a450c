//! The planned centres of the bores for one sleeve: what holds each there, what would free it, and the room left
//! around it.

mod findings;
mod free_zone;
mod judged;
mod positions;
mod reasons;
mod relief;
mod seated;

pub(crate) use findings::findings;
pub use free_zone::{Edge, FreeZone, MadeBy, Outline, free_zones};
pub(crate) use positions::solve;
pub use seated::{Positions, Seated};
