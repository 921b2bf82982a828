//! Every set of every demo session against the reckonings in tests/reckoned, which are
//! worked apart from the program with the sums in comments.

use std::path::Path;

use deckcard::intake;
use deckcard::plan::Worked;
use deckcard::report::json;
use serde::Deserialize;
use serde_json::Value;

use crate::command::{demo_sessions, stem};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Reckoning {
    total: Total,
    part: Vec<Part>,
    version: Vec<Version>,
    #[serde(default)]
    lane: Vec<Lane>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Total {
    distance: String,
    lengths: u64,
    seconds: u64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Part {
    kind: String,
    distance: String,
    seconds: u64,
    share: String,
    set: Vec<Set>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Set {
    swim: String,
    distance: String,
    /// Left out where the repeats differ.
    swim_seconds: Option<u64>,
    rest_seconds: Option<u64>,
    send_off_seconds: Option<u64>,
    /// The swim and the rest of each repeat of a cycle.
    #[serde(default)]
    cycle: Vec<[u64; 2]>,
    seconds: u64,
    #[serde(default)]
    clock: Vec<u64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Version {
    pool: String,
    distance: String,
    lengths: u64,
    seconds: u64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Lane {
    name: String,
    seconds: u64,
    set: Vec<LaneSet>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LaneSet {
    swim_seconds: u64,
    rest_seconds: u64,
    send_off_seconds: Option<u64>,
    seconds: u64,
}

/// "66 2/3" and the JSON's 66.667 are the same number.
fn same_number(text: &str, value: &Value) -> bool {
    let mut words = text.split(' ');
    let whole: f64 = words.next().and_then(|w| w.parse().ok()).expect("a number");
    let third = match words.next() {
        None => 0.0,
        Some("1/3") => 1.0 / 3.0,
        Some("2/3") => 2.0 / 3.0,
        Some(other) => panic!("{other} is no fraction"),
    };
    value.as_f64().is_some_and(|number| (number - whole - third).abs() < 0.001)
}

fn sets_of(value: &Value) -> Vec<&Value> {
    let parts = value["parts"].as_array().expect("parts");
    parts.iter().flat_map(|part| part["sets"].as_array().expect("sets")).collect()
}

#[test]
fn every_demo_has_its_reckoning_and_agrees_with_it() {
    let demos = demo_sessions();
    assert!(demos.len() >= 8, "at least eight demo sessions");
    for path in demos {
        let name = stem(&path);
        let file =
            Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/reckoned/{name}.toml"));
        let text = std::fs::read_to_string(&file).unwrap_or_else(|e| panic!("{file:?}: {e}"));
        let reckoned: Reckoning = toml::from_str(&text).unwrap_or_else(|e| panic!("{file:?}: {e}"));
        let intake = intake::open(&path).expect("a demo session opens");
        let ready = intake.ready.unwrap_or_else(|| panic!("{name}: {:?}", intake.findings));
        let shown = json::session(&Worked::of(&ready.session, ready.written), &[], &[]);
        compare(&name, &reckoned, &shown);
    }
}

fn compare(name: &str, reckoned: &Reckoning, shown: &Value) {
    assert!(same_number(&reckoned.total.distance, &shown["distance"]), "{name}: total");
    assert_eq!(shown["lengths"], reckoned.total.lengths, "{name}: lengths");
    assert_eq!(shown["seconds"], reckoned.total.seconds, "{name}: seconds");
    let parts = shown["parts"].as_array().expect("parts");
    assert_eq!(parts.len(), reckoned.part.len(), "{name}: parts");
    for (part, expected) in parts.iter().zip(&reckoned.part) {
        let kind = &expected.kind;
        assert_eq!(part["kind"], *kind, "{name}");
        assert!(same_number(&expected.distance, &part["distance"]), "{name}, {kind}: distance");
        assert_eq!(part["seconds"], expected.seconds, "{name}, {kind}: seconds");
        assert_eq!(part["share"].to_string(), expected.share, "{name}, {kind}: share");
        let sets = part["sets"].as_array().expect("sets");
        assert_eq!(sets.len(), expected.set.len(), "{name}, {kind}: sets");
        for (set, expected) in sets.iter().zip(&expected.set) {
            compare_set(&format!("{name}, {kind}, {}", expected.swim), expected, set);
        }
    }
    let versions = shown["versions"].as_array().expect("versions");
    assert_eq!(versions.len(), reckoned.version.len(), "{name}: versions");
    for expected in &reckoned.version {
        let version = versions.iter().find(|version| version["pool"] == expected.pool);
        let version = version.unwrap_or_else(|| panic!("{name}: no version for {}", expected.pool));
        assert!(same_number(&expected.distance, &version["distance"]), "{name}: {}", expected.pool);
        assert_eq!(version["lengths"], expected.lengths, "{name}, {}", expected.pool);
        assert_eq!(version["seconds"], expected.seconds, "{name}, {}", expected.pool);
    }
    let lanes = shown["lanes"].as_array().expect("lanes");
    assert_eq!(lanes.len(), reckoned.lane.len(), "{name}: lanes");
    for (lane, expected) in lanes.iter().zip(&reckoned.lane) {
        let where_ = format!("{name}, {}", expected.name);
        assert_eq!(lane["name"], expected.name, "{where_}");
        assert_eq!(lane["seconds"], expected.seconds, "{where_}");
        let sets = sets_of(lane);
        assert_eq!(sets.len(), expected.set.len(), "{where_}: sets");
        for (set, expected) in sets.into_iter().zip(&expected.set) {
            assert_eq!(set["swim_seconds"], expected.swim_seconds, "{where_}");
            assert_eq!(set["rest_seconds"], expected.rest_seconds, "{where_}");
            assert_eq!(set["send_off_seconds"].as_u64(), expected.send_off_seconds, "{where_}");
            assert_eq!(set["seconds"], expected.seconds, "{where_}");
        }
    }
}

fn compare_set(where_: &str, expected: &Set, set: &Value) {
    assert_eq!(set["swim"], expected.swim, "{where_}");
    assert!(same_number(&expected.distance, &set["distance"]), "{where_}: distance");
    assert_eq!(set["swim_seconds"].as_u64(), expected.swim_seconds, "{where_}: swim");
    assert_eq!(set["rest_seconds"].as_u64(), expected.rest_seconds, "{where_}: rest");
    let time = |repeat: &Value, key: &str| repeat[key].as_u64().expect("seconds");
    let cycle = set["cycle"].as_array().into_iter().flatten();
    let cycle = cycle.map(|one| [time(one, "swim_seconds"), time(one, "rest_seconds")]);
    assert_eq!(cycle.collect::<Vec<_>>(), expected.cycle, "{where_}: cycle");
    assert_eq!(set["send_off_seconds"].as_u64(), expected.send_off_seconds, "{where_}: send-off");
    assert_eq!(set["seconds"], expected.seconds, "{where_}: seconds");
    let clock: Vec<u64> =
        set["clock"].as_array().expect("a clock").iter().filter_map(Value::as_u64).collect();
    assert_eq!(clock, expected.clock, "{where_}: clock");
}
