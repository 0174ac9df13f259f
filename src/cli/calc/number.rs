//! Writes results: ten significant digits, a point for the decimal, nothing after the last digit that counts.

/// `0.2001967769`, `20`, `1.226994644e-05`: ten significant digits without trailing zeros.
pub(super) fn ten_digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let text = format!("{value:.9e}");
    let Some((digits, exponent)) = text.split_once('e') else {
        return text;
    };
    let exponent: i32 = exponent.parse().unwrap_or(0);
    if (-5..10).contains(&exponent) {
        let decimals = usize::try_from(9 - exponent).unwrap_or(0);
        return trimmed(&format!("{value:.decimals$}")).to_owned();
    }
    let sign = if exponent < 0 { '-' } else { '+' };
    format!("{}e{sign}{:02}", trimmed(digits), exponent.abs())
}

fn trimmed(text: &str) -> &str {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_digits_and_no_more() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (20.0, "20"),
            (-1.5, "-1.5"),
            (0.200_196_776_93, "0.2001967769"),
            (105_600.0, "105600"),
            (64_989.374_591_23, "64989.37459"),
            (9_999_999_999.6, "1e+10"),
            (1.226_994_644e-6, "1.226994644e-06"),
            (5e-6, "5e-06"),
            (0.000_753_238_386_14, "0.0007532383861"),
            (1e12, "1e+12"),
        ] {
            assert_eq!(ten_digits(value), text);
        }
    }
}
