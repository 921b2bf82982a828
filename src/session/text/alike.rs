//! Whether a text reads as it is meant, for those who write one.

use super::head::Head;
use super::lines::Lines;
use super::plain::Plain;
use crate::finding::Placed;
use crate::reader::value::OwnWords;
use crate::session::{Line, Set};

/// Whether a line of a message reads as `wanted`, with no word left over.
pub(crate) fn reads_as(text: &str, wanted: &Line) -> bool {
    let message = format!("Main set\n{text}\n200 free\n");
    let lines = Lines::of(&message, OwnWords::NONE, None, Vec::new());
    let whole = lines.found.is_empty() && lines.kept_off.is_empty() && lines.sums.is_empty();
    match lines.builder.parts.as_slice() {
        [part] => match part.lines.as_slice() {
            [line, _] => whole && part.title.is_none() && alike(line, wanted),
            _ => false,
        },
        _ => false,
    }
}

/// Whether a first line reads as the title that it is.
pub(crate) fn reads_as_title(text: &str) -> bool {
    let message = format!("{text}\n\nMain set\n200 free\n");
    let lines = Lines::of(&message, OwnWords::NONE, None, Vec::new());
    let mut head = Head::default();
    head.title(&Plain::of(text, 0));
    let alone = lines.head.entries == head.entries && lines.head.spoken_pool.is_none();
    alone && lines.kept_off.is_empty()
}

/// Whether two lines say the same, wherever they stand.
fn alike(one: &Line, other: &Line) -> bool {
    match (one, other) {
        (Line::Set(one), Line::Set(other)) => alike_sets(one, other),
        (Line::Activity(one), Line::Activity(other)) => {
            one.what.value == other.what.value && one.time.value == other.time.value
        }
        (Line::Remark(one), Line::Remark(other)) => one.value == other.value,
        _ => false,
    }
}

fn alike_sets(one: &Set, other: &Set) -> bool {
    same(&one.rest, &other.rest)
        && same(&one.rest_after, &other.rest_after)
        && same(&one.on, &other.on)
        && same(&one.effort, &other.effort)
        && same(&one.pattern, &other.pattern)
        && same(&one.cue, &other.cue)
        && same(&one.strokes, &other.strokes)
        && same(&one.keep, &other.keep)
        && one.swim.value == other.swim.value
        && one.gear.iter().map(|gear| &gear.value).eq(other.gear.iter().map(|gear| &gear.value))
        && one.lanes.iter().map(|lane| &lane.value).eq(other.lanes.iter().map(|lane| &lane.value))
        && one.fixed == other.fixed
}

fn same<T: PartialEq>(one: &Option<Placed<T>>, other: &Option<Placed<T>>) -> bool {
    one.as_ref().map(|one| &one.value) == other.as_ref().map(|other| &other.value)
}
