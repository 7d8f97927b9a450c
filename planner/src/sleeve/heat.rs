//! Free expansion: what heat opens, and what it takes away.

use crate::material::REFERENCE_C;

/// A pocket and the sleeve in it: diameter of the interface, mm, and both expansions, 1/K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Diameter of the interface, mm.
    pub diameter_mm: f64,
    /// Expansion of the block, 1/K.
    pub block_per_k: f64,
    /// Expansion of the sleeve, 1/K.
    pub sleeve_per_k: f64,
}

impl Pair {
    /// How much larger the pocket becomes than the sleeve from 20 °C, on diameter, mm.
    ///
    /// d (a_block (T_b - 20) - a_sleeve (T_s - 20)): linear expansion about the reference temperature of ISO 1.
    #[must_use]
    pub fn opened_mm(&self, block_c: f64, sleeve_c: f64) -> f64 {
        let block = self.block_per_k * (block_c - REFERENCE_C);
        let sleeve = self.sleeve_per_k * (sleeve_c - REFERENCE_C);
        self.diameter_mm * (block - sleeve)
    }

    /// Block temperature that opens so much on diameter, degrees Celsius; the reference temperature where it is open.
    ///
    /// ```
    /// # use borewright_planner::sleeve::heat::Pair;
    /// // 94 mm, 0.075 tight, 0.05 to drop, aluminium of 21.4e-6/K, sleeve at 20 degrees: 82.14 degrees.
    /// let pair = Pair { diameter_mm: 94.0, block_per_k: 21.4e-6, sleeve_per_k: 10.5e-6 };
    /// assert!((pair.block_c(0.075 + 0.05, 20.0) - 82.140).abs() < 1e-3);
    /// ```
    #[must_use]
    pub fn block_c(&self, open_mm: f64, sleeve_c: f64) -> f64 {
        let grown = open_mm / self.diameter_mm + self.sleeve_per_k * (sleeve_c - REFERENCE_C);
        REFERENCE_C + (grown / self.block_per_k).max(0.0)
    }

    /// Sleeve temperature that opens so much on diameter with the block at a temperature, degrees Celsius.
    #[must_use]
    pub fn sleeve_c(&self, open_mm: f64, block_c: f64) -> f64 {
        let grown = self.block_per_k * (block_c - REFERENCE_C);
        REFERENCE_C + (grown - open_mm / self.diameter_mm) / self.sleeve_per_k
    }

    /// Temperature of both together at which an interference is gone, degrees Celsius; `None` where there is none, or
    /// heat does not take it.
    ///
    /// ```
    /// # use borewright_planner::sleeve::heat::Pair;
    /// // 94 mm, 0.075 tight, 21.4 against 10.5e-6/K: 1.0246e-3 mm lost a kelvin, gone 73.20 K up.
    /// let pair = Pair { diameter_mm: 94.0, block_per_k: 21.4e-6, sleeve_per_k: 10.5e-6 };
    /// assert!((pair.gone_at_c(0.075).unwrap() - 93.20).abs() < 0.01);
    /// assert!((pair.opened_mm(21.0, 21.0) - 1.024_6e-3).abs() < 1e-8);
    /// assert_eq!(pair.gone_at_c(-0.01), None);
    /// ```
    #[must_use]
    pub fn gone_at_c(&self, tight_mm: f64) -> Option<f64> {
        let faster = self.block_per_k - self.sleeve_per_k;
        (tight_mm > 0.0 && faster > 0.0).then(|| REFERENCE_C + tight_mm / (faster * self.diameter_mm))
    }
}
