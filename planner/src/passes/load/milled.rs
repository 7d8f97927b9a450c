//! The chip that a cutter's teeth take as it goes round inside a hole.

/// The least angle in metal that is reckoned with, radians.
const LEAST: f64 = 1e-6;

/// Where a cutter is in metal: from the wall, at 0, round to where it comes out into what is open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cut {
    /// Angle in metal, radians.
    angle: f64,
    /// Wall, way of the cutter's middle, cutter, mm, where the angle is one between wall and old bore.
    between_mm: Option<[f64; 3]>,
}

/// Chip of one tooth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tooth {
    /// Thickest, mm.
    pub(super) thickest_mm: f64,
    /// Mean over the angle in metal, mm.
    pub(super) mean_mm: f64,
    /// Teeth in metal at once.
    pub(super) in_cut: f64,
}

/// The cut of a cutter against a wall, taking `stock_mm` a side off a round hole, mm.
///
/// Its edge at an angle a from the wall stands √(p² + r² + 2 p r cos a) from the hole's middle, p the radius of its
/// way; it is out of metal where that is the old radius (law of cosines).
pub(super) fn cut(wall_mm: f64, cutter_mm: f64, stock_mm: f64) -> Cut {
    let way = wall_mm - cutter_mm;
    let old = (wall_mm - stock_mm).max(0.0);
    if way <= 0.0 || cutter_mm <= 0.0 {
        // A cutter as wide as the hole is in metal all round.
        return Cut { angle: std::f64::consts::PI, between_mm: None };
    }
    let cosine = (old * old - way * way - cutter_mm * cutter_mm) / (2.0 * way * cutter_mm);
    let corner = cosine > -1.0 && cosine < 1.0 && stock_mm <= wall_mm;
    let between_mm = corner.then_some([wall_mm, way, cutter_mm]);
    Cut { angle: cosine.clamp(-1.0, 1.0).acos(), between_mm }
}

impl Cut {
    /// Angle in metal, degrees; never under the least that is reckoned with.
    pub(super) fn angle_deg(self) -> f64 {
        self.angle.max(LEAST).to_degrees()
    }

    /// Whether the angle is one between wall and old bore.
    pub(super) fn is_between(self) -> bool {
        self.between_mm.is_some() && self.angle > LEAST
    }

    /// Wall, way of the cutter's middle, cutter, mm.
    pub(super) fn radii_mm(self) -> impl Iterator<Item = f64> {
        self.between_mm.into_iter().flatten()
    }

    /// The chip of one of its teeth with a feed a tooth, mm: f sin a thick at an angle a from the wall.
    pub(super) fn tooth(self, feed_mm: f64, teeth: f64) -> Tooth {
        let angle = self.angle.max(LEAST);
        let steepest = angle.min(std::f64::consts::FRAC_PI_2);
        Tooth {
            thickest_mm: feed_mm * steepest.sin(),
            mean_mm: feed_mm * (1.0 - angle.cos()) / angle,
            in_cut: (angle * teeth / std::f64::consts::TAU).ceil().max(1.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn along_a_straight_wall_the_chip_is_that_of_the_handbooks() {
        // A hole so large that its wall is straight: cos a = 1 - 2 a_e / D; mean chip f_z (a_e / D) 114.6 / a in
        // degrees (the usual formula of milling handbooks, from memory).
        let (cutter, stock) = (20.0, 8.0);
        let cut = cut(1e7, cutter / 2.0, stock);
        let angle = (1.0_f64 - 2.0 * stock / cutter).acos();
        assert!((cut.angle - angle).abs() < 1e-5, "{cut:?}");
        let tooth = cut.tooth(0.1, 4.0);
        let mean = 0.1 * (stock / cutter) * 114.592 / angle.to_degrees();
        assert!((tooth.mean_mm - mean).abs() < 1e-6, "{tooth:?}");
        assert!((tooth.thickest_mm - 0.1 * angle.sin()).abs() < 1e-6);
        assert_eq!(tooth.in_cut, 1.0);
    }

    #[test]
    fn inside_a_hole_a_cutter_is_longer_in_metal() {
        let straight = cut(1e7, 12.5, 0.2);
        let inside = cut(48.0, 12.5, 0.2);
        assert!(inside.angle > straight.angle, "{inside:?} {straight:?}");
        // In the solid it cuts over half its round, and the chip is as thick as the feed.
        let slot = cut(30.0, 12.5, 25.0);
        assert!(slot.angle > std::f64::consts::FRAC_PI_2);
        assert!((slot.tooth(0.1, 3.0).thickest_mm - 0.1).abs() < 1e-12);
        assert!(slot.tooth(0.1, 6.0).in_cut >= 2.0);
        assert!(cut(10.0, 12.5, 1.0).tooth(0.1, 2.0).thickest_mm.is_finite());
    }
}
