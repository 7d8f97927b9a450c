//! A list held against its lines as the plan has them, word by word: what an editor may change freely
//! (`docs/formats.md`) is passed over, anything else is told.

use super::flaw::{At, Flaws};
use super::reference::List;
use super::unit::Unit;
use super::words::{Block, Comment, Words, read};
use crate::read::fault::plain;

/// Words shown on either side of one that was changed.
const AROUND: usize = 3;

/// Holds a list against the plan's lines of it.
pub(super) fn as_written(words: &Words, list: &List, flaws: &mut Flaws) {
    let Some(lines) = &list.lines else { return };
    // What is wrong with the plan's own lines is wrong with the list as it was written, and told there.
    let unit = list.proof.unit();
    let written = read(&lines.join("\n"), unit, &mut Flaws::default());
    // Where the machine's zero is not known, nothing says that there is travel above the list's own highest Z.
    let own = || written.blocks.iter().filter_map(|b| b.lengths[2]).max().unwrap_or(i64::MIN);
    let highest = list.proof.zero.map_or_else(own, |_| i64::MAX);
    let same = |(a, b): &(&Block, &Block)| is_same(a, b, (list.proof.clearance, highest), unit);
    let shown = |block: &Block| shown(block, unit);
    let [found, planned] = [&words.blocks, &written.blocks];
    let before = found.iter().zip(planned).take_while(same).count();
    let shorter = found.len().min(planned.len());
    let behind = found.iter().rev().zip(planned.iter().rev()).take(shorter - before).take_while(same).count();
    let middle = [&found[before..found.len() - behind], &planned[before..planned.len() - behind]];
    if middle[0].len() == middle[1].len() {
        for (found, planned) in middle[0].iter().zip(middle[1]).filter(|pair| !same(pair)) {
            flaws.add(found.at, "row", shown(found), format!("{}, as the plan has it", shown(planned)));
        }
        for (found, planned) in found.iter().zip(planned) {
            text(&found.notes, &planned.notes, found.at, flaws);
        }
    } else {
        let next = found.get(before).or(found.last());
        let rows = |rows: &[Block]| match rows {
            [] => "nothing".to_owned(),
            [one] => shown(one),
            [first, .., last] => format!("{} rows from `{}` to `{}`", rows.len(), shown(first), shown(last)),
        };
        let at = next.map_or_else(At::default, |b| b.at);
        flaws.add(at, "rows_changed", rows(middle[0]), format!("{}, as the plan has it", rows(middle[1])));
        let heads = found[..before].iter().zip(&planned[..before]);
        let feet = found[found.len() - behind..].iter().zip(&planned[planned.len() - behind..]);
        for (found, planned) in heads.chain(feet) {
            text(&found.notes, &planned.notes, found.at, flaws);
        }
    }
    let end = words.blocks.last().map_or_else(At::default, |b| b.at);
    text(&words.tail, &written.tail, end, flaws);
}

/// Whether two blocks tell a control the same; a rapid straight up or down may end higher, where it is clear and no higher than
/// `highest`, counts of the last digit.
fn is_same(found: &Block, planned: &Block, (clearance, highest): (f64, i64), unit: Unit) -> bool {
    let higher = match (found.lengths, planned.lengths) {
        ([None, None, Some(z), None, None], [None, None, Some(least), None, None]) => {
            found.g == [0]
                && (least..=highest.max(least)).contains(&z)
                && unit.length(least) >= clearance - unit.rounded()
        }
        _ => false,
    };
    found.at.block == planned.at.block
        && found.g == planned.g
        && found.m == planned.m
        && found.feed == planned.feed
        && found.speed == planned.speed
        && (higher || found.lengths == planned.lengths)
}

/// Comments, word by word: how they are broken into lines is free.
fn text(found: &[Comment], planned: &[Comment], block: At, flaws: &mut Flaws) {
    let words = |notes: &'_ [Comment]| -> Vec<(usize, String)> {
        let of_line = |n: &Comment| -> Vec<(usize, String)> {
            n.text.split_ascii_whitespace().map(|word| (n.line, word.to_owned())).collect()
        };
        notes.iter().flat_map(of_line).collect()
    };
    let [found, planned] = [words(found), words(planned)];
    let same = found.iter().zip(&planned).take_while(|(a, b)| a.1 == b.1).count();
    if same == found.len() && same == planned.len() {
        return;
    }
    let near = |words: &[(usize, String)]| -> String {
        if words.is_empty() {
            return "no comment".to_owned();
        }
        let shown = words.iter().skip(same.saturating_sub(AROUND)).take(2 * AROUND + 1);
        let shown: Vec<&str> = shown.map(|w| w.1.as_str()).collect();
        format!("`{}`", plain(&shown.join(" "), 100))
    };
    let at = match found.get(same).or(found.last()) {
        Some((line, _)) => At::from(*line),
        None => block,
    };
    flaws.add(
        at,
        "text",
        format!("the words {}", near(&found)),
        format!("{}, as the plan has it", near(&planned)),
    );
}

/// A block as a list has it.
fn shown(block: &Block, unit: Unit) -> String {
    let mut words: Vec<String> = block.at.block.iter().map(|n| format!("N{n}")).collect();
    words.extend(block.g.iter().map(|g| format!("G{g}")));
    let fixed = |value: i64, decimals: usize| {
        let digits = format!("{:0width$}", value.unsigned_abs(), width = decimals + 1);
        let (whole, part) = digits.split_at(digits.len() - decimals);
        format!("{}{whole}.{part}", if value < 0 { "-" } else { "" })
    };
    for (letter, length) in ["X", "Y", "Z", "I", "J"].iter().zip(block.lengths) {
        words.extend(length.map(|l| format!("{letter}{}", fixed(l, unit.places()))));
    }
    words.extend(block.feed.map(|f| format!("F{}", fixed(f, unit.feed_places()))));
    words.extend(block.speed.map(|s| format!("S{s}")));
    words.extend(block.m.iter().map(|m| format!("M{m}")));
    words.join(" ")
}
