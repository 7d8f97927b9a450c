//! How a page is told on the terminal at hand: its width, its units, with notes or without.

use std::io::IsTerminal as _;

use borewright_output::Terminal;
use borewright_planner::job::SheetUnits;

use crate::args::{Telling, Told};

/// A terminal's width where nothing says another.
const COLUMNS: usize = 80;

/// Told as asked; in `own` units where none are asked for.
pub(crate) fn as_asked(asked: Telling, own: SheetUnits) -> Terminal {
    let units = match asked.units {
        None => own,
        Some(Told::Mm) => SheetUnits::Mm,
        Some(Told::Inch) => SheetUnits::In,
        Some(Told::Both) => SheetUnits::Both,
    };
    Terminal::new(units, columns(), asked.notes)
}

/// What is said where the terminal is asked for other units than the sheets are in; `None` where they are the same.
pub(crate) fn sheets_differ(asked: Told, own: SheetUnits) -> Option<String> {
    let told = match own {
        SheetUnits::Mm => "mm",
        SheetUnits::In => "inches",
        SheetUnits::Both => "both units",
    };
    let same = matches!(
        (asked, own),
        (Told::Mm, SheetUnits::Mm) | (Told::Inch, SheetUnits::In) | (Told::Both, SheetUnits::Both)
    );
    (!same).then(|| {
        format!(
            "units are those of this page alone: sheets and cards stay in {told} (sheet_units in the job)"
        )
    })
}

/// Told in these units, without notes.
pub(crate) fn plainly(units: SheetUnits) -> Terminal {
    Terminal::new(units, columns(), false)
}

/// What is said on standard error, its lines no wider than the terminal where that is known; an excerpt of a file stays as it is,
/// since a mark below it points into it.
pub(crate) fn folded(text: &str) -> String {
    let error = std::io::stderr();
    let own = error.is_terminal().then(|| of_window(&error)).flatten();
    let Some(columns) = own.or_else(of_environment).filter(|columns| *columns > 0) else {
        return text.to_owned();
    };
    let t = Terminal::new(SheetUnits::Mm, columns, false);
    let one = |line: &str| {
        let indent = line.chars().take_while(|c| *c == ' ').count();
        let is_excerpt = indent > 0 && line.contains(" | ");
        if line.chars().count() <= t.columns() || is_excerpt {
            return line.to_owned();
        }
        t.wrapped(&" ".repeat(indent), line, indent + 2).trim_end().to_owned()
    };
    text.lines().map(one).collect::<Vec<_>>().join("\n")
}

fn of_environment() -> Option<usize> {
    std::env::var("COLUMNS").ok().and_then(|text| text.trim().parse().ok())
}

/// How many columns the terminal itself says it has; else the environment variable `COLUMNS`, else [`COLUMNS`].
pub(crate) fn columns() -> usize {
    let out = std::io::stdout();
    let own = out.is_terminal().then(|| of_window(&out)).flatten();
    own.or_else(of_environment).filter(|columns| *columns > 0).unwrap_or(COLUMNS)
}

#[cfg(unix)]
fn of_window(out: &impl std::os::fd::AsFd) -> Option<usize> {
    rustix::termios::tcgetwinsize(out).ok().map(|size| size.ws_col.into())
}

#[cfg(not(unix))]
fn of_window<T>(_: &T) -> Option<usize> {
    None
}
