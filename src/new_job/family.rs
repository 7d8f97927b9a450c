//! A job like the last one of its family: the files it was described by, byte for byte, and the places it was read at.

use borewright_archive::{Record, name};
use borewright_planner::files::JOB_FORMAT;
use borewright_planner::job::{Aim, Front, Job, SheetUnits};
use borewright_planner::plan::Prior;
use borewright_planner::read::fault::plain;
use borewright_planner::start::ToRead;

use super::tables::tables;
use super::{Laid, length, quoted, word};
use crate::status::Failure;

/// What a record's job names: each file's bytes by what the job calls it.
pub(crate) struct Described {
    /// The job as it was written.
    pub(crate) job_yaml: Vec<u8>,
    /// The block.
    pub(crate) block: (String, Vec<u8>),
    /// The candidate sleeves.
    pub(crate) sleeves: Vec<(String, Vec<u8>)>,
    /// The machine.
    pub(crate) machine: (String, Vec<u8>),
    /// The shop's own figures, where it named some.
    pub(crate) shop: Option<(String, Vec<u8>)>,
}

/// Lays it out.
///
/// # Errors
/// A file whose name cannot be laid out here.
pub(crate) fn like(record: &Record, job: &Job, was: Described, prior: &Prior) -> Result<Laid, Failure> {
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    let block = put(&mut files, was.block)?;
    let sleeves: Vec<String> =
        was.sleeves.into_iter().map(|sleeve| put(&mut files, sleeve)).collect::<Result<_, _>>()?;
    let machine = put(&mut files, was.machine)?;
    let shop = was.shop.map(|shop| put(&mut files, shop)).transpose()?;
    let before = format!("notes/job-of-record-{}.yaml", record.number);
    files.push((before.clone(), was.job_yaml));
    let to_read = ToRead::as_before(job, &prior.walls);
    let mut text = head(record, job, &before);
    text.push_str(&format!("block: {}\n", quoted(&block)));
    let quoted_sleeves: Vec<String> = sleeves.iter().map(|s| quoted(s)).collect();
    text.push_str(&format!("sleeves: [{}]\n", quoted_sleeves.join(", ")));
    text.push_str(&format!("machine: {}\n", quoted(&machine)));
    if let Some(shop) = &shop {
        text.push_str(&format!("shop: {}\n", quoted(shop)));
    }
    text.push_str(&asked(job));
    text.push_str("readings:\n");
    let mut taken = Vec::new();
    for set_up in &to_read {
        let slug = if to_read.len() == 1 { String::new() } else { slug(&set_up.bank, &mut taken) };
        text.push_str(&of_set_up(set_up));
        for (key, path, table) in tables(set_up, &slug, job.units) {
            text.push_str(&format!("    {key}: {path}\n"));
            files.push((path, table));
        }
    }
    files.insert(0, ("job.yaml".to_owned(), text.into_bytes()));
    Ok(Laid { files, to_read, block: job.block.name.clone(), units: job.units })
}

fn head(record: &Record, job: &Job, before: &str) -> String {
    let sheet = match job.sheet_units {
        SheetUnits::Mm => "mm",
        SheetUnits::In => "in",
        SheetUnits::Both => "both",
    };
    format!(
        "# One job, laid out like record {}, job {} of {}. What is empty is to be filled in; what else that job had\n\
         # (bolts, piston, deck, a limit of its own) is in {before}: take over what holds here.\n\
         format: {JOB_FORMAT}\n\
         job: \"\"                         # your job number\n\
         # customer:                     # free text\n\
         units: {}\n\
         sheet_units: {sheet}\n",
        record.number,
        plain(&job.number, 40).replace('\n', " "),
        record.at.day(),
        word(job.units),
    )
}

/// What the job asks of its bores, as the earlier one did.
fn asked(job: &Job) -> String {
    let mm = |mm: f64| length(mm, job.units);
    let (aim, f) = (if job.aim == Aim::Journal { "journal" } else { "parent" }, &job.finish);
    let plate = f.plate_mm.map(|plate| format!(", plate: {}", mm(plate))).unwrap_or_default();
    format!(
        "aim: {aim}\n\
         finish: {{ bore: {}, hone_stock: {}, tolerance: {}{plate} }}   # as then: does this piston ask for it?\n\
         temperature: {{ block: \"\", machine: \"\" }}     # when it is measured, degrees C, or \"68 F\"\n",
        mm(f.bore_mm),
        mm(f.hone_stock_mm),
        mm(f.tolerance_mm),
    )
}

fn of_set_up(of: &ToRead) -> String {
    let mut text = format!("  - set_up: {}\n    bank: {}\n", quoted(&of.set_up), quoted(&of.bank));
    match of.machine {
        None => text.push_str("    frame: journal\n"),
        Some(front) => {
            let front = if front == Front::Left { "left" } else { "right" };
            text.push_str(&format!(
                "    frame: machine\n    front: {front}\n    along: {{ x: \"\" }}              # machine x of the along datum\n"
            ));
        }
    }
    text
}

/// Puts a file under the last part of its name, or under one beside it where that is taken.
fn put(files: &mut Vec<(String, Vec<u8>)>, (called, bytes): (String, Vec<u8>)) -> Result<String, Failure> {
    let last = called.rsplit(['/', '\\']).next().unwrap_or_default().to_owned();
    if name::fault(&last).is_some() || name::is_device(&last) {
        return Err(Failure::Said {
            found: format!("a file of the record called `{}`", plain(&last, 60)),
            expected: "a name that can be laid out: `open` gives the file back, lay the job out by hand",
        });
    }
    let taken = |name: &str| {
        name.eq_ignore_ascii_case("job.yaml") || files.iter().any(|(n, _)| n.eq_ignore_ascii_case(name))
    };
    let free = std::iter::once(last.clone())
        .chain((2..).map(|n| format!("{n}-{last}")))
        .find(|name| !taken(name))
        .unwrap_or_default();
    files.push((free.clone(), bytes));
    Ok(free)
}

/// A bank's part of a table's name: small letters and digits, numbered where two come to the same.
fn slug(bank: &str, taken: &mut Vec<String>) -> String {
    let plain: String = bank
        .to_lowercase()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .take(30)
        .collect();
    let plain = plain.trim_matches('-');
    let first = if plain.is_empty() { "bank" } else { plain };
    let free = std::iter::once(first.to_owned())
        .chain((2..).map(|n| format!("{first}-{n}")))
        .find(|name| !taken.contains(name))
        .unwrap_or_default();
    taken.push(free.clone());
    free
}
