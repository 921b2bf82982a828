//! The coach's own words as they were written, curly quotes and dashes too.

use super::plain::{Plain, is_unseen};
use crate::finding::{FileId, Placed};
use crate::session::{Line, Part, Session};

/// Gives every text of a session the signs it is written in.
pub(super) fn restore(session: &mut Session, text: &str) {
    one(&mut session.title, text);
    session.focus.iter_mut().for_each(|focus| one(focus, text));
    session.gear.iter_mut().for_each(|gear| one(gear, text));
    session.lanes.iter_mut().for_each(|lane| one(&mut lane.name, text));
    session.parts.iter_mut().for_each(|part: &mut Part| {
        part.title.iter_mut().for_each(|title| one(title, text));
        lines(&mut part.lines, text);
    });
}

fn lines(all: &mut [Line], text: &str) {
    for line in all {
        match line {
            Line::Set(set) => set.cue.iter_mut().for_each(|cue| one(cue, text)),
            Line::Rounds(rounds) => lines(&mut rounds.lines, text),
            Line::Activity(activity) => one(&mut activity.what, text),
            Line::Remark(remark) => one(remark, text),
        }
    }
}

/// What is written at its place, where that is the text but for its signs.
fn one(placed: &mut Placed<String>, text: &str) {
    if placed.place.file != FileId::MAIN {
        return;
    }
    let Some(written) = text.get(placed.place.span()).map(str::trim) else { return };
    let plain = !written.contains('\t') && !written.chars().any(is_unseen);
    if plain && Plain::of(written, 0).text() == placed.value {
        written.clone_into(&mut placed.value);
    }
}
