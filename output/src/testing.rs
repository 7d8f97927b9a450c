//! Plannings made by hand for the tests: invented blocks, figures that look like a real job's.

use borewright_geometry::{Displacement, Placement, Point};
use borewright_planner::Planning;
use borewright_planner::job::{
    Aim, AxisReading, Bank, Block, CoolantHole, Cut, Depths, Finish, FireRing, Flange, Front, Hone,
    Instruments, Job, JournalAxis, Limits, Liner, Machine, MachineReadings, Main, MillimetresWord, ORing,
    Parent, ReadingFrame, Rotation, SetUp, SheetUnits, Site, Sleeve, SleeveKind, Stands, Step, Stud, Tool,
    ToolKind,
};
use borewright_planner::material::built_in;
use borewright_planner::plan::moves::{Move, MoveKind, MoveList, Touch};
use borewright_planner::plan::{self, Stage, Verdict, Xy};

/// One bank of a block to make: name, angle, cylinders, first bore, front.
pub(crate) type BankSpec = (&'static str, f64, Vec<u32>, f64, Front);

/// A V6: left bank read from the journal axis, right bank read in the machine with its front at the right.
pub(crate) fn dunnock() -> Planning {
    make(
        "Dunnock 90",
        90.0,
        &[
            ("left", -45.0, vec![1, 3, 5], 46.0, Front::Left),
            ("right", 45.0, vec![2, 4, 6], 64.0, Front::Right),
        ],
    )
}

/// Eight in line.
pub(crate) fn wren() -> Planning {
    make("Wren 8", 0.0, &[("main", 0.0, (1..=8).collect(), 50.0, Front::Left)])
}

/// Sixteen in a V.
pub(crate) fn bittern() -> Planning {
    let odd = (0..8).map(|n| 2 * n + 1).collect();
    let even = (1..=8).map(|n| 2 * n).collect();
    make(
        "Bittern 60",
        60.0,
        &[("left", -30.0, odd, 46.0, Front::Left), ("right", 30.0, even, 64.0, Front::Right)],
    )
}

/// The V6 at stop: no list at all.
pub(crate) fn stopped() -> Planning {
    let mut planning = dunnock();
    planning.lists.clear();
    planning.plan.passes.clear();
    planning.plan.verdict = Verdict::Stop;
    for cylinder in &mut planning.plan.cylinders {
        cylinder.verdict = Verdict::Stop;
        cylinder.withheld = true;
        cylinder.limits[0].verdict = Verdict::Stop;
        cylinder.limits[0].margin = -0.214;
    }
    planning.plan.findings.insert(
        1,
        plan::Finding {
            code: "limits_fight",
            verdict: Verdict::Stop,
            subject: "cylinder 3".to_owned(),
            text: "clean-up of the lower register and the bridge to cylinder 5 cannot both be had: short by 0.214 mm \
                   at the best place. A sleeve with 89.20 mm outside, or a bridge limit of 1.28 mm, would free it."
                .into(),
        },
    );
    planning
}

/// The V6 at hold; released where asked.
pub(crate) fn held(released: bool) -> Planning {
    let mut planning = dunnock();
    planning.plan.verdict = Verdict::Hold;
    planning.plan.cylinders[1].verdict = Verdict::Hold;
    planning.plan.cylinders[1].limits[1].verdict = Verdict::Hold;
    planning.plan.cylinders[1].limits[1].margin = 0.012;
    planning.plan.release = released.then(|| plan::Release {
        who: "M. Teal".to_owned(),
        why: "wall read twice with a fresh gauge block, customer told".to_owned(),
    });
    if !released {
        planning.lists.clear();
        planning.plan.passes.clear();
        planning.plan.cylinders.iter_mut().for_each(|cylinder| cylinder.withheld = true);
    }
    planning
}

/// Every free text as bad as it gets.
pub(crate) fn hostile() -> Planning {
    let bad = "X)\nG0 Z-100 (\u{1b}[31m\u{202e}%;:/\\\u{7}\u{4e2d}\u{1f600} ".repeat(230);
    let mut planning = dunnock();
    planning.plan.job.clone_from(&bad);
    planning.job.number.clone_from(&bad);
    planning.job.customer = Some(bad.clone());
    planning.job.block.name = "Unbreakable".repeat(900);
    planning.job.machine.name.clone_from(&bad);
    planning.job.block.journal_axis.along_datum.clone_from(&bad);
    planning.job.sleeves[0].name.clone_from(&bad);
    let long_bank = "W".repeat(10_000);
    for bank in [0, 1] {
        let name = if bank == 0 { bad.clone() } else { long_bank.clone() };
        let old = std::mem::replace(&mut planning.job.block.banks[bank].name, name.clone());
        planning.plan.banks[bank].bank.clone_from(&name);
        planning.plan.cylinders.iter_mut().filter(|c| c.bank == old).for_each(|c| c.bank.clone_from(&name));
        planning.plan.passes.iter_mut().filter(|p| p.bank == old).for_each(|p| p.bank.clone_from(&name));
        planning.lists.iter_mut().filter(|l| l.bank == old).for_each(|l| l.bank.clone_from(&name));
    }
    for cylinder in &mut planning.plan.cylinders {
        cylinder.sleeve.clone_from(&bad);
        cylinder.limits[0].feature.clone_from(&bad);
        cylinder.why = bad.as_str().into();
    }
    for pass in &mut planning.plan.passes {
        pass.feature.clone_from(&bad);
        pass.tool = Some(bad.clone());
        pass.stop = pass.stop.is_some().then(|| bad.clone());
    }
    for finding in &mut planning.plan.findings {
        finding.text = bad.as_str().into();
        finding.subject.clone_from(&bad);
    }
    planning.plan.sleeves[0].why = bad.as_str().into();
    planning.plan.sleeves[0].sleeve.clone_from(&bad);
    planning.plan.release = Some(plan::Release { who: bad.clone(), why: bad.clone() });
    for list in &mut planning.lists {
        list.header.push(bad.clone());
        list.moves[0].note.clone_from(&bad);
        list.touch[0].what.clone_from(&bad);
    }
    planning.job.set_ups.iter_mut().for_each(|s| s.name.clone_from(&bad));
    planning
}

/// A planning of any block.
pub(crate) fn make(block: &str, bank_angle_deg: f64, banks: &[BankSpec]) -> Planning {
    let job = job(block, bank_angle_deg, banks);
    let plan = plan_of(&job, banks);
    let lists = lists(&job, &plan, banks);
    let placements = banks.iter().map(|spec| (spec.4 == Front::Right).then(placement)).collect();
    Planning { job, plan, lists, placements, near: vec![], staged: Default::default() }
}

/// The block stands turned about on the machine, its journal axis a hair out of line.
fn placement() -> Placement<borewright_geometry::Machine, borewright_geometry::Bank> {
    Placement::from_axes(
        Point::new(311.254, -18.402, -96.310),
        Displacement::new(-1.0, 0.0002, 0.0),
        Displacement::new(0.0, 0.0001, 1.0),
    )
    .unwrap()
}

fn job(block: &str, bank_angle_deg: f64, banks: &[BankSpec]) -> Job {
    let spacing = 92.0;
    let aluminium = built_in("aluminium").unwrap();
    let sites = |spec: &BankSpec| -> Vec<Site> {
        spec.2
            .iter()
            .zip(0_u32..)
            .map(|(c, n)| Site { cylinder: *c, x_mm: spec.3 + spacing * f64::from(n) })
            .collect()
    };
    let described = banks.iter().map(|spec| Bank {
        name: spec.0.to_owned(),
        angle_deg: spec.1,
        deck_height_mm: 221.0,
        axis_offset_mm: 0.0,
        sites: sites(spec),
    });
    let studs = banks.iter().enumerate().flat_map(|(bank, spec)| {
        let count = u32::try_from(spec.2.len()).unwrap();
        (0..=count).flat_map(move |n| {
            [52.0, -52.0].map(|y| Stud {
                bank,
                centre_mm: [spec.3 - 46.0 + 92.0 * f64::from(n), y],
                diameter_mm: 11.5,
                depths: Depths { from_mm: 0.0, to_mm: 90.0 },
            })
        })
    });
    let holes = banks.iter().enumerate().map(|(bank, spec)| CoolantHole {
        bank,
        name: "bridge".to_owned(),
        start_mm: [spec.3 + 46.0, -20.0, 30.0],
        end_mm: [spec.3 + 46.0, 20.0, 34.0],
        diameter_mm: 2.5,
    });
    let set_ups = banks.iter().enumerate().map(|(bank, spec)| SetUp {
        name: format!("{} bank up", spec.0),
        bank,
        front: spec.4,
        clamps_mm: None,
        frame: match spec.4 {
            Front::Left => ReadingFrame::Journal,
            Front::Right => ReadingFrame::Machine(MachineReadings {
                axis: vec![AxisReading { main: "1".to_owned(), at_mm: [300.0, -18.4, -96.3] }],
                mains: vec![],
                deck_mm: vec![],
                along_x_mm: 311.254,
            }),
        },
        bores: vec![],
        points: vec![],
        walls: vec![],
        heights: vec![],
        shape: vec![],
        witness: vec![],
        files: std::collections::BTreeMap::new(),
    });
    Job {
        number: "0412".to_owned(),
        customer: Some("Saltmarsh Engine Works".to_owned()),
        units: borewright_planner::read::given::Units::Mm,
        sheet_units: SheetUnits::Mm,
        block: Block {
            name: block.to_owned(),
            family: None,
            bank_angle_deg,
            rotation: Some(Rotation::Clockwise),
            journal_axis: JournalAxis {
                along_datum: "front face of main 1".to_owned(),
                housing_bore_mm: 67.0,
                straightness_mm: 0.020,
                neighbour_mm: 0.010,
                mains: vec![Main { name: "1".to_owned(), x_mm: 11.0 }],
            },
            banks: described.collect(),
            parent: Parent {
                material: aluminium,
                bore_length_mm: 140.0,
                room_below_mm: 12.0,
                liner: Some(Liner {
                    bore_mm: 82.0,
                    outside_mm: 86.0,
                    length_mm: 138.0,
                    material: built_in("grey iron").unwrap(),
                }),
                jacket: Some(Depths { from_mm: 9.0, to_mm: 62.0 }),
            },
            studs: studs.collect(),
            coolant_holes_told: true,
            studs_told: true,
            coolant_holes: holes.collect(),
            fire_ring: Some(FireRing { inside_mm: 84.5, outside_mm: 88.5 }),
        },
        sleeves: vec![sleeve()],
        machine: machine(),
        aim: Aim::Journal,
        finish: Finish { bore_mm: 82.0, hone_stock_mm: 0.06, tolerance_mm: 0.010, plate_mm: Some(40.0) },
        allowances: Default::default(),
        engine: Default::default(),
        list_per_cylinder: false,
        measured: vec![],
        limits: Limits::default(),
        instruments: Instruments {
            centre_mm: 0.003,
            diameter_mm: 0.004,
            wall_mm: 0.05,
            axis_mm: 0.004,
            along_mm: 0.015,
            machine_mm: 0.004,
            deck_mm: 0.003,
            lean: 1e-4,
        },
        temperature: None,
        fixture: None,
        index_span: None,
        gasket_shift_mm: vec![[0.0; 2]; banks.len()],
        set_ups: set_ups.collect(),
        log: borewright_planner::log::Log::default(),
        cut: std::collections::BTreeMap::new(),
        kept_sleeve: None,
        inputs: vec![],
    }
}

fn sleeve() -> Sleeve {
    let step = |name: &str, diameter_mm, to_mm, interference_mm, wet| Step {
        name: name.to_owned(),
        diameter_mm,
        to_mm,
        interference_mm,
        tolerance_mm: 0.004,
        pocket_tolerance_mm: None,
        code: None,
        wet,
        o_rings: vec![],
    };
    let mut lower = step("lower register", 88.6, 139.0, 0.03, false);
    lower.o_rings.push(ORing {
        depth_mm: 60.0,
        groove_diameter_mm: 85.6,
        groove_width_mm: 2.4,
        cord_mm: 1.78,
        inside_mm: 84.5,
    });
    Sleeve {
        name: "W90".to_owned(),
        kind: SleeveKind::Wet,
        material: built_in("ductile iron").unwrap(),
        bore_mm: 81.5,
        length_mm: 139.0,
        stands: Stands::Flange(Flange {
            diameter_mm: 95.0,
            thickness_mm: 8.0,
            clearance_mm: 0.10,
            flats_mm: Some(91.9),
            fillet_mm: None,
            tolerance_mm: 0.005,
            protrusion_min_mm: 0.02,
            protrusion_max_mm: 0.05,
        }),
        body: vec![
            step("upper register", 90.0, 18.0, 0.02, false),
            step("wet length", 89.0, 52.0, -0.6, true),
            lower,
        ],
    }
}

fn machine() -> Machine {
    let tool = |name: &str, kind, diameter_mm| Tool {
        bar_elastic_mpa: 206_000.0,
        step_down_mm: 2.0,
        teeth: 1.0,
        name: name.to_owned(),
        kind,
        diameter_mm,
        reach_mm: 175.0,
        bar_mm: Some(58.0),
        nose_radius_mm: Some(0.8),
        cuts: vec![Cut {
            material: "aluminium".to_owned(),
            speed_m_per_min: 250.0,
            feed_mm: 0.15,
            depth_mm: 1.5,
        }],
    };
    Machine {
        stiffness_n_per_mm: 20_000.0,
        nose_mm: None,
        mill: vec![],
        name: "column mill".to_owned(),
        travel_mm: [[-450.0, 450.0], [-220.0, 220.0], [-420.0, 120.0]],
        rpm: [40.0, 2500.0],
        power_kw: Some(7.5),
        feed_mm_per_min: 1500.0,
        millimetres_word: MillimetresWord::G21,
        clearance_mm: 5.0,
        stop_clearance_mm: None,
        tools: vec![
            tool("rough head", ToolKind::Boring, [70.0, 110.0]),
            tool("step cutter", ToolKind::Milling, [40.0, 40.0]),
        ],
        hone: Some(Hone { rpm: [60.0, 250.0], strokes: [20.0, 80.0] }),
    }
}

fn plan_of(job: &Job, banks: &[BankSpec]) -> plan::Plan {
    let mut cylinders = Vec::new();
    let mut passes = Vec::new();
    for bank in &job.block.banks {
        for site in &bank.sites {
            let cylinder = cylinder(bank, *site);
            passes.extend(passes_of(&cylinder));
            cylinders.push(cylinder);
        }
    }
    plan::Plan {
        format: "borewright/plan/1",
        job: job.number.clone(),
        units: "mm",
        fingerprint: "3fa291bc77de0a14c5b8e6f20d9347aa11c06b5e8f7d2a93e4c01b6f5d8a7e20".to_owned(),
        verdict: Verdict::Go,
        release: None,
        findings: vec![
            plan::Finding {
                code: "together",
                verdict: Verdict::Go,
                subject: "right bank".to_owned(),
                text: "all bores of the bank stand off true by one and the same shift, 0.28 mm outwards: the way a \
                       fixture error of the first boring looks. Each is brought back to true."
                    .into(),
            },
            plan::Finding {
                code: "thin_wall",
                verdict: Verdict::Hold,
                subject: "cylinder 3".to_owned(),
                text: "parent wall at 90 degrees, 30.0 deep: 2.31 mm is left, 2.50 is preferred, 2.00 decides."
                    .into(),
            },
        ],
        journal_axis: vec![plan::JournalAxis {
            set_up: "right bank up".to_owned(),
            mains: vec![plan::MainOffset { main: "1".to_owned(), y: 0.001, z: -0.002, diameter: None, roundness: None }],
            straightness: 0.006,
            largest_step: 0.004,
            squareness: Xy { x: 0.004, y: -0.003 },
            deck_height: None,
        }],
        as_bored: plan::AsBored {
            shift: plan::Xyz { x: 0.03, y: 0.19, z: 0.0 },
            turn: plan::Turn { roll: 0.04, pitch: 0.0, yaw: 0.01 },
            undetermined: vec!["z"],
            residual_rms: 0.008,
            f: Some(91.0),
            p: Some(0.0001),
            pattern: plan::Pattern::Together,
        },
        banks: banks
            .iter()
            .map(|spec| plan::BankPattern {
                bank: spec.0.to_owned(),
                angle: spec.1,
                shift: Xy { x: -0.03, y: 0.28 },
                rotation: 0.012,
                residual_rms: 0.006,
            })
            .collect(),
        cylinders,
        checks: Vec::new(),
        passes,
        sleeves: vec![plan::SleeveChoice {
            sleeve: "W90".to_owned(),
            chosen: true,
            verdict: Verdict::Go,
            largest_pocket: 89.98,
            why: "the smallest pocket of the sleeves that end at go".into(),
            worst: None,
            fit: Default::default(),
        }],
        times: vec![],
        lists: vec![],
        files: Vec::new(),
        seal: String::new(),
        inputs: vec![plan::Input { file: "job.yaml".to_owned(), sha256: "ab".repeat(32) }],
    }
}

fn offset(x: f64, y: f64) -> plan::Offset {
    plan::Offset { x, y, distance: x.hypot(y), clock: y.atan2(x).to_degrees().rem_euclid(360.0) }
}

fn cylinder(bank: &Bank, site: Site) -> plan::Cylinder {
    let n = f64::from(site.cylinder);
    let off = (0.011 * (n * 1.7).sin() - 0.02, 0.26 + 0.03 * (n * 2.3).cos());
    let limit = |limit, feature: &str, depth, clock, margin, u, least| plan::LimitResult {
        limit,
        feature: feature.to_owned(),
        depth,
        clock,
        margin,
        u,
        p: 1.0,
        verdict: Verdict::Go,
        least,
        prefer: (limit == "parent_wall").then_some(2.5),
    };
    plan::Cylinder {
        cylinder: site.cylinder,
        bank: bank.name.clone(),
        sleeve: "W90".to_owned(),
        verdict: Verdict::Go,
        fingerprint: "0".repeat(12),
        withheld: false,
        measured: plan::Measured {
            x: site.x_mm + off.0,
            y: off.1,
            diameter: 82.04,
            tilt: Xy { x: 0.0001, y: -0.0002 },
            roundness: None,
        },
        true_position: Xy { x: site.x_mm, y: 0.0 },
        planned: Xy { x: site.x_mm, y: 0.0 },
        off_true: offset(off.0, off.1),
        shift: offset(-off.0, -off.1),
        why: "true to the journal axis; nothing holds it back".into(),
        limits: vec![
            limit("clean_up", "lower register", Some(139.0), None, 0.838, 0.005, 0.15),
            limit("parent_wall", "wet length", Some(30.0), Some(90.0), 0.31, 0.051, 2.0),
            limit(
                "bridge",
                "upper register against the next cylinder's upper register",
                Some(8.0),
                None,
                0.52,
                0.006,
                1.5,
            ),
            limit("flange_gap", "flange", None, None, 0.1, 0.006, 0.0),
            limit(
                "stud_wall",
                "upper register against the stud at 0.0, 52.0",
                Some(8.0),
                None,
                16.71,
                0.016,
                2.0,
            ),
            limit("coolant_hole", "wet length against bridge", Some(34.0), None, 0.224, 0.016, 1.0),
            limit("fire_ring_cover", "flange", None, None, 2.75, 0.016, 0.5),
            limit("fire_ring_bore", "finished bore", None, None, 0.85, 0.016, 0.4),
            limit("position", "bore axis", None, None, 0.025, 0.0158, 0.05),
        ],
    }
}

fn passes_of(cylinder: &plan::Cylinder) -> Vec<plan::Pass> {
    type Line = (Stage, &'static str, &'static str, f64, f64, f64, f64, f64, Option<&'static str>);
    let lines: [Line; 12] = [
        (Stage::Rough, "old liner", "rough head", 83.4, 0.0, 138.0, 0.68, 0.4, None),
        (
            Stage::Rough,
            "old liner",
            "rough head",
            84.6,
            0.0,
            138.0,
            0.6,
            1.0,
            Some(
                "Measure the bore across and along at 20, 70 and 120 deep. It must stand where planned within 0.02.",
            ),
        ),
        (
            Stage::Rough,
            "old liner and parent",
            "rough head",
            86.2,
            0.0,
            138.0,
            0.8,
            1.0,
            Some("Look where iron is left: write the clock and the width of the arc."),
        ),
        (Stage::Rough, "parent", "rough head", 88.17, 0.0, 139.0, 0.985, 1.0, None),
        (
            Stage::Pocket,
            "flange pocket",
            "step cutter",
            95.1,
            0.0,
            7.965,
            3.5,
            1.0,
            Some("Ledge depth at four places: 7.965, spread within 0.010."),
        ),
        (Stage::Pocket, "upper register", "rough head", 89.98, 7.965, 18.0, 0.9, 1.0, None),
        (Stage::Pocket, "wet length", "rough head", 89.6, 18.0, 52.0, 0.7, 0.3, None),
        (
            Stage::Pocket,
            "lower register",
            "rough head",
            88.57,
            52.0,
            139.0,
            0.2,
            1.0,
            Some(
                "Pocket diameter at three depths, two ways: 88.570 within 0.006. Block at most 2 degrees over the shop.",
            ),
        ),
        (
            Stage::Fit,
            "sleeve W90",
            "",
            0.0,
            0.0,
            139.0,
            0.0,
            0.0,
            Some("Feeler 0.02 must not enter under the flange; protrusion at four places 0.02 to 0.05."),
        ),
        (Stage::Deck, "deck and flanges", "", 0.0, 0.0, 0.0, 0.0, 0.0, None),
        (
            Stage::Finish,
            "bore",
            "rough head",
            81.94,
            0.0,
            139.0,
            0.22,
            1.0,
            Some("First bore only: size and place before the others."),
        ),
        (
            Stage::Hone,
            "bore",
            "",
            82.0,
            0.0,
            139.0,
            0.03,
            1.0,
            Some("Plate on: 82.000 within 0.010 at five depths."),
        ),
    ];
    let skew = 0.26 + 0.03 * (f64::from(cylinder.cylinder) * 2.3).cos();
    lines
        .iter()
        .zip(1_u32..)
        .map(|(&(stage, feature, tool, diameter, from, to, stock, in_cut, stop), n)| {
            let skew = if n <= 2 { skew } else { 0.0 };
            let turns = !tool.is_empty();
            plan::Pass {
                step: n * 10,
                stage,
                bank: cylinder.bank.clone(),
                cylinder: cylinder.cylinder,
                feature: feature.to_owned(),
                tool: turns.then(|| tool.to_owned()),
                x: cylinder.planned.x,
                y: cylinder.planned.y,
                diameter,
                from,
                to,
                stock: plan::Stock { min: (stock - skew).max(0.0), max: stock + skew },
                in_cut,
                material: "grey iron".to_owned(),
                rpm: if turns { 324.0 } else { 0.0 },
                feed_per_rev: if turns { 0.15 } else { 0.0 },
                feed: if turns { 48.6 } else { 0.0 },
                minutes: if turns { 2.9 } else { 20.0 },
                flat_end: false,
                shell: None,
                mill: None,
                load: None,
                binds: None,
                ledge: false,
                touch: None,
                stop_number: None,
                stop: stop.map(str::to_owned),
            }
        })
        .collect()
}

fn lists(job: &Job, plan: &plan::Plan, banks: &[BankSpec]) -> Vec<MoveList> {
    let mut made = Vec::new();
    let mut number = 0;
    for stage in [Stage::Rough, Stage::Pocket, Stage::Finish] {
        for (bank, spec) in job.block.banks.iter().zip(banks) {
            number += 10;
            made.push(list(number, stage, bank, spec, plan));
        }
    }
    made
}

/// Bank coordinates as they run on the machine: turned about where the front is at the right.
fn on_machine(spec: &BankSpec, x: f64, y: f64) -> [f64; 2] {
    let round = |v: f64| (v * 1000.0).round() / 1000.0;
    match spec.4 {
        Front::Left => [round(x), round(y)],
        Front::Right => [round(-x - 0.0002 * y), round(-y + 0.0002 * x)],
    }
}

fn list(number: u32, stage: Stage, bank: &Bank, spec: &BankSpec, plan: &plan::Plan) -> MoveList {
    let blank = |kind| Move {
        cylinder: None,
        pass: None,
        kind,
        x_mm: None,
        y_mm: None,
        z_mm: None,
        i_mm: None,
        j_mm: None,
        feed_mm_per_min: None,
        rpm: None,
        note: String::new(),
    };
    let mut moves = vec![
        Move { rpm: Some(324.0), note: "rough head in the spindle".to_owned(), ..blank(MoveKind::SpindleOn) },
        Move { z_mm: Some(5.0), ..blank(MoveKind::Rapid) },
    ];
    for site in &bank.sites {
        let at = plan.cylinders.iter().find(|c| c.cylinder == site.cylinder).unwrap().planned;
        let [x, y] = on_machine(spec, at.x, at.y);
        for pass in [10, 20] {
            let mine = |kind| Move { cylinder: Some(site.cylinder), pass: Some(pass), ..blank(kind) };
            moves.push(Move {
                x_mm: Some(x),
                y_mm: Some(y),
                note: format!("cylinder {}, 0.28 mm towards the valley (µm read)", site.cylinder),
                ..mine(MoveKind::Rapid)
            });
            moves.push(Move { z_mm: Some(-138.0), feed_mm_per_min: Some(48.6), ..mine(MoveKind::Feed) });
            moves.push(Move { z_mm: Some(5.0), ..mine(MoveKind::Rapid) });
        }
        moves.push(Move { note: "measure".to_owned(), ..blank(MoveKind::Stop) });
    }
    moves.push(blank(MoveKind::SpindleOff));
    moves.push(blank(MoveKind::End));
    let first = on_machine(spec, bank.sites[0].x_mm, 0.0);
    let last = on_machine(spec, bank.sites[bank.sites.len() - 1].x_mm, 0.0);
    let touch = |what: String, at: [f64; 2]| Touch {
        cylinder: None,
        what,
        x_mm: Some(at[0]),
        y_mm: Some(at[1]),
        z_mm: None,
        within_mm: 0.5,
    };
    MoveList {
        check: None,
        issued: None,
        number,
        stage,
        bank: bank.name.clone(),
        cylinders: spec.2.clone(),
        header: vec!["zero: foot of the along datum on the journal axis, deck for Z".to_owned()],
        touch: vec![
            touch(format!("middle of cylinder {}", bank.sites[0].cylinder), first),
            touch(format!("middle of cylinder {}", bank.sites[bank.sites.len() - 1].cylinder), last),
            Touch {
                cylinder: None,
                what: "deck beside the first bore".to_owned(),
                x_mm: None,
                y_mm: None,
                z_mm: Some(0.0),
                within_mm: 0.05,
            },
        ],
        moves,
    }
}
