//! The usual metals of blocks, liners and sleeves, by name.
//!
//! Only names matter to the positions and passes; the figures serve fits and temperatures and can be
//! overridden in the block and sleeve files.

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
}

/// The built-in table: name, MPa, -, 1e-6/K, MPa.
///
/// Sources: aluminium (356-T6 castings) E 70 to 72 GPa, nu 0.33, expansion 21.4, yield 165 to 186 MPa:
/// published typical properties of cast 356.0-T6. Grey iron E 66 to 97 GPa and 10.5: published data of
/// ASTM class 20 iron. Ductile iron E 169 to 176 GPa, nu 0.275: EN 1563:1997, Annex. Its expansion, the
/// steel row and all other yields are from memory and not verified: editable defaults.
const TABLE: [(&str, f64, f64, f64, f64); 4] = [
    ("aluminium", 71_000.0, 0.33, 21.4, 170.0),
    ("grey iron", 97_000.0, 0.26, 10.5, 130.0),
    ("ductile iron", 170_000.0, 0.275, 12.5, 370.0),
    ("steel", 206_000.0, 0.29, 11.5, 355.0),
];

/// The built-in names.
pub fn names() -> impl Iterator<Item = &'static str> {
    TABLE.iter().map(|row| row.0)
}

/// The built-in metal of this name.
#[must_use]
pub fn built_in(name: &str) -> Option<Material> {
    TABLE.iter().find(|row| row.0 == name).map(|row| Material {
        name: row.0.to_owned(),
        elastic_mpa: row.1,
        poisson: row.2,
        expansion_per_k: row.3 * 1e-6,
        yield_mpa: row.4,
    })
}
