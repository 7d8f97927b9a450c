//! What the labels say.

use borewright_planner::job::Step;
use borewright_planner::job::pocket::Feature;
use borewright_planner::plan::Stage;
use borewright_planner::plan::check::Of;
use borewright_planner::plan::fit::{WallFrom, WallLeft};
use kurbo::Vec2;

use super::labels::Kind;
use super::{HalfSection, Label, Units, View, depth, fine, signed};
use crate::OutputError;
use crate::said::short::shorten;
use crate::said::window::Window;

/// A text in each unit of the sheet.
type Said<'t> = &'t dyn Fn(Units) -> Result<String, OutputError>;

/// A size with its window as the box of its check has it: "3.5346 ±0.0002", or "3.2283, 3.2280 to 3.2287".
fn checked_size(u: Units, mm: f64, either: f64) -> Result<String, OutputError> {
    let window = Window { expected: Some(mm), least: Some(mm - either), most: Some(mm + either) };
    let window = u.window(window)?;
    Ok(match window.strip_prefix("\u{b1} ") {
        Some(either) => format!("{} ±{either}", fine(u, mm)?),
        None => format!("{}, {window}", fine(u, mm)?),
    })
}

impl HalfSection<'_> {
    /// Every label of the section.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn labels(&self, view: &View) -> Result<Vec<Label>, OutputError> {
        let mut labels = self.deck_labels(view)?;
        labels.extend(self.flange_labels(view)?);
        for (step, feature) in self.sleeve.body.iter().zip(&self.pocket.steps) {
            labels.push(self.step_label(view, step, feature)?);
            labels.extend(self.ring_labels(view, step, feature)?);
        }
        labels.extend(self.block_labels(view)?);
        let bore = self.job.finish.bore_mm;
        let middle = 0.8 * self.pocket.depth_mm();
        labels.push(self.label(
            view.at(bore / 2.0, middle),
            &|u| Ok(format!("finished bore Ø {}", checked_size(u, bore, self.job.finish.tolerance_mm)?)),
            &[&|u| Ok(format!("supplied Ø {}", fine(u, self.sleeve.bore_mm)?))],
        )?);
        Ok(labels)
    }

    /// The second unit's figures after the title where they fit, else on a line of their own, as the details are.
    fn label(&self, at: kurbo::Point, title: Said<'_>, details: &[Said<'_>]) -> Result<Label, OutputError> {
        let units = self.units();
        let in_each = |text: Said<'_>| units.iter().map(|u| text(*u)).collect::<Result<Vec<String>, _>>();
        // A second unit is for what has figures in it: words alone would only be said twice.
        let second = |each: &[String]| match each {
            [one, other] => Some(what_differs(one, other)).filter(|figures| !figures.is_empty()),
            _ => None,
        };
        let heads = in_each(title)?;
        let mut lines: Vec<(Kind, String)> =
            second(&heads).into_iter().map(|line| (Kind::Title, format!("({line})"))).collect();
        for detail in details {
            let each = in_each(*detail)?;
            lines.extend(each.first().map(|line| (Kind::Detail, line.clone())));
            lines.extend(second(&each).map(|line| (Kind::Second, format!("({line})"))));
        }
        Ok(Label { at, title: heads.into_iter().next().unwrap_or_default(), lines })
    }

    /// Labels of the deck, how far it stands above the journal axis and what is cut of it, and of the fire ring.
    fn deck_labels(&self, view: &View) -> Result<Vec<Label>, OutputError> {
        let cut = self.job.engine.deck;
        let heights = self.heights();
        let above = |u: Units| -> Result<String, OutputError> {
            let each: Vec<String> = heights
                .iter()
                .take(2)
                .map(|(bank, height)| {
                    let of = if heights.len() > 1 { format!("{} ", shorten(bank)) } else { String::new() };
                    Ok(format!("{of}{}", fine(u, *height)?))
                })
                .collect::<Result<_, OutputError>>()?;
            Ok(format!("{} above the journal axis", each.join(", ")))
        };
        let mut labels =
            vec![self.label(view.at(view.far - 4.0, 0.0), &|_| Ok("deck as it is".to_owned()), &[&above])?];
        if cut.cut_mm > 0.0 {
            let when = if cut.after_fit { "with the sleeves in" } else { "before the sleeves go in" };
            labels.push(self.label(
                view.at(view.far - 8.0, cut.cut_mm) + Vec2::new(0.0, 0.2),
                &|u| Ok(format!("final deck, {} lower", fine(u, cut.cut_mm)?)),
                &[&|_| Ok(format!("cut {when}; too little to see"))],
            )?);
        }
        if let Some(ring) = self.job.block.fire_ring {
            let top = self.top();
            let at = view.at((ring.inside_mm + ring.outside_mm) / 4.0, top) - Vec2::new(0.0, 1.0);
            let least = self.choice.fit.fire_ring.iter().map(|r| r.on_flange_least).reduce(f64::min);
            let wide = (ring.outside_mm - ring.inside_mm) / 2.0;
            let on = |u: Units| match least {
                // To nothing that is printed.
                Some(l) if l >= wide - 0.005 => Ok(format!("all of its {} on the flange", depth(u, l)?)),
                Some(l) => Ok(format!("at least {} of its {} on the flange", depth(u, l)?, depth(u, wide)?)),
                None => Ok(String::new()),
            };
            let title = |u: Units| {
                Ok(format!("fire ring Ø {} to {}", depth(u, ring.inside_mm)?, depth(u, ring.outside_mm)?))
            };
            let details: Vec<Said<'_>> = if least.is_some() { vec![&on] } else { vec![] };
            labels.push(self.label(at, &title, &details)?);
        }
        Ok(labels)
    }

    /// Labels of a flange, its recess and its ledge; of a sleeve without one, those of its foot.
    fn flange_labels(&self, view: &View) -> Result<Vec<Label>, OutputError> {
        let (Some(flange), Some(recess)) = (self.sleeve.flange(), &self.pocket.flange) else {
            return self.foot_labels(view);
        };
        let recess = &recess.cut;
        let floor = recess.depths.to_mm;
        let first = self.pocket.steps.first().map_or(0.0, |s| s.radius_mm);
        let sleeve = |u: Units| {
            let flats = match flange.flats_cut_mm() {
                Some(flats) => format!(", {} over the flats", fine(u, flats)?),
                None => String::new(),
            };
            let gap = fine(u, flange.clearance_mm)?;
            Ok(format!("flange Ø {}{flats}: {gap} clear on diameter", fine(u, flange.diameter_mm)?))
        };
        let deck = if self.job.engine.deck.cut_mm > 0.0 { "final deck" } else { "deck" };
        let own = if self.choice.fit.assigned.is_empty() { "" } else { "; each sleeve has its own" };
        let thick = |u: Units| {
            Ok(format!(
                "flange {} ±{} thick, {} to {} above the {deck}{own}",
                fine(u, flange.thickness_mm)?,
                fine(u, flange.tolerance_mm)?,
                fine(u, flange.protrusion_min_mm)?,
                fine(u, flange.protrusion_max_mm)?
            ))
        };
        let ledge = |u: Units| {
            Ok(format!("ledge {} deep", checked_size(u, floor, self.job.allowances.ledge_depth_mm)?))
        };
        Ok(vec![
            self.label(
                view.at(recess.radius_mm, 0.45 * floor),
                &|u| Ok(format!("recess Ø {}", fine(u, recess.diameter_mm())?)),
                &[&sleeve],
            )?,
            self.label(view.at(first + 0.7 * (recess.radius_mm - first), floor), &ledge, &[&thick])?,
        ])
    }

    /// Of a plain sleeve: the step that it stands on, and how far it is left proud.
    fn foot_labels(&self, view: &View) -> Result<Vec<Label>, OutputError> {
        let (Some(foot), Some(given)) = (&self.pocket.foot, self.sleeve.foot()) else {
            return Ok(Vec::new());
        };
        let deep = foot.depths.from_mm;
        let last = self.pocket.steps.last().map_or(foot.radius_mm, |s| s.radius_mm);
        let title = |u: Units| {
            Ok(format!("step {} deep, flat", checked_size(u, deep, self.job.allowances.ledge_depth_mm)?))
        };
        let left = |u: Units| {
            Ok(format!(
                "bore of it Ø {}, at least {} high",
                depth(u, given.inside_mm)?,
                depth(u, given.height_mm)?
            ))
        };
        let seat = &self.choice.fit.seat;
        let bears = |u: Units| Ok(format!("sleeve bears on {} at the least", fine(u, seat.width)?));
        let mut labels =
            vec![self.label(view.at(f64::midpoint(foot.radius_mm, last), deep), &title, &[&left, &bears])?];
        if given.proud_mm > 0.0 {
            let bore = self.job.finish.bore_mm / 2.0;
            let first = self.pocket.steps.first().map_or(bore, |s| s.radius_mm);
            let title = |u: Units| Ok(format!("sleeve left {} proud", depth(u, given.proud_mm)?));
            let flush = |_: Units| Ok("cut flush with the deck, as drawn".to_owned());
            labels.push(self.label(view.at(f64::midpoint(bore, first), self.top()), &title, &[&flush])?);
        }
        Ok(labels)
    }

    /// The label of a pocket's step: its size with its tolerance, how deep it goes, and how the sleeve fits it.
    fn step_label(&self, view: &View, step: &Step, feature: &Feature) -> Result<Label, OutputError> {
        let either = step.pocket_tolerance_mm.unwrap_or(self.job.allowances.pocket_size_mm);
        let middle = f64::midpoint(feature.depths.from_mm, feature.depths.to_mm);
        let title = |u: Units| {
            // What stands in coolant fits nothing: it is as wide as its check lets it be.
            let either = if step.wet { self.checked(&step.name) } else { Some(either) };
            let size = match either {
                Some(either) => checked_size(u, feature.diameter_mm(), either)?,
                None => fine(u, feature.diameter_mm())?,
            };
            Ok(format!("{} Ø {size}", shorten(&step.name)))
        };
        let register = self.choice.fit.registers.iter().find(|r| r.feature == step.name);
        let sleeve = |u: Units| {
            let outside = format!("sleeve Ø {} ±{}", fine(u, step.diameter_mm)?, fine(u, step.tolerance_mm)?);
            let fit = match register {
                Some(r) => {
                    format!(
                        "{} to {} tight",
                        signed(u, r.interference.least)?,
                        signed(u, r.interference.most)?
                    )
                }
                None if step.interference_mm > 0.0 => format!("{} tight", fine(u, step.interference_mm)?),
                None => format!("{} clear", fine(u, -step.interference_mm)?),
            };
            let code = step.code.as_deref().map_or_else(String::new, |c| format!(", {}", shorten(c)));
            Ok(format!("{outside}, {fit}{code}"))
        };
        let wet = if step.wet { ", wet" } else { "" };
        let to = |u: Units| Ok(format!("down to {}{wet}", depth(u, feature.depths.to_mm)?));
        self.label(view.at(feature.radius_mm, middle), &title, &[&to, &sleeve])
    }

    /// Either side of the size that a part of the pocket is checked by, mm; `None` where no check gauges it.
    fn checked(&self, feature: &str) -> Option<f64> {
        let pockets = self.plan.checks.iter().filter(|c| c.stage == Stage::Pocket && c.feature == feature);
        let readings = pockets.flat_map(|c| &c.cylinders).flat_map(|at| &at.readings);
        let mut sizes = readings.filter(|r| r.of == Of::Diameter);
        sizes.find_map(|r| Some(r.most? - r.expected?))
    }

    fn ring_labels(&self, view: &View, step: &Step, feature: &Feature) -> Result<Vec<Label>, OutputError> {
        let cut = self.job.engine.deck.cut_mm;
        let rings = step.o_rings.iter();
        rings
            .map(|ring| {
                let at = view
                    .at(f64::midpoint(ring.groove_diameter_mm / 2.0, feature.radius_mm), ring.depth_mm + cut);
                let squeeze = self
                    .choice
                    .fit
                    .o_rings
                    .iter()
                    .find(|f| f.feature == step.name && (f.depth - ring.depth_mm).abs() < 1e-6);
                let squeezed = squeeze.map_or_else(String::new, |f| {
                    format!(", squeezed {:.0} %", (f.squeeze * 100.0).clamp(-999.0, 999.0))
                });
                let title = |u: Units| Ok(format!("O-ring at {}", depth(u, ring.depth_mm + cut)?));
                let groove = |u: Units| {
                    Ok(format!(
                        "groove Ø {}, {} wide; cord {}{squeezed}",
                        fine(u, ring.groove_diameter_mm)?,
                        depth(u, ring.groove_width_mm)?,
                        depth(u, ring.cord_mm)?
                    ))
                };
                self.label(at, &title, &[&groove])
            })
            .collect()
    }

    /// Labels of the metal round the pocket: jacket, parent walls, what is left of the old liner, the nearest stud,
    /// and where pocket and parent bore end.
    fn block_labels(&self, view: &View) -> Result<Vec<Label>, OutputError> {
        let mut labels = Vec::new();
        let parent = &self.job.block.parent;
        if let Some(jacket) = parent.jacket {
            let inner = self.jacket_stretches(view).iter().map(|s| s.1).fold(0.0, f64::max);
            let at = view.at(
                f64::midpoint(inner.min(view.far), view.far),
                jacket.from_mm + 0.62 * (jacket.to_mm - jacket.from_mm),
            );
            let title = |u: Units| {
                Ok(format!("coolant jacket, {} to {}", depth(u, jacket.from_mm)?, depth(u, jacket.to_mm)?))
            };
            labels.push(self.label(at, &title, &[])?);
        }
        for feature in self.pocket.steps.iter().filter(|f| !f.wet) {
            let register = self.choice.fit.registers.iter().find(|r| r.feature == feature.name);
            let Some(wall) = register.and_then(|r| r.wall) else { continue };
            // Where it shows: behind the jacket, else under the middle of the step.
            let shown = parent.jacket.and_then(|j| feature.depths.shared(&j)).unwrap_or(feature.depths);
            // The limit that rests on it says how deep it was read: a figure beside the jacket is not taken for a wall of it.
            let read = self.wall_depth(&feature.name, &wall);
            let deep = read.unwrap_or(shown.from_mm + 0.7 * (shown.to_mm - shown.from_mm));
            let from = |u: Units| {
                Ok(match (wall.from, wall.cylinder) {
                    (WallFrom::Read, Some(cylinder)) => match read {
                        Some(read) => format!("cylinder {cylinder}, as read {} deep", depth(u, read)?),
                        None => format!("cylinder {cylinder}, as read"),
                    },
                    (WallFrom::OtherDepths, _) => {
                        "the fit is worked out with it; no limit is judged by it".to_owned()
                    }
                    (WallFrom::Read, None) => "as read".to_owned(),
                    (WallFrom::Limit, _) => "not read: the least allowed".to_owned(),
                })
            };
            let at = view.at(feature.radius_mm + (wall.wall / 2.0).max(0.0), deep);
            let title = |u: Units| {
                let left = depth(u, wall.wall)?;
                Ok(match wall.from {
                    WallFrom::OtherDepths => format!("wall not read here; {left} left elsewhere"),
                    _ => format!("parent wall {left} left"),
                })
            };
            labels.push(self.label(at, &title, &[&from])?);
        }
        if let Some((depths, inside, outside)) = self.liner_left().next() {
            let at = view
                .at(f64::midpoint(inside, outside), depths.from_mm + 0.9 * (depths.to_mm - depths.from_mm));
            let title = |u: Units| Ok(format!("old liner left, outside Ø {}", depth(u, 2.0 * outside)?));
            labels.push(self.label(at, &title, &[])?);
        }
        if let Some(stud) = self.stud() {
            let at = view.at(stud.away + stud.diameter / 4.0, stud.from + 0.12 * (stud.to - stud.from));
            let title = |u: Units| {
                Ok(format!(
                    "stud hole Ø {}, {} from the axis",
                    depth(u, stud.diameter)?,
                    depth(u, stud.away)?
                ))
            };
            let nearest = format!("the nearest, at cylinder {}; turned into the section", stud.cylinder);
            labels.push(self.label(at, &title, &[&|_| Ok(nearest.clone())])?);
        }
        let end = self.pocket.depth_mm();
        let bore = self.job.finish.bore_mm / 2.0;
        let last = self.pocket.steps.last().map_or(bore, |s| s.radius_mm);
        let title = |u: Units| Ok(format!("sleeve and pocket end at {}", depth(u, end)?));
        labels.push(self.label(view.at(f64::midpoint(bore, last), end), &title, &[])?);
        let floor = parent.bore_length_mm;
        if floor > end {
            let title = |u: Units| Ok(format!("parent bore ends at {}", depth(u, floor)?));
            let room = |u: Units| Ok(format!("room below it {}", depth(u, parent.room_below_mm)?));
            let at = view.at(f64::midpoint(last, view.far), floor);
            labels.push(self.label(at, &title, &[&room])?);
        }
        Ok(labels)
    }
}

impl HalfSection<'_> {
    /// How deep the least wall of a part was read, mm, where the limit that it is judged by rests on the same reading.
    fn wall_depth(&self, feature: &str, wall: &WallLeft) -> Option<f64> {
        const SAME_MM: f64 = 1e-6;
        let own = self.plan.cylinders.iter().find(|c| Some(c.cylinder) == wall.cylinder)?;
        let limits = own.limits.iter().filter(|l| l.limit == "parent_wall" && l.feature == feature);
        limits.filter(|l| (l.margin + l.least - wall.wall).abs() < SAME_MM).find_map(|l| l.depth)
    }
}

/// The words of `other` from the first to the last that `one` does not have in its place.
fn what_differs(one: &str, other: &str) -> String {
    let (one, other): (Vec<&str>, Vec<&str>) = (one.split(' ').collect(), other.split(' ').collect());
    let before = one.iter().zip(&other).take_while(|(a, b)| a == b).count();
    let after = one.iter().rev().zip(other.iter().rev()).take_while(|(a, b)| a == b).count();
    let after = after.min(other.len() - before);
    other[before..other.len() - after].join(" ").trim_end_matches([',', ':', ';']).to_owned()
}

#[cfg(test)]
mod tests {
    use super::what_differs;

    #[test]
    fn only_figures_are_said_in_a_second_unit() {
        let said =
            what_differs("stud hole Ø 11.50, 69.43 from the axis", "stud hole Ø 0.453, 2.733 from the axis");
        assert_eq!(said, "0.453, 2.733");
        assert_eq!(
            what_differs("groove Ø 86.000, 2.40 wide; cord 1.78", "groove Ø 3.3858, 0.094 wide; cord 0.070"),
            "3.3858, 0.094 wide; cord 0.070"
        );
        assert_eq!(what_differs("recess Ø 95.100", "recess Ø 3.7441"), "3.7441");
        assert_eq!(what_differs("deck as it is", "deck as it is"), "");
        assert_eq!(what_differs("a 1 1", "a 1"), "");
    }
}
