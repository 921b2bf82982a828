//! Cues as coaches write them (common practice, no source), beside sets.

use super::*;

/// What a cue names, as letters: n numbers, t a time, s strokes, l lengths, e an end length.
fn named(cue: &str, repeats: u32, each: u32, pool: &str) -> String {
    let pool: Pool = pool.parse().expect("a pool");
    let names = CueNames::of(cue, Swum { pool, repeats, each: Lengths::new(each) });
    let all = [
        (names.numbers, 'n'),
        (names.time, 't'),
        (names.strokes, 's'),
        (names.lengths, 'l'),
        (names.ends, 'e'),
    ];
    all.into_iter().filter(|(is, _)| *is).map(|(_, letter)| letter).collect()
}

fn wrong(cases: &[(&str, &str)], repeats: u32, each: u32) -> Vec<String> {
    let got = |cue: &str| named(cue, repeats, each, "25 m");
    let wrong = cases.iter().filter(|(cue, expected)| got(cue) != *expected);
    wrong.map(|(cue, expected)| format!("{cue}: {:?}, not {expected:?}", got(cue))).collect()
}

/// Beside 6 x 100 in 25 m.
#[test]
fn numbers_of_the_set_are_told_from_others() {
    let cases = [
        ("100 fr, 100 bk", "n"),
        ("3/5/7/9 by 100", "n"),
        ("by 25s", "n"),
        ("by fifties", "n"),
        ("1-4 easy, 5-6 hard", "n"),
        ("#1\u{2013}3 steady", "n"),
        ("1 to 3 easy", "n"),
        ("one 50 fly and back, one 50 breast and free", "n"),
        ("last 25m all out", "n"),
        ("even pace: second 50 as the first", "n"),
        ("breathe every 3, long arms", ""),
        ("breathe 3-5", ""),
        ("breathe 3 to 5", ""),
        ("breathe every 3-5", ""),
        ("last 10 m fast", ""),
        ("100 % today", ""),
        ("5 kicks off each wall", ""),
        ("30s rest if you need it", ""),
        ("rest 30 s at half way", ""),
        ("7-8 of 10", ""),
        ("2000 m by the end of the month", ""),
        ("toes long", ""),
        ("hold 1:25", "t"),
        ("under 75 s each", "t"),
        ("50 strokes at most", "s"),
    ];
    let wrong = wrong(&cases, 6, 4);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Beside 8 x 75 in 25 m.
#[test]
fn repeats_are_named_by_number_and_count() {
    let cases = [
        ("numbers 4 and 8 all out", "n"),
        ("no 8 all out", "n"),
        ("No. 8 all out", "n"),
        ("hold your stroke count on number 5", "n"),
        ("1,3,5,7 easy", "n"),
        ("2 and 4 hard", "n"),
        ("first four easy", "n"),
        ("first 4 easy, last 4 fast", "n"),
        ("two easy, two hard, four steady", "n"),
        ("3 fast, 1 easy", "n"),
        ("2 x easy, 2 x hard", "n"),
        ("2 of each stroke", "n"),
        ("every fourth one all out", "n"),
        ("every 4th all out", "n"),
        ("1st easy, 2nd steady, 3rd hard", "n"),
        ("first easy, second steady, third hard", "n"),
        ("#3 fastest", "n"),
        ("from the first to the eighth", "n"),
        ("last two all out", "n"),
        ("long first stroke in all four", "n"),
        ("breathe every 3", ""),
        ("breathe 3, 5, 7", ""),
        ("breathe 3/5/7", ""),
        ("every third stroke", ""),
        ("8 of 10 effort", ""),
        ("one thing at a time", ""),
        ("one arm, other arm at the side", ""),
        ("no two lengths the same stroke running", ""),
        ("six kicks on the side, then three strokes", ""),
        ("last ten strokes with fast hands", ""),
        ("three strong kicks off each wall", ""),
        ("first third easy, second third steady, last third hard", ""),
        ("fingers first", ""),
        ("two hands on fly and breast: touch and turn", ""),
        ("odd easy, even hard", ""),
        ("the best two of tonight", ""),
        ("zone 2 easy", ""),
        ("last one no slower", ""),
    ];
    let wrong = wrong(&cases, 8, 3);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Beside 8 x 75 in 25 m.
#[test]
fn times_strokes_and_lengths_are_named() {
    let cases = [
        ("hold 1:15", "t"),
        ("1:12, 1:10, 1:08", "t"),
        ("under 60 s each", "t"),
        ("sub 60", "t"),
        ("in 58s", "t"),
        ("hold 2 minutes", "t"),
        ("drop 1 s each", ""),
        ("5 s faster than the last", ""),
        ("go 10 s apart", ""),
        ("hold 1:40 per 100", ""),
        ("rest 1:00 at half way", ""),
        ("take 30 s off the clock for your 400", ""),
        ("no chatting: 15 s and go", ""),
        ("14 strokes a length", "s"),
        ("hold 16 strokes", "s"),
        ("six strokes per length", "s"),
        ("15 spl", "s"),
        ("5 strokes fast off each wall", ""),
        ("one stroke fewer each length", ""),
        ("middle length hard", "l"),
        ("length 1 easy, length 2 fast", "l"),
        ("2nd length back", "l"),
        ("loose feet for all three lengths", "l"),
        ("two lengths easy, one fast", "nl"),
        ("one length at a time", ""),
        ("first length easy", "e"),
        ("last length all out", "e"),
        ("easy breathing from the first length", ""),
        ("sight twice a length", ""),
        ("same pull on every length", ""),
        ("find your length again", ""),
    ];
    let wrong = wrong(&cases, 8, 3);
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// "length 8" of 8 x 25 in 25 m is the eighth repeat.
#[test]
fn a_length_of_repeats_of_one_length_is_a_repeat() {
    assert_eq!(named("length 8 all out", 8, 1, "25 m"), "nl");
}

/// By hand: 50 m is one length of 50 m and two of 25 m; 75 m is no whole length of 50 m.
#[test]
fn what_a_cue_names_may_be_lost() {
    let swum = |pool: &str, repeats, each| {
        let pool: Pool = pool.parse().expect("a pool");
        Swum { pool, repeats, each: Lengths::new(each) }
    };
    let lost = |cue: &str, was: Swum, is: Swum| CueNames::of(cue, was).lost(was, is).is_some();
    let (short, long) = (swum("25 m", 8, 3), swum("50 m", 6, 2));
    for cue in ["hold 1:15", "under 60 s each", "14 strokes a length", "middle length hard"] {
        assert!(lost(cue, short, long), "{cue}");
        assert!(!lost(cue, short, swum("25 yd", 9, 3)), "{cue}");
    }
    assert!(lost("first four easy", short, swum("25 m", 2, 3)));
    assert!(!lost("hold 1:15", short, swum("25 m", 2, 3)));
    let (two, one) = (swum("25 m", 8, 2), swum("50 m", 8, 1));
    assert!(lost("first length easy", two, one) && lost("length 1 easy, length 2 fast", two, one));
    assert!(!lost("breathe every 3", two, one));
}
