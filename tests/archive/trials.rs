//! What an archive must outlive: kills, two at once, a share that is away, files that are bombs, figures that are none.

use std::fs::{self, File};

use crate::common::{command, ended, files};
use crate::learning::Shop as Family;
use crate::place::{Shop, forged, four_at_once, put, sum};

#[test]
fn a_filing_that_is_killed_leaves_an_archive_that_is_whole() {
    let shop = Shop::filed();
    shop.outlives_kills(&[2, 4, 5, 6, 7, 8, 9, 10]);
    assert!(matches!(shop.audit(&[]).status, Some(0 | 3)));
}

#[test]
fn several_who_file_at_once_get_a_number_each() {
    let shop = Shop::filed();
    let numbers = four_at_once(shop.archive.as_os_str());
    assert_eq!(numbers, [2, 3, 4, 5]);
    assert_eq!(shop.audit(&[]).status, Some(0));
}

#[test]
fn a_share_that_is_away_is_told_by_every_command_and_left_empty() {
    let shop = Shop::filed();
    fs::rename(&shop.archive, shop.job.place().join("away")).unwrap();
    fs::create_dir(&shop.archive).unwrap();
    let new = shop.job.place().join("new");
    let (job, new) = (shop.job.job().to_str().unwrap().to_owned(), new.to_str().unwrap().to_owned());
    let place = shop.archive.to_str().unwrap().to_owned();
    let before = files(shop.job.job());
    for arguments in [
        vec!["file", &job],
        vec!["find", "spanner"],
        vec!["open", "last"],
        vec!["audit"],
        vec!["trend", "dunlin"],
        vec!["new", &new, "--family", "dunlin"],
    ] {
        let run = ended(command().args(&arguments).args(["--archive", &place]));
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(run.err.contains("If it lies on a share that is away"), "{arguments:?}: {}", run.err);
    }
    let run = ended(command().args(["plan", &job, "--prior", &place]));
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert_eq!(files(&shop.archive), Vec::<String>::new());
    assert_eq!(files(shop.job.job()), before);
}

#[test]
fn a_hole_of_terabytes_is_named_and_not_read() {
    let shop = Shop::filed();
    for path in [shop.kept(1, "job/notes/first.txt"), shop.record(2)] {
        put(&path, b"");
        // Where the disk has no holes there is no such bomb.
        if File::options().write(true).open(&path).unwrap().set_len(1 << 42).is_err() {
            return;
        }
    }
    // Read to its end, it would not come to one.
    let audit = shop.audit(&[]);
    assert_eq!(audit.status, Some(4), "{}", audit.out);
    assert!(
        audit.out.contains("its kept bytes were altered") && audit.out.contains("larger than any record")
    );
    assert_eq!(shop.open(&["1", "job/notes/first.txt"]).status, Some(1));
    assert_eq!(shop.open(&["2"]).status, Some(1));
}

#[cfg(unix)]
#[test]
fn a_link_that_points_out_gives_nothing_back_and_takes_nothing_in() {
    use std::os::unix::fs::symlink;
    let shop = Shop::filed();
    let secret = shop.job.place().join("secret");
    fs::write(&secret, "the deck was hit by a spanner\n").unwrap();
    let kept = shop.kept(1, "job/notes/first.txt");
    fs::remove_file(&kept).unwrap();
    // The very bytes, but elsewhere: they may change there unseen.
    symlink(&secret, &kept).unwrap();
    let open = shop.open(&["1", "job/notes/first.txt"]);
    assert_eq!((open.status, open.out.as_str()), (Some(1), ""), "{}", open.err);
    assert_eq!(shop.audit(&[]).status, Some(4));
    // A folder of the records that leads elsewhere takes no record.
    let elsewhere = shop.job.place().join("elsewhere");
    fs::rename(shop.archive.join("records"), &elsewhere).unwrap();
    symlink(&elsewhere, shop.archive.join("records")).unwrap();
    let before = files(&elsewhere);
    shop.job.write("notes/first.txt", "other");
    assert_ne!(shop.file(&[]).status, Some(0));
    assert_eq!(files(&elsewhere), before);
}

#[cfg(unix)]
#[test]
fn what_is_filed_into_a_closed_folder_is_closed_to_others() {
    use std::os::unix::fs::PermissionsExt;
    let shop = Shop::planned();
    fs::create_dir(&shop.archive).unwrap();
    fs::set_permissions(&shop.archive, fs::Permissions::from_mode(0o700)).unwrap();
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    for name in files(&shop.archive) {
        let mode = fs::symlink_metadata(shop.archive.join(&name)).unwrap().permissions().mode();
        assert_eq!(mode & 0o077, 0, "{name}: {mode:o}");
    }
}

#[test]
fn figures_that_no_block_can_have_are_left_out_of_what_a_family_says() {
    let family = Family::with(&[0.010, -0.012, 0.008, -0.005, 0.002]);
    let archive = family.archive();
    let path = archive.join("records/000/000/000000005.json");
    let bytes = fs::read(&path).unwrap();
    let record: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
    let entry = record["files"].as_array().unwrap().iter().find(|f| f["name"] == "figures.json").unwrap();
    let old = entry["sha256"].as_str().unwrap();
    let kept = |sum: &str| archive.join("content").join(&sum[..2]).join(sum);
    let text = fs::read_to_string(kept(old)).unwrap();
    for (wrong, by) in
        [("\"off\": [", "\"off\": [ 1e300, 2, "), ("{", "[["), ("\"u\": [", "\"u\": [ -1e307, ")]
    {
        let made = text.replacen(wrong, by, 1);
        assert_ne!(made, text, "{wrong}");
        let new = sum(made.as_bytes());
        fs::create_dir_all(kept(&new).parent().unwrap()).unwrap();
        fs::write(kept(&new), &made).unwrap();
        let lied = forged(&bytes, old, &new);
        let length = |n: usize| format!("\"bytes\": {n},\n      \"sha256\": \"{new}\"");
        put(&path, &forged(&lied, &length(text.len()), &length(made.len())));
        let trend = ended(
            command().args(["trend", "dunlin", "--archive"]).arg(&archive).arg("--cache").arg(family.cache()),
        );
        assert_eq!(trend.status, Some(0), "{wrong}: {}", trend.err);
        assert!(
            trend.err.contains("1 records of the family have no figures that can be read"),
            "{}",
            trend.err
        );
        assert!(trend.out.contains("4 blocks"), "{}", trend.out);
    }
}
