//! The few things that can be asked for over HTTP. Nothing is read from the disk: every file is
//! compiled in.

use super::request::Request;
use super::response::{Response, refusal};
use crate::page::assets::{CSS, HTML, ICON, SCRIPT};
use crate::page::routes::{PLAIN, QUESTIONS, answered, plain, spoken_in};
use crate::page::{PageError, Preset};
use crate::predict::Halt;
use crate::present::language::speaking;
use std::time::Instant;

/// Targets of GET.
const GETS: [&str; 6] = [
    "/",
    "/page.css",
    "/page.js",
    "/icon.svg",
    PLAIN[0],
    PLAIN[1],
];

/// Answers a request that may be answered, unless `halt` is due first.
pub(super) fn answer(request: &Request, presets: &[Preset], halt: &Halt) -> Response {
    let (locale, target) = spoken_in(&request.target);
    speaking(locale, || answered_at(target, request, presets, halt))
}

fn answered_at(target: &str, request: &Request, presets: &[Preset], halt: &Halt) -> Response {
    let allowed = match target {
        _ if GETS.contains(&target) => "GET, HEAD",
        _ if QUESTIONS.contains(&target) => "POST",
        _ => return nothing(),
    };
    match request.method.as_str() {
        "GET" if allowed != "POST" => get(target, presets),
        "HEAD" if allowed != "POST" => get(target, presets).without_body(),
        "POST" if allowed == "POST" => post(target, request, presets, halt),
        _ => refusal(405, &format!("only {allowed} is answered here")).with("Allow", allowed),
    }
}

fn nothing() -> Response {
    refusal(404, "there is no such page here")
}

fn get(target: &str, presets: &[Preset]) -> Response {
    match target {
        "/" => Response::of("text/html; charset=utf-8", HTML),
        "/page.css" => Response::of("text/css; charset=utf-8", CSS),
        "/page.js" => Response::of("text/javascript; charset=utf-8", SCRIPT),
        "/icon.svg" => Response::of("image/svg+xml", ICON),
        _ if PLAIN.contains(&target) => replied(target, plain(target, presets)),
        _ => nothing(),
    }
}

fn post(target: &str, request: &Request, presets: &[Preset], halt: &Halt) -> Response {
    let is_json = |kind: &str| {
        let essence = kind.split(';').next().unwrap_or_default().trim();
        essence.eq_ignore_ascii_case("application/json")
    };
    if !request.field("content-type").any(is_json) {
        return refusal(415, "send JSON, as Content-Type application/json");
    }
    let began = Instant::now();
    let response = replied(target, answered(target, &request.body, presets, halt));
    // For whoever measures; the answer itself depends on no clock.
    let took_ms = began.elapsed().as_secs_f64() * 1e3;
    response.with("Server-Timing", &format!("engine;dur={took_ms:.3}"))
}

fn replied(target: &str, reply: Result<String, PageError>) -> Response {
    let kind = match target {
        "/scenario" => "application/toml",
        _ => "application/json",
    };
    match reply {
        Ok(text) => Response::of(kind, text),
        Err(e @ PageError::Asked(_)) => refusal(400, &e.to_string()),
        Err(e @ PageError::Impossible(_)) => refusal(422, &e.to_string()),
        Err(e @ PageError::TooLong) => refusal(503, &e.to_string()),
    }
}
