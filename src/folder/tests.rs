//! Writing, replacing and what must survive both.

use borewright_planner::read::source::sha256_hex;

use super::*;

fn artifact(path: &str, text: &str) -> Artifact {
    Artifact::new(path.into(), text.as_bytes().to_vec())
}

fn is_place<T: std::fmt::Debug>(result: Result<T, Failure>) -> bool {
    matches!(result, Err(Failure::Place { .. }))
}

#[test]
fn a_second_plan_takes_the_place_of_the_first_whole() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    write(&out, &[artifact("a.txt", "one"), artifact("lists/b.nc", "two")]).unwrap();
    write(&out, &[artifact("a.txt", "three")]).unwrap();
    assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "three");
    assert!(!out.join("lists").exists());
    // Nothing is left beside it.
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
}

#[test]
fn what_somebody_else_wrote_is_never_removed() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("notes.txt"), "mine").unwrap();
    assert!(is_place(write(&out, &[artifact("a.txt", "one")])));
    fs::remove_file(out.join("notes.txt")).unwrap();
    write(&out, &[artifact("a.txt", "one")]).unwrap();
    // A note put beside the plan, and a list changed by hand, are somebody's work.
    fs::write(out.join("notes.txt"), "mine").unwrap();
    assert!(is_place(write(&out, &[artifact("a.txt", "two")])));
    fs::remove_file(out.join("notes.txt")).unwrap();
    fs::write(out.join("a.txt"), "edited").unwrap();
    assert!(is_place(write(&out, &[artifact("a.txt", "two")])));
    assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "edited");
}

#[cfg(unix)]
#[test]
fn a_link_in_the_place_of_the_folder_is_left_alone() {
    let dir = tempfile::tempdir().unwrap();
    let (out, elsewhere) = (dir.path().join("out"), dir.path().join("elsewhere"));
    fs::create_dir(&elsewhere).unwrap();
    std::os::unix::fs::symlink(&elsewhere, &out).unwrap();
    assert!(is_place(write(&out, &[artifact("a.txt", "one")])));
    assert_eq!(fs::read_dir(&elsewhere).unwrap().count(), 0);
}

/// A folder beside the place as a kill leaves it, with the age of its last change.
#[cfg(unix)]
fn leave(parent: &Path, name: &str, files: &[(&str, &str)], listed: &[&str], hours: u64) -> PathBuf {
    let folder = parent.join(name);
    fs::create_dir(&folder).unwrap();
    let list: String = listed.iter().map(|n| format!("{} {n}\n", sha256_hex(b"whole"))).collect();
    fs::write(folder.join(listed::WRITTEN), format!("{}\n{list}", listed::HEAD)).unwrap();
    for (name, text) in files {
        fs::write(folder.join(name), text).unwrap();
    }
    let then = std::time::SystemTime::now() - std::time::Duration::from_secs(hours * 3600);
    fs::File::open(&folder).unwrap().set_modified(then).unwrap();
    folder
}

#[cfg(unix)]
#[test]
fn what_a_kill_left_goes_after_an_hour_and_nothing_else() {
    let dir = tempfile::tempdir().unwrap();
    let parent = dir.path();
    let half = leave(parent, ".borewright-aaaaaa", &[("a.txt", "who")], &["a.txt", "b.txt"], 2);
    let young = leave(parent, ".borewright-bbbbbb", &[("a.txt", "who")], &["a.txt"], 0);
    let noted = leave(parent, ".borewright-cccccc", &[("note.txt", "mine")], &["a.txt"], 48);
    let only = leave(parent, ".borewright-dddddd-was-other", &[("a.txt", "whole")], &["a.txt"], 48);
    let done = leave(parent, ".borewright-eeeeee-was-out", &[("a.txt", "whole")], &["a.txt"], 48);
    // Cut off in the first line of the list, before anything else was written.
    let begun = leave(parent, ".borewright-ffffff", &[(listed::WRITTEN, "borewright wro")], &[], 2);
    let empty = leave(parent, ".borewright-gggggg", &[(listed::WRITTEN, "")], &[], 2);
    let other = leave(parent, ".borewright-hhhhhh", &[(listed::WRITTEN, "my own list")], &[], 2);
    let own = parent.join(".borewright-notes");
    fs::create_dir(&own).unwrap();
    let out = parent.join("out");
    write(&out, &[artifact("a.txt", "one")]).unwrap();
    // The folder that stepped aside is the only copy until its place is filled again: the next run takes it.
    write(&out, &[artifact("a.txt", "two")]).unwrap();
    assert!(!half.exists() && !done.exists() && !begun.exists() && !empty.exists() && other.exists());
    assert!(young.exists() && noted.join("note.txt").exists() && only.exists() && own.exists());
}

#[test]
fn two_at_once_are_told_apart_and_a_lock_left_by_a_kill_hinders_nobody() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    let held = lock::take(dir.path(), &out).unwrap();
    let refused = write(&out, &[artifact("a.txt", "one")]).unwrap_err();
    assert!(refused.to_string().contains("another plan is being written here"), "{refused}");
    assert!(!out.exists());
    // Another place in the same folder is no hindrance.
    write(&dir.path().join("other"), &[artifact("a.txt", "one")]).unwrap();
    drop(held);
    #[cfg(unix)]
    fs::write(dir.path().join(".borewright-out.lock"), "").unwrap();
    write(&out, &[artifact("a.txt", "one")]).unwrap();
    let mut left: Vec<_> = fs::read_dir(dir.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    left.sort();
    assert_eq!(left, ["other", "out"]);
}

#[test]
fn a_note_put_into_the_folder_before_the_exchange_makes_it_go_back() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    write(&out, &[artifact("a.txt", "one")]).unwrap();
    let staged = beside::stage(dir.path()).unwrap();
    fs::write(staged.path().join("a.txt"), "two").unwrap();
    // Somebody's, after the last look.
    fs::write(out.join("note.txt"), "mine").unwrap();
    let refused = replace::into_place(staged, &out, &Sums::default()).unwrap_err();
    assert!(
        refused.to_string().contains("note.txt: found a file that borewright did not write"),
        "{refused}"
    );
    assert_eq!(fs::read_to_string(out.join("note.txt")).unwrap(), "mine");
    assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "one");
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
}

#[test]
fn a_note_put_into_the_old_folder_after_the_exchange_moves_to_the_new_one() {
    let dir = tempfile::tempdir().unwrap();
    let (out, before) = (dir.path().join("out"), dir.path().join("before"));
    write(&before, &[artifact("a.txt", "one"), artifact("lists/b.nc", "two")]).unwrap();
    write(&out, &[artifact("a.txt", "three")]).unwrap();
    fs::write(before.join("note.txt"), "mine").unwrap();
    let said = beside::remove_old(&before, &out, &Sums::default());
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!(fs::read_to_string(out.join("note.txt")).unwrap(), "mine");
    assert!(!before.exists());
    // One whose name is taken stays where it is, and is told.
    write(&before, &[artifact("a.txt", "one")]).unwrap();
    fs::write(before.join("a.txt"), "edited").unwrap();
    let said = beside::remove_old(&before, &out, &Sums::default());
    assert!(said[0].contains("the old copy could not be removed"), "{said:?}");
    assert_eq!(fs::read_to_string(before.join("a.txt")).unwrap(), "edited");
}

#[test]
fn a_place_without_an_exchange_steps_aside() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    write(&out, &[artifact("a.txt", "one")]).unwrap();
    let staged = beside::stage(dir.path()).unwrap();
    fs::write(staged.path().join("a.txt"), "two").unwrap();
    let old = replace::aside(staged, &out, &Sums::default()).unwrap();
    assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "two");
    assert!(beside::remove_old(&old, &out, &Sums::default()).is_empty() && !old.exists());
    let staged = beside::stage(dir.path()).unwrap();
    fs::write(out.join("note.txt"), "mine").unwrap();
    assert!(is_place(replace::aside(staged, &out, &Sums::default())));
    assert_eq!(fs::read_to_string(out.join("note.txt")).unwrap(), "mine");
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
}

#[cfg(unix)]
#[test]
fn a_pipe_in_the_folder_is_refused_and_not_waited_for() {
    for name in ["pipe", listed::WRITTEN, "a.txt", "plan.json"] {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("out");
        write(&out, &[artifact("a.txt", "one")]).unwrap();
        let _ = fs::remove_file(out.join(name));
        let made = std::process::Command::new("mkfifo").arg(out.join(name)).status().unwrap();
        assert!(made.success());
        assert!(is_place(write(&out, &[artifact("a.txt", "two")])), "{name}");
    }
}
