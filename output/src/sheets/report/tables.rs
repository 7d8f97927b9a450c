//! Bores, sizes and every reading, as tables.

use borewright_planner::as_left::{AsLeft, Lay, Place};
use borewright_planner::plan::check::Of;

use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::as_left::{asked, stamp};
use crate::said::number::Fixed;
use crate::said::short::{bank, one_line, shorten};
use crate::said::units::{Digits, Units};

/// From found to finished, a row a bore.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn bores(pages: &mut Pages<'_>, units: Units, left: &AsLeft) -> Result<(), OutputError> {
    pages.heading(&format!("From found to finished, {}", units.name()), 80.0);
    let columns = [
        Column::figures("cyl.", 5.0).bold().size(12.0),
        Column::words("sleeve", 9.0),
        Column::figures("found\noff true", 10.0),
        Column::figures("cut off\nits place", 10.0),
        Column::figures("cut\noff true", 10.0),
        Column::figures("finished,\nmean", 10.0).bold(),
        Column::figures("u", 8.0),
        Column::figures("out of\nround", 9.0),
        Column::figures("taper", 9.0),
        Column::figures("sleeve\nproud", 10.0),
        Column::words("how it left", 11.0),
    ];
    let dash = || "–".to_owned();
    let mut rows = Vec::new();
    for bore in &left.cylinders {
        let finished = left.finished(bore.cylinder);
        let proud = left.protrusion(bore.cylinder);
        let off = |mm: Option<(f64, f64)>| -> Result<String, OutputError> {
            let Some((mm, u)) = mm else { return Ok(dash()) };
            Ok(units.uncertain(mm, u)?.stacked())
        };
        let far = |u: [f64; 2]| u[0].max(u[1]);
        let cut = bore.cut.filter(|c| c.read > 0).map(|c| (c.off_told.distance, far(c.u)));
        let off_cut = bore.cut.map(|c| (c.off_true.distance, far(c.u)));
        let form =
            |t: Option<borewright_planner::as_left::Uncertain>| t.map(|t| units.uncertain(t.figure, t.u));
        let round = form(finished.and_then(|s| s.round)).transpose()?;
        let taper = form(finished.and_then(|s| s.taper)).transpose()?;
        let mean = finished.map(|s| units.length(s.mean, Digits::Fine)).transpose()?;
        let u = finished.map(|s| units.length(s.u, Digits::Fine)).transpose()?;
        let ends = proud
            .map(|s| -> Result<String, OutputError> {
                let [a, b] = s.ends.map(|v| units.length(v, Digits::Fine));
                Ok(format!("{}\n{}", a?.stacked_signed(), b?.stacked_signed()))
            })
            .transpose()?;
        let sleeve = bore.sleeve.as_deref().map(shorten).unwrap_or_default();
        let number = bore.number.as_deref().map(|n| format!("\n{}", one_line(n, 12))).unwrap_or_default();
        rows.push(Row::Cells(vec![
            bore.cylinder.to_string(),
            format!("{sleeve}{number}"),
            off(bore.found.map(|f| (f.off_true.distance, far(f.u))))?,
            off(cut)?,
            off(off_cut)?,
            mean.map_or_else(dash, |m| m.stacked()),
            u.map_or_else(dash, |u| u.stacked()),
            round.map_or_else(dash, |r| r.stacked()),
            taper.map_or_else(dash, |t| t.stacked_signed()),
            ends.unwrap_or_else(dash),
            bore.left.to_owned(),
        ]));
    }
    draw(pages, &columns, &rows);
    pages.paragraph(
        "Off true: from where the bore belongs, at the deck. Cut off its place: as X and Y were read, less the list; a dash \
         where nobody read them, and cut off true is then the list's place. u: standard uncertainty of one reading of the \
         finished size; about two of them either way hold the truth. Out of round: the widest less the narrowest way at one \
         depth; a gauge of two points does not see an odd number of lobes. Taper: bottom less top. Sleeve proud: least and \
         most above the deck.",
        Weight::Plain,
        BODY,
    );
    Ok(())
}

/// Asked and found, a row a bore and check.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn sizes(pages: &mut Pages<'_>, units: Units, left: &AsLeft) -> Result<(), OutputError> {
    if left.sizes.is_empty() {
        return Ok(());
    }
    pages.heading(&format!("Asked and found, {}", units.name()), 80.0);
    let columns = [
        Column::figures("cyl.", 6.0).bold().size(11.5),
        Column::figures("mean", 12.0).size(11.0),
        Column::figures("less asked", 12.0).size(11.0),
        Column::figures("least", 12.0).size(11.0),
        Column::figures("most", 12.0).size(11.0),
        Column::figures("u", 9.0),
        Column::figures("places\nread", 9.0),
        Column::words("", 18.0).bold(),
    ];
    let mut rows = Vec::new();
    let mut check = None;
    for s in &left.sizes {
        if check != Some((s.check, s.of)) {
            check = Some((s.check, s.of));
            let asked = asked(units, s)?;
            rows.push(Row::Band(format!(
                "CHECK {}: {}, {}, {}: {} {asked}",
                s.check,
                s.stage.word(),
                shorten(&s.feature),
                bank(&s.bank),
                s.of.words()
            )));
        }
        let figure = |v: f64| -> Result<String, OutputError> {
            Ok(match s.of {
                Of::Roughness => Fixed::new(v, 2)?.to_string(),
                _ => units.uncertain(v, s.u)?.stacked(),
            })
        };
        let off = s.off.filter(|_| s.of != Of::Roughness).map(|off| units.uncertain(off, s.u)).transpose()?;
        let u =
            if s.of == Of::Roughness { String::new() } else { units.length(s.u, Digits::Fine)?.stacked() };
        rows.push(Row::Cells(vec![
            s.cylinder.map_or_else(|| "bank".to_owned(), |c| c.to_string()),
            figure(s.mean)?,
            off.map_or_else(String::new, |off| off.stacked_signed()),
            figure(s.ends[0])?,
            figure(s.ends[1])?,
            u,
            format!("{} of {}", s.places[0], s.places[1]),
            stamp(s.lies).to_owned(),
        ]));
    }
    draw(pages, &columns, &rows);
    Ok(())
}

/// Every reading in the order in which it is asked for.
///
/// # Errors
/// Where a figure cannot be printed.
pub(super) fn readings(pages: &mut Pages<'_>, units: Units, left: &AsLeft) -> Result<(), OutputError> {
    if left.places.iter().all(|p| p.lines.is_empty()) {
        return Ok(());
    }
    pages.heading(&format!("Every reading, {}", units.name()), 80.0);
    pages.paragraph(
        "In the order of the boxes on the cards. nr: written down as no reading. A dash: not read. (2): mean of two. An \
         exclamation mark: not as asked.",
        Weight::Plain,
        BODY,
    );
    let columns = [
        Column::figures("cyl.", 6.0).bold(),
        Column::words("readings", 50.0),
        Column::words("by, with, when", 26.0),
    ];
    let mut rows = Vec::new();
    let mut check = None;
    for own in left.places.chunk_by(|a, b| a.check == b.check && a.cylinder == b.cylinder) {
        let Some(first) = own.first().filter(|_| own.iter().any(|p| !p.lines.is_empty())) else { continue };
        if check != Some(first.check) {
            check = Some(first.check);
            let what = first.what.words();
            rows.push(Row::Band(format!("CHECK {}: {}, {what}", first.check, shorten(&first.feature))));
        }
        let texts = own.iter().map(|p| said(units, p)).collect::<Result<Vec<_>, _>>()?;
        rows.push(Row::Cells(vec![
            first.cylinder.map_or_else(|| "bank".to_owned(), |c| c.to_string()),
            texts.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("  "),
            who(own),
        ]));
    }
    draw(pages, &columns, &rows);
    Ok(())
}

/// A place's reading in a cell: which figure, its value, how often it was read, and a mark where it is wrong.
fn said(units: Units, p: &Place) -> Result<String, OutputError> {
    let of = match p.of {
        Of::X
        | Of::Y
        | Of::Z
        | Of::Arc
        | Of::Clock
        | Of::Roughness
        | Of::Flatness
        | Of::Parent
        | Of::Off
        | Of::Tight => {
            format!("{} ", p.of.words())
        }
        Of::Set => "head ".to_owned(),
        Of::Diameter | Of::Depth | Of::Height | Of::Cut | Of::Look => String::new(),
    };
    let figure = match (p.found, p.lies) {
        (Some(v), _) if p.of.measure().is_length() => {
            units.length(v, Digits::Fine)?.stacked().replace('\n', " ")
        }
        (Some(v), _) if p.of == Of::Roughness => format!("{} µm", Fixed::new(v, 2)?),
        (Some(v), _) => format!("{}°", Fixed::new(v, 0)?),
        (None, Lay::Within) => "yes".to_owned(),
        (None, Lay::NotAsAsked) => "no".to_owned(),
        (None, Lay::NoReading) => "nr".to_owned(),
        // What may be read too and was not is not missed.
        (None, _) if !p.waits => return Ok(String::new()),
        (None, _) => "–".to_owned(),
    };
    let times = if p.readings > 1 { format!(" ({})", p.readings) } else { String::new() };
    Ok(format!("{of}{figure}{times}{}", if p.is_wrong() { "!" } else { "" }))
}

/// Who read, with what, and when the last of them.
fn who(places: &[Place]) -> String {
    let last = places.iter().filter(|p| !p.lines.is_empty()).max_by_key(|p| p.lines.last().copied());
    let Some(last) = last else { return String::new() };
    let mut names: Vec<&str> = Vec::new();
    for place in places.iter().filter(|p| !p.by.is_empty()) {
        if !names.contains(&place.by.as_str()) {
            names.push(&place.by);
        }
    }
    let names = if names.is_empty() { "nobody named".to_owned() } else { names.join(", ") };
    let day = last.at.get(..16).unwrap_or(&last.at).replace('T', " ");
    [names, last.instrument.clone(), day].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(", ")
}
