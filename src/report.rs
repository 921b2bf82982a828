//! A session told on a screen: the table a coach reads, and the JSON a script reads.

pub mod json;
pub mod table;

/// A number with a comma between thousands: "1,500". Fractions stay behind.
pub fn with_commas(number: &str) -> String {
    let digits = number.find(|c: char| !c.is_ascii_digit()).unwrap_or(number.len());
    let mut out = String::new();
    for (index, digit) in number.chars().enumerate() {
        if index > 0 && index < digits && (digits - index).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::with_commas;

    #[test]
    fn thousands_are_parted() {
        for (plain, parted) in
            [("400", "400"), ("1500", "1,500"), ("100000", "100,000"), ("1066 2/3", "1,066 2/3")]
        {
            assert_eq!(with_commas(plain), parted);
        }
    }
}
