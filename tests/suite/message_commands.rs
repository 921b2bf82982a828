//! Messages on the command line: every command that takes a session takes one.

use crate::command::Workdir;

const TONIGHT: &str = include_str!("../../demo-data/messages/tonight.txt");
const DAWN: &str = include_str!("../../demo-data/messages/dawn-in-yards.txt");

#[test]
fn a_message_is_checked_shown_printed_and_looked_at() {
    let workdir = Workdir::new().file("tonight.txt", TONIGHT);
    let ran = workdir.run(&["check", "tonight.txt"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, "1 note; check --notes shows it\n"));
    let shown = workdir.run(&["show", "tonight.txt"]).out;
    // What the coach wrote, beside what it became, above the sums.
    assert!(
        shown.contains(
            "4x25 kick with board r20                      4 x 25 kick, rest 20 s, using board"
        ),
        "{shown}"
    );
    assert!(shown.contains("total                                           1,300 m"), "{shown}");
    let ran = workdir.run(&["print", "tonight.txt"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(workdir.path("tonight-25m.pdf").exists() && workdir.path("tonight-25yd.pdf").exists());
    assert_eq!(workdir.run(&["preview", "tonight.txt"]).exit, 0);
    assert!(workdir.path("tonight-25m.png").exists());
}

#[test]
fn the_same_message_gives_the_same_bytes() {
    let workdir = Workdir::new().file("a.txt", TONIGHT);
    let printed = || {
        assert_eq!(workdir.run(&["print", "a.txt"]).exit, 0);
        std::fs::read(workdir.path("a-25m.pdf")).expect("a card")
    };
    assert_eq!(printed(), printed());
}

#[test]
fn a_message_is_fitted_as_a_message() {
    let workdir = Workdir::new().file("tonight.txt", TONIGHT);
    let ran = workdir.run(&["fit", "tonight.txt", "--distance", "-200 m"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let fitted = std::fs::read_to_string(workdir.path("tonight-1100m.txt")).expect("a message");
    assert!(fitted.starts_with("Evening all, 25m pool tonight"), "{fitted}");
    let shown = workdir.run(&["show", "tonight-1100m.txt"]).out;
    assert!(shown.contains("total                                           1,100 m"), "{shown}");
    let ran = workdir.run(&["fit", "tonight.txt", "--pool", "25 yd", "-o", "yards.txt"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let shown = workdir.run(&["show", "yards.txt"]).out;
    assert!(shown.contains("25 yd pool") && shown.contains("1,400 yd"), "{shown}");
}

#[test]
fn a_session_is_written_in_its_other_form() {
    let workdir = Workdir::new().file("tonight.txt", TONIGHT);
    let toml = workdir.run(&["write", "tonight.txt"]).out;
    assert!(toml.starts_with("title = \"Legs that steer\"\ndate = 2027-01-12\n"), "{toml}");
    let workdir = workdir.file("tonight.toml", &toml);
    let totals = |file: &str| {
        let shown = workdir.run(&["show", file]).out;
        shown
            .lines()
            .filter(|line| line.starts_with("total"))
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    assert_eq!(totals("tonight.txt"), totals("tonight.toml"));
    let text = workdir.run(&["write", "tonight.toml"]).out;
    assert!(
        text.starts_with("Legs that steer\n25 m, improver, 45 min from 19:15, 12 Jan 2027\n"),
        "{text}"
    );
    let ran = workdir.run(&["write", "tonight.toml", "-o", "tonight.txt"]);
    assert!(ran.exit == 2 && ran.err.contains("--force writes over it"), "{}", ran.err);
}

#[test]
fn one_version_is_written_as_a_message() {
    let lanes = include_str!("../../templates/sessions/lanes.txt");
    let workdir = Workdir::new().file("lanes.txt", lanes);
    let yards = workdir.run(&["write", "lanes.txt", "--pool", "25 yd"]).out;
    assert!(
        yards.contains("\n25 yd, improver") && yards.contains("pace: 2:20 per 100 m"),
        "{yards}"
    );
    // The lane's own pace, and its own card's distance: Lane 1 is cut to the booking.
    let own = workdir.run(&["write", "lanes.txt", "--lane", "lane 1", "-o", "one.txt"]);
    assert_eq!(own.exit, 0, "{}", own.err);
    let shown = workdir.run(&["show", "lanes.txt", "--json"]).out;
    let value: serde_json::Value = serde_json::from_str(&shown).expect("JSON");
    let of_lane = &value["lanes"][0]["distance"];
    let alone = workdir.run(&["show", "one.txt", "--json"]).out;
    let alone: serde_json::Value = serde_json::from_str(&alone).expect("JSON");
    assert!(of_lane.is_u64() && &alone["distance"] == of_lane, "{alone:#}\n{value:#}");
    let ran = workdir.run(&["write", "lanes.txt", "--lane", "Lane 4"]);
    assert!(ran.exit == 2 && ran.err.contains("there is no lane \"Lane 4\""), "{}", ran.err);
}

#[test]
fn what_a_message_leaves_out_may_be_given() {
    let club = "name = \"Hernmarsh\"\npool = \"33 1/3 m\"\n";
    let message = "wu 4 lengths\nms 12 x 2 lengths fc r15\ncd 2 lengths easy\n";
    let workdir = Workdir::new().file("short.txt", message).file("other/theirs.toml", club);
    let ran = workdir.run(&["check", "short.txt"]);
    assert!(ran.exit == 1 && ran.err.contains("in which pool"), "{}", ran.err);
    let given = ["show", "short.txt", "--club", "other/theirs.toml", "--pace", "1:40"];
    let ran = workdir.run(&given);
    assert!(
        ran.exit == 0 && ran.out.contains("33 1/3 m pool") && ran.out.contains("pace 1:40"),
        "{}{}",
        ran.err,
        ran.out
    );
    // A club.toml beside is taken up, and told; none is asked for from standard input.
    let workdir = workdir.file("club.toml", club);
    let ran = workdir.run(&["check", "--notes", "short.txt"]);
    assert!(
        ran.exit == 0 && ran.err.contains("the usual values of Hernmarsh are taken from"),
        "{}",
        ran.err
    );
    let ran = workdir.run_with(&["check", "-"], |command| {
        let message = std::fs::File::open(workdir.path("short.txt")).expect("the message");
        command.stdin(message);
    });
    assert!(ran.exit == 1 && ran.err.contains("in which pool"), "{}", ran.err);
}

#[test]
fn folders_may_mix_forms_and_hold_letters() {
    let good = crate::command::GOOD;
    let workdir = Workdir::new()
        .file("week/a.txt", TONIGHT)
        .file("week/b.toml", good)
        .file("week/c.md", DAWN)
        .file("week/letter.txt", "Dear all,\nthe pool is shut on Monday.\n");
    let ran = workdir.run(&["print", "week", "-o", "out"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    for name in ["a-25m.pdf", "b-25m.pdf", "c-25yd.pdf"] {
        assert!(workdir.path(&format!("out/{name}")).exists(), "{name}: {}", ran.err);
    }
    let ran = workdir.run(&["check", "week/letter.txt"]);
    assert!(ran.exit == 1 && ran.err.contains("error[not-a-session]"), "{}", ran.err);
}

#[test]
fn a_week_and_a_block_take_messages() {
    let block = "title = \"Two weeks\"\nbegins = 2027-01-11\n\n[[week]]\nsessions = [{ file = \"a.txt\" }]\n\n\
                 [[week]]\nsessions = [{ file = \"b.txt\" }]\n";
    let later = TONIGHT.replace("12 Jan 2027", "19 Jan 2027");
    let workdir =
        Workdir::new().file("a.txt", TONIGHT).file("b.txt", later).file("block.toml", block);
    let ran = workdir.run(&["print", "--week", "a.txt", "-o", "out"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let ran = workdir.run(&["binder", "block.toml", "-o", "out"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
}

#[test]
fn new_begins_a_session() {
    let workdir = Workdir::new();
    let text = workdir.run(&["new"]).out;
    assert!(text.starts_with("// ") && text.contains("\nLegs that steer\n"), "{text}");
    for (example, file) in [("lanes", "l.txt"), ("clock", "c.toml"), ("first-lengths", "f.md")] {
        let ran = workdir.run(&["new", "--example", example, "-o", file]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let ran = workdir.run(&["check", "--notes", file]);
        assert_eq!((ran.exit, ran.err.as_str()), (0, ""), "{example}");
    }
    let ran = workdir.run(&["new", "-o", "l.txt"]);
    assert!(ran.exit == 2 && ran.err.contains("exists already"), "{}", ran.err);
}

#[test]
fn fix_leaves_a_message_a_message() {
    let workdir = Workdir::new().file("tonight.txt", TONIGHT);
    let ran = workdir.run(&["check", "--fix", "tonight.txt"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert_eq!(std::fs::read_to_string(workdir.path("tonight.txt")).expect("a file"), TONIGHT);
}

#[test]
fn signs_that_steer_or_hide_are_read_over() {
    // A zero-width space in the count, and a sign that turns the direction around.
    let text = "25 m, 2:00/100\n\nMain\n8\u{200b} x 50 free\u{202e}, rest 20 s\n";
    let workdir = Workdir::new().file("x.txt", text);
    let ran = workdir.run(&["show", "x.txt"]);
    assert!(
        ran.exit == 0 && ran.out.contains("400 m") && !ran.out.contains('\u{202e}'),
        "{}{}",
        ran.err,
        ran.out
    );
}

#[test]
fn a_set_whose_words_stand_apart_is_fitted_plainly() {
    // The stroke stands behind the effort: with another number in front it would be said twice.
    let text =
        "25 m, 2:00/100\n\nWarm-up\n200 fc\n\nMain\n8 x 100 fc r20\n\nSD\n4 x 50 easy bk r10\n";
    let workdir = Workdir::new().file("x.txt", text);
    let ran = workdir.run(&["fit", "x.txt", "--distance", "900 m", "-o", "-"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(!ran.out.contains("back easy bk"), "{}", ran.out);
}
