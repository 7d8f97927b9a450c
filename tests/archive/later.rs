//! Which record of a job is its last, and what knows more than what is opened or filed.

use std::fs;
use std::path::Path;

use crate::common::{Run, command, ended, files};
use crate::place::{Shop, put};

/// A job filed before a line was recorded and after it.
fn two() -> Shop {
    let shop = Shop::filed();
    fs::create_dir_all(shop.job.job().join("readings")).unwrap();
    shop.job.write("readings/cut.csv", "check,cylinder,reading,value\n# looked at with dye\n");
    assert_eq!(shop.file(&[]).status, Some(0));
    shop
}

fn with_cache(shop: &Shop, arguments: &[&str]) -> Run {
    let mut asked = command();
    asked.args(arguments).arg("--archive").arg(&shop.archive).arg("--cache").arg(shop.cache());
    ended(&mut asked)
}

/// Without the breaks of a terminal's width.
fn whole(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_record_that_another_replaced_says_so_wherever_it_is_read() {
    let shop = two();
    let said = "NOT THE LAST of this job: record 2, 2024-11-26, ";
    assert!(whole(&shop.open(&["1"]).out).starts_with(said), "{}", shop.open(&["1"]).out);
    for last in ["2", "last"] {
        let run = shop.open(&[last]);
        assert!(run.out.starts_with("record 2 ") && run.err.is_empty(), "{}{}", run.out, run.err);
    }
    // What is data stays data.
    let run = shop.open(&["1", "first.txt"]);
    assert_eq!(run.out, "the deck was hit by a spanner\n");
    assert!(whole(&run.err).starts_with(said), "{}", run.err);
    let json = shop.open(&["1", "--format", "json"]);
    assert_eq!(json.out, fs::read_to_string(shop.record(1)).unwrap());
    // Laid out, the folder carries it, and the job's in it.
    let out = shop.job.place().join("laid-out");
    let run = shop.open(&["1", "--out", out.to_str().unwrap()]);
    assert!(run.status == Some(0) && whole(&run.out).starts_with(said), "{}", run.out);
    for at in ["NOT-THE-LAST.txt", "job/NOT-THE-LAST.txt"] {
        let text = fs::read_to_string(out.join(at)).unwrap();
        assert!(text.starts_with(said) && text.contains("This folder is record 1"), "{text}");
    }
    // While it lies there its lists do not prove, and its plan holds.
    let lists = fs::read_dir(out.join("job/out/lists")).unwrap().map(|file| file.unwrap().path());
    let list = lists.filter(|path| path.extension().is_some_and(|e| e == "nc")).min().unwrap();
    let plan = out.join("job/out/plan.json");
    for (words, at) in
        [(vec!["prove", "--plan", plan.to_str().unwrap()], &list), (vec!["check"], &out.join("job"))]
    {
        let run = ended(command().args(&words).arg(at));
        let word = words[0];
        let told = whole(&run.out) + &whole(&run.err);
        assert!(matches!(run.status, Some(3 | 4)) && told.contains("NOT-THE-LAST.txt"), "{word}: {told}");
    }
    let run = with_cache(&shop, &["find"]);
    let lines: Vec<&str> = run.out.lines().collect();
    assert!(!lines[0].contains("replaced") && lines[1].contains("  replaced by 2: "), "{}", run.out);
    let found: serde_json::Value =
        serde_json::from_str(&with_cache(&shop, &["find", "--json", "--until", "2024"]).out).unwrap();
    let by = |place: usize| found["records"][place]["replaced_by"].as_u64();
    assert_eq!((by(0), by(1)), (None, Some(2)));
    // Another customer's job of the same number replaces nothing.
    let other = Shop { job: Shop::planned().job, archive: shop.archive.clone() };
    let job = other.job.read("job.yaml");
    let lines = job.lines().filter(|line| !line.starts_with("customer:"));
    let job: String =
        lines.map(|line| format!("{line}\n")).chain(["customer: Another Shop\n".to_owned()]).collect();
    other.job.write("job.yaml", job);
    other.job.edit("bores.csv", "46.031", "46.030");
    assert!(matches!(other.job.plan().status, Some(0 | 3 | 4)));
    assert_eq!(other.file(&[]).status, Some(0));
    assert!(shop.open(&["2"]).out.starts_with("record 2 "));
}

#[test]
fn a_job_whose_number_is_written_otherwise_is_found_with_an_index_and_without() {
    let shop = Shop::planned();
    let mut written = "0731".to_owned();
    for (number, more) in [("A 12", "--begin"), ("\u{c4} 12", ""), ("a  12", ""), ("B–7", ""), ("b-7", "")]
    {
        shop.job.edit("job.yaml", &format!("\"{written}\""), &format!("\"{number}\""));
        number.clone_into(&mut written);
        assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
        let more: &[&str] = if more.is_empty() { &[] } else { &[more] };
        assert_eq!(shop.file(more).status, Some(0), "{number}");
    }
    let no_folder = shop.job.place().join("no-folder");
    fs::write(&no_folder, "").unwrap();
    let without = |record: &str| {
        let mut asked = command();
        asked.args(["open", record, "--archive"]).arg(&shop.archive).arg("--cache").arg(&no_folder);
        ended(&mut asked)
    };
    for (record, last) in [("1", "3"), ("2", "3"), ("4", "5")] {
        let said = format!("NOT THE LAST of this job: record {last}, ");
        for run in [with_cache(&shop, &["open", record]), without(record)] {
            assert!(whole(&run.out).starts_with(&said), "{record}: {}{}", run.out, run.err);
        }
    }
    for run in [with_cache(&shop, &["open", "3"]), without("3")] {
        assert!(run.out.starts_with("record 3 "), "{}", run.out);
    }
    let found = with_cache(&shop, &["find", "--job", "a 12"]).out;
    assert!(found.lines().count() == 3 && found.matches("replaced by 3").count() == 2, "{found}");
}

#[test]
fn an_older_state_of_a_job_is_filed_only_where_that_is_asked_for() {
    let shop = two();
    let out = shop.job.place().join("stick");
    assert_eq!(shop.open(&["1", "--out", out.to_str().unwrap()]).status, Some(0));
    let job = out.join("job");
    let before = files(&shop.archive);
    let run = with_cache(&shop, &["file", job.to_str().unwrap()]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
    let said = whole(&run.err);
    assert!(
        said.contains("2 recorded lines of this job that this folder has not, in record 2, 2024-11-26"),
        "{said}"
    );
    assert!(said.contains("`file --older`"), "{said}");
    assert_eq!(files(&shop.archive), before);
    let run = with_cache(&shop, &["file", job.to_str().unwrap(), "--older"]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert!(whole(&run.err).contains("an older state, filed as was asked"), "{}", run.err);
    // A plan that another replaced.
    let shop = Shop::filed();
    let plain = shop.job.read("job.yaml");
    shop.job.write("job.yaml", format!("{plain}# looked at again\n"));
    assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
    assert_eq!(shop.file(&[]).status, Some(0));
    shop.job.write("job.yaml", plain);
    assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
    let run = shop.file(&[]);
    assert_eq!(run.status, Some(2), "{}", run.out);
    let said = whole(&run.err);
    assert!(said.contains("this plan in record 1 already, and a later one of this job: record 2"), "{said}");
    assert_eq!(shop.file(&["--older"]).status, Some(0));
}

#[test]
fn a_job_whose_customers_name_was_put_right_is_the_same_job() {
    let stops = |shop: &Shop, customer: &str| {
        fs::create_dir_all(shop.job.job().join("readings")).unwrap();
        shop.job.write("readings/cut.csv", "check,cylinder,reading,value\n# cracked at the bridge\n");
        let job = shop.job.read("job.yaml");
        let rest = job.lines().filter(|line| !line.starts_with("customer:"));
        let job: String =
            rest.map(|line| format!("{line}\n")).chain([format!("customer: {customer}\n")]).collect();
        shop.job.write("job.yaml", job);
        assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
    };
    // With everything read alike, or the name written otherwise.
    for (name, read) in [("Alder Engine Works Ltd", "46.031"), ("\"MÖWE  motoren\"", "46.032")] {
        let shop = Shop::planned();
        stops(&shop, "Mowe Motoren");
        fs::remove_file(shop.job.job().join("readings/cut.csv")).unwrap();
        assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
        assert_eq!(shop.file(&["--begin"]).status, Some(0));
        let (out, older) = (shop.job.place().join("laid-out"), shop.job.place().join("older"));
        assert_eq!(shop.open(&["1", "--out", older.to_str().unwrap()]).status, Some(0));
        shop.job.edit("bores.csv", "46.031", read);
        stops(&shop, name);
        assert_eq!(shop.file(&[]).status, Some(0), "{name}");
        // Opened and found, the first is no longer the last; laid out, its lists do not prove.
        let said = "NOT THE LAST of this job: record 2, 2024-11-26, ";
        let run = shop.open(&["1", "--out", out.to_str().unwrap()]);
        assert!(whole(&run.out).starts_with(said), "{name}: {}", run.out);
        assert!(out.join("job/NOT-THE-LAST.txt").is_file());
        let run = with_cache(&shop, &["find"]);
        assert!(run.out.lines().nth(1).unwrap().contains("  replaced by 2: "), "{name}: {}", run.out);
        // The folder of before, under the old name and with a line of its own, is an older state.
        let job = older.join("job");
        fs::create_dir_all(job.join("readings")).unwrap();
        fs::write(job.join("readings/cut.csv"), "check,cylinder,reading,value\n# all well\n").unwrap();
        let run = with_cache(&shop, &["file", job.to_str().unwrap()]);
        assert_eq!(run.status, Some(2), "{name}: {}", run.out);
        let said = "a recorded line of this job that this folder has not, in record 2";
        assert!(whole(&run.err).contains(said), "{name}: {}", run.err);
    }
}

#[test]
fn a_job_whose_number_or_customer_was_put_right_is_asked_about_where_the_old_one_is_opened() {
    for (what, old, new) in
        [("number", "\"0731\"", "\"0713\""), ("customer", "Alderbeck Engine Works", "Mowe Motoren")]
    {
        let shop = Shop::planned();
        assert_eq!(shop.file(&["--begin"]).status, Some(0));
        shop.job.edit("job.yaml", old, new);
        // A table with it: not everything reads alike.
        shop.job.edit("bores.csv", "46.031", "46.032");
        assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
        let run = shop.file(&[]);
        let said = format!("was the {what} put right, and is it the same block");
        assert!(run.status == Some(0) && whole(&run.err).contains(&said), "{}", run.err);
        let out = shop.job.place().join("old");
        let run = with_cache(&shop, &["open", "1", "--out", out.to_str().unwrap()]);
        assert!(run.status == Some(0) && whole(&run.err).contains(&said), "{}", run.err);
        assert!(whole(&run.err).contains("record 2, 2024-11-26, "), "{}", run.err);
        let text = whole(&fs::read_to_string(out.join("job/NOT-THE-LAST.txt")).unwrap());
        assert!(
            text.starts_with("perhaps NOT THE LAST of this job: record 2") && text.contains(&said),
            "{text}"
        );
        assert!(ended(command().arg("check").arg(out.join("job"))).status == Some(3));
        // The new one is the last, and says nothing.
        assert_eq!(with_cache(&shop, &["open", "2"]).err, "");
        // Another block's tables are read otherwise, every one.
        let other = Shop { job: Shop::planned().job, archive: shop.archive.clone() };
        other.job.edit("job.yaml", "\"0731\"", "\"0999\"");
        for table in ["bores.csv", "walls.csv", "witness.csv"] {
            other.job.write(table, other.job.read(table) + "# on another block\n");
        }
        assert!(matches!(other.job.plan().status, Some(0 | 3 | 4)));
        let run = other.file(&[]);
        assert!(run.status == Some(0) && !run.err.contains("put right"), "{}", run.err);
    }
}

#[test]
fn two_engines_of_one_number_are_told_and_one_that_is_read_anew_is_not() {
    let moved = |shop: &Shop, by: &[f64]| {
        let text = shop.job.read("bores.csv");
        let lines = text.lines().map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            let own = cells[0].parse::<usize>().ok().and_then(|n| by.get(n - 1));
            if let (Some(by), Ok(x)) = (own, cells.get(2).map_or(Ok(0.0), |x| x.parse::<f64>())) {
                cells[2] = format!("{:.3}", x + by);
            }
            cells.join(",") + "\n"
        });
        shop.job.write("bores.csv", lines.collect::<String>());
        assert!(matches!(shop.job.plan().status, Some(0 | 3 | 4)));
        shop.file(&[])
    };
    let said = "the readings of all 2 bores differ from those in record 1";
    // A zero that was picked up anew moves both alike; one bore may have been read wrong.
    for by in [[0.012, 0.010], [0.030, 0.0]] {
        let shop = Shop::filed();
        let run = moved(&shop, &by);
        assert!(run.status == Some(0) && !run.err.contains("differ"), "{}", run.err);
        assert!(!shop.open(&["1"]).err.contains("differ"));
    }
    let shop = Shop::filed();
    let run = moved(&shop, &[0.040, -0.030]);
    assert!(run.status == Some(0) && whole(&run.err).contains(said), "{}", run.err);
    for words in [&["open", "2"][..], &["find"], &["shop"]] {
        let run = with_cache(&shop, words);
        assert!(run.status == Some(0) && whole(&run.err).contains(said), "{words:?}: {}", run.err);
    }
    assert!(whole(&shop.open(&["1"]).err).contains("from those in record 2"));
}

#[test]
fn a_job_that_was_opened_goes_on_and_not_under_another_number() {
    let shop = Shop::planned();
    let record = |job: &Path| {
        let mut record = command();
        ended(record.arg("record").arg(job).args(["note", "coolant topped up", "--by", "KP"]))
    };
    assert_eq!(record(shop.job.job()).status, Some(0));
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    let out = shop.job.place().join("laid-out");
    assert_eq!(shop.open(&["1", "--out", out.to_str().unwrap()]).status, Some(0));
    let job = out.join("job");
    let check = || ended(command().arg("check").arg(&job));
    assert_eq!((check().status, record(&job).status), (Some(0), Some(0)), "{}", check().out);
    let file = job.join("job.yaml");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replace("\"0731\"", "\"0777\"")).unwrap();
    let run = check();
    assert_eq!(run.status, Some(3), "{}", run.out);
    assert!(whole(&run.out).contains("was begun as job 0731, and this is job 0777"), "{}", run.out);
    // A record of which nothing said that it is this job's is not made this job's by being filed and opened.
    for name in [".borewright-cut.sum", "readings/.borewright-cut.sum"] {
        fs::remove_file(shop.job.job().join(name)).unwrap();
    }
    assert_eq!(shop.file(&[]).status, Some(0));
    let out = shop.job.place().join("in-doubt");
    assert_eq!(shop.open(&["last", "--out", out.to_str().unwrap()]).status, Some(0));
    let run = ended(command().arg("check").arg(out.join("job")));
    assert_eq!(run.status, Some(3), "{}", run.out);
    assert!(whole(&run.out).contains("nothing beside it says that they are of this job"), "{}", run.out);
}

#[test]
fn a_job_that_was_filed_in_doubt_is_audited_as_such_and_not_as_other() {
    let shop = Shop::planned();
    let record = |words: &[&str]| {
        let mut record = command();
        ended(record.arg("record").arg(shop.job.job()).args(words).args(["--by", "KP"])).status
    };
    assert_eq!(record(&["note", "coolant topped up"]), Some(0));
    // Under another number, with lines gone, with nothing that says whose it is, and let through.
    shop.job.edit("job.yaml", "\"0731\"", "\"0777\"");
    assert_eq!(shop.job.plan().status, Some(3));
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    shop.job.edit("job.yaml", "\"0777\"", "\"0731\"");
    let cut = shop.job.read("readings/cut.csv");
    fs::remove_file(shop.job.job().join("readings/cut.csv")).unwrap();
    assert_eq!(shop.job.plan().status, Some(3));
    assert_eq!(shop.file(&[]).status, Some(0));
    shop.job.write("readings/cut.csv", cut);
    for name in [".borewright-cut.sum", "readings/.borewright-cut.sum"] {
        fs::remove_file(shop.job.job().join(name)).unwrap();
    }
    assert_eq!(shop.job.plan().status, Some(3));
    assert_eq!(shop.file(&[]).status, Some(0));
    assert!(matches!(record(&["release", "line 1 it is the same block"]), Some(0 | 3)));
    assert_eq!(shop.job.plan().status, Some(0));
    assert_eq!(shop.file(&[]).status, Some(0));
    let audit = shop.audit_again(&["--format", "json"]);
    assert_eq!(audit.status, Some(0), "{}", audit.out);
    let told: serde_json::Value = serde_json::from_str(&audit.out).unwrap();
    let plans = &told["plans"];
    assert_eq!((&plans["alike"], &plans["other"]), (&4.into(), &serde_json::json!([])), "{plans}");
    let said: Vec<&str> =
        plans["in_doubt"].as_array().unwrap().iter().map(|own| own["text"].as_str().unwrap()).collect();
    let parts =
        ["job 0731", "the record of this job is gone", "nothing beside it says", "; released by KP: "];
    assert!(said.len() == 4 && said.iter().zip(parts).all(|(own, part)| own.contains(part)), "{said:#?}");
    let page = whole(&shop.audit_again(&["--afresh"]).out);
    assert!(page.contains("note record 2: planned in doubt of its record, and alike today: "), "{page}");
}

#[test]
fn another_jobs_record_that_was_taken_out_as_told_is_no_loss_and_is_missed_by_nobody() {
    let other = Shop::planned();
    let record = |job: &Path, words: &[&str]| {
        let mut record = command();
        ended(record.arg("record").arg(job).args(words).args(["--by", "KP"])).status
    };
    assert_eq!(record(other.job.job(), &["note", "coolant topped up"]), Some(0));
    // With what says whose it is, or the table alone.
    for whole in [true, false] {
        let shop = Shop::planned();
        let [job, cut] = [shop.job.job().to_owned(), shop.job.job().join("readings/cut.csv")];
        shop.job.edit("job.yaml", "\"0731\"", "\"0777\"");
        // Read anew, every table.
        for table in ["bores.csv", "walls.csv", "witness.csv"] {
            shop.job.write(table, shop.job.read(table) + "# on another block\n");
        }
        fs::create_dir_all(cut.parent().unwrap()).unwrap();
        fs::copy(other.job.job().join("readings/cut.csv"), &cut).unwrap();
        for name in [".borewright-cut.sum", "readings/.borewright-cut.sum"].iter().filter(|_| whole) {
            fs::copy(other.job.job().join(name), job.join(name)).unwrap();
        }
        let run = shop.job.plan();
        let said = if whole {
            "the record of the other job, readings/cut.csv, out"
        } else {
            "take readings/cut.csv out"
        };
        assert!(run.status == Some(3) && whole_of(&run).contains(said), "{}", whole_of(&run));
        assert_eq!(shop.file(&["--begin"]).status, Some(0));
        fs::remove_file(&cut).unwrap();
        let run = shop.job.plan();
        if whole {
            assert_eq!(run.status, Some(0), "{}", whole_of(&run));
        } else {
            let way = "the lead lets the loss through (`release \"line 1: WHY\"`, with `--by`)";
            assert!(run.status == Some(3) && whole_of(&run).contains(way), "{}", whole_of(&run));
            assert_eq!(
                record(&job, &["release", "line 1: the record of another block was taken out"]),
                Some(0)
            );
            assert_eq!(shop.job.plan().status, Some(0));
        }
        let run = shop.file(&[]);
        assert_eq!(run.status, Some(0), "{}", run.err);
        // It stays so once this job has lines of its own, and is said of no record.
        assert_eq!(record(&job, &["note", "bar warm"]), Some(0));
        assert_eq!(shop.job.plan().status, Some(0));
        assert_eq!(shop.file(&[]).status, Some(0));
        let out = shop.job.place().join("last");
        let run = with_cache(&shop, &["open", "last", "--out", out.to_str().unwrap()]);
        assert!(run.err.is_empty() && !out.join("job/NOT-THE-LAST.txt").exists(), "{}", run.err);
        assert_eq!(ended(command().arg("check").arg(out.join("job"))).status, Some(0));
        let found = with_cache(&shop, &["find"]);
        assert!(!found.out.contains("lacks"), "{}", found.out);
        // Lines of this job are missed as ever.
        fs::remove_file(&cut).unwrap();
        assert_eq!(shop.job.plan().status, Some(3));
        assert_eq!(shop.file(&[]).status, Some(2));
    }
}

fn whole_of(run: &Run) -> String {
    whole(&run.out) + &whole(&run.err)
}

#[test]
fn of_a_job_that_went_on_in_two_folders_neither_is_the_last_unseen() {
    let shop = Shop::planned();
    let note = |job: &Path, text: &str| {
        let mut record = command();
        let run = ended(record.arg("record").arg(job).args(["note", text, "--by", "KP"]));
        assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
    };
    let home = shop.job.job();
    note(home, "coolant topped up");
    assert_eq!(shop.file(&["--begin"]).status, Some(0));
    let stick = shop.job.place().join("stick");
    assert_eq!(shop.open(&["1", "--out", stick.to_str().unwrap()]).status, Some(0));
    note(&stick.join("job"), "coolant changed");
    note(home, "bar warm");
    assert_eq!(with_cache(&shop, &["file", stick.join("job").to_str().unwrap()]).status, Some(0));
    let run = shop.file(&[]);
    let said = "a recorded line of this job that this folder has not, in record 2, ";
    assert!(run.status == Some(2) && whole(&run.err).contains(said), "{}", run.err);
    assert!(whole(&run.err).contains("the first is `note: coolant changed`"), "{}", run.err);
    assert_eq!(shop.file(&["--older"]).status, Some(0));
    let run = with_cache(&shop, &["open", "2"]);
    let said = "NOT THE LAST of this job: record 3, ";
    let lacks = "and not in that one are a line recorded here, the first `note: coolant changed`";
    assert!(whole(&run.out).starts_with(said) && whole(&run.out).contains(lacks), "{}", run.out);
    let run = with_cache(&shop, &["find"]);
    assert!(run.out.contains("replaced by 3, which lacks a line: "), "{}", run.out);
    // The last lacks what the other has: laid out, it may not be the last, and holds.
    let out = shop.job.place().join("last");
    let run = with_cache(&shop, &["open", "last", "--out", out.to_str().unwrap()]);
    let said = "of this job has a recorded line that this record has not, the first `note: coolant changed`";
    assert!(run.status == Some(0) && whole(&run.err).contains(said), "{}", run.err);
    let text = whole(&fs::read_to_string(out.join("job/NOT-THE-LAST.txt")).unwrap());
    assert!(
        text.starts_with("perhaps NOT THE LAST of this job: record 2, ") && text.contains(said),
        "{text}"
    );
    assert_eq!(ended(command().arg("check").arg(out.join("job"))).status, Some(3));
    // Once it is written down here too, nothing is missing.
    note(home, "coolant changed");
    assert_eq!(shop.file(&[]).status, Some(0));
    let out = shop.job.place().join("both");
    let run = with_cache(&shop, &["open", "4", "--out", out.to_str().unwrap()]);
    assert!(run.err.is_empty() && !out.join("job/NOT-THE-LAST.txt").exists(), "{}", run.err);
}

#[test]
fn a_record_that_lies_there_twice_is_told() {
    let shop = two();
    let copy = shop.record(2).with_file_name("000000002 (conflicted copy).json");
    put(&copy, &fs::read(shop.record(1)).unwrap());
    let said = "there are two records 2: beside the one that is read here lies \
                records/000/000/000000002 (conflicted copy).json";
    shop.job.write("notes/third.txt", "x");
    for run in [with_cache(&shop, &["find", "nowhere"]), shop.open(&["2"]), shop.file(&[])] {
        assert!(run.status == Some(0) && whole(&run.err).contains(said), "{}", run.err);
    }
    let run = shop.open(&["1", "first.txt"]);
    assert!(!run.err.contains("two records"), "{}", run.err);
    // What the other says is in the last record too; where it is not, which of the two is the last nobody knows.
    let laid_out = |name: &str| {
        let out = shop.job.place().join(name);
        assert_eq!(shop.open(&["last", "--out", out.to_str().unwrap()]).status, Some(0));
        fs::read_to_string(out.join("job/NOT-THE-LAST.txt")).unwrap_or_default()
    };
    assert_eq!(laid_out("knows-all"), "");
    put(&shop.record(3).with_file_name("000000003-other.json"), &fs::read(shop.record(2)).unwrap());
    let text = laid_out("of-two");
    assert!(text.contains("another record 3 lies beside the one of that number"), "{text}");
    assert!(text.starts_with("perhaps NOT THE LAST"), "{text}");
}

#[test]
fn a_record_that_lies_there_twice_in_a_folder_of_its_own_is_told_as_audit_tells_it() {
    let shop = Shop::filed();
    let note = |text: &str| {
        let mut record = command();
        let run = ended(record.arg("record").arg(shop.job.job()).args(["note", text, "--by", "KP"]));
        assert_eq!(run.status, Some(0), "{}{}", run.out, run.err);
        assert_eq!(shop.file(&[]).status, Some(0));
    };
    note("coolant topped up");
    note("coolant changed");
    // What another computer filed meanwhile came under a number of its own, or under one that is taken here.
    let other = fs::read(shop.record(3)).unwrap();
    fs::remove_file(shop.record(3)).unwrap();
    for (folder, from) in
        [("records/000/000 (1)", 3), ("records/000 (PC2)/000", 3), ("records (conflicted copy)/000/000", 2)]
    {
        let at = shop.archive.join(folder);
        fs::create_dir_all(&at).unwrap();
        put(&at.join(format!("{from:09}.json")), &other);
        let out = shop.job.place().join(format!("out-{}", folder.len()));
        let run = shop.open(&["last", "--out", out.to_str().unwrap()]);
        let said = if from == 2 {
            format!("another record 2 lies beside the one of that number, {folder}/000000002.json")
        } else {
            format!("a record 3 lies beside the archive's, which end at record 2, {folder}/000000003.json")
        };
        assert!(run.status == Some(0) && whole(&run.err).contains(&said), "{}", run.err);
        let text = whole(&fs::read_to_string(out.join("job/NOT-THE-LAST.txt")).unwrap());
        assert!(text.starts_with("perhaps NOT THE LAST") && text.contains(&said), "{text}");
        let audit = shop.audit(&[]);
        assert!(whole(&audit.out).contains(&format!("{folder}/00000000")), "{}", audit.out);
        assert_eq!(audit.status, Some(4), "{}", audit.out);
        fs::remove_dir_all(at).unwrap();
    }
}

#[test]
fn an_archive_that_was_put_back_is_told_and_gives_out_no_number_twice() {
    let shop = two();
    assert_eq!(with_cache(&shop, &["find"]).err, "");
    let last = fs::read(shop.record(2)).unwrap();
    fs::remove_file(shop.record(2)).unwrap();
    let said = "an archive that ends at record 1, where it went on to record 2";
    let run = with_cache(&shop, &["find"]);
    assert!(run.status == Some(0) && whole(&run.err).contains(said), "{}", run.err);
    // What is opened may not be the last of its job: it says so, and is not cut by.
    let out = shop.job.place().join("of-the-copy");
    let run = with_cache(&shop, &["open", "last", "--out", out.to_str().unwrap()]);
    assert!(run.status == Some(0) && whole(&run.err).contains(said), "{}", run.err);
    for at in ["NOT-THE-LAST.txt", "job/NOT-THE-LAST.txt"] {
        let text = fs::read_to_string(out.join(at)).unwrap();
        assert!(text.starts_with("perhaps NOT THE LAST of this job: ") && text.contains(said), "{text}");
    }
    let run = with_cache(&shop, &["open", "last"]);
    assert!(run.out.starts_with("record 1 ") && whole(&run.err).contains(said), "{}", run.err);
    // Nor is it the last that the shop is counted by.
    let run = with_cache(&shop, &["shop"]);
    assert!(run.status == Some(0) && whole(&run.err).contains(said), "{}", run.err);
    let file = || with_cache(&shop, &["file", shop.job.job().to_str().unwrap()]);
    let run = file();
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{}", run.err);
    assert!(whole(&run.err).contains(said) && !shop.record(2).exists(), "{}", run.err);
    let run = with_cache(&shop, &["audit", "--without-plans"]);
    assert!(
        run.status == Some(4) && whole(&run.out).contains("saw the chain end at record 2"),
        "{}",
        run.out
    );
    // The newer copy is found, or there is none.
    put(&shop.record(2), &last);
    assert_eq!((file().status, with_cache(&shop, &["find"]).err), (Some(0), String::new()));
    fs::remove_file(shop.record(2)).unwrap();
    assert_eq!(file().status, Some(2));
    let cache = fs::read_dir(shop.cache()).unwrap().next().unwrap().unwrap().path();
    fs::remove_file(cache.join("last-seen.json")).unwrap();
    assert_eq!(file().status, Some(0));
    // Begun anew in its place.
    fs::remove_dir_all(&shop.archive).unwrap();
    let job = shop.job.job().to_str().unwrap();
    assert_eq!(with_cache(&shop, &["file", job, "--begin"]).status, Some(0));
}

#[test]
fn what_was_read_of_another_archive_is_not_counted_once_the_right_one_is_back() {
    let (shop, other) = (two(), Shop::planned());
    other.job.edit("job.yaml", "\"0731\"", "\"0777\"");
    assert!(matches!(other.job.plan().status, Some(0 | 3 | 4)));
    assert_eq!(other.file(&["--begin"]).status, Some(0));
    let own = fs::read(shop.record(1)).unwrap();
    let of = |shop: &Shop| shop.archive.join("content");
    for name in files(&of(&other)) {
        let [from, to] = [of(&other), of(&shop)].map(|content| content.join(&name));
        if from.is_file() && !to.exists() {
            fs::create_dir_all(to.parent().unwrap()).unwrap();
            fs::copy(from, to).unwrap();
        }
    }
    put(&shop.record(1), &fs::read(other.record(1)).unwrap());
    let trend = |shop: &Shop| with_cache(shop, &["trend", "dunlin", "--format", "json"]);
    assert!(with_cache(&shop, &["find"]).out.contains("0777") && trend(&shop).out.contains("0777"));
    put(&shop.record(1), &own);
    let run = trend(&shop);
    assert!(run.status == Some(0) && !run.out.contains("0777"), "{}{}", run.out, run.err);
}

#[test]
fn what_is_not_kept_is_named() {
    let shop = Shop::planned();
    let job = shop.job.job();
    for name in
        ["photos/1.jpg", "photos/2.jpg", "Notes/a.txt", "readings/as-found.txt", "mail from customer.txt"]
    {
        let path = job.join(name);
        fs::create_dir_all(path.parent().unwrap_or(Path::new("."))).unwrap();
        fs::write(path, "x").unwrap();
    }
    shop.job.write("readings/cut.csv", "check,cylinder,reading,value\n");
    let run = shop.file(&["--begin", "--format", "json"]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    let left = ["Notes/ (1 file)", "mail from customer.txt", "photos/ (2 files)", "readings/as-found.txt"];
    assert!(whole(&run.err).contains(&format!("not kept: {}; what is", left.join(", "))), "{}", run.err);
    let filed: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(filed["not_kept"], serde_json::json!(left));
}

#[test]
fn a_record_is_found_by_what_is_printed_and_by_what_was_recorded() {
    let shop = two();
    let plan: serde_json::Value = serde_json::from_str(&shop.job.read("out/plan.json")).unwrap();
    let whole = plan["fingerprint"].as_str().unwrap();
    let record: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(shop.record(1)).unwrap()).unwrap();
    let groups =
        |sum: &str, count: usize| (0..count).map(|n| &sum[n * 4..n * 4 + 4]).collect::<Vec<_>>().join("-");
    let lines = |word: &str| with_cache(&shop, &["find", word]).out.lines().count();
    for printed in
        [groups(whole, 3), groups(whole, 16), groups(whole, 2).to_uppercase(), whole[..12].to_owned()]
    {
        assert_eq!(lines(&printed), 2, "{printed}");
        let run = shop.open(&[&printed]);
        assert!(run.out.starts_with("record 2 "), "{printed}: {}{}", run.out, run.err);
    }
    let of_record = with_cache(&shop, &["find", &groups(record["sha256"].as_str().unwrap(), 3)]).out;
    assert!(of_record.starts_with("      1 "), "{of_record}");
    let other = "0000-0000-0000";
    assert_eq!(with_cache(&shop, &["find", other]).out.lines().next(), Some("nothing found"));
    assert_eq!(shop.open(&[other]).status, Some(2));
    assert_eq!((lines("dye"), lines("cut.csv"), lines("spanner dye")), (1, 1, 1));
}

#[test]
fn a_filing_that_the_disk_refused_says_that_nothing_is_filed() {
    let shop = Shop::filed();
    shop.job.write("notes/second.txt", "x");
    let content = shop.archive.join("content");
    fs::rename(&content, shop.archive.join("away")).unwrap();
    fs::write(&content, "no folder").unwrap();
    let run = shop.file(&[]);
    assert_eq!((run.status, run.out.as_str()), (Some(1), ""), "{}", run.err);
    assert!(run.err.starts_with("nothing filed: ") && run.err.contains("file again"), "{}", run.err);
    assert!(!shop.record(2).exists());
    fs::remove_file(&content).unwrap();
    fs::rename(shop.archive.join("away"), &content).unwrap();
    assert_eq!(shop.file(&[]).status, Some(0));
}
