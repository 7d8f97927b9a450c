//! Columns whose figures all stand on a grid far coarser than their readings are said to be known: rounded as they were written
//! down, or read with another instrument.

use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

use super::evidence::figures;
use super::grid::{grid_mm, grid_of_all, read_unit_mm, unit_mm};
use super::{Asked, Suspicion};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// A grid over so many times the uncertainty that is stated tells less than that. Common practice, no source.
const TIMES: f64 = 10.0;

/// A column of a table.
struct Column {
    table: &'static str,
    name: &'static str,
    values_mm: Vec<f64>,
    /// How well each is said to be known, mm.
    u_mm: f64,
    /// Fewer figures may stand on a grid by chance.
    fewest: usize,
    /// Whether one whole figure throughout may have been put there: a mandrel is trammed, and a bore told by its drawing; a bore's
    /// place is nought at the most.
    put: bool,
}

impl Column {
    /// The grid that its figures stand on, mm.
    fn grid_mm(&self, unit_mm: f64) -> Option<f64> {
        let put = self.put || self.values_mm.first() == Some(&0.0);
        if put {
            grid_mm(&self.values_mm, unit_mm)
        } else {
            grid_of_all(&self.values_mm, unit_mm).map(|grid| grid * unit_mm)
        }
    }
}

/// Tables of one column that is read: nothing beside it shows how finely the scale tells.
const ALONE: [&str; 2] = ["points", WALLS];
const WALLS: &str = "walls";

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // Walls stay as they were typed.
    let (typed_mm, read_mm) = (unit_mm(asked.job.units), read_unit_mm(asked.job));
    let unit = |column: &Column| if column.table == WALLS { typed_mm } else { read_mm };
    // Figures that are all said to be exact were worked out, and stand where they were put.
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let of = |(index, set_up): (usize, &SetUp)| {
        let cylinders = asked.readings.cylinders(index);
        let columns = columns(asked, set_up);
        // Figures that are coarse in all columns of a table were worked out by hand, and say so by themselves. Mains stand in even
        // steps along the block: what else is read of the set-up shows their scale.
        let finely = |one: &&Column| {
            let mut beside = columns.iter().filter(|c| c.table == one.table || one.table == "axis");
            ALONE.contains(&one.table)
                || beside.any(|c| grid_mm(&c.values_mm, unit(c)).is_some_and(|grid| grid <= one.u_mm))
        };
        let asked = columns.iter().filter(finely);
        asked
            .filter_map(|column| coarse(set_up, column, unit(column), &cylinders))
            .collect::<Vec<Suspicion>>()
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
    let column =
        |table, name, values_mm, u_mm, fewest, put| Column { table, name, values_mm, u_mm, fewest, put };
    let diameters = set_up.bores.iter().map(|b| b.diameter_mm).collect();
    let walls = set_up.walls.iter().filter_map(|w| w.wall_mm).collect();
    let mut columns = vec![
        column("bores", "x", if drawn { Vec::new() } else { circles(0) }, u.centre_mm, 6, false),
        column("bores", "y", circles(1), u.centre_mm, 6, false),
        column("bores", "diameter", diameters, u.diameter_mm, 6, true),
        column("points", "x", points(0), u.centre_mm, 9, false),
        column("points", "y", points(1), u.centre_mm, 9, false),
        column(WALLS, "wall", walls, u.wall_mm, 6, true),
    ];
    if let ReadingFrame::Machine(machine) = &set_up.frame {
        let axis = |k: usize| machine.axis.iter().map(|a| a.at_mm[k]).collect();
        let deck = |k: usize| machine.deck_mm.iter().map(|p| p[k]).collect();
        // Where along the block a main or the deck is touched matters little: it may be told as coarsely as one likes.
        let any_mm = f64::INFINITY;
        columns.extend([
            column("axis", "x", axis(0), any_mm, 3, true),
            column("axis", "y", axis(1), u.axis_mm, 3, true),
            column("axis", "z", axis(2), u.axis_mm, 3, true),
            column("deck", "x", deck(0), any_mm, 4, true),
            column("deck", "y", deck(1), any_mm, 4, true),
            column("deck", "z", deck(2), u.deck_mm, 4, true),
        ]);
    }
    columns
}

fn coarse(set_up: &SetUp, column: &Column, unit_mm: f64, cylinders: &[u32]) -> Option<Suspicion> {
    let Column { table, name, values_mm, u_mm, fewest, .. } = column;
    let grid_mm = column.grid_mm(unit_mm)?;
    (values_mm.len() >= *fewest && grid_mm > TIMES * u_mm + 1e-9).then(|| Suspicion {
        code: Code::TooCoarse,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "all {} figures of `{name}` in the table of {table} of set-up {} are whole steps of {}, and each is said to be known to {}",
            values_mm.len(),
            plain(&set_up.name, 40),
            mm(grid_mm, 4),
            before_mm(*u_mm, 4)
        ),
        likely: "rounded as they were written down, or read with a coarser instrument: every margin is then believed too well".into(),
        ask: "what did the instrument show? Write all its digits, or say in `instruments` how well it is known".into(),
        evidence: figures([("grid", grid_mm), ("u", *u_mm), ("figures", count(values_mm.len()))]),
        cylinders: cylinders.to_vec().into(),
    })
}
