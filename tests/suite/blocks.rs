//! Blocks: weeks that add up, findings with their places, drafts that pass, calendars that
//! another parser reads.

use std::path::{Path, PathBuf};

use deckcard::block::{self, BlockIntake, CheckedBlock};
use deckcard::calendar;
use deckcard::source::Source;
use serde_json::Value;

use crate::command::{GOOD, Ran, Workdir};
use crate::invented::Dice;

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/blocks").join(name).join("block.toml")
}

const DEMOS: [&str; 3] = ["first-400", "fifteen-hundred", "masters-month"];

/// The good session with so many repeats of 50 m in its main set: 200 m more than those.
fn session(repeats: u32) -> String {
    GOOD.replace("8 x 50", &format!("{repeats} x 50"))
}

/// A folder with the good session in three lengths: 600, 650 and 700 m.
fn workdir() -> Workdir {
    Workdir::new()
        .file("600.toml", session(8))
        .file("650.toml", session(9).replace("9 x 50", "18 x 25"))
        .file("700.toml", session(10))
        .file("other.toml", session(8).replace("kick from the hip", "high elbow"))
}

fn weeks(lists: &[&str]) -> String {
    lists.iter().map(|list| format!("[[week]]\nsessions = [{list}]\n")).collect()
}

/// The ids and lines of what `block check` finds in a block file of the workdir.
fn told(workdir: Workdir, text: &str) -> (i32, Vec<String>) {
    let workdir = workdir.file("block.toml", text);
    let Ran { exit, err, .. } = workdir.run(&["block", "check", "--format", "short", "block.toml"]);
    let lines = err.lines().map(|line| {
        let rest = line.strip_prefix("block.toml:").unwrap_or(line);
        let (number, rest) = rest.split_once(':').unwrap_or(("?", rest));
        format!("{number} {}", rest.split(['[', ']']).nth(1).unwrap_or("?"))
    });
    (exit, lines.collect())
}

fn found(text: &str) -> Vec<String> {
    told(workdir(), text).1
}

fn checked(path: &Path) -> CheckedBlock {
    let intake = block::open(path).expect("a block opens");
    assert!(intake.findings.is_empty(), "{path:?}: {:?}", intake.findings);
    intake.checked.expect("a block without errors")
}

#[test]
fn faults_of_the_file_are_told_all_at_once_with_their_lines() {
    let text = "titel = \"T\"\ngoal = \"400\"\nbegins = \"2027-01-11\"\ndays = [\"tuesday\"]\nstarts = 19:15\n\
                [[week]]\nsessions = [\"600.toml\", 3]\n[[week]]\nsesions = []\n";
    let (exit, lines) = told(workdir(), text);
    assert_eq!(exit, 1);
    assert_eq!(
        lines,
        [
            "1 unknown-key",
            "2 unreadable-distance",
            "3 unreadable-date",
            "4 unknown-word",
            "5 needs-quotes",
            "7 wrong-kind",
            "9 unknown-key",
        ]
    );
}

#[test]
fn growth_is_held_against_the_last_full_week_exactly() {
    let block = |lists: &[&str]| format!("title = \"T\"\n{}", weeks(lists));
    // 600 m and 10 % are 660 m. 650 m is inside; 700 m is past it, and more than a lap past 600.
    assert_eq!(found(&block(&["\"600.toml\"", "\"650.toml\""])), [""; 0]);
    assert_eq!(found(&block(&["\"600.toml\"", "\"700.toml\""])), ["4 block-jump"]);
    // 1,200 and 10 % are 1,320 m; 1,300 m is inside.
    let two = block(&["\"600.toml\", \"other.toml\"", "\"700.toml\", \"other.toml\""]);
    assert_eq!(found(&two), [""; 0]);
    // The setting is the coach's.
    let wide = format!("growth = 17\n{}", block(&["\"600.toml\"", "\"700.toml\""]));
    assert_eq!(found(&wide), [""; 0]);
    // Behind an easier week the full one before it counts: 1,200, 600, 1,300 m.
    let eased =
        block(&["\"600.toml\", \"other.toml\"", "\"600.toml\"", "\"700.toml\", \"600.toml\""]);
    assert_eq!(found(&eased), [""; 0]);
    let allowed = "allow = [{ finding = \"block-jump\", because = \"a camp\" }]\n".to_owned()
        + &block(&["\"600.toml\"", "\"700.toml\""]);
    assert_eq!(found(&allowed), [""; 0]);
    let needless = "allow = [{ finding = \"block-jump\", because = \"a camp\" }]\n".to_owned()
        + &block(&["\"600.toml\"", "\"650.toml\""]);
    assert_eq!(found(&needless), ["1 needless-allow"]);
}

#[test]
fn sessions_in_two_pools_are_compared_in_true_metres() {
    // 600 m, then 700 yd = 640.08 m, 6.7 % more; then 800 yd = 731.52 m, 21.9 % more than 600.
    let yards = |repeats| session(repeats).replace("25 m", "25 yd");
    let workdir = || workdir().file("700yd.toml", yards(10)).file("800yd.toml", yards(12));
    let block = |name: &str| format!("title = \"T\"\n{}", weeks(&["\"600.toml\"", name]));
    assert_eq!(told(workdir(), &block("\"700yd.toml\"")).1, [""; 0]);
    assert_eq!(told(workdir(), &block("\"800yd.toml\"")).1, ["4 block-jump"]);
    let workdir = workdir().file("block.toml", block("\"700yd.toml\""));
    let ran = workdir.run(&["block", "show", "--json", "block.toml"]);
    let json: Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(json["unit"], Value::Null);
    assert_eq!(json["weeks"][1]["distance_m"], 640.08);
    // 40.08 / 600 = 6.68 %.
    assert_eq!(json["weeks"][1]["growth"], 6.7);
    assert_eq!(json["weeks"][1]["sessions"][0]["distance"], 700);
}

#[test]
fn the_longest_swim_may_grow_by_half() {
    let with = |each: &str| session(8).replace("8 x 50", each);
    let workdir =
        || workdir().file("two.toml", with("4 x 100")).file("whole.toml", with("2 x 200"));
    let block =
        |from: &str, list: &str| format!("title = \"T\"\nfrom = \"{from}\"\n{}", weeks(&[list]));
    // From 50 m, half as much again is 75 m: 100 m is a lap more and never a jump, 200 m is one.
    assert_eq!(told(workdir(), &block("50 m", "\"two.toml\"")).1, [""; 0]);
    assert_eq!(told(workdir(), &block("50 m", "\"whole.toml\"")).1, ["3 block-jump"]);
    // From 150 m it is 225 m.
    assert_eq!(told(workdir(), &block("150 m", "\"whole.toml\"")).1, [""; 0]);
    // Repeats without a rest are one swim: 4 x 50 m are 200 m.
    let workdir = workdir()
        .file("on.toml", with("4 x 50").replace("rest = \"20 s\", cue", "rest = \"0 s\", cue"));
    let workdir = workdir.file("block.toml", block("150 m", "\"on.toml\""));
    let ran = workdir.run(&["block", "show", "--json", "block.toml"]);
    let json: Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(json["weeks"][0]["longest"], 200);
}

#[test]
fn a_wish_is_booked_as_its_block_is_and_else_for_its_minutes() {
    for (head, booked_s) in [("booked = \"60 min\"\n", 3600), ("", 2400)] {
        let keys = "pool = \"25 m\"\nlevel = \"beginner\"\npace = \"2:40\"\n";
        let wish = "{ goal = \"technique\", focus = \"high elbow\", minutes = 40 }";
        let text = format!("title = \"T\"\n{keys}{head}{}", weeks(&[wish]));
        let workdir = workdir().file("block.toml", &text);
        let ran = workdir.run(&["block", "show", "--json", "block.toml"]);
        let json: Value = serde_json::from_str(&ran.out).expect("JSON");
        assert_eq!(json["weeks"][0]["sessions"][0]["booked_seconds"], booked_s, "{}", ran.err);
    }
}

#[test]
fn a_goal_out_of_reach_says_how_many_weeks_would_do() {
    // From 50 m to 400 m in a 25 m pool: by half, down to laps, one lap at least: 2, 4, 6, 8, 12,
    // 18 (at most 16) lengths: six full weeks, with the fourth easier seven.
    let text = format!(
        "title = \"T\"\nfrom = \"50 m\"\ngoal = \"400 m\"\n{}",
        weeks(&["\"600.toml\"", "\"other.toml\""])
    );
    let workdir = workdir().file("block.toml", &text);
    let ran = workdir.run(&["block", "check", "block.toml"]);
    assert_eq!(ran.exit, 0);
    assert!(ran.err.contains("goal-out-of-reach"), "{}", ran.err);
    assert!(ran.err.contains("7 weeks would do"), "{}", ran.err);
}

#[test]
fn easier_weeks_and_focuses_are_counted() {
    let block = |lists: &[&str]| format!("title = \"T\"\n{}", weeks(lists));
    let (same, other) = ("\"600.toml\"", "\"other.toml\"");
    assert_eq!(found(&block(&[same, other, same, other])), [""; 0]);
    assert_eq!(found(&block(&[same, other, same, other, same])), ["10 no-easier-week"]);
    assert_eq!(found(&block(&[same, same, same, same])), ["8 same-focus"]);
    // A week without sessions is an easier one, and does not change the focus.
    assert_eq!(found(&block(&[same, other, same, "", other, same, other])), [""; 0]);
    assert_eq!(found(&block(&[same, same, "", same, same])), ["10 same-focus"]);
    let marked = block(&[same, other]).replacen(
        "[[week]]\nsessions = [\"other",
        "[[week]]\neasier = true\nsessions = [\"other",
        1,
    );
    assert_eq!(found(&marked), ["5 not-easier"]);
}

#[test]
fn missing_and_failing_sessions_are_told_and_the_rest_is_still_checked() {
    let workdir = workdir().file("bad.toml", session(8).replace("8 x 50", "8 x 60"));
    let text = format!(
        "title = \"T\"\n{}",
        weeks(&["\"600.toml\"", "\"gone.toml\", \"bad.toml\"", "\"600.toml\"", "\"700.toml\""])
    );
    let workdir = workdir.file("block.toml", &text);
    let ran = workdir.run(&["block", "check", "--format", "short", "block.toml"]);
    assert_eq!(ran.exit, 1);
    for expected in [
        "block.toml:5:13: error[session-missing]",
        "block.toml:5:26: error[session-fails]",
        "block.toml:8:1: warning[block-jump]",
        "bad.toml:17:",
    ] {
        assert!(ran.err.contains(expected), "{expected}: {}", ran.err);
    }
    let ran = workdir.run(&["block", "show", "block.toml"]);
    assert_eq!((ran.exit, ran.out.as_str()), (1, ""));
}

#[test]
fn dates_follow_from_the_first_week_and_its_days() {
    let text = format!(
        "title = \"T\"\nbegins = 2027-12-27\ndays = [\"thu\", \"tue\"]\nstarts = \"19:15\"\n{}[[week]]\ndate = 2028-01-10\nsessions = [\"600.toml\"]\n",
        weeks(&["\"600.toml\", \"other.toml\""])
    );
    let workdir = workdir().file("block.toml", &text);
    let ran = workdir.run(&["block", "show", "--json", "block.toml"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, ""));
    let json: Value = serde_json::from_str(&ran.out).expect("JSON");
    // 27 December 2027 is a Monday (11 January 2027 is one, and 350 days are 50 weeks).
    let date =
        |week: usize, session: usize| json["weeks"][week]["sessions"][session]["date"].clone();
    assert_eq!(date(0, 0), "2027-12-28");
    assert_eq!(date(0, 1), "2027-12-30");
    assert_eq!(date(1, 0), "2028-01-11");
    assert_eq!(json["weeks"][1]["sessions"][0]["starts"], "19:15");
    let dated = |line: &str| {
        found(&format!(
            "title = \"T\"\nbegins = 2027-12-27\n[[week]]\nsessions = [\"600.toml\"]\n[[week]]\n{line}\n"
        ))
    };
    assert_eq!(dated("date = 2027-12-30\nsessions = [\"other.toml\"]"), ["6 block-dates"]);
    let past = "sessions = [{ file = \"other.toml\", date = 2028-01-10 }]";
    assert_eq!(dated(past), ["6 block-dates"]);
    assert_eq!(dated("sessions = [{ file = \"other.toml\", date = 2028-01-09 }]"), [""; 0]);
}

#[test]
fn a_wish_in_a_block_is_drafted() {
    let text = "title = \"T\"\npool = \"25 m\"\nlevel = \"beginner\"\npace = \"2:40\"\n[[week]]\n\
                sessions = [\"600.toml\", { goal = \"technique\", distance = \"600 m\" }]\n";
    let workdir = workdir().file("block.toml", text);
    let ran = workdir.run(&["block", "show", "--json", "block.toml"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, ""));
    let json: Value = serde_json::from_str(&ran.out).expect("JSON");
    let drafted = &json["weeks"][0]["sessions"][1];
    assert_eq!((&drafted["file"], &drafted["goal"]), (&Value::Null, &"technique".into()));
    let distance = drafted["distance"].as_u64().expect("a distance");
    assert!((550..=650).contains(&distance), "{distance}");
    // Without a pool there is nothing to draft for.
    let poolless = text.replace("pool = \"25 m\"\n", "");
    assert_eq!(found(&poolless), ["5 wish-unmet"]);
}

#[test]
fn a_block_among_session_files_is_checked_and_not_printed() {
    let text = format!("title = \"T\"\n{}", weeks(&["\"600.toml\"", "\"700.toml\""]));
    let workdir = Workdir::new()
        .file("d/600.toml", session(8))
        .file("d/700.toml", session(10))
        .file("d/block.toml", text);
    let ran = workdir.run(&["check", "--format", "short", "d"]);
    assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    assert!(ran.err.contains("block.toml:4:1: warning[block-jump]"), "{}", ran.err);
    let ran = workdir.run(&["print", "--as-written", "d"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(workdir.path("d/600-25m.pdf").exists() && !workdir.path("d/block-25m.pdf").exists());
}

#[test]
fn demo_blocks_are_silent_and_lead_to_their_goals() {
    for name in DEMOS {
        let block = checked(&demo(name));
        let goal = block.goal().as_ref().expect("a goal").value.true_length();
        let last = block.weeks().last().expect("a week");
        assert!(last.longest >= goal, "{name}");
        assert_eq!(
            block.club().as_ref().map(|club| club.name.value.as_str()),
            Some("Hernmarsh Lane Club")
        );
        for (week, session) in block.sessions() {
            let called = session.called(week);
            assert!(session.findings.is_empty(), "{name}, {called}: {:?}", session.findings);
            assert!(session.date.is_some() && session.starts.is_some(), "{name}, {called}");
        }
    }
}

#[test]
fn demo_blocks_are_as_drafted() {
    let demos: [(&str, &[&str]); 2] =
        [("first-400", FIRST_400), ("fifteen-hundred", FIFTEEN_HUNDRED)];
    for (name, arguments) in demos {
        let there = demo(name);
        let club = there.ancestors().nth(3).expect("the demos").join("sessions/club.toml");
        let club = std::fs::read_to_string(club).expect("the club file");
        let workdir = Workdir::new().file("sessions/club.toml", club).file("blocks/none", "");
        let folder = format!("blocks/{name}");
        let mut all = vec!["block", "draft", "-o", &folder];
        all.extend_from_slice(arguments);
        let ran = workdir.run(&all);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        for entry in std::fs::read_dir(workdir.path(&folder)).expect("the folder") {
            let path = entry.expect("an entry").path();
            let there = demo(name).with_file_name(path.file_name().expect("a name"));
            let drafted = std::fs::read_to_string(&path).expect("a drafted file");
            expect_test::expect_file![there].assert_eq(&drafted);
        }
    }
}

/// How the demo blocks were drafted; `UPDATE_EXPECT=1 cargo test` drafts them again.
const FIRST_400: &[&str] = &[
    "--from",
    "100 m",
    "--to",
    "400 m",
    "--weeks",
    "10",
    "--sessions",
    "2",
    "--level",
    "beginner",
    "--pool",
    "25 m",
    "--pace",
    "3:10",
    "--begins",
    "2027-01-11",
    "--days",
    "tue,thu",
    "--at",
    "19:15",
    "--club",
    "../../sessions/club.toml",
    "--gear",
    "board",
    "--title",
    "First 400: ten weeks to 400 m without a stop",
];
const FIFTEEN_HUNDRED: &[&str] = &[
    "--from",
    "600 m",
    "--to",
    "1500 m",
    "--weeks",
    "8",
    "--sessions",
    "2",
    "--level",
    "improver",
    "--pool",
    "25 m",
    "--pace",
    "2:10",
    "--begins",
    "2027-03-01",
    "--days",
    "mon,thu",
    "--at",
    "20:00",
    "--club",
    "../../sessions/club.toml",
    "--gear",
    "board,pull buoy",
    "--title",
    "Eight weeks to 1,500 m",
];

#[test]
fn drafted_blocks_pass_for_many_wishes() {
    for (from, to, weeks, sessions, level, pool, pace) in [
        ("200 m", "1500 m", "10", "2", "beginner", "25 m", "2:50"),
        ("1000 yd", "1650 yd", "4", "2", "advanced", "25 yd", "1:30"),
        ("200 m", "400 m", "5", "1", "improver", "50 m", "2:00"),
        ("200 m", "400 m", "5", "2", "beginner", "33 1/3 m", "3:00"),
    ] {
        let workdir = Workdir::new();
        let ran = workdir.run(&[
            "block",
            "draft",
            "--from",
            from,
            "--to",
            to,
            "--weeks",
            weeks,
            "--sessions",
            sessions,
            "--level",
            level,
            "--pool",
            pool,
            "--pace",
            pace,
            "-o",
            "b",
        ]);
        assert_eq!(ran.exit, 0, "{from} to {to}: {}", ran.err);
        let checked_all = workdir.run(&["block", "check", "b/block.toml"]);
        assert_eq!((checked_all.exit, checked_all.err.as_str()), (0, ""), "{from} to {to}");
        let files = workdir.run(&["check", "b"]);
        assert_eq!((files.exit, files.err.as_str()), (0, ""), "{from} to {to}");
        let block = checked(&workdir.path("b/block.toml"));
        let count = |text: &str| text.parse::<usize>().expect("a number");
        assert_eq!(block.weeks().len(), count(weeks));
        assert!(block.weeks().iter().all(|week| week.sessions.len() == count(sessions)));
        let goal = block.goal().as_ref().expect("a goal").value.true_length();
        assert!(block.weeks().last().expect("a week").longest >= goal, "{from} to {to}");
    }
}

#[test]
fn too_few_weeks_and_files_that_are_there_are_refused() {
    let workdir = Workdir::new();
    let draft = |weeks: &str, to: &str, more: &[&str]| {
        let mut all = vec![
            "block", "draft", "--from", "200 m", "--to", to, "--weeks", weeks, "--level",
            "beginner", "--pool", "25 m", "--pace", "2:50", "-o", "b",
        ];
        all.extend_from_slice(more);
        let ran = workdir.run(&all);
        (ran.exit, ran.err)
    };
    // The sum is beside the test of the progression.
    let few = "deckcard: 4 weeks are too few; 8 would do; these lead to 650 m\n";
    assert_eq!(draft("4", "1500 m", &[]), (2, few.into()));
    assert!(!workdir.path("b").exists());
    assert_eq!(draft("4", "150 m", &[]).0, 2);
    assert_eq!(draft("4", "400", &[]).0, 2);
    assert_eq!(draft("4", "400 m", &["--days", "tue"]).0, 2);
    let (exit, err) = draft("10", "1500 m", &["--minutes", "40"]);
    assert_eq!(exit, 2);
    assert!(err.contains("no session may take longer than 40 min"), "{err}");
    assert_eq!(draft("4", "400 m", &[]).0, 0);
    let (exit, err) = draft("4", "400 m", &[]);
    assert_eq!(exit, 2);
    assert!(err.contains("--force"), "{err}");
    assert_eq!(draft("4", "400 m", &["--force"]).0, 0);
}

#[test]
fn a_mile_and_1500_are_whole_lengths_of_each_pool() {
    // Back at the start wall: a mile of 1,760 yd = 1,609.344 m is 72 lengths of 25 yd, 66 of 25 m
    // and 34 of 50 m; 1,500 m are 60 lengths of 25 m (by definition).
    for (pool, to, lengths) in [
        ("25 yd", "a mile", 72),
        ("25 m", "a mile", 66),
        ("50 m", "a mile", 34),
        ("25 m", "1500 m", 60),
    ] {
        let workdir = Workdir::new();
        let ran = workdir.run(&[
            "block", "draft", "--from", "1000 m", "--to", to, "--weeks", "4", "--level",
            "advanced", "--pool", pool, "--pace", "1:40", "-o", "b",
        ]);
        assert_eq!(ran.exit, 0, "{pool}: {}", ran.err);
        let block = checked(&workdir.path("b/block.toml"));
        let (_, last) = block.sessions().last().expect("a session");
        let pool = last.ready.written.plan.pool();
        assert_eq!(pool.lengths(last.longest).map(|lengths| lengths.get()), Some(lengths));
    }
}

/// A property of an event as the other parser reads it.
fn value(event: &ical::parser::ical::component::IcalEvent, name: &str) -> String {
    let found = event.properties.iter().find(|property| property.name == name);
    found.and_then(|property| property.value.clone()).unwrap_or_default()
}

fn events(ics: &str) -> Vec<ical::parser::ical::component::IcalEvent> {
    let mut calendars = ical::IcalParser::new(ics.as_bytes());
    let calendar = calendars.next().expect("a calendar").expect("a calendar that parses");
    assert!(calendars.next().is_none());
    calendar.events
}

#[test]
fn a_calendar_is_read_back_by_another_parser() {
    for name in DEMOS {
        let block = checked(&demo(name));
        let ics = calendar::ics(&block);
        assert_eq!(ics, calendar::ics(&block), "the same block, other bytes");
        // RFC 5545, 3.1: lines end in CRLF and hold at most 75 octets.
        assert!(ics.split("\r\n").all(|line| line.len() <= 75 && !line.contains('\n')));
        let events = events(&ics);
        assert_eq!(events.len(), block.sessions().count());
        for ((_, session), event) in block.sessions().zip(&events) {
            let day = session.date.expect("a day").to_string().replace('-', "");
            let starts = session.starts.expect("a start");
            let clock = format!("{starts}:00").replace(':', "");
            assert_eq!(value(event, "DTSTART"), format!("{day}T{clock}"));
            let ends = starts.after(session.booked.expect("a booking"));
            assert_eq!(
                value(event, "DTEND"),
                format!("{day}T{}00", ends.to_string().replace(':', ""))
            );
            assert_eq!(value(event, "DTSTAMP"), format!("{day}T000000Z"));
            let title = &session.ready.session.title().value;
            assert!(value(event, "SUMMARY").replace('\\', "").starts_with(title.as_str()));
        }
        let mut uids: Vec<String> = events.iter().map(|event| value(event, "UID")).collect();
        uids.sort();
        uids.dedup();
        assert_eq!(uids.len(), events.len());
    }
}

#[test]
fn a_calendar_escapes_folds_and_leaves_out_what_has_no_day() {
    let title = "Early, \\ late; \u{e9}\u{e9}\u{e9}\u{e9}\u{e9}\u{e9}\u{e9}\u{e9}\u{e9}\u{e9} and a title so long that its line has to be folded twice, at the least once";
    let long = session(8).replace("Legs that steer", &title.replace('\\', "\\\\"));
    let text = "title = \"One, two; three\"\nbegins = 2027-01-11\n[[week]]\n\
                sessions = [{ file = \"long.toml\", date = 2027-01-12 }, \"600.toml\"]\n";
    let workdir = workdir().file("long.toml", long).file("block.toml", text);
    let block = checked(&workdir.path("block.toml"));
    assert_eq!(calendar::undated(&block), 1);
    let ics = calendar::ics(&block);
    assert!(ics.split("\r\n").all(|line| line.len() <= 75), "{ics}");
    let events = events(&ics);
    assert_eq!(events.len(), 1);
    // RFC 5545, 3.3.11: backslash, comma and semicolon carry a backslash. No start is known, so
    // the event is of the whole day (3.6.1).
    let escaped = title.replace('\\', "\\\\").replace(',', "\\,").replace(';', "\\;");
    assert_eq!(value(&events[0], "SUMMARY"), format!("{escaped}\\, 600 m"));
    assert_eq!(value(&events[0], "DTSTART"), "20270112");
    assert!(ics.contains("X-WR-CALNAME:One\\, two\\; three\r\n"), "{ics}");
}

#[test]
fn the_schema_of_blocks_holds_the_demos_and_refuses_the_broken() {
    let ran = Workdir::new().run(&["block", "schema"]);
    assert_eq!(ran.exit, 0);
    let schema: Value = serde_json::from_str(&ran.out).expect("JSON");
    let validator = jsonschema::draft7::new(&schema).expect("a schema");
    let valid = |path: &Path| {
        let text = std::fs::read_to_string(path).expect("a block");
        validator.is_valid(&crate::schema::as_json(&text))
    };
    for name in DEMOS {
        assert!(valid(&demo(name)), "{name}");
    }
    let bad = |text: &str| !validator.is_valid(&crate::schema::as_json(text));
    assert!(bad("title = \"T\"\n"));
    assert!(bad("title = \"T\"\n[[week]]\nsesions = []\n"));
    assert!(bad("title = \"T\"\n[[week]]\nsessions = [3]\n"));
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/blocks/block.schema.json");
    expect_test::expect_file![file].assert_eq(&ran.out);
}

#[test]
fn mutated_blocks_are_taken_calmly() {
    let path = demo("masters-month");
    let text = std::fs::read_to_string(&path).expect("a block");
    let mut dice = Dice::new(2027);
    let inside = |intake: &BlockIntake| {
        let labels = intake.findings.iter().flat_map(|finding| &finding.labels);
        labels.into_iter().all(|label| {
            intake.sources[label.place.file.0].text().get(label.place.span()).is_some()
        })
    };
    for _ in 0..150 {
        let mut characters: Vec<char> = text.chars().collect();
        for _ in 0..=dice.roll(3) {
            let at = usize::try_from(dice.roll(characters.len() as u64)).expect("an index");
            match dice.roll(3) {
                0 => drop(characters.remove(at)),
                1 => characters.insert(at, dice.pick(&['"', '[', ']', '{', '=', '9', '\n', '-'])),
                _ => characters[at] = dice.pick(&['0', '5', 'x', ' ', '"']),
            }
        }
        let mutated: String = characters.into_iter().collect();
        let intake = block::take(Source::new(path.display().to_string(), mutated.as_str()));
        assert!(inside(&intake), "{mutated}");
        deckcard::finding::human::render(&intake.findings, &intake.sources, false);
    }
}

#[test]
fn one_week_of_one_session_is_counted_in_the_singular() {
    let workdir =
        workdir().file("block.toml", format!("title = \"One\"\n{}", weeks(&["\"600.toml\""])));
    let shown = workdir.run(&["block", "show", "block.toml"]);
    assert_eq!(shown.exit, 0, "{}", shown.err);
    assert_eq!(shown.out.lines().nth(1), Some("1 week, 1 session"), "{}", shown.out);
}
