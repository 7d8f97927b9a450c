//! `new`: a job folder ready to fill in.

use std::path::Path;

use borewright_planner::read::fault::plain;

use super::print;
use crate::status::{Failure, Status};

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
    let disk = |path: &Path, source| Failure::Disk { path: path.to_owned(), source };
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
    for (name, text) in FILES {
        let path = dir.join(name);
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(|e| disk(folder, e))?;
        }
        std::fs::write(&path, text).map_err(|e| disk(&path, e))?;
    }
    let shown = plain(&dir.display().to_string(), 200);
    let mut said = format!("{shown}: a job to fill in\n");
    for (name, _) in FILES {
        said.push_str(&format!("  {name}\n"));
    }
    said.push_str("put your own figures in the place of the examples and the readings in the\n");
    said.push_str(&format!("tables, then run:\n  borewright plan {shown}\n"));
    print(said.as_bytes())?;
    Ok(Status::Go)
}
