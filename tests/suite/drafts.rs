//! Drafted sessions: a grid of wishes, what cannot be met, the data, and the command.

use std::collections::BTreeSet;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use deckcard::draft::{Booked, DraftError, Drafted, Library, Wish, draft};
use deckcard::intake::{self, Ready};
use deckcard::measure::{Distance, Lengths, Pace, Pool, Seconds, Unit};
use deckcard::plan::Version;
use deckcard::reader::trade_words::TradeWord;
use deckcard::session::words::{Goal, Level, Mode, PartKind, Stroke};
use deckcard::source::Source;

use crate::command::{DRAFT, GOOD, Workdir};

fn library() -> Library {
    Library::built_in().expect("the program's own patterns")
}

fn wish(level: Level, goal: Goal, pool: &str, pace_s: u32, minutes: u32) -> Wish {
    let pool: Pool = pool.parse().expect("a pool");
    let pace = Pace { per_100: Seconds::new(pace_s), unit: pool.unit() };
    Wish { time: Some(Seconds::new(minutes * 60)), ..Wish::new(level, goal, pool, pace) }
}

/// A usual wish, for tests that change one thing.
fn evening() -> Wish {
    wish(Level::Beginner, Goal::Technique, "25 m", 160, 40)
}

/// Reads a drafted text back as any session file is read; it must be clean.
fn read_back(text: &str) -> Ready {
    let intake = intake::take(Source::new("draft.toml", text));
    let titles: Vec<&str> = intake.findings.iter().map(|finding| finding.title.as_str()).collect();
    assert!(titles.is_empty(), "{titles:?}\n{text}");
    intake.ready.expect("a session")
}

/// Two paces for each level, seconds per 100; common practice, no source.
fn paces(level: Level) -> [u32; 2] {
    match level {
        Level::Beginner => [150, 180],
        Level::Improver => [105, 130],
        Level::Advanced => [80, 95],
    }
}

/// Shares in per cent of the distance, by kind of part; the table of the session format, written
/// out again here. `None` where the level has no such part. On a recovery day the main set may be
/// 20 per cent smaller than its band, warm-up and cool-down 10 larger.
fn shares(level: Level, goal: Goal) -> [Option<(u32, u32)>; 5] {
    if goal == Goal::Recovery {
        return match level {
            Level::Beginner => [Some((10, 30)), None, Some((40, 80)), None, Some((10, 30))],
            Level::Improver => {
                [Some((10, 30)), Some((5, 15)), Some((30, 70)), Some((0, 15)), Some((10, 30))]
            }
            Level::Advanced => {
                [Some((10, 30)), Some((5, 20)), Some((20, 70)), Some((5, 20)), Some((5, 30))]
            }
        };
    }
    match level {
        Level::Beginner => [Some((10, 20)), None, Some((60, 80)), None, Some((10, 20))],
        Level::Improver => {
            [Some((10, 20)), Some((5, 15)), Some((50, 70)), Some((0, 15)), Some((10, 20))]
        }
        Level::Advanced => {
            [Some((10, 20)), Some((5, 20)), Some((40, 70)), Some((5, 20)), Some((5, 20))]
        }
    }
}

/// Reads it back, and holds it against the wish.
fn held_against(wish: &Wish, drafted: &Drafted) {
    let ready = read_back(&drafted.text);
    let plan = ready.written.plan;
    let about = || format!("{wish:?}\n{}", drafted.text);
    assert_eq!((plan.lengths(), plan.seconds()), (drafted.lengths, drafted.seconds), "{}", about());
    assert!(plan.lengths().ends_at_start(), "{}", about());
    if let Some(time) = wish.time {
        let left = time.get().checked_sub(plan.seconds().get());
        assert!(left.is_some_and(|left| left <= 90), "{left:?} {}", about());
        // Who asks for 45 minutes has the lane for 45 minutes, in either pool.
        let booked = ready.session.booked().as_ref().map(|booked| booked.value);
        assert_eq!(booked, Some(time), "{}", about());
        let other = Version::of(&ready.session, ready.session.other_pool().expect("another pool"))
            .plan
            .seconds();
        assert!(other <= time, "{other} {}", about());
    }
    for ((kind, _), share) in PartKind::ALL.iter().zip(shares(wish.level, wish.goal)) {
        let of_kind = plan.parts().iter().filter(|part| part.kind == *kind);
        let lengths: u32 = of_kind.map(|part| part.lengths.get()).sum();
        let (least, most) = match share {
            None => (0, 0),
            Some(_) if lengths == 0 && matches!(kind, PartKind::PreSet | PartKind::PostSet) => {
                (0, 0)
            }
            Some(share) => share,
        };
        let whole = plan.lengths().get();
        let inside = least * whole <= lengths * 100 && lengths * 100 <= most * whole;
        assert!(inside, "{kind} {lengths} of {whole} {}", about());
    }
}

/// What a session is made of, numbers left out: its patterns and the strokes of its sets.
fn kind_of_session(drafted: &Drafted) -> (Vec<String>, Vec<(Stroke, Mode)>) {
    let plan = read_back(&drafted.text).written.plan;
    let sets = plan.parts().iter().flat_map(|part| part.sets());
    let strokes = sets.map(|set| (set.stroke(), set.mode())).collect();
    (drafted.chosen.iter().map(|chosen| chosen.id.clone()).collect(), strokes)
}

const POOLS: [&str; 5] = ["25 m", "50 m", "25 yd", "20 yd", "33 1/3 m"];

#[test]
fn a_grid_of_wishes_is_met_in_time_and_clean() {
    const VARIANTS: u32 = 5;
    let library = library();
    let mut cells = Vec::new();
    for (level, _) in Level::ALL {
        for (goal, _) in Goal::ALL {
            for pool in POOLS {
                for minutes in [30, 45, 75] {
                    for pace in paces(*level) {
                        cells.push(wish(*level, *goal, pool, pace, minutes));
                    }
                }
            }
        }
    }
    // 3 levels x 7 goals x 5 pools x 3 times x 2 paces.
    assert_eq!(cells.len(), 630);
    let (next, met) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let alike: Mutex<Vec<String>> = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(2, usize::from) {
            scope.spawn(|| {
                while let Some(cell) = cells.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let mut seen = Vec::new();
                    for variant in 0..VARIANTS {
                        let wish = Wish { variant, ..cell.clone() };
                        let drafted = draft(&wish, &library)
                            .unwrap_or_else(|error| panic!("{error}: {wish:?}"));
                        held_against(&wish, &drafted);
                        seen.push(kind_of_session(&drafted));
                        met.fetch_add(1, Ordering::Relaxed);
                    }
                    for pair in seen.windows(2).filter(|pair| pair[0] == pair[1]) {
                        let about = format!("{cell:?}: {:?}", pair[0]);
                        alike.lock().expect("no thread has failed").push(about);
                    }
                }
            });
        }
    });
    assert_eq!(met.into_inner(), 3150);
    // A short session in a long pool leaves few ways, and neighbouring variants may then fall
    // together: at most one pair in a hundred, of 630 cells with four pairs each.
    let alike = alike.into_inner().expect("no thread has failed");
    assert!(alike.len() <= 25, "variants that differ in numbers only: {alike:#?}");
    assert!(alike.iter().all(|about| about.contains("Seconds(1800)")), "{alike:#?}");
}

#[test]
fn every_pattern_is_read_and_used() {
    let library = library();
    let mut used = BTreeSet::new();
    for (level, _) in Level::ALL {
        for (goal, _) in Goal::ALL {
            // Skills and patterns take turns together: with a focus of its own each meets each.
            let focuses = library.focuses(*goal, *level);
            let own = focuses.iter().flat_map(|focus| (0..8).map(|at| (Some(*focus), at)));
            for (focus, variant) in (0..26).map(|at| (None, at)).chain(own) {
                let gear = ["board", "fins", "pull buoy", "paddles"].map(str::to_owned).to_vec();
                let plain = wish(*level, *goal, "25 m", paces(*level)[0], 60);
                let focus = focus.map(str::to_owned);
                let wish = Wish { variant, gear, focus, ..plain };
                let drafted = draft(&wish, &library).expect("a session");
                held_against(&wish, &drafted);
                used.extend(drafted.chosen.into_iter().map(|chosen| chosen.id));
            }
        }
    }
    let all: BTreeSet<String> = library.patterns().map(|pattern| pattern.id.to_owned()).collect();
    let unused: Vec<&String> = all.difference(&used).collect();
    assert!(unused.is_empty(), "no wish uses {unused:?}");
}

#[test]
fn the_library_covers_goals_levels_and_parts() {
    let library = library();
    for (goal, _) in Goal::ALL {
        let of_goal: Vec<_> = library.patterns().filter(|pattern| pattern.goal == *goal).collect();
        assert!(of_goal.len() >= 12, "{goal}: {}", of_goal.len());
        for (level, _) in Level::ALL {
            assert!(library.focuses(*goal, *level).len() >= 3, "{goal} {level}");
            for (kind, _) in PartKind::ALL {
                let beginner = *level == Level::Beginner;
                if beginner && matches!(kind, PartKind::PreSet | PartKind::PostSet) {
                    continue;
                }
                // Two that need no gear, so that there is always a choice.
                let bare = of_goal.iter().filter(|pattern| {
                    pattern.parts.contains(kind)
                        && pattern.levels.contains(level)
                        && pattern.gear.is_empty()
                });
                assert!(bare.count() >= 2, "{goal} {level} {kind}");
            }
        }
    }
    let mut reasons = BTreeSet::new();
    for pattern in library.patterns() {
        assert!(pattern.why.ends_with('.') && pattern.why.len() > 40, "{}", pattern.id);
        assert!(reasons.insert(pattern.why), "{} says what another says", pattern.id);
    }
}

#[test]
fn the_same_wish_gives_the_same_file() {
    let wish = Wish { variant: 3, ..evening() };
    assert_eq!(draft(&wish, &library()), draft(&wish, &library()));
}

#[test]
fn a_focus_is_spoken_of_whatever_it_is() {
    for focus in ["clean entry", "purple hands", "wink at the lifeguard", "Ellbogen hoch"] {
        for variant in 0..4 {
            let wish = Wish { focus: Some(focus.to_owned()), variant, ..evening() };
            let drafted = draft(&wish, &library()).expect("a session");
            assert_eq!(drafted.focus, focus);
            held_against(&wish, &drafted);
        }
    }
}

#[test]
fn only_gear_at_hand_is_used() {
    for variant in 0..8 {
        let bare = draft(&Wish { variant, ..evening() }, &library()).expect("a session");
        assert!(!bare.text.contains("gear"), "{}", bare.text);
        let gear = vec!["pull buoy".to_owned()];
        let wish = Wish { variant, gear, ..evening() };
        let buoy = draft(&wish, &library()).expect("a session");
        assert!(!buoy.text.contains("board") && !buoy.text.contains("fins\"]"), "{}", buoy.text);
    }
    let wish = Wish { gear: vec!["boards".to_owned()], ..evening() };
    let error = draft(&wish, &library()).expect_err("there is no such gear");
    assert_eq!(error.to_string(), "no pattern uses \"boards\"; did you mean \"board\"?");
}

#[test]
fn a_pull_set_is_drafted_with_a_buoy_or_not_at_all() {
    // Pull is swum with a buoy between the legs: common practice, no source.
    let mut pulled = 0;
    for (level, goal) in [Level::Improver, Level::Advanced]
        .into_iter()
        .flat_map(|level| Goal::ALL.iter().map(move |(goal, _)| (level, *goal)))
    {
        for (variant, gear) in (0..16).flat_map(|v| [(v, vec![]), (v, vec!["pull buoy".into()])]) {
            let wish = Wish { variant, gear, ..wish(level, goal, "25 m", paces(level)[0], 60) };
            let drafted = draft(&wish, &library()).expect("a session");
            let session = read_back(&drafted.text).session;
            for line in drafted.text.lines().filter(|line| line.contains(" pull\",")) {
                assert!(line.contains("gear = [\"pull buoy\""), "{line}");
                let bring: Vec<&str> =
                    session.gear().iter().map(|piece| piece.value.as_str()).collect();
                assert!(bring.contains(&"pull buoy"), "{bring:?}");
                pulled += 1;
            }
        }
    }
    assert!(pulled > 10, "{pulled}");
}

#[test]
fn a_medley_changes_stroke_at_walls_only() {
    // Each stroke of a medley is a quarter of its distance (World Aquatics Swimming Rules, SW 9). By
    // arithmetic it ends at a wall only where the lengths divide by four: in a long pool from 200 m
    // on; in 33 1/3 m a hundred would be three lengths for four strokes.
    let mut medleys = 0;
    for (level, pool) in [Level::Improver, Level::Advanced]
        .into_iter()
        .flat_map(|level| [(level, "50 m"), (level, "33 1/3 m"), (level, "25 yd")])
    {
        for (minutes, variant) in [30, 45, 75].into_iter().flat_map(|m| (0..8).map(move |v| (m, v)))
        {
            let plain = wish(level, Goal::Medley, pool, paces(level)[0], minutes);
            let focus = Some("clean joins".to_owned());
            let wish = Wish { variant, focus, ..plain };
            let drafted = draft(&wish, &library()).unwrap_or_else(|e| panic!("{e}: {wish:?}"));
            held_against(&wish, &drafted);
            let plan = read_back(&drafted.text).written.plan;
            let sets = plan.parts().iter().flat_map(|part| part.sets());
            for set in sets.filter(|set| set.stroke() == Stroke::Im) {
                let each = set.longest().get();
                assert!(each.is_multiple_of(4), "{each} {}", drafted.text);
                medleys += 1;
            }
        }
    }
    assert!(medleys > 20, "{medleys}");
}

#[test]
fn a_distance_is_met_within_a_pair_of_lengths() {
    for (pool, metres) in [("25 m", 800), ("25 m", 1030), ("50 m", 1600), ("20 yd", 1000)] {
        let mut wish = wish(Level::Improver, Goal::Endurance, pool, 120, 60);
        wish.time = None;
        let wanted = Distance::whole(metres, wish.pool.unit());
        wish.distance = Some(wanted);
        let drafted = draft(&wish, &library()).expect("a session");
        held_against(&wish, &drafted);
        let pair = wish.pool.distance(Lengths::new(2)).sixths();
        let off = drafted.distance.sixths().abs_diff(wanted.sixths());
        assert!(off <= pair, "{} for {wanted}", drafted.distance);
    }
}

#[test]
fn the_main_set_holds_the_swim_without_a_stop() {
    // 225 m in a 50 m pool: 4.5 lengths, up to 6 that end at the start wall, 300 m. In 25 m the
    // 9 lengths become 10, 250 m. 400 yd in 25 yd are 16 lengths as they are.
    for (pool, asked, lengths) in [("50 m", 225, 6), ("25 m", 225, 10), ("25 yd", 400, 16)] {
        let mut wish = wish(Level::Beginner, Goal::Endurance, pool, 150, 60);
        let unit = wish.pool.unit();
        wish.time = None;
        wish.distance = Some(Distance::whole(1200, unit));
        wish.unbroken = Some(Distance::whole(asked, unit));
        wish.led_up_to = Some("they have swum as far before".to_owned());
        let drafted = draft(&wish, &library()).expect("a session");
        held_against(&wish, &drafted);
        let plan = read_back(&drafted.text).written.plan;
        let main = plan.parts().iter().filter(|part| part.kind == PartKind::MainSet);
        let swims: Vec<u32> = main
            .flat_map(|part| part.sets())
            .filter(|set| set.repeats() == 1 && set.rounds == 1)
            .map(|set| set.longest().get())
            .collect();
        assert!(swims.contains(&lengths), "{swims:?}\n{}", drafted.text);
        assert_eq!(drafted.unbroken, Some(wish.pool.distance(Lengths::new(lengths))));
    }
}

#[test]
fn both_versions_end_in_time_around_a_swim_without_a_stop() {
    // The long swim is never recut: what is beside it gives way.
    for (pool, level, pace, unbroken) in [
        ("25 yd", Level::Beginner, 150, 400),
        ("20 yd", Level::Improver, 120, 800),
        ("33 1/3 m", Level::Advanced, 90, 1000),
        ("25 yd", Level::Improver, 110, 1000),
        ("50 m", Level::Beginner, 180, 300),
    ] {
        for variant in 0..6 {
            let mut wish = wish(level, Goal::Endurance, pool, pace, 45);
            wish.unbroken = Some(Distance::whole(unbroken, wish.pool.unit()));
            wish.led_up_to = Some("they have swum as far before".to_owned());
            wish.variant = variant;
            held_against(&wish, &draft(&wish, &library()).expect("a session"));
        }
    }
}

#[test]
fn minutes_are_no_booking_where_much_of_them_is_left() {
    let distance = |metres| Some(Distance::whole(metres, Unit::Metre));
    // 500 m take about 20 of 40 minutes: a booking of 40 would be told as too long.
    let short = draft(&Wish { distance: distance(500), ..evening() }, &library());
    let short = short.expect("a session").text;
    assert!(read_back(&short).session.booked().is_none(), "{short}");
    let wish = Wish { time: None, distance: distance(800), ..evening() };
    let untimed = draft(&wish, &library()).expect("a session").text;
    assert!(read_back(&untimed).session.booked().is_none(), "{untimed}");
}

#[test]
fn more_minutes_than_are_booked_are_told_at_once() {
    let booked = Booked::Asked(Seconds::new(30 * 60));
    let error = draft(&Wish { booked, ..evening() }, &library()).expect_err("40 in 30 min");
    let told = "40 min are longer than the lane is booked, 30 min: ask for less time or book the \
                lane for longer";
    assert_eq!(error.to_string(), told);
    let booked = Booked::Asked(Seconds::new(45 * 60));
    let text = draft(&Wish { booked, ..evening() }, &library()).expect("a session").text;
    assert!(text.contains("booked = \"45 min\"\n"), "{text}");
}

#[test]
fn no_draft_is_written_for_a_wording_with_a_caution() {
    let refused = |wish: Wish| draft(&wish, &library()).expect_err("a caution").to_string();
    let focus = |focus: &str| Wish { focus: Some(focus.to_owned()), ..evening() };
    assert_eq!(
        refused(focus("underwater juggling")),
        "no draft is written for the focus \"underwater juggling\": it speaks of holding the breath, \
         and whoever does so on purpose can lose consciousness without warning"
    );
    assert_eq!(
        refused(focus("dive start")),
        "no draft is written for the focus \"dive start\": it speaks of a dive or a block start, and \
         whether and where one is safe the pool's rules and its lifeguards decide"
    );
    let title = Some("Lungbuster night".to_owned());
    let told = refused(Wish { title, ..evening() });
    assert!(told.starts_with("no draft is written for the title \"Lungbuster night\""), "{told}");
}

/// Each of these took from half a minute to several, and some then found nothing to offer.
#[test]
fn wishes_that_were_searched_for_without_end_are_answered() {
    let library = library();
    for (goal, pace, metres, minutes) in [
        (Goal::Technique, 130, Some(5000), None),
        (Goal::Medley, 130, Some(5000), None),
        (Goal::Endurance, 130, Some(5000), None),
        (Goal::Speed, 130, Some(5000), None),
        (Goal::Medley, 130, None, Some(170)),
        (Goal::Endurance, 130, None, Some(170)),
        (Goal::Endurance, 80, Some(9000), Some(170)),
    ] {
        let level = if pace == 80 { Level::Advanced } else { Level::Improver };
        let mut wish = wish(level, goal, "25 m", pace, minutes.unwrap_or(0));
        wish.time = wish.time.filter(|_| minutes.is_some());
        wish.distance = metres.map(|metres| Distance::whole(metres, Unit::Metre));
        match draft(&wish, &library) {
            Ok(drafted) => assert!(!drafted.text.is_empty()),
            Err(
                DraftError::Time { below, above, .. } | DraftError::Distance { below, above, .. },
            ) => {
                assert!(below.is_some() || above.is_some(), "nothing is offered: {wish:?}");
            }
            Err(DraftError::TooLong { .. }) => {}
            Err(error) => panic!("{error}: {wish:?}"),
        }
    }
}

#[test]
fn a_swim_past_the_usual_of_the_level_is_said_aloud() {
    // A beginner's usual longest is 200 m, an improver's 400 m: the table of the rule.
    let long = |level, metres| {
        let mut wish = wish(level, Goal::Endurance, "25 m", 120, 60);
        wish.unbroken = Some(Distance::whole(metres, Unit::Metre));
        draft(&wish, &library()).expect("a session")
    };
    let drafted = long(Level::Beginner, 1000);
    let titles: Vec<&str> = drafted.warnings.iter().map(|finding| finding.title.as_str()).collect();
    assert_eq!(titles, ["1000 m without a stop is long for the level beginner"]);
    let checked = intake::take(Source::new("draft.toml", drafted.text.as_str())).findings;
    assert_eq!(checked, drafted.warnings);
    for (level, metres) in [(Level::Beginner, 200), (Level::Improver, 400)] {
        assert!(long(level, metres).warnings.is_empty());
    }
    // On screen, with the band, by the draft and by a check alike.
    let workdir = Workdir::new();
    let mut all = asked(&["--unbroken", "1000", "-o", "a.toml"]);
    (all[4], all[8], all[10]) = ("endurance", "2:00", "60");
    let ran = workdir.run(&all);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(ran.err.contains("warning[long-swim]: 1000 m without a stop"), "{}", ran.err);
    assert!(ran.err.contains("200 m is usual at most"), "{}", ran.err);
    let checked = workdir.run(&["check", "a.toml"]);
    assert!(ran.err.starts_with(&checked.err) && !checked.err.is_empty(), "{}", checked.err);
}

#[test]
fn a_focus_that_nothing_speaks_of_is_noted() {
    let strange = |goal, focus: &str| {
        let wish =
            Wish { focus: Some(focus.to_owned()), ..wish(Level::Beginner, goal, "25 m", 160, 40) };
        let drafted = draft(&wish, &library()).expect("a session");
        drafted.strange_focus.map(|strange| strange.to_string())
    };
    let said = strange(Goal::Technique, "purple hands on Mars");
    // "hands" is a word of technique: the hand's entry.
    assert_eq!(said, None);
    let said = strange(Goal::Technique, "purple Martians").expect("nothing speaks of them");
    assert!(
        said.starts_with("no pattern and no cue for technique speaks of \"purple Martians\""),
        "{said}"
    );
    assert!(said.contains("for technique there are: "), "{said}");
    assert_eq!(strange(Goal::Technique, "high elbow"), None);
    // The endurance patterns have a skill with bubbles.
    assert_eq!(strange(Goal::Endurance, "blow bubbles"), None);
    let ran = Workdir::new().run(&asked(&["--focus", "purple Martians", "-o", "-"]));
    assert_eq!(ran.exit, 0);
    assert!(ran.err.contains("speaks of \"purple Martians\""), "{}", ran.err);
}

#[test]
fn titles_that_no_card_can_show_are_refused_at_once() {
    let workdir = Workdir::new();
    let block = [
        "block", "draft", "--from", "200 m", "--to", "400 m", "--weeks", "4", "--level",
        "beginner", "--pool", "25 m", "--pace", "2:50", "-o", "b",
    ];
    for (text, said) in
        [("Swim \u{6c34}", "\u{6c34}"), ("two\nlines", "U+000A"), ("a\u{1b}[31mred", "U+001B")]
    {
        for mut all in [
            asked(&["-o", "a.toml", "--title", text]),
            asked(&["-o", "a.toml", "--focus", text]),
            block.iter().copied().chain(["--title", text]).collect(),
        ] {
            let ran = workdir.run(&std::mem::take(&mut all));
            assert_eq!(ran.exit, 2, "{text:?}: {}", ran.err);
            assert!(ran.err.contains(said), "{text:?}: {}", ran.err);
            assert!(!ran.err.contains('\u{1b}'), "{text:?}");
            assert!(!workdir.path("a.toml").exists() && !workdir.path("b").exists());
        }
    }
}

#[test]
fn what_cannot_be_met_says_what_would_have_to_give() {
    let library = library();
    // In a 50 m pool warm-up and cool-down take two lengths each, at most a fifth of the distance:
    // 500 m is the least, whatever the main set.
    let short = wish(Level::Beginner, Goal::Technique, "50 m", 210, 15);
    let error = draft(&short, &library).expect_err("a quarter of an hour is too short");
    let DraftError::Time { below: None, above: Some(least), .. } = error else {
        panic!("{error:?}");
    };
    let metres = least.distance.sixths() / 6;
    assert!((500..=800).contains(&metres), "{least}");
    let enough = Wish { time: Some(least.seconds), ..short };
    held_against(&enough, &draft(&enough, &library).expect("the least there is"));

    let distance = Some(Distance::whole(3000, Unit::Metre));
    let error = draft(&Wish { distance, ..evening() }, &library).expect_err("3,000 m in 40 min");
    assert!(matches!(error, DraftError::TooLong { .. }), "{error:?}");

    // 3,000 m at 2:40 per 100 m are 30 x 160 s = 80 min. They are at most 80 % of the distance:
    // 3,750 m or more, of which 750 m at 2:40 and easier take 20 min or more.
    let unbroken = Some(Distance::whole(3000, Unit::Metre));
    let error = draft(&Wish { unbroken, ..evening() }, &library).expect_err("80 min in 40");
    let said =
        "a swim of 3,000 m without a stop takes 1:20:00 at this pace, longer than 40:00: give it ";
    assert!(error.to_string().starts_with(said), "{error}");
    let DraftError::SwimTooLong { needs: Some(needs), .. } = error else { panic!("{error:?}") };
    assert!(needs.distance.sixths() >= 3750 * 6, "{needs}");
    let minutes = needs.seconds.get().div_ceil(60);
    assert!(minutes >= 100, "{needs}");
    let enough = Wish { unbroken, time: Some(Seconds::new(minutes * 60)), ..evening() };
    assert!(draft(&enough, &library).is_ok(), "{needs}");

    // 15,000 m at 2:40 are 150 x 160 s = 6 h 40 min, and nobody is drafted a session of so long.
    let unbroken = Some(Distance::whole(15_000, Unit::Metre));
    let error = draft(&Wish { unbroken, ..evening() }, &library).expect_err("6:40:00 in 40:00");
    let said = "a swim of 15,000 m without a stop takes 6:40:00 at this pace, longer than 40:00: no \
                session of up to three hours holds it, so give it a shorter swim";
    assert_eq!(error.to_string(), said);

    // 1,500 m are at most 80 % of the distance: 1,875 m, which take longer than 40 minutes.
    let unbroken = Some(Distance::whole(1500, Unit::Metre));
    let error = draft(&Wish { unbroken, ..evening() }, &library).expect_err("1,500 m at once");
    let DraftError::Unbroken { needs, .. } = error else { panic!("{error:?}") };
    assert!(needs.distance.sixths() >= 1875 * 6, "{needs}");

    let focus = Some("high elbow and quick feet".to_owned());
    let error = draft(&Wish { focus, ..evening() }, &library).expect_err("two skills");
    assert!(matches!(error, DraftError::Head { .. }), "{error:?}");
    let none = draft(&Wish { time: None, ..evening() }, &library);
    assert_eq!(none, Err(DraftError::NothingWanted));
}

const OWN: &str = r#"goal = "technique"

[[pattern]]
id = "hernmarsh-tens"
name = "Ten by one"
why = "The club's own: ten single lengths, each begun with a push and a thought."
parts = ["main set"]
levels = ["beginner"]
sets = [
  { swim = "10,20 x 25 own", rest = "15-30 s", think = "swim" },
]
"#;

#[test]
fn a_clubs_own_patterns_come_first() {
    let library = library().with(&Source::new("own.toml", OWN)).expect("the club's patterns");
    let drafted = draft(&evening(), &library).expect("a session");
    let ids: Vec<&str> = drafted.chosen.iter().map(|chosen| chosen.id.as_str()).collect();
    assert!(ids.contains(&"hernmarsh-tens"), "{ids:?}");
}

#[test]
fn what_is_not_closed_hides_no_other_fault_of_a_pattern_file() {
    // A list and a table are opened and never closed, and 51 rounds are one too many.
    let own = OWN.replace("{ swim", "{ rounds = [2, 51], sets = [{ swim");
    let error = library().with(&Source::new("own.toml", own)).expect_err("faults");
    let ids: Vec<&str> = error.findings.iter().map(|finding| finding.rule.id).collect();
    assert_eq!(ids, ["over-limit", "bad-toml", "bad-toml"], "{:?}", error.findings);
}

/// Line 10 is the set's; the head has 1 and 2, the pattern's own keys 3 to 9.
#[test]
fn a_pattern_file_with_a_fault_says_where() {
    for (from, to, id, line) in [
        ("10,20 x 25 own", "ten x 25", "unreadable-swim", 10),
        ("10,20 x 25 own", "10,20 x 25 splash", "unreadable-swim", 10),
        ("10,20 x 25 own", "10,2000 x 25 own", "over-limit", 10),
        ("10,20 x 25 own", "0 x 25 own", "over-limit", 10),
        ("main set", "main sett", "unknown-word", 7),
        ("[\"main set\"]", "\"main set\"", "wrong-kind", 7),
        ("[\"main set\"]", "[]", "missing-key", 7),
        ("15-30 s", "15-30", "unreadable-time", 10),
        ("15-30 s", "30-15 s", "unreadable-time", 10),
        ("\"15-30 s\"", "15", "wrong-kind", 10),
        ("think", "thinks", "unknown-key", 10),
        ("\"swim\" }", "\"swum\" }", "unknown-word", 10),
        ("hernmarsh-tens", "t-count-and-keep", "pattern-twice", 4),
        (", rest = \"15-30 s\"", "", "missing-key", 10),
        (", rest", ", on = \"10 s\", rest", "rest-and-send-off", 10),
        ("levels", "skills = [\"clean entri\"]\nlevels", "skill-unknown", 8),
        ("Ten by one", " ", "empty-text", 5),
        ("name = \"Ten by one\"\n", "", "missing-key", 3),
        ("goal = \"technique\"\n", "", "missing-key", 2),
    ] {
        let own = Source::new("own.toml", OWN.replace(from, to));
        let error = library().with(&own).expect_err("a fault");
        let ids: Vec<&str> = error.findings.iter().map(|finding| finding.rule.id).collect();
        assert_eq!(ids, [id], "{from} -> {to}: {:?}", error.findings);
        let place = error.findings[0].place().expect("a place");
        assert_eq!(own.position(place.start).line, line, "{from} -> {to}: {error}");
    }
}

#[test]
fn rounds_of_a_pattern_are_one_deep_and_within_their_limit() {
    let set = "{ swim = \"2 x 25 own\", rest = \"15-30 s\" }";
    let with = |line: &str| {
        let text = OWN
            .replace("{ swim = \"10,20 x 25 own\", rest = \"15-30 s\", think = \"swim\" }", line);
        assert_ne!(text, OWN);
        library().with(&Source::new("own.toml", text)).map_err(|error| {
            error.findings.iter().map(|finding| finding.rule.id).collect::<Vec<_>>()
        })
    };
    assert!(with(&format!("{{ rounds = [2, 50], sets = [{set}] }}")).is_ok());
    assert_eq!(
        with(&format!("{{ rounds = [2, 51], sets = [{set}] }}")).err(),
        Some(vec!["over-limit"])
    );
    assert_eq!(with(&format!("{{ rounds = [], sets = [{set}] }}")).err(), Some(vec!["over-limit"]));
    assert_eq!(with(&format!("{{ sets = [{set}] }}")).err(), Some(vec!["missing-key"]));
    let deep = format!("{{ rounds = [2], sets = [{{ rounds = [2], sets = [{set}] }}] }}");
    let ids = with(&deep).expect_err("rounds within rounds");
    assert!(ids.iter().all(|id| matches!(*id, "unknown-key" | "missing-key")), "{ids:?}");
}

/// Two slips in one file, each with its line; a draft from it is refused with the same words.
#[test]
fn a_pattern_file_is_checked_and_refused_with_every_fault() {
    let torn = OWN.replace("think", "thinks").replace("main set", "main sett");
    let folder = Workdir::new().file("own.toml", &torn).file("good.toml", OWN);
    let checked = folder.run(&["check", "--format", "short", "own.toml"]);
    assert_eq!(checked.exit, 1);
    let lines: Vec<&str> = checked.err.lines().collect();
    assert_eq!(lines.len(), 2, "{lines:?}");
    assert!(
        lines[0].starts_with("own.toml:7:") && lines[0].contains("[unknown-word]"),
        "{lines:?}"
    );
    assert!(
        lines[1].starts_with("own.toml:10:") && lines[1].contains("[unknown-key]"),
        "{lines:?}"
    );
    let checked = folder.run(&["check", "own.toml"]);
    let refused = folder.run(&asked(&["--patterns", "own.toml", "-o", "a.toml"]));
    assert_eq!((refused.exit, refused.err), (1, checked.err));
    assert!(!folder.path("a.toml").exists());
    let good = folder.run(&["check", "good.toml"]);
    assert_eq!((good.exit, good.err.as_str()), (0, ""));
    let printed = folder.run(&["show", "good.toml"]);
    assert_eq!(printed.exit, 2);
    assert!(printed.err.contains("is a file of patterns and no session"), "{}", printed.err);
}

#[test]
fn a_file_that_is_no_file_of_patterns_is_refused() {
    let large = format!("goal = \"technique\"\n{}", "#\n".repeat(1024 * 512));
    let folder = Workdir::new().file("s.toml", GOOD).file("large.toml", &large);
    let session = folder.run(&asked(&["--patterns", "s.toml", "-o", "-"]));
    assert_eq!(session.exit, 1);
    assert!(session.err.contains("a session file and no file of patterns"), "{}", session.err);
    let large = folder.run(&asked(&["--patterns", "large.toml", "-o", "-"]));
    assert_eq!(large.exit, 1);
    assert!(large.err.contains("larger than 1 MiB"), "{}", large.err);
    let missing = folder.run(&asked(&["--patterns", "none.toml", "-o", "-"]));
    assert_eq!(missing.exit, 2);
}

fn asked<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&DRAFT[..], &["--minutes", "40"], more].concat()
}

#[test]
fn the_command_writes_a_file_that_checks_clean() {
    let workdir = Workdir::new().file("own.toml", OWN);
    let ran =
        workdir.run(&asked(&["--focus", "clean entry", "--gear", "board,fins", "-o", "a.toml"]));
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let checked = workdir.run(&["check", "a.toml"]);
    assert_eq!((checked.exit, checked.err.as_str()), (0, ""));
    let again = workdir.run(&asked(&["-o", "a.toml"]));
    assert_eq!(again.exit, 2);
    assert!(again.err.contains("--force writes over it"), "{}", again.err);
    assert_eq!(workdir.run(&asked(&["-o", "a.toml", "--force"])).exit, 0);
    let own = workdir.run(&asked(&["--patterns", "own.toml", "-o", "-"]));
    assert!(own.out.contains("title = \"Ten by one\""), "{}", own.out);
}

#[test]
fn the_command_suggests_the_word_that_was_meant() {
    let workdir = Workdir::new();
    let mut wrong = asked(&["-o", "-"]);
    wrong[4] = "tecnique";
    let ran = workdir.run(&wrong);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("did you mean \"technique\"?"), "{}", ran.err);
    let ran = workdir.run(&asked(&["--minutes", "8", "-o", "-"]));
    assert_eq!(ran.exit, 2);
    let gear = workdir.run(&asked(&["--gear", "boards", "-o", "-"]));
    assert!(gear.err.contains("did you mean \"board\"?"), "{}", gear.err);
}
