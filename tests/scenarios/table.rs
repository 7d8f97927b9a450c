//! A table of the sample's readings, to be changed and planned with.

use std::fs;
use std::path::Path;

use borewright_planner::Planning;

use crate::spoil::{Edit, sample_with};

/// A table of the sample: its comments and its head, and the cells of its rows.
pub struct Table {
    name: String,
    head: String,
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub fn read(table: &str) -> Self {
        let name = format!("readings/{table}.csv");
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks/jobs/petrel-0412").join(&name);
        let text = fs::read_to_string(path).unwrap();
        let (head, rows): (Vec<&str>, Vec<&str>) =
            text.lines().partition(|l| l.starts_with(|c: char| c == '#' || c.is_ascii_alphabetic()));
        let cells = |row: &&str| row.split(',').map(str::to_owned).collect();
        Self { name, head: head.join("\n"), rows: rows.iter().map(cells).collect() }
    }

    /// Each row changed.
    pub fn each(mut self, change: impl Fn(&mut Vec<String>)) -> Self {
        self.rows.iter_mut().for_each(change);
        self
    }

    /// Another table's rows under this name.
    pub fn of(self, other: Self) -> Self {
        Self { rows: other.rows, ..self }
    }

    pub fn text(&self) -> String {
        let rows: String = self.rows.iter().map(|row| row.join(",") + "\n").collect();
        format!("{}\n{rows}", self.head)
    }
}

/// The sample planned with these tables in place of its own.
pub fn plan(tables: &[Table]) -> Planning {
    plan_with(tables, &[])
}

/// The same with changes of its descriptions.
pub fn plan_with(tables: &[Table], edits: &[Edit<'_>]) -> Planning {
    let texts: Vec<String> = tables.iter().map(Table::text).collect();
    let files: Vec<(&str, &str)> =
        tables.iter().zip(&texts).map(|(table, text)| (table.name.as_str(), text.as_str())).collect();
    sample_with(&files, edits)
}
