//! What a misspelt word was probably meant to be.

use super::is_slip;

/// The word nearest to a misspelt one, if one is near enough.
pub fn nearest<'w>(word: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let word = word.to_lowercase();
    words
        .map(|known| (strsim::jaro_winkler(&word, &known.to_lowercase()), known))
        .filter(|(score, _)| *score >= 0.82)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, known)| known)
}

/// The word that a misspelt one certainly is: one slip away, and no other word as near.
pub(crate) fn certain_of<'w>(word: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let word = word.to_lowercase();
    let mut near: Vec<(usize, &str)> = words
        .filter(|known| is_slip(&word, &known.to_lowercase()))
        .map(|known| (strsim::osa_distance(&word, &known.to_lowercase()), known))
        .collect();
    near.sort_unstable();
    match near[..] {
        [(_, only)] => Some(only),
        [(first, nearest), (second, _), ..] if first < second => Some(nearest),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_misspelling_finds_its_word_and_a_stranger_none() {
        let keys = ["swim", "rest", "effort", "pattern"];
        assert_eq!(nearest("rset", keys.into_iter()), Some("rest"));
        assert_eq!(nearest("Swim", keys.into_iter()), Some("swim"));
        assert_eq!(nearest("colour", keys.into_iter()), None);
    }
}
