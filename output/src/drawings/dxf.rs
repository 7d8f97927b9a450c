//! Each bank's deck as DXF, the open exchange form of drawing programs, in the oldest text variant that all read (R12).
//!
//! Millimetres, bank coordinates: x rearwards from the along datum, y across; seen from outside the deck. Nothing but
//! lines, circles and texts, each on a layer named for what it is. Of a cylinder that may not be cut there is the bore
//! as it was found, crossed, and no planned figure.

use std::fmt::Write;

use borewright_planner::Planning;
use borewright_planner::plan::{Cylinder, Plan, Verdict, cylinder_words};

use crate::OutputError;
use crate::said::fingerprint::{CHECK_GROUPS, grouped};
use crate::said::number::Fixed;

/// Height of a text, mm.
const TEXT_MM: f64 = 6.0;
/// Half a centre cross, mm.
const CROSS_MM: f64 = 4.0;
/// Longest line of a text; what is longer goes on in the next.
const LONGEST: usize = 60;
/// Most lines that one text takes.
const MOST_LINES: usize = 4;

/// Every layer with its colour by number (1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white, 8 grey).
const LAYERS: [(&str, u32); 15] = [
    ("0", 7),
    ("TRUE_POSITION", 8),
    ("OLD_BORE", 8),
    ("PLANNED", 3),
    ("FINISHED_BORE", 3),
    ("FLANGE_RECESS", 5),
    ("POCKET", 5),
    ("HOLD", 2),
    ("STOP", 1),
    ("FIRE_RING", 6),
    ("STUD", 7),
    ("COOLANT_HOLE", 4),
    ("JOURNAL_AXIS", 8),
    ("NUMBER", 7),
    ("TITLE", 7),
];

/// A drawing being written.
#[derive(Debug, Default)]
struct Drawing {
    text: String,
}

impl Drawing {
    fn pair(&mut self, code: u32, value: &str) {
        let _ = writeln!(self.text, "{code:>3}\n{value}");
    }

    fn number(&mut self, code: u32, value: f64) -> Result<(), OutputError> {
        let digits = Fixed::new(value, 3)?.to_string();
        self.pair(code, &digits);
        Ok(())
    }

    fn section(&mut self, name: &str) {
        self.pair(0, "SECTION");
        self.pair(2, name);
    }

    /// The variant, millimetres as the unit, and the layers.
    fn head(&mut self) {
        self.section("HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, "AC1009");
        self.pair(9, "$INSUNITS");
        self.pair(70, "4");
        self.pair(0, "ENDSEC");
        self.section("TABLES");
        self.pair(0, "TABLE");
        self.pair(2, "LTYPE");
        self.pair(70, "1");
        for (code, value) in
            [(0, "LTYPE"), (2, "CONTINUOUS"), (70, "0"), (3, "SOLID"), (72, "65"), (73, "0"), (40, "0.0")]
        {
            self.pair(code, value);
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "TABLE");
        self.pair(2, "LAYER");
        self.pair(70, &LAYERS.len().to_string());
        for (name, colour) in LAYERS {
            let colour = colour.to_string();
            for (code, value) in [(0, "LAYER"), (2, name), (70, "0"), (62, &colour), (6, "CONTINUOUS")] {
                self.pair(code, value);
            }
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
    }

    fn entity(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    fn circle(&mut self, layer: &str, [x, y]: [f64; 2], radius: f64) -> Result<(), OutputError> {
        self.entity("CIRCLE", layer);
        self.number(10, x)?;
        self.number(20, y)?;
        self.number(40, radius)
    }

    fn line(&mut self, layer: &str, from: [f64; 2], to: [f64; 2]) -> Result<(), OutputError> {
        self.entity("LINE", layer);
        for (code, value) in [(10, from[0]), (20, from[1]), (11, to[0]), (21, to[1])] {
            self.number(code, value)?;
        }
        Ok(())
    }

    fn cross(&mut self, layer: &str, [x, y]: [f64; 2]) -> Result<(), OutputError> {
        self.line(layer, [x - CROSS_MM, y], [x + CROSS_MM, y])?;
        self.line(layer, [x, y - CROSS_MM], [x, y + CROSS_MM])
    }

    /// Crossed out from corner to corner of the square about a circle.
    fn crossed(&mut self, layer: &str, [x, y]: [f64; 2], radius: f64) -> Result<(), OutputError> {
        self.line(layer, [x - radius, y - radius], [x + radius, y + radius])?;
        self.line(layer, [x - radius, y + radius], [x + radius, y - radius])
    }

    fn words(&mut self, layer: &str, [x, y]: [f64; 2], words: &str) -> Result<(), OutputError> {
        self.entity("TEXT", layer);
        self.number(10, x)?;
        self.number(20, y)?;
        self.number(40, TEXT_MM)?;
        self.pair(1, words);
        Ok(())
    }
}

/// Letters, digits and the plainest signs, in lines that are short enough: what is left of a text cannot be a code of the
/// format or a control of its readers.
fn harmless(text: &str) -> Vec<String> {
    let kept = |c: char| if c.is_ascii_alphanumeric() || " .,:()-+/".contains(c) { c } else { ' ' };
    let text: Vec<char> = text.trim().chars().take(LONGEST * MOST_LINES).map(kept).collect();
    let lines = text.chunks(LONGEST).map(|line| line.iter().collect::<String>().trim().to_owned());
    lines.filter(|line| !line.is_empty()).collect()
}

/// The layer that tells why a cylinder may not be cut.
fn why_not(plan: &Plan, cylinder: &Cylinder) -> &'static str {
    // One that is itself at go waits for what stands against the whole job.
    let verdict = if cylinder.verdict == Verdict::Go { plan.verdict } else { cylinder.verdict };
    if verdict == Verdict::Stop { "STOP" } else { "HOLD" }
}

/// One bank's deck: the old bores, the planned pockets and bores, studs, coolant holes and the fire ring.
///
/// # Errors
/// A figure that cannot be printed.
pub(crate) fn deck(planning: &Planning, plan: &Plan, bank: usize) -> Result<Vec<u8>, OutputError> {
    let job = &planning.job;
    let layout = job.bank(bank);
    let mut drawing = Drawing::default();
    drawing.head();
    drawing.section("ENTITIES");
    let mut lowest = f64::INFINITY;
    for site in &layout.sites {
        let truly = [site.x_mm, layout.axis_offset_mm];
        drawing.cross("TRUE_POSITION", truly)?;
        lowest = lowest.min(truly[1]);
        if let Some(ring) = job.block.fire_ring {
            let shift = job.gasket_shift_mm[bank];
            let at = [truly[0] + shift[0], truly[1] + shift[1]];
            drawing.circle("FIRE_RING", at, ring.inside_mm / 2.0)?;
            drawing.circle("FIRE_RING", at, ring.outside_mm / 2.0)?;
        }
        let Some(cylinder) = plan.cylinders.iter().find(|c| c.cylinder == site.cylinder) else { continue };
        let middle = one(&mut drawing, planning, plan, cylinder)?;
        let number = site.cylinder.to_string();
        drawing.words("NUMBER", [middle[0] - TEXT_MM / 2.0, middle[1] + TEXT_MM], &number)?;
    }
    for stud in job.block.studs.iter().filter(|s| s.bank == bank) {
        drawing.circle("STUD", stud.centre_mm, stud.diameter_mm / 2.0)?;
        lowest = lowest.min(stud.centre_mm[1]);
    }
    for hole in job.block.coolant_holes.iter().filter(|h| h.bank == bank) {
        let [from, to] = [hole.start_mm, hole.end_mm].map(|[x, y, _]| [x, y]);
        drawing.line("COOLANT_HOLE", from, to)?;
        drawing.circle("COOLANT_HOLE", from, hole.diameter_mm / 2.0)?;
    }
    // The journal axis seen from the deck, and what the sheet says of itself.
    if let [first, .., last] = layout.sites.as_slice() {
        drawing.line("JOURNAL_AXIS", [first.x_mm - 60.0, 0.0], [last.x_mm + 60.0, 0.0])?;
    }
    let mut y = if lowest.is_finite() { lowest - 80.0 } else { -80.0 };
    for words in title(plan, &layout.name).iter().flat_map(|said| harmless(said)) {
        drawing.words("TITLE", [0.0, y], &words)?;
        y -= 2.0 * TEXT_MM;
    }
    drawing.pair(0, "ENDSEC");
    drawing.pair(0, "EOF");
    Ok(drawing.text.into_bytes())
}

/// One cylinder as found, and as planned where it may be cut; where its middle is drawn.
fn one(
    drawing: &mut Drawing,
    planning: &Planning,
    plan: &Plan,
    cylinder: &Cylinder,
) -> Result<[f64; 2], OutputError> {
    let job = &planning.job;
    let m = &cylinder.measured;
    drawing.circle("OLD_BORE", [m.x, m.y], m.diameter / 2.0)?;
    if cylinder.withheld {
        drawing.crossed(why_not(plan, cylinder), [m.x, m.y], m.diameter / 2.0)?;
        return Ok([m.x, m.y]);
    }
    let planned = [cylinder.planned.x, cylinder.planned.y];
    drawing.cross("PLANNED", planned)?;
    drawing.circle("FINISHED_BORE", planned, job.finish.bore_mm / 2.0)?;
    if let Some(sleeve) = job.sleeves.iter().find(|s| s.name == cylinder.sleeve) {
        let pocket = borewright_planner::job::pocket::Pocket::of(sleeve, job.engine.deck.cut_mm);
        if let Some(flange) = &pocket.flange {
            drawing.circle("FLANGE_RECESS", planned, flange.cut.radius_mm)?;
        }
        for step in &pocket.steps {
            drawing.circle("POCKET", planned, step.radius_mm)?;
        }
    }
    Ok(planned)
}

fn title(plan: &Plan, bank: &str) -> Vec<String> {
    let mut said = vec![
        format!("JOB {}", plan.job),
        format!("BANK {bank}"),
        format!("VERDICT {}", plan.verdict.word()),
        format!("FINGERPRINT {}", grouped(&plan.fingerprint, CHECK_GROUPS)),
    ];
    for (layer, word) in [("HOLD", "AT HOLD"), ("STOP", "AT STOP")] {
        let crossed = plan.cylinders.iter().filter(|c| c.bank == bank && c.withheld);
        let crossed = crossed.filter(|c| why_not(plan, c) == layer).map(|c| c.cylinder);
        let numbers: Vec<u32> = crossed.collect();
        if !numbers.is_empty() {
            said.push(format!("{word}, NOT TO BE CUT: {}", cylinder_words(&numbers).to_uppercase()));
        }
    }
    said.push("MM, X REARWARDS, SEEN FROM OUTSIDE THE DECK".to_owned());
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing;

    #[test]
    fn text_of_a_job_can_be_no_code_of_the_format() {
        assert_eq!(harmless("%%c 12\n  0\nEOF\u{7}^J"), ["c 12   0 EOF  J"]);
        assert_eq!(harmless("ŗ \\P{x}"), ["P x"]);
        assert!(harmless("").is_empty());
    }

    #[test]
    fn a_title_is_wrapped_and_never_cut() {
        let long =
            "0412 of the second block from the harbour, with the sleeves that the owner brought himself";
        let lines = harmless(&format!("JOB {long}"));
        assert_eq!(lines.len(), 2);
        assert_eq!(lines.concat().replace(' ', ""), format!("JOB{}", long.replace(' ', "")));
        assert!(harmless(&"x".repeat(4000)).iter().all(|l| l.len() <= LONGEST));
    }

    /// The pairs of a drawing: code and value.
    fn pairs(bytes: &[u8]) -> Vec<(u32, String)> {
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        lines.chunks(2).map(|p| (p[0].trim().parse().unwrap(), p[1].to_owned())).collect()
    }

    #[test]
    fn a_drawing_says_its_unit_and_describes_every_layer_that_it_uses() {
        // Unit code 4 is the millimetre in the published description of the format.
        let planning = testing::held(true);
        let pairs = pairs(&deck(&planning, &planning.plan, 0).unwrap());
        let unit = pairs.iter().position(|p| p.1 == "$INSUNITS").unwrap();
        assert_eq!(pairs[unit + 1], (70, "4".to_owned()));
        let sections: Vec<&str> =
            pairs.windows(2).filter(|w| w[0] == (0, "SECTION".to_owned())).map(|w| w[1].1.as_str()).collect();
        assert_eq!(sections, ["HEADER", "TABLES", "ENTITIES"]);
        let described: Vec<&str> = pairs
            .windows(2)
            .filter(|w| w[0] == (0, "LAYER".to_owned()) && w[1].0 == 2)
            .map(|w| w[1].1.as_str())
            .collect();
        assert_eq!(described.len(), LAYERS.len());
        for (_, used) in pairs.iter().filter(|p| p.0 == 8) {
            assert!(described.contains(&used.as_str()), "{used}");
        }
    }

    #[test]
    fn what_may_not_be_cut_is_crossed_on_a_layer_of_its_own_without_any_planned_figure() {
        for (planning, layer, other) in
            [(testing::stopped(), "STOP", "HOLD"), (testing::held(false), "HOLD", "STOP")]
        {
            let pairs = pairs(&deck(&planning, &planning.plan, 0).unwrap());
            let on = |name: &str| pairs.iter().filter(|p| p.0 == 8 && p.1 == name).count();
            // Three bores a bank, two strokes each.
            assert_eq!((on(layer), on(other)), (6, 0));
            for name in ["PLANNED", "FINISHED_BORE", "FLANGE_RECESS", "POCKET"] {
                assert_eq!(on(name), 0, "{name}");
            }
            let title = format!("AT {layer}, NOT TO BE CUT: CYLINDERS 1, 3 AND 5");
            assert!(pairs.iter().any(|p| p.1 == title), "{pairs:?}");
        }
    }
}
