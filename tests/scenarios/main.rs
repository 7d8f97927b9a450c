//! Scenarios of the trade on an invented V8 with round figures, each with its sums as expected values, and
//! what must hold however a job is written down.
//!
//! A case that plants a slip must be held by its own code, and has honest work beside it that is let be. Which file it belongs in:
//!
//! | of | files, and what belongs in each |
//! | --- | --- |
//! | helpers | `bench` a job on the invented V8; `spoil` the sample with text replaced; `table` a table of its readings; `random_job` |
//! | places | `bores` where they stand; `walls`; `form` of bores, plate and fixture; `planted` a known move asked back; `sets` rounds of one bore; `witness` the parent by arcs; `uncertainty` of a margin |
//! | sleeves | `seats` fits, seats, strokes, decks; `plain` dry on a step; `figures` heat, O-rings, forces; `physics` what none may be |
//! | cutting | `cutting` loads and tools; `times`; `readback` of lists; `resume` stops of a list; `warm_sizes` |
//! | told | `explained` formulas; `pictures`; `survey` its words; `holds` and releases; `withheld`; `proven` go only where it is |
//! | wrong data | `suspicions` each kind by its name; `wrong_data` the same in noisy jobs; `random_slips` in random jobs |
//! | not read | `copied_more` copied with an offset; `worked_out` from others; `unread` written in place of a reading; `coarse` one for all, too coarse; `left_out`; `beside_the_cut` typed where nothing is judged |
//! | datum | `stale` tables of another day or set-up, right by themselves; `datums` axis, zero or surface off; `machine_readings` typed otherwise off the machine; `traps` a tilted deck, an axis flipped |
//! | denied | `untold` by the sample's other readings; `off_alike`, `two_alike` two that hide each other; `read_again` a second reading of one |
//! | descriptions | `no_engine` what nothing has; `unlikely` of readings, `unlikely_parts` of parts; `contradicted` a file by itself, `close_kinds` the same by little; `two_files`; `spoiled_sample` anything else |
//! | let be | `honest` careful work that looks odd; `let_be` ways to measure |
//! | any job | `invariants` however it is written; `removed` a reading taken away; `single_cell` one changed; `power` of each question |

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
mod off_alike;
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
mod stale;
mod survey;
mod suspicions;
mod table;
mod times;
mod traps;
mod two_alike;
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
