//! Rounds of the same bores that disagree, and a set-up that turning end for end shows to be off.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::rounds::{Handled, Round};
use crate::plan::sentence::{before_mm, mm, signed_mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use crate::survey::bore::FoundCircle;
use crate::survey::centres::centres;
use crate::survey::reversal::{self, Lean};
use crate::survey::sets::{BankSets, Compared, banks, by_round};
use crate::survey::significance::NO_CHANCE;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let job = asked.job;
    let mut found = Vec::new();
    let closed = reversal::reversal(job, asked.circles, asked.rounds).is_some();
    for bank in banks(job, asked.circles, asked.rounds) {
        let layout = job.block.banks.iter().position(|b| b.name == bank.bank);
        let of_bank: Vec<u32> = layout
            .map(|b| job.bank(b).sites.iter().map(|s| s.cylinder))
            .into_iter()
            .flatten()
            .filter(|n| asked.circles.iter().any(|c| c.cylinder == *n))
            .collect();
        for other in &bank.others {
            found.extend(moved(&bank, other, &of_bank));
            found.extend(turned(&bank, other, closed, &of_bank));
            found.extend(odd(&bank, other));
        }
    }
    found.extend(set_up_off(asked));
    found
}

/// How far a bank stands elsewhere in the other round, mm.
fn shifted(other: &Compared) -> BTreeMap<&'static str, f64> {
    figures([
        ("along", other.shift[0]),
        ("across", other.shift[1]),
        ("u_along", other.u[0]),
        ("u_across", other.u[1]),
    ])
}

/// The suspicion of a bank that stands elsewhere as a whole in the other round.
fn moved(bank: &BankSets, other: &Compared, cylinders: &[u32]) -> Option<Suspicion> {
    if !other.disagrees {
        return None;
    }
    let likely = match other.handled {
        "again" => "the block, the clamps or the spindle moved between the two rounds, or warmed up",
        "indexed" => {
            "an index that does not come back to its place, or a pick-up of the journal axis that is off"
        }
        _ => {
            "a seat that is not clean, a clamp that bends the block, or a pick-up of the journal axis that is off"
        }
    };
    Some(Suspicion {
        code: Code::SetsDisagree,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.bank),
        found: other.text.clone(),
        likely: likely.into(),
        ask: "find what moved, sweep the journal axis again, and map the bank a third time: the round that stands alone is the wrong one, and its rows go out of the table".into(),
        evidence: shifted(other),
        cylinders: cylinders.to_vec().into(),
    })
}

/// What a bank may stand elsewhere along once it is turned, and across, of which half is the set-up's, mm: what a careful set-up and
/// a pick-up of the along datum leave. Common practice, no source.
const TURNED_MM: [f64; 2] = [0.04, 0.02];

/// The suspicion of a bank that stands elsewhere once it is turned end for end: half of it across is the set-up's, where no
/// reversal of all banks says how much, and along it has one datum.
fn turned(bank: &BankSets, other: &Compared, closed: bool, cylinders: &[u32]) -> Option<Suspicion> {
    if other.handled != Handled::Turned.word() {
        return None;
    }
    let far = |k: usize| other.shift[k].abs() > TURNED_MM[k].max(NO_CHANCE * other.u[k]);
    let (found, likely, ask) = if far(1) && !closed {
        let found = say!(
            "turned end for end it stands {} elsewhere across (u {}): half of that is the set-up's, not the block's",
            signed_mm(other.shift[1], 3),
            before_mm(other.u[1], 3)
        );
        let ask = "sweep the journal axis again with mandrel and spindle turned half round, and read the bank anew; turned \
                   end for end, read the other banks too";
        (found, "a pick-up of the journal axis that is off, or a set-up that rolls the block", ask)
    } else if far(0) {
        let found = say!(
            "turned end for end it stands {} elsewhere along (u {})",
            signed_mm(other.shift[0], 3),
            before_mm(other.u[0], 3)
        );
        let ask = "pick up the face that X counts from again, in both set-ups: where is it?";
        (found, "an along datum picked up off its face in one of the two", ask)
    } else {
        return None;
    };
    Some(Suspicion {
        code: Code::SetsDisagree,
        verdict: Verdict::Hold,
        subject: Subject::bank(&bank.bank),
        found,
        likely: likely.into(),
        ask: ask.into(),
        evidence: shifted(other),
        cylinders: cylinders.to_vec().into(),
    })
}

/// Single bores that differ otherwise than the rest.
fn odd(bank: &BankSets, other: &Compared) -> Option<Suspicion> {
    let cylinders: Vec<u32> = other.odd.iter().map(|o| o.cylinder).collect();
    let most = other.odd.iter().map(|o| o.apart[0].hypot(o.apart[1])).reduce(f64::max)?;
    Some(Suspicion {
        code: Code::SetsDisagree,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(cylinders.clone()),
        found: say!(
            "in the other round of bank {} it differs by {} otherwise than the rest of the bank",
            bank.bank,
            mm(most, 3)
        ),
        likely: "a wrong digit, another bore's figures, or a chip under the probe in one of the two rounds"
            .into(),
        ask: say!(
            "which reading of {} holds? Read it a third time, and take the wrong one's rows out of the table",
            cylinder_words(&cylinders)
        ),
        evidence: figures([("apart", most)]),
        cylinders: cylinders.into(),
    })
}

/// Turned end for end: the set-up is off, or the two rounds do not close.
fn set_up_off(asked: &Asked<'_>) -> Option<Suspicion> {
    let r = reversal::reversal(asked.job, asked.circles, asked.rounds)?;
    let cylinders: Vec<u32> = asked
        .circles
        .iter()
        .map(|c| c.cylinder)
        .collect::<std::collections::BTreeSet<_>>()
        .into_iter()
        .collect();
    let suspicion = |code, found, likely: &str, ask: crate::plan::sentence::Sentence| Suspicion {
        code,
        verdict: Verdict::Hold,
        subject: Subject::whole("set-up"),
        found,
        likely: likely.into(),
        ask,
        evidence: figures([
            ("set_up", r.set_up),
            ("u", r.set_up_u),
            ("closure", r.closure.unwrap_or(0.0)),
            ("allowed", r.closes_within),
        ]),
        cylinders: cylinders.into(),
    };
    if !r.closes {
        let closure = r.closure.unwrap_or(0.0).abs();
        let found = say!(
            "turned end for end the two banks' sums differ by {}; {} is allowed",
            mm(closure, 3),
            before_mm(r.closes_within, 3)
        );
        let ask = "read both banks again, front left and front right".into();
        return Some(suspicion(
            Code::NotClosed,
            found,
            "a wrong reading, or a seat that did not come back",
            ask,
        ));
    }
    if !reversal::set_up_is_off(&r) {
        return None;
    }
    let found = say!(
        "turned end for end the set-up's own part is {} across at the deck (u {}): cut now, every bore \
             would stand off by it",
        signed_mm(r.set_up, 3),
        before_mm(r.set_up_u, 3)
    );
    let (likely, ask) = if r.kind == Lean::Shift {
        (
            "a pick-up of the journal axis that is off",
            "turn mandrel and spindle half round, sweep again, and read the bores again".into(),
        )
    } else {
        let side = if r.set_up > 0.0 { "+Y" } else { "-Y" };
        let ask = say!(
            "shim {} under the rail on the {side} side ({} apart) and read the bores again; do not cut it as a correction",
            mm(r.shim, 2),
            mm(r.rail, 0)
        );
        ("a set-up rolled about the journal axis", ask)
    };
    Some(suspicion(Code::SetUpOff, found, likely, ask))
}

/// Off true below this is not doubled visibly, mm. Common practice, no source.
const LEAST_MM: f64 = 0.03;

/// Twice as far within this share. Common practice, no source.
const SHARE: f64 = 0.1;

/// All bores of a bank twice as far off in one round as in another: needle swings typed as offsets.
///
/// Bores that all stand off alike are left out: the block may as well have moved by that.
pub(super) fn full_swings(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    let circles = by_round(asked.circles);
    let of_round = |round: usize| circles.get(&round).map(Vec::as_slice).unwrap_or_default();
    for (bank, layout) in asked.job.block.banks.iter().enumerate() {
        let of_bank: Vec<(usize, &Round)> =
            asked.rounds.iter().enumerate().filter(|(_, r)| r.bank == bank).collect();
        let [(first, planned), others @ ..] = of_bank.as_slice() else { continue };
        let base = off_by_bore(asked, of_round(*first));
        for (i, round) in others.iter().filter(|(_, r)| r.handled != Handled::Turned) {
            let other = off_by_bore(asked, of_round(*i));
            let pairs: Vec<[[f64; 2]; 2]> =
                base.iter().filter_map(|(n, a)| other.get(n).map(|b| [*a, *b])).collect();
            if pairs.len() < 3 {
                continue;
            }
            let (which, small, large) = match doubled(asked.job.instruments.centre_mm, &pairs) {
                Some((which, small, large)) => (which, small, large),
                None => continue,
            };
            let round = if which == 0 { planned } else { round };
            let name = match &round.set {
                Some(set) => format!("set `{}`", plain(set, 30)),
                None => plain(&asked.job.set_ups[round.set_up].name, 40),
            };
            found.push(Suspicion {
                code: Code::FullSwing,
                verdict: Verdict::Hold,
                subject: Subject::bank(&layout.name),
                found: say!(
                    "all bores stand {} off true (rms) in {name}, just twice the {} of the other round",
                    mm(large, 3),
                    before_mm(small, 3)
                ),
                likely: "full needle swings (TIR) typed where offsets, half of them, were meant".into(),
                ask: say!("are the figures of {name} offsets or full swings?"),
                evidence: figures([("off_true", large), ("other_round", small)]),
                cylinders: base.keys().copied().collect(),
            });
        }
    }
    found
}

/// Mean off true of each bore of a round.
fn off_by_bore(asked: &Asked<'_>, circles: &[&FoundCircle]) -> BTreeMap<u32, [f64; 2]> {
    let mut sums: BTreeMap<u32, ([f64; 2], f64)> = BTreeMap::new();
    for (key, at) in centres(circles.iter().copied()) {
        let true_mm = asked.readings.true_mm(key.0);
        let (sum, n) = sums.entry(key.0).or_default();
        sum[0] += at[0] - true_mm[0];
        sum[1] += at[1] - true_mm[1];
        *n += 1.0;
    }
    sums.into_iter().map(|(n, (sum, k))| (n, sum.map(|s| s / k))).collect()
}

/// Which of two rounds is the doubled one, with the smaller and the larger rms off true.
fn doubled(centre_u_mm: f64, pairs: &[[[f64; 2]; 2]]) -> Option<(usize, f64, f64)> {
    let rms = |of: &dyn Fn(&[[f64; 2]; 2]) -> [f64; 2]| {
        super::evidence::rms(pairs.iter().flat_map(of)) * std::f64::consts::SQRT_2
    };
    let mean = [0, 1].map(|k| {
        pairs.iter().map(|p| p[1][k] - p[0][k]).sum::<f64>() / borewright_geometry::sample::count(pairs.len())
    });
    // What a move of the whole bank would leave.
    let moved = rms(&|p| [0, 1].map(|k| p[1][k] - p[0][k] - mean[k]));
    [0, 1].into_iter().find_map(|which| {
        let other = 1 - which;
        let left = rms(&|p| [0, 1].map(|k| p[which][k] - 2.0 * p[other][k]));
        let (small, large) = (rms(&|p| p[other]), rms(&|p| p[which]));
        let told = small >= LEAST_MM.max(10.0 * centre_u_mm)
            && left <= SHARE * large
            && moved > super::evidence::NEARER * left;
        told.then_some((which, small, large))
    })
}
