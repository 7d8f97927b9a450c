//! Files that a job names from outside its folder, as a record of an archive gives them back: beside the job, in a folder of
//! their own.

use std::path::{Component, Path, PathBuf};

use super::sum::{State, state};

/// The folder of such files, beside that of the job.
pub const ROOM: &str = "elsewhere";

/// Files of one name that are looked for: more sleeves than a job may have.
const MOST: u32 = 99;

/// A path below the job's folder with the roundabout ways taken out, parts divided by `/`; `None` for one that leads
/// elsewhere.
#[must_use]
pub fn below(path: &str) -> Option<String> {
    let mut parts: Vec<String> = Vec::new();
    for part in Path::new(path).components() {
        match part {
            Component::Normal(part) => parts.push(part.to_string_lossy().into_owned()),
            Component::CurDir => {}
            Component::ParentDir => {
                parts.pop()?;
            }
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    (!parts.is_empty()).then(|| parts.join("/"))
}

/// The names that a file from elsewhere may have in a record, below the folder that the job's folder is in.
pub fn names(path: &str) -> impl Iterator<Item = String> {
    let file =
        Path::new(path).file_name().map_or_else(|| "file".into(), |n| n.to_string_lossy().into_owned());
    let others = file.clone();
    std::iter::once(format!("{ROOM}/{file}")).chain((2..).map(move |n| format!("{ROOM}/{n}/{others}")))
}

/// The state of a file that the job in `folder` names, against its SHA-256: where none is there by its name, of one with that
/// sum that a record gave back beside the job.
#[must_use]
pub fn state_of(folder: &Path, name: &str, sha256: &str) -> State {
    let own = state(&folder.join(name), sha256, true);
    let given_back = || beside(folder, name).any(|path| state(&path, sha256, true) == State::Unaltered);
    if own == State::Missing && given_back() { State::Unaltered } else { own }
}

/// Where a file lies that the job in `folder` names: by its name, or where a record gave it back if it gave back one alone of
/// that name.
#[must_use]
pub fn place_of(folder: &Path, name: &str) -> PathBuf {
    let own = folder.join(name);
    if own.symlink_metadata().is_ok() {
        return own;
    }
    let mut found = beside(folder, name);
    match (found.next(), found.next()) {
        (Some(one), None) => one,
        _ => own,
    }
}

/// What lies beside the job by the names that a file from elsewhere may have.
fn beside(folder: &Path, name: &str) -> impl Iterator<Item = PathBuf> {
    let most = if below(name).is_some() { 0 } else { MOST };
    let room = folder.join("..");
    let tried = names(name).take(usize::try_from(most).unwrap_or_default());
    tried.map(move |name| room.join(name)).filter(|path| path.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::source::sha256_hex;

    #[test]
    fn paths_below_the_job_keep_their_name_and_others_get_one() {
        assert_eq!(below("readings/./a/../bores.csv").as_deref(), Some("readings/bores.csv"));
        for elsewhere in ["../x.yaml", "a/../../x.yaml", "/srv/x.yaml", ""] {
            assert_eq!(below(elsewhere), None, "{elsewhere}");
        }
        let named: Vec<String> = names("../../w90.yaml").take(2).collect();
        assert_eq!(named, ["elsewhere/w90.yaml", "elsewhere/2/w90.yaml"]);
    }

    #[test]
    fn a_file_given_back_beside_the_job_is_known_by_its_sum_and_two_of_one_name_are_not_guessed_at() {
        let back = tempfile::tempdir().unwrap();
        let job = back.path().join("job");
        std::fs::create_dir_all(back.path().join("elsewhere/2")).unwrap();
        std::fs::create_dir(&job).unwrap();
        std::fs::write(back.path().join("elsewhere/w90.yaml"), "one").unwrap();
        let one = sha256_hex(b"one");
        assert_eq!(state_of(&job, "../../w90.yaml", &one), State::Unaltered);
        assert_eq!(place_of(&job, "../../w90.yaml"), job.join("../elsewhere/w90.yaml"));
        // Another sum, and a name that is the job's own.
        assert_eq!(state_of(&job, "../../w90.yaml", &sha256_hex(b"two")), State::Missing);
        assert_eq!(state_of(&job, "w90.yaml", &one), State::Missing);
        std::fs::write(back.path().join("elsewhere/2/w90.yaml"), "two").unwrap();
        assert_eq!(state_of(&job, "../../w90.yaml", &sha256_hex(b"two")), State::Unaltered);
        assert_eq!(place_of(&job, "../../w90.yaml"), job.join("../../w90.yaml"));
    }
}
