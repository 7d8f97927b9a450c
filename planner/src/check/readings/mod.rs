//! Checks reading tables: every cell in range, every cylinder and main known to the block.

mod tables;
mod unheld;

pub(super) use unheld::unheld;

use crate::job::rounds::Handled;
use crate::job::{Bank, Block, Surface};
use crate::read::fault::{Fault, plain};
use crate::read::given::{Scalar, Units};
use crate::read::inch::MM_PER_INCH;
use crate::read::measure::length_mm;
use crate::read::quantity as q;
use crate::read::source::Source;
use crate::read::table::{Row, Table};

/// Room beyond the block's own ends for a reading of it, mm.
const REACH_MM: f64 = 60.0;

/// A depth beyond this many bore lengths is in the wrong unit rather than a wrong digit.
const DEEP: f64 = 5.0;

/// A place this near a bore's true one is that bore's, mm.
const TRUE_MM: f64 = 2.0;

/// An arc shorter than this is no arc, degrees.
const LEAST_ARC_DEG: f64 = 0.1;

/// A diameter within this share of the liner's is a bore's of this block.
const LIKE_LINER: f64 = 0.1;

/// What the readings of one bank may name: the block, the bank, and in which units.
pub(super) struct Readable<'b> {
    block: &'b Block,
    bank: &'b Bank,
    /// Index of the bank.
    index: usize,
    units: Units,
    /// Whether x and y are bank coordinates, and so can be held against the block.
    in_bank: bool,
}

/// A table's values, or its faults.
pub(super) type Read<T> = Result<Vec<T>, Vec<Fault>>;

impl<'b> Readable<'b> {
    pub(super) fn new(block: &'b Block, index: usize, units: Units, in_bank: bool) -> Self {
        Self { block, bank: &block.banks[index], index, units, in_bank }
    }

    fn cylinder(&self, table: &Table<'_>, row: &Row<'_>) -> Result<u32, Box<Fault>> {
        let cylinder = table.count(row, "cylinder")?;
        if self.bank.sites.iter().any(|s| s.cylinder == cylinder) {
            return Ok(cylinder);
        }
        let listed: Vec<String> = self.bank.sites.iter().map(|s| s.cylinder.to_string()).collect();
        let expected =
            format!("a cylinder of the bank `{}`: {}", plain(&self.bank.name, 30), listed.join(", "));
        let mut fault = table.fault(row, "cylinder", cylinder.to_string(), expected);
        let other = self
            .block
            .banks
            .iter()
            .enumerate()
            .find(|(i, b)| *i != self.index && b.sites.iter().any(|s| s.cylinder == cylinder));
        fault.help = other.map(|(_, b)| {
            format!("cylinder {cylinder} is in the bank `{}`: swapped tables?", plain(&b.name, 30))
        });
        Err(Box::new(fault))
    }

    fn surface(&self, table: &Table<'_>, row: &Row<'_>, default: Surface) -> Result<Surface, Box<Fault>> {
        match table.text(row, "surface") {
            "" => Ok(default),
            "liner" if self.block.parent.liner.is_none() => Err(Box::new(table.fault(
                row,
                "surface",
                "`liner`".into(),
                "`parent` or `sleeve`: the block describes no liner".into(),
            ))),
            "liner" => Ok(Surface::Liner),
            "parent" => Ok(Surface::Parent),
            "sleeve" => Ok(Surface::Sleeve),
            other => Err(Box::new(table.fault(
                row,
                "surface",
                format!("`{}`", plain(other, 40)),
                "`liner`, `parent` or `sleeve`".into(),
            ))),
        }
    }

    /// What a bore circle was measured on unless stated.
    fn bore_surface(&self) -> Surface {
        if self.block.parent.liner.is_some() { Surface::Liner } else { Surface::Parent }
    }

    fn depth(&self, table: &Table<'_>, row: &Row<'_>) -> Result<f64, Box<Fault>> {
        let depth = table.length(row, "depth")?;
        let most = self.block.parent.bore_length_mm;
        if depth > most {
            let expected = format!("a depth within the bore of {most} mm");
            let mut fault = table.fault(row, "depth", self.typed(table, row, "depth", depth), expected);
            // Only a depth far beyond any bore is taken for one in the wrong unit.
            if depth > DEEP * most {
                fault.help = self.other_unit(table, row, "depth", |mm| mm <= most);
            }
            return Err(Box::new(fault));
        }
        Ok(depth)
    }

    /// A coordinate of a row, mm. Read from the journal axis it must lie on the bank, and the fault tells what
    /// would explain it: the sign, x and y exchanged, another unit.
    fn place(&self, table: &Table<'_>, row: &Row<'_>, name: &str) -> Result<f64, Box<Fault>> {
        if !self.in_bank {
            return table.length(row, name);
        }
        let value = table.length(row, name)?;
        let (least, most) = if name == "x" {
            let xs = || self.bank.sites.iter().map(|s| s.x_mm);
            let spacing = REACH_MM + self.widest_bore_mm() / 2.0;
            (xs().fold(f64::INFINITY, f64::min) - spacing, xs().fold(f64::NEG_INFINITY, f64::max) + spacing)
        } else {
            let half = REACH_MM + self.widest_bore_mm() / 2.0;
            (self.bank.axis_offset_mm - half, self.bank.axis_offset_mm + half)
        };
        if value < least || value > most {
            let expected = format!("a place on the bank, from {least:.1} mm to {most:.1} mm");
            let mut fault = table.fault(row, name, self.typed(table, row, name, value), expected);
            let true_place = |mm: f64| match name {
                "x" => self.bank.sites.iter().any(|s| (s.x_mm - mm).abs() < TRUE_MM),
                _ => (self.bank.axis_offset_mm - mm).abs() < TRUE_MM,
            };
            fault.help = if true_place(-value) {
                Some(format!(
                    "with the other sign it is a bore's true {name}: does the scale count backwards, or is the front at the right?"
                ))
            } else if self.exchanged(table, row) {
                Some(
                    "with x and y exchanged it is a bore's true place: which of the two figures is x?".into(),
                )
            } else {
                self.other_unit(table, row, name, true_place)
            };
            return Err(Box::new(fault));
        }
        Ok(value)
    }

    /// Whether a row stands at its own bore's true place with x and y exchanged.
    fn exchanged(&self, table: &Table<'_>, row: &Row<'_>) -> bool {
        let of = |name| length_mm(&Scalar::Text(table.text(row, name).to_owned()), self.units).ok();
        let site =
            table.count(row, "cylinder").ok().and_then(|n| self.bank.sites.iter().find(|s| s.cylinder == n));
        let (Some(x), Some(y), Some(site)) = (of("y"), of("x"), site) else { return false };
        (x - site.x_mm).abs() < TRUE_MM && (y - self.bank.axis_offset_mm).abs() < TRUE_MM
    }

    /// A cell as it was typed, and in mm where that is another figure.
    fn typed(&self, table: &Table<'_>, row: &Row<'_>, name: &str, mm: f64) -> String {
        let text = plain(table.text(row, name), 40);
        match text.parse::<f64>() {
            Ok(_) if self.units == Units::Mm => format!("{text} mm"),
            Ok(_) => format!("{text} in, {mm:.3} mm"),
            Err(_) => text,
        }
    }

    /// A help where the cell would fit in the other unit; nothing is converted.
    fn other_unit(
        &self,
        table: &Table<'_>,
        row: &Row<'_>,
        name: &str,
        fits: impl Fn(f64) -> bool,
    ) -> Option<String> {
        let text = table.text(row, name);
        let mm = length_mm(&Scalar::Text(text.to_owned()), self.units).ok()?;
        let (text, ask) = (plain(text, 40), "write the unit into the cell");
        let shown = self.typed(table, row, name, mm);
        if fits(mm * MM_PER_INCH) {
            let fit = mm * MM_PER_INCH;
            Some(format!(
                "{shown} times 25.4 is {fit:.3} mm, which fits: an inch reading in a column of mm? If so {ask}: `{text} in`"
            ))
        } else if fits(mm / MM_PER_INCH) {
            let fit = mm / MM_PER_INCH;
            Some(format!(
                "{shown} divided by 25.4 is {fit:.3} mm, which fits: a reading in mm in a column of inches? If so {ask}: `{text} mm`"
            ))
        } else {
            None
        }
    }

    /// A bore's diameter; one that is out of all range but fits this block in the other unit is asked about.
    fn diameter(&self, table: &Table<'_>, row: &Row<'_>) -> Result<f64, Box<Fault>> {
        table.length(row, "diameter").map_err(|mut fault| {
            let fits = |mm: f64| match &self.block.parent.liner {
                Some(liner) => (mm / liner.bore_mm - 1.0).abs() < LIKE_LINER,
                None => q::BORE.holds(mm),
            };
            fault.help = fault.help.take().or_else(|| self.other_unit(table, row, "diameter", fits));
            fault
        })
    }

    fn widest_bore_mm(&self) -> f64 {
        self.block.parent.liner.as_ref().map_or(100.0, |l| l.outside_mm)
    }

    fn clock(&self, table: &Table<'_>, row: &Row<'_>, name: &'static str) -> Result<f64, Box<Fault>> {
        let towards = |word: &str| -> Result<f64, Box<Fault>> {
            // The valley is at +Y of the bank that leans the farther to the left.
            let other = self.block.banks.iter().enumerate().find(|(i, _)| *i != self.index);
            let Some((_, other)) = other else {
                let expected = "`rear`, `front` or degrees: an inline block has no valley".into();
                return Err(Box::new(table.fault(row, name, format!("`{word}`"), expected)));
            };
            // The list's order says nothing of sides to whoever typed it.
            if !self.bank.side_told && !other.side_told {
                let expected = format!(
                    "degrees, or an `angle` for each bank of the block: nothing says which of `{}` and `{}` lies at the left",
                    plain(&self.bank.name, 40),
                    plain(&other.name, 40)
                );
                return Err(Box::new(table.fault(row, name, format!("`{word}`"), expected)));
            }
            let valley = if self.bank.angle_deg < other.angle_deg { 90.0 } else { 270.0 };
            Ok(if word == "valley" { valley } else { 360.0 - valley })
        };
        match table.text(row, name).to_ascii_lowercase().as_str() {
            "rear" => Ok(0.0),
            "front" => Ok(180.0),
            word @ ("valley" | "outer") => towards(word),
            "" => table.angle(row, name, q::CLOCK),
            text => match table.angle(row, name, q::CLOCK) {
                Ok(angle) => Ok(angle.rem_euclid(360.0)),
                Err(mut fault) if text.starts_with(char::is_alphabetic) => {
                    let sides = if self.block.banks.len() > 1 { ", `valley`, `outer`" } else { "" };
                    fault.expected = format!("`rear`, `front`{sides} or an angle in degrees");
                    Err(fault)
                }
                Err(fault) => Err(fault),
            },
        }
    }

    /// The name of a row's set. A block turned end for end and read in the machine needs a set-up of its own:
    /// without a new datum the scales say nothing of the bank.
    fn set(&self, table: &Table<'_>, row: &Row<'_>) -> Result<Option<String>, Box<Fault>> {
        let set = table.text(row, "set");
        if !self.in_bank && Handled::of_set(set) == Some(Handled::Turned) {
            let found = format!("`{}` beside frame: machine", plain(set, 40));
            let expected = "a set-up of its own for the block turned end for end, with its `front`, axis and along datum";
            return Err(Box::new(table.fault(row, "set", found, expected.into())));
        }
        Ok(Some(set).filter(|s| !s.is_empty()).map(str::to_owned))
    }

    /// A table that is in the other unit as a whole is told in one line.
    fn whole<T>(&self, source: &Source, rows: usize, read: Read<T>) -> Read<T> {
        const FITS: &str = ", which fits: ";
        let Err(faults) = read else { return read };
        let hinted = |f: &Fault| f.help.as_ref().is_some_and(|h| h.contains(FITS));
        let lines: std::collections::BTreeSet<usize> =
            faults.iter().filter(|f| hinted(f)).filter_map(|f| Some(f.place?.line)).collect();
        let told =
            faults.iter().filter_map(|f| Some(f.place?.line)).collect::<std::collections::BTreeSet<_>>();
        // Gathering faults stops at a bound, so nearly all rows that have one count as all, and so does more than
        // half of the table.
        let all = lines.len() >= 3 && (2 * lines.len() > rows || 10 * lines.len() >= 9 * told.len());
        let Some(first) = faults.iter().find(|f| hinted(f)).filter(|_| all).cloned() else {
            return Err(faults);
        };
        let (here, other) = match self.units {
            Units::Mm => ("mm", "inches"),
            Units::In => ("inches", "mm"),
        };
        let found = format!("{} in `{}`, and {} more rows likewise", first.found, first.key, lines.len() - 1);
        let mut one =
            source.fault(first.place, "", found, format!("a table in {here}, as the job's `units` say"));
        let fit = first.help.as_deref().and_then(|h| h.split(FITS).next()).unwrap_or_default();
        one.help = Some(format!(
            "{fit}: is the whole table in {other}? Save it in {here}, or write the unit into each cell"
        ));
        let rest = faults.into_iter().filter(|f| f.place.is_none_or(|p| !lines.contains(&p.line)));
        Err(std::iter::once(one).chain(rest).collect())
    }
}

/// The faults of one row.
#[derive(Default)]
struct Gather(Vec<Fault>);

impl Gather {
    fn take<T>(&mut self, read: Result<T, Box<Fault>>) -> Option<T> {
        read.map_err(|fault| self.0.push(*fault)).ok()
    }

    fn done<T>(self, make: impl FnOnce() -> Option<T>) -> Result<T, Vec<Fault>> {
        match make() {
            Some(value) if self.0.is_empty() => Ok(value),
            _ => Err(self.0),
        }
    }
}
