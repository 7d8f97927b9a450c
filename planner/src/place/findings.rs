//! What is not at go of the bores' places, as findings; and each bore's reasons filled in.

use super::reasons::{go, hold, nowhere, stop};
use super::seated::Positions;
use crate::job::Job;
use crate::plan::sentence::Sentence;
use crate::plan::why::Of;
use crate::plan::{Finding, Subject, Verdict};

/// Fills in every bore's `why`, and says what is not at go.
pub(crate) fn findings(job: &Job, positions: &mut Positions) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut lacking: Vec<(Sentence, Vec<u32>)> = Vec::new();
    for i in 0..positions.bores.len() {
        let bore = &positions.bores[i];
        let subject = Subject::cylinder(bore.site.cylinder);
        let (mut why, code) = match (bore.level, bore.verdict) {
            (Verdict::Stop, _) => (nowhere(stop(job, positions, i)), "nothing_fits"),
            (Verdict::Go, Verdict::Hold)
                if bore.limits.iter().all(|l| l.verdict == Verdict::Go || l.told_only) =>
            {
                (go(job, bore), "planned")
            }
            (_, Verdict::Hold) => (hold(job, bore), "not_proven"),
            (_, Verdict::Stop) => (hold(job, bore), "outside_limit"),
            (_, Verdict::Go) => (go(job, bore), "planned"),
        };
        let judged =
            bore.limits.iter().any(|l| l.verdict != Verdict::Go && !l.told_only) || bore.level != Verdict::Go;
        if bore.verdict != Verdict::Go && judged {
            findings.push(Finding { code, verdict: bore.verdict, subject: subject.clone(), text: why.own() });
        }
        for unread in &bore.unread {
            why.add(Of::Unread, unread.text.clone());
            // What several bores lack alike is told once.
            let known = lacking.iter_mut().find(|(text, _)| *text == unread.text);
            if let Some((_, bores)) = known {
                bores.push(bore.site.cylinder);
                continue;
            }
            lacking.push((unread.text.clone(), vec![bore.site.cylinder]));
            findings.push(Finding {
                code: unread.code,
                verdict: Verdict::Hold,
                subject: subject.clone(),
                text: unread.text.clone(),
            });
        }
        positions.bores[i].why = why;
    }
    for (text, bores) in lacking.into_iter().filter(|(_, bores)| bores.len() > 1) {
        let Some(told) = findings.iter_mut().find(|f| f.text == text) else { continue };
        // What every bore lacks is missing in the block's description.
        let all = bores.len() == positions.bores.len();
        told.subject = if all { Subject::whole("block") } else { Subject::Cylinders(bores) };
    }
    findings
}
