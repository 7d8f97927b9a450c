//! Where an archive lies: a folder, or a bucket of an object store where this build knows them.

use std::fs;
use std::path::{Path, PathBuf};

use borewright_archive::{Address, Folder, Store};
use borewright_planner::read::fault::plain;

use crate::status::{Failure, shown};

/// Where the archive lies, unless the command says otherwise.
const ARCHIVE: &str = "BOREWRIGHT_ARCHIVE";

/// A place that was named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Place {
    /// A folder, of one computer or a share.
    Folder(PathBuf),
    /// A bucket, or a part of one; never a path.
    #[cfg(feature = "s3")]
    Bucket(Address),
}

impl Place {
    /// What was named: what begins with `s3://` is an address, everything else a folder.
    ///
    /// # Errors
    /// An address that is none, or one that this build knows nothing of.
    pub(crate) fn of(given: &Path) -> Result<Self, Failure> {
        match given.to_str().filter(|text| Address::is_meant(text)) {
            None => Ok(Self::Folder(given.to_owned())),
            Some(text) => {
                let address = Address::parse(text)
                    .map_err(|e| Failure::Said { found: plain(&e.found, 120), expected: e.expected })?;
                Self::bucket(address)
            }
        }
    }

    /// The folder, where it is one.
    pub(crate) fn folder(&self) -> Option<&Path> {
        match self {
            Self::Folder(path) => Some(path),
            #[cfg(feature = "s3")]
            Self::Bucket(_) => None,
        }
    }

    /// What was named, or else what the environment names.
    ///
    /// # Errors
    /// As [`Place::of`], and none named.
    pub(crate) fn named(given: Option<&Path>) -> Result<Self, Failure> {
        match given {
            Some(place) => Self::of(place),
            None => {
                let set = std::env::var_os(ARCHIVE).filter(|p| !p.is_empty()).map(PathBuf::from);
                Self::of(&set.ok_or(Failure::NoPlace)?)
            }
        }
    }

    #[cfg(feature = "s3")]
    #[allow(clippy::unnecessary_wraps)] // the other build refuses
    fn bucket(address: Address) -> Result<Self, Failure> {
        Ok(Self::Bucket(address))
    }

    #[cfg(not(feature = "s3"))]
    fn bucket(address: Address) -> Result<Self, Failure> {
        Err(Failure::Said {
            found: format!("{address}, a bucket"),
            expected: "a folder: this borewright was built without archives in buckets (feature `s3`)",
        })
    }

    /// The place as the archive has it; nothing is asked of it yet.
    ///
    /// # Errors
    /// An environment that does not say who asks a bucket's server.
    pub(crate) fn store(&self) -> Result<Box<dyn Store>, Failure> {
        Ok(match self {
            Self::Folder(path) => Box::new(Folder::at(path)),
            #[cfg(feature = "s3")]
            Self::Bucket(address) => {
                let object = borewright_archive::Object::at(address);
                Box::new(object.map_err(borewright_archive::ArchiveError::from)?)
            }
        })
    }

    /// Takes away what kills left behind in a folder; in a bucket they leave nothing that is to be seen.
    pub(crate) fn clear_old(&self) {
        match self {
            Self::Folder(path) => Folder::at(path).clear_old(),
            #[cfg(feature = "s3")]
            Self::Bucket(_) => {}
        }
    }

    /// What tells it from every other place: one archive under one path is one archive, whoever moved it there; a
    /// bucket is one of its server's.
    pub(crate) fn identity(&self) -> Vec<u8> {
        match self {
            Self::Folder(path) => {
                let path = fs::canonicalize(path).unwrap_or_else(|_| path.clone());
                path.as_os_str().as_encoded_bytes().to_vec()
            }
            #[cfg(feature = "s3")]
            Self::Bucket(address) => {
                let server =
                    ["AWS_ENDPOINT_URL_S3", "AWS_ENDPOINT_URL", "AWS_ENDPOINT"].map(std::env::var_os);
                let server = server.into_iter().flatten().next().unwrap_or_default();
                [address.to_string().as_bytes(), b"\n", server.as_encoded_bytes()].concat()
            }
        }
    }

    /// The place fit for a terminal.
    pub(crate) fn told(&self) -> String {
        match self {
            Self::Folder(path) => shown(path),
            #[cfg(feature = "s3")]
            Self::Bucket(address) => address.to_string(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_an_address_is_no_folder() {
        for path in ["archive", "/mnt/archive", "./s3:", "s3:/x", "s4://bucket", ""] {
            assert_eq!(Place::of(Path::new(path)).unwrap(), Place::Folder(path.into()));
        }
        for path in ["s3://", "s3://Bucket", "s3://bucket/../x", "S3://b/\u{1b}"] {
            let refused = Place::of(Path::new(path)).unwrap_err().to_string();
            assert!(refused.starts_with("found the ") && !refused.contains('\u{1b}'), "{refused}");
        }
    }

    #[test]
    fn a_bucket_is_known_to_the_build_that_knows_buckets() {
        let place = Place::of(Path::new("s3://engine-works/jobs/"));
        #[cfg(feature = "s3")]
        assert_eq!(place.unwrap().told(), "s3://engine-works/jobs");
        #[cfg(not(feature = "s3"))]
        {
            let refused = place.unwrap_err();
            assert!(refused.to_string().contains("built without archives in buckets"), "{refused}");
            assert_eq!(refused.status(), crate::status::Status::Rejected);
        }
    }
}
