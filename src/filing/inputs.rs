//! The files that a plan was made from, by the names that they have in a record.

use std::path::Path;

use borewright_archive::{Item, Sum};
use borewright_planner::job::Job;
use borewright_planner::read::elsewhere::{below, names, place_of};

/// Every input as it was read: its sum must still be that.
pub(super) fn items(folder: &Path, job: &Job) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::with_capacity(job.inputs.len());
    for input in &job.inputs {
        let taken = |name: &str| items.iter().any(|i| i.name == name);
        let name = match below(&input.name) {
            Some(below) => format!("job/{below}"),
            None => outside(&input.name, taken),
        };
        // Two ways to write one path.
        if let Some(same) = items.iter().find(|i| i.name == name).cloned() {
            items.push(Item { name: outside(&input.name, taken), called: Some(input.name.clone()), ..same });
            continue;
        }
        let mut item = Item::at(name, place_of(folder, &input.name));
        item.called = Some(input.name.clone());
        item.expected = Sum::parse(&input.sha256);
        items.push(item);
    }
    items
}

/// A name among the files from elsewhere that no other has.
fn outside(path: &str, taken: impl Fn(&str) -> bool) -> String {
    names(path).find(|name| !taken(name)).unwrap_or_default()
}
