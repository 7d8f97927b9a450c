//! The machine's room: whether its nose, its reach and its travel get to the work.

mod reach;
mod travel;

pub(crate) use reach::reach;
pub(crate) use travel::travel;
