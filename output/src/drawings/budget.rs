//! What holding the block costs the bore it costs most, locator by locator, as bars.

use borewright_planner::survey::fixture::BoreBudget;
use kurbo::{Point, Rect, Shape as _};

use super::figure::{CURVE_MM, Figure, Filling, HEADING_PT, Pen};
use super::scale;
use super::subject::{Subject, WIDE_MM};
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;

/// Room for the locators' names.
const NAMES_MM: f64 = 48.0;
/// Room for the figures behind the bars.
const FIGURES_MM: f64 = 22.0;
/// One bar.
const BAR_MM: f64 = 4.2;
/// One locator.
const ROW_MM: f64 = 11.5;

const ALONG: Filling = Filling::Hatched { slope_deg: 45.0, apart_mm: 1.1, width_mm: 0.2 };

/// The picture; `None` where the job names no fixture.
pub(super) fn figure(of: &Subject<'_>) -> Result<Option<Figure>, OutputError> {
    let Some(fixture) = &of.report.fixture else { return Ok(None) };
    let far = |b: &BoreBudget| b.at_deck[0].hypot(b.at_deck[1]);
    let Some(worst) = fixture.bores.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else { return Ok(None) };
    let [along, across] = worst.at_deck;
    let longest =
        worst.shares.iter().flat_map(|s| [s.along.abs(), s.across.abs()]).fold(along.max(across), f64::max);
    let enlarged = scale::round(longest, WIDE_MM - NAMES_MM - FIGURES_MM, 5000.0);
    let mut rows: Vec<(String, [f64; 2], bool)> =
        worst.shares.iter().map(|s| (s.locator.clone(), [s.along.abs(), s.across.abs()], false)).collect();
    rows.push(("together".to_owned(), [along, across], true));
    let count = rows.iter().map(|_| ROW_MM).sum::<f64>();
    let title = format!("Fixture budget, job {}", of.job.number);
    let mut pen = Pen::new(of.fonts, &title, WIDE_MM, 16.0 + count + 24.0);
    let head = format!("What the fixture costs: cylinder {} at the deck, the worst", worst.cylinder);
    pen.text(Point::new(0.0, 5.0), Align::Left, (Weight::Bold, HEADING_PT), &head);
    let held = of.fonts.fit(&format!("held by {}", fixture.held_by), Weight::Plain, 10.5, 500.0);
    pen.text(Point::new(0.0, 11.0), Align::Left, (Weight::Plain, 10.5), &held);
    let mut y = 16.0;
    for (name, figures, sum) in rows {
        if sum {
            pen.line(Point::new(0.0, y - 1.2), Point::new(WIDE_MM, y - 1.2), 0.4, Dash::Solid);
        }
        let weight = if sum { Weight::Bold } else { Weight::Plain };
        let name = of.fonts.fit(&name, weight, 10.5, (NAMES_MM - 2.0) * super::figure::PT_PER_MM);
        pen.text(Point::new(0.0, y + BAR_MM + 1.2), Align::Left, (weight, 10.5), &name);
        for (i, (size, filling)) in figures.into_iter().zip([ALONG, Filling::Black]).enumerate() {
            let top = if i == 0 { y } else { y + BAR_MM };
            let end = NAMES_MM + size * enlarged;
            let bar = Rect::new(NAMES_MM, top, end, top + BAR_MM);
            if bar.width() > 0.05 {
                pen.area(bar.to_path(CURVE_MM), filling);
                pen.stroke(bar.to_path(CURVE_MM), 0.25, Dash::Solid);
            }
            pen.text(
                Point::new(end + 1.5, top + BAR_MM - 0.7),
                Align::Left,
                (weight, 10.0),
                &of.length(size)?,
            );
        }
        y += ROW_MM;
    }
    pen.line(Point::new(NAMES_MM, 15.0), Point::new(NAMES_MM, y - 2.0), 0.4, Dash::Solid);
    y += 3.0;
    scale::bar(&mut pen, Point::new(NAMES_MM, y), enlarged, 30.0, of.units());
    pen.text(
        Point::new(NAMES_MM + 60.0, y + 1.3),
        Align::Left,
        (Weight::Bold, 10.5),
        &scale::words(enlarged),
    );
    let feeds = if fixture.feeds_limits { "it enters the limits" } else { "it is not in the limits" };
    let key = format!(
        "Standard uncertainty, {}, largest locator first: hatched along the bank, black across. Together: the root of \
         the sum of squares; {feeds}.",
        of.units().name()
    );
    pen.lines(Point::new(0.0, y + 4.0), WIDE_MM, (Weight::Plain, 10.0), 3, &key);
    Ok(Some(pen.figure))
}
