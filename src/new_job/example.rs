//! A job of examples: the templates as they are, or for a V or an inline block of some size, in mm or inch.

use borewright_planner::read::given::Units;
use borewright_planner::start::ToRead;

use super::tables::tables;
use super::{Laid, length, word};

const JOB: &str = include_str!("../templates/job.yaml");
const BLOCK: &str = include_str!("../templates/block.yaml");
const OTHERS: [(&str, &str); 3] = [
    ("sleeve.yaml", include_str!("../templates/sleeve.yaml")),
    ("machine.yaml", include_str!("../templates/machine.yaml")),
    ("shop.yaml", include_str!("../templates/shop.yaml")),
];
const TABLES: [(&str, &str); 2] = [
    ("readings/bores.csv", include_str!("../templates/bores.csv")),
    ("readings/walls.csv", include_str!("../templates/walls.csv")),
];

/// Figures of the template's block, mm.
const SPACING: f64 = 96.0;
const FIRST_MAIN: f64 = 12.0;
const FIRST_BORE: f64 = 60.0;
const BORE_LENGTH: f64 = 145.0;
/// A V's second bank stands behind the first by a rod's width; an example.
const STAGGER: f64 = 18.0;

/// What block is to be started.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shape {
    /// One or two.
    pub(crate) banks: u32,
    /// Of all banks together.
    pub(crate) cylinders: u32,
    /// Between the banks, degrees.
    pub(crate) angle: f64,
    /// Of every file and table.
    pub(crate) units: Units,
}

/// The templates as they are.
pub(crate) fn plain_example() -> Laid {
    let of = |(name, text): (&str, &str)| (name.to_owned(), text.as_bytes().to_vec());
    let first = [("job.yaml", JOB), ("block.yaml", BLOCK)];
    let files = first.into_iter().chain(OTHERS).chain(TABLES).map(of).collect();
    let usual = ToRead::usual("inline", &[1, 2, 3, 4], BORE_LENGTH, step(Units::Mm));
    let to_read = vec![ToRead { set_up: "deck up".to_owned(), ..usual }];
    Laid { files, to_read, block: String::new(), units: Units::Mm }
}

/// The templates for another block, its tables with their places filled in.
pub(crate) fn example(shape: Shape) -> Laid {
    let banks = banks(shape);
    let to_read: Vec<ToRead> = banks
        .iter()
        .map(|(name, cylinders)| ToRead::usual(name, cylinders, BORE_LENGTH, step(shape.units)))
        .collect();
    let mut files = vec![
        ("job.yaml".to_owned(), in_units(&job(&to_read, shape), shape.units)),
        ("block.yaml".to_owned(), in_units(&block(&banks, shape), shape.units)),
    ];
    files.extend(OTHERS.map(|(name, text)| (name.to_owned(), in_units(text, shape.units))));
    for set_up in &to_read {
        let slug = if banks.len() == 1 { "" } else { set_up.bank.as_str() };
        files.extend(tables(set_up, slug, shape.units).into_iter().map(|(_, path, text)| (path, text)));
    }
    Laid { files, to_read, block: String::new(), units: shape.units }
}

/// Depths are whole 5 mm, or whole quarters of an inch.
fn step(units: Units) -> f64 {
    if units == Units::Mm { 5.0 } else { 25.4 / 4.0 }
}

/// Numbered along one bank; in a V by turns, the odd ones to the left, common practice.
fn banks(shape: Shape) -> Vec<(&'static str, Vec<u32>)> {
    let all = 1..=shape.cylinders;
    if shape.banks == 1 {
        return vec![("inline", all.collect())];
    }
    let (left, right) = all.partition(|n| n % 2 == 1);
    vec![("left", left), ("right", right)]
}

/// The template with each place of one bank said of every bank.
fn job(to_read: &[ToRead], shape: Shape) -> String {
    let (before, readings) = JOB.split_once("readings:\n").unwrap_or((JOB, ""));
    let after = readings.split_once("    # Read off the machine").map_or("", |(_, rest)| rest);
    let mut text = format!("{before}readings:\n");
    for set_up in to_read {
        let tail = if shape.banks == 1 { String::new() } else { format!("-{}", set_up.bank) };
        text.push_str(&format!(
            "  - set_up: {0} deck up\n    bank: {0}\n    frame: journal              # journal: x and y are bank \
             coordinates, from the along datum and the journal axis\n    bores: readings/bores{tail}.csv\n    walls: \
             readings/walls{tail}.csv   # without wall readings, take this line out\n",
            set_up.bank
        ));
    }
    text.push_str("    # Read off the machine");
    text.push_str(after);
    text.replace(
        "  inline: { x: 0.0",
        &format!("  {}: {{ x: 0.0", to_read.first().map_or("inline", |t| &t.bank)),
    )
}

/// The block's description with example figures, mm or inches as the shape has it.
fn block(banks: &[(&str, Vec<u32>)], shape: Shape) -> String {
    let longest = banks.iter().map(|(_, c)| c.len()).max().unwrap_or(1);
    let along = |from: f64, n: usize| from + SPACING * f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    let mains: String = (0..=longest)
        .map(|n| format!("    - {{ name: \"{}\", x: {:.1} }}\n", n + 1, along(FIRST_MAIN, n)))
        .collect();
    let one = |(bank, cylinders): &(&str, Vec<u32>), behind: f64| {
        let numbers: Vec<String> = cylinders.iter().map(ToString::to_string).collect();
        let first = FIRST_BORE + behind;
        format!("  - {{ name: {bank}, cylinders: [{}], first_bore: {first:.1} }}\n", numbers.join(", "))
    };
    let rows: String = banks.iter().zip([0.0, STAGGER]).map(|(bank, behind)| one(bank, behind)).collect();
    let studs: String = banks
        .iter()
        .zip([0.0, STAGGER])
        .map(|((bank, cylinders), behind)| studs_of(bank, cylinders.len(), behind))
        .collect();
    let holes: String =
        banks.iter().zip([0.0, STAGGER]).map(|((bank, _), behind)| hole(bank, behind)).collect();
    let name = if banks.len() == 1 { "inline" } else { "V" };
    between(BLOCK, "  mains:", "\nbanks:", &format!("{}\n{mains}", rest_of(BLOCK, "  mains:")))
        .replace("EXAMPLE inline four", &format!("EXAMPLE {name} {}", shape.cylinders))
        .replace("bank_angle: 0  ", &format!("bank_angle: {:<3}", super::tables::angle(shape.angle)))
        .replace("  - { name: inline, cylinders: [1, 2, 3, 4], first_bore: 60.0 }\n", &rows)
        .replace(&studs_of("inline", 4, 0.0), &studs)
        .replace(&hole("inline", 0.0), &holes)
}

/// A pair of head studs before, between and behind so many bores.
fn studs_of(bank: &str, bores: usize, behind: f64) -> String {
    let column = |n: usize| {
        let x = FIRST_MAIN + behind + SPACING * f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        [-52.0, 52.0].map(|y| {
            format!("  - {{ bank: {bank}, x: {x:.1}, y: {y:.1}, diameter: 11.5, from: 0.0, to: 90.0 }}\n")
        })
    };
    (0..=bores).flat_map(column).collect()
}

fn hole(bank: &str, behind: f64) -> String {
    let x = FIRST_MAIN + SPACING + behind;
    format!(
        "  - {{ bank: {bank}, name: steam hole, start: [{x:.1}, -50.0, 120.0], end: [{x:.1}, -30.0, 128.0], diameter: 3.0 }}\n"
    )
}

/// The line that begins so, whole.
fn rest_of<'t>(text: &'t str, start: &'t str) -> &'t str {
    text.lines().find(|line| line.starts_with(start)).unwrap_or(start)
}

/// The text with what lies from a line's beginning to another's replaced.
fn between(text: &str, from: &str, to: &str, by: &str) -> String {
    match (text.find(from), text.find(to)) {
        (Some(from), Some(to)) if from < to => {
            let (head, tail) = (text.get(..from).unwrap_or_default(), text.get(to..).unwrap_or_default());
            format!("{head}{by}{tail}")
        }
        _ => text.to_owned(),
    }
}

/// Keys of the templates whose numbers are no lengths.
const NO_LENGTHS: [&str; 11] = [
    "bank_angle",
    "rpm",
    "power",
    "speed",
    "cylinders",
    "strokes",
    "job",
    "elastic",
    "poisson",
    "expansion",
    "yield",
];

/// A template in other units: every number behind a key that is a length, comments too.
fn in_units(text: &str, units: Units) -> Vec<u8> {
    if units == Units::Mm {
        return text.as_bytes().to_vec();
    }
    let text = text.replace("units: mm ", &format!("units: {} ", word(units)));
    let lines: Vec<String> = text.lines().map(|line| converted(line, units)).collect();
    (lines.join("\n") + "\n").into_bytes()
}

/// Comments behind stay in their column where there is room.
fn converted(line: &str, units: Units) -> String {
    if line.starts_with("temperature:") {
        return line.to_owned();
    }
    if let Some(at) = line.find(" #").filter(|_| !line.trim_start().starts_with('#')) {
        let (figures, comment) = line.split_at_checked(at).unwrap_or((line, ""));
        let made = converted(figures.trim_end(), units);
        let column = (at + 1).max(made.chars().count() + 2);
        return format!("{made:column$}{}", converted(comment.trim_start(), units));
    }
    let (mut made, mut rest) = (String::new(), line);
    while let Some((before, after)) = rest.split_once(": ") {
        let key =
            before.rsplit(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).next().unwrap_or_default();
        made.push_str(before);
        made.push_str(": ");
        let bracket = after.starts_with('[');
        let end = if bracket {
            after.find(']').map_or(after.len(), |at| at + 1)
        } else {
            after.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(after.len())
        };
        let (figures, behind) = after.split_at_checked(end).unwrap_or((after, ""));
        if NO_LENGTHS.contains(&key) || (!bracket && behind.starts_with(|c: char| c.is_alphanumeric())) {
            made.push_str(figures);
        } else if bracket {
            let inner = figures.trim_matches(['[', ']']);
            let each: Vec<String> = inner.split(", ").map(|figure| one(figure, units)).collect();
            made.push_str(&format!("[{}]", each.join(", ")));
        } else {
            made.push_str(&one(figures, units));
        }
        rest = behind;
    }
    made + rest
}

/// A number in other units; anything else as it is.
fn one(figure: &str, units: Units) -> String {
    match figure.trim_end_matches('.').parse::<f64>() {
        Ok(mm) if mm.is_finite() => length(mm, units),
        _ => figure.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_converted_and_nothing_else() {
        let inch = |line: &str| converted(line, Units::In);
        assert_eq!(inch("bore_spacing: 50.8     # or piston: 25.4"), "bore_spacing: 2        # or piston: 1");
        assert_eq!(inch("bank_angle: 90"), "bank_angle: 90");
        assert_eq!(
            inch("travel: { x: [-254, 254], y: [-25.4, 12.7] }"),
            "travel: { x: [-10, 10], y: [-1, 0.5] }"
        );
        assert_eq!(
            inch("spindle: { rpm: [40, 2500], power: 7.5 }"),
            "spindle: { rpm: [40, 2500], power: 7.5 }"
        );
        assert_eq!(
            inch("  grey iron: { speed: 90, feed: 0.127 }"),
            "  grey iron: { speed: 90, feed: 0.005 }"
        );
        assert_eq!(inch("words: { millimetres: G21 }"), "words: { millimetres: G21 }");
        assert_eq!(
            inch("temperature: { block: 20.0, machine: 20.0 }"),
            "temperature: { block: 20.0, machine: 20.0 }"
        );
    }

    #[test]
    fn the_templates_own_block_is_what_its_shape_gives() {
        let four = Shape { banks: 1, cylinders: 4, angle: 0.0, units: Units::Mm };
        assert_eq!(block(&banks(four), four), BLOCK.replace("inline four", "inline 4"));
        let plain: Vec<(String, Vec<u8>)> = plain_example().files;
        let laid = example(four).files;
        for (name, text) in laid.iter().filter(|(name, _)| OTHERS.iter().any(|(other, _)| other == name)) {
            assert!(plain.iter().any(|(n, t)| n == name && t == text), "{name}");
        }
    }
}
