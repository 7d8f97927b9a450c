//! A filled card typed in at once.

use std::io::Read as _;
use std::path::{Path, PathBuf};

use borewright_output::{Answered, Onward, answered_page, page_json, place_words, unheard_words};
use borewright_planner::read::source::Source;
use borewright_planner::record::answer::{self, Say};
use borewright_planner::record::{Filled, Standing, Unheard, page};

use super::answered::{answer_to, onward, status_with};
use super::fields::reading_fields;
use super::pin::pin;
use super::prompt::worse;
use super::{Bench, check_of, refused};
use crate::args::Format;
use crate::commands::print;
use crate::status::{Failure, Status};

/// Largest page that is read, bytes: a card has some hundred boxes.
const MOST_BYTES: u64 = 64 * 1024;

/// Records the boxes of a filled card in one write, all or none, and prints how each stands.
pub(super) fn run<'b>(bench: &'b Bench<'_>, number: u32, file: &Path) -> Result<Status, Failure> {
    let check = check_of(bench, number)?;
    let source = source(file)?;
    let told = |unheard: &Unheard| unheard_words(&bench.terminal, unheard);
    let read = |standing: &Standing| -> Result<Vec<Filled<'b>>, Failure> {
        Ok(page(&source, check, (standing, bench.hearing), &told)?)
    };
    let before = bench.file.read()?;
    let filled = read(&bench.standing(&before))?;
    // Read once more with the record held: somebody may have written into it meanwhile.
    let added = bench.file.add_all(|log| {
        let fields = |f: &Filled<'_>| {
            reading_fields(bench, (check, f.cylinder, f.asked), (&f.typed, f.heard, f.hearing))
        };
        read(&bench.standing(log))?.iter().map(fields).collect()
    })?;
    let mut log = added.unwrap_or_default();
    let own = log.entries.len().saturating_sub(filled.len());
    let lines: Vec<usize> = log.entries.iter().skip(own).map(|e| e.line).collect();
    for at in &check.cylinders {
        if filled.iter().any(|f| f.cylinder == at.cylinder) {
            log = pin(bench, log, check, at.cylinder)?;
        }
    }
    let standing = bench.standing(&log);
    let answers: Vec<answer::Answer> = filled
        .iter()
        .zip(&lines)
        .map(|(f, line)| answer_to(bench, &standing, (check, f.cylinder, f.asked), *line))
        .collect();
    let onwards: Vec<Onward> =
        filled.iter().map(|f| onward(bench, &standing, (check, f.cylinder, f.asked))).collect();
    let answered: Vec<Answered<'_>> = filled
        .iter()
        .zip(answers.iter().zip(&onwards))
        .zip(&lines)
        .map(|((f, (answer, onward)), line)| {
            let at = (check, f.cylinder, f.asked);
            let question = bench.paper.question(check.step);
            Answered { line: *line, at, heard: f.heard, question, answer, onward }
        })
        .collect();
    match bench.args.printed.format {
        Format::Json => print(&page_json(&answered)?)?,
        Format::Text => {
            bench.remark(&standing, &log);
            for at in &check.cylinders {
                // Of a bore what is worst, and of several the last: the head stands there.
                let own = answered.iter().filter(|a| a.at.1 == at.cylinder);
                if let Some(a) = own.max_by_key(|a| a.answer.say).filter(|a| says(a)) {
                    print(answered_page(&bench.terminal, a).as_bytes())?;
                }
            }
            let from_to = lines.first().zip(lines.last()).map(|(a, b)| format!(", lines {a} to {b}"));
            let next = onwards.first().and_then(|o| o.next);
            let next = next.map(|(check, at)| format!("; next CHECK {check}, {}", place_words(at)));
            let text = format!(
                "{} readings of CHECK {number} written down{}{}\n",
                lines.len(),
                from_to.unwrap_or_default(),
                next.unwrap_or_default()
            );
            print(text.as_bytes())?;
        }
    }
    let ends = answered.iter().map(|a| status_with(a.answer.say, &a.onward.held));
    Ok(ends.fold(Status::Go, worse))
}

/// Whether there is more to say than to go on.
fn says(answered: &Answered<'_>) -> bool {
    let answer = answered.answer;
    answer.say > Say::GoOn
        || !answer.why.is_empty()
        || answer.head.is_some()
        || !answered.onward.held.is_empty()
}

/// The page's text; `-` is standard input.
fn source(file: &Path) -> Result<Source, Failure> {
    if file != Path::new("-") {
        let name = file.display().to_string();
        return Source::read(&name, file, MOST_BYTES)
            .map_err(|fault| borewright_planner::read::fault::Faults(vec![*fault]).into());
    }
    let mut bytes = Vec::new();
    std::io::stdin().lock().take(MOST_BYTES + 1).read_to_end(&mut bytes)?;
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > MOST_BYTES {
        return Err(refused("a page of more than 64 KiB".into(), "the boxes of one check"));
    }
    let text = String::from_utf8(bytes)
        .map_err(|_| refused("bytes that are not UTF-8".into(), "the boxes of one check as text"))?;
    Ok(Source { name: "standard input".into(), path: PathBuf::from("-"), text, sha256: String::new() })
}
