//! What `trend` learns of a family from the archive.

use std::path::PathBuf;

use crate::common::{Folder, Run, command, ended};

/// A shop that filed some blocks of one family, each job planned from readings of its own.
pub struct Shop {
    jobs: Folder,
    archive: PathBuf,
}

impl Shop {
    /// So many blocks, their bores moved across by what is given.
    pub fn with(across: &[f64]) -> Self {
        let jobs = Folder::base("base");
        let archive = jobs.place().join("archive");
        Self { jobs, archive }.filing(across)
    }

    /// The same in an archive that lies elsewhere.
    pub fn in_place(archive: PathBuf, across: &[f64]) -> Self {
        Self { jobs: Folder::base("base"), archive }.filing(across)
    }

    fn filing(self, across: &[f64]) -> Self {
        for (number, moved) in across.iter().enumerate() {
            self.file(number, *moved);
        }
        self
    }

    fn file(&self, number: usize, moved: f64) {
        let base = Folder::base("base");
        base.edit("job.yaml", "\"0731\"", &format!("\"{number:04}\""));
        let bores = base.read("bores.csv");
        base.write("bores.csv", shifted(&bores, moved));
        let planned = base.plan();
        assert!(matches!(planned.status, Some(0 | 3 | 4)), "{}", planned.err);
        let mut file = command();
        file.arg("file").arg(base.job()).arg("--archive").arg(self.archive()).args(["--at", "2024-11-26"]);
        if number == 0 {
            file.arg("--begin");
        }
        let filed = ended(&mut file);
        assert_eq!(filed.status, Some(0), "{}", filed.err);
    }

    pub fn archive(&self) -> PathBuf {
        self.archive.clone()
    }

    pub fn cache(&self) -> PathBuf {
        self.jobs.place().join("cache")
    }

    fn trend(&self, more: &[&str]) -> Run {
        let mut trend = command();
        trend.arg("trend").args(more).arg("--archive").arg(self.archive());
        ended(trend.arg("--cache").arg(self.cache()))
    }
}

/// A bore table with every y moved.
pub fn shifted(table: &str, moved: f64) -> String {
    let row = |line: &str| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        match cells.get(3).and_then(|y| y.parse::<f64>().ok()) {
            Some(y) if !line.starts_with('#') => {
                cells[3] = format!("{:.3}", y + moved);
                cells.join(",")
            }
            _ => line.to_owned(),
        }
    };
    table.lines().map(row).collect::<Vec<_>>().join("\n") + "\n"
}

#[test]
fn the_trend_of_a_family_is_that_of_its_filed_blocks() {
    let shop = Shop::with(&[0.10, 0.12, 0.08, 0.11, 0.09]);
    let run = shop.trend(&["dunlin"]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    // The base's bores stand 0.022 to 0.030 to +Y, 0.025 in the mean; with 0.10 moved, 0.125.
    let told: String = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains(
            "the bank bank comes 0.13 mm to the right, 5 of 5 blocks: their index or their setting across"
        ),
        "{told}"
    );
    let json: serde_json::Value =
        serde_json::from_str(&shop.trend(&["dunlin", "--format", "json"]).out).unwrap();
    let across = &json["banks"][0]["across"];
    let close = |value: &serde_json::Value, expected: f64, within: f64| {
        let found = value.as_f64().unwrap();
        assert!((found - expected).abs() < within, "{found}, expected {expected}");
    };
    close(&across["mean"], 0.125, 1.5e-3);
    // Planted: −2, 0, 2, 1, −1 hundredths about the mean: s = √(10/4)/100.
    close(&across["sd"], 0.015_811, 1e-5);
    // t(0.975, 4)·√1.2 = 3.041.
    close(&across["next"][1], across["mean"].as_f64().unwrap() + 3.041 * 0.015_811, 1e-4);
    assert_eq!(across["blocks"], 5);
}

#[test]
fn a_family_of_three_is_too_few_and_one_that_nobody_filed_is_refused() {
    let shop = Shop::with(&[0.10, 0.12, 0.08]);
    let run = shop.trend(&["dunlin"]);
    assert!(run.out.contains("3 blocks: too few to say what the next block will be like"), "{}", run.out);
    let run = shop.trend(&["tern\u{1b}"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(run.err.contains("no block of the family `tern?`"), "{}", run.err);
}

#[test]
fn pictures_are_written_where_told_and_no_plan_gives_way_to_them() {
    let shop = Shop::with(&[0.10, 0.12, 0.08, 0.11]);
    let out = shop.jobs.place().join("out");
    let run = shop.trend(&["dunlin", "--out", out.to_str().unwrap()]);
    assert_eq!(run.status, Some(0), "{}", run.err);
    let files = crate::common::files(&out);
    assert_eq!(files, [".written", "figures", "figures/stand-bank.svg", "figures/walls-1.svg", "trend.json"]);
    for file in &files[2..4] {
        let text = std::fs::read_to_string(out.join(file)).unwrap();
        let picture = roxmltree::Document::parse(&text).unwrap();
        let size = |name| {
            picture.root_element().attribute(name).unwrap().trim_end_matches("mm").parse::<f64>().unwrap()
        };
        let (width, height) = (size("width"), size("height"));
        for text in picture.descendants().filter(|n| n.has_tag_name("text")) {
            let of = |name| text.attribute(name).unwrap().parse::<f64>().unwrap();
            // A narrow face takes less than half of its height a letter.
            let wide = 0.45 * of("font-size") * text.text().unwrap().chars().map(|_| 1.0).sum::<f64>();
            let left = match text.attribute("text-anchor") {
                Some("start") => of("x"),
                Some("middle") => of("x") - wide / 2.0,
                _ => of("x") - wide,
            };
            let inside = left >= -0.01 && left + wide <= width + 0.01 && of("y") > 0.0 && of("y") < height;
            assert!(inside, "{file}: {:?}", text.text());
        }
    }
    let planned = Folder::base("base");
    planned.plan();
    assert_eq!(shop.trend(&["dunlin", "--out", planned.out().to_str().unwrap()]).status, Some(2));
}

#[test]
fn two_customers_jobs_of_one_number_are_two_blocks() {
    let shop = Shop::with(&[0.10, 0.12]);
    let file = |customer: &str, wall: &str| {
        let base = Folder::base("base");
        base.edit("job.yaml", "\"0731\"", "\"0001\"");
        base.edit("job.yaml", "Alderbeck Engine Works", customer);
        base.edit("walls.csv", "1,90,90,6.12", wall);
        assert!(matches!(base.plan().status, Some(0 | 3 | 4)));
        let mut file = command();
        let run = ended(file.arg("file").arg(base.job()).arg("--archive").arg(shop.archive()));
        assert_eq!(run.status, Some(0), "{}", run.err);
    };
    // The thin wall was filed first.
    file("Birch", "1,90,90,2.12");
    file("Alder", "1,90,90,6.12");
    let run = shop.trend(&["dunlin", "--format", "json"]);
    let trend: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(trend["blocks"].as_array().unwrap().len(), 4, "{}", run.out);
    let least = trend["least_wall"]["found"][0].as_f64().unwrap();
    assert!(least < 2.2, "{least}");
    // Whose they are is no business of the next customer.
    assert!(!run.out.contains("Birch") && !run.out.contains("Alder"), "{}", run.out);
}
