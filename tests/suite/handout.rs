//! Weekly hand-outs: every lane's week on a strip of office paper.

use deckcard::card::Extras;
use deckcard::drawing::{Area, Mark, Step};
use deckcard::handout::{Evening, Handout, HandoutWeek, lay_out};
use deckcard::intake;
use deckcard::plan::Version;
use deckcard::sheet::{Paper, Sheet};
use deckcard::stock::Stock;
use deckcard::words::Words;

use crate::command::Workdir;
use crate::support::reader;

const PT_PER_MM: f32 = 72.0 / 25.4;

/// A session for a club night, with so many lanes.
fn session(title: &str, date: &str, lanes: usize) -> String {
    let lane = |number: usize| {
        format!("\n[[lane]]\nname = \"Lane {number}\"\npace = \"2:{:02}\"\n", 5 * number)
    };
    let lanes: String = (1..=lanes).map(lane).collect();
    format!(
        r#"title = "{title}"
date = {date}
starts = "19:15"
booked = "45 min"
club = "club.toml"
pool = "25 m"
level = "improver"
goal = "technique"
focus = "early roll"
pace = "2:30"
{lanes}
[[part]]
kind = "warm-up"
sets = [{{ swim = "200 choice", rest = "30 s", effort = "easy", cue = "shoulders loose" }}]

[[part]]
kind = "pre-set"
sets = [{{ swim = "6 x 25 drill", rest = "20 s", cue = "one arm, early roll" }}]

[[part]]
kind = "main set"
sets = [{{ swim = "5 x 150 free", rest = "20 s", effort = "steady", cue = "hips lead" }}]

[[part]]
kind = "cool-down"
sets = [{{ swim = "3 x 50 back", rest = "15 s", effort = "easy" }}]
"#
    )
}

const CLUB: &str = r#"name = "Hernmarsh Lane Club"
notice = """
The doors open at 19:00 and close at 20:15.

Showers before the pool, please.
The lifeguard's whistle means: to the wall.
"""
"#;

fn workdir(lanes: usize) -> Workdir {
    Workdir::new()
        .file("club.toml", CLUB)
        .file("tuesday.toml", session("Side to side", "2027-01-12", lanes))
        .file("thursday.toml", session("Roll, then reach", "2027-01-14", lanes))
}

/// The two club nights laid out, without the command line.
fn laid_out(lanes: usize, paper: Paper) -> Handout {
    let workdir = workdir(lanes);
    let open = |name: &str| {
        let intake = intake::open(&workdir.path(name)).expect("a file");
        intake.ready.unwrap_or_else(|| panic!("{:?}", intake.findings))
    };
    let ready = [open("tuesday.toml"), open("thursday.toml")];
    let versions: Vec<Version> =
        ready.iter().map(|r| Version::of(&r.session, r.session.pool().value)).collect();
    let club = ready[0].session.club().expect("a club");
    let evening = |version| Evening { plans: Version::printed(version), extras: Extras::default() };
    let week = HandoutWeek {
        club: Some(club.name.value.clone()),
        notice: club.notice.as_ref(),
        evenings: versions.iter().map(evening).collect(),
    };
    let stock = Stock::named("handout").expect("listed").expect("reads");
    lay_out(&week, paper, &stock, &Words::named("en").expect("listed").expect("reads"))
}

#[test]
fn one_sheet_holds_every_lane_of_the_week() {
    // Two lanes on two nights are four cards, and a sheet of A4 is four of A6.
    let workdir = workdir(2);
    let ran = workdir.run(&["print", "--week", "thursday.toml", "tuesday.toml", "-o", "out"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.err.contains("1 sheet printed on both sides"), "{}", ran.err);
    let bytes = std::fs::read(workdir.path("out/week-2027-01-12-25m.pdf")).expect("a PDF");
    let pages = reader::read(&bytes);
    assert_eq!(pages.len(), 2);
    for page in &pages {
        // ISO 216: A4 is 210 x 297 mm, one way round or the other.
        let (short, long) =
            (page.size_pt.0.min(page.size_pt.1), page.size_pt.0.max(page.size_pt.1));
        assert!((short - 595.2756).abs() < 0.001 && (long - 841.8898).abs() < 0.001);
    }
    let (front, back) = (&pages[0].text, &pages[1].text);
    for lane in ["Lane 1", "Lane 2"] {
        assert_eq!(front.matches(lane).count(), 2, "{lane} on both nights");
        assert_eq!(back.matches(&format!("For {lane}")).count(), 1);
    }
    // Tuesday comes before Thursday, in whatever order they were named.
    let (tuesday, thursday) = (front.find("Side to side"), front.find("Roll, then reach"));
    assert!(tuesday.is_some() && tuesday < thursday, "{front}");
    for text in ["Showers before the pool", "whistle means", "12 Jan 2027, 19:15", "lifeguard"] {
        assert!(back.matches(text).count() >= 2, "{text} on each strip: {back}");
    }
}

#[test]
fn letter_is_a_paper_too_and_the_other_pool_a_pool() {
    let workdir = workdir(2);
    let arguments = [
        "print",
        "--week",
        "tuesday.toml",
        "thursday.toml",
        "--sheet",
        "letter",
        "--pool",
        "25 yd",
    ];
    let ran = workdir.run(&arguments);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let bytes = std::fs::read(workdir.path("week-2027-01-12-25yd.pdf")).expect("a PDF");
    let page = reader::read(&bytes).remove(0);
    // 8.5 x 11 in at 72 points to the inch.
    let edges = [page.size_pt.0.min(page.size_pt.1), page.size_pt.0.max(page.size_pt.1)];
    assert_eq!(edges, [612.0, 792.0]);
    assert!(page.text.contains("25 yd pool"));
}

/// A session written for another pool than the first is not recut unless that is asked for.
#[test]
fn each_session_is_printed_in_the_pool_it_is_written_for() {
    let thursday = session("Roll, then reach", "2027-01-14", 2).replace("25 m", "25 yd");
    let workdir = workdir(2).file("thursday.toml", thursday);
    let week = ["print", "--week", "tuesday.toml", "thursday.toml"];
    let ran = workdir.run(&week);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let text = |name: &str| {
        let bytes = std::fs::read(workdir.path(name)).expect("a PDF");
        reader::read(&bytes).into_iter().map(|page| page.text).collect::<String>()
    };
    // By hand: 200 + 150 + 750 + 150 = 1,250 in the unit of each; two lanes, on card and back.
    let written = text("week-2027-01-12-25m-25yd.pdf");
    for told in ["25 m pool", "25 yd pool"] {
        assert_eq!(written.matches(told).count(), 2, "{told}: {written}");
    }
    assert!(written.replace('\u{a0}', " ").contains("1,250 yd"), "{written}");
    // All in one pool where it is named.
    let ran = workdir.run(&[&week[..], &["--pool", "25 m"]].concat());
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let metres = text("week-2027-01-12-25m.pdf");
    assert_eq!(metres.matches("25 m pool").count(), 4, "{metres}");
}

/// Days 12 to 18 January are one week of seven; the 19th is in the next.
#[test]
fn more_than_a_week_is_told() {
    for (last, told) in [("2027-01-18", false), ("2027-01-19", true)] {
        let workdir = workdir(1).file("thursday.toml", session("Roll, then reach", last, 1));
        let ran = workdir.run(&["print", "--week", "thursday.toml", "tuesday.toml"]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let warning = format!("warning: the sessions are from 2027-01-12 to {last}, ");
        assert_eq!(ran.err.contains(&warning), told, "{}", ran.err);
    }
}

#[test]
fn a_session_with_an_error_stops_the_hand_out() {
    let workdir = workdir(2)
        .file("friday.toml", session("No", "2027-01-15", 1).replace("5 x 150", "5 x 140"));
    let ran = workdir.run(&["print", "--week", "tuesday.toml", "friday.toml", "-o", "out"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("error[not-whole-lengths]: "), "{}", ran.err);
    assert!(!workdir.path("out/week-2027-01-12-25m.pdf").exists());
}

/// Panels are chosen so that the longest notice has room: 1,000 characters, the limit.
#[test]
fn a_notice_as_long_as_may_be_is_printed_whole_on_every_strip() {
    // 19 sentences of 50 characters and a last one of 48: 998.
    let words = "Please do leave the lane tidy and the deck clear. ".repeat(19)
        + "The lights go out five minutes after the bell.";
    let club = format!("name = \"Hernmarsh Lane Club\"\nnotice = \"{words}\"\n");
    for lanes in [1, 3, 4] {
        let workdir = workdir(lanes).file("club.toml", &club);
        let ran = workdir.run(&["print", "--week", "tuesday.toml", "-o", "out"]);
        assert_eq!(ran.exit, 0, "{lanes} lanes: {}", ran.err);
        let bytes = std::fs::read(workdir.path("out/week-2027-01-12-25m.pdf")).expect("a PDF");
        let backs: String =
            reader::read(&bytes).iter().skip(1).step_by(2).map(|page| page.text.clone()).collect();
        assert_eq!(backs.matches("deck clear.").count(), 19 * lanes, "{backs}");
        assert_eq!(backs.matches("after the bell.").count(), lanes);
    }
}

#[test]
fn a_notice_without_room_is_told_and_not_cut() {
    // 120 lines. Capitals of 16 minutes of arc at 40 cm are 1.86 mm, 5.3 pt, and lines stand at
    // least 1.4 times as far apart: 890 pt, and A4 has 842.
    let lines: String = (1..=120).map(|line| format!("Rule {line}\n")).collect();
    assert!(lines.chars().count() <= 1000, "within the limit");
    let club = format!("name = \"Hernmarsh Lane Club\"\nnotice = \"\"\"\n{lines}\"\"\"\n");
    let workdir = workdir(4).file("club.toml", club);
    let ran = workdir.run(&["print", "--week", "tuesday.toml", "-o", "out"]);
    assert_eq!(ran.exit, 1, "{}", ran.err);
    assert!(ran.err.contains("error[notice-too-long]"), "{}", ran.err);
    assert!(ran.err.contains("club.toml:2:"), "it points at the notice: {}", ran.err);
    assert!(!workdir.path("out/week-2027-01-12-25m.pdf").exists(), "nothing is printed");
}

/// A strip of one panel has no neighbour to write notes on: they follow the notice.
#[test]
fn notes_have_room_on_every_back() {
    let workdir = workdir(1);
    let ran = workdir.run(&["print", "--week", "tuesday.toml", "-o", "out"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let bytes = std::fs::read(workdir.path("out/week-2027-01-12-25m.pdf")).expect("a PDF");
    let back = &reader::read(&bytes)[1].text;
    let (notice, notes) = (back.find("whistle"), back.find("Notes"));
    assert!(notice.is_some() && notice < notes, "{back}");
}

#[test]
fn a_notice_is_checked_like_any_text() {
    let long = "x".repeat(1001);
    for (notice, id) in [(long.as_str(), "over-limit"), ("  ", "empty-text")] {
        let club = format!("name = \"Hernmarsh Lane Club\"\nnotice = \"{notice}\"\n");
        let ran = workdir(1).file("club.toml", club).run(&["check", "tuesday.toml"]);
        assert_eq!(ran.exit, 1);
        assert!(ran.err.contains(id), "{}", ran.err);
    }
    let club = "name = \"Hernmarsh Lane Club\"\nnotice = \"\"\"\n泳\n\"\"\"\n";
    let ran = workdir(1).file("club.toml", club).run(&["print", "--week", "tuesday.toml"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("glyph-missing"), "{}", ran.err);
}

#[test]
fn the_club_s_name_and_its_notice_get_their_cautions_once_a_run() {
    let print = |club: &str| {
        let workdir = workdir(2).file("club.toml", club);
        let ran = workdir.run(&["print", "--week", "tuesday.toml", "thursday.toml", "-o", "out"]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let bytes = std::fs::read(workdir.path("out/week-2027-01-12-25m.pdf")).expect("a PDF");
        let pages = reader::read(&bytes);
        let text: Vec<&str> = pages.iter().flat_map(|page| page.text.split_whitespace()).collect();
        (ran.err, text.join(" "))
    };
    let count = |text: &str, what: &str| text.matches(what).count();
    // The words of the two cautions in words/en.toml.
    let (breath, dive) = ("Breathe whenever you want to.", "Start from the water.");

    let notice = "notice = \"Race start for all, 25 m no air.\"\n";
    let (err, text) = print(&format!("name = \"Hernmarsh Lane Club\"\n{notice}"));
    for id in ["warning[breath-hold]", "warning[dive-start]"] {
        assert_eq!(count(&err, id), 1, "{err}");
    }
    assert_eq!(count(&err, "club.toml:2:"), 2, "they point at the notice: {err}");
    // Two lanes, each with a back.
    assert_eq!((count(&text, breath), count(&text, dive)), (2, 2), "{text}");

    let (err, text) = print("name = \"Hernmarsh Apnea Lane\"\n");
    assert_eq!((count(&err, "breath-hold"), count(&err, "club.toml:1:")), (1, 1), "{err}");
    assert_eq!((count(&text, breath), count(&text, dive)), (2, 0), "{text}");

    // A line of a notice ends what it forbids.
    let lines = "notice = \"\"\"\nNo running\nDiving for lane 4\n\"\"\"\n";
    let (err, _) = print(&format!("name = \"Hernmarsh Lane Club\"\n{lines}"));
    assert_eq!(count(&err, "dive-start"), 1, "{err}");

    // What is allowed is not reported, and gets its caution all the same.
    let allow = "allow = [{ finding = \"dive-start\", because = \"the lifeguards agreed\" }]\n";
    let (err, text) = print(&format!("name = \"Hernmarsh Lane Club\"\n{notice}{allow}"));
    assert_eq!((count(&err, "dive-start"), count(&err, "breath-hold")), (0, 1), "{err}");
    assert_eq!(count(&text, dive), 2, "{text}");

    let (err, text) = print(CLUB);
    assert_eq!(count(&err, "club.toml"), 0, "{err}");
    assert_eq!((count(&text, breath), count(&text, dive)), (0, 0), "{text}");
}

fn overlap(a: Area, b: Area) -> bool {
    a.left_pt < b.right_pt - 0.01
        && b.left_pt < a.right_pt - 0.01
        && a.top_pt < b.bottom_pt - 0.01
        && b.top_pt < a.bottom_pt - 0.01
}

fn inside_and_apart(sheet: &Sheet) {
    let areas: Vec<Area> = sheet.placed().iter().map(|placed| placed.area()).collect();
    for (index, area) in areas.iter().enumerate() {
        assert!(area.left_pt >= -0.01 && area.top_pt >= -0.01);
        assert!(area.right_pt <= sheet.paper().width_pt + 0.01, "{area:?}");
        assert!(area.bottom_pt <= sheet.paper().height_pt + 0.01, "{area:?}");
        assert!(areas[..index].iter().all(|other| !overlap(*area, *other)));
    }
}

#[test]
fn panels_lie_apart_and_marks_in_their_margins() {
    for lanes in [0, 1, 3, 4, 9] {
        for paper in [Paper::A4, Paper::Letter] {
            let handout = laid_out(lanes, paper);
            assert_eq!(handout.faults, [], "{lanes} lanes");
            assert!(!handout.notice_too_long);
            let fronts: Vec<&Sheet> = handout.sheets.iter().step_by(2).collect();
            let cards: usize = fronts.iter().map(|sheet| sheet.placed().len()).sum();
            // A card for each lane and night; one a night where there are no lanes.
            assert!(cards >= 2 * lanes.max(1), "{lanes} lanes: {cards} cards");
            handout.sheets.iter().for_each(inside_and_apart);
            for sheet in fronts {
                for mark in sheet.marks() {
                    let Mark::Stroke(path, ..) = &mark.mark else { panic!("no line") };
                    for step in &path.0 {
                        let (Step::Move(p) | Step::Line(p)) = step else { panic!("no line") };
                        // Panels keep 9 mm free at each edge: a mark is on an edge of every
                        // panel it touches, or within 8 mm of one.
                        for placed in sheet.placed() {
                            let area = placed.area();
                            let deep = 8.0 * PT_PER_MM + 0.01;
                            let printed = p.x_pt > area.left_pt + deep
                                && p.x_pt < area.right_pt - deep
                                && p.y_pt > area.top_pt + deep
                                && p.y_pt < area.bottom_pt - deep;
                            assert!(!printed, "{p:?} in {area:?}");
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn two_nights_for_all_are_a4_folded_once() {
    // No lanes: one strip. Half of A4 is 148.5 x 210 mm, or 210 x 148.5 mm.
    let handout = laid_out(0, Paper::A4);
    assert_eq!(handout.sheets.len(), 2);
    let size = handout.sheets[0].placed()[0].card.trim();
    let (short, long) = (size.width_pt.min(size.height_pt), size.width_pt.max(size.height_pt));
    assert!((short - 148.5 * PT_PER_MM).abs() < 0.01 && (long - 210.0 * PT_PER_MM).abs() < 0.01);
}

/// A swimmer cannot know on which evening it is; where no session has a day, none is meant to.
#[test]
fn a_session_without_a_day_among_dated_ones_is_named() {
    let undated = session("Turns", "2027-01-12", 1).replace("date = 2027-01-12\n", "");
    let workdir = Workdir::new()
        .file("club.toml", CLUB)
        .file("a.toml", session("Pull", "2027-01-14", 1))
        .file("b.toml", &undated)
        .file("c.toml", undated.replace("Turns", "Starts"));
    let ran = workdir.run(&["print", "--week", "a.toml", "b.toml", "c.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    for title in ["Turns", "Starts"] {
        assert!(ran.err.contains(&format!("\"{title}\" has no day")), "{}", ran.err);
    }
    assert!(!ran.err.contains("\"Pull\" has no day"), "{}", ran.err);
    let ran = workdir.run(&["print", "--week", "b.toml", "c.toml"]);
    assert!(!ran.err.contains("has no day"), "{}", ran.err);
}
