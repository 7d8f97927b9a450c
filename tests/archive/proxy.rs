//! A way to a server that is cut once so many bytes have gone to it.

use std::io::{Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

/// On a port of its own; after the cut it takes connections and breaks them off at once.
pub(crate) struct Proxy {
    url: String,
    left: Arc<AtomicI64>,
}

impl Proxy {
    /// To the server at an `http://` address of this computer.
    pub(crate) fn to(server: &str, most: i64) -> Self {
        let server = server.trim_start_matches("http://").to_owned();
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let url = format!("http://{}", listener.local_addr().unwrap());
        let left = Arc::new(AtomicI64::new(most));
        let counted = Arc::clone(&left);
        std::thread::spawn(move || {
            for client in listener.incoming().flatten() {
                if counted.load(Ordering::Relaxed) <= 0 {
                    continue;
                }
                let upstream = TcpStream::connect(&server).unwrap();
                let back = (upstream.try_clone().unwrap(), client.try_clone().unwrap());
                let (there, left) = (Arc::clone(&counted), Arc::clone(&counted));
                std::thread::spawn(move || carry(client, upstream, &there, true));
                std::thread::spawn(move || carry(back.0, back.1, &left, false));
            }
        });
        Self { url, left }
    }

    pub(crate) fn url(&self) -> &str {
        &self.url
    }

    /// As if nothing had been.
    pub(crate) fn heal(&self) {
        self.left.store(i64::MAX, Ordering::Relaxed);
    }
}

fn carry(mut from: TcpStream, mut to: TcpStream, left: &AtomicI64, counts: bool) {
    let mut piece = [0; 512];
    while let Ok(read @ 1..) = from.read(&mut piece) {
        if counts {
            left.fetch_sub(i64::try_from(read).unwrap(), Ordering::Relaxed);
        }
        if left.load(Ordering::Relaxed) <= 0 || to.write_all(&piece[..read]).is_err() {
            break;
        }
    }
    let _ = (from.shutdown(Shutdown::Both), to.shutdown(Shutdown::Both));
}
