//! The pocket of the chosen sleeve as a half section to scale: every size and depth that is cut, what seals and what
//! stands behind it, and the ledge's corner enlarged.
//!
//! The bore's axis is the left edge, depths run down the page from the deck as it is.

mod depths;
mod detail;
mod labels;
mod ladder;
mod metal;
mod said;
mod spread;

use borewright_planner::job::pocket::Pocket;
use borewright_planner::job::{Job, SheetUnits, Sleeve};
use borewright_planner::plan::{Plan, SleeveChoice, Stage};
use kurbo::{Point, Vec2};

use super::figure::{Figure, Filling, Pen};
use super::scale;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::{Fonts, Weight};
use crate::said::units::{Digits, Units};

use labels::Label;

/// Width on paper, mm.
const WIDE_MM: f64 = 188.0;
/// The axis stands so far from the left edge.
const LEFT_MM: f64 = 6.0;
/// Most room for the section itself.
const SECTION_MM: [f64; 2] = [82.0, 148.0];
/// Key and detail stand below the section, in a column at least so wide.
const SIDE_MM: f64 = 88.0;
/// Above the section.
const HEAD_MM: f64 = 8.0;
/// Below it: scale bar and key.
const KEY_MM: f64 = 24.0;
/// Highest that a figure may be on a page.
const MOST_HIGH_MM: f64 = 230.0;
/// On a card the section reaches no farther to the right, mm.
const CARD_EDGE_MM: f64 = 106.0;
/// Gaps are drawn at least so wide, on paper.
const GAP_MM: f64 = 0.5;
/// Taken for a wall that nobody knows, only to draw by.
const WALL_MM: f64 = 4.0;
/// A stud farther out than this from the recess is not drawn, mm.
const STUD_REACH_MM: f64 = 40.0;

const BLOCK: Filling = Filling::Hatched { slope_deg: 45.0, apart_mm: 2.4, width_mm: 0.12 };
const SLEEVE: Filling = Filling::Hatched { slope_deg: -45.0, apart_mm: 1.4, width_mm: 0.15 };
const LINER: Filling = Filling::Hatched { slope_deg: 0.0, apart_mm: 0.9, width_mm: 0.12 };

/// What it is drawn from.
pub(crate) struct HalfSection<'a> {
    job: &'a Job,
    plan: &'a Plan,
    sleeve: &'a Sleeve,
    choice: &'a SleeveChoice,
    pocket: Pocket,
    fonts: &'a Fonts,
}

/// From mm of the engine to mm on paper.
#[derive(Debug, Clone, Copy)]
struct View {
    scale: f64,
    words: &'static str,
    /// Out to where the block is drawn.
    far: f64,
    /// Down to where it is drawn.
    deep: f64,
    /// From the left edge of the paper to the axis, mm.
    left: f64,
}

impl View {
    fn at(&self, radius: f64, depth: f64) -> Point {
        Point::new(self.left + radius * self.scale, HEAD_MM + depth * self.scale)
    }

    /// A gap of the engine that shows on paper.
    fn gap(&self, mm: f64) -> f64 {
        mm.max(GAP_MM / self.scale)
    }
}

/// The nearest stud hole of any bore: its distance from the axis, diameter and depths.
#[derive(Debug, Clone, Copy)]
struct NearStud {
    cylinder: u32,
    away: f64,
    diameter: f64,
    from: f64,
    to: f64,
}

impl<'a> HalfSection<'a> {
    /// `None` where no sleeve was chosen, or nothing may be cut for it.
    pub(crate) fn of(job: &'a Job, plan: &'a Plan, fonts: &'a Fonts) -> Option<Self> {
        let choice = plan.sleeves.iter().find(|s| s.chosen)?;
        plan.cylinders.iter().find(|c| !c.withheld)?;
        let sleeve = job.sleeves.iter().find(|s| s.name == choice.sleeve)?;
        let pocket = Pocket::of(sleeve, job.engine.deck.cut_mm);
        (!pocket.steps.is_empty()).then_some(Self { job, plan, sleeve, choice, pocket, fonts })
    }

    /// The section, then the table of depths, each at most a page high.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(crate) fn figures(&self) -> Result<Vec<Figure>, OutputError> {
        let mut figures = vec![self.section(&self.view(), MOST_HIGH_MM)?];
        figures.extend(self.depths()?);
        Ok(figures)
    }

    /// The half section for a card of a height, mm: the largest scale at which the section fits, and beside it a ladder of depths.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(crate) fn on_card(&self, high_mm: f64) -> Result<Vec<Figure>, OutputError> {
        let mut view = View { left: LEFT_MM + ladder::WIDE_MM, ..self.view() };
        let mut section = self.section(&view, high_mm)?;
        for (scale, words) in scale::below(view.scale) {
            if section.height_mm <= high_mm && view.at(view.far, 0.0).x <= CARD_EDGE_MM {
                break;
            }
            view = View { scale, words, ..view };
            section = self.section(&view, high_mm)?;
        }
        let mut figures = vec![section];
        figures.extend(self.depths()?);
        Ok(figures)
    }

    /// All of it below one heading, for a file of its own.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(crate) fn whole(&self) -> Result<Figure, OutputError> {
        const APART_MM: f64 = 6.0;
        let figures = self.figures()?;
        let high: f64 = figures.iter().map(|f| f.height_mm + APART_MM).sum();
        let mut whole = Pen::new(self.fonts, &self.title(), WIDE_MM, high).figure;
        let mut y = 0.0;
        for figure in figures {
            whole.shapes.extend(figure.shapes.into_iter().map(|shape| shape.moved(Vec2::new(0.0, y))));
            y += figure.height_mm + APART_MM;
        }
        Ok(whole.headed(self.fonts, &self.title()))
    }

    fn title(&self) -> String {
        let short = crate::said::short::shorten;
        format!("Pocket for sleeve {}, job {}", short(&self.sleeve.name), short(&self.job.number))
    }

    /// At a view, no higher than `most_mm` where its labels can be had so.
    fn section(&self, view: &View, most_mm: f64) -> Result<Figure, OutputError> {
        let edge = view.at(view.far, 0.0).x;
        let side = edge.max(SIDE_MM);
        // The numbers of the leaders, then those of the labels.
        let column = [side + 4.0 + 2.0 * labels::NUMBERS_MM, WIDE_MM];
        let bottom = view.at(0.0, view.deep).y;
        let detail = self.detail(Point::new(LEFT_MM - 2.0, bottom + KEY_MM), side)?;
        let detail_high = detail.as_ref().map_or(0.0, |d| d.high);
        let least = bottom + KEY_MM + detail_high;
        let labels = self.labels(view)?;
        let placed = labels::place(self.fonts, labels, column, most_mm.max(least));
        let high = placed.bottom.max(least) + 1.0;
        let mut pen = Pen::new(self.fonts, &self.title(), WIDE_MM, high);
        self.metal(&mut pen, view);
        self.key(&mut pen, view, bottom);
        if view.left > LEFT_MM {
            self.ladder(&mut pen, view, bottom)?;
        }
        if let Some(detail) = detail {
            pen.figure.shapes.extend(detail.shapes);
            let first = self.pocket.steps.first().map_or(0.0, |s| s.radius_mm);
            if let Some(flange) = &self.pocket.flange {
                let at = view.at(f64::midpoint(first, flange.cut.radius_mm), flange.cut.depths.to_mm);
                pen.circle(at, 3.0, 0.2, Dash::Solid);
                pen.label(at + Vec2::new(-4.0, 4.6), Align::Middle, (Weight::Bold, 10.0), "A");
            }
        }
        placed.draw(&mut pen, edge);
        Ok(pen.figure)
    }

    fn view(&self) -> View {
        let mouth = self.pocket.mouth_mm();
        let walls = self.pocket.steps.iter().map(|s| s.radius_mm + self.wall(s).unwrap_or(WALL_MM));
        let stud = self.stud().map_or(0.0, |s| s.away + s.diameter / 2.0 + 3.0);
        let far = walls.fold(mouth, f64::max).max(stud - 5.0) + 8.0;
        let deep = self.pocket.depth_mm().max(self.job.block.parent.bore_length_mm) + 4.0;
        let [across, down] = [scale::reduced(far, SECTION_MM[0]), scale::reduced(deep, SECTION_MM[1])];
        let (scale, words) = if across.0 < down.0 { across } else { down };
        View { scale, words, far, deep, left: LEFT_MM }
    }

    /// The least wall left around a cylinder of the pocket, where one is known.
    fn wall(&self, feature: &borewright_planner::job::pocket::Feature) -> Option<f64> {
        let register = self.choice.fit.registers.iter().find(|r| r.feature == feature.name);
        register.and_then(|r| r.wall).map(|w| w.wall).filter(|w| *w > 0.0)
    }

    /// Radius of the hole that the maker left: the liner's outside, else the bore as measured.
    fn old_radius(&self) -> Option<f64> {
        let liner = self.job.block.parent.liner.as_ref().map(|l| l.outside_mm / 2.0);
        liner.or_else(|| self.plan.cylinders.iter().map(|c| c.measured.diameter / 2.0).reduce(f64::max))
    }

    fn stud(&self) -> Option<NearStud> {
        let near = self.plan.cylinders.iter().filter(|c| !c.withheld).filter_map(|c| {
            let (bank, _) = self.job.site(c.cylinder)?;
            let studs = self.job.block.studs.iter().filter(|s| s.bank == bank);
            let away = |s: &borewright_planner::job::Stud| {
                (s.centre_mm[0] - c.planned.x).hypot(s.centre_mm[1] - c.planned.y)
            };
            studs
                .map(|s| NearStud {
                    cylinder: c.cylinder,
                    away: away(s),
                    diameter: s.diameter_mm,
                    from: s.depths.from_mm,
                    to: s.depths.to_mm,
                })
                .min_by(|a, b| a.away.total_cmp(&b.away))
        });
        let nearest = near.min_by(|a, b| a.away.total_cmp(&b.away))?;
        (nearest.away < self.pocket.mouth_mm() + STUD_REACH_MM).then_some(nearest)
    }

    /// Scale and what the hatchings mean.
    fn key(&self, pen: &mut Pen<'_>, view: &View, bottom: f64) {
        let units = self.units().first().copied().unwrap_or(Units::of(SheetUnits::Mm));
        let words = format!("scale {}", view.words);
        pen.text(Point::new(LEFT_MM, bottom + 6.0), Align::Left, (Weight::Bold, 11.0), &words);
        scale::bar(pen, Point::new(LEFT_MM + 30.0, bottom + 5.0), view.scale, 25.0, units);
        let mut x = LEFT_MM;
        let mut swatch = |pen: &mut Pen<'_>, filling: Option<Filling>, word: &str| {
            metal::swatch(pen, Point::new(x, bottom + 9.5), filling);
            pen.text(Point::new(x + 7.5, bottom + 12.8), Align::Left, (Weight::Plain, 9.0), word);
            x += 9.0 + pen.text_box(Point::ORIGIN, Align::Left, (Weight::Plain, 9.0), word).width() + 2.5;
        };
        swatch(pen, Some(BLOCK), "block");
        swatch(pen, Some(SLEEVE), "sleeve");
        if self.liner_left().next().is_some() {
            swatch(pen, Some(LINER), "old liner");
        }
        if self.job.block.parent.jacket.is_some() {
            swatch(pen, None, "coolant");
        }
        let text = "Depths count from the deck as it is. Gaps too narrow to see are drawn wider.";
        pen.lines(Point::new(LEFT_MM, bottom + 15.0), SIDE_MM - LEFT_MM, (Weight::Plain, 9.0), 2, text);
    }

    /// The units that stand one below the other.
    fn units(&self) -> Vec<Units> {
        match self.job.sheet_units {
            SheetUnits::Both => vec![Units::of(SheetUnits::Mm), Units::of(SheetUnits::In)],
            one => vec![Units::of(one)],
        }
    }

    /// Nose radius of the tool that cuts the recess, with its name, where the machine file gives it.
    fn corner(&self) -> Option<(&str, f64)> {
        let recess = self.pocket.flange.as_ref()?.cut.depths.to_mm;
        // The recess is the pocket pass that starts at the deck.
        let pass = self
            .plan
            .passes
            .iter()
            .find(|p| p.stage == Stage::Pocket && p.from.abs() < 1e-9 && (p.to - recess).abs() < 1.0)?;
        let tool = self.job.machine.tools.iter().find(|t| pass.tool.as_deref() == Some(t.name.as_str()))?;
        tool.nose_radius_mm.map(|radius| (tool.name.as_str(), radius))
    }
}

/// 0.001 mm without its unit.
fn fine(units: Units, mm: f64) -> Result<String, OutputError> {
    Ok(units.length(mm, Digits::Fine)?.stacked())
}

/// 0.001 mm with its sign, without its unit.
fn signed(units: Units, mm: f64) -> Result<String, OutputError> {
    Ok(units.length(mm, Digits::Fine)?.stacked_signed())
}

/// 0.01 mm without its unit.
fn depth(units: Units, mm: f64) -> Result<String, OutputError> {
    Ok(units.length(mm, Digits::Depth)?.stacked())
}

#[cfg(test)]
mod tests;
