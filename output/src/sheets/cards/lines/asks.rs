//! What a step's line asks for: its checks, each with its own words.

use borewright_planner::plan::check::{Asked, AtCylinder, Check, Of, What};
use borewright_planner::plan::{Pass, Plan, Stop, cylinder_words};

use super::apart::apart;
use crate::OutputError;
use crate::sheets::cards::checks::{self, Laid, Words};
use crate::sheets::cards::deal::Deal;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// The checks of a step, each whole: what is said of one bore alone stands beside its boxes. They stand in the order of the check
    /// throughout, as a page of the record is filled.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn checks_of(
        &self,
        deal: &Deal<'_>,
        passes: &[&Pass],
        step: u32,
        cold: bool,
    ) -> Result<Vec<Laid>, OutputError> {
        let mut numbered: Vec<u32> = Vec::new();
        let mut made = Vec::new();
        for pass in passes.iter().filter(|p| p.step == step && p.stop.is_some()) {
            let Some(number) = pass.stop_number.filter(|n| !numbered.contains(n)) else { continue };
            numbered.push(number);
            let own: Vec<&Pass> =
                passes.iter().copied().filter(|p| p.step == step && p.stop_number == Some(number)).collect();
            let check = check_of(self.plan, pass, number);
            let words = self.words_of(&check, &own, cold);
            made.push(checks::laid_with(deal, self, &check, words)?);
        }
        Ok(made)
    }

    /// What is said of a check, and beside the boxes of each bore what is of it alone; of a look, the words of each. Of what is judged
    /// `cold` only that is said: how it went in stands above the line.
    fn words_of(&self, check: &Check, passes: &[&Pass], cold: bool) -> Words {
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
                    .map(|(words, own)| format!("{}: {}", cylinder_words(own), say(*words)))
                    .collect(),
            };
            return Words { all: each.join(". "), own: Vec::new() };
        }
        let each: Vec<String> = check.cylinders.iter().map(|at| say(of_bore(at))).collect();
        let told: Vec<&str> = each.iter().map(String::as_str).collect();
        match apart(&told) {
            Some((all, own)) => Words { all, own },
            None => Words { all: each.into_iter().next().unwrap_or_default(), own: Vec::new() },
        }
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
