//! Whole numbers as they are said: in words, or as two to choose from. No value of a file is read by
//! these; they are for the help, and for what cues name.

/// Numbers in words, from 1 on.
pub(crate) const CARDINALS: [&str; 20] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
];

/// "eighteen" in figures; "twice" and "3x" as the rounds they are.
pub(super) fn in_words(text: &str) -> Option<String> {
    let text = text.trim().to_lowercase();
    let text = text.trim_end_matches(|c: char| c.is_whitespace() || c == '.');
    let number = match text {
        "once" => Some(1),
        "twice" => Some(2),
        _ => CARDINALS.iter().position(|word| *word == text).map(|at| at + 1),
    };
    let times = ["x", "times", "rounds"].iter().find_map(|sign| text.strip_suffix(sign));
    let figures = times.map(str::trim).filter(|figures| is_whole(figures));
    number.map(|number| number.to_string()).or_else(|| figures.map(str::to_owned))
}

/// The two numbers of "2-3" and "2 to 3".
pub(super) fn range(text: &str) -> Option<(String, String)> {
    let text = text.replace(['\u{2013}', '\u{2014}'], "-").replace(" to ", "-");
    let text = text.replace(" or ", "-");
    let (least, most) = text.split_once('-')?;
    let (least, most) = (least.trim(), most.trim());
    (is_whole(least) && is_whole(most)).then(|| (least.to_owned(), most.to_owned()))
}

fn is_whole(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_as_they_are_said() {
        for (text, number) in [("two", "2"), ("Eighteen", "18"), ("3x", "3"), ("twice", "2")] {
            assert_eq!(in_words(text).as_deref(), Some(number), "{text}");
        }
        assert_eq!(in_words("some"), None);
        assert_eq!(range("2-3"), Some(("2".to_owned(), "3".to_owned())));
        assert_eq!(range("two-three"), None);
    }
}
