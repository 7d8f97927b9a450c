//! Servers that refuse, fall silent or break off; each answers on a port of this computer as a closure says.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use object_store::aws::AmazonS3Builder;

use super::object::{Object, Patience};
use super::{Put, Store};
use crate::address::Address;
use crate::archive::Archive;
use crate::error::ArchiveError;

const SHORT: Patience = Patience {
    connect: Duration::from_millis(500),
    answer: Duration::from_millis(500),
    all: Duration::from_secs(2),
    again: 1,
};

fn at(port: u16) -> Object {
    let given = AmazonS3Builder::new()
        .with_endpoint(format!("http://127.0.0.1:{port}"))
        .with_allow_http(true)
        .with_access_key_id("nobody")
        .with_secret_access_key("nothing");
    Object::with(&Address::parse("s3://engine-works/jobs").unwrap(), given, SHORT).unwrap()
}

/// A server that reads a request to its end and answers as it is told; `None` closes the connection.
fn server(answer: impl Fn(&str, usize) -> Option<String> + Send + Sync + 'static) -> Object {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = listener.local_addr().unwrap().port();
    let (answer, count) = (Arc::new(answer), Arc::new(AtomicUsize::new(0)));
    std::thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            let (answer, count) = (Arc::clone(&answer), Arc::clone(&count));
            std::thread::spawn(move || serve(&stream, answer.as_ref(), &count));
        }
    });
    at(port)
}

fn serve(stream: &TcpStream, answer: &dyn Fn(&str, usize) -> Option<String>, count: &AtomicUsize) {
    let mut reader = BufReader::new(stream);
    loop {
        let (mut first, mut length) = (String::new(), 0_usize);
        if reader.read_line(&mut first).unwrap_or(0) == 0 {
            return;
        }
        loop {
            let mut line = String::new();
            if reader.read_line(&mut line).unwrap_or(0) <= 2 {
                break;
            }
            if let Some(given) = line.to_lowercase().strip_prefix("content-length:") {
                length = given.trim().parse().unwrap();
            }
        }
        let _ = reader.read_exact(&mut vec![0; length]);
        let Some(said) = answer(first.trim(), count.fetch_add(1, Ordering::Relaxed)) else { return };
        let mut to = stream;
        let _ = to.write_all(said.as_bytes());
    }
}

fn said(status: &str, body: &str) -> Option<String> {
    Some(format!(
        "HTTP/1.1 {status}\r\nContent-Length: {}\r\nETag: \"x\"\r\nLast-Modified: Thu, 26 Nov 2026 08:15:00 GMT\r\n\r\n{body}",
        body.len()
    ))
}

fn xml(code: &str) -> String {
    format!("<?xml version=\"1.0\"?><Error><Code>{code}</Code><Message>m\u{1b}[2J</Message></Error>")
}

/// What each question to a place is answered with.
fn all(object: &Object) -> [String; 4] {
    [
        object.get("a/b").map(|_| ()).unwrap_err().to_string(),
        object.bytes("a/b").map(|_| ()).unwrap_err().to_string(),
        object.list("a").map(|_| ()).unwrap_err().to_string(),
        object.put("a/b", &mut b"x".as_slice()).map(|_| ()).unwrap_err().to_string(),
    ]
}

fn told(object: &Object, expected: &str) {
    for text in all(object) {
        assert!(text.starts_with("s3://engine-works/jobs/a"), "{text}");
        assert!(text.contains(expected) && !text.contains('\u{1b}'), "{text}");
    }
}

#[test]
fn a_bucket_behind_a_closed_port_cannot_be_reached() {
    let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
    told(&at(port), "the server cannot be reached: ");
}

#[test]
fn a_bucket_that_is_closed_to_whoever_asks_is_told() {
    told(&server(|_, _| said("403 Forbidden", &xml("AccessDenied"))), "the server denies access");
}

#[test]
fn a_bucket_whose_server_is_silent_is_given_up_in_time() {
    let object = server(|_, _| {
        std::thread::sleep(Duration::from_secs(20));
        None
    });
    told(&object, "the server gave no answer in time");
}

#[test]
fn a_bucket_whose_server_is_overloaded_is_told() {
    told(&server(|_, _| said("503 Slow Down", &xml("SlowDown"))), "the server is overloaded or has failed");
}

#[test]
fn a_bucket_that_is_not_there_is_no_empty_place() {
    let object = server(|_, _| said("404 Not Found", &xml("NoSuchBucket")));
    for text in [
        object.get("archive.json").map(|_| ()).unwrap_err().to_string(),
        object.list("").map(|_| ()).unwrap_err().to_string(),
        object.make().unwrap_err().to_string(),
    ] {
        assert!(text.ends_with("there is no bucket of this name"), "{text}");
    }
    assert!(matches!(Archive::open(Box::new(object)), Err(ArchiveError::Store(_))));
}

#[test]
fn nothing_under_a_key_of_a_bucket_is_nothing() {
    let object = server(|_, _| said("404 Not Found", &xml("NoSuchKey")));
    assert!(object.get("a").unwrap().is_none() && object.bytes("a").unwrap().is_none());
}

#[test]
fn what_a_bucket_gives_half_is_lost_half_way() {
    let object = server(|_, n| {
        let half = "HTTP/1.1 200 OK\r\nContent-Length: 100\r\nETag: \"x\"\r\n\
                    Last-Modified: Thu, 26 Nov 2026 08:15:00 GMT\r\nConnection: close\r\n\r\nonly this";
        (n == 0).then(|| half.to_owned())
    });
    let text = object.get("a").map(|_| ()).unwrap_err().to_string();
    assert!(text.contains("lost half-way"), "{text}");
    // One that begins anew where it was asked to go on is not taken at its word.
    let object = server(|_, _| {
        let other = "HTTP/1.1 200 OK\r\nContent-Length: 100\r\nETag: \"x\"\r\n\
                     Last-Modified: Thu, 26 Nov 2026 08:15:00 GMT\r\nConnection: close\r\n\r\nonly this";
        Some(other.to_owned())
    });
    let text = object.get("a").map(|_| ()).unwrap_err().to_string();
    assert!(text.contains("cannot be used"), "{text}");
}

#[test]
fn a_write_to_a_bucket_whose_answer_is_lost_is_neither_new_nor_taken() {
    let object = server(|_, _| None);
    let text = object.put("a", &mut b"x".as_slice()).unwrap_err().to_string();
    assert!(text.contains("lost half-way"), "{text}");
}

#[test]
fn a_write_to_a_bucket_that_is_refused_for_nothing_is_tried_again_and_given_up() {
    // Another writer's upload was under way, and came to nothing.
    let object = server(|request, n| match request.starts_with("PUT") {
        true if n < 2 => said("409 Conflict", &xml("ConditionalRequestConflict")),
        true => said("200 OK", ""),
        false => said("404 Not Found", ""),
    });
    assert_eq!(object.put("a", &mut b"x".as_slice()).unwrap(), Put::New);
    let object = server(|request, _| match request.starts_with("PUT") {
        true => said("412 Precondition Failed", &xml("PreconditionFailed")),
        false => said("404 Not Found", ""),
    });
    let text = object.put("a", &mut b"x".as_slice()).unwrap_err().to_string();
    assert!(text.contains("refused the write as taken"), "{text}");
}

#[test]
fn a_bucket_that_lets_writers_replace_each_other_keeps_no_archive() {
    const MARK: &str = "{\n  \"format\": \"borewright/archive/1\"\n}\n";
    let object = server(|request, _| match request.starts_with("PUT") {
        true => said("200 OK", ""),
        false => said("200 OK", MARK),
    });
    let archive = Archive::open(Box::new(object)).unwrap();
    let refused = archive.keeps_what_was_first().unwrap_err();
    assert!(matches!(refused, ArchiveError::Replaces { .. }), "{refused}");
}

#[test]
fn nobody_is_asked_for_credentials_of_a_bucket() {
    let address = Address::parse("s3://engine-works").unwrap();
    let refused = Object::with(&address, AmazonS3Builder::new(), SHORT).unwrap_err().to_string();
    assert!(refused.contains("no credentials in the environment"), "{refused}");
    for (id, secret) in [(Some("a"), None), (None, Some("b"))] {
        let mut given = AmazonS3Builder::new();
        given = id.into_iter().fold(given, AmazonS3Builder::with_access_key_id);
        given = secret.into_iter().fold(given, AmazonS3Builder::with_secret_access_key);
        assert!(Object::with(&address, given, SHORT).is_err());
    }
}

#[test]
fn what_the_environment_says_of_writing_to_a_bucket_is_not_heard() {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let given = AmazonS3Builder::new()
        .with_config("aws_conditional_put".parse().unwrap(), "disabled")
        .with_config("aws_bucket".parse().unwrap(), "elsewhere")
        .with_endpoint(format!("http://{}", listener.local_addr().unwrap()))
        .with_allow_http(true)
        .with_access_key_id("nobody")
        .with_secret_access_key("nothing");
    let object = Object::with(&Address::parse("s3://engine-works").unwrap(), given, SHORT).unwrap();
    let asked = std::thread::spawn(move || {
        let mut reader = BufReader::new(listener.accept().unwrap().0);
        let mut lines = vec![String::new()];
        while reader.read_line(lines.last_mut().unwrap()).unwrap_or(0) > 2 {
            lines.push(String::new());
        }
        lines
    });
    assert!(object.put("a", &mut b"x".as_slice()).is_err());
    let lines = asked.join().unwrap();
    assert!(lines[0].starts_with("PUT /engine-works/a "), "{lines:?}");
    assert!(lines.iter().any(|l| l.trim().eq_ignore_ascii_case("if-none-match: *")), "{lines:?}");
}
