//! Columns whose figures all stand on a grid far coarser than their readings are said to be known: rounded as they were written
//! down, or read with another instrument.

use borewright_geometry::sample::count;

use super::evidence::figures;
use super::grid::{grid, grid_mm, grid_of_all, unit_mm};
use super::{Asked, Suspicion};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// A grid over so many times the uncertainty that is stated tells less than that. Common practice, no source.
const TIMES: f64 = 10.0;

/// A column: its table, its name, its figures in mm, how well each is said to be known, and how many must agree.
type Column = (&'static str, &'static str, Vec<f64>, f64, usize);

/// Tables of one column that is read: nothing beside it shows how finely the scale tells.
const ALONE: [&str; 2] = ["points", "walls"];

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let unit_mm = unit_mm(asked.job.units);
    // Figures that are all said to be exact were worked out, and stand where they were put.
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let of = |(index, set_up): (usize, &SetUp)| {
        let cylinders = asked.readings.cylinders(index);
        let columns = columns(asked, set_up);
        // Figures that are coarse in all columns of a table were worked out by hand, and say so by themselves.
        let finely = |table: &str, u_mm: f64| {
            // Mains stand in even steps along the block; what else is read of the set-up shows the scale.
            let mut own = columns.iter().filter(|column| column.0 == table || table == "axis");
            ALONE.contains(&table) || own.any(|c| grid_mm(&c.2, unit_mm).is_some_and(|grid| grid <= u_mm))
        };
        let mut found = Vec::new();
        for column in &columns {
            if finely(column.0, column.3) {
                found.extend(coarse(set_up, column, unit_mm, &cylinders));
            }
        }
        found
    };
    asked.job.set_ups.iter().enumerate().flat_map(of).collect()
}

fn columns(asked: &Asked<'_>, set_up: &SetUp) -> Vec<Column> {
    let u = &asked.job.instruments;
    let circles = |k: usize| set_up.bores.iter().map(|b| b.centre_mm[k]).collect();
    let points = |k: usize| set_up.points.iter().map(|p| p.at_mm[k]).collect();
    // Bores that were put at their drawing's places along the bank tell nothing of the scale.
    let drawn = matches!(set_up.frame, ReadingFrame::Journal)
        && set_up.bores.iter().all(|b| {
            asked.job.site(b.cylinder).is_some_and(|(_, site)| (site.x_mm - b.centre_mm[0]).abs() < 1e-9)
        });
    let mut columns: Vec<Column> = vec![
        ("bores", "x", if drawn { Vec::new() } else { circles(0) }, u.centre_mm, 6),
        ("bores", "y", circles(1), u.centre_mm, 6),
        ("bores", "diameter", set_up.bores.iter().map(|b| b.diameter_mm).collect(), u.diameter_mm, 6),
        ("points", "x", points(0), u.centre_mm, 9),
        ("points", "y", points(1), u.centre_mm, 9),
        ("walls", "wall", set_up.walls.iter().filter_map(|w| w.wall_mm).collect(), u.wall_mm, 6),
    ];
    if let ReadingFrame::Machine(machine) = &set_up.frame {
        let axis = |k: usize| machine.axis.iter().map(|a| a.at_mm[k]).collect();
        let deck = |k: usize| machine.deck_mm.iter().map(|p| p[k]).collect();
        // Where along the block a main or the deck is touched matters little: it may be told as finely as one likes.
        let any_mm = f64::INFINITY;
        columns.push(("axis", "x", axis(0), any_mm, 3));
        columns.push(("axis", "y", axis(1), u.axis_mm, 3));
        columns.push(("axis", "z", axis(2), u.axis_mm, 3));
        columns.push(("deck", "x", deck(0), any_mm, 4));
        columns.push(("deck", "y", deck(1), any_mm, 4));
        columns.push(("deck", "z", deck(2), u.deck_mm, 4));
    }
    columns
}

fn coarse(
    set_up: &SetUp,
    (table, name, values_mm, u_mm, fewest): &Column,
    unit_mm: f64,
    cylinders: &[u32],
) -> Option<Suspicion> {
    // A bore's place is put at nought at the most; a mandrel is trammed, and a bore told by its drawing.
    let place = ["bores", "points"].contains(table) && *name != "diameter";
    let put = values_mm.first().is_some_and(|first| !place || *first == 0.0);
    let grid_mm =
        if put { unit_mm * grid(values_mm, unit_mm)? } else { unit_mm * grid_of_all(values_mm, unit_mm)? };
    let u_mm = *u_mm;
    (values_mm.len() >= *fewest && grid_mm > TIMES * u_mm + 1e-9).then(|| Suspicion {
        code: "too_coarse",
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "all {} figures of `{name}` in the table of {table} of set-up {} are whole steps of {}, and each is said to be known to {}",
            values_mm.len(),
            plain(&set_up.name, 40),
            mm(grid_mm, 4),
            before_mm(u_mm, 4)
        ),
        likely: "rounded as they were written down, or read with a coarser instrument: every margin is then believed too well".into(),
        ask: "what did the instrument show? Write all its digits, or say in `instruments` how well it is known".into(),
        evidence: figures([("grid", grid_mm), ("u", u_mm), ("figures", count(values_mm.len()))]),
        cylinders: cylinders.to_vec(),
    })
}
