//! Headers, several visitors, slow visitors, the end.

use super::client::Served;
use crate::support::made;
use relatch::internals::page::shipped;
use relatch::internals::predict::{Halt, Options, PredictError, predict};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

#[test]
fn everything_comes_with_strict_headers_and_nothing_from_elsewhere() {
    let s = Served::start();
    for (target, kind) in [
        ("/", "text/html"),
        ("/page.css", "text/css"),
        ("/page.js", "text/javascript"),
        ("/icon.svg", "image/svg+xml"),
        ("/presets", "application/json"),
    ] {
        let reply = s.get(target);
        assert_eq!(reply.status, 200, "{target}");
        for header in [
            &format!("Content-Type: {kind}"),
            "Content-Security-Policy: default-src 'none'; script-src 'self';",
            "frame-ancestors 'none'",
            "X-Content-Type-Options: nosniff",
            "Referrer-Policy: no-referrer",
        ] {
            assert!(reply.head.contains(header), "{target}: {}", reply.head);
        }
        let text = reply
            .text()
            .replace("http://www.w3.org/2000/svg", "the name of SVG");
        for away in ["http:", "https:", "//cdn", "@import", "url("] {
            assert!(!text.contains(away), "{target} names {away}");
        }
        assert!(!text.contains("unsafe-"), "{target}");
    }
    let refusal = s.get("/nothing");
    assert!(refusal.head.contains("nosniff"), "{}", refusal.head);
}

#[test]
fn several_requests_go_over_one_connection() {
    let s = Served::start();
    let mut stream = TcpStream::connect(("127.0.0.1", s.port)).unwrap();
    let one = format!(
        "GET /icon.svg HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n\r\n",
        s.port
    );
    stream.write_all(one.repeat(3).as_bytes()).unwrap();
    let last = one.replace("\r\n\r\n", "\r\nConnection: close\r\n\r\n");
    stream.write_all(last.as_bytes()).unwrap();
    let mut all = String::new();
    stream.read_to_string(&mut all).unwrap();
    assert_eq!(all.matches("HTTP/1.1 200 OK").count(), 4);
}

#[test]
fn a_slow_visitor_delays_nobody_and_is_sent_away() {
    let s = Served::start();
    let half = format!(
        "POST /answer HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-",
        s.port
    );
    let mut slow: Vec<TcpStream> = (0..40)
        .map(|_| {
            let mut stream = TcpStream::connect(("127.0.0.1", s.port)).unwrap();
            stream.write_all(half.as_bytes()).unwrap();
            stream
        })
        .collect();
    let began = Instant::now();
    for _ in 0..5 {
        assert_eq!(s.get("/").status, 200);
    }
    assert!(
        began.elapsed() < Duration::from_secs(4),
        "{:?}",
        began.elapsed()
    );
    // A byte now and then does not buy more time.
    let mut patient = slow.pop().unwrap();
    let dripping = std::thread::spawn(move || {
        let began = Instant::now();
        while patient.write_all(b"x").is_ok() && began.elapsed() < Duration::from_secs(30) {
            std::thread::sleep(Duration::from_millis(300));
        }
        began.elapsed()
    });
    let mut first = slow.remove(0);
    first
        .set_read_timeout(Some(Duration::from_secs(30)))
        .unwrap();
    let mut answer = String::new();
    first.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 408 "), "{answer}");
    assert!(dripping.join().unwrap() < Duration::from_secs(20));
    assert_eq!(s.get("/").status, 200);
}

#[test]
fn two_people_do_not_disturb_each_other() {
    let s = Served::start();
    let questions = [
        r#"{"preset":"08-worked-strip","sliders":{"current_a":13}}"#,
        r#"{"preset":"08-worked-strip","sliders":{"ambient_c":40}}"#,
    ];
    let alone: Vec<Vec<u8>> = questions
        .iter()
        .map(|q| s.post("/answer", q).body)
        .collect();
    assert_ne!(alone[0], alone[1]);
    std::thread::scope(|scope| {
        for (question, expected) in questions.iter().zip(&alone) {
            let s = &s;
            scope.spawn(move || {
                for _ in 0..10 {
                    assert_eq!(&s.post("/answer", question).body, expected);
                }
            });
        }
    });
}

/// Bound to 127.0.0.1, not to every address of the loopback, and so to no other network either.
#[cfg(target_os = "linux")]
#[test]
fn no_other_address_answers() {
    let s = Served::start();
    assert!(TcpStream::connect(("127.0.0.1", s.port)).is_ok());
    assert!(TcpStream::connect(("127.0.0.2", s.port)).is_err());
}

/// Those who ask nothing take no place from those who do, however many they are.
#[test]
fn idle_visitors_make_room() {
    let s = Served::start();
    let idle: Vec<TcpStream> = (0..200)
        .map(|_| TcpStream::connect(("127.0.0.1", s.port)).unwrap())
        .collect();
    let began = Instant::now();
    for _ in 0..5 {
        assert_eq!(s.get("/").status, 200);
    }
    assert!(began.elapsed() < Duration::from_secs(4));
    drop(idle);
}

/// A question that takes its time: a current that no such part ever sees.
const LONG: &str = r#"{"preset":"09-late-part","sliders":{"current_a":200000}}"#;

/// Whoever has given up waiting gets no outcome, and soon.
#[test]
fn a_prediction_is_given_up_on_demand() {
    let preset = shipped().expect("presets").remove(0);
    let options = made!(Options {
        halt: Halt::when(|| true),
        ..Options::default()
    });
    let given_up = predict(&preset.scenario, &options, &mut |_, _| {});
    assert_eq!(given_up.err(), Some(PredictError::Halted));
}

/// Nobody who is being answered is thrown out; what nobody waits for any more is worked at no
/// longer.
#[test]
fn too_many_visitors_are_told_to_come_back_and_may() {
    let s = Served::start();
    let asks = format!(
        "POST /answer HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nContent-Type: application/json\r\n\
         Content-Length: {}\r\n\r\n{LONG}",
        s.port,
        LONG.len()
    );
    let crowd: Vec<TcpStream> = (0..128)
        .map(|_| {
            let mut stream = TcpStream::connect(("127.0.0.1", s.port)).unwrap();
            stream.write_all(asks.as_bytes()).unwrap();
            stream
        })
        .collect();
    let began = Instant::now();
    while s.get("/").status != 503 {
        assert!(began.elapsed() < Duration::from_secs(8), "all are served");
    }
    drop(crowd);
    let left = Instant::now();
    while s.get("/").status != 200 {
        assert!(left.elapsed() < Duration::from_secs(6), "they have gone");
        std::thread::sleep(Duration::from_millis(50));
    }
}
