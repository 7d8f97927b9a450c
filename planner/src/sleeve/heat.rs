//! Free expansion: what heat opens, and what it takes away.

use crate::material::{BISECTIONS, HOTTEST_C, Material, REFERENCE_C};

/// Steps in which the temperature is sought at which an interference is gone, kelvin.
const STEP_K: f64 = 5.0;

/// A pocket and the sleeve in it: diameter of the interface, mm, and both metals.
#[derive(Debug, Clone, Copy)]
pub struct Pair<'a> {
    /// Diameter of the interface, mm.
    pub diameter_mm: f64,
    /// The block's metal.
    pub block: &'a Material,
    /// The sleeve's.
    pub sleeve: &'a Material,
}

impl Pair<'_> {
    /// How much larger the pocket becomes than the sleeve from 20 °C, on diameter, mm.
    ///
    /// d (a_block (T_b - 20) - a_sleeve (T_s - 20)), each a the mean from the reference temperature of ISO 1 to T.
    #[must_use]
    pub fn opened_mm(&self, block_c: f64, sleeve_c: f64) -> f64 {
        self.diameter_mm * (self.block.strain(block_c) - self.sleeve.strain(sleeve_c))
    }

    /// Block temperature that opens `open_mm` on diameter, degrees Celsius; the reference temperature where it is
    /// open already.
    ///
    /// ```
    /// # use borewright_planner::{material, sleeve::heat::Pair};
    /// # let metal = |per_k: f64| material::Material {
    /// #     expansion_per_k: per_k,
    /// #     mean_expansion: Vec::new(),
    /// #     ..material::built_in("steel").unwrap()
    /// # };
    /// // 94 mm, 0.075 tight, 0.05 to drop, aluminium of 21.4e-6/K at every temperature, sleeve at 20 degrees: 82.14.
    /// let (block, sleeve) = (metal(21.4e-6), metal(10.5e-6));
    /// let pair = Pair { diameter_mm: 94.0, block: &block, sleeve: &sleeve };
    /// assert!((pair.block_c(0.075 + 0.05, 20.0) - 82.140).abs() < 1e-3);
    /// ```
    #[must_use]
    pub fn block_c(&self, open_mm: f64, sleeve_c: f64) -> f64 {
        let grown = open_mm / self.diameter_mm + self.sleeve.strain(sleeve_c);
        if grown > 0.0 { self.block.celsius_at(grown) } else { REFERENCE_C }
    }

    /// Sleeve temperature that opens `open_mm` on diameter with the block at a temperature, degrees Celsius;
    /// absolute zero where none does.
    #[must_use]
    pub fn sleeve_c(&self, open_mm: f64, block_c: f64) -> f64 {
        self.sleeve.celsius_at(self.block.strain(block_c) - open_mm / self.diameter_mm)
    }

    /// Temperature of both together at which an interference is gone, degrees Celsius; `None` where there is none, or
    /// heat does not take it.
    ///
    /// ```
    /// # use borewright_planner::{material, sleeve::heat::Pair};
    /// # let metal = |per_k: f64| material::Material {
    /// #     expansion_per_k: per_k,
    /// #     mean_expansion: Vec::new(),
    /// #     ..material::built_in("steel").unwrap()
    /// # };
    /// // 94 mm, 0.075 tight, 21.4 against 10.5e-6/K: 1.0246e-3 mm lost a kelvin, gone 73.20 K up.
    /// let (block, sleeve) = (metal(21.4e-6), metal(10.5e-6));
    /// let pair = Pair { diameter_mm: 94.0, block: &block, sleeve: &sleeve };
    /// assert!((pair.gone_at_c(0.075).unwrap() - 93.20).abs() < 0.01);
    /// assert!((pair.opened_mm(21.0, 21.0) - 1.024_6e-3).abs() < 1e-8);
    /// assert_eq!(pair.gone_at_c(-0.01), None);
    /// ```
    #[must_use]
    pub fn gone_at_c(&self, tight_mm: f64) -> Option<f64> {
        if tight_mm <= 0.0 {
            return None;
        }
        let open = |celsius: f64| self.opened_mm(celsius, celsius) >= tight_mm;
        let mut low = REFERENCE_C;
        while !open(low + STEP_K) {
            low += STEP_K;
            if low >= HOTTEST_C {
                return None;
            }
        }
        let mut high = low + STEP_K;
        for _ in 0..BISECTIONS {
            let middle = f64::midpoint(low, high);
            if open(middle) { high = middle } else { low = middle }
        }
        Some(f64::midpoint(low, high))
    }
}
