//! A job folder on the Kittiwake, written for one test.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use borewright_planner::plan::{Cylinder, Finding, LimitResult, SleeveChoice};
use borewright_planner::report::{SurveyReport, report};
use borewright_planner::{Planning, load, plan_job};

#[path = "../common/near.rs"]
mod near;
#[allow(unused_imports)] // where the bench is taken without it
pub use near::near;

/// Left bank's true places along the axis, cylinders 1, 3, 5, 7.
pub const LEFT: [f64; 4] = [60.0, 170.0, 280.0, 390.0];
/// Right bank's, cylinders 2, 4, 6, 8.
pub const RIGHT: [f64; 4] = [84.0, 194.0, 304.0, 414.0];

/// Deviations of cylinders 1 to 8 that give every bore something to decide.
pub const SCATTERED: [[f64; 2]; 8] = [
    [0.21, 0.14],
    [-0.12, 0.33],
    [0.05, -0.27],
    [0.31, -0.22],
    [-0.18, 0.09],
    [0.02, 0.41],
    [-0.25, -0.3],
    [0.11, 0.02],
];

/// What a test says of its job; the rest is the Kittiwake as drawn.
#[derive(Clone)]
pub struct Bench {
    /// `cylinder,depth,x,y,diameter[,surface[,set]]` rows, by bank.
    pub bores: BTreeMap<&'static str, Vec<String>>,
    /// `cylinder,depth,clock,wall` rows, by bank.
    pub walls: BTreeMap<&'static str, Vec<String>>,
    /// The job's `limits:` lines.
    pub limits: String,
    /// The job's `instruments:` line, by default far below any figure of the sums.
    pub instruments: String,
    /// Outside diameters of the candidate sleeves' barrels, each 0.03 tight.
    pub barrels: Vec<f64>,
    /// Replaced in the block description.
    pub block: Vec<(&'static str, String)>,
    /// Replaced in every sleeve.
    pub sleeve: Vec<(&'static str, &'static str)>,
    /// Replaced in the machine description.
    pub machine: Vec<(&'static str, &'static str)>,
    /// More of the block description.
    pub block_more: String,
    /// Whether the block says nothing of studs and coolant holes.
    pub untold: bool,
    /// More of the job.
    pub job_more: String,
    /// Whether thick walls stand all round every bore beside those of the test.
    pub walls_all_round: bool,
    /// `journal` or `parent`.
    pub aim: &'static str,
    /// Which way round each bank stands.
    pub front: &'static str,
}

impl Default for Bench {
    fn default() -> Self {
        Self {
            bores: BTreeMap::new(),
            walls: BTreeMap::new(),
            limits: "position: 0.8, clean_up: 0.05".into(),
            instruments:
                "centre: 0.0001, diameter: 0.0002, wall: 0.0002, axis: 0.0002, along: 0.0002, machine: 0.0002"
                    .into(),
            barrels: vec![105.03],
            block: Vec::new(),
            sleeve: Vec::new(),
            machine: Vec::new(),
            block_more: String::new(),
            untold: false,
            job_more: String::new(),
            walls_all_round: true,
            aim: "journal",
            front: "left",
        }
    }
}

/// The text of a shipped file, by its path in `blocks/`.
pub fn shipped(name: &str) -> String {
    std::fs::read_to_string(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("blocks").join(name)).unwrap()
}

/// The machine that ships, with deeper cuts and wider heads, so that no job ends at a tool.
pub fn shipped_machine() -> String {
    let machine = shipped("machines/column-mill.yaml").replace("depth: 0.25", "depth: 0.3");
    machine.replace("diameter: [76.0, 96.0]", "diameter: [76.0, 116.0]").replace("110.0]", "118.0]")
}

/// `cylinder`, its true x and its bank.
pub fn site(cylinder: u32) -> (f64, &'static str) {
    let row = usize::try_from((cylinder - 1) / 2).unwrap();
    if cylinder % 2 == 1 { (LEFT[row], "left") } else { (RIGHT[row], "right") }
}

impl Bench {
    /// A circle at a depth, given by its deviation from the true position.
    pub fn circle(mut self, cylinder: u32, depth: f64, [dx, dy]: [f64; 2], diameter: f64) -> Self {
        let (x, bank) = site(cylinder);
        let row = format!("{cylinder},{depth},{:.6},{dy:.6},{diameter}", x + dx);
        self.bores.entry(bank).or_default().push(row);
        self
    }

    /// A liner's circle of 96 mm at a depth, read in a set.
    pub fn circle_in(mut self, set: &str, cylinder: u32, depth: f64, [dx, dy]: [f64; 2]) -> Self {
        let (x, bank) = site(cylinder);
        let row = format!("{cylinder},{depth},{:.6},{dy:.6},96.0,liner,{set}", x + dx);
        self.bores.entry(bank).or_default().push(row);
        self
    }

    /// A circle on a named surface.
    pub fn circle_on(
        mut self,
        surface: &str,
        cylinder: u32,
        depth: f64,
        [dx, dy]: [f64; 2],
        diameter: f64,
    ) -> Self {
        let (x, bank) = site(cylinder);
        let row = format!("{cylinder},{depth},{:.6},{dy:.6},{diameter},{surface}", x + dx);
        self.bores.entry(bank).or_default().push(row);
        self
    }

    /// An upright bore of 96 mm, by its deviation from the true position at two depths.
    pub fn bore(self, cylinder: u32, off: [f64; 2]) -> Self {
        self.circle(cylinder, 20.0, off, 96.0).circle(cylinder, 125.0, off, 96.0)
    }

    /// As a gauge reads them: of each bore every second circle a thousandth elsewhere, one way and the other in turn.
    pub fn gauged(mut self) -> Self {
        for (rows, own) in self.bores.values_mut().zip([1.0, -2.0]) {
            for (at, row) in rows.iter_mut().enumerate().filter(|(at, _)| at % 2 == 1) {
                let mut cells: Vec<String> = row.split(',').map(str::to_owned).collect();
                let by = own * if at % 4 == 1 { 0.001 } else { -0.001 };
                for (cell, by) in [(2, -by), (3, by)] {
                    cells[cell] = format!("{:.6}", cells[cell].parse::<f64>().unwrap() + by);
                }
                *row = cells.join(",");
            }
        }
        self
    }

    /// All eight bores: cylinders 1 to 8 in order.
    pub fn block_of(mut self, off: [[f64; 2]; 8]) -> Self {
        for (i, off) in off.into_iter().enumerate() {
            self = self.bore(u32::try_from(i).unwrap() + 1, off);
        }
        self
    }

    /// A wall reading from the parent bore.
    pub fn wall(mut self, cylinder: u32, depth: f64, clock: f64, wall: f64) -> Self {
        let (_, bank) = site(cylinder);
        self.walls.entry(bank).or_default().push(format!("{cylinder},{depth},{clock},{wall}"));
        self
    }

    fn job(&self) -> String {
        let mut job = format!(
            "format: borewright/job/1\njob: \"88\"\nunits: mm\nblock: block.yaml\nsleeves: [{}]\nmachine: machine.yaml\n\
             aim: {}\nfinish: {{ bore: 99.0 }}\nlimits: {{ {} }}\ninstruments: {{ {} }}\n{}readings:\n",
            (0..self.barrels.len()).map(|i| format!("s{i}.yaml")).collect::<Vec<_>>().join(", "),
            self.aim,
            self.limits,
            self.instruments,
            self.job_more
        );
        for bank in self.bores.keys() {
            writeln!(
                job,
                "  - set_up: {bank} up\n    bank: {bank}\n    frame: journal\n    front: {}",
                self.front
            )
            .unwrap();
            writeln!(job, "    bores: bores-{bank}.csv").unwrap();
            if !self.walls_of(bank).is_empty() {
                writeln!(job, "    walls: walls-{bank}.csv").unwrap();
            }
        }
        job
    }

    /// The walls of a bank, and thick ones all round every bore that has none of its own there: walls that nobody read are a
    /// hold.
    pub fn walls_of(&self, bank: &'static str) -> Vec<String> {
        let mut rows = self.walls.get(bank).cloned().unwrap_or_default();
        if self.walls_all_round {
            let sites = if bank == "left" { [1, 3, 5, 7] } else { [2, 4, 6, 8] };
            let own = rows.clone();
            let read = |n: &u32| own.iter().any(|row| row.starts_with(&format!("{n},")));
            for cylinder in sites.into_iter().filter(|n| !read(n) || self.limits.contains("parent_wall")) {
                // No casting's walls are all alike.
                let wall = |clock: u32| 8.0 + 0.001 * f64::from(clock / 9 + cylinder);
                rows.extend(
                    [0, 90, 180, 270].map(|clock| format!("{cylinder},60,{clock},{:.3}", wall(clock))),
                );
            }
        }
        rows
    }

    /// Writes the folder.
    pub fn write(&self) -> tempfile::TempDir {
        let dir = tempfile::tempdir().unwrap();
        let put = |name: &str, text: String| std::fs::write(dir.path().join(name), text).unwrap();
        let mut block = shipped("kittiwake-90.yaml");
        for (from, to) in &self.block {
            assert!(block.contains(from), "{from}");
            block = block.replace(from, to);
        }
        // None come near a bore unless a test says where.
        for key in ["studs", "coolant_holes"] {
            if !self.block_more.contains(key) && !self.untold {
                block.push_str(&format!("{key}: []\n"));
            }
        }
        put("block.yaml", block + &self.block_more);
        let mut machine = shipped_machine();
        for (from, to) in &self.machine {
            assert!(machine.contains(from), "{from}");
            machine = machine.replace(from, to);
        }
        put("machine.yaml", machine);
        for (i, barrel) in self.barrels.iter().enumerate() {
            let mut sleeve = shipped("sleeves/d105.yaml").replace("105.03", &barrel.to_string());
            for (from, to) in &self.sleeve {
                assert!(sleeve.contains(from), "{from}");
                sleeve = sleeve.replace(from, to);
            }
            put(&format!("s{i}.yaml"), sleeve.replace("D105", &format!("S{i}")));
        }
        for (bank, rows) in &self.bores {
            let columns = match rows[0].split(',').count() {
                7 => ",surface,set",
                6 => ",surface",
                _ => "",
            };
            put(
                &format!("bores-{bank}.csv"),
                format!("cylinder,depth,x,y,diameter{columns}\n{}\n", rows.join("\n")),
            );
        }
        for bank in self.bores.keys() {
            let rows = self.walls_of(bank);
            if !rows.is_empty() {
                put(
                    &format!("walls-{bank}.csv"),
                    format!("cylinder,depth,clock,wall\n{}\n", rows.join("\n")),
                );
            }
        }
        put("job.yaml", self.job());
        dir
    }

    /// Plans it.
    pub fn plan(&self) -> Planning {
        let dir = self.write();
        let job = load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"));
        plan_job(job, None).unwrap()
    }

    /// Plans it with what is at hold released: passes of a held cylinder are told to nobody before.
    pub fn released(&self) -> Planning {
        let dir = self.write();
        let job = load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"));
        let release = borewright_planner::plan::Release { who: "A. Lead".into(), why: "read again".into() };
        plan_job(job, Some(release)).unwrap()
    }
}

/// The even block: every bore true, 5 mm of wall left all round a pocket of 105.
pub fn even() -> Bench {
    let mut bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    for cylinder in 1..=8 {
        for clock in [0.0, 90.0, 180.0, 270.0] {
            // No casting's walls are all alike; the least counts.
            bench = bench.wall(cylinder, 60.0, clock, 7.0 + clock / 9000.0);
        }
    }
    bench
}

/// A bench whose instruments are a shop's.
pub fn shop() -> Bench {
    Bench {
        instruments: "centre: 0.003, diameter: 0.004, wall: 0.05, axis: 0.004, along: 0.004, machine: 0.004"
            .into(),
        ..Bench::default()
    }
}

/// What the survey says of a bench.
pub fn survey(bench: &Bench) -> SurveyReport {
    let dir = bench.write();
    report(&load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
}

/// The sleeve that was chosen.
pub fn chosen(planning: &Planning) -> &SleeveChoice {
    planning.plan.sleeves.iter().find(|s| s.chosen).unwrap()
}

/// The cylinders that any list cuts, in order.
pub fn listed(planning: &Planning) -> Vec<u32> {
    let mut cylinders: Vec<u32> = planning.lists.iter().flat_map(|l| l.cylinders.clone()).collect();
    cylinders.sort_unstable();
    cylinders.dedup();
    cylinders
}

/// The plan's cylinder.
pub fn cylinder(planning: &Planning, number: u32) -> &Cylinder {
    planning.plan.cylinders.iter().find(|c| c.cylinder == number).unwrap()
}

/// The worst of a limit on a cylinder.
pub fn limit<'p>(planning: &'p Planning, number: u32, name: &str) -> &'p LimitResult {
    let of_limit = cylinder(planning, number).limits.iter().filter(|l| l.limit == name);
    of_limit.min_by(|a, b| a.margin.total_cmp(&b.margin)).unwrap()
}

/// How far a cylinder is planned off its true position.
pub fn off_true(planning: &Planning, number: u32) -> [f64; 2] {
    let c = cylinder(planning, number);
    [c.planned.x - c.true_position.x, c.planned.y - c.true_position.y]
}

/// The finding about a cylinder.
pub fn finding(planning: &Planning, number: u32) -> &Finding {
    let subject = format!("cylinder {number}");
    planning.plan.findings.iter().find(|f| f.subject.to_string() == subject).unwrap()
}

/// Replaces text once in a file of a folder; it must be there.
#[track_caller]
pub fn edit(folder: &Path, file: &str, from: &str, to: &str) {
    let path = folder.join(file);
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains(from), "{file} holds no {from:?}");
    std::fs::write(&path, text.replacen(from, to, 1)).unwrap();
}

/// Plans a bench with text replaced once in a file of its folder.
#[track_caller]
pub fn plan_with(bench: &Bench, file: &str, from: &str, to: &str) -> Planning {
    let dir = bench.write();
    edit(dir.path(), file, from, to);
    plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
}

/// The bench's folder with one more file, and `from` replaced once in its job.
pub fn with_file(bench: &Bench, name: &str, text: &str, from: &str, to: &str) -> tempfile::TempDir {
    let dir = bench.write();
    std::fs::write(dir.path().join(name), text).unwrap();
    edit(dir.path(), "job.yaml", from, to);
    dir
}

/// Eight bores true, and sleeves measured: rows of number, feature, size.
pub fn with_sleeves(rows: &str) -> Planning {
    let dir = with_file(
        &shop().block_of([[0.0, 0.0]; 8]),
        "sleeves.csv",
        &format!("number,feature,size\n{rows}"),
        "machine:",
        "sleeves_measured: sleeves.csv\nmachine:",
    );
    plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
}

/// Sentences as the terminal prints them, a line each.
pub fn lines(sentences: &[borewright_planner::plan::sentence::Sentence]) -> String {
    sentences.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}
