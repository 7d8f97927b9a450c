//! Workings of a pass's load: each sum beside its formula.

use std::f64::consts::PI;

use super::milled::Cut;
use super::{EFFICIENCY, MANDREL_ROOM_MM, RADIAL};
use crate::material::cutting_force_mpa;
use crate::passes::kinematics::speed_m_per_min;
use crate::plan::worked::{Figure, Origin, Symbol, Unit};

const fn force(name: &'static str, says: &'static str, origin: Origin) -> Symbol {
    Symbol::new(name, says, Unit::Force, origin)
}

const fn stress(name: &'static str, says: &'static str, origin: Origin) -> Symbol {
    Symbol::new(name, says, Unit::Stress, origin)
}

const fn share(name: &'static str, says: &'static str, origin: Origin) -> Symbol {
    Symbol::new(name, says, Unit::Share, origin)
}

const METAL: [Symbol; 2] = [
    stress("k_11", "specific cutting force of the metal for a chip of 1 mm", Origin::CutMetal),
    share("m", "how fast it falls with a thicker chip", Origin::CutMetal),
];
const FEED: Symbol = Symbol::mm("f", "feed a turn", Origin::Known("feed over turns: ask for both"));
const STOCK: Symbol = Symbol::mm("a", "most stock a side", Origin::Known("ask for its stock"));

const BORED: [Symbol; 5] = [
    force("F", "cutting force at the deepest side", Origin::Figure("k_c * a * f")),
    stress("k_c", "specific cutting force at this feed (Kienzle)", Origin::Formula("k_11 * h^(-m)")),
    Symbol::mm("h", "thickness of the chip", Origin::Known("the feed a turn, never taken under 0.001 mm")),
    STOCK,
    FEED,
];
const MILLED: [Symbol; 3] = [
    force("F", "cutting force where the teeth are deepest in", Origin::Figure("k_c * h * a_p * z_c")),
    stress("k_c", "specific cutting force at that chip (Kienzle)", Origin::Formula("k_11 * h^(-m)")),
    share("z_c", "teeth in metal at once", Origin::Formula("ceil(w * z / 360)")),
];
/// The thickest chip of a tooth that comes out before it is square to its way, and of one that goes on.
const THICKEST: [[Symbol; 1]; 2] = [
    [Symbol::mm("h", "thickest chip", Origin::Formula("f_z * sin(w * pi / 180)"))],
    [Symbol::mm("h", "thickest chip: as thick as the feed of a tooth", Origin::Formula("f_z"))],
];
const TEETH: [Symbol; 4] = [
    Symbol::mm("f_z", "feed of a tooth", Origin::Formula("f / z")),
    share("z", "teeth", Origin::Tool("teeth")),
    FEED,
    Symbol::mm("a_p", "step down of a turn", Origin::Tool("step_down")),
];
/// Angle in metal: between wall and old bore, and where there is no such corner.
const IN_METAL: [Symbol; 5] = [
    Symbol::new(
        "w",
        "angle of the cutter in metal",
        Unit::Angle,
        Origin::Formula("180 / pi * acos(((R - a)^2 - p^2 - r^2) / (2 * p * r))"),
    ),
    Symbol::mm("R", "radius of the wall", Origin::Known("half its size")),
    Symbol::mm(
        "p",
        "radius of the way of the cutter's middle",
        Origin::Known("the wall less half the cutter"),
    ),
    Symbol::mm("r", "half the cutter", Origin::Tool("diameter")),
    STOCK,
];
const AT_AN_END: [Symbol; 2] = [
    Symbol::new(
        "w",
        "angle of the cutter in metal",
        Unit::Angle,
        Origin::Known("the wall against the old bore: it is in metal all round, or just touches"),
    ),
    STOCK,
];

/// The force that a cut asks, at its deepest side and as the motor feels it.
pub(super) struct Force {
    /// N, where it is most.
    pub(super) most_n: f64,
    /// N, over a turn.
    pub(super) mean_n: f64,
    most: Figure,
    mean: (&'static [&'static [Symbol]], Vec<f64>),
}

/// The force of a boring tool: F = kc a f.
pub(super) fn bored([kc11, m]: [f64; 2], feed_mm: f64, stock_mm: f64) -> Force {
    let specific = cutting_force_mpa([kc11, m], feed_mm);
    let force = specific * stock_mm * feed_mm;
    let kept = vec![specific, feed_mm.max(1e-3), stock_mm, feed_mm, kc11, m];
    Force {
        most_n: force,
        mean_n: force,
        most: Figure::of("force", force, &[&BORED, &METAL], kept),
        mean: (&[&POWER, &POWER_OF_FORCE], vec![force]),
    }
}

/// The force of a cutter: kc h a_p at each tooth where it is deepest in; kc a_e a_p f / (pi D) over a turn,
/// `turning_mm` being D.
pub(super) fn milled(
    [kc11, m]: [f64; 2],
    cut: Cut,
    [feed_mm, teeth]: [f64; 2],
    [stock_mm, step_down_mm, turning_mm]: [f64; 3],
) -> Force {
    let feed_of_tooth = feed_mm / teeth;
    let tooth = cut.tooth(feed_of_tooth, teeth);
    let specific = cutting_force_mpa([kc11, m], tooth.thickest_mm);
    let most = specific * tooth.thickest_mm * step_down_mm * tooth.in_cut;
    let mean_specific = cutting_force_mpa([kc11, m], tooth.mean_mm);
    let mean = mean_specific * (stock_mm * step_down_mm * feed_mm / (PI * turning_mm));
    let angle = cut.angle_deg();
    let mut around = vec![angle];
    if cut.is_between() {
        around.extend(cut.radii_mm());
    }
    around.push(stock_mm);
    let all = [feed_of_tooth, teeth, feed_mm, step_down_mm];
    let kept = [specific, tooth.in_cut, tooth.thickest_mm].into_iter().chain(all).chain(around.clone());
    let symbols: &'static [&'static [Symbol]] = match (cut.is_between(), angle <= 90.0) {
        (true, true) => &[&MILLED, &THICKEST[0], &TEETH, &IN_METAL, &METAL],
        (true, false) => &[&MILLED, &THICKEST[1], &TEETH, &IN_METAL, &METAL],
        (false, true) => &[&MILLED, &THICKEST[0], &TEETH, &AT_AN_END, &METAL],
        (false, false) => &[&MILLED, &THICKEST[1], &TEETH, &AT_AN_END, &METAL],
    };
    let of_mean = [mean, mean_specific, tooth.mean_mm].into_iter().chain(all).chain(around);
    let by: &'static [&'static [Symbol]] = if cut.is_between() {
        &[&POWER, &MEAN, &TEETH, &IN_METAL, &METAL]
    } else {
        &[&POWER, &MEAN, &TEETH, &AT_AN_END, &METAL]
    };
    Force {
        most_n: most,
        mean_n: mean,
        most: Figure::of("force", most, symbols, kept.chain([kc11, m]).collect()),
        mean: (by, of_mean.chain([kc11, m]).collect()),
    }
}

const POWER: [Symbol; 6] = [
    Symbol::new("P", "power at the motor", Unit::Power, Origin::Figure("F * v / (60000 * e)")),
    Symbol::new("v", "cutting speed", Unit::Speed, Origin::Formula("pi * D * n / 1000")),
    Symbol::mm(
        "D",
        "diameter that the edge turns at",
        Origin::Known("the size of this pass, or of its cutter"),
    ),
    Symbol::new("n", "turns of the spindle", Unit::Turns, Origin::Known("ask for its speed")),
    share("e", "share of the motor's power that reaches the tip", Origin::PRACTICE),
    Symbol::new(
        "P_max",
        "what the spindle has, which it may not pass; 0 where nobody says",
        Unit::Power,
        Origin::MachineOr("spindle.power", "the machine file does not say: nothing is held against it"),
    ),
];
const POWER_OF_FORCE: [Symbol; 1] = [force("F", "cutting force", Origin::Known("ask for its force"))];
const MEAN: [Symbol; 3] = [
    force("F", "mean cutting force over a turn", Origin::Formula("k_m * a * a_p * f / (pi * D)")),
    stress("k_m", "specific cutting force at the mean chip (Kienzle)", Origin::Formula("k_11 * h_m^(-m)")),
    Symbol::mm("h_m", "mean chip", Origin::Formula("f_z * (1 - cos(w * pi / 180)) / (w * pi / 180)")),
];

const COMPLIANT: [Symbol; 3] = [
    Symbol::mm("y", "how far spindle and bar give way at the tip", Origin::Figure("q * F / K")),
    share("q", "share of the force that pushes off the wall", Origin::PRACTICE),
    force("F", "cutting force", Origin::Known("ask for its force")),
];
const COPIED: [Symbol; 6] = [
    Symbol::mm(
        "c",
        "eccentricity of the old surface that the cut leaves",
        Origin::Figure("q * F / a / K * (a - a_0) / 2"),
    ),
    share("q", "share of the force that pushes off the wall", Origin::PRACTICE),
    force("F", "cutting force", Origin::Known("ask for its force")),
    STOCK,
    Symbol::mm("a_0", "least stock a side", Origin::Known("ask for its stock")),
    Symbol::new(
        "K",
        "stiffness of spindle and bar in series",
        Unit::Stiffness,
        Origin::Known("ask for its deflection"),
    ),
];
/// Stiffness of the spindle alone, and with a bar.
const SPINDLE: Symbol = Symbol::new(
    "K_s",
    "stiffness of the spindle",
    Unit::Stiffness,
    Origin::MachineOr("spindle.stiffness", "not stated: common practice of a stiff machine, no source"),
);
const ALONE: [Symbol; 2] =
    [Symbol::new("K", "stiffness of the spindle alone", Unit::Stiffness, Origin::Formula("K_s")), SPINDLE];
const IN_SERIES: [Symbol; 5] = [
    Symbol::new(
        "K",
        "stiffness of spindle and bar in series (Euler and Bernoulli)",
        Unit::Stiffness,
        Origin::Formula("1 / (1 / K_s + L^3 / (3 * E * pi * d^4 / 64))"),
    ),
    SPINDLE,
    Symbol::mm("L", "from the spindle's nose to the tip", Origin::Tool("reach")),
    Symbol::mm("d", "diameter of the bar, or of a cutter", Origin::Tool("bar")),
    stress("E", "modulus of the bar", Origin::ToolOr("bar_material", "not stated: steel, from memory")),
];
const MOST_BEND: [Symbol; 1] =
    [Symbol::mm("y_max", "at most so much: beyond, it holds no size or chatters", Origin::PRACTICE)];

/// Stiffness of spindle and bar in series, and what it is worked from.
pub(super) struct Stiffness {
    /// N/mm.
    pub(super) n_per_mm: f64,
    bar: Option<[f64; 3]>,
    spindle: f64,
}

impl Stiffness {
    /// The stiffness of a spindle, N/mm, with a bar of a length and a diameter, mm, and a modulus, MPa, in series.
    pub(super) fn of(spindle: f64, bar: Option<[f64; 3]>) -> Self {
        let bends =
            bar.map_or(0.0, |[length, diameter, elastic]| super::bending_mm_per_n(length, diameter, elastic));
        Self { n_per_mm: 1.0 / (1.0 / spindle + bends), bar, spindle }
    }
}

/// Deflection, with what it is held against.
fn deflection(value: f64, force_n: f64, stiffness: &Stiffness, most_mm: f64) -> Figure {
    let kept = [RADIAL, force_n, stiffness.n_per_mm, stiffness.spindle];
    let kept = kept.into_iter().chain(stiffness.bar.into_iter().flatten()).chain([most_mm]).collect();
    let symbols: &'static [&'static [Symbol]] = if stiffness.bar.is_some() {
        &[&COMPLIANT, &IN_SERIES, &MOST_BEND]
    } else {
        &[&COMPLIANT, &ALONE, &MOST_BEND]
    };
    Figure::of("deflection", value, symbols, kept)
}

const MARKS: [Symbol; 3] = [
    Symbol::new(
        "R_t",
        "height of the feed marks of a round nose, peak to valley",
        Unit::Micrometres,
        Origin::Figure("1000 * f^2 / (8 * r)"),
    ),
    FEED,
    Symbol::mm("r", "radius of the nose", Origin::Tool("nose_radius")),
];
const MOST_MARKS: [Symbol; 1] =
    [Symbol::new("R_max", "at most so high: beyond, it is a thread", Unit::Micrometres, Origin::PRACTICE)];
const TIP: [Symbol; 6] = [
    Symbol::mm("t", "lowest tip above the journal axis", Origin::Figure("H - d")),
    Symbol::mm("H", "the deck above the journal axis", Origin::SetUp),
    Symbol::mm("d", "depth where the pass ends", Origin::Known("its own depth, from the deck as it is")),
    Symbol::mm("t_min", "at least so much, clear of a mandrel in the mains", Origin::Formula("B / 2 + r_m")),
    Symbol::mm("B", "housing bore of the mains", Origin::Block("journal_axis.housing_bore")),
    Symbol::mm("r_m", "room to a mandrel", Origin::PRACTICE),
];
const NOSE: [Symbol; 4] = [
    Symbol::mm("s", "spindle's nose above the deck at the lowest tip", Origin::Figure("L - (d - c)")),
    Symbol::mm("L", "from the spindle's nose to the tip", Origin::Tool("reach")),
    Symbol::mm("d", "depth where the pass ends", Origin::Known("its own depth, from the deck as it is")),
    Symbol::mm("c", "what has come off the deck by then", Origin::Stated("deck.cut")),
];

/// How an edge turns.
pub(super) struct Turning {
    /// The diameter that it turns on, mm.
    pub(super) on_mm: f64,
    /// Turns a minute.
    pub(super) rpm: f64,
}

/// The feed marks of a round nose.
pub(super) struct Marks {
    /// Their height, micrometres.
    pub(super) height_um: f64,
    /// What it is held against, micrometres.
    pub(super) most_um: Option<f64>,
    /// Feed a turn, mm.
    pub(super) feed_mm: f64,
    /// Radius of the tip's nose, mm.
    pub(super) radius_mm: f64,
}

/// Where the lowest tip comes to.
pub(super) struct Tip {
    /// Above the journal axis, mm.
    pub(super) above_axis_mm: f64,
    /// The deck above that axis, mm.
    pub(super) deck_mm: f64,
    /// Where the pass ends, mm.
    pub(super) depth_mm: f64,
    /// Diameter of the main housings, mm.
    pub(super) housing_mm: f64,
}

/// Where the spindle's nose comes to.
pub(super) struct Nose {
    /// Above the deck, mm.
    pub(super) above_deck_mm: f64,
    /// From it to the tip, mm.
    pub(super) reach_mm: f64,
    /// Where the pass ends, mm.
    pub(super) depth_mm: f64,
    /// What has come off the deck by then, mm.
    pub(super) off_mm: f64,
}

/// What a pass asks of machine and tool, as it was worked out.
pub(super) struct LoadFigures<'a> {
    pub(super) force: Force,
    pub(super) stiffness: &'a Stiffness,
    pub(super) power_kw: f64,
    pub(super) deflection_mm: f64,
    pub(super) copied_mm: f64,
    pub(super) turning: Turning,
    /// kW; 0 where nobody says.
    pub(super) has_kw: f64,
    /// A side, mm.
    pub(super) least_stock_mm: f64,
    /// A side, mm.
    pub(super) most_stock_mm: f64,
    /// What deflection is held against, mm.
    pub(super) bends_most_mm: f64,
    pub(super) marks: Option<Marks>,
    pub(super) tip: Tip,
    pub(super) nose: Nose,
}

impl LoadFigures<'_> {
    /// The load's figures, each with what it is worked from.
    pub(super) fn figures(self) -> Vec<Figure> {
        let Turning { on_mm, rpm } = self.turning;
        let speed = speed_m_per_min(on_mm, rpm);
        let force_n = self.force.most_n;
        let (by, mean) = self.force.mean;
        let kept = [speed, on_mm, rpm, EFFICIENCY, self.has_kw].into_iter().chain(mean).collect();
        let mut figures = vec![
            self.force.most,
            Figure::of("power", self.power_kw, by, kept),
            deflection(self.deflection_mm, force_n, self.stiffness, self.bends_most_mm),
        ];
        if self.most_stock_mm > 0.0 {
            let stock = [self.most_stock_mm, self.least_stock_mm];
            let kept = vec![RADIAL, force_n, stock[0], stock[1], self.stiffness.n_per_mm];
            figures.push(Figure::of("copied", self.copied_mm, &[&COPIED], kept));
        }
        if let Some(marks) = self.marks {
            let symbols: &'static [&'static [Symbol]] =
                if marks.most_um.is_some() { &[&MARKS, &MOST_MARKS] } else { &[&MARKS] };
            let kept = [marks.feed_mm, marks.radius_mm].into_iter().chain(marks.most_um).collect();
            figures.push(Figure::of("marks", marks.height_um, symbols, kept));
        }
        let Tip { above_axis_mm, deck_mm, depth_mm, housing_mm } = self.tip;
        let least = housing_mm / 2.0 + MANDREL_ROOM_MM;
        let kept = vec![deck_mm, depth_mm, least, housing_mm, MANDREL_ROOM_MM];
        figures.push(Figure::of("tip", above_axis_mm, &[&TIP], kept));
        let Nose { above_deck_mm, reach_mm, depth_mm, off_mm } = self.nose;
        figures.push(Figure::of("nose", above_deck_mm, &[&NOSE], vec![reach_mm, depth_mm, off_mm]));
        figures
    }
}
