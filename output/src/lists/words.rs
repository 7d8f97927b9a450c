//! A list in the address words of ISO 6983 that every common control reads alike.

use borewright_planner::Planning;
use borewright_planner::plan::moves::{MoveKind, MoveList, Touch};
use borewright_planner::plan::{ListUnits, Verdict};

use super::Rows;
use super::comment::{comment, comments};
use super::rows::Row;
use crate::OutputError;
use crate::said::fingerprint::grouped;
use crate::said::number::Fixed;

/// The whole file.
///
/// # Errors
/// Where a touch check holds a figure that cannot be printed.
pub(crate) fn words(planning: &Planning, list: &MoveList, rows: &Rows) -> Result<String, OutputError> {
    let mut lines = header(planning, list);
    lines.extend(touch_check(list.check, &list.touch, list.units)?);
    let opening = rows.opening_line;
    let unit = match list.units {
        ListUnits::Mm => planning.job.machine.millimetres_word.word(),
        ListUnits::In(inches) => inches.word(),
    };
    lines.push(format!("N{opening} G17 {unit} G90 G94"));
    for row in &rows.rows {
        if row.of.kind == MoveKind::End {
            // Before the end, so that a control that stops reading there has still shown it.
            lines.extend(footer(rows));
        }
        let note = row.of.note.in_units(list.units.of_sentences());
        if !note.trim().is_empty() {
            lines.extend(comments(&note));
        }
        lines.push(block(row));
    }
    let mut text = lines.join("\n");
    text.push('\n');
    Ok(text)
}

/// What a machinist checks before loading: is this the right list of the right job?
fn header(planning: &Planning, list: &MoveList) -> Vec<String> {
    let plan = &planning.plan;
    let cylinders: Vec<String> = list.cylinders.iter().map(u32::to_string).collect();
    let mut lines = vec![
        comment(&format!("JOB {}", plan.job)),
        comment(&format!("LIST {} - {} - BANK {}", list.number, list.stage.word(), list.bank)),
    ];
    lines.extend(comments(&format!("CYLINDERS {}", cylinders.join(" "))));
    lines.push(comment(&format!("BLOCK {}", planning.job.block.name)));
    let issued = list.issued.as_ref();
    let fingerprint = issued.map_or(&plan.fingerprint, |i| &i.fingerprint);
    lines.extend(comments(&format!("FINGERPRINT {}", in_halves(fingerprint))));
    let verdict = issued.map_or(plan.verdict, |i| i.verdict);
    let release = issued.map_or(plan.release.as_ref(), |i| i.release.as_ref());
    match (release, verdict) {
        (Some(release), Verdict::Hold | Verdict::Stop) => {
            lines.push(comment(&format!("VERDICT {} - WHAT IS AT HOLD IS RELEASED", verdict.word())));
            lines.extend(comments(&format!("RELEASED BY {}", release.who)));
            lines.extend(comments(&format!("BECAUSE {}", release.why)));
        }
        _ => lines.push(comment(&format!("VERDICT {}", verdict.word()))),
    }
    for line in &list.header {
        lines.extend(comments(&line.in_units(list.units.of_sentences())));
    }
    let unit = match list.units {
        ListUnits::Mm => "mm",
        ListUnits::In(_) => "inch",
    };
    lines.push(comment(&format!("UNITS {unit}, feed {unit} per min, spindle turns per min")));
    lines
}

/// A fingerprint as two words, since one would not fit a line.
fn in_halves(fingerprint: &str) -> String {
    const GROUPS: usize = 8;
    let whole = grouped(fingerprint, usize::MAX);
    let groups: Vec<&str> = whole.split('-').collect();
    groups.chunks(GROUPS).map(|half| half.join("-")).collect::<Vec<_>>().join(" ")
}

/// The places that must read right at the machine before the first chip.
fn touch_check(check: Option<u32>, touches: &[Touch], units: ListUnits) -> Result<Vec<String>, OutputError> {
    // What a reading may be off has a digit less than the coordinate, but where an inch would lose half of it.
    let (decimals, within) = match units {
        ListUnits::Mm => (3, 2),
        ListUnits::In(_) => (4, 4),
    };
    let told = |mm: f64, places: usize| Fixed::new(units.told(mm, places), places);
    let mut lines = Vec::new();
    if !touches.is_empty() {
        lines.extend(comments("TOUCH CHECK - each must read right at the machine before the first chip"));
    }
    for (touch, number) in touches.iter().zip(1_u32..) {
        let mut text = format!(
            "TOUCH CHECK {} - {} -",
            check.unwrap_or(number),
            touch.what.in_units(units.of_sentences())
        );
        for (axis, value) in [("X", touch.x_mm), ("Y", touch.y_mm), ("Z", touch.z_mm)] {
            if let Some(value) = value {
                text.push_str(&format!(" {axis} {}", told(value, decimals)?.signed()));
            }
        }
        text.push_str(&format!(" within {}", told(touch.within_mm, within)?));
        lines.extend(comments(&text));
    }
    Ok(lines)
}

/// One row of words.
fn block(row: &Row) -> String {
    let mut words = vec![format!("N{}", row.line)];
    let preparatory = match row.of.kind {
        MoveKind::Rapid => Some("G0"),
        MoveKind::Feed => Some("G1"),
        MoveKind::Clockwise => Some("G2"),
        MoveKind::Anticlockwise => Some("G3"),
        _ => None,
    };
    words.extend(preparatory.map(str::to_owned));
    for (address, length) in ["X", "Y", "Z", "I", "J"].iter().zip(row.lengths) {
        words.extend(length.map(|l| format!("{address}{l}")));
    }
    words.extend(row.feed.map(|feed| format!("F{feed}")));
    words.extend(row.rpm.map(|rpm| format!("S{rpm}")));
    let miscellaneous = match row.of.kind {
        MoveKind::SpindleOn => Some("M3"),
        MoveKind::SpindleOff => Some("M5"),
        MoveKind::Stop => Some("M0"),
        MoveKind::End => Some("M30"),
        _ => None,
    };
    words.extend(miscellaneous.map(str::to_owned));
    words.join(" ")
}

/// For checking a typed copy by adding up.
fn footer(rows: &Rows) -> [String; 3] {
    let first = rows.rows.first().map_or(0, |row| row.line);
    let last = rows.rows.last().map_or(0, |row| row.line);
    [
        comment(&format!("ROWS {} - N{first} to N{last}", rows.rows.len())),
        comment(&format!("SUM OF X {}", rows.sum_x)),
        comment(&format!("SUM OF Y {}", rows.sum_y)),
    ]
}
