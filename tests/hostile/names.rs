//! Names made to do harm: to a terminal, a control, a file system, a reader.

use std::fs;

use crate::common::{Folder, command, ended, files, pdf_text};

/// Where a shop writes its own words; each with the text that stands there in the base job.
const WORDS: [(&str, &str, &str); 9] = [
    ("job.yaml", "job: \"0731\"", "job: "),
    ("job.yaml", "customer: Alderbeck Engine Works", "customer: "),
    ("job.yaml", "set_up: deck up", "set_up: "),
    ("block.yaml", "name: Dunlin 76", "name: "),
    ("block.yaml", "along_datum: front face", "along_datum: "),
    ("sleeve.yaml", "name: W85", "name: "),
    ("sleeve.yaml", "name: upper register", "name: "),
    ("machine.yaml", "name: small mill", "name: "),
    ("machine.yaml", "name: head", "name: "),
];

/// A job in which every word of the shop's own is this one, written as YAML writes text.
fn named(word: &str) -> Folder {
    let quoted = serde_json::to_string(word).unwrap();
    let job = Folder::base("base");
    for (file, old, key) in WORDS {
        job.edit(file, old, &format!("{key}{quoted}"));
    }
    job.edit("block.yaml", "name: drain", &format!("name: {quoted}"));
    job.edit("block.yaml", "name: \"2\"", &format!("name: {quoted}"));
    // A family of steps of one name would hide which one is meant.
    for (file, times) in [("block.yaml", 8), ("job.yaml", 2)] {
        let text = job.read(file);
        assert!(text.matches("bank: bank").count() <= times);
        job.write(file, text.replace("bank: bank", &format!("bank: {quoted}")));
    }
    job.edit("block.yaml", "name: bank", &format!("name: {quoted}"));
    job.edit("job.yaml", "gasket_shift: { bank:", &format!("gasket_shift: {{ {quoted}:"));
    job
}

/// No byte of any output could move a cursor, end a comment or turn text about.
fn assert_harmless(job: &Folder, said: &str) {
    let bad = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(u32::from(c), 0x200B..=0x200F | 0x202A..=0x202E | 0x2066..=0x2069)
    };
    assert!(!said.contains(bad), "{said:?}");
    for name in files(&job.out()) {
        let path = job.out().join(&name);
        if path.is_dir() {
            continue;
        }
        if name.ends_with(".pdf") {
            let text = pdf_text(&path);
            assert!(!text.contains(|c| bad(c) && !matches!(c, '\r' | '\t')), "{text:?}");
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        if name.ends_with(".nc") {
            assert!(text.bytes().all(|b| b == b'\n' || b == b'\r' || (0x20..0x7f).contains(&b)), "{name}");
            for line in text.lines() {
                let whole = !line.contains(['(', ')'])
                    || (line.starts_with('(')
                        && line.ends_with(')')
                        && line.matches(['(', ')']).count() == 2);
                assert!(whole, "{name}: {line}");
            }
        }
        let control = |c: char| c.is_control() && !matches!(c, '\n' | '\r');
        assert!(!text.contains(control), "{name} holds a control character");
    }
}

/// The moves of all lists, comments left out.
fn moves(job: &Folder) -> Vec<String> {
    let lists = files(&job.out()).into_iter().filter(|name| name.ends_with(".nc"));
    lists
        .flat_map(|name| {
            let text = job.read(&format!("out/{name}"));
            text.lines().filter(|l| !l.starts_with('(')).map(String::from).collect::<Vec<_>>()
        })
        .collect()
}

#[test]
fn a_name_neither_moves_the_machine_nor_the_terminal() {
    let honest = Folder::base("base");
    honest.plan();
    let expected = moves(&honest);
    assert!(!expected.is_empty());
    for word in [
        "X)\nG0 Z-100",
        "X)\r\nG0 Z-100\r\n(",
        "X\u{1b}[2J\u{1b}]0;owned\u{7}",
        "a\u{202e}b\u{2066}c\u{200f}d",
        "%\nO1234\nM30",
        "a;b/c\\d:e",
        "(MSG, x)",
        "x\0y",
        "=cmd|' /C calc'!A0",
        "Größe 90° – „quoted“",
        "بئر",
        "🔩 bolt",
        "a\u{85}b\u{2028}c\u{2029}d",
    ] {
        let job = named(word);
        for run in [job.check(), job.plan()] {
            assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{word:?}: {}", run.out);
            assert_harmless(&job, &run.out);
        }
        assert_eq!(moves(&job), expected, "{word:?}");
    }
}

#[test]
fn a_name_in_a_picture_is_text_and_never_markup() {
    for word in [
        "</text><script>alert(1)</script>",
        "\"/><image href=\"file:///etc/passwd\"/>",
        "]]><!ENTITY x SYSTEM 'http://x'>&x;",
        "X\u{1b}[2J\u{7}",
        "a\u{202e}b\u{0}c",
        "../../x",
        "🔩 bolt",
    ] {
        let job = named(word);
        let run = ended(command().arg("survey").arg(job.job()).arg("--out").arg(job.out()));
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{word:?}: {}", run.out);
        assert_harmless(&job, &run.out);
        let pictures = files(&job.out().join("figures"));
        assert!(!pictures.is_empty());
        for name in pictures {
            let clean = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '.');
            assert!(name.chars().all(clean), "{name}");
            let text = job.read(&format!("out/figures/{name}"));
            let document = roxmltree::Document::parse(&text).unwrap_or_else(|e| panic!("{word:?}: {e}"));
            for node in document.descendants().filter(roxmltree::Node::is_element) {
                let tag = node.tag_name().name();
                // Words are drawn: a glyph is a path that is used where it stands.
                let known = ["svg", "title", "desc", "rect", "path", "defs", "g", "use"];
                assert!(known.contains(&tag), "{word:?}: {tag}");
                assert!(
                    // What is read aloud is the words themselves; nothing else names a place, but within the file.
                    node.attributes().all(|a| match a.name() {
                        "xmlns" | "aria-label" => true,
                        "href" => a.value().starts_with('#'),
                        _ => !a.value().contains(':'),
                    }),
                    "{word:?}"
                );
            }
        }
    }
}

#[test]
fn a_name_in_a_message_is_harmless_too() {
    for word in ["X\u{1b}[2J", "a\u{202e}b", "a\nb: found nothing", "x\0y"] {
        let job = named(word);
        job.edit("sleeve.yaml", "to: 60.0", "to: 14.0");
        job.edit("bores.csv", "2,70,", "7,70,");
        job.edit("machine.yaml", "grey iron:", &format!("{}:", serde_json::to_string(word).unwrap()));
        let said = job.rejected();
        assert_harmless_text(&said);
        assert_eq!(said.matches(", expected ").count(), 3, "{said}");
    }
    let run = ended(command().args(["plan", "\u{1b}[2J\u{202e}nosuch"]));
    assert_eq!(run.status, Some(2));
    assert_harmless_text(&run.err);
}

fn assert_harmless_text(text: &str) {
    assert!(!text.contains(|c: char| (c.is_control() && c != '\n') || c == '\u{202e}'), "{text:?}");
}

#[test]
fn a_release_is_as_harmless_as_a_name() {
    let job = Folder::base("base");
    job.edit("walls.csv", "2,90,270,6.22", "2,90,270,4.30");
    let release = "X)\nG0 Z-100\u{1b}[2J: why)\nG1 Z-99\u{202e}";
    let run = ended(command().arg("plan").arg(job.job()).args(["--release", release]));
    assert_eq!(run.status, Some(3), "{}", run.err);
    assert_harmless(&job, &run.out);
    assert!(!moves(&job).iter().any(|line| line.contains("Z-100") || line.contains("Z-99")));
}

#[test]
fn a_bank_cannot_name_a_place_outside_its_plan() {
    let banks = [
        ("../../x", "../../y"),
        ("/etc/x", "C:\\x"),
        ("CON", "nul"),
        ("a/b", "a b"),
        ("a-b", "A_B"),
        ("-rf", "--"),
        (".", "1"),
        ("..x", "…y"),
        ("ä", "ö"),
        ("left\u{202e}", "left\u{200f}x"),
        ("x\ny", "x\ty"),
    ];
    for (left, right) in banks {
        let job = Folder::base("base-vee");
        let before = files(job.place());
        let yaml = |word: &str| serde_json::to_string(word).unwrap();
        // Walls are told by their side: of banks of such names the angle says which it is.
        job.edit("block.yaml", "name: left", &format!("angle: -30, name: {}", yaml(left)));
        job.edit("block.yaml", "name: right", &format!("angle: 30, name: {}", yaml(right)));
        job.edit("job.yaml", "bank: left", &format!("bank: {}", yaml(left)));
        job.edit("job.yaml", "bank: right", &format!("bank: {}", yaml(right)));
        let run = job.plan();
        if [left, right].iter().any(|name| !name.chars().any(char::is_alphanumeric)) {
            assert_eq!(run.status, Some(2), "{left} {right}");
            continue;
        }
        // What is wrong with a plan is then not the name.
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""), "{left:?} {right:?}");
        assert_harmless(&job, &run.out);
        let mut lists = files(&job.out().join("lists"));
        assert_eq!(lists.len(), 12, "{left:?} {right:?}: {lists:?}");
        for name in &lists {
            assert!(
                name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '.')),
                "{name}"
            );
            assert!(name.len() < 64 && name.starts_with(|c: char| c.is_ascii_digit()), "{name}");
        }
        lists.dedup_by_key(|name| name.to_lowercase());
        assert_eq!(lists.len(), 12);
        let after: Vec<String> =
            files(job.place()).into_iter().filter(|name| !name.starts_with("job/out")).collect();
        assert_eq!(after, before, "written outside the plan");
    }
}

#[test]
fn a_name_without_end_is_cut_where_it_is_shown() {
    for word in ["long ".repeat(2000), "x".repeat(10_000), "é".repeat(10_000), "(".repeat(9_999) + "x"] {
        let job = named(&word);
        let run = job.plan();
        if run.status == Some(2) {
            assert!(!run.err.is_empty() && run.err.len() < 20_000);
            continue;
        }
        assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
        assert_harmless(&job, &run.out);
        assert!(run.out.len() < 20_000, "{} bytes said", run.out.len());
        for line in moves(&job) {
            assert!(line.len() < 120);
        }
        let checked = job.check();
        assert!(checked.out.len() < 30_000, "{} bytes said", checked.out.len());
    }
}

#[test]
fn a_cylinder_or_main_with_a_hostile_name_is_found_again_in_its_tables() {
    let job = Folder::base("base-vee");
    job.edit("block.yaml", "name: front, x: 5.0", "name: \"fr)ont\\nM30, \\x1B[2J\", x: 5.0");
    for table in ["axis-left.csv", "axis-right.csv"] {
        job.edit(table, "front,", "\"fr)ont\nM30, \u{1b}[2J\",");
    }
    let run = job.plan();
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
    assert_harmless(&job, &run.out);
}

#[test]
fn a_path_with_an_escape_sequence_never_reaches_the_terminal() {
    let job = Folder::base("base");
    let odd = "a\u{1b}[31mb\u{202e}\nc";
    let place = job.place().join(odd);
    for arguments in [
        vec!["plan".into(), place.clone().into_os_string()],
        vec!["check".into(), place.clone().into_os_string()],
        vec!["survey".into(), job.job().into(), "--out".into(), job.job().join("job.yaml").join(odd).into()],
        vec!["plan".into(), job.job().into(), "--out".into(), job.job().join("job.yaml").join(odd).into()],
        vec!["prove".into(), place.clone().into_os_string(), "--plan".into(), place.clone().into_os_string()],
        vec!["new".into(), job.job().join("job.yaml").join(odd).into()],
        vec!["plan".into(), job.job().into(), "--release".into(), odd.into()],
        vec!["plan".into(), job.job().into(), format!("--release={odd}").into()],
        vec![odd.into()],
        vec!["plan".into(), job.job().into(), "--out".into(), place.clone().into_os_string()],
        vec!["new".into(), place.join("new").into_os_string()],
    ] {
        let run = ended(command().args(&arguments));
        let said = format!("{}{}", run.out, run.err);
        assert!(!said.contains('\u{1b}') && !said.contains('\u{202e}'), "{arguments:?}: {said}");
        assert!(!said.lines().any(|line| line.starts_with('c') && !line.starts_with("cylinder")), "{said}");
        assert!(!said.is_empty());
    }
}

#[test]
fn a_release_without_a_reason_is_refused_in_plain_words() {
    let job = Folder::base("base");
    for given in ["no colon", "-x", ": why", "who:"] {
        let run = ended(command().args([
            "plan".as_ref(),
            job.job().as_os_str(),
            "--release".as_ref(),
            given.as_ref(),
        ]));
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{given}");
        assert!(run.err.contains("expected who releases it, a colon, and why"), "{}", run.err);
        assert!(!job.out().exists());
    }
}

#[test]
fn no_line_of_a_file_that_is_something_else_is_repeated() {
    let job = Folder::base("base");
    for text in [
        "root:secret:0:0\nmore:secret\n",
        "# secret\n[secret]\nkey = secret\n",
        "secret: secret\n",
        "secret;secret\n",
        "\u{0}secret,secret\n",
    ] {
        for (key, old) in [
            ("bores: ", "bores.csv"),
            ("walls: ", "walls.csv"),
            ("block: ", "block.yaml"),
            ("machine: ", "machine.yaml"),
        ] {
            let job_text = job.read("job.yaml");
            job.write("other", text);
            job.edit("job.yaml", &format!("{key}{old}"), &format!("{key}other"));
            let said = job.rejected();
            assert!(!said.contains("secret"), "{key}: {said}");
            job.write("job.yaml", job_text);
        }
    }
    // Bytes that are no text, likewise.
    job.write("bores.csv", b"secret,\xff\xfe\n");
    assert!(!job.rejected().contains("secret"));
}

#[test]
fn a_main_whose_rows_would_be_comments_is_refused() {
    let job = Folder::base("base");
    job.edit("block.yaml", "name: \"2\"", "name: \"#1=2\"");
    let said = job.rejected();
    assert!(said.contains("found `#1=2`, expected a name that does not start with `#`"), "{said}");
}

#[test]
fn a_path_with_the_other_systems_marks_is_explained() {
    let job = Folder::base("base");
    job.edit("job.yaml", "bores: bores.csv", "bores: 'readings\\bores.csv'");
    assert!(job.rejected().contains("write `/` between folders"));
}

#[test]
fn a_file_whose_name_another_system_takes_otherwise_is_refused_on_every_one() {
    for name in ["CON", "nul.csv", "Com1.csv", "readings/aux.csv", "bores.csv.", "x\\y.csv"] {
        let job = Folder::base("base");
        // Where the name is an ordinary one the file is there, and would be read.
        if cfg!(unix) && !name.contains('/') {
            fs::copy(job.job().join("bores.csv"), job.job().join(name)).unwrap();
        }
        job.edit("job.yaml", "bores: bores.csv", &format!("bores: '{name}'"));
        let said = job.rejected();
        assert!(said.contains(&format!("found `{name}`: a name ")), "{said}");
        assert!(said.contains("expected a name that every system reads alike"), "{said}");
    }
    let place = tempfile::tempdir().unwrap();
    for name in ["CON", "lpt1.d", "job."] {
        let run = ended(command().arg("new").arg(place.path().join(name)));
        assert_eq!(run.status, Some(2), "{name}: {}", run.err);
        assert!(run.err.contains("expected a name that every system reads alike"), "{}", run.err);
    }
    assert!(files(place.path()).is_empty());
}

/// An archive knows nothing of the planner and the planner nothing of archives: each has the table of its own.
#[test]
fn planner_and_archive_keep_the_same_names_for_devices() {
    let mut devices = 0;
    let words = ["con", "prn", "aux", "nul", "conin$", "conout$", "clock$", "console", "com", "lpt", "deck"];
    let numbered = ["com", "lpt"].into_iter().flat_map(|kind| {
        let digits = (0..=10).map(|n| n.to_string()).chain(["¹", "²", "³", "⁴"].map(str::to_owned));
        digits.map(move |digit| format!("{kind}{digit}"))
    });
    for word in words.into_iter().map(str::to_owned).chain(numbered) {
        for name in [word.clone(), word.to_uppercase(), format!("{word}.csv"), format!("{word} .csv")] {
            let kept = borewright_archive::name::is_device(&name);
            assert_eq!(borewright_planner::read::file_name::is_device(&name), kept, "{name}");
            devices += usize::from(kept);
        }
    }
    assert_eq!(devices, 4 * (6 + 2 * 12));
}
