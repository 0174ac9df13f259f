//! What a command gives back: texts for both streams and the exit code.

/// The result of a command.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// For standard output.
    pub out: String,
    /// For standard error.
    pub err: String,
    /// 0 done, 1 findings left, 2 could not run, 3 packet without PDF.
    pub code: u8,
}

impl Outcome {
    /// A command that could not run.
    pub fn refused(message: impl Into<String>) -> Self {
        Self {
            out: String::new(),
            err: format!("{}\n", message.into()),
            code: 2,
        }
    }
}
