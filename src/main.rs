//! The `ligule` binary: hands the call to `cli` and ends with its exit code.

use std::process::ExitCode;

use mimalloc::MiMalloc;

// Pages are read by one thread and set by another: the C library's allocator has them wait for each other's memory,
// which costs a tenth to a fifth of `ligule text`.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    ligule::cli::run()
}
