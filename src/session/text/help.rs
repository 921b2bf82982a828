//! Helps that say what to write, as a message has it.

use crate::finding::Finding;

/// Keys of a set or a part that are clauses in a message, each with what stands before the value.
const CLAUSES: [(&str, &str); 10] = [
    ("rest", "rest "),
    ("on", "on "),
    ("rest_after", "then rest "),
    ("effort", ""),
    ("pattern", ""),
    ("cue", ""),
    ("swim", ""),
    ("kind", ""),
    ("keep", "keep "),
    ("fixed", "fixed"),
];

/// Puts the helps of a finding in a message into its form, and takes out an edit that is TOML.
pub(crate) fn as_message(finding: &mut Finding) {
    finding.help.iter_mut().for_each(|help| *help = in_message(help));
    if finding.edit.as_ref().is_some_and(|edit| edit.text.contains(['"', '\'', '='])) {
        finding.edit = None;
    }
}

/// `write: rest = "20 s" or on = "1:45"` is `write: rest 20 s or on 1:45`.
fn in_message(help: &str) -> String {
    let mut out = String::new();
    let mut rest = help;
    while let Some(at) = rest.find(" = ") {
        let (before, behind) =
            (rest.get(..at).unwrap_or_default(), rest.get(at + 3..).unwrap_or_default());
        let key_at = before
            .rfind(|sign: char| !sign.is_alphanumeric() && sign != '_')
            .map_or(0, |at| at + 1);
        let key = before.get(key_at..).unwrap_or_default();
        out.push_str(before.get(..key_at).unwrap_or_default());
        let (value, tail) = match behind.strip_prefix('"').and_then(|inner| inner.split_once('"')) {
            Some((value, tail)) => (value, tail),
            None => {
                let end = behind.find([' ', ',', ';', '}']).unwrap_or(behind.len());
                behind.split_at(end)
            }
        };
        let clause = CLAUSES.iter().find(|(known, _)| *known == key);
        match clause {
            Some((_, "fixed")) => out.push_str("fixed"),
            Some((_, before)) => out.push_str(&format!("{before}{value}")),
            None => out.push_str(&format!("{}: {value}", key.replace('_', " "))),
        }
        rest = tail;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn helps_are_in_the_form_of_a_message() {
        for (toml, text) in [
            ("write: rest = \"20 s\" or on = \"1:45\"", "write: rest 20 s or on 1:45"),
            ("write in a main set: cue = \"long legs\"", "write in a main set: long legs"),
            ("keep one for tonight: focus = \"kick\"", "keep one for tonight: focus: kick"),
            ("write: effort = \"easy\", or name the goal", "write: easy, or name the goal"),
            ("set the pace", "set the pace"),
            ("write: fixed = true", "write: fixed"),
        ] {
            assert_eq!(in_message(toml), text);
        }
    }
}
