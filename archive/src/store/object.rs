//! An archive in a bucket of an object store, over the S3 protocol.

use std::io::{self, Read};
use std::sync::Arc;
use std::time::Duration;

use object_store::aws::{AmazonS3, AmazonS3Builder, S3ConditionalPut};
use object_store::multipart::MultipartStore;
use object_store::path::Path;
use object_store::{BackoffConfig, Error, ObjectStore, ObjectStoreExt, PutMode, PutPayload, RetryConfig};
use tokio::runtime::{Builder, Runtime};

use super::create_only::CreateOnly;
use super::refused::{self, told};
use super::{Kind, Listed, Opened, Put, Store, StoreError};
use crate::address::Address;

/// Sent and fetched at once, bytes: more goes in pieces, so that memory stays flat. The protocol wants at least 5 MiB.
const PIECE: usize = 8 * 1024 * 1024;
/// How often a write is tried again that was refused because another was under way.
const TRIES: usize = 5;

/// Times after which a server is given up.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patience {
    /// To be reached.
    pub(super) connect: Duration,
    /// To take or give a piece: 8 MiB in a minute is 1.1 Mbit/s.
    pub(super) answer: Duration,
    /// Time from the first try to the beginning of the last.
    pub(super) all: Duration,
    /// Tries after the first.
    pub(super) again: usize,
}

impl Patience {
    const USUAL: Self = Self {
        connect: Duration::from_secs(5),
        answer: Duration::from_secs(60),
        all: Duration::from_secs(60),
        again: 3,
    };
}

/// A bucket, or a part of one below a prefix. What is put is put with `If-None-Match: *`, which a server grants to one
/// writer alone.
#[derive(Debug)]
pub struct Object {
    address: Address,
    store: AmazonS3,
    runtime: Arc<Runtime>,
}

impl Object {
    /// The bucket of an address; who asks, and which server is asked, stand in the environment (`AWS_…`).
    /// No request goes out.
    ///
    /// # Errors An environment without credentials, or with values that cannot be used.
    pub fn at(address: &Address) -> Result<Self, StoreError> {
        Self::with(address, AmazonS3Builder::from_env(), Patience::USUAL)
    }

    /// The store of a bucket by settings at hand; an error where no credentials are given or the settings make no
    /// client. Nothing is sent yet.
    pub(super) fn with(
        address: &Address,
        given: AmazonS3Builder,
        patience: Patience,
    ) -> Result<Self, StoreError> {
        let wrong = |source: io::Error| StoreError { at: address.to_string(), source };
        if !refused::somebody_asks(&given) {
            let said =
                "no credentials in the environment: expected AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY";
            return Err(wrong(io::Error::new(io::ErrorKind::PermissionDenied, said)));
        }
        // A provider set before is the same one.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let runtime = Builder::new_current_thread().enable_all().build().map_err(wrong)?;
        let store = given
            .with_bucket_name(address.bucket())
            .with_config(timeout("connect_timeout").map_err(wrong)?, spoken(patience.connect))
            .with_config(timeout("timeout").map_err(wrong)?, spoken(patience.answer))
            .with_retry(RetryConfig {
                backoff: BackoffConfig::default(),
                max_retries: patience.again,
                retry_timeout: patience.all,
            })
            // Set whatever the environment says: without it two writers could replace each other.
            .with_conditional_put(S3ConditionalPut::ETagMatch)
            .with_http_connector(CreateOnly)
            .build()
            .map_err(|e| wrong(told(&e)))?;
        Ok(Self { address: address.clone(), store, runtime: Arc::new(runtime) })
    }

    fn key(&self, key: &str) -> Result<Path, StoreError> {
        let whole = match (self.address.prefix(), key) {
            (prefix, "") => prefix.to_owned(),
            ("", key) => key.to_owned(),
            (prefix, key) => format!("{prefix}/{key}"),
        };
        Path::parse(whole)
            .map_err(|e| self.error(key, io::Error::new(io::ErrorKind::InvalidInput, e.to_string())))
    }

    fn error(&self, key: &str, source: io::Error) -> StoreError {
        let at = if key.is_empty() { self.address.to_string() } else { format!("{}/{key}", self.address) };
        StoreError { at, source }
    }

    fn wait<T>(
        &self,
        key: &str,
        work: impl Future<Output = Result<T, Error>>,
    ) -> Result<Option<T>, StoreError> {
        match self.runtime.block_on(work) {
            Ok(done) => Ok(Some(done)),
            Err(e) if refused::is_nothing_there(&e) => Ok(None),
            Err(e) => Err(self.error(key, told(&e))),
        }
    }

    /// In one request, where all of it is one piece.
    fn put_whole(&self, key: &str, bytes: Vec<u8>) -> Result<Put, StoreError> {
        let (path, payload) = (self.key(key)?, PutPayload::from(bytes));
        for _ in 0..TRIES {
            let put = self.store.put_opts(&path, payload.clone(), PutMode::Create.into());
            match self.runtime.block_on(put) {
                Ok(_) => return Ok(Put::New),
                Err(Error::AlreadyExists { .. }) if self.bytes(key)?.is_some() => return Ok(Put::Taken),
                // Another writer was under way and gave up.
                Err(Error::AlreadyExists { .. }) => {}
                Err(e) => return Err(self.error(key, told(&e))),
            }
        }
        Err(self.error(key, refused::contended()))
    }

    /// In pieces, none of which is to be seen before the last request names them all.
    fn put_pieces(&self, key: &str, first: Vec<u8>, from: &mut dyn Read) -> Result<Put, StoreError> {
        let path = self.key(key)?;
        let gone = || self.error(key, refused::lost_upload());
        let id = self.wait(key, self.store.create_multipart(&path))?.ok_or_else(gone)?;
        let mut send = || -> Result<Put, StoreError> {
            let (mut parts, mut piece) = (Vec::new(), first.clone());
            while !piece.is_empty() {
                let part = self.store.put_part(&path, &id, parts.len(), PutPayload::from(piece));
                parts.push(self.wait(key, part)?.ok_or_else(gone)?);
                piece = read_piece(from).map_err(|e| self.error(key, e))?;
            }
            match self.runtime.block_on(self.store.complete_multipart(&path, &id, parts)) {
                Ok(_) => Ok(Put::New),
                Err(e) if refused::may_be_taken(&e) && self.bytes(key)?.is_some() => Ok(Put::Taken),
                Err(e) => Err(self.error(key, told(&e))),
            }
        };
        let sent = send();
        if !matches!(sent, Ok(Put::New)) {
            let _ = self.runtime.block_on(self.store.abort_multipart(&path, &id));
        }
        sent
    }
}

/// The next piece of what is put, filled to its end unless there is no more.
fn read_piece(from: &mut dyn Read) -> io::Result<Vec<u8>> {
    let mut piece = Vec::new();
    from.take(u64::try_from(PIECE).unwrap_or(u64::MAX)).read_to_end(&mut piece)?;
    Ok(piece)
}

fn timeout(key: &str) -> io::Result<object_store::aws::AmazonS3ConfigKey> {
    key.parse().map_err(|_| io::ErrorKind::InvalidInput.into())
}

fn spoken(time: Duration) -> String {
    format!("{}ms", time.as_millis())
}

impl Store for Object {
    /// A bucket is made by whoever keeps the server; here it is only asked whether it is there.
    fn make(&self) -> Result<(), StoreError> {
        self.list("").map(|_| ())
    }

    fn put(&self, key: &str, from: &mut dyn Read) -> Result<Put, StoreError> {
        let first = read_piece(from).map_err(|e| self.error(key, e))?;
        if first.len() < PIECE { self.put_whole(key, first) } else { self.put_pieces(key, first, from) }
    }

    fn get(&self, key: &str) -> Result<Option<Opened>, StoreError> {
        let path = self.key(key)?;
        let open = async {
            let got = self.store.get(&path).await?;
            let bytes = got.meta.size;
            // What is larger is fetched again in pieces, each in its own time.
            let whole = match usize::try_from(bytes) {
                Ok(size) if size <= PIECE => Some(got.bytes().await?),
                _ => None,
            };
            Ok((bytes, whole))
        };
        Ok(self.wait(key, open)?.map(|(bytes, whole)| {
            let reader: Box<dyn Read> = match whole {
                Some(whole) => Box::new(io::Cursor::new(whole)),
                None => Box::new(Pieces {
                    store: self.store.clone(),
                    runtime: Arc::clone(&self.runtime),
                    at: format!("{}/{key}", self.address),
                    path,
                    from: 0,
                    bytes,
                    piece: io::Cursor::default(),
                }),
            };
            Opened { reader, bytes }
        }))
    }

    fn bytes(&self, key: &str) -> Result<Option<u64>, StoreError> {
        let path = self.key(key)?;
        Ok(self.wait(key, self.store.head(&path))?.map(|about| about.size))
    }

    fn list(&self, folder: &str) -> Result<Vec<Listed>, StoreError> {
        let path = self.key(folder)?;
        let found = self.wait(folder, self.store.list_with_delimiter(Some(&path)))?;
        let Some(found) = found else { return Err(self.error(folder, refused::no_bucket())) };
        let files = found.objects.into_iter().map(|o| (o.location, Kind::File));
        let folders = found.common_prefixes.into_iter().map(|p| (p, Kind::Folder));
        let mut listed: Vec<Listed> = files
            .chain(folders)
            // Some programs mark a folder by an object of its own name.
            .filter(|(at, _)| *at != path)
            .filter_map(|(at, kind)| Some(Listed { name: at.filename()?.to_owned(), kind }))
            .collect();
        listed.sort();
        Ok(listed)
    }

    fn place(&self) -> String {
        self.address.to_string()
    }
}

/// Reads what is larger than a piece.
struct Pieces {
    store: AmazonS3,
    runtime: Arc<Runtime>,
    at: String,
    path: Path,
    from: u64,
    bytes: u64,
    piece: io::Cursor<Vec<u8>>,
}

impl Read for Pieces {
    fn read(&mut self, to: &mut [u8]) -> io::Result<usize> {
        let read = self.piece.read(to)?;
        if read > 0 || to.is_empty() || self.from >= self.bytes {
            return Ok(read);
        }
        let end = self.from.saturating_add(u64::try_from(PIECE).unwrap_or(u64::MAX)).min(self.bytes);
        let got = self.runtime.block_on(self.store.get_range(&self.path, self.from..end)).map_err(|e| {
            let said = told(&e);
            io::Error::new(said.kind(), format!("{}: {said}", self.at))
        })?;
        if got.is_empty() {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        self.from = self.from.saturating_add(u64::try_from(got.len()).unwrap_or(u64::MAX));
        self.piece = io::Cursor::new(got.to_vec());
        self.piece.read(to)
    }
}
