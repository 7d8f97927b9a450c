//! Scenarios of the trade on an invented V8 with round figures, each with its sums as expected values, and
//! what must hold however a job is written down.
//!
//! A case that plants a slip must be held by its own code, and has honest work beside it that is let be. Which file it belongs in:
//!
//! | what it is about | file |
//! | --- | --- |
//! | helpers: a job on the invented V8; the sample with text replaced; a table of its readings; jobs at random | `bench`, `spoil`, `table`, `random_job` |
//! | **sums of the trade** | |
//! | where bores stand; walls; form and plate; the datum; rounds of one bore; the parent by arcs | `bores`, `walls`, `form`, `planted`, `sets`, `witness` |
//! | sleeves: fits, seats, strokes; plain ones; heat, O-rings, forces; what none may be | `seats`, `plain`, `figures`, `physics` |
//! | loads, tools; minutes; lists read back; stops of a list; sizes of a warm block | `cutting`, `times`, `readback`, `resume`, `warm_sizes` |
//! | u of a margin; every formula that is told; pictures; words of the survey | `uncertainty`, `explained`, `pictures`, `survey` |
//! | holds and releases; what is withheld; go only where it is proven | `holds`, `withheld`, `proven` |
//! | **one slip in a reading** | |
//! | a wrong kind of data: unit, sign, order, offset; in noisy jobs; in random jobs | `suspicions`, `wrong_data`, `random_slips` |
//! | nobody read it: copied, worked out, one figure for all, coarse | `copied_more`, `worked_out`, `unread`, `coarse` |
//! | left out; typed where nothing is judged | `left_out`, `beside_the_cut` |
//! | the datum, a zero, a bank off the machine; classic traps | `datums`, `machine_readings`, `traps` |
//! | denied by another reading; two off alike; a second reading of one | `untold`, `off_alike`, `two_alike`, `read_again` |
//! | **one slip in a description** | |
//! | a figure that nothing has; unlikely of readings, and of parts | `no_engine`, `unlikely`, `unlikely_parts` |
//! | two figures of a file deny each other, close; plainly; two files | `close_kinds`, `contradicted`, `two_files` |
//! | anything else of the sample spoiled | `spoiled_sample` |
//! | **let be** | |
//! | looks odd and is careful work; ways to measure | `honest`, `let_be` |
//! | **of any job** | |
//! | however it is written; a reading taken away; one cell changed; the power of each question | `invariants`, `removed`, `single_cell`, `power` |

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
