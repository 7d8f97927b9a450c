//! The bench that an answer rests on: job, plan and record, and the figures that all answers share.

use borewright_geometry::sample::ends;

use super::settled::{Apart, settle, stands_from};
use crate::job::{Job, REFERENCE_C, Sleeve, Step};
use crate::plan::Stage;
use crate::plan::check::{Asked, AtCylinder, Check, Of, What};
use crate::plan::sentence::{Sentence, celsius as told_celsius, kelvin};
use crate::read::fault::plain;
use crate::record::{Paper, Standing};
use crate::say;

/// A temperature farther than this from 20 °C, and from the job's own by `FAR_FROM_JOB_K`, explains no figure, K. Common
/// practice, no source.
const FAR_K: f64 = 20.0;
/// And by this from the job's own, K. Common practice, no source.
const FAR_FROM_JOB_K: f64 = 10.0;

/// A size is signed at 20 °C within this, K. Common practice, no source.
const SIGNED_K: f64 = 2.0;

/// Standard uncertainty of a length where no job says, mm. Common practice, no source.
const U_MM: f64 = 0.004;

/// Standard uncertainty of a mean roughness read with a stylus on a honed bore, µm: from place to place it differs by more than
/// the gauge does. Common practice, no source.
const ROUGHNESS_UM: f64 = 0.05;

/// A bar gives way by hundredths: no head is told to be set farther beside the size that is planned, mm on diameter. Common
/// practice, no source.
pub(super) const BESIDE_MM: f64 = 0.05;

pub(super) struct Bench<'a> {
    pub(super) job: Option<&'a Job>,
    pub(super) paper: &'a Paper,
    pub(super) standing: &'a Standing,
    pub(super) check: &'a Check,
    pub(super) cylinder: Option<u32>,
}

impl<'a> Bench<'a> {
    /// This bench at another check or bore.
    pub(super) fn of(&self, check: &'a Check, cylinder: Option<u32>) -> Bench<'a> {
        Bench { check, cylinder, ..*self }
    }

    pub(super) fn at(&self) -> Option<&'a AtCylinder> {
        self.check.at(self.cylinder)
    }

    /// Standard uncertainty of one reading, in its unit.
    pub(super) fn u(&self, of: Of) -> f64 {
        let Some(job) = self.job else { return U_MM };
        let i = &job.instruments;
        match of {
            Of::Diameter | Of::Set | Of::Parent | Of::Off => i.diameter_mm,
            Of::Depth | Of::Height | Of::Flatness | Of::Cut => i.deck_mm,
            Of::X | Of::Y | Of::Z => i.centre_mm.hypot(i.machine_mm),
            Of::Clock | Of::Arc => 5.0,
            Of::Roughness => ROUGHNESS_UM,
            Of::Look | Of::Tight => 0.0,
        }
    }

    /// The figures read at a place, at 20 °C where the block's temperature was written with them.
    pub(super) fn figures(&self, asked: &Asked) -> Vec<f64> {
        let of = self.standing.of_check(self.check.check, self.cylinder);
        of.filter(|r| r.reading == asked.reading)
            .filter_map(|r| Some(self.at_20(asked, r.value()?, r.fields.get("temperature"))))
            .collect()
    }

    /// Why the temperature that a figure was written down with explains nothing: far off, or none.
    pub(super) fn far(&self, asked: &Asked) -> Option<Sentence> {
        if !(asked.of.is_diameter() || matches!(asked.of, Of::X | Of::Y)) {
            return None;
        }
        let own = self.standing.of_check(self.check.check, self.cylinder);
        own.filter(|r| r.reading == asked.reading && r.value().is_some()).find_map(|r| {
            let said = r.fields.get("temperature");
            let why = match celsius(said) {
                _ if said.is_empty() => return self.untold(asked, r.line),
                Some(c) if !self.is_far(c) => return None,
                Some(c) => say!(
                    "{} from {}, and no correction follows that",
                    kelvin((c - REFERENCE_C).abs(), 0),
                    told_celsius(REFERENCE_C, 0)
                ),
                None => "which is no temperature in °C".into(),
            };
            Some(say!(
                "line {} was read at `{}`, {}: read it again at the shop's temperature, and strike that line",
                r.line,
                plain(said, 20),
                why
            ))
        })
    }

    /// What is told of a diameter without a temperature, of a pocket in a job that is cut warm: it is taken to be
    /// read warm, unless somebody says that it had cooled.
    fn untold(&self, asked: &Asked, line: usize) -> Option<Sentence> {
        let block_c = self.job?.temperature?.cutting.block_c;
        let warm = (block_c - REFERENCE_C).abs() > SIGNED_K;
        (warm && asked.of == Of::Diameter && self.check.stage == Stage::Pocket).then(|| {
            say!(
                "line {} says no temperature, and this job is cut at {}: say with `--temperature` how warm the block was then, and \
                 strike that line",
                line,
                told_celsius(block_c, 0)
            )
        })
    }

    fn is_far(&self, celsius: f64) -> bool {
        let job = self.job.and_then(|j| j.temperature).map_or(REFERENCE_C, |t| t.cutting.block_c);
        (celsius - REFERENCE_C).abs() > FAR_K && (celsius - job).abs() > FAR_FROM_JOB_K
    }

    /// A diameter read on a warm block or sleeve, as it is at 20 °C; the gauge is taken to be at 20.
    fn at_20(&self, asked: &Asked, value: f64, temperature: &str) -> f64 {
        let celsius = celsius(temperature).filter(|c| !self.is_far(*c) && asked.of.is_diameter());
        let metal = match self.check.stage {
            Stage::Finish | Stage::Hone => self.sleeve().map(|(sleeve, _)| &sleeve.material),
            _ => self.job.map(|job| &job.block.parent.material),
        };
        celsius.zip(metal).map_or(value, |(celsius, metal)| value / (1.0 + metal.strain(celsius)))
    }

    /// The figures of a place as it stands now; those read before it was cut again or had moved are left out.
    pub(super) fn standing_figures(&self, asked: &Asked) -> Vec<f64> {
        let own = self.figures(asked);
        if own.len() < 2 {
            return own;
        }
        let alike = |bench: &Bench<'_>| -> Vec<(Option<u32>, u32, Vec<f64>)> {
            let readings = bench.at().map(|at| at.readings.as_slice()).unwrap_or_default();
            let of_kind = readings.iter().filter(|a| a.of == asked.of);
            of_kind.map(|a| (bench.cylinder, a.reading, bench.figures(a))).collect()
        };
        // All bores of a touch check share one zero, so their places are judged together.
        let places = match self.check.what {
            What::Touch => {
                let all = self.check.cylinders.iter();
                all.flat_map(|at| alike(&self.of(self.check, at.cylinder))).collect()
            }
            _ => alike(self),
        };
        let here = (self.cylinder, asked.reading);
        let at = places.iter().position(|(cylinder, reading, _)| (*cylinder, *reading) == here);
        let figures: Vec<Vec<f64>> = places.into_iter().map(|(.., figures)| figures).collect();
        let only_up = asked.of.is_diameter() || asked.of == Of::Depth;
        let from = at.map_or(0, |at| stands_from(&figures, at, self.u(asked.of), only_up));
        own.get(from..).unwrap_or_default().to_vec()
    }

    /// The figure of a place.
    pub(super) fn settled(&self, asked: &Asked) -> Result<f64, Apart> {
        let (own, u) = (self.standing_figures(asked), self.u(asked.of));
        settle(&own, u).ok_or_else(|| Apart::of(&own, u))
    }

    /// The figures of every place of a kind that was read.
    pub(super) fn all(&self, of: Of) -> Vec<(&'a Asked, f64)> {
        let readings = self.at().map(|a| a.readings.as_slice()).unwrap_or_default();
        readings.iter().filter(|r| r.of == of).filter_map(|r| Some((r, self.settled(r).ok()?))).collect()
    }

    /// The figures of every place of a kind that was read, without the places.
    pub(super) fn values(&self, of: Of) -> Vec<f64> {
        self.all(of).into_iter().map(|(_, value)| value).collect()
    }

    /// Whether every place of a kind that the work waits for has been answered.
    pub(super) fn complete_of(&self, of: Of) -> bool {
        let readings = self.at().map(|a| a.readings.as_slice()).unwrap_or_default();
        let mut own = readings.iter().filter(|r| r.waits && r.of == of);
        own.all(|r| self.standing.has(self.check.check, self.cylinder, r.reading))
    }

    /// Whether every place that the work waits for was read.
    pub(super) fn complete(&self) -> bool {
        let readings = self.at().map(|a| a.readings.as_slice()).unwrap_or_default();
        readings
            .iter()
            .filter(|r| r.waits)
            .all(|r| self.standing.has(self.check.check, self.cylinder, r.reading))
    }

    /// Whether all its places were read and tell one size, by these figures of them: the head is set by such a bore alone.
    pub(super) fn tells_its_size(&self, sizes: &[f64]) -> bool {
        let readings = self.at().map(|a| a.readings.as_slice()).unwrap_or_default();
        let read = |a: &&Asked| {
            a.of == Of::Diameter && self.standing.is_read(self.check.check, self.cylinder, a.reading)
        };
        let alike = ends(sizes).is_some_and(|[low, high]| high - low <= BESIDE_MM);
        self.complete() && alike && sizes.len() == readings.iter().filter(read).count()
    }

    /// What the head was said to be set to, the last time it was.
    pub(super) fn set(&self) -> Option<f64> {
        let asked = self.at()?.readings.iter().find(|r| r.of == Of::Set)?;
        self.standing.last(self.check.check, self.cylinder, asked.reading)?.value()
    }

    /// The largest size that the tool of this step is set to, mm; nothing where none is known.
    pub(super) fn widest_mm(&self) -> Option<f64> {
        let name = self.paper.tool(self.check.step)?;
        let tool = self.job?.machine.tools.iter().find(|t| t.name == name)?;
        Some(tool.diameter_mm[1])
    }

    /// The sleeve for the bore, and which one of those measured.
    pub(super) fn sleeve(&self) -> Option<(&'a Sleeve, Option<String>)> {
        let (name, number) = self.paper.sleeve_of(self.cylinder?)?;
        let pinned = self.standing.pinned(self.cylinder?);
        let sleeve = self.job?.sleeves.iter().find(|s| s.name == name)?;
        Some((sleeve, pinned.or(number).map(str::to_owned)))
    }

    /// The sleeve's step that stands in this check's part of the pocket, and which one it is.
    pub(super) fn step(&self) -> Option<(usize, &'a Step)> {
        let (sleeve, _) = self.sleeve()?;
        sleeve.body.iter().enumerate().find(|(_, s)| s.name == self.check.feature)
    }
}

/// A temperature as written, °C: `31`, `31.5 C`, `31,5 °C`.
fn celsius(text: &str) -> Option<f64> {
    let number = text.trim_end_matches(['C', 'c', '°', ' ']).replacen(',', ".", 1);
    number.parse::<f64>().ok().filter(|c| c.is_finite())
}
