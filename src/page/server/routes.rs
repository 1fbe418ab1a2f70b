//! The few things that can be asked for. Nothing is read from the disk: every file is compiled in.

use super::request::Request;
use super::response::{Response, refusal};
use crate::page::answer::answer_until;
use crate::page::asked::Asked;
use crate::page::watched::watched_until;
use crate::page::{PageError, Preset, facts, written};
use crate::predict::Halt;
use std::time::Instant;

const HTML: &str = include_str!("../assets/page.html");
const CSS: &str = include_str!("../assets/page.css");
const SCRIPT: &str = include_str!("../assets/page.js");
const ICON: &str = include_str!("../assets/icon.svg");

/// Targets of GET and of POST.
const GETS: [&str; 5] = ["/", "/page.css", "/page.js", "/icon.svg", "/presets"];
const POSTS: [&str; 3] = ["/answer", "/course", "/scenario"];

/// Answers a request that may be answered, unless `halt` is due first.
pub(super) fn answer(request: &Request, presets: &[Preset], halt: &Halt) -> Response {
    let target = request.target.as_str();
    let allowed = match target {
        _ if GETS.contains(&target) => "GET, HEAD",
        _ if POSTS.contains(&target) => "POST",
        _ => return nothing(),
    };
    match request.method.as_str() {
        "GET" if allowed != "POST" => get(target, presets),
        "HEAD" if allowed != "POST" => get(target, presets).without_body(),
        "POST" if allowed == "POST" => post(request, presets, halt),
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
        "/presets" => Response::json(&presets.iter().map(facts).collect::<Vec<_>>()),
        _ => nothing(),
    }
}

fn post(request: &Request, presets: &[Preset], halt: &Halt) -> Response {
    let is_json = |kind: &str| {
        let essence = kind.split(';').next().unwrap_or_default().trim();
        essence.eq_ignore_ascii_case("application/json")
    };
    if !request.field("content-type").any(is_json) {
        return refusal(415, "send JSON, as Content-Type application/json");
    }
    let began = Instant::now();
    match posted(request, presets, halt) {
        // For whoever measures; the answer itself depends on no clock.
        Ok(response) => response.with(
            "Server-Timing",
            &format!("engine;dur={:.3}", began.elapsed().as_secs_f64() * 1e3),
        ),
        Err(e @ PageError::Asked(_)) => refusal(400, &e.to_string()),
        Err(e @ PageError::Impossible(_)) => refusal(422, &e.to_string()),
        Err(e @ PageError::TooLong) => refusal(503, &e.to_string()),
    }
}

fn posted(request: &Request, presets: &[Preset], halt: &Halt) -> Result<Response, PageError> {
    let asked = Asked::read(&request.body)?;
    let preset = presets
        .iter()
        .find(|p| p.id == asked.preset)
        .ok_or_else(|| PageError::Asked("there is no preset of that name".into()))?;
    let sliders = asked.sliders.checked()?;
    match request.target.as_str() {
        "/course" => Ok(Response::json(&watched_until(
            preset,
            &sliders,
            &asked.resets_s,
            asked.look,
            halt,
        )?)),
        "/scenario" => Ok(Response::of("application/toml", written(preset, &sliders)?)),
        _ => Ok(Response::json(&answer_until(
            preset,
            &sliders,
            asked.without_start,
            asked.look,
            halt,
        )?)),
    }
}
