//! Drawings, apart from any device: put together once in mm, then written as SVG and drawn onto a sheet alike.
//!
//! Black on white only. What a line or an area means is told by weight, dashes and hatching, and the scale
//! stands on every drawing.
//!
//! In: a job with its plan or its survey report. Out: a [`Figure`], as SVG or drawn onto a page; the decks as DXF.
//! A drawing is a file; `album.rs` lists those of a survey. A figure knows its [`Subject`], never the album.

mod album;
mod as_left;
mod axis;
mod budget;
mod deck;
pub(crate) mod dxf;
mod family;
mod figure;
mod half_section;
mod hatch;
mod names;
mod onto;
mod polar;
mod scale;
mod subject;
mod svg;
mod zone;

pub(crate) use album::{Picture, all, forms, strips};
pub(crate) use as_left::all as as_left;
pub(crate) use family::all as of_family;
pub(crate) use figure::{Figure, Filling, PT_PER_MM, Shape};
pub(crate) use half_section::HalfSection;
pub(crate) use onto::{draw, height_pt, place, width_pt};
pub(crate) use subject::Subject;
pub(crate) use svg::{escaped, svg, within};
pub(crate) use zone::small::{of_some as zones_of_some, zones};
