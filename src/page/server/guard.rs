//! Who may ask: only a page that this very server sent, or somebody at this machine.
//!
//! A page from elsewhere can make a browser send requests to an address on this machine, and can
//! give that address a name of its own. So the name asked for must be loopback with our port, and a
//! page that asks must be ours.

use super::request::Request;
use super::response::{Response, refusal};

const NAMES: [&str; 2] = ["127.0.0.1", "localhost"];

/// Whether a request may be answered.
pub(super) fn check(request: &Request, port: u16) -> Result<(), Response> {
    let hosts: Vec<&str> = request.field("host").collect();
    let is_ours = |host: &str| {
        NAMES.iter().any(|name| {
            host.eq_ignore_ascii_case(&format!("{name}:{port}"))
                || (port == 80 && host.eq_ignore_ascii_case(name))
        })
    };
    match hosts.as_slice() {
        [host] if is_ours(host) => {}
        _ => {
            return Err(refusal(
                403,
                &format!("ask for 127.0.0.1:{port} or localhost:{port}, by exactly one Host"),
            ));
        }
    }
    for origin in request.field("origin") {
        if !origin.strip_prefix("http://").is_some_and(is_ours) {
            return Err(refusal(403, "a page from elsewhere may not ask here"));
        }
    }
    Ok(())
}
