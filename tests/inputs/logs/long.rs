//! Long logs.

use relatch::internals::logs::{
    Condenser, Condensing, Finder, Finding, LogReader, Options, Spans, StampAt, Thresholds,
};
use std::io::{BufRead, Read};

/// A log that is made while it is read: a fog machine, 13.8 A for 40 s and 0.2 A for 25 s.
pub struct Made {
    rows: u64,
    next: u64,
    block: Vec<u8>,
    at: usize,
}

impl Made {
    pub fn new(rows: u64) -> Made {
        Made {
            rows,
            next: 0,
            block: b"time (s),current (A),ambient (degC)\n".to_vec(),
            at: 0,
        }
    }
}

impl Read for Made {
    fn read(&mut self, out: &mut [u8]) -> std::io::Result<usize> {
        let n = self.fill_buf()?.read(out)?;
        self.consume(n);
        Ok(n)
    }
}

impl BufRead for Made {
    fn fill_buf(&mut self) -> std::io::Result<&[u8]> {
        if self.at == self.block.len() {
            use std::io::Write;
            self.block.clear();
            self.at = 0;
            while self.next < self.rows && self.block.len() < 60_000 {
                let current = if self.next % 65 < 40 { 13.8 } else { 0.2 };
                writeln!(
                    self.block,
                    "{},{current:.2},26.{}",
                    self.next,
                    self.next % 7
                )?;
                self.next += 1;
            }
        }
        Ok(&self.block[self.at..])
    }

    fn consume(&mut self, n: usize) {
        self.at += n;
    }
}

/// Memory of this process, kB.
#[cfg(target_os = "linux")]
fn resident_kb() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("status");
    let line = status
        .lines()
        .find(|l| l.starts_with("VmRSS:"))
        .expect("VmRSS");
    line.split_whitespace()
        .nth(1)
        .and_then(|n| n.parse().ok())
        .expect("number")
}

#[cfg(not(target_os = "linux"))]
fn resident_kb() -> u64 {
    0
}

/// Alone in a process of its own: other tests of this program run beside it and take memory too.
#[test]
fn a_million_rows_need_no_memory() {
    let done = std::process::Command::new(std::env::current_exe().expect("this program"))
        .args(["logs::long::a_million_rows", "--exact", "--ignored"])
        .output()
        .expect("starts");
    let said = String::from_utf8_lossy(&done.stdout);
    assert!(done.status.success() && said.contains("1 passed"), "{said}");
}

/// A million rows through reader, finder and condenser. The log is 15 MB; nothing may keep it.
#[test]
#[ignore = "a_million_rows_need_no_memory runs it alone"]
fn a_million_rows() {
    let rows = 1_000_000;
    let mut log = LogReader::new("long", Made::new(rows), Options::default()).expect("layout");
    let mut spans = Spans::new(StampAt::Start);
    let mut finder = Finder::new(Finding::new(Thresholds {
        on_a: 2.0,
        off_a: 1.5,
    }));
    let mut condenser = Condenser::new(Condensing::new(0.01, 10.0, 25.0));
    let (mut count, mut segments, mut heat) = (0u64, 0u64, 0.0);
    let mut before = 0;
    while let Some(row) = log.next_row().expect("row") {
        count += 1;
        spans.push(&row, &mut |span| {
            finder.push(span, &mut |s| {
                segments += 1;
                heat += s.totals.i2t_a2s;
            });
            condenser.push(span);
        });
        if count == 20_000 {
            before = resident_kb();
        }
    }
    let grown = resident_kb().saturating_sub(before);
    // The log itself would be 15 000 kB as text alone and more as rows.
    assert!(grown < 2_000, "{grown} kB more than after 20 000 rows");
    spans.finish(&mut |span| {
        finder.push(span, &mut |s| heat += s.totals.i2t_a2s);
        condenser.push(span);
    });
    finder.finish(&mut |s| heat += s.totals.i2t_a2s);
    assert_eq!((count, log.account().rows_used), (rows, rows));
    // A run, a fall and an idle time in every whole scene; of the one begun nothing has ended.
    assert_eq!(segments, 3 * (rows / 65));
    let by_hand: f64 = (0..rows)
        .map(|k| {
            if k % 65 < 40 {
                13.8f64 * 13.8
            } else {
                0.2 * 0.2
            }
        })
        .sum();
    let programme = condenser.finish();
    assert!((heat / by_hand - 1.0).abs() < 1e-9);
    assert!((programme.i2t_a2s / by_hand - 1.0).abs() < 1e-9);
    assert!(programme.pieces.len() <= 1000);
}

/// `cargo test --release --test inputs speed -- --ignored --nocapture`
#[test]
#[ignore = "prints a speed, asserts none"]
fn speed() {
    let mut text = Vec::new();
    Made::new(1_000_000).read_to_end(&mut text).expect("log");
    let mut stamped = b"time;current (A)\n".to_vec();
    for k in 0..1_000_000u32 {
        use std::io::Write;
        let (d, h, m, s) = (1 + k / 86_400, k / 3600 % 24, k / 60 % 60, k % 60);
        writeln!(
            stamped,
            "2024-03-{d:02}T{h:02}:{m:02}:{s:02}+01:00;{}",
            9.0 + f64::from(k % 10) / 10.0
        )
        .expect("row");
    }
    for (name, text) in [("numbers", &text), ("ISO times", &stamped)] {
        let start = std::time::Instant::now();
        let mut log = LogReader::new(name, text.as_slice(), Options::default()).expect("layout");
        let mut rows = 0;
        while log.next_row().expect("row").is_some() {
            rows += 1;
        }
        println!(
            "{name}: {rows} rows, {:.2e} a second",
            f64::from(rows) / start.elapsed().as_secs_f64()
        );
    }
}
