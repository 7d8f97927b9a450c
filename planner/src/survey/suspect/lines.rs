//! Each bore as it came by a straight line through its circles, as the plan takes it.

use crate::job::{Job, Surface};
use crate::survey::bore::FoundCircle;
use borewright_geometry::sample::{count, median};

/// A bore by its line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    pub(super) cylinder: u32,
    pub(super) bank: usize,
    /// Its true place along the bank, mm.
    pub(super) x_mm: f64,
    /// Measured less true at the depth that all lines are taken at, mm.
    pub(super) off_mm: [f64; 2],
    /// mm per mm of depth; `None` from one depth.
    pub(super) tilt: Option<[f64; 2]>,
    /// Root of the sum of squared distances of its depths from their mean, mm.
    pub(super) lever_mm: f64,
}

/// The lines of one bank.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BankLines {
    pub(super) bank: usize,
    /// The depth that all are taken at, mm: the mean of all circles of the block.
    pub(super) at_depth_mm: f64,
    pub(super) lines: Vec<Line>,
}

/// The circles of one bore as the plan takes it: of the first round, on the liner where that was read.
pub(super) fn came<'c>(circles: &'c [FoundCircle], cylinder: u32) -> Vec<&'c FoundCircle> {
    let on = |surface: Surface| -> Vec<&'c FoundCircle> {
        circles.iter().filter(|c| c.planned && c.cylinder == cylinder && c.surface == surface).collect()
    };
    [Surface::Liner, Surface::Parent, Surface::Sleeve]
        .into_iter()
        .map(on)
        .find(|of| !of.is_empty())
        .unwrap_or_default()
}

/// The lines of every bank's bores.
pub(super) fn lines(job: &Job, circles: &[FoundCircle]) -> Vec<BankLines> {
    let planned = || circles.iter().filter(|c| c.planned);
    let at_depth_mm = planned().map(|c| c.depth_mm).sum::<f64>() / count(planned().count().max(1));
    let of_bank = |(bank, layout): (usize, &crate::job::Bank)| {
        let mut found: Vec<(Line, f64)> = Vec::new();
        for site in &layout.sites {
            let own = came(circles, site.cylinder);
            if own.is_empty() {
                continue;
            }
            let n = count(own.len());
            let depth = own.iter().map(|c| c.depth_mm).sum::<f64>() / n;
            let true_mm = [site.x_mm, layout.axis_offset_mm];
            let middle = [0, 1].map(|k| own.iter().map(|c| c.centre_mm[k] - true_mm[k]).sum::<f64>() / n);
            let square: f64 = own.iter().map(|c| (c.depth_mm - depth).powi(2)).sum();
            let tilt = (square > 1.0).then(|| {
                [0, 1]
                    .map(|k| own.iter().map(|c| (c.depth_mm - depth) * c.centre_mm[k]).sum::<f64>() / square)
            });
            let line = Line {
                cylinder: site.cylinder,
                bank,
                x_mm: site.x_mm,
                off_mm: middle,
                tilt,
                lever_mm: square.sqrt(),
            };
            found.push((line, depth));
        }
        // A bore of one depth is taken to lean as the rest of its bank.
        let common = mean_tilt(&found.iter().map(|(line, _)| line.clone()).collect::<Vec<_>>());
        let lines = found
            .into_iter()
            .map(|(line, depth)| {
                let tilt = line.tilt.or(common).unwrap_or_default();
                let off_mm = [0, 1].map(|k| line.off_mm[k] + tilt[k] * (at_depth_mm - depth));
                Line { off_mm, ..line }
            })
            .collect();
        BankLines { bank, at_depth_mm, lines }
    };
    job.block.banks.iter().enumerate().map(of_bank).collect()
}

/// How the bores of a bank lean in the middle; `None` where none was read at two depths.
pub(super) fn mean_tilt(lines: &[Line]) -> Option<[f64; 2]> {
    let tilts: Vec<[f64; 2]> = lines.iter().filter_map(|l| l.tilt).collect();
    if tilts.is_empty() {
        return None;
    }
    Some([0, 1].map(|k| median(tilts.iter().map(|t| t[k]).collect())))
}
