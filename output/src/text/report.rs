//! What `report` prints: the customer's sentences first, then bores, what is open, sizes, what was not measured, and
//! everything that happened.

use std::fmt::Write;

use borewright_planner::as_left::{AsLeft, BoreLeft, Sizes, Unread};
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::plan::Verdict;
use borewright_planner::plan::check::Of;
use borewright_planner::read::fault::plain;

use super::{Terminal, short};
use crate::OutputError;
use crate::said::as_left::{asked, in_words, missing, stamp};
use crate::said::units::{Digits, Units};

/// The page.
///
/// # Errors
/// Where a figure cannot be printed.
pub fn report_page(job: &Job, left: &AsLeft, t: &Terminal) -> Result<String, OutputError> {
    let units = Units::of(job.sheet_units);
    let title = format!("REPORT  job {}  {}", plain(&left.job, 24), plain(&left.block, 30));
    let word = in_words(left.verdict).to_uppercase();
    let mut page = match t.columns.checked_sub(title.chars().count() + word.chars().count()) {
        Some(gap) if gap >= 2 => format!("{title}{:gap$}{word}\n", ""),
        _ => t.wrapped("", &format!("{title}  {word}"), 2),
    };
    let _ = writeln!(page, "plan {}, lengths in {}\n", short(&left.fingerprint), units.name());
    for said in &left.says {
        page.push_str(&t.wrapped("-", &units.say(said), 2));
    }
    if !left.open.is_empty() {
        page.push_str("\nopen\n");
        for open in &left.open {
            page.push_str(&t.wrapped(" -", &units.say(open), 3));
        }
    }
    bores((&mut page, t), units, left)?;
    sizes((&mut page, t), units, &left.sizes)?;
    not_measured((&mut page, t), &left.not_measured);
    happened((&mut page, t), units, left);
    Ok(page)
}

/// What stands over how a bore left.
const LEFT: &str = "how it left";

/// Tables of a terminal have room for one unit.
fn one(units: Units) -> Units {
    Units::of(if units.sheet == SheetUnits::In { SheetUnits::In } else { SheetUnits::Mm })
}

/// Adds a line for each bore: how it came, how far it was cut off its place, how it was finished and left.
fn bores((page, t): (&mut String, &Terminal), units: Units, left: &AsLeft) -> Result<(), OutputError> {
    let units = one(units);
    let _ = writeln!(page, "\nthe bores, {}", units.name());
    let head = " cyl      came  off place  cut, off place      finished    u";
    // How a bore left stands behind its figures where all of them have the room, else below.
    let longest = left.cylinders.iter().map(|b| b.left.chars().count()).max().unwrap_or(0);
    let room = head.chars().count() + 2 + longest.max(LEFT.len()) <= t.columns;
    let line = |figures: &str, left: &str| {
        if room { format!("{figures}  {left}\n") } else { format!("{figures}\n      {left}\n") }
    };
    page.push_str(&line(head, LEFT));
    for bore in &left.cylinders {
        let came = bore.found.map(|f| units.length(f.diameter, Digits::Fine)).transpose()?;
        let off = bore.found.map(|f| units.uncertain(f.off_true.distance, widest(f.u))).transpose()?;
        let cut = cut(units, bore)?;
        let finished = left.finished(bore.cylinder);
        let size = finished.map(|s| units.length(s.mean, Digits::Fine)).transpose()?;
        let u = finished.map(|s| units.length(s.u, Digits::Fine)).transpose()?;
        let said = |p: Option<crate::said::units::Printed>| p.map_or_else(|| "-".to_owned(), |p| p.stacked());
        let figures = format!(
            "{:>4} {:>9} {:>10}  {:>14}  {:>12} {:>4}",
            bore.cylinder,
            said(came),
            said(off),
            cut,
            said(size),
            said(u).trim_start_matches('0')
        );
        page.push_str(&line(&figures, bore.left));
    }
    let key = "off place: from where the bore belongs, at the deck; finished: mean as honed";
    page.push_str(&t.wrapped("", key, 2));
    for s in left.cylinders.iter().filter_map(|c| left.finished(c.cylinder)) {
        form((page, t), units, s)?;
    }
    Ok(())
}

fn widest(u: [f64; 2]) -> f64 {
    u[0].max(u[1])
}

/// "0.012" as read, "(0.010)" where nobody read it and the list's place stands for it.
fn cut(units: Units, bore: &BoreLeft) -> Result<String, OutputError> {
    let Some(cut) = bore.cut else { return Ok("-".to_owned()) };
    let off = units.uncertain(cut.off_true.distance, widest(cut.u))?.stacked();
    let u = units.length(widest(cut.u), Digits::Fine)?.stacked();
    Ok(if cut.read > 0 {
        format!("{off} u {}", u.trim_start_matches('0'))
    } else {
        format!("not read {off}")
    })
}

fn form((page, t): (&mut String, &Terminal), units: Units, s: &Sizes) -> Result<(), OutputError> {
    let told =
        |f: Option<borewright_planner::as_left::Uncertain>, signed: bool| -> Result<String, OutputError> {
            let Some(f) = f else { return Ok("not read".to_owned()) };
            let figure = units.uncertain(f.figure, f.u)?;
            let figure = if signed { figure.stacked_signed() } else { figure.stacked() };
            Ok(format!("{figure} (u {})", units.length(f.u, Digits::Fine)?.stacked()))
        };
    let [low, high] = s.ends;
    let text = format!(
        "{} to {} at {} of {} places; out of round {}, taper (bottom less top) {}",
        units.length(low, Digits::Fine)?.stacked(),
        units.length(high, Digits::Fine)?.stacked(),
        s.places[0],
        s.places[1],
        told(s.round, false)?,
        told(s.taper, true)?
    );
    let cylinder = s.cylinder.map_or_else(String::new, |c| c.to_string());
    page.push_str(&t.wrapped(&format!("{cylinder:>4}"), &text, 5));
    Ok(())
}

/// Adds what was measured check by check: what was asked, and at each bore the mean, the ends and where it lies.
fn sizes((page, t): (&mut String, &Terminal), units: Units, sizes: &[Sizes]) -> Result<(), OutputError> {
    if sizes.is_empty() {
        return Ok(());
    }
    let units = one(units);
    let _ = writeln!(page, "\nwhat was measured, {}", units.name());
    let mut check = None;
    for s in sizes {
        if check != Some((s.check, s.of)) {
            check = Some((s.check, s.of));
            let head = format!("CHECK {}, {}, {}:", s.check, s.stage.word(), plain(&s.feature, 30));
            page.push_str(&t.wrapped(&head, &format!("{} {}", s.of.words(), asked(units, s)?), 2));
        }
        let at = s.cylinder.map_or_else(|| format!("bank {}", plain(&s.bank, 10)), |c| c.to_string());
        let figure = |v: f64| -> Result<String, OutputError> {
            Ok(match s.of {
                Of::Roughness => format!("{v:.2}"),
                _ => units.uncertain(v, s.u)?.stacked(),
            })
        };
        let off = match (s.off, s.of) {
            (Some(off), of) if of != Of::Roughness => units.uncertain(off, s.u)?.stacked_signed(),
            _ => String::new(),
        };
        let from_to = match s.places {
            [1, _] => String::new(),
            _ => format!("from {} to {}, ", figure(s.ends[0])?, figure(s.ends[1])?),
        };
        let [read, of] = s.places;
        let text = format!("{} {off} {from_to}{read} of {of} read, {}", figure(s.mean)?, stamp(s.lies));
        page.push_str(&t.wrapped(&format!("{at:>5}"), &text, 6));
    }
    Ok(())
}

fn not_measured((page, t): (&mut String, &Terminal), unread: &[Unread]) {
    if unread.is_empty() {
        page.push_str("\nnot measured: nothing that was asked for\n");
        return;
    }
    page.push_str("\nnot measured\n");
    for (head, cylinders) in missing(unread) {
        page.push_str(&t.wrapped(&format!("  {head}:"), &cylinders, 4));
    }
}

/// Adds what happened and was decided, and the lines that were struck, with who said so and when.
fn happened((page, t): (&mut String, &Terminal), units: Units, left: &AsLeft) {
    let by = |by: &str, at: &str| {
        let by = if by.is_empty() { "nobody named".to_owned() } else { plain(by, 40) };
        if at.is_empty() { by } else { format!("{by}, {}", plain(at, 30)) }
    };
    if !left.events.is_empty() {
        page.push_str("\nwhat happened and was decided\n");
        for e in &left.events {
            let at = e.cylinder.map_or_else(String::new, |c| format!(", cylinder {c}"));
            let text = format!("{} ({})", plain(&e.text, 300), by(&e.by, &e.at));
            page.push_str(&t.wrapped(&format!("  line {}, {}{at}:", e.line, e.what), &text, 4));
        }
    }
    if !left.struck.is_empty() {
        page.push_str("\nstruck, and not counted above\n");
        for s in &left.struck {
            let text = format!("{} - {} ({})", plain(&s.text, 200), plain(&s.why, 200), by(&s.by, ""));
            page.push_str(&t.wrapped(&format!("  line {}:", s.line), &text, 4));
        }
    }
    if !left.told.is_empty() {
        page.push_str("\nof the record's file\n");
        for told in &left.told {
            page.push_str(&t.wrapped("  -", &plain(&units.say(told), 300), 4));
        }
    }
    let recorded = format!(
        "{} line{} recorded{}",
        left.lines,
        if left.lines == 1 { "" } else { "s" },
        match left.from_to.each_ref().map(String::as_str) {
            ["", _] | [_, ""] => String::new(),
            [from, to] => format!(", {} to {}", plain(from, 30), plain(to, 30)),
        }
    );
    page.push('\n');
    page.push_str(&t.wrapped("", &recorded, 2));
    page.push_str(match left.verdict {
        Verdict::Go => "ALL AS ASKED\n",
        Verdict::Hold => "OPEN\n",
        Verdict::Stop => "NOT AS ASKED\n",
    });
}
