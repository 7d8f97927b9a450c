//! Places for tests: a folder always, a bucket where a server is named (scripts/archive-s3).

use std::fs;

use super::{Folder, Store};

/// A new empty place, and what somebody else can do to it.
pub(crate) trait Place: Sync {
    /// The place as the archive has it.
    fn store(&self) -> Box<dyn Store>;
    /// Puts bytes under a key, whatever lies there.
    fn force(&self, key: &str, bytes: &[u8]);
    /// Takes away what lies under a key.
    fn remove(&self, key: &str);
    /// Whether the store is quick enough to be tried at every byte.
    fn is_quick(&self) -> bool;

    /// The bytes under a key.
    fn read(&self, key: &str) -> Vec<u8> {
        let mut bytes = Vec::new();
        self.store().get(key).unwrap().unwrap().reader.read_to_end(&mut bytes).unwrap();
        bytes
    }
}

/// A folder that goes when it is dropped.
pub(crate) struct Disk(pub(crate) tempfile::TempDir);

impl Disk {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub(crate) fn at(&self, key: &str) -> std::path::PathBuf {
        self.0.path().join("archive").join(key)
    }
}

impl Place for Disk {
    fn store(&self) -> Box<dyn Store> {
        Box::new(Folder::at(&self.at("")))
    }

    /// What is kept is closed to writing: a forger opens it first.
    fn force(&self, key: &str, bytes: &[u8]) {
        let path = self.at(key);
        let _ = fs::remove_file(&path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }

    fn remove(&self, key: &str) {
        fs::remove_file(self.at(key)).unwrap();
    }

    fn is_quick(&self) -> bool {
        true
    }
}

#[cfg(feature = "s3")]
pub(crate) use bucket::Bucket;

#[cfg(feature = "s3")]
mod bucket {
    use std::sync::atomic::{AtomicU32, Ordering};

    use object_store::aws::{AmazonS3, AmazonS3Builder};
    use object_store::path::Path;
    use object_store::{ObjectStoreExt, PutPayload};
    use tokio::runtime::{Builder, Runtime};

    use super::{Place, Store};
    use crate::address::Address;
    use crate::store::Object;

    /// A prefix of its own in the bucket that the environment names.
    pub(crate) struct Bucket {
        pub(crate) address: Address,
        raw: AmazonS3,
        runtime: Runtime,
    }

    impl Bucket {
        pub(crate) fn new() -> Option<Self> {
            static COUNT: AtomicU32 = AtomicU32::new(0);
            let Ok(given) = std::env::var("BOREWRIGHT_TEST_S3") else {
                eprintln!("skipped: BOREWRIGHT_TEST_S3 names no bucket (scripts/archive-s3)");
                return None;
            };
            let count = COUNT.fetch_add(1, Ordering::Relaxed);
            let address = Address::parse(&format!("{given}/unit-{}-{count}", std::process::id())).unwrap();
            // It makes the choice of TLS for the process.
            Object::at(&address).unwrap();
            let raw = AmazonS3Builder::from_env().with_bucket_name(address.bucket()).build().unwrap();
            let runtime = Builder::new_current_thread().enable_all().build().unwrap();
            Some(Self { address, raw, runtime })
        }

        pub(crate) fn key(&self, key: &str) -> Path {
            Path::parse(format!("{}/{key}", self.address.prefix())).unwrap()
        }
    }

    impl Place for Bucket {
        fn store(&self) -> Box<dyn Store> {
            Box::new(Object::at(&self.address).unwrap())
        }

        fn force(&self, key: &str, bytes: &[u8]) {
            let (key, bytes) = (self.key(key), PutPayload::from(bytes.to_vec()));
            self.runtime.block_on(self.raw.put(&key, bytes)).unwrap();
        }

        fn remove(&self, key: &str) {
            self.runtime.block_on(self.raw.delete(&self.key(key))).unwrap();
        }

        fn is_quick(&self) -> bool {
            false
        }
    }
}

/// Each test named, run in a folder and in a bucket.
macro_rules! in_every_place {
    ($($name:ident),+ $(,)?) => {
        mod in_a_folder {
            $(#[test]
            fn $name() {
                super::$name(&$crate::store::testing::Disk::new());
            })+
        }

        #[cfg(feature = "s3")]
        mod in_a_bucket {
            $(#[test]
            fn $name() {
                if let Some(bucket) = $crate::store::testing::Bucket::new() {
                    super::$name(&bucket);
                }
            })+
        }
    };
}
pub(crate) use in_every_place;
