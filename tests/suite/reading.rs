//! What is told of a file at fault: every fault at once, each with its line.

use crate::command::{GOOD, Workdir};

/// The ids and lines of the findings of a file, as `check --format short` tells them.
fn told(text: &str) -> (i32, Vec<String>) {
    let ran = Workdir::new().file("s.toml", text).run(&["check", "--format", "short", "s.toml"]);
    let lines = ran.err.lines().map(|line| {
        let rest = line.strip_prefix("s.toml:").unwrap_or(line);
        let (line_number, rest) = rest.split_once(':').unwrap_or(("?", rest));
        let id = rest.split(['[', ']']).nth(1).unwrap_or("?");
        format!("{line_number} {id}")
    });
    (ran.exit, lines.collect())
}

/// Breaks one thing of the good session.
fn broken(from: &str, to: &str) -> (i32, Vec<String>) {
    assert!(GOOD.contains(from), "{from}");
    told(&GOOD.replacen(from, to, 1))
}

fn one(line: usize, id: &str) -> (i32, Vec<String>) {
    (1, vec![format!("{line} {id}")])
}

#[test]
fn a_good_session_is_silent() {
    assert_eq!(told(GOOD), (0, vec![]));
}

#[test]
fn three_faults_are_three_findings_with_their_lines() {
    let text = GOOD
        .replace("level = \"beginner\"", "level = \"beginer\"")
        .replace("8 x 50 free", "8 x 60 free")
        .replace("2 x 50 back\", rest = \"20 s\"", "2 x 50 back\", rest = 1:30");
    let expected = ["3 unknown-word", "17 not-whole-lengths", "23 needs-quotes"];
    assert_eq!(told(&text), (1, expected.map(String::from).to_vec()));
}

#[test]
fn a_goal_that_is_none_names_those_there_are() {
    let checked = |word: &str| {
        let text = GOOD.replace("goal = \"technique\"", &format!("goal = \"{word}\""));
        assert!(text.contains(word), "{text}");
        let ran = Workdir::new().file("s.toml", text).run(&["check", "s.toml"]);
        (ran.exit, ran.err)
    };
    let all = "goal is one of: ease, technique, endurance, threshold, speed, medley, recovery";
    for word in ["water time", "strokes"] {
        let (exit, err) = checked(word);
        assert!(exit == 1 && err.contains("[unknown-word]") && err.contains(all), "{err}");
    }
    // Near enough to one of them.
    for (word, meant) in [("recover", "recovery"), ("treshold", "threshold"), ("medly", "medley")] {
        let (exit, err) = checked(word);
        assert!(exit == 1 && err.contains(&format!("write: goal = \"{meant}\"")), "{err}");
    }
}

#[test]
fn each_fault_of_reading_has_its_own_finding() {
    for (from, to, line, id) in [
        ("pace = \"2:30\"", "pace = 2:30", 6, "needs-quotes"),
        ("pace = \"2:30\"", "pace = 02:30", 6, "needs-quotes"),
        ("pace = \"2:30\"", "pace = 150", 6, "wrong-kind"),
        ("pace = \"2:30\"", "pace = \"2:75\"", 6, "unreadable-time"),
        ("pace = \"2:30\"", "pace = \"1 s\"", 6, "over-limit"),
        ("pace = \"2:30\"", "pase = \"2:30\"", 6, "unknown-key"),
        ("pace = \"2:30\"\n", "", 1, "missing-key"),
        ("pool = \"25 m\"", "pool = \"25\"", 2, "unreadable-pool"),
        ("pool = \"25 m\"", "pool = \"33.33 m\"", 2, "unreadable-pool"),
        ("pool = \"25 m\"", "pool = \"25 m\"\nalso = \"25 m\"", 3, "same-pool"),
        ("title = \"Legs that steer\"", "title = \"\"", 1, "empty-text"),
        ("title = \"Legs that steer\"", "title = \"a\\nb\"", 1, "unprintable"),
        ("title = \"Legs that steer\"", "title = Legs that steer", 1, "needs-quotes"),
        ("title = \"Legs that steer\"", "title = \"a\"\ndate = 24/11/2026", 2, "unreadable-date"),
        ("title = \"Legs that steer\"", "title = \"a\"\nbooked = \"1:30\"", 2, "unreadable-time"),
        ("title = \"Legs that steer\"", "title = \"a\"\nstarts = \"25:00\"", 2, "unreadable-time"),
        ("title = \"Legs that steer\"", "title = \"a\"\ncolour = \"red\"", 2, "unknown-key"),
        (
            "title = \"Legs that steer\"",
            "title = \"a\"\nclub = \"none.toml\"",
            2,
            "club-unreadable",
        ),
        ("8 x 50 free", "8 by 50 free", 17, "unreadable-swim"),
        ("8 x 50 free", "8 x 50 yd free", 17, "unit-disagrees"),
        ("8 x 50 free", "8 x 60 free", 17, "not-whole-lengths"),
        ("8 x 50 free", "8000 x 50 free", 17, "over-limit"),
        ("8 x 50 free", "8 x 50000 free", 17, "over-limit"),
        ("8 x 50 free", "0 x 50 free", 17, "over-limit"),
        ("8 x 50 free\", rest", "8 x 50 free\", rset", 17, "unknown-key"),
        (
            "8 x 50 free\", rest = \"20 s\"",
            "8 x 50 free\", on = \"1:00\"",
            17,
            "impossible-send-off",
        ),
        ("8 x 50 free\", rest", "8 x 50 free\", on = \"1:45\", rest", 17, "rest-and-send-off"),
        ("kind = \"main set\"", "kind = \"pre-set\"", 21, "no-main-set"),
        ("kind = \"cool-down\"", "kind = \"warm-up\"", 21, "part-order"),
        (
            "  { swim = \"2 x 50 back\", rest = \"20 s\", effort = \"easy\" },\n",
            "",
            21,
            "empty-part",
        ),
        ("cue = \"loose ankles\" },\n]", "cue = \"loose ankles\" },\n", 11, "bad-toml"),
    ] {
        let (exit, found) = broken(from, to);
        assert_eq!(exit, 1, "{to}");
        assert_eq!(found.first(), one(line, id).1.first(), "{to}: {found:?}");
        assert_eq!(found.len(), 1, "{to}: {found:?}");
    }
}

#[test]
fn findings_come_in_three_formats() {
    let text = GOOD.replace("rest = \"20 s\", cue = \"kick", "rest = 1:30, cue = \"kick");
    let workdir = Workdir::new().file("s.toml", text);
    let short = workdir.run(&["check", "--format", "short", "s.toml"]);
    assert_eq!(short.err, "s.toml:17:34: error[needs-quotes]: rest needs quotes\n");
    let human = workdir.run(&["check", "s.toml"]);
    for piece in ["error[needs-quotes]", "s.toml:17:34", "write: rest = \"1:30\""] {
        assert!(human.err.contains(piece), "{piece} in {}", human.err);
    }
    let json = workdir.run(&["check", "--format", "json", "s.toml"]);
    let array: serde_json::Value = serde_json::from_str(&json.err).expect("one JSON array");
    let finding = &array[0];
    assert_eq!(finding["id"], "needs-quotes");
    assert_eq!((&finding["line"], &finding["column"]), (&17.into(), &34.into()));
    assert_eq!(finding["edits"][0]["replacement"], "\"1:30\"");
    assert_eq!(array.as_array().map(Vec::len), Some(1));
}

#[test]
fn speed_factors_are_read_exactly_and_the_session_wins() {
    // By hand: 50 m back at 2:30 per 100 = 75 s; x 1.25 = 93.75, so 94 s; easy left at 1.1
    // gives 103.125, so 103 s.
    let text = GOOD.replace(
        "pace = \"2:30\"\n",
        "pace = \"2:30\"\nclub = \"club.toml\"\nspeed = { back = 1.25 }\n",
    );
    let club = "name = \"Hernmarsh\"\nchangeover = \"45 s\"\n[speed]\nback = 1.5\nkick = 1.7\n";
    let ran = Workdir::new()
        .file("s.toml", text)
        .file("club.toml", club)
        .run(&["show", "--json", "s.toml"]);
    let shown: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(shown["parts"][2]["sets"][0]["swim_seconds"], 103);
    assert_eq!(shown["changeover_seconds"], 45);
}

#[test]
fn rounds_count_once_as_a_line_and_every_round_in_distance() {
    // Sokolovas, energy-zone examples: 2 x (3 x 300 + 3 x 200) = 3000.
    let text = GOOD.replace(
        "  { swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\" },\n",
        "  { rounds = 2, sets = [\n    { swim = \"3 x 300 free\", rest = \"20 s\" },\n    { swim = \"3 x 200 free\", rest = \"20 s\" },\n  ] },\n",
    );
    let ran = Workdir::new().file("s.toml", text).run(&["show", "--json", "s.toml"]);
    let shown: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    let main = &shown["parts"][1];
    assert_eq!(main["distance"], 3000);
    assert_eq!(main["sets"][0]["rounds"], 2);
    assert_eq!(main["sets"][0]["distance"], 1800);
    // By hand: 6 x (450 + 20) + 6 x (300 + 20) = 4740 s; warm-up 4 x (41 + 20) = 244 s
    // (37.5 x 1.1 = 41.25); cool-down 2 x (89 + 20) = 218 s (75 x 1.08 x 1.1 = 89.1);
    // two changeovers of 30 s.
    assert_eq!(main["seconds"], 4740);
    assert_eq!(shown["seconds"], 4740 + 244 + 218 + 60);
}

#[test]
fn rounds_stand_two_deep_and_no_deeper() {
    let nest = |inner: &str| {
        GOOD.replace(
            "{ swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\" }",
            inner,
        )
    };
    let set = "{ swim = \"50 free\", rest = \"20 s\" }";
    let two = format!("{{ rounds = 2, sets = [{{ rounds = 3, sets = [{set}] }}] }}");
    assert_eq!(told(&nest(&two)).0, 0);
    let three = format!("{{ rounds = 2, sets = [{two}] }}");
    assert_eq!(told(&nest(&three)), one(17, "over-limit"));
}

#[test]
fn an_empty_file_is_one_finding() {
    for text in ["", "\n  \n", "# only a comment\n"] {
        let (exit, found) = told(text);
        assert_eq!((exit, found.len()), (1, 1), "{text:?}: {found:?}");
        assert_eq!(found.first(), one(1, "missing-key").1.first(), "{text:?}");
    }
}

/// A pool, a pace or a kind of part that cannot be read hides no other fault: here a set with
/// both rest and send-off, further down.
#[test]
fn reading_goes_on_past_what_everything_hangs_on() {
    let both = GOOD.replace("cue = \"kick from the hip\"", "on = \"3:00\"");
    for (from, to, line, id) in [
        ("\"25 m\"", "\"25\"", 2, "unreadable-pool"),
        ("\"2:30\"", "\"soon\"", 6, "unreadable-time"),
        ("\"main set\"", "\"mian sett\"", 15, "unknown-word"),
    ] {
        let (exit, found) = told(&both.replace(from, to));
        assert_eq!(exit, 1, "{to}");
        let expected = [one(line, id).1, one(17, "rest-and-send-off").1].concat();
        assert_eq!(found, expected, "{to}");
    }
}

#[test]
fn a_missing_part_is_offered_under_its_heading() {
    let ran = Workdir::new().file("s.toml", "title = \"T\"\n").run(&["check", "s.toml"]);
    assert!(ran.err.contains("[[part]]\n"), "{}", ran.err);
    assert!(ran.err.contains("kind = \"main set\"\n"), "{}", ran.err);
}
