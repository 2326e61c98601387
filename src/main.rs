//! The `ligule` binary: hands the call to `cli` and ends with its exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    ligule::cli::run()
}
