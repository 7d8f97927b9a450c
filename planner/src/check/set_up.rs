//! Set-ups: what was read of a bank as the block stood on the machine.

use std::collections::BTreeMap;

use super::checker::Checker;
use super::gathered::Files;
use super::readings::{Read, Readable, unheld};
use crate::files::{FrameWord, FrontWord, JobFile, ReadingsFile};
use crate::job::{Block, Front, MachineReadings, ReadingFrame, SetUp, TableKind};
use crate::read::bounds::MOST_TABLE_BYTES;
use crate::read::given::{At, Units};
use crate::read::quantity as q;
use crate::read::source::Source;
use rayon::prelude::*;

/// Every set-up of the job, with its tables, read side by side.
pub(super) fn set_ups(
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    block: &Block,
) -> Option<Vec<SetUp>> {
    let of_job: &Files = files;
    let one = |(i, given): (usize, &ReadingsFile)| {
        let mut own = of_job.beside();
        (set_up(source, file, &mut own, block, i, given), own)
    };
    let read: Vec<(Option<SetUp>, Files)> = file.readings.value.par_iter().enumerate().map(one).collect();
    // All are gone through, so that every fault is told.
    let mut set_ups = Vec::new();
    for (set_up, own) in read {
        files.join(own);
        set_ups.push(set_up);
    }
    set_ups.into_iter().collect()
}

/// Adds the faults that the tables of all set-ups have whatever the block, where that cannot be read.
pub(super) fn unheld_tables(source: &Source, file: &JobFile, files: &mut Files) {
    for (i, given) in file.readings.value.iter().enumerate() {
        let key = format!("readings[{i}]");
        let mut tables =
            Tables { source, files: &mut *files, key: &key, given, readable: None, units: file.units };
        for kind in TableKind::ALL {
            tables.read(kind, Readable::deck);
        }
    }
}

/// The file of a table, where a set-up names one.
fn named(given: &ReadingsFile, kind: TableKind) -> Option<&At<String>> {
    match kind {
        TableKind::Axis => &given.axis,
        TableKind::Bores => &given.bores,
        TableKind::Deck => &given.deck,
        TableKind::Heights => &given.heights,
        TableKind::Mains => &given.mains,
        TableKind::Points => &given.points,
        TableKind::Shape => &given.shape,
        TableKind::Walls => &given.walls,
        TableKind::Witness => &given.witness,
    }
    .as_ref()
}

/// One set-up of the job with its tables read; `None` where anything in it is wrong, with the faults told in
/// `files`. `index` is its place in the job's list.
fn set_up(
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    block: &Block,
    index: usize,
    given: &ReadingsFile,
) -> Option<SetUp> {
    let key = format!("readings[{index}]");
    let at = |field: &str| format!("{key}.{field}");
    let mut c = Checker::new(source, file.units);
    let names: Vec<String> = block.banks.iter().map(|b| b.name.clone()).collect();
    let name = c.name(&at("set_up"), &given.set_up);
    let bank = c.one_of(&at("bank"), &given.bank, &names, "one of the block's banks");
    let clamps = c.length_if_given(&at("clamps"), given.clamps.as_ref(), q::CLAMPS);
    let machine_frame = given.frame.value == FrameWord::Machine;
    let along = given.along.as_ref().and_then(|a| c.length(&at("along.x"), &a.value.x, q::COORDINATE));
    if machine_frame {
        if given.axis.is_none() && given.mains.is_none() {
            c.fault(
                given.frame.place,
                &at("axis"),
                "neither axis nor mains".into(),
                "points on the journal axis, with frame: machine",
            );
        }
        if given.along.is_none() {
            c.fault(
                given.frame.place,
                &at("along"),
                "nothing".into(),
                "`along: { x: … }`, the machine x of the along datum",
            );
        }
    } else {
        for kind in TableKind::ALL.into_iter().filter(|kind| kind.is_tie()) {
            if let Some(table) = named(given, kind) {
                let found = format!("`{}` beside frame: journal", kind.key());
                c.fault(table.place, &at(kind.key()), found, "it only with frame: machine");
            }
        }
        if let Some(along) = &given.along {
            let found = "`along` beside frame: journal".into();
            c.fault(along.place, &at("along"), found, "it only with frame: machine");
        }
    }
    files.faults.append(&mut c.faults);

    // By which frame or units a table is judged may be what the job's file is at fault with.
    let judged = !files.form_only() && !files.amended.has(&at("frame"));
    let readable = bank.filter(|_| judged).map(|bank| Readable::new(block, bank, file.units, !machine_frame));
    let mut tables =
        Tables { source, files, key: &key, given, readable: readable.as_ref(), units: file.units };
    let bores = tables.read(TableKind::Bores, Readable::bores);
    let points = tables.read(TableKind::Points, Readable::points);
    let walls = tables.read(TableKind::Walls, Readable::walls);
    let heights = tables.read(TableKind::Heights, Readable::heights);
    let shape = tables.read(TableKind::Shape, Readable::shape);
    let witness = tables.read(TableKind::Witness, Readable::witness);
    let frame = if machine_frame {
        let axis = tables.read(TableKind::Axis, Readable::axis);
        let mains = tables.read(TableKind::Mains, Readable::axis);
        let deck = tables.read(TableKind::Deck, Readable::deck);
        ReadingFrame::Machine(MachineReadings {
            axis: axis?,
            mains: mains?,
            deck_mm: deck?,
            along_x_mm: along?,
        })
    } else {
        // Tables that tie are a fault here, told above.
        ReadingFrame::Journal
    };
    Some(SetUp {
        name: name?,
        bank: bank?,
        front: match given.front.as_ref().map(|f| f.value).unwrap_or_default() {
            FrontWord::Left => Front::Left,
            FrontWord::Right => Front::Right,
        },
        clamps_mm: clamps?,
        frame,
        bores: bores?,
        points: points?,
        walls: walls?,
        heights: heights?,
        shape: shape?,
        witness: witness?,
        files: table_files(given),
    })
}

/// The file of each table that a set-up names.
fn table_files(given: &ReadingsFile) -> BTreeMap<TableKind, String> {
    let file = |kind: TableKind| Some((kind, named(given, kind)?.value.trim().to_owned()));
    TableKind::ALL.into_iter().filter_map(file).collect()
}

/// The tables of one set-up.
struct Tables<'a, 'b> {
    source: &'a Source,
    files: &'a mut Files,
    key: &'a str,
    given: &'a ReadingsFile,
    readable: Option<&'a Readable<'b>>,
    units: Units,
}

impl<'b> Tables<'_, 'b> {
    /// The rows of a table; none where the set-up names no such table, `None` where it is faulty.
    fn read<T>(
        &mut self,
        kind: TableKind,
        read: impl Fn(&Readable<'b>, &Source) -> Read<T>,
    ) -> Option<Vec<T>> {
        let Some(name) = named(self.given, kind) else { return Some(Vec::new()) };
        let key = format!("{}.{}", self.key, kind.key());
        let source = self.files.open(self.source, &key, name, MOST_TABLE_BYTES)?;
        let Some(readable) = self.readable else {
            let units = Some(self.units).filter(|_| !self.files.form_only());
            self.files.faults.extend(unheld(&source, kind, units));
            return None;
        };
        self.files.keep(read(readable, &source))
    }
}
