//! The inch.

/// Millimetres in an inch, exact. Source: NIST SP 811 (2008), B.8.
pub const MM_PER_INCH: f64 = 25.4;
