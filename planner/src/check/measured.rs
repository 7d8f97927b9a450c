//! Checks the table of measured sleeves: every sleeve whole, every size like the drawing's.

use borewright_geometry::sample::{ends, mean};

use crate::job::{MeasuredSleeve, Sleeve, Thickness};
use crate::read::fault::{Fault, plain};
use crate::read::given::Units;
use crate::read::quantity as q;
use crate::read::source::Source;
use crate::read::table::{Column, MOST_READINGS, Row, Table, Takes, needed, optional};

const MEASURED: [Column; 4] = [
    needed("number", Takes::Words),
    needed("feature", Takes::Words),
    needed("size", Takes::Words),
    optional("sleeve", Takes::Words),
];

/// The feature that is the flange's thickness.
const THICKNESS: &str = "thickness";

/// A size farther from the drawing's than this is another feature's or another sleeve's, mm: limits and roughing go
/// by the drawing's sizes. Common practice, no source.
const FAR_MM: f64 = 0.1;

/// Most sleeves on one table.
const MOST: usize = 64;

struct Reading {
    sleeve: usize,
    number: String,
    /// `None` is the thickness.
    step: Option<usize>,
    size_mm: f64,
}

/// The sleeves in the order of the table, each with the means of its readings.
pub(super) fn check(
    source: &Source,
    sleeves: &[Sleeve],
    units: Units,
) -> Result<Vec<MeasuredSleeve>, Vec<Fault>> {
    let table = Table::split(source, &MEASURED, MOST_READINGS, units)?;
    let readings = table.each(|row| reading(&table, row, sleeves).map_err(|fault| vec![*fault]))?;
    let mut faults = Vec::new();
    let mut numbers: Vec<(usize, &str)> = Vec::new();
    for r in &readings {
        if !numbers.contains(&(r.sleeve, r.number.as_str())) {
            numbers.push((r.sleeve, &r.number));
        }
        if numbers.len() > MOST {
            break;
        }
    }
    if numbers.len() > MOST {
        let found = format!("more than {MOST} sleeves");
        faults.push(source.fault(None, "", found, format!("at most {MOST}")));
        return Err(faults);
    }
    let mut measured = Vec::new();
    for (sleeve, number) in numbers {
        let of = |step: Option<usize>| -> Vec<f64> {
            let own = readings.iter().filter(|r| r.sleeve == sleeve && r.number == number && r.step == step);
            own.map(|r| r.size_mm).collect()
        };
        let drawing = &sleeves[sleeve];
        let thicknesses = of(None);
        let outsides: Vec<Option<f64>> = (0..drawing.body.len()).map(|i| mean(&of(Some(i)))).collect();
        let apart_mm = (0..drawing.body.len())
            .map(|i| ends(&of(Some(i))).map_or(0.0, |[low, high]| high - low))
            .fold(0.0, f64::max);
        let mut missing: Vec<String> = drawing
            .body
            .iter()
            .zip(&outsides)
            .filter(|(_, size)| size.is_none())
            .map(|(step, _)| plain(&step.name, 30))
            .collect();
        if thicknesses.is_empty() && drawing.flange().is_some() {
            missing.push(THICKNESS.into());
        }
        let whole: Option<Vec<f64>> = outsides.into_iter().collect();
        let wider = |outsides: &[f64]| {
            let pockets: Vec<f64> = outsides
                .iter()
                .zip(&drawing.body)
                .map(|(outside, step)| outside - step.interference_mm)
                .collect();
            pockets.windows(2).position(|pair| pair[1] > pair[0])
        };
        if let Some(upper) = whole.as_deref().and_then(wider) {
            let names = [upper, upper + 1].map(|i| plain(&drawing.body[i].name, 30));
            let found = format!(
                "sleeve `{}` whose {} asks for a wider pocket than its {}",
                plain(number, 30),
                names[1],
                names[0]
            );
            faults.push(source.fault(None, "size", found, "pockets that do not widen going down".into()));
        }
        let flange = mean(&thicknesses).map(|mean_mm| Thickness {
            mean_mm,
            range_mm: thicknesses
                .iter()
                .fold([f64::INFINITY, f64::NEG_INFINITY], |[l, m], v| [l.min(*v), m.max(*v)]),
        });
        match (missing.is_empty(), whole) {
            (true, Some(outsides_mm)) => measured.push(MeasuredSleeve {
                sleeve,
                number: number.to_owned(),
                flange,
                outsides_mm,
                apart_mm,
            }),
            _ => {
                let found = format!("sleeve `{}` without {}", plain(number, 30), missing.join(", "));
                let expected = match drawing.flange() {
                    Some(_) => "every step of the body and the flange's thickness of each sleeve",
                    None => "every step of the body of each sleeve",
                };
                let expected = expected.into();
                faults.push(source.fault(None, "number", found, expected));
            }
        }
    }
    if faults.is_empty() { Ok(measured) } else { Err(faults) }
}

/// One row of the table of measured sleeves, in mm, or the fault in it: no number, an unknown sleeve or feature, or
/// a size too far off the drawing.
fn reading(table: &Table<'_>, row: &Row<'_>, sleeves: &[Sleeve]) -> Result<Reading, Box<Fault>> {
    let number = table.text(row, "number").to_owned();
    if !number.chars().any(char::is_alphanumeric) || number.chars().count() > 40 {
        let found = if number.is_empty() { "nothing".into() } else { format!("`{}`", plain(&number, 40)) };
        return Err(Box::new(table.fault(row, "number", found, "the number on the sleeve".into())));
    }
    let name = table.text(row, "sleeve");
    let sleeve = match (name, sleeves) {
        ("", [_]) => Some(0),
        _ => sleeves.iter().position(|s| s.name == name),
    };
    let Some(sleeve) = sleeve else {
        let known: Vec<String> = sleeves.iter().map(|s| format!("`{}`", plain(&s.name, 30))).collect();
        let found = if name.is_empty() { "nothing".into() } else { format!("`{}`", plain(name, 40)) };
        return Err(Box::new(table.fault(row, "sleeve", found, format!("one of {}", known.join(", ")))));
    };
    let feature = table.text(row, "feature");
    let drawing = &sleeves[sleeve];
    let step = drawing.body.iter().position(|s| s.name == feature);
    let flange = drawing.flange().filter(|_| feature == THICKNESS);
    if step.is_none() && flange.is_none() {
        let known: Vec<String> = drawing.body.iter().map(|s| format!("`{}`", plain(&s.name, 30))).collect();
        let expected = match drawing.flange() {
            Some(_) => format!("`{THICKNESS}` (of the flange) or a step: {}", known.join(", ")),
            None => format!("a step: {}", known.join(", ")),
        };
        let found = if feature.is_empty() { "nothing".into() } else { format!("`{}`", plain(feature, 40)) };
        return Err(Box::new(table.fault(row, "feature", found, expected)));
    }
    let (nominal, quantity) = match step {
        Some(i) => (drawing.body[i].diameter_mm, q::BORE),
        None => (flange.map_or(0.0, |f| f.thickness_mm), q::FLANGE_THICKNESS),
    };
    let size_mm = table.length_of(row, "size", quantity)?;
    if (size_mm - nominal).abs() > FAR_MM {
        let expected = format!(
            "within {FAR_MM} mm of the drawing's {nominal:.3} mm: a sleeve further off has another drawing"
        );
        return Err(Box::new(table.fault(row, "size", format!("{size_mm} mm"), expected)));
    }
    Ok(Reading { sleeve, number, step, size_mm })
}
