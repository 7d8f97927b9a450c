//! Names of files in a record: relative, of parts divided by `/`, fit to be laid out on any system.

/// Longest name, bytes; common file systems take 255 a part and a few thousand in all.
const LONGEST: usize = 1000;
/// Longest part of a name, bytes: what common file systems take.
const LONGEST_PART: usize = 255;

/// Why a name cannot stand in a record; `None` where it can.
///
/// A name that passes cannot lead out of the folder that a record is laid out in, on any system.
#[must_use]
pub fn fault(name: &str) -> Option<&'static str> {
    if name.is_empty() || name.len() > LONGEST {
        return Some("a name of no length or of more than 1000 bytes");
    }
    if name.contains('\\') || name.contains(':') {
        return Some("a name with a backslash or a colon, which other systems take for a path");
    }
    if name.chars().any(char::is_control) {
        return Some("a name with control characters");
    }
    for part in name.split('/') {
        if part.is_empty() || part == "." || part == ".." {
            return Some("a name that is no path below the record");
        }
        if part.len() > LONGEST_PART {
            return Some("a name with a part of more than 255 bytes");
        }
        if part.ends_with('.') || part.ends_with(' ') {
            return Some("a name that ends in a dot or a blank, which other systems cut off");
        }
    }
    None
}

/// The names that some systems keep for devices, whatever stands behind a dot.
/// Source: Microsoft, "Naming Files, Paths, and Namespaces"; the last two from memory of its console documents.
///
/// The planner has the same table in `read/file_name.rs`, for the names in a job. Twice, since an archive knows
/// nothing of the planner and the planner nothing of archives: a name added here belongs there too.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];

/// Whether a system keeps a part of the name for a device; such a file is kept, and laid out on other systems only.
#[must_use]
pub fn is_device(name: &str) -> bool {
    name.split('/').any(|part| {
        let stem = part.split('.').next().unwrap_or_default().trim_end().to_lowercase();
        let numbered = |kind: &str| {
            let number = stem.strip_prefix(kind).map(|n| n.chars().collect::<Vec<char>>());
            matches!(number.as_deref(), Some(['1'..='9' | '¹' | '²' | '³']))
        };
        DEVICES.contains(&stem.as_str()) || numbered("com") || numbered("lpt")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinary_names_of_every_script_pass() {
        for name in
            ["job/job.yaml", "job/notes/Bohrung 3 – Öl.txt", "写真.jpg", "a/b/c", ".hidden", "con.d/x"]
        {
            assert_eq!(fault(name), None, "{name}");
        }
    }

    #[test]
    fn names_that_lead_out_or_act_are_refused() {
        for name in [
            "",
            "/etc/passwd",
            "../x",
            "a/../../x",
            "a//b",
            "a/",
            ".",
            "a/.",
            "c:\\x",
            "c:x",
            "a\\..\\x",
            "a\nb",
            "a\u{1b}[2J",
            "a\0b",
            "dot.",
            "blank ",
        ] {
            assert!(fault(name).is_some(), "{name:?}");
        }
        assert!(fault(&"x".repeat(256)).is_some() && fault(&"x/".repeat(600)).is_some());
    }

    #[test]
    fn devices_of_other_systems_are_known() {
        assert!(is_device("notes/CON.txt") && is_device("lpt1") && is_device("a/nul/b"));
        assert!(is_device("com²") && is_device("Conin$.log"));
        assert!(!is_device("notes/console.txt") && !is_device("com10") && !is_device("lpt"));
    }
}
