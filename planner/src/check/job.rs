//! Checks a job: its own values, its files, and what must agree between them.

use std::collections::BTreeMap;

use super::checker::Checker;
use super::fits::{fits_block, fits_finish, fits_span};
use super::gathered::Files;
use super::set_up::{set_ups, unheld_tables};
use super::shop::Shop;
use super::sleeves::{self, sleeves};
use super::{block, engine, figures, fixture, machine, temperature};
use crate::files::{AimWord, BlockFile, JOB_FORMAT, JobFile, ListsWord, MachineFile, SheetUnitsWord};
use crate::job::{
    Aim, Block, Described, Engine, Finish, Fixture, IndexSpan, Job, Limits, Machine, SetUp, SheetUnits,
    Sleeve, Temperature,
};
use crate::log::Log;
use crate::material::Material;
use crate::read::fault::plain;
use crate::read::given::At;
use crate::read::quantity as q;
use crate::read::source::Source;

/// The checked job of a job file and all files it names, in mm and degrees; `None` where anything is missing or
/// wrong, with every fault told in `files`.
pub(super) fn check(source: &Source, file: &JobFile, files: &mut Files) -> Option<Job> {
    let own = Own::of(source, file, files);
    let things = Things::of(source, file, files, &own.metals);
    let shop = Shop::of(source, file, files);

    let mut c = Checker::new(source, file.units);
    shop.instruments_missing(&mut c, file, files);
    if let Some(block) = &things.block {
        files.faults.extend(shop.no_thrust_side(source, file, &own.limits, block));
    }
    agree(&mut c, file, &own, &things);
    let allowances = (own.allowances, shop.figures.allowances);
    let measured = sleeves::measured(&mut c, source, file, files, &things.sleeves, allowances);
    let gasket_shift = things.block.as_ref().and_then(|block| gasket_shift(&mut c, file, block));
    if let (Some(span), Some(block)) = (&file.index_span, &things.block) {
        fits_span(&mut c, span, block);
    }
    if file.readings.value.is_empty() {
        let expected = "at least one set-up: nothing is planned unmeasured";
        c.fault(file.readings.place, "readings", "none".into(), expected);
    }
    files.faults.append(&mut c.faults);

    let set_ups = match &things.block {
        Some(block) => set_ups(source, file, files, block),
        None => {
            unheld_tables(source, file, files);
            None
        }
    };
    let instruments = figures::BothInstruments { own: own.instruments, shop: shop.figures.instruments };
    let job = Job {
        number: own.number?,
        customer: file.customer.as_ref().map(|c| c.value.clone()),
        units: file.units,
        sheet_units: match file.sheet_units {
            SheetUnitsWord::Mm => SheetUnits::Mm,
            SheetUnitsWord::In => SheetUnits::In,
            SheetUnitsWord::Both => SheetUnits::Both,
        },
        block: things.block?,
        sleeves: things.sleeves?,
        machine: things.machine?,
        aim: match file.aim.value {
            AimWord::Journal => Aim::Journal,
            AimWord::Parent => Aim::Parent,
        },
        finish: own.finish?,
        allowances: own.allowances.before(shop.figures.allowances),
        engine: own.engine?,
        loosened: figures::loosened(&own.limits, &shop.figures.limits),
        shop_limits: shop.figures.limits.clone(),
        limits: own.limits.before(shop.figures.limits),
        instruments: instruments.figures()?,
        bettered: instruments.bettered(),
        temperature: own.temperature?,
        list_per_cylinder: file.lists == ListsWord::Cylinder,
        measured: measured?,
        fixture: own.fixture?,
        index_span: own.index_span?,
        gasket_shift_mm: gasket_shift?,
        set_ups: set_ups?,
        log: Log::default(),
        cut: BTreeMap::new(),
        kept_sleeve: None,
        described: Described::default(),
        inputs: Vec::new(),
    };
    bores_read(source, file, files, &job.set_ups);
    Some(job)
}

/// What a job's own file says, each where it is sound.
struct Own {
    number: Option<String>,
    limits: Limits,
    instruments: figures::SomeInstruments,
    allowances: figures::SomeAllowances,
    finish: Option<Finish>,
    temperature: Option<Option<Temperature>>,
    fixture: Option<Option<Fixture>>,
    index_span: Option<Option<IndexSpan>>,
    /// Metals that it describes.
    metals: Vec<Material>,
    engine: Option<Engine>,
}

impl Own {
    fn of(source: &Source, file: &JobFile, files: &mut Files) -> Self {
        let mut c = Checker::new(source, file.units);
        c.format(&file.format, JOB_FORMAT);
        let number = c.name("job", &file.job);
        let limits = figures::limits(&mut c, &file.limits);
        let instruments = figures::instruments(&mut c, &file.instruments);
        let allowances = figures::allowances(&mut c, &file.allowances);
        let finish = super::finish::finish(&mut c, file);
        let temperature = temperature::check(&mut c, file.temperature.as_ref());
        let fixture = match &file.fixture {
            None => Some(None),
            Some(given) => fixture::check(&mut c, given).map(Some),
        };
        let index_span = fixture::index_span(&mut c, file.index_span.as_ref());
        let described = file.materials.iter().enumerate();
        let metals: Vec<Material> =
            described.filter_map(|(i, metal)| c.own_material(&format!("materials[{i}]"), metal)).collect();
        let mut c = c.with_metals(&metals);
        let engine = engine::check(&mut c, file);
        files.faults.append(&mut c.faults);
        Self {
            number,
            limits,
            instruments,
            allowances,
            finish,
            temperature,
            fixture,
            index_span,
            metals,
            engine,
        }
    }
}

/// What a job names: block, sleeves and machine, each where it is sound.
struct Things {
    block: Option<Block>,
    sleeves: Option<Vec<Sleeve>>,
    machine: Option<Machine>,
}

impl Things {
    /// `metals` are those that the job describes, which the files that it names may use.
    fn of(source: &Source, file: &JobFile, files: &mut Files, metals: &[Material]) -> Self {
        let check_block = |source: &Source, file: &BlockFile| block::check(source, file, metals);
        let block =
            files.described(source, "block", &file.block, check_block).and_then(|(_, _, block)| block);
        let own: Vec<Material> = metals.iter().cloned().chain(block.iter().flat_map(own_metals)).collect();
        let jacket = block.as_ref().and_then(|b| b.parent.jacket);
        let sleeves = sleeves(source, file, files, [&own, metals], jacket);
        let of_sleeves = sleeves.iter().flatten().map(|s| s.material.clone());
        let cut: Vec<Material> = own.iter().cloned().chain(of_sleeves).collect();
        let check_machine = |source: &Source, file: &MachineFile| machine::check(source, file, &cut);
        let machine = files
            .described(source, "machine", &file.machine, check_machine)
            .and_then(|(_, _, machine)| machine);
        Self { block, sleeves, machine }
    }
}

/// The metals of a block.
fn own_metals(block: &Block) -> Vec<Material> {
    let liner = block.parent.liner.as_ref().map(|l| l.material.clone());
    std::iter::once(block.parent.material.clone()).chain(liner).collect()
}

/// Tells what cannot be of sleeves, block and finished bore together.
fn agree(c: &mut Checker<'_>, file: &JobFile, own: &Own, things: &Things) {
    let (Some(sleeves), Some(finish)) = (&things.sleeves, &own.finish) else { return };
    if let Some(block) = &things.block {
        let cut = own.engine.as_ref().map_or(0.0, |e| e.deck.cut_mm);
        fits_block(c, file, sleeves, block, cut);
    }
    fits_finish(c, file, sleeves, finish);
}

/// Tells a job that has set-ups and not one bore read in them.
fn bores_read(source: &Source, file: &JobFile, files: &mut Files, set_ups: &[SetUp]) {
    if set_ups.is_empty() || set_ups.iter().any(|s| !s.bores.is_empty() || !s.points.is_empty()) {
        return;
    }
    let found = "no bore read in any set-up".into();
    let expected = "bores or points: a plan made from nothing measured would only repeat the drawing".into();
    files.faults.push(source.fault(Some(file.readings.place), "readings", found, expected));
}

/// How far the gasket of each bank is shifted along x and y, mm; nothing where the job says nothing of it.
fn gasket_shift(c: &mut Checker<'_>, file: &JobFile, block: &Block) -> Option<Vec<[f64; 2]>> {
    let names: Vec<String> = block.banks.iter().map(|b| b.name.clone()).collect();
    let mut shifts = vec![[0.0, 0.0]; names.len()];
    let before = c.faults.len();
    for (bank, shift) in &file.gasket_shift {
        let key = format!("gasket_shift.{}", plain(bank, 40));
        let named = At { value: bank.clone(), place: c.key_place(shift.place, bank) };
        let index = c.one_of(&key, &named, &names, "one of the banks");
        let x = c.length(&format!("{key}.x"), &shift.value.x, q::GASKET_SHIFT);
        let y = c.length(&format!("{key}.y"), &shift.value.y, q::GASKET_SHIFT);
        if let (Some(index), Some(x), Some(y)) = (index, x, y) {
            shifts[index] = [x, y];
        }
    }
    (c.faults.len() == before).then_some(shifts)
}
