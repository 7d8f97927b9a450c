//! Refusals of a server or of the way to it, in words that say what to look at.

use std::error::Error as _;
use std::io;

use object_store::Error;
use object_store::aws::{AmazonS3Builder, AmazonS3ConfigKey};
use object_store::client::{HttpError, HttpErrorKind};

/// Whether the environment names somebody who asks. Without it the crate would ask a machine of the network that
/// only rented computers have, and wait for it.
pub(super) fn somebody_asks(given: &AmazonS3Builder) -> bool {
    use AmazonS3ConfigKey as K;
    [
        K::AccessKeyId,
        K::SecretAccessKey,
        K::WebIdentityTokenFile,
        K::ContainerCredentialsRelativeUri,
        K::ContainerCredentialsFullUri,
        K::MetadataEndpoint,
        K::SkipSignature,
    ]
    .iter()
    .any(|key| given.get_config_value(key).is_some_and(|value| !value.is_empty() && value != "false"))
}

/// Whether nothing lies under a key; a missing bucket is another error.
pub(super) fn is_nothing_there(error: &Error) -> bool {
    matches!(error, Error::NotFound { .. }) && code(error).as_deref() != Some("NoSuchBucket")
}

/// What may be said of a write where another came first: also that its pieces are gone, when the answer to the write
/// itself was lost and it was asked again.
pub(super) fn may_be_taken(error: &Error) -> bool {
    matches!(error, Error::AlreadyExists { .. } | Error::Precondition { .. } | Error::NotFound { .. })
}

pub(super) fn no_bucket() -> io::Error {
    io::Error::new(io::ErrorKind::NotFound, "there is no bucket of this name")
}

pub(super) fn lost_upload() -> io::Error {
    io::Error::new(io::ErrorKind::NotFound, "the server lost the upload")
}

pub(super) fn contended() -> io::Error {
    io::Error::other("the server refused the write as taken, but nothing lies there; try again")
}

/// An error of the crate as an error of the place, in words.
pub(super) fn told(error: &Error) -> io::Error {
    use io::ErrorKind as E;
    let (code, status) = (code(error), status(error));
    if code.as_deref() == Some("NoSuchBucket") {
        return no_bucket();
    }
    let number = status.map(|status| status.to_string());
    let named = code.as_ref().or(number.as_ref()).map(|said| format!(" ({said})")).unwrap_or_default();
    let (kind, text) = match (http(error), status) {
        (Some(http), _) => match http.kind() {
            HttpErrorKind::Connect => {
                (E::NotConnected, format!("the server cannot be reached: {}", root(error)))
            }
            HttpErrorKind::Timeout => (E::TimedOut, "the server gave no answer in time".to_owned()),
            _ => (E::ConnectionAborted, format!("the connection was lost half-way: {}", root(error))),
        },
        (None, Some(401 | 403)) => {
            let look = "look at the credentials, their rights and this computer's clock";
            (E::PermissionDenied, format!("the server denies access{named}: {look}"))
        }
        (None, Some(300..=399)) => {
            (E::Other, format!("the bucket lies elsewhere{named}: look at AWS_REGION and AWS_ENDPOINT_URL"))
        }
        (None, Some(429 | 500..=599)) => {
            (E::Other, format!("the server is overloaded or has failed{named}: try again later"))
        }
        (None, Some(_)) => (E::Other, format!("the server refuses{named}")),
        (None, None) => (E::Other, format!("the server's answer cannot be used: {}", root(error))),
    };
    let text: String = text.chars().take(300).map(|c| if c.is_control() { ' ' } else { c }).collect();
    io::Error::new(kind, text)
}

/// The connection's own error, where it is one.
fn http(error: &Error) -> Option<&HttpError> {
    let mut at = error.source();
    while let Some(inner) = at {
        if let Some(http) = inner.downcast_ref::<HttpError>() {
            return Some(http);
        }
        at = inner.source();
    }
    None
}

/// What all began with.
fn root(error: &Error) -> String {
    let mut at: &dyn std::error::Error = error;
    while let Some(inner) = at.source() {
        at = inner;
    }
    at.to_string()
}

/// The word that the server has for it: `<Code>…</Code>` of its answer, letters and digits alone.
fn code(error: &Error) -> Option<String> {
    let said = error.to_string();
    let (_, rest) = said.split_once("<Code>")?;
    let (code, _) = rest.split_once("</Code>")?;
    let plain = !code.is_empty() && code.len() <= 60 && code.bytes().all(|b| b.is_ascii_alphanumeric());
    plain.then(|| code.to_owned())
}

/// The status that the server answered with.
fn status(error: &Error) -> Option<u16> {
    let said = error.to_string();
    let (_, rest) = said.split_once("status code: ")?;
    rest.get(..3)?.parse().ok()
}
