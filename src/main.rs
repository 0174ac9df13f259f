//! The `bayrun` program: all it does is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    bayrun::cli::main()
}
