//! The tables, each with its columns and what a row of it becomes.

use std::sync::Arc;

use super::{Gather, LEAST_ARC_DEG, Read, Readable};
use crate::job::{
    AxisReading, BoreReading, HeightReading, PointReading, ShapeReading, Surface, TableKind, WallReading,
    WitnessReading,
};
use crate::read::fault::{Fault, plain};
use crate::read::given::Units;
use crate::read::quantity as q;
use crate::read::source::Source;
use crate::read::table::{Column, MOST_POINTS, MOST_READINGS, NOT_READ, Row, Table, Takes, needed, optional};

const CYLINDER: Column = needed("cylinder", Takes::Count);
const DEPTH: Column = needed("depth", Takes::Length(q::DEPTH));
const CLOCK: Column = needed("clock", Takes::Words);
const X: Column = needed("x", Takes::Length(q::COORDINATE));
const Y: Column = needed("y", Takes::Length(q::COORDINATE));
const Z: Column = needed("z", Takes::Length(q::COORDINATE));
const DIAMETER: Column = needed("diameter", Takes::Length(q::BORE));
const SURFACE: Column = optional("surface", Takes::Words);
const SET: Column = optional("set", Takes::Words);

const BORES: [Column; 7] = [CYLINDER, DEPTH, X, Y, DIAMETER, SURFACE, SET];
const POINTS: [Column; 6] = [CYLINDER, DEPTH, X, Y, SURFACE, SET];
const WALLS: [Column; 5] = [CYLINDER, DEPTH, CLOCK, needed("wall", Takes::LengthOrNotRead(q::WALL)), SURFACE];
const AXIS: [Column; 4] = [needed("main", Takes::Words), X, Y, Z];
const DECK: [Column; 3] = [X, Y, Z];
const HEIGHTS: [Column; 3] = [CYLINDER, CLOCK, needed("height", Takes::Length(q::HEIGHT))];
const SHAPE: [Column; 5] =
    [CYLINDER, DEPTH, CLOCK, needed("radius", Takes::Length(q::COORDINATE)), optional("plate", Takes::Words)];
const WITNESS: [Column; 7] = [
    CYLINDER,
    DIAMETER,
    needed("from", Takes::Words),
    needed("to", Takes::Words),
    optional("depth", DEPTH.takes),
    optional("x", X.takes),
    optional("y", Y.takes),
];

impl TableKind {
    /// Its columns.
    pub(super) fn columns(self) -> &'static [Column] {
        match self {
            Self::Axis | Self::Mains => &AXIS,
            Self::Bores => &BORES,
            Self::Deck => &DECK,
            Self::Heights => &HEIGHTS,
            Self::Points => &POINTS,
            Self::Shape => &SHAPE,
            Self::Walls => &WALLS,
            Self::Witness => &WITNESS,
        }
    }

    /// The most rows that it may have: those of points may be a scan.
    pub(super) fn most_rows(self) -> usize {
        match self {
            Self::Axis | Self::Deck | Self::Mains | Self::Points | Self::Shape => MOST_POINTS,
            Self::Bores | Self::Heights | Self::Walls | Self::Witness => MOST_READINGS,
        }
    }

    /// Such a table, its columns found.
    pub(super) fn split(self, source: &Source, units: Units) -> Result<Table<'_>, Vec<Fault>> {
        Table::split(source, self.columns(), self.most_rows(), units)
    }
}

impl Readable<'_> {
    pub(in crate::check) fn bores(&self, source: &Source) -> Read<BoreReading> {
        let table = TableKind::Bores.split(source, self.units)?;
        self.whole(
            source,
            table.rows(),
            table.each(|row| {
                let mut f = Gather::default();
                let cylinder = f.take(self.cylinder(&table, row));
                let depth = f.take(self.depth(&table, row));
                let x = f.take(self.place(&table, row, "x"));
                let y = f.take(self.place(&table, row, "y"));
                let diameter = f.take(self.diameter(&table, row));
                let surface = f.take(self.surface(&table, row, self.bore_surface()));
                let set = f.take(self.set(&table, row));
                f.done(|| {
                    Some(BoreReading {
                        cylinder: cylinder?,
                        depth_mm: depth?,
                        centre_mm: [x?, y?],
                        diameter_mm: diameter?,
                        surface: surface?,
                        set: set?,
                        line: row.line(),
                    })
                })
            }),
        )
    }

    pub(in crate::check) fn points(&self, source: &Source) -> Read<PointReading> {
        let table = TableKind::Points.split(source, self.units)?;
        self.whole(
            source,
            table.rows(),
            table.each(|row| {
                let mut f = Gather::default();
                let cylinder = f.take(self.cylinder(&table, row));
                let depth = f.take(self.depth(&table, row));
                let x = f.take(self.place(&table, row, "x"));
                let y = f.take(self.place(&table, row, "y"));
                let surface = f.take(self.surface(&table, row, self.bore_surface()));
                let set = f.take(self.set(&table, row));
                f.done(|| {
                    Some(PointReading {
                        cylinder: cylinder?,
                        depth_mm: depth?,
                        at_mm: [x?, y?],
                        surface: surface?,
                        set: set?,
                        line: row.line(),
                    })
                })
            }),
        )
    }

    /// The rows of a table of walls, or the faults in it; `nr` is a wall that was looked for and could not be read.
    pub(in crate::check) fn walls(&self, source: &Source) -> Read<WallReading> {
        let table = TableKind::Walls.split(source, self.units)?;
        table.each(|row| {
            let mut f = Gather::default();
            let cylinder = f.take(self.cylinder(&table, row));
            let depth = f.take(self.depth(&table, row));
            let clock = f.take(self.clock(&table, row, "clock"));
            let wall = if table.text(row, "wall") == NOT_READ {
                Some(None)
            } else {
                let read = table.length(row, "wall").map_err(|mut fault| {
                    let missing = format!("a reading that could not be taken is written `{NOT_READ}`");
                    if !table.text(row, "wall").contains(|c: char| c.is_ascii_digit()) {
                        fault.help = Some(missing);
                    }
                    fault
                });
                f.take(read).map(Some)
            };
            let surface = f.take(self.surface(&table, row, Surface::Parent));
            f.done(|| {
                Some(WallReading {
                    cylinder: cylinder?,
                    depth_mm: depth?,
                    clock_deg: clock?,
                    wall_mm: wall?,
                    surface: surface?,
                    line: row.line(),
                })
            })
        })
    }

    pub(in crate::check) fn heights(&self, source: &Source) -> Read<HeightReading> {
        let table = TableKind::Heights.split(source, self.units)?;
        table.each(|row| {
            let mut f = Gather::default();
            let cylinder = f.take(self.cylinder(&table, row));
            let clock = f.take(self.clock(&table, row, "clock"));
            let height = f.take(table.length(row, "height"));
            f.done(|| Some(HeightReading { cylinder: cylinder?, clock_deg: clock?, height_mm: height? }))
        })
    }

    pub(in crate::check) fn shape(&self, source: &Source) -> Read<ShapeReading> {
        let table = TableKind::Shape.split(source, self.units)?;
        table.each(|row| {
            let mut f = Gather::default();
            let cylinder = f.take(self.cylinder(&table, row));
            let depth = f.take(self.depth(&table, row));
            let clock = f.take(self.clock(&table, row, "clock"));
            let radius = f.take(table.length(row, "radius"));
            let plate = f.take(match table.text(row, "plate") {
                "" | "off" => Ok(false),
                "on" => Ok(true),
                other => {
                    let found = format!("`{}`", plain(other, 40));
                    Err(Box::new(table.fault(row, "plate", found, "`off` or `on`".into())))
                }
            });
            f.done(|| {
                Some(ShapeReading {
                    cylinder: cylinder?,
                    depth_mm: depth?,
                    clock_deg: clock?,
                    radius_mm: radius?,
                    plate_on: plate?,
                })
            })
        })
    }

    /// The rows of a table of witness arcs, or the faults in it; an arc of no length is a fault, a missing depth is
    /// the deck.
    pub(in crate::check) fn witness(&self, source: &Source) -> Read<WitnessReading> {
        let table = TableKind::Witness.split(source, self.units)?;
        table.each(|row| {
            let mut f = Gather::default();
            let given = |name| !table.text(row, name).is_empty();
            let cylinder = f.take(self.cylinder(&table, row));
            let diameter = f.take(table.length(row, "diameter"));
            let arc = ["from", "to"].map(|name| f.take(self.clock(&table, row, name)));
            if let [Some(from), Some(to)] = arc
                && (to - from).rem_euclid(360.0) < LEAST_ARC_DEG
            {
                let found = format!("an arc from {from} to {to} degrees");
                let expected = "an arc of iron; a cut that shows iron all round, or none, has no row".into();
                f.take::<()>(Err(Box::new(table.fault(row, "to", found, expected))));
            }
            let depth = if given("depth") { f.take(self.depth(&table, row)) } else { Some(0.0) };
            let centre = match (given("x"), given("y")) {
                (false, false) => Some(None),
                (true, true) => {
                    let at = ["x", "y"].map(|name| f.take(self.cut_centre(&table, row, name)));
                    if let [Some(x), Some(y)] = at { Some(Some([x, y])) } else { None }
                }
                (x, _) => {
                    let missing = if x { "y" } else { "x" };
                    let expected = "both x and y of the cut's centre, or neither".into();
                    f.take(Err(Box::new(table.fault(row, missing, "nothing".into(), expected))))
                }
            };
            f.done(|| {
                Some(WitnessReading {
                    cylinder: cylinder?,
                    depth_mm: depth?,
                    diameter_mm: diameter?,
                    arc_deg: [arc[0]?, arc[1]?],
                    centre_mm: centre?,
                })
            })
        })
    }

    /// A cut's centre is told in the bank whatever frame the set-up was read in.
    fn cut_centre(&self, table: &Table<'_>, row: &Row<'_>, name: &'static str) -> Result<f64, Box<Fault>> {
        Self { in_bank: true, ..*self }.place(table, row, name)
    }

    /// Points on the journal axis or the housing bores, ordered front to rear.
    pub(in crate::check) fn axis(&self, source: &Source) -> Read<AxisReading> {
        let table = TableKind::Axis.split(source, self.units)?;
        let mains = &self.block.journal_axis.mains;
        let order = |name: &str| mains.iter().position(|m| m.name == name);
        // One name for all rows of a main.
        let names: Vec<Arc<str>> = mains.iter().map(|m| Arc::from(m.name.as_str())).collect();
        let mut points = table.each(|row| {
            let mut f = Gather::default();
            let name = table.text(row, "main");
            if order(name).is_none() {
                let known: Vec<String> = mains.iter().map(|m| format!("`{}`", plain(&m.name, 20))).collect();
                let expected = format!("one of the block's mains: {}", known.join(", "));
                f.take::<()>(Err(Box::new(table.fault(
                    row,
                    "main",
                    format!("`{}`", plain(name, 40)),
                    expected,
                ))));
            }
            let at = ["x", "y", "z"].map(|axis| f.take(table.length(row, axis)));
            let main = || Some(Arc::clone(names.get(order(name)?)?));
            f.done(|| Some(AxisReading { main: main()?, at_mm: [at[0]?, at[1]?, at[2]?], line: row.line() }))
        })?;
        points.sort_by_key(|p| order(&p.main));
        if points.first().map(|p| &p.main) == points.last().map(|p| &p.main) {
            let found = format!("points at {} main", usize::from(!points.is_empty()));
            return Err(vec![source.fault(
                None,
                "main",
                found,
                "points at two mains or more, which make the axis".into(),
            )]);
        }
        Ok(points)
    }

    pub(in crate::check) fn deck(&self, source: &Source) -> Read<[f64; 3]> {
        let table = TableKind::Deck.split(source, self.units)?;
        let points = table.each(|row| {
            let mut f = Gather::default();
            let at = ["x", "y", "z"].map(|axis| f.take(table.length(row, axis)));
            f.done(|| Some([at[0]?, at[1]?, at[2]?]))
        })?;
        if points.len() < 3 {
            let found = format!("{} points", points.len());
            return Err(vec![source.fault(
                None,
                "",
                found,
                "three points or more, which make the deck".into(),
            )]);
        }
        Ok(points)
    }
}
