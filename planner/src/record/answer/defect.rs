//! The answer to a void or a crack, and where on a bore it is.

use super::gauge::fine;
use super::said::{Answer, Say};
use crate::job::Job;
use crate::job::pocket::{Feature, Pocket};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::read::fault::plain;
use crate::read::given::{Scalar, Units};
use crate::read::measure::{angle_deg, length_mm};
use crate::record::{Fields, Paper, Word};
use crate::say;

/// Where on a bore something is, and how large.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Touched {
    /// Below the deck, mm.
    pub depth_mm: Option<f64>,
    /// How large, mm.
    pub size_mm: Option<f64>,
}

impl Touched {
    /// What was typed, in the job's units where it says none: no place above the deck or below the deepest bore that is known,
    /// nothing smaller than nothing. Nothing is known of bores where the job cannot be read and no check asks for a depth.
    ///
    /// # Errors
    /// What was found and what is expected.
    pub fn typed(
        (job, paper): (Option<&Job>, &Paper),
        units: Units,
        [depth, size]: [Option<&str>; 2],
    ) -> Result<Self, (String, Sentence)> {
        let length = |text: &str| {
            length_mm(&Scalar::Text(text.to_owned()), units).map_err(|e| (found(text), e.expected.into()))
        };
        let deepest = deepest_mm(job, paper);
        let depth_mm = depth.map(length).transpose()?;
        if let (Some(text), Some(given)) = (depth, depth_mm)
            && (given < 0.0 || deepest.is_some_and(|most| given > most))
        {
            let most = deepest
                .map_or_else(Sentence::default, |most| say!(" to {}, as deep as any bore", mm(most, 1)));
            return Err((found(text), say!("a depth below the deck, from 0{}", most)));
        }
        let size_mm = size.map(length).transpose()?;
        match (size, size_mm) {
            (Some(text), Some(mm)) if mm < 0.0 => Err((found(text), "a size from 0".into())),
            _ => Ok(Self { depth_mm, size_mm }),
        }
    }

    /// What a line of the record says, mm; a depth where no bore is says nothing.
    pub(crate) fn of_line(job: Option<&Job>, paper: &Paper, fields: &Fields) -> Self {
        let number =
            |column: &str| fields.get(column).parse::<f64>().ok().filter(|v| v.is_finite() && *v >= 0.0);
        let deepest = deepest_mm(job, paper).unwrap_or(f64::INFINITY);
        Self { depth_mm: number("depth").filter(|mm| *mm <= deepest), size_mm: number("figure") }
    }
}

fn found(text: &str) -> String {
    format!("`{}`", plain(text, 30))
}

/// How deep the deepest bore that is known goes, mm.
fn deepest_mm(job: Option<&Job>, paper: &Paper) -> Option<f64> {
    let asked = paper.checks.iter().flat_map(|c| &c.cylinders).flat_map(|at| &at.readings);
    let deepest = asked.filter_map(|a| a.depth).reduce(f64::max);
    job.map(|job| job.block.parent.bore_length_mm).or(deepest)
}

/// Which way round the bore something is, as typed: degrees from 0 to 360, or a word.
///
/// # Errors
/// What was found and what is expected.
pub fn clock_typed(text: &str) -> Result<(), (String, Sentence)> {
    const WORDS: [&str; 4] = ["rear", "front", "valley", "outer"];
    let known = WORDS.iter().any(|word| text.trim().eq_ignore_ascii_case(word));
    let angle = angle_deg(&Scalar::Text(text.to_owned()));
    if known || angle.is_ok_and(|deg| (0.0..=360.0).contains(&deg)) {
        return Ok(());
    }
    Err((found(text), "`rear`, `front`, `valley`, `outer` or degrees from 0 to 360".into()))
}

/// The answer to a void or a crack.
pub(crate) fn defect(
    job: Option<&Job>,
    paper: &Paper,
    (what, cylinder): (Word, Option<u32>),
    place: Touched,
) -> Answer {
    match what {
        Word::Crack => Answer::say(
            Say::Stop,
            "nothing more is cut there: dye, its ends and depth first. No release lets it through; what turns out to be no crack is \
             struck, with who and why",
        ),
        _ => void(job, paper, cylinder, place),
    }
}

/// A hole met by a cut: what is near it.
fn void(job: Option<&Job>, paper: &Paper, cylinder: Option<u32>, place: Touched) -> Answer {
    let sleeve = cylinder.and_then(|c| paper.sleeve_of(c));
    let sleeve = job.zip(sleeve).and_then(|(job, (name, _))| job.sleeves.iter().find(|s| s.name == name));
    let (Some(job), Some(sleeve), Some(depth)) = (job, sleeve, place.depth_mm) else {
        return Answer::say(
            Say::Hold,
            say!(
                "say its depth and size (--depth {} --size {}), so that what is near it can be worked out",
                before_mm(40.0, 0),
                before_mm(4.0, 0)
            ),
        );
    };
    let half = place.size_mm.unwrap_or(0.0) / 2.0;
    let mut near: Vec<Sentence> = Vec::new();
    let mut say = Say::Hold;
    // What the sleeve stands on: the flange's ledge, or the step below a plain one.
    let pocket = Pocket::of(sleeve, job.engine.deck.cut_mm);
    let seat = pocket.flange.as_ref().map_or(pocket.depth_mm(), |f| f.cut.depths.to_mm);
    let ledge = sleeve.seat_word();
    let to_seat = (depth - seat).abs() - half;
    near.push(if to_seat <= 0.0 {
        say = Say::Stop;
        let share = share_of_seat(&pocket, place.size_mm.unwrap_or(0.0));
        say!("it opens the {} at {}: {:.1} % of its length is gone", ledge, fine(seat), 100.0 * share)
    } else {
        say!("{} from the {}", before_mm(to_seat, 1), ledge)
    });
    let rings = sleeve.body.iter().flat_map(|s| &s.o_rings);
    let to_ring =
        rings.map(|r| (depth - r.depth_mm - job.engine.deck.cut_mm).abs() - half - r.groove_width_mm / 2.0);
    if let Some(ring) = to_ring.reduce(f64::min) {
        if ring <= 0.0 {
            say = Say::Stop;
            near.push("an O-ring would seal on it".into());
        } else {
            near.push(say!("{} from the nearest O-ring's groove", before_mm(ring, 1)));
        }
    }
    if let Some(jacket) = job.block.parent.jacket {
        let beside = (jacket.from_mm - depth - half).max(depth - half - jacket.to_mm);
        near.push(if beside > 0.0 {
            say!("{} above or below the jacket", before_mm(beside, 1))
        } else {
            "beside the jacket: pressure test before the sleeve goes in".into()
        });
    }
    let wall = (job.finish.bore_mm, sleeve.bore_mm);
    let step = sleeve.body.iter().find(|s| depth <= s.to_mm + job.engine.deck.cut_mm);
    if let Some(step) = step {
        near.push(say!(
            "behind the {}: {} of sleeve stand between it and the finished bore",
            plain(&step.name, 30),
            before_mm((step.diameter_mm - wall.0) / 2.0, 2)
        ));
    }
    Answer::say(say, Sentence::join(near, "; "))
}

/// How much of the ledge's length round the bore a hole takes.
fn share_of_seat(pocket: &Pocket, size_mm: f64) -> f64 {
    let body = |step: Option<&Feature>| step.map_or(0.0, |s| s.radius_mm);
    let [inner, outer] = match (&pocket.flange, &pocket.foot) {
        (Some(flange), _) => [body(pocket.steps.first()), flange.metal_mm],
        (None, foot) => [body(foot.as_ref()), body(pocket.steps.last())],
    };
    size_mm / (std::f64::consts::PI * (inner + outer))
}
