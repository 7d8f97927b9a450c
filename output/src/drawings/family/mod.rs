//! Pictures of a family: where its bores stand off, where its walls are thin.

mod stand;
mod walls;

use borewright_planner::family::Trend;

use super::Picture;
use super::names::Names;
use crate::OutputError;
use crate::paper::text::Fonts;

/// Every picture of a family; one that has nothing to show is left out.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn all(trend: &Trend, fonts: &Fonts) -> Result<Vec<Picture>, OutputError> {
    let mut names = Names::default();
    let mut pictures = Vec::new();
    for bank in &trend.banks {
        if let Some(figure) = stand::figure(&trend.family, bank, fonts) {
            pictures.push(Picture { name: names.of("stand", Some(&bank.bank)), figure });
        }
    }
    for (number, figure) in (1..).zip(walls::figures(&trend.family, &trend.walls, fonts)) {
        let page: i32 = number;
        pictures.push(Picture { name: names.of("walls", Some(&page.to_string())), figure });
    }
    Ok(pictures)
}
