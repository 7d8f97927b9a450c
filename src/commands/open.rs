//! `open`: what a record holds, and its files back byte for byte.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use borewright_archive::{Archive, ArchiveError, Entry, Record, name};
use borewright_planner::read::bounds::MOST_RECORD_BYTES;
use borewright_planner::read::fault::plain;
use borewright_planner::record::{FILE, Log, NOT_THE_LAST, Whose, kept_in, kept_lines};

use super::known::Known;
use super::of_job::{self, OfJob, Own};
use super::print;
use super::renamed;
use crate::args::{Format, OpenArgs};
use crate::filing;
use crate::folder;
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal;

pub(super) fn run(asked: &OpenArgs, place: &Place) -> Result<Status, Failure> {
    let archive = filing::archive(place, false)?;
    let record = archive.asked(&asked.record)?;
    of_job::remark_twice(&archive, [record.number])?;
    let (later, beside) = not_the_last(asked, place, &archive, &record)?;
    // A later record may be among those that are gone.
    let behind = Known::remark(asked.cache.folder.as_deref(), place, &archive)?;
    status::remark(&beside);
    if let Some(later) = &later {
        let is_data = asked.out.is_none() && (asked.file.is_some() || asked.format == Format::Json);
        if is_data {
            status::remark(std::slice::from_ref(later));
        } else {
            print(format!("{}\n", terminal::folded(later)).as_bytes())?;
        }
    }
    match (asked.file.as_deref(), asked.out.as_deref()) {
        (Some(file), None) => {
            let entry = entry(&record, file)?;
            let mut to = std::io::stdout().lock();
            archive.give_back(entry, &mut to)?;
            to.flush()?;
        }
        (Some(file), Some(out)) => {
            write(&archive, entry(&record, file)?, out)?;
            print(format!("written: {}\n", status::shown(out)).as_bytes())?;
        }
        (None, Some(out)) => {
            let may_not_be: Vec<String> = behind.into_iter().chain(beside).collect();
            let may_not_be = (!may_not_be.is_empty())
                .then(|| format!("perhaps NOT THE LAST of this job: {}", may_not_be.join("\n")));
            lay_out(&archive, &record, out, later.or(may_not_be).as_deref())?;
            let count = record.files.len();
            print(format!("{}: {count} files of record {}\n", status::shown(out), record.number).as_bytes())?;
        }
        (None, None) => match asked.format {
            Format::Text => print(page(&record).as_bytes())?,
            Format::Json => {
                let bytes = record.clone().sealed().map_err(std::io::Error::other)?;
                print(&bytes)?;
            }
        },
    }
    Ok(Status::Go)
}

/// That a record is not the last of its job, and what the last one says; `None` of the last one. Beside it why it may not be the
/// last even so: another has lines that it has not, or another computer wrote one of a number that comes after.
///
/// # Errors
/// What the archive refuses.
fn not_the_last(
    asked: &OpenArgs,
    place: &Place,
    archive: &Archive,
    record: &Record,
) -> Result<(Option<String>, Vec<String>), Failure> {
    let own = filing::recorded(archive, record)?;
    let mut beside: Vec<String> = of_job::twin(archive, record, &own)?.into_iter().collect();
    if archive.last()? == 1 {
        return Ok((None, beside));
    }
    let of_job = OfJob::of(
        archive,
        (asked.cache.folder.as_deref(), place),
        Own::Record(record.number, &record.summary),
    )?;
    let figures = filing::figures_in(archive, record)?;
    status::remark(of_job.another_engine(archive, record.number, figures.as_ref())?.as_slice());
    let Some(later) = of_job.after(record.number) else {
        let other = of_job.beside(archive, record.number, own)?;
        beside.extend(other.map(|(other, lines)| {
            format!(
                "{} of this job has {} that this record has not, the first {}: it went on in two folders. Write down in one what \
                 it has not, and file that",
                of_job::last_word(other),
                if lines.len() == 1 { "a recorded line".to_owned() } else { format!("{} recorded lines", lines.len()) },
                lines.first().map_or("", String::as_str)
            )
        }));
        let cache = (asked.cache.folder.as_deref(), place);
        if let Some((other, word)) = renamed::later(archive, cache, record)? {
            beside.push(format!(
                "{}? If so, open that one; if not, take {NOT_THE_LAST} out of what is laid out",
                renamed::question(&other, record, word)
            ));
        }
        return Ok((None, beside));
    };
    let mut said = format!("NOT THE LAST of this job: {}", of_job::last_word(later));
    if let Ok(last) = archive.record(later.number) {
        let lines = filing::lines_more(archive, record, &of_job.own(filing::recorded(archive, &last)?))?;
        if let Some(first) = lines.first() {
            said.push_str(&format!(
                "; and not in that one are {} recorded here, the first {first}: the job went on in two folders",
                if lines.len() == 1 { "a line".to_owned() } else { format!("{} lines", lines.len()) },
            ));
        }
    }
    Ok((Some(said), beside))
}

/// A file by its whole name, or by the end of it where only one has that.
fn entry<'r>(record: &'r Record, asked: &str) -> Result<&'r Entry, Failure> {
    let ends: Vec<&Entry> =
        record.files.iter().filter(|f| f.name == asked || f.name.ends_with(&format!("/{asked}"))).collect();
    let found = record.file(asked).or(match ends.as_slice() {
        [one] => Some(*one),
        _ => None,
    });
    let none =
        || ArchiveError::NoFile { number: record.number, asked: plain(asked, 80), count: record.files.len() };
    Ok(found.ok_or_else(none)?)
}

fn page(record: &Record) -> String {
    let mut text = format!(
        "record {}    {}    {}\n{}\nfiled by {}\n\n",
        record.number,
        record.at,
        record.sha256.short(),
        plain(&record.summary.title, 80),
        plain(&record.tool, 60),
    );
    for (what, words) in &record.summary.words {
        text.push_str(&format!("  {:<12} {}\n", plain(what, 12), plain(&words.join(", "), 64)));
    }
    text.push_str(&format!("\n{:>12}  file\n", "bytes"));
    for file in &record.files {
        text.push_str(&format!("{:>12}  {}\n", file.bytes, plain(&file.name, 200)));
    }
    text
}

fn disk(path: &Path) -> impl FnOnce(std::io::Error) -> Failure + '_ {
    |source| Failure::Disk { path: path.to_owned(), source }
}

/// Writes one file where nothing is; what cannot be finished goes again.
fn write(archive: &Archive, entry: &Entry, to: &Path) -> Result<(), Failure> {
    let mut file = match fs::File::create_new(to) {
        Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {
            return Err(Failure::Place {
                path: to.to_owned(),
                found: "something there already".to_owned(),
                expected: "a name that is free",
            });
        }
        other => other.map_err(disk(to))?,
    };
    let written = archive.give_back(entry, &mut file).map_err(Failure::from);
    let written = written.and_then(|()| file.sync_all().map_err(disk(to)));
    if written.is_err() {
        let _ = fs::remove_file(to);
    }
    written
}

/// Lays all files out in a new folder, and beside them what is said of the record; what cannot be finished leaves
/// nothing.
fn lay_out(archive: &Archive, record: &Record, out: &Path, later: Option<&str>) -> Result<(), Failure> {
    match fs::create_dir(out) {
        Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {
            return Err(Failure::Place {
                path: out.to_owned(),
                found: "something there already".to_owned(),
                expected: "a new folder",
            });
        }
        other => other.map_err(disk(out))?,
    }
    let mut made = Made { folders: vec![out.to_owned()], files: Vec::new() };
    let done = made.all(archive, record, out).and_then(|()| made.says(record, out, later));
    let done = done.and_then(|()| made.keeps(record, out));
    if done.is_err() {
        made.take_back();
    }
    done
}

/// What was laid out so far.
struct Made {
    folders: Vec<PathBuf>,
    files: Vec<PathBuf>,
}

impl Made {
    /// Writes every file of a record below a folder, and remembers what it made.
    fn all(&mut self, archive: &Archive, record: &Record, out: &Path) -> Result<(), Failure> {
        for entry in &record.files {
            // A record may come from anywhere: its names were looked at when it was read, and are again here.
            if name::fault(&entry.name).is_some() || (cfg!(windows) && name::is_device(&entry.name)) {
                return Err(ArchiveError::Content {
                    name: plain(&entry.name, 80),
                    why: "its name cannot be laid out on this system: open it alone, with --out",
                }
                .into());
            }
            let path = out.join(&entry.name);
            let mut folder = out.to_owned();
            for part in entry.name.split('/').rev().skip(1).collect::<Vec<_>>().into_iter().rev() {
                folder.push(part);
                match fs::create_dir(&folder) {
                    Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {}
                    other => {
                        other.map_err(disk(&folder))?;
                        self.folders.push(folder.clone());
                    }
                }
            }
            write(archive, entry, &path)?;
            self.files.push(path);
        }
        for folder in self.folders.iter().rev() {
            folder::sync_folder(folder).map_err(disk(folder))?;
        }
        Ok(())
    }

    /// Puts a word of a later record into the folder and into the job's, which may be carried on alone.
    fn says(&mut self, record: &Record, out: &Path, later: Option<&str>) -> Result<(), Failure> {
        let Some(later) = later else { return Ok(()) };
        let text = format!(
            "{later}\n\nThis folder is record {} as it was filed, {}. Nothing is cut by it: open the last record \
             of the newest copy of the archive.\n",
            record.number, record.at
        );
        for path in [out.join(NOT_THE_LAST), out.join("job").join(NOT_THE_LAST)] {
            // A record may hold a file of this name itself, or no job.
            if path.parent().is_some_and(Path::is_dir) && fs::symlink_metadata(&path).is_err() {
                fs::write(&path, &text).map_err(disk(&path))?;
                self.files.push(path);
            }
        }
        Ok(())
    }

    /// Keeps the sum of the last line that was recorded, as `record` does: in this folder the job goes on.
    fn keeps(&mut self, record: &Record, out: &Path) -> Result<(), Failure> {
        let folder = out.join("job");
        let path = folder.join(FILE);
        if record.file(&format!("job/{FILE}")).is_none_or(|entry| entry.bytes > MOST_RECORD_BYTES) {
            return Ok(());
        }
        let log = Log::read(&fs::read(&path).map_err(disk(&path))?);
        if log.last_sum.is_empty() {
            return Ok(());
        }
        let whose = filing::whose(record);
        let doubted = record.summary.words.get(filing::OF_OTHERS).into_iter().flatten();
        let doubted: Vec<_> =
            doubted.filter(|sum| log.knows(sum)).map(|sum| (sum.clone(), Whose::default())).collect();
        let own =
            Some((log.last_sum.clone(), whose)).filter(|(sum, _)| doubted.iter().all(|(d, _)| d != sum));
        let lines = kept_lines(&own.into_iter().chain(doubted).collect::<Vec<_>>());
        for path in kept_in(&folder) {
            if fs::symlink_metadata(&path).is_err() {
                fs::write(&path, &lines).map_err(disk(&path))?;
                self.files.push(path);
            }
        }
        Ok(())
    }

    fn take_back(&self) {
        for file in &self.files {
            let _ = fs::remove_file(file);
        }
        for folder in self.folders.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
}
