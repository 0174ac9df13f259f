//! stub
use std::path::Path;
#[allow(missing_docs)]
pub struct CalcOutcome {
    pub out: String,
    pub err: String,
    pub code: u8,
}
#[allow(missing_docs)]
pub fn calc(_n: Option<&str>, _p: &[String], _t: Option<&Path>) -> CalcOutcome {
    CalcOutcome {
        out: String::new(),
        err: String::new(),
        code: 2,
    }
}
