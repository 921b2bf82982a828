//! The arithmetic against things outside the project: a reference library of units,
//! published factors between courses, sums of sets.

use deckcard::measure::{Distance, Pace, Seconds, TrueLength, Unit};
use measurements::Length;
use serde_json::Value;

use crate::command::{GOOD, Workdir};

/// The crate measurements, which takes the yard as 0.9144 m (international yard and pound
/// agreement, 1959), and the table of NIST SP 811, appendix B.8.
#[test]
fn yards_in_metres_agree_with_a_library_of_units() {
    for (yards, published_m) in
        [(25, 22.86), (50, 45.72), (100, 91.44), (500, 457.2), (1650, 1508.76), (1760, 1609.344)]
    {
        let ours = Distance::whole(yards, Unit::Yard).true_length().grid() as f64
            / TrueLength::GRID_PER_METRE as f64;
        let library = Length::from_yards(yards as f64).as_meters();
        assert!((ours - library).abs() < 1e-9, "{yards} yd: {ours} and {library}");
        assert!((ours - published_m).abs() < 1e-9, "{yards} yd: {ours} and {published_m}");
    }
}

/// NCAA Division I qualifying standards 2021-22 convert times from 25 m to 25 yd with 0.906,
/// 400 m to 500 yd with 1.153 and 1500 m to 1650 yd with 1.013. Swim times here follow the
/// plain ratio of distances; for training they must come within 2 % of those.
#[test]
fn swim_times_in_the_other_course_are_within_two_per_cent_of_published_factors() {
    for (metres, yards, published_permille) in
        [(100, 100, 906), (400, 500, 1153), (1500, 1650, 1013)]
    {
        let pace = Pace { per_100: Seconds::new(1000), unit: Unit::Metre };
        let time = |distance| pace.swim_time(distance, [1000; 3]).expect("a time").get();
        let here = time(Distance::whole(metres, Unit::Metre));
        let there = time(Distance::whole(yards, Unit::Yard));
        let ours_permille = there * 1000 / here;
        let off = ours_permille.abs_diff(published_permille) * 100;
        assert!(off <= 2 * published_permille, "{metres} m, {yards} yd: {ours_permille}");
    }
}

/// The main set of a session whose only main line is `line`.
fn main_set(line: &str, pace: &str) -> Value {
    let text = GOOD
        .replace("pace = \"2:30\"", &format!("pace = \"{pace}\""))
        .replace("{ swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\" }", line);
    let ran = Workdir::new().file("s.toml", text).run(&["show", "--json", "s.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let shown: Value = serde_json::from_str(&ran.out).expect("JSON");
    shown["parts"][1].clone()
}

/// By definition: the last rest counts, and a send-off leaves what the swim does not take.
/// 20 x 100 swum in 1:20 on 2:00 leaves 40 s, 10 x 100 on 1:40 holding 1:05 leaves 35 s:
/// Wallace, Slattery, Coutts 2009, J Strength Cond Res 23(1):33-38.
#[test]
fn sums_of_sets() {
    let six = main_set(r#"{ swim = "6 x 50 free", rest = ":15" }"#, "1:30");
    assert_eq!((&six["distance"], &six["seconds"]), (&300.into(), &360.into()));
    assert_eq!(six["metres_per_minute"], 50.0);
    let ten = main_set(r#"{ swim = "10 x 100 free", on = "1:35" }"#, "1:20");
    assert_eq!(ten["seconds"], 15 * 60 + 50);
    let twenty = main_set(r#"{ swim = "20 x 100 free", on = "2:00" }"#, "1:20");
    assert_eq!(twenty["sets"][0]["rest_seconds"], 40);
    let holding = main_set(r#"{ swim = "10 x 100 free", on = "1:40" }"#, "1:05");
    assert_eq!(holding["sets"][0]["rest_seconds"], 35);
}

/// By arithmetic: 3 x 500 = 1500; 2 x (500 + 400 + 300 + 200) = 2800.
#[test]
fn distances_of_sets() {
    let plain = main_set(r#"{ swim = "3 x 500 free", rest = "30 s" }"#, "1:30");
    assert_eq!(plain["distance"], 1500);
    let sets: Vec<String> =
        [500, 400, 300, 200].map(|d| format!(r#"{{ swim = "{d}", rest = "30 s" }}"#)).to_vec();
    let ladder = format!("{{ rounds = 2, sets = [{}] }}", sets.join(", "));
    assert_eq!(main_set(&ladder, "1:30")["distance"], 2800);
}
