//! Text as it is written into a TOML file.

use crate::finding::visible;

/// `text` as a basic string with its quotes, whatever is in it.
///
/// Quotes and backslashes are escaped, control characters and what else steers a terminal or the order
/// of reading written as `\u0007` (TOML 1.1, "String").
/// Reading the string back gives `text` again.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for letter in text.chars() {
        match letter {
            '"' | '\\' => quoted.extend(['\\', letter]),
            letter if visible::steers(letter) => {
                quoted.push_str(&format!("\\u{:04X}", u32::from(letter)));
            }
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}

/// A list of texts on one line: `["board", "fins"]`.
pub(crate) fn quoted_list<'t>(texts: impl IntoIterator<Item = &'t str>) -> String {
    let quoted: Vec<String> = texts.into_iter().map(quoted).collect();
    format!("[{}]", quoted.join(", "))
}

#[cfg(test)]
mod tests {
    use toml::de::DeTable;

    use super::*;

    #[test]
    fn what_is_quoted_reads_back_as_it_was() {
        assert_eq!(quoted("a \"b\" \\ c"), r#""a \"b\" \\ c""#);
        assert_eq!(quoted("two\nlines\u{7}"), r#""two\u000Alines\u0007""#);
        for text in
            ["", "plain", "\u{0}\u{1f}\u{7f}\u{85}", "tab\there", "é ⅔ \u{1f30a}", "'''", "\\u0041"]
        {
            let file = format!("text = {}\n", quoted(text));
            let tree = DeTable::parse(&file).expect("TOML");
            let value = tree.get_ref().get("text").and_then(|value| value.get_ref().as_str());
            assert_eq!(value, Some(text), "{file}");
        }
    }
}
