//! What is computed, and how, in sentences around the constants.

use super::table;
use crate::block::progression::{USUAL_GROWTH_PERCENT, USUAL_LONGEST_GROWTH_PERCENT};
use crate::card::MOST_POSITIONS;
use crate::check::USUAL_CHANGEOVER;
use crate::plan::STEP_S;

/// The whole section.
pub(super) fn computed() -> String {
    let rows = session().into_iter().chain(versions()).chain(card()).chain(made()).chain(block());
    let intro =
        "In whole numbers throughout. A yard is 0.9144 m exactly, by the agreement of 1959.\n\n";
    intro.to_owned() + &table(["figure", "how"], rows.map(|(figure, how)| [figure.to_owned(), how]))
}

/// A figure and how it is computed.
type Row = (&'static str, String);

fn session() -> Vec<Row> {
    let changeover = USUAL_CHANGEOVER.spoken();
    vec![
        (
            "lengths",
            "Every repeat is a whole number of them; where it is not, the nearest two distances are \
             offered."
                .into(),
        ),
        (
            "time of a repeat",
            "Distance × pace / 100 × the factors of stroke, mode and effort, leg by leg; their sum is \
             rounded once to the nearest second, a half up."
                .into(),
        ),
        (
            "time of a set",
            "Repeats × (swim + rest), or repeats × send-off; the last rest counts, or `rest_after` in \
             its place. Of a range of rests the longer counts, of \"or more\" what is written, of \"when \
             you need\" 30 s. Repeats that differ are added up one by one."
                .into(),
        ),
        ("time of a part", "Its sets, without changeovers.".into()),
        (
            "time of a session",
            format!(
                "All sets, and a changeover between consecutive set lines, {changeover} unless set. A \
                 rounds group counts as one line, and so does a ladder. An activity adds its own time \
                 and no changeover, a remark nothing."
            ),
        ),
        (
            "share of a part",
            "Its distance of the session's. On a card in whole per cent that are 100 together: each \
             rounded down, and what is then missing given to those that lost most."
                .into(),
        ),
        (
            "metres a minute",
            "True metres by time, rests counted, in a pool of yards too.".into(),
        ),
    ]
}

fn versions() -> Vec<Row> {
    vec![
        (
            "a lane",
            format!(
                "Swim times at the lane's pace. A written rest stays as it is; the time to leave, rounded \
                 up to {STEP_S} s, is printed below it in brackets as a help. A written send-off becomes \
                 the lane's own and keeps at least the rest that the session's pace leaves. The lane's \
                 time is that of its first swimmer; the last leaves (swimmers - 1) × gap later."
            ),
        ),
        (
            "a lane past the booking",
            "Fewer repeats, until it ends inside. In the other pool the lanes are cut from that pool's \
             version, as they are from a file fitted to it."
                .into(),
        ),
        (
            "the other pool",
            format!(
                "Other repeats and lengths, so that the true distance stays within a pair of lengths or \
                 2.5 %, a set that ended at its start wall still does, parts keep their shares and nothing \
                 runs past the booking. Send-offs keep at least their rest, rounded up to {STEP_S} s. The \
                 pace is the same speed in the water. No set more than doubles or halves, and a medley \
                 keeps whole lengths for each stroke. With `keep = \"lengths\"` the same lengths are swum \
                 instead."
            ),
        ),
        (
            "a set whose cue names its numbers",
            "\"100 fr, 100 bk\", \"by 50\", \"1-4\": it keeps them in every recut, fit and lane. Where the \
             other pool cannot have them, a finding says so."
                .into(),
        ),
        (
            "a drill, or `fixed = true`, in the other pool",
            "Keeps its repeats, and its distance where the other pool has whole lengths for it; else it \
             goes length for length, two for one into a pool half as long: `2 x 66 2/3` of drill in \
             33 1/3 m are `2 x 50` in 25 yd."
                .into(),
        ),
    ]
}

fn card() -> Vec<Row> {
    vec![
        (
            "pace clock",
            format!(
                "Where its hand is at each start. A set line begins at the top, 60. Where every set of a \
                 rounds group has a send-off, the hand runs on through its sets and rounds, and a set's \
                 positions are those of all its starts. Where a set of the group has a rest, the others \
                 wait for the top in each round, and the card says \"from 60\". The card shows the \
                 positions where there are at most {MOST_POSITIONS}, and else the first and what to add \
                 each time."
            ),
        ),
        (
            "times on the card",
            "Part times are cut to the minute, so that nobody starts a part late; the session's minutes are \
             rounded up."
                .into(),
        ),
    ]
}

fn made() -> Vec<Row> {
    vec![
        (
            "a session from `fit`",
            "With `--minutes` it never runs over, and leaves no minute that one repeat more would fill. A \
             distance is met within a pair of lengths; with both, the minutes are a limit. A level draws \
             the parts into its shares as far as whole repeats and the booking allow. `booked`, rests, \
             efforts and words stay, and lanes are cut to `booked`."
                .into(),
        ),
        (
            "a session from `draft`",
            "Ends within the minutes, at most 90 s early, and they are written as the booking. A distance \
             is met within a pair of lengths; with both, it also ends in time. The same wish and variant \
             always give the same session."
                .into(),
        ),
        (
            "swimmers in lanes",
            "Of all ways to fill the lanes, the one whose widest difference of pace within a lane is \
             smallest, then the one with the least difference in all."
                .into(),
        ),
    ]
}

fn block() -> Vec<Row> {
    vec![
        (
            "growth of a week",
            format!(
                "Over the last full week, in true metres where pools differ, {USUAL_GROWTH_PERCENT} % at \
                 most unless set: common practice and not proven. A step to the next whole length, or of \
                 one lap, is never too much."
            ),
        ),
        (
            "growth of the longest swim",
            format!(
                "{USUAL_LONGEST_GROWTH_PERCENT} % at most unless set: a choice of this program. The longest \
                 swim is the longest repeat of whole-stroke swimming; repeats with no rest between them \
                 are one swim."
            ),
        ),
        (
            "an easier week",
            "A tenth or more lighter than the last full week, a choice of this program; or lighter and \
             marked `easier = true`; or without sessions."
                .into(),
        ),
        ("the day of a session", "Its own `date`, else the next of the block's `days`.".into()),
    ]
}
