//! What a step's line asks for: its checks, each with its own words.

use borewright_planner::plan::check::{Asked, AtCylinder, Check, Of, What};
use borewright_planner::plan::{Pass, Plan, Stop};

use crate::OutputError;
use crate::sheets::cards::checks::{self, Laid};
use crate::sheets::cards::leaf::Deal;
use crate::sheets::sheet::{Sheet, numbers};

impl Sheet<'_> {
    /// The checks of a step, each with its own words: what is said of one bore alone is asked of it alone. Its boxes stand in the order
    /// of the check throughout, as a page of the record is filled.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn checks_of(
        &self,
        deal: &Deal<'_>,
        passes: &[&Pass],
        step: u32,
        cold: bool,
    ) -> Result<Vec<(Check, Laid)>, OutputError> {
        let mut numbered: Vec<u32> = Vec::new();
        let mut made = Vec::new();
        for pass in passes.iter().filter(|p| p.step == step && p.stop.is_some()) {
            let Some(number) = pass.stop_number.filter(|n| !numbered.contains(n)) else { continue };
            numbered.push(number);
            let own: Vec<&Pass> =
                passes.iter().copied().filter(|p| p.step == step && p.stop_number == Some(number)).collect();
            for (check, words) in self.by_words(check_of(self.plan, pass, number), &own, cold) {
                let laid = checks::laid(deal, self, &check, &words)?;
                made.push((check, laid));
            }
        }
        Ok(made)
    }

    /// A check parted where its words change from a bore to the next; a look stays whole, with the words of each. Of what is judged
    /// `cold` only that is said: how it went in stands above the line.
    fn by_words(&self, check: Check, passes: &[&Pass], cold: bool) -> Vec<(Check, String)> {
        let first = passes.iter().find_map(|p| p.stop.as_ref());
        let of_bore = |at: &AtCylinder| {
            let own = passes.iter().find(|p| Some(p.cylinder) == at.cylinder);
            own.and_then(|p| p.stop.as_ref()).or(first)
        };
        // With room for the one figure that the check is judged by and no box asks for.
        let say = |stop: Option<&Stop>| match stop {
            Some(stop) if cold && !stop.once.is_empty() => self.units.say_with_blanks(&stop.asks),
            Some(stop) => self.units.say_with_blanks(&stop.whole()),
            None => String::new(),
        };
        if check.what == What::Look {
            let mut told: Vec<(Option<&Stop>, Vec<u32>)> = Vec::new();
            for at in &check.cylinders {
                let (words, cylinder) = (of_bore(at), at.cylinder);
                match told.iter_mut().find(|(own, _)| *own == words) {
                    Some((_, cylinders)) => cylinders.extend(cylinder),
                    None => told.push((words, cylinder.into_iter().collect())),
                }
            }
            let each: Vec<String> = match told.as_slice() {
                [(words, _)] => vec![say(*words)],
                several => several
                    .iter()
                    .map(|(words, own)| format!("cylinder {}: {}", numbers(own), say(*words)))
                    .collect(),
            };
            return vec![(check, each.join(". "))];
        }
        let parts = check.cylinders.chunk_by(|a, b| of_bore(a) == of_bore(b));
        parts
            .map(|part| {
                let words = part.first().and_then(of_bore);
                (Check { cylinders: part.to_vec(), ..check.clone() }, say(words))
            })
            .collect()
    }
}

/// The plan's check of a pass; where it has none, a look at each bore.
fn check_of(plan: &Plan, pass: &Pass, number: u32) -> Check {
    if let Some(check) = plan.checks.iter().find(|c| c.check == number) {
        return check.clone();
    }
    let look = |cylinder: u32| AtCylinder {
        cylinder: Some(cylinder),
        readings: vec![Asked {
            reading: 1,
            of: Of::Look,
            depth: None,
            clock: None,
            expected: None,
            least: None,
            most: None,
            unit: Of::Look.measure(),
            waits: true,
            worked: Vec::new(),
        }],
    };
    let own = plan.passes.iter().filter(|p| p.stop_number == Some(number));
    Check {
        check: number,
        what: What::Look,
        stage: pass.stage,
        bank: pass.bank.clone(),
        step: Some(pass.step),
        feature: pass.feature.clone(),
        cylinders: own.map(|p| look(p.cylinder)).collect(),
    }
}
