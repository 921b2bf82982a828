//! New numbers in a swim line that keeps its spelling.

use crate::check::CheckedSet;
use crate::measure::{Lengths, Pool, Unit};
use crate::session::chalk::Chalked;
use crate::session::{Asked, Swim};

/// The line with the repeats and lengths of `cut`, for `pool`.
///
/// Spaces, the sign between the numbers and the words stay. A line that does not read back
/// as it should is chalked anew instead.
pub(super) fn rechalked(line: &str, cut: &CheckedSet, pool: Pool) -> String {
    let distance = pool.distance(cut.each);
    let edited = edited(line, cut.repeats, cut.each, pool);
    let right = edited.as_deref().and_then(|line| Swim::parse(line).ok()).is_some_and(|swim| {
        let asked = match swim.asked {
            Asked::Lengths(lengths) => lengths == u64::from(cut.each.get()),
            Asked::Number(thirds, unit) => {
                thirds == distance.thirds() && unit.is_none_or(|unit| unit == pool.unit())
            }
        };
        asked
            && swim.repeats == u64::from(cut.repeats)
            && (swim.stroke, swim.mode) == (cut.stroke, cut.mode)
    });
    match edited {
        Some(line) if right => line,
        _ => {
            let (stroke, mode) = (cut.stroke, cut.mode);
            let number = distance.number_text();
            Chalked { repeats: cut.repeats, number: &number, stroke, mode }.to_string()
        }
    }
}

fn edited(line: &str, repeats: u32, each: Lengths, pool: Pool) -> Option<String> {
    let lead = line.get(..line.len() - line.trim_start().len())?;
    let (_, after) = number(line.trim_start())?;
    let sign = times_sign(after);
    let (head, rest) = match sign {
        Some(sign) => {
            let rest = number(after.get(sign.len()..)?)?.1;
            (if repeats == 1 { String::new() } else { format!("{repeats}{sign}") }, rest)
        }
        None if repeats == 1 => (String::new(), after),
        None => (format!("{repeats} x "), after),
    };
    let rest = without_third(rest);
    let word = rest.trim_start();
    let end = word.find(char::is_whitespace).unwrap_or(word.len());
    let (word, tail) = word.split_at(end);
    let space = rest.get(..rest.len() - rest.trim_start().len())?;
    let number = pool.distance(each).number_text();
    let counted = each.get();
    Some(match word.to_lowercase().as_str() {
        "length" | "lengths" if counted == 1 => format!("{lead}{head}{counted}{space}length{tail}"),
        "length" | "lengths" => format!("{lead}{head}{counted}{space}lengths{tail}"),
        _ if Unit::from_word(word).is_some_and(|unit| unit != pool.unit()) => {
            format!("{lead}{head}{number}{space}{}{tail}", pool.unit())
        }
        _ => format!("{lead}{head}{number}{rest}"),
    })
}

/// The digits at the start, and what follows them.
fn number(text: &str) -> Option<(&str, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    (end > 0).then(|| text.split_at(end))
}

/// A times sign with the spaces around it.
fn times_sign(text: &str) -> Option<&str> {
    let sign = text.trim_start();
    let rest = sign.strip_prefix(['x', 'X', '\u{d7}', '*'])?.trim_start();
    text.get(..text.len() - rest.len())
}

/// What follows a third after a number.
fn without_third(text: &str) -> &str {
    let after = text.trim_start();
    let thirds = ["1/3", "2/3", "\u{2153}", "\u{2154}"];
    thirds.iter().find_map(|third| after.strip_prefix(third)).unwrap_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_keeps_its_spelling() {
        let pool = |text: &str| text.parse::<Pool>().expect("a pool");
        for (line, repeats, each, in_pool, expected) in [
            ("8 x 75 free", 9, 3, "25 yd", "9 x 75 free"),
            ("4\u{d7}50  Freestyle", 6, 2, "25 m", "6\u{d7}50  Freestyle"),
            ("4*50", 1, 2, "25 m", "50"),
            (" 200 fr", 1, 10, "25 yd", " 250 fr"),
            ("50 back", 2, 2, "25 yd", "2 x 50 back"),
            ("2 x 2 lengths drill", 2, 1, "25 yd", "2 x 1 length drill"),
            ("6 x 66 2/3 free", 10, 2, "25 yd", "10 x 50 free"),
            ("4 x 100m free", 5, 4, "25 yd", "5 x 100yd free"),
            ("4 x 100 free", 5, 3, "33 1/3 m", "5 x 100 free"),
            ("4 x 100 free", 5, 2, "33 1/3 m", "5 x 66 2/3 free"),
        ] {
            let edited = edited(line, repeats, Lengths::new(each), pool(in_pool));
            assert_eq!(edited.as_deref(), Some(expected), "{line}");
        }
    }
}
