//! `borewright/block/1`: the block as its maker meant it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::MaterialFile;
use crate::read::given::{Angle, At, Length, Units};

/// What such a file says of itself.
pub const BLOCK_FORMAT: &str = "borewright/block/1";

/// A block description.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = BLOCK_FORMAT)]
pub struct BlockFile {
    /// `borewright/block/1`.
    #[schemars(extend("const" = BLOCK_FORMAT))]
    pub format: At<String>,
    /// The block's name.
    pub name: At<String>,
    /// The casting family, for finding jobs on the same casting.
    pub family: Option<At<String>>,
    /// Units of bare numbers; mm unless stated.
    #[serde(default)]
    pub units: Units,
    /// Included angle between the banks, degrees; 0 for inline.
    pub bank_angle: At<Angle>,
    /// Crankshaft rotation seen from the front; needed where a thrust limit is set.
    pub rotation: Option<At<RotationWord>>,
    /// From bore to bore, where a bank does not say otherwise.
    pub bore_spacing: Option<At<Length>>,
    /// Journal axis to deck, along the bore.
    pub deck_height: At<Length>,
    /// The journal axis.
    pub journal_axis: JournalAxisFile,
    /// The banks.
    pub banks: At<Vec<BankFile>>,
    /// The casting and what its maker put into it.
    pub parent: ParentFile,
    /// Holes, square to the deck, that the pocket must keep clear of; [] where none come near.
    pub studs: Option<Vec<StudFile>>,
    /// Drilled holes, by their axis; [] where there are none.
    pub coolant_holes: Option<Vec<CoolantHoleFile>>,
    /// The gasket's combustion seal, centred on the true position.
    pub fire_ring: Option<FireRingFile>,
}

/// Crankshaft rotation seen from the front.
#[derive(Debug, Clone, Copy, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum RotationWord {
    /// The major thrust side is +Y in every bank.
    Clockwise,
    /// The major thrust side is -Y in every bank.
    Anticlockwise,
}

/// The journal axis.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JournalAxisFile {
    /// Where x = 0 is, in words.
    pub along_datum: At<String>,
    /// Main housing bore.
    pub housing_bore: At<Length>,
    /// Widest zone allowed for all mains.
    pub straightness: At<Length>,
    /// Largest step allowed from one main to the next.
    pub neighbour: At<Length>,
    /// The mains, front to rear.
    pub mains: At<Vec<MainFile>>,
}

/// One main.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MainFile {
    /// Its name.
    pub name: At<String>,
    /// Its middle along the journal axis.
    pub x: At<Length>,
}

/// One bank.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BankFile {
    /// Its name.
    pub name: At<String>,
    /// The cylinder numbers, front to rear.
    pub cylinders: At<Vec<At<u32>>>,
    /// x of the first bore, the others by the spacing.
    pub first_bore: Option<At<Length>>,
    /// Angle from the block's Z, degrees, where it is not half the bank angle.
    pub angle: Option<At<Angle>>,
    /// Journal axis to deck of this bank.
    pub deck_height: Option<At<Length>>,
    /// From bore to bore in this bank.
    pub bore_spacing: Option<At<Length>>,
    /// x of every bore, in place of first_bore and spacing.
    pub bores: Option<At<Vec<At<Length>>>>,
    /// Designed offset of the bores from the journal axis, along the bank's Y.
    pub axis_offset: Option<At<Length>>,
}

/// The casting.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ParentFile {
    /// The block's own metal.
    pub material: At<MaterialFile>,
    /// Deck to the lower end of the bore.
    pub bore_length: At<Length>,
    /// How far a tool may run past the lower end.
    pub room_below: At<Length>,
    /// The factory liner; left out where the bores run in the parent metal.
    pub liner: Option<LinerFile>,
    /// Depth range of the water jacket.
    pub jacket: Option<DepthsFile>,
}

/// A factory liner.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LinerFile {
    /// Its bore.
    pub bore: At<Length>,
    /// Its outside.
    pub outside: At<Length>,
    /// Deck to its lower end.
    pub length: At<Length>,
    /// Its metal.
    pub material: At<MaterialFile>,
}

/// A range of depths.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DepthsFile {
    /// The upper end.
    pub from: At<Length>,
    /// The lower end.
    pub to: At<Length>,
}

/// A stud hole.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StudFile {
    /// Its bank.
    pub bank: At<String>,
    /// Along the bank.
    pub x: At<Length>,
    /// Across the bank.
    pub y: At<Length>,
    /// Its largest diameter.
    pub diameter: At<Length>,
    /// Depth where it starts.
    pub from: At<Length>,
    /// Depth where it ends.
    pub to: At<Length>,
}

/// A drilled coolant hole.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoolantHoleFile {
    /// Its bank.
    pub bank: At<String>,
    /// Its name.
    pub name: At<String>,
    /// One end of its axis: x, y, depth.
    pub start: [At<Length>; 3],
    /// The other end: x, y, depth.
    pub end: [At<Length>; 3],
    /// Its diameter.
    pub diameter: At<Length>,
}

/// The gasket's combustion seal.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FireRingFile {
    /// Inside diameter.
    pub inside: At<Length>,
    /// Outside diameter.
    pub outside: At<Length>,
}
