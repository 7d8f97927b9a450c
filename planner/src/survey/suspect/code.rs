//! The kinds of suspicion, and the stable words that results and files call them.

use serde::{Serialize, Serializer};

/// Names every kind once, with its word.
macro_rules! codes {
    ($($code:ident $word:literal,)*) => {
        /// A kind of suspicion: what is asked about in the readings and descriptions that all other findings rest on. The
        /// document of formats says of each word what it means.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code {
            $(
                #[doc = concat!("`", $word, "`")]
                $code,
            )*
        }

        impl Code {
            /// Every kind, in the order of its words.
            pub const ALL: &[Self] = &[$(Self::$code),*];

            /// The stable word for it.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$code => $word,)*
                }
            }
        }
    };
}

codes! {
    AlongBoth "along_both",
    AlongDatum "along_datum",
    AxisMirrored "axis_mirrored",
    AxisShort "axis_short",
    AxisTwice "axis_twice",
    AxisUnchecked "axis_unchecked",
    BadDeckPoint "bad_deck_point",
    BadPoint "bad_point",
    BankLeans "bank_leans",
    BankOff "bank_off",
    BankSide "bank_side",
    BankTurned "bank_turned",
    BanksSwapped "banks_swapped",
    BeyondTravel "beyond_travel",
    BoreApart "bore_apart",
    BoreFarOff "bore_far_off",
    BoreLeans "bore_leans",
    BoreSpacing "bore_spacing",
    CircleOffLine "circle_off_line",
    ClocksMirrored "clocks_mirrored",
    Copied "copied",
    CylinderOrder "cylinder_order",
    DeckCut "deck_cut",
    DeckField "deck_field",
    DeckHeight "deck_height",
    DeckLeans "deck_leans",
    DeckTilted "deck_tilted",
    DeckUnchecked "deck_unchecked",
    DecksApart "decks_apart",
    DepthsShallow "depths_shallow",
    DiameterContradictsLiner "diameter_contradicts_liner",
    DiameterContradictsPoints "diameter_contradicts_points",
    DiameterOdd "diameter_odd",
    FinishBetween "finish_between",
    FinishRough "finish_rough",
    FinishSmall "finish_small",
    FinishTolerance "finish_tolerance",
    FullSwing "full_swing",
    HeightsOdd "heights_odd",
    HoleOdd "hole_odd",
    HousingOdd "housing_odd",
    IncludedAngle "included_angle",
    InstrumentsOdd "instruments_odd",
    JacketOdd "jacket_odd",
    LimitOdd "limit_odd",
    LimitsUntold "limits_untold",
    LinerThin "liner_thin",
    LocatorOdd "locator_odd",
    MainArc "main_arc",
    MainMissing "main_missing",
    MainOff "main_off",
    MainsOdd "mains_odd",
    MaterialOdd "material_odd",
    NoScatter "no_scatter",
    NotClosed "not_closed",
    ParentOff "parent_off",
    ReadTwice "read_twice",
    RingOdd "ring_odd",
    RoomOdd "room_odd",
    RowMissing "row_missing",
    SetUpLeans "set_up_leans",
    SetUpNamed "set_up_named",
    SetUpOff "set_up_off",
    SetsDisagree "sets_disagree",
    ShapeOff "shape_off",
    SleeveOff "sleeve_off",
    SleevesFew "sleeves_few",
    Stretched "stretched",
    StudFar "stud_far",
    StudOdd "stud_odd",
    SurfaceOdd "surface_odd",
    TooCoarse "too_coarse",
    WallOdd "wall_odd",
    WallThrough "wall_through",
    WallUnread "wall_unread",
    WitnessDiffers "witness_differs",
    WrongUnit "wrong_unit",
    XyExchanged "xy_exchanged",
    YSign "y_sign",
}

impl Code {
    /// Whether it asks about a bore's diameter.
    pub(super) fn is_of_diameter(self) -> bool {
        matches!(self, Self::DiameterContradictsLiner | Self::DiameterContradictsPoints | Self::DiameterOdd)
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.word())
    }
}

/// Whether a finding's code is that of a suspicion; those are answered before all others.
#[must_use]
pub fn is_suspicion(code: &str) -> bool {
    Code::ALL.iter().any(|kind| kind.word() == code)
}
