//! The comments of a source, to be written before what they stood before.

use crate::source::Source;

/// Comments in the order of the source, each with the byte it begins at.
pub(super) struct Comments {
    waiting: std::collections::VecDeque<(usize, String)>,
}

impl Comments {
    /// Those behind `#` in TOML or behind `//` in a message.
    pub fn of(source: &Source) -> Self {
        let is_message = crate::session::is_message(source);
        let mut waiting = std::collections::VecDeque::new();
        let mut base = 0;
        for line in source.text().split_inclusive('\n') {
            let start = base;
            base += line.len();
            let at = match is_message {
                true => line
                    .trim_start()
                    .starts_with("//")
                    .then(|| line.len() - line.trim_start().len()),
                false => hash(line),
            };
            let Some(at) = at else { continue };
            let words = line.get(at..).unwrap_or_default().trim_start_matches(['#', '/']).trim();
            if !words.is_empty() && !words.starts_with(":schema") {
                waiting.push_back((start + at, words.to_owned()));
            }
        }
        Self { waiting }
    }

    /// Those that stand before a byte of the source, each written once.
    pub fn before(&mut self, byte: usize) -> Vec<String> {
        let count = self.waiting.iter().take_while(|(at, _)| *at < byte).count();
        self.waiting.drain(..count).map(|(_, words)| words).collect()
    }

    /// All that are left.
    pub fn rest(&mut self) -> Vec<String> {
        self.before(usize::MAX)
    }
}

/// The first `#` of a line that stands in no text.
fn hash(line: &str) -> Option<usize> {
    let mut quote = None;
    let mut escaped = false;
    for (at, sign) in line.char_indices() {
        match (quote, sign) {
            (None, '#') => return Some(at),
            (None, '"' | '\'') => quote = Some(sign),
            (Some('"'), '\\') if !escaped => {
                escaped = true;
                continue;
            }
            (Some(open), sign) if sign == open && !escaped => quote = None,
            _ => {}
        }
        escaped = false;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_are_told_from_texts() {
        let text = "# a head\ntitle = \"not # this\" # but this\npool = '25 m'\n#\n# the end\n";
        let mut comments = Comments::of(&Source::new("x.toml", text));
        assert_eq!(comments.before(20), ["a head"]);
        assert_eq!(comments.rest(), ["but this", "the end"]);
        let mut comments = Comments::of(&Source::new("x.txt", "// mine\n8 x 50 // not mine\n"));
        assert_eq!(comments.rest(), ["mine"]);
    }
}
