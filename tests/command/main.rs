//! The command as somebody at a prompt meets it.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, unreachable_pub, dead_code)]

#[path = "../common/mod.rs"]
mod common;

mod all_faults;
mod asking;
mod changes;
mod invalid;
mod lists;
mod narrow;
mod new;
mod place;
mod schema;
mod statuses;
mod survey;
mod told;
