//! Where the program starts: arguments in, streams and exit code out.

use std::io::{IsTerminal as _, Write as _};
use std::process::ExitCode;

use clap::{CommandFactory as _, Parser as _};

use super::options::{Command, Options};
use super::outcome::Outcome;
use super::{calc, check, figures, packet, suggest, why};
use crate::language::reference_page;
use crate::source::Face;

/// Colour only on a terminal, and not when `NO_COLOR` is set.
fn face() -> Face {
    let colour = std::io::stdout().is_terminal()
        && std::env::var_os("NO_COLOR").is_none_or(|v| v.is_empty());
    Face {
        colour,
        ..Face::default()
    }
}

fn run(options: Options) -> Outcome {
    let root = options.root;
    match options.command {
        Command::Check {
            jobs,
            format,
            strict,
        } => check::check(&jobs, format, strict, root, face()),
        Command::Figures { job, format } => figures::figures(&job, format, root),
        Command::Suggest { job, format, write } => {
            suggest::suggest_changes(&job, format, write, root)
        }
        Command::Why { what, format } => why::why(&what, format, root),
        Command::Packet {
            job,
            output,
            draft,
            paper,
            typst,
            install_typst,
        } => packet::packet(&packet::Wanted {
            job,
            output,
            draft,
            paper,
            typst,
            install_typst,
            root,
        }),
        Command::Calc { name, pairs, table } => {
            let done = calc::calc(name.as_deref(), &pairs, table.as_deref());
            Outcome {
                out: done.out,
                err: done.err,
                code: done.code,
            }
        }
        Command::Language => Outcome {
            out: reference_page(),
            ..Outcome::default()
        },
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Options::command(), "bayrun", &mut script);
            Outcome {
                out: String::from_utf8_lossy(&script).into_owned(),
                ..Outcome::default()
            }
        }
    }
}

/// Runs the program with the arguments it was started with.
pub fn main() -> ExitCode {
    let outcome = match Options::try_parse() {
        Ok(options) => run(options),
        Err(error) => {
            let code = if error.use_stderr() { 2 } else { 0 };
            // A closed pipe is no reason to fail louder.
            let _ = error.print();
            return ExitCode::from(code);
        }
    };
    let written = std::io::stdout().lock().write_all(outcome.out.as_bytes());
    let _ = std::io::stderr().lock().write_all(outcome.err.as_bytes());
    match written {
        // The reader went away (`bayrun … | head`): what it took was right.
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => ExitCode::from(2),
        _ => ExitCode::from(outcome.code),
    }
}
