//! Whom the server waits for: when every place is taken, whoever was waited for longest makes room.

use std::collections::BTreeMap;
use std::io;
use std::net::{Shutdown, TcpStream};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Connections from which a request is awaited, by a number that grows with every wait.
#[derive(Default, Clone)]
pub(super) struct Waiting {
    list: Arc<Mutex<(u64, BTreeMap<u64, TcpStream>)>>,
}

/// One of them, taken off the list when dropped.
pub(super) struct Awaited<'w> {
    waiting: &'w Waiting,
    number: u64,
}

impl Waiting {
    /// A request is awaited from this connection until the result is dropped.
    pub(super) fn begin(&self, stream: &TcpStream) -> io::Result<Awaited<'_>> {
        let stream = stream.try_clone()?;
        let (count, list) = &mut *self.locked();
        *count += 1;
        list.insert(*count, stream);
        Ok(Awaited {
            waiting: self,
            number: *count,
        })
    }

    /// Hangs up on the one waited for longest; false when every visitor is being answered.
    pub(super) fn make_room(&self) -> bool {
        let longest = self.locked().1.pop_first();
        longest.is_some_and(|(_, stream)| stream.shutdown(Shutdown::Both).is_ok())
    }

    fn locked(&self) -> MutexGuard<'_, (u64, BTreeMap<u64, TcpStream>)> {
        self.list.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Awaited<'_> {
    fn drop(&mut self) {
        self.waiting.locked().1.remove(&self.number);
    }
}
