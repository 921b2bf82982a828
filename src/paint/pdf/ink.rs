//! Numbers and glyphs as a content stream writes them.

use crate::drawing::Ink;

/// Hundredths of a point: 3.5 micrometres, finer than any office printer.
pub(super) fn hundredths(points: f32) -> i32 {
    // Saturates far outside any paper.
    (points * 100.0).round() as i32
}

/// The same to the nearest tenth of a point: 35 micrometres, less than a dot of a printer with
/// 600 to the inch. Positions are written no finer.
pub(super) fn tenths(points: f32) -> i32 {
    ((points * 10.0).round() as i32).saturating_mul(10)
}

/// Adds `value` hundredths and a space: "12.3 ".
pub(super) fn number(out: &mut Vec<u8>, value: i32) {
    decimal(out, i64::from(value), 2);
    out.push(b' ');
}

/// Adds a number of `places` decimals, without zeros at its end.
pub(super) fn decimal(out: &mut Vec<u8>, value: i64, places: u32) {
    let scale = 10_u64.saturating_pow(places);
    let (before, mut after) = (value.unsigned_abs() / scale, value.unsigned_abs() % scale);
    if value < 0 {
        out.push(b'-');
    }
    if before > 0 || after == 0 {
        digits(out, before);
    }
    if after > 0 {
        out.push(b'.');
    }
    let mut place = scale;
    while after > 0 {
        place /= 10;
        out.push(b'0' + (after / place) as u8);
        after %= place;
    }
}

fn digits(out: &mut Vec<u8>, mut number: u64) {
    // The longest u64 has 20 figures.
    let mut all = [0; 20];
    let mut first = all.len();
    loop {
        first -= 1;
        all[first] = b'0' + (number % 10) as u8;
        number /= 10;
        if number == 0 {
            break;
        }
    }
    out.extend_from_slice(&all[first..]);
}

/// Adds a whole number.
pub(super) fn whole(out: &mut Vec<u8>, value: usize) {
    digits(out, value as u64);
}

/// Adds a grey and the operator that sets it.
pub(super) fn grey(out: &mut Vec<u8>, ink: Ink, operator: &[u8]) {
    decimal(out, (i64::from(ink.0) * 1000 + 127) / 255, 3);
    out.extend(operator);
}

/// Adds a byte inside a string in parentheses.
pub(super) fn escaped(out: &mut Vec<u8>, byte: u8) {
    match byte {
        b'(' | b')' | b'\\' => out.extend([b'\\', byte]),
        // Readers make a bare one a line feed.
        b'\r' => out.extend(b"\\r"),
        _ => out.push(byte),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_as_short_as_they_can_be() {
        let cases = [
            (0, "0 "),
            (5, ".05 "),
            (50, ".5 "),
            (100, "1 "),
            (-1_230, "-12.3 "),
            (12_345, "123.45 "),
            (-7, "-.07 "),
            (1_000_000, "10000 "),
            (i32::MIN, "-21474836.48 "),
        ];
        for (value, text) in cases {
            let mut out = Vec::new();
            number(&mut out, value);
            assert_eq!(String::from_utf8_lossy(&out), text);
        }
    }

    #[test]
    fn strings_are_escaped() {
        let mut out = Vec::new();
        b"\0(\r\\\0A".iter().for_each(|byte| escaped(&mut out, *byte));
        assert_eq!(out, b"\0\\(\\r\\\\\0A");
    }
}
