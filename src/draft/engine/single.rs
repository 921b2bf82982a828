//! The one pattern that no file can hold.

use crate::draft::pattern::{
    PatternLine, PatternSet, RestRange, SetPattern, SwimRange, Think, Wait,
};
use crate::finding::{FileId, Place, Placed};
use crate::session::words::{Effort, Mode, PartKind, Stroke};

/// The pattern of a single swim, which no file can hold: its distance is the wish's.
pub(in crate::draft) fn single_swim() -> SetPattern {
    let swim = SwimRange {
        repeats: vec![1],
        each: vec![100],
        stroke: Some(Stroke::Free),
        mode: Mode::Swim,
        steps: Vec::new(),
        behind: String::new(),
    };
    let set = PatternSet {
        swim,
        wait: Wait::Rest(RestRange::Seconds(60, 60)),
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
        id: Placed::new("one-swim".to_owned(), Place::new(FileId::MAIN, 0..0)),
        name: "One swim, no stop".to_owned(),
        why:
            "The long swim comes first, on fresh arms: set off slower than feels right and finish \
              with the stroke you began with."
                .to_owned(),
        parts: vec![PartKind::MainSet],
        levels: Vec::new(),
        skills: Vec::new(),
        lines: vec![PatternLine::Set(set)],
    }
}
