//! What a file says of itself beside its pages.

/// What a file says of itself.
#[derive(Debug, Clone)]
pub(crate) struct About {
    /// Its title.
    pub(crate) title: String,
    /// What tells it from every other: of the plan's fingerprint.
    pub(crate) identity: String,
    /// What a reader lists beside the pages: a name, and the page from 0 that it stands on.
    pub(crate) bookmarks: Vec<(String, usize)>,
    /// How its pages are numbered there.
    pub(crate) labels: Labels,
}

/// Numbers of pages as a reader shows them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Labels {
    /// Each bookmark's pages by its number: `3-1`, `3-2`.
    Cards,
    /// 1, 2, 3.
    Plain,
}
