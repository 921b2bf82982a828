//! Words that coaches write for one of the trade's English ones: other names, and the words of
//! other languages. Nothing is read by these; they are offered where a word is not known.
//!
//! Sources: common practice for the English names; for the others any dictionary, and the national
//! wordings of the strokes in World Aquatics' member languages.

/// What was written, in small letters, and the word that is meant.
const OTHER_WORDS: &[(&str, &str)] = &[
    // Parts, in English.
    ("main", "main set"),
    ("mainset", "main set"),
    ("swimdown", "cool-down"),
    ("swim down", "cool-down"),
    ("swim-down", "cool-down"),
    ("warm down", "cool-down"),
    ("warm-down", "cool-down"),
    ("warmdown", "cool-down"),
    ("warming up", "warm-up"),
    ("preset", "pre-set"),
    ("wu", "warm-up"),
    ("w/u", "warm-up"),
    ("w-u", "warm-up"),
    ("ms", "main set"),
    ("m/s", "main set"),
    ("cd", "cool-down"),
    ("c/d", "cool-down"),
    ("wd", "cool-down"),
    ("sd", "cool-down"),
    ("s/d", "cool-down"),
    ("build", "pre-set"),
    // Levels and efforts, in English: the coach's judgement.
    ("intermediate", "improver"),
    ("novice", "beginner"),
    ("expert", "advanced"),
    ("moderate", "steady"),
    ("mod", "steady"),
    ("medium", "steady"),
    ("fast", "hard"),
    ("max", "sprint"),
    ("all out", "sprint"),
    // German.
    ("kraul", "free"),
    ("freistil", "free"),
    ("r\u{fc}cken", "back"),
    ("ruecken", "back"),
    ("brust", "breast"),
    ("schmetterling", "fly"),
    ("delfin", "fly"),
    ("delphin", "fly"),
    ("lagen", "IM"),
    ("beliebig", "choice"),
    ("beine", "kick"),
    ("arme", "pull"),
    ("einschwimmen", "warm-up"),
    ("hauptserie", "main set"),
    ("ausschwimmen", "cool-down"),
    ("locker", "easy"),
    // Spanish.
    ("crol", "free"),
    ("libre", "free"),
    ("espalda", "back"),
    ("braza", "breast"),
    ("pecho", "breast"),
    ("mariposa", "fly"),
    ("estilos", "IM"),
    ("pies", "kick"),
    ("piernas", "kick"),
    ("brazos", "pull"),
    ("calentamiento", "warm-up"),
    ("serie principal", "main set"),
    ("vuelta a la calma", "cool-down"),
    ("suave", "easy"),
    // French.
    ("nage libre", "free"),
    ("dos", "back"),
    ("brasse", "breast"),
    ("papillon", "fly"),
    ("4 nages", "IM"),
    ("quatre nages", "IM"),
    ("au choix", "choice"),
    ("jambes", "kick"),
    ("bras", "pull"),
    ("\u{e9}ducatif", "drill"),
    ("\u{e9}chauffement", "warm-up"),
    ("s\u{e9}rie principale", "main set"),
    ("retour au calme", "cool-down"),
    ("souple", "easy"),
];

/// Names of keys that are written for another. Common practice, no source.
const OTHER_KEYS: &[(&str, &str)] = &[
    ("que", "cue"),
    ("cues", "cue"),
    ("name", "title"),
    ("heading", "title"),
    ("type", "kind"),
    ("section", "kind"),
    ("aim", "focus"),
    ("theme", "focus"),
    ("day", "date"),
    ("when", "starts"),
    ("time", "starts"),
    ("duration", "booked"),
    ("length", "booked"),
    ("minutes", "booked"),
    ("course", "pool"),
    ("equipment", "gear"),
    ("kit", "gear"),
    ("intensity", "effort"),
    ("distance", "swim"),
    ("set", "swim"),
    ("interval", "on"),
    ("sendoff", "on"),
    ("send_off", "on"),
    ("send-off", "on"),
    ("leave", "on"),
    ("repeat", "rounds"),
    ("repeats", "rounds"),
    ("times", "rounds"),
];

/// The key that another name is written for.
pub(crate) fn key_of_name(name: &str) -> Option<&'static str> {
    let name = name.trim().to_lowercase();
    OTHER_KEYS.iter().find(|(other, _)| *other == name).map(|(_, key)| *key)
}

/// The English word of the trade that another word stands for.
pub(crate) fn in_words_of_the_trade(word: &str) -> Option<&'static str> {
    let word = word.trim().to_lowercase();
    OTHER_WORDS.iter().find(|(other, _)| *other == word).map(|(_, meant)| *meant)
}
