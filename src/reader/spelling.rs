//! What a misspelt word was probably meant to be.

/// The word nearest to a misspelt one, if one is near enough.
pub fn nearest<'w>(word: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let word = word.to_lowercase();
    words
        .map(|known| (strsim::jaro_winkler(&word, &known.to_lowercase()), known))
        .filter(|(score, _)| *score >= 0.82)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, known)| known)
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
