//! Checks a job: its own values, its files, and what must agree between them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::checker::Checker;
use super::readings::{Read, Readable};
use super::{block, engine, figures, fixture, machine, measured, sleeve};
use crate::files::{
    AimWord, BlockFile, FrameWord, FrontWord, IndexSpanFile, JobFile, ListsWord, MachineFile, ReadingsFile,
    SheetUnitsWord, ShopFile, SleeveFile,
};
use crate::job::{
    Aim, Block, Depths, Finish, Front, IndexSpan, InputFile, Instruments, Job, LEAN, MachineReadings,
    ReadingFrame, SetUp, SheetUnits, Sleeve, Temperature, Warmth,
};
use crate::limits::parent_wall::THRUST;
use crate::log::{self, Log};
use crate::material::Material;
use crate::read::fault::{Fault, Faults, plain};
use crate::read::given::{At, Units};
use crate::read::quantity as q;
use crate::read::source::{MOST_TABLE_BYTES, MOST_YAML_BYTES, Source};
use crate::read::yaml;

/// Left for the hone on diameter unless stated, mm. Common practice, no source.
const HONE_STOCK_MM: f64 = 0.06;
/// Tolerance of the finished bore unless stated, mm. Common practice, no source.
const TOLERANCE_MM: f64 = 0.010;

/// An index farther off the described angle than this is another one, degrees.
const MOST_SPAN_ERROR_DEG: f64 = 1.0;

/// Most candidate sleeves of a job.
const MOST_SLEEVES: usize = 12;

/// Most faults that are kept: a thousand say no less than more.
const MOST_FAULTS: usize = 1000;

/// Files of a job, read as they go by.
struct Files {
    places: Places,
    read: Vec<InputFile>,
    faults: Vec<Fault>,
}

/// Where the files lie that a job names.
enum Places {
    /// Relative to the job's folder.
    Below(PathBuf),
    /// Where somebody keeps them, by what the job calls them, and nowhere else.
    Kept(BTreeMap<String, PathBuf>),
}

impl Places {
    fn path(&self, name: &str) -> PathBuf {
        match self {
            Self::Below(folder) => folder.join(name),
            // A name that is not kept leads to no file.
            Self::Kept(kept) => kept.get(name).cloned().unwrap_or_default(),
        }
    }
}

impl Files {
    fn open(&mut self, job: &Source, key: &str, name: &At<String>, most_bytes: u64) -> Option<Source> {
        let path = self.places.path(name.value.trim());
        match Source::read(name.value.trim(), &path, most_bytes) {
            Ok(source) => {
                if !self.read.iter().any(|f| f.name == source.name) {
                    self.read.push(InputFile { name: source.name.clone(), sha256: source.sha256.clone() });
                }
                Some(source)
            }
            Err(fault) => {
                // A file that cannot be opened is the job's fault, at the name; bad bytes are the file's own.
                let fault = if fault.place.is_some() {
                    *fault
                } else {
                    let found = format!("`{}`: {}", plain(name.value.trim(), 80), fault.found);
                    let mut fault = job.fault(Some(name.place), key, found, fault.expected);
                    if name.value.contains('\\') && !path.exists() {
                        fault.help = Some("write `/` between folders: every system reads it".into());
                    }
                    fault
                };
                self.faults.push(fault);
                None
            }
        }
    }

    fn parse<T: serde::de::DeserializeOwned>(
        &mut self,
        job: &Source,
        key: &str,
        name: &At<String>,
    ) -> Option<(Source, T)> {
        let source = self.open(job, key, name, MOST_YAML_BYTES)?;
        match yaml::parse(&source) {
            Ok(file) => Some((source, file)),
            Err(fault) => {
                self.faults.push(*fault);
                None
            }
        }
    }

    fn keep<T>(&mut self, checked: Result<T, Vec<Fault>>) -> Option<T> {
        checked.map_err(|mut faults| self.faults.append(&mut faults)).ok()
    }
}

/// Reads and checks a whole job: a folder with `job.yaml`, or that file.
///
/// # Errors
/// Every value fault of every file; of a file whose YAML or shape is broken, its first.
pub fn load(path: &Path) -> Result<Job, Faults> {
    let file = if path.is_dir() { path.join("job.yaml") } else { path.to_owned() };
    let folder = file.parent().map(Path::to_owned).unwrap_or_default();
    load_from(&file, Places::Below(folder))
}

/// The same for a job whose files are kept elsewhere: `file` is its job.yaml, `kept` has every other file by what the
/// job calls it. No other file is read, whatever the job names.
///
/// # Errors
/// Every value fault of every file; of a file whose YAML or shape is broken, its first.
pub fn load_kept(file: &Path, kept: &BTreeMap<String, PathBuf>) -> Result<Job, Faults> {
    load_from(file, Places::Kept(kept.clone()))
}

fn load_from(file: &Path, places: Places) -> Result<Job, Faults> {
    let name = file.file_name().map_or_else(|| "job.yaml".into(), |n| n.to_string_lossy().into_owned());
    let source = Source::read(&name, file, MOST_YAML_BYTES).map_err(|mut f| {
        f.file = file.display().to_string();
        if f.place.is_none() && !file.exists() {
            f.expected = "a job folder with its job.yaml, or that file".into();
        }
        Faults(vec![*f])
    })?;
    let job: JobFile = yaml::parse(&source).map_err(|f| Faults(vec![*f]))?;
    let mut files = Files {
        places,
        read: vec![InputFile { name: source.name.clone(), sha256: source.sha256.clone() }],
        faults: Vec::new(),
    };
    let checked = check(&source, &job, &mut files);
    let log = record(&mut files);
    match checked {
        Some(mut job) if files.faults.is_empty() => {
            job.log = log;
            job.inputs = files.read;
            Ok(job)
        }
        _ => {
            files.faults.truncate(MOST_FAULTS);
            Err(Faults(files.faults))
        }
    }
}

/// The units of a job's bare numbers, from its `job.yaml` alone: what was measured can be written down whatever else
/// is wrong with the job just now.
///
/// # Errors
/// A file that is missing or no job.
pub fn units(path: &Path) -> Result<Units, Faults> {
    let file = if path.is_dir() { path.join("job.yaml") } else { path.to_owned() };
    let one = |fault: Box<Fault>| Faults(vec![*fault]);
    let source = Source::read(&file.display().to_string(), &file, MOST_YAML_BYTES).map_err(one)?;
    let job: JobFile = yaml::parse(&source).map_err(one)?;
    Ok(job.units)
}

/// The record, where the job has one: what is in it is told by whoever reads it, and is no fault of the job.
fn record(files: &mut Files) -> Log {
    let path = files.places.path(log::FILE);
    if std::fs::symlink_metadata(&path).is_err() {
        return Log::default();
    }
    match Source::read(log::FILE, &path, MOST_TABLE_BYTES) {
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

fn check(source: &Source, file: &JobFile, files: &mut Files) -> Option<Job> {
    let mut c = Checker::new(source, file.units);
    c.format(&file.format, "borewright/job/1");
    let number = c.name("job", &file.job);
    let own_limits = figures::limits(&mut c, &file.limits);
    let own_instruments = figures::instruments(&mut c, &file.instruments);
    let own_allowances = figures::allowances(&mut c, &file.allowances);
    let finish = finish(&mut c, file);
    let temperature = match &file.temperature {
        None => Some(None),
        Some(t) => {
            let block = c.celsius("temperature.block", &t.block);
            let machine = c.celsius("temperature.machine", &t.machine);
            let u_k = t.u.as_ref().and_then(|u| c.number("temperature.u", u, q::KELVIN));
            let measuring = block.zip(machine).map(|(block_c, machine_c)| Warmth { block_c, machine_c });
            let cutting = match &t.cutting {
                None => measuring,
                Some(cutting) => {
                    let block = c.celsius("temperature.cutting.block", &cutting.block);
                    let machine = c.celsius("temperature.cutting.machine", &cutting.machine);
                    block.zip(machine).map(|(block_c, machine_c)| Warmth { block_c, machine_c })
                }
            };
            measuring.zip(cutting).map(|(measuring, cutting)| {
                Some(Temperature { measuring, cutting, u_k, cutting_stated: t.cutting.is_some() })
            })
        }
    };
    let fixture = match &file.fixture {
        None => Some(None),
        Some(given) => fixture::check(&mut c, given).map(Some),
    };
    let index_span = match &file.index_span {
        None => Some(None),
        Some(span) => {
            let angle = c.angle("index_span.angle", &span.angle, q::BANK_ANGLE);
            let u = c.angle("index_span.u", &span.u, q::ANGLE_UNCERTAINTY);
            angle.zip(u).map(|(angle_deg, u_deg)| Some(IndexSpan { angle_deg, u_deg }))
        }
    };
    let described = file.materials.iter().enumerate();
    let metals: Vec<Material> =
        described.filter_map(|(i, metal)| c.own_material(&format!("materials[{i}]"), metal)).collect();
    let mut c = c.with_metals(&metals);
    let engine = engine::check(&mut c, file);
    files.faults.append(&mut c.faults);

    let block = files
        .parse::<BlockFile>(source, "block", &file.block)
        .and_then(|(source, file)| files.keep(block::check(&source, &file, &metals)));
    let own: Vec<Material> = metals.iter().cloned().chain(block.iter().flat_map(own_metals)).collect();
    let jacket = block.as_ref().and_then(|b| b.parent.jacket);
    let sleeves = sleeves(source, file, files, &own, &metals, jacket);
    let cut: Vec<Material> =
        own.iter().cloned().chain(sleeves.iter().flatten().map(|s| s.material.clone())).collect();
    let machine = files
        .parse::<MachineFile>(source, "machine", &file.machine)
        .and_then(|(source, file)| files.keep(machine::check(&source, &file, &cut)));
    let shop = file.shop.as_ref().map(|name| files.parse::<ShopFile>(source, "shop", name));
    let (shop_source, shop_file) = match &shop {
        Some(Some((source, file))) => (Some(source), Some(file)),
        _ => (None, None),
    };
    let mut limits = own_limits;
    let mut shop_instruments = figures::SomeInstruments::default();
    let mut shop_allowances = figures::SomeAllowances::default();
    if let (Some(shop_source), Some(shop_file)) = (shop_source, shop_file) {
        let mut c = Checker::new(shop_source, shop_file.units);
        c.format(&shop_file.format, "borewright/shop/1");
        limits = limits.before(figures::limits(&mut c, &shop_file.limits));
        shop_instruments = figures::instruments(&mut c, &shop_file.instruments);
        shop_allowances = figures::allowances(&mut c, &shop_file.allowances);
        files.faults.append(&mut c.faults);
    }
    let shop_readable = file.shop.is_none() || shop_file.is_some();

    let mut c = Checker::new(source, file.units);
    for name in figures::missing(&file.instruments, shop_file.map(|s| &s.instruments)) {
        if shop_readable {
            // Pointed at where it would come from.
            let place = file.shop.as_ref().map_or(file.format.place, |shop| shop.place);
            let found = if file.shop.is_some() { "nothing, here or in the shop file" } else { "nothing" };
            let expected = "a standard uncertainty: verdicts rest on it";
            c.fault(place, &format!("instruments.{name}"), found.into(), expected);
        }
    }
    if let (Some(block), Some(_), None) =
        (&block, limits.get(THRUST.name), block.as_ref().and_then(|b| b.rotation))
    {
        let own = file.limits.place(&THRUST).map(|place| (source, place));
        let shops = || Some((shop_source?, shop_file?.limits.place(&THRUST)?));
        let (stated, place) = own.or_else(shops).unwrap_or((source, file.format.place));
        let expected =
            "`rotation` in the block file, clockwise or anticlockwise: it says which side is the thrust side";
        let found = format!("a thrust limit, and no rotation in block `{}`", plain(&block.name, 40));
        files.faults.push(stated.fault(
            Some(place),
            &format!("limits.{}", THRUST.name),
            found,
            expected.into(),
        ));
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
            .open(source, "sleeves_measured", name, crate::read::source::MOST_TABLE_BYTES)
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

    let set_ups = block.as_ref().and_then(|block| set_ups(source, file, files, block));
    let instrument =
        |get: fn(&figures::SomeInstruments) -> Option<f64>| get(&own_instruments).or(get(&shop_instruments));
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
        instruments: Instruments {
            centre_mm: instrument(|i| i.centre)?,
            diameter_mm: instrument(|i| i.diameter)?,
            wall_mm: instrument(|i| i.wall)?,
            axis_mm: instrument(|i| i.axis)?,
            along_mm: instrument(|i| i.along)?,
            machine_mm: instrument(|i| i.machine)?,
            deck_mm: instrument(|i| i.deck).or(instrument(|i| i.centre))?,
            lean: instrument(|i| i.lean).unwrap_or(LEAN),
        },
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

fn own_metals(block: &Block) -> Vec<Material> {
    let liner = block.parent.liner.as_ref().map(|l| l.material.clone());
    std::iter::once(block.parent.material.clone()).chain(liner).collect()
}

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
        let Some((from, parsed)) = files.parse::<SleeveFile>(source, &key, name) else { continue };
        let Some(sleeve) = files.keep(sleeve::check(&from, &parsed, own, metals, jacket)) else { continue };
        if sleeves.iter().any(|s| s.name == sleeve.name) {
            let found = format!("the sleeve `{}` a second time", plain(&sleeve.name, 40));
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

fn finish(c: &mut Checker<'_>, file: &JobFile) -> Option<Finish> {
    let given = &file.finish.value;
    let stock = c.length_if_given("finish.hone_stock", given.hone_stock.as_ref(), q::HONE_STOCK);
    let tolerance = c.length_if_given("finish.tolerance", given.tolerance.as_ref(), q::TOLERANCE);
    let plate = c.length_if_given("finish.plate", given.plate.as_ref(), q::PLATE);
    let bore = match (&given.bore, &given.piston, &given.clearance) {
        (Some(bore), None, None) => c.length("finish.bore", bore, q::BORE),
        (None, Some(piston), Some(clearance)) => {
            let piston = c.length("finish.piston", piston, q::BORE);
            let clearance = c.length("finish.clearance", clearance, q::PISTON_CLEARANCE);
            piston.zip(clearance).map(|(piston, clearance)| piston + clearance)
        }
        (bore, piston, clearance) => {
            let first = [bore, piston, clearance].into_iter().flatten().next();
            let place = first.map_or(file.finish.place, |at| at.place);
            let found = match (bore, piston, clearance) {
                (Some(_), _, _) => "a bore beside a piston or clearance",
                (None, Some(_), None) => "a piston without its clearance",
                (None, None, Some(_)) => "a clearance without its piston",
                _ => "neither bore nor piston",
            };
            c.fault(place, "finish", found.into(), "`bore`, or `piston` with `clearance`");
            None
        }
    };
    Some(Finish {
        bore_mm: bore?,
        hone_stock_mm: stock?.unwrap_or(HONE_STOCK_MM),
        tolerance_mm: tolerance?.unwrap_or(TOLERANCE_MM),
        plate_mm: plate?,
    })
}

/// No tool may be sent below the room that the block describes, and no pocket below the bore's end and that room.
fn fits_block(c: &mut Checker<'_>, file: &JobFile, sleeves: &[Sleeve], block: &Block, deck_cut_mm: f64) {
    let below = block.parent.bore_length_mm + block.parent.room_below_mm;
    for (sleeve, given) in sleeves.iter().zip(&file.sleeves.value) {
        let deepest = sleeve.body.last().map_or(0.0, |s| s.to_mm).max(sleeve.length_mm) + deck_cut_mm;
        // A length typed in inches comes out a rounding longer.
        if deepest > below + 1e-3 {
            let found = format!("sleeve `{}` down to {deepest:.3} mm", plain(&sleeve.name, 40));
            let expected = format!(
                "at most {below:.3} mm: the bore of {} mm and the room of {} mm below it",
                block.parent.bore_length_mm, block.parent.room_below_mm
            );
            c.fault(given.place, "sleeves", found, &expected);
        }
    }
}

/// A span is the turn between two banks, and near what the block describes.
fn fits_span(c: &mut Checker<'_>, span: &IndexSpanFile, block: &Block) {
    let [one, other] = block.banks.as_slice() else {
        let found = format!("an index span for a block with {} bank", block.banks.len());
        c.fault(span.angle.place, "index_span.angle", found, "it only for a block with two banks");
        return;
    };
    let described = (one.angle_deg - other.angle_deg).abs();
    // A fault told already where it is no angle.
    let read = crate::read::measure::angle_deg(&span.angle.value.0).unwrap_or(described);
    if (read - described).abs() > MOST_SPAN_ERROR_DEG && q::BANK_ANGLE.holds(read) {
        let found = format!("{read} degrees");
        let expected = format!(
            "within {MOST_SPAN_ERROR_DEG} degree of the {described} between the banks: the turn from one bank up to the other"
        );
        c.fault(span.angle.place, "index_span.angle", found, &expected);
    }
}

/// A sleeve must hold the finished bore: metal to cut, and a wall left.
fn fits_finish(c: &mut Checker<'_>, file: &JobFile, sleeves: &[Sleeve], finish: &Finish) {
    for (sleeve, given) in sleeves.iter().zip(&file.sleeves.value) {
        let name = plain(&sleeve.name, 40);
        let key = "sleeves";
        if sleeve.bore_mm > finish.bore_mm - finish.hone_stock_mm {
            let found = format!("sleeve `{name}` with a bore of {} mm", sleeve.bore_mm);
            let most = finish.bore_mm - finish.hone_stock_mm;
            c.fault(
                given.place,
                key,
                found,
                &format!("a bore of at most {most:.3} mm, so that the finish bore cuts"),
            );
        }
        let grooves = sleeve.body.iter().flat_map(|s| &s.o_rings).map(|o| o.groove_diameter_mm);
        let groove = grooves.fold(f64::INFINITY, f64::min);
        let thinnest = sleeve.body.iter().map(|s| s.diameter_mm).fold(f64::INFINITY, f64::min);
        if thinnest <= finish.bore_mm {
            let found = format!("sleeve `{name}` of {thinnest} mm outside");
            c.fault(
                given.place,
                key,
                found,
                &format!("an outside larger than the finished bore of {} mm", finish.bore_mm),
            );
        } else if groove <= finish.bore_mm {
            let found = format!("sleeve `{name}` with a groove of {groove} mm");
            let expected = format!("grooves larger than the finished bore of {} mm", finish.bore_mm);
            c.fault(given.place, key, found, &expected);
        }
    }
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

fn set_ups(source: &Source, file: &JobFile, files: &mut Files, block: &Block) -> Option<Vec<SetUp>> {
    let set_ups: Vec<Option<SetUp>> = file
        .readings
        .value
        .iter()
        .enumerate()
        .map(|(i, given)| set_up(source, file, files, block, i, given))
        .collect();
    set_ups.into_iter().collect()
}

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

    let readable = bank.map(|bank| Readable::new(block, bank, file.units, !machine_frame));
    let mut tables = Tables { source, files, key: &key, readable: readable.as_ref() };
    let bores = tables.read("bores", given.bores.as_ref(), Readable::bores);
    let points = tables.read("points", given.points.as_ref(), Readable::points);
    let walls = tables.read("walls", given.walls.as_ref(), Readable::walls);
    let heights = tables.read("heights", given.heights.as_ref(), Readable::heights);
    let shape = tables.read("shape", given.shape.as_ref(), Readable::shape);
    let witness = tables.read("witness", given.witness.as_ref(), Readable::witness);
    // In the journal frame these have no place, which is told above.
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
        let source = self.files.open(self.source, &key, name, crate::read::source::MOST_TABLE_BYTES)?;
        let readable = self.readable?;
        self.files.keep(read(readable, &source))
    }
}
