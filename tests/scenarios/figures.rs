//! Figures that depend on how hot, how stretched, how far in: expansion, O-rings, milled forces, grip at work.

use borewright_planner::load;
use borewright_planner::material;
use borewright_planner::plan::Stage;

use crate::bench::{Bench, chosen, even, near};

#[test]
fn a_sleeve_in_liquid_nitrogen_shrinks_less_than_the_hot_figure_says() {
    // 105 of ductile iron to -196 °C: 0.20 % of it, 0.21 mm (iron, NBS Monograph 29, from memory); 12.5e-6/K would say 0.28.
    let job_more = "going_in: { sleeve: -196, hottest: 40 }\n".to_owned();
    let planning =
        Bench { job_more, sleeve: vec![("interference: 0.03", "interference: 0.08")], ..even() }.plan();
    let fit = &chosen(&planning).fit;
    assert_eq!(fit.going_in.chilled, None);
    let gap = fit.going_in.gaps.iter().find(|g| g.block == 40.0).unwrap().gap;
    let block = material::built_in("aluminium").unwrap().strain(40.0) * 105.0;
    let shrunk = gap + fit.registers[0].interference.most - block;
    near(shrunk, 0.002 * 105.0, 0.003);
    assert!(shrunk < 0.8 * 12.5e-6 * 216.0 * 105.0, "{shrunk}");
}

#[test]
fn at_work_and_in_the_oven_each_metal_has_its_own_mean() {
    let planning = Bench { job_more: "running: { block: 100, sleeve: 100 }\n".into(), ..even() }.plan();
    let register = &chosen(&planning).fit.registers[0];
    // 20 to 100 °C: A356 21.4 (data sheet: 21.5), ductile iron 11.5e-6/K.
    let lost = register.interference.most - register.running.unwrap().interference.most;
    near(lost, (21.4e-6 - 11.5e-6) * 80.0 * register.pocket, 1e-6);
    // Own figures: 20e-6 to 100 °C and 24e-6 to 200, so 22e-6 to 150.
    let metal = "materials:\n  - { name: aluminium, elastic: 71000, poisson: 0.33, expansion: 20, mean_expansion: [[200, 24]], \
                 yield: 165 }\n";
    let planning = Bench { job_more: format!("{metal}going_in: {{ hottest: 150 }}\n"), ..even() }.plan();
    let fit = &chosen(&planning).fit;
    let gap = fit.going_in.gaps.iter().find(|g| g.block == 150.0).unwrap().gap;
    near(gap + fit.registers[0].interference.most, 22e-6 * 130.0 * fit.registers[0].pocket, 1e-6);
}

#[test]
fn a_table_of_expansion_that_is_none_is_refused_with_its_key() {
    let said = |means: &str| {
        let bench = Bench {
            job_more: format!(
                "materials:\n  - {{ name: pearlitic, elastic: 100000, poisson: 0.26, expansion: 11, mean_expansion: {means}, yield: 200 }}\n"
            ),
            ..even()
        };
        load(bench.write().path()).err().map(|f| f.to_string()).unwrap_or_default()
    };
    assert_eq!(said("[[-196, 9], [400, 13]]"), "");
    assert!(
        said("[[200, 12], [100, 11]]").contains("mean_expansion[1]"),
        "{}",
        said("[[200, 12], [100, 11]]")
    );
    assert!(said("[[30, 30], [40, 4]]").contains("shrink as it warms"), "{}", said("[[30, 30], [40, 4]]"));
    assert!(said("[[900, 12]]").contains("from -200 °C to 500 °C"), "{}", said("[[900, 12]]"));
}

#[test]
fn grip_at_work_is_told_for_the_loosest_as_well() {
    let planning = Bench { sleeve: vec![("interference: 0.03", "interference: 0.12")], ..even() }.plan();
    let register = &chosen(&planning).fit.registers[0];
    let hot = register.running.unwrap();
    assert!(hot.interference.least > 0.0);
    // Lamé: pressure goes with the interference.
    near(hot.pressure_least / hot.pressure, hot.interference.least / hot.interference.most, 1e-4);
    let loose = even().plan();
    assert!(chosen(&loose).fit.registers[0].running.unwrap().pressure_least.abs() < 1e-12);
}

#[test]
fn a_stretched_cord_is_thinner_and_squeezed_less() {
    // Groove 100.0 in a pocket of 105, ring of 96.154 inside: 4 % stretch, 3.00 / sqrt(1.04) = 2.9417.
    let rings = "to: 138.0, o_rings: [{ depth: 120.0, groove_diameter: 100.0, groove_width: 4.2, cord: 3.0, inside: 96.1538 }]";
    let planning = Bench { sleeve: vec![("to: 138.0", rings)], ..even() }.plan();
    let ring = &chosen(&planning).fit.o_rings[0];
    let gland = (105.0 - 100.0) / 2.0;
    near(ring.cord_stretched, 2.941_742, 1e-5);
    near(ring.squeeze, (2.941_742 - gland) / 2.941_742, 1e-5);
    near(ring.fill, std::f64::consts::FRAC_PI_4 * 9.0 / 1.04 / (gland * 4.2), 1e-5);
    assert!(ring.least.squeeze < ring.squeeze && ring.squeeze < ring.most.squeeze);
}

#[test]
fn a_cutters_force_is_that_at_its_tooth() {
    let with = |teeth: &str| {
        let text = format!(
            "mill: [flange]\ntools:\n  - name: end mill\n    kind: milling\n    diameter: 32.0\n    reach: 60.0\n    step_down: 2.0\n{teeth}    \
             cuts:\n      aluminium: {{ speed: 280, feed: 0.3, depth: 2.0 }}\n"
        );
        let planning =
            Bench { machine: vec![("tools:\n", Box::leak(text.into_boxed_str()))], ..even() }.plan();
        let milled = |p: &&borewright_planner::plan::Pass| p.stage == Stage::Rough && p.mill.is_some();
        let pass =
            planning.plan.passes.iter().filter(milled).max_by(|a, b| a.stock.max.total_cmp(&b.stock.max));
        pass.unwrap_or_else(|| panic!("no milled pass")).clone()
    };
    let pass = with("");
    // One tooth: where the cutter's edge leaves the old wall, by the law of cosines in the hole.
    let (wall, cutter, way) = (pass.diameter / 2.0, 16.0, pass.diameter / 2.0 - 16.0);
    let old = wall - pass.stock.max;
    let angle = ((old * old - way * way - cutter * cutter) / (2.0 * way * cutter)).acos();
    let chip = pass.feed_per_rev * angle.min(std::f64::consts::FRAC_PI_2).sin();
    let [kc11, m] = material::built_in("aluminium").unwrap().cutting;
    let load = pass.load.unwrap();
    near(load.force, kc11 * chip.powf(-m) * chip * 2.0, 0.01);
    // The mean over a turn is what the motor feels, far less than the tooth.
    let mean = load.power * 0.8 * 60_000.0 / (std::f64::consts::PI * 32.0 * pass.rpm / 1000.0);
    assert!(load.force > 3.0 * mean, "{} {mean}", load.force);
    // Three teeth share the feed.
    let three = with("    teeth: 3\n").load.unwrap();
    near(three.force / load.force, 3.0_f64.powf(m - 1.0), 1e-6);
}
