//! The files of a folder: those that belong there, and others.

use std::path::{Component, Path};

use super::Entry;
use crate::read::desktops::is_desktops;
use crate::read::sum::{State, state};

/// Most files that are not the plan's that are told.
const MOST_TOLD: usize = 1000;
/// Most places that are looked at: a folder that holds more is no plan's.
const MOST_PLACES: usize = 100_000;

/// Holds a file below a folder against its sum, or only looks whether it is one where there is no sum. No link is
/// followed on the way, and no path leaves the folder.
pub(super) fn below(folder: &Path, file: &str, sum: Option<&str>) -> State {
    let mut path = folder.to_owned();
    let mut parts = Path::new(file).components().peekable();
    while let Some(part) = parts.next() {
        let Component::Normal(name) = part else { return State::NoFile };
        path.push(name);
        if parts.peek().is_some() && path.symlink_metadata().is_ok_and(|m| m.is_symlink()) {
            return State::Link;
        }
    }
    match (sum, std::fs::symlink_metadata(&path)) {
        (None, Ok(about)) if about.is_file() => State::Unaltered,
        // Any sum will do: the state only tells why it is no file.
        _ => state(&path, sum.unwrap_or_default(), false),
    }
}

/// What else lies there: what could be taken for a file of the plan, and what could not.
///
/// A list anywhere could be taken for the plan's, and so could anything in the plan's folders that ends like one of
/// its files or is no file.
pub(super) fn others(folder: &Path, files: &[Entry]) -> (Vec<String>, Vec<String>) {
    let (mut added, mut notes) = (Vec::new(), Vec::new());
    let ending = |name: &str| Path::new(name).extension().map(|e| e.to_string_lossy().to_ascii_lowercase());
    let parent = |name: &str| name.rsplit_once('/').map(|(folder, _)| folder.to_ascii_lowercase());
    let own = |name: &str| files.iter().any(|f| f.file == name);
    let mut todo = vec![(folder.to_owned(), String::new())];
    let mut places = 0;
    while let Some((at, prefix)) = todo.pop() {
        let Ok(entries) = std::fs::read_dir(&at) else {
            notes.push(format!("{prefix} cannot be read"));
            continue;
        };
        for entry in entries.flatten() {
            places += 1;
            if places > MOST_PLACES || added.len() + notes.len() > MOST_TOLD {
                notes.push("and more".to_owned());
                todo.clear();
                break;
            }
            let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
            let kind = entry.file_type().ok();
            if kind.is_some_and(|k| k.is_dir()) {
                todo.push((entry.path(), format!("{name}/")));
                continue;
            }
            let is_file = kind.is_some_and(|k| k.is_file());
            if own(&name) || (is_file && is_desktops(&name)) {
                continue;
            }
            let beside: Vec<&Entry> = files
                .iter()
                .filter(|f| parent(&f.file).is_some() && parent(&f.file) == parent(&name))
                .collect();
            let alike = beside.iter().any(|f| ending(&f.file) == ending(&name));
            let of_folder = files.iter().any(|f| {
                let first = f.file.split_once('/').map(|(first, _)| first);
                first.is_some_and(|first| first.eq_ignore_ascii_case(&name))
            });
            if ending(&name).as_deref() == Some("nc")
                || alike
                || (!is_file && (!beside.is_empty() || of_folder))
            {
                added.push(name);
            } else {
                notes.push(name);
            }
        }
    }
    added.sort();
    notes.sort();
    (added, notes)
}
