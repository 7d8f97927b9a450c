//! Reading tables with their places filled in and their readings left open.

use std::fmt::Write;

use borewright_planner::read::given::Units;
use borewright_planner::start::{ToRead, WallPlace};

use super::length;

/// The tables of a set-up: the key in `job.yaml`, the path, the text.
pub(super) fn tables(of: &ToRead, slug: &str, units: Units) -> Vec<(&'static str, String, Vec<u8>)> {
    let mm = |mm: f64| length(mm, units);
    let path = |table: &str| {
        if slug.is_empty() { format!("readings/{table}.csv") } else { format!("readings/{table}-{slug}.csv") }
    };
    let mut tables = Vec::new();
    let mut add = |key: &'static str, said: &str, head: &str, rows: Vec<String>| {
        if !rows.is_empty() {
            let mut text = format!("# {said}\n{head}\n");
            for row in rows {
                let _ = writeln!(text, "{row}");
            }
            tables.push((key, path(key), text.into_bytes()));
        }
    };
    let named = |main: &String| format!("{},,,", cell(main));
    let (axis, mains) = (of.axis.iter().map(named).collect(), of.mains.iter().map(named).collect());
    add("axis", "the middle of each main, machine coordinates", "main,x,y,z", axis);
    add("mains", "points on the housing bores, three or more a main", "main,x,y,z", mains);
    add("deck", "points on the deck, spread wide", "x,y,z", (0..of.deck).map(|_| ",,".to_owned()).collect());
    let circles = of.bores.iter().map(|at| format!("{},{},,,", at.cylinder, mm(at.depth_mm))).collect();
    add("bores", "the bores as they came, one circle a row", "cylinder,depth,x,y,diameter", circles);
    let points = of.points.iter().map(|at| format!("{},{},,", at.cylinder, mm(at.depth_mm))).collect();
    add("points", "the bores as they came, one point a row", "cylinder,depth,x,y", points);
    let wall = |at: &WallPlace| format!("{},{},{},", at.cylinder, mm(at.depth_mm), angle(at.clock_deg));
    let walls = of.walls.iter().map(wall);
    let said = "walls from the parent's own bore outwards; nr where no reading could be taken";
    add("walls", said, "cylinder,depth,clock,wall", walls.collect());
    let heights = of.heights.iter().map(|at| format!("{},{},", at.cylinder, angle(at.clock_deg))).collect();
    add("heights", "liner heights against the deck, sunk is negative", "cylinder,clock,height", heights);
    tables
}

/// Degrees, without noughts at the end.
pub(super) fn angle(deg: f64) -> String {
    super::trimmed(&format!("{deg:.2}"))
}

/// A name as a cell of a table: in quotation marks where it would be taken for more than one.
fn cell(name: &str) -> String {
    if name.contains(['"', ',', '\n', '\r', '#']) || name.trim() != name {
        format!("\"{}\"", name.replace('"', "\"\""))
    } else {
        name.to_owned()
    }
}
