//! Clean jobs at random, as tables of cells, so that a test may change a cell or take a row away: V and inline, read
//! from the journal axis and off the machine, at one to four depths, aimed at true places and at the bores.

use std::collections::BTreeMap;
use std::fmt::Write;

use borewright_planner::plan::Verdict;
use borewright_planner::survey::survey;
use borewright_planner::{Planning, load, plan_job};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use crate::bench::{shipped, shipped_machine};
use crate::planted::Planted;

/// A table: its header, and its cells by row.
#[derive(Clone)]
pub struct Table {
    pub header: &'static str,
    pub rows: Vec<Vec<String>>,
}

/// What is asked of a random job; the rest is chance.
#[derive(Debug, Clone, Copy)]
pub struct Kind {
    pub banks: usize,
    pub machine: bool,
    pub parent: bool,
    pub depths: usize,
    pub deck: usize,
}

impl Kind {
    /// One of all kinds.
    pub fn any(seed: u64) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed ^ 0xC1EA);
        Self {
            banks: rng.random_range(1..=2),
            machine: rng.random_bool(0.5),
            parent: rng.random_bool(0.3),
            depths: rng.random_range(1..=4),
            deck: [4, 6, 8][rng.random_range(0..3_usize)],
        }
    }
}

/// A job's files.
#[derive(Clone)]
pub struct RandomJob {
    pub kind: Kind,
    pub tables: BTreeMap<String, Table>,
    /// Machine x of the along datum, by bank; nothing where the frame is the journal axis.
    pub along: Vec<f64>,
    pub bank_names: Vec<&'static str>,
    pub spacing: f64,
    block: String,
    limits: String,
}

fn cells(values: &[f64]) -> Vec<String> {
    values.iter().map(|v| format!("{v:.4}")).collect()
}

const DEPTHS: [&[f64]; 4] = [&[70.0], &[20.0, 120.0], &[15.0, 70.0, 125.0], &[10.0, 45.0, 90.0, 130.0]];
const HEIGHT: f64 = 235.0;

impl RandomJob {
    pub fn new(seed: u64, kind: Kind) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let unit = Normal::new(0.0, 1.0).unwrap();
        let mut by = |sigma: f64| sigma * unit.sample(&mut rng);
        // One motion of the whole pattern, as a fixture leaves it, and each bore's own.
        let shift = [by(0.08), by(0.08), by(0.08)];
        let turn = [by(0.000_3), by(0.000_3), by(0.000_3)];
        let mut rng = ChaCha8Rng::seed_from_u64(seed ^ 0xB0_4E);
        let scatter = [0.004, 0.01, 0.02, 0.05][rng.random_range(0..4_usize)];
        let spacing = rng.random_range(109.0..116.0_f64);
        let per_bank = rng.random_range(3..=5_u32);
        let worn = rng.random_range(0.005..0.08);
        let half = if kind.banks == 2 { [30.0, 36.0, 45.0, 60.0][rng.random_range(0..4_usize)] } else { 0.0 };
        let (first, stagger) = (60.0, 22.0);
        let bank_names: Vec<&str> = ["left", "right"].into_iter().take(kind.banks).collect();
        let mut tables = BTreeMap::new();
        let mut along = Vec::new();
        let mut studs = String::new();
        let mut banks = String::new();
        for (bank, name) in bank_names.iter().enumerate() {
            let mut noise = |sigma: f64| sigma * unit.sample(&mut rng);
            let angle: f64 = if kind.banks == 2 { [-half, half][bank] } else { 0.0 };
            let (sin, cos) = angle.to_radians().sin_cos();
            let (across, up) = ([0.0, cos, -sin], [0.0, sin, cos]);
            let set_up = Planted {
                origin: [noise(120.0), noise(30.0), -220.0 + noise(10.0)],
                set_up: [noise(0.000_1), noise(0.000_1), noise(0.001)],
                shift: [0.0; 2],
                tilt: [0.0; 2],
                noise: 0.0,
                seed: 0,
                front_right: false,
            };
            let numbers: Vec<u32> = (0..per_bank)
                .map(|i| if kind.banks == 2 { 2 * i + 1 + u32::from(bank == 1) } else { i + 1 })
                .collect();
            let x_of = |i: usize| {
                first
                    + stagger * f64::from(u8::from(bank == 1))
                    + spacing * f64::from(u32::try_from(i).unwrap())
            };
            let mut bores = Vec::new();
            let mut walls = Vec::new();
            for (i, n) in numbers.iter().enumerate() {
                let x = x_of(i);
                let own = [noise(scatter), noise(scatter)];
                let lean = [noise(scatter / 200.0), noise(scatter / 200.0)];
                for depth in DEPTHS[kind.depths - 1] {
                    // The true point in the block, moved: T + turn x P, seen in the bank.
                    let z = HEIGHT - depth;
                    let p = [x, across[1] * 0.0 + up[1] * z, up[2] * z];
                    let d = [
                        shift[0] + turn[1] * p[2] - turn[2] * p[1],
                        shift[1] + turn[2] * p[0] - turn[0] * p[2],
                        shift[2] + turn[0] * p[1] - turn[1] * p[0],
                    ];
                    let dy: f64 = (0..3).map(|k| d[k] * across[k]).sum();
                    let at = [x + d[0] + own[0] + lean[0] * depth, dy + own[1] + lean[1] * depth]
                        .map(|v| v + noise(0.003));
                    let read = if kind.machine {
                        let m = set_up.to_machine([at[0], at[1], z]);
                        [m[0], m[1]]
                    } else {
                        at
                    };
                    let diameter = 96.0 + worn * (1.0 - depth / 150.0) + noise(0.004);
                    let mut row = vec![n.to_string()];
                    row.extend(cells(&[*depth, read[0], read[1], diameter]));
                    bores.push(row);
                }
                for depth in [40.0, 100.0] {
                    for clock in [0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0] {
                        // Bridges are thinner than what is left to the next bore.
                        let wall = if clock % 180.0 == 0.0 { 5.5 } else { 6.5 } + noise(0.4).clamp(-1.2, 1.2);
                        let mut row = vec![n.to_string()];
                        row.extend(cells(&[depth, clock, wall]));
                        walls.push(row);
                    }
                }
                for y in [-60.0, 60.0] {
                    writeln!(
                        studs,
                        "  - {{ bank: {name}, x: {:.3}, y: {y}, diameter: 11.0, from: 0.0, to: 80.0 }}",
                        x - spacing / 2.0
                    )
                    .unwrap();
                }
            }
            tables.insert(
                format!("bores-{name}.csv"),
                Table { header: "cylinder,depth,x,y,diameter", rows: bores },
            );
            tables.insert(
                format!("walls-{name}.csv"),
                Table { header: "cylinder,depth,clock,wall", rows: walls },
            );
            if kind.machine {
                let mut axis = Vec::new();
                for main in 0..=per_bank {
                    let x = 5.0 + spacing * f64::from(main);
                    let m = set_up.to_machine([x, noise(0.002), noise(0.002)]).map(|c| c + noise(0.002));
                    let mut row = vec![(main + 1).to_string()];
                    row.extend(cells(&m));
                    axis.push(row);
                }
                let end = x_of(numbers.len() - 1) + 40.0;
                let corners = [[20.0, -65.0], [end, 65.0], [20.0, 65.0], [end, -65.0]];
                let middles = [[end / 2.0, -65.0], [end / 2.0, 65.0], [end / 3.0, 60.0], [end / 1.5, -60.0]];
                let deck = corners.into_iter().chain(middles).take(kind.deck).map(|[x, y]| {
                    let m = set_up.to_machine([x, y, HEIGHT]);
                    cells(&[m[0], m[1], m[2] + noise(0.003)])
                });
                tables.insert(format!("deck-{name}.csv"), Table { header: "x,y,z", rows: deck.collect() });
                tables.insert(format!("axis-{name}.csv"), Table { header: "main,x,y,z", rows: axis });
                along.push(set_up.to_machine([0.0; 3])[0] + noise(0.005));
            }
            let listed: Vec<String> = numbers.iter().map(ToString::to_string).collect();
            writeln!(
                banks,
                "  - {{ name: {name}, cylinders: [{}], first_bore: {} }}",
                listed.join(", "),
                x_of(0)
            )
            .unwrap();
        }
        let mains: String = (0..=per_bank)
            .map(|i| format!("    - {{ name: \"{}\", x: {:.4} }}\n", i + 1, 5.0 + spacing * f64::from(i)))
            .collect();
        let block = format!(
            "format: borewright/block/1\nname: Random\nfamily: random\nunits: mm\nbank_angle: {}\nrotation: clockwise\n\
             bore_spacing: {spacing:.4}\ndeck_height: {HEIGHT}\njournal_axis:\n  along_datum: front face of the block\n  \
             housing_bore: 68.0\n  straightness: 0.03\n  neighbour: 0.02\n  mains:\n{mains}banks:\n{banks}parent:\n  \
             material: aluminium\n  bore_length: 140.0\n  room_below: 12.0\n  liner: {{ bore: 96.0, outside: 101.0, length: 138.0, \
             material: grey iron }}\n  jacket: {{ from: 9.0, to: 60.0 }}\nstuds:\n{studs}",
            2.0 * half
        );
        let limits = "clean_up: 0.1, parent_wall: { least: 2.0, prefer: 2.2 }, bridge: 1.5".to_owned();
        Self { kind, tables, along, bank_names, spacing, block, limits }
    }

    /// A cell, by its table, row and column.
    pub fn cell(&mut self, table: &str, row: usize, column: usize) -> &mut String {
        &mut self.tables.get_mut(table).unwrap().rows[row][column]
    }

    /// Adds to a cell.
    pub fn add(&mut self, table: &str, row: usize, column: usize, by: f64) {
        let cell = self.cell(table, row, column);
        *cell = format!("{:.4}", cell.parse::<f64>().unwrap() + by);
    }

    pub fn write(&self) -> tempfile::TempDir {
        let dir = tempfile::tempdir().unwrap();
        let put = |name: &str, text: String| std::fs::write(dir.path().join(name), text).unwrap();
        put("block.yaml", self.block.clone());
        put("machine.yaml", shipped_machine());
        put("sleeve.yaml", shipped("sleeves/d105.yaml").replace("flats: 109.96", "flats: 108.0"));
        let mut job = format!(
            "format: borewright/job/1\njob: \"9\"\nunits: mm\nblock: block.yaml\nsleeves: [sleeve.yaml]\nmachine: machine.yaml\n\
             aim: {}\nfinish: {{ bore: 99.0 }}\nlimits: {{ {} }}\ninstruments: {{ centre: 0.003, diameter: 0.004, wall: 0.05, axis: \
             0.004, along: 0.015, machine: 0.004 }}\nreadings:\n",
            if self.kind.parent { "parent" } else { "journal" },
            self.limits
        );
        for (bank, name) in self.bank_names.iter().enumerate() {
            write!(job, "  - set_up: {name} up\n    bank: {name}\n    bores: bores-{name}.csv\n").unwrap();
            if self.tables.contains_key(&format!("walls-{name}.csv")) {
                writeln!(job, "    walls: walls-{name}.csv").unwrap();
            }
            if self.kind.machine {
                write!(
                    job,
                    "    frame: machine\n    axis: axis-{name}.csv\n    deck: deck-{name}.csv\n    along: {{ x: {:.4} }}\n",
                    self.along[bank]
                )
                .unwrap();
            } else {
                job.push_str("    frame: journal\n");
            }
        }
        put("job.yaml", job);
        for (name, table) in &self.tables {
            let rows: Vec<String> = table.rows.iter().map(|r| r.join(",")).collect();
            put(name, format!("{}\n{}\n", table.header, rows.join("\n")));
        }
        dir
    }

    /// Its plan; `None` where the job is rejected.
    pub fn plan(&self) -> Option<Planning> {
        plan_job(load(self.write().path()).ok()?, None).ok()
    }

    /// The codes of what holds among its suspicions, and of what is merely told; one word where the job is rejected.
    pub fn questions(&self) -> (Vec<String>, Vec<String>) {
        let rejected = || (vec!["rejected".to_owned()], Vec::new());
        let Ok(job) = load(self.write().path()) else { return rejected() };
        let Ok(found) = survey(&job) else { return rejected() };
        let of = |held: bool| {
            let all = found.suspicions.iter().filter(|s| (s.verdict > Verdict::Go) == held);
            all.map(|s| s.code.word().to_owned()).collect()
        };
        (of(true), of(false))
    }
}
