//! The edition of the electrical code that a job stands under, and its sections by edition.

use crate::model::Model;
use crate::physics::conductor::Edition;

/// The edition that the job names; 2020 where it names none.
pub fn edition_of(model: &Model) -> Edition {
    let year = model.job.codes.nec.as_ref();
    year.and_then(|nec| nec.value.parse().ok())
        .map_or_else(Edition::default, Edition::new)
}

/// A section as the job's edition numbers it: that of 2017, of 2020 and of 2023.
pub(super) fn nec(edition: Edition, [nec17, nec20, nec23]: [&str; 3]) -> String {
    let section = match edition.year() {
        ..=2017 => nec17,
        2018..=2020 => nec20,
        _ => nec23,
    };
    format!("NEC {}, {section}", edition.year())
}
