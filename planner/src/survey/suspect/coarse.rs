//! Columns whose figures all stand on a grid far coarser than their readings are said to be known: rounded as they were written
//! down, or read with another instrument.

use borewright_geometry::sample::count;

use super::evidence::figures;
use super::grid::{grid, unit_mm};
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

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let unit_mm = unit_mm(asked.job.units);
    // Figures that are all said to be exact were worked out, and stand where they were put.
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let of = |(index, set_up): (usize, &SetUp)| {
        let cylinders = asked.readings.cylinders(index);
        let coarse: Vec<Suspicion> = columns(asked, set_up)
            .into_iter()
            .filter_map(|column| coarse(set_up, column, unit_mm, &cylinders))
            .collect();
        coarse
    };
    asked.job.set_ups.iter().enumerate().flat_map(of).collect()
}

fn columns(asked: &Asked<'_>, set_up: &SetUp) -> Vec<Column> {
    let u = &asked.job.instruments;
    let circles = |k: usize| set_up.bores.iter().map(|b| b.centre_mm[k]).collect();
    let points = |k: usize| set_up.points.iter().map(|p| p.at_mm[k]).collect();
    let mut columns: Vec<Column> = vec![
        ("bores", "x", circles(0), u.centre_mm, 6),
        ("bores", "y", circles(1), u.centre_mm, 6),
        ("bores", "diameter", set_up.bores.iter().map(|b| b.diameter_mm).collect(), u.diameter_mm, 6),
        ("points", "x", points(0), u.centre_mm, 9),
        ("points", "y", points(1), u.centre_mm, 9),
        ("walls", "wall", set_up.walls.iter().filter_map(|w| w.wall_mm).collect(), u.wall_mm, 6),
    ];
    if let ReadingFrame::Machine(machine) = &set_up.frame {
        let axis = |k: usize| machine.axis.iter().map(|a| a.at_mm[k]).collect();
        columns.push(("axis", "y", axis(1), u.axis_mm, 3));
        columns.push(("axis", "z", axis(2), u.axis_mm, 3));
        columns.push(("deck", "z", machine.deck_mm.iter().map(|p| p[2]).collect(), u.deck_mm, 4));
    }
    columns
}

fn coarse(
    set_up: &SetUp,
    (table, name, values_mm, u_mm, fewest): Column,
    unit_mm: f64,
    cylinders: &[u32],
) -> Option<Suspicion> {
    let grid_mm = unit_mm * grid(&values_mm, unit_mm)?;
    (values_mm.len() >= fewest && grid_mm > TIMES * u_mm + 1e-9).then(|| Suspicion {
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
