//! What the program is built from: every crate comes from crates.io, under a licence that .ci/deny.toml allows.

use std::io::Write;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

fn allowed() -> Option<Vec<String>> {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(".ci/deny.toml")).ok()?;
    let list = text.lines().find_map(|line| line.strip_prefix("allow = ["))?;
    Some(list.trim_end_matches(']').split(',').map(|word| word.trim().trim_matches('"').to_owned()).collect())
}

/// Whether an expression can be met with these licences; older crates write a stroke for OR (SPDX 2.1, annex D).
fn can_be_met(expression: &str, allowed: &[String]) -> bool {
    let is_allowed = |name: &str| allowed.iter().any(|allowed| allowed == name.trim());
    let each = |all: &str| all.trim_matches(['(', ')', ' ']).split(" OR ").any(is_allowed);
    let expression = expression.replace('/', " OR ");
    if expression.contains(" AND ") { expression.split(" AND ").all(each) } else { each(&expression) }
}

#[test]
fn every_dependency_may_be_used() {
    let Some(allowed) = allowed() else {
        skipped(".ci/deny.toml is not here");
        return;
    };
    let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.args([
        "metadata",
        "--offline",
        "--locked",
        "--format-version",
        "1",
        "--filter-platform",
        "x86_64-unknown-linux-gnu",
    ]);
    let output = cargo.current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("cargo runs");
    if !output.status.success() {
        skipped(&format!("cargo knows too little offline: {}", String::from_utf8_lossy(&output.stderr)));
        return;
    }
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let packages = metadata["packages"].as_array().expect("a list");
    assert!(packages.len() > 100, "{} packages", packages.len());
    for package in packages.iter().filter(|package| package["name"] != "clothwright") {
        let name = &package["name"];
        let source = package["source"].as_str().unwrap_or("a folder");
        assert_eq!(source, "registry+https://github.com/rust-lang/crates.io-index", "{name}");
        let licence = package["license"].as_str().unwrap_or("none");
        assert!(can_be_met(licence, &allowed), "{name} is under {licence}");
    }
}

#[test]
fn expressions_are_read_as_they_are_meant() {
    let allowed = ["MIT", "Zlib"].map(str::to_owned);
    for (expression, met) in [
        ("MIT", true),
        ("GPL-3.0-only", false),
        ("Apache-2.0 OR MIT", true),
        ("Apache-2.0/MIT", true),
        ("(Apache-2.0 OR MIT) AND Zlib", true),
        ("(Apache-2.0 OR MIT) AND BSD-3-Clause", false),
        ("MITX", false),
    ] {
        assert_eq!(can_be_met(expression, &allowed), met, "{expression}");
    }
}

/// Says it past the test harness, which keeps what a passing test prints.
fn skipped(why: &str) {
    let _ = writeln!(std::io::stderr(), "\nSKIPPED: {why}");
}
