//! The head and the foot of a list: which list of which plan it says it is, and its sums.

use super::flaw::{At, Flaws};
use super::unit::Unit;
use super::words::{Block, Comment, Words};

/// The head, as far as a proof needs it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Head {
    /// Number and stage.
    pub(super) list: Option<(u32, String)>,
    /// The bank it names, and where.
    pub(super) bank: Option<(String, At)>,
    /// The units it names, and where.
    pub(super) units: Option<(String, At)>,
    /// The cylinders it names, and where.
    pub(super) cylinders: Option<(Vec<u32>, At)>,
    /// The fingerprint, without its dashes, and where.
    pub(super) fingerprint: Option<(String, At)>,
    /// Where zero stands in the machine, and where that is said.
    pub(super) zero: Option<([f64; 3], At)>,
    /// Each touch check: what it says in words, X, Y, Z, and where.
    pub(super) touches: Vec<Touch>,
}

/// One place that must read right before the first chip.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Touch {
    pub(super) text: String,
    pub(super) at: At,
}

/// The value behind a word, as in `X +12.345`.
pub(super) fn figure_behind(text: &str, word: &str) -> Option<f64> {
    let words: Vec<&str> = text.split_ascii_whitespace().collect();
    // The last one counts: what stands before it may be a shop's own words.
    let index = words.iter().rposition(|w| *w == word)?;
    words.get(index + 1)?.parse().ok().filter(|v: &f64| v.is_finite())
}

/// Reads the comments before the first block. Of what is said twice the first counts: what stands there is
/// written before any words of the shop's own.
pub(super) fn head(words: &Words) -> Head {
    let mut head = Head::default();
    let Some(first) = words.blocks.first() else { return head };
    let mut touching = false;
    let mut notes = first.notes.iter().peekable();
    while let Some(Comment { line, text }) = notes.next() {
        let at = At::from(*line);
        // What is too long for a line goes on in the next.
        let mut whole = |start: &str, more: &dyn Fn(&str) -> bool| {
            let mut whole = start.to_owned();
            while let Some(next) = notes.next_if(|next| more(&next.text)) {
                whole.push(' ');
                whole.push_str(&next.text);
            }
            whole
        };
        if let Some(rest) = text.strip_prefix("TOUCH CHECK ") {
            touching = rest.starts_with(|c: char| c.is_ascii_digit());
            if touching {
                head.touches.push(Touch { text: rest.to_owned(), at });
            }
            continue;
        }
        if touching {
            // A long check goes on in the next comment.
            if let Some(touch) = head.touches.last_mut() {
                touch.text.push(' ');
                touch.text.push_str(text);
            }
            continue;
        }
        if let Some(rest) = text.strip_prefix("LIST ").filter(|_| head.list.is_none()) {
            let mut parts = rest.splitn(3, " - ");
            let number = parts.next().and_then(|n| n.parse().ok());
            head.list = number.zip(parts.next().map(str::to_owned));
            head.bank = parts.next().and_then(|p| p.strip_prefix("BANK ")).map(|bank| (bank.to_owned(), at));
        } else if let Some(rest) = text.strip_prefix("UNITS ").filter(|_| head.units.is_none()) {
            head.units = Some((rest.to_owned(), at));
        } else if let Some(rest) = text.strip_prefix("CYLINDERS ").filter(|_| head.cylinders.is_none()) {
            let rest = whole(rest, &|next| next.bytes().all(|b| b.is_ascii_digit() || b == b' '));
            let numbers: Option<Vec<u32>> = rest.split(' ').map(|n| n.parse().ok()).collect();
            head.cylinders = Some((numbers.unwrap_or_default(), at));
        } else if let Some(rest) = text.strip_prefix("FINGERPRINT ").filter(|_| head.fingerprint.is_none()) {
            let rest = whole(rest, &|next| next.bytes().all(|b| b.is_ascii_hexdigit() || b"- ".contains(&b)));
            head.fingerprint = Some((rest.chars().filter(char::is_ascii_alphanumeric).collect(), at));
        } else if let Some(rest) =
            text.strip_prefix("zero stands in the machine at ").filter(|_| head.zero.is_none())
        {
            let rest = whole(rest, &|next| {
                ["X ", "Y ", "Z ", "+", "-", "in set-up "].iter().any(|w| next.starts_with(w))
            });
            let said = rest.split(" in set-up").next().unwrap_or_default();
            let [x, y, z] = ["X", "Y", "Z"].map(|axis| figure_behind(said, axis));
            head.zero = x.zip(y).zip(z).map(|((x, y), z)| ([x, y, z], at));
        }
    }
    head
}

/// Holds number and sums at the foot against the words.
pub(super) fn foot(words: &Words, unit: Unit, flaws: &mut Flaws) {
    let [opening, rows @ ..] = words.blocks.as_slice() else { return };
    let [.., last] = rows else { return };
    let notes = &last.notes;
    let said =
        |word: &str| notes.iter().rev().find_map(|n| n.text.strip_prefix(word).map(|rest| (rest, n.line)));
    match said("ROWS ") {
        None => flaws.add(last.at, "foot", "no number of rows before the end", "a comment `ROWS n`"),
        Some((rest, line)) => {
            let count = rest.split(' ').next().and_then(|n| n.parse::<usize>().ok());
            if count != Some(rows.len()) {
                let found = format!(
                    "`ROWS {}` over {} rows",
                    count.map_or("?".into(), |c| c.to_string()),
                    rows.len()
                );
                flaws.add(line, "rows", found, "the number of rows: a line is lost, or one too many");
                gaps(opening, rows, flaws);
            }
        }
    }
    for (axis, name) in [(0, "X"), (1, "Y")] {
        let sum: i64 = rows.iter().filter_map(|row| row.lengths[axis]).sum();
        let printed = printed(sum, unit);
        match said(&format!("SUM OF {name} ")) {
            None => flaws.add(
                last.at,
                "foot",
                format!("no sum of {name} before the end"),
                format!("a comment `SUM OF {name}`"),
            ),
            Some((rest, _)) if rest == printed => {}
            Some((rest, line)) => {
                let code = if axis == 0 { "sum_x" } else { "sum_y" };
                let found = format!("the sum of {name} as `{}`", crate::read::fault::plain(rest, 30));
                flaws.add(line, code, found, format!("{printed}, what the words add up to"));
            }
        }
    }
}

/// Tells which block numbers are missing or were put between, where the number of rows is not the planned one.
fn gaps(opening: &Block, rows: &[Block], flaws: &mut Flaws) {
    let numbers: Vec<(u32, At)> =
        std::iter::once(opening).chain(rows).filter_map(|b| Some((b.at.block?, b.at))).collect();
    let Some(step) = opening.at.block else { return };
    for pair in numbers.windows(2) {
        let [(before, _), (n, at)] = [pair[0], pair[1]];
        if n != before + step {
            let found = format!("N{n} behind N{before}");
            flaws.add(at, "gap", found, format!("N{}", before.saturating_add(step)));
        }
    }
}

/// A count of the unit's steps as a list prints it: with the unit's decimals, and no minus before nothing.
fn printed(value: i64, unit: Unit) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let digits = format!("{:0width$}", value.unsigned_abs(), width = unit.places() + 1);
    let (whole, part) = digits.split_at(digits.len() - unit.places());
    format!("{sign}{whole}.{part}")
}
