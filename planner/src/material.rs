//! The usual metals of blocks, liners, sleeves and pistons, by name.
//!
//! Positions and passes need only the names; fits, seats and temperatures rest on the figures, which a block,
//! sleeve or job file can replace. What is from memory says so, and a sheet that rests on it repeats it.

/// ISO 1 reference temperature, degrees Celsius.
pub const REFERENCE_C: f64 = 20.0;

/// The temperature to which the one expansion of a metal is the mean, degrees Celsius.
pub(crate) const EXPANSION_TO_C: f64 = 100.0;

/// No colder than this, degrees Celsius.
const ABSOLUTE_ZERO_C: f64 = -273.15;
/// Where a search for a temperature ends: no table reaches so far, degrees Celsius.
pub const HOTTEST_C: f64 = 1500.0;
/// Halvings that bring the whole range of temperatures below a millionth of a degree.
pub(crate) const BISECTIONS: u32 = 60;

/// One metal.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name, as `cuts` in a machine file name it.
    pub name: String,
    /// Young's modulus, MPa.
    pub elastic_mpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Linear expansion near room temperature, 1/K: the mean from 20 to 100 degrees Celsius.
    pub expansion_per_k: f64,
    /// Mean linear expansion from 20 degrees Celsius to others: degrees Celsius and 1/K, rising temperatures; empty
    /// where one figure is all there is.
    pub mean_expansion: Vec<[f64; 2]>,
    /// Yield strength (0.2 % proof) at room temperature, MPa.
    pub yield_mpa: f64,
    /// Yield after a long soak: degrees Celsius and MPa, rising temperatures; empty where it is taken as constant.
    pub hot_yield: Vec<[f64; 2]>,
    /// What it bears for good without creeping away: degrees Celsius and MPa, rising temperatures, nothing to mind
    /// below the first; empty where it does not creep at the temperatures of an engine, or nobody said.
    pub creep: Vec<[f64; 2]>,
    /// Specific cutting force at a chip 1 mm thick, MPa, and how it falls with thicker chips: kc = kc11 h^-m.
    pub cutting: [f64; 2],
    /// Where the figures come from.
    pub source: String,
    /// Which figures nobody has verified; empty where all are.
    pub unverified: Vec<&'static str>,
}

impl Material {
    /// Mean linear expansion from 20 °C to a temperature, 1/K: linear between the points of the table, held beyond
    /// them.
    #[must_use]
    pub fn mean_per_k(&self, celsius: f64) -> f64 {
        let table = &self.mean_expansion;
        let (Some(first), Some(last)) = (table.first(), table.last()) else { return self.expansion_per_k };
        if celsius <= first[0] {
            return first[1];
        }
        table
            .windows(2)
            .find_map(|pair| {
                let [[from, low], [to, high]] = [pair[0], pair[1]];
                (celsius <= to).then(|| low + (celsius - from) / (to - from) * (high - low))
            })
            .unwrap_or(last[1])
    }

    /// How much longer it is at a temperature than at 20 °C, a share; negative where it is colder.
    #[must_use]
    pub fn strain(&self, celsius: f64) -> f64 {
        self.mean_per_k(celsius) * (celsius - REFERENCE_C)
    }

    /// The temperature at which it is longer by a share, degrees Celsius; no colder than there is, no hotter than
    /// [`HOTTEST_C`].
    #[must_use]
    pub fn celsius_at(&self, strain: f64) -> f64 {
        let (mut low, mut high) = (ABSOLUTE_ZERO_C, HOTTEST_C);
        for _ in 0..BISECTIONS {
            let middle = f64::midpoint(low, high);
            if self.strain(middle) < strain {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }

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

/// What a metal bears for good at a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bears {
    /// MPa.
    pub mpa: f64,
    /// Whether creep sets it, and not yield.
    pub by_creep: bool,
}

impl Material {
    /// The smaller of yield and creep at a temperature; `None` hotter than either table reaches.
    #[must_use]
    pub fn bears_at(&self, celsius: f64) -> Option<Bears> {
        // A light metal creeps where an engine runs: one of which neither creep nor yield when hot is told is not known there.
        let untold = self.creep.is_empty() && self.hot_yield.is_empty();
        if untold && self.expansion_per_k > LIGHT_PER_K && celsius >= CREEPS_C {
            return None;
        }
        let strength = self.yield_at_mpa(celsius)?;
        let from = self.creep.first().map_or(f64::INFINITY, |row| row[0]);
        if celsius < from {
            return Some(Bears { mpa: strength, by_creep: false });
        }
        let creep = self.creep.windows(2).find_map(|pair| {
            let [[low_c, low], [high_c, high]] = [pair[0], pair[1]];
            (celsius <= high_c).then(|| low + (celsius - low_c) / (high_c - low_c) * (high - low))
        });
        // A table of one row says what it says at that temperature alone.
        let creep = creep.or_else(|| self.creep.last().filter(|row| row[0] == celsius).map(|row| row[1]))?;
        Some(Bears { mpa: creep.min(strength), by_creep: creep < strength })
    }
}

/// Whether a metal with these means from 20 °C grows at every temperature of its table.
///
/// Between two rows the mean is a line, so growth is a parabola, and rises all along where it rises at both ends.
pub(crate) fn grows(means: &[[f64; 2]]) -> bool {
    means.windows(2).all(|pair| {
        let [[from, low], [to, high]] = [pair[0], pair[1]];
        let slope = (high - low) / (to - from);
        low + slope * (from - REFERENCE_C) > 0.0 && high + slope * (to - REFERENCE_C) > 0.0
    })
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
    /// Of 1e-6/K from 20 °C.
    mean_expansion: &'static [[f64; 2]],
    yield_mpa: f64,
    hot_yield: &'static [[f64; 2]],
    creep: &'static [[f64; 2]],
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
        // Published means of A356.0 (21.5, 22.5, 23.5); below 20 °C the fit of NIST for 6061-T6 (0.389 % to 77 K), less
        // what 7 % of silicon takes off it.
        mean_expansion: &[[-196.0, 16.5], [20.0, 20.6], [100.0, 21.4], [200.0, 22.5], [300.0, 23.5]],
        yield_mpa: 165.0,
        // After a long soak; sand-cast 356-T6.
        hot_yield: &[[24.0, 165.0], [150.0, 138.0], [205.0, 59.0], [260.0, 35.0], [315.0, 20.0]],
        // Some 0.1 to 0.2 % in a thousand hours; from memory, on the careful side of what the trade lets a ledge bear.
        creep: &[[100.0, 140.0], [150.0, 100.0], [205.0, 45.0], [260.0, 20.0]],
        cutting: [830.0, 0.23],
        source: "published typical properties of cast 356.0-T6 (E 70 to 72 GPa, 0.33, 21.4e-6/K to 100 °C and 23.5 to 300, \
                 yield 165 to 186 MPa); yield when hot, creep and cutting force from memory",
        unverified: &["yield when hot", "creep", "cutting force"],
    },
    Row {
        name: "grey iron",
        elastic_mpa: 97_000.0,
        poisson: 0.26,
        expansion: 10.5,
        // EN 1561, Annex, and about 0.20 % from 293 to 77 K as for iron (Corruccini and Gniewek, NBS Monograph 29),
        // both from memory.
        mean_expansion: &[[-196.0, 9.2], [-100.0, 10.0], [100.0, 10.5], [200.0, 11.7], [400.0, 13.0]],
        yield_mpa: 130.0,
        hot_yield: &[],
        creep: &[],
        // Within 6 % of two tool makers' published tables for 200 HB.
        cutting: [1160.0, 0.26],
        source: "published data of ASTM class 20 iron (E 66 to 97 GPa, 10.5e-6/K); EN 1561, Annex (expansion hotter and colder) and \
                 yield from memory",
        unverified: &["expansion over 100 °C and when cold", "yield"],
    },
    Row {
        name: "ductile iron",
        elastic_mpa: 170_000.0,
        poisson: 0.275,
        expansion: 11.5,
        // EN 1563, Annex, has 12.5 from 20 to 400 °C; 11.5 to 100 °C and 0.20 % from 293 to 77 K (NBS Monograph 29,
        // iron) from memory.
        mean_expansion: &[[-196.0, 9.2], [20.0, 11.2], [100.0, 11.5], [400.0, 12.5]],
        yield_mpa: 370.0,
        hot_yield: &[],
        creep: &[],
        cutting: [1300.0, 0.25],
        source: "EN 1563:1997, Annex (E 169 to 176 GPa, 0.275, 12.5e-6/K from 20 to 400 °C); the rest from memory",
        unverified: &["expansion", "yield", "cutting force"],
    },
    Row {
        name: "steel",
        elastic_mpa: 206_000.0,
        poisson: 0.29,
        expansion: 11.5,
        // 9 % nickel and carbon steels contract 0.19 to 0.20 % to 77 K; from memory.
        mean_expansion: &[[-196.0, 9.2], [100.0, 11.5], [400.0, 13.5]],
        yield_mpa: 355.0,
        hot_yield: &[],
        creep: &[],
        cutting: [1700.0, 0.25],
        source: "expansion JCGM 100:2008, H.1; the rest from memory",
        unverified: &["modulus", "yield"],
    },
    Row {
        name: "piston aluminium",
        elastic_mpa: 80_000.0,
        poisson: 0.33,
        expansion: 19.5,
        mean_expansion: &[[100.0, 19.5], [200.0, 20.5], [300.0, 21.5]],
        yield_mpa: 280.0,
        hot_yield: &[],
        creep: &[],
        cutting: [830.0, 0.23],
        source: "from memory of wrought aluminium with 12 % silicon",
        unverified: &["modulus", "expansion", "yield"],
    },
];

/// The built-in names.
pub fn names() -> impl Iterator<Item = &'static str> {
    TABLE.iter().map(|row| row.name)
}

/// Metals that expand more than this are light, 1/K: between the irons and steels of the table and its light
/// metals. Common practice, no source.
pub(crate) const LIGHT_PER_K: f64 = 17e-6;

/// From here on light metals creep, degrees Celsius: the least in the built-in table.
const CREEPS_C: f64 = 100.0;

/// The built-in metal of this name.
#[must_use]
pub fn built_in(name: &str) -> Option<Material> {
    TABLE.iter().find(|row| row.name == name).map(|row| Material {
        name: row.name.to_owned(),
        elastic_mpa: row.elastic_mpa,
        poisson: row.poisson,
        expansion_per_k: row.expansion * 1e-6,
        mean_expansion: row.mean_expansion.iter().map(|[at_c, mean]| [*at_c, mean * 1e-6]).collect(),
        yield_mpa: row.yield_mpa,
        hot_yield: row.hot_yield.to_vec(),
        creep: row.creep.to_vec(),
        cutting: row.cutting,
        source: row.source.to_owned(),
        unverified: row.unverified.to_vec(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn expansion_is_the_mean_over_the_range_it_is_used_in() {
        let strain = |name: &str, celsius: f64| built_in(name).expect("built in").strain(celsius);
        // EN 1563, Annex: ductile iron 12.5e-6/K from 20 to 400 °C; 11.5e-6/K to 100 °C (from memory).
        assert!((strain("ductile iron", 400.0) - 12.5e-6 * 380.0).abs() < 1e-12);
        assert!((strain("ductile iron", 100.0) - 11.5e-6 * 80.0).abs() < 1e-12);
        // Iron from 293 to 77 K: 0.19 to 0.20 % (Corruccini and Gniewek, NBS Monograph 29, from memory).
        for name in ["ductile iron", "grey iron", "steel"] {
            let cold = strain(name, -196.0);
            assert!((-0.002_01..=-0.001_90).contains(&cold), "{name}: {cold}");
        }
        // Published means of A356.0: 21.5, 22.5 and 23.5e-6/K from 20 to 100, 200 and 300 °C.
        for (to, mean) in [(100.0, 21.5e-6), (200.0, 22.5e-6), (300.0, 23.5e-6)] {
            assert!((strain("aluminium", to) / (mean * (to - 20.0)) - 1.0).abs() < 0.01, "{to}");
        }
        // NIST's fit of 6061-T6, (L - L293)/L293 at 77 K: -388.7e-5; cast with 7 % of silicon contracts less.
        let cold = strain("aluminium", -196.15);
        assert!(cold > -388.7e-5 && cold < 0.9 * -388.7e-5, "{cold}");
        assert!(TABLE.iter().all(|row| grows(row.mean_expansion)));
    }

    #[test]
    fn the_temperature_of_a_growth_is_found_back() {
        for metal in TABLE.iter().filter_map(|row| built_in(row.name)) {
            assert!(metal.strain(REFERENCE_C).abs() < 1e-15);
            for celsius in [-196.0, -80.0, 0.0, 20.0, 99.0, 150.0, 380.0, 700.0] {
                let back = metal.celsius_at(metal.strain(celsius));
                assert!((back - celsius).abs() < 1e-6, "{} at {celsius}: {back}", metal.name);
            }
        }
        assert!(!grows(&[[20.0, 10e-6], [30.0, 4e-6]]), "shrinks as it warms");
    }

    #[test]
    fn what_a_metal_bears_for_good_is_the_smaller_of_yield_and_creep() {
        let metal = built_in("aluminium").expect("built in");
        let bears = |celsius: f64| metal.bears_at(celsius).expect("in the table");
        assert_eq!(bears(20.0), Bears { mpa: 165.0, by_creep: false });
        // Yield at 99 degrees: 165 - 27 x 75 / 126.
        assert!((bears(99.0).mpa - 148.928_571).abs() < 1e-5 && !bears(99.0).by_creep);
        assert_eq!(bears(100.0), Bears { mpa: 140.0, by_creep: true });
        // Half way from 150 to 205 degrees: (100 + 45) / 2, where the yield is (138 + 59) / 2.
        assert!((bears(177.5).mpa - 72.5).abs() < 1e-9 && bears(177.5).by_creep);
        assert_eq!(metal.bears_at(261.0), None);
        assert_eq!(built_in("grey iron").and_then(|m| m.bears_at(200.0)).map(|b| b.mpa), Some(130.0));
    }

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
