//! An invented block, its sleeve and its machine.

use super::BankSpec;
use borewright_geometry::{Displacement, Placement, Point};
use borewright_planner::job::{
    Aim, AxisReading, Bank, Block, CoolantHole, Cut, Depths, Described, Finish, FireRing, Flange, Front,
    Hone, Instruments, Job, JournalAxis, Limits, Liner, Machine, MachineReadings, Main, MillimetresWord,
    ORing, Parent, ReadingFrame, Rotation, SetUp, SheetUnits, Site, Sleeve, SleeveKind, Stands, Step, Stud,
    Tool, ToolKind,
};
use borewright_planner::material::built_in;
use borewright_planner::plan::ListUnits;

/// The block stands turned about on the machine, its journal axis a hair out of line.
pub(super) fn placement() -> Placement<borewright_geometry::Machine, borewright_geometry::Bank> {
    Placement::from_axes(
        Point::new(311.254, -18.402, -96.310),
        Displacement::new(-1.0, 0.0002, 0.0),
        Displacement::new(0.0, 0.0001, 1.0),
    )
    .unwrap()
}

/// A checked job on a made-up block of some banks, lengths in mm.
pub(super) fn job(block: &str, bank_angle_deg: f64, banks: &[BankSpec]) -> Job {
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
        side_told: true,
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
                axis: vec![AxisReading { main: "1".into(), at_mm: [300.0, -18.4, -96.3], line: 0 }],
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
        finish: Finish {
            bore_mm: 82.0,
            clearance_mm: None,
            hone_stock_mm: 0.06,
            tolerance_mm: 0.010,
            plate_mm: Some(40.0),
            roughness_um: None,
        },
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
        described: Described::default(),
        bettered: Vec::new(),
        loosened: Vec::new(),
        shop_limits: Limits::default(),
        inputs: vec![],
    }
}

/// The one sleeve of every made-up job: wet, with a flange, two registers and an O-ring.
pub(super) fn sleeve() -> Sleeve {
    let step = |name: &str, diameter_mm, to_mm, interference_mm, wet| Step {
        name: name.to_owned(),
        diameter_mm,
        to_mm,
        interference_mm,
        drawn_tight: interference_mm > 0.0,
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

/// The machine of every made-up job: a mill with one boring head, one step cutter and a hone beside it.
pub(super) fn machine() -> Machine {
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
        list_units: ListUnits::Mm,
        clearance_mm: 5.0,
        stop_clearance_mm: None,
        tools: vec![
            tool("rough head", ToolKind::Boring, [70.0, 110.0]),
            tool("step cutter", ToolKind::Milling, [40.0, 40.0]),
        ],
        hone: Some(Hone { rpm: [60.0, 250.0], strokes: [20.0, 80.0] }),
    }
}
