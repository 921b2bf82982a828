//! New numbers in a swim line that keeps its spelling.

use crate::check::CheckedSet;
use crate::measure::{Distance, Unit};
use crate::session::swim::{Asked, Course, Differ, Legs, Swim};

/// The line with the numbers of `cut`.
///
/// Spaces, the sign between the numbers and the words stay. A line that does not read back
/// as it should is chalked anew instead.
pub(super) fn rechalked(line: &str, cut: &CheckedSet) -> String {
    let edited = edited(line, &cut.swim);
    let same = |line: &str| {
        let mut swim = Swim::parse(line).ok()?;
        swim.say_whole();
        (swim == cut.swim).then(|| line.to_owned())
    };
    edited.as_deref().and_then(same).unwrap_or_else(|| cut.swim.to_string())
}

/// The line with other numbers where it is one of repeats and a distance.
fn edited(line: &str, swim: &Swim) -> Option<String> {
    let Course::Each(asked) = swim.course else { return None };
    let plain = swim.legs == Legs::Whole && !matches!(swim.differ, Some(Differ::Runs(_)));
    let repeats = u32::try_from(swim.repeats).ok()?;
    plain.then(|| with_numbers(line, repeats, asked))?
}

fn with_numbers(line: &str, repeats: u32, asked: Asked) -> Option<String> {
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
    Some(match asked {
        Asked::Lengths(1) => format!("{lead}{head}1{space}length{tail}"),
        Asked::Lengths(counted) => format!("{lead}{head}{counted}{space}lengths{tail}"),
        Asked::HalfLength | Asked::Widths(_) => return None,
        Asked::Number(sixths, unit) => {
            let number = Distance::from_sixths(sixths, Unit::Metre).number_text();
            match unit.filter(|unit| Unit::from_word(word) != Some(*unit)) {
                Some(unit) => format!("{lead}{head}{number}{space}{unit}{tail}"),
                None => format!("{lead}{head}{number}{rest}"),
            }
        }
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
        let number = |whole: u64, unit| Asked::Number(whole * 6, unit);
        for (line, repeats, asked, expected) in [
            ("8 x 75 free", 9, number(75, None), "9 x 75 free"),
            ("4\u{d7}50  Freestyle", 6, number(50, None), "6\u{d7}50  Freestyle"),
            ("4*50", 1, number(50, None), "50"),
            (" 200 fr", 1, number(250, None), " 250 fr"),
            ("50 back", 2, number(50, None), "2 x 50 back"),
            ("2 x 2 lengths drill", 2, Asked::Lengths(1), "2 x 1 length drill"),
            ("6 x 66 2/3 free", 10, number(50, None), "10 x 50 free"),
            ("4 x 100m free", 5, number(100, Some(Unit::Yard)), "5 x 100yd free"),
            ("4 x 100 free", 5, number(100, None), "5 x 100 free"),
            ("4 x 100 free", 5, Asked::Number(400, None), "5 x 66 2/3 free"),
        ] {
            let edited = with_numbers(line, repeats, asked);
            assert_eq!(edited.as_deref(), Some(expected), "{line}");
        }
    }
}
