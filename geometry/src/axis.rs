//! The axis of a bore through its measured centres: a straight line x(d), y(d).

/// A bore's axis by depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoreAxis {
    /// Its place at depth 0, mm.
    pub at_deck_mm: [f64; 2],
    /// Its lean, mm per mm of depth.
    pub tilt: [f64; 2],
}

impl BoreAxis {
    /// The axis's place at a depth, mm.
    #[must_use]
    pub fn at(&self, depth_mm: f64) -> [f64; 2] {
        [0, 1].map(|k| self.at_deck_mm[k] + self.tilt[k] * depth_mm)
    }
}

/// Depths closer together than this are one depth, mm, and carry no tilt or taper: a probe's own repeatability over so
/// short a stretch would be read as a lean of millimetres over the bore.
pub const ONE_DEPTH_MM: f64 = 1e-3;

/// The least-squares line through centres `(depth, [x, y])`, mm; no tilt where all lie at one depth.
/// `None` without any centre.
///
/// ```
/// use borewright_geometry::fit_bore_axis;
/// let axis = fit_bore_axis(&[(0.0, [1.0, 0.0]), (100.0, [1.0, 0.2])]).unwrap();
/// assert!((axis.at(50.0)[1] - 0.1).abs() < 1e-15);
/// ```
#[must_use]
pub fn fit_bore_axis(centres: &[(f64, [f64; 2])]) -> Option<BoreAxis> {
    let count = f64::from(u32::try_from(centres.len()).ok().filter(|n| *n > 0)?);
    let depth = centres.iter().map(|c| c.0).sum::<f64>() / count;
    let middle = [0, 1].map(|k| centres.iter().map(|c| c.1[k]).sum::<f64>() / count);
    let spread: f64 = centres.iter().map(|c| (c.0 - depth).powi(2)).sum();
    let tilt = if spread < ONE_DEPTH_MM * ONE_DEPTH_MM {
        [0.0, 0.0]
    } else {
        [0, 1].map(|k| centres.iter().map(|c| (c.0 - depth) * (c.1[k] - middle[k])).sum::<f64>() / spread)
    };
    let at_deck_mm = if tilt == [0.0, 0.0] { middle } else { [0, 1].map(|k| middle[k] - tilt[k] * depth) };
    Some(BoreAxis { at_deck_mm, tilt })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_planted_axis_comes_back(
            x in -400.0..400.0_f64, y in -1.0..1.0_f64, tx in -0.01..0.01_f64, ty in -0.01..0.01_f64,
        ) {
            let axis = BoreAxis { at_deck_mm: [x, y], tilt: [tx, ty] };
            let found = fit_bore_axis(&[8.0, 60.0, 131.0].map(|d| (d, axis.at(d)))).unwrap();
            for k in 0..2 {
                prop_assert!((found.at_deck_mm[k] - axis.at_deck_mm[k]).abs() < 1e-10);
                prop_assert!((found.tilt[k] - axis.tilt[k]).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn one_depth_has_no_tilt_and_no_centre_no_axis() {
        let axis = fit_bore_axis(&[(20.0, [1.0, 2.0]), (20.0, [1.2, 2.0])]).unwrap();
        assert_eq!((axis.at_deck_mm, axis.tilt), ([1.1, 2.0], [0.0, 0.0]));
        assert!(fit_bore_axis(&[]).is_none());
    }
}
