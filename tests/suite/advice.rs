//! What a warning offers mends what it warns of, and raises nothing else.

use deckcard::finding::{Finding, Severity};
use deckcard::intake;
use deckcard::source::Source;

use crate::command::GOOD;

fn found(text: &str) -> Vec<Finding> {
    intake::take(Source::new("session.toml", text)).findings
}

fn only<'f>(findings: &'f [Finding], id: &str) -> &'f Finding {
    let of_rule: Vec<&Finding> = findings.iter().filter(|one| one.rule.id == id).collect();
    assert_eq!(of_rule.len(), 1, "{id}: {findings:#?}");
    of_rule[0]
}

/// The text under the first label of a finding.
fn underlined<'t>(finding: &Finding, text: &'t str) -> &'t str {
    &text[finding.place().expect("a place").span()]
}

const MAIN: &str = "  { swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\" },\n";

/// 3 rounds of 4 x 50 and a 25 are 27 lengths of 25 m. A repeat more or fewer of the 50s changes
/// them by 6 and leaves an odd number; 2 x 25 make 30.
#[test]
fn far_wall_underlines_the_set_that_is_odd_and_its_help_mends_it() {
    let rounds = |quick: &str| {
        let sets = format!(
            "  {{ rounds = 3, sets = [\n    {{ swim = \"4 x 50 free\", rest = \"20 s\", cue = \"kick from \
             the hip\" }},\n    {{ swim = \"{quick}\", rest = \"30 s\" }},\n  ] }},\n"
        );
        assert!(GOOD.contains(MAIN));
        GOOD.replace(MAIN, &sets)
    };
    for (odd, even) in
        [("25 free", "2 x 25 free"), ("75 back", "100 back"), ("3 x 25 fly", "4 x 25 fly")]
    {
        let text = rounds(odd);
        let findings = found(&text);
        let finding = only(&findings, "far-wall");
        assert_eq!(underlined(finding, &text), format!("\"{odd}\""));
        let offered = format!("write {even} in place of {odd}, and it ends where it began");
        assert_eq!(finding.help, [offered]);
        let mended = found(&rounds(even));
        assert!(mended.iter().all(|one| one.rule.id != "far-wall"), "{mended:?}");
    }
}

/// By hand: of 28 lengths of 25 m the cool-down's 2 are 7 %. With 4 it has 4 of 30, 13 %, with 6 it
/// has 6 of 32, 19 %; the warm-up's 4 and the main set's 22 stay inside 10 to 20 and 60 to 80 %. Of
/// the 700 m as they are, a tenth to a fifth was "100 m to 100 m".
#[test]
fn help_on_a_share_counts_the_metres_it_adds_and_names_one_distance_once() {
    let text = |cool_down: &str| {
        GOOD.replace("8 x 50 free", "11 x 50 free").replace("2 x 50 back", cool_down)
    };
    let findings = found(&text("50 back"));
    let finding = only(&findings, "part-share");
    assert_eq!(
        finding.help,
        ["with the other parts as they are, make the cool-down 100 m to 150 m; it has 50 m"]
    );
    for offered in ["100 back", "150 back"] {
        let mended = found(&text(offered));
        assert!(mended.is_empty(), "{offered}: {mended:?}");
    }
    // 8, 10 and 4 of 22 lengths are 36, 45 and 18 %. Neither the warm-up nor the cool-down alone puts
    // that right; a main set of x beside 12 does: the 8 are a fifth from 28 on, the 4 a tenth up to 28.
    let narrow = GOOD.replace("4 x 25 free", "8 x 25 free").replace("8 x 50 free", "10 x 25 free");
    // Said once: the warm-up's share is only what follows from it.
    let findings = found(&narrow);
    let finding = only(&findings, "part-share");
    assert!(finding.title.starts_with("the main set is 45.5 %"), "{}", finding.title);
    let told = "with the other parts as they are, make the main set 700 m; it has 250 m";
    assert_eq!(finding.help, [told]);
    assert!(found(&narrow.replace("10 x 25 free", "28 x 25 free")).is_empty());
}

/// The shares of a session far from the usual are a warning, those near them a note.
#[test]
fn a_share_far_from_the_usual_is_a_warning_and_a_near_one_a_note() {
    // 200 of 700 m, 28.6 %, and 600 of 1,100 m, 54.5 %.
    for (warm_up, severity) in
        [("8 x 25 free", Severity::Note), ("24 x 25 free", Severity::Warning)]
    {
        let findings = found(&GOOD.replace("4 x 25 free", warm_up));
        let warm_up = findings.iter().find(|one| one.title.starts_with("the warm-up is"));
        assert_eq!(warm_up.map(|one| one.severity), Some(severity), "{findings:?}");
    }
}

/// By hand: at 2:30 per 100 yd the 600 yd take 21:22, of which 14 rests and two changeovers are
/// 5:40. The same 24 lengths in metres are 1.094 times as long: 15:42 becomes about 17:10, 22:50 in
/// all.
#[test]
fn lengths_kept_past_the_booking_in_the_other_pool_are_reported() {
    let kept = GOOD
        .replace("pool = \"25 m\"", "pool = \"25 yd\"\nkeep = \"lengths\"\nbooked = \"22 min\"");
    let findings = found(&kept);
    let finding = only(&findings, "over-booked");
    assert_eq!(finding.severity, Severity::Warning);
    let began = ["in 25 m the session takes 22:4", "in 25 m the session takes 22:5"];
    assert!(began.iter().any(|began| finding.title.starts_with(began)), "{}", finding.title);
    assert_eq!(underlined(finding, &kept), "\"22 min\"");
    assert!(finding.help[0].starts_with("write keep = \"distance\""), "{:?}", finding.help);
    let free = kept.replace("keep = \"lengths\"", "keep = \"distance\"");
    let all_fixed = free.replace("rest = \"20 s\"", "rest = \"20 s\", fixed = true");
    assert!(found(&free).is_empty(), "{:?}", found(&free));
    // What no recut may touch runs over in the same way.
    let finding = found(&all_fixed);
    assert!(only(&finding, "over-booked").help[0].starts_with("take fixed = true from a set"));
}
