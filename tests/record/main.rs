//! Readings and events written down by the command: nothing lost, nothing doubled, each told.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, unreachable_pub, dead_code)]

#[path = "../common/mod.rs"]
mod common;

mod again;
mod against;
mod anew;
mod answers;
mod begun;
mod bench;
mod beside;
mod boxes;
mod changed;
mod checks;
mod closed;
mod disk;
mod half;
mod head_set;
mod held;
mod inch;
mod inches;
mod judged;
mod lines;
mod missed;
mod page;
mod places;
mod prompt;
mod proven;
mod report;
mod shop;
mod stale;
mod stays;
