//! The commands, one file each.

mod ahead;
mod audit;
mod check;
mod explain;
mod file;
pub(crate) mod find;
mod index;
mod job_at;
mod known;
mod last_line;
mod new;
mod of_job;
mod open;
pub(crate) mod plan;
mod prior;
mod prove;
mod record;
mod renamed;
pub(crate) mod report;
mod schema;
mod shop;
mod survey;
mod trend;
mod verify;

use std::io::Write;

use clap::CommandFactory;

use crate::args::{Args, Command};
use crate::place::Place;
use crate::status::{Failure, Status};

/// Runs one command.
///
/// # Errors
/// Whatever keeps it from its work.
pub(crate) fn run(args: &Args) -> Result<Status, Failure> {
    let job = match &args.command {
        Command::Plan(asked) => Some(&asked.job),
        Command::Check(asked) => Some(&asked.job),
        Command::Explain(asked) => Some(&asked.job),
        Command::Survey { job, .. } | Command::Report { job, .. } => Some(job),
        Command::Record(args) => Some(&args.job),
        _ => None,
    };
    job.map_or(Ok(()), |job| job_at::is_job(&job.path))?;
    match &args.command {
        Command::New(asked) => new::run(asked),
        Command::Plan(asked) => plan::run(asked),
        Command::Check(asked) => check::run(asked),
        Command::Explain(asked) => explain::run(asked),
        Command::Survey { job, out, telling, printed } => {
            survey::run(&job.path, out.as_deref(), *telling, printed.format)
        }
        Command::Prove { list, plan, printed } => prove::run(list, plan, printed.format),
        Command::Verify { dir, printed } => verify::run(dir, printed.format),
        Command::File(asked) => file::run(asked, &Place::named(asked.archive.place.as_deref())?),
        Command::Find(asked) => find::run(asked, &Place::named(asked.archive.place.as_deref())?),
        Command::Open(asked) => open::run(asked, &Place::named(asked.archive.place.as_deref())?),
        Command::Trend(asked) => trend::run(asked, &Place::named(asked.archive.place.as_deref())?),
        Command::Audit(asked) => audit::run(asked, &Place::named(asked.archive.place.as_deref())?),
        Command::Record(args) => record::run(args),
        Command::Report { job, plan, out, printed } => {
            report::run(&job.path, plan.as_deref(), out.as_deref(), printed.format)
        }
        Command::Shop { jobs, archive, cache, printed } => {
            shop::run(jobs, (archive.as_deref(), cache.folder.as_deref()), printed.format)
        }
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
