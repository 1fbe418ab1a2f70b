//! Who may ask, for what, and how much of it.

use super::client::Served;

#[test]
fn only_our_own_name_is_answered() {
    let s = Served::start();
    let port = s.port;
    let asked =
        |host: &str| s.raw(format!("GET / HTTP/1.1\r\n{host}Connection: close\r\n\r\n").as_bytes());
    for good in [
        format!("Host: 127.0.0.1:{port}\r\n"),
        format!("Host: localhost:{port}\r\n"),
        format!("HOST: LocalHost:{port}\r\n"),
    ] {
        assert_eq!(asked(&good).status, 200, "{good}");
    }
    for bad in [
        "".to_owned(),
        "Host:\r\n".into(),
        "Host: 127.0.0.1\r\n".into(),
        "Host: localhost\r\n".into(),
        format!("Host: 127.0.0.1:{}\r\n", port ^ 1),
        format!("Host: elsewhere.example:{port}\r\n"),
        format!("Host: 127.0.0.1.elsewhere.example:{port}\r\n"),
        format!("Host: 127.0.0.1:{port}@elsewhere.example\r\n"),
        format!("Host: 127.0.0.2:{port}\r\n"),
        format!("Host: [::1]:{port}\r\n"),
        format!("Host: 127.0.0.1:{port}\r\nHost: elsewhere.example\r\n"),
        format!("Host: 127.0.0.1:{port}, elsewhere.example\r\n"),
    ] {
        asked(&bad).refused(403);
    }
}

#[test]
fn a_page_from_elsewhere_may_not_ask() {
    let s = Served::start();
    let body = r#"{"preset":"08-worked-strip"}"#;
    let asked = |origin: &str| {
        let lines = format!(
            "Origin: {origin}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n",
            body.len()
        );
        s.send("POST", "/answer", &lines, body.as_bytes())
    };
    for good in ["http://127.0.0.1", "http://localhost"] {
        assert_eq!(asked(&format!("{good}:{}", s.port)).status, 200);
    }
    for bad in [
        "null".to_owned(),
        "".into(),
        "http://elsewhere.example".into(),
        format!("https://127.0.0.1:{}", s.port),
        format!("http://127.0.0.1:{}", s.port ^ 1),
        format!("http://127.0.0.1:{}.elsewhere.example", s.port),
        format!("http://127.0.0.1:{}/", s.port),
    ] {
        asked(&bad).refused(403);
    }
    let lines = "Origin: http://elsewhere.example\r\n";
    s.send("GET", "/presets", lines, b"").refused(403);
}

/// Without JSON in its Content-Type a POST needs no leave from the browser; so it is not taken.
#[test]
fn a_form_is_no_question() {
    let s = Served::start();
    let body = r#"{"preset":"08-worked-strip"}"#;
    for kind in ["text/plain", "application/x-www-form-urlencoded", ""] {
        let lines = format!("Content-Type: {kind}\r\nContent-Length: {}\r\n", body.len());
        s.send("POST", "/answer", &lines, body.as_bytes())
            .refused(415);
    }
}

#[test]
fn other_methods_are_refused_with_what_is_allowed() {
    let s = Served::start();
    let (asked, told) = (s.get("/page.css"), s.send("HEAD", "/page.css", "", b""));
    assert_eq!((told.status, told.head), (200, asked.head));
    assert!(told.body.is_empty() && !asked.body.is_empty());
    for method in ["PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "POST"] {
        let reply = s.send(method, "/", "Content-Length: 0\r\n", b"");
        assert_eq!(reply.status, 405, "{method}");
        assert!(reply.head.contains("Allow: GET, HEAD"), "{}", reply.head);
    }
    for method in ["GET", "PUT", "DELETE", "HEAD", "OPTIONS"] {
        let reply = s.send(method, "/answer", "Content-Length: 0\r\n", b"");
        assert_eq!(reply.status, 405, "{method}");
        assert!(reply.head.contains("Allow: POST"), "{}", reply.head);
    }
    s.send("BREW", "/pot", "", b"").refused(404);
}

#[test]
fn no_file_but_its_own_is_served() {
    let s = Served::start();
    for target in [
        "/Cargo.toml",
        "/../Cargo.toml",
        "/../../../../etc/passwd",
        "/..%2f..%2fetc%2fpasswd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/....//....//etc/passwd",
        "/..\\..\\etc\\passwd",
        "//etc/passwd",
        "/page.css/../../Cargo.toml",
        "/assets/page.js",
        "/scenarios/01-pug-mill.toml",
        "/page.css%00.toml",
        "/page.css?x=/etc/passwd",
        "http://127.0.0.1/etc/passwd",
        "file:///etc/passwd",
        "*",
        "/?",
        "/favicon.ico",
    ] {
        let reply = s.get(target);
        reply.refused(404);
        assert!(!reply.text().contains("root:") && !reply.text().contains("[package]"));
    }
}

#[test]
fn large_and_odd_requests_are_refused() {
    let s = Served::start();
    let kind = "Content-Type: application/json\r\n";
    let post =
        |lines: &str, body: &[u8]| s.send("POST", "/answer", &(kind.to_owned() + lines), body);
    post("Content-Length: 1000000000000\r\n", b"{}").refused(413);
    post("Content-Length: 99999999999999999999999999\r\n", b"{}").refused(413);
    let large = vec![b' '; 3_000_000];
    post(&format!("Content-Length: {}\r\n", large.len()), &large).refused(413);
    post("", b"{}").refused(411);
    post("Transfer-Encoding: chunked\r\n", b"2\r\n{}\r\n0\r\n\r\n").refused(501);
    post("Content-Length: 2\r\nTransfer-Encoding: chunked\r\n", b"{}").refused(501);
    post("Content-Length: 2\r\nContent-Length: 3\r\n", b"{}").refused(400);
    for bad in ["-2", "+2", "0x2", "2 2", "two", ""] {
        post(&format!("Content-Length: {bad}\r\n"), b"{}").refused(400);
    }
    let long = format!("X-Long: {}\r\n", "x".repeat(9000));
    s.send("GET", "/", &long, b"").refused(431);
    let endless = format!("X-Long: {}", "x".repeat(3_000_000));
    s.send("GET", "/", &endless, b"").refused(431);
    let many: String = (0..200).map(|i| format!("X-{i}: 1\r\n")).collect();
    s.send("GET", "/", &many, b"").refused(431);
    for odd in [
        &b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03"[..],
        b"GET / HTTP/9.9\r\n\r\n",
        b"GET\r\n\r\n",
        b"\0\0\0\0\0\0\0\0\r\n\r\n",
        b"GET / HTTP/1.1\r\nno colon here\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: \xff\xfe\r\n\r\n",
    ] {
        s.raw(odd).refused(400);
    }
    assert_eq!(s.get("/").status, 200, "and goes on");
}

#[test]
fn broken_questions_are_told_what_is_wrong() {
    let s = Served::start();
    let deep = "[".repeat(10_000);
    for body in [
        "",
        "{",
        "null",
        "[]",
        "\"08-worked-strip\"",
        "{}",
        r#"{"preset":"08-worked-strip","sliders":{"current_a":NaN}}"#,
        r#"{"preset":"08-worked-strip","sliders":{"current_a":Infinity}}"#,
        r#"{"preset":"08-worked-strip","sliders":{"current_a":1e999}}"#,
        r#"{"preset":"08-worked-strip","sliders":{"current_a":"20"}}"#,
        r#"{"preset":"08-worked-strip","sliders":{"posture":"sideways"}}"#,
        r#"{"preset":"08-worked-strip","sliders":{"curent_a":20}}"#,
        r#"{"preset":"08-worked-strip","slider":{}}"#,
        r#"{"preset":"../Cargo","sliders":{}}"#,
        r#"{"preset":"","sliders":{}}"#,
        r#"{"preset":"08-worked-strip"} and more"#,
        &deep,
    ] {
        s.post("/answer", body).refused(400);
    }
    let mut lines = String::from("Content-Type: application/json\r\nContent-Length: 2\r\n");
    lines.push_str("Accept: */*\r\n");
    s.send("POST", "/answer", &lines, b"\xff\xfe").refused(400);
}

#[test]
fn sliders_beyond_their_ends_are_told_where_those_are() {
    let s = Served::start();
    for (name, value, says) in [
        ("current_a", "-1", "between 0 A"),
        ("current_a", "1e300", "between 0 A"),
        ("ambient_c", "-300", "between -20 degC and 90 degC"),
        ("ambient_c", "91", "between -20 degC and 90 degC"),
        ("preload_left_percent", "0", "between 10 % and 100 %"),
        ("preload_left_percent", "100.01", "between 10 % and 100 %"),
        ("thickness_percent", "0", "between 70 % and 130 %"),
        ("thickness_percent", "1e9", "between 70 % and 130 %"),
    ] {
        for target in ["/answer", "/course", "/scenario"] {
            let body = format!(r#"{{"preset":"08-worked-strip","sliders":{{"{name}":{value}}}}}"#);
            let sentence = s.post(target, &body).refused(400);
            assert!(
                sentence.contains(name) && sentence.contains(says),
                "{sentence}"
            );
        }
    }
    for (resets, says) in [
        ("[-1]", "between"),
        ("[1e300]", "between"),
        ("[5,5]", "increase"),
        ("[5,4]", "increase"),
        (
            "[1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,17,18,19,20,21]",
            "at most",
        ),
    ] {
        let body = format!(r#"{{"preset":"08-worked-strip","resets_s":{resets}}}"#);
        let sentence = s.post("/course", &body).refused(400);
        assert!(sentence.contains(says), "{sentence}");
    }
}

/// A start from the warmth of carrying most of its rating, in air in which that has tripped it
/// already.
#[test]
fn values_that_cannot_be_together_get_the_reason() {
    let s = Served::start();
    let body =
        r#"{"preset":"10-impatient-resets","sliders":{"ambient_c":90,"thickness_percent":70}}"#;
    let sentence = s.post("/answer", body).refused(422);
    assert!(sentence.contains("already tripped"), "{sentence}");
    s.post("/course", body).refused(422);
    assert_eq!(s.post("/scenario", body).status, 200, "it can still be had");
}
