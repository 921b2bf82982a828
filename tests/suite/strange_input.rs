//! Input that is no session: a clear error or a finding, never a panic or a long wait.

use crate::command::{GOOD, LIMITED, Workdir};

#[test]
fn strange_files_are_told_and_end_with_one_or_two() {
    let deep = format!("title = {}", "[".repeat(20_000));
    let tables = format!("title = {}", "{a=".repeat(20_000));
    let dotted = format!("{}a = 1", "a.".repeat(20_000));
    let large = format!("title = \"{}\"", "x".repeat(2 * 1024 * 1024));
    let digits = GOOD.replace("8 x 50", &format!("{} x 50", "9".repeat(400)));
    let rounds = GOOD.replace(
        "{ swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\" }",
        "{ rounds = 99999999999999999999, sets = [{ swim = \"50\", rest = \"5 s\" }] }",
    );
    for (name, bytes, id) in [
        ("not UTF-8", b"title = \"\xff\"".to_vec(), "not-utf8"),
        ("NUL", GOOD.replace("Legs", "L\0gs").into_bytes(), "unprintable"),
        ("nested lists", deep.into_bytes(), "bad-toml"),
        ("nested tables", tables.into_bytes(), "bad-toml"),
        ("dotted keys", dotted.into_bytes(), "bad-toml"),
        ("2 MiB", large.into_bytes(), "file-too-large"),
        ("a number of 400 digits", digits.into_bytes(), "unreadable-swim"),
        ("rounds beyond any integer", rounds.into_bytes(), "over-limit"),
        ("nothing", Vec::new(), "missing-key"),
        ("a picture", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec(), "not-utf8"),
    ] {
        let ran =
            Workdir::new().file("s.toml", bytes).run(&["check", "--format", "short", "s.toml"]);
        assert_eq!(ran.exit, 1, "{name}: {}", ran.err);
        assert!(ran.err.contains(&format!("error[{id}]")), "{name}: {}", ran.err);
        let human = Workdir::new().run(&["check", "s.toml"]);
        assert_eq!(human.exit, 2, "a file that is not there");
    }
}

#[test]
fn a_wrong_path_and_an_empty_folder_are_refused() {
    let workdir = Workdir::new().file("empty/readme.txt", "no sessions");
    let ran = workdir.run(&["check", "nowhere.toml"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("cannot read nowhere.toml"), "{}", ran.err);
    let ran = workdir.run(&["check", "empty"]);
    assert_eq!((ran.exit, ran.err.as_str()), (2, "deckcard: no session files in empty\n"));
    assert_eq!(workdir.run(&["chekc"]).exit, 2);
    assert_eq!(workdir.run(&["--version"]).exit, 0);
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_are_read() {
    let text = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    assert_eq!(Workdir::new().file("s.toml", text).run(&["check", "s.toml"]).exit, 0);
}

/// Marks on one letter were printed over the rows above and below, in every text of a card. A letter
/// with two, of which one is its own, is a letter of living languages.
#[test]
fn a_stack_of_marks_is_refused_in_every_text_of_a_card() {
    let stack = format!("e{}", "\u{301}".repeat(199 / 2));
    let lane = "\n[[lane]]\nname = \"Lane 1 X\"\npace = \"2:30\"\n\n[[part]]";
    let with_lane = GOOD.replacen("[[part]]", lane, 1);
    let club = "name = \"Hernmarsh X\"\nnotice = \"Doors X\"\n";
    let all = format!("club = \"club.toml\"\n{with_lane}")
        .replace("Legs that steer", "Legs X")
        .replace("cue = \"", "cue = \"X ");
    for (letter, exit) in [(stack.as_str(), 1), ("ọ\u{300}", 0)] {
        let workdir = Workdir::new()
            .file("club.toml", club.replace('X', letter))
            .file("s.toml", all.replace('X', letter));
        let ran = workdir.run(&["check", "--format", "short", "s.toml"]);
        assert_eq!(ran.exit, exit, "{}", ran.err);
        let found = ran.err.matches("99 marks on \"é\"").count();
        let texts = all.matches('X').count() + club.matches('X').count();
        assert_eq!(found, if exit == 1 { texts } else { 0 }, "{}", ran.err);
    }
}

/// Files below the limit of bytes that are nothing but one fault, over and over.
#[cfg(unix)]
#[test]
fn a_file_of_one_fault_over_and_over_is_answered_soon_and_briefly() {
    let lines =
        |line: &dyn Fn(usize) -> String, count: usize| -> String { (0..count).map(line).collect() };
    for (what, text) in [
        ("keys", lines(&|n| format!("k{n} = 1\n"), 20_000)),
        ("strokes", lines(&|_| "// x\n".to_owned(), 20_000)),
        ("no commas", format!("a = [{}]\n", "\"x\" ".repeat(200_000))),
        ("signs", "a=".repeat(400_000)),
        ("words", format!("[{}\n", "x y,".repeat(200_000))),
    ] {
        for format in ["human", "short", "json"] {
            let workdir = Workdir::new().file("s.toml", &text);
            let begun = std::time::Instant::now();
            let ran =
                workdir.shell(&format!("{LIMITED} \"$DECKCARD\" check s.toml --format {format}"));
            assert_eq!(ran.exit, 1, "{what} {format}: {:?}", begun.elapsed());
            assert!(ran.err.len() < 300_000, "{what} {format}: {} bytes", ran.err.len());
        }
    }
    let text = lines(&|n| format!("k{n} = 1\n"), 20_000);
    let workdir = Workdir::new().file("s.toml", &text);
    // By hand: 100 of 20,000 are listed, a line each.
    let ran = workdir.run(&["check", "s.toml", "--format", "short"]);
    let last =
        "s.toml:101:1: error[unknown-key]: 19,900 more of this kind are not listed, from here on";
    assert!(ran.err.lines().any(|line| line == last), "{}", ran.err);
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_back_to_itself_is_said_in_words() {
    let workdir = Workdir::new();
    std::os::unix::fs::symlink("s.toml", workdir.path("s.toml")).expect("a link");
    let ran = workdir.run(&["check", "s.toml"]);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(ran.err.contains("it is a link that leads back to itself"), "{}", ran.err);
}
