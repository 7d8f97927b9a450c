//! Descriptions that fit no block: a bank named after the other side, room below the crankshaft, a housing too
//! small, a jacket or liner that ends elsewhere than was read.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// A circle this far below a liner's end was not read on it, mm.
const BELOW_MM: f64 = 0.5;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    found.extend(side(asked));
    found.extend(room(asked));
    found.extend(jacket(asked));
    found.extend(liner(asked));
    found.extend(housing(asked));
    found
}

fn asks(asked: &Asked<'_>, code: Code, found: Sentence, likely: &str, ask: &str, figure: f64) -> Suspicion {
    Suspicion {
        code,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found,
        likely: likely.into(),
        ask: ask.into(),
        evidence: figures([("figure", figure)]),
        cylinders: asked.job.block.cylinders().into(),
    }
}

/// The suspicion of a left bank that leans to the right: valley and outer side would change places, and every clock
/// with them.
fn side(asked: &Asked<'_>) -> Option<Suspicion> {
    let odd = asked.job.block.banks.iter().find(|bank| {
        let name = bank.name.trim().to_lowercase();
        (name == "left" && bank.angle_deg > 0.0) || (name == "right" && bank.angle_deg < 0.0)
    })?;
    let leans = if odd.angle_deg > 0.0 { "right" } else { "left" };
    let found = say!("the bank named {} leans {:.1} degrees to the {leans}", odd.name, odd.angle_deg.abs());
    let likely = "the two angles exchanged: what was read at the valley is then taken for the outer side";
    let ask = "seen from the rear, to which side does each bank lean? Left is negative";
    Some(asks(asked, Code::BankSide, found, likely, ask, odd.angle_deg))
}

/// Room below the bores that reaches beyond the crankshaft's axis.
fn room(asked: &Asked<'_>) -> Option<Suspicion> {
    let below = asked.job.block.parent.floor_mm();
    let deck = asked.job.block.banks.iter().map(|b| b.deck_height_mm).fold(f64::INFINITY, f64::min);
    (below > deck + 1e-6).then(|| {
        let found = say!(
            "bore and room below it reach {} below the deck, and the crankshaft's axis lies at {}",
            mm(below, 1),
            mm(deck, 1)
        );
        let likely = "a digit slipped: tools and stones may run there";
        asks(
            asked,
            Code::RoomOdd,
            found,
            likely,
            "how much room is there below the bores (`parent.room_below`)?",
            below,
        )
    })
}

fn jacket(asked: &Asked<'_>) -> Option<Suspicion> {
    let parent = &asked.job.block.parent;
    let jacket = parent.jacket.filter(|j| j.to_mm > parent.bore_length_mm + 1e-6)?;
    let found = say!(
        "the jacket is told to end {} below the deck, the bore {}",
        mm(jacket.to_mm, 1),
        mm(parent.bore_length_mm, 1)
    );
    let likely = "a digit slipped: where metal stands behind the pocket rests on it";
    Some(asks(
        asked,
        Code::JacketOdd,
        found,
        likely,
        "from where to where does the jacket run (`parent.jacket`)?",
        jacket.to_mm,
    ))
}

/// A main's housing is no smaller than this share of the bore. Common practice, no source.
const HOUSING: f64 = 0.4;

/// A housing bore that no crankshaft goes through beside such a bore.
fn housing(asked: &Asked<'_>) -> Option<Suspicion> {
    let (housing, bore) = (asked.job.block.journal_axis.housing_bore_mm, asked.job.finish.bore_mm);
    (housing < HOUSING * bore).then(|| {
        let found =
            say!("the main housings are described as {}, beside bores of {}", mm(housing, 1), mm(bore, 1));
        let likely = "a radius for a diameter, or a digit slipped";
        let ask = "how wide are the main housings (`journal_axis.housing_bore`)?";
        asks(asked, Code::HousingOdd, found, likely, ask, housing)
    })
}

/// Circles on a liner below its end.
fn liner(asked: &Asked<'_>) -> Option<Suspicion> {
    let length = asked.job.block.parent.liner.as_ref()?.length_mm;
    let below = asked
        .circles
        .iter()
        .filter(|c| c.surface == Surface::Liner)
        .map(|c| c.depth_mm)
        .max_by(f64::total_cmp)
        .filter(|depth| *depth > length + BELOW_MM)?;
    let found = say!("the liner is told to be {} long, and it was read at {}", mm(length, 1), mm(below, 1));
    let likely = "a digit slipped, or rows of the parent hole taken for the liner's";
    Some(asks(
        asked,
        Code::SurfaceOdd,
        found,
        likely,
        "how far down does the liner reach (`parent.liner.length`)?",
        below,
    ))
}
