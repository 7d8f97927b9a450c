//! Whether a sleeve stays put, seals and lives: fits, seats, strokes and decks on the Kittiwake.

use borewright_planner::plan::fit::SleeveLimit;
use borewright_planner::plan::{Stage, Verdict};
use borewright_planner::{Planning, load, plan_job};

use crate::bench::{Bench, chosen, even, near, with_file};

fn with(more: &str) -> Planning {
    Bench { job_more: more.into(), ..even() }.plan()
}

/// Expansions of the trade's sums, in place of the built-in ones.
const SUMS: &str = "materials:\n  \
     - { name: aluminium, elastic: 71000, poisson: 0.33, expansion: 22, yield: 165, source: sums }\n  \
     - { name: ductile iron, elastic: 170000, poisson: 0.275, expansion: 11.5, yield: 370 }\n";

#[test]
fn a_sleeve_too_short_for_the_stroke_is_named_at_both_ends() {
    // H 235, stroke 92, rod 150, pin height 38.9: crown 0.10 and 92.1 below deck, ring 112.1, skirt 147.1.
    let piston = "piston: { stroke: 92, rod: 150, pin_height: 38.9, oil_ring: 20, skirt: 55 }\n";
    let limits = "position: 0.8, clean_up: 0.05, ring_hold: 3, skirt_out: 12";
    let bench = |length: &'static str, to: &'static str| Bench {
        job_more: piston.into(),
        limits: limits.into(),
        sleeve: vec![("length: 138.0", length), ("to: 138.0", to)],
        ..even()
    };
    let planning = bench("length: 130.0", "to: 130.0").plan();
    let stack = chosen(&planning).fit.stack.unwrap();
    near(stack.crown_top, 0.1, 1e-6);
    near(stack.crown_bottom, 92.1, 1e-6);
    near(stack.ring_hold, 17.9, 1e-6);
    near(stack.skirt_out, 17.1, 1e-6);
    assert_eq!(planning.plan.verdict, Verdict::Stop);
    let finding = planning.plan.findings.iter().find(|f| f.code == "sleeve_limit").unwrap();
    assert!(finding.text.contains("skirt out") && finding.text.contains("17.100"), "{}", finding.text);
    assert!(planning.lists.is_empty() && planning.plan.passes.is_empty(), "nothing is cut for such a sleeve");
    let planning = bench("length: 138.0", "to: 138.0").plan();
    near(chosen(&planning).fit.stack.unwrap().skirt_out, 9.1, 1e-6);
    assert_eq!(planning.plan.verdict, Verdict::Go);
}

#[test]
fn a_ledge_is_cut_for_the_deck_that_will_be_left() {
    // A flange of 6.00 to stand 0.00 to 0.03 proud: 5.985 from the deck it ends at, 6.085 from one with 0.10 to come off.
    let ledge = |planning: &Planning| {
        let of =
            planning.plan.passes.iter().find(|p| p.stage == Stage::Pocket && p.feature == "flange").unwrap();
        of.to
    };
    near(ledge(&with("")), 5.985, 1e-9);
    let planning = with("deck: { cut: 0.10 }\n");
    near(ledge(&planning), 6.085, 1e-9);
    let stages: Vec<Stage> = planning.plan.passes.iter().map(|p| p.stage).collect();
    let at = |stage: Stage| stages.iter().position(|s| *s == stage).unwrap();
    assert!(at(Stage::Deck) < at(Stage::Fit), "cut with no sleeve in");
    let deck = planning.plan.passes.iter().find(|p| p.stage == Stage::Deck).unwrap();
    assert!(deck.stop.as_ref().unwrap().whole().contains("234.900"), "{deck:?}");
    // What is bored after the cut is told from the new deck: as deep below it as without the cut.
    let lowest = |planning: &Planning| {
        let list = planning.lists.iter().find(|l| l.stage == Stage::Finish).unwrap();
        let z = list.moves.iter().filter_map(|m| m.z_mm).fold(0.0, f64::min);
        (z, list.header.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "))
    };
    let (cut, header) = lowest(&planning);
    assert!(header.contains("deck as cut, 0.100 below"), "{header}");
    near(cut, lowest(&with("")).0, 1e-9);
    let after = with("deck: { cut: 0.10, when: after_fit }\n");
    let notes = &chosen(&after).fit.notes;
    assert!(notes.iter().any(|n| n.contains("flush")), "{notes:?}");
}

#[test]
fn the_gap_at_the_drop_and_as_it_shrinks_is_that_of_the_sums() {
    // 0.08 tight on 105, block 22e-6: 0.128 at 110 degrees, 0.082 at 90: heat again.
    let bench = Bench {
        job_more: format!("{SUMS}allowances: {{ pocket_size: 0.001 }}\ngoing_in: {{ hottest: 130 }}\n"),
        sleeve: vec![("interference: 0.03", "interference: 0.08, tolerance: 0.001")],
        ..even()
    };
    let planning = bench.plan();
    let going = &chosen(&planning).fit.going_in;
    // The tolerances of 0.001 on either part stand on top of the 0.08.
    let gap = |celsius: f64| going.gaps.iter().find(|g| g.block == celsius).unwrap().gap + 0.002;
    near(gap(110.0), 0.128, 0.000_6);
    near(gap(90.0), 0.082, 0.000_6);
    let again = going.reheat_below.unwrap();
    assert!(again > 90.0 && again < 110.0, "{again}");
    // 20 K from the oven to the last sleeve are kept: from 110 the sleeve would be chilled for 90.
    near(going.soak, again + 20.0, 1e-6);
    let tight =
        Bench { job_more: bench.job_more.replace("hottest: 130", "hottest: 110"), ..bench.clone() }.plan();
    let going = &chosen(&tight).fit.going_in;
    assert_eq!((going.block, going.soak, going.reheat_below), (90.0, 110.0, Some(90.0)));
    assert!(going.chilled.is_some_and(|c| c < 20.0), "{going:?}");
    near(going.clearance, 0.10, 1e-6);
    // Too cool an oven: the sleeve must be chilled, and the figure brings the gap back.
    let cool = Bench { job_more: bench.job_more.replace("hottest: 130", "hottest: 80"), ..bench }.plan();
    let going = &chosen(&cool).fit.going_in;
    assert!(going.chilled.unwrap() < 0.0, "{going:?}");
    near(going.clearance, 0.10, 1e-6);
}

#[test]
fn a_fit_is_lost_with_heat_as_the_sums_have_it() {
    // D 105, 20 to 100 degrees, 22e-6 against 11.5e-6: 0.088 lost.
    let planning = with(&format!("{SUMS}running: {{ block: 100, sleeve: 100 }}\n"));
    let register = &chosen(&planning).fit.registers[0];
    let hot = register.running.unwrap();
    near(register.interference.most - hot.interference.most, 0.088, 0.000_5);
    assert!(hot.pressure == 0.0, "open when hot: {hot:?}");
    near(register.gone_at.unwrap(), 20.0 + 0.03 / (10.5e-6 * 105.0), 1e-3);
    // A sleeve 30 degrees hotter than the block gives 0.035 back.
    let hotter = with(&format!("{SUMS}running: {{ block: 100, sleeve: 130 }}\n"));
    let given = chosen(&hotter).fit.registers[0].running.unwrap().interference.most - hot.interference.most;
    near(given, 0.0362, 0.001);
    // 98.4/105 ductile in about 5 mm of aluminium, 0.05 tight: the bore closes 0.018, hoop 20 MPa (finite elements
    // give 0.01818 and 21.08 at exactly 5 mm).
    let tight = Bench { sleeve: vec![("interference: 0.03", "interference: 0.05")], ..even() }.plan();
    let register = &chosen(&tight).fit.registers[0];
    near(register.wall.unwrap().wall, 5.0, 0.02);
    near(register.closure.unwrap(), 0.0182, 0.000_2);
    near(register.hoop.unwrap().block, 21.1, 0.3);
}

#[test]
fn a_deck_that_leans_spreads_the_protrusion_unless_it_is_cut_square_first() {
    // 0.05 in 150 across: 0.037 round a flange of 112, over the limit of 0.013.
    let deck = "x,y,z\n0,-75,234.975\n0,75,235.025\n450,-75,234.975\n450,75,235.025\n";
    let axis = "main,x,y,z\n1,17,0,0\n2,127,0,0\n3,237,0,0\n4,347,0,0\n5,457,0,0\n";
    let plan = |more: &str| {
        let bench = Bench {
            limits: "position: 0.8, clean_up: 0.05, protrusion_spread: 0.013".into(),
            job_more: more.into(),
            ..even()
        };
        let dir = with_file(
            &bench,
            "deck.csv",
            deck,
            "  - set_up: left up\n    bank: left\n    frame: journal\n",
            "  - set_up: left up\n    bank: left\n    frame: machine\n    along: { x: 0 }\n    axis: axis.csv\n    deck: deck.csv\n",
        );
        std::fs::write(dir.path().join("axis.csv"), axis).unwrap();
        plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
    };
    let planning = plan("");
    let deck = &chosen(&planning).fit.protrusion.as_ref().unwrap().decks[0];
    near(deck.spread, 0.05 / 150.0 * 112.0, 1e-6);
    near(deck.skim, 0.05, 1e-6);
    let limit = &chosen(&planning).fit.sleeve_limits[0];
    assert_eq!((limit.limit, limit.verdict), ("protrusion_spread", Verdict::Stop));
    assert_eq!(planning.plan.verdict, Verdict::Stop);
    let cut = plan("deck: { cut: 0.06 }\n");
    let spread = |l: &&SleeveLimit| l.limit == "protrusion_spread";
    let told = |p: &Planning| -> Vec<String> {
        chosen(p).fit.sleeve_limits.iter().filter(spread).map(|l| l.feature.to_string()).collect()
    };
    // The other bank's deck was not read: that of one proves nothing of the other.
    assert_eq!(told(&planning), ["set-up left up", "bank right: no deck was read"]);
    assert_eq!(told(&cut), ["bank right: no deck was read"]);
    assert_eq!(cut.plan.verdict, Verdict::Hold);
}

#[test]
fn a_joint_under_the_fire_ring_is_told_with_the_iron_that_is_left() {
    // Flange 103.4 under a ring of 100.5 to 105.5: 1.45 of its width on iron, 1.05 on the block.
    let bench = Bench {
        limits: "position: 0.8, clean_up: 0.05, ring_on_flange: { least: 1.0, prefer: 2.5 }".into(),
        barrels: vec![102.03],
        sleeve: vec![("diameter: 112.0", "diameter: 103.4"), (", flats: 109.96", "")],
        block_more: "fire_ring: { inside: 100.5, outside: 105.5 }
"
        .into(),
        ..even()
    };
    let planning = bench.plan();
    let ring = chosen(&planning).fit.fire_ring[0];
    near(ring.on_flange_least, 1.45, 1e-6);
    near(ring.on_block_most, 1.05, 1e-6);
    assert!(ring.joint_under);
    assert_eq!(planning.plan.verdict, Verdict::Hold);
}

#[test]
fn the_clamp_on_the_ledge_is_a_ratio_to_what_its_metal_bears() {
    // Ledge 998 mm²; four bolts' worth of 25 kN: 100 MPa. T = K F d: 0.2 x 25 kN x 11 mm = 55 N·m.
    let bolts = "head_bolts: { per_bank: 16, diameter: 11, torque: 55, gas_pressure: 8 }\n";
    let ring = "fire_ring: { inside: 100.5, outside: 105.5 }\n";
    let planning = Bench { job_more: bolts.into(), block_more: ring.into(), ..even() }.plan();
    let seat = &chosen(&planning).fit.seat;
    near(seat.area, 998.6, 0.5);
    near(seat.load.unwrap(), 100_000.0, 1e-6);
    near(seat.pressure.unwrap(), 100.1, 0.1);
    // Yield at 100 degrees: 165 - 27 x 76 / 126 (from memory, as the table says).
    near(seat.ratio.unwrap(), 100.1 / (165.0 - 27.0 * 76.0 / 126.0), 1e-3);
    // 8 MPa on a circle of 100.5 lifts 63.46 kN off the seat, of which bolts by torque are sure to hold 75 kN.
    near(seat.pressure_at_peak.unwrap(), (75_000.0 - 63_461.6) / seat.area, 0.01);
    near(seat.pressure_most.unwrap(), 1.25 * 100.1, 0.13);
    let limited = Bench {
        job_more: bolts.into(),
        limits: "position: 0.8, clean_up: 0.05, seat_ratio: { least: 0.8, prefer: 0.6 }".into(),
        ..even()
    };
    let released = limited.released();
    let limited = limited.plan();
    assert_eq!(limited.plan.verdict, Verdict::Hold);
    assert!(limited.lists.is_empty() && limited.plan.passes.is_empty(), "withheld until released");
    assert!(!released.lists.is_empty() && !released.plan.passes.is_empty());
    assert!(limited.plan.cylinders.iter().all(|c| c.why.whole().contains("seat ratio")));
}

#[test]
fn a_code_of_iso_286_sets_both_tolerances() {
    let bench = Bench { barrels: vec![105.0], sleeve: vec![("interference: 0.03", "fit: H7/p6")], ..even() };
    let planning = bench.plan();
    let register = &chosen(&planning).fit.registers[0];
    // 105: hole 0 to +35, shaft +37 to +59 micrometres.
    near(register.interference.least, 0.002, 1e-9);
    near(register.interference.most, 0.059, 1e-9);
    near(register.pocket, 105.0175, 1e-9);
    near(register.diameter, 105.048, 1e-9);
    assert_eq!(register.code.as_deref(), Some("H7/p6"));
}

#[test]
fn measured_sleeves_get_their_own_pockets_and_alike_flanges_stand_together() {
    let mut table = "number,feature,size\n".to_owned();
    let thickness = [6.004, 5.996, 6.001, 5.999, 6.003, 5.998, 6.0, 6.002, 6.010];
    for (i, t) in thickness.iter().enumerate() {
        let outside = 105.03 + 0.001 * f64::from(u32::try_from(i).unwrap());
        table.push_str(&format!("{},thickness,{t}\n{},barrel,{outside:.4}\n", i + 1, i + 1));
    }
    let dir =
        with_file(&even(), "sleeves.csv", &table, "machine:", "sleeves_measured: sleeves.csv\nmachine:");
    let planning = plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap();
    let assigned = &chosen(&planning).fit.assigned;
    assert_eq!(assigned.len(), 8);
    // The one of 6.010 stands apart from the rest and stays on the shelf.
    assert!(assigned.iter().all(|a| a.number != "9"));
    let steps: Vec<f64> =
        assigned.windows(2).map(|w| w[1].thickness.unwrap() - w[0].thickness.unwrap()).collect();
    assert!(steps.iter().all(|s| *s >= 0.0 && *s < 0.002_5), "{steps:?}");
    for a in assigned {
        near(a.pockets[0].outside - a.pockets[0].diameter, 0.03, 1e-6);
        near(a.ledge.unwrap(), a.thickness.unwrap() - 0.015, 1e-6);
        let of = |p: &&borewright_planner::plan::Pass| p.stage == Stage::Pocket && p.cylinder == a.cylinder;
        let barrel = planning.plan.passes.iter().filter(of).find(|p| p.feature == "barrel").unwrap();
        near(barrel.diameter, a.pockets[0].diameter, 1e-6);
        let flange = planning.plan.passes.iter().filter(of).find(|p| p.feature == "flange").unwrap();
        near(flange.to, a.ledge.unwrap(), 1e-6);
    }
    // The head is set anew where the next bore asks for another size.
    let list = planning.lists.iter().find(|l| l.stage == Stage::Pocket && l.bank == "left").unwrap();
    let settings = list.moves.iter().filter(|m| m.note.contains("set to")).count();
    assert!(settings >= 5, "{settings}");
}

#[test]
fn flats_are_cut_to_the_distance_that_the_centres_have() {
    // Cylinder 3 held 0.30 to the rear by a parent bore that follows; the pair 1-3 is 110.30 apart, 3-5 109.70.
    let mut off = [[0.0, 0.0]; 8];
    off[2] = [0.30, 0.0];
    let bench = Bench { aim: "parent", ..Bench::default().block_of(off) };
    let planning = bench.released();
    let flats = &chosen(&planning).fit.flats;
    let pair = |front: u32| flats.iter().find(|p| p.front == front).unwrap();
    near(pair(1).off_nominal, 0.30, 1e-6);
    near(pair(3).off_nominal, -0.30, 1e-6);
    near(pair(3).centre_to_flat, (109.70 - 0.04) / 2.0, 1e-6);
    // Supplied flats of 109.96 would stand into each other by 0.26.
    near(pair(3).gap_as_supplied, -0.26, 1e-6);
    assert!(pair(1).gap_hot > pair(1).gap, "aluminium opens the gap");
}

#[test]
fn what_no_sleeve_may_be_holds_or_stops_whatever_is_limited() {
    let verdict = |bench: Bench| {
        let planning = bench.plan();
        let said: Vec<String> =
            chosen(&planning).fit.sleeve_limits.iter().map(|l| l.limit.to_owned()).collect();
        (planning.plan.verdict, said.join(" "))
    };
    // A sleeve that must stand proud, under a deck that is cut with the sleeves in.
    let proud = Bench {
        job_more: "deck: { cut: 0.1, when: after_fit }\n".into(),
        sleeve: vec![("min: 0.0", "min: 0.01")],
        ..even()
    };
    assert_eq!(verdict(proud), (Verdict::Stop, "protrusion".into()));
    // A clamp that the gas lifts off the seat.
    let loose = Bench {
        job_more: "head_bolts: { per_bank: 8, diameter: 11, torque: 20, gas_pressure: 9 }\n".into(),
        block_more: "fire_ring: { inside: 100.5, outside: 105.5 }\n".into(),
        ..even()
    };
    assert_eq!(verdict(loose), (Verdict::Hold, "clamp_at_peak".into()));
    // An oven so cool that the sleeve would have to be colder than anything.
    let cold = Bench {
        job_more: "going_in: { hottest: 21 }\n".into(),
        sleeve: vec![("interference: 0.03", "interference: 0.30")],
        ..even()
    };
    assert_eq!(verdict(cold), (Verdict::Hold, "tight_register chilled unheated".into()));
    // A ledge that its own chamfer takes away.
    let eaten = Bench { job_more: "allowances: { ledge_chamfer: 4.0 }\n".into(), ..even() };
    assert_eq!(verdict(eaten), (Verdict::Stop, "ledge_width".into()));
}

#[test]
fn a_limit_that_nothing_carries_is_a_hold() {
    for limit in
        ["seat_ratio: 0.8", "ring_hold: 3", "skirt_out: 12", "ring_on_flange: 1", "protrusion_spread: 0.013"]
    {
        let planning = Bench { limits: format!("position: 0.8, clean_up: 0.05, {limit}"), ..even() }.plan();
        let finding = planning.plan.findings.iter().find(|f| f.code == "sleeve_limit").unwrap();
        assert!(finding.text.contains("does not carry"), "{}", finding.text);
        assert_eq!(planning.plan.verdict, Verdict::Hold, "{limit}");
    }
}

#[test]
fn the_sleeves_own_bore_bears_more_hoop_than_its_outside() {
    // Thick-walled: the inner face of a ring under outside pressure carries 2 b² / (b² - a²) of it.
    let planning = Bench {
        sleeve: vec![("interference: 0.03", "interference: 0.10")],
        job_more: "running: { block: 20, sleeve: 20 }\n".into(),
        ..even()
    }
    .plan();
    let register = &chosen(&planning).fit.registers[0];
    let (b, a): (f64, f64) = (register.pocket, 99.0);
    // At work here is the finished bore at room temperature.
    let p = register.running.unwrap().pressure;
    let at_bore = 2.0 * p * b * b / (b * b - a * a) / 370.0;
    // As supplied the sleeve is thicker and the block bears more; that case is in it too.
    let block = register.hoop_most.unwrap().block / 165.0;
    near(register.hoop_ratio.unwrap(), at_bore.max(block), 1e-3);
    assert!(at_bore > register.running.unwrap().hoop.sleeve.abs() / 370.0);
}

#[test]
fn every_fault_of_a_table_of_measured_sleeves_is_told_with_its_line() {
    let whole: String = (1..=8).map(|n| format!("{n},thickness,6.0\n{n},barrel,105.03\n")).collect();
    let said = |table: &str| {
        let table = format!("number,feature,size\n{table}");
        let dir =
            with_file(&even(), "sleeves.csv", &table, "machine:", "sleeves_measured: sleeves.csv\nmachine:");
        load(dir.path()).err().map(|f| f.to_string()).unwrap_or_default()
    };
    assert_eq!(said(&whole), "");
    for (row, expected) in [
        ("9,thickness,6.0\n", "sleeve `9` without barrel"),
        ("9,barell,105.03\n", "`thickness` (of the flange) or a step: `barrel`"),
        ("9,barrel,105.30\n", "within 0.1 mm of the drawing's 105.030 mm"),
        ("9,barrel,4.1350\n", "a bore diameter from 20 mm"),
        (",barrel,105.03\n", "the number on the sleeve"),
        ("9,barrel,105,03\n", "a decimal comma"),
    ] {
        let text = said(&format!("{whole}{row}"));
        assert!(text.contains(expected) && text.contains("sleeves.csv:"), "{row}: {text}");
    }
    let many: String = (0..200).map(|n| format!("{n},thickness,6.0\n")).collect();
    assert!(said(&many).contains("at most 64"));
}
