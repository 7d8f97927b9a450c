//! Everything that a trend is written as, in memory.

use borewright_planner::family::Trend;

use crate::drawings;
use crate::paper::text::Fonts;
use crate::{Artifact, OutputError, trend_json};

/// Writes a trend as files: `trend.json`, and each picture under `figures/`. Equal trends give equal bytes.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub fn trend_bundle(trend: &Trend) -> Result<Vec<Artifact>, OutputError> {
    let fonts = Fonts::load()?;
    let mut artifacts = vec![Artifact::new("trend.json".to_owned(), trend_json(trend)?)];
    for picture in drawings::of_family(trend, fonts)? {
        let bytes = drawings::svg(&picture.figure, fonts)?.into_bytes();
        artifacts.push(Artifact::new(format!("figures/{}.svg", picture.name), bytes));
    }
    Ok(artifacts)
}
