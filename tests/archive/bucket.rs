//! An archive in a bucket: what the commands do with an address, with and without the feature `s3`.

use crate::common::{Folder, command, ended, files};

#[test]
fn an_address_that_is_no_bucket_is_refused_by_every_command_and_is_no_path() {
    let job = Folder::base("base");
    job.plan();
    let before = files(job.place());
    let path = job.job().to_str().unwrap();
    let new = job.place().join("new").to_str().unwrap().to_owned();
    for address in ["s3://", "s3://Works/x", "s3://works/../../x", "S3://works/a b", "s3://10.0.0.1/x"] {
        for arguments in [
            vec!["file", path, "--begin", "--archive", address],
            vec!["find", "--archive", address],
            vec!["open", "last", "--archive", address],
            vec!["audit", "--archive", address],
            vec!["trend", "dunlin", "--archive", address],
            vec!["shop", "--archive", address],
            vec!["new", &new, "--family", "dunlin", "--archive", address],
            vec!["plan", path, "--prior", address],
            vec!["check", path, "--prior", address],
        ] {
            let run = ended(command().args(&arguments).current_dir(job.place()));
            assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{arguments:?}");
            assert!(run.err.starts_with("found the ") && run.err.contains("expected"), "{}", run.err);
        }
    }
    assert_eq!(files(job.place()), before);
}

#[cfg(not(feature = "s3"))]
#[test]
fn a_build_without_buckets_says_so() {
    let job = Folder::base("base");
    job.plan();
    let before = files(job.place());
    let mut file = command();
    file.arg("file").arg(job.job()).args(["--begin", "--archive", "s3://engine-works/jobs"]);
    let run = ended(file.current_dir(job.place()));
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(run.err.contains("built without archives in buckets (feature `s3`)"), "{}", run.err);
    assert!(run.err.ends_with("nothing was written\n"), "{}", run.err);
    let run =
        ended(command().arg("find").env("BOREWRIGHT_ARCHIVE", "s3://engine-works").current_dir(job.place()));
    assert_eq!(run.status, Some(2), "{}", run.err);
    assert_eq!(files(job.place()), before);
}

#[cfg(feature = "s3")]
mod with_a_server {
    use std::fs;
    use std::path::PathBuf;
    use std::process::Command;
    use std::sync::atomic::{AtomicU32, Ordering};

    use borewright_archive::{Address, Kind, Object, Store};

    use crate::common::{Folder, Run, command, ended, root};
    use crate::learning::Shop as Family;
    use crate::place::{Shop, four_at_once};
    use crate::proxy::Proxy;

    /// An address of its own in the bucket of scripts/archive-s3.
    fn address() -> Option<String> {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let Ok(given) = std::env::var("BOREWRIGHT_TEST_S3") else {
            eprintln!("skipped: BOREWRIGHT_TEST_S3 names no bucket (scripts/archive-s3)");
            return None;
        };
        Some(format!("{given}/run-{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed)))
    }

    fn server() -> String {
        std::env::var("AWS_ENDPOINT_URL").unwrap()
    }

    /// The small job with a note, filed once.
    fn filed() -> Option<(Shop, String)> {
        let address = address()?;
        let mut shop = Shop::planned();
        shop.archive = PathBuf::from(&address);
        fs::create_dir_all(shop.job.job().join("notes")).unwrap();
        shop.job.write("notes/first.txt", "the deck was hit by a spanner\n");
        let before = shop.file(&[]);
        assert_eq!(before.status, Some(2), "{}", before.err);
        assert!(before.err.contains("found nothing, expected an archive"), "{}", before.err);
        let run = shop.file(&["--begin"]);
        assert_eq!(run.status, Some(0), "{}", run.err);
        Some((shop, address))
    }

    fn object(address: &str) -> Object {
        Object::at(&Address::parse(address).unwrap()).unwrap()
    }

    fn keys(store: &Object, folder: &str) -> Vec<String> {
        let mut all = Vec::new();
        for listed in store.list(folder).unwrap() {
            let at = if folder.is_empty() { listed.name } else { format!("{folder}/{}", listed.name) };
            match listed.kind {
                Kind::Folder => all.extend(keys(store, &at)),
                _ => all.push(at),
            }
        }
        all
    }

    fn bytes(store: &Object, key: &str) -> Vec<u8> {
        let mut read = Vec::new();
        store.get(key).unwrap().unwrap().reader.read_to_end(&mut read).unwrap();
        read
    }

    /// What somebody does who has the bucket's keys; the server of the tests looks at no signature.
    fn force(address: &str, method: &str, key: &str, body: &[u8]) {
        use std::io::{Read, Write};
        let host = server().trim_start_matches("http://").to_owned();
        let lines = [
            format!("{method} /{}/{key} HTTP/1.1", address.trim_start_matches("s3://")),
            format!("Host: {host}"),
            format!("Content-Length: {}", body.len()),
            "Authorization: AWS4-HMAC-SHA256 Credential=nobody/20261126/us-east-1/s3/aws4_request".to_owned(),
            "Connection: close\r\n\r\n".to_owned(),
        ];
        let mut stream = std::net::TcpStream::connect(&host).unwrap();
        stream.write_all(lines.join("\r\n").as_bytes()).unwrap();
        stream.write_all(body).unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        assert!(answer.starts_with("HTTP/1.1 20"), "{answer}");
    }

    /// As somebody asks who never did before, over another way to the server.
    fn over(proxy: &Proxy, address: &str, arguments: &[&str]) -> Run {
        let cache = tempfile::tempdir().unwrap();
        let mut run = command();
        run.args(arguments).args(["--archive", address]).env("AWS_ENDPOINT_URL", proxy.url());
        if arguments[0] != "file" && arguments[0] != "open" {
            run.arg("--cache").arg(cache.path());
        }
        ended(&mut run)
    }

    #[test]
    fn a_job_is_filed_in_a_bucket_found_given_back_and_whole() {
        let Some((shop, address)) = filed() else { return };
        let again = shop.file(&["--format", "json"]);
        assert!(
            again.out.contains("\"again\": true") && again.out.contains("\"new_bytes\": 0"),
            "{}",
            again.out
        );
        shop.job.write("notes/second.txt", "bore 2 was read twice\n");
        let second = shop.file(&[]);
        assert!(second.out.contains(&format!("record 2 of {address}")), "{}", second.out);
        let found =
            ended(command().args(["find", "spann", "--archive", &address, "--cache"]).arg(shop.cache()));
        assert_eq!((found.status, found.out.lines().count()), (Some(0), 2), "{}{}", found.out, found.err);
        let note = shop.open(&["2", "job/notes/second.txt"]);
        assert_eq!(note.out, "bore 2 was read twice\n");
        let out = shop.job.place().join("given");
        let all = shop.open(&["last", "--out", out.to_str().unwrap()]);
        assert_eq!(all.status, Some(0), "{}", all.err);
        assert_eq!(
            fs::read_to_string(out.join("job/out/plan.json")).unwrap(),
            shop.job.read("out/plan.json")
        );
        let audit = shop.audit_again(&[]);
        assert_eq!(audit.status, Some(0), "{}{}", audit.out, audit.err);
        assert!(audit.out.contains("2 whole records"), "{}", audit.out);
    }

    #[test]
    fn a_copy_of_a_bucket_is_an_archive_in_a_folder_that_an_independent_reader_finds_whole() {
        let Some((mut shop, address)) = filed() else { return };
        shop.job.write("notes/first.txt", "the deck was faced\n");
        assert_eq!(shop.file(&[]).status, Some(0));
        let (store, copy) = (object(&address), shop.job.place().join("copy"));
        for key in keys(&store, "") {
            let path = copy.join(&key);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes(&store, &key)).unwrap();
        }
        shop.archive = copy;
        assert_eq!(shop.audit(&[]).status, Some(0));
        match Command::new("python3").arg(root().join("scripts/read-archive")).arg(&shop.archive).output() {
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                eprintln!("skipped: python3 is not installed")
            }
            run => {
                let run = run.unwrap();
                assert!(run.status.success() && run.stdout.is_empty() && run.stderr.is_empty(), "{run:?}");
            }
        }
    }

    #[test]
    fn what_was_altered_or_taken_away_in_a_bucket_is_named() {
        let Some((shop, address)) = filed() else { return };
        let store = object(&address);
        let record: serde_json::Value =
            serde_json::from_slice(&bytes(&store, "records/000/000/000000001.json")).unwrap();
        let kept = |name: &str| {
            let file = record["files"].as_array().unwrap().iter().find(|f| f["name"] == name).unwrap();
            let sum = file["sha256"].as_str().unwrap();
            format!("content/{}/{sum}", &sum[..2])
        };
        force(&address, "PUT", &kept("job/notes/first.txt"), b"the deck was hit by a hammer!\n");
        force(&address, "DELETE", &kept("job/out/plan.json"), b"");
        force(&address, "PUT", "content/note", b"mine");
        let audit = shop.audit(&[]);
        assert_eq!(audit.status, Some(4), "{}{}", audit.out, audit.err);
        for said in ["notes/first.txt", "altered", "plan.json", "gone", "content/note"] {
            assert!(audit.out.contains(said), "{said}: {}", audit.out);
        }
        assert_eq!(shop.open(&["1", "job/notes/first.txt"]).status, Some(1));
        let refused = shop.file(&[]);
        assert_eq!(refused.status, Some(1), "{}", refused.err);
        let mut altered = bytes(&store, "records/000/000/000000001.json");
        altered[200] ^= 1;
        force(&address, "PUT", "records/000/000/000000001.json", &altered);
        assert!(shop.audit(&[]).out.contains("sum that stands at its end"));
    }

    #[test]
    fn several_who_file_into_a_bucket_at_once_get_a_number_each() {
        let Some((shop, address)) = filed() else { return };
        let numbers = four_at_once(address.as_ref());
        assert_eq!(numbers, [2, 3, 4, 5]);
        assert_eq!(shop.audit(&[]).status, Some(0));
    }

    #[test]
    fn a_filing_into_a_bucket_that_is_killed_leaves_no_record_without_its_content() {
        let Some((shop, _)) = filed() else { return };
        shop.outlives_kills(&[3, 5, 6, 7, 8, 9, 10]);
    }

    #[test]
    fn a_server_that_goes_away_while_it_is_filed_in_a_bucket_is_told_and_leaves_nothing_half() {
        let Some((shop, address)) = filed() else { return };
        let job = shop.job.job().to_str().unwrap().to_owned();
        let mut through = 0;
        for (n, most) in [300, 3_000, 8_000, 12_000, 16_000, 24_000, 60_000].into_iter().enumerate() {
            shop.job.write("notes/first.txt", format!("the server went away {n}: {}", "x".repeat(n * 900)));
            let proxy = Proxy::to(&server(), most);
            let run = over(&proxy, &address, &["file", &job]);
            if run.status == Some(0) {
                through += 1;
            } else {
                assert_eq!((run.status, run.out.as_str()), (Some(1), ""), "{}", run.err);
                let told = run.err.contains("cannot be reached") || run.err.contains("lost half-way");
                assert!(told && run.err.starts_with(&address) && run.err.lines().count() == 1, "{}", run.err);
            }
            let audit = shop.audit(&[]);
            assert!(matches!(audit.status, Some(0 | 3)), "{}", audit.out);
            assert!(!audit.out.contains("FAULT"), "{}", audit.out);
        }
        assert!(through < 6, "the server never went away");
        assert_eq!(shop.file(&[]).status, Some(0));
    }

    #[test]
    fn a_server_that_goes_away_while_a_bucket_is_read_spoils_nothing_and_says_nothing_of_what_it_did_not_give()
     {
        let Some((shop, address)) = filed() else { return };
        for n in 0..6 {
            shop.job.write("notes/first.txt", format!("spanner {n}"));
            assert_eq!(shop.file(&[]).status, Some(0));
        }
        let job = shop.job.job().to_str().unwrap().to_owned();
        for (arguments, most) in [
            (vec!["audit", "--without-plans"], 4_000),
            (vec!["audit", "--without-plans"], 30_000),
            (vec!["audit"], 60_000),
            (vec!["find", "spanner"], 3_000),
            (vec!["find", "spanner"], 6_000),
            (vec!["trend", "dunlin"], 5_000),
            (vec!["open", "last", "job/out/plan.json"], 1_200),
        ] {
            let run = over(&Proxy::to(&server(), most), &address, &arguments);
            assert_eq!((run.status, run.out.as_str()), (Some(1), ""), "{arguments:?} {most}: {}", run.err);
            let told = run.err.contains("cannot be reached") || run.err.contains("lost half-way");
            assert!(told, "{arguments:?} {most}: {}", run.err);
        }
        // One who looked while the server went finds everything when it is back.
        let cache = shop.cache();
        let find = |url: &str| {
            let mut find = command();
            find.args(["find", "spanner", "--archive", &address, "--cache"]).arg(&cache);
            ended(find.env("AWS_ENDPOINT_URL", url))
        };
        let proxy = Proxy::to(&server(), 6_000);
        assert_eq!(find(proxy.url()).status, Some(1));
        proxy.heal();
        let found = find(proxy.url());
        assert_eq!((found.status, found.out.lines().count()), (Some(0), 7), "{}{}", found.out, found.err);
        let gone = Proxy::to(&server(), 0);
        let run = over(&gone, &address, &["file", &job]);
        assert_eq!(run.status, Some(1), "{}", run.err);
    }

    #[test]
    fn a_family_is_learned_from_in_a_bucket() {
        let Some(address) = address() else { return };
        let shop = Family::in_place(PathBuf::from(&address), &[0.010, -0.012, 0.008, -0.005, 0.002]);
        let cache = shop.cache();
        let run = |arguments: &[&str]| ended(command().args(arguments).arg("--cache").arg(&cache));
        let trend = run(&["trend", "dunlin", "--archive", &address]);
        assert_eq!(trend.status, Some(0), "{}", trend.err);
        assert!(trend.out.contains("5 blocks"), "{}", trend.out);
        let none = run(&["trend", "wren", "--archive", &address]);
        assert_eq!(none.status, Some(2), "{}", none.out);
        assert!(
            none.err.starts_with(&format!("{address}: found no block of the family `wren`")),
            "{}",
            none.err
        );
        let job = Folder::base("base");
        let alone = job.plan();
        let planned = run(&["plan", job.job().to_str().unwrap(), "--prior", &address]);
        assert_eq!(planned.status, alone.status, "{}", planned.err);
        assert!(planned.out.contains("this block is like its family"), "{}", planned.out);
        let dir = job.place().join("next");
        let new = run(&["new", dir.to_str().unwrap(), "--family", "dunlin", "--archive", &address]);
        assert_eq!(new.status, Some(0), "{}", new.err);
        assert!(new.out.contains("like record 5, job 0004"), "{}", new.out);
    }

    #[test]
    fn a_bucket_that_is_not_there_is_told() {
        if address().is_none() {
            return;
        }
        let job = Folder::base("base");
        job.plan();
        for arguments in
            [vec!["find"], vec!["open", "last"], vec!["file", job.job().to_str().unwrap(), "--begin"]]
        {
            let run = ended(command().args(arguments).args(["--archive", "s3://no-such-works/jobs"]));
            assert_eq!((run.status, run.out.as_str()), (Some(1), ""));
            assert!(run.err.contains("there is no bucket of this name"), "{}", run.err);
        }
        let mut find = command();
        find.args(["find", "--archive", "s3://engine-works"]).env_remove("AWS_ACCESS_KEY_ID");
        let run = ended(find.env_remove("AWS_SECRET_ACCESS_KEY"));
        assert_eq!(run.status, Some(1));
        assert!(run.err.contains("no credentials in the environment"), "{}", run.err);
    }
}
