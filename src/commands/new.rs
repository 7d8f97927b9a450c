//! `new`: a job folder ready to fill in.

use std::path::{Path, PathBuf};

use borewright_archive::{Archive, Query, Record};
use borewright_output::Measuring;
use borewright_planner::JobFiles;
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::plan::Prior;
use borewright_planner::read::fault::{Fault, Faults, plain};
use borewright_planner::read::file_name;
use borewright_planner::read::given::Units;

use super::{index, print};
use crate::args::{NewArgs, Telling, Unit};
use crate::filing;
use crate::folder;
use crate::new_job::{self, Described, Laid, Shape};
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal;

/// The measuring sheet in the job's folder.
const SHEET: &str = "measuring.pdf";
/// Largest file that is taken over from a record, bytes.
const MOST_BYTES: u64 = 16 * 1024 * 1024;
/// Records of a family that are tried, newest first.
const MOST_TRIED: u32 = 100;

/// Lays out a job folder with its sheet for measuring, whole or not at all, and says what to do next.
pub(super) fn run(asked: &NewArgs) -> Result<Status, Failure> {
    let dir = asked.dir.as_path();
    is_free(dir)?;
    let (laid, prior, said) = match &asked.family {
        Some(family) => of_family(family, asked)?,
        None => (of_shape(asked)?, None, String::new()),
    };
    let sheet = borewright_output::measuring_sheet(&Measuring {
        block: laid.block.clone(),
        to_read: laid.to_read.clone(),
        prior: prior.clone(),
        units: if laid.units == Units::Mm { SheetUnits::Mm } else { SheetUnits::In },
    })?;
    let mut files = laid.files;
    files.push((SHEET.to_owned(), sheet));
    let mut made = Made::default();
    if let Err(failure) = made.lay_out(dir, &files) {
        made.take_back();
        return Err(failure);
    }
    let shown = status::shown(dir);
    let mut text = format!("{shown}: a job to fill in{said}\n");
    for (name, _) in &files {
        text.push_str(&format!("  {}\n", plain(name, 74)));
    }
    if let Some(prior) = &prior {
        let units = if laid.units == Units::Mm { SheetUnits::Mm } else { SheetUnits::In };
        let asked = Telling { units: None, notes: false };
        text.push_str(&borewright_output::prior_section(prior, &terminal::as_asked(asked, units)));
    }
    if asked.family.is_none() {
        text.push_str("put your own figures in the place of the examples\n");
    }
    text.push_str(&format!("print {SHEET} and read by it\n"));
    text.push_str(&still(dir));
    text.push_str(&format!("then run:\n  borewright plan {shown}\n"));
    print(text.as_bytes())?;
    Ok(Status::Go)
}

/// What `check` finds missing, file by file: how much, and the first of it.
fn still(dir: &Path) -> String {
    let Err(Faults(faults)) = borewright_planner::load(dir) else { return String::new() };
    let mut files: Vec<(&str, &Fault, usize)> = Vec::new();
    for fault in &faults {
        match files.iter_mut().find(|(file, ..)| *file == fault.file) {
            Some((.., count)) => *count += 1,
            None => files.push((&fault.file, fault, 1)),
        }
    }
    let mut text = "still to fill in:\n".to_owned();
    for (file, first, count) in files {
        let at = first.place.map(|p| format!(", from line {}", p.line)).unwrap_or_default();
        let places = if count == 1 { "place" } else { "places" };
        let key = if first.key.is_empty() { String::new() } else { format!("{}, ", first.key) };
        let file = format!("  {}: {count} {places}{at}:", plain(file, 40));
        text.push_str(&borewright_output::wrapped(&file, &format!("{key}expected {}", first.expected), 4));
    }
    text
}

fn of_shape(asked: &NewArgs) -> Result<Laid, Failure> {
    if asked.banks.is_none() && asked.cylinders.is_none() && asked.angle.is_none() && asked.units.is_none() {
        return Ok(new_job::plain_example());
    }
    let banks = asked.banks.unwrap_or(1);
    let cylinders = asked.cylinders.unwrap_or(4);
    let angle = asked.angle.unwrap_or(if banks == 2 { 90.0 } else { 0.0 });
    let wrong = |found: String, expected| Err(Failure::Said { found, expected });
    if banks == 1 && angle != 0.0 {
        return wrong(format!("an angle of {angle} with one bank"), "--banks 2, or no --angle");
    }
    if banks == 2 && !(30.0..=180.0).contains(&angle) {
        return wrong(format!("an angle of {angle}"), "30 to 180 degrees between two banks");
    }
    if cylinders < banks {
        return wrong(format!("{cylinders} cylinder for {banks} banks"), "one a bank or more");
    }
    let units = if asked.units == Some(Unit::In) { Units::In } else { Units::Mm };
    Ok(new_job::example(Shape { banks, cylinders, angle, units }))
}

/// Like the newest filed block of a family that can be laid out, with what the family says.
fn of_family(family: &str, asked: &NewArgs) -> Result<(Laid, Option<Prior>, String), Failure> {
    let place = Place::named(asked.archive.place.as_deref())?;
    let archive = filing::archive(&place, false)?;
    let index = index::open(asked.cache.folder.as_deref(), &place, &archive)?;
    let tags = vec![("family".to_owned(), family.to_owned())];
    let (found, _) = index.find(&Query { tags, most: MOST_TRIED, ..Query::default() })?;
    drop(index);
    let mut failed: Vec<(u32, Failure)> = Vec::new();
    for number in found.iter().map(|found| found.number) {
        match described(&archive, number) {
            Ok((record, job, was)) => {
                status::remark(
                    &failed.iter().map(|(number, why)| passed_over(*number, why)).collect::<Vec<_>>(),
                );
                let prior = super::prior::of(&place, asked.cache.folder.as_deref(), family, None)?;
                let said = format!(", like record {number}, job {}", plain(&job.number, 40));
                return Ok((new_job::like(&record, &job, was, &prior)?, Some(prior), said));
            }
            Err(why) => {
                archive.still_there()?;
                failed.push((number, why));
            }
        }
    }
    Err(failed.into_iter().next().map_or_else(
        || Failure::Archived {
            place: place.told(),
            found: format!("no block of the family `{}`", plain(family, 60)),
            expected: "a family that was filed: `find` lists what there is",
        },
        |(_, why)| why,
    ))
}

/// Why a newer record of the family was not taken, in a line.
fn passed_over(number: u32, why: &Failure) -> String {
    let why = why.to_string();
    format!(
        "record {number} is newer and was passed over: {}",
        plain(why.lines().next().unwrap_or_default(), 200)
    )
}

/// The job of a record, and its files.
fn described(archive: &Archive, number: u32) -> Result<(Record, Job, Described), Failure> {
    let record = archive.record(number)?;
    let scratch =
        tempfile::tempdir().map_err(|source| Failure::Disk { path: std::env::temp_dir(), source })?;
    let kept = filing::lay_out(archive, &record, scratch.path())?;
    let none = || Failure::Said {
        found: format!("record {number} without its job's files"),
        expected: "a record as `file` makes it: `audit` says what is wrong",
    };
    let main = record.files.iter().filter_map(|f| f.called.as_deref()).find(|c| *c == "job.yaml");
    let main = main.or_else(|| {
        record
            .files
            .iter()
            .filter(|f| f.name.starts_with("job/"))
            .find_map(|f| f.called.as_deref().filter(|c| !c.contains('/') && c.ends_with(".yaml")))
    });
    let job_yaml = main.and_then(|main| kept.get(main)).ok_or_else(none)?;
    let job = borewright_planner::load_kept(job_yaml, &kept)?;
    let JobFiles { block, machine, sleeves, shop } = borewright_planner::job_files(job_yaml)?;
    let read = |called: &str| -> Result<(String, Vec<u8>), Failure> {
        let file = record.files.iter().find(|f| f.called.as_deref() == Some(called)).ok_or_else(none)?;
        let mut bytes = Vec::new();
        if file.bytes <= MOST_BYTES {
            archive.give_back(file, &mut bytes)?;
        }
        Ok((file.name.clone(), bytes))
    };
    let was = Described {
        job_yaml: read(main.unwrap_or_default())?.1,
        block: read(&block)?,
        sleeves: sleeves.iter().map(|sleeve| read(sleeve)).collect::<Result<_, _>>()?,
        machine: read(&machine)?,
        shop: shop.as_deref().map(read).transpose()?,
    };
    Ok((record, job, was))
}

/// Refuses a folder that has something in it.
fn is_free(dir: &Path) -> Result<(), Failure> {
    let name = dir.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    if let Some(found) = file_name::fault(&name) {
        return Err(Failure::Place {
            path: dir.to_owned(),
            found: found.into(),
            expected: "a name that every system reads alike: a job may be carried over",
        });
    }
    match std::fs::read_dir(dir) {
        Ok(mut entries) => {
            if entries.next().is_some() {
                return Err(Failure::Place {
                    path: dir.to_owned(),
                    found: "a folder with files in it".into(),
                    expected: "a new or empty folder",
                });
            }
        }
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {}
        Err(_) => {
            return Err(Failure::Place {
                path: dir.to_owned(),
                found: "something that is not a folder that can be read".into(),
                expected: "a new or empty folder",
            });
        }
    }
    Ok(())
}

/// What was made so far, so that a full disk leaves nothing.
#[derive(Default)]
struct Made {
    files: Vec<PathBuf>,
    folders: Vec<PathBuf>,
}

impl Made {
    fn lay_out(&mut self, dir: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Failure> {
        let disk = |path: &Path, source| Failure::Disk { path: path.to_owned(), source };
        for (name, bytes) in files {
            let path = dir.join(name);
            if let Some(folder) = path.parent() {
                let missing = folder.ancestors().take_while(|p| !p.as_os_str().is_empty() && !p.exists());
                let missing: Vec<PathBuf> = missing.map(Path::to_owned).collect();
                self.folders.extend(missing.into_iter().rev());
                std::fs::create_dir_all(folder).map_err(|e| disk(folder, e))?;
            }
            // A file that appeared meanwhile is somebody's: it is neither written nor taken back.
            if std::fs::symlink_metadata(&path).is_err() {
                self.files.push(path.clone());
            }
            folder::write_file(&path, bytes)?;
        }
        for made in &self.folders {
            folder::sync_folder(made).map_err(|e| disk(made, e))?;
        }
        Ok(())
    }

    fn take_back(&self) {
        for file in &self.files {
            let _ = std::fs::remove_file(file);
        }
        for folder in self.folders.iter().rev() {
            let _ = std::fs::remove_dir(folder);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_finished_leaves_nothing() {
        let dir = tempfile::tempdir().unwrap();
        let job = dir.path().join("a/b/job");
        let files = new_job::plain_example().files;
        let mut made = Made::default();
        made.lay_out(&job, &files).unwrap();
        made.take_back();
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 0);
        // A file of somebody's in the way stops it, and stays.
        std::fs::create_dir_all(job.join("readings")).unwrap();
        std::fs::write(job.join("readings/bores.csv"), "mine").unwrap();
        let mut made = Made::default();
        assert!(made.lay_out(&job, &files).is_err());
        made.take_back();
        assert_eq!(std::fs::read_to_string(job.join("readings/bores.csv")).unwrap(), "mine");
        assert!(!job.join("job.yaml").exists());
    }
}
