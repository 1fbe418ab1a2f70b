//! Responses, each with the same strict headers.

/// Nothing from elsewhere is loaded, framed, sent or sniffed; nothing is kept.
const HEADERS: &str = "Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; \
    img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'\r\n\
    X-Content-Type-Options: nosniff\r\n\
    X-Frame-Options: DENY\r\n\
    Referrer-Policy: no-referrer\r\n\
    Cross-Origin-Resource-Policy: same-origin\r\n\
    Cross-Origin-Opener-Policy: same-origin\r\n\
    Cache-Control: no-store\r\n";

/// A response.
#[derive(Debug)]
pub(super) struct Response {
    status: u16,
    kind: &'static str,
    more: String,
    has_body: bool,
    body: Vec<u8>,
}

impl Response {
    /// What was asked for.
    pub fn of(kind: &'static str, body: impl Into<Vec<u8>>) -> Response {
        Response {
            status: 200,
            kind,
            more: String::new(),
            has_body: true,
            body: body.into(),
        }
    }

    /// The same with one more header.
    pub fn with(mut self, name: &str, value: &str) -> Response {
        self.more += &format!("{name}: {value}\r\n");
        self
    }

    /// The head alone, as HEAD asks for it.
    pub fn without_body(self) -> Response {
        Response {
            has_body: false,
            ..self
        }
    }

    /// As sent.
    pub fn bytes(&self, stays: bool) -> Vec<u8> {
        let mut bytes = format!(
            "HTTP/1.1 {} {}\r\nContent-Type: {}\r\nContent-Length: {}\r\nConnection: {}\r\n{HEADERS}{}\r\n",
            self.status,
            reason(self.status),
            self.kind,
            self.body.len(),
            if stays { "keep-alive" } else { "close" },
            self.more,
        )
        .into_bytes();
        if self.has_body {
            bytes.extend_from_slice(&self.body);
        }
        bytes
    }
}

/// A refusal: JSON with one sentence.
pub(super) fn refusal(status: u16, sentence: &str) -> Response {
    let body = serde_json::json!({ "error": sentence }).to_string();
    Response {
        status,
        ..Response::of("application/json", body)
    }
}

fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        400 => "Bad Request",
        403 => "Forbidden",
        404 => "Not Found",
        405 => "Method Not Allowed",
        408 => "Request Timeout",
        411 => "Length Required",
        413 => "Content Too Large",
        415 => "Unsupported Media Type",
        422 => "Unprocessable Content",
        431 => "Request Header Fields Too Large",
        501 => "Not Implemented",
        503 => "Service Unavailable",
        _ => "Internal Server Error",
    }
}
