//! The archive from outside: jobs filed, given back and held against themselves.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, unreachable_pub, dead_code)]

#[path = "../common/mod.rs"]
mod common;

mod bucket;
mod filing;
mod finding;
mod keeping;
mod later;
mod learning;
mod narrow;
mod outside;
mod place;
mod prior;
#[cfg(feature = "s3")]
mod proxy;
mod starting;
mod trials;
