//! Input that nobody types by mistake alone: bombs, garbage, devices, names made to do harm.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, unreachable_pub, dead_code)]

#[path = "../common/mod.rs"]
mod common;

mod mutations;
mod names;
mod tables;
mod yaml;
