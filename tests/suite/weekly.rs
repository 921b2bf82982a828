//! Sessions as clubs swim them week by week: no cue is needed to say what a set is made of.

use serde_json::Value;

use crate::command::{GOOD, Workdir};

/// The sessions of tests/weekly with their texts.
fn sessions() -> Vec<(String, String)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/weekly");
    let files = std::fs::read_dir(folder).expect("the weekly sessions");
    let mut all: Vec<(String, String)> = files
        .map(|file| {
            let path = file.expect("a file").path();
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            (name, std::fs::read_to_string(&path).expect("a session"))
        })
        .collect();
    all.sort();
    all
}

/// Metres or yards of each, added up by hand, with "about" where a swim is timed.
const TOTALS: [(&str, &str); 12] = [
    // 200 + 120 | 480 + 240 + 400 | 160
    ("back-to-the-wall.toml", "1600"),
    // 10 min at 99 s: 606, 24 lengths, + 300 | 900 + 500 + 3 x (2 min at 144 s: 83, 3 lengths) | 200
    ("clock-night.toml", "2725 about"),
    // 400 + 400 | 800 + 800 + 200 | 200
    ("fifty-metre-sunday.toml", "2800"),
    // 100 | 75 + 100 + 200 + 100 | 50; the talk is no swim
    ("first-lengths.toml", "625"),
    // 300 + 200 | 200 | 3 x 400 + 400 | 200
    ("monday-legs.toml", "2500"),
    // 300 + 200 | 300 | 20 min at 105 s per 100 yd: 1142, 45 lengths, + 600 | 200
    ("open-water-eve.toml", "2725 about"),
    // 300 + 300 + 100 | 3 x 150 + 400 + 60 | 300
    ("sprint-thursday.toml", "1910"),
    // 5 min at 125 x 1.1 = 137.5 s per 100: 218, 8 lengths, + 200 | 800 + 300 | 200
    ("steps-and-back.toml", "1700 about"),
    // 200 + 300 | 600 + 600 + 200 | 200
    ("thirds-of-a-hundred.toml", "2100"),
    // 200 + 200 | 400 + 400 in lane 1 + 400 | 100
    ("three-lanes-one-board.toml", "1700"),
    // 400 + 400 + 200 | 3 x 400 + 600 | 300
    ("tuesday-medley.toml", "3100"),
    // 400 + 300 + 100 | 900 + 100 + 500 | 400 | 200
    ("yards-at-dawn.toml", "2900"),
];

#[test]
fn no_cue_says_what_a_set_is_made_of() {
    let all = sessions();
    assert_eq!(all.len(), TOTALS.len());
    for ((name, text), (known, total)) in all.iter().zip(TOTALS) {
        assert_eq!(name, known);
        let workdir = Workdir::new().file(name, text);
        let shown = workdir.run(&["show", "--json", name]);
        assert_eq!(shown.exit, 0, "{name}: {}", shown.err);
        let json: Value = serde_json::from_str(&shown.out).expect("JSON");
        let about = shown.out.contains("\"about\": true");
        let is = format!("{}{}", json["distance"], if about { " about" } else { "" });
        assert_eq!(is, total, "{name}");
        let findings = json["findings"].as_array().expect("findings");
        let kept = findings.iter().any(|finding| finding["id"] == "words-kept-as-cue");
        assert!(!kept, "{name}: {findings:?}");
        // An experienced coach would change one thing in it, or nothing.
        let warnings = findings.iter().filter(|finding| finding["severity"] == "warning").count();
        assert!(warnings <= 1, "{name}: {findings:?}");
        let ran = workdir.run(&["print", name, "-o", "cards"]);
        assert_eq!(ran.exit, 0, "{name}: {}", ran.err);
        assert!(ran.err.contains("wrote"), "{name}: {}", ran.err);
    }
}

/// The parts of a session whose main set is one plain string.
fn main_set(line: &str) -> Value {
    let start = GOOD.find("  { swim = \"8 x 50 free\"").expect("the main set");
    let end = start + GOOD[start..].find('\n').expect("its end");
    let text =
        format!("{}  \"8 x 50 free, rest 20 s\",\n  \"{line}\",{}", &GOOD[..start], &GOOD[end..]);
    let ran = Workdir::new().file("s.toml", text).run(&["show", "--json", "s.toml"]);
    assert_eq!(ran.exit, 0, "{line}: {}", ran.err);
    let json: Value = serde_json::from_str(&ran.out).expect("JSON");
    json["parts"][1].clone()
}

#[test]
fn a_time_with_words_is_no_swim_and_words_alone_are_a_remark() {
    for (line, what, seconds) in [
        ("5 min: how to push off and glide", "how to push off and glide", 300),
        ("10 min turns at the wall, in pairs", "turns at the wall, in pairs", 600),
        ("3 min stretching", "stretching", 180),
    ] {
        let part = main_set(line);
        assert_eq!(part["activities"][0]["what"], what, "{line}");
        assert_eq!(part["activities"][0]["seconds"], seconds, "{line}");
        assert_eq!(part["sets"].as_array().map(Vec::len), Some(1), "{line}");
    }
    for line in ["5 min free", "10 min easy", "5 min choice: loose", "3 x 2 min kick, rest 20 s"] {
        let part = main_set(line);
        assert_eq!(part["activities"], Value::Null, "{line}");
        assert_eq!(part["sets"].as_array().map(Vec::len), Some(2), "{line}");
    }
    let part = main_set("Everybody starts on the middle wall");
    assert_eq!(part["remarks"][0], "Everybody starts on the middle wall");
}
