//! The built program, run as a person runs it.

mod age;
mod ask;
mod conventions;
mod diagnose;
mod explain;
mod figures;
mod files;
mod fit;
mod lesson;
mod streams;
mod technician;
mod usage;
mod wait;
mod wait_kinds;

/// What a terminal shows of the program while somebody types; the terminal is one of `script`
/// (util-linux).
#[cfg(target_os = "linux")]
fn on_a_terminal(folder: &std::path::Path, arguments: &[&str], typed: &str) -> String {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let line = [&[env!("CARGO_BIN_EXE_relatch")], arguments]
        .concat()
        .join(" ");
    let mut session = Command::new("script")
        .args(["-qec", &line, "/dev/null"])
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("script");
    let mut keys = session.stdin.take().expect("keys");
    keys.write_all(typed.as_bytes()).expect("typed");
    let done = session.wait_with_output().expect("it ends");
    drop(keys);
    String::from_utf8_lossy(&done.stdout).into_owned()
}
