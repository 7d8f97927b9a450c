//! Everything that a plan is written as, in memory: the command puts it on the disk.

use borewright_planner::Planning;
use borewright_planner::plan::{List, Plan};
use borewright_planner::read::source::sha256_hex;

use crate::OutputError;
use crate::lists::{self, Rows};
use crate::sheets;
use crate::slug::{distinct, slug};

/// One file to write.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Artifact {
    /// Its path under the output folder, parts divided by `/`.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// A plan with its files.
#[derive(Debug, Clone)]
pub struct Bundle {
    /// The plan, its `lists` filled in.
    pub plan: Plan,
    /// The files: `plan.json`, the lists, the setup sheet.
    pub artifacts: Vec<Artifact>,
}

/// Writes a plan as files. Equal plannings give equal bytes.
///
/// # Errors
/// Where a list holds a row that controls would not all read alike, or a figure cannot be printed.
pub fn bundle(planning: &Planning) -> Result<Bundle, OutputError> {
    let mut plan = planning.plan.clone();
    plan.lists.clear();
    let mut list_files = Vec::new();
    let names = list_names(planning);
    for (list, name) in planning.lists.iter().zip(names) {
        let rows = Rows::of(list, &name)?;
        let file = format!("lists/{name}.nc");
        let bytes = lists::words(planning, list, &rows)?.into_bytes();
        plan.lists.push(List {
            file: file.clone(),
            bank: list.bank.clone(),
            stage: list.stage,
            cylinders: list.cylinders.clone(),
            sha256: sha256_hex(&bytes),
        });
        list_files.push(Artifact { path: file, bytes });
        list_files.push(Artifact { path: format!("lists/{name}.csv"), bytes: lists::table(list, &rows)? });
    }
    let json = crate::plan_json(&plan)?;
    let mut artifacts = vec![Artifact { path: "plan.json".to_owned(), bytes: json }];
    artifacts.append(&mut list_files);
    let bytes = sheets::setup_sheet(planning, &plan)?;
    artifacts.push(Artifact { path: "sheets/setup.pdf".to_owned(), bytes });
    Ok(Bundle { plan, artifacts })
}

/// `10-rough-left` and so on; banks whose names come down to the same letters are told apart.
fn list_names(planning: &Planning) -> Vec<String> {
    let mut taken_slugs = Vec::new();
    let mut banks: Vec<(&str, String)> = Vec::new();
    let described = planning.job.block.banks.iter().map(|bank| bank.name.as_str());
    for bank in described.chain(planning.lists.iter().map(|list| list.bank.as_str())) {
        if !banks.iter().any(|(name, _)| *name == bank) {
            banks.push((bank, distinct(slug(bank), &mut taken_slugs)));
        }
    }
    let mut taken = Vec::new();
    let name = |list: &borewright_planner::moves::MoveList| {
        let bank = banks.iter().find(|(name, _)| *name == list.bank).map_or("bank", |(_, slug)| slug);
        distinct(format!("{:02}-{}-{bank}", list.number, list.stage.word()), &mut taken)
    };
    planning.lists.iter().map(name).collect()
}
