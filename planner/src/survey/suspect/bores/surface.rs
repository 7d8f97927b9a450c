//! Rows that name a surface which their own figures contradict, and a block whose liner is no liner.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// A parent hole wider than its liner's outside by more than this is worn, bored or another surface, mm: the liner
/// pressed into it filled it. Common practice, no source.
const WIDER_MM: f64 = 1.0;

/// A parent hole narrower than its liner's described outside by more than this has the liner or a shell of it in
/// still, or the description is wrong, mm: a press fit and spines cast in take less. Common practice, no source.
const NARROWER_MM: f64 = 0.25;

/// The thinnest wall of a liner, mm. Common practice, no source.
const THINNEST_MM: f64 = 1.2;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    found.extend(thin_liner(asked));
    for bank in &asked.job.block.banks {
        for site in &bank.sites {
            if asked.job.cut.contains_key(&site.cylinder) {
                continue;
            }
            found.extend(parent(asked, site.cylinder));
            found.extend(only_sleeve(asked, site.cylinder));
        }
    }
    found
}

/// A parent reading nearer to the liner's bore than to its outside, or wider than the liner ever was.
fn parent(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let liner = asked.job.block.parent.liner.as_ref()?;
    let middle = f64::midpoint(liner.bore_mm, liner.outside_mm);
    let own = asked.circles.iter().filter(|c| c.cylinder == cylinder && c.surface == Surface::Parent);
    let least = middle.max(liner.outside_mm - NARROWER_MM);
    let odd =
        own.into_iter().find(|c| c.diameter_mm < least || c.diameter_mm > liner.outside_mm + WIDER_MM)?;
    let narrow = odd.diameter_mm < middle;
    let shell = !narrow && odd.diameter_mm < least;
    Some(Suspicion {
        code: Code::SurfaceOdd,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!(
            "at depth {} the parent hole reads {}, and the liner in it is described as {} in {}",
            mm(odd.depth_mm, 1),
            mm(odd.diameter_mm, 3),
            before_mm(liner.bore_mm, 2),
            mm(liner.outside_mm, 2)
        ),
        likely: if shell {
            "a shell of the liner that is still in, or a liner of another outside than described: whether a sleeve cleans up rests on it"
                .into()
        } else if narrow {
            "the liner was still in, and the row's surface is `liner`".into()
        } else {
            "a wrong digit, another surface, or a hole that was bored before".into()
        },
        ask: say!("is the liner of cylinder {} out? Gauge what is there", cylinder),
        evidence: figures([("diameter", odd.diameter_mm), ("outside", liner.outside_mm)]),
        cylinders: vec![cylinder].into(),
    })
}

/// The suspicion of a bore of which only a sleeve was read: nothing says what it stands in.
fn only_sleeve(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let own: Vec<_> = asked.circles.iter().filter(|c| c.cylinder == cylinder).collect();
    let first = own.first().filter(|_| own.iter().all(|c| c.surface == Surface::Sleeve))?;
    Some(Suspicion {
        code: Code::SurfaceOdd,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!("only a sleeve was read, {} at depth {}", mm(first.diameter_mm, 3), mm(first.depth_mm, 1)),
        likely: "a sleeve of an earlier repair, whose outside the block's description does not know, or `liner` was meant".into(),
        ask: say!("what does the sleeve of cylinder {} stand in? Read the parent hole once it is out", cylinder),
        evidence: figures([("diameter", first.diameter_mm)]),
        cylinders: vec![cylinder].into(),
    })
}

/// The suspicion of a liner described as too thin: every cut must reach the metal at its described outside.
fn thin_liner(asked: &Asked<'_>) -> Option<Suspicion> {
    let liner = asked.job.block.parent.liner.as_ref()?;
    let wall = (liner.outside_mm - liner.bore_mm) / 2.0;
    let resting = asked.circles.iter().any(|c| {
        let parent =
            |o: &crate::survey::bore::FoundCircle| o.cylinder == c.cylinder && o.surface == Surface::Parent;
        !asked.circles.iter().any(parent)
    });
    (wall < THINNEST_MM && resting).then(|| Suspicion {
        code: Code::LinerThin,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!(
            "the liner is described as {} in {}, a wall of {}",
            before_mm(liner.bore_mm, 2),
            mm(liner.outside_mm, 2),
            mm(wall, 2)
        ),
        likely: "a wrong digit: the sleeve and whether it cleans up rest on the liner's outside".into(),
        ask: "draw one liner and measure its outside".into(),
        evidence: figures([("wall", wall), ("outside", liner.outside_mm)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}
