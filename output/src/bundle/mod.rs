//! Everything that a plan is written as, in memory: the command puts it on the disk.

mod report;
mod survey;
mod trend;

pub use report::report_bundle;
pub use survey::survey_bundle;
pub use trend::trend_bundle;

use borewright_planner::Planning;
use borewright_planner::plan::{Input, List, Plan, table_file};
use borewright_planner::prove::{self, Reference};
use borewright_planner::read::source::sha256_hex;
use borewright_planner::report::SurveyReport;

use rayon::prelude::*;

use crate::OutputError;
use crate::drawings::{self, HalfSection};
use crate::lists::{self, Rows};
use crate::paper::text::Fonts;
use crate::said::slug::{distinct, slug};
use crate::sheets;

/// One file to write.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Artifact {
    /// Its path under the output folder, parts divided by `/`.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Their SHA-256, lower-case hexadecimal.
    pub sha256: String,
}

impl Artifact {
    /// A file of these bytes.
    #[must_use]
    pub fn new(path: String, bytes: Vec<u8>) -> Self {
        let sha256 = sha256_hex(&bytes);
        Self { path, bytes, sha256 }
    }
}

/// A plan with its files.
#[derive(Debug, Clone)]
pub struct Bundle {
    /// The plan, its `lists` filled in.
    pub plan: Plan,
    /// The files: `plan.json`, the lists, the drawings, the cards and the figures.
    pub artifacts: Vec<Artifact>,
}

/// Writes a plan as files, its lists read back and proven. Equal plannings give equal bytes.
///
/// A list that does not prove is not kept: the plan is then at stop and says why.
///
/// # Errors
/// Where a list holds a row that controls would not all read alike, or a figure cannot be printed.
pub fn bundle(planning: &Planning) -> Result<Bundle, OutputError> {
    // What the sheets are drawn from asks nothing of the lists and their proof.
    let (decided, drawn_from) = rayon::join(|| Decided::of(planning), || DrawnFrom::of(planning));
    let (Decided { plan, open, lists }, drawn_from) = (decided?, drawn_from?);
    // The sheets are drawn while the lists are proven, and thrown away where one does not: that is a fault of the program.
    let (unproven, finished) =
        rayon::join(|| unproven(&open, &lists), || finished(planning, plan, (&open, &lists), &drawn_from));
    if unproven.is_empty() {
        return finished;
    }
    // What is left carries another fingerprint and verdict: it is written, and proven, anew.
    bundle(&planning.without(&unproven))
}

/// A plan with hand-made lists that are nobody's plan, as the tests of what is written use them.
#[cfg(test)]
pub(crate) fn bundle_unproven(planning: &Planning) -> Result<Bundle, OutputError> {
    let Decided { plan, open, lists } = Decided::of(planning)?;
    finished(planning, plan, (&open, &lists), &DrawnFrom::of(planning)?)
}

/// A plan with its lists, all decided and not yet proven.
struct Decided {
    plan: Plan,
    /// The text of its file, but for the sums of other files and the seal.
    open: String,
    lists: Vec<Written>,
}

impl Decided {
    fn of(planning: &Planning) -> Result<Self, OutputError> {
        let lists = written(planning)?;
        let plan = with_lists(planning, &lists);
        let open = crate::json::plan_text(&plan)?;
        Ok(Self { plan, open, lists })
    }
}

/// What the sheets are drawn from beside the plan.
struct DrawnFrom {
    fonts: &'static Fonts,
    report: Option<SurveyReport>,
}

impl DrawnFrom {
    fn of(planning: &Planning) -> Result<Self, OutputError> {
        Ok(Self { fonts: Fonts::load()?, report: planning.surveyed() })
    }
}

/// A list in both its forms, with its entry in the plan.
struct Written {
    number: u32,
    entry: List,
    words: Vec<u8>,
    table: Vec<u8>,
}

fn written(planning: &Planning) -> Result<Vec<Written>, OutputError> {
    let one = |(list, name): (&borewright_planner::plan::moves::MoveList, String)| {
        let rows = Rows::of(list, &name)?;
        let words = lists::words(planning, list, &rows)?;
        let entry = List {
            file: format!("lists/{name}.nc"),
            bank: list.bank.clone(),
            stage: list.stage,
            cylinders: list.cylinders.clone(),
            sha256: sha256_hex(words.as_bytes()),
            issued: list.issued.as_ref().map(|issued| issued.fingerprint.clone()),
            proof: borewright_planner::basis(planning, list),
            lines: words.lines().map(str::to_owned).collect(),
        };
        Ok(Written { number: list.number, entry, words: words.into_bytes(), table: lists::table(&rows)? })
    };
    planning.lists.par_iter().zip(list_names(planning)).map(one).collect()
}

fn with_lists(planning: &Planning, lists: &[Written]) -> Plan {
    Plan { lists: lists.iter().map(|l| l.entry.clone()).collect(), ..planning.plan.clone() }
}

/// Number and reason of each list that does not prove against the plan as the text of its file has it.
fn unproven(open: &str, lists: &[Written]) -> Vec<(u32, String)> {
    if lists.is_empty() {
        return Vec::new();
    }
    let plan = match Reference::parse("plan.json", open) {
        Ok(plan) => plan,
        Err(faults) => return lists.iter().map(|l| (l.number, faults.to_string())).collect(),
    };
    let why = |list: &Written| -> Option<(u32, String)> {
        let [words, table] = [&list.words, &list.table].map(|bytes| String::from_utf8_lossy(bytes));
        let proof = prove::prove(&words, Some(&table), &list.entry.file, &plan);
        let told = (proof.list == list.entry.file).then_some(());
        match (proof.flaws.first(), told) {
            (None, Some(())) => None,
            (None, None) => Some((list.number, "another list of the plan has its number".to_owned())),
            (Some(flaw), _) => Some((list.number, flaw.to_string())),
        }
    };
    lists.par_iter().filter_map(why).collect()
}

/// Every artifact of a plan: the sealed `plan.json` first, then lists, drawings, `job.html` and sheets, each with its
/// sum.
fn finished(
    planning: &Planning,
    mut plan: Plan,
    (open, lists): (&str, &[Written]),
    from: &DrawnFrom,
) -> Result<Bundle, OutputError> {
    let DrawnFrom { fonts, report } = from;
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    for Written { entry, words, table, .. } in lists {
        files.push((entry.file.clone(), words.clone()));
        files.push((table_file(&entry.file), table.clone()));
    }
    let half_section = || {
        let section = HalfSection::of(&planning.job, &plan, fonts);
        section.map(|section| drawings::svg(&section.whole()?, fonts)).transpose()
    };
    let decks = || -> Result<Vec<(String, Vec<u8>)>, OutputError> {
        let banks = bank_slugs(planning).into_iter().enumerate().take(planning.job.block.banks.len());
        let deck = |(bank, (_, slug)): (usize, (&str, String))| {
            Ok((format!("drawings/deck-{slug}.dxf"), drawings::dxf::deck(planning, &plan, bank)?))
        };
        banks.map(deck).collect()
    };
    // Card 1 names a page of the figures: they are laid out first, beside what neither of them asks for.
    let (laid, (section, decks)) = rayon::join(
        || sheets::figures(planning, &plan, report.as_ref(), fonts),
        || (half_section(), decks()),
    );
    let laid = laid?;
    let surveyed = report.as_ref().map(|report| sheets::Surveyed { report, asked_on: laid.asked_on() });
    let (cards, figures) =
        rayon::join(|| sheets::cards(planning, &plan, surveyed, fonts), || laid.written(&plan, fonts));
    if let Some(section) = section? {
        files.push(("drawings/half-section.svg".to_owned(), section.into_bytes()));
    }
    files.extend(decks?);
    let cards = cards?;
    files.push(("job.html".to_owned(), cards.screen.into_bytes()));
    files.push(("sheets/cards.pdf".to_owned(), cards.pdf));
    for (name, picture) in cards.pictures {
        files.push((format!("sheets/cards/{name}.svg"), picture.into_bytes()));
    }
    files.push(("sheets/figures.pdf".to_owned(), figures?));
    let mut artifacts: Vec<Artifact> =
        files.into_par_iter().map(|(path, bytes)| Artifact::new(path, bytes)).collect();
    let sum = |a: &Artifact| Input { file: a.path.clone(), sha256: a.sha256.clone() };
    plan.files = artifacts.iter().map(sum).collect();
    let json = sealed_json(&mut plan, open)?;
    artifacts.insert(0, Artifact::new("plan.json".to_owned(), json));
    Ok(Bundle { plan, artifacts })
}

/// Gives a plan its seal, and hands back its file; `open` is its text before it had sums of files.
fn sealed_json(plan: &mut Plan, open: &str) -> Result<Vec<u8>, OutputError> {
    prove::UNSEALED.clone_into(&mut plan.seal);
    let open = match crate::json::plan_with_files(open, &plan.files, prove::UNSEALED)? {
        Some(open) => open,
        None => crate::json::plan_text(plan)?,
    };
    let (text, seal) = prove::sealed(open).unwrap_or_default();
    plan.seal = seal;
    Ok(text.into_bytes())
}

/// Every bank's name and its part of a file name, the described ones first; names that come down to the same letters
/// are told apart.
fn bank_slugs(planning: &Planning) -> Vec<(&str, String)> {
    let mut taken_slugs = Vec::new();
    let mut banks: Vec<(&str, String)> = Vec::new();
    let described = planning.job.block.banks.iter().map(|bank| bank.name.as_str());
    for bank in described.chain(planning.lists.iter().map(|list| list.bank.as_str())) {
        if !banks.iter().any(|(name, _)| *name == bank) {
            banks.push((bank, distinct(slug(bank), &mut taken_slugs)));
        }
    }
    banks
}

/// `10-rough-left` and so on.
fn list_names(planning: &Planning) -> Vec<String> {
    let banks = bank_slugs(planning);
    let mut taken = Vec::new();
    let name = |list: &borewright_planner::plan::moves::MoveList| {
        let bank = banks.iter().find(|(name, _)| *name == list.bank).map_or("bank", |(_, slug)| slug);
        let own = match list.cylinders.as_slice() {
            [cylinder] if planning.job.list_per_cylinder => format!("-{cylinder}"),
            _ => String::new(),
        };
        distinct(format!("{:02}-{}-{bank}{own}", list.number, list.stage.word()), &mut taken)
    };
    planning.lists.iter().map(name).collect()
}
