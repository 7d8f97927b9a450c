//! What to read of a block that just came in, in which order, with boxes to write into.

use borewright_planner::job::{Front, SheetUnits};
use borewright_planner::plan::prior::{Prior, WallPrior};
use borewright_planner::start::{CirclePlace, HeightPlace, ToRead, WallPlace};

use crate::OutputError;
use crate::paper::about::{About, Labels};
use crate::paper::pages::{BODY, Head, Pages};
use crate::paper::pdf;
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::{Fonts, Weight};
use crate::said::short::{bank, one_line, shorten};
use crate::said::units::{Digits, Units};

/// A block to be read.
#[derive(Debug, Clone)]
pub struct Measuring {
    /// The block's name; empty where it is not known yet.
    pub block: String,
    /// What is read, set-up by set-up.
    pub to_read: Vec<ToRead>,
    /// What its family says, where that was asked.
    pub prior: Option<Prior>,
    /// The units of the tables that are filled in from it.
    pub units: SheetUnits,
}

/// The sheet's bytes. Equal blocks give equal bytes.
///
/// # Errors
/// Where a figure cannot be printed.
pub fn measuring_sheet(of: &Measuring) -> Result<Vec<u8>, OutputError> {
    let fonts = Fonts::load()?;
    let mut pages = Pages::new(fonts);
    let units = Units::of(of.units);
    filled_in(
        &mut pages,
        &[
            "block, heat or casting number",
            "date",
            "by",
            "gauges and instruments",
            "block, degrees",
            "machine, degrees",
        ],
    );
    let thin: &[WallPrior] = of.prior.as_ref().map(Prior::walls_first).unwrap_or_default();
    if let Some(prior) = &of.prior {
        pages.bookmark("Family");
        pages.heading(&format!("What the family {} says", shorten(&prior.family)), 40.0);
        for said in &prior.says {
            pages.paragraph(&format!("– {}", one_line(&units.say(said), 400)), Weight::Plain, BODY);
        }
    }
    let first = first_walls(of, thin);
    if !first.is_empty() {
        pages.bookmark("Walls to read first");
        pages.heading(
            &format!("1. Walls to read first, {}: the family is thinnest there", units.name()),
            60.0,
        );
        walls(&mut pages, units, &first)?;
    }
    let from = if first.is_empty() { 1 } else { 2 };
    for (number, set_up) in (from..).zip(&of.to_read) {
        this_set_up(&mut pages, units, number, set_up, thin)?;
    }
    let head = Head {
        sheet: "measuring",
        void: "Readings go into the tables of the job's folder; this paper is no plan.",
        job: String::new(),
        block: of.block.clone(),
        customer: String::new(),
        fingerprint: "none: not planned".to_owned(),
        verdict: "MEASURE".to_owned(),
        consequence: "NOT FOR CUTTING".to_owned(),
        box_weight: 1.5,
    };
    let (pages, bookmarks) = pages.finish(&head);
    let about = About {
        title: format!("Measuring, block {}", shorten(&of.block)),
        identity: String::new(),
        bookmarks,
        labels: Labels::Plain,
    };
    pdf::write(&pages, fonts, &about)
}

/// A wall to read first, and the place of the family that says so.
type Wall<'p> = (WallPlace, &'p WallPrior);

fn first_walls<'p>(of: &Measuring, thin: &'p [WallPrior]) -> Vec<Wall<'p>> {
    let all = of.to_read.iter().flat_map(|set_up| set_up.walls_by_need(thin));
    let mut first: Vec<Wall<'p>> = all.filter_map(|own| Some((own.wall, own.thin?))).collect();
    first.sort_by_key(|(_, place)| thin.iter().position(|t| t == *place));
    first
}

/// Draws the pages of a set-up: what is to be read of it, and the walls that were thin in the family, in the units of
/// its tables.
fn this_set_up(
    pages: &mut Pages,
    units: Units,
    number: u32,
    of: &ToRead,
    thin: &[WallPrior],
) -> Result<(), OutputError> {
    let name = shorten(&of.set_up);
    // What is written down once leaves the first of them the rest of its page.
    if number > 1 {
        pages.turn();
    }
    pages.bookmark(&name);
    let way = match of.machine {
        None => "in the bank's frame: x from the along datum, y from the journal axis",
        Some(Front::Left) => "off the machine's scales, the block's front at the operator's left",
        Some(Front::Right) => "off the machine's scales, the block's front at the operator's right",
    };
    pages.heading(&format!("{number}. {name}: {}", bank(&of.bank)), 60.0);
    pages.paragraph(way, Weight::Plain, BODY);
    let unit = units.name();
    let depth = |mm: f64| Ok::<_, OutputError>(units.length(mm, Digits::Depth)?.stacked());
    if of.machine.is_some() {
        filled_in(pages, &["machine x of the along datum"]);
    }
    let named = |what: &str, names: &[String]| {
        names.iter().map(|n| open(vec![format!("{what} {}", shorten(n))], 3)).collect::<Vec<Row>>()
    };
    for (title, rows) in [
        ("Journal axis: the middle of each main", named("main", &of.axis)),
        ("Housing bores: points", named("main", &of.mains)),
        ("Deck: points, spread wide", (1..=of.deck).map(|n| open(vec![n.to_string()], 3)).collect()),
    ] {
        table(pages, &format!("{title}, {unit}"), &AXIS, &rows);
    }
    let mut rows = Vec::new();
    for CirclePlace { cylinder, depth_mm: at } in &of.bores {
        rows.push(open(vec![cylinder.to_string(), depth(*at)?], 3));
    }
    table(pages, &format!("Bores: circles, {unit}"), &CIRCLES, &rows);
    rows.clear();
    for CirclePlace { cylinder, depth_mm: at } in &of.points {
        rows.push(open(vec![cylinder.to_string(), depth(*at)?], 2));
    }
    table(pages, &format!("Bores: points, {unit}"), &POINTS, &rows);
    rows.clear();
    let rest = of.walls_by_need(thin).into_iter().filter(|own| own.thin.is_none());
    for WallPlace { cylinder, depth_mm, clock_deg } in rest.map(|own| own.wall) {
        rows.push(open(vec![cylinder.to_string(), format!("{clock_deg:.0}°"), depth(depth_mm)?], 1));
    }
    table(pages, &format!("Walls, {unit}; nr where no reading can be taken"), &REST, &rows);
    let heights: Vec<Row> = of
        .heights
        .iter()
        .map(|HeightPlace { cylinder, clock_deg }| {
            open(vec![cylinder.to_string(), format!("{clock_deg:.0}°")], 1)
        })
        .collect();
    table(pages, &format!("Heights against the deck, {unit}; sunk is negative"), &HEIGHTS, &heights);
    Ok(())
}

/// Titles and shares of a table's columns.
type Columns = [(&'static str, f64)];
const AXIS: [(&str, f64); 4] = [("point", 60.0), ("x", 90.0), ("y", 90.0), ("z", 90.0)];
const CIRCLES: [(&str, f64); 5] =
    [("cylinder", 50.0), ("depth", 60.0), ("x", 90.0), ("y", 90.0), ("diameter", 90.0)];
const POINTS: [(&str, f64); 4] = [("cylinder", 50.0), ("depth", 60.0), ("x", 120.0), ("y", 120.0)];
const HEIGHTS: [(&str, f64); 3] = [("cylinder", 60.0), ("clock", 60.0), ("height", 160.0)];
const REST: [(&str, f64); 4] = [("cylinder", 60.0), ("clock", 60.0), ("depth", 60.0), ("wall read", 160.0)];
const WALLS: [(&str, f64); 6] = [
    ("cylinder", 55.0),
    ("clock", 50.0),
    ("depth", 60.0),
    ("family: mean", 75.0),
    ("no less than,\n95 % sure", 85.0),
    ("wall read", 130.0),
];

/// Height of an open row, pt.
const OPEN_ROW: f64 = 22.0;

fn table(pages: &mut Pages, title: &str, columns: &Columns, rows: &[Row]) {
    if rows.is_empty() {
        return;
    }
    let rows = kept(rows);
    // With the whole of its first bore, which is not parted from its heading.
    let first = 1 + rows.iter().take_while(|row| matches!(row, Row::Kept(_))).count();
    let following: f64 = rows.iter().take(first).map(|_| OPEN_ROW).sum();
    pages.heading(title, 60.0_f64.max(following + 24.0));
    let columns: Vec<Column> =
        columns.iter().map(|(title, share)| Column::words(title, *share).size(12.0)).collect();
    draw(pages, &columns, &rows);
}

/// The rows of a bore together, those of a depth where that is more than a page gives up: nobody turns over amid a bore.
fn kept(rows: &[Row]) -> Vec<Row> {
    const MOST: usize = 12;
    let cells = |row: &Row| match row {
        Row::Cells(cells) => cells.clone(),
        _ => Vec::new(),
    };
    let all: Vec<Vec<String>> = rows.iter().map(cells).collect();
    let of_bore = |own: &[String]| all.iter().filter(|other| other.first() == own.first()).count();
    let joined = |own: &[String], next: &[String]| {
        own.first() == next.first() && (of_bore(own) <= MOST || own.get(2) == next.get(2))
    };
    let nexts = all.iter().skip(1).map(Some).chain([None]);
    all.iter()
        .zip(nexts)
        .map(|(own, next)| match next {
            Some(next) if joined(own, next) => Row::Kept(own.clone()),
            _ => Row::Cells(own.clone()),
        })
        .collect()
}

fn walls(pages: &mut Pages, units: Units, walls: &[Wall<'_>]) -> Result<(), OutputError> {
    let mut rows = Vec::new();
    for (WallPlace { cylinder, depth_mm, clock_deg }, place) in walls {
        let length = |mm: f64| Ok::<_, OutputError>(units.length(mm, Digits::Middling)?.stacked());
        let mean = length(place.wall.mean)?;
        let least = place.wall.next_least.map_or_else(|| Ok("too few".to_owned()), length)?;
        rows.push(Row::Cells(vec![
            cylinder.to_string(),
            format!("{clock_deg:.0}°"),
            units.length(*depth_mm, Digits::Depth)?.stacked(),
            mean,
            least,
            String::new(),
        ]));
    }
    let columns: Vec<Column> =
        WALLS.iter().map(|(title, share)| Column::words(title, *share).size(12.0)).collect();
    draw(pages, &columns, &rows);
    Ok(())
}

/// A row with so many boxes left open.
fn open(mut cells: Vec<String>, boxes: usize) -> Row {
    cells.extend((0..boxes).map(|_| String::new()));
    Row::Cells(cells)
}

/// Boxes with what goes into each.
fn filled_in(pages: &mut Pages, what: &[&str]) {
    let rows: Vec<Row> = what.iter().map(|name| open(vec![(*name).to_owned()], 1)).collect();
    let columns = [Column::words("to write down", 150.0).size(11.0), Column::words("", 300.0)];
    pages.gap(4.0);
    draw(pages, &columns, &rows);
}
