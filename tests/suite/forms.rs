//! The swim line in all its forms: lines that a non-programmer can add to, and laws of the grammar.

use std::path::Path;

use deckcard::check::cycle::{Cycle, Leg, Repeat};
use deckcard::measure::Pool;
use deckcard::reader::trade_words::TradeWord;
use deckcard::session::Swim;
use deckcard::session::words::Mode;

use crate::command::{GOOD, Workdir};
use crate::invented::Dice;

fn pool() -> Pool {
    "25 m".parse().expect("a pool")
}

/// The entries of a file of `left => right` lines.
fn entries(name: &str) -> Vec<(String, String)> {
    let text = std::fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/forms").join(name),
    )
    .expect(name);
    let lines = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    let entry = |line: &str| {
        let (left, right) = line.split_once(" => ").unwrap_or_else(|| panic!("{line}"));
        (left.trim().to_owned(), right.trim().to_owned())
    };
    lines.map(entry).collect()
}

fn leg(leg: &Leg, repeat: &Repeat) -> String {
    let mut words = vec![match repeat.time {
        Some(time) => time.to_string(),
        None => leg.distance(pool()).number_text(),
    }];
    match leg.movement {
        Some(movement) => words.push(movement.text().to_owned()),
        None => words.push(leg.stroke.to_string()),
    }
    if leg.mode != Mode::Swim {
        words.push(leg.mode.to_string());
    }
    words.extend(leg.effort.as_ref().map(|effort| effort.said().to_owned()));
    words.join(" ")
}

fn asked(cycle: &Cycle) -> String {
    let repeats = cycle.repeats.iter().map(|repeat| {
        repeat.legs.iter().map(|one| leg(one, repeat)).collect::<Vec<_>>().join(" + ")
    });
    format!("{} x [{}]", cycle.times, repeats.collect::<Vec<_>>().join(" | "))
}

#[test]
fn every_form_is_read_as_reckoned_by_hand() {
    let all = entries("lines.txt");
    assert!(all.len() >= 50, "{}", all.len());
    for (line, right) in all {
        let (meant, plain) = match right.split_once(" reads ") {
            Some((meant, plain)) => (meant.trim().to_owned(), plain.trim().to_owned()),
            None => (right, line.clone()),
        };
        let swim = Swim::parse(&line).unwrap_or_else(|error| panic!("{line}: {error:?}"));
        let cycle =
            Cycle::of(&swim, pool(), None).unwrap_or_else(|error| panic!("{line}: {error:?}"));
        assert_eq!(asked(&cycle), meant, "{line}");
        assert_eq!(swim.to_string(), plain, "{line}");
        assert_eq!(Swim::parse(&plain).as_ref(), Ok(&swim), "{plain} reads back");
    }
}

#[test]
fn what_is_refused_says_why() {
    for (line, says) in entries("refused.txt") {
        let text = GOOD.replace("8 x 50 free", &line);
        let ran = Workdir::new().file("s.toml", text).run(&["check", "s.toml"]);
        assert_eq!(ran.exit, 1, "{line}: {}", ran.err);
        assert!(ran.err.contains(&says), "{line}: wanted {says}\n{}", ran.err);
    }
}

/// Pieces that lines are made of, and some that are none.
const PIECES: [&str; 44] = [
    "4",
    "8",
    "12",
    "25",
    "50",
    "75",
    "100",
    "200",
    "x",
    "x ",
    " ",
    " ",
    "free",
    "fly",
    "back",
    "IM",
    "kick",
    "drill",
    "swim",
    "/",
    "(",
    ")",
    ",",
    ", ",
    ": ",
    "-",
    "odd",
    "even",
    "every 4th",
    "every other",
    "last 2",
    "easy",
    "sprint",
    "by 25",
    "broken",
    "at each 50",
    "10 s",
    "min",
    "IM order",
    "descend 1-3",
    "half a length",
    "lengths",
    "on 1:30",
    "vertical kick",
];

/// 100,000 lines, some made of pieces and some of good lines with pieces in them: none panics, what is
/// read is read again from its plainest spelling, and legs are their repeat.
#[test]
fn mutated_lines_are_read_or_refused() {
    let good: Vec<String> = entries("lines.txt").into_iter().map(|(line, _)| line).collect();
    let mut dice = Dice::new(14);
    let (mut read, mut counted) = (0, 0);
    for _ in 0..100_000 {
        let line = mutated(&mut dice, &good);
        let Ok(swim) = Swim::parse(&line) else { continue };
        read += 1;
        let plain = swim.to_string();
        assert_eq!(Swim::parse(&plain).as_ref(), Ok(&swim), "{line:?} as {plain:?}");
        let Ok(cycle) = Cycle::of(&swim, pool(), None) else { continue };
        counted += 1;
        let sum: u32 = cycle.legs().map(|leg| leg.lengths.get()).sum();
        assert_eq!(sum, cycle.run().get(), "{line:?}");
        let again = Cycle::of(&swim.clone(), pool(), None);
        assert_eq!(again.as_ref(), Ok(&cycle), "{line:?}");
        let empty = |repeat: &Repeat| repeat.legs.is_empty();
        assert!(cycle.times > 0 && !cycle.repeats.iter().any(empty), "{line:?}");
    }
    assert!(read > 7_000 && counted > 5_000, "{read} read, {counted} counted");
}

fn mutated(dice: &mut Dice, good: &[String]) -> String {
    let mut line = match dice.roll(3) {
        0 => String::new(),
        _ => dice.pick(&good.iter().collect::<Vec<_>>()).clone(),
    };
    for _ in 0..=dice.roll(4) {
        let places: Vec<usize> =
            line.char_indices().map(|(at, _)| at).chain([line.len()]).collect();
        let at = dice.pick(&places);
        match dice.roll(3) {
            0 if at < line.len() => {
                line.remove(at);
            }
            _ => line.insert_str(at, dice.pick(&PIECES)),
        }
    }
    line
}

/// The clauses of a set line, as the table of `show` says what was understood of them.
#[test]
fn every_clause_is_read_as_reckoned_by_hand() {
    let all = entries("clauses.txt");
    for (line, right) in &all {
        let (swim, wait) = right.split_once(" | ").expect("a swim and a rest or a send-off");
        let start = GOOD.find("  { swim = \"8 x 50 free\"").expect("the main set");
        let end = start + GOOD[start..].find('\n').expect("its end");
        let text = format!("{}  \"{line}\",{}", &GOOD[..start], &GOOD[end..]);
        let text = text.replace("pace = \"2:30\"", "pace = \"1:00\"");
        let ran = Workdir::new().file("s.toml", text).run(&["show", "s.toml", "--json"]);
        let json: serde_json::Value = serde_json::from_str(&ran.out).expect(line);
        let set = &json["parts"][1]["sets"][0];
        assert_eq!(set["swim"], swim, "{line}");
        let is = match (set["send_off_seconds"].as_u64(), set["rest_seconds"].as_u64()) {
            (Some(on), _) => format!("on {}:{:02}", on / 60, on % 60),
            // A rest when needed counts half a minute.
            (None, Some(30)) if wait == "rest when needed" => wait.to_owned(),
            (None, rest) => format!("rest {} s", rest.expect("a rest")),
        };
        assert_eq!(is, wait, "{line}");
        let kept = json["findings"].as_array().expect("findings").iter();
        let kept = kept.filter(|finding| finding["id"] == "words-kept-as-cue").count();
        assert_eq!(kept, 0, "{line}");
    }
    assert!(all.len() >= 15);
}
