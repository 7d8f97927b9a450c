use super::figures::{FORMAT, Figures};
use super::*;
use crate::plan::prior::{Odd, Prior, Risk};

/// A number that looks random and is not: a tenth root of unity's worth of scatter about zero, within ±1.
fn scatter(n: u32, k: u32) -> f64 {
    let x = f64::from((n * 7919 + k * 104_729 + 13) % 1009) / 504.5 - 1.0;
    (x * 100.0).round() / 100.0
}

const DECK: f64 = 221.0;

/// A V of two banks of three, each bank moved across as asked; `turned` tells the lean that goes with it.
fn block(n: u32, left: f64, right: f64, turned: bool) -> Filed {
    let bank = |bank: &str, angle| BankAt { bank: bank.to_owned(), angle, deck_height: DECK };
    let bores = (1..=6_u32).map(|cylinder| {
        let across = if cylinder % 2 == 1 { left } else { right };
        let (dx, dy) = (0.01 * scatter(n, cylinder), 0.01 * scatter(n, cylinder + 50));
        let lean = if turned { -across / DECK } else { 0.0 };
        BoreFound {
            cylinder,
            bank: if cylinder % 2 == 1 { "left" } else { "right" }.to_owned(),
            true_x: 46.0 * f64::from(cylinder),
            off: [dx, across + dy],
            tilt: Some([0.0, lean + 2e-5 * scatter(n, cylinder + 90)]),
            diameter: 82.0,
        }
    });
    let wall = |cylinder, clock: f64, wall: f64| WallRead { cylinder, depth: 60.0, clock, wall };
    let walls = vec![wall(1, 88.0, 4.0 + 0.2 * scatter(n, 7)), wall(1, 270.0, 6.0), wall(2, 90.0, 5.0)];
    let sleeve = SleeveWould {
        sleeve: "W90".to_owned(),
        stock: Some((0.5 + 0.05 * scatter(n, 3), 1)),
        wall: Some((2.1 + 0.2 * scatter(n, 4), 1, 60.0, 90.0)),
        limits: [Some(0.15), Some(2.0)],
    };
    let figures = Figures {
        format: FORMAT.to_owned(),
        job: format!("{n:04}"),
        block: "Petrel 90".to_owned(),
        banks: vec![bank("left", -45.0), bank("right", 45.0)],
        bores: bores.collect(),
        u: [0.003, 0.015, 0.004],
        walls,
        heights: vec![(1, 0.0, -0.08), (1, 180.0, -0.04), (2, 0.0, 0.01)],
        sleeves: vec![sleeve],
        hours_asked: Some(20.0 + f64::from(n)),
        hours_recorded: n.is_multiple_of(2).then_some(25.0 + f64::from(n)),
        sizes: vec![SizeRead {
            feature: "lower register".to_owned(),
            of: "diameter".to_owned(),
            cylinder: Some(1),
            asked: 88.57,
            found: 88.575 + 0.001 * scatter(n, 5),
        }],
    };
    let block = Block { record: n, at: "2026-01-01T00:00:00Z".to_owned(), job: figures.job.clone() };
    Filed { block, customer: "Wader Engines".to_owned(), figures }
}

/// Eleven blocks: the right bank 0.14 outwards on nine of them, as a wrong index would move it.
fn eleven(turned: bool) -> Vec<Filed> {
    (1..=11)
        .map(|n| {
            let right = if n <= 2 { 0.005 } else { 0.17 + 0.02 * scatter(n, 1) };
            block(n, 0.005 * scatter(n, 2), right, turned)
        })
        .collect()
}

/// All that it says.
fn said(trend: &Trend) -> String {
    trend.says.iter().map(|s| format!("{s}\n")).collect()
}

#[test]
fn a_planted_index_error_is_told_in_words_with_how_many_blocks() {
    let trend = trend("petrel", &eleven(true));
    assert_eq!(trend.banks[1].cause, Cause::Turned);
    assert_eq!(trend.banks[1].same_way[1], 9);
    let told = said(&trend);
    assert!(told.contains("the right bank comes 0.14 mm outwards, 9 of 11 blocks: their index"), "{told}");
    assert!(
        told.contains("the left bank stands across the crank's line as often one way as the other"),
        "{told}"
    );
    // Nothing was planted along the crank.
    assert_eq!(trend.banks[1].off[0], Some(false));
    let shares = trend.banks[1].shares;
    assert!(
        (shares.common + shares.own + shares.rest - 1.0).abs() < 1e-12 && shares.common > 0.7,
        "{shares:?}"
    );
}

#[test]
fn a_planted_setting_across_leaves_the_bores_upright_and_is_told_so() {
    let trend = trend("petrel", &eleven(false));
    assert_eq!(trend.banks[1].cause, Cause::Moved);
    assert!(said(&trend).contains("9 of 11 blocks: their setting across"));
}

#[test]
fn both_banks_alike_are_the_angle_between_two_indexings() {
    let blocks: Vec<_> = (1..=6).map(|n| block(n, -0.1, 0.1, true)).collect();
    let told = said(&trend("petrel", &blocks));
    assert!(told.contains("both banks by alike: the angle between their two indexings is more"), "{told}");
    // Both to the right is no angle.
    let blocks: Vec<_> = (1..=6).map(|n| block(n, 0.1, 0.1, true)).collect();
    let told = said(&trend("petrel", &blocks));
    assert!(
        told.contains("both banks to the engine's right by alike: one place or turn of the block"),
        "{told}"
    );
}

#[test]
fn three_blocks_are_too_few_and_say_so() {
    let trend = trend("petrel", &eleven(true)[..3]);
    assert_eq!(trend.least_blocks, [4, 8]);
    assert!(
        trend.says[0]
            .to_string()
            .starts_with("3 blocks: too few to say what the next block will be like; 4 say"),
        "{:?}",
        trend.says
    );
    assert!(
        trend
            .says
            .iter()
            .any(|s| s.to_string().starts_with("W90, stock to clean up: too few to say (3 so far"))
    );
    assert!(trend.banks.iter().all(|b| b.off == [None, None] && b.across.next.is_none()));
    assert_eq!(odd(&trend, &block(9, 5.0, 5.0, true).figures), (0, Vec::new()));
}

#[test]
fn the_last_filing_of_a_job_counts_and_counts_once() {
    let mut filed = eleven(true);
    let mut again = block(3, 0.0, 0.9, true);
    again.block.record = 40;
    filed.push(again);
    let trend = trend("petrel", &filed);
    assert_eq!((trend.blocks.len(), trend.blocks[10].record), (11, 40));
    assert!(trend.banks[1].across.found[1] > 0.8);
}

#[test]
fn jobs_of_one_number_are_told_apart_by_customer_and_block_and_no_thin_wall_is_lost() {
    // One number, the thin wall in the record that is older.
    let two = |change: fn(&mut Filed)| {
        let (mut thin, mut other) = (block(1, 0.0, 0.1, true), block(2, 0.0, 0.1, true));
        thin.figures.walls[0].wall = 3.1;
        other.block.job = thin.block.job.clone();
        change(&mut other);
        let trend = trend("petrel", &[thin, other]);
        (trend.blocks.len(), trend.least_wall.unwrap().found[0] < 3.2)
    };
    assert_eq!(two(|_| ()), (1, false));
    assert_eq!(two(|other| other.customer = "Alder".to_owned()), (2, true));
    assert_eq!(two(|other| other.figures.block = "Petrel 100".to_owned()), (2, true));
    // A name put right between two filings makes no second block of one that reads the same.
    let mut again = block(1, 0.0, 0.1, true);
    (again.block.record, again.customer) = (9, "Wader Engine Works".to_owned());
    let once = trend("petrel", &[block(1, 0.0, 0.1, true), again]);
    assert_eq!((once.blocks.len(), once.blocks[0].record), (1, 9));
    // Nor does one that is written otherwise, whatever was read meanwhile.
    let mut written = block(2, 0.0, 0.1, true);
    written.customer = " wader  ENGINES".to_owned();
    written.block.job.clone_from(&block(1, 0.0, 0.1, true).block.job);
    assert_eq!(trend("petrel", &[block(1, 0.0, 0.1, true), written]).blocks.len(), 1);
    // One that is known to be the last's by the second alone is the last's.
    let [mut first, mut second, mut third] = [1, 1, 2].map(|n| block(n, 0.0, 0.1, true));
    first.customer = "Wader".to_owned();
    third.block.job.clone_from(&first.block.job);
    for (record, one) in (1..).zip([&mut first, &mut second, &mut third]) {
        one.block.record = record;
    }
    let last = trend("petrel", &[third, first, second]);
    assert_eq!((last.blocks.len(), last.blocks[0].record), (1, 3));
    // One wall read otherwise, and they are two: the thinner one stays.
    let mut other = block(1, 0.0, 0.1, true);
    (other.block.record, other.customer) = (9, "Alder".to_owned());
    other.figures.walls[0].wall = 9.0;
    let thin = trend("petrel", &[block(1, 0.0, 0.1, true), other]);
    assert!(thin.blocks.len() == 2 && thin.walls[0].wall.found[0] < 5.0);
}

#[test]
fn thin_walls_heights_and_sleeves_are_told_by_place() {
    let trend = trend("petrel", &eleven(true));
    let cell = &trend.walls[0];
    assert_eq!((cell.cylinder, cell.clock, cell.depths, cell.wall.blocks), (1, 90.0, [50.0, 75.0], 11));
    assert!(cell.wall.next_least.unwrap() < cell.wall.mean);
    // (−0.08 − 0.04) / 2.
    assert!((trend.heights[0].1.mean + 0.06).abs() < 1e-12);
    assert!(trend.says.iter().any(|s| s.to_string().starts_with("liners sink most on cylinder 1: 0.06 mm")));
    let stock = trend.sleeves[0].stock.as_ref().unwrap();
    // n = 11: t(0.95, 10) = 1.812; 1.812·√(1 + 1/11) = 1.893 standard deviations below the mean.
    let expected = stock.mean - 1.893 * stock.sd.unwrap();
    assert!((stock.next_least.unwrap() - expected).abs() < 1e-4);
    assert!(
        trend
            .says
            .iter()
            .any(|s| s.contains("W90, stock to clean up") && s.to_string().ends_with(": enough"))
    );
    assert!(
        trend.says.iter().any(|s| s.contains("W90, wall left")
            && s.to_string().ends_with(": at risk, before any bore is moved"))
    );
}

/// What of a block is unlike a family.
fn odd(trend: &Trend, block: &Figures) -> (u32, Vec<Odd>) {
    Prior::of(trend).against_figures(block, 0.05)
}

#[test]
fn a_block_of_the_family_is_not_odd_and_a_misread_bore_is() {
    let filed: Vec<_> = (1..=12).map(|n| block(n, 0.0, 0.1, true)).collect();
    let trend = trend("petrel", &filed);
    for n in 20..60 {
        // Six bores along and across, and the three walls.
        assert_eq!(odd(&trend, &block(n, 0.0, 0.1, true).figures), (15, Vec::new()), "block {n}");
    }
    let mut misread = block(20, 0.0, 0.1, true).figures;
    misread.bores[2].off[1] += 0.5;
    misread.walls[0].wall = 9.0;
    let (_, odd) = odd(&trend, &misread);
    let told: Vec<(u32, &str)> = odd.iter().map(|o| (o.cylinder, o.what.as_str())).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(
        told.contains(&(3, "across")) && told.contains(&(1, "wall at clock 90, 50 to 75 deep")),
        "{told:?}"
    );
    assert!(odd.iter().all(|o| o.text.contains("unlike them or misread, read it again")));
}

#[test]
fn a_prior_tells_what_is_at_risk_and_where_to_read_first() {
    let filed = eleven(true);
    let prior = Prior::of(&trend("petrel", &filed));
    assert_eq!((prior.blocks.len(), prior.held, prior.walls_first()[0].cylinder), (11, None, 1));
    let sleeve = &prior.sleeves[0];
    assert_eq!((sleeve.stock.risk, sleeve.wall.risk), (Risk::Enough, Risk::AtRisk));
    let said: Vec<String> = prior.says.iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|s| s.to_string().starts_with("W90, wall left: ")
        && s.ends_with(": AT RISK, before any bore is moved")));
    // Fewer blocks than the interval itself asks for say nothing, however alike they are.
    let few = Prior::of(&trend("petrel", &filed[..3]));
    assert!(few.sleeves.iter().all(|s| s.stock.risk == Risk::TooFew && s.wall.risk == Risk::TooFew));
    assert!(few.says[0].contains("3 blocks filed: too few to say"));
    let four = Prior::of(&trend("petrel", &filed[..4]));
    let least = |p: &Prior| p.sleeves[0].stock.spread.as_ref().unwrap().next_least;
    assert!(least(&few).is_none() && least(&four).unwrap() < least(&prior).unwrap());
    // What is written comes back as it was.
    let text = serde_json::to_string(&prior).unwrap();
    let mut again: Prior = serde_json::from_str(&text).unwrap();
    again.says.clone_from(&prior.says);
    assert_eq!(again, prior);
}

#[test]
fn sizes_and_hours_are_told_against_what_was_asked() {
    let trend = trend("petrel", &eleven(true));
    let told = said(&trend);
    assert!(
        told.contains(
            "lower register, diameter: read 0.005 mm over what was asked, in the mean of 11 blocks"
        ),
        "{told}"
    );
    // Blocks 2, 4, 6, 8, 10: (25 + n) / (20 + n), mean 1.1944; all eleven ask 26 in the mean.
    assert!(
        told.contains("hours: 26.0 asked in the mean; the records span 119 % of what was asked"),
        "{told}"
    );
    assert_eq!(trend.hours.unwrap().recorded_over_asked.unwrap().blocks, 5);
}
