//! The answer to a reading that is on the disk.

use borewright_output::{Answered, Onward, Where, answered_json, answered_page};
use borewright_planner::plan::Verdict;
use borewright_planner::plan::sentence::Sentence;
use borewright_planner::record::answer::{self, Answer, Say};
use borewright_planner::record::{Heard, Standing, WorkFinding, as_cut, noted, over};

use super::Bench;
use crate::args::Format;
use crate::commands::print;
use crate::status::{Failure, Status};

/// What an answer ends in, worse where what was read before holds its bore, its bank or the job.
pub(super) fn status_with(say: Say, held: &[WorkFinding]) -> Status {
    // What is only still to be read does not make a right reading wrong: a card is typed in as it comes.
    say.stands(held.iter().filter(|f| !f.is_to_be_read())).into()
}

/// The answer to a reading in a line, and to what its note tells of damage.
pub(super) fn answer_to(bench: &Bench<'_>, standing: &Standing, at: Where<'_>, line: usize) -> Answer {
    let answer = answer::answer(bench.job.as_ref(), &bench.paper, standing, at);
    let read = standing.readings.iter().find(|r| r.line == line);
    bench.by_plan(match read.and_then(noted::of_reading) {
        Some(why) => Answer {
            say: answer.say.max(Say::Hold),
            why: if answer.why.is_empty() { why } else { Sentence::join([answer.why, why], "; and ") },
            ..answer
        },
        None => match noted::unjudged(standing, line) {
            Some(question) => {
                let why = [answer.why, question].into_iter().filter(|why| !why.is_empty());
                Answer { why: Sentence::join(why, "; and "), ..answer }
            }
            None => answer,
        },
    })
}

/// What holds a bore and its bank, or anything of the job, as the record stands.
pub(super) fn held(
    bench: &Bench<'_>,
    standing: &Standing,
    (cylinder, bank): (Option<u32>, Option<&str>),
) -> Vec<WorkFinding> {
    let concerns = |f: &WorkFinding| match (cylinder, bank) {
        (Some(n), Some(bank)) => f.subject.concerns(n, bank),
        (None, Some(bank)) => f.subject.concerns_bank(bank),
        (Some(n), None) => f.subject.is_cylinder(n),
        // What is of no cylinder stands as the whole job does.
        (None, None) => true,
    };
    let mut held = as_cut::findings(bench.job.as_ref(), &bench.paper, standing);
    held.retain(|f| f.verdict > Verdict::Go && concerns(f));
    held
}

/// The same of what happened at a cylinder, or to all.
pub(super) fn held_at(bench: &Bench<'_>, standing: &Standing, cylinder: Option<u32>) -> Vec<WorkFinding> {
    let own = bench.checks().iter().find(|c| cylinder.is_some() && c.at(cylinder).is_some());
    held(bench, standing, (cylinder, own.map(|c| c.bank.as_str())))
}

/// Where the work stands after a reading: a bore that is held by another one does not go on because this one is right.
pub(super) fn onward(bench: &Bench<'_>, standing: &Standing, (check, cylinder, _): Where<'_>) -> Onward {
    let all = || standing.to_come(bench.checks());
    let here = all().filter(|(c, at, _)| c.check == check.check && *at == cylinder);
    Onward {
        held: held(bench, standing, (cylinder, Some(&check.bank))),
        next: all().next().map(|(next, at, _)| (next.check, at)),
        to_come: [here.count(), all().count()],
    }
}

/// What is still to be read and was told before this line is told shortly: of a card that is typed in out of order each line would say
/// it all again.
fn shorten(bench: &Bench<'_>, standing: &Standing, line: usize, onward: &mut Onward) {
    if !onward.held.iter().any(WorkFinding::is_to_be_read) {
        return;
    }
    let before = over::findings(&bench.paper, &standing.without(line));
    for finding in onward.held.iter_mut().filter(|f| f.is_to_be_read() && before.contains(f)) {
        if let Some(short) = over::shortly(&bench.paper, standing, finding) {
            *finding = short;
        }
    }
}

/// Prints the answer to the last reading of a place, and gives the status that it ends in.
pub(super) fn print_answer(
    bench: &Bench<'_>,
    standing: &Standing,
    at: Where<'_>,
    line: usize,
) -> Result<Status, Failure> {
    let (check, cylinder, asked) = at;
    let last = standing.of_check(check.check, cylinder).filter(|r| r.reading == asked.reading).last();
    let heard = last.map_or(Heard::None, |r| r.heard);
    let answer = answer_to(bench, standing, at, line);
    let mut onward = onward(bench, standing, at);
    shorten(bench, standing, line, &mut onward);
    let question = bench.paper.question(check.step);
    let answered = Answered { line, at, heard, question, answer: &answer, onward: &onward };
    match bench.args.printed.format {
        Format::Text => print(answered_page(&bench.terminal, &answered).as_bytes())?,
        Format::Json => print(&answered_json(&answered)?)?,
    }
    Ok(status_with(answer.say, &onward.held))
}
