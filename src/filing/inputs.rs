//! The files that a plan was made from, by the names that they have in a record.

use std::path::{Component, Path};

use borewright_archive::{Item, Sum};
use borewright_planner::job::Job;

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
        let mut item = Item::at(name, folder.join(&input.name));
        item.called = Some(input.name.clone());
        item.expected = Sum::parse(&input.sha256);
        items.push(item);
    }
    items
}

/// A path below the job's folder with the roundabout ways taken out; `None` for one that leads elsewhere.
fn below(path: &str) -> Option<String> {
    let mut parts: Vec<String> = Vec::new();
    for part in Path::new(path).components() {
        match part {
            Component::Normal(part) => parts.push(part.to_string_lossy().into_owned()),
            Component::CurDir => {}
            Component::ParentDir => {
                parts.pop()?;
            }
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    (!parts.is_empty()).then(|| parts.join("/"))
}

/// A name among the files from elsewhere that no other has.
fn outside(path: &str, taken: impl Fn(&str) -> bool) -> String {
    let file =
        Path::new(path).file_name().map_or_else(|| "file".into(), |n| n.to_string_lossy().into_owned());
    let first = format!("elsewhere/{file}");
    let others = (2..).map(|n| format!("elsewhere/{n}/{file}"));
    std::iter::once(first).chain(others).find(|name| !taken(name)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_below_the_job_keep_their_name_and_others_get_one() {
        assert_eq!(below("readings/./a/../bores.csv").as_deref(), Some("readings/bores.csv"));
        for elsewhere in ["../x.yaml", "a/../../x.yaml", "/srv/x.yaml", ""] {
            assert_eq!(below(elsewhere), None, "{elsewhere}");
        }
        assert_eq!(outside("../../w90.yaml", |_| false), "elsewhere/w90.yaml");
        assert_eq!(outside("/a/w90.yaml", |n| n == "elsewhere/w90.yaml"), "elsewhere/2/w90.yaml");
    }
}
