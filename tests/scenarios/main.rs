//! Scenarios of the trade on an invented V8 with round figures, each with its sums as expected values, and
//! what must hold however a job is written down.

#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used, unreachable_pub)]

mod bench;
mod beside_the_cut;
mod bores;
mod close_kinds;
mod coarse;
mod contradicted;
mod copied_more;
mod cutting;
mod datums;
mod explained;
mod figures;
mod form;
mod holds;
mod honest;
mod invariants;
mod left_out;
mod let_be;
mod machine_readings;
mod no_engine;
mod physics;
mod pictures;
mod plain;
mod planted;
mod power;
mod proven;
mod random_job;
mod random_slips;
mod read_again;
mod readback;
mod removed;
mod resume;
mod seats;
mod sets;
mod single_cell;
mod spoil;
mod spoiled_sample;
mod survey;
mod suspicions;
mod table;
mod times;
mod traps;
mod two_files;
mod uncertainty;
mod unlikely;
mod unlikely_parts;
mod unread;
mod untold;
mod walls;
mod warm_sizes;
mod withheld;
mod witness;
mod worked_out;
mod wrong_data;
