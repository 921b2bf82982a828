//! What is drawn: a display list in points, and the pieces it is made of.
//!
//! The list knows nothing of PDF. Its origin is the top left corner of the card,
//! x to the right, y downwards, in points of 1/72 in.

use std::sync::Arc;

use crate::finding::Place;
use badge::Badge;

pub mod badge;
mod dial;
pub(crate) mod frame;
mod inside;

pub use dial::Dial;
pub use inside::OutsideTrim;

/// Width and height in points of 1/72 in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Across.
    pub width_pt: f32,
    /// Down.
    pub height_pt: f32,
}

/// A point on the card, in points of 1/72 in from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left edge, to the right.
    pub x_pt: f32,
    /// From the top edge, downwards.
    pub y_pt: f32,
}

/// A rectangle on the card; its edges in points from the top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left edge.
    pub left_pt: f32,
    /// Top edge.
    pub top_pt: f32,
    /// Right edge.
    pub right_pt: f32,
    /// Bottom edge.
    pub bottom_pt: f32,
}

impl Area {
    /// All of a card or paper of this size.
    pub fn whole(size: Size) -> Self {
        Area { left_pt: 0.0, top_pt: 0.0, right_pt: size.width_pt, bottom_pt: size.height_pt }
    }

    /// Across.
    pub fn width_pt(self) -> f32 {
        self.right_pt - self.left_pt
    }

    /// Down.
    pub fn height_pt(self) -> f32 {
        self.bottom_pt - self.top_pt
    }
}

/// One printed side of a card, as a display list: every item is inside its trim.
#[derive(Clone, Debug)]
pub struct Card {
    pub(crate) trim: Size,
    pub(crate) items: Vec<Item>,
}

impl Card {
    /// The size after cutting.
    pub fn trim(&self) -> Size {
        self.trim
    }

    /// Items in reading order; rules, bars and boxes may be drawn before all others.
    pub fn items(&self) -> &[Item] {
        &self.items
    }
}

/// One thing drawn.
#[derive(Clone, Debug)]
pub struct Item {
    /// What is drawn.
    pub mark: Mark,
    /// What it is when the card is read aloud.
    pub role: Role,
    /// The place in the file it comes from.
    pub origin: Option<Place>,
}

impl Item {
    /// Whether it is drawn and says nothing: a rule, a bar, a box. Such items cover nothing, and
    /// may be drawn before all others.
    pub fn is_rule(&self) -> bool {
        self.role == Role::Artifact && !matches!(self.mark, Mark::Text(_))
    }
}

/// What an item is when the card is read aloud by a screen reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// The session's title.
    Title,
    /// A part's heading.
    PartHeading,
    /// The swim line of a set: with it another entry in the list of sets begins.
    Swim {
        /// How many groups of rounds the set is in.
        rounds: usize,
        /// The line in words, where its signs do not read as what they mean: "4 times 100: 50 fly,
        /// 50 free".
        spoken: Option<Arc<str>>,
    },
    /// Any other piece of the set whose swim line came before: its rest, its cue.
    Set,
    /// The label of a group of rounds: the entry that holds the list of its sets.
    Rounds {
        /// How many groups it is in, its own included.
        depth: usize,
    },
    /// The safety lines, the same words on every card.
    Safety,
    /// Any other text.
    Text,
    /// A picture or drawing that says something, with what it says in words.
    Figure(String),
    /// Rules, bars, boxes to write in: never read aloud.
    Artifact,
}

/// A mark on the card.
#[derive(Clone, Debug)]
pub enum Mark {
    /// A line of shaped text.
    Text(Run),
    /// A closed path filled.
    Fill(Path, Ink),
    /// A path drawn as a line of this width in points.
    Stroke(Path, f32, Ink),
    /// A picture, by its top left corner and its printed size.
    Picture(Point, Size, Arc<Badge>),
    /// A clock face, by its top left corner and its width in points.
    Dial(Point, f32, Dial),
}

impl Mark {
    /// A straight line.
    pub fn line(from: Point, to: Point, width_pt: f32, ink: Ink) -> Self {
        Mark::Stroke(Path(vec![Step::Move(from), Step::Line(to)]), width_pt, ink)
    }
}

/// Grey from black (0) to white (255); cards are printed in black.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(pub u8);

impl Ink {
    /// Full black.
    pub const BLACK: Ink = Ink(0);
}

/// A path of straight and curved pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Path(pub Vec<Step>);

/// One piece of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Begin here.
    Move(Point),
    /// Straight to here.
    Line(Point),
    /// A cubic curve by two control points to here.
    Curve(Point, Point, Point),
    /// Back to where it began.
    Close,
}

/// The fonts a card is set in. They are part of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Font {
    /// Atkinson Hyperlegible Next, regular.
    Text,
    /// Atkinson Hyperlegible Next, bold.
    Bold,
    /// Noto Sans for scripts and signs the first lacks.
    Other,
    /// The same, bold.
    OtherBold,
}

/// Text shaped in one font at one size, on one baseline.
#[derive(Clone, Debug)]
pub struct Run {
    /// Where the baseline begins.
    pub at: Point,
    /// The font.
    pub font: Font,
    /// Size in points.
    pub size_pt: f32,
    /// The text, NFC. It ends with a space where the line goes on in another run,
    /// so that words stay apart when the text is copied out.
    pub text: Arc<str>,
    /// Its glyphs, left to right.
    pub glyphs: Arc<[Glyph]>,
    /// Sum of the advances in points, a last space left out.
    pub width_pt: f32,
    /// Grey.
    pub ink: Ink,
}

/// One glyph of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Index in the whole font.
    pub id: u16,
    /// Advance in the font's units, kerning in it.
    pub advance: i32,
    /// The font's own advance width of this glyph, without kerning.
    pub width: i32,
    /// Where its characters begin in the run's text, in bytes.
    pub cluster: usize,
    /// Shift to the right in the font's units, for marks set on a letter.
    pub dx: i32,
    /// Shift upwards in the font's units.
    pub dy: i32,
}
