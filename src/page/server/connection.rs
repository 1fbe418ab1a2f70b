//! One connection: requests one after the other, each within limits of size and time.

use super::patience::patience;
use super::request::{Reader, Request};
use super::response::{Response, refusal};
use super::waiting::Waiting;
use super::{guard, routes};
use crate::page::Preset;
use std::io::{Read, Write};
use std::net::{Shutdown, TcpStream};
use std::sync::Arc;
use std::time::{Duration, Instant};

const WRITE_WITHIN: Duration = Duration::from_secs(10);
/// What a refused visitor still sends is taken for so long and so far, so that the refusal reaches
/// it.
const DRAIN_WITHIN: Duration = Duration::from_millis(500);
const DRAIN_BYTES: usize = 4 * 1024 * 1024;

/// One connection.
pub(super) struct Connection {
    stream: TcpStream,
    port: u16,
    presets: Arc<Vec<Preset>>,
    waiting: Waiting,
}

impl Connection {
    pub(super) fn new(
        stream: TcpStream,
        port: u16,
        presets: Arc<Vec<Preset>>,
        waiting: Waiting,
    ) -> Connection {
        Connection {
            stream,
            port,
            presets,
            waiting,
        }
    }

    /// Answers requests until the visitor leaves, is too slow or is refused.
    pub(super) fn serve(mut self) {
        if self.stream.set_write_timeout(Some(WRITE_WITHIN)).is_err() {
            return;
        }
        let _ = self.stream.set_nodelay(true);
        let mut reader = Reader::default();
        loop {
            let Ok(awaited) = self.waiting.begin(&self.stream) else {
                return;
            };
            let next = reader.next(&mut self.stream);
            drop(awaited);
            match next {
                Ok(None) => return,
                Ok(Some(request)) => {
                    let response = self.answer(&request);
                    let stays = request.keeps_open;
                    if self.write(&response, stays).is_err() || !stays {
                        return;
                    }
                }
                Err(response) => {
                    self.refuse(&response);
                    return;
                }
            }
        }
    }

    fn answer(&self, request: &Request) -> Response {
        match (guard::check(request, self.port), patience(&self.stream)) {
            (Err(refused), _) => refused,
            (Ok(()), Ok(halt)) => routes::answer(request, &self.presets, &halt),
            (Ok(()), Err(_)) => refusal(500, "the connection cannot be watched"),
        }
    }

    /// There are too many already.
    pub(super) fn turn_away(mut self) {
        let _ = self.stream.set_write_timeout(Some(DRAIN_WITHIN));
        let busy = refusal(503, "too many connections at once; try again in a moment");
        let _ = self.write(&busy, false);
    }

    fn refuse(&mut self, response: &Response) {
        if self.write(response, false).is_err() || self.stream.shutdown(Shutdown::Write).is_err() {
            return;
        }
        let until = Instant::now() + DRAIN_WITHIN;
        let (mut taken, mut piece) = (0, [0; 16 * 1024]);
        while taken < DRAIN_BYTES {
            // The whole of it within the time, not every piece: a byte now and then buys nothing.
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() || self.stream.set_read_timeout(Some(left)).is_err() {
                return;
            }
            match self.stream.read(&mut piece) {
                Ok(n) if n > 0 => taken += n,
                _ => return,
            }
        }
    }

    fn write(&mut self, response: &Response, stays: bool) -> std::io::Result<()> {
        self.stream.write_all(&response.bytes(stays))?;
        self.stream.flush()
    }
}
