//! The origin of a figure as a reader can find it: file and line, key, source.

use std::collections::BTreeSet;

use super::Row;
use super::question::planned_fit;
use crate::job::{Job, Surface, TableKind};
use crate::material::Material;
use crate::plan::Pass;
use crate::plan::worked::{Figure, Origin, Symbol, Worked};
use crate::planning::Planning;
use crate::read::fault::plain;

/// What origins are looked up in.
pub(super) struct Sources<'a> {
    planning: &'a Planning,
    /// Index of the planned sleeve.
    sleeve: Option<usize>,
    cylinder: Option<u32>,
    /// What of the pocket is asked about; begins with the name of its step.
    feature: &'a str,
    /// The pass that is asked about.
    pass: Option<&'a Pass>,
}

impl<'a> Sources<'a> {
    pub(super) fn new(planning: &'a Planning, cylinder: Option<u32>, feature: &'a str) -> Self {
        let sleeve = planning.seen.as_ref().map(|seen| seen.positions.sleeve);
        Self { planning, sleeve, cylinder, feature, pass: None }
    }

    /// The sources for a figure of this pass.
    pub(super) fn of_pass(planning: &'a Planning, pass: &'a Pass) -> Self {
        Self { pass: Some(pass), ..Self::new(planning, Some(pass.cylinder), &pass.feature) }
    }

    /// The rows of a figure, the figure first; `told` gives those that follow from the place.
    pub(super) fn rows(&self, worked: &Worked, told: &dyn Fn(&Symbol) -> Option<f64>) -> Vec<Row> {
        let mut kept = worked.kept.iter().copied();
        worked
            .symbols()
            .map(|symbol| {
                let value = if symbol.is_kept() { kept.next() } else { told(symbol) };
                self.row(symbol, value, worked)
            })
            .collect()
    }

    /// The rows of a figure that no place decides; `place` where a place stands in it, `None` where that is withheld.
    pub(super) fn figure(&self, figure: &Figure, place: Option<[f64; 2]>) -> Vec<Row> {
        self.rows(&figure.worked, &|symbol| match (symbol.origin, symbol.name) {
            (Origin::Planned, "x") => place.map(|p| p[0]),
            (Origin::Planned, _) => place.map(|p| p[1]),
            _ => Some(figure.value),
        })
    }

    fn row(&self, symbol: &Symbol, value: Option<f64>, worked: &Worked) -> Row {
        let formula = match symbol.origin {
            Origin::Figure(formula) | Origin::Formula(formula) => Some(formula.into()),
            _ => None,
        };
        let from = self.from(symbol.origin, value, worked);
        Row { name: symbol.name.into(), says: symbol.says.into(), unit: symbol.unit, value, formula, from }
    }

    /// Where a figure comes from, one sentence for each place; none of a figure that says it all. `value` is the
    /// figure itself, in the unit of its account.
    pub(super) fn from(&self, origin: Origin, value: Option<f64>, worked: &Worked) -> Vec<String> {
        let job = &self.planning.job;
        match origin {
            Origin::Figure(_) | Origin::Formula(_) | Origin::Direction => Vec::new(),
            Origin::Stated(key) => vec![self.stated(key, value)],
            Origin::Block(key) => vec![self.at("block", key)],
            Origin::Sleeve(key) => vec![self.of_sleeve(key)],
            Origin::Machine(key) => vec![self.at("machine", key)],
            Origin::MachineOr(key, otherwise) => vec![self.stated_in_machine(key, otherwise)],
            Origin::Tool(key) => vec![self.at("machine", &self.tool_key(key))],
            Origin::ToolOr(key, otherwise) => vec![self.stated_in_machine(&self.tool_key(key), otherwise)],
            Origin::CutMetal => self.cut_metal().map(metal).into_iter().collect(),
            Origin::Row => self.table_row(worked).into_iter().collect(),
            Origin::Circles => self.circles(worked),
            Origin::Radius if worked.described => vec![self.at("block", "parent.liner.outside")],
            Origin::Radius => self.circles(worked),
            Origin::SetUp => self.set_up(),
            Origin::Belongs => self.belongs(),
            Origin::Planned => {
                let told = |n: u32| match value {
                    Some(_) => format!("ask `cylinder {n}`"),
                    None => format!("cylinder {n} is not at go: its place is not told"),
                };
                self.cylinder.map(told).into_iter().collect()
            }
            Origin::Neighbour => vec!["ask the neighbour's `cylinder N`".into()],
            Origin::Between => vec!["geometry in space of planned centre, pocket and hole".into()],
            Origin::Known(text) => vec![text.into()],
            Origin::Before => vec!["the pass before".into()],
            Origin::BlockMetal => vec![metal(&job.block.parent.material)],
            Origin::SleeveMetal => {
                self.sleeve.and_then(|i| job.sleeves.get(i)).map(|s| metal(&s.material)).into_iter().collect()
            }
        }
    }

    /// `block.yaml:12`, where the file states the key or what it is part of.
    fn at(&self, role: &str, key: &str) -> String {
        let described = &self.planning.job.described;
        let mut part = key;
        loop {
            if let Some((file, line)) = described.line_of(role, part) {
                return format!("{}:{line}", plain(file, 60));
            }
            match part.rsplit_once('.') {
                Some((above, _)) => part = above,
                None => {
                    let file = described.file(role).map(|file| plain(file, 60));
                    return file.unwrap_or_else(|| format!("no {role} file states `{key}`"));
                }
            }
        }
    }

    /// A key of the machine's description, or what holds where that does not state it.
    fn stated_in_machine(&self, key: &str, otherwise: &str) -> String {
        let found = self.planning.job.described.line_of("machine", key);
        found.map_or_else(|| otherwise.to_owned(), |(file, line)| format!("{}:{line}", plain(file, 60)))
    }

    /// A key of the pass's tool.
    fn tool_key(&self, key: &str) -> String {
        let name = self.pass.and_then(|pass| pass.tool.as_ref());
        let tool = self.planning.job.machine.tools.iter().position(|tool| Some(&tool.name) == name);
        tool.map_or_else(|| "tools".to_owned(), |tool| format!("tools[{tool}].{key}"))
    }

    /// The metal that the pass cuts.
    fn cut_metal(&self) -> Option<&Material> {
        let job = &self.planning.job;
        let sleeve = self.sleeve.and_then(|i| job.sleeves.get(i)).map(|sleeve| &sleeve.material);
        let liner = job.block.parent.liner.as_ref().map(|liner| &liner.material);
        let metals = [Some(&job.block.parent.material), sleeve, liner];
        metals.into_iter().flatten().find(|metal| self.pass.is_some_and(|pass| pass.material == metal.name))
    }

    /// A key of the job, or of its shop.
    fn stated(&self, key: &str, value: Option<f64>) -> String {
        let described = &self.planning.job.described;
        let found = ["job", "shop"].iter().find_map(|role| described.line_of(role, key));
        let nothing = value.is_none_or(|v| v == 0.0);
        match found {
            Some((file, line)) => format!("{}:{line}", plain(file, 60)),
            None if nothing => format!("nothing: `{key}` is not stated"),
            None => format!("`{key}` is not stated: what holds where nobody states it, docs/formats.md"),
        }
    }

    fn of_sleeve(&self, key: &str) -> String {
        let Some(index) = self.sleeve else { return "the sleeve's description".into() };
        let described = self.planning.job.sleeves.get(index);
        let step = described.filter(|_| key == "body").and_then(|sleeve| {
            // The longest step name that fits is meant: one step's name may begin with another's.
            let named =
                sleeve.body.iter().enumerate().filter(|(_, step)| self.feature.starts_with(&step.name));
            named.max_by_key(|(_, step)| step.name.len()).map(|(i, _)| format!("body[{i}]"))
        });
        let key = match step {
            Some(step) => step,
            None if key == "body" && self.feature.starts_with("flange") => "flange".to_owned(),
            None => key.to_owned(),
        };
        self.at(&format!("sleeves[{index}]"), &key)
    }

    fn table_row(&self, worked: &Worked) -> Option<String> {
        let [set_up, line] = worked.row?;
        let file = self.planning.job.set_ups.get(set_up)?.files.get(&TableKind::Walls)?;
        Some(format!("{}:{line}", plain(file, 60)))
    }

    /// The rows that the circles of one surface were read from.
    fn circles(&self, worked: &Worked) -> Vec<String> {
        let (Some(cylinder), Some(seen)) = (self.cylinder, &self.planning.seen) else { return Vec::new() };
        let job = &self.planning.job;
        let mut from = Vec::new();
        for (index, set_up) in job.set_ups.iter().enumerate() {
            // The rounds that the plan rests on, looked up once: a job may have thousands.
            let asked = |surface: Surface| worked.surface == Some(surface.word());
            let circles = seen.survey.circles.iter().filter(|c| c.planned && c.set_up == index);
            let planned: BTreeSet<Option<&str>> = circles
                .filter(|c| c.cylinder == cylinder && asked(c.surface))
                .map(|c| c.set.as_deref())
                .collect();
            let rests = |n: u32, surface: Surface, set: &Option<String>| {
                n == cylinder && asked(surface) && planned.contains(&set.as_deref())
            };
            let bores = set_up.bores.iter().filter(|b| rests(b.cylinder, b.surface, &b.set)).map(|b| b.line);
            let points =
                set_up.points.iter().filter(|p| rests(p.cylinder, p.surface, &p.set)).map(|p| p.line);
            for (table, lines) in
                [(TableKind::Bores, bores.collect::<Vec<_>>()), (TableKind::Points, points.collect())]
            {
                if let Some(file) = set_up.files.get(&table).filter(|_| !lines.is_empty()) {
                    from.push(format!("{}:{}", plain(file, 60), ranges(&lines)));
                }
            }
        }
        from
    }

    fn bank(&self) -> Option<usize> {
        self.planning.job.site(self.cylinder?).map(|(bank, _)| bank)
    }

    /// What placed the set-up that gives the bank its datum.
    fn set_up(&self) -> Vec<String> {
        let Some(set_up) = self.bank().and_then(|bank| self.planning.job.set_up_of(bank)) else {
            return vec!["the frame of the journal axis".into()];
        };
        let ties = [TableKind::Axis, TableKind::Mains, TableKind::Deck];
        let tables = ties.iter().filter_map(|table| set_up.files.get(table));
        let files: Vec<String> = tables.map(|file| plain(file, 60)).collect();
        if files.is_empty() { vec!["the frame of the journal axis".into()] } else { files }
    }

    /// Where the block's description says that a bore belongs.
    fn belongs(&self) -> Vec<String> {
        let Some(bank) = self.bank() else { return Vec::new() };
        let keys = [format!("banks[{bank}].first_bore"), format!("banks[{bank}]"), "bore_spacing".to_owned()];
        let described = &self.planning.job.described;
        let mut from: Vec<String> = Vec::new();
        for key in keys {
            let Some((file, line)) = described.line_of("block", &key) else { continue };
            let at = format!("{}:{line}", plain(file, 60));
            if !from.contains(&at) {
                from.push(at);
            }
        }
        from
    }
}

fn metal(of: &Material) -> String {
    let name = plain(&of.name, 40);
    let unsure = if of.unverified.is_empty() {
        String::new()
    } else {
        format!(" ({} from memory)", of.unverified.join(", "))
    };
    format!("{name}: {}{unsure}", plain(&of.source, 400))
}

/// `2 to 4, 9`.
fn ranges(lines: &[usize]) -> String {
    let mut sorted = lines.to_vec();
    sorted.sort_unstable();
    sorted.dedup();
    let runs = sorted.chunk_by(|a, b| a + 1 == *b);
    let words: Vec<String> = runs
        .filter_map(|run| match (run.first(), run.last()) {
            (Some(from), Some(to)) if from == to => Some(from.to_string()),
            (Some(from), Some(to)) => Some(format!("{from} to {to}")),
            _ => None,
        })
        .collect();
    words.join(", ")
}

/// The job's own register of the planned sleeve, where it has one of that name.
pub(super) fn register<'p>(planning: &'p Planning, name: &str) -> Option<&'p crate::plan::fit::Register> {
    planned_fit(planning)?.registers.iter().find(|r| r.feature == name)
}

/// Whether nothing may be told of where a cylinder is bored.
pub(super) fn is_withheld(planning: &Planning, cylinder: u32) -> bool {
    planning.plan.cylinders.iter().find(|c| c.cylinder == cylinder).is_none_or(|c| c.withheld)
}

/// The job's name of a bank.
pub(super) fn bank_name(job: &Job, bank: usize) -> String {
    plain(&job.bank(bank).name, 40)
}

#[cfg(test)]
mod tests {
    use super::ranges;

    #[test]
    fn lines_are_told_in_runs() {
        assert_eq!(ranges(&[9, 2, 3, 4]), "2 to 4, 9");
        assert_eq!(ranges(&[7]), "7");
        assert_eq!(ranges(&[]), "");
    }
}
