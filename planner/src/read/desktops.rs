//! Files that the desktops of usual systems put into folders by themselves: nobody's work, and no part of a plan.

/// Their names, in small letters.
const NAMES: [&str; 4] = [".ds_store", "thumbs.db", "desktop.ini", ".directory"];

/// Whether a file, by its name or its path with slashes, is one that a desktop made by itself. Whoever asks makes sure that it
/// is a regular file.
#[must_use]
pub fn is_desktops(path: &str) -> bool {
    let name = path.rsplit('/').next().unwrap_or(path);
    NAMES.iter().any(|known| name.eq_ignore_ascii_case(known))
}
