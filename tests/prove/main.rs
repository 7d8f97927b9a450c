//! Coordinate lists read back, held against their plan, and spoiled in every way that was thought of.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, unreachable_pub, dead_code)]

#[path = "../common/mod.rs"]
mod common;

mod altered;
mod command;
mod every;
mod faults;
mod inches;
mod kept;
mod limits;
mod milled;
mod mutations;
mod names;
mod outside;
mod planned;
mod sample;
mod verified;
mod words;
