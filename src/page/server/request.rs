//! Reads a request from a socket: at most so large, at most so slowly.

use super::response::{Response, refusal};
use std::io::{ErrorKind, Read};
use std::net::TcpStream;
use std::time::{Duration, Instant};

/// Largest head of a request, bytes.
const HEAD_BYTES: usize = 8 * 1024;
/// Most header fields.
const FIELDS: usize = 64;
/// Largest body, bytes: sliders and a few times are some hundred.
const BODY_BYTES: usize = 16 * 1024;
/// How long a connection may stand idle between requests.
const IDLE: Duration = Duration::from_secs(20);
/// How long a request may take from its first byte to its last.
const WHOLE: Duration = Duration::from_secs(5);

/// A request.
#[derive(Debug, Default)]
pub(super) struct Request {
    pub method: String,
    pub target: String,
    fields: Vec<(String, String)>,
    pub body: Vec<u8>,
    /// Whether the connection stays open after it.
    pub keeps_open: bool,
}

impl Request {
    /// Values of a header field, which may stand several times.
    pub fn field<'r>(&'r self, name: &'static str) -> impl Iterator<Item = &'r str> {
        self.fields
            .iter()
            .filter(move |(n, _)| n.eq_ignore_ascii_case(name))
            .map(|(_, v)| v.as_str())
    }

    /// The length that the head announces.
    fn length(&self) -> Result<usize, Response> {
        if self.field("transfer-encoding").next().is_some() {
            return Err(refusal(
                501,
                "a body in pieces is not taken: send it whole, with Content-Length",
            ));
        }
        let lengths: Vec<&str> = self.field("content-length").collect();
        match lengths.as_slice() {
            [] if self.method == "POST" => Err(refusal(411, "a POST needs Content-Length")),
            [] => Ok(0),
            [one] if !one.is_empty() && one.bytes().all(|b| b.is_ascii_digit()) => {
                match one.parse::<usize>() {
                    Ok(n) if n <= BODY_BYTES => Ok(n),
                    _ => Err(refusal(
                        413,
                        &format!("a body of {one} bytes is too large; {BODY_BYTES} are taken"),
                    )),
                }
            }
            _ => Err(refusal(400, "Content-Length is not one number")),
        }
    }
}

/// Reads one request after the other; keeps what came early.
#[derive(Default)]
pub(super) struct Reader {
    buffer: Vec<u8>,
}

enum Came {
    Bytes,
    End,
    Late,
}

impl Reader {
    /// The next request; `None` when the visitor has gone or stands idle. An error is what to
    /// answer before hanging up.
    pub fn next(&mut self, stream: &mut TcpStream) -> Result<Option<Request>, Response> {
        if self.buffer.is_empty() {
            match self.more(stream, Instant::now() + IDLE) {
                Came::Bytes => {}
                Came::End | Came::Late => return Ok(None),
            }
        }
        let until = Instant::now() + WHOLE;
        let (mut request, head) = loop {
            if let Some(read) = head(&self.buffer)? {
                break read;
            }
            if self.buffer.len() > HEAD_BYTES {
                return Err(refusal(
                    431,
                    &format!("the head of the request is larger than {HEAD_BYTES} bytes"),
                ));
            }
            match self.more(stream, until) {
                Came::Bytes => {}
                Came::End => return Ok(None),
                Came::Late => return Err(too_slow()),
            }
        };
        let end = head + request.length()?;
        while self.buffer.len() < end {
            match self.more(stream, until) {
                Came::Bytes => {}
                Came::End => return Ok(None),
                Came::Late => return Err(too_slow()),
            }
        }
        request.body = self.buffer[head..end].to_vec();
        self.buffer.drain(..end);
        Ok(Some(request))
    }

    fn more(&mut self, stream: &mut TcpStream, until: Instant) -> Came {
        let mut piece = [0; 4096];
        loop {
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Came::Late;
            }
            if stream.set_read_timeout(Some(left)).is_err() {
                return Came::End;
            }
            match stream.read(&mut piece) {
                Ok(0) => return Came::End,
                Ok(n) => {
                    self.buffer.extend_from_slice(&piece[..n]);
                    return Came::Bytes;
                }
                Err(e) if e.kind() == ErrorKind::Interrupted => {}
                Err(e) if matches!(e.kind(), ErrorKind::WouldBlock | ErrorKind::TimedOut) => {
                    return Came::Late;
                }
                Err(_) => return Came::End,
            }
        }
    }
}

fn too_slow() -> Response {
    refusal(
        408,
        &format!("the request did not come within {} s", WHOLE.as_secs()),
    )
}

/// The head of a request and its length in bytes; `None` while it is incomplete.
fn head(buffer: &[u8]) -> Result<Option<(Request, usize)>, Response> {
    let mut fields = [httparse::EMPTY_HEADER; FIELDS];
    let mut parsed = httparse::Request::new(&mut fields);
    let length = match parsed.parse(buffer) {
        Ok(httparse::Status::Complete(n)) if n <= HEAD_BYTES => n,
        Ok(httparse::Status::Complete(_)) => {
            return Err(refusal(
                431,
                &format!("the head of the request is larger than {HEAD_BYTES} bytes"),
            ));
        }
        Ok(httparse::Status::Partial) => return Ok(None),
        Err(httparse::Error::TooManyHeaders) => {
            return Err(refusal(431, &format!("more than {FIELDS} header fields")));
        }
        Err(e) => return Err(refusal(400, &format!("this is no HTTP request: {e}"))),
    };
    let mut request = Request {
        method: parsed.method.unwrap_or_default().to_owned(),
        target: parsed.path.unwrap_or_default().to_owned(),
        ..Request::default()
    };
    for field in parsed.headers.iter() {
        let Ok(value) = std::str::from_utf8(field.value) else {
            return Err(refusal(400, "a header field is not text"));
        };
        request
            .fields
            .push((field.name.to_owned(), value.trim().to_owned()));
    }
    let word = request
        .field("connection")
        .next()
        .map(str::to_ascii_lowercase);
    request.keeps_open = parsed.version == Some(1) && word.as_deref() != Some("close");
    Ok(Some((request, length)))
}
