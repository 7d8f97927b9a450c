//! Drawings, apart from any device: put together once in mm, then written as SVG and drawn onto a sheet alike.
//!
//! Black on white only. What a line or an area means is told by weight, dashes and hatching, and the scale
//! stands on every drawing.

mod axis;
mod budget;
mod deck;
pub(crate) mod dxf;
mod figure;
mod half_section;
mod hatch;
mod names;
mod onto;
mod picture;
mod polar;
mod scale;
mod svg;
mod zone;

pub(crate) use figure::Figure;
pub(crate) use half_section::HalfSection;
pub(crate) use onto::{draw, height_pt, width_pt};
pub(crate) use picture::{Picture, Pictures};
pub(crate) use svg::svg;
