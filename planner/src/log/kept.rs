//! What stands beside a record and tells of it: the sum of the last line that was recorded, which a table put back as it was an
//! hour ago, or taken away, does not show itself; and copies of the record, or of the job's whole folder, with lines of their own.

use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use super::{COLUMNS, Entry, FILE, Log, Whose};
use crate::read::bounds::MOST_RECORD_BYTES;
use crate::read::fault::plain;
use crate::read::name::alike;
use crate::read::source::sha256_hex;

/// The file of sums; never filed with a job.
const NAME: &str = ".borewright-cut.sum";
/// Stands for a sum where a record is about to be begun: a line of it may be on the disk, or none.
pub const BEGUN: &str = "-";
/// Much longer than it ever is.
const MOST_BYTES: u64 = 64 * 1024;
/// Most files that are looked at for a copy.
const MOST_FILES: usize = 1000;

/// Where the sums of a job's folder are kept: beside the record, and beside that folder, which a backup of it leaves as it is.
#[must_use]
pub fn kept_in(folder: &Path) -> [PathBuf; 2] {
    [folder.join(FILE).with_file_name(NAME), folder.join(NAME)]
}

/// The sums that are kept of a job's record; none of another job's, whose folder was copied.
#[must_use]
pub fn kept(folder: &Path, job: &Whose) -> Vec<String> {
    let own = all(folder).into_iter().filter(|(sum, of)| sum != BEGUN && of.is(job));
    own.map(|(sum, _)| sum).collect()
}

/// The sums of lines that this record has and that are another job's, whose folder was copied, or of which nobody knows whose they
/// are; each with that job.
#[must_use]
pub fn of_others(folder: &Path, job: &Whose, log: &Log) -> Vec<(String, Whose)> {
    let (own, others): (Vec<_>, Vec<_>) = all(folder).into_iter().partition(|(_, of)| of.is(job));
    let known: Vec<_> = others.into_iter().filter(|(sum, _)| log.knows(sum)).collect();
    // What `record` wrote left its sum beside it: without any it was carried here from elsewhere.
    if own.is_empty() && known.is_empty() && !log.last_sum.is_empty() {
        return vec![(log.last_sum.clone(), Whose::default())];
    }
    known
}

/// The sums of lines that this record has not and that are another job's: its record was taken out of this folder again, as is told
/// where it lies there, and nothing of this job is gone with it. Of another job by what was read alone: one of which that is not
/// known, or that shares a table with this, may be this one under names that were put right.
#[must_use]
pub fn taken_out(folder: &Path, job: &Whose, log: &Log) -> Vec<(String, Whose)> {
    let is_others = |of: &Whose| !of.number.is_empty() && !of.is(job) && of.is_read_otherwise(job);
    let own = all(folder).into_iter();
    own.filter(|(sum, of)| sum != BEGUN && !log.knows(sum) && is_others(of)).collect()
}

/// What is kept, a line for each sum with its job.
#[must_use]
pub fn kept_lines(sums: &[(String, Whose)]) -> String {
    sums.iter().map(|(sum, job)| format!("{sum} {}\n", job.written())).collect()
}

/// All sums that are kept, each with its job, both places together: whichever is further ahead is missed in the record.
fn all(folder: &Path) -> Vec<(String, Whose)> {
    let mut all: Vec<(String, Whose)> = Vec::new();
    for path in kept_in(folder) {
        let is_small = fs::metadata(&path).is_ok_and(|about| about.is_file() && about.len() <= MOST_BYTES);
        let text = is_small.then(|| fs::read_to_string(&path).ok()).flatten().unwrap_or_default();
        // A line without its end was cut off while it was written.
        let whole = text.split_inclusive('\n').filter_map(|line| line.strip_suffix('\n')?.split_once(' '));
        all.extend(whole.map(|(sum, of)| (sum.to_owned(), Whose::parsed(of))));
    }
    all.sort_unstable();
    all.dedup();
    all
}

/// The text that an archive lays into a job's folder which is not the last that was filed of that job.
pub const NOT_THE_LAST: &str = "NOT-THE-LAST.txt";

/// Tells the record what of it is gone, whose it is where it is another job's, and which copies of it hold lines that it has not.
pub fn tell_beside(folder: &Path, job: &Whose, log: &mut Log) {
    let others = of_others(folder, job, log);
    taken_out(folder, job, log).iter().for_each(|(sum, _)| log.take_out(sum));
    kept(folder, job).iter().for_each(|sum| log.miss(sum));
    if let Some((sum, other)) = others.first() {
        let text = if other.number.is_empty() {
            format!(
                "the record has lines of which nothing beside it says that they are of this job: readings/{NAME} is missing, as where \
                 a table was copied from another folder. Where it is another block's, take {FILE} out of this folder, and the lead lets \
                 its loss through; where it is this one's, the lead lets this line through by its number (`release \"line N: WHY\"`)"
            )
        } else if let Some(word) = other.put_right(job) {
            format!(
                "the record was begun as {}, and this is {}, with most of what was read of it the same: was the {word} put right, and \
                 is it the same block? Then the lead says so (`release \"line N: the {word} was put right\"`, with `--by`). Where it is \
                 another block's, take {FILE} out of this folder, and the lead lets its loss through",
                other.told(job),
                job.told(other),
            )
        } else {
            format!(
                "the record is of {}, and this is {}: nothing in it was read or cut on this block. Take the record of the other job, \
                 {FILE}, out of this folder; where it is the same block under another {} the lead lets this line through by its number (`release \"line N: WHY\"`)",
                other.told(job),
                job.told(other),
                if alike(&other.number, &job.number) { "name" } else { "number" }
            )
        };
        log.hold_whole(text, sum);
    }
    if folder.join(NOT_THE_LAST).is_file() {
        let text = format!(
            "this folder was opened from an archive that has a later record of the job, as {NOT_THE_LAST} in it says: what was cut or \
             found since is not in it. Open the last one; where this state is meant, take that text out of the folder"
        );
        log.hold_whole(text, NOT_THE_LAST);
    }
    for (name, lines, stand) in copies(folder, log) {
        let text = format!(
            "readings/{} is a copy of this record with {lines} {} that this one does not have: what was recorded there does not \
             count yet. Write it down here, or see that it is nothing, and take that file out of this folder",
            plain(&name, 80),
            if lines == 1 { "line" } else { "lines" }
        );
        log.hold_whole(text, &stand);
    }
    for (name, lines, stand) in folders(folder, job, log) {
        let text = format!(
            "the folder {} beside this one has a record of this job with {lines} {} that this one does not have: what was recorded there \
             does not count here. Which of the two is the job's? Go on there, or write it down here, and take the other folder away",
            plain(&name, 80),
            if lines == 1 { "line" } else { "lines" }
        );
        log.hold_whole(text, &stand);
    }
}

/// Folders beside the job's that were copied from it, or it from one of them, and have gone on: name, how many lines this record does
/// not have, and what stands for theirs as it is.
fn folders(folder: &Path, job: &Whose, log: &Log) -> Vec<(String, usize, String)> {
    let Ok(own) = folder.canonicalize() else { return Vec::new() };
    let Some(files) = own.parent().and_then(|above| fs::read_dir(above).ok()) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = files.take(MOST_FILES).filter_map(|e| Some(e.ok()?.path())).collect();
    paths.retain(|path| *path != own && path.join(FILE).is_file() && !kept(path, job).is_empty());
    paths.sort_unstable();
    let copy = |path: &PathBuf| {
        let (others, stand) = beyond(&path.join(FILE), log)?;
        Some((path.file_name()?.to_string_lossy().into_owned(), others, stand))
    };
    paths.iter().filter_map(copy).collect()
}

/// How many lines of another record this one does not have, and what stands for that as it is; `None` of one that has no such line, or
/// is no record.
fn beyond(path: &Path, log: &Log) -> Option<(usize, String)> {
    let bytes = read(path)?;
    let has = |own: &Entry| match own.fields.get("sum") {
        "" => log.entries.iter().any(|e| e.fields == own.fields),
        sum => log.knows(sum),
    };
    let others = Log::read(&bytes).entries.iter().filter(|own| !has(own)).count();
    (others > 0).then(|| (others, sha256_hex(&bytes).chars().take(12).collect()))
}

/// Files beside the record that are records too and hold lines of their own, as a sync program or a hand leaves them: name, how
/// many such lines, and what stands for the file as it is.
fn copies(folder: &Path, log: &Log) -> Vec<(String, usize, String)> {
    let record = folder.join(FILE);
    let Some(files) = record.parent().and_then(|above| fs::read_dir(above).ok()) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = files.take(MOST_FILES).filter_map(|e| Some(e.ok()?.path())).collect();
    paths.retain(|path| path.file_name() != record.file_name());
    paths.sort_unstable();
    let copy = |path: &PathBuf| {
        let (others, stand) = beyond(path, log)?;
        Some((path.file_name()?.to_string_lossy().into_owned(), others, stand))
    };
    paths.iter().filter_map(copy).collect()
}

/// The bytes of a file that begins as a record does.
fn read(path: &Path) -> Option<Vec<u8>> {
    let about =
        fs::metadata(path).ok().filter(|about| about.is_file() && about.len() <= MOST_RECORD_BYTES)?;
    let header = COLUMNS.join(",");
    let mut file = File::open(path).ok()?;
    let mut bytes = Vec::new();
    // A mark of its encoding may stand before the header.
    Read::by_ref(&mut file).take(u64::try_from(header.len()).ok()? + 3).read_to_end(&mut bytes).ok()?;
    let begins = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&bytes).starts_with(header.as_bytes());
    if !begins {
        return None;
    }
    file.take(about.len()).read_to_end(&mut bytes).ok()?;
    Some(bytes)
}
