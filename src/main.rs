//! `borewright`: plans the re-sleeving of an engine block from a job folder.
//!
//! Arguments in, files and an exit status out; the trade lives in the planner crate.

mod args;
mod cache;
mod commands;
mod filing;
mod folder;
mod new_job;
mod place;
mod status;
mod terminal;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    let args = match args::Args::try_parse_from(args::spoken(std::env::args_os())) {
        Ok(args) => args,
        Err(error) => return status::usage(&error),
    };
    match commands::run(&args) {
        Ok(status) => status.into(),
        Err(failure) => {
            status::report(&failure);
            failure.status().into()
        }
    }
}
