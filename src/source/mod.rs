//! Files, places in them, and the one finding type with its human and JSON faces.
//!
//! Everything that has a complaint makes a [`Finding`]; nothing here knows what a job is.

mod files;
mod finding;
mod human;
mod json;
mod kind;
mod reader;
mod span;

pub use files::{Files, Position, SourceFile};
pub use finding::{Counts, Edit, Finding, Label, Needed, Relation, Scalar, Shown};
pub use human::{Face, render};
pub use json::{edit_json, failed_json, finding_json, label_json};
pub use kind::{Kind, Severity, Why};
pub use reader::{Disk, Memory, Overlay, ReadError, Reader};
pub use span::{FileId, Span, Spanned};
