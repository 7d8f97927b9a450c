//! Set-ups: what was read of a bank as the block stood on the machine.

use std::collections::BTreeMap;

use super::checker::Checker;
use super::gathered::Files;
use super::readings::{Read, Readable, unheld};
use crate::files::{FrameWord, FrontWord, JobFile, ReadingsFile};
use crate::job::{Block, Front, MachineReadings, ReadingFrame, SetUp};
use crate::read::bounds::MOST_TABLE_BYTES;
use crate::read::given::{At, Units};
use crate::read::quantity as q;
use crate::read::source::Source;

/// Every set-up of the job, with its tables.
pub(super) fn set_ups(
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    block: &Block,
) -> Option<Vec<SetUp>> {
    let set_ups: Vec<Option<SetUp>> = file
        .readings
        .value
        .iter()
        .enumerate()
        .map(|(i, given)| set_up(source, file, files, block, i, given))
        .collect();
    set_ups.into_iter().collect()
}

/// Adds the faults that the tables of all set-ups have whatever the block, where that cannot be read.
pub(super) fn unheld_tables(source: &Source, file: &JobFile, files: &mut Files) {
    for (i, given) in file.readings.value.iter().enumerate() {
        let key = format!("readings[{i}]");
        let mut tables = Tables { source, files: &mut *files, key: &key, readable: None, units: file.units };
        for (field, name) in named(given) {
            tables.read(field, name.as_ref(), Readable::deck);
        }
    }
}

/// The tables that a set-up can name.
fn named(given: &ReadingsFile) -> [(&'static str, &Option<At<String>>); 9] {
    [
        ("bores", &given.bores),
        ("points", &given.points),
        ("walls", &given.walls),
        ("heights", &given.heights),
        ("shape", &given.shape),
        ("witness", &given.witness),
        ("axis", &given.axis),
        ("mains", &given.mains),
        ("deck", &given.deck),
    ]
}

/// One set-up of the job with its tables read; `None` where anything in it is wrong, with the faults told in
/// `files`. `index` is its place in the job's list.
fn set_up<'f>(
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    block: &Block,
    index: usize,
    given: &'f ReadingsFile,
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
        let tied = [("axis", &given.axis), ("mains", &given.mains), ("deck", &given.deck)];
        for (field, table) in tied {
            if let Some(table) = table {
                c.fault(
                    table.place,
                    &at(field),
                    format!("`{field}` beside frame: journal"),
                    "it only with frame: machine",
                );
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
    let mut tables = Tables { source, files, key: &key, readable: readable.as_ref(), units: file.units };
    let bores = tables.read("bores", given.bores.as_ref(), Readable::bores);
    let points = tables.read("points", given.points.as_ref(), Readable::points);
    let walls = tables.read("walls", given.walls.as_ref(), Readable::walls);
    let heights = tables.read("heights", given.heights.as_ref(), Readable::heights);
    let shape = tables.read("shape", given.shape.as_ref(), Readable::shape);
    let witness = tables.read("witness", given.witness.as_ref(), Readable::witness);
    // With frame: journal these tables are a fault, told above.
    let tied = |name: &'f Option<At<String>>| name.as_ref().filter(|_| machine_frame);
    let axis = tables.read("axis", tied(&given.axis), Readable::axis);
    let mains = tables.read("mains", tied(&given.mains), Readable::axis);
    let deck = tables.read("deck", tied(&given.deck), Readable::deck);
    let frame = if machine_frame {
        ReadingFrame::Machine(MachineReadings {
            axis: axis?,
            mains: mains?,
            deck_mm: deck?,
            along_x_mm: along?,
        })
    } else {
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
fn table_files(given: &ReadingsFile) -> BTreeMap<&'static str, String> {
    let tables = [
        ("axis", &given.axis),
        ("mains", &given.mains),
        ("deck", &given.deck),
        ("bores", &given.bores),
        ("points", &given.points),
        ("walls", &given.walls),
    ];
    tables
        .into_iter()
        .filter_map(|(name, file)| Some((name, file.as_ref()?.value.trim().to_owned())))
        .collect()
}

/// The tables of one set-up.
struct Tables<'a, 'b> {
    source: &'a Source,
    files: &'a mut Files,
    key: &'a str,
    readable: Option<&'a Readable<'b>>,
    units: Units,
}

impl<'b> Tables<'_, 'b> {
    /// The rows of a table; none where the set-up names no such table, `None` where it is faulty.
    fn read<T>(
        &mut self,
        field: &str,
        name: Option<&At<String>>,
        read: impl Fn(&Readable<'b>, &Source) -> Read<T>,
    ) -> Option<Vec<T>> {
        let Some(name) = name else { return Some(Vec::new()) };
        let key = format!("{}.{field}", self.key);
        let source = self.files.open(self.source, &key, name, MOST_TABLE_BYTES)?;
        let Some(readable) = self.readable else {
            let units = Some(self.units).filter(|_| !self.files.form_only());
            self.files.faults.extend(unheld(&source, field, units));
            return None;
        };
        self.files.keep(read(readable, &source))
    }
}
