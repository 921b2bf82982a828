//! A card without a session, for tests of paper: what it shows does not change with the layout.

use std::sync::Arc;

use deckcard::drawing::{Card, Ink, Item, Mark, Path, Point, Role, Size, Step};
use deckcard::measure::Extent;
use deckcard::sheet::Dimensions;

/// A length on paper.
pub fn extent(text: &str) -> Extent {
    Extent::read(text).expect("a length")
}

/// A size on paper.
pub fn dimensions(width: &str, height: &str) -> Dimensions {
    Dimensions { width: extent(width), height: extent(height) }
}

/// A card with a black bar along the left half of its top edge: from 10 pt to the middle
/// across, from 10 pt to 30 pt down.
pub fn card(size: Dimensions) -> Arc<Card> {
    let (width_pt, height_pt) = (size.width.points(), size.height.points());
    let at = |x_pt: f32, y_pt: f32| Point { x_pt, y_pt };
    let bar = Path(vec![
        Step::Move(at(10.0, 10.0)),
        Step::Line(at(width_pt / 2.0, 10.0)),
        Step::Line(at(width_pt / 2.0, 30.0)),
        Step::Line(at(10.0, 30.0)),
        Step::Close,
    ]);
    let mark = Mark::Fill(bar, Ink::BLACK);
    let item = Item { mark, role: Role::Artifact, origin: None };
    let trim = Size { width_pt, height_pt };
    Arc::new(Card::new(trim, vec![item]).expect("a bar inside its card"))
}
