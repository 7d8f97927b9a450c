//! `new`: a job folder ready to fill in.

use std::path::{Path, PathBuf};

use super::print;
use crate::folder;
use crate::status::{self, Failure, Status};

/// The files of a new job, with their texts.
const FILES: [(&str, &str); 7] = [
    ("job.yaml", include_str!("../templates/job.yaml")),
    ("block.yaml", include_str!("../templates/block.yaml")),
    ("sleeve.yaml", include_str!("../templates/sleeve.yaml")),
    ("machine.yaml", include_str!("../templates/machine.yaml")),
    ("shop.yaml", include_str!("../templates/shop.yaml")),
    ("readings/bores.csv", include_str!("../templates/bores.csv")),
    ("readings/walls.csv", include_str!("../templates/walls.csv")),
];

pub(super) fn run(dir: &Path) -> Result<Status, Failure> {
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
    let mut made = Made::default();
    if let Err(failure) = made.lay_out(dir) {
        made.take_back();
        return Err(failure);
    }
    let shown = status::shown(dir);
    let mut said = format!("{shown}: a job to fill in\n");
    for (name, _) in FILES {
        said.push_str(&format!("  {name}\n"));
    }
    said.push_str("put your own figures in the place of the examples and the readings in the\n");
    said.push_str(&format!("tables, then run:\n  borewright plan {shown}\n"));
    print(said.as_bytes())?;
    Ok(Status::Go)
}

/// What was made so far, so that a full disk leaves nothing.
#[derive(Default)]
struct Made {
    files: Vec<PathBuf>,
    folders: Vec<PathBuf>,
}

impl Made {
    fn lay_out(&mut self, dir: &Path) -> Result<(), Failure> {
        let disk = |path: &Path, source| Failure::Disk { path: path.to_owned(), source };
        for (name, text) in FILES {
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
            folder::write_file(&path, text.as_bytes())?;
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
        let mut made = Made::default();
        made.lay_out(&job).unwrap();
        made.take_back();
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 0);
        // A file of somebody's in the way stops it, and stays.
        std::fs::create_dir_all(job.join("readings")).unwrap();
        std::fs::write(job.join("readings/bores.csv"), "mine").unwrap();
        let mut made = Made::default();
        assert!(made.lay_out(&job).is_err());
        made.take_back();
        assert_eq!(std::fs::read_to_string(job.join("readings/bores.csv")).unwrap(), "mine");
        assert!(!job.join("job.yaml").exists());
    }
}
