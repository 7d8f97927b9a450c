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

/// Told in these units, without notes.
pub(crate) fn plainly(units: SheetUnits) -> Terminal {
    Terminal::new(units, columns(), false)
}

/// How many columns the terminal itself says it has; else the environment variable `COLUMNS`, else [`COLUMNS`].
pub(crate) fn columns() -> usize {
    let out = std::io::stdout();
    let own = out.is_terminal().then(|| of_window(&out)).flatten();
    let said = || std::env::var("COLUMNS").ok().and_then(|text| text.trim().parse().ok());
    own.or_else(said).filter(|columns| *columns > 0).unwrap_or(COLUMNS)
}

#[cfg(unix)]
fn of_window(out: &std::io::Stdout) -> Option<usize> {
    rustix::termios::tcgetwinsize(out).ok().map(|size| size.ws_col.into())
}

#[cfg(not(unix))]
fn of_window(_: &std::io::Stdout) -> Option<usize> {
    None
}
