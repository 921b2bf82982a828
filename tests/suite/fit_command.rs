//! `fit` from the command line: where it writes, what it tells, how it refuses.

use crate::command::{GOOD, Workdir};

/// A session of 600 m: 100 warm-up, 400 main set, 100 cool-down.
fn workdir() -> Workdir {
    Workdir::new().file("tuesday.toml", format!("# for Tuesday\n{GOOD}"))
}

#[test]
fn a_fitted_file_stands_beside_its_session() {
    let workdir = workdir();
    let written = std::fs::read_to_string(workdir.path("tuesday.toml")).expect("the session");
    let ran = workdir.run(&["fit", "tuesday.toml", "--distance", "700", "--minutes", "40"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert_eq!(ran.out, "");
    assert!(ran.err.contains("wrote tuesday-700-40min.toml"), "{}", ran.err);
    // By hand: 700 m for 600 m wishes 117, 467 and 117 m. The main set is nearest as 10 x 50; as
    // 9 x 50 a pair would be broken and 50 m would have to be found in the other two parts.
    assert!(
        ran.err.contains("main set: 8 x 50 free becomes 10 x 50 free, to reach the distance"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("now 700 m in "), "{}", ran.err);
    let fitted = std::fs::read_to_string(workdir.path("tuesday-700-40min.toml")).expect("a file");
    assert_eq!(fitted, written.replace("8 x 50", "10 x 50"));
    assert_eq!(std::fs::read_to_string(workdir.path("tuesday.toml")).expect("it"), written);
}

#[test]
fn nothing_is_overwritten_without_force() {
    let workdir = workdir();
    let fit = ["fit", "tuesday.toml", "--distance", "700", "-o", "tuesday.toml"];
    let ran = workdir.run(&fit);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("tuesday.toml exists already; --force writes over it"));
    let text = || std::fs::read_to_string(workdir.path("tuesday.toml")).expect("the session");
    assert!(text().contains("8 x 50"));
    assert_eq!(workdir.run(&[&fit[..], &["--force"]].concat()).exit, 0);
    assert!(text().contains("10 x 50"));
    // What it wrote is at the distance already.
    let again = workdir.run(&["fit", "tuesday.toml", "--distance", "700 m", "-o", "-"]);
    assert_eq!(again.out, text());
    assert!(again.err.contains("nothing to change"), "{}", again.err);
}

#[test]
fn standard_input_goes_to_standard_output() {
    let ran = workdir().run_with(&["fit", "-", "--pool", "25 yd"], |command| {
        let file =
            std::fs::File::open(command.get_current_dir().expect("a folder").join("tuesday.toml"));
        command.stdin(file.expect("the session"));
    });
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.out.starts_with("# for Tuesday\n"), "{}", ran.out);
    assert!(ran.out.contains("pool = \"25 yd\""), "{}", ran.out);
    // 2:30 per 100 m is 137.16 s per 100 yd (1 yd = 0.9144 m); seconds are dropped: 2:17.
    assert!(ran.out.contains("pace = \"2:17\""), "{}", ran.out);
    assert!(ran.err.contains("pace: 2:30 becomes 2:17"), "{}", ran.err);
}

#[test]
fn a_file_in_another_folder_is_told_to_need_its_club() {
    let text = GOOD.replacen("[[part]]", "club = \"club.toml\"\n\n[[part]]", 1);
    let workdir = Workdir::new()
        .file("s.toml", text)
        .file("club.toml", "name = \"Hernmarsh Lane Club\"\n")
        .file("away/other.txt", "");
    let fit = |to: &str| workdir.run(&["fit", "s.toml", "--distance", "700", "-o", to]);
    let told = "it names a club file, which is looked for beside it: copy that too";
    assert!(fit("away/s.toml").err.contains(told));
    assert!(!fit("./t.toml").err.contains(told));
}

#[test]
fn another_level_draws_the_parts_into_its_shares() {
    let text = GOOD
        .replace("4 x 25 free", "4 x 100 free")
        .replace("2 x 50 back", "2 x 100 back")
        .replace("\"beginner\"", "\"advanced\"");
    let workdir = Workdir::new().file("s.toml", text);
    let ran = workdir.run(&["fit", "s.toml", "--level", "beginner", "-o", "-"]);
    // By hand: 400, 400 and 200 m of 1,000. A beginner's warm-up is 10 to 20 %, so 200 m: 2 x 100.
    // The main set takes what is left, 600 m, inside its 60 to 80 %: 12 x 50. The cool-down
    // is at 20 % already.
    for told in [
        "level: advanced becomes beginner",
        "warm-up: 4 x 100 free becomes 2 x 100 free, for the shares usual at the level",
        "main set: 8 x 50 free becomes 12 x 50 free, for the shares usual at the level",
        "now 1,000 m in ",
    ] {
        assert!(ran.err.contains(told), "{told} in {}", ran.err);
    }
    assert!(ran.out.contains("2 x 100 back") && ran.out.contains("level = \"beginner\""));
    // The written file's share is noted; the fitted one's no longer.
    assert!(ran.err.ends_with("1 note; check --notes shows it\n"), "{}", ran.err);
}

#[test]
fn wishes_that_cannot_be_are_refused_and_nothing_is_written() {
    let workdir = workdir();
    for (wish, told) in [
        (&["--minutes", "5"][..], "no recut comes out in 5:00; the nearest takes "),
        (&["--distance", "50"][..], "no recut reaches 50 m; the nearest is "),
        (&["--distance", "1500", "--minutes", "30"][..], "1,500 m takes "),
        (&["--distance", "600", "--pool", "1 m"][..], "a pool is written as"),
        (&["--level", "expert"][..], "it is one of beginner, improver, advanced"),
        (&["--minutes", "0"][..], "write whole minutes, 5 to 720"),
        (&[][..], "--minutes"),
    ] {
        let ran = workdir.run(&[&["fit", "tuesday.toml"], wish].concat());
        assert_eq!(ran.exit, 2, "{wish:?}: {}", ran.err);
        assert!(ran.err.contains(told), "{wish:?}: {}", ran.err);
    }
    let files = std::fs::read_dir(workdir.path("")).expect("the folder").count();
    assert_eq!(files, 1);
}

#[test]
fn a_file_with_errors_is_told_as_by_check() {
    let workdir = Workdir::new().file("s.toml", GOOD.replace("8 x 50", "8 x 40"));
    let ran = workdir.run(&["fit", "s.toml", "--minutes", "40", "--format", "short"]);
    assert_eq!((ran.exit, ran.out.as_str()), (1, ""));
    assert_eq!(ran.err, workdir.run(&["check", "s.toml", "--format", "short"]).err);
    assert!(!workdir.path("s-40min.toml").exists());
}

/// Lanes are cut to the booking by themselves; what each comes to is told. By hand at 3:00:
/// 4 x (49.5, up to 50, + 20) + 10 x (90 + 20) + 2 x (106.92, up to 107, + 20) + 2 x 30 = 1,694 s.
#[test]
fn each_lane_is_told() {
    let lane = "[[lane]]\nname = \"Lane 1\"\npace = \"3:00\"\n\n[[part]]";
    let workdir = Workdir::new().file("tuesday.toml", GOOD.replacen("[[part]]", lane, 1));
    let ran = workdir.run(&["fit", "tuesday.toml", "--distance", "700"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let (session, lane) = (ran.err.find("now 700 m in "), ran.err.find("Lane 1: 700 m in 28:14\n"));
    assert!(session.is_some() && session < lane, "{}", ran.err);
}

/// By hand the session takes 21:22 at 2:30: 30 minutes are to be filled, 15 to be kept to.
#[test]
fn more_is_swum_to_fill_the_time_and_less_to_come_out_in_it() {
    for (minutes, told, not) in [
        ("30", "to fill the time", "to come out in the time"),
        ("15", "to come out in the time", "to fill the time"),
    ] {
        let ran = workdir().run(&["fit", "tuesday.toml", "--minutes", minutes, "-o", "-"]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let main = ran.err.lines().find(|line| line.starts_with("main set: 8 x 50 free becomes "));
        assert!(main.is_some_and(|line| line.ends_with(told)), "{}", ran.err);
        assert!(!ran.err.contains(not), "{}", ran.err);
    }
}
