//! Names of files that every system reads alike: a job's folder may be carried from one to another.

/// Names that Windows keeps for devices, whatever stands behind a dot.
/// Source: Microsoft, "Naming Files, Paths, and Namespaces"; the last two from memory of its console documents.
///
/// The archive has the same table in `name.rs`, for the names in a record. Twice, since the planner knows nothing of
/// archives and an archive nothing of the planner: a name added here belongs there too.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];

/// What would make a path another one on another system; `None` where nothing does.
///
/// Parts are divided by `/`; a path may lead up (`..`) and begin at the top.
#[must_use]
pub fn fault(path: &str) -> Option<&'static str> {
    if path.contains('\\') {
        return Some("a name with `\\`, which only Windows takes for a folder");
    }
    let parts = || path.split('/').filter(|part| !matches!(*part, "." | ".."));
    if parts().any(is_device) {
        return Some("a name that Windows keeps for a device");
    }
    if parts().any(|part| part.ends_with(['.', ' '])) {
        return Some("a name that ends in a dot or a blank, which Windows cuts off");
    }
    None
}

/// Whether Windows keeps one part of a path for a device.
#[must_use]
pub fn is_device(part: &str) -> bool {
    let stem = part.split('.').next().unwrap_or_default().trim_end().to_lowercase();
    let numbered = |kind: &str| {
        let number = stem.strip_prefix(kind).map(|n| n.chars().collect::<Vec<char>>());
        matches!(number.as_deref(), Some(['1'..='9' | '¹' | '²' | '³']))
    };
    DEVICES.contains(&stem.as_str()) || numbered("com") || numbered("lpt")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_that_every_system_reads_alike_passes() {
        for path in [
            "bores.csv",
            "../../petrel-90.yaml",
            "./readings/bores.csv",
            "/srv/jobs/a.csv",
            "console.csv",
            "com10",
            "é ü.csv",
        ] {
            assert_eq!(fault(path), None, "{path}");
        }
    }

    #[test]
    fn a_path_that_windows_takes_otherwise_is_named() {
        for path in [
            "readings\\bores.csv",
            "CON",
            "a/nul.csv",
            "Com1.yaml",
            "lpt9 .x",
            "com²",
            "CONIN$",
            "bores.csv.",
            "a /b.csv",
            "...",
        ] {
            assert!(fault(path).is_some(), "{path}");
        }
    }
}
