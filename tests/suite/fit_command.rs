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
    // The same speed in the water: in whole seconds per 100 yd it would be another one.
    assert!(ran.out.contains("pace = \"2:30 per 100 m\""), "{}", ran.out);
    assert!(ran.err.contains("pace: it stays 2:30 per 100 m"), "{}", ran.err);
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
        (&["--minutes", "5"][..], "no recut comes out in 5:00; the least takes "),
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

/// By hand: 600 m in pairs of 25 m; 625 is half way between 600 and 650.
#[test]
fn a_file_is_named_by_the_distance_it_holds() {
    let workdir = workdir();
    let ran = workdir.run(&["fit", "tuesday.toml", "--distance", "690"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.err.contains("now 700 m in "), "{}", ran.err);
    assert!(ran.err.contains("700 m is the nearest to 690 m"), "{}", ran.err);
    assert!(workdir.path("tuesday-700.toml").exists(), "{}", ran.err);
    let ran = workdir.run(&["fit", "tuesday.toml", "--distance", "690 m", "--pool", "50 m"]);
    assert!(ran.err.contains("wrote tuesday-50m-700m.toml"), "{}", ran.err);
}

/// A booking of 95 minutes in a file fitted to 45 would call the session too short.
#[test]
fn a_file_fitted_to_minutes_is_booked_for_them() {
    let booked = "booked = \"95 min\"  # the whole evening\n\n[[part]]";
    let workdir = Workdir::new().file("s.toml", GOOD.replacen("[[part]]", booked, 1));
    let ran = workdir.run(&["fit", "s.toml", "--minutes", "25", "-o", "-"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.err.contains("booked: 95 min becomes 25 min"), "{}", ran.err);
    assert!(ran.out.contains("booked = \"25 min\"  # the whole evening"), "{}", ran.out);
    let fitted = ran.err.split("in the fitted file:").nth(1).unwrap_or_default();
    assert!(!fitted.contains("under-booked"), "{fitted}");
}

/// By hand at 4:00: 4 x (66 + 20) + 8 x (120 + 20) + 2 x (143 + 20) + 60 = 1,850 s for the session as
/// it is; the session itself fills 30 minutes with more.
#[test]
fn no_lane_runs_past_the_minutes_unsaid() {
    let lane = "[[lane]]\nname = \"Lane 1\"\npace = \"4:00\"\n\n[[part]]";
    let workdir = Workdir::new()
        .file("free.toml", GOOD.replacen("[[part]]", lane, 1))
        .file("held.toml", GOOD.replacen("[[part]]", &format!("booked = \"60 min\"\n{lane}"), 1));
    let ran = workdir.run(&["fit", "free.toml", "--minutes", "30", "-o", "-"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.err.contains(" longer than wanted"), "{}", ran.err);
    assert!(ran.err.contains("lanes are cut to the booking"), "{}", ran.err);
    assert!(ran.err.contains("write booked = \"30 min\""), "{}", ran.err);
    // With a booking, that is 30 minutes too, and the lane is cut to it.
    let ran = workdir.run(&["fit", "held.toml", "--minutes", "30", "-o", "-"]);
    assert!(!ran.err.contains("longer than wanted"), "{}", ran.err);
}

#[test]
fn a_fit_that_changes_nothing_says_so() {
    let workdir = workdir();
    let ran = workdir.run(&["fit", "tuesday.toml", "--level", "beginner"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let changed = ran.err.contains(" becomes ");
    assert!(changed || ran.err.contains("nothing to change: it is that already"), "{}", ran.err);
    let same = GOOD.replace("4 x 25 free", "2 x 50 free").replace("2 x 50 back", "2 x 50 choice");
    let workdir = Workdir::new().file("s.toml", same.replace("\"beginner\"", "\"improver\""));
    let ran = workdir.run(&["fit", "s.toml", "--level", "beginner"]);
    assert!(ran.err.contains("level: improver becomes beginner"), "{}", ran.err);
    assert!(ran.err.contains("no set changes"), "{}", ran.err);
}

/// A count of strokes in 25 m says nothing of 50 m: the cards would print a false goal.
#[test]
fn counts_of_strokes_are_not_carried_to_another_pool() {
    let text = GOOD.replacen("[[part]]", "strokes_per_length = 20\n\n[[part]]", 1);
    let lane = "lane = [{ name = \"Lane, 1\", strokes_per_length = 21, pace = \"2:20\" }]\n";
    let workdir = Workdir::new().file("s.toml", format!("{lane}{text}"));
    let ran = workdir.run(&["fit", "s.toml", "--pool", "50 m", "-o", "-"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.out.contains("\n# strokes_per_length = 20\n"), "{}", ran.out);
    assert!(ran.out.contains("[{ name = \"Lane, 1\", pace = \"2:20\" }]"), "{}", ran.out);
    assert!(ran.err.contains("count again"), "{}", ran.err);
}

/// A cue of thirds beside a swim that has none any more.
#[test]
fn a_cue_left_without_its_numbers_is_reported() {
    let text = GOOD
        .replace("8 x 50 free", "8 x 75 free")
        .replace("cue = \"kick from the hip\"", "cue = \"25 fists, 50 open\"");
    let workdir = Workdir::new().file("s.toml", text);
    let ran = workdir.run(&["fit", "s.toml", "--pool", "50 m", "-o", "-"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.err.contains("its cue names other numbers, change it: "), "{}", ran.err);
    // In yards it keeps its 75.
    let ran = workdir.run(&["fit", "s.toml", "--pool", "25 yd", "-o", "-"]);
    assert!(ran.out.contains("8 x 75 free"), "{}", ran.out);
    assert!(!ran.err.contains("its cue names"), "{}", ran.err);
}

#[test]
fn a_distance_may_be_asked_against_the_sessions_own() {
    let workdir = workdir();
    // Of 600 m, by hand.
    for (wish, comes_to, name) in [
        ("+100 m", "700 m", "tuesday-700m.toml"),
        ("+100", "700 m", "tuesday-700.toml"),
        ("-100", "500 m", "tuesday-500.toml"),
        ("+50 %", "900 m", "tuesday-900.toml"),
        ("50%", "300 m", "tuesday-300.toml"),
        ("-25 %", "450 m", "tuesday-450.toml"),
        // 110 yd is 100.584 m: 700.58 m, to the nearest whole metre 701, and swum as 700.
        ("+110 yd", "700 m", "tuesday-765yd.toml"),
    ] {
        let ran = workdir.run(&["fit", "tuesday.toml", "--distance", wish, "--force"]);
        assert_eq!(ran.exit, 0, "{wish}: {}", ran.err);
        assert!(ran.err.contains(&format!("now {comes_to} in ")), "{wish}: {}", ran.err);
        assert!(ran.err.contains("wrote tuesday-"), "{wish}: {}", ran.err);
        if !wish.contains("yd") {
            assert!(ran.err.contains(&format!("wrote {name}")), "{wish}: {}", ran.err);
        }
    }
    for (wish, says) in [
        ("-600", "the session is 600 m: that is not 1 to"),
        ("-700 m", "the session is 600 m: that is not 1 to"),
        ("-100 %", "1 to 1000 %"),
        ("+x %", "1 to 1000 %"),
        ("+", "write a whole distance"),
    ] {
        let ran = workdir.run(&["fit", "tuesday.toml", "--distance", wish]);
        assert_eq!(ran.exit, 2, "{wish}");
        assert!(ran.err.contains(says), "{wish}: {}", ran.err);
    }
}

#[test]
fn a_booking_shorter_than_the_distance_takes_is_made_longer() {
    let booked = GOOD.replacen("[[part]]", "booked = \"25 min\"\n\n[[part]]", 1);
    let workdir = Workdir::new().file("s.toml", booked);
    let ran = workdir.run(&["fit", "s.toml", "--distance", "1200", "-o", "-"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let line = ran.err.lines().find(|line| line.contains("booked: 25 min becomes"));
    let minutes = |text: &str| -> u32 {
        text.split_whitespace().next().and_then(|m| m.parse().ok()).expect("minutes")
    };
    let to = minutes(line.and_then(|line| line.split("becomes ").nth(1)).expect("a booking"));
    // "now 1,200 m in 39:50": by fives, and the next that holds it.
    let takes = ran.err.split("now 1,200 m in ").nth(1).expect("what it comes to");
    let takes: Vec<u32> =
        takes.split_whitespace().next().unwrap().split(':').map(|n| n.parse().unwrap()).collect();
    let [min, s] = takes[..] else { panic!("minutes and seconds: {takes:?}") };
    assert_eq!(to, (min * 60 + s).div_ceil(300) * 5, "{}", ran.err);
    assert!(ran.out.contains(&format!("booked = \"{to} min\"")), "{}", ran.out);
    // One that holds it already stays.
    let ran = workdir.run(&["fit", "s.toml", "--distance", "500", "-o", "-"]);
    assert!(ran.out.contains("booked = \"25 min\""), "{}", ran.out);
}

#[test]
fn a_session_that_may_not_be_changed_says_so() {
    let held = GOOD.replace("swim = \"", "fixed = true, swim = \"");
    let ran = Workdir::new().file("s.toml", held).run(&["fit", "s.toml", "--distance", "+100"]);
    assert_eq!(ran.exit, 2, "{}", ran.err);
    assert!(ran.err.contains("are never changed, and it has nothing else"), "{}", ran.err);
}

/// Rounds that differ are one line of the file: what each is cut to in another pool is one thing too.
#[test]
fn rounds_that_differ_are_fitted_as_they_are_printed() {
    let rounds = "{ rounds = 3, efforts = [\"steady\", \"strong\", \"quick\"], sets = [{ swim = \"4 x 50 free\", on = \"1:18\" }] },";
    let start = GOOD.find("  { swim = \"8 x 50 free\"").expect("the main set");
    let end = start + GOOD[start..].find('\n').expect("its end");
    let text = format!("{}{rounds}{}", &GOOD[..start], &GOOD[end..]);
    let text = text.replace("pace = \"2:30\"", "pace = \"2:16\"\nalso = \"20 yd\"");
    let workdir = Workdir::new().file("s.toml", text);
    let json = |name: &str| -> serde_json::Value {
        serde_json::from_str(&workdir.run(&["show", "--json", name]).out).expect("JSON")
    };
    let printed = &json("s.toml")["versions"][0];
    // By hand at 2:16 per 100 m: 50 m take 68, 65 and 63 s and leave 10, 13 and 15 s of 1:18. 40 yd are
    // 36.576 m: 49.7, 47.3 and 45.8 s. With that rest 60, 60 and 61 s: up by fives 1:00, 1:00, 1:05;
    // as one line they have the longest.
    let every: Vec<_> = printed["parts"][1]["sets"]
        .as_array()
        .expect("sets")
        .iter()
        .map(|set| (set["swim"].as_str().expect("a line"), set["send_off_seconds"].as_u64()))
        .collect();
    assert_eq!(every, [("4 x 40 free", Some(65)); 3]);
    let changes = printed["changes"].as_array().expect("changes").iter();
    let of_the_set = changes.filter(|change| change["part"] == "main set").count();
    assert_eq!(of_the_set, 1, "{}", printed["changes"]);
    let ran = workdir.run(&["fit", "s.toml", "--pool", "20 yd", "-o", "fitted.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let fitted = json("fitted.toml");
    assert_eq!(fitted["seconds"], printed["seconds"]);
    assert_eq!(fitted["parts"], printed["parts"]);
}
