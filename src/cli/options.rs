//! Commands and options, with help that a foreman can follow.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum, ValueHint};

/// Checks job specs of small-duct, high-velocity heating and cooling, and makes the packet that a crew builds from.
#[derive(Debug, Parser)]
#[command(name = "bayrun", version, max_term_width = 100)]
pub(super) struct Options {
    #[command(subcommand)]
    pub(super) command: Command,
    /// The folder that every file of a job stays under [default: the nearest one that holds bayrun.yaml].
    #[arg(long, global = true, value_name = "FOLDER", value_hint = ValueHint::DirPath)]
    pub(super) root: Option<PathBuf>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Check jobs and say what would go wrong on site.
    ///
    /// Exit code: 0 clean, 1 errors left (with --strict warnings too), 2 a file could not be read.
    Check {
        /// Job files, or folders whose job files are all checked.
        #[arg(required = true, value_name = "JOB", value_hint = ValueHint::AnyPath)]
        jobs: Vec<PathBuf>,
        /// How to print.
        #[arg(long, value_enum, default_value_t = ReportFormat::Human)]
        format: ReportFormat,
        /// Count warnings as errors.
        #[arg(long)]
        strict: bool,
    },
    /// List everything that is computed for a job.
    Figures {
        /// The job file.
        #[arg(value_name = "JOB", value_hint = ValueHint::FilePath)]
        job: PathBuf,
        /// How to print.
        #[arg(long, value_enum, default_value_t = FigureFormat::Human)]
        format: FigureFormat,
    },
    /// Say why: a rule (`why DRN002`), or where a figure of a job comes from (`why JOB room.den.reach`).
    Why {
        /// A rule's code or name; or a job file followed by a figure's id.
        #[arg(required = true, num_args = 1..=2, value_name = "WHAT")]
        what: Vec<String>,
        /// How to print.
        #[arg(long, value_enum, default_value_t = ReportFormat::Human)]
        format: ReportFormat,
    },
    /// Find the fewest changes that make the rooms even: orifices, tubes, taps, one more outlet.
    ///
    /// Every design is tried on the whole job; what brings new findings is not proposed.
    /// Exit code: 0 the rooms are, or would be, even enough, 1 they would not, 2 could not run.
    Suggest {
        /// The job file.
        #[arg(value_name = "JOB", value_hint = ValueHint::FilePath)]
        job: PathBuf,
        /// How to print.
        #[arg(long, value_enum, default_value_t = ReportFormat::Human)]
        format: ReportFormat,
        /// Write the changes into the job; comments and layout stay.
        #[arg(long)]
        write: bool,
    },
    /// Write the packet that the crew builds from: PDF, one HTML file for phones, lists.
    ///
    /// Exit code: 0 written, 1 errors left (use --draft), 2 could not run, 3 written without the PDF.
    Packet {
        /// The job file.
        #[arg(value_name = "JOB", value_hint = ValueHint::FilePath, required_unless_present = "install_typst")]
        job: Option<PathBuf>,
        /// Where to write [default: a folder `packet` beside the job file].
        #[arg(short, long, value_name = "FOLDER", value_hint = ValueHint::DirPath)]
        output: Option<PathBuf>,
        /// Write it although errors are left; every page says how many.
        #[arg(long)]
        draft: bool,
        /// The paper.
        #[arg(long, value_enum, default_value_t = Paper::Letter)]
        paper: Paper,
        /// The typst program that sets the pages.
        #[arg(long, value_name = "PATH", value_hint = ValueHint::FilePath)]
        typst: Option<PathBuf>,
        /// Build the typst program once into Bayrun's cache folder (needs the network and some minutes).
        #[arg(long)]
        install_typst: bool,
    },
    /// Bench calculator: the functions that jobs are checked with, one at a time or over a table.
    ///
    /// `bayrun calc` alone lists what there is.
    Calc {
        /// What to compute.
        name: Option<String>,
        /// Inputs, as in `dry_bulb_F=75 given=rh rel_humidity_frac=0.5`; units as in the language.
        #[arg(value_name = "KEY=VALUE")]
        pairs: Vec<String>,
        /// A CSV table whose result columns are computed.
        #[arg(long, value_name = "FILE.csv", value_hint = ValueHint::FilePath)]
        table: Option<PathBuf>,
    },
    /// Print the reference page of the language.
    Language,
    /// Print the script that completes commands in a shell.
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ReportFormat {
    /// For people.
    Human,
    /// For programs.
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum FigureFormat {
    /// For people.
    Human,
    /// For spreadsheets.
    Csv,
    /// For programs.
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Paper {
    /// 8 1/2 by 11 in.
    Letter,
    /// 210 by 297 mm.
    A4,
}
