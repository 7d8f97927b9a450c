//! The answer to an event.

use super::{Answer, Say, fine, fine_mm};
use crate::job::Job;
use crate::job::pocket::{Feature, Pocket};
use crate::plan::Verdict;
use crate::plan::check::What;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::touch::TOUCH_DEPTH_MM;
use crate::read::fault::plain;
use crate::read::given::{Scalar, Units};
use crate::read::measure::{angle_deg, length_mm};
use crate::record::moved::DATUM_MM;
use crate::record::{Event, Fields, Paper, Standing, Word, WorkFinding};
use crate::record::{as_cut, noted, pins};
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

/// Answers an event.
#[must_use]
pub fn event(
    job: Option<&Job>,
    paper: &Paper,
    standing: &Standing,
    (what, cylinder): (Word, Option<u32>),
    place: Touched,
) -> Answer {
    match what {
        Word::Void => void(job, paper, cylinder, place),
        Word::Crack => Answer::say(
            Say::Stop,
            "nothing more is cut there: dye, its ends and depth first. No release lets it through; what turns out to be no crack is \
             struck, with who and why",
        ),
        Word::Tool => match last_of(standing, Word::Tool).and_then(noted::of_event) {
            Some(why) => Answer::say(Say::Hold, why),
            None => Answer::say(
                Say::GoOn,
                say!(
                    "what the head is off by is counted anew from the next bore: try it {} deep and measure before it goes down",
                    mm(TOUCH_DEPTH_MM, 0)
                ),
            ),
        },
        Word::Moved => moved(paper, standing),
        Word::Release => released(job, paper, standing, cylinder),
        Word::Sleeve => match pins::last(paper, standing, cylinder) {
            Some(why) => Answer::say(Say::Hold, why),
            None => Answer::say(Say::GoOn, pins::in_place_of(standing, cylinder).unwrap_or_default()),
        },
        Word::Note => match last_of(standing, Word::Note).and_then(noted::of_event) {
            Some(why) => Answer::say(Say::Hold, why),
            None => {
                let line = last_of(standing, Word::Note).map_or(0, |e| e.line);
                Answer::say(Say::GoOn, noted::unjudged(standing, line).unwrap_or_default())
            }
        },
        _ => Answer::say(Say::GoOn, ""),
    }
}

/// The last event of a kind that counts.
fn last_of(standing: &Standing, what: Word) -> Option<&Event> {
    standing.events.iter().rfind(|e| e.what == what && e.struck.is_none())
}

/// A release: what it does not let through, and all that it does, named or not.
fn released(job: Option<&Job>, paper: &Paper, standing: &Standing, cylinder: Option<u32>) -> Answer {
    let holds = |standing: &Standing| -> Vec<WorkFinding> {
        let found = as_cut::findings(job, paper, standing).into_iter();
        found.filter(|f| f.verdict > Verdict::Go).collect()
    };
    let left = holds(standing);
    let through = through(&holds(&standing.without_last_release(cylinder)), &left);
    let of = |f: &&WorkFinding| cylinder.is_none_or(|c| f.subject.is_cylinder(c));
    let with = |text: Sentence| match &through {
        Some(through) => say!("{}; and {}", text, through),
        None => text,
    };
    match left.iter().filter(of).max_by_key(|f| f.verdict) {
        Some(f) if f.verdict == Verdict::Stop => {
            Answer::say(Say::Stop, with(say!("a release lets no stop through: {}", f.whole())))
        }
        Some(f) => {
            Answer::say(Say::Hold, with(say!("what still holds {}: {}", f.subject.to_string(), f.whole())))
        }
        None => Answer::say(Say::GoOn, through.unwrap_or_default()),
    }
}

/// Every hold that is gone, in words; nothing where none is.
fn through(before: &[WorkFinding], left: &[WorkFinding]) -> Option<Sentence> {
    let still = |f: &WorkFinding| left.iter().any(|l| l.is_same(f));
    let gone: Vec<Sentence> = before
        .iter()
        .filter(|f| f.verdict == Verdict::Hold && !still(f))
        .map(|f| say!("{}: {}", f.subject.to_string(), f.whole()))
        .collect();
    let count = gone.len();
    (count > 0).then(|| {
        let holds = if count == 1 { "this hold".to_owned() } else { format!("these {count} holds") };
        say!("it lets {} through: {}", holds, Sentence::join(gone, "; and "))
    })
}

/// The block was touched: what its set-up carried has ended.
fn moved(paper: &Paper, standing: &Standing) -> Answer {
    let last = standing.readings.iter().rev().find(|r| r.struck.is_none());
    let at = last.and_then(|r| paper.checks.iter().find(|c| c.check == r.check)).or(paper.checks.first());
    let Some(at) = at else { return Answer::say(Say::Hold, "read the set-up again") };
    let mut touch =
        paper.checks.iter().filter(|c| c.what == What::Touch && c.bank == at.bank && c.check <= at.check);
    let again = touch.next_back().map_or_else(String::new, |c| {
        format!(" and read CHECK {0} again (`anew {0}` takes back what was read of it)", c.check)
    });
    Answer::say(
        Say::Hold,
        say!(
            "journal axis, along datum and deck of bank {} as they were read, and every list of it that is not finished, end here: \
             sweep the axis, pick up the datum{} before the next cut. More than {} off: plan again",
            plain(&at.bank, 30),
            again,
            fine_mm(DATUM_MM)
        ),
    )
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
