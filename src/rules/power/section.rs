//! Where a rule of the electrical code stands in each edition.

use crate::rules::Job;

/// A section by edition of NFPA 70.
pub(super) struct Section {
    /// In the edition of 2017.
    pub(super) nec17: &'static str,
    /// In the edition of 2020.
    pub(super) nec20: &'static str,
    /// In the edition of 2023.
    pub(super) nec23: &'static str,
}

impl Section {
    /// Ampacity of a cable with its corrections.
    pub(super) const AMPACITY: Self = Self {
        nec17: "440.35; Tables 310.15(B)(16) and 310.15(B)(2)(a); 334.80",
        nec20: "440.35; Tables 310.16 and 310.15(B)(1); 334.80",
        nec23: "440.35; Tables 310.16 and 310.15(B)(1)(1); 334.80",
    };
    /// Voltage drop.
    pub(super) const VOLTAGE_DROP: Self = Self {
        nec17: "210.19(A)(1), informational note 4",
        nec20: "210.19, informational note",
        nec23: "210.19, informational note",
    };
    /// Control wires apart from power.
    pub(super) const APART: Self = Self {
        nec17: "725.136",
        nec20: "725.136",
        nec23: "725.136; Article 722",
    };
    /// Wiring in ducts and plenums.
    pub(super) const IN_AIR: Self = Self {
        nec17: "300.22(B), (C)(1); 725.135(B), (C)",
        nec20: "300.22(B), (C)(1); 725.135(B), (C)",
        nec23: "300.22(B), (C)(1); 722.135(B)",
    };
    /// Small conductors.
    pub(super) const SMALL_CONDUCTORS: Self = Self {
        nec17: "240.4(D); 240.4(B)",
        nec20: "240.4(D); 240.4(B)",
        nec23: "240.4(D); 240.4(B)",
    };
    /// Standard ratings.
    pub(super) const RATINGS: Self = Self {
        nec17: "240.6(A)",
        nec20: "240.6(A)",
        nec23: "Table 240.6(A)",
    };

    /// The section in the job's edition; 2020 where it names none.
    pub(super) fn of(&self, job: &Job<'_>) -> String {
        let year = job
            .model
            .job
            .codes
            .nec
            .as_ref()
            .map_or("2020", |nec| nec.value.as_str());
        let section = match year {
            "2017" => self.nec17,
            "2023" => self.nec23,
            _ => self.nec20,
        };
        format!("NEC {year}, {section}")
    }
}
