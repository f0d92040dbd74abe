//! The command line: parse, run, exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    clothwright::cli::run()
}
