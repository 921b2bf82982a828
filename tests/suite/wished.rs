//! Blocks as swimmers wish for them, against what was worked by hand: `tests/wished/blocks.toml`;
//! and sessions that there are none of, with the nearest there are: `tests/wished/sessions.toml`.

use std::path::Path;

use serde::Deserialize;
use serde_json::Value;

use crate::command::Workdir;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wishes {
    wish: Vec<Wish>,
}

/// The file says what each is.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wish {
    who: String,
    ask: Vec<String>,
    #[serde(default)]
    refused: Vec<String>,
    title: Option<String>,
    last: Option<u64>,
    in_week: Option<u64>,
    #[serde(default)]
    easier: Vec<u64>,
    minutes: Option<u64>,
    beside: Option<u64>,
    dates: Option<[String; 2]>,
}

fn wishes() -> Vec<Wish> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/wished/blocks.toml");
    let text = std::fs::read_to_string(&file).unwrap_or_else(|error| panic!("{file:?}: {error}"));
    let wishes: Wishes = toml::from_str(&text).unwrap_or_else(|error| panic!("{file:?}: {error}"));
    wishes.wish
}

#[test]
fn blocks_are_what_swimmers_wished_for() {
    let wishes = wishes();
    assert!(wishes.len() >= 12, "a dozen wishes");
    let mut wrong = Vec::new();
    for wish in &wishes {
        let workdir = Workdir::new();
        let mut all: Vec<&str> = vec!["block", "draft", "-o", "b"];
        all.extend(wish.ask.iter().map(String::as_str));
        let ran = workdir.run(&all);
        if !wish.refused.is_empty() {
            let unsaid = wish.refused.iter().find(|said| !ran.err.contains(said.as_str()));
            if ran.exit != 2 || unsaid.is_some() {
                wrong.push(format!("{}: {unsaid:?} is not in {}", wish.who, ran.err));
            }
            continue;
        }
        if ran.exit != 0 {
            wrong.push(format!("{}: {}", wish.who, ran.err));
            continue;
        }
        let shown = workdir.run(&["block", "show", "--json", "b"]);
        let block: Value = serde_json::from_str(&shown.out).expect("JSON");
        let mut faults = faults(wish, &block);
        if !shown.err.is_empty() {
            faults.push(shown.err);
        }
        let table = workdir.run(&["block", "show", "b"]).out;
        wrong.extend(faults.iter().map(|fault| format!("{}: {fault}\n{table}", wish.who)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The file says what each is.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Unmet {
    who: String,
    ask: Vec<String>,
    but: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UnmetWishes {
    wish: Vec<Unmet>,
}

#[test]
fn a_refusal_offers_no_less_than_can_be_had() {
    let text = include_str!("../wished/sessions.toml");
    let wishes: UnmetWishes = toml::from_str(text).expect("a file of wishes");
    let workdir = Workdir::new();
    let draft = |ask: &[&str]| {
        let all = [&["draft", "--pace", "1:45", "-o", "-"][..], ask].concat();
        workdir.run(&all)
    };
    let mut wrong = Vec::new();
    for wish in &wishes.wish {
        let ask: Vec<&str> = wish.ask.iter().map(String::as_str).collect();
        let (wanted, option) = ask.split_last().expect("an option and its value");
        let by_time = option.last() == Some(&"--minutes");
        let of = |offer: &str| offer_of(offer, by_time);
        let wanted: u64 = wanted.parse().expect("a number");
        let ran = draft(&ask);
        let offers: Vec<u64> =
            ran.err.split("the nearest found ").nth(1).map_or(Vec::new(), |said| {
                said.trim_start_matches("is ")
                    .trim_start_matches("are ")
                    .split(" and ")
                    .map(of)
                    .collect()
            });
        if ran.exit != 2 || offers.is_empty() {
            wrong.push(format!("{}: nothing is offered: {}", wish.who, ran.err));
            continue;
        }
        let asked = |number: u64| draft(&[option, &[number.to_string().as_str()]].concat());
        // What is offered is drafted.
        for offer in &offers {
            let again = asked(*offer);
            if again.exit != 0 {
                wrong.push(format!("{}: {offer} is offered, and then {}", wish.who, again.err));
            }
        }
        let off = offers.iter().map(|offer| offer.abs_diff(wanted)).min().unwrap_or(u64::MAX);
        for but in &wish.but {
            let but: u64 = but.parse().expect("a number");
            if asked(but).exit == 0 && but.abs_diff(wanted) < off {
                wrong.push(format!("{}: there is {but}, and {}", wish.who, ran.err));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The metres of "4,850 m in 1:59:04", or its minutes rounded up.
fn offer_of(offer: &str, by_time: bool) -> u64 {
    let (metres, time) = offer.trim().split_once(" m in ").expect("a distance in a time");
    let number = |text: &str| text.replace(',', "").parse::<u64>().expect("a number");
    match by_time {
        false => number(metres),
        true => time.split(':').fold(0, |seconds, part| seconds * 60 + number(part)).div_ceil(60),
    }
}

/// What of a block is not as it was worked by hand, and not as every block is.
fn faults(wish: &Wish, block: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    let mut same = |what: &str, found: String, wanted: String| {
        if found != wanted {
            faults.push(format!("{what} is {found}, not {wanted}"));
        }
    };
    let weeks = block["weeks"].as_array().expect("weeks");
    let numbers = |marked: &dyn Fn(&Value) -> bool| -> Vec<u64> {
        weeks
            .iter()
            .filter(|week| marked(week))
            .filter_map(|week| week["number"].as_u64())
            .collect()
    };
    if let Some(title) = &wish.title {
        same("the title", block["title"].as_str().unwrap_or("").to_owned(), title.clone());
    }
    let easier = numbers(&|week| week["easier"] == true);
    same("the easier weeks", format!("{easier:?}"), format!("{:?}", wish.easier));
    let longest = |week: &Value| millionths(&week["longest_m"]);
    let most = weeks.iter().map(longest).max().unwrap_or(0);
    let length = millionths(&weeks[0]["sessions"][0]["distance_m"])
        / weeks[0]["sessions"][0]["lengths"].as_u64().expect("lengths");
    same(
        "the longest swim",
        format!("{}", (most + length / 2) / length),
        format!("{}", wish.last.unwrap_or(0)),
    );
    let first = numbers(&|week| longest(week) == most).first().copied();
    same("its week", format!("{first:?}"), format!("{:?}", wish.in_week));
    let sessions: Vec<&Value> =
        weeks.iter().flat_map(|week| week["sessions"].as_array().expect("sessions")).collect();
    if let Some(dates) = &wish.dates {
        let date =
            |session: Option<&&Value>| session.map(|s| s["date"].as_str().unwrap_or("").to_owned());
        let found = [date(sessions.first()), date(sessions.last())];
        same("the dates", format!("{found:?}"), format!("{:?}", dates.clone().map(Some)));
    }
    for session in &sessions {
        let seconds = session["seconds"].as_u64().unwrap_or(u64::MAX);
        let is_beside = session["goal"] == "technique";
        let limits = [wish.minutes, wish.beside.filter(|_| is_beside)];
        if let Some(over) = limits.into_iter().flatten().find(|minutes| seconds > minutes * 60) {
            faults.push(format!("{} takes {seconds} s, {over} min at most", session["file"]));
        }
    }
    faults.extend(growth_faults(weeks, length));
    faults
}

/// A distance in metres in whole millionths.
fn millionths(metres: &Value) -> u64 {
    (metres.as_f64().expect("metres") * 1e6).round() as u64
}

/// Weeks that grow by more than a tenth and a lap, swims by more than half and a lap, over the
/// most before them.
fn growth_faults(weeks: &[Value], length: u64) -> Vec<String> {
    let mut faults = Vec::new();
    let (mut full, mut longest): (Option<u64>, Option<u64>) = (None, None);
    for week in weeks {
        let (total, swim) = (millionths(&week["distance_m"]), millionths(&week["longest_m"]));
        let lap = 2 * length + 10;
        if full.is_some_and(|full| total > (full + full / 10).max(full + lap)) {
            faults.push(format!("week {} grows to {total} from {full:?}", week["number"]));
        }
        if longest.is_some_and(|before| swim > (before + before / 2).max(before + lap)) {
            faults.push(format!("week {} swims {swim} after {longest:?}", week["number"]));
        }
        if week["easier"] == false {
            full = Some(total);
        }
        longest = longest.max(Some(swim));
    }
    faults
}
