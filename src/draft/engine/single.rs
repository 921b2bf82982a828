//! The one pattern that no file can hold.

use crate::draft::pattern::{PatternLine, RestRange, SetPattern, SwimRange, Think};
use crate::session::words::{Effort, Mode, PartKind, Stroke};

/// The pattern of a single swim, which no file can hold: its distance is the wish's.
pub(in crate::draft) fn single_swim() -> SetPattern {
    let swim = SwimRange {
        repeats: vec![1],
        each: vec![100],
        stroke: Some(Stroke::Free),
        mode: Mode::Swim,
    };
    let set = PatternLine {
        rounds: Vec::new(),
        sets: Vec::new(),
        swim: Some(swim),
        rest: Some(RestRange::Seconds(60, 60)),
        on: None,
        effort: Some(Effort::Steady),
        pattern: None,
        think: Some(Think::Swim),
        cue: None,
        strokes: None,
        fixed: true,
        gear: Vec::new(),
        at_hand: Vec::new(),
    };
    SetPattern {
        id: "one-swim".to_owned(),
        name: "One swim, no stop".to_owned(),
        why:
            "The long swim comes first, on fresh arms: set off slower than feels right and finish \
              with the stroke you began with."
                .to_owned(),
        parts: vec![PartKind::MainSet],
        levels: Vec::new(),
        skills: Vec::new(),
        sets: vec![set],
    }
}
