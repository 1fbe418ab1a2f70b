//! The server: loopback only, a fixed set of routes, and nothing remembered between requests.

mod connection;
mod guard;
mod patience;
mod request;
mod response;
mod routes;
mod waiting;

use super::Preset;
use connection::Connection;
use std::io;
use std::net::{Ipv4Addr, SocketAddr, SocketAddrV4, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;
use waiting::Waiting;

/// Connections served at once. A further one takes the place of whoever was waited for longest;
/// when all are being answered it is told to come back.
const MOST_CONNECTIONS: usize = 128;

/// The server of the page.
pub struct Server {
    listener: TcpListener,
    port: u16,
    presets: Arc<Vec<Preset>>,
    stop: Arc<AtomicBool>,
}

/// Ends a server from another thread.
#[derive(Clone)]
pub struct Stop {
    flag: Arc<AtomicBool>,
    address: SocketAddr,
}

impl Stop {
    /// Ends it; a request that is being answered is not waited for.
    pub fn now(&self) {
        self.flag.store(true, Ordering::SeqCst);
        // Waiting for the next visitor is ended by one.
        let _ = TcpStream::connect_timeout(&self.address, Duration::from_secs(1));
    }
}

impl Server {
    /// A server on this machine's own address 127.0.0.1 and no other; port 0 takes a free one.
    ///
    /// # Errors
    /// The port is taken or not allowed.
    pub fn bind(port: u16, presets: Vec<Preset>) -> io::Result<Server> {
        let listener = TcpListener::bind(SocketAddrV4::new(Ipv4Addr::LOCALHOST, port))?;
        let port = listener.local_addr()?.port();
        Ok(Server {
            listener,
            port,
            presets: Arc::new(presets),
            stop: Arc::new(AtomicBool::new(false)),
        })
    }

    /// Port it listens on.
    pub fn port(&self) -> u16 {
        self.port
    }

    /// Address to be opened in a browser.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// What ends it.
    pub fn stop(&self) -> Stop {
        Stop {
            flag: self.stop.clone(),
            address: SocketAddr::from((Ipv4Addr::LOCALHOST, self.port)),
        }
    }

    /// Serves until stopped. Every connection has a thread of its own, so that a slow one delays
    /// nobody.
    pub fn serve(self) {
        let open = Arc::new(AtomicUsize::new(0));
        let waiting = Waiting::default();
        for stream in self.listener.incoming() {
            if self.stop.load(Ordering::SeqCst) {
                return;
            }
            // A visitor who left while being let in is no reason to stop.
            let Ok(stream) = stream else {
                std::thread::sleep(Duration::from_millis(5));
                continue;
            };
            let place = Place::take(&open);
            let connection =
                Connection::new(stream, self.port, self.presets.clone(), waiting.clone());
            if place.number > MOST_CONNECTIONS && !waiting.make_room() {
                connection.turn_away();
                continue;
            }
            // Without a thread the visitor is dropped, and may come again.
            let _ = std::thread::Builder::new()
                .name("page".into())
                .spawn(move || {
                    let _place = place;
                    connection.serve();
                });
        }
    }
}

/// One of the places for connections, given back when dropped, whatever became of the connection.
struct Place {
    open: Arc<AtomicUsize>,
    number: usize,
}

impl Place {
    fn take(open: &Arc<AtomicUsize>) -> Place {
        Place {
            number: open.fetch_add(1, Ordering::SeqCst) + 1,
            open: open.clone(),
        }
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        self.open.fetch_sub(1, Ordering::SeqCst);
    }
}
