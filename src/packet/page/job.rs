//! What every page says of the job.

use crate::packet::text::Text;

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// Year.
    pub year: i32,
    /// Month from 1.
    pub month: u32,
    /// Day from 1.
    pub day: u32,
}

impl Date {
    /// Reads `2026-11-20`; none when there is no such day.
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.trim().split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        if parts.next().is_some() || [year, month, day].iter().any(|p| p.starts_with('+')) {
            return None;
        }
        let date = Self {
            year: year.parse().ok().filter(|y| (1900..=9999).contains(y))?,
            month: month.parse().ok()?,
            day: day.parse().ok()?,
        };
        (date.day >= 1 && date.day <= date.month_days()?).then_some(date)
    }

    const fn month_days(self) -> Option<u32> {
        let leap = self.year % 4 == 0 && (self.year % 100 != 0 || self.year % 400 == 0);
        match self.month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
            4 | 6 | 9 | 11 => Some(30),
            2 => Some(if leap { 29 } else { 28 }),
            _ => None,
        }
    }

    /// Seconds from the start of 1970 to the noon of the day, in universal time: the same calendar day in most places.
    pub fn timestamp(self) -> i64 {
        // Days from the civil date, counted in years that begin in March (the leap day comes last).
        let (year, month) = (i64::from(self.year), i64::from(self.month));
        let year = if month <= 2 { year - 1 } else { year };
        let from_march = (month + 9) % 12;
        let day_of_year = (153 * from_march + 2) / 5 + i64::from(self.day) - 1;
        let era = year.div_euclid(400);
        let year_of_era = year.rem_euclid(400);
        let day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
        (era * 146_097 + day_of_era - 719_468) * 86_400 + 43_200
    }
}

/// Facts of the job that stand on every page.
#[derive(Clone, Debug, PartialEq)]
pub struct JobFacts {
    /// Its name.
    pub title: Text,
    /// Its number.
    pub number: Text,
    /// The letter of the latest revision.
    pub revision: Text,
    /// The day of the latest revision, in its words.
    pub revised: Text,
    /// The same, for the time stamp of the printed file.
    pub date: Option<Date>,
    /// Letter and date of every revision, the latest among them.
    pub revisions: Vec<(Text, Text)>,
    /// Error findings left, when the packet is a draft.
    pub draft: Option<usize>,
}

impl JobFacts {
    /// Visits each text.
    pub fn each_text(&self, visit: &mut dyn FnMut(&Text)) {
        for text in [&self.title, &self.number, &self.revision, &self.revised] {
            visit(text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_count_from_1970() {
        // Values of `date -u -d "… 12:00" +%s`.
        for (text, seconds) in [
            ("1970-01-01", 43_200),
            ("2000-02-29", 951_825_600),
            ("2026-11-20", 1_795_176_000),
            ("1999-12-31", 946_641_600),
        ] {
            let date = Date::parse(text).expect("a day");
            assert_eq!(date.timestamp(), seconds, "{text}");
        }
    }

    #[test]
    fn days_that_do_not_exist_are_refused() {
        for text in [
            "2026-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "2026-1",
            "+2026-01-01",
            "x",
        ] {
            assert_eq!(Date::parse(text), None, "{text}");
        }
    }
}
