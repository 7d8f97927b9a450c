//! Walls that reach through a stud hole or into the next bore; and clocks that fit only when mirrored.

use super::evidence::figures;
use super::lines::came;
use super::{Asked, Suspicion};
use crate::job::{SetUp, Surface, WallReading};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// A wall may read this much beyond where a hole begins, mm: the hole as drawn and as cast differ. Common practice, no
/// source.
const BEYOND_MM: f64 = 0.8;

/// A wall may read this many of its standard uncertainties beyond where a hole begins.
const SIGMAS: f64 = 4.0;

/// Another way round to count a clock, in words and degrees.
type Mirror = (&'static str, fn(f64) -> f64);

const MIRRORS: [Mirror; 2] = [
    ("counted the other way round", |clock| (360.0 - clock).rem_euclid(360.0)),
    ("with front and rear exchanged", |clock| (180.0 - clock).rem_euclid(360.0)),
];

/// A hole that ends a wall: what it is, its centre in the bank, its radius.
struct Hole {
    what: String,
    centre_mm: [f64; 2],
    radius_mm: f64,
}

/// A wall that goes on where a hole begins.
struct Through<'w> {
    wall: &'w WallReading,
    wall_mm: f64,
    /// To the hole, mm.
    open_mm: f64,
    what: String,
}

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().filter_map(|s| judge(asked, s)).collect()
}

/// The suspicion of one set-up's walls that reach into a stud hole or the next bore: the worst of them, or the
/// clocks of all where counting them mirrored contradicts nothing.
fn judge(asked: &Asked<'_>, set_up: &SetUp) -> Option<Suspicion> {
    let through = through(asked, set_up, |clock| clock);
    let worst = through.iter().max_by(|a, b| (a.wall_mm - a.open_mm).total_cmp(&(b.wall_mm - b.open_mm)))?;
    let mirrored = MIRRORS
        .into_iter()
        .find(|(_, clock)| through.len() > 1 && self::through(asked, set_up, clock).is_empty())
        .map(|(how, _)| how);
    let mut cylinders: Vec<u32> = match mirrored {
        Some(_) => set_up.walls.iter().map(|w| w.cylinder).collect(),
        None => through.iter().map(|t| t.wall.cylinder).collect(),
    };
    cylinders.sort_unstable();
    cylinders.dedup();
    let bank = &asked.job.bank(set_up.bank).name;
    let others = match through.len() {
        1 => String::new(),
        n => format!(", and {} more walls likewise", n - 1),
    };
    let (n, depth, clock) = (worst.wall.cylinder, worst.wall.depth_mm, worst.wall.clock_deg);
    Some(Suspicion {
        code: if mirrored.is_some() { Code::ClocksMirrored } else { Code::WallThrough },
        verdict: Verdict::Hold,
        subject: if mirrored.is_some() { Subject::bank(bank) } else { Subject::cylinder(n) },
        found: say!(
            "a wall of {} of cylinder {n} at depth {depth:.1}, clock {clock:.0}, where {} begins after \
             {:.2}{others}",
            mm(worst.wall_mm, 3),
            worst.what,
            worst.open_mm
        ),
        likely: match mirrored {
            Some(how) => say!("the clocks of the table {how}: so they contradict nothing"),
            None => "a wrong digit or clock, or an echo that ran past the hole".into(),
        },
        ask: match mirrored {
            Some(_) => say!(
                "from which side, and which way round, were the clocks of the bank {bank} counted? 0 is the rear, seen from outside the deck towards +Y"
            ),
            None => say!("read that wall of cylinder {n} again"),
        },
        evidence: figures([
            ("wall", worst.wall_mm),
            ("open_after", worst.open_mm),
            ("clock", clock),
            ("walls", count(through.len())),
        ]),
        cylinders: cylinders.into(),
    })
}

fn through<'w>(asked: &Asked<'_>, set_up: &'w SetUp, clock: impl Fn(f64) -> f64) -> Vec<Through<'w>> {
    let slack = BEYOND_MM.max(SIGMAS * asked.job.instruments.wall_mm);
    let mut found = Vec::new();
    for wall in &set_up.walls {
        let Some(wall_mm) = wall.wall_mm else { continue };
        let Some((centre, radius)) = bore(asked, wall.cylinder, wall.surface, wall.depth_mm) else {
            continue;
        };
        let (sin, cos) = clock(wall.clock_deg).to_radians().sin_cos();
        let from = [centre[0] + radius * cos, centre[1] + radius * sin];
        let open = holes(asked, set_up.bank, wall)
            .into_iter()
            .filter_map(|hole| Some((until(from, [cos, sin], &hole)?, hole.what)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((open_mm, what)) = open.filter(|(open, _)| wall_mm > open + slack) {
            found.push(Through { wall, wall_mm, open_mm, what });
        }
    }
    found
}

/// A bore at a depth: the mean of its circles nearest to it, its radius as the plan takes it.
fn bore(asked: &Asked<'_>, cylinder: u32, surface: Surface, depth_mm: f64) -> Option<([f64; 2], f64)> {
    let all = came(asked.circles, cylinder);
    let on: Vec<_> = all.iter().filter(|c| c.surface == surface).copied().collect();
    let own = if on.is_empty() { all } else { on };
    let nearest =
        own.iter().min_by(|a, b| (a.depth_mm - depth_mm).abs().total_cmp(&(b.depth_mm - depth_mm).abs()))?;
    let liner = asked.job.block.parent.liner.as_ref();
    let radius = match liner {
        Some(liner) if surface == Surface::Parent && nearest.surface != Surface::Parent => {
            liner.outside_mm / 2.0
        }
        _ => nearest.diameter_mm / 2.0,
    };
    Some((nearest.centre_mm, radius))
}

fn holes(asked: &Asked<'_>, bank: usize, wall: &WallReading) -> Vec<Hole> {
    let block = &asked.job.block;
    let within = |d: &crate::job::Depths| (d.from_mm..=d.to_mm).contains(&wall.depth_mm);
    let studs = block.studs.iter().filter(|s| s.bank == bank && within(&s.depths)).map(|s| Hole {
        what: "a stud hole".into(),
        centre_mm: s.centre_mm,
        radius_mm: s.diameter_mm / 2.0,
    });
    let bores = asked.job.bank(bank).sites.iter().filter(|s| s.cylinder != wall.cylinder).filter_map(|s| {
        let (centre_mm, radius_mm) = bore(asked, s.cylinder, Surface::Parent, wall.depth_mm)?;
        Some(Hole { what: format!("bore {}", s.cylinder), centre_mm, radius_mm })
    });
    studs.chain(bores).collect()
}

/// How far a ray runs until a circle; `None` where it passes by, or by less than a tenth of its radius.
fn until(from: [f64; 2], along: [f64; 2], hole: &Hole) -> Option<f64> {
    let to = [0, 1].map(|k| hole.centre_mm[k] - from[k]);
    let reach = to[0] * along[0] + to[1] * along[1];
    let beside = (to[0] * along[1] - to[1] * along[0]).abs();
    // A ray that only grazes a hole's flank says nothing.
    if reach <= 0.0 || beside > 0.9 * hole.radius_mm {
        return None;
    }
    Some((reach - (hole.radius_mm.powi(2) - beside.powi(2)).sqrt()).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ray_runs_until_the_hole_and_past_its_flank() {
        let hole = Hole { what: String::new(), centre_mm: [20.0, 0.0], radius_mm: 5.0 };
        assert!((until([0.0, 0.0], [1.0, 0.0], &hole).unwrap() - 15.0).abs() < 1e-12);
        // 3 beside the middle: 4 of 5 are left, by Pythagoras.
        assert!((until([0.0, 3.0], [1.0, 0.0], &hole).unwrap() - 16.0).abs() < 1e-12);
        assert!(until([0.0, 4.8], [1.0, 0.0], &hole).is_none());
        assert!(until([0.0, 0.0], [-1.0, 0.0], &hole).is_none());
    }
}
