//! The usual metals of blocks, liners, sleeves and pistons, by name.
//!
//! Positions and passes need only the names; fits, seats and temperatures rest on the figures, which a block,
//! sleeve or job file can replace. What is from memory says so, and a sheet that rests on it repeats it.

/// ISO 1 reference temperature, degrees Celsius.
pub const REFERENCE_C: f64 = 20.0;

/// One metal.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name, as `cuts` in a machine file name it.
    pub name: String,
    /// Young's modulus, MPa.
    pub elastic_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Linear expansion about 20 degrees Celsius, 1/K.
    pub expansion_per_k: f64,
    /// Yield strength (0.2 % proof) at room temperature, MPa.
    pub yield_mpa: f64,
    /// Yield after a long soak: degrees Celsius and MPa, rising temperatures; empty where it is taken as constant.
    pub hot_yield: Vec<[f64; 2]>,
    /// Specific cutting force at a chip 1 mm thick, MPa, and how it falls with thicker chips: kc = kc11 h^-m.
    pub cutting: [f64; 2],
    /// Where the figures come from.
    pub source: String,
    /// Which figures nobody has verified; empty where all are.
    pub unverified: Vec<&'static str>,
}

impl Material {
    /// Yield at a temperature, MPa, linear between the points of the table; `None` hotter than it reaches.
    #[must_use]
    pub fn yield_at_mpa(&self, celsius: f64) -> Option<f64> {
        if self.hot_yield.is_empty() {
            return Some(self.yield_mpa);
        }
        let mut before = [REFERENCE_C, self.yield_mpa];
        if celsius <= before[0] {
            return Some(self.yield_mpa);
        }
        for &[at_c, mpa] in &self.hot_yield {
            if celsius <= at_c {
                let share = (celsius - before[0]) / (at_c - before[0]);
                return Some(before[1] + share * (mpa - before[1]));
            }
            before = [at_c, mpa];
        }
        None
    }
}

/// Specific cutting force at a feed per revolution, MPa: kc = kc11 h^-m with h the feed, the edge square to it.
///
/// O. Kienzle's law as in König and Essel, Spezifische Schnittkraftwerte (from memory).
#[must_use]
pub fn cutting_force_mpa([kc11, exponent]: [f64; 2], feed_mm: f64) -> f64 {
    kc11 * feed_mm.max(1e-3).powf(-exponent)
}

/// One row of the built-in table.
struct Row {
    name: &'static str,
    elastic_mpa: f64,
    poisson: f64,
    expansion: f64,
    yield_mpa: f64,
    hot_yield: &'static [[f64; 2]],
    cutting: [f64; 2],
    source: &'static str,
    unverified: &'static [&'static str],
}

/// The built-in table: MPa, -, 1e-6/K, MPa.
const TABLE: [Row; 5] = [
    Row {
        name: "aluminium",
        elastic_mpa: 71_000.0,
        poisson: 0.33,
        expansion: 21.4,
        yield_mpa: 165.0,
        // After a long soak; sand-cast 356-T6.
        hot_yield: &[[24.0, 165.0], [150.0, 138.0], [205.0, 59.0], [260.0, 35.0], [315.0, 20.0]],
        cutting: [830.0, 0.23],
        source: "published typical properties of cast 356.0-T6 (E 70 to 72 GPa, 0.33, 21.4e-6/K, yield 165 to 186 MPa); \
                 yield when hot and cutting force from memory",
        unverified: &["yield when hot", "cutting force"],
    },
    Row {
        name: "grey iron",
        elastic_mpa: 97_000.0,
        poisson: 0.26,
        expansion: 10.5,
        yield_mpa: 130.0,
        hot_yield: &[],
        // Within 6 % of two tool makers' published tables for 200 HB.
        cutting: [1160.0, 0.26],
        source: "published data of ASTM class 20 iron (E 66 to 97 GPa, 10.5e-6/K); yield from memory",
        unverified: &["yield"],
    },
    Row {
        name: "ductile iron",
        elastic_mpa: 170_000.0,
        poisson: 0.275,
        expansion: 12.5,
        yield_mpa: 370.0,
        hot_yield: &[],
        cutting: [1300.0, 0.25],
        source: "EN 1563:1997, Annex (E 169 to 176 GPa, 0.275); the rest from memory",
        unverified: &["expansion", "yield", "cutting force"],
    },
    Row {
        name: "steel",
        elastic_mpa: 206_000.0,
        poisson: 0.29,
        expansion: 11.5,
        yield_mpa: 355.0,
        hot_yield: &[],
        cutting: [1700.0, 0.25],
        source: "expansion JCGM 100:2008, H.1; the rest from memory",
        unverified: &["modulus", "yield"],
    },
    Row {
        name: "piston aluminium",
        elastic_mpa: 80_000.0,
        poisson: 0.33,
        expansion: 19.5,
        yield_mpa: 280.0,
        hot_yield: &[],
        cutting: [830.0, 0.23],
        source: "from memory of wrought aluminium with 12 % silicon",
        unverified: &["modulus", "expansion", "yield"],
    },
];

/// The built-in names.
pub fn names() -> impl Iterator<Item = &'static str> {
    TABLE.iter().map(|row| row.name)
}

/// The built-in metal of this name.
#[must_use]
pub fn built_in(name: &str) -> Option<Material> {
    TABLE.iter().find(|row| row.name == name).map(|row| Material {
        name: row.name.to_owned(),
        elastic_mpa: row.elastic_mpa,
        poisson: row.poisson,
        expansion_per_k: row.expansion * 1e-6,
        yield_mpa: row.yield_mpa,
        hot_yield: row.hot_yield.to_vec(),
        cutting: row.cutting,
        source: row.source.to_owned(),
        unverified: row.unverified.to_vec(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn yield_falls_along_the_table_and_ends_with_it() {
        let metal = built_in("aluminium").expect("built in");
        assert_eq!(metal.yield_at_mpa(-20.0), Some(165.0));
        assert_eq!(metal.yield_at_mpa(24.0), Some(165.0));
        // Half way from 24 to 150 degrees.
        assert!((metal.yield_at_mpa(87.0).expect("in the table") - 151.5).abs() < 1e-9);
        assert_eq!(metal.yield_at_mpa(315.0), Some(20.0));
        assert_eq!(metal.yield_at_mpa(316.0), None);
        assert_eq!(built_in("grey iron").and_then(|m| m.yield_at_mpa(250.0)), Some(130.0));
    }
}
