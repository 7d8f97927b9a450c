//! What lies in a job's folder and is not kept.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use borewright_archive::Item;
use borewright_planner::read::fault::plain;

/// Entries that are looked at; a folder of more is told by those.
const MOST_LOOKED_AT: usize = 5000;
/// What desktops put there by themselves, beside what is hidden.
const NOBODYS: [&str; 2] = ["thumbs.db", "desktop.ini"];

/// Files below the job's folder, and folders of which nothing is kept, each with how many files it has; in the order of
/// their names.
pub(super) fn of(folder: &Path, kept: &[Item]) -> Vec<String> {
    let (mut names, mut above) = (BTreeSet::new(), BTreeSet::new());
    for name in kept.iter().filter_map(|item| item.name.strip_prefix("job/")) {
        names.insert(name.to_owned());
        above.extend(name.match_indices('/').map(|(at, _)| name[..at].to_owned()));
    }
    let (mut left, mut folders, mut looked) = (BTreeSet::new(), vec![String::new()], 0);
    while let Some(at) = folders.pop() {
        for (name, is_folder) in below(&folder.join(&at)) {
            looked += 1;
            if looked > MOST_LOOKED_AT {
                return left.into_iter().collect();
            }
            let path = if at.is_empty() { name } else { format!("{at}/{name}") };
            match is_folder {
                true if above.contains(&path) => folders.push(path),
                // An archive of the shop, or the folder of a plan, which is kept as it was written.
                true if folder.join(&path).join("archive.json").is_file() => {}
                true => {
                    let count = count(&folder.join(&path));
                    let files = if count == 1 { "file" } else { "files" };
                    if count > 0 {
                        left.insert(format!("{}/ ({count} {files})", plain(&path, 80)));
                    }
                }
                false if names.contains(&path) => {}
                false => {
                    left.insert(plain(&path, 80));
                }
            }
        }
    }
    left.into_iter().collect()
}

/// Names in a folder, and whether each is a folder; what is hidden or nobody's is passed over.
fn below(folder: &Path) -> Vec<(String, bool)> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let one = |entry: fs::DirEntry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        let passed = name.starts_with('.') || NOBODYS.contains(&name.to_lowercase().as_str());
        (!passed).then(|| (name, entry.file_type().is_ok_and(|kind| kind.is_dir())))
    };
    entries.flatten().filter_map(one).collect()
}

/// How many files lie below a folder, as far as is looked.
fn count(folder: &Path) -> usize {
    let (mut count, mut folders) = (0, vec![folder.to_owned()]);
    while let Some(at) = folders.pop() {
        for (name, is_folder) in below(&at) {
            if is_folder && folders.len() < MOST_LOOKED_AT {
                folders.push(at.join(name));
            } else {
                count += 1;
            }
            if count == MOST_LOOKED_AT {
                return count;
            }
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_that_are_not_kept_are_named_and_whole_folders_counted() {
        let dir = tempfile::tempdir().unwrap();
        for name in
            ["job.yaml", "readings/a.csv", "readings/as-found.txt", "photos/old/1.jpg", "photos/2.jpg"]
        {
            let path = dir.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "x").unwrap();
        }
        for passed in [".hidden", "Thumbs.db"] {
            fs::write(dir.path().join(passed), "x").unwrap();
        }
        fs::create_dir(dir.path().join("empty")).unwrap();
        let kept = ["job/job.yaml", "job/readings/a.csv", "elsewhere/photos/2.jpg"];
        let kept = kept.map(|name| Item::at(name.to_owned(), dir.path().join(name)));
        assert_eq!(of(dir.path(), &kept), ["photos/ (2 files)", "readings/as-found.txt"]);
    }
}
