//! Figures of a block that no block has: a stud far from every bore, a deck cut by more than a deck is.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Stud;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// The most that is cut off a deck in one go, mm: more is a digit slipped or another unit. Common practice, no
/// source.
const DECK_CUT_MM: f64 = 0.5;

/// The most that a casting's included angle is off, degrees: 0.6 mm at a deck 220 high. Common practice, no source.
const ANGLE_DEG: f64 = 0.15;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found: Vec<Suspicion> =
        (0..asked.job.block.banks.len()).filter_map(|bank| far_studs(asked, bank)).collect();
    found.extend(odd_studs(asked));
    found.extend(stud_missing(asked));
    found.extend(deck_cut(asked));
    found.extend(included_angle(asked));
    found.extend(fire_ring(asked));
    found.extend(mains(asked));
    found
}

/// A main stands no nearer to the middle of a throw than this share of the bores' spacing: webs lie between. Common practice, no
/// source.
const MAIN_FROM_THROW: f64 = 0.15;

/// Mains that leave a bore outside all of them, or that stand where a crank has its throws.
fn mains(asked: &Asked<'_>) -> Option<Suspicion> {
    let block = &asked.job.block;
    let xs: Vec<f64> = block.journal_axis.mains.iter().map(|m| m.x_mm).collect();
    let (first, last) = (xs.iter().copied().reduce(f64::min)?, xs.iter().copied().reduce(f64::max)?);
    let sites = || block.banks.iter().flat_map(|b| &b.sites);
    let outside = sites().find(|s| s.x_mm < first || s.x_mm > last);
    // Two rods side by side share a throw where the banks stand a rod's width apart; farther apart each has its own.
    let longest = block.banks.iter().map(|b| b.sites.len()).max()?;
    let throw = |i: usize| {
        let own: Option<Vec<f64>> = block.banks.iter().map(|b| b.sites.get(i).map(|s| s.x_mm)).collect();
        own.map(|own| own.iter().sum::<f64>() / count(own.len()))
    };
    let spacing =
        block.banks.iter().flat_map(|b| b.sites.windows(2)).map(|pair| (pair[1].x_mm - pair[0].x_mm).abs());
    let near = MAIN_FROM_THROW * spacing.reduce(f64::min).unwrap_or(0.0);
    let firsts: Vec<f64> = block.banks.iter().filter_map(|b| Some(b.sites.first()?.x_mm)).collect();
    let [low, high] =
        firsts.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[l, h], x| [l.min(*x), h.max(*x)]);
    let throws: Vec<f64> = if high - low < 2.0 * near {
        (0..longest).filter_map(throw).collect()
    } else {
        sites().map(|s| s.x_mm).collect()
    };
    let on_throw = block.journal_axis.mains.iter().find(|m| throws.iter().any(|x| (m.x_mm - x).abs() < near));
    let found = if let Some(site) = outside.filter(|_| xs.len() > 1) {
        say!(
            "its mains go from {} to {} along the axis, and cylinder {} stands at {}: a crank is carried on either side of every bore",
            before_mm(first, 1),
            mm(last, 1),
            site.cylinder,
            mm(site.x_mm, 1)
        )
    } else if let Some(main) = on_throw {
        say!(
            "main {} stands at {} along the axis, in the middle of a throw",
            plain(&main.name, 20),
            mm(main.x_mm, 1)
        )
    } else {
        return None;
    };
    Some(Suspicion {
        code: Code::MainsOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("journal axis"),
        found,
        likely: "a main left out, a digit slipped, or mains told from another datum than bores".into(),
        ask: say!(
            "where do the mains stand from {} (`journal_axis.mains`)?",
            plain(&block.journal_axis.along_datum, 60)
        ),
        evidence: figures([("first", first), ("last", last)]),
        cylinders: block.cylinders().into(),
    })
}

/// Diameters that head fasteners' holes have, mm: M6 to M24 with what a hole is wider. Common practice, no source.
const STUDS_MM: [f64; 2] = [5.0, 30.0];

/// The narrowest stud hole, as a share of the bore's diameter: M6 stands beside 60, M10 beside 90. A radius typed
/// for a diameter lies below it. Common practice, no source.
const STUD_OF_BORE: f64 = 0.08;

/// The widest stud hole, as a share of the bore's diameter: M36 beside 250. Common practice, no source.
const STUD_MOST: f64 = 0.16;

/// Studs alike that make the block's pattern; one that is unlike them all is then asked about.
const ALIKE: usize = 5;

/// Figures of two studs are alike within this, mm.
const SAME_MM: f64 = 0.05;

/// Studs of a diameter or depth that none has, or that no other of the block has.
fn odd_studs(asked: &Asked<'_>) -> Vec<Suspicion> {
    let studs = &asked.job.block.studs;
    studs.iter().enumerate().filter_map(|(index, stud)| odd_stud(asked, studs, index, stud)).collect()
}

/// An included angle read on the index that is not the one described: one of the two is of another block.
fn included_angle(asked: &Asked<'_>) -> Option<Suspicion> {
    let [one, other] = asked.job.block.banks.as_slice() else { return None };
    let span = asked.job.index_span?;
    let described = (one.angle_deg - other.angle_deg).abs();
    let off = span.angle_deg - described;
    (off.abs() > ANGLE_DEG + 2.0 * span.u_deg).then(|| Suspicion {
        code: Code::IncludedAngle,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!(
            "the index turned {:.2} degrees from bank to bank, and the block is described with {:.2} between them",
            span.angle_deg,
            described
        ),
        likely: "a digit of `index_span.angle` or `bank_angle`, or another block's description".into(),
        ask: "read the index at both banks again: what is the included angle?".into(),
        evidence: figures([("index", span.angle_deg), ("described", described)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// A bank with a stud or two fewer than the other, which has a head's worth of them.
fn stud_missing(asked: &Asked<'_>) -> Option<Suspicion> {
    let of = |bank: usize| asked.job.block.studs.iter().filter(|s| s.bank == bank).count();
    let [first, second] = [0, 1].map(of);
    let banks = &asked.job.block.banks;
    let alike = banks.len() == 2 && banks[0].sites.len() == banks[1].sites.len();
    // A stud listed under the wrong bank makes a difference of two.
    if !alike || !(1..=2).contains(&first.abs_diff(second)) || first.max(second) < ALIKE {
        return None;
    }
    let (few, many) = if first < second { (0, 1) } else { (1, 0) };
    Some(Suspicion {
        code: Code::StudOdd,
        verdict: Verdict::Hold,
        subject: Subject::bank(&banks[few].name),
        found: say!(
            "it has {} studs, and bank {} with as many bores has {}",
            of(few),
            plain(&banks[many].name, 40),
            of(many)
        ),
        likely: "a stud left out: one that is not told guards nothing".into(),
        ask: "which stud has no line in the block description?".into(),
        evidence: figures([("studs", count(of(few))), ("others", count(of(many)))]),
        cylinders: banks[few].sites.iter().map(|s| s.cylinder).collect(),
    })
}

/// The suspicion of one stud hole: too thin, too wide, shallower than wide, or smaller than all others that are
/// alike. `index` is its own place among `studs`.
fn odd_stud(asked: &Asked<'_>, studs: &[Stud], index: usize, stud: &Stud) -> Option<Suspicion> {
    let length = stud.depths.to_mm - stud.depths.from_mm;
    let alone = |of: fn(&Stud) -> f64| {
        let others: Vec<f64> =
            studs.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, s)| of(s)).collect();
        let first = others.first().copied()?;
        let pattern = others.len() >= ALIKE && others.iter().all(|o| (o - first).abs() <= SAME_MM);
        (pattern && first - of(stud) > SAME_MM).then_some(first)
    };
    let least = STUDS_MM[0].max(STUD_OF_BORE * asked.job.finish.bore_mm);
    let most = STUDS_MM[1].max(STUD_MOST * asked.job.finish.bore_mm);
    let found = if stud.diameter_mm < least || stud.diameter_mm > most {
        say!(
            "is {} wide; holes for head studs beside such bores are {} to {} wide",
            mm(stud.diameter_mm, 2),
            mm(least, 1),
            mm(most, 0)
        )
    } else if length < stud.diameter_mm {
        say!(
            "is {} deep and {} wide: no thread holds in less than its own width",
            mm(length, 1),
            mm(stud.diameter_mm, 1)
        )
    } else if let Some(others) = alone(|s| s.diameter_mm) {
        say!("is {} wide, and every other one {}", mm(stud.diameter_mm, 2), mm(others, 2))
    } else if let Some(others) = alone(|s| s.depths.to_mm) {
        say!("ends {} deep, and every other one {}", mm(stud.depths.to_mm, 1), mm(others, 1))
    } else {
        return None;
    };
    let bank = asked.job.bank(stud.bank);
    let [x, y] = stud.centre_mm;
    Some(Suspicion {
        code: Code::StudOdd,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.name),
        found: say!("the stud at x {}, y {} {}", before_mm(x, 1), mm(y, 1), found),
        likely: "a digit slipped, a radius, or another unit: a stud taken for smaller than it is guards too little"
            .into(),
        ask: "how wide and how deep is its hole?".into(),
        evidence: figures([
            ("diameter", stud.diameter_mm),
            ("from", stud.depths.from_mm),
            ("to", stud.depths.to_mm),
        ]),
        cylinders: bank.sites.iter().map(|s| s.cylinder).collect(),
    })
}

/// Studs of a bank farther than one bore spacing from each of its bores: none of them clamps a head there.
fn far_studs(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let bank = asked.job.bank(index);
    let mut xs: Vec<f64> = bank.sites.iter().map(|s| s.x_mm).collect();
    xs.sort_by(f64::total_cmp);
    let spacing = xs.windows(2).map(|pair| pair[1] - pair[0]).max_by(f64::total_cmp)?;
    let to_bore = |stud: &Stud| {
        let [x, y] = stud.centre_mm;
        xs.iter().map(|bore| (x - bore).hypot(y - bank.axis_offset_mm)).fold(f64::INFINITY, f64::min)
    };
    let own = asked.job.block.studs.iter().filter(|s| s.bank == index);
    let far: Vec<(&Stud, f64)> =
        own.map(|s| (s, to_bore(s))).filter(|(_, to)| *to > spacing + 1e-6).collect();
    let (worst, to) = far.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let [x, y] = worst.centre_mm;
    let cylinders: Vec<u32> = bank.sites.iter().map(|s| s.cylinder).collect();
    Some(Suspicion {
        code: Code::StudFar,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.name),
        found: say!(
            "the stud at x {}, y {} lies {} from the nearest bore, which are {} apart ({} studs so)",
            before_mm(x, 1),
            mm(y, 1),
            mm(*to, 1),
            mm(spacing, 1),
            far.len()
        ),
        likely: "a digit or a sign slipped, the other bank's studs, or another unit: a stud in the wrong place guards nothing".into(),
        ask: say!("where do the studs round {} stand?", cylinder_words(&cylinders)),
        evidence: figures([("to_bore", *to), ("spacing", spacing), ("studs", count(far.len()))]),
        cylinders: cylinders.into(),
    })
}

/// The widest inside of a fire ring, as a share over the finished bore. Common practice, no source.
const RING: f64 = 0.08;

/// The fire ring of a gasket for another bore: it is judged about the bore, and seals beside the flange.
fn fire_ring(asked: &Asked<'_>) -> Option<Suspicion> {
    let ring = asked.job.block.fire_ring?;
    let bore = asked.job.finish.bore_mm;
    (ring.inside_mm > (1.0 + RING) * bore).then(|| Suspicion {
        code: Code::RingOdd,
        verdict: Verdict::Hold,
        subject: Subject::whole("fire ring"),
        found: say!("its inside is {}, and the finished bore {}", mm(ring.inside_mm, 2), mm(bore, 2)),
        likely: "another gasket's figures, or another bore's".into(),
        ask: "how wide is the gasket's fire ring inside (`fire_ring.inside`)?".into(),
        evidence: figures([("inside", ring.inside_mm), ("bore", bore)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// A cutter takes no less off a deck, mm: it rubs, and a deck that is ground or lapped says so by a release. Common practice, no source.
const LEAST_DECK_CUT_MM: f64 = 0.025;

fn deck_cut(asked: &Asked<'_>) -> Option<Suspicion> {
    let cut = asked.job.engine.deck.cut_mm;
    if (1e-9..LEAST_DECK_CUT_MM - 1e-9).contains(&cut) {
        return Some(Suspicion {
            code: Code::DeckCut,
            verdict: Verdict::Hold,
            subject: Subject::whole("deck"),
            found: say!(
                "{} are to come off the deck, and a cutter rubs under {}",
                mm(cut, 4),
                mm(LEAST_DECK_CUT_MM, 3)
            ),
            likely: "a digit slipped, or another unit: ledges would be cut too high by the rest".into(),
            ask: "how much is to come off the deck (`deck.cut`)? Where it is ground or lapped, release this by name".into(),
            evidence: figures([("cut", cut), ("least", LEAST_DECK_CUT_MM)]),
            cylinders: asked.job.block.cylinders().into(),
        });
    }
    (cut > DECK_CUT_MM + 1e-9).then(|| Suspicion {
        code: Code::DeckCut,
        verdict: Verdict::Hold,
        subject: Subject::whole("deck"),
        found: say!("{} are to come off the deck, and ledges are cut deeper by as much", mm(cut, 3)),
        likely: "a digit slipped, or another unit: a deck is skimmed by tenths".into(),
        ask: "how much is to come off the deck (`deck.cut`)?".into(),
        evidence: figures([("cut", cut), ("most", DECK_CUT_MM)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}
