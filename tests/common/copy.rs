//! A folder copied with what lies in it.

use std::fs;
use std::path::Path;

/// Copies a folder with its files, plans left out.
pub fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if !path.is_dir() {
            fs::copy(&path, &target).unwrap();
        } else if !path.ends_with("out") {
            copy(&path, &target);
        }
    }
}
