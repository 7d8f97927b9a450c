//! Temperatures of block and machine, and what they do to a length.

use crate::plan::sentence::{Sentence, celsius, mm};
use crate::say;

pub use crate::material::REFERENCE_C;

/// Expansion of a machine's scale, 1/K: steel. Common practice, no source.
const SCALE_PER_K: f64 = 11.5e-6;

/// Temperatures of one occasion, degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warmth {
    /// Of the block.
    pub block_c: f64,
    /// Of the machine.
    pub machine_c: f64,
}

impl Warmth {
    /// What a length as read becomes at 20 °C: (1 + a_scale (t_machine - 20)) / (1 + a_block (t_block - 20)), ISO 1.
    ///
    /// ```
    /// use borewright_planner::job::Warmth;
    /// // Aluminium, 21.4e-6: a block at 36 with the machine at 20 reads 342 ppm too long.
    /// let factor = Warmth { block_c: 36.0, machine_c: 20.0 }.to_reference(21.4e-6);
    /// assert!((360.0 * factor - 359.8768).abs() < 1e-4);
    /// ```
    #[must_use]
    pub fn to_reference(&self, block_per_k: f64) -> f64 {
        (1.0 + SCALE_PER_K * (self.machine_c - REFERENCE_C)) / self.block_grows(block_per_k)
    }

    /// How much longer the block is than at 20 °C.
    #[must_use]
    pub fn block_grows(&self, block_per_k: f64) -> f64 {
        1.0 + block_per_k * (self.block_c - REFERENCE_C)
    }
}

/// A size on the block as it is cut, where that is not at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmSize {
    /// The size there, mm.
    pub size_mm: f64,
    /// The block's temperature, °C.
    pub block_c: f64,
}

impl WarmSize {
    /// The size in words, to stand behind that at 20 °C: "; 88.601 mm on the block at 36.0 C".
    #[must_use]
    pub fn words(&self) -> Sentence {
        say!("; {} on the block at {}", mm(self.size_mm, 3), celsius(self.block_c, 1))
    }
}

impl Temperature {
    /// A size at 20 °C, mm, as it is at the block's temperature at cutting, in a metal of this expansion, 1/K; `None`
    /// where that temperature is 20 °C as far as it is printed.
    #[must_use]
    pub fn size_at_cutting(&self, size_mm: f64, per_k: f64) -> Option<WarmSize> {
        const PRINTED_C: f64 = 0.05;
        let block_c = self.cutting.block_c;
        let warm = WarmSize { size_mm: size_mm * self.cutting.block_grows(per_k), block_c };
        ((block_c - REFERENCE_C).abs() >= PRINTED_C).then_some(warm)
    }
}

/// Temperatures of a job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Temperature {
    /// At measuring.
    pub measuring: Warmth,
    /// At cutting: as at measuring unless stated.
    pub cutting: Warmth,
    /// Whether the job states those at cutting.
    pub cutting_stated: bool,
    /// Standard uncertainty of the difference of block and machine, K, where stated.
    pub u_k: Option<f64>,
}
