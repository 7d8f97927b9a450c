//! Checks a job: its own values, its files, and what must agree between them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::checker::Checker;
use super::fits::{fits_block, fits_finish, fits_span};
use super::gathered::{Files, Places};
use super::set_up::{set_ups, unheld_tables};
use super::{block, engine, figures, fixture, machine, measured, sleeve, temperature};
use crate::files::{
    AimWord, BlockFile, JOB_FORMAT, JobFile, ListsWord, MachineFile, SHOP_FORMAT, SheetUnitsWord, ShopFile,
    SleeveFile,
};
use crate::job::{Aim, Block, Depths, Described, InputFile, Job, Limits, SheetUnits, Sleeve};
use crate::limits::parent_wall::THRUST;
use crate::log::{self, Log};
use crate::material::Material;
use crate::read::bounds::{MOST_RECORD_BYTES, MOST_TABLE_BYTES, MOST_YAML_BYTES};
use crate::read::fault::{Fault, Faults, plain};
use crate::read::given::At;
use crate::read::quantity as q;
use crate::read::source::Source;
use crate::read::yaml::{self, Amended, Faulty};

/// Most candidate sleeves of a job.
const MOST_SLEEVES: usize = 12;

/// Most faults that are kept; more would add nothing.
const MOST_FAULTS: usize = 1000;

/// Reads and checks a whole job: a folder with `job.yaml`, or that file.
///
/// # Errors
/// Every fault of every file, as far as it can be told from those of its form (`read::yaml::parse`).
pub fn load(path: &Path) -> Result<Job, Faults> {
    let file = if path.is_dir() { path.join("job.yaml") } else { path.to_owned() };
    let folder = file.parent().map(Path::to_owned).unwrap_or_default();
    load_from(&file, Places::Below(folder))
}

/// Loads and checks a job whose files are kept elsewhere: `file` is its job.yaml, `kept` has every other file by
/// what the job calls it. No other file is read, whatever the job names.
///
/// # Errors
/// Every fault of every file, as far as it can be told from those of its form (`read::yaml::parse`).
pub fn load_kept(file: &Path, kept: &BTreeMap<String, PathBuf>) -> Result<Job, Faults> {
    load_from(file, Places::Kept(kept.clone()))
}

/// The checked job of a job file, its other files looked up by `places`; else every fault of it and of them, up to
/// a number.
fn load_from(file: &Path, places: Places) -> Result<Job, Faults> {
    let name = file.file_name().map_or_else(|| "job.yaml".into(), |n| n.to_string_lossy().into_owned());
    let source = Source::read(&name, file, MOST_YAML_BYTES).map_err(|mut f| {
        f.file = file.display().to_string();
        if f.place.is_none() && !file.exists() {
            f.expected = "a job folder with its job.yaml, or that file".into();
        }
        Faults(vec![*f])
    })?;
    let mut files = Files {
        places: Arc::new(places),
        read: vec![InputFile { name: source.name.clone(), sha256: source.sha256.clone() }],
        described: Described::default(),
        faults: Vec::new(),
        amended: Amended::default(),
    };
    let checked = match yaml::parse::<JobFile>(&source) {
        Ok(job) => check(&source, &job, &mut files),
        Err(faulty) => return Err(at_fault(&source, *faulty, files)),
    };
    files.described.keep("job", source);
    let log = record(&mut files);
    match checked {
        Some(mut job) if files.faults.is_empty() => {
            job.log = log;
            job.inputs = files.read;
            job.described = files.described;
            Ok(job)
        }
        _ => {
            files.faults.truncate(MOST_FAULTS);
            Err(Faults(files.faults))
        }
    }
}

/// The faults of a job whose own file is at fault in its form: those, and what else is wrong with it and with the files
/// that it names, but for what a stand-in may have caused.
fn at_fault(source: &Source, faulty: Faulty<JobFile>, mut files: Files) -> Faults {
    let mut faults = faulty.faults;
    if let Some(rest) = faulty.rest {
        files.amended = rest.amended;
        check(source, &rest.file, &mut files);
        record(&mut files);
        let amended = files.amended;
        let caused = |fault: &Fault| fault.file == source.name && amended.may_cause(fault);
        faults.extend(files.faults.into_iter().filter(|fault| !caused(fault)));
    }
    faults.truncate(MOST_FAULTS);
    Faults(faults)
}

/// The record, where the job has one. What is wrong in it is a finding of the plan and no fault of the job.
fn record(files: &mut Files) -> Log {
    let path = files.places.path(log::FILE);
    if std::fs::symlink_metadata(&path).is_err() {
        return Log::default();
    }
    match Source::read(log::FILE, &path, MOST_RECORD_BYTES) {
        Ok(source) => {
            files.read.push(InputFile { name: source.name.clone(), sha256: source.sha256.clone() });
            Log::read(source.text.as_bytes())
        }
        Err(fault) => {
            files.faults.push(*fault);
            Log::default()
        }
    }
}

/// The checked job of a job file and all files it names, in mm and degrees; `None` where anything is missing or
/// wrong, with every fault told in `files`.
fn check(source: &Source, file: &JobFile, files: &mut Files) -> Option<Job> {
    let mut c = Checker::new(source, file.units);
    c.format(&file.format, JOB_FORMAT);
    let number = c.name("job", &file.job);
    let own_limits = figures::limits(&mut c, &file.limits);
    let own_instruments = figures::instruments(&mut c, &file.instruments);
    let own_allowances = figures::allowances(&mut c, &file.allowances);
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

    let block = files
        .described(source, "block", &file.block, |source, file: &BlockFile| {
            block::check(source, file, &metals)
        })
        .and_then(|(_, _, block)| block);
    let own: Vec<Material> = metals.iter().cloned().chain(block.iter().flat_map(own_metals)).collect();
    let jacket = block.as_ref().and_then(|b| b.parent.jacket);
    let sleeves = sleeves(source, file, files, &own, &metals, jacket);
    let cut: Vec<Material> =
        own.iter().cloned().chain(sleeves.iter().flatten().map(|s| s.material.clone())).collect();
    let machine = files
        .described(source, "machine", &file.machine, |source, file: &MachineFile| {
            machine::check(source, file, &cut)
        })
        .and_then(|(_, _, machine)| machine);
    let shop = file.shop.as_ref().and_then(|name| files.described(source, "shop", name, shop_checked));
    let (shop_source, shop_file) =
        shop.as_ref().map_or((None, None), |(source, file, _)| (Some(source), Some(file)));
    let shop_readable = (file.shop.is_none() || shop_file.is_some()) && !files.amended.has("shop");
    let shops = shop.as_ref().map(|(source, file, _)| shops(source, file).0).unwrap_or_default();
    let loosened = figures::loosened(&own_limits, &shops.limits);
    let shop_limits = shops.limits.clone();
    let limits = own_limits.before(shops.limits);
    let (shop_instruments, shop_allowances) = (shops.instruments, shops.allowances);

    let mut c = Checker::new(source, file.units);
    if shop_readable {
        instruments_missing(&mut c, file, shop_file);
    }
    if let Some(block) = block.as_ref().filter(|_| limits.get(THRUST.name).is_some()) {
        files.faults.extend(no_thrust_side((source, file), shop_source.zip(shop_file), block));
    }
    if let (Some(sleeves), Some(finish)) = (&sleeves, &finish) {
        if let Some(block) = &block {
            let cut = engine.as_ref().map_or(0.0, |e| e.deck.cut_mm);
            fits_block(&mut c, file, sleeves, block, cut);
        }
        fits_finish(&mut c, file, sleeves, finish);
    }
    let measured = match (&file.sleeves_measured, &sleeves) {
        (None, _) => Some(Vec::new()),
        (Some(_), None) => None,
        (Some(name), Some(sleeves)) => files
            .open(source, "sleeves_measured", name, MOST_TABLE_BYTES)
            .and_then(|table| files.keep(measured::check(&table, sleeves, file.units))),
    };
    if let (Some(table), Some(0.0)) = (&file.sleeves_measured, own_allowances.pocket_mm(shop_allowances)) {
        let found = "sleeves measured one by one, and no allowance for the pocket's finishing pass".into();
        let expected = "`allowances.pocket` above nothing: each bore is finished to its own sleeve";
        c.fault(table.place, "sleeves_measured", found, expected);
    }
    let gasket_shift = block.as_ref().and_then(|block| gasket_shift(&mut c, file, block));
    if let (Some(span), Some(block)) = (&file.index_span, &block) {
        fits_span(&mut c, span, block);
    }
    if file.readings.value.is_empty() {
        c.fault(
            file.readings.place,
            "readings",
            "none".into(),
            "at least one set-up: nothing is planned unmeasured",
        );
    }
    files.faults.append(&mut c.faults);

    let set_ups = match &block {
        Some(block) => set_ups(source, file, files, block),
        None => {
            unheld_tables(source, file, files);
            None
        }
    };
    let instruments = figures::BothInstruments { own: own_instruments, shop: shop_instruments };
    let job = Job {
        number: number?,
        customer: file.customer.as_ref().map(|c| c.value.clone()),
        units: file.units,
        sheet_units: match file.sheet_units {
            SheetUnitsWord::Mm => SheetUnits::Mm,
            SheetUnitsWord::In => SheetUnits::In,
            SheetUnitsWord::Both => SheetUnits::Both,
        },
        block: block?,
        sleeves: sleeves?,
        machine: machine?,
        aim: match file.aim.value {
            AimWord::Journal => Aim::Journal,
            AimWord::Parent => Aim::Parent,
        },
        finish: finish?,
        allowances: own_allowances.before(shop_allowances),
        engine: engine?,
        limits,
        instruments: instruments.figures()?,
        bettered: instruments.bettered(),
        loosened,
        shop_limits,
        temperature: temperature?,
        list_per_cylinder: file.lists == ListsWord::Cylinder,
        measured: measured?,
        fixture: fixture?,
        index_span: index_span?,
        gasket_shift_mm: gasket_shift?,
        set_ups: set_ups?,
        log: Log::default(),
        cut: BTreeMap::new(),
        kept_sleeve: None,
        described: Described::default(),
        inputs: Vec::new(),
    };
    if !job.set_ups.is_empty() && job.set_ups.iter().all(|s| s.bores.is_empty() && s.points.is_empty()) {
        let found = "no bore read in any set-up".into();
        files.faults.push(source.fault(
            Some(file.readings.place),
            "readings",
            found,
            "bores or points: a plan made from nothing measured would only repeat the drawing".into(),
        ));
    }
    Some(job)
}

/// The house's own figures.
#[derive(Default)]
struct Shops {
    limits: Limits,
    instruments: figures::SomeInstruments,
    allowances: figures::SomeAllowances,
}

/// The figures of a shop's file that are sound, and the faults of the others.
fn shops(source: &Source, file: &ShopFile) -> (Shops, Vec<Fault>) {
    let mut c = Checker::new(source, file.units);
    c.format(&file.format, SHOP_FORMAT);
    let shops = Shops {
        limits: figures::limits(&mut c, &file.limits),
        instruments: figures::instruments(&mut c, &file.instruments),
        allowances: figures::allowances(&mut c, &file.allowances),
    };
    (shops, c.faults)
}

fn shop_checked(source: &Source, file: &ShopFile) -> Result<(), Vec<Fault>> {
    let (_, faults) = shops(source, file);
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

/// Instruments that neither file gives, pointed at where they would come from.
fn instruments_missing(c: &mut Checker<'_>, file: &JobFile, shop: Option<&ShopFile>) {
    for name in figures::missing(&file.instruments, shop.map(|s| &s.instruments)) {
        let place = file.shop.as_ref().map_or(file.format.place, |shop| shop.place);
        let found = if file.shop.is_some() { "nothing, here or in the shop file" } else { "nothing" };
        let expected = "a standard uncertainty: verdicts rest on it";
        c.fault(place, &format!("instruments.{name}"), found.into(), expected);
    }
}

/// A limit on the thrust side of a block that does not say which way its crankshaft turns.
fn no_thrust_side(
    (source, file): (&Source, &JobFile),
    shop: Option<(&Source, &ShopFile)>,
    block: &Block,
) -> Option<Fault> {
    if block.rotation.is_some() {
        return None;
    }
    let own = file.limits.place(&THRUST).map(|place| (source, place));
    let shops = || shop.and_then(|(source, file)| Some((source, file.limits.place(&THRUST)?)));
    let (stated, place) = own.or_else(shops).unwrap_or((source, file.format.place));
    let expected =
        "`rotation` in the block file, clockwise or anticlockwise: it says which side is the thrust side";
    let found = format!("a thrust limit, and no rotation in block `{}`", plain(&block.name, 40));
    Some(stated.fault(Some(place), &format!("limits.{}", THRUST.name), found, expected.into()))
}

fn own_metals(block: &Block) -> Vec<Material> {
    let liner = block.parent.liner.as_ref().map(|l| l.material.clone());
    std::iter::once(block.parent.material.clone()).chain(liner).collect()
}

/// The candidate sleeves in the job's order; `None` where one of them is wrong or their number is. Two of one name
/// are told.
fn sleeves(
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    own: &[Material],
    metals: &[Material],
    jacket: Option<Depths>,
) -> Option<Vec<Sleeve>> {
    let given = &file.sleeves;
    if given.value.is_empty() || given.value.len() > MOST_SLEEVES {
        let found = format!("{} sleeves", given.value.len());
        let expected = format!("1 to {MOST_SLEEVES} candidate sleeves");
        files.faults.push(source.fault(Some(given.place), "sleeves", found, expected));
        return None;
    }
    let mut sleeves: Vec<Sleeve> = Vec::new();
    for (i, name) in given.value.iter().enumerate() {
        let key = format!("sleeves[{i}]");
        let checked = files.described(source, &key, name, |source, file: &SleeveFile| {
            sleeve::check(source, file, own, metals, jacket)
        });
        let Some((_, _, Some(sleeve))) = checked else { continue };
        if let Some(other) = sleeves.iter().find(|s| as_read(&s.name) == as_read(&sleeve.name)) {
            let own = plain(&sleeve.name, 40);
            let found = if other.name == sleeve.name {
                format!("the sleeve `{own}` a second time")
            } else {
                format!("the sleeve `{own}` beside `{}`, which reads alike", plain(&other.name, 40))
            };
            files.faults.push(source.fault(
                Some(name.place),
                &key,
                found,
                "sleeves with names of their own".into(),
            ));
        }
        sleeves.push(sleeve);
    }
    (sleeves.len() == given.value.len()).then_some(sleeves)
}

/// A name as it is read off a box: no case, no blanks, O and 0, l and 1 alike; what stands between its figures counts, as in 10.5.
fn as_read(name: &str) -> String {
    let one = |c: char| match c {
        'o' => '0',
        'i' | 'l' => '1',
        other => other,
    };
    name.to_lowercase().chars().filter(|c| !c.is_whitespace()).map(one).collect()
}

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
