//! Stops and steps across as the comments tell them: the tool at its stop, the way to the next bore.

use super::bores::BITS_MM;
use super::control::{Event, Motion};
use super::head::figure_behind;
use super::unit::Unit;
use super::walk::Walk;
use crate::read::fault::plain;

/// What stands behind the tool's name in the comment of its stop, `step 10 - NAME set to 83.291 mm, …`; names are
/// compared by letters and digits, since some other characters are written otherwise in a list.
fn behind_tool<'a>(note: &'a str, name: &str) -> Option<&'a str> {
    let (_, mut rest) = note.split_once(" - ")?;
    for wanted in name.chars().filter(char::is_ascii_alphanumeric) {
        let at = rest.find(|c: char| c.is_ascii_alphanumeric())?;
        rest = rest.get(at..)?.strip_prefix(wanted)?;
    }
    // The name may end in other characters, and has ended where the next word begins.
    let behind = rest.trim_start_matches(|c: char| !c.is_ascii_alphanumeric());
    let between = rest.get(..rest.len() - behind.len()).unwrap_or_default();
    between.contains(' ').then_some(behind)
}

/// The figure of ` set to 83.291 mm` or ` a cutter of 40.000 mm`, and nothing else in its place, mm; in a list in
/// inches one in inches, and none in mm.
fn figure(rest: &str, unit: Unit) -> Option<f64> {
    let rest = ["set to ", "a cutter of ", "of "].iter().find_map(|words| rest.strip_prefix(words))?;
    let (figure, rest) = rest.split_once(' ')?;
    let behind = rest.strip_prefix(unit.short())?;
    let ends = behind.is_empty() || behind.starts_with([',', ' ']);
    figure.parse().ok().filter(|v: &f64| ends && v.is_finite()).map(|v| unit.told(v))
}

/// Every figure of a text that its unit stands behind, mm.
fn figures(text: &str, unit: Unit) -> Vec<f64> {
    let words: Vec<&str> = text.split_ascii_whitespace().collect();
    let in_unit = words.windows(2).filter(|w| w[1].trim_end_matches(',') == unit.short());
    in_unit.filter_map(|w| w[0].parse().ok()).map(|v: f64| unit.told(v)).collect()
}

impl Walk<'_, '_> {
    /// A stop to set the tool: the step, its tool and its diameter are the plan's.
    pub(super) fn tool_stop(&mut self, event: &Event) {
        let (at, unit) = (event.note_at, self.basis.unit());
        let words: Vec<&str> = event.note.split_ascii_whitespace().collect();
        let step = words.get(1).and_then(|n| n.parse::<u32>().ok());
        let pass = step.and_then(|n| self.bores.any(n));
        let (Some(step), Some(pass)) = (step, pass) else {
            let found = format!("`{}`", plain(&event.note, 40));
            self.flaws.add(at, "step", found, "a step of the plan for this bank and stage");
            (self.step, self.step_unknown) = (None, true);
            return;
        };
        self.step = Some(step);
        if self.list.stage == "finish" && !self.has_stopped {
            let found = "a tool set before any stop for plate and zero";
            self.flaws.add(
                event.at,
                "stop_missing",
                found,
                "M0 first, for the deck as the job has it and zero from the mains",
            );
        }
        let name = pass.tool.as_deref().unwrap_or_default();
        // Letters that a control does not show are written otherwise; such a name is not compared.
        let comparable = name.is_ascii() && !name.contains('%') && !event.note.ends_with("...");
        let behind = behind_tool(&event.note, name).filter(|_| comparable);
        if comparable && behind.is_none() {
            let found = format!("`{}`", plain(&event.note, 60));
            self.flaws.add(at, "tool", found, format!("the tool `{}`", plain(name, 40)));
        }
        let Some(tool) = self.bores.tool(pass) else {
            self.flaws.add(at, "tool", "a step without a tool of the machine", "a tool of the machine file");
            return;
        };
        // A head is set to a diameter of the step's; a cutter has its own.
        let planned: Vec<f64> = if tool.kind == "milling" {
            vec![tool.diameter[0]]
        } else {
            self.bores.of_step(step).map(|(_, b)| b.pass.diameter).collect()
        };
        let off = |d: f64| planned.iter().map(|p| (d - p).abs()).fold(f64::INFINITY, f64::min);
        let wanted = planned.first().copied().unwrap_or_default();
        // The figure that the tool is set to stands right behind its name: any other may be part of a name. Where the
        // name cannot be told from the rest, the nearest counts.
        self.set = match behind {
            Some(rest) => figure(rest, unit),
            None => figures(&event.note, unit).into_iter().min_by(|a, b| off(*a).total_cmp(&off(*b))),
        };
        match self.set {
            Some(said) if off(said) <= unit.rounded() => {}
            Some(said) => {
                let found = format!("a tool of {} {} in step {step}", unit.show(said), unit.short());
                self.flaws.add(at, "diameter", found, format!("{}, as planned", unit.show(wanted)));
                self.set = None;
            }
            None if event.note.ends_with("...") => {
                let note = format!("the comment of step {step} is too long to show its diameter");
                self.result.notes.push(note);
            }
            None => {
                let found = "a tool stop without a diameter";
                self.flaws.add(at, "diameter", found, format!("{} {}", unit.show(wanted), unit.short()));
            }
        }
        let [least, most] = tool.diameter;
        if tool.kind != "milling" && !planned.iter().all(|d| (least..=most).contains(d)) {
            let found = format!("{} {} in step {step}", unit.show(wanted), unit.short());
            self.flaws.add(
                at,
                "diameter",
                found,
                format!("{} to {}, what the tool can be set to", unit.show(least), unit.show(most)),
            );
        }
    }

    /// Holds the step from bore to bore that a comment tells, for counting along at the machine, against the move.
    pub(super) fn step_across(&mut self, motion: &Motion, event: &Event) {
        let Some((_, said)) = event.note.rsplit_once(", step ") else { return };
        for (axis, name) in [(0, "X"), (1, "Y")] {
            let (Some(from), Some(to)) = (motion.from[axis], motion.to[axis]) else { continue };
            let unit = self.basis.unit();
            let Some(step) = figure_behind(said, name).map(|v| unit.told(v)) else { continue };
            if (to - from - step).abs() > unit.step() - BITS_MM {
                let found = format!("a step of {name} {}", unit.signed(step));
                self.flaws.add(event.note_at, "step_said", found, unit.signed(to - from));
            }
        }
    }
}
