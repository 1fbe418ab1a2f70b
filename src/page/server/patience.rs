//! How long an answer is worked at: as long as its visitor is there, and no longer than a person
//! would wait.

use crate::predict::Halt;
use std::io::{self, ErrorKind};
use std::net::TcpStream;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Longest work at one answer.
const LONGEST: Duration = Duration::from_secs(10);
/// How often it is looked whether the visitor is still there.
const LOOK_EVERY: Duration = Duration::from_millis(100);

/// Ends the work when its time is up or the visitor has hung up.
pub(super) fn patience(stream: &TcpStream) -> io::Result<Halt> {
    let stream = stream.try_clone()?;
    let began = Instant::now();
    // When it was looked last, and whether the visitor had gone.
    let seen = Mutex::new((began, false));
    Ok(Halt::when(move || {
        let (last, gone) = &mut *seen.lock().unwrap_or_else(PoisonError::into_inner);
        if last.elapsed() >= LOOK_EVERY {
            *last = Instant::now();
            *gone = *gone || has_gone(&stream);
        }
        *gone || began.elapsed() >= LONGEST
    }))
}

/// Whether the other end has hung up. While an answer is worked at, nobody else reads from the
/// connection.
fn has_gone(stream: &TcpStream) -> bool {
    if stream.set_nonblocking(true).is_err() {
        return true;
    }
    let seen = stream.peek(&mut [0]);
    if stream.set_nonblocking(false).is_err() {
        return true;
    }
    match seen {
        Ok(bytes) => bytes == 0,
        Err(e) => !matches!(e.kind(), ErrorKind::WouldBlock | ErrorKind::Interrupted),
    }
}
