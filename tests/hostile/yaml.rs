//! Descriptions that are bombs, garbage, devices or no files at all.

use std::fs;

use crate::common::Folder;

/// What the block file may be, in place of a description.
fn in_place_of_the_block(text: impl AsRef<[u8]>) -> String {
    let job = Folder::base("base");
    job.write("block.yaml", text);
    job.rejected()
}

#[test]
fn an_alias_bomb_does_not_go_off() {
    let mut lists = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
    let mut maps = String::from("a0: &a0 { k: x }\n");
    for level in 1..40 {
        let below = format!("*a{}", level - 1);
        let ten = [below.as_str(); 10].join(", ");
        lists.push_str(&format!("a{level}: &a{level} [{ten}]\n"));
        maps.push_str(&format!("a{level}: &a{level}\n  <<: [{ten}]\n"));
    }
    for bomb in [lists, maps] {
        in_place_of_the_block(&bomb);
        in_place_of_the_block(format!(
            "format: borewright/block/1\nname: x\nbanks:\n  - {{ name: y, bomb: *a39 }}\n{bomb}"
        ));
        in_place_of_the_block(format!("{bomb}format: borewright/block/1\nstuds: *a39\n"));
    }
    in_place_of_the_block("format: &f *f\n");
    in_place_of_the_block("format: &f [*f, *f]\n");
}

#[test]
fn depth_without_end_is_refused() {
    const DEEP: usize = 100_000;
    for opening in ["[", "{a: ", "- ", "? ", "[{", "!!seq [", "&a [", "!x "] {
        in_place_of_the_block(opening.repeat(DEEP));
        in_place_of_the_block(format!(
            "format: borewright/block/1\nname: {}",
            opening.repeat(60_000 / opening.len())
        ));
    }
    // Just under the bound on brackets.
    in_place_of_the_block(format!("format: {}{}", "[".repeat(9_990), "]".repeat(9_990)));
    let indented: String = (0..600).map(|level| format!("{}a:\n", " ".repeat(level))).collect();
    in_place_of_the_block(indented);
    let listed: String = (0..600).map(|level| format!("{}-\n", " ".repeat(level))).collect();
    in_place_of_the_block(format!("banks:\n{listed}"));
}

#[test]
fn a_file_too_large_is_not_read_on() {
    let said = in_place_of_the_block(format!("# {}\n", "x".repeat(300 * 1024)));
    assert!(said.contains("found `block.yaml`: a file larger than that, expected at most 256 KiB"), "{said}");
    // Just within the bound.
    in_place_of_the_block(format!("name: {}\n", "x".repeat(250 * 1024)));
    in_place_of_the_block(format!("{}: 1\n", "x".repeat(250 * 1024)));
    in_place_of_the_block(format!("# {}\nname: [", "x".repeat(250 * 1024)));
    in_place_of_the_block(format!("banks: [{}1]\n", "1, ".repeat(80_000)));
    in_place_of_the_block("a\n".repeat(120_000));
    in_place_of_the_block((0..30_000).map(|n| format!("k{n}: 1\n")).collect::<String>());
    in_place_of_the_block("name: x\n".repeat(30_000));
    in_place_of_the_block("---\n".repeat(60_000));
}

#[test]
fn garbage_is_told_apart_from_a_description() {
    let mut state: u32 = 7;
    let garbage: Vec<u8> = (0..100_000)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            state.to_be_bytes()[0]
        })
        .collect();
    in_place_of_the_block(&garbage);
    let ascii: Vec<u8> = garbage.iter().map(|byte| byte & 0x7f).collect();
    let printable: Vec<u8> = garbage.iter().map(|byte| 0x20 + byte % 0x5f).collect();
    in_place_of_the_block(&ascii);
    in_place_of_the_block(&printable);
    in_place_of_the_block([0_u8; 1000]);
    in_place_of_the_block([0xef, 0xbb, 0xbf]);
    in_place_of_the_block([0xff, 0xfe, b'f', 0, b'o', 0]);
    for text in [
        "%YAML 9.9\n---\n",
        "!!python/object:os.system x",
        "|",
        ">-",
        "'",
        "\"\\",
        "*",
        "&",
        "%",
        "@",
        "`",
        "...",
        "? ",
        ":",
        "- - - -",
        "{}",
        "[]",
        "~",
        "\u{feff}\u{feff}",
        "\r",
        "\u{2028}",
        "!!binary gA==",
    ] {
        in_place_of_the_block(text);
    }
}

#[test]
fn marks_and_line_ends_of_other_editors_are_no_fault() {
    let job = Folder::base("base");
    let plain = job.check().out;
    for file in
        ["job.yaml", "block.yaml", "sleeve.yaml", "machine.yaml", "shop.yaml", "bores.csv", "walls.csv"]
    {
        let text = job.read(file);
        job.write(file, format!("\u{feff}{}", text.replace('\n', "\r\n")));
    }
    let run = job.check();
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
    // The fingerprint stands for the bytes that were read, which differ.
    let figures = |page: &str| {
        let lines = page.lines().map(|l| l.split(", plan ").next().unwrap_or(l));
        lines
            .filter(|l| !l.starts_with("fingerprint") && !l.starts_with("next:"))
            .map(String::from)
            .collect::<Vec<_>>()
    };
    assert_eq!(figures(&run.out), figures(&plain));
    // A place in such a file is where an editor shows it.
    job.edit("block.yaml", "deck_height", "deck_hight");
    assert!(job.rejected().starts_with("block.yaml:9:1: deck_hight"));
}

#[test]
fn as_many_studs_and_readings_as_a_file_holds_are_planned() {
    let job = Folder::base("base");
    let studs: String = (0..2500)
        .map(|n| format!("  - {{ bank: bank, x: {n}.0, y: 60.0, diameter: 9.0, from: 0.0, to: 70.0 }}\n"))
        .collect();
    job.edit("block.yaml", "studs:\n", &format!("studs:\n{studs}"));
    let circles: String =
        (0..2000).map(|n| format!("1,{}.{:02},46.03,0.022,76.02\n", n / 20, n % 20)).collect();
    job.write("bores.csv", format!("{}{circles}", job.read("bores.csv")));
    let walls: String = (0..5000).map(|n| format!("1,90,{}.{:02},6.1\n", n % 360, n % 100)).collect();
    job.write("walls.csv", format!("{}{walls}", job.read("walls.csv")));
    let run = job.check();
    assert!(matches!(run.status, Some(0 | 3 | 4)), "{}", run.err);
}

#[cfg(unix)]
#[test]
fn what_is_no_regular_file_is_not_opened() {
    use std::os::unix::fs::symlink;
    use std::os::unix::net::UnixListener;

    for file in ["block.yaml", "bores.csv"] {
        let job = Folder::base("base");
        let path = job.job().join(file);
        fs::remove_file(&path).unwrap();
        // A pipe that nobody writes to.
        let made = std::process::Command::new("mkfifo").arg(&path).status().unwrap();
        assert!(made.success());
        assert!(job.rejected().contains("something that is not a regular file, expected a file"));
        fs::remove_file(&path).unwrap();
        for device in ["/dev/zero", "/dev/tty", "/dev/stdin", "/proc/self/mem"] {
            symlink(device, &path).unwrap();
            job.rejected();
            fs::remove_file(&path).unwrap();
        }
        let _listener = UnixListener::bind(&path).unwrap();
        assert!(job.rejected().contains("something that is not a regular file"));
        fs::remove_file(&path).unwrap();
        symlink(&path, &path).unwrap();
        job.rejected();
        fs::remove_file(&path).unwrap();
        fs::create_dir(&path).unwrap();
        assert!(job.rejected().contains("a folder, expected a file"));
    }
    let job = Folder::base("base");
    fs::remove_file(job.job().join("job.yaml")).unwrap();
    symlink("/dev/zero", job.job().join("job.yaml")).unwrap();
    job.rejected();
}

#[test]
fn a_path_that_is_no_path_is_a_fault_of_its_key() {
    for path in [
        "",
        " ",
        "\\0",
        "/",
        "..",
        "block.yaml/",
        "~/block.yaml",
        "http://example.org/block.yaml",
        "a\\nb",
        "\\x1B[2J",
    ] {
        let job = Folder::base("base");
        job.edit("job.yaml", "block: block.yaml", &format!("block: \"{path}\""));
        let said = job.rejected();
        assert!(said.starts_with("job.yaml:7:8: block: found `"), "{path}: {said}");
        assert!(!said.contains('\u{1b}') && !said.contains('\0'));
    }
    let job = Folder::base("base");
    job.edit("job.yaml", "block: block.yaml", &format!("block: {}", "../".repeat(20_000)));
    job.rejected();
}
