//! The commands, one file each.

mod check;
mod new;
mod plan;
mod prove;
mod schema;
mod survey;

use std::io::Write;

use clap::CommandFactory;

use crate::args::{Args, Command};
use crate::status::{Failure, Status};

/// Runs one command.
///
/// # Errors
/// Whatever keeps it from its work.
pub(crate) fn run(args: &Args) -> Result<Status, Failure> {
    match &args.command {
        Command::New { dir } => new::run(dir),
        Command::Plan { job, out, release, format } => {
            plan::run(job, out.as_deref(), release.as_ref(), *format)
        }
        Command::Check { job, format } => check::run(job, *format),
        Command::Survey { job, out, format } => survey::run(job, out.as_deref(), *format),
        Command::Prove { list, plan, format } => prove::run(list, plan, *format),
        Command::Schema { kind } => schema::run(*kind),
        Command::Completions { shell } => {
            let mut bytes = Vec::new();
            clap_complete::generate(*shell, &mut Args::command(), "borewright", &mut bytes);
            print(&bytes)?;
            Ok(Status::Go)
        }
    }
}

/// Writes to standard output.
fn print(bytes: &[u8]) -> Result<(), Failure> {
    let mut to = std::io::stdout().lock();
    to.write_all(bytes)?;
    to.flush()?;
    Ok(())
}
