//! The command line: parse, run, exit code.

fn main() {}
