//! Words of a job as it left, alike on the terminal and on paper.

use borewright_planner::as_left::{Lay, Sizes, Unread};
use borewright_planner::plan::Verdict;
use borewright_planner::plan::check::Of;
use borewright_planner::read::fault::plain;

use crate::said::number::NotPrintable;
use crate::said::units::{Digits, Units};

/// How a job left.
pub(crate) fn in_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Go => "all as asked",
        Verdict::Hold => "open",
        Verdict::Stop => "not as asked",
    }
}

/// How places lie.
pub(crate) fn stamp(lies: Lay) -> &'static str {
    match lies {
        Lay::Within => "as asked",
        Lay::Open => "nothing asked",
        _ => "NOT AS ASKED",
    }
}

/// "asked 88.570, 88.564 to 88.576"; nothing where nobody said.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn asked(units: Units, s: &Sizes) -> Result<String, NotPrintable> {
    let figure = |v: f64| -> Result<String, NotPrintable> {
        Ok(match s.of {
            Of::Roughness => format!("{v:.2} µm"),
            _ => units.length(v, Digits::Fine)?.stacked().replace('\n', " "),
        })
    };
    let asked = s.asked.map(figure).transpose()?.map(|asked| format!("asked {asked}"));
    let window = match s.window {
        [Some(least), Some(most)] => Some(format!("{} to {}", figure(least)?, figure(most)?)),
        [Some(least), None] => Some(format!("at least {}", figure(least)?)),
        [None, Some(most)] => Some(format!("at most {}", figure(most)?)),
        [None, None] => None,
    };
    Ok(asked.into_iter().chain(window).collect::<Vec<_>>().join(", "))
}

/// What nobody measured, a line a check: its name, and its bores with how many of their readings are missing.
pub(crate) fn missing(unread: &[Unread]) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for own in unread.chunk_by(|a, b| a.check == b.check) {
        let Some(first) = own.first() else { continue };
        let head = format!(
            "CHECK {}, {}, {}, {}",
            first.check,
            first.stage.word(),
            plain(&first.feature, 30),
            first.what.words()
        );
        // Bores that lack alike are named together.
        let mut alike: Vec<(String, Vec<u32>)> = Vec::new();
        let mut of_bank = Vec::new();
        for u in own {
            match u.cylinder {
                Some(cylinder) => match alike.iter_mut().find(|(lack, _)| *lack == lacking(u)) {
                    Some((_, cylinders)) => cylinders.push(cylinder),
                    None => alike.push((lacking(u), vec![cylinder])),
                },
                None => of_bank.push(format!("{} of bank {}", lacking(u), plain(&u.bank, 20))),
            }
        }
        let said = alike.into_iter().map(|(lack, mut cylinders)| {
            cylinders.sort_unstable();
            let each = if cylinders.len() > 1 { "each of cylinders" } else { "of cylinder" };
            let names: Vec<String> = cylinders.iter().map(u32::to_string).collect();
            format!("{lack} {each} {}", names.join(", "))
        });
        lines.push((head, said.chain(of_bank).collect::<Vec<_>>().join("; ")));
    }
    lines
}

/// "all 6", "4 of 6", "2 of 4 (1 written down as no reading)".
fn lacking(u: &Unread) -> String {
    let many = if u.missing == u.asked {
        format!("all {}", u.asked)
    } else {
        format!("{} of {}", u.missing, u.asked)
    };
    match u.no_reading {
        0 => many,
        n => format!("{many} ({n} written down as no reading)"),
    }
}
