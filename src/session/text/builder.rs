//! Puts lines where they belong: into the part and the rounds that are open.

use std::ops::Range;

use super::set::place;
use super::sums::Sum;
use crate::finding::{Place, Placed};
use crate::measure::Seconds;
use crate::session::words::{EffortWord, Keep, PartKind};
use crate::session::{Line, Rounds, Set};

/// A part while it is read.
#[derive(Debug)]
pub(super) struct DraftPart {
    pub kind: Option<PartKind>,
    pub title: Option<Placed<String>>,
    pub keep: Option<Placed<Keep>>,
    pub lines: Vec<Line>,
    pub place: Place,
    /// Whether it has a heading.
    pub headed: bool,
    /// The sum its heading states.
    pub sum: Option<Sum>,
    /// A number behind its heading that may be its sum or its first swim, and whether a dash is before.
    pub maybe_sum: Option<(Sum, bool)>,
}

impl DraftPart {
    /// A part without a heading, nothing in it yet.
    pub fn at(place: Place) -> Self {
        let (kind, title, keep, sum, maybe_sum) = (None, None, None, None, None);
        Self { kind, title, keep, lines: Vec::new(), place, headed: false, sum, maybe_sum }
    }

    /// Whether anything in it is swum.
    pub fn is_swum(&self) -> bool {
        self.lines.iter().any(|line| matches!(line, Line::Set(_) | Line::Rounds(_)))
    }
}

/// Where rounds end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ends {
    /// Before a line that is indented no further than this.
    Indent(usize),
    /// At a blank line, or one that says so.
    Blank,
    /// At a bracket.
    Sign(char),
    /// With the part, or at a line that says so.
    Part,
}

/// Rounds while they are read.
#[derive(Debug)]
struct Group {
    count: Placed<u32>,
    rest: Option<Placed<Seconds>>,
    efforts: Vec<Placed<EffortWord>>,
    lines: Vec<Line>,
    place: Place,
    ends: Ends,
}

/// The parts of a message while they are read.
#[derive(Debug, Default)]
pub(super) struct Builder {
    pub parts: Vec<DraftPart>,
    groups: Vec<Group>,
}

impl Builder {
    /// Begins a part.
    pub fn part(&mut self, part: DraftPart) {
        self.close(|_| true);
        self.parts.push(part);
    }

    /// Begins rounds.
    pub fn open(&mut self, count: u64, at: Range<usize>, ends: Ends) {
        let at = place(at);
        let count = Placed::new(u32::try_from(count).unwrap_or(u32::MAX), at);
        self.groups.push(Group {
            count,
            rest: None,
            efforts: Vec::new(),
            lines: Vec::new(),
            place: at,
            ends,
        });
    }

    /// Closes rounds from the innermost on, as long as they end here.
    pub fn close(&mut self, ends: impl Fn(Ends) -> bool) {
        while let Some(group) = self.groups.pop_if(|group| ends(group.ends)) {
            self.put(group);
        }
    }

    /// Closes the innermost rounds in brackets, and all within; whether there are any.
    pub fn close_sign(&mut self, sign: char) -> bool {
        let Some(at) = self.groups.iter().rposition(|group| group.ends == Ends::Sign(sign)) else {
            return false;
        };
        while self.groups.len() > at {
            let Some(group) = self.groups.pop() else { break };
            self.put(group);
        }
        true
    }

    fn put(&mut self, group: Group) {
        let Group { count, rest, efforts, lines, place, .. } = group;
        if lines.iter().any(|line| !matches!(line, Line::Remark(_))) {
            self.push(Line::Rounds(Rounds { count, rest, efforts, lines, place }));
        } else {
            lines.into_iter().for_each(|line| self.push(line));
        }
    }

    /// The rounds that are open and have no line yet, with where they end.
    pub fn waiting(&mut self) -> Option<&mut Ends> {
        self.groups.last_mut().filter(|group| group.lines.is_empty()).map(|group| &mut group.ends)
    }

    /// Whether rounds are open.
    pub fn in_rounds(&self) -> bool {
        !self.groups.is_empty()
    }

    /// The rest between the rounds that are open.
    pub fn rest_between(&mut self, rest: Placed<Seconds>) -> bool {
        let Some(group) = self.groups.last_mut().filter(|group| group.rest.is_none()) else {
            return false;
        };
        group.rest = Some(rest);
        true
    }

    /// How hard each of the rounds is that are open.
    pub fn efforts(&mut self, efforts: Vec<Placed<EffortWord>>) {
        if let Some(group) = self.groups.last_mut() {
            group.efforts = efforts;
        }
    }

    /// Puts a line where it belongs.
    pub fn push(&mut self, line: Line) {
        if let Some(group) = self.groups.last_mut() {
            group.lines.push(line);
            return;
        }
        if self.parts.is_empty() {
            let place = line_place(&line);
            self.parts.push(DraftPart::at(place));
        }
        if let Some(part) = self.parts.last_mut() {
            part.lines.push(line);
        }
    }

    /// The lines of the rounds or the part that are open.
    pub fn here(&mut self) -> Option<&mut Vec<Line>> {
        match self.groups.last_mut() {
            Some(group) => Some(&mut group.lines),
            None => self.parts.last_mut().map(|part| &mut part.lines),
        }
    }

    /// The set read last, where it is the last line here.
    pub fn last_set(&mut self) -> Option<&mut Set> {
        match self.here()?.last_mut()? {
            Line::Set(set) => Some(set),
            _ => None,
        }
    }

    /// The rounds read last, where they are the last line here.
    pub fn last_rounds(&mut self) -> Option<&mut Rounds> {
        match self.here()?.last_mut()? {
            Line::Rounds(rounds) => Some(rounds),
            _ => None,
        }
    }

    /// Makes rounds of all that the part has so far.
    pub fn wrap(&mut self, count: u64, at: Range<usize>) -> bool {
        self.close(|_| true);
        let Some(part) = self.parts.last_mut().filter(|part| !part.lines.is_empty()) else {
            return false;
        };
        let lines = std::mem::take(&mut part.lines);
        self.open(count, at, Ends::Part);
        if let Some(group) = self.groups.last_mut() {
            group.lines = lines;
        }
        self.close(|_| true);
        true
    }
}

/// Where a line is written.
pub(crate) fn line_place(line: &Line) -> Place {
    match line {
        Line::Set(set) => set.place,
        Line::Rounds(rounds) => rounds.place,
        Line::Activity(activity) => activity.what.place,
        Line::Remark(remark) => remark.place,
    }
}
