//! A line taken back.

use borewright_planner::read::fault::plain;
use borewright_planner::record::{Fields, Word, is_named};

use super::fields::about;
use super::{Bench, refused};
use crate::status::Failure;

/// A void, a crack or a block that was touched.
fn is_grave(fields: &Fields) -> bool {
    let word = Word::of(fields.get("reading"));
    matches!(word, Some(Word::Void | Word::Crack | Word::Moved))
}

/// Takes a line back; gives what to say.
pub(super) fn strike(bench: &Bench<'_>, line: usize, why: &str) -> Result<String, Failure> {
    if why.trim().is_empty() {
        return Err(refused("no reason".into(), "`--because` and why the line does not count"));
    }
    bench.file.add(|log| {
        let target = log.entries.iter().find(|e| e.line == line);
        let target =
            target.ok_or_else(|| refused(format!("line {line}"), "a line of the record that counts"))?;
        if bench.standing(log).strikes.iter().any(|s| s.of == line) {
            return Err(refused(format!("line {line}, struck before"), "a line of the record that counts"));
        }
        let by = bench.args.by.as_deref().unwrap_or_default();
        if is_grave(&target.fields) && !is_named(by, why) {
            let found = format!("`{}` by `{}`", plain(why, 60), plain(by, 30));
            return Err(refused(
                found,
                "who strikes it (`--by`), and why (`--because`) in two words or more: it stopped or held the work",
            ));
        }
        let mut fields = about(bench)?;
        for (column, text) in [
            ("check", target.fields.get("check")),
            ("cylinder", target.fields.get("cylinder")),
            ("reading", Word::Strike.word()),
            ("value", &format!("line {line}")),
            ("note", why),
            ("of", target.fields.get("sum")),
        ] {
            fields.set(column, text);
        }
        Ok(Some(fields))
    })?;
    Ok(format!("line {line} is struck and stays readable: {}\n", plain(why, 200)))
}
