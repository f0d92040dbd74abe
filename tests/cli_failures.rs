//! What goes wrong around the program: no room on the disk, no leave to write, no such folder, odd names, a reader that
//! has seen enough. A message, the right exit code, and nothing half-written.

#![cfg(unix)]
#[path = "support/run.rs"]
mod run;

use std::ffi::OsStr;
use std::fs::{self, File, Permissions};
use std::io::Write;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use run::{Bench, SMALL};

/// Every command that prints results.
const PRINTERS: [&[&str]; 15] = [
    &["check", "job.json"],
    &["pieces", "job.json"],
    &["pieces", "job.json", "--json"],
    &["places", "job.json"],
    &["tapes", "job.json"],
    &["lay", "job.json", "--effort", "1", "--out", "out"],
    &["lay", "job.json", "--rest", "--effort", "1", "--out", "rest"],
    &["templates", "job.json", "--out", "templates"],
    &["compare", "job.json", "--effort", "1", "--seeds", "1", "--out", "compared"],
    &["mark-out", "out/lay.json", "--large", "100mm", "--out", "marks"],
    &["verify", "out/lay.json"],
    &["log", "job.json", "note", "first coat"],
    &["log", "job.json", "status"],
    &["log", "job.json", "list"],
    &["trace", "template.svg"],
];

fn program() -> &'static Path {
    Path::new(env!("CARGO_BIN_EXE_clothwright"))
}

fn bench() -> Bench {
    let bench = Bench::with(SMALL);
    let ran = bench.run(&["lay", "job.json", "--effort", "1", "--out", "out"]);
    assert_eq!(ran.code, Some(0), "{}", ran.messages);
    let drawing = r#"<svg xmlns="http://www.w3.org/2000/svg" width="9cm" viewBox="0 0 90 90"><rect width="60" height="40"/></svg>"#;
    fs::write(bench.path("template.svg"), drawing).expect("a drawing");
    bench
}

fn words(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn no_leftovers(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        assert!(!name.contains("unfinished"), "{name} was left in {}", folder.display());
        if entry.path().is_dir() {
            no_leftovers(&entry.path());
        }
    }
}

#[test]
fn a_closed_pipe_ends_every_command_in_peace() {
    let bench = bench();
    for arguments in PRINTERS.into_iter().chain([&["schema"][..], &["--help"], &["lay", "--help"]]) {
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let output = Command::new(program())
            .args(arguments)
            .current_dir(bench.path(""))
            .stdout(writer)
            .output()
            .expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", words(&output));
        assert!(
            !words(&output).contains("panicked") && !words(&output).contains("error"),
            "{arguments:?}: {}",
            words(&output)
        );
    }
    for file in [
        "out/lay.json",
        "rest/lay.json",
        "templates/templates.pdf",
        "compared/compare.json",
        "marks/mark-out-roll-1.pdf",
    ] {
        assert!(bench.path(file).exists(), "{file} is written though nobody reads that it was");
    }
}

#[test]
fn results_that_cannot_be_printed_are_told() {
    let Ok(_) = File::options().write(true).open("/dev/full") else {
        skipped("this system has no /dev/full");
        return;
    };
    let bench = bench();
    for arguments in PRINTERS.into_iter().chain([&["schema"][..]]) {
        let full = File::options().write(true).open("/dev/full").expect("it was there");
        let output =
            Command::new(program()).args(arguments).current_dir(bench.path("")).stdout(full).output().expect("it runs");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", words(&output));
        assert!(
            words(&output).contains("the results cannot be printed: No space left"),
            "{arguments:?}: {}",
            words(&output)
        );
    }
    // Nor can the words about it be printed: it still ends, and with the code.
    let full = || File::options().write(true).open("/dev/full").expect("it was there");
    let status =
        Command::new(program()).args(["check", "gone.json"]).stdout(full()).stderr(full()).status().expect("it runs");
    assert_eq!(status.code(), Some(2));
}

/// Runs the program where no file may grow beyond so many blocks of 512 bytes: to it, a disk that is full.
fn without_room(bench: &Bench, blocks: u32, arguments: &[&str]) -> Output {
    let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" \"$@\"");
    let mut command = Command::new("sh");
    command.arg("-c").arg(script).arg(program()).args(arguments).current_dir(bench.path(""));
    command.output().expect("a shell")
}

#[test]
fn a_full_disk_is_told_and_changes_nothing() {
    let bench = bench();
    for arguments in PRINTERS.into_iter().filter(|arguments| arguments.contains(&"--out")) {
        // So that there is something that could be spoilt.
        bench.run(arguments);
        let folder = arguments[arguments.len() - 1];
        let before: Vec<_> = bench
            .names(folder)
            .into_iter()
            .map(|name| fs::read(bench.path(folder).join(name)).expect("a file"))
            .collect();
        assert!(before.iter().any(|bytes| bytes.len() > 512), "{arguments:?} writes something that finds no room");
        let output = without_room(&bench, 1, arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", words(&output));
        assert!(words(&output).contains("cannot be written: File too large"), "{arguments:?}: {}", words(&output));
        let after: Vec<_> = bench
            .names(folder)
            .into_iter()
            .map(|name| fs::read(bench.path(folder).join(name)).expect("a file"))
            .collect();
        assert!(before == after, "{arguments:?} changed something");
    }
    no_leftovers(&bench.path(""));
}

#[test]
fn a_log_without_room_keeps_what_it_has() {
    let bench = bench();
    for number in 0..20 {
        assert_eq!(bench.run(&["log", "job.json", "note", &format!("evening {number}")]).code, Some(0));
    }
    let before = bench.read("job.log.jsonl");
    let room = u32::try_from(before.len() / 512 + 1).expect("a small log");
    let long = "a very long evening ".repeat(60);
    let output = without_room(&bench, room, &["log", "job.json", "note", &long]);
    assert_eq!(output.status.code(), Some(2), "{}", words(&output));
    assert!(words(&output).contains("cannot be written"), "{}", words(&output));
    assert_eq!(bench.read("job.log.jsonl"), before, "no torn line stays");
    assert_eq!(bench.run(&["log", "job.json", "note", "and on"]).code, Some(0));
}

#[test]
fn a_folder_that_may_not_be_written_is_told_before_the_work() {
    let bench = bench();
    let copy = bench.path("program");
    fs::copy(program(), &copy).expect("a copy that others may run");
    fs::set_permissions(bench.path(""), Permissions::from_mode(0o755)).expect("leave to enter");
    let locked = bench.path("locked");
    fs::create_dir(&locked).expect("a folder");
    fs::set_permissions(&locked, Permissions::from_mode(0o555)).expect("a locked folder");
    let is_root = File::create(locked.join("probe")).is_ok();
    for arguments in [
        &["lay", "job.json", "--effort", "1000000", "--out", "locked"][..],
        &["lay", "job.json", "--effort", "1000000", "--out", "locked/deeper"],
        &["templates", "job.json", "--out", "locked"],
        &["compare", "job.json", "--effort", "1000000", "--out", "locked"],
        &["mark-out", "out/lay.json", "--out", "locked"],
        &["trace", "template.svg", "--preview", "locked/seen.svg"],
        &["log", "locked/job.json", "note", "x"],
    ] {
        if arguments[0] == "log" {
            fs::set_permissions(&locked, Permissions::from_mode(0o755)).expect("leave to write");
            fs::write(locked.join("job.json"), SMALL).expect("a job");
            fs::set_permissions(&locked, Permissions::from_mode(0o555)).expect("a locked folder");
        }
        let mut command = Command::new(&copy);
        command.args(arguments).current_dir(bench.path(""));
        if is_root {
            // Root may write anywhere; so the program runs as somebody who may not.
            command.uid(65_534).gid(65_534);
        }
        let output = match command.output() {
            Ok(output) => output,
            Err(error) => {
                skipped(&format!("the program cannot be run as another user: {error}"));
                return;
            }
        };
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", words(&output));
        assert!(
            words(&output).contains("Permission denied") && words(&output).contains("locked"),
            "{arguments:?}: {}",
            words(&output)
        );
    }
}

#[test]
fn missing_folders_are_made_for_results_and_told_for_the_rest() {
    let bench = bench();
    for arguments in
        [&["templates", "job.json", "--out", "a/b/c"][..], &["trace", "template.svg", "--preview", "d/e/seen.svg"]]
    {
        assert_eq!(bench.run(arguments).code, Some(0), "{arguments:?}");
    }
    assert!(bench.path("a/b/c/templates.pdf").exists() && bench.path("d/e/seen.svg").exists());
    for (arguments, words) in [
        (&["check", "nowhere/job.json"][..], "there is no file"),
        (&["lay", "nowhere/job.json", "--out", "out"], "there is no file"),
        (&["verify", "nowhere/lay.json"], "cannot be read"),
        (&["trace", "nowhere/a.svg"], "there is no file"),
        (&["log", "nowhere/job.json", "status"], "there is no file"),
        (&["lay", "job.json", "--out", "job.json"], "is a file"),
        (&["lay", "job.json", "--out", "job.json/deeper"], "cannot be used"),
        (&["verify", "out"], "is a folder"),
        (&["check", "out"], "is a folder"),
    ] {
        let ran = bench.run(arguments);
        assert!(
            ran.code == Some(2) || (arguments[0] == "trace" && ran.code == Some(1)),
            "{arguments:?}: {:?}",
            ran.code
        );
        assert!(ran.messages.contains(words), "{arguments:?}: {}", ran.messages);
    }
    assert!(!bench.path("nowhere").exists());
}

#[test]
fn files_larger_than_any_of_their_kind_are_told() {
    let bench = bench();
    let mega = 1024 * 1024;
    for (file, megabytes, arguments, words, code) in [
        ("large.json", 17, &["check", "large.json"][..], "has more than 16 MB", 1),
        ("large-lay.json", 257, &["verify", "large-lay.json"], "has more than 256 MB", 2),
        ("job.log.jsonl", 65, &["log", "job.json", "status"], "has more than 64 MB", 2),
        ("large.svg", 9, &["trace", "large.svg"], "has more than 8 MB", 1),
    ] {
        // A file with nothing in it takes no room, however large it is.
        File::create(bench.path(file)).and_then(|made| made.set_len(megabytes * mega)).expect("a large file");
        let ran = bench.run(arguments);
        assert_eq!(ran.code, Some(code), "{arguments:?}: {}", ran.messages);
        assert!(ran.messages.contains(words), "{arguments:?}: {}", ran.messages);
    }
}

#[test]
fn names_that_are_no_text_are_names() {
    let bench = bench();
    let odd = |start: &[u8], end: &[u8]| OsStr::from_bytes(&[start, b"-\xff\xfe-", end].concat()).to_owned();
    let (job, out, drawing) = (odd(b"job", b".json"), odd(b"out", b""), odd(b"door", b".svg"));
    if fs::write(bench.path("").join(&job), SMALL).is_err() {
        skipped("this file system takes no such names");
        return;
    }
    fs::copy(bench.path("template.svg"), bench.path("").join(&drawing)).expect("a copy");
    let run = |arguments: &[&OsStr]| {
        let output = Command::new(program()).args(arguments).current_dir(bench.path("")).output().expect("it runs");
        (output.status.code(), words(&output))
    };
    let plain = |word: &'static str| OsStr::new(word);
    for arguments in [
        vec![plain("check"), &job],
        vec![plain("pieces"), &job],
        vec![plain("lay"), &job, plain("--effort"), plain("1"), plain("--out"), &out],
        vec![plain("templates"), &job, plain("--out"), &out],
        vec![plain("compare"), &job, plain("--effort"), plain("1"), plain("--seeds"), plain("1"), plain("--out"), &out],
        vec![plain("log"), &job, plain("note"), plain("it works")],
        vec![plain("trace"), &drawing],
        vec![plain("trace"), &drawing, plain("--preview"), plain("seen.svg")],
    ] {
        let (code, messages) = run(&arguments);
        assert_eq!(code, Some(0), "{arguments:?}: {messages}");
    }
    let lay = bench.path("").join(&out).join("lay.json");
    let (code, messages) = run(&[plain("verify"), lay.as_os_str()]);
    assert!(code == Some(2) && messages.contains("--job"), "a lay cannot name such a job, and says so: {messages}");
    assert_eq!(run(&[plain("verify"), lay.as_os_str(), plain("--job"), &job]).0, Some(0));
    let (code, messages) = run(&[plain("trace"), &drawing, plain("--preview"), &drawing]);
    assert_eq!(code, Some(2), "{messages}");
    let (code, messages) = run(&[plain("pieces"), plain("job.json"), &drawing]);
    assert_eq!(code, Some(2), "{messages}");
}

#[test]
fn a_terminal_that_went_away_ends_the_program() {
    let bench = bench();
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    let status = Command::new(program())
        .args(["check", "gone.json"])
        .current_dir(bench.path(""))
        .stdout(Stdio::null())
        .stderr(writer)
        .status()
        .expect("it runs");
    assert_eq!(status.code(), Some(2));
}

/// Says it past the test harness, which keeps what a passing test prints.
fn skipped(why: &str) {
    let _ = writeln!(std::io::stderr(), "\nSKIPPED: {why}");
}
