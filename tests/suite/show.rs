//! `show`: what a recut changed, one lap in the other unit, when lanes are out.

use std::path::Path;

use crate::command::{GOOD, Workdir};

fn shown(path: &str) -> serde_json::Value {
    let ran = Workdir::new().run(&["show", "--json", path]);
    serde_json::from_str(&ran.out).expect("JSON")
}

#[test]
fn versions_say_what_was_changed_and_lanes_when_they_are_out() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions/three-lanes.toml");
    let session = shown(&file.to_string_lossy());
    assert_eq!(session["recut_from"], serde_json::Value::Null);
    assert_eq!(session["changes"], serde_json::json!([]));
    let other = &session["versions"][0];
    assert_eq!(other["recut_from"], serde_json::json!({ "pool": "25 m", "distance": 1300 }));
    // 50 yd are 45.72 m (1 yd = 0.9144 m).
    assert_eq!(other["lap"], "45.7 m");
    assert_eq!(
        other["changes"][1],
        serde_json::json!({
            "part": "main set",
            "change": "8 x 50 free becomes 10 x 50 free",
            "why": "to keep the distance in 25 yd",
        })
    );
    // Each lane starts at 19:15 and takes the seconds it says.
    for lane in session["lanes"].as_array().expect("lanes") {
        let seconds = lane["seconds"].as_u64().expect("seconds") + (19 * 60 + 15) * 60;
        let ends = format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
        assert_eq!(lane["ends"], ends.as_str(), "{}", lane["name"]);
    }
}

/// By hand: 600 m take 21:22 at 2:30, which leaves 8:38 of 30 min, more than a quarter. A lane at
/// 4:00 takes 30:50 and is cut to fit, so that nothing is left over where a card is printed.
#[test]
fn a_booking_that_the_lanes_fill_is_not_left_over() {
    let booked = GOOD.replace("pace = \"2:30\"", "pace = \"2:30\"\nbooked = \"30 min\"");
    let told = |text: &str| {
        Workdir::new().file("s.toml", text).run(&["check", "--format", "short", "s.toml"]).err
    };
    assert!(told(&booked).contains("note[under-booked]: the session takes 21:22"));
    let lane = "[[lane]]\nname = \"Lane 1\"\npace = \"4:00\"\n\n[[part]]";
    assert_eq!(told(&booked.replacen("[[part]]", lane, 1)), "");
}

/// By hand: 25 yd of fly at 2:30 take 37.5 x 1.09 = 41 s, which leaves 4 s of 45. At the same
/// speed 25 m take 25 / 22.86 as long, 45 s: 49 s, rounded up to 5 s. 500 yd are 457 m, nearest
/// 450 m; the two easy swims of 100 keep their distance, and the main set has 250 m.
#[test]
fn a_send_off_that_moved_with_the_repeats_is_told() {
    let fly = GOOD.replace("25 m", "25 yd").replace(
        "swim = \"8 x 50 free\", rest = \"20 s\"",
        "swim = \"12 x 25 fly\", on = \"0:45\"",
    );
    let ran = Workdir::new().file("s.toml", fly).run(&["show", "s.toml"]);
    let told =
        "main set: 12 x 25 fly on 0:45 becomes 10 x 25 fly on 0:50, to keep the distance in 25 m";
    assert!(ran.out.contains(told), "{}{}", ran.out, ran.err);
}

/// The last swim of a session is followed by nothing; "(leave about 3:50)" was printed beside it.
#[test]
fn a_lane_is_not_told_when_to_leave_after_a_swim_without_a_rest() {
    let text = GOOD
        .replace("2 x 50 back\", rest = \"20 s\"", "100 back\", rest = \"0 s\"")
        .replacen("[[part]]", "[[lane]]\nname = \"Lane 1\"\npace = \"2:30\"\n\n[[part]]", 1);
    let source = deckcard::source::Source::new("s.toml", text);
    let ready = deckcard::intake::take(source).ready.expect("a session");
    let sets: Vec<_> = ready.written.lanes[0].parts().iter().flat_map(|part| part.sets()).collect();
    let leaves = |at: usize| match sets[at].spacing {
        deckcard::plan::Spacing::Rest { leave_on, .. } => leave_on,
        deckcard::plan::Spacing::SendOff { .. } => None,
    };
    assert!(leaves(0).is_some() && leaves(1).is_some());
    assert_eq!(leaves(2), None);
}
