//! Rings shrunk one into another: contact pressures, stresses and growth of thick-walled cylinders.
//!
//! Lamé's solution in plane stress (free ends): S. Timoshenko, Strength of Materials, Part II, "Thick-walled
//! cylinders", from memory. A long sleeve in a thick block lies between plane stress and plane strain; plane
//! strain would give some 8 % more pressure.

/// One ring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Inside diameter, mm.
    pub inside_mm: f64,
    /// Outside diameter, mm.
    pub outside_mm: f64,
    /// Modulus of elasticity, MPa.
    pub elastic_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

impl Ring {
    /// Radial displacement per MPa of inside pressure and of outside pressure, at a radius, mm/MPa.
    fn compliance(&self, radius_mm: f64) -> [f64; 2] {
        let (a, b) = (self.inside_mm / 2.0, self.outside_mm / 2.0);
        let (a2, b2) = (a * a, b * b);
        let even = (1.0 - self.poisson) * radius_mm / (self.elastic_mpa * (b2 - a2));
        let odd = (1.0 + self.poisson) * a2 * b2 / (self.elastic_mpa * (b2 - a2) * radius_mm);
        [even * a2 + odd, -(even * b2 + odd)]
    }

    /// Hoop stress at a radius under an inside and an outside pressure, MPa.
    #[must_use]
    pub fn hoop_mpa(&self, radius_mm: f64, inside_mpa: f64, outside_mpa: f64) -> f64 {
        let (a, b) = (self.inside_mm / 2.0, self.outside_mm / 2.0);
        let (a2, b2) = (a * a, b * b);
        (inside_mpa * a2 - outside_mpa * b2 + (inside_mpa - outside_mpa) * a2 * b2 / (radius_mm * radius_mm))
            / (b2 - a2)
    }

    /// Growth on diameter at a radius under an inside and an outside pressure, mm.
    #[must_use]
    pub fn growth_mm(&self, radius_mm: f64, inside_mpa: f64, outside_mpa: f64) -> f64 {
        let [inside, outside] = self.compliance(radius_mm);
        2.0 * (inside * inside_mpa + outside * outside_mpa)
    }
}

/// Contact pressures between rings, MPa: from the innermost interface out, none negative.
///
/// `rings` from the innermost out, each one's outside the next one's inside; `interference_mm` on diameter, one a
/// contact, negative where there is clearance. `bore_mpa` acts in the innermost bore, `outside_mpa` on the
/// outermost face. A contact that would have to pull is open: its pressure is 0 and the rest is solved again.
///
/// Returns an empty list where the numbers of rings and interferences do not agree.
#[must_use]
pub fn contact_pressures(
    rings: &[Ring],
    interference_mm: &[f64],
    bore_mpa: f64,
    outside_mpa: f64,
) -> Vec<f64> {
    if rings.len() != interference_mm.len() + 1 {
        return Vec::new();
    }
    let mut open = vec![false; interference_mm.len()];
    // Every round opens at least one contact, or is the last.
    for _ in 0..=open.len() {
        let pressures = solve(rings, interference_mm, [bore_mpa, outside_mpa], &open);
        let pulls: Vec<usize> = (0..open.len()).filter(|&i| !open[i] && pressures[i] < 0.0).collect();
        let Some(worst) = pulls.iter().copied().min_by(|&i, &j| pressures[i].total_cmp(&pressures[j])) else {
            return pressures;
        };
        open[worst] = true;
    }
    vec![0.0; open.len()]
}

/// The tridiagonal equations of the contacts by elimination (Thomas), the open ones set to 0.
fn solve(rings: &[Ring], interference_mm: &[f64], [bore, outside]: [f64; 2], open: &[bool]) -> Vec<f64> {
    let n = interference_mm.len();
    let (mut diagonal, mut upper, mut right) = (vec![1.0; n], vec![0.0; n], vec![0.0; n]);
    for i in 0..n {
        let mut lower = 0.0;
        if !open[i] {
            let radius = rings[i].outside_mm / 2.0;
            let [inner_inside, inner_outside] = rings[i].compliance(radius);
            let [outer_inside, outer_outside] = rings[i + 1].compliance(rings[i + 1].inside_mm / 2.0);
            // Growth of the outer ring less that of the inner one takes up the interference.
            lower = -inner_inside;
            diagonal[i] = outer_inside - inner_outside;
            upper[i] = outer_outside;
            right[i] = interference_mm[i] / 2.0;
            if i == 0 {
                right[i] -= lower * bore;
                lower = 0.0;
            }
            if i + 1 == n {
                right[i] -= upper[i] * outside;
                upper[i] = 0.0;
            }
        }
        if i > 0 && lower != 0.0 {
            let factor = lower / diagonal[i - 1];
            diagonal[i] -= factor * upper[i - 1];
            right[i] -= factor * right[i - 1];
        }
    }
    let mut pressures = vec![0.0; n];
    for i in (0..n).rev() {
        let above = if i + 1 < n { upper[i] * pressures[i + 1] } else { 0.0 };
        pressures[i] = (right[i] - above) / diagonal[i];
    }
    pressures
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(inside_mm: f64, outside_mm: f64, elastic_mpa: f64, poisson: f64) -> Ring {
        Ring { inside_mm, outside_mm, elastic_mpa, poisson }
    }

    #[test]
    fn two_rings_agree_with_the_textbooks() {
        // Timoshenko, Strength of Materials II, built-up cylinder (from memory): inches and psi, radial 0.005.
        let p =
            contact_pressures(&[ring(8.0, 12.0, 30e6, 0.3), ring(12.0, 16.0, 30e6, 0.3)], &[0.010], 0.0, 0.0);
        assert!((p[0] - 4_050.925_926).abs() < 1e-3, "{p:?}");
        // Mott, Machine Elements, Example 13-2 (from memory): bronze in steel, 0.0032 in on diameter.
        let (bronze, steel) = (ring(2.0, 2.5, 17e6, 0.27), ring(2.5, 3.5, 30e6, 0.27));
        let p = contact_pressures(&[bronze, steel], &[0.0032], 0.0, 0.0)[0];
        assert!((p - 3_517.746_8).abs() < 1e-3, "{p}");
        assert!((steel.hoop_mpa(1.25, p, 0.0) - 10_846.386).abs() < 0.01);
        assert!((bronze.hoop_mpa(1.25, 0.0, p) + 16_025.291).abs() < 0.01);
        // The two growths take up the interference.
        let taken = steel.growth_mm(1.25, p, 0.0) - bronze.growth_mm(1.25, 0.0, p);
        assert!((taken - 0.0032).abs() < 1e-12);
        // Shigley, Tutorial 3-16 (numbers from memory): solid shaft.
        let p =
            contact_pressures(&[ring(0.0, 1.0, 30e6, 0.3), ring(1.0, 2.0, 30e6, 0.3)], &[0.0023], 0.0, 0.0)
                [0];
        assert!((p - 25_875.0).abs() < 0.5, "{p}");
    }

    #[test]
    fn three_rings_agree_with_croccolo_and_vincenzi() {
        // D. Croccolo, N. Vincenzi (2009), quick example without rotation: pressures computed independently.
        let rings = [
            ring(20.0, 29.99, 206e3, 0.29),
            ring(29.99, 49.976, 70e3, 0.33),
            ring(49.976, 70.0, 206e3, 0.29),
        ];
        // The published interferences are radial and belong to the outer and the inner contact.
        let p = contact_pressures(&rings, &[0.020, 0.050], 30.0, 150.0);
        assert!((p[1] - 161.634_802).abs() < 1e-4 && (p[0] - 175.311_177).abs() < 1e-4, "{p:?}");
        let p = contact_pressures(&rings, &[0.020, 0.050], 0.0, 0.0);
        assert!((p[1] - 46.492_080).abs() < 1e-4 && (p[0] - 59.236_910).abs() < 1e-4, "{p:?}");
    }

    #[test]
    fn a_clearance_has_no_pressure_and_does_not_pull() {
        let rings = [ring(81.5, 88.6, 170e3, 0.275), ring(88.6, 100.0, 71e3, 0.33)];
        assert_eq!(contact_pressures(&rings, &[-0.05], 0.0, 0.0), vec![0.0]);
        let three = [rings[0], ring(88.6, 92.0, 97e3, 0.26), ring(92.0, 110.0, 71e3, 0.33)];
        let p = contact_pressures(&three, &[0.05, -1.0], 0.0, 0.0);
        assert!(p[0] > 0.0 && p[1] == 0.0, "{p:?}");
        assert!(contact_pressures(&three, &[0.05], 0.0, 0.0).is_empty());
    }
}
