//! The `bayrun` program: all it does is in the library.

use std::process::ExitCode;

#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    bayrun::cli::main()
}
