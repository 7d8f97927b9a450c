//! The words of a job as it left: its verdict, what keeps it open, and what the customer is told.

use super::bore::of_place;
use super::{AsLeft, Hold, Place, Sizes, Uncertain};
use crate::plan::check::Of;
use crate::plan::sentence::{Sentence, before_mm, mm, signed_before_mm, signed_mm};
use crate::plan::{Measure, Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::record::Reason;
use crate::say;

/// The verdict of a job as it left, and what keeps it from go.
pub(super) fn verdict(left: &AsLeft) -> (Verdict, Vec<Sentence>) {
    let mut told: Vec<(Verdict, Sentence)> = Vec::new();
    let mut add = |own: Verdict, text: Sentence| told.push((own, text));
    if left.gone {
        add(Verdict::Hold, "the record of this job is gone: what was cut is not known".into());
    } else if left.lines == 0 {
        add(Verdict::Hold, "nothing was recorded, so nothing was cut as far as anyone wrote down".into());
    }
    for place in left.places.iter().filter(|p| p.is_wrong() || !p.agree) {
        add(of_place(place), wrong(place));
    }
    if !left.not_measured.is_empty() && left.lines > 0 {
        let missing: u32 = left.not_measured.iter().map(|u| u.missing).sum();
        let asked = left.places.iter().filter(|p| p.waits).count();
        add(
            Verdict::Hold,
            say!("{missing} of {asked} readings were not taken: listed below, check by check"),
        );
    }
    for hold in &left.holds {
        // A release is told with the place that it concerns.
        if !left.places.iter().any(|p| says_it(hold, p)) {
            add(hold.left(), say!("{}: {}", plain(&hold.subject().to_string(), 60), hold.told().text));
        }
    }
    for question in &left.asked {
        add(Verdict::Hold, question.clone());
    }
    if let Some(release) = &left.release {
        let (who, why) = (plain(&release.who, 60), plain(&release.why, 200));
        add(Verdict::Hold, say!("the plan was at hold and was released by {}: {}", who, why));
    }
    for file in &left.changed {
        add(Verdict::Hold, say!("{} is no longer what the plan was made from", plain(file, 80)));
    }
    let verdict = told.iter().map(|(own, _)| *own).max().unwrap_or(Verdict::Go);
    (verdict, told.into_iter().map(|(_, text)| text).collect())
}

/// Whether a finding says only what the place itself says already.
fn says_it(hold: &Hold, place: &Place) -> bool {
    let Hold::Work(finding) = hold else { return false };
    let of_check = match finding.reason {
        Reason::Reading { check, .. } | Reason::StruckByNobody { check, .. } => check == place.check,
        // A window that nobody allowed is told even so.
        Reason::Widened { check, .. } => check == place.check && finding.is_released(),
        _ => false,
    };
    let told = place.is_wrong() || !place.agree;
    told && of_check && finding.subject == Subject::of(place.cylinder, &place.bank)
}

fn at(cylinder: Option<u32>, bank: &str) -> String {
    cylinder.map_or_else(|| format!("bank {}", plain(bank, 30)), |c| format!("cylinder {c}"))
}

/// One place that is not as asked, or whose readings do not agree.
fn wrong(p: &Place) -> Sentence {
    let place = p.depth.map(|d| say!(" at depth {}", mm(d, 1)));
    let clock = p.clock.map(|c| say!(" clock {c:.0}"));
    let mut text = say!(
        "CHECK {}, {}, {}: {}{}{}",
        p.check,
        at(p.cylinder, &p.bank),
        plain(&p.feature, 40),
        p.of.words(),
        place.unwrap_or_default(),
        clock.unwrap_or_default()
    );
    match (p.found, p.of.measure()) {
        (Some(found), Measure::Length) => text.push(say!(" {}", mm(found, 3))),
        (Some(found), measure) => text.push(say!(" {found:.1} {measure}")),
        (None, _) => text.push(" was looked at and is not"),
    }
    if !p.agree {
        text.push(say!(": its {} readings do not agree", p.readings));
    } else if p.found.is_some() {
        text.push(say!(", {}", window(p.of, [p.least, p.most])));
    }
    if let Some(by) = &p.released_by {
        text.push(say!("; released by {}", plain(by, 260)));
    }
    text
}

/// "asked 88.564 to 88.576 mm".
fn window(of: Of, [least, most]: [Option<f64>; 2]) -> Sentence {
    let length = of.measure().is_length();
    match (least, most) {
        (Some(least), Some(most)) if length => say!("asked {} to {}", before_mm(least, 3), mm(most, 3)),
        (Some(least), None) if length => say!("asked at least {}", mm(least, 3)),
        (None, Some(most)) if length => say!("asked at most {}", mm(most, 3)),
        (least, most) => {
            let [least, most] = [least, most].map(|v| v.map_or_else(String::new, |v| format!("{v:.1}")));
            say!("asked {} to {}", least, most)
        }
    }
}

/// Sentences for the customer, in whose words no term of the trade stands unexplained.
pub(super) fn says(left: &AsLeft) -> Vec<Sentence> {
    let count = left.cylinders.len();
    let mut says = Vec::new();
    if left.gone {
        says.push("The record of this job is gone: what was cut, and what was measured of it, is not known. What follows \
                   is what was found and what is planned."
            .into());
    } else if left.lines == 0 {
        says.push("Nothing has been recorded for this job. Nothing was cut: what follows is what was found and what \
                   is planned."
            .into());
    }
    says.push(came(left, count));
    let [bore, tolerance] = left.finish;
    says.push(say!(
        "Each bore was to be finished at {}, with {} either way allowed.",
        mm(bore, 3),
        mm(tolerance, 3)
    ));
    if left.lines > 0 {
        says.push(finished(left));
        says.push(measured(left));
        says.extend(stands(left));
    }
    says.extend(plate(left));
    says.extend(let_through(left));
    says
}

fn plural(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("one {one}") } else { format!("{n} {many}") }
}

fn came(left: &AsLeft, count: usize) -> Sentence {
    let offs = left.cylinders.iter().filter_map(|c| Some((c.cylinder, c.found?.off_true.distance)));
    let farthest = offs.max_by(|a, b| a.1.total_cmp(&b.1));
    let mut text = say!("The block came with {}", plural(count, "bore", "bores"));
    match farthest {
        Some((cylinder, far)) => text.push(say!(
            "; the one farthest from where it belongs, cylinder {cylinder}, stood {} off at the deck.",
            mm(far, 2)
        )),
        None => text.push(", none of which was measured."),
    }
    text
}

/// What the finished bores measured.
fn finished(left: &AsLeft) -> Sentence {
    let own: Vec<&Sizes> = left.cylinders.iter().filter_map(|c| left.finished(c.cylinder)).collect();
    let (Some(low), Some(high)) =
        (own.iter().map(|s| s.ends[0]).reduce(f64::min), own.iter().map(|s| s.ends[1]).reduce(f64::max))
    else {
        return "No finished bore has been measured yet.".into();
    };
    let u = own.iter().map(|s| s.u).fold(0.0, f64::max);
    let mut text = say!(
        "Finished, {} measured from {} to {} across at every place gauged (each reading is good to about {}).",
        if own.len() == left.cylinders.len() && own.len() > 1 {
            format!("all {} bores", own.len())
        } else {
            plural(own.len(), "bore", "bores")
        },
        before_mm(low, 3),
        mm(high, 3),
        mm(2.0 * u, 3)
    );
    let largest =
        |all: Vec<Uncertain>| all.into_iter().max_by(|a, b| a.figure.abs().total_cmp(&b.figure.abs()));
    if let Some(round) = largest(own.iter().filter_map(|s| s.round).collect()) {
        text.push(match shows(round) {
            true => say!(" The one least round is {} wider one way than the other.", mm(round.figure, 3)),
            false => say!(" All are round, as far as the gauge tells ({}).", mm(2.0 * round.u, 3)),
        });
    }
    if let Some(taper) = largest(own.iter().filter_map(|s| s.taper).collect()) {
        let way = if taper.figure < 0.0 { "narrower" } else { "wider" };
        text.push(match shows(taper) {
            true => say!(
                " The one that is least alike from top to bottom is {} {way} at the bottom.",
                mm(taper.figure.abs(), 3)
            ),
            false => say!(" All are as wide at the bottom as at the top, within {}.", mm(2.0 * taper.u, 3)),
        });
    }
    text
}

/// Whether a figure is more than two of its standard uncertainties.
fn shows(told: Uncertain) -> bool {
    told.figure.abs() > 2.0 * told.u
}

/// How much was measured at all.
fn measured(left: &AsLeft) -> Sentence {
    let complete = left.cylinders.iter().filter(|c| c.state == "complete").count();
    let none: Vec<String> = left
        .cylinders
        .iter()
        .filter(|c| c.state == "nothing_recorded")
        .map(|c| c.cylinder.to_string())
        .collect();
    let wrong = left.places.iter().filter(|p| p.is_wrong() || !p.agree).count();
    let open = left.holds.iter().filter(|h| h.verdict() > Verdict::Go).count();
    let mut text = if complete == left.cylinders.len() && left.not_measured.is_empty() {
        Sentence::from("Everything that the work waited for was measured")
    } else {
        say!("Of {} bores {complete} were measured at every place asked", left.cylinders.len())
    };
    text.push(match wrong {
        0 if open == 0 => Sentence::from(", and every reading is as asked."),
        // Each in its window, and together, or with what happened, not as they should be.
        0 => say!(
            ", and every reading by itself is as asked; {} open: see what is open.",
            if open == 1 { "one finding is".to_owned() } else { format!("{open} findings are") }
        ),
        n => say!(
            "; {} not as asked: see what is open.",
            if n == 1 { "one reading is".to_owned() } else { format!("{n} readings are") }
        ),
    });
    text.push(not_asked_for(left));
    if !none.is_empty() {
        text.push(say!(
            " Of cylinder {} nothing is recorded: as far as anyone wrote down, not cut.",
            none.join(", ")
        ));
    }
    text
}

/// What the work did not wait for, and was not recorded of any bore that was finished: a customer reads of it as well.
fn not_asked_for(left: &AsLeft) -> Sentence {
    let mut text = Sentence::new();
    for (of, said) in [
        (Of::Tight, " No pressure test is recorded"),
        (Of::Off, " No gauging with the plate off is recorded"),
    ] {
        let own = || left.places.iter().filter(|place| place.of == of);
        let read = |place: &&Place| place.readings > 0;
        let unread: Vec<u32> =
            own().filter(|place| !read(place)).filter_map(|place| place.cylinder).collect();
        if left.lines == 0 || unread.is_empty() {
            continue;
        }
        text.push(match own().any(|place| read(&place)) {
            false => say!("{said}."),
            true => say!("{said} of {}.", cylinder_words(&unread)),
        });
    }
    text
}

/// How the sleeves stand against the deck.
fn stands(left: &AsLeft) -> Option<Sentence> {
    let own: Vec<&Sizes> = left.cylinders.iter().filter_map(|c| left.protrusion(c.cylinder)).collect();
    let low = own.iter().map(|s| s.ends[0]).reduce(f64::min)?;
    let high = own.iter().map(|s| s.ends[1]).reduce(f64::max)?;
    Some(say!(
        "The sleeves stand {} to {} against the face that the head is bolted to (+ is above it).",
        signed_before_mm(low, 3),
        signed_mm(high, 3)
    ))
}

/// What bolting a plate on does to the bores.
fn plate(left: &AsLeft) -> Option<Sentence> {
    let worst =
        left.torque_plate.as_ref()?.bores.iter().max_by(|a, b| a.distortion.total_cmp(&b.distortion))?;
    Some(say!(
        "With a plate bolted on as the head will be, the bore of cylinder {} changed most: {} out of round.",
        worst.cylinder,
        mm(worst.distortion, 3)
    ))
}

/// Places that are not as asked and were released.
fn let_through(left: &AsLeft) -> Vec<Sentence> {
    let mut says = Vec::new();
    for event in left.events.iter().filter(|e| e.what == "release") {
        let at = event.cylinder.map_or_else(String::new, |c| format!(" for cylinder {c}"));
        let by =
            if event.by.is_empty() { "Somebody who did not sign".to_owned() } else { plain(&event.by, 60) };
        says.push(say!(
            "{} decided{}: {}.",
            by,
            at,
            plain(&event.text, 200).trim_end_matches('.').to_owned()
        ));
    }
    if let Some(release) = &left.release {
        let why = plain(&release.why, 200).trim_end_matches('.').to_owned();
        says.push(say!("{} decided that the work be done as planned: {}.", plain(&release.who, 60), why));
    }
    says
}
