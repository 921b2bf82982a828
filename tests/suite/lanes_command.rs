//! `lanes` from the command line: the seating, and tables that a session file takes.

use crate::command::{GOOD, Workdir};

const ROSTER: &str = "name,pace,tests\nA. B.,2:05,\nC. D.,,200=2:50 400=6:00\nE. F.,2:10,\nG. H.,1:50,\nI. J.,3:00,\n";

/// By hand: paces 180, 130, 125, 110 and 95 s (200 in 2:50 and 400 in 6:00 are 1:35.00, by the
/// definition of the slope). Two to a lane at most, so one lane holds one: 180 | 130 125 | 110 95
/// differ by 15 s at most; wherever 180 is not alone it is beside 130, 50 s apart.
#[test]
fn a_roster_is_split_and_its_tables_are_read_back() {
    let workdir = Workdir::new().file("r.csv", ROSTER);
    let ran = workdir.run(&["lanes", "r.csv", "--lanes", "3", "--most", "2"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let seated: Vec<String> = ran.err.lines().take(3).map(str::to_owned).collect();
    assert_eq!(
        seated,
        [
            "Lane 1   pace  3:00   1 swimmer                I. J. 3:00",
            "Lane 2   pace  2:10   2 swimmers within 5 s    E. F. 2:10, A. B. 2:05",
            "Lane 3   pace  1:50   2 swimmers within 15 s   G. H. 1:50, C. D. 1:35",
        ]
    );
    assert!(!ran.out.contains("A. B."), "{}", ran.out);
    let session = GOOD.replacen("[[part]]", &format!("{}\n[[part]]", ran.out), 1);
    let shown = Workdir::new().file("s.toml", session).run(&["show", "--json", "s.toml"]);
    let shown: serde_json::Value = serde_json::from_str(&shown.out).expect("JSON");
    let lanes = shown["lanes"].as_array().expect("lanes");
    let names: Vec<_> = lanes.iter().map(|lane| lane["name"].as_str().expect("a name")).collect();
    assert_eq!(names, ["Lane 1", "Lane 2", "Lane 3"]);
}

/// 1:40 per 100 yd are 109.4 s for 100 m (the international yard is 0.9144 m): a roster of yards in a
/// pool of metres.
#[test]
fn a_unit_is_written_with_each_pace_or_missed_aloud() {
    let named = "name,age,pace per 100 yd\nAnn,41,1:40\n";
    let workdir = Workdir::new().file("r.csv", ROSTER).file("named.csv", named);
    let run =
        |more: &[&str]| workdir.run(&[&["lanes", "--lanes", "1", "--most", "9"], more].concat());
    let bare = run(&["r.csv"]);
    assert!(bare.err.contains("does not say whether its paces are per 100 m"), "{}", bare.err);
    let said = run(&["r.csv", "--unit", "yd"]);
    assert!(said.out.contains("pace     = \"3:00 per 100 yd\"\n"), "{}", said.out);
    assert!(!said.err.contains("does not say"), "{}", said.err);
    let named = run(&["named.csv"]);
    assert!(named.err.contains("left out is the column \"age\""), "{}", named.err);
    let session = GOOD.replacen("[[part]]", &format!("{}\n[[part]]", named.out), 1);
    let shown = Workdir::new().file("s.toml", session).run(&["show", "--json", "s.toml"]);
    let shown: serde_json::Value = serde_json::from_str(&shown.out).expect("JSON");
    let set = &shown["lanes"][0]["parts"][1]["sets"][0];
    // The demo's main set is of 50 free.
    assert_eq!((set["each"].as_u64(), set["swim_seconds"].as_u64()), (Some(50), Some(55)));
    let other = run(&["named.csv", "--unit", "m"]);
    assert_eq!(other.exit, 1);
    assert!(other.err.contains("per 100 yd, not per 100 m"), "{}", other.err);
}

#[test]
fn names_go_where_they_are_asked_to() {
    let workdir = Workdir::new().file("r.csv", ROSTER);
    let run =
        |names| workdir.run(&["lanes", "r.csv", "--lanes", "3", "--most", "2", "--names", names]);
    assert!(run("comments").out.contains("# E. F., A. B.\n[[lane]]\nname     = \"Lane 2\"\n"));
    assert!(run("cards").out.contains("name     = \"Lane 2: E. F., A. B.\"\n"));
    let long = "x".repeat(150);
    let long = format!("name,pace\n{long},2:00\n{long},2:00\n");
    let workdir = Workdir::new().file("r.csv", long);
    let ran = workdir.run(&["lanes", "r.csv", "--lanes", "1", "--most", "2", "--names", "cards"]);
    assert_eq!((ran.exit, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("a card takes at most 200"), "{}", ran.err);
}

#[test]
fn faults_of_a_roster_and_of_a_wish_are_told() {
    let workdir =
        Workdir::new().file("r.csv", "name,pace\nA,soon\n,2:00\n").file("good.csv", ROSTER);
    let ran = workdir.run(&["lanes", "r.csv", "--lanes", "2", "--most", "2"]);
    assert_eq!(ran.exit, 1);
    assert_eq!(
        ran.err,
        "r.csv, line 2: \"soon\" is no pace per 100; write minutes and seconds, such as 2:05\n\
         r.csv, line 3: a swimmer needs a name or initials\n"
    );
    let ran = workdir.run(&["lanes", "good.csv", "--lanes", "2", "--most", "2"]);
    assert_eq!(ran.exit, 2);
    assert_eq!(ran.err, "deckcard: 5 swimmers do not fit 2 lanes of 2: 1 too many\n");
}

/// Spreadsheets part columns by semicolons where the comma is the decimal sign.
#[test]
fn a_roster_may_be_parted_by_semicolons() {
    let commas = "name,pace\nA. B.,2:05\nC. D.,2:10\n";
    let lanes = |roster: &str| {
        let workdir = Workdir::new().file("r.csv", roster);
        let ran = workdir.run(&["lanes", "r.csv", "--lanes", "1", "--most", "2"]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        ran.out
    };
    let semicolons = lanes(&commas.replace(',', ";"));
    // A lane swims at the pace of its slowest.
    assert!(semicolons.contains("pace     = \"2:10\""), "{semicolons}");
    assert_eq!(semicolons, lanes(commas));
}

/// A spreadsheet saves what it calls "Unicode text" in UTF-16 with tabs.
#[test]
fn a_roster_of_a_spreadsheet_is_read_in_its_own_coding() {
    let text = "name\tpace\r\nJosé\t2:00\r\nBo\t2:10\r\n";
    let units = text.encode_utf16().flat_map(u16::to_le_bytes);
    let bytes: Vec<u8> = [0xff, 0xfe].into_iter().chain(units).collect();
    let workdir = Workdir::new().file("r.csv", bytes).file("l1.csv", b"name,pace\nJos\xe9,2:00\n");
    let ran = workdir.run(&["lanes", "r.csv", "--lanes", "1", "--most", "2"]);
    assert_eq!((ran.exit, ran.err.contains("José 2:00")), (0, true), "{}", ran.err);
    let ran = workdir.run(&["lanes", "l1.csv", "--lanes", "1", "--most", "2"]);
    assert_eq!((ran.exit, ran.err.contains("José 2:00")), (0, true), "{}", ran.err);
    assert!(ran.err.contains("look at the names (\"José\")"), "{}", ran.err);
}

/// Tables with such a name were written, and the session they were copied into did not print.
#[test]
fn a_name_that_no_card_can_show_is_refused_for_cards_alone() {
    let workdir = Workdir::new().file("r.csv", "name,pace\nAda \u{1f3ca},2:00\nBo,2:10\n");
    let run =
        |names| workdir.run(&["lanes", "r.csv", "--lanes", "1", "--most", "2", "--names", names]);
    let ran = run("cards");
    assert_eq!((ran.exit, ran.out.as_str()), (2, ""));
    let says = "no sign for \"\u{1f3ca}\" in the name \"Ada \u{1f3ca}\"";
    assert!(ran.err.contains(says), "{}", ran.err);
    assert_eq!(run("comments").exit, 0);
    assert_eq!(run("none").exit, 0);
}

#[test]
fn a_file_that_is_wrong_on_every_line_does_not_fill_the_screen() {
    let rows = "A,soon\n".repeat(100);
    let workdir = Workdir::new().file("r.csv", format!("name,pace\n{rows}"));
    let ran = workdir.run(&["lanes", "r.csv", "--lanes", "1", "--most", "2"]);
    assert_eq!(ran.exit, 1);
    assert_eq!(ran.err.lines().count(), 21, "{}", ran.err);
    assert!(ran.err.ends_with("r.csv: 80 more lines like these\n"), "{}", ran.err);
}
