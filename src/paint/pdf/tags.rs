//! What each piece of a sheet is when a screen reader reads it.
//!
//! A card is a section with a heading; each part has a heading and a list of its sets, and a
//! group of rounds is an entry whose sets are a list of their own. Rules, bars and boxes are
//! no part of the tree.

use std::sync::Arc;

use crate::drawing::{Area, Item, Mark, Role, Run};

/// The structure types used, all of ISO 32000-1, 14.8.4.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tag {
    Section,
    Title,
    Heading,
    Paragraph,
    List,
    Entry,
    Body,
    Span,
    Figure,
    Link,
}

impl Tag {
    /// As PDF names it.
    pub fn name(self) -> &'static str {
        match self {
            Tag::Section => "Sect",
            Tag::Title => "H1",
            Tag::Heading => "H2",
            Tag::Paragraph => "P",
            Tag::List => "L",
            Tag::Entry => "LI",
            Tag::Body => "LBody",
            Tag::Span => "Span",
            Tag::Figure => "Figure",
            Tag::Link => "Link",
        }
    }
}

/// An element of one sheet's part of the tree.
#[derive(Clone, Debug)]
pub(super) struct Element {
    pub tag: Tag,
    /// Which of the sheet's elements it is in; `None` for the document itself.
    pub parent: Option<usize>,
    pub kids: Vec<Kid>,
    /// What a figure shows, in words.
    pub alt: Option<String>,
    /// The words to read in place of what is printed.
    pub actual: Option<Arc<str>>,
    /// The area a figure takes on its sheet.
    pub area: Option<Area>,
}

/// What an element holds, in reading order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kid {
    /// Another of the sheet's elements.
    Element(usize),
    /// A marked piece of the sheet's content.
    Content(usize),
    /// One of the sheet's links.
    Link(usize),
}

/// The tree of one sheet being made.
#[derive(Default)]
pub(super) struct Tagger {
    pub elements: Vec<Element>,
    /// The element that holds each marked piece of content.
    pub owners: Vec<usize>,
    section: Option<usize>,
    /// The lists that are open, outermost first, each with the body of its last entry.
    lists: Vec<(usize, usize)>,
    last: Option<Last>,
}

/// The item before.
struct Last {
    role: Role,
    origin: Option<crate::finding::Place>,
    element: usize,
    line: Option<Line>,
}

/// Where a run of text ended.
struct Line {
    y_pt: f32,
    right_pt: f32,
    size_pt: f32,
    ends_with_space: bool,
}

impl Line {
    fn of(item: &Item) -> Option<Line> {
        let Mark::Text(run) = &item.mark else { return None };
        Some(Line {
            y_pt: run.at.y_pt,
            right_pt: run.at.x_pt + run.width_pt,
            size_pt: run.size_pt,
            ends_with_space: run.text.ends_with(' '),
        })
    }

    /// Whether `run` goes on with the same sentence, in another line, column or font.
    fn goes_on(&self, run: &Run) -> bool {
        let beside =
            self.y_pt == run.at.y_pt && (run.at.x_pt - self.right_pt).abs() < 0.5 * self.size_pt;
        self.ends_with_space || beside
    }
}

impl Tagger {
    /// Begins the section of another card.
    pub fn begin_card(&mut self) {
        self.lists.clear();
        self.last = None;
        self.section = Some(self.add(Tag::Section, None));
    }

    /// The element `item` belongs to; `None` for what is not read aloud.
    pub fn element(&mut self, item: &Item) -> Option<usize> {
        if item.role == Role::Artifact {
            return None;
        }
        let element = match self.continued(item) {
            Some(element) => element,
            None => self.begun(item),
        };
        let line = Line::of(item);
        self.last = Some(Last { role: item.role.clone(), origin: item.origin, element, line });
        Some(element)
    }

    /// The element of the item before, where this one goes on with it.
    fn continued(&self, item: &Item) -> Option<usize> {
        let last = self.last.as_ref()?;
        let goes_on = match (&last.line, &item.mark) {
            (Some(line), Mark::Text(run)) => line.goes_on(run),
            _ => false,
        };
        let same = match &item.role {
            // One heading for all its pieces; one figure of several strokes.
            Role::Title | Role::PartHeading | Role::Figure(_) => last.role == item.role,
            Role::Swim { .. } => last.role == item.role && last.origin == item.origin,
            Role::Rounds { .. } | Role::Safety | Role::Text => last.role == item.role && goes_on,
            Role::Set | Role::Artifact => false,
        };
        same.then_some(last.element)
    }

    fn begun(&mut self, item: &Item) -> usize {
        match &item.role {
            Role::Title => self.block(Tag::Title),
            Role::PartHeading => self.block(Tag::Heading),
            Role::Safety | Role::Text | Role::Artifact => self.block(Tag::Paragraph),
            Role::Rounds { depth } => self.entry(depth.saturating_sub(1)),
            Role::Swim { rounds, spoken } => {
                let body = self.entry(*rounds);
                let Some(spoken) = spoken else { return body };
                let span = self.add(Tag::Span, Some(body));
                self.elements[span].actual = Some(Arc::clone(spoken));
                span
            }
            Role::Set => match self.lists.last() {
                Some((_, body)) => *body,
                None => self.block(Tag::Paragraph),
            },
            Role::Figure(alt) => {
                let parent = self.lists.last().map(|(_, body)| *body).or(self.section);
                let figure = self.add(Tag::Figure, parent);
                self.elements[figure].alt = Some(alt.clone());
                figure
            }
        }
    }

    /// An element of the card itself; it ends all lists.
    fn block(&mut self, tag: Tag) -> usize {
        self.lists.clear();
        self.add(tag, self.section)
    }

    /// The body of a new entry in a list inside `depth` others.
    fn entry(&mut self, depth: usize) -> usize {
        self.lists.truncate(depth + 1);
        let open = if self.lists.len() > depth { self.lists.pop() } else { None };
        let list = match open {
            Some((list, _)) => list,
            None => {
                let parent = self.lists.last().map(|(_, body)| *body).or(self.section);
                self.add(Tag::List, parent)
            }
        };
        let entry = self.add(Tag::Entry, Some(list));
        let body = self.add(Tag::Body, Some(entry));
        self.lists.push((list, body));
        body
    }

    /// An element inside `parent`, and last in it.
    pub fn add(&mut self, tag: Tag, parent: Option<usize>) -> usize {
        let index = self.elements.len();
        if let Some(parent) = parent {
            self.elements[parent].kids.push(Kid::Element(index));
        }
        let (kids, alt, actual, area) = (Vec::new(), None, None, None);
        self.elements.push(Element { tag, parent, kids, alt, actual, area });
        index
    }

    /// A new piece of content in `element`, by its number on the sheet.
    pub fn mark(&mut self, element: usize) -> usize {
        let number = self.owners.len();
        self.owners.push(element);
        self.elements[element].kids.push(Kid::Content(number));
        number
    }

    /// Adds `area` to that of the figure `element`.
    pub fn cover(&mut self, element: usize, area: Area) {
        let own = &mut self.elements[element].area;
        *own = Some(own.map_or(area, |own| joined(own, area)));
    }
}

/// The area around two.
pub(super) fn joined(a: Area, b: Area) -> Area {
    Area {
        left_pt: a.left_pt.min(b.left_pt),
        top_pt: a.top_pt.min(b.top_pt),
        right_pt: a.right_pt.max(b.right_pt),
        bottom_pt: a.bottom_pt.max(b.bottom_pt),
    }
}
