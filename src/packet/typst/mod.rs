//! The page program `typst`: found, its version checked, run apart from everything, or installed.
//!
//! Nothing here knows what a page says; text reaches the program as a file of values.

mod find;
mod install;
mod run;
mod trouble;

pub use find::{Search, Typst, VERSION, find};
pub use install::{INSTALL_NEEDS, Need, install_typst};
pub use run::{Paper, TIME_LIMIT, print_pdf};
pub use trouble::TypstTrouble;
